#include "app/needs.h"

#include <algorithm>
#include <tuple>

#include "app/contradictions.h"
#include "app/desk.h"
#include "app/day_plan.h"
#include "app/situation.h"
#include "report/reasons.h"
#include "report/words.h"

namespace slipway::app {

using report::number;
using report::say;

namespace {

// The order of handbook 6.9; a sign-off that waits longer comes just after W04 [6.8].
constexpr std::int32_t kRankOfW04 = 40, kRankOfW06 = 60, kRankOfW13 = 130;
constexpr std::int32_t kSignOffWaits = 14;  // days
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
  const auto programme = programme_in_use(athlete);
  const std::uint64_t count = programme ? std::min<std::uint64_t>(programme->days_a_week, kWeek) : 0;
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

// A pain that takes several movements out, on the list once: of the part that hurts, with the movements before it.
std::string w04_of_part(const rules::Reason& reason) {
  const std::string part = report::part_word(argument_words(reason, "region"), 0);
  if (part.empty()) return {};
  const rules::Argument* substitute = rules::find_argument(reason, "substitute");
  return say(substitute == nullptr || substitute->text.empty() ? "squad.w04_part" : "squad.w04_part_swap", {part, argument_words(reason, "amount")});
}

// More than one movement is left out or swapped for the same reports.
bool takes_several(const std::vector<rules::CoachFact>& facts, const rules::CoachFact& one) {
  return std::count_if(facts.begin(), facts.end(), [&](const rules::CoachFact& other) {
           return other.reason.row == one.reason.row && other.reason.evidence == one.reason.evidence;
         }) > 1;
}

// A sign-off that ended or was withdrawn is named by it; one that waits, by the sessions that ask for it.
bool ended(const rules::Reason& w07) {
  return std::any_of(w07.evidence.begin(), w07.evidence.end(), [](const rules::Evidence& one) { return one.of == rules::EvidenceOf::sign_off; });
}

// Of a sign-off that ended: somebody withdrew it.
bool withdrawn(const rules::Reason& w07, const rules::SessionSituation& situation) {
  return std::any_of(w07.evidence.begin(), w07.evidence.end(), [&](const rules::Evidence& one) {
    return one.of == rules::EvidenceOf::sign_off && situation.sign_offs[one.index].level == rules::SignOffLevel::withdrawn;
  });
}

std::string said(const rules::CoachFact& fact, const model::Athlete& athlete, const rules::SessionSituation& situation) {
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
    return has("load_g") ? report::say("squad.w06_load", {model::to_text(load_as_here(athlete, rules::find_argument(reason, "load_g")->number))}) : report::say("squad.w06");
  }
  if (reason.row == "W07") return report::say(withdrawn(reason, situation) ? "squad.w07_withdrawn" : ended(reason) ? "squad.w07_ended" : "squad.w07_waits");
  if (reason.row == "W08") return has("misses") ? report::say("squad.w08_misses", {argument_words(reason, "misses")}) : report::say("squad.w08_same", {argument_words(reason, "sessions")});
  if (reason.row == "W09") return has("days") ? report::say("squad.w09_away", {argument_words(reason, "days")}) : report::say("squad.w09_short", {argument_words(reason, "sessions")});
  if (reason.row == "W14") return report::say("squad.w14");
  return report::say("squad.w_other");
}

std::int32_t rank_of(const rules::CoachFact& fact, model::Day today) {
  const std::string& row = fact.reason.row;
  if (row == "W07" && today.since_1970 - fact.since.since_1970 > kSignOffWaits) return kRankOfW04 + 5;
  return row.size() == 3 ? ((row[1] - '0') * 10 + (row[2] - '0')) * 10 : kRankOfW13;
}

rules::CoachSituation coach_situation(Book& book, const model::ScopeId& scope, const NeedsAsked& asked) {
  const model::Athlete& athlete = book.athlete(scope);
  rules::CoachSituation out;
  out.athlete = scope.hex();
  out.situation = situation_of(athlete, {.today = asked.today, .now_ms = asked.now_ms, .programme_day = 0, .kit = {}, .train_now = {}});
  out.planned = planned_days(athlete, asked.today);
  out.last_monday = monday_of(model::Day{asked.today.since_1970 - 1});  // on a Monday: the one before
  return out;
}

// The movements a sentence is about, before it, unless it names the one itself.
std::string with_movements(const std::vector<std::string>& exercises, const std::string& words) {
  if (exercises.empty()) return words;
  const std::string first = movement_name(exercises.front());
  if (exercises.size() == 1) return words.find(first) != std::string::npos ? words : say("squad.of_movement", {capital(first), words});
  const std::string others = exercises.size() == 2 ? movement_name(exercises[1]) : say("squad.others", {number(exercises.size() - 1)});
  return say("squad.of_movement", {say("squad.and", {capital(first), others}), words});
}

// The session of W03 "without an adult ticked in"; outside the limits of an age no tick helps.
std::optional<model::RecordId> trained_alone(const model::Athlete& athlete, const rules::CoachSituation& about, const rules::CoachFact& fact) {
  if (fact.reason.row != "W03" || rules::find_argument(fact.reason, "exercise") != nullptr || fact.reason.evidence.empty()) return std::nullopt;
  const std::string& id = about.situation.history[fact.reason.evidence.front().index].id;
  for (const model::Session& session : athlete.sessions)
    if (model::to_text(session.id) == id) return session.id;
  return std::nullopt;
}

// One entry of the record that stops four movements is told once.
void add_fact(std::vector<NeedFact>& facts, const rules::CoachFact& fact, std::string words, model::Day today, const std::optional<model::RecordId>& alone) {
  const rules::Argument* argued = rules::find_argument(fact.reason, "exercise");
  const std::string exercise = argued == nullptr ? fact.exercise : argued->text;
  const auto same = std::find_if(facts.begin(), facts.end(), [&](const NeedFact& told) { return told.row == fact.reason.row && told.words == words && told.since == fact.since; });
  const bool fresh = same == facts.end();
  NeedFact& told = fresh ? facts.emplace_back() : *same;
  if (fresh) {
    told.row = fact.reason.row;
    told.rank = rank_of(fact, today);
    told.since = fact.since;
    told.words = std::move(words);
    if (told.row == "W01" || told.row == "W02") told.wants = Wants::clearance;
    if (told.row == "W07" && argued != nullptr) told.wants = Wants::sign_off;
  }
  if (alone) {
    told.sessions.push_back(*alone);
    told.wants = Wants::tick_in;
  }
  if (!exercise.empty() && std::find(told.exercises.begin(), told.exercises.end(), exercise) == told.exercises.end()) told.exercises.push_back(exercise);
}

// The day the second value of a field was written, of the field that waits longest.
model::Day twice_since(const model::Athlete& athlete, model::Day today) {
  model::Day since = today;
  each_contradiction(athlete, [&since](const char*, const model::RecordId&, const char*, const auto& versions) {
    model::Day newest = model::day_of(versions.all.front().by.claimed);
    for (const auto& version : versions.all)
      if (const model::Day day = model::day_of(version.by.claimed); newest < day) newest = day;
    if (newest < since) since = newest;
  });
  return since;
}

// What the record itself says: written twice, and entries that are not here.
void add_facts_of_the_record(Book& book, const model::ScopeId& scope, model::Day today, std::vector<NeedFact>& facts) {
  const auto add = [&facts](const char* row, std::int32_t rank, Wants wants, model::Day since, std::string words) {
    NeedFact& fact = facts.emplace_back();
    fact.row = row;
    fact.rank = rank;
    fact.wants = wants;
    fact.since = since;
    fact.words = std::move(words);
  };
  if (const std::uint64_t twice = contradictions_of(book, scope); twice > 0)
    add("W06", kRankOfW06, Wants::choose, twice_since(book.athlete(scope), today), count_words(twice, "squad.twice_one", "squad.twice_many"));
  std::uint64_t entries = 0;
  std::optional<model::Day> since;
  for (const MissingStretch& gap : book.missing()) {
    if (!(gap.scope == scope)) continue;
    entries += gap.last - gap.first + 1;
    if (gap.after && (!since || model::day_of(*gap.after) < *since)) since = model::day_of(*gap.after);
  }
  if (entries > 0) add("", kRankOfW13, Wants::ask_for_it, since.value_or(today), count_words(entries, "squad.missing_one", "squad.missing_many"));
}

}  // namespace

