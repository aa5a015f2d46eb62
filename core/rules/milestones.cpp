// Milestones (handbook 6.5): where load comes to a body-weight move, and the tests.
#include <algorithm>

#include "rules/case.h"
#include "rules/decide.h"
#include "rules/limits.h"
#include "rules/loads.h"
#include "rules/settings.h"

namespace slipway::rules {

namespace {

struct Test {
  Day day;
  std::uint32_t reps = 0;             // of the best set
  std::optional<std::int64_t> load_g;
};

// Newest test of that exercise with nothing of `ended_by` done since: since the rung in use was last taken up.
std::optional<Test> newest_test(const Record& record, std::string_view tested, std::initializer_list<std::string_view> ended_by) {
  for (auto it = record.order.rbegin(); it != record.order.rend(); ++it)
    for (const ExerciseDone& done : record.session(*it).exercises) {
      if (!completed(done)) continue;
      if (done.test && done.exercise == tested) {
        Test test{record.session(*it).day, 0, {}};
        for (const WorkSet& set : work_sets(done))
          if (set.reps >= test.reps) test = {test.day, set.reps, set.load_g};
        return test;
      }
      if (!done.test && std::find(ended_by.begin(), ended_by.end(), done.exercise) != ended_by.end() && !is_passing(done)) return {};
    }
  return {};
}

bool first_set_ten_twice(const Case& c) {
  if (c.past.counted.size() < 2) return false;
  for (std::size_t i = 0; i < 2; ++i)
    if (c.past.counted[i]->outcome.reps.empty() || c.past.counted[i]->outcome.reps.front() < kLoadedAfterReps) return false;
  return true;
}

Move reached(const Case& c, std::string milestone, StandingDose dose) {
  keep_in_age_range(dose, c.situation);
  Move move;
  move.row = "R14";
  move.changes = true;
  move.what = "rung";
  move.milestone = std::move(milestone);
  move.standing = move.start = std::move(dose);
  return move;
}

std::optional<Move> after_the_pull_test(const Case& c) {
  const auto test = newest_test(c.record, "VP6", {"VP6", "VP5"});
  if (!test) return {};
  const bool ready = test->reps >= kTestReps;
  const model::Rung* rung = model::find_rung(ready ? "VP6" : "VP5");
  if (!rung || !possible_here(*rung, c.situation.kit)) return {};
  StandingDose dose = c.start;
  dose.exercise = rung->id;
  dose.band.clear();
  dose.first_set_band.clear();
  dose.load_g.reset();
  dose.tempo = {};
  dose.sets = 3;
  dose.lo = rung->lo;
  dose.hi = rung->hi;
  Move move = reached(c, ready ? "pull_up_ready" : "pull_up_lowering", dose);
  if (ready) move.clean_reps = std::min(test->reps, rung->lo + 2);  // 3 x as many as clean (3-5)
  return move;
}

bool load_by_age(const Case& c, const model::Rung& heavy) { return exercise_allowed(heavy, c.situation, false); }

std::optional<Move> onto_load(const Case& c, const char* id, std::int64_t load_g, std::uint32_t lo, std::uint32_t hi, const char* name) {
  StandingDose dose = c.start;
  dose.exercise = id;
  dose.load_g = load_g;
  dose.tempo = {};
  dose.lo = lo;
  dose.hi = hi;
  return reached(c, name, dose);
}

std::optional<Move> weighted_pull_up(const Case& c) {
  const model::Rung* heavy = model::find_rung("VP8");
  if (!heavy || !first_set_ten_twice(c) || !possible_here(*heavy, c.situation.kit) || !load_by_age(c, *heavy)) return {};
  const LoadStep step = exercise_step(*heavy, 0, c.situation);
  if (!step.load_g || step.step == Step::big) return {};  // no such plate: not possible here
  return onto_load(c, "VP8", *step.load_g, c.youth ? 6 : 5, 8, "ten_pull_ups");
}

bool shoulder_swapped_lately(const Case& c) {
  for (const PainReport& report : c.situation.pains) {
    const std::int32_t ago = days_between(report.day, c.situation.today);
    if (report.amount >= kPainSwap && (joints_of(report) & model::joint::shoulder) != 0 && ago >= 0 && ago <= kShoulderHistoryDays) return true;
  }
  return false;
}

// The smallest load of 2 to 10 % of body mass; without one the smallest plate of 1.25 to 2.5 kg.
std::optional<std::int64_t> vest_load(const Case& c, const model::Rung& heavy) {
  const BodyMass* mass = body_mass_on(c.situation.athlete, c.situation.today);
  const bool exact = mass && !mass->coarse;
  for (std::int64_t g : available_loads(heavy, c.situation.kit).value_or(std::vector<std::int64_t>{})) {
    if (exact && g * 100 >= mass->g * (kStepLeastHundredths - 100) && g * 100 <= mass->g * (kStepMostHundredths - 100)) return g;
    if (!exact && g >= kSmallPlateLeastG && g <= kSmallPlateMostG) return g;
  }
  return {};
}

std::optional<Move> push_up_load(const Case& c) {
  if (!first_set_ten_twice(c)) return {};
  const bool shoulder = shoulder_swapped_lately(c);
  const model::Rung* heavy = model::find_rung("PU8");
  if (!shoulder && heavy && possible_here(*heavy, c.situation.kit) && load_by_age(c, *heavy))
    if (const auto load = vest_load(c, *heavy); load && load_allowed(*heavy, *load, c.situation))
      return onto_load(c, "PU8", *load, c.start.lo, std::max(c.start.lo, c.start.hi), "ten_push_ups");
  const model::Rung* next = model::find_rung(shoulder ? "PU5" : "PU6");
  if (!next || !possible_here(*next, c.situation.kit)) return {};
  const auto dose = on_rung(c.record, {next->id, {}}, c.start, {});
  if (!dose) return {};
  return reached(c, "ten_push_ups", *dose);
}

std::optional<Move> hands_down(const Case& c) {
  if (c.past.hits < kHitsNeeded) return {};
  const auto dose = on_rung(c.record, {"PU4", {}}, c.start, {});
  if (!dose) return {};
  return reached(c, "hands_down", *dose);
}

// One set of 25 at half of body mass, in a test or in a session, and not noted since.
bool goblet_standard_met(const Case& c) {
  const BodyMass* mass = body_mass_on(c.situation.athlete, c.situation.today);
  if (!mass || mass->coarse) return false;
  for (const Entry& entry : c.past.entries) {
    if (has_row(*entry.done, "R14") && !was_held(*entry.done)) return false;
    if (!entry.same_exercise || entry.done->exercise != "SQ4") continue;
    for (const WorkSet& set : work_sets(*entry.done))
      if (set.reps >= kGobletReps && !set.form_broke && set.load_g.value_or(entry.effective.load_g.value_or(0)) * 100 >= mass->g * kGobletHundredths)
        return true;
  }
  return false;
}

std::optional<Move> goblet_standard(const Case& c) {
  if (!c.standing.load_g || !goblet_standard_met(c)) return {};
  if (c.step.step == Step::usable) {
    StandingDose dose = c.start;
    dose.load_g = c.step.load_g;
    dose.lo = c.rung.lo;
    dose.hi = c.rung.hi;
    Move move = reached(c, "goblet_standard", dose);
    move.judged_load_g = c.step.load_g;
    return move;
  }
  const model::Rung* split = model::find_rung("SQ6");
  if (!split || !possible_here(*split, c.situation.kit)) return {};
  const auto dose = on_rung(c.record, {"SQ6", {}}, c.start, {});
  const auto half = largest_at_most(*split, *c.standing.load_g / 2, c.situation.kit);
  if (!dose || !half || !load_allowed(*split, *half, c.situation)) return {};
  StandingDose written = *dose;
  written.load_g = half;
  return reached(c, "goblet_standard", written);
}

}  // namespace

std::optional<Move> milestone_move(const Case& c) {
  if (c.rung.id == "VP4" || c.rung.id == "VP4m") return after_the_pull_test(c);
  if (c.rung.id == "VP6") return weighted_pull_up(c);
  if (c.rung.id == "PU3") return hands_down(c);
  if (c.rung.id == "PU4") return push_up_load(c);
  if (c.rung.id == "SQ4") return goblet_standard(c);
  return {};
}

bool goblet_test_due(const Case& c) {
  const BodyMass* mass = body_mass_on(c.situation.athlete, c.situation.today);
  if (c.rung.id != "SQ4" || !c.standing.load_g || !c.last() || !mass || mass->coarse || c.body.pain > 0) return false;
  if (c.youth && (limit_age(c.situation.athlete) < kLoadedAge || c.form.state != FormState::loaded)) return false;
  if (goblet_standard_met(c) || c.last()->outcome.reps.empty()) return false;
  std::optional<std::int64_t> half;
  for (std::int64_t g : available_loads(c.rung, c.situation.kit).value_or(std::vector<std::int64_t>{}))
    if (!half && g * 100 >= mass->g * kGobletHundredths) half = g;
  if (!half || !load_allowed(c.rung, *half, c.situation)) return false;
  std::uint32_t since_test = 0;
  for (const Entry& entry : c.past.entries) {
    if (entry.done->test && since_test < kTestAgainSessions) return false;
    ++since_test;
  }
  const std::uint32_t best = *std::max_element(c.last()->outcome.reps.begin(), c.last()->outcome.reps.end());
  return reps_expected(*c.standing.load_g, *half, best).value_or(0) >= kGobletExpected;
}

}  // namespace slipway::rules
