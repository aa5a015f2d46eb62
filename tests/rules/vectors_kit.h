// Where the decision vectors of the handbook (6.6) begin.
#pragma once

#include <utility>
#include <vector>

#include "kit/rules_kit.h"

namespace slipway::kit {

using rules::SessionSituation;

// Goblet squat at that load, both of the last two sessions at the top with 2 and 3 left.
inline SessionSituation two_tops(std::int64_t load_g, std::vector<std::int64_t> kit) {
  SessionSituation s = adult();
  s.kit.loads_g = std::move(kit);
  plan(s, dose("SQ4", load_g));
  did(s, 6, {12, 12, 12}, 3);
  did(s, 3, {12, 12, 12}, 2);
  return s;
}

inline SessionSituation goblet(std::int64_t load_g, std::vector<std::int64_t> kit) {
  SessionSituation s = adult();
  s.kit.loads_g = std::move(kit);
  plan(s, dose("SQ4", load_g));
  return s;
}

inline const std::vector<std::int64_t> kByTwoAndHalf = loads(2500, 50'000, 2500);

}  // namespace slipway::kit
