// Setup's page about the PINs of a shared tablet, the form that asks for one, and in short form
// what each kind of lock protects from and what it does not.
#include "app/profile_lock.h"
#include "app/setup_desk.h"
#include "app/setup_parts.h"
#include "app/who.h"
#include "report/words.h"

namespace slipway::app {

using report::say;
using screens::FormPart;
using screens::Setting;
using screens::SetupView;

namespace {

// Parts of this page alone; numbered after those of the other pages.
constexpr Setting kOwnPin{1400}, kSetOwn{1401}, kTabletPin{1402}, kSetTablet{1403}, kGivenPin{1410}, kGive{1411}, kOther{1412};
constexpr std::pair<const char*, const char*> kTable[] = {
    {"pin.none_head", "pin.none"}, {"pin.pin_head", "pin.pin"}, {"pin.passphrase_head", "pin.passphrase"}, {"pin.seal_head", "pin.seal"},
    {"pin.device_head", "pin.device"}};

FormPart pin_field(Setting id, const std::string& label, const std::string& value, const std::string& refused) {
  FormPart part = field_part(id, label, value);
  part.number = true;
  part.refused = refused;
  return part;
}

}  // namespace

void SetupDesk::lock_page(Desk& desk, SetupView& view) {
  ProfileLock& lock = *desk.lock;
  view.title = say("pin.title");
  view.line = say("pin.help");
  const bool tablet = lock.has_pin(desk.book, std::nullopt), tablet_shut = lock.is_tablet_locked(desk.book);
  view.parts.push_back(heading_part(say("pin.tablet_head")));
  view.parts.push_back(words_part(say(tablet ? "pin.tablet_set" : "pin.tablet_unset"), say("pin.tablet_words")));
  if (tablet_shut) {
    view.parts.push_back(pin_field(kGivenPin, say("pin.tablet_give"), pin_.given, pin_.given_refused));
    view.parts.push_back(keys_part(kGive, {{.label = say("pin.give")}}, false));
  } else if (desk.may_write()) {
    view.parts.push_back(pin_field(kTabletPin, say("pin.new_tablet"), pin_.tablet, pin_.tablet_refused));
    view.parts.push_back(keys_part(kSetTablet, tablet ? std::vector<screens::FormChoice>{{.label = say("pin.set")}, {.label = say("pin.take_away")}}
                                                      : std::vector<screens::FormChoice>{{.label = say("pin.set")}}, false));
  }
  if (desk.here && tablet) {
    const bool own = lock.has_pin(desk.book, desk.here);
    view.parts.push_back(heading_part(say("pin.own_head", {desk.book.athlete(*desk.here).name.value_or("")})));
    view.parts.push_back(words_part(say(own ? "pin.own_set" : "pin.own_unset"), ""));
    if (desk.may_write()) {
      view.parts.push_back(pin_field(kOwnPin, say("pin.new_own"), pin_.own, pin_.own_refused));
      view.parts.push_back(keys_part(kSetOwn, own ? std::vector<screens::FormChoice>{{.label = say("pin.set")}, {.label = say("pin.take_away")}}
                                                  : std::vector<screens::FormChoice>{{.label = say("pin.set")}}, false));
    }
  }
  protects_parts(view);
}

void SetupDesk::protects_parts(SetupView& view) {
  view.parts.push_back(heading_part(say("pin.table_head")));
  for (const auto& [head, text] : kTable) view.parts.push_back(words_part(say(head), say(text)));
}

void SetupDesk::give_pin(Desk& desk, const std::string& said) {
  const auto given = desk.lock->give_pin(desk.book, desk.here.value_or(model::ScopeId{}), pin_.given);
  pin_ = {};
  if (!told(desk, given, said)) pin_.given_refused = say(given.error());
}

void SetupDesk::answer_lock(Desk& desk, const screens::SetupAnswer& given) {
  const auto set = [&](const std::optional<model::ScopeId>& scope, std::string& digits, std::string& refused) {
    const bool away = given.choice == 1;
    // Nothing typed and "Set" is no wish to take it away.
    const auto done = !away && digits.empty() ? model::Result<model::Done>(model::error(model::ErrorKind::invalid, "pin.form", {std::to_string(kLeastPinDigits), std::to_string(kMostPinDigits)}))
                                              : desk.lock->set_pin(desk.book, scope, away ? "" : digits);
    digits.clear();
    refused = told(desk, done, say(away ? "pin.said_away" : "pin.said_set")) ? "" : say(done.error());
  };
  if (given.setting == kGivenPin) pin_.given = given.text;
  else if (given.setting == kGive) give_pin(desk, say("pin.said_open"));
  else if (!desk.may_write()) return;
  else if (given.setting == kOwnPin) pin_.own = given.text;
  else if (given.setting == kTabletPin) pin_.tablet = given.text;
  else if (given.setting == kSetTablet) set(std::nullopt, pin_.tablet, pin_.tablet_refused);
  else if (given.setting == kSetOwn && desk.here) set(desk.here, pin_.own, pin_.own_refused);
}

// In place of a page that is locked. Who is at the tablet may always be said: that shows nothing of anybody.
SetupView SetupDesk::locked_view(Desk& desk) {
  SetupView view;
  view.title = say("pin.locked_title", {desk.book.athlete(*desk.here).name.value_or("")});
  view.line = say("pin.locked_line");
  view.parts.push_back(pin_field(kGivenPin, say("pin.label"), pin_.given, pin_.given_refused));
  view.parts.push_back(keys_part(kGive, {{.label = say("pin.give")}}, true));
  view.parts.push_back(everybody_part(desk, kOther));
  return view;
}

void SetupDesk::act_locked(Desk& desk, const screens::SetupIntent& intent) {
  const auto* given = std::get_if<screens::SetupAnswer>(&intent);
  if (given == nullptr) return;
  if (given->setting == kGivenPin) {
    pin_.given = given->text;
  } else if (given->setting == kGive) {
    give_pin(desk, say("pin.said_open"));
  } else if (given->setting == kOther) {
    const auto people = everybody(desk);
    if (given->choice >= people.size()) return;
    pin_ = {};
    desk.be_here(people[given->choice].scope);
    desk.go(screens::Place::session);
  }
}

}  // namespace slipway::app
