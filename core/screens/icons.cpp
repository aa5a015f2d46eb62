#include "screens/icons.h"

#include <imgui.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace slipway::screens {

namespace {

// Grid of 24. L open line, O closed line, F filled (convex), C ring "x y r", D dot "x y r",
// W sine line "y x0 x1 waves height", first half up.
constexpr std::array<std::string_view, static_cast<std::size_t>(Icon::count)> kConstruction{
    "",                                                                                              // none
    "O 3,3 21,3 21,17 3,17; L 9,3 9,17; L 3,10 21,10; L 6,21 18,21",                                 // session
    "L 3,21 3,3; L 9,21 9,3; L 15,21 15,3; L 21,21 21,3; D 6 16 1.9; D 12 7 1.9; D 18 12 1.9",       // lanes
    "W 13 2 22 1 6; L 2,21 22,21; L 18,8 18,2; F 18,2 22,4 18,6",                                    // programme
    "O 4,3 20,3 20,21 4,21; L 8,3 8,21; W 9 11 18 1 1.4; L 11,15 18,15",                             // logbook
    "L 12,2 12,5; L 12,5 5,21; L 12,5 19,21; L 8,14 16,14",                                          // testing
    "O 4,4 20,4 20,22 4,22; F 8,2 16,2 16,6 8,6; L 8,11 16,11; L 8,15 16,15; L 8,19 13,19",          // squad
    "L 2,8 19,8; F 17,3.5 22,8 17,8; L 22,16 5,16; F 7,20.5 2,16 7,16",                              // exchange
    "L 3,8 21,8; L 7,8 9,16; L 17,8 15,16; L 5,16 19,16; L 5,20 19,20",                              // setup
    "D 5 12 2; D 12 12 2; D 19 12 2",                                                                // more
    "L 4,13 9,19 20,5",                                                                              // kept
    "O 12,3 17.5,12 17.5,15.5 15,19.5 12,20.8 9,19.5 6.5,15.5 6.5,12",                               // wet
    "L 3,6 14,6; L 7,15 12,20 21,8",                                                                 // changed
    "L 4,12 20,12",                                                                                  // left_out
    "F 5,3 20,12 5,21",                                                                              // next
    "L 12,2 12,17; L 4,13 6,18 12,21 18,18 20,13; L 8,7 16,7; C 12 3.5 1.6",                         // held
    "O 5,11 19,11 19,21 5,21; L 8,11 8,6 10,3.6 14,3.6 16,6 16,11",                                  // lock
    "L 2,20 6,4 11,20 15,7 19,20 22,14",                                                             // pain
    "W 9 2 22 2 2.6; W 16 2 22 2 2.6",                                                               // sore
    "L 12,4 12,20; L 4,12 20,12",                                                                    // plus
    "L 4,12 20,12",                                                                                  // minus
    "L 12,2 12,15; F 8.5,15 15.5,15 14,22 10,22; L 9,6 15,6; L 9,10 15,10",                          // why
    "O 6,2 18,2 18,22 6,22; L 18,7 13,7; L 18,12 13,12; F 6,15 9,13.6 12,15 12,22 6,22; F 12,15 15,16.4 18,15 18,22 12,22",  // rest
    "L 8,3 3,8 8,13; L 3,8 15,8 20,12 20,16 16,20 9,20",                                             // undo
    "L 8,3 17,12 8,21",                                                                              // right
    "L 3,8 12,17 21,8",                                                                              // down
    "L 3,16 12,7 21,16",                                                                             // up
    "L 5,5 19,19; L 19,5 5,19",                                                                      // close
    "O 4,20 5,15 16,4 20,8 9,19; L 13,7 17,11",                                                      // pencil
    "W 8 2 22 2 2.2; W 13 2 22 2 2.2; W 18 2 22 2 2.2",                                              // swim
    "F 2,20 22,20 22,9",                                                                             // land
    "W 16 2 22 2 2.6; F 12,2 16,7 12,12 8,7",                                                        // key_swim
    "F 12,2 22,12 12,22 2,12",                                                                       // race_a
    "O 12,3 21,12 12,21 3,12; F 12,3 12,21 3,12",                                                    // race_b
    "O 12,3 21,12 12,21 3,12",                                                                       // race_c
    "O 12,3 22,21 2,21; L 12,9 12,15; D 12 18 1.3",                                                  // caution
    "L 10,4 3,12 10,20; L 14,4 21,12 14,20",                                                         // conflict
    "L 3,5 8,5; L 16,5 21,5; L 3,12 8,12; L 16,12 21,12; L 3,19 21,19",                              // missing
    "O 5,2 15,2 20,7 20,22 5,22; L 15,2 15,7 20,7",                                                  // file
    "C 8 14 5.5; L 13,12 21,6 21,10 13,14",                                                          // coach
    "L 3,16 7,20 13,11; L 10,21 21,21; L 14,16 21,16",                                               // signoff
    "L 5,22 5,2; L 5,6 10,6; L 5,12 13,12; L 5,18 10,18; L 18,22 18,6; F 14,9 18,3 22,9",            // growth
    "C 12 12 8; L 6,18 18,6",                                                                        // off
};

// "18.5" without the locale and without floating from_chars, which libc++ 13 lacks.
float take_number(std::string_view& text) {
  while (!text.empty() && (text.front() == ' ' || text.front() == ',')) text.remove_prefix(1);
  int whole = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), whole);
  if (error != std::errc{}) return 0;
  text.remove_prefix(static_cast<std::size_t>(end - text.data()));
  if (text.empty() || text.front() != '.') return static_cast<float>(whole);
  text.remove_prefix(1);
  int tenths = 0;  // one decimal is all the table uses
  const auto [rest, ignored] = std::from_chars(text.data(), text.data() + text.size(), tenths);
  text.remove_prefix(static_cast<std::size_t>(rest - text.data()));
  return static_cast<float>(whole) + static_cast<float>(tenths) / 10;
}

