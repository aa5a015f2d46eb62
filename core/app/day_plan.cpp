#include "app/day_plan.h"

#include <algorithm>
#include <charconv>

#include "app/dose_text.h"
#include "app/sides.h"

namespace slipway::app {

namespace {

constexpr std::uint32_t kSecondsToMs = 1000;

std::uint32_t small(std::uint64_t value) { return static_cast<std::uint32_t>(std::min<std::uint64_t>(value, 1'000'000)); }

const model::Decision* on_record(const model::Athlete& athlete, const model::Session& session, const model::RecordId& line) {
  const model::Decision* found = nullptr;
  for (const model::Decision& decision : athlete.decisions)
    if (decision.session == session.id && decision.prescription && *decision.prescription == line) found = &decision;
  return found;
}

// What was shown when the session was opened, as the rules would say it.
rules::ExerciseDecision from_record(const model::Decision& record) {
  rules::ExerciseDecision out;
  out.row.row = record.row;
  for (const std::string& text : record.args)
    if (auto argument = read_argument(text)) out.row.args.push_back(std::move(*argument));
  for (const std::string& row : record.modifiers) {
    rules::Reason reason;
    reason.row = row;
    out.modifiers.push_back(std::move(reason));
  }
  out.dose.exercise = record.exercise;
  if (record.load) out.dose.load_g = model::grams(*record.load);
  for (std::size_t i = 0; i < std::min<std::size_t>(record.reps.size(), kMaxRounds); ++i) {
    const std::uint64_t up_to = i < record.reps_up_to.size() ? record.reps_up_to[i] : record.reps[i];
    out.dose.targets.push_back({small(record.reps[i]), small(up_to)});
  }
  out.dose.lo = small(record.reps_low);
  out.dose.hi = small(record.reps_high);
  out.dose.rir = small(record.rir.value_or(2));
  out.dose.ask_rir = record.rir.has_value();
  out.dose.band = record.band;
  out.dose.grip = record.grip;
  if (record.tempo.size() == 4)
    out.dose.tempo = {small(record.tempo[0]), small(record.tempo[1]), small(record.tempo[2]), small(record.tempo[3])};
  out.dose.rest_s = small(record.rest_ms.value_or(0) / kSecondsToMs);
  out.passing = record.passing;
  if (const auto standing = read_dose(record.standing)) {
    out.standing = *standing;
    out.line = standing->exercise;
    out.dose.format = standing->format;
    if (standing->exercise == record.exercise && !record.passing) out.dose.first_set_band = standing->first_set_band;
  }
  if (const auto start = read_dose(record.start)) out.start = *start;
  if (record.ramp_step >= 1 && record.ramp_step <= 4) out.ramp_step = static_cast<rules::RampStep>(record.ramp_step);
  out.cut_by_gate = record.cut_by_gate;
  return out;
}

bool acts_at_once(const rules::ExerciseDecision& now) {  // stops and swaps; nothing else touches an open session
  return now.action == rules::Action::stop || now.row.row == "R01" || now.row.row == "R09" || now.row.row == "R02";
}

bool row_is(const rules::ExerciseDecision& decision, std::string_view row) {
  return decision.row.row == row;
}

bool is_held(const rules::ExerciseDecision& decision) {
  for (const std::string_view row : {"R12", "R03", "R08", "R25", "R19", "R20"})
    if (row_is(decision, row)) return true;
  return false;
}

PlanRow make_row(const model::Prescription& line, rules::ExerciseDecision decision, bool recorded) {
  PlanRow row;
  row.line = line.id;
  row.block = line.block.value_or(1);
  row.place = line.place.value_or(1);
  row.recorded = recorded;
  row.waits_for_sign_off = row_is(decision, "R26");
  row.held = is_held(decision);
  const std::string& exercise = decision.dose.exercise.empty() ? decision.line : decision.dose.exercise;
  row.rung = model::find_rung(exercise);
  if (!decision.line.empty() && exercise != decision.line && row_is(decision, "R02")) row.swapped_from = decision.line;
  row.crossed_out = decision.action != rules::Action::train;
  row.decision = std::move(decision);
  return row;
}

// The line's row or rows: what is on record first, then what pain put in its place.
void add_rows(const model::Athlete& athlete, DayPlan& plan, const model::Prescription& line, const rules::ExerciseDecision& now) {
  const model::Decision* record = plan.session == nullptr ? nullptr : on_record(athlete, *plan.session, line.id);
  std::vector<PlanRow> rows;
  if (record != nullptr) {
    PlanRow kept = make_row(line, from_record(*record), true);
    if (kept.rung != nullptr) {
      if (record->row == "R02") kept.swapped_from = record->swapped_from;
      // What pain asks for is already done: chosen by hand, or shown so from the start.
      const bool as_asked = kept.rung->id == now.dose.exercise && (now.action == rules::Action::train || row_is(kept.decision, now.row.row));
      const bool act = acts_at_once(now) && !as_asked;
      kept.crossed_out = kept.crossed_out || act;
      if (act) kept.crossed_out_by = now;
      rows.push_back(std::move(kept));
      if (act && now.action == rules::Action::train && now.dose.exercise != rows.front().rung->id) rows.push_back(make_row(line, now, false));
    }
  } else {
    rows.push_back(make_row(line, now, false));
  }
  for (PlanRow& row : rows)
    if (row.rung != nullptr) plan.rows.push_back(std::move(row));
}

void name_codes(std::vector<PlanRow>& rows) {
  std::uint64_t block = 0, shown = 0;
  char letter = 'A';
  model::RecordId last;
  for (PlanRow& row : rows) {
    if (shown == 0 || row.block != block) {
      letter = shown == 0 ? 'A' : static_cast<char>(letter + 1);
      block = row.block;
      shown = 1;
    } else if (!(row.line == last)) {
      ++shown;  // a substitute keeps the code of what it stands for
    }
    last = row.line;
    row.code = std::string(1, letter) + std::to_string(shown);
  }
}

model::Day session_day(const model::Session& session) {
  return session.training_day.empty() ? model::day_of(session.by.claimed) : *session.training_day.first();
}

}  // namespace

std::uint64_t programme_days(const model::Athlete& athlete) {
  std::uint64_t most = 1;
  for (const model::Prescription& line : athlete.prescriptions) most = std::max(most, line.programme_day.value_or(0));
  return most;
}

std::uint64_t next_programme_day(const model::Athlete& athlete, model::Day today) {
  const model::Session* last = nullptr;
  for (const model::Session& session : athlete.sessions) {
    const model::Day day = session_day(session);
    if (session.sets.empty() || !(day < today)) continue;
    if (last == nullptr || !(day < session_day(*last))) last = &session;
  }
  const std::uint64_t days = programme_days(athlete);
  if (last == nullptr) return 1;
  return last->programme_day.value_or(1) % days + 1;
}

DayPlan plan_day(const model::Athlete& athlete, const DayAsked& asked) {
  DayPlan plan;
  plan.today = asked.today;
  plan.session = model::session_on(athlete, asked.today);
  plan.finished = plan.session != nullptr && !plan.session->finish.empty();
  plan.programme_day = asked.programme_day                                      ? *asked.programme_day
                       : plan.session != nullptr && plan.session->programme_day ? *plan.session->programme_day
                                                                                : next_programme_day(athlete, asked.today);
  plan.situation = situation_of(athlete, {.today = asked.today, .now_ms = asked.now_ms, .programme_day = plan.programme_day, .kit = asked.kit,
                                          .train_now = asked.train_now, .adult_expected = asked.adult_expected});
  plan.decision = rules::decide(plan.situation);
  const auto lines = lines_of(athlete, plan.programme_day);
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (i < plan.decision.exercises.size()) {
      add_rows(athlete, plan, *lines[i], plan.decision.exercises[i]);
    } else if (plan.session != nullptr) {  // stopped as a whole: what was begun stays on the board, crossed out
      rules::ExerciseDecision stopped;
      stopped.line = lines[i]->exercise.value_or("");
      stopped.action = rules::Action::stop;
      stopped.row = plan.decision.gate;
      add_rows(athlete, plan, *lines[i], stopped);
    }
  }
  for (const model::Prescription& line : athlete.prescriptions)
    if (model::find_rung(line.exercise.value_or("")) == nullptr) plan.dropped.push_back(line.exercise.value_or(""));
  name_codes(plan.rows);
  return plan;
}

