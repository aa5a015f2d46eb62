// Doses from a standing dose: HOLD, one rep more, the cuts of 6.1, the load after a change
// of phase (6.4b).
#include <algorithm>

#include "rules/case.h"
#include "rules/decide.h"
#include "rules/limits.h"
#include "rules/loads.h"
#include "rules/settings.h"

namespace slipway::rules {

namespace {

constexpr std::uint32_t kHeavyReps = 6, kHeavyRestS = 180;  // 1-6RM: 3-5 min [P] 1.8

bool is_main(const model::Rung& rung) {
  return rung.pattern != model::Pattern::trunk && rung.pattern != model::Pattern::shoulder_care;
}

}  // namespace

std::vector<std::uint32_t> same_reps(std::uint32_t sets, std::uint32_t reps) {
  return std::vector<std::uint32_t>(std::max(1U, sets), reps);
}

Dose plain_dose(const Case& c, const StandingDose& standing, std::vector<std::uint32_t> reps, std::uint32_t rir) {
  const model::Rung* rung = model::find_rung(standing.exercise);
  Dose dose;
  dose.exercise = standing.exercise;
  dose.load_g = standing.load_g;
  for (std::uint32_t r : reps) dose.targets.push_back({r, r});
  dose.lo = standing.lo;
  dose.hi = standing.hi;
  dose.rir = std::min(rir, kReserveMost);
  dose.ask_rir = is_main(*rung) && !rung->is_hold() && limit_age(c.situation.athlete) >= static_cast<std::int32_t>(kNoRirUnderAge);
  dose.tempo = standing.tempo;
  dose.band = standing.band;
  dose.first_set_band = standing.first_set_band;
  dose.grip = standing.grip;
  dose.rest_s = rung->rest_s;
  if (rung->loaded && is_main(*rung) && standing.hi <= kHeavyReps) dose.rest_s = std::max(dose.rest_s, kHeavyRestS);
  dose.format = standing.format;
  return dose;
}

std::vector<std::uint32_t> hold_reps(const Case& c, const StandingDose& standing) {
  std::vector<std::uint32_t> out = same_reps(standing.sets, standing.lo);
  if (!c.last() || c.last()->outcome.reps.empty()) return out;
  const auto& done = c.last()->outcome.reps;
  const std::uint32_t lowest = *std::min_element(done.begin(), done.end());
  for (std::size_t i = 0; i < out.size(); ++i) out[i] = std::clamp(i < done.size() ? done[i] : lowest, standing.lo, standing.hi);
  return out;
}

std::vector<std::uint32_t> added_reps(const Case& c, const StandingDose& standing) {
  std::vector<std::uint32_t> out = hold_reps(c, standing);
  if (!c.last()) return out;  // R21 or R27 was overruled: there is no rep yet to add to
  std::uint32_t more = c.rung.is_hold() ? kHoldAddS : 1;
  const bool easy = c.last() && c.last()->outcome.every_reserve_four && !c.youth && c.body.pain == 0 && c.body.sore.days <= kSoreRampAgain;
  if (easy && !c.rung.is_hold()) more = 2;
  for (std::uint32_t& reps : out) reps = std::min(standing.hi, reps + more);
  return out;
}

Cut cut_by(const Case& c, std::uint32_t percent) {
  Cut cut{c.standing, 0, false};
  if (goes_by_load(c.rung) && c.standing.load_g) {
    if (const auto load = exercise_cut(c.rung, *c.standing.load_g, percent, c.situation)) {
      cut.dose.load_g = load;
      if (*load > 0) return cut;
      cut.dose.load_g.reset();
      cut.dose.exercise = "VP6";  // the body alone is one of the loads
      cut.other_rung = true;
      return cut;
    }
  }
  if (percent <= 10) {
    cut.reps_fewer = kRepsFewer;
    return cut;
  }
  const std::uint32_t most = percent <= 20 ? 1 : 2;
  for (std::uint32_t rungs = most; rungs > 0; --rungs) {
    std::uint32_t missing = 0;
    const auto place = easier_by({c.standing.exercise, c.standing.band}, rungs, c.situation, &missing);
    if (!place || !bears(c.record, *model::find_rung(place->exercise))) continue;
    const auto easier = on_rung(c.record, *place, c.standing, c.standing.load_g);
    if (!easier) continue;
    cut.dose = *easier;
    cut.other_rung = true;
    cut.reps_fewer = (missing + most - rungs) * kRepsFewer;
    return cut;
  }
  cut.reps_fewer = most * kRepsFewer;
  return cut;
}

namespace {

// Newest session of this exercise that was no passing dose and counted under the dose of its day.
const Entry* newest_under_any_dose(const Case& c) {
  for (const Entry& entry : c.past.entries)
    if (entry.same_exercise && !entry.passing && entry.outcome.counted) return &entry;
  return nullptr;
}

std::int64_t load_of(const Entry& entry) {
  std::optional<std::int64_t> least;
  for (const WorkSet& set : work_sets(*entry.done))
    if (set.load_g && (!least || *set.load_g < *least)) least = set.load_g;
  return least.value_or(entry.effective.load_g.value_or(0));
}

struct PhaseFrom {
  std::int64_t mass = 0;         // L1, a total where the body counts
  std::int64_t top = 0, bottom = 1;  // wanted = mass * top / bottom
};

bool fits(const PhaseFrom& from, std::int64_t mass, std::int64_t share) {
  return mass * from.bottom <= from.mass * from.top && mass * 100 <= from.mass * share;
}

}  // namespace

// wanted = L1 (1 + r1/30) / (1 + r2/30), in halves of a rep: L1 (60 + 2 r1) / (60 + 2 r2) [6.4b].
StandingDose phase_load(const Case& c, bool* known) {
  StandingDose dose = c.standing;
  const Entry* entry = newest_under_any_dose(c);
  *known = false;
  if (!c.rung.loaded || !entry || !dose.load_g) return dose;
  const std::int64_t old_g = load_of(*entry);
  const auto mass = searched_mass(c.rung, old_g, c.situation);
  if (old_g <= 0 || !mass || *mass <= 0) return dose;
  const auto& reps = entry->outcome.reps;
  const std::int64_t lowest = reps.empty() ? 0 : *std::min_element(reps.begin(), reps.end());
  const PhaseFrom from{*mass, 2 * kEpleyReps + 2 * lowest + entry->outcome.reserve_halves.value_or(0),
                       2 * kEpleyReps + 2 * (std::int64_t{dose.hi} + reserve_target(dose, c.situation))};
  const std::int64_t share = c.form_closed || c.body.pain > 0 ? 100 : kStepMostHundredths;  // no increase where the gate or pain forbids one
  *known = true;
  std::optional<std::int64_t> best, lightest;
  const auto better = [&](std::int64_t g, std::optional<std::int64_t> than) {
    return !than || *searched_mass(c.rung, g, c.situation) > *searched_mass(c.rung, *than, c.situation);
  };
  for (std::int64_t g : available_loads(c.rung, c.situation.kit).value_or(std::vector<std::int64_t>{old_g})) {
    if (c.youth && !load_allowed(c.rung, g, c.situation) && g > *dose.load_g) continue;
    const std::int64_t total = *searched_mass(c.rung, g, c.situation);
    if (fits(from, total, share) && better(g, best)) best = g;
    if (!lightest || !better(g, lightest)) lightest = g;
  }
  if (best || (lightest && *searched_mass(c.rung, *lightest, c.situation) * 100 <= from.mass * share)) {
    dose.load_g = best ? best : lightest;
    return dose;
  }
  const auto place = easier_place({dose.exercise, dose.band}, c.situation);
  const auto easier = place ? on_rung(c.record, *place, dose, dose.load_g) : std::optional<StandingDose>{};
  return easier ? *easier : dose;
}

}  // namespace slipway::rules
