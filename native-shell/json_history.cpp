// The sessions of a question, as they were logged: hits, misses, gaps and ramps are for the rules to find.
#include <algorithm>

#include "json_situation.h"
#include "model/ladder.h"
#include "rules/substitute.h"

namespace slipway::native::json {

namespace {

using rules::ExerciseDone;
using rules::SessionFact;
using rules::SetFact;

constexpr std::int32_t kDaysApart = 3;  // undated sessions; 6.6 says gap 3
constexpr std::int64_t kMassMostG = 1'000'000, kEveningMs = 18 * 3'600'000, kMinuteMs = 60'000;
constexpr std::int64_t kRepsMost = 1000;

constexpr auto kShort = std::to_array<std::pair<std::string_view, rules::ShortReason>>({
    {"not_given", rules::ShortReason::not_given},
    {"no_time", rules::ShortReason::no_time},
    {"kit_busy", rules::ShortReason::kit_busy},
    {"too_hard", rules::ShortReason::too_hard},
    {"pain", rules::ShortReason::pain},
    {"other", rules::ShortReason::other},
});
constexpr auto kSides = std::to_array<std::pair<std::string_view, rules::Side>>({
    {"both", rules::Side::both},
    {"left", rules::Side::left},
    {"right", rules::Side::right},
});
constexpr auto kSteps = std::to_array<std::pair<std::string_view, rules::RampStep>>({
    {"a", rules::RampStep::a},
    {"b", rules::RampStep::b},
    {"c", rules::RampStep::c},
    {"d", rules::RampStep::d},
});

struct Reading {
  const HistoryWish& wish;
  rules::SessionSituation& out;
  std::string id;  // of the session
};

SetFact read_set(Fields& in, std::optional<std::int64_t> load_g, std::int64_t start_ms) {
  SetFact set;
  set.number = static_cast<std::uint32_t>(in.whole("number", 1, 100).value_or(0));
  set.reps = static_cast<std::uint32_t>(in.need_whole("reps", 0, kRepsMost));
  const auto own = in.whole("load_g", 0, kMassMostG);
  set.load_g = own ? own : load_g;
  set.rir_halves = in.rir_halves("rir");
  set.side = in.choice("side", kSides).value_or(rules::Side::both);
  set.warm_up = in.yes_no("warm_up").value_or(false);
  set.form_broke = in.yes_no("form_broke").value_or(false);
  if (const auto at = in.number("at_min", 0, 24 * 60)) set.at_ms = start_ms + static_cast<std::int64_t>(*at * static_cast<double>(kMinuteMs));
  in.close();
  return set;
}

// reps: one number a set; reps_left and reps_right the same for each side; sets: everything of each set.
void read_sets(Fields& in, ExerciseDone& done, std::int64_t start_ms) {
  const auto load = in.whole("load_g", 0, kMassMostG);
  const std::size_t before = done.sets.size();
  for (const auto& [name, side] : std::initializer_list<std::pair<const char*, rules::Side>>{
           {"reps", rules::Side::both}, {"reps_left", rules::Side::left}, {"reps_right", rules::Side::right}})
    for (const std::int64_t reps : in.wholes(name, 0, kRepsMost))
      done.sets.push_back({.number = 0, .reps = static_cast<std::uint32_t>(reps), .load_g = load, .rir_halves = {}, .side = side, .at_ms = {}});
  if (in.has("sets") && done.sets.size() > before) in.refuse("ask.both", "sets", {"reps"});
  for (Fields& one : in.objects("sets")) done.sets.push_back(read_set(one, load, start_ms));
  const auto last = in.rir_halves("rir_last");
  const auto every = in.rir_halves("rir_every");
  for (SetFact& set : done.sets)
    if (every) set.rir_halves = every;
  if (last && done.sets.empty()) in.refuse("ask.missing", "reps");
  if (!last) return;
  for (const rules::Side side : {rules::Side::both, rules::Side::left, rules::Side::right}) {  // both sides of the last set carry it
    const auto newest = std::find_if(done.sets.rbegin(), done.sets.rend(), [side](const SetFact& set) { return !set.warm_up && set.side == side; });
    if (newest != done.sets.rend()) newest->rir_halves = last;
  }
}

// The decision it was done under, where the question says something of it.
void read_written(Fields& in, const rules::StandingDose& line, ExerciseDone& done) {
  std::vector<std::string> rows = in.texts("rows");
  if (const auto row = in.text("row")) rows.push_back(*row);
  const auto passing = in.yes_no("passing"), by_coach = in.yes_no("by_coach"), cut = in.yes_no("cut_by_gate");
  const auto step = in.choice("ramp_step", kSteps);
  const std::string stands_for = in.text("stands_for").value_or("");
  auto dose = in.object("dose"), start = in.object("start");
  if (rows.empty() && !passing && !by_coach && !cut && !step && stands_for.empty() && !dose && !start) return;
  rules::Written written;
  written.standing = line;
  if (dose) {
    written.standing.exercise = dose->text("exercise").value_or(stands_for.empty() ? done.exercise : stands_for);
    written.standing = read_dose(*dose, written.standing);
    dose->close();
  }
  written.start = written.standing;
  if (start) {
    written.start = read_dose(*start, written.standing);
    start->close();
  }
  written.rows = std::move(rows);
  written.stands_for = stands_for;
  written.passing = passing.value_or(false);
  written.by_coach = by_coach.value_or(false);
  written.cut_by_gate = cut.value_or(false);
  written.ramp_step = step;
  done.written = written;
}

void read_pain_of(Fields& in, const SessionFact& session, const std::string& exercise, Reading& reading) {
  const auto amount = in.whole("pain", 0, 10);
  const auto settled = in.yes_no("pain_settled");
  const std::string region = read_region(in, "pain_region");
  if (!amount) return;
  reading.out.pains.push_back({.id = session.id + "." + exercise, .day = session.day, .at_ms = session.start_ms, .session_id = session.id,
                               .exercise = exercise, .region = region, .amount = static_cast<std::uint32_t>(*amount), .settled = settled});
}

ExerciseDone read_done(Fields& in, SessionFact& session, Reading& reading) {
  ExerciseDone done;
  const auto& lines = reading.out.lines;
  if (!in.has("exercise") && lines.size() != 1) in.refuse("ask.missing", "exercise");
  done.exercise = in.text("exercise").value_or(lines.empty() ? "" : lines.front().standing.exercise);
  if (model::find_rung(done.exercise) == nullptr) in.refuse("ask.exercise", "exercise", {done.exercise});
  read_sets(in, done, session.start_ms);
  done.short_reason = in.choice("short_reason", kShort).value_or(rules::ShortReason::not_given);
  done.two_more = in.yes_no("two_more").value_or(false);
  done.looked_alike = in.yes_no("looked_alike");
  done.test = in.yes_no("test").value_or(false);
  done.band = in.text("band").value_or("");
  done.grip = in.text("grip").value_or("");
  const auto same = std::find_if(lines.begin(), lines.end(), [&](const rules::PlanLine& line) { return line.standing.exercise == done.exercise; });
  read_written(in, same != lines.end() ? same->standing : lines.empty() ? rules::StandingDose{} : lines.front().standing, done);
  read_pain_of(in, session, done.exercise, reading);
  return done;
}

SessionFact read_session(Fields& in, model::Day if_undated, Reading& reading) {
  SessionFact session;
  session.id = reading.id;
  session.order_key = reading.id;
  session.day = read_day_of(in, reading.wish, if_undated);
  session.start_ms = midnight_ms(session.day) + read_clock_ms(in, "start").value_or(kEveningMs);
  session.adult_ticked_in = in.yes_no("adult_present").value_or(true);
  session.ticked_in_afterwards = in.yes_no("adult_ticked_in_afterwards").value_or(false);
  session.left_out = in.yes_no("left_out").value_or(false);
  session.pain_answered = in.yes_no("pain_answered").value_or(true);
  session.first_of_programme = in.yes_no("first_of_programme").value_or(false);
  session.open = in.yes_no("open").value_or(false);
  if (in.has("exercises")) {
    for (Fields& one : in.objects("exercises")) {
      session.exercises.push_back(read_done(one, session, reading));
      one.close();
    }
  } else {
    session.exercises.push_back(read_done(in, session, reading));
  }
  in.close();
  return session;
}

}  // namespace

void read_history(Fields& in, const HistoryWish& wish, rules::SessionSituation& out) {
  std::vector<Fields> sessions = in.objects("history");
  for (std::size_t i = 0; i < sessions.size(); ++i) {
    const auto back = static_cast<std::int32_t>(sessions.size() - 1 - i) * kDaysApart + wish.gap_days;
    Reading reading{wish, out, "history[" + std::to_string(i) + "]"};
    out.history.push_back(read_session(sessions[i], {wish.today.since_1970 - back}, reading));
  }
}

}  // namespace slipway::native::json