bool more_numbers(std::string_view text) { return text.find_first_of("0123456789") != std::string_view::npos; }

std::vector<GridPoint> sine(float y, float from, float to, float waves, float height) {
  constexpr float kTwoPi = 6.2831853F;
  const int steps = static_cast<int>(waves) * 8;
  std::vector<GridPoint> points;
  for (int i = 0; i <= steps; ++i) {
    const float part = static_cast<float>(i) / static_cast<float>(steps);
    points.push_back({from + (to - from) * part, y - height * std::sin(part * waves * kTwoPi)});
  }
  return points;
}

// Dear ImGui wants fills clockwise on the screen, or their soft edge falls inside.
bool turns_left(const std::vector<GridPoint>& points) {
  float twice_area = 0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const GridPoint& a = points[i];
    const GridPoint& b = points[(i + 1) % points.size()];
    twice_area += a.x * b.y - b.x * a.y;
  }
  return twice_area < 0;
}

Shape read_shape(std::string_view part) {
  while (!part.empty() && part.front() == ' ') part.remove_prefix(1);
  Shape shape;
  if (part.empty()) return shape;
  const char letter = part.front();
  part.remove_prefix(1);
  if (letter == 'W') {
    std::array<float, 5> numbers{};
    for (float& number : numbers) number = take_number(part);
    shape.points = sine(numbers[0], numbers[1], numbers[2], numbers[3], numbers[4]);
    return shape;
  }
  if (letter == 'C' || letter == 'D') {
    shape.kind = letter == 'C' ? Shape::Kind::ring : Shape::Kind::dot;
    const float x = take_number(part);
    const float y = take_number(part);
    shape.points = {{x, y}};
    shape.radius = take_number(part);
    return shape;
  }
  shape.kind = letter == 'O' ? Shape::Kind::closed_line : letter == 'F' ? Shape::Kind::filled : Shape::Kind::open_line;
  while (more_numbers(part)) {
    const float x = take_number(part);
    const float y = take_number(part);
    shape.points.push_back({x, y});
  }
  if (shape.kind == Shape::Kind::filled && turns_left(shape.points)) std::reverse(shape.points.begin(), shape.points.end());
  return shape;
}

}  // namespace

std::string_view construction(Icon icon) { return kConstruction[static_cast<std::size_t>(icon)]; }

std::vector<Shape> read_construction(std::string_view text) {
  std::vector<Shape> shapes;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(';'), text.size());
    shapes.push_back(read_shape(text.substr(0, end)));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return shapes;
}

void draw_icon(ImDrawList& list, const std::vector<Shape>& shapes, float left, float top, float size, std::uint32_t colour) {
  const float scale = size / 24;
  const float line = std::clamp(2.2F * scale, 1.6F, 4.5F);  // 2.2 on the grid, never above 4.5 px
  for (const Shape& shape : shapes) {
    if (shape.kind == Shape::Kind::ring || shape.kind == Shape::Kind::dot) {
      const ImVec2 centre(left + shape.points[0].x * scale, top + shape.points[0].y * scale);
      if (shape.kind == Shape::Kind::ring) list.AddCircle(centre, shape.radius * scale, colour, 0, line);
      else list.AddCircleFilled(centre, shape.radius * scale, colour);
      continue;
    }
    for (const GridPoint& point : shape.points) list.PathLineTo({left + point.x * scale, top + point.y * scale});
    if (shape.kind == Shape::Kind::filled) list.PathFillConvex(colour);
    else list.PathStroke(colour, shape.kind == Shape::Kind::closed_line ? ImDrawFlags_Closed : 0, line);
  }
}

}  // namespace slipway::screens
