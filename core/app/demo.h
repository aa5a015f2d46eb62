// The made-up squad, pure in (seed, today): twelve invented swimmers with six weeks of
// history, the same bundle on every build. The history is written through the book's own
// verbs, with the doses that the rules gave on each day; some have a story that a coach
// must notice (assets/demo.table). Ids follow from seed and day, so that two demos never
// fork. Nothing of it enters tests of the main job as evidence.
#pragma once

#include <cstdint>
#include <string_view>

#include "model/bytes.h"
#include "model/result.h"
#include "model/units.h"

namespace slipway::app {

inline constexpr std::uint64_t kDemoSeed = 0x536C697077617931;  // "Slipway1"

inline constexpr std::string_view kDemoSwimmer = "Wren";  // whose session is shown first

// Errors: those of opening a store and writing a bundle, in memory.
model::Result<model::Bytes> demo_bundle(std::uint64_t seed, model::Day today);

}  // namespace slipway::app
