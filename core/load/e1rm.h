// Estimates of the one-rep maximum [handbook 1.1] and the percent table [1.2].
//
// Pure arithmetic in double. The answer has the unit of the load that goes in. An estimate is
// a trend line of one athlete and one formula: the formula's name stays with the number, and
// numbers of two formulas are never compared [1.1].
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>

#include "model/result.h"

namespace slipway::load {

// In the order of handbook 1.1. w = load, r = reps to failure; all formulas seen via secondary pages.
enum class Formula : std::uint8_t {
  epley,     // w · (1 + r/30)                        [Epley 1985]
  brzycki,   // w · 36 / (37 − r)                     [Brzycki 1993]
  lander,    // 100·w / (101.3 − 2.67123·r)           [Lander 1985]
  lombardi,  // w · r^0.10                            [Lombardi 1989]
  mayhew,    // 100·w / (52.2 + 41.9·e^(−0.055·r))    [Mayhew 1992]
  oconner,   // w · (1 + 0.025·r)                     [O'Conner 1989]
  wathan,    // 100·w / (48.8 + 53.8·e^(−0.075·r))    [Wathan 1994]
};
inline constexpr std::array<Formula, 7> kFormulas{Formula::epley,  Formula::brzycki, Formula::lander, Formula::lombardi,
                                                  Formula::mayhew, Formula::oconner, Formula::wathan};
std::string_view name(Formula formula);  // "epley" …
std::optional<Formula> find_formula(std::string_view name);

// Reserve is counted in half reps, 0 … 7; 8 is the last answer, "4 or more", which counts as 4 [1.1, 1.4].
inline constexpr std::uint32_t kFourOrMore = 8;

struct SetResult {
  double load = 0;                          // above 0; pull-ups: the total [1.3]
  std::uint32_t reps = 0;                   // from 1
  std::optional<std::uint32_t> rir_halves = {};  // nothing: the reps are taken as reps to failure
};

// Shown up to 10 reps to failure [Reynolds 2006], at most 12 with the mark "rough" [our judgement];
// a reserve of "4 or more" is always rough. Hidden estimates are computed all the same.
enum class Shown : std::uint8_t { plain, rough, hidden };
inline constexpr double kPlainReps = 10, kRoughReps = 12;

struct Estimate {
  double e1rm = 0;
  double reps_to_failure = 0;  // reps + reserve
  Shown shown = Shown::plain;
};
// Reps to failure of 1 give the load itself [definition, 1.1].
// Errors: invalid "load.load_above_zero", "load.reps_from_one", "load.rir_range", "load.pole" (Brzycki and Lander
// from 37 reps on), "load.too_large".
model::Result<Estimate> estimate(Formula formula, const SetResult& set);

// Percent of the 1RM that can be done for so many reps to failure [NSCA chart, via secondary; between listed reps
// linear, refused below 1 and above 15: our judgement]. For the first guess of a load, never to judge a set [1.2].
// Errors: invalid "load.percent_range".
model::Result<double> percent_of_1rm(double reps_to_failure);

// Reps to expect at L2 after r1 at L1, by Epley: 30 · (L1/L2 · (1 + r1/30) − 1), not rounded [1.3]. What is shown is
// rounded down, and decisions use the whole-number form in `rules`.
double expected_reps(std::int64_t from_g, std::int64_t to_g, std::uint32_t reps);

}  // namespace slipway::load
