// Placement (handbook 5.8): each line begins at the highest rung whose entry is met; in doubt lower.
#include <algorithm>

#include "rules/decide.h"
#include "rules/limits.h"
#include "rules/loads.h"
#include "rules/record.h"
#include "rules/walk.h"

namespace slipway::rules {

namespace {

using model::Pattern;

// Borders of the table of 5.8 [common practice; numbers our judgement].
constexpr std::uint32_t kCleanSquats = 10, kHangShortS = 10, kHangLongS = 30, kScapularPulls = 8;
constexpr std::uint32_t kPullUpsForVp6 = 3, kPush60Least = 5, kPush60All = 10, kPush30Enough = 8, kFloorLeast = 5;

bool here(const char* id, const SessionSituation& situation) { return possible_here(*model::find_rung(id), situation.kit); }

Place squat(const EntrySets& entry) {
  if (!entry.sits_to_box.value_or(false)) return {"SQ1", {}};
  if (!entry.squat_clean) return {"SQ1", {}};
  return {*entry.squat_clean < kCleanSquats ? "SQ2" : "SQ4", {}};
}

Place pull(const EntrySets& entry, const SessionSituation& situation) {
  if (!here("VP1", situation)) return {here("HP2", situation) ? "HP2" : "HP1", {}};  // no bar
  const std::uint32_t hang = entry.hang_s.value_or(0);
  if (hang < kHangShortS) return {"VP1", {}};
  if (hang < kHangLongS || entry.scapular_pulls.value_or(0) < kScapularPulls) return {"VP2", {}};
  const std::uint32_t pull_ups = entry.pull_ups.value_or(0);
  if (pull_ups >= kPullUpsForVp6) return {"VP6", {}};
  if (!here("VP4", situation)) return {"VP3", {}};
  const std::string thickest = thickest_band(situation.kit), thinner = thinner_band(thickest, situation.kit);
  return {"VP4", pull_ups == 0 || thinner.empty() ? thickest : thinner};
}

Place push(const EntrySets& entry) {
  const std::uint32_t high = entry.push_60.value_or(0);
  if (high < kPush60Least) return {"PU1", {}};
  if (high < kPush60All || !entry.push_30) return {"PU2", {}};
  if (*entry.push_30 < kPush30Enough) return {"PU3", {}};
  return {entry.push_floor.value_or(0) < kFloorLeast ? "PU3" : "PU4", {}};
}

Place place_of(Pattern pattern, const EntrySets& entry, const SessionSituation& situation) {
  switch (pattern) {
    case Pattern::squat: return squat(entry);
    case Pattern::vertical_pull: return pull(entry, situation);
    case Pattern::horizontal_pull: return {here("HP2", situation) ? "HP2" : "HP1", {}};
    case Pattern::push: return push(entry);
    case Pattern::hinge: return {entry.hinge_clean.value_or(false) ? "HG4" : "HG1", {}};
    case Pattern::lunge: return {entry.lunge_clean.value_or(false) ? "LU2" : "LU1", {}};
    case Pattern::trunk: return {"TR1", {}};
    case Pattern::shoulder_care: break;
  }
  return {here("SC1", situation) ? "SC1" : "SC4", thinnest_band(situation.kit)};
}

}  // namespace

std::optional<StandingDose> placed(Pattern pattern, const EntrySets& entry, const SessionSituation& situation) {
  const Record record = read_record(situation);
  std::optional<Place> place = place_of(pattern, entry, situation);
  while (place) {
    const model::Rung* rung = model::find_rung(place->exercise);
    StandingDose start;
    start.exercise = rung->id;
    start.sets = rung->sets;
    start.lo = rung->lo;
    start.hi = rung->hi;
    const bool allowed = possible_here(*rung, situation.kit) && exercise_allowed(*rung, situation, false);
    // Nothing here or allowed: the nearest easier rung without load.
    if (allowed)
      if (const auto dose = on_rung(record, *place, start, {})) return dose;
    place = easier_place(*place, situation);
  }
  return {};
}

}  // namespace slipway::rules
