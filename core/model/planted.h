// The test of the tests: eight mistakes that others have made in software of this kind, one at a time, behind the
// build flag SLIPWAY_PLANTED (CMake). 0, what everybody builds, compiles to nothing. With any other number the
// ordinary suite must fail: `tests/run --planted` holds it to that.
//
//   1 an op at a known seq is the known one   2 the highest seq stands for all below   3 a clock settles a tie
//   4 a removal hides a pain report           5 "somebody holds a reserved lock"       6 synchronous=NORMAL
//   7 a size narrowed before it is checked    8 one table not filtered by scope
#pragma once

#ifndef SLIPWAY_PLANTED_BUG
#define SLIPWAY_PLANTED_BUG 0
#endif

namespace slipway::model {

inline constexpr int kPlanted = SLIPWAY_PLANTED_BUG;

}  // namespace slipway::model
