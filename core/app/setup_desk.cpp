// Setup: the list, the device, units, sounds, and the pages that only say something. Facts
// and kit: setup_athlete.cpp.
#include "app/setup_desk.h"

#include <algorithm>
#include <iterator>

#include "app/profile_lock.h"
#include "app/setup_parts.h"
#include "app/who.h"
#include "model/assets.h"
#include "model/table.h"
#include "report/words.h"
#include "sync/bundle.h"

namespace slipway::app {

using report::number;
using report::say;
using screens::FormKind;
using screens::FormPart;
using screens::Icon;
using screens::Setting;
using screens::SetupView;

namespace {

const char* user_text(DeviceUser user) {
  return user == DeviceUser::coach ? "setup.user_coach" : user == DeviceUser::shared ? "setup.user_shared" : "setup.user_swimmer";
}

// The cautions in our words [handbook 7]; the first of each pair is its head.
constexpr std::pair<const char*, const char*> kCautions[] = {
    {"setup.advice_head", "setup.advice"},       {"setup.stop_head", "setup.stop"},       {"setup.effort_head", "setup.effort"},
    {"setup.young_head", "setup.young"},         {"setup.over_50_head", "setup.over_50"}, {"setup.ill_head", "setup.ill"},
    {"setup.equipment_head", "setup.equipment_care"}, {"setup.cold_head", "setup.cold"},  {"setup.joints_head", "setup.joints"},
    {"setup.water_head", "setup.water"},         {"setup.numbers_head", "setup.numbers"}, {"setup.shared_head", "setup.shared"},
    {"setup.talk_head", "setup.talk"},
};

std::string storage_line(Desk& desk) {
  if (desk.demo) return say("setup.line_demo");
  return say(!desk.storage_kept ? "setup.line_forgets" : desk.persisted == Persisted::granted ? "setup.line_kept"
             : desk.persisted == Persisted::a_week ? "setup.line_a_week" : "setup.line_may_clear");
}

constexpr Setting kAddSwimmer{1200};  // a part of the device page alone

}  // namespace

std::vector<std::string> credits() {
  std::vector<std::string> lines;
  const auto table = model::read_table(model::asset("licences.table"));
  if (!table) return lines;
  for (std::size_t row = 0; row < table->rows.size(); ++row) lines.push_back(say("setup.credit", {table->cell(row, "name"), table->cell(row, "licence")}));
  return lines;
}

SetupView SetupDesk::list(Desk& desk) {
  const Settings& now = desk.settings;
  SetupView view;
  view.title = say("setup.title");
  view.line = storage_line(desk);
  view.parts.push_back(choices_part(Setting::display, say("setup.display"), {say("setup.daylight"), say("setup.night"), say("setup.by_clock")},
                                    now.display_said ? static_cast<std::size_t>(now.display) : std::string::npos));
  std::vector<std::string> sizes;
  std::size_t size = std::size(kTextPercents);
  for (std::size_t i = 0; i < std::size(kTextPercents); ++i) {
    sizes.push_back(say("setup.percent", {number(kTextPercents[i])}));
    if (kTextPercents[i] == now.text_percent) size = i;
  }
  view.parts.push_back(choices_part(Setting::text_size, say("setup.text_size"), sizes, size));
  view.parts.push_back(choices_part(Setting::left_hand, say("setup.hand"), {say("setup.hand_right"), say("setup.hand_left")}, now.hand.left ? 1 : 0));
  view.parts.push_back(choices_part(Setting::gloves, say("setup.gloves"), {say("setup.off"), say("setup.on")}, now.hand.gloves ? 1 : 0));
  view.parts.push_back(row_part(Setting::device, Icon::squad, say("setup.device"), say("setup.device_line"), say(user_text(now.user))));
  if (desk.here) {
    const model::Athlete& athlete = desk.book.athlete(*desk.here);
    view.parts.push_back(row_part(Setting::facts, Icon::programme, say("setup.facts"), say("setup.facts_line"), athlete.name.value_or("")));
    if (model::asks_consent(athlete, desk.today))
      view.parts.push_back(row_part(Setting::consent, Icon::signoff, say("consent.row"), say("consent.row_line"), consent_line(athlete, desk.today)));
    const std::string loads = athlete.kits.empty() ? say("setup.kit_none") : count_words(athlete.kits.front().loads.size(), "setup.loads_one", "setup.loads_many");
    view.parts.push_back(row_part(Setting::kit, Icon::land, say("setup.kit"), say("setup.kit_line"), loads));
  }
  view.parts.push_back(row_part(Setting::units, Icon::testing, say("setup.units"), say("setup.units_line"), say(now.unit == model::Unit::lb ? "setup.lb" : "setup.kg")));
  view.parts.push_back(row_part(Setting::sound, Icon::rest, say("setup.sound"), say("setup.sound_line"), say(now.beep || now.buzz ? "setup.on" : "setup.off")));
  view.parts.push_back(row_part(Setting::cautions, Icon::caution, say("setup.cautions"), say("setup.cautions_line"), ""));
  view.parts.push_back(row_part(Setting::storage, Icon::file, say("setup.storage"), say("setup.storage_line"), say(desk.demo || !desk.storage_kept ? "setup.forgets" : "setup.keeps")));
  view.parts.push_back(row_part(Setting::keys, Icon::lock, say("keys.row"), say("keys.row_line"), desk.book.keys().in_use() ? say("keys.in_use") : say("keys.not_in_use")));
  if (desk.lock != nullptr && now.user == DeviceUser::shared)
    view.parts.push_back(row_part(Setting::lock, Icon::lock, say("pin.row"), say("pin.row_line"), say(desk.here && desk.lock->has_pin(desk.book, desk.here) ? "setup.on" : "setup.off")));
  if (!desk.demo && (desk.here || !shut_profiles(desk).empty()))
    view.parts.push_back(row_part(Setting::passphrase, Icon::lock, say("sealed.title"), say("sealed.row_line"), sealed_state(desk)));
  view.parts.push_back(row_part(Setting::copies, Icon::exchange, say("copies.title"), say("copies.row_line"), ""));
  const auto may = may_erase(desk);
  const auto requests = desk.book.erase_requests();
  const auto asked = static_cast<std::size_t>(std::count_if(requests.begin(), requests.end(), [&](const EraseRequest& one) { return std::find(may.begin(), may.end(), one.scope) != may.end(); }));
  if (!may.empty() || !desk.book.erased().empty())
    view.parts.push_back(row_part(Setting::erase, Icon::close, say("erase.title"), say("erase.row_line"), asked > 0 ? count_words(asked, "erase.asked_one", "erase.asked_many") : ""));
  view.parts.push_back(row_part(Setting::about, Icon::why, say("setup.about"), say("setup.about_line"), ""));
  if (desk.demo) view.parts.push_back(keys_part(Setting::leave_demo, {{.label = say("setup.leave_demo"), .icon = Icon::close}}, false));
  return view;
}

SetupView SetupDesk::view(Desk& desk) {
  if (page_ == Setting::lock && (desk.lock == nullptr || desk.settings.user != DeviceUser::shared)) page_.reset();
  if (page_ && (*page_ == Setting::facts || *page_ == Setting::kit || *page_ == Setting::consent) && !desk.here && !(facts_ && *page_ == Setting::facts)) page_.reset();
  if (!page_) return list(desk);
  SetupView view;
  view.back_words = say("setup.back");
  switch (*page_) {
    case Setting::device: device_page(desk, view); break;
    case Setting::facts: facts_page(desk, view); break;
    case Setting::kit: kit_page(desk, view); break;
    case Setting::consent: consent_page(desk, view); break;
    case Setting::units: units_page(desk, view); break;
    case Setting::sound: sound_page(desk, view); break;
    case Setting::cautions: cautions_page(desk, view); break;
    case Setting::storage: storage_page(desk, view); break;
    case Setting::keys: keys_page(desk, view); break;
    case Setting::lock: lock_page(desk, view); break;
    case Setting::passphrase: passphrase_page(desk, view); break;
    case Setting::copies: copies_page(desk, view); break;
    case Setting::erase: erase_page(desk, view); break;
    default: about_page(desk, view); break;
  }
  return view;
}

void SetupDesk::device_page(Desk& desk, SetupView& view) {
  view.title = say("setup.device");
  view.line = say("setup.device_help");
  view.parts.push_back(choices_part(Setting::device, say("setup.device"), {say("setup.user_swimmer"), say("setup.user_shared"), say("setup.user_coach")},
                                    static_cast<std::size_t>(desk.settings.user)));
  if (tablet_is_locked(desk)) view.parts.push_back(words_part("", say("pin.device_locked")));
  if (desk.settings.user == DeviceUser::shared) view.parts.push_back(words_part(say("setup.shared_head"), say("setup.shared")));
  if (desk.settings.user == DeviceUser::swimmer) return;
  if (screens::FormPart who = everybody_part(desk, Setting::who); !who.choices.empty()) view.parts.push_back(std::move(who));
  if (desk.may_write()) view.parts.push_back(keys_part(kAddSwimmer, {{.label = say("setup.new_swimmer"), .icon = Icon::plus}}, false));
}

void SetupDesk::units_page(Desk& desk, SetupView& view) {
  view.title = say("setup.units");
  view.line = say("setup.units_help");
  view.parts.push_back(choices_part(Setting::unit, say("setup.unit"), {say("setup.kg"), say("setup.lb")}, desk.settings.unit == model::Unit::lb ? 1 : 0));
}

void SetupDesk::sound_page(Desk& desk, SetupView& view) {
  view.title = say("setup.sound");
  view.line = say("setup.sound_help");
  view.parts.push_back(choices_part(Setting::beep, say("setup.beep"), {say("setup.on"), say("setup.off")}, desk.settings.beep ? 0 : 1));
  view.parts.push_back(choices_part(Setting::buzz, say("setup.buzz"), {say("setup.on"), say("setup.off")}, desk.settings.buzz ? 0 : 1));
}

void SetupDesk::cautions_page(Desk& desk, SetupView& view) {
  view.title = say("setup.cautions");
  FormPart help = field_part(Setting::cautions, say("setup.emergency"), desk.settings.emergency_number);
  help.detail = say("setup.emergency_help");
  help.number = true;
  view.parts.push_back(std::move(help));
  for (const auto& [head, text] : kCautions) view.parts.push_back(words_part(say(head), say(text)));
}

void SetupDesk::storage_page(Desk& desk, SetupView& view) {
  view.title = say("setup.storage");
  view.line = storage_line(desk);
  if (desk.demo) {
    view.parts.push_back(words_part(say("setup.demo_head"), say("trouble.demo_body")));
  } else if (desk.storage_kept) {
    const char* asked = desk.persisted == Persisted::granted   ? "about.storage_persisted_yes"
                        : desk.persisted == Persisted::unknown ? "about.storage_persisted_unknown"
                                                               : "about.storage_persisted_no";
    const bool a_week = desk.persisted == Persisted::a_week;  // whatever was asked
    view.parts.push_back(words_part(say("setup.where_head"), a_week ? say("setup.line_may_clear") : say("about.storage_kept", {say(asked)})));
    if (a_week) view.parts.push_back(words_part(say("setup.a_week_head"), say("setup.a_week")));
  } else {
    view.parts.push_back(words_part(say("trouble.forgets_title"), say("trouble.forgets_body")));
  }
  view.parts.push_back(words_part(say("setup.copy_head"), say("about.copy", {desk.handed_over.empty() ? say("about.copy_never") : desk.handed_over})));
}

void SetupDesk::about_page(Desk& desk, SetupView& view) {
  view.title = say("about.title");
  view.line = say("about.version", {number(sync::kMajor) + "." + number(sync::kMinor), std::to_string(desk.book.opening().schema_found)});
  view.parts = {words_part(say("about.what"), ""), words_part(say("about.care"), ""), words_part(say("setup.advice_head"), say("setup.advice")),
                heading_part(say("setup.licences"))};
  for (const std::string& line : credits()) view.parts.push_back(words_part(line, ""));
}

// ---- answers --------------------------------------------------------------------------------------------------

void SetupDesk::answer_device(Desk& desk, const screens::SetupAnswer& given) {
  Settings& now = desk.settings;
  const auto second = given.choice == 1;
  switch (given.setting) {
    case Setting::display:
      now.display = static_cast<Display>(std::min<std::uint32_t>(given.choice, 2));
      now.display_said = true;
      break;
    case Setting::text_size:
      if (given.choice < std::size(kTextPercents)) now.text_percent = kTextPercents[given.choice];
      break;
    case Setting::device:
      if (tablet_is_locked(desk)) {  // or a coach's view would lead round every PIN
        desk.announce(true, say("pin.device_locked"));
        return;
      }
      now.user = static_cast<DeviceUser>(std::min<std::uint32_t>(given.choice, 2));
      now.user_said = true;
      break;
    case Setting::unit: now.unit = second ? model::Unit::lb : model::Unit::kg; break;
    case Setting::left_hand: now.hand.left = second; break;
    case Setting::gloves: now.hand.gloves = second; break;
    case Setting::beep: now.beep = !second; break;
    case Setting::buzz: now.buzz = !second; break;
    case Setting::cautions: {
      now.emergency_number.clear();
      for (const char letter : given.text)
        if ((letter >= '0' && letter <= '9') || letter == '+' || letter == ' ') now.emergency_number += letter;
      constexpr std::size_t kMostDigits = 20;
      if (now.emergency_number.size() > kMostDigits) now.emergency_number.resize(kMostDigits);
      break;
    }
    default: return;
  }
  if (!now.write(desk.book)) desk.announce(true, say("setup.not_kept"));
}

void SetupDesk::answer(Desk& desk, const screens::SetupAnswer& given) {
  if (!page_) {
    switch (given.setting) {
      case Setting::display:
      case Setting::text_size:
      case Setting::left_hand:
      case Setting::gloves: answer_device(desk, given); break;
      case Setting::leave_demo:
        if (desk.demo) desk.leave_demo();
        break;
      case Setting::facts: open_facts(desk, desk.here); break;
      case Setting::consent: open_consent(desk); break;
      default: open(given.setting); break;
    }
    return;
  }
  switch (*page_) {
    case Setting::facts: answer_facts(desk, given); break;
    case Setting::kit: answer_kit(desk, given); break;
    case Setting::copies: answer_copies(desk, given); break;
    case Setting::erase: answer_erase(desk, given); break;
    case Setting::consent: answer_consent(desk, given); break;
    case Setting::keys: answer_keys(desk, given); break;
    case Setting::lock: answer_lock(desk, given); break;
    case Setting::passphrase: answer_passphrase(desk, given); break;
    default:
      if (given.setting == kAddSwimmer) {
        if (desk.may_write()) open_facts(desk, std::nullopt);
      } else if (given.setting != Setting::who) {
        answer_device(desk, given);
      } else if (desk.settings.user != DeviceUser::swimmer) {
        const auto people = everybody(desk);
        if (given.choice >= people.size()) return;
        desk.be_here(people[given.choice].scope);
        if (desk.settings.user == DeviceUser::shared) desk.go(screens::Place::session);
      }
      break;
  }
}

void SetupDesk::act(Desk& desk, const screens::SetupIntent& intent) {
  if (const auto* given = std::get_if<screens::SetupAnswer>(&intent)) answer(desk, *given);
  else leave();
}

void SetupDesk::open(Setting page) {
  switch (page) {
    case Setting::device:
    case Setting::facts:
    case Setting::kit:
    case Setting::consent:
    case Setting::units:
    case Setting::sound:
    case Setting::cautions:
    case Setting::storage:
    case Setting::keys:
    case Setting::lock:
    case Setting::passphrase:
    case Setting::copies:
    case Setting::erase:
    case Setting::about:
      leave();
      page_ = page;
      break;
    default: break;
  }
}

void SetupDesk::leave() {
  page_.reset();
  facts_.reset();
  consent_.reset();
  key_ = {};
  pin_ = {};
  seal_ = {};
  backup_ = {};
  copy_said_.clear();
  erasing_ = {};
  load_.clear();
  load_refused_.clear();
}

void SetupDesk::open_facts(Desk& desk, const std::optional<model::ScopeId>& scope) {
  open(Setting::facts);
  facts_ = facts_of(desk, scope);
}

}  // namespace slipway::app
