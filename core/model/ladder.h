// Ladders of exercises, from assets/ladders.table (handbook 5.1): rungs in order,
// the easiest first. Data only; what comes next is for `rules`.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace slipway::model {

struct Rung {
  std::string id;          // "SQ4"
  std::string line;        // "squat"
  std::string name;        // "goblet squat"
  std::string short_name;  // "Squat", for the board
  std::string cue;         // one line, in our words
  std::string caution;     // empty: none beyond the usual
  bool loaded = false;     // a load is written and logged
};

const std::vector<Rung>& rungs();                  // all lines, in order
const Rung* find_rung(std::string_view id);

}  // namespace slipway::model
