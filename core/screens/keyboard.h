// What a key of the keyboard does to a tree [screens design 12]: where the focus goes and
// which nodes are worked. Pure: the same in a window, in a test and without either.
//
// Focus order is tree order. Grids, choices and bars are one stop each, arrows inside.
// F6 goes from region to region: what stands in none is one region too.
#pragma once

#include <cstdint>
#include <vector>

#include "model/tree.h"

namespace slipway::screens {

enum class Stroke : std::uint8_t {
  tab, back_tab, left, right, up, down, home, end, page_up, page_down, enter, space, digit, region, back_region,
};

struct Struck {
  Stroke stroke = Stroke::tab;
  std::uint32_t digit = 0;  // of Stroke::digit
};

struct Answered {
  model::NodeId focus = 0;              // after the key
  std::vector<model::Action> actions = {};  // of the key
  bool opens_field = false;             // the focus is a field and shall have the caret
  bool used = false;                    // false: the key means nothing here
};

Answered answer(const model::Tree& tree, model::NodeId focus, const Struck& struck);

}  // namespace slipway::screens
