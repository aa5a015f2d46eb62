// Joins the steps: gates, dose rows, modifiers, filters, and what the kit here allows.
#include "rules/decide.h"

#include <algorithm>

#include "rules/case.h"
#include "rules/gates.h"
#include "rules/limits.h"
#include "rules/loads.h"
#include "rules/reasons.h"
#include "rules/settings.h"

namespace slipway::rules {

namespace {

using model::Pattern;

Counters counters_of(const Case& c) {
  Counters out;
  out.hits = c.past.hits;
  out.misses = c.past.misses;
  out.counted = static_cast<std::uint32_t>(c.past.counted.size());
  out.gap = c.gap.gap;
  out.pgap = c.gap.pgap;
  out.gap_class = c.gap.gap_class;
  out.bridged = c.gap.bridged;
  if (c.past.ramp.open) out.ramp_done = c.past.ramp.done;
  out.pain = c.body.pain;
  out.sore_days = c.body.sore.days;
  out.sore_today = c.body.sore.today;
  out.form_closed = c.form_closed;
  return out;
}

void make_passing(const Case& c, ExerciseDecision& out) {
  out.passing = true;
  out.standing = c.standing;
  out.start = c.start;
  if (out.ramp_step) out.cut_by_gate = true;
}

// A limit that was found when the dose was read is said with the dose.
void say_limit(const Case& c, ExerciseDecision& out) {
  if (!c.limited || out.action != Action::train) return;
  std::vector<Argument> args{word("exercise", c.standing.exercise)};
  if (c.standing.load_g) args.push_back(number("load_g", *c.standing.load_g));
  out.modifiers.push_back(reason("5.7", args));
}

ExerciseDecision first_decision(const Case& c) {
  ExerciseDecision out;
  out.line = c.line.standing.exercise;
  out.counters = counters_of(c);
  out.step = c.step.step;
  out.step_load_g = c.step.load_g;
  if (c.step.step == Step::big) {
    const auto from = searched_mass(c.rung, *c.standing.load_g, c.situation), to = searched_mass(c.rung, *c.step.load_g, c.situation);
    if (from && to) out.reps_to_earn = reps_to_earn(*from, *to, c.start.lo);
  }
  fill_dose(c, out);
  say_limit(c, out);
  return out;
}

std::uint32_t sessions_of(const Case& c, std::string_view exercise) {
  std::uint32_t found = 0;
  for (std::uint32_t index : c.record.order)
    for (const ExerciseDone& done : c.record.session(index).exercises)
      if (done.exercise == exercise && completed(done) && !done.test) ++found;
  return found;
}

// VP5, the sorest rung: first time 1 x 3, second 2 x 3, then at most 3 x 5 [5.1].
void go_easy_on_lowering(const Case& c, ExerciseDecision& out) {
  if (out.action != Action::train || out.dose.exercise != "VP5") return;
  constexpr std::uint32_t kFirstReps = 3, kSetsMost = 3, kRepsMost = 5;
  const std::uint32_t before = sessions_of(c, "VP5");
  const std::uint32_t sets = std::min(kSetsMost, before + 1), reps = before < 2 ? kFirstReps : kRepsMost;
  const Dose written = out.dose;
  if (out.dose.targets.size() > sets) out.dose.targets.resize(sets);
  for (SetTarget& target : out.dose.targets) target = {std::min(target.reps, reps), std::min(target.up_to, reps)};
  if (out.dose == written) return;
  const StandingDose standing = out.standing, start = out.start;
  const bool passing_already = out.passing;
  make_passing(c, out);
  if (!passing_already && standing.exercise == "VP5") {  // the new rung itself stands; only this dose of it passes
    out.standing = standing;
    out.start = start;
    out.passing = false;
  }
  out.modifiers.push_back(reason("VP5", {number("sessions", before)}));
}

// ---- G08, G09 ----------------------------------------------------------------------------------------

// A youth's MOVE under G08 has no fallback: the doses are those of the day it moves to.
bool has_fallback(const SessionSituation& situation, const SessionDecision& session) {
  if (session.when == When::today) return false;
  return session.when_row.row != "G08" || !is_youth(situation.athlete) || situation.train_now == TrainNow::coach;
}

// Fallback for "train now": one set fewer, no increase; patterns trained today not again.
void cut_for_when(const Case& c, const SessionDecision& session, ExerciseDecision& out) {
  if (!session.fallback || out.action != Action::train) return;
  if (session.when_row.row == "G08" && needs_a_day_between(c.rung.pattern) && trained_today(c.record, c.rung.pattern)) {
    out.action = Action::leave_out;
    make_passing(c, out);
    out.increase = false;
    out.modifiers.push_back(session.when_row);
    return;
  }
  const bool held = out.increase;
  hold_instead(c, out);
  const std::uint32_t most = c.standing.sets > 1 ? c.standing.sets - 1 : 1;
  if (out.dose.targets.size() > most) {
    out.dose.targets.resize(most);
    make_passing(c, out);
  } else if (!held) {
    return;
  }
  out.modifiers.push_back(session.when_row);
}

// ---- G11 ---------------------------------------------------------------------------------------------

// The rung in use if it is on the floor list, else the next easier one that is; nothing: no floor version.
std::optional<StandingDose> floor_version(const Case& c, const Dose& dose) {
  Place place{dose.exercise, dose.band};
  for (int walked = 0; walked < 40; ++walked) {
    const model::Rung* rung = model::find_rung(place.exercise);
    const bool fits = rung && on_floor_list(*rung, c.situation) && possible_here(*rung, c.situation.kit);
    if (fits && (place.exercise == dose.exercise || bears(c.record, *rung))) break;
    if (place.exercise == "SQ9") place = {"SQ4", {}};  // nothing jumps: the squat below it
    const auto easier = easier_place(place, c.situation);
    if (!easier) return {};
    place = *easier;
  }
  StandingDose from = c.standing;
  from.sets = std::max(1U, dose.sets());
  from.load_g.reset();
  from.exercise = c.standing.exercise;
  return on_rung(c.record, place, from, {});
}

void keep_to_floor_list(const Case& c, const SessionDecision& session, ExerciseDecision& out) {
  if (session.filters.empty() || out.action != Action::train) return;
  const Reason& filter = session.filters.front();
  const bool held = out.increase;
  hold_instead(c, out);
  if (held) out.modifiers.push_back(filter);
  const model::Rung* rung = model::find_rung(out.dose.exercise);
  if (rung && on_floor_list(*rung, c.situation) && !out.dose.load_g && possible_here(*rung, c.situation.kit)) {
    if (rung->pattern == Pattern::shoulder_care && !c.situation.kit.bands.empty() && !out.dose.band.empty())
      out.dose.band = thinnest_band(c.situation.kit);
    return;
  }
  const auto floor = floor_version(c, out.dose);
  const Dose before = out.dose;
  make_passing(c, out);
  if (!held) out.modifiers.push_back(filter);
  if (!floor) {
    out.action = Action::leave_out;
    return;
  }
  out.dose = plain_dose(c, *floor, same_reps(floor->sets, floor->lo), before.rir);
}

// ---- the kit here --------------------------------------------------------------------------------------

std::optional<StandingDose> possible_version(const Case& c, const Dose& dose) {
  StandingDose from = c.standing;
  from.sets = std::max(1U, dose.sets());
  from.load_g.reset();
  const bool floor = floor_only(c.situation);
  for (auto place = easier_place({dose.exercise, dose.band}, c.situation); place; place = easier_place(*place, c.situation)) {
    const model::Rung* rung = model::find_rung(place->exercise);
    if ((floor && !on_floor_list(*rung, c.situation)) || !bears(c.record, *rung)) continue;
    if (const auto easier = on_rung(c.record, *place, from, dose.load_g)) return easier;
  }
  if (c.rung.pattern != Pattern::vertical_pull || floor) return {};
  for (const char* id : {"HP3", "HP2", "HP1"}) {  // no bar: a body row; flagged as no vertical pull [5.2]
    const model::Rung& row = *model::find_rung(id);
    const bool seen = !gate_is_on(c.situation.athlete) || row.on_floor_list || form_of(id, c.situation).open();
    if (seen && possible_here(row, c.situation.kit) && bears(c.record, row)) return on_rung(c.record, {id, {}}, from, {});
  }
  return {};
}

// A written load that is not here: the largest below it; none, or the tool missing: one rung easier. Passing [6.1].
void fit_to_kit(const Case& c, ExerciseDecision& out) {
  if (out.action != Action::train) return;
  const model::Rung* rung = model::find_rung(out.dose.exercise);
  const bool here = possible_here(*rung, c.situation.kit);
  if (here && (!out.dose.load_g || load_is_here(*rung, *out.dose.load_g, c.situation.kit))) {
    // A lighter dose that went to another rung because the line's own cannot be done here at all is the kit's doing too.
    if (rung->id != c.rung.id && out.passing && !possible_here(c.rung, c.situation.kit)) out.modifiers.push_back(reason("6.1", {word("exercise", c.rung.id)}));
    return;
  }
  const auto below = here && rung->id != "VP4m" ? largest_at_most(*rung, *out.dose.load_g, c.situation.kit) : std::nullopt;
  std::optional<std::int64_t> stack;  // assistance: the next heavier step of the stack is the easier one
  if (here && rung->id == "VP4m")
    for (std::int64_t g : available_loads(*rung, c.situation.kit).value_or(std::vector<std::int64_t>{}))
      if (!stack && g >= *out.dose.load_g) stack = g;
  out.increase = false;
  const auto easier = below || stack ? std::optional<StandingDose>{} : possible_version(c, out.dose);
  make_passing(c, out);
  out.modifiers.push_back(reason("6.1", {word("exercise", out.dose.exercise), number("load_g", out.dose.load_g.value_or(0))}));
  if (below || stack) out.dose.load_g = below ? below : stack;
  else if (easier) out.dose = plain_dose(c, *easier, same_reps(easier->sets, easier->lo), out.dose.rir);
  else out.action = Action::leave_out;
}

// ---- what else to ask and tell ---------------------------------------------------------------------------

void ask_more(const Case& c, ExerciseDecision& out) {
  if (out.action != Action::train) return;
  if (goblet_test_due(c) && !floor_only(c.situation)) out.asks.push_back(Ask::test_set);
  const auto& entries = c.past.entries;
  if (entries.size() >= 2 && entries[0].outcome.lighter && entries[1].outcome.lighter) out.asks.push_back(Ask::lower_load);
  const bool second = c.past.counted.size() == kOfferAfterSessions && gate_is_on(c.situation.athlete) && c.form.state == FormState::never;
  const bool asked = std::find(out.asks.begin(), out.asks.end(), Ask::sign_off) != out.asks.end();
  if (second && !asked) out.asks.push_back(Ask::sign_off);
  const Entry* newest = entries.empty() ? nullptr : &entries.front();
  if (c.youth && newest && !newest->passing && newest->outcome.self_chosen_g)
    out.coach_rows.push_back(reason("W06", {word("exercise", c.rung.id), number("load_g", *newest->outcome.self_chosen_g)},
                                    {{EvidenceOf::session, newest->session}}));
}

// A test is not offered again within 6 sessions of the last one [6.5].
void space_tests(const Case& c, ExerciseDecision& out) {
  std::uint32_t sessions = 0;
  for (auto it = c.record.order.rbegin(); it != c.record.order.rend() && sessions < kTestAgainSessions; ++it) {
    bool trained = false;
    for (const ExerciseDone& done : c.record.session(*it).exercises) {
      const model::Rung* rung = model::find_rung(done.exercise);
      if (!rung || rung->pattern != c.rung.pattern || !completed(done)) continue;
      trained = true;
      if (done.test) std::erase_if(out.asks, [](Ask ask) { return ask == Ask::test_set; });
    }
    sessions += trained ? 1 : 0;
  }
}

ExerciseDecision unknown_exercise(const PlanLine& line) {
  ExerciseDecision out;
  out.line = line.standing.exercise;
  out.action = Action::leave_out;
  out.row = reason("R22");
  out.standing = line.standing;
  out.start = line.start.value_or(line.standing);
  return out;
}

}  // namespace

const Argument* find_argument(const Reason& from, std::string_view name) {
  for (const Argument& argument : from.args)
    if (argument.name == name) return &argument;
  return nullptr;
}

SessionDecision decide(const SessionSituation& situation) {
  const Record record = read_record(situation);
  SessionDecision session;
  session.flagged = record.flagged;
  fill_gates(record, session);
  if (!record.flagged.empty()) session.coach_rows.push_back(reason("W06", {number("sessions", static_cast<std::int64_t>(record.flagged.size()))}));
  if (session.whether != Whether::normal) {
    session.coach_rows.push_back(reason(session.whether == Whether::stop ? "W01" : "W05", session.gate.args, session.gate.evidence));
    return session;
  }
  session.fallback = has_fallback(situation, session);
  std::vector<Case> cases;
  std::vector<ExerciseDecision> known;
  for (std::uint32_t i = 0; i < situation.lines.size(); ++i)
    if (auto c = make_case(situation, record, i)) cases.push_back(std::move(*c));
  for (const Case& c : cases) known.push_back(first_decision(c));
  modify(cases, known);
  std::size_t next = 0;
  for (std::uint32_t i = 0; i < situation.lines.size(); ++i) {
    if (next >= cases.size() || cases[next].index != i) {
      session.exercises.push_back(unknown_exercise(situation.lines[i]));
      continue;
    }
    const Case& c = cases[next];
    ExerciseDecision& out = known[next++];
    go_easy_on_lowering(c, out);
    cut_for_when(c, session, out);
    keep_to_floor_list(c, session, out);
    fit_to_kit(c, out);
    ask_more(c, out);
    space_tests(c, out);
    if (out.passing) out.dose.first_set_band.clear();  // a try at the thinner band is for a dose that counts
    if (!situation.athlete.age_low) out.asks.push_back(Ask::birth_year);
    session.exercises.push_back(std::move(out));
  }
  return session;
}

Written written_from(const SessionDecision& session, const ExerciseDecision& exercise) {
  Written out;
  out.standing = exercise.standing;
  out.start = exercise.start;
  if (!session.gate.row.empty()) out.rows.push_back(session.gate.row);
  if (session.fallback) out.rows.push_back(session.when_row.row);
  for (const Reason& filter : session.filters) out.rows.push_back(filter.row);
  out.rows.push_back(exercise.row.row);
  for (const Reason& modifier : exercise.modifiers)
    if (std::find(out.rows.begin(), out.rows.end(), modifier.row) == out.rows.end()) out.rows.push_back(modifier.row);
  if (exercise.dose.exercise != exercise.line) out.stands_for = exercise.line;
  out.passing = exercise.passing;
  out.cut_by_gate = exercise.cut_by_gate;
  out.ramp_step = exercise.ramp_step;
  return out;
}

}  // namespace slipway::rules
