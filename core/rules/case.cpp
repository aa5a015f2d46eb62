#include "rules/case.h"

#include <algorithm>

#include "rules/decide.h"
#include "rules/limits.h"
#include "rules/loads.h"
#include "rules/settings.h"

namespace slipway::rules {

namespace {

constexpr std::int64_t kWholeKg = 1000;  // grams: a limit without a list of loads is written in whole kg

// What nobody wrote comes from the rung.
void fill_in(StandingDose& dose, const model::Rung& rung) {
  if (dose.sets == 0) dose.sets = rung.sets;
  if (dose.hi == 0) {
    dose.lo = rung.lo;
    dose.hi = rung.hi;
  }
  dose.lo = std::clamp(dose.lo, 1U, std::max(1U, dose.hi));
}

// Learn phase: one set in week 1, two after [5.9].
void cap_sets_of_week(StandingDose& dose, const SessionSituation& situation) {
  if (situation.phase.kind != PhaseKind::learn || !situation.phase.week) return;
  dose.sets = std::min(dose.sets, *situation.phase.week <= 1 ? 1U : 2U);
}

void cap_range(StandingDose& dose, const StandingDose& start, const SessionSituation& situation) {
  const model::Rung* rung = model::find_rung(dose.exercise);
  if (!rung || !is_youth(situation.athlete)) return;
  const std::uint32_t written_most = std::max(age_row(situation.athlete).reps_most, rung->hi);
  const std::uint32_t raised_most = std::max(written_most, rung->pattern == model::Pattern::squat ? kHiMostSquat : kHiMost);
  if (!rung->is_hold() && start.hi <= written_most && dose.hi > start.hi) dose.hi = std::min(dose.hi, raised_most);  // R13, R16, R17
  else if (!rung->is_hold()) dose.hi = std::min(dose.hi, written_most);
  keep_in_age_range(dose, situation);
}

// Nearest easier rung that needs no load, or a load that is allowed.
bool step_down(const Record& record, StandingDose& dose) {
  const auto place = easier_place({dose.exercise, dose.band}, *record.situation);
  if (!place) return false;
  StandingDose start = dose;
  start.load_g.reset();
  const auto easier = on_rung(record, *place, start, dose.load_g);
  if (!easier || !bears(record, *model::find_rung(place->exercise))) {
    dose.exercise = place->exercise;
    dose.band = place->band;
    return step_down(record, dose);
  }
  dose = *easier;
  return true;
}

// A dose above its limit is cut to the limit at the next session, with the reason [5.7].
StandingDose inside_limits(const Record& record, StandingDose dose) {
  const SessionSituation& situation = *record.situation;
  const model::Rung* rung = model::find_rung(dose.exercise);
  const LoadLimit limit = load_limit(*rung, situation, true);
  if (limit.allowed && limit.most_g && dose.load_g && *dose.load_g > *limit.most_g) {
    auto load = largest_at_most(*rung, *limit.most_g, situation.kit);
    if (!available_loads(*rung, situation.kit) && *limit.most_g >= kWholeKg) load = *limit.most_g / kWholeKg * kWholeKg;
    dose.load_g = load;
  } else if (limit.allowed) {
    return dose;
  }
  if (limit.allowed && dose.load_g) return dose;
  if (!step_down(record, dose)) dose.load_g.reset();
  return dose;
}

// A loaded move without a written load: its own last one, or the first load of 5.8; none here: the nearest easier rung.
void find_load(const Record& record, StandingDose& dose) {
  const model::Rung* rung = model::find_rung(dose.exercise);
  if (!rung->loaded || dose.load_g) return;
  dose.load_g = own_last_load(record, *rung, {});
  if (!dose.load_g && available_loads(*rung, record.situation->kit)) step_down(record, dose);
}

}  // namespace

std::uint32_t Case::needed_hits() const {
  return rung.pattern == model::Pattern::shoulder_care ? kHitsNeededShoulderCare : kHitsNeeded;
}

std::optional<std::uint32_t> Case::lowest() const {
  if (!last() || last()->outcome.reps.empty()) return {};
  return *std::min_element(last()->outcome.reps.begin(), last()->outcome.reps.end());
}

namespace {

void read_gates(Case& c) {
  c.form = form_of(c.standing.exercise, c.situation);
  if (gate_is_on(c.situation.athlete)) {
    c.form_closed = !c.form.open();
    return;
  }
  // An adult without a coach answers for himself, once [6.8].
  const Entry* last = c.last();
  if (!c.situation.athlete.has_coach && last) c.form_closed = !last->done->looked_alike.value_or(true) && !has_row(*last->done, "R26");
}

}  // namespace

std::optional<Case> make_case(const SessionSituation& situation, const Record& record, std::uint32_t index) {
  const PlanLine& line = situation.lines[index];
  const model::Rung* written = model::find_rung(line.standing.exercise);
  if (!written) return {};
  StandingDose start = line.start && !line.start->exercise.empty() ? *line.start : line.standing;
  StandingDose asked = line.standing;
  fill_in(asked, *written);
  fill_in(start, *written);
  asked = with_chosen_load(record, asked, line.since);
  cap_sets_of_week(asked, situation);
  cap_sets_of_week(start, situation);
  StandingDose standing = inside_limits(record, asked);
  cap_range(standing, start, situation);
  const bool limited = !(standing == asked);
  find_load(record, standing);
  if (start.exercise != standing.exercise) start = standing;
  start.load_g = standing.load_g;
  cap_range(start, start, situation);
  const model::Rung* rung = model::find_rung(standing.exercise);
  Case c{situation, record, line, index, *rung, standing, start, false, {}, {}, {}, {}, false, {}, {}, {}, false, false};
  c.limited = limited;
  c.youth = is_youth(situation.athlete);
  c.masters = is_masters(situation.athlete);
  c.past = read_line(record, standing, line.since);
  c.gap = gap_of(record, standing, situation.today);
  c.body = body_of(record, *rung);
  read_gates(c);
  if (rung->loaded && standing.load_g) c.step = exercise_step(*rung, *standing.load_g, situation);
  else c.step = {Step::not_applicable, {}};
  c.milestone = milestone_move(c);
  c.move = next_move(c);
  return c;
}

}  // namespace slipway::rules
