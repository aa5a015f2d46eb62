#include "app/warm_up.h"

#include <algorithm>
#include <vector>

#include "rules/loads.h"

namespace slipway::app {

namespace {

using model::Pattern;

// [handbook 5.10]
constexpr std::int64_t kFromGrams = 16'000, kSecondFromGrams = 40'000;
constexpr std::int64_t kQuarter = 4;                                   // of body mass, from which a load counts as heavy
constexpr std::uint64_t kFirstReps = 6, kSecondReps = 4, kPullReps = 3, kPushReps = 5;

enum class Region : std::uint8_t { legs, pull, push, none };

Region region_of(Pattern pattern) {
  switch (pattern) {
    case Pattern::squat:
    case Pattern::hinge:
    case Pattern::lunge: return Region::legs;
    case Pattern::vertical_pull:
    case Pattern::horizontal_pull: return Region::pull;
    case Pattern::push: return Region::push;
    default: return Region::none;
  }
}

std::vector<WarmUpSet> of_legs(const model::Athlete& athlete, const DayPlan& plan, const PlanRow& row) {
  if (!row.rung->loaded || !row.decision.dose.load_g) return {};
  const std::int64_t load_g = *row.decision.dose.load_g;
  const std::int64_t total_g = rules::limit_mass(*row.rung, load_g);
  const model::BodyMass* mass = model::body_mass_on(athlete, plan.today);
  const bool heavy = total_g >= kFromGrams || (mass != nullptr && total_g * kQuarter >= model::grams(mass->mass));
  if (!heavy) return {};
  std::vector<WarmUpSet> out;
  const auto add = [&](std::uint64_t reps, std::int64_t most_g) {
    if (const auto here = rules::largest_at_most(*row.rung, most_g, plan.situation.kit))
      out.push_back({row.rung->id, out.size() + 1, reps, load_as_here(athlete, *here), ""});
  };
  add(kFirstReps, load_g / 2);
  if (total_g >= kSecondFromGrams) add(kSecondReps, load_g * 3 / 4);
  return out;
}

std::vector<WarmUpSet> all_of(const model::Athlete& athlete, const DayPlan& plan, const PlanRow& row) {
  const std::string& id = row.rung->id;
  switch (region_of(row.rung->pattern)) {
    case Region::legs: return of_legs(athlete, plan, row);
    case Region::pull: {
      if (id != "VP6" && id != "VP8") return {};
      const auto& bands = plan.situation.kit.bands;
      if (bands.empty()) return {};  // the easier rung before VP6 hangs on a band
      return {{"VP4", 1, kPullReps, {}, bands.front()}};
    }
    case Region::push: {
      const auto& rungs = model::rungs();
      const auto place = [&rungs](std::string_view which) { return std::find_if(rungs.begin(), rungs.end(), [&](const model::Rung& rung) { return rung.id == which; }); };
      if (place(id) < place("PU4")) return {};
      return {{"PU2", 1, kPushReps, {}, ""}};
    }
    case Region::none: break;
  }
  return {};
}

bool comes_first(const DayPlan& plan, const PlanRow& row) {
  for (const PlanRow& other : plan.rows) {
    if (&other == &row) return true;
    if (other.trains() && region_of(other.rung->pattern) == region_of(row.rung->pattern)) return false;
  }
  return true;
}

}  // namespace

std::optional<WarmUpSet> next_warm_up(const model::Athlete& athlete, const DayPlan& plan, const PlanRow& row) {
  if (!row.trains() || !comes_first(plan, row) || set_of(plan, row, 1) != nullptr) return std::nullopt;
  for (const WarmUpSet& set : all_of(athlete, plan, row)) {
    const auto done = [&](const model::SetDone& one) { return one.warm_up && one.exercise == set.exercise && one.round == set.round; };
    if (plan.session == nullptr || std::none_of(plan.session->sets.begin(), plan.session->sets.end(), done)) return set;
  }
  return std::nullopt;
}

}  // namespace slipway::app