std::vector<rules::PlannedDay> planned_days(const model::Athlete& athlete, model::Day today) {
  std::vector<rules::PlannedDay> out;
  const auto days = days_of_the_week(athlete);
  const model::Day begins = first_day(athlete, today);
  for (std::int32_t back = kPlannedDays; back >= 1; --back) {
    const model::Day day{today.since_1970 - back};
    if (!(day < begins) && days[weekday_of(day)]) out.push_back({day});
  }
  return out;
}

std::vector<Need> who_needs_the_coach(Book& book, const std::vector<model::ScopeId>& scopes, const NeedsAsked& asked) {
  std::vector<Need> out;
  for (const model::ScopeId& scope : scopes) {
    const model::Athlete& athlete = book.athlete(scope);
    Need need{scope, {}};
    const rules::CoachSituation about = coach_situation(book, scope, asked);
    const std::vector<rules::CoachFact> all = rules::coach_facts(about);
    for (const rules::CoachFact& fact : all) {
      const rules::Argument* what = rules::find_argument(fact.reason, "what");
      if (what != nullptr && what->text == "contradiction") continue;  // told below, with all that is written twice
      std::string words = fact.reason.row == "W04" && takes_several(all, fact) ? w04_of_part(fact.reason) : std::string();
      if (words.empty()) words = said(fact, athlete, about.situation);
      add_fact(need.facts, fact, words.empty() ? say("squad.w_other") : std::move(words), asked.today, trained_alone(athlete, about, fact));
    }
    add_facts_of_the_record(book, scope, asked.today, need.facts);
    for (NeedFact& fact : need.facts) {
      fact.sentence = with_movements(fact.exercises, fact.words);
      if (fact.since != asked.today) fact.sentence = say("squad.since", {fact.sentence, model::weekday_date(fact.since)});
    }
    if (need.facts.empty()) continue;
    std::stable_sort(need.facts.begin(), need.facts.end(), [](const NeedFact& a, const NeedFact& b) { return a.rank != b.rank ? a.rank < b.rank : a.since < b.since; });
    out.push_back(std::move(need));
  }
  std::stable_sort(out.begin(), out.end(), [](const Need& a, const Need& b) {
    const NeedFact& one = a.facts.front();
    const NeedFact& other = b.facts.front();
    return std::tuple(one.rank, one.since.since_1970, a.scope.hex()) < std::tuple(other.rank, other.since.since_1970, b.scope.hex());
  });
  return out;
}

std::uint64_t contradictions_of(const model::Athlete& athlete) {
  std::uint64_t count = 0;
  each_contradiction(athlete, [&count](auto&&...) { ++count; });
  return count;
}

std::uint64_t contradictions_of(Book& book, const model::ScopeId& scope) {
  const auto notes = book.notes(scope);
  const auto twice = std::count_if(notes.begin(), notes.end(), [](const Book::NoteShown& one) { return one.coach_only && one.note.text.contradiction(); });
  return contradictions_of(book.athlete(scope)) + static_cast<std::uint64_t>(twice);
}

}  // namespace slipway::app