std::optional<DayPlan> plan_after(const model::Athlete& athlete, const DayAsked& asked) {
  if (athlete.prescriptions.empty()) return std::nullopt;
  constexpr std::int32_t kDaysBetween = 2;  // two calendar days or more is normal [handbook 1.9]
  constexpr std::int32_t kWeek = 7;
  constexpr std::int64_t kDayMs = 86'400'000;
  constexpr std::int32_t kThursday = 3;     // 1970-01-01, counted from Monday
  const model::Session* today = model::session_on(athlete, asked.today);
  DayAsked next = asked;
  std::int32_t ahead = today == nullptr ? 1 : kDaysBetween;
  const auto weekday = [&](std::int32_t day) { return static_cast<std::size_t>(((day + kThursday) % kWeek + kWeek) % kWeek); };
  if (athlete.training_days.size() == kWeek)
    for (std::int32_t tries = 0; tries < kWeek && !athlete.training_days[weekday(asked.today.since_1970 + ahead)]; ++tries) ++ahead;
  next.today.since_1970 += ahead;
  next.now_ms += ahead * kDayMs;
  next.train_now = rules::TrainNow::no;
  next.adult_expected = true;
  next.programme_day = today != nullptr && today->programme_day ? *today->programme_day % programme_days(athlete) + 1
                                                                : next_programme_day(athlete, next.today);
  return plan_day(athlete, next);
}

