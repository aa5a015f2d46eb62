// The rows of the coach's list (handbook 6.9) in words, and the question they are the answer to.
#include <algorithm>

#include "app/situation.h"
#include "app/squad_desk.h"
#include "report/reasons.h"
#include "report/words.h"

namespace slipway::app {

using report::number;
using report::say;

namespace {

constexpr std::int32_t kPlannedDays = 28;  // planned days are looked up this far back
constexpr std::int32_t kWeek = 7;

// The day the record of an athlete begins: what was planned before it was planned by nobody.
model::Day first_day(const model::Athlete& athlete, model::Day today) {
  model::Day first = today;
  if (!athlete.name.empty()) first = model::day_of(athlete.name.all.front().by.claimed);
  for (const model::Prescription& line : athlete.prescriptions)
    if (const model::Day day = model::day_of(line.by.claimed); day < first) first = day;
  for (const model::Session& session : athlete.sessions)
    if (const model::Day day = day_of_session(session); day < first) first = day;
  return first;
}

std::vector<bool> days_of_the_week(const model::Athlete& athlete) {
  if (athlete.training_days.size() == static_cast<std::size_t>(kWeek)) return athlete.training_days;
  std::vector<bool> days(kWeek, false);
  const model::Programme* programme = athlete.programme.first();
  const std::uint64_t count = programme == nullptr ? 0 : std::min<std::uint64_t>(programme->days_a_week, kWeek);
  for (std::uint64_t i = 0; i < count; ++i) days[static_cast<std::size_t>(i * kWeek / count)] = true;  // spread over the week
  return days;
}

std::string argument_words(const rules::Reason& reason, std::string_view name) {
  const rules::Argument* found = rules::find_argument(reason, name);
  if (found == nullptr) return {};
  return found->text.empty() ? std::to_string(found->number) : found->text;
}

// The row of the decision behind a row of the coach's list, told by what it brought along.
std::string told_as(const rules::CoachFact& fact, const char* row) {
  rules::Reason reason = fact.reason;
  reason.row = row;
  return report::sentence(reason);
}

std::string said(const rules::CoachFact& fact, const model::Athlete& athlete) {
  const rules::Reason& reason = fact.reason;
  const auto has = [&reason](std::string_view name) { return rules::find_argument(reason, name) != nullptr; };
  const std::string what = argument_words(reason, "what");
  if (reason.row == "W01") {
    std::string flags;
    for (const model::RedFlag& flag : athlete.red_flags)
      if (flag.group != model::FlagGroup::local && !model::is_cleared(athlete, flag.id)) flags += (flags.empty() ? "" : ", ") + flag_words(flag.flag);
    return flags.empty() ? report::say("squad.w01") : report::say("squad.w01_flags", {flags});
  }
  if (reason.row == "W02") return told_as(fact, has("days") && !has("amount") ? "R09" : "R01");
  if (reason.row == "W03") return report::say(has("exercise") ? "squad.w03_limit" : "squad.w03");
  if (reason.row == "W04") return has("amount") ? told_as(fact, "R02") : report::say("squad.w04_grumble");
  if (reason.row == "W05") return has("days") ? told_as(fact, "R10") : report::say("squad.w05");
  if (reason.row == "W06") {
    if (what == "same_reserve") return report::say("squad.w06_reserve", {argument_words(reason, "reserve")});
    if (what == "reserve_against_reps") return report::say("squad.w06_reps");
    if (what == "date") return report::say("squad.w06_date");
    return has("load_g") ? report::say("squad.w06_load", {model::to_text(model::kilograms_from_grams(rules::find_argument(reason, "load_g")->number))}) : report::say("squad.w06");
  }
  if (reason.row == "W07") return report::say(reason.evidence.empty() ? "squad.w07_waits" : "squad.w07_ended");
  if (reason.row == "W08") return has("misses") ? report::say("squad.w08_misses", {argument_words(reason, "misses")}) : report::say("squad.w08_same", {argument_words(reason, "sessions")});
  if (reason.row == "W09") return has("days") ? report::say("squad.w09_away", {argument_words(reason, "days")}) : report::say("squad.w09_short", {argument_words(reason, "sessions")});
  if (reason.row == "W14") return report::say("squad.w14");
  return report::say("squad.w_other");
}

template <class... Versions>
std::uint64_t twice(const Versions&... versions) {
  return (std::uint64_t{versions.contradiction() ? 1U : 0U} + ...);
}

}  // namespace

rules::CoachSituation coach_situation(Desk& desk, const model::ScopeId& scope) {
  const model::Athlete& athlete = desk.book.athlete(scope);
  rules::CoachSituation out;
  out.athlete = scope.hex();
  out.situation = situation_of(athlete, {.today = desk.today, .now_ms = desk.now_ms, .programme_day = 0, .kit = {}, .train_now = {}});
  const auto days = days_of_the_week(athlete);
  const model::Day begins = first_day(athlete, desk.today);
  for (std::int32_t back = kPlannedDays; back >= 1; --back) {
    const model::Day day{desk.today.since_1970 - back};
    if (!(day < begins) && days[weekday_of(day)]) out.planned.push_back({day});
  }
  out.last_monday = monday_of(model::Day{desk.today.since_1970 - 1});  // on a Monday: the one before
  return out;
}

std::string coach_sentence(const rules::CoachFact& fact, const model::Athlete& athlete, model::Day today) {
  std::string words = said(fact, athlete);
  if (words.empty()) words = say("squad.w_other");
  if (!fact.exercise.empty()) words = say("squad.of_movement", {capital(movement_name(fact.exercise)), words});
  return fact.since == today ? words : say("squad.since", {words, model::weekday_date(fact.since)});
}

std::uint64_t contradictions_of(const model::Athlete& athlete) {
  std::uint64_t count = twice(athlete.name, athlete.birth_year, athlete.birth_month, athlete.group, athlete.programme);
  for (const model::Prescription& line : athlete.prescriptions)
    count += twice(line.exercise, line.sets, line.reps, line.reps_high, line.load, line.rir, line.rest_ms, line.programme_day, line.place, line.block,
                   line.format, line.tempo, line.band, line.grip);
  for (const model::Session& session : athlete.sessions) {
    count += twice(session.training_day, session.finish);
    for (const model::SetDone& set : session.sets) count += twice(set.reps, set.load, set.rir);
  }
  return count;
}

}  // namespace slipway::app
