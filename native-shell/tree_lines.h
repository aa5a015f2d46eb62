// The semantic tree of a drawn frame as lines, for --say: who cannot see the window can
// read it, and a test knows where to press. One line a node:
//
//   frame 3
//   button "Log as written, 8 at 8 kilograms" at 16,672 358x100
//
// Places are in CSS pixels of the window, scrolled as they are shown.
#pragma once

#include <cstdint>
#include <string>

#include "model/tree.h"

namespace slipway::native {

std::string tree_lines(const model::Tree& tree, std::uint64_t frame);

}  // namespace slipway::native