const model::SetDone* set_of(const DayPlan& plan, const PlanRow& row, std::uint64_t round) {
  return round_of(plan, row.rung->id, round).entered();
}

std::uint64_t next_round(const DayPlan& plan, std::string_view exercise) {
  std::uint64_t round = 1;
  while (round <= kMaxRounds && round_of(plan, exercise, round).whole()) ++round;
  return round;
}

WrittenSet written_set(const model::Athlete& athlete, const PlanRow& row, std::uint64_t round) {
  const rules::Dose& dose = row.decision.dose;
  WrittenSet written;
  if (!dose.targets.empty()) {
    const rules::SetTarget& target = dose.targets[std::min<std::size_t>(round == 0 ? 0 : round - 1, dose.targets.size() - 1)];
    written.reps = target.reps;
    written.up_to = target.up_to;
  }
  if (dose.load_g) written.load = load_as_here(athlete, *dose.load_g);
  written.band = round == 1 && !dose.first_set_band.empty() ? dose.first_set_band : dose.band;
  return written;
}

model::Result<model::RecordId> begin_day(Book& book, const model::ScopeId& scope, model::Day today, const std::optional<model::RecordId>& kit,
                                         rules::TrainNow train_now, Author author) {
  const DayPlan plan = plan_day(book.athlete(scope), {.today = today, .now_ms = book.now().local_ms, .kit = kit, .train_now = train_now, .programme_day = {}});
  std::vector<const PlanRow*> fresh;
  for (const PlanRow& row : plan.rows)
    if (!row.recorded && row.trains()) fresh.push_back(&row);
  if (fresh.empty() && plan.session != nullptr) return plan.session->id;
  const auto begun = book.begin_session(scope, today, plan.programme_day, kit, author);
  if (!begun) return begun;
  std::vector<model::Decision> entries;
  for (const PlanRow* row : fresh) entries.push_back(decision_of(book.athlete(scope), *begun, plan.decision, *row));
  const auto noted = book.note_decisions(scope, entries, author);
  if (!noted) return noted.error();
  return begun;
}

std::uint64_t rounds_of(const DayPlan& plan, std::uint64_t block) {
  std::uint64_t most = 0;
  for (const PlanRow& row : plan.rows) {
    if (row.block != block) continue;
    most = std::max(most, std::min<std::uint64_t>(row.sets(), kMaxRounds));
    if (plan.session == nullptr) continue;
    for (const model::SetDone& set : plan.session->sets)
      if (set.exercise == row.rung->id && !set.warm_up) most = std::max(most, std::min(set.round, kMaxRounds));  // a foreign number can be any
  }
  return most;
}

