#include "load/body_weight.h"

#include <array>

namespace slipway::load {

namespace {

using model::ErrorKind;

constexpr double kStepCm = 30.48, kHeightMostCm = 300;  // one foot; higher than anything hands or feet stand on
constexpr double kKnees = 0.49;
constexpr std::array<double, 3> kHands{0.64, 0.55, 0.41}, kFeet{0.64, 0.70, 0.74};  // at 0, 30.48 and 60.96 cm

model::Result<model::Done> checked(std::int64_t body_mass_g, std::int64_t added_g, std::int64_t assist_g) {
  if (body_mass_g <= 0 || body_mass_g > kBodyMassMostG) return model::error(ErrorKind::invalid, "load.body_mass_range");
  if (added_g < 0 || assist_g < 0 || added_g > kBodyMassMostG || assist_g > kBodyMassMostG)
    return model::error(ErrorKind::invalid, "load.not_negative");
  return model::Done{};
}

}  // namespace

model::Result<std::int64_t> pull_up_total(const PullUp& pull_up) {
  if (const auto fine = checked(pull_up.body_mass_g, pull_up.added_g, pull_up.assist_g); !fine) return fine.error();
  const std::int64_t total = pull_up.body_mass_g + pull_up.added_g - pull_up.assist_g;
  if (total <= 0) return model::error(ErrorKind::invalid, "load.total_above_zero");
  return total;
}

model::Result<PullUpEstimate> pull_up_estimate(Formula formula, const PullUp& pull_up, std::uint32_t reps,
                                               std::optional<std::uint32_t> rir_halves) {
  const auto total = pull_up_total(pull_up);
  if (!total) return total.error();
  const auto found = estimate(formula, {.load = static_cast<double>(*total), .reps = reps, .rir_halves = rir_halves});
  if (!found) return found.error();
  const double over = found->e1rm - static_cast<double>(pull_up.body_mass_g);
  return PullUpEstimate{.total = *found, .added_g = over < 0 ? 0 : over, .assist_needed_g = over < 0 ? -over : 0, .unassisted = over >= 0};
}

model::Result<PushUpShare> push_up_share(Raised raised, double height_cm) {
  if (!(height_cm >= 0 && height_cm <= kHeightMostCm) || (raised == Raised::knees_on_floor && height_cm != 0))
    return model::error(ErrorKind::invalid, "load.height_range");
  if (raised == Raised::knees_on_floor) return PushUpShare{.fraction = kKnees};
  const auto& known = raised == Raised::hands ? kHands : kFeet;
  if (height_cm > 2 * kStepCm) return PushUpShare{.fraction = known[2], .estimated = true};
  const std::size_t lower = height_cm < kStepCm ? 0 : 1;
  const double part = (height_cm - static_cast<double>(lower) * kStepCm) / kStepCm;
  return PushUpShare{.fraction = known[lower] + (known[lower + 1] - known[lower]) * part};
}

model::Result<double> push_up_load_g(double fraction, std::int64_t body_mass_g, std::int64_t added_g) {
  if (const auto fine = checked(body_mass_g, added_g, 0); !fine) return fine.error();
  return fraction * static_cast<double>(body_mass_g + added_g);
}

}  // namespace slipway::load
