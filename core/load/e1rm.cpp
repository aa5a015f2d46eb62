#include "load/e1rm.h"

#include <cmath>

namespace slipway::load {

namespace {

using model::ErrorKind;

constexpr std::array<std::string_view, 7> kNames{"epley", "brzycki", "lander", "lombardi", "mayhew", "oconner", "wathan"};
constexpr double kPole = 37;  // Brzycki divides by 37 − r; Lander's own pole lies just above, at 37.92 [1.1]

// Factor on the load; every formula is linear in it.
double factor(Formula formula, double reps) {
  switch (formula) {
    case Formula::epley: return 1 + reps / 30;
    case Formula::brzycki: return 36 / (37 - reps);
    case Formula::lander: return 100 / (101.3 - 2.67123 * reps);
    case Formula::lombardi: return std::pow(reps, 0.10);
    case Formula::mayhew: return 100 / (52.2 + 41.9 * std::exp(-0.055 * reps));
    case Formula::oconner: return 1 + 0.025 * reps;
    case Formula::wathan: return 100 / (48.8 + 53.8 * std::exp(-0.075 * reps));
  }
  return 0;
}

Shown shown(double reps, bool four_or_more) {
  if (reps > kRoughReps) return Shown::hidden;
  return reps > kPlainReps || four_or_more ? Shown::rough : Shown::plain;
}

struct Listed {
  double reps, percent;
};
// The chart of handbook 1.2; 15 from memory.
constexpr std::array<Listed, 12> kChart{{{1, 100}, {2, 95}, {3, 93}, {4, 90}, {5, 87}, {6, 85}, {7, 83}, {8, 80}, {9, 77}, {10, 75}, {12, 70}, {15, 65}}};

}  // namespace

std::string_view name(Formula formula) { return kNames[static_cast<std::size_t>(formula)]; }

std::optional<Formula> find_formula(std::string_view wanted) {
  for (const Formula formula : kFormulas)
    if (name(formula) == wanted) return formula;
  return std::nullopt;
}

model::Result<Estimate> estimate(Formula formula, const SetResult& set) {
  if (!(set.load > 0)) return model::error(ErrorKind::invalid, "load.load_above_zero");
  if (set.reps < 1) return model::error(ErrorKind::invalid, "load.reps_from_one");
  if (set.rir_halves.value_or(0) > kFourOrMore) return model::error(ErrorKind::invalid, "load.rir_range");
  const double reps = set.reps + set.rir_halves.value_or(0) / 2.0;
  const bool has_pole = formula == Formula::brzycki || formula == Formula::lander;
  if (has_pole && reps >= kPole) return model::error(ErrorKind::invalid, "load.pole");
  const double e1rm = reps == 1 ? set.load : set.load * factor(formula, reps);
  if (!std::isfinite(e1rm)) return model::error(ErrorKind::invalid, "load.too_large");
  return Estimate{.e1rm = e1rm, .reps_to_failure = reps, .shown = shown(reps, set.rir_halves == kFourOrMore)};
}

model::Result<double> percent_of_1rm(double reps) {
  if (!(reps >= kChart.front().reps && reps <= kChart.back().reps)) return model::error(ErrorKind::invalid, "load.percent_range");
  std::size_t upper = 1;
  while (kChart[upper].reps < reps) ++upper;
  const Listed &below = kChart[upper - 1], &above = kChart[upper];
  return below.percent + (above.percent - below.percent) * (reps - below.reps) / (above.reps - below.reps);
}

double expected_reps(std::int64_t from_g, std::int64_t to_g, std::uint32_t reps) {
  return 30 * (static_cast<double>(from_g) / static_cast<double>(to_g) * (1 + reps / 30.0) - 1);
}

}  // namespace slipway::load
