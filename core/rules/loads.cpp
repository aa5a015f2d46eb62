#include "rules/loads.h"

#include <algorithm>
#include <set>

#include "rules/limits.h"
#include "rules/settings.h"

namespace slipway::rules {

namespace {

constexpr std::int64_t kPlateSumMostG = 100'000;  // no belt or vest carries more
constexpr std::size_t kPlateSumsMost = 4000;      // a kit list is short; a hostile one stays cheap

std::vector<std::int64_t> rising(std::vector<std::int64_t> loads) {
  std::sort(loads.begin(), loads.end());
  loads.erase(std::unique(loads.begin(), loads.end()), loads.end());
  std::erase_if(loads, [](std::int64_t g) { return g <= 0 || g > 1'000'000; });
  return loads;
}

// Plates are there in pairs [1.3]: each size once or twice.
std::vector<std::int64_t> plate_sums(const std::vector<std::int64_t>& plates) {
  std::set<std::int64_t> sums{0};
  for (std::int64_t plate : rising(plates)) {
    const std::vector<std::int64_t> before(sums.begin(), sums.end());
    if (before.size() > kPlateSumsMost) break;
    for (std::int64_t sum : before)
      for (std::int64_t times = 1; times <= 2; ++times)
        if (sum + times * plate <= kPlateSumMostG) sums.insert(sum + times * plate);
  }
  return rising({sums.begin(), sums.end()});
}

bool uses_plates(const model::Rung& rung) { return rung.id == "VP8" || rung.id == "PU8"; }
bool uses_stack(const model::Rung& rung) { return rung.id == "VP4m" || rung.id == "VPx"; }

// Machine assistance is a negative load [1.3].
std::int64_t signed_load(const model::Rung& rung, std::int64_t load_g) { return rung.id == "VP4m" ? -load_g : load_g; }

// What the step and cut rules compare, for every load that could be written instead.
std::vector<std::int64_t> written_choices(const model::Rung& rung, const Kit& kit) {
  auto loads = available_loads(rung, kit).value_or(std::vector<std::int64_t>{});
  if (rung.id == "VP8") loads.insert(loads.begin(), 0);  // the body alone (VP6) is one of the loads [6.1]
  return loads;
}

// Without a body mass: the smallest plate of 1.25 to 2.5 kg, or one step of the stack [1.3].
LoadStep step_without_body_mass(const model::Rung& rung, std::int64_t load_g, const Kit& kit) {
  const auto loads = available_loads(rung, kit);
  if (!loads) return {Step::none, {}};
  if (rung.id == "VP4m") {
    for (auto it = loads->rbegin(); it != loads->rend(); ++it)
      if (*it < load_g) return {Step::not_applicable, *it};
    return {Step::none, {}};
  }
  for (std::int64_t g : *loads)
    if (g >= load_g + kSmallPlateLeastG && g <= load_g + kSmallPlateMostG) return {Step::not_applicable, g};
  return {Step::none, {}};
}

}  // namespace

std::uint32_t reps_to_earn(std::int64_t from_g, std::int64_t to_g, std::uint32_t reps) {
  if (from_g <= 0 || to_g <= from_g) return reps;
  const std::int64_t top = to_g * (kEpleyReps + reps);
  return static_cast<std::uint32_t>((top + from_g - 1) / from_g - kEpleyReps);
}

std::optional<std::uint32_t> reps_expected(std::int64_t from_g, std::int64_t to_g, std::uint32_t reps) {
  if (from_g <= 0 || to_g <= 0) return {};
  const std::int64_t expected = from_g * (kEpleyReps + reps) / to_g - kEpleyReps;
  if (expected < 1) return {};
  return static_cast<std::uint32_t>(expected);
}

LoadStep load_step(std::int64_t from_g, const std::vector<std::int64_t>& available_g) {
  if (from_g <= 0) return {Step::none, {}};
  for (std::int64_t g : rising(available_g)) {
    if (g * 100 < from_g * kStepLeastHundredths) continue;
    return {g * 100 <= from_g * kStepMostHundredths ? Step::usable : Step::big, g};
  }
  return {Step::none, {}};
}

std::optional<std::int64_t> load_cut(std::int64_t from_g, std::uint32_t percent, const std::vector<std::int64_t>& available_g) {
  std::optional<std::int64_t> found;
  const std::int64_t most = 100 - static_cast<std::int64_t>(percent);
  const std::int64_t least = kCutFloorHundredths - static_cast<std::int64_t>(percent);
  for (std::int64_t g : rising(available_g))
    if (g * 100 <= from_g * most && g * 100 >= from_g * least) found = g;
  return found;
}

const BodyMass* body_mass_on(const Athlete& athlete, Day day) {
  const BodyMass* found = nullptr;
  for (const BodyMass& mass : athlete.body_masses) {
    const std::int64_t age = std::int64_t{day.since_1970} - mass.day.since_1970;
    if (mass.g <= 0 || age < 0 || age > kBodyMassValidDays) continue;
    // Two entries of one day: the lower one, the safe side of every limit.
    if (!found || found->day < mass.day || (found->day == mass.day && mass.g < found->g)) found = &mass;
  }
  return found;
}

std::optional<std::vector<std::int64_t>> available_loads(const model::Rung& rung, const Kit& kit) {
  if (uses_plates(rung) && kit.plates_g) return plate_sums(*kit.plates_g);
  if (uses_stack(rung) && kit.stack_g) return rising(*kit.stack_g);
  if (kit.loads_g) return rising(*kit.loads_g);
  return {};
}

std::int64_t limit_mass(const model::Rung& rung, std::int64_t load_g) {
  const bool one_hand = rung.pattern == model::Pattern::horizontal_pull;
  return rung.in_hands && !one_hand ? 2 * load_g : load_g;
}

bool counts_body(const model::Rung& rung) {
  return rung.id == "VP6" || rung.id == "VP8" || rung.id == "VP4m" || rung.id == "PU8";
}

bool goes_by_load(const model::Rung& rung) { return rung.kind == model::ExerciseKind::loaded; }

std::optional<std::int64_t> searched_mass(const model::Rung& rung, std::int64_t load_g, const SessionSituation& situation) {
  if (!counts_body(rung)) return load_g;
  const BodyMass* mass = body_mass_on(situation.athlete, situation.today);
  if (!mass || mass->coarse) return {};  // coarse is good for limits and tonnage only [1.3]
  return mass->g + signed_load(rung, load_g);
}

LoadStep exercise_step(const model::Rung& rung, std::int64_t load_g, const SessionSituation& situation) {
  const auto from = searched_mass(rung, load_g, situation);
  if (!from) return step_without_body_mass(rung, load_g, situation.kit);
  if (*from <= 0) return {Step::none, {}};
  std::vector<std::int64_t> totals;
  for (std::int64_t g : available_loads(rung, situation.kit).value_or(std::vector<std::int64_t>{}))
    totals.push_back(*searched_mass(rung, g, situation));
  LoadStep step = load_step(*from, totals);
  if (step.load_g) *step.load_g = signed_load(rung, *step.load_g - (*from - signed_load(rung, load_g)));
  return step;
}

std::optional<std::int64_t> exercise_cut(const model::Rung& rung, std::int64_t load_g, std::uint32_t percent,
                                         const SessionSituation& situation) {
  const auto from = searched_mass(rung, load_g, situation);
  if (!from || *from <= 0) return {};
  std::vector<std::int64_t> totals;
  for (std::int64_t g : written_choices(rung, situation.kit)) totals.push_back(*searched_mass(rung, g, situation));
  const auto cut = load_cut(*from, percent, totals);
  if (!cut) return {};
  return signed_load(rung, *cut - (*from - signed_load(rung, load_g)));
}

std::optional<std::int64_t> largest_at_most(const model::Rung& rung, std::int64_t most_g, const Kit& kit) {
  std::optional<std::int64_t> found;
  for (std::int64_t g : available_loads(rung, kit).value_or(std::vector<std::int64_t>{}))
    if (g <= most_g) found = g;
  return found;
}

bool load_is_here(const model::Rung& rung, std::int64_t load_g, const Kit& kit) {
  const auto loads = available_loads(rung, kit);
  return !loads || std::find(loads->begin(), loads->end(), load_g) != loads->end();
}

// 5.8: nearest below 15 % of body mass (youth, 50 and over: 10 %), lightest if none is below.
std::optional<std::int64_t> first_load(const model::Rung& rung, const SessionSituation& situation) {
  const bool careful = is_youth(situation.athlete) || is_masters(situation.athlete);
  const BodyMass* mass = body_mass_on(situation.athlete, situation.today);
  const auto loads = available_loads(rung, situation.kit);
  if (!loads || loads->empty()) return {};
  const std::int64_t hands = limit_mass(rung, 1);
  std::optional<std::int64_t> found;
  if (mass) {
    const std::int64_t share = careful ? kFirstLoadCarefulHundredths : kFirstLoadHundredths;
    for (std::int64_t g : *loads)
      if (g * hands * 100 < mass->g * share) found = g;
    if (!found) found = loads->front();
  } else {
    found = largest_at_most(rung, (is_youth(situation.athlete) ? kFirstLoadNoMassYouthG : kFirstLoadNoMassG) / hands, situation.kit);
  }
  if (found && !load_allowed(rung, *found, situation)) return {};
  return found;
}

}  // namespace slipway::rules
