// Setup: an athlete's facts and kit.
#include <algorithm>
#include <array>
#include <charconv>

#include "app/fact_words.h"
#include "app/setup_desk.h"
#include "app/setup_parts.h"
#include "report/words.h"

namespace slipway::app {

using report::number;
using report::say;
using screens::FormKind;
using screens::FormPart;
using screens::Setting;
using screens::SetupView;

namespace {

// Parts of the facts page that are this room's own; numbered after those of the screens.
constexpr Setting kKeepFacts{1000}, kTrainingDays{1001}, kGate{1002};

// Implements as they are commonly found; each gym edits its own list [handbook 1.3]. In tenths.
struct Preset {
  const char* text;
  model::Unit unit;
  std::int64_t first, last, step;                  // of an even rack
  std::array<std::int64_t, 12> uneven = {};        // else these, 0 ends
};
constexpr Preset kPresets[] = {
    {"setup.preset_light", model::Unit::kg, 10, 100, 10},
    {"setup.preset_gym", model::Unit::kg, 25, 500, 25},
    {"setup.preset_close", model::Unit::kg, 0, 0, 0, {40, 60, 80, 100, 120, 140, 160, 180, 200, 240, 280, 320}},
    {"setup.preset_classic", model::Unit::kg, 0, 0, 0, {80, 120, 160, 200, 240, 280, 320}},
    {"setup.preset_pounds", model::Unit::lb, 50, 1000, 50},
};

model::Quantity of_tenths(std::int64_t tenths, model::Unit unit) {
  return tenths % 10 == 0 ? model::Quantity{tenths / 10, 0, unit} : model::Quantity{tenths, 1, unit};
}

std::vector<model::Quantity> loads_of(const Preset& preset) {
  std::vector<model::Quantity> loads;
  if (preset.step > 0)
    for (std::int64_t tenths = preset.first; tenths <= preset.last; tenths += preset.step) loads.push_back(of_tenths(tenths, preset.unit));
  for (const std::int64_t tenths : preset.uneven)
    if (tenths > 0) loads.push_back(of_tenths(tenths, preset.unit));
  return loads;
}

bool holds(const std::vector<std::string>& words, std::string_view word) { return std::find(words.begin(), words.end(), word) != words.end(); }

void flip(std::vector<std::string>& words, std::string_view word) {
  const auto found = std::find(words.begin(), words.end(), word);
  if (found == words.end()) words.emplace_back(word);
  else words.erase(found);
}

FormPart ticks(Setting id, std::string label, std::span<const FactWord> all, const std::vector<std::string>& ticked) {
  FormPart part = setup_part(FormKind::ticks, id, std::move(label));
  for (const auto& [word, text] : all) part.choices.push_back({.label = say(text), .chosen = holds(ticked, word)});
  return part;
}

struct Born {
  std::optional<std::uint64_t> year, month;
  bool readable = true;
};
// "2010", "2010-05" or nothing.
Born read_born(std::string_view text) {
  Born out;
  const auto whole = [&out](std::string_view digits) -> std::optional<std::uint64_t> {
    std::uint64_t value = 0;
    const auto read = std::from_chars(digits.data(), digits.data() + digits.size(), value);
    if (!digits.empty() && read.ec == std::errc{} && read.ptr == digits.data() + digits.size()) return value;
    out.readable = false;
    return std::nullopt;
  };
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  if (text.empty()) return out;
  const std::size_t at = text.find('-');
  out.year = whole(text.substr(0, at));
  if (at != std::string_view::npos) out.month = whole(text.substr(at + 1));
  return out;
}

std::string born_text(const model::Athlete& athlete) {
  if (athlete.birth_year.empty()) return {};
  const std::string year = std::to_string(*athlete.birth_year.first());
  if (athlete.birth_month.empty()) return year;
  const std::uint64_t month = *athlete.birth_month.first();
  return year + (month < 10 ? "-0" : "-") + std::to_string(month);
}

}  // namespace

// ---- facts ------------------------------------------------------------------------------------------------------

SetupDesk::Facts SetupDesk::facts_of(Desk& desk, const std::optional<model::ScopeId>& scope) {
  Facts facts;
  facts.of = scope;
  if (!scope) return facts;
  const model::Athlete& athlete = desk.book.athlete(*scope);
  facts.name = athlete.name.value_or("");
  facts.born = born_text(athlete);
  facts.group = athlete.group.value_or("");
  facts.limits = athlete.limitations;
  facts.days = athlete.training_days;
  facts.gate = athlete.sign_off_gate;
  return facts;
}

// A youth's body mass is the coach's and guardian's to enter, and never asked on the tablet [handbook 1.3, 7.1].
bool SetupDesk::shows_mass(Desk& desk) {
  if (desk.settings.user == DeviceUser::shared) return false;
  if (facts_ && !facts_->of) return false;  // who is young, and who said yes, is known once they are here
  if (facts_ && facts_->of && !model::may_keep(desk.book.athlete(*facts_->of), model::ConsentThing::body_measures, desk.today)) return false;
  if (desk.settings.is_coach()) return true;
  return facts_ && facts_->of && !model::is_youth(desk.book.athlete(*facts_->of), desk.today);
}

void SetupDesk::facts_page(Desk& desk, SetupView& view) {
  if (!facts_) facts_ = facts_of(desk, desk.here);
  const Facts& now = *facts_;
  view.title = now.of ? say("setup.facts_of", {desk.book.athlete(*now.of).name.value_or("")}) : say("setup.new_swimmer");
  view.line = say("setup.facts_help");
  FormPart name = field_part(Setting::name, say("setup.name"), now.name);
  name.refused = now.name_refused;
  FormPart born = field_part(Setting::born, say("setup.born"), now.born);
  born.refused = now.born_refused;
  born.detail = say("setup.born_help");
  FormPart group = setup_part(FormKind::choices, Setting::group, say("setup.group"));
  for (const auto& [word, text] : known_groups()) group.choices.push_back({.label = say(text), .chosen = now.group == word});
  FormPart days = setup_part(FormKind::ticks, kTrainingDays, say("setup.days"));
  for (std::size_t i = 0; i < week_texts().size(); ++i) days.choices.push_back({.label = say(week_texts()[i]), .chosen = i < now.days.size() && now.days[i]});
  days.detail = say("setup.days_help");
  view.parts = {std::move(name), std::move(born), std::move(group), std::move(days), ticks(Setting::limits, say("setup.limits"), known_limits(), now.limits)};
  if (now.of && desk.settings.is_coach() && !model::is_youth(desk.book.athlete(*now.of), desk.today))
    view.parts.push_back(choices_part(kGate, say("setup.gate"), {say("setup.off"), say("setup.on")}, now.gate ? 1 : 0));
  if (shows_mass(desk)) {
    FormPart mass = field_part(Setting::mass, say(desk.settings.unit == model::Unit::lb ? "setup.mass_lb" : "setup.mass_kg"), now.mass);
    mass.refused = now.mass_refused;
    mass.number = true;
    mass.detail = say("setup.mass_help");
    if (now.of)
      if (const model::BodyMass* last = model::body_mass_on(desk.book.athlete(*now.of), desk.today))
        mass.detail = say("setup.mass_last", {model::to_text(last->mass), model::weekday_date(last->day)});
    view.parts.push_back(std::move(mass));
  }
  if (desk.may_write()) view.parts.push_back(keys_part(kKeepFacts, {{.label = say(now.of ? "setup.keep_facts" : "setup.add_swimmer")}}, true));
}

void SetupDesk::answer_facts(Desk& desk, const screens::SetupAnswer& given) {
  if (!facts_) return;
  Facts& now = *facts_;
  if (given.setting == kKeepFacts) {
    keep_facts(desk);
  } else if (given.setting == kTrainingDays) {
    now.days.resize(week_texts().size(), false);
    if (given.choice < now.days.size()) now.days[given.choice] = !now.days[given.choice];
  } else if (given.setting == kGate) {
    now.gate = given.choice == 1;
  } else if (given.setting == Setting::name) {
    now.name = given.text;
    now.name_refused.clear();
  } else if (given.setting == Setting::born) {
    now.born = given.text;
    now.born_refused.clear();
  } else if (given.setting == Setting::mass) {
    now.mass = given.text;
    now.mass_refused.clear();
  } else if (given.setting == Setting::group && given.choice < known_groups().size()) {
    now.group = known_groups()[given.choice].word;
  } else if (given.setting == Setting::limits && given.choice < known_limits().size()) {
    flip(now.limits, known_limits()[given.choice].word);
  }
}

void SetupDesk::keep_facts(Desk& desk) {
  if (!desk.may_write()) return;
  Facts& now = *facts_;
  const Born born = read_born(now.born);
  if (!born.readable) {
    now.born_refused = say("setup.born_refused");
    desk.announce(true, now.born_refused);
    return;
  }
  model::BodyMass mass;
  const bool weighed = shows_mass(desk) && now.mass.find_first_not_of(' ') != std::string::npos;
  if (weighed) {
    const auto read = model::read_quantity(now.mass, desk.settings.unit);
    if (!read) {
      now.mass_refused = say(read.error());
      desk.announce(true, now.mass_refused);
      return;
    }
    mass.mass = *read;
    mass.day = desk.today;
  }
  const auto refused = [&](const model::Error& error) {
    (error.text == "value.name" ? now.name_refused : now.born_refused) = say(error);
    desk.announce(true, say(error));
  };
  const Facts before = now.of ? facts_of(desk, now.of) : Facts{};
  const Born known = read_born(before.born);
  if ((known.year && !born.year) || (known.month && !born.month)) {  // a value is replaced, never unsaid
    now.born_refused = say("setup.born_stays");
    desk.announce(true, now.born_refused);
    return;
  }
  AthleteChange change;
  if (now.of && now.name != before.name) change.name = now.name;
  if (now.of && now.born != before.born) {
    change.birth_year = born.year;
    change.birth_month = born.month;
  }
  if (now.of && now.group != before.group) change.group = now.group;
  if (now.limits != before.limits) change.limitations = now.limits;
  if (now.days != before.days && now.days.size() == week_texts().size()) change.training_days = now.days;
  if (now.of && now.gate != before.gate) change.sign_off_gate = now.gate;
  std::optional<model::ScopeId> who = now.of;
  const bool fresh_one = !who.has_value();
  if (!who) {
    NewAthlete fresh;
    fresh.name = now.name;
    fresh.birth_year = born.year;
    fresh.birth_month = born.month;
    fresh.group = now.group;
    const auto made = desk.book.add_athlete(fresh, desk.author());
    if (!made) {
      refused(made.error());
      return;
    }
    who = *made;
    now.of = who;  // a second press changes this one
  }
  if (const auto set = desk.book.set_athlete(*who, change, desk.author()); !set) {
    refused(set.error());
    return;
  }
  if (weighed) {
    const auto noted = desk.book.note_body_mass(*who, mass, desk.author());
    if (!noted) {
      now.mass_refused = say(noted.error());
      desk.announce(true, now.mass_refused);
      return;
    }
  }
  if (!desk.here || (fresh_one && desk.settings.user == DeviceUser::shared)) desk.be_here(*who);
  facts_ = facts_of(desk, who);
  desk.announce(false, say("setup.said_kept"));
}

// ---- kit ----------------------------------------------------------------------------------------------------------

void SetupDesk::kit_page(Desk& desk, SetupView& view) {
  const model::Athlete& athlete = desk.book.athlete(*desk.here);
  const model::Kit kit = athlete.kits.empty() ? model::Kit{} : athlete.kits.front();
  view.title = say("setup.kit");
  view.line = say("setup.kit_help");
  FormPart loads = setup_part(FormKind::removable, Setting::loads, say("setup.loads"));
  for (const model::Quantity& load : kit.loads) loads.choices.push_back({.label = model::to_text(load), .spoken = say("setup.take_out", {report::spoken_load(load)})});
  FormPart add = field_part(Setting::add_load, say(desk.settings.unit == model::Unit::lb ? "setup.add_load_lb" : "setup.add_load_kg"), load_);
  add.refused = load_refused_;
  add.number = true;
  FormPart preset = setup_part(FormKind::choices, Setting::preset, say("setup.preset"));
  for (const Preset& one : kPresets) preset.choices.push_back({.label = say(one.text), .chosen = loads_of(one) == kit.loads});
  view.parts = {std::move(loads), std::move(add), keys_part(Setting::add_load_key, {{.label = say("setup.add_load_key"), .icon = screens::Icon::plus}}, false), std::move(preset),
                ticks(Setting::bands, say("setup.bands"), known_bands(), kit.bands), ticks(Setting::equipment, say("setup.equipment"), known_equipment(), kit.equipment)};
}

void SetupDesk::answer_kit(Desk& desk, const screens::SetupAnswer& given) {
  if (!desk.here || !desk.may_write()) return;
  if (given.setting == Setting::add_load) {
    load_ = given.text;
    load_refused_.clear();
    return;
  }
  const model::Athlete& athlete = desk.book.athlete(*desk.here);
  const model::Kit kit = athlete.kits.empty() ? model::Kit{} : athlete.kits.front();
  const std::optional<model::RecordId> which = athlete.kits.empty() ? std::nullopt : std::optional(kit.id);
  KitEntry change;
  switch (given.setting) {
    case Setting::loads: {
      if (given.choice >= kit.loads.size()) return;
      std::vector<model::Quantity> left = kit.loads;
      left.erase(left.begin() + static_cast<std::ptrdiff_t>(given.choice));
      change.loads = std::move(left);
      break;
    }
    case Setting::add_load_key: {
      const auto read = model::read_quantity(load_, desk.settings.unit);
      const bool mass = read && (read->unit == model::Unit::kg || read->unit == model::Unit::lb) && read->value > 0;
      if (!mass) {
        load_refused_ = read ? say("setup.load_refused") : say(read.error());
        desk.announce(true, load_refused_);
        return;
      }
      std::vector<model::Quantity> more = kit.loads;
      if (std::find(more.begin(), more.end(), *read) == more.end()) more.push_back(*read);
      change.loads = std::move(more);
      break;
    }
    case Setting::preset:
      if (given.choice >= std::size(kPresets)) return;
      change.loads = loads_of(kPresets[given.choice]);
      break;
    case Setting::bands: {
      if (given.choice >= known_bands().size()) return;
      std::vector<std::string> bands = kit.bands;
      flip(bands, known_bands()[given.choice].word);
      const auto place = [](const std::string& band) {
        const auto found = std::find_if(std::begin(known_bands()), std::end(known_bands()), [&](const auto& one) { return one.word == band; });
        return found - std::begin(known_bands());
      };
      std::stable_sort(bands.begin(), bands.end(), [&](const std::string& a, const std::string& b) { return place(a) < place(b); });
      change.bands = std::move(bands);
      break;
    }
    case Setting::equipment: {
      if (given.choice >= known_equipment().size()) return;
      std::vector<std::string> words = kit.equipment;
      flip(words, known_equipment()[given.choice].word);
      change.equipment = std::move(words);
      break;
    }
    default: return;
  }
  const auto kept = desk.book.set_kit(*desk.here, which, change, desk.author());
  if (!kept) {
    load_refused_ = say(kept.error());
    desk.announce(true, load_refused_);
    return;
  }
  if (given.setting == Setting::add_load_key) load_.clear();
  load_refused_.clear();
  desk.announce(false, say("setup.said_kit"));
}

}  // namespace slipway::app
