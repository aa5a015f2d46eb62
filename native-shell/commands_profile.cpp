// Profiles that a passphrase seals at rest in this store.
#include <algorithm>

#include "answers.h"
#include "commands.h"
#include "report/words.h"

namespace slipway::native {

namespace {

using report::say;

int answer_profiles(Desk& desk, const std::string& said) {
  const auto profiles = desk.book().sealed_profiles();
  return desk.answer(json::profiles(profiles), said + words::profiles(profiles));
}

}  // namespace

model::Error nobody_here(app::Book& book) {
  const auto sealed = book.sealed_profiles();
  return sealed.empty() ? model::error(model::ErrorKind::not_found, "athlete.none") : model::error(model::ErrorKind::sealed, "profile.shut", {sealed.front().name});
}

int run_profile_list(Desk& desk) {
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  return answer_profiles(desk, "");
}

int run_profile_seal(Desk& desk) {
  const auto passphrase = asked_passphrase(desk.request());
  if (!passphrase) return desk.refuse(passphrase.error());
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto who = desk.book().find_athlete(desk.request().who);
  if (!who) return desk.refuse(who.error());
  if (const auto sealed = desk.book().seal_profile(*who, *passphrase); !sealed) return desk.refuse(sealed.error());
  return answer_profiles(desk, say("cli.said_sealed_profile") + "\n");
}

int run_profile_unseal(Desk& desk) {
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto who = desk.book().find_athlete(desk.request().who);
  if (!who) return desk.refuse(who.error());
  if (const auto done = desk.book().unseal_profile(*who); !done) return desk.refuse(done.error());
  return answer_profiles(desk, say("sealed.said_away") + "\n");
}

int run_profile_drop(Desk& desk) {
  const Request& asked = desk.request();
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto all = desk.book().sealed_profiles();
  std::vector<app::Book::SealedProfile> found;
  std::copy_if(all.begin(), all.end(), std::back_inserter(found),
               [&](const auto& one) { return one.name == asked.who || (asked.who.size() >= 4 && one.scope.hex().starts_with(asked.who)); });
  if (found.empty()) return desk.refuse(model::error(model::ErrorKind::not_found, "profile.not_sealed", {asked.who}));
  if (found.size() > 1) {
    std::string ids;
    for (const auto& one : found) ids += (ids.empty() ? "" : ", ") + short_id(one.scope);
    return desk.refuse(model::error(model::ErrorKind::invalid, "athlete.ambiguous", {asked.who, ids}));
  }
  if (const auto done = desk.book().drop_profile(found.front().scope, asked.typed); !done) return desk.refuse(done.error());
  return answer_profiles(desk, say("sealed.said_removed", {found.front().name}) + "\n" + say("cli.said_signs_anew") + "\n");
}

}  // namespace slipway::native
