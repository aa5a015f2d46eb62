// Setup's page about the passphrase that seals what is kept here of the swimmer who is here.
#include "app/profile_lock.h"
#include "app/setup_desk.h"
#include "app/setup_parts.h"
#include "app/who.h"
#include "report/words.h"

namespace slipway::app {

using report::say;
using screens::Setting;
using screens::SetupView;

namespace {

// Parts of this page alone; numbered after those of the other pages.
constexpr Setting kPassphrase{1600}, kAgain{1601}, kSeal{1602}, kOpened{1603}, kShut{1604};

// On a shared tablet nobody seals a team-mate out of their own record: the swimmer's PIN or the tablet's was given.
bool may_seal(Desk& desk) {
  if (desk.settings.user != DeviceUser::shared || desk.lock == nullptr) return true;
  if (desk.lock->has_pin(desk.book, std::nullopt) && !desk.lock->is_tablet_locked(desk.book)) return true;
  return desk.lock->has_pin(desk.book, desk.here) && !desk.lock->is_locked(desk.book, *desk.here);
}

}  // namespace

std::string SetupDesk::sealed_state(Desk& desk) {
  if (!desk.here) return "";
  return say(desk.book.sealed_profile(*desk.here) ? "setup.on" : "setup.off");
}

void SetupDesk::passphrase_page(Desk& desk, SetupView& view) {
  view.title = say("sealed.title");
  view.line = say("sealed.help");
  if (desk.here) {
    const std::string name = desk.book.athlete(*desk.here).name.value_or(say("who.nameless"));
    const bool sealed = desk.book.sealed_profile(*desk.here).has_value();
    view.parts.push_back(heading_part(name));
    if (sealed) {
      view.parts.push_back(words_part(say("sealed.is"), say(desk.settings.user == DeviceUser::shared ? "sealed.shuts_shared" : "sealed.shuts")));
      std::vector<screens::FormChoice> keys{{.label = say("sealed.shut_now")}};
      if (desk.may_write()) keys.push_back({.label = say("sealed.take_away")});
      view.parts.push_back(keys_part(kOpened, keys, false));
    } else if (desk.may_write() && !may_seal(desk)) {
      view.parts.push_back(words_part(say("sealed.not"), say("sealed.pin_first")));
    } else if (desk.may_write()) {
      view.parts.push_back(words_part(say("sealed.not"), ""));
      view.parts.push_back(words_part(say("sealed.care_head"), say("sealed.care")));
      view.parts.push_back(field_part(kPassphrase, say("sealed.passphrase"), seal_.passphrase));
      view.parts.push_back(field_part(kAgain, say("sealed.again"), seal_.again));
      view.parts.back().refused = seal_.refused;
      view.parts.push_back(keys_part(kSeal, {{.label = say("sealed.seal")}}, true));
    }
  }
  std::vector<std::string> shut;
  for (const Book::SealedProfile& one : shut_profiles(desk)) shut.push_back(one.name);
  if (!shut.empty()) view.parts.push_back(choices_part(kShut, say("sealed.others"), shut, std::string::npos));
  protects_parts(view);
}

void SetupDesk::answer_passphrase(Desk& desk, const screens::SetupAnswer& given) {
  if (given.setting == kPassphrase || given.setting == kAgain) {
    (given.setting == kAgain ? seal_.again : seal_.passphrase) = given.text;
    seal_.refused.clear();
  } else if (given.setting == kShut) {
    const auto shut = shut_profiles(desk);
    if (given.choice < shut.size()) desk.be_here(shut[given.choice].scope);
  } else if (!desk.here) {
    return;
  } else if (given.setting == kSeal && desk.may_write() && may_seal(desk)) {
    const auto sealed = seal_.passphrase != seal_.again ? model::Result<model::Done>(model::error(model::ErrorKind::invalid, "sealed.not_alike"))
                                                        : desk.book.seal_profile(*desk.here, seal_.passphrase);
    seal_ = {};
    if (!told(desk, sealed, say("sealed.said_sealed"))) seal_.refused = say(sealed.error());
  } else if (given.setting == kOpened && given.choice == 1 && desk.may_write()) {
    told(desk, desk.book.unseal_profile(*desk.here), say("sealed.said_away"));
  } else if (given.setting == kOpened && given.choice == 0) {
    if (told(desk, desk.book.shut_profile(*desk.here), say("sealed.said_shut"))) desk.athlete_gone();
  }
}

}  // namespace slipway::app
