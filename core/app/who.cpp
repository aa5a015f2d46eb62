#include "app/who.h"

#include <algorithm>

#include "app/profile_lock.h"
#include "app/setup_parts.h"
#include "report/words.h"

namespace slipway::app {

using report::say;

std::vector<Book::SealedProfile> shut_profiles(Desk& desk) {
  auto all = desk.book.sealed_profiles();
  std::erase_if(all, [](const Book::SealedProfile& one) { return one.open; });
  std::stable_sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return a.name < b.name; });
  return all;
}

std::vector<Person> everybody(Desk& desk) {
  std::vector<Person> out;
  for (const model::ScopeId& scope : scopes_by_name(desk))
    out.push_back({scope, desk.book.athlete(scope).name.empty() ? say("who.nameless") : name_apart(desk, scope)});
  for (const Book::SealedProfile& one : shut_profiles(desk)) out.push_back({one.scope, say("sealed.key", {one.name})});
  return out;
}

screens::FormPart everybody_part(Desk& desk, screens::Setting id) {
  std::vector<std::string> labels;
  std::size_t chosen = std::string::npos;
  for (Person& person : everybody(desk)) {
    if (desk.here && *desk.here == person.scope) chosen = labels.size();
    labels.push_back(std::move(person.label));
  }
  return choices_part(id, say("setup.who"), labels, chosen);
}

bool tablet_is_locked(Desk& desk) {
  return desk.settings.user == DeviceUser::shared && desk.lock != nullptr && desk.lock->is_tablet_locked(desk.book);
}

}  // namespace slipway::app
