// Exact conversions and calendar differences [handbook 0.4, definition].
#pragma once

#include "model/units.h"

namespace slipway::load {

// 1 lb = 0.45359237 kg exactly: 45 lb is 20411.65665 g here and stays 45 lb wherever it is kept or shown.
// For formulas only; comparisons of loads use model::grams, in whole grams.
inline double exact_grams(const model::Quantity& mass) {
  double value = static_cast<double>(mass.value);
  for (int i = 0; i < mass.decimals; ++i) value /= 10;
  return value * (mass.unit == model::Unit::lb ? 453.59237 : 1000.0);
}

// "Days between" is a difference of local calendar dates, never hours / 24: a change of the clock adds no day.
inline std::int32_t days_between(model::Day earlier, model::Day later) { return later.since_1970 - earlier.since_1970; }

}  // namespace slipway::load
