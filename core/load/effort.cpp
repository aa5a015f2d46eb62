#include "load/effort.h"

#include <cmath>

namespace slipway::load {

namespace {
constexpr std::uint32_t kRpeTopHalves = 20, kRirNumberedHalves = 6;  // RPE 10; RIR 3
constexpr double kRatingMost = 10, kMinutesLeast = 1, kMinutesMost = 600;
}  // namespace

std::optional<std::uint32_t> set_rpe_halves(std::uint32_t rir_halves) {
  if (rir_halves > kRirNumberedHalves) return std::nullopt;
  return kRpeTopHalves - rir_halves;
}

model::Result<double> session_load_au(double rating, double minutes) {
  const bool halves = std::floor(rating * 2) == rating * 2;
  if (!(rating >= 0 && rating <= kRatingMost) || !halves) return model::error(model::ErrorKind::invalid, "load.rating_range");
  if (!(minutes >= kMinutesLeast && minutes <= kMinutesMost)) return model::error(model::ErrorKind::invalid, "load.minutes_range");
  return rating * minutes;
}

}  // namespace slipway::load
