// The drawn icons on their 24 grid, and the one function that draws them [screens design 5].
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

struct ImDrawList;

namespace slipway::screens {

enum class Icon : std::uint8_t {
  none,
  session, lanes, programme, logbook, testing, squad, exchange, setup, more,
  kept, wet, changed, left_out, next, held, lock, pain, sore, plus, minus, why, rest, undo,
  right, down, up, close, pencil, swim, land, key_swim, race_a, race_b, race_c,
  caution, conflict, missing, file, coach, signoff, growth, off,
  count,
};

struct GridPoint {
  float x = 0, y = 0;
};

struct Shape {
  enum class Kind : std::uint8_t { open_line, closed_line, filled, ring, dot };
  Kind kind = Kind::open_line;
  std::vector<GridPoint> points;  // ring and dot: the centre
  float radius = 0;
};

// The construction text of an icon ("L 4,13 9,19 20,5"), and the shapes it says.
std::string_view construction(Icon icon);
std::vector<Shape> read_construction(std::string_view text);

// `left` and `top` in screen pixels, `colour` as Dear ImGui packs it.
void draw_icon(ImDrawList& list, const std::vector<Shape>& shapes, float left, float top, float size, std::uint32_t colour);

}  // namespace slipway::screens
