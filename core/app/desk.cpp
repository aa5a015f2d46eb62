#include "app/desk.h"

#include <algorithm>
#include <array>
#include <chrono>
#include <utility>

#include "report/words.h"

namespace slipway::app {

using report::number;
using report::say;

namespace {

constexpr std::int32_t kWeek = 7, kThursday = 3;  // 1970-01-01, counted from Monday

template <std::size_t N>
const char* text_of(const std::pair<std::string_view, const char*> (&table)[N], std::string_view key) {
  for (const auto& [known, text] : table)
    if (known == key) return text;
  return nullptr;
}

constexpr std::pair<std::string_view, const char*> kParts[] = {
    {"shoulder", "part.shoulder"}, {"elbow", "part.elbow"},         {"wrist", "part.wrist"}, {"neck", "part.neck"},
    {"low_back", "part.low_back"}, {"hip_groin", "part.hip_groin"}, {"knee", "part.knee"},   {"ankle", "part.ankle"},
};
constexpr std::pair<std::string_view, const char*> kSore[] = {
    {"hips_thighs", "sore.legs"}, {"shoulders_back", "sore.pulling"}, {"chest_arms", "sore.pushing"}, {"trunk", "sore.trunk"}, {"calves", "desk.calves"},
};
std::string lower(std::string words) {  // inside a sentence
  if (!words.empty() && words[0] >= 'A' && words[0] <= 'Z') words[0] = static_cast<char>(words[0] - 'A' + 'a');
  return words;
}

// A word nobody here knows is shown as it was written, with spaces.
std::string plain(std::string_view word) {
  std::string out(word);
  std::replace(out.begin(), out.end(), '_', ' ');
  return out;
}

int year_of(model::Day day) {
  return static_cast<int>(std::chrono::year_month_day{std::chrono::sys_days{std::chrono::days{day.since_1970}}}.year());
}

}  // namespace

std::vector<model::ScopeId> shown_scopes(Desk& desk) {
  if (desk.settings.is_coach()) return scopes_by_name(desk);
  return desk.here ? std::vector{*desk.here} : std::vector<model::ScopeId>{};
}

std::vector<model::ScopeId> own_and_waiting(Book& book, const model::ScopeId& here) {
  std::vector<model::ScopeId> out = book.athletes_waiting();
  if (std::find(out.begin(), out.end(), here) == out.end()) out.push_back(here);
  return out;
}

std::vector<model::ScopeId> hidden_scopes(Desk& desk) {
  std::vector<model::ScopeId> out = desk.book.hidden();
  if (desk.settings.user == DeviceUser::swimmer && desk.here) std::erase(out, *desk.here);
  return out;
}

std::vector<model::ScopeId> scopes_by_name(Desk& desk) {
  std::vector<model::ScopeId> out = desk.book.scopes();
  const auto hidden = hidden_scopes(desk);
  std::erase_if(out, [&](const model::ScopeId& scope) { return std::find(hidden.begin(), hidden.end(), scope) != hidden.end(); });
  std::vector<std::pair<std::string, model::ScopeId>> named;
  for (const model::ScopeId& scope : out) named.emplace_back(desk.book.athlete(scope).name.value_or(""), scope);
  std::sort(named.begin(), named.end());
  out.clear();
  for (auto& [name, scope] : named) out.push_back(scope);
  return out;
}

std::string name_apart(Desk& desk, const model::ScopeId& scope) {
  // For every name of a list of a whole club: nothing is copied.
  const auto name_of = [&desk](const model::ScopeId& id) -> std::string_view {
    const std::string* name = desk.book.athlete(id).name.first();
    return name == nullptr ? std::string_view() : *name;
  };
  const auto year_of = [&desk](const model::ScopeId& id) { return desk.book.athlete(id).birth_year.value_or(0); };
  const std::string_view said = name_of(scope);
  const std::string name = said.empty() ? say("who.nameless") : std::string(said);
  const std::uint64_t year = year_of(scope);
  // On a tablet that a group shares nobody reads how old somebody is (sync-and-storage 10.1).
  bool alike = false, by_signs = year == 0 || desk.settings.user == DeviceUser::shared;
  for (const model::ScopeId& other : desk.book.scopes()) {
    if (other == scope || name_of(other) != said) continue;
    alike = true;
    by_signs = by_signs || year_of(other) == year;
  }
  if (!alike) return name;
  constexpr std::size_t kSigns = 4;
  return by_signs ? say("desk.name_signs", {name, scope.hex().substr(0, kSigns)}) : say("desk.name_born", {name, number(year)});
}

std::string wordings_of(const model::Note& note) {
  std::string text;
  for (const auto& version : note.text.all) text += (text.empty() ? "" : " / ") + version.value;
  return text;
}

void announce_error(Desk& desk, const model::Error& error) { desk.announce(true, say(error)); }

std::string phase_word(std::string_view phase) {
  constexpr std::array<std::pair<std::string_view, const char*>, 7> kPhases{{
      {"learn", "phase.learn"}, {"general", "phase.general"}, {"strength", "phase.strength"}, {"power", "phase.power"},
      {"taper", "phase.taper"}, {"race", "phase.race"},       {"break", "phase.break"},
  }};
  for (const auto& [known, text] : kPhases)
    if (known == phase) return say(text);
  return std::string(phase);
}

std::string movement_name(std::string_view exercise) {
  const model::Rung* rung = model::find_rung(exercise);
  return rung == nullptr ? std::string(exercise) : rung->name;
}

std::string day_words(model::Day day, model::Day today) {
  if (day == today) return say("desk.today");
  const std::string date = model::weekday_date(day);
  return year_of(day) == year_of(today) ? date : say("desk.date_year", {date, std::to_string(year_of(day))});
}

std::string moment_words(const model::ClaimedTime& claimed, model::Day today) {
  return say("desk.moment", {day_words(model::day_of(claimed), today), model::clock(claimed)});
}

std::string region_words(std::string_view region) {
  const char* text = text_of(kParts, region);
  return text == nullptr ? plain(region) : lower(say(text));
}

std::string sore_words(std::string_view region) {
  const char* text = text_of(kSore, region);
  return text == nullptr ? plain(region) : lower(say(text));
}

const std::vector<FlagWord>& known_flags() {
  using model::FlagGroup;
  static const std::vector<FlagWord> kFlags{
      {"chest_pain", "flag.chest_pain", FlagGroup::emergency},       {"fainting", "flag.fainting", FlagGroup::emergency},
      {"heartbeat", "flag.heartbeat", FlagGroup::emergency},         {"breathless", "flag.breathless", FlagGroup::emergency},
      {"head_knock", "flag.head_knock", FlagGroup::emergency},       {"numb_weak", "flag.numb_weak", FlagGroup::emergency},
      {"back_bladder", "flag.back_bladder", FlagGroup::emergency},   {"dark_urine", "flag.dark_urine", FlagGroup::emergency},
      {"cold_confused", "flag.cold_confused", FlagGroup::emergency}, {"night_pain", "flag.night_pain", FlagGroup::general},
      {"long_fever", "flag.long_fever", FlagGroup::general},
  };
  return kFlags;
}

std::string sore_since(const model::Soreness& sore) {
  const auto before = static_cast<std::int32_t>(std::clamp<std::uint64_t>(sore.days, 1, kMostSoreDays) - 1);
  return say("swimmer.sore_since", {model::weekday_date(model::Day{sore.day.since_1970 - before})});
}

std::string flag_words(std::string_view flag) {
  for (const FlagWord& known : known_flags())
    if (known.flag == flag) return lower(say(known.words));
  return plain(flag);
}

std::string band_words(std::uint64_t band) {
  if (band == 0) return say("desk.pain_none");
  return say(band == 1 ? "desk.pain_little" : band == 2 ? "desk.pain_hurts" : "desk.pain_lot");
}

std::string writer_words(const model::Writer& by) {
  return by.author == 0 ? say("desk.somebody") : say("desk.writer", {report::author_word(by.author)});
}

std::string count_words(std::uint64_t count, const char* one, const char* many) {
  return count == 1 ? say(one) : say(many, {number(count)});
}
std::string counted_athletes(std::uint64_t count) { return count_words(count, "squad.athlete_one", "squad.athlete_many"); }
std::string counted_sessions(std::uint64_t count) { return count_words(count, "exchange.session_one", "exchange.session_many"); }
std::string counted_sets(std::uint64_t count) { return count_words(count, "exchange.set_one", "exchange.set_many"); }
std::string counted_entries(std::uint64_t count) { return count_words(count, "exchange.entry_one", "exchange.entry_many"); }
std::string counted_pains(std::uint64_t count) { return count_words(count, "exchange.pain_one", "exchange.pain_many"); }

std::string set_words(std::string_view exercise, std::uint64_t reps, const std::optional<model::Quantity>& load, std::string_view band) {
  const model::Rung* rung = model::find_rung(exercise);
  const std::string count = rung != nullptr && rung->is_hold() ? say("desk.seconds", {number(reps)}) : number(reps);
  if (load) return say("dose.load", {count, model::to_text(*load)});
  return band.empty() ? count : say("dose.load", {count, say("desk.band", {std::string(band)})});
}

std::size_t weekday_of(model::Day day) { return static_cast<std::size_t>(((day.since_1970 + kThursday) % kWeek + kWeek) % kWeek); }

model::Day monday_of(model::Day day) { return {day.since_1970 - static_cast<std::int32_t>(weekday_of(day))}; }

model::Day day_of_session(const model::Session& session) {
  return session.training_day.empty() ? model::day_of(session.by.claimed) : *session.training_day.first();
}

std::uint64_t effort_of(const model::Finish& finish) {
  constexpr std::uint64_t kTenths = 10, kHalf = 5;
  return (finish.effort_tenths.value_or(0) + kHalf) / kTenths;
}

}  // namespace slipway::app
