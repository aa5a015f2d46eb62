// Loads of moves that carry the body [handbook 1.3].
#pragma once

#include <cstdint>

#include "load/e1rm.h"
#include "model/result.h"

namespace slipway::load {

// total = body mass + added − assist; every formula takes the total. In grams.
// Errors: invalid "load.body_mass_range", "load.not_negative", "load.total_above_zero" (0 is refused too) [definition].
struct PullUp {
  std::int64_t body_mass_g = 0;  // valid on that day: see model::body_mass_on
  std::int64_t added_g = 0;      // belt or vest
  std::int64_t assist_g = 0;     // machine stack, or a band whose pull was measured
};
model::Result<std::int64_t> pull_up_total(const PullUp& pull_up);

// e1RM of the total, less the body. Below 0: not yet one unassisted rep, and the assistance that is still
// needed is body mass − e1RM, never a negative weight. 0 is not negative.
struct PullUpEstimate {
  Estimate total;
  double added_g = 0;       // 0 where one unassisted rep is not there yet
  double assist_needed_g = 0;
  bool unassisted = true;
};
model::Result<PullUpEstimate> pull_up_estimate(Formula formula, const PullUp& pull_up, std::uint32_t reps,
                                               std::optional<std::uint32_t> rir_halves);

// Share of the body mass on the hands [Ebben 2011: heights; the fractions via secondary]: hands on 60.96 cm 0.41,
// on 30.48 cm 0.55, floor 0.64, feet on 30.48 cm 0.70, on 60.96 cm 0.74, knees 0.49. Good to about 5 points:
// for ordering and for tonnage. Between the heights linear, above 60.96 cm the last value, "estimated" [our judgement].
enum class Raised : std::uint8_t { hands, feet, knees_on_floor };  // floor: hands at 0 cm
struct PushUpShare {
  double fraction = 0;
  bool estimated = false;
};
// Errors: invalid "load.height_range" below 0 or over 300 cm; knees take no height but 0.
model::Result<PushUpShare> push_up_share(Raised raised, double height_cm);
// fraction · (body mass + vest or plate) [our judgement], in grams. Errors: as above.
model::Result<double> push_up_load_g(double fraction, std::int64_t body_mass_g, std::int64_t added_g);

inline constexpr std::int64_t kBodyMassMostG = 400'000;  // a slip of the finger above it [our judgement]

}  // namespace slipway::load
