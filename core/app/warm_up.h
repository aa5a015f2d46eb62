// The warm-up sets of a row (handbook 5.10): lighter, on a band or an easier rung, marked and never
// counted. Only the first exercise of today that loads a region has any; skipping one asks nothing.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "app/day_plan.h"

namespace slipway::app {

struct WarmUpSet {
  std::string exercise;
  std::uint64_t round = 1;  // first or second warm-up set
  std::uint64_t reps = 0;
  std::optional<model::Quantity> load = {};
  std::string band = {};
};

// The one that comes before the row's first set; nothing: none is meant, or all were done or skipped.
std::optional<WarmUpSet> next_warm_up(const model::Athlete& athlete, const DayPlan& plan, const PlanRow& row);

}  // namespace slipway::app