std::optional<Cell> next_cell(const DayPlan& plan) {
  std::vector<std::uint64_t> blocks;
  for (const PlanRow& row : plan.rows)
    if (blocks.empty() || blocks.back() != row.block) blocks.push_back(row.block);
  for (const std::uint64_t block : blocks) {
    const std::uint64_t rounds = rounds_of(plan, block);
    for (std::uint64_t round = 1; round <= rounds; ++round)
      for (std::size_t i = 0; i < plan.rows.size(); ++i) {
        const PlanRow& row = plan.rows[i];
        if (row.block != block || !row.trains() || round > row.sets()) continue;
        const RoundDone done = round_of(plan, row.rung->id, round);
        if (!done.whole()) return Cell{i, round, done.missing()};
      }
  }
  return std::nullopt;
}

model::Decision decision_of(const model::Athlete& athlete, const model::RecordId& session, const rules::SessionDecision& gates, const PlanRow& row) {
  const rules::Written written = rules::written_from(gates, row.decision);
  const rules::Dose& dose = row.decision.dose;
  model::Decision entry;
  entry.session = session;
  entry.exercise = dose.exercise;
  entry.row = row.decision.row.row;
  entry.gate = gates.gate.row;
  if (gates.fallback || gates.when == rules::When::today) entry.when = gates.when_row.row;  // else it cut nothing: the dose is that of the day it moves to
  for (const rules::SetTarget& target : dose.targets) {
    entry.reps.push_back(target.reps);
    entry.reps_up_to.push_back(target.up_to);
  }
  entry.sets = entry.reps.size();
  if (dose.load_g) entry.load = load_as_here(athlete, *dose.load_g);
  if (dose.ask_rir) entry.rir = dose.rir;
  entry.reps_low = dose.lo;
  entry.reps_high = dose.hi;
  entry.passing = row.decision.passing;
  entry.band = dose.band;
  entry.grip = dose.grip;
  if (!dose.tempo.usual()) entry.tempo = {dose.tempo.down, dose.tempo.bottom, dose.tempo.up, dose.tempo.top};
  for (const rules::Reason& modifier : row.decision.modifiers) entry.modifiers.push_back(modifier.row);
  for (const rules::Argument& argument : row.decision.row.args) entry.args.push_back(argument_text(argument));
  entry.prescription = row.line;
  entry.swapped_from = written.stands_for;  // a substitute, an easier rung, the next one: the line goes on with it
  entry.rest_ms = std::uint64_t{dose.rest_s} * 1000;
  entry.standing = dose_text(written.standing);
  entry.start = written.start.exercise.empty() ? "" : dose_text(written.start);
  entry.ramp_step = written.ramp_step ? static_cast<std::uint64_t>(*written.ramp_step) : 0;
  entry.by_coach = written.by_coach;
  entry.cut_by_gate = written.cut_by_gate;
  return entry;
}

namespace {

model::Quantity as_here(const model::Athlete& athlete, std::int64_t load_g, std::int64_t off_g) {
  bool pounds = false, kilograms = false;
  for (const model::Kit& kit : athlete.kits)
    for (const model::Quantity& load : kit.loads) {
      if (model::grams(load) == load_g) return load;
      (load.unit == model::Unit::lb ? pounds : kilograms) = true;
    }
  if (pounds && !kilograms)
    if (const auto here = model::pounds_from_grams(load_g, off_g)) return *here;
  return model::kilograms_from_grams(load_g);
}

}  // namespace

model::Quantity load_as_here(const model::Athlete& athlete, std::int64_t load_g) { return as_here(athlete, load_g, 0); }
model::Quantity step_as_here(const model::Athlete& athlete, std::int64_t step_g) { return as_here(athlete, step_g, 1); }

std::string argument_text(const rules::Argument& argument) {
  if (!argument.text.empty()) return argument.name + ":" + argument.text;
  return argument.name + "=" + std::to_string(argument.number);
}

std::optional<rules::Argument> read_argument(std::string_view text) {
  const std::size_t mark = text.find_first_of(":=");
  if (mark == std::string_view::npos || mark == 0) return std::nullopt;
  rules::Argument out;
  out.name = text.substr(0, mark);
  const std::string_view rest = text.substr(mark + 1);
  if (text[mark] == ':') {
    out.text = rest;
    return out;
  }
  const auto read = std::from_chars(rest.data(), rest.data() + rest.size(), out.number);
  if (rest.empty() || read.ec != std::errc{} || read.ptr != rest.data() + rest.size()) return std::nullopt;
  return out;
}

}  // namespace slipway::app
