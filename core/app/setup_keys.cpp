// Setup's page about keys: for whom this device seals, the digits to compare, and on the coach's
// device the key itself: made, unlocked, handed out, printed, brought back.
#include "app/setup_desk.h"
#include "app/setup_parts.h"
#include "report/recovery_sheet.h"
#include "report/words.h"

namespace slipway::app {

using report::say;
using screens::FormKind;
using screens::FormPart;
using screens::Setting;
using screens::SetupView;

namespace {

// Parts of this page alone; numbered after those of the other pages.
constexpr Setting kLeaveSquad{1300}, kName{1301}, kKeptHow{1302}, kPassphrase{1303}, kSheet{1304}, kMake{1305}, kOther{1306}, kUnlock{1307}, kHandOut{1308};
constexpr std::string_view kSquadFileName = "slipway-squad.slip", kSheetName = "slipway-recovery-sheet.html";

FormPart refused_part(const std::string& words) {
  FormPart part = setup_part(FormKind::caution, Setting::said, words);
  part.icon = screens::Icon::caution;
  return part;
}

}  // namespace

void SetupDesk::keys_page(Desk& desk, SetupView& view) {
  DeviceKeys& keys = desk.book.keys();
  view.title = say("keys.title");
  view.line = say("keys.help");
  if (const auto squad = keys.squad()) {
    view.parts.push_back(words_part(say("keys.squad_of", {squad->coach}), say("keys.compare", {sync::compare_digits(squad->seal_to.view())})));
    if (desk.may_write()) view.parts.push_back(keys_part(kLeaveSquad, {{.label = say("keys.leave_squad"), .icon = screens::Icon::close}}, false));
  } else if (!desk.settings.is_coach()) {
    view.parts.push_back(words_part(say("keys.no_squad_head"), say("keys.no_squad")));
  }
  if (desk.settings.is_coach() || keys.coach()) coach_key_parts(desk, view);
  if (const auto own = keys.signing_key()) view.parts.push_back(words_part(say("keys.device_head"), say("keys.compare", {sync::compare_digits(own->open.view())})));
  const auto known = keys.known();
  if (!known.empty()) view.parts.push_back(heading_part(say("keys.known")));
  for (const DeviceKeys::Known& one : known)
    view.parts.push_back(words_part(say("keys.known_device", {one.device.hex().substr(0, 4)}), sync::compare_digits(one.key.view())));
  view.parts.push_back(words_part(say("keys.proves_head"), say("keys.proves")));
}

void SetupDesk::coach_key_parts(Desk& desk, SetupView& view) {
  view.parts.push_back(heading_part(say("keys.coach_head")));
  const auto coach = desk.book.keys().coach();
  if (coach) {
    view.parts.push_back(words_part(say("keys.coach_of", {coach->name}), say("keys.compare", {sync::compare_digits(coach->open.view())})));
    view.parts.push_back(words_part(say(coach->wrapped ? "keys.wrapped" : "keys.unwrapped"), ""));
    if (!coach->usable) {
      view.parts.push_back(field_part(kPassphrase, say("keys.passphrase"), key_.passphrase));
      view.parts.push_back(keys_part(kUnlock, {{.label = say("keys.unlock")}}, true));
    } else if (desk.may_write()) {
      view.parts.push_back(keys_part(kHandOut, {{.label = say("keys.hand_out"), .icon = screens::Icon::exchange}, {.label = say("keys.sheet"), .icon = screens::Icon::file}}, true));
      view.parts.push_back(words_part(say("keys.sheet_head"), say("keys.sheet_words")));
    }
  } else if (desk.may_write()) {
    new_key_parts(view);
  }
  if (!key_.refused.empty()) view.parts.push_back(refused_part(key_.refused));
}

void SetupDesk::new_key_parts(SetupView& view) {
  view.parts.push_back(words_part(say(key_.recovers ? "keys.recover_words" : "keys.make_words"), ""));
  view.parts.push_back(field_part(kName, say("keys.name"), key_.name));
  if (key_.recovers) view.parts.push_back(field_part(kSheet, say("keys.sheet_lines"), key_.sheet));
  view.parts.push_back(choices_part(kKeptHow, say("keys.kept_how"), {say("keys.with_passphrase"), say("keys.without_passphrase")}, key_.unwrapped ? 1 : 0));
  if (key_.unwrapped) view.parts.push_back(words_part(say("keys.unwrapped"), ""));
  else view.parts.push_back(field_part(kPassphrase, say("keys.new_passphrase"), key_.passphrase));
  view.parts.push_back(keys_part(kMake, {{.label = say(key_.recovers ? "keys.recover" : "keys.make")}}, true));
  view.parts.push_back(keys_part(kOther, {{.label = say(key_.recovers ? "keys.make_instead" : "keys.recover_instead")}}, false));
}

void SetupDesk::make_key(Desk& desk) {
  DeviceKeys& keys = desk.book.keys();
  const std::string passphrase = key_.unwrapped ? "" : key_.passphrase;
  model::Result<model::Done> made = model::Done{};
  // An empty passphrase would mean "kept as it is", which nobody has chosen here.
  if (!key_.unwrapped && passphrase.empty()) made = model::error(model::ErrorKind::invalid, "key.passphrase_short", {std::to_string(sync::kLeastPassphraseBytes)});
  else if (key_.recovers) made = keys.recover_coach_key(key_.sheet, key_.name, passphrase, false);
  else made = keys.make_coach_key(key_.name, passphrase, false);
  if (told(desk, made, say("keys.said_made"))) key_ = {};
  else key_.refused = say(made.error());
}

void SetupDesk::hand_out_sheet(Desk& desk) {
  const auto lines = desk.book.keys().recovery_lines();
  if (!told(desk, lines, "")) return;
  const auto coach = desk.book.keys().coach();
  const std::string page = report::recovery_sheet_page({coach->name, model::iso(desk.today), sync::compare_digits(coach->open.view()), *lines});
  desk.exchange.hand_over(kSheetName, model::as_bytes(page));
  desk.announce(false, say("keys.said_sheet"));
}

void SetupDesk::answer_keys(Desk& desk, const screens::SetupAnswer& given) {
  DeviceKeys& keys = desk.book.keys();
  key_.refused.clear();
  if (given.setting == kPassphrase) {
    key_.passphrase = given.text;
  } else if (given.setting == kUnlock) {
    const auto unlocked = keys.unlock_coach_key(key_.passphrase);
    key_.passphrase.clear();
    if (!told(desk, unlocked, say("keys.said_unlocked"))) key_.refused = say(unlocked.error());
  } else if (!desk.may_write()) {
    return;
  } else if (given.setting == kName) {
    key_.name = given.text;
  } else if (given.setting == kSheet) {
    key_.sheet = given.text;
  } else if (given.setting == kKeptHow) {
    key_.unwrapped = given.choice == 1;
  } else if (given.setting == kOther) {
    key_.recovers = !key_.recovers;
  } else if (given.setting == kMake) {
    make_key(desk);
  } else if (given.setting == kLeaveSquad) {
    told(desk, keys.leave_squad(), say("keys.said_left"));
  } else if (given.setting == kHandOut && given.choice == 1) {
    hand_out_sheet(desk);
  } else if (given.setting == kHandOut) {
    const auto file = keys.squad_file();
    if (!told(desk, file, "")) return;
    desk.exchange.hand_over(kSquadFileName, *file);
    desk.announce(false, say("keys.said_squad"));
  }
}

}  // namespace slipway::app
