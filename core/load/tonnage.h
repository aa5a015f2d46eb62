// Tonnage: reps · load per rep · sides, within one exercise and one athlete only [handbook 2.3, our judgement].
#pragma once

#include <cstdint>
#include <optional>

#include "model/ladder.h"

namespace slipway::load {

struct Lifted {
  std::uint32_t reps = 0;
  std::optional<std::int64_t> load_g = {};       // as written: in_hands for one hand, VP4m the assistance
  std::optional<std::int64_t> body_mass_g = {};  // valid on that day; one marked coarse is good enough here [1.3]
  std::uint32_t sides = 1;                  // 2 where the reps are each side
};

// Grams moved, in hundredths, so that the fractions of push-ups stay whole numbers. Pull-ups (VP5 to VP8, VP4m) use the
// total, push-ups fraction · (body mass + vest), two implements at once their sum, HP4 the one hand.
// Nothing: it counts nothing and is listed as such (bands without kg, holds, moves of the body without a load of
// their own, and pull-ups and push-ups without a body mass). A total of 0 or less: nothing.
std::optional<std::int64_t> tonnage_hundredths_g(const model::Rung& rung, const Lifted& lifted);

}  // namespace slipway::load
