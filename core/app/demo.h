// The made-up squad, pure in (seed, today): the same chunks on every build.
//
// Its scope and incarnation ids are a hash of both, so that two demos never fork.
// Names and places are invented (assets/demo.table). Nothing of it enters tests of
// the main job as evidence.
#pragma once

#include <cstdint>
#include <vector>

#include "model/units.h"
#include "ops/chain.h"

namespace slipway::app {

inline constexpr std::uint64_t kDemoSeed = 0x536C697077617931;  // "Slipway1"

std::vector<ops::Chunk> demo_chunks(std::uint64_t seed, model::Day today);

}  // namespace slipway::app
