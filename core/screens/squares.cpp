// Rows by columns of squares that are kept at once [drawings 01d, 01h]: one, two, three
// teeth for how much it hurts, one to five swells for how long it has been sore.
#include <algorithm>
#include <cmath>

#include "screens/session_parts.h"

namespace slipway::screens {

namespace {

using namespace metrics;

constexpr float kTeethRow = 48, kSwellRow = 68;  // teeth: 50 in the drawing, which has no tabs under the panel
constexpr float kHeadPadding = 4;
constexpr float kToothPitch = 18, kToothFoot = 11, kToothTip = 11;  // from the middle of the square
constexpr float kSwellWidth = 32, kSwellPitch = 8, kSwellHeight = 2.4F;
constexpr float kTwoPi = 6.2831853F;
constexpr Pen kName{Step::read, Token::ink, true};
constexpr Pen kHead{Step::read, Token::ink, true, Align::centre};
constexpr Pen kHeadDetail{Step::fine, Token::ink2, false, Align::centre};

struct SquareLayout {
  bool stacked = false;   // names above their squares, the head's words in each square
  float names = 0;        // width of the left column
  float head = 0;
  float square = 0;       // width of one
  float row = 0;
  std::size_t columns = 0;
};

float widest_name(const Ui& ui, const SquareGrid& grid) {
  float widest = 0;
  for (const SquareRow& row : grid.rows) widest = std::max(widest, ui.width_of(row.words, kName));
  return widest;
}

float widest_head(const Ui& ui, const SquareGrid& grid) {
  float widest = kTouch;
  for (const SquareHead& head : grid.heads)
    widest = std::max({widest, ui.width_of(head.words, kHead) + 2 * kHeadPadding, ui.width_of(head.detail, kHeadDetail) + 2 * kHeadPadding});
  return widest;
}

float head_lines(const Ui& ui, const SquareGrid& grid) {
  const bool details = std::any_of(grid.heads.begin(), grid.heads.end(), [](const SquareHead& head) { return !head.detail.empty(); });
  return ui.line(Step::read) + (details ? ui.line(Step::fine) : 0);
}

float amount_height(const Ui& ui) { return ui.line(Step::cue); }
float mark_size(const Ui& ui) { return std::round(ui.px(Step::cue) * 1.1F); }

// Whether tick and amount stand beside each other in every square, so that keeping one moves nothing.
bool amount_beside(const Ui& ui, const SquareGrid& grid, float square) {
  if (!grid.teeth) return false;
  const auto fits = [&](const SquareHead& head) { return mark_size(ui) + 6 + ui.width_of(head.detail, {Step::cue, Token::ink, true}) <= square - 10; };
  return std::all_of(grid.heads.begin(), grid.heads.end(), fits);
}

SquareLayout layout_of(const Ui& ui, const SquareGrid& grid, float width) {
  SquareLayout layout;
  layout.columns = std::max<std::size_t>(1, grid.heads.size());
  const auto columns = static_cast<float>(layout.columns);
  const float least = widest_head(ui, grid);
  const float plain = grid.teeth ? kTeethRow : kSwellRow;
  // Two lines for a long name rather than squares too small for their heads.
  layout.names = std::max(std::min(widest_name(ui, grid) + 2 * kGap, std::round(width * 0.28F)), std::round(84 * ui.text_scale()));
  layout.square = std::floor((width - layout.names) / columns);
  layout.stacked = layout.square < least;
  if (layout.stacked) {
    layout.names = 0;
    while (layout.columns > 1 && width / static_cast<float>(layout.columns) < least) --layout.columns;
    const std::size_t bands = (grid.heads.size() + layout.columns - 1) / layout.columns;
    layout.columns = (grid.heads.size() + bands - 1) / std::max<std::size_t>(1, bands);  // even bands
    layout.square = std::floor(width / static_cast<float>(layout.columns));
    layout.row = plain + head_lines(ui, grid);
    return layout;
  }
  layout.head = head_lines(ui, grid) + 6;
  layout.row = std::max(plain, (amount_beside(ui, grid, layout.square) ? 1 : 2) * amount_height(ui) + 10);
  for (const SquareRow& row : grid.rows) layout.row = std::max(layout.row, ui.size_of(row.words, kName, layout.names - 2 * kGap).height + 8);
  return layout;
}

float name_line(const Ui& ui, const SquareGrid& grid, float width) {
  float height = 0;
  for (const SquareRow& row : grid.rows) height = std::max(height, ui.size_of(row.words, kName, width - 2 * kGap).height);
  return height + 8;
}

std::size_t bands_of(const SquareGrid& grid, const SquareLayout& layout) { return (grid.heads.size() + layout.columns - 1) / layout.columns; }

float row_height(const Ui& ui, const SquareGrid& grid, const SquareLayout& layout, float width) {
  if (!layout.stacked) return layout.row;
  return name_line(ui, grid, width) + static_cast<float>(bands_of(grid, layout)) * layout.row;
}

void draw_teeth(Ui& ui, std::size_t count, Token token, const Box& box) {
  const float scale = std::min(1.0F, (box.width - 8) / (static_cast<float>(count) * kToothPitch));
  const float middle = box.y + box.height / 2;
  const float left = box.x + box.width / 2 - static_cast<float>(count) * kToothPitch / 2 * scale;
  for (std::size_t i = 0; i < count; ++i) {
    const float x = left + static_cast<float>(i) * kToothPitch * scale;
    const GridPoint points[] = {{x, middle + kToothFoot}, {x + 5 * scale, middle - kToothTip}, {x + 11 * scale, middle + kToothFoot}, {x + 16 * scale, middle + 2}};
    ui.polyline(points, token, 2.4F);
  }
}

void draw_swells(Ui& ui, std::size_t count, const Box& box) {
  const float width = std::min(kSwellWidth, box.width - 10);
  const float left = std::round(box.x + (box.width - width) / 2);
  const float top = box.y + box.height / 2 - static_cast<float>(count - 1) * kSwellPitch / 2;
  for (std::size_t i = 0; i < count; ++i) {
    std::vector<GridPoint> points;
    const float y = top + static_cast<float>(i) * kSwellPitch;
    for (float along = 0; along <= width; along += 2) points.push_back({left + along, y - kSwellHeight * std::sin(along / width * 2 * kTwoPi)});
    ui.polyline(points, Token::ink, 2);
  }
}

Token ground_of(const SquareGrid& grid, std::size_t column) {
  if (column == 0) return Token::paper;
  if (grid.teeth) return Token::mag_tint;
  return column < 3 ? Token::sea : Token::sea2;
}

struct KeptInk {
  Token face, ink, edge;
};

KeptInk ink_of(const SquareGrid& grid, const Square& square) {
  if (!grid.teeth) return {Token::land, Token::ink, Token::ink};
  if (square.state == CellState::kept) return {Token::mag, Token::on_mag, Token::mag};
  return {Token::mag_tint, Token::mag, Token::mag};
}

// In place of the picture: tick or drop and the amount, below each other where narrow.
void draw_mark(Ui& ui, const Square& square, std::string_view amount, Token ink, const Box& box) {
  const Pen pen{Step::cue, ink, true, Align::centre};
  const float icon = std::min(mark_size(ui), box.height - 8);
  const Icon mark = square.state == CellState::kept ? Icon::kept : Icon::wet;
  const float words = amount.empty() ? 0 : ui.width_of(amount, pen) + 6;
  if (icon + words <= box.width - 10) {
    const float left = box.x + std::floor((box.width - icon - words) / 2);
    ui.icon(mark, left, box.y + std::floor((box.height - icon) / 2), icon, ink);
    ui.write_in(amount, pen, {left + icon + 6, box.y, words - 5, box.height});
    return;
  }
  const float top = box.y + std::floor((box.height - icon - ui.line(Step::cue)) / 2);
  ui.icon(mark, box.x + std::floor((box.width - icon) / 2), top, icon, ink);
  ui.write(amount, pen, box.x + 2, top + icon, box.width - 4);
}

void draw_square(Ui& ui, const SquareGrid& grid, const SquareLayout& layout, const Square& square, std::size_t column, const Box& box, bool down) {
  const bool kept = square.state != CellState::not_done;
  const KeptInk ink = ink_of(grid, square);
  ui.fill(box, kept ? ink.face : down ? (grid.teeth ? Token::mag_tint : Token::land) : ground_of(grid, column));
  ui.edge(box, kept ? ink.edge : Token::ink, kept ? kChosenEdge : 1);
  Box picture = box;
  if (layout.stacked) {  // the head's words say the amount
    const SquareHead& head = grid.heads[column];
    float y = box.y + box.height - head_lines(ui, grid) - 4;
    picture.height = y - box.y;
    y += ui.write(head.words, {kHead.step, kept ? ink.ink : kHead.token, true, Align::centre}, box.x, y, box.width);
    if (!head.detail.empty()) ui.write(head.detail, {kHeadDetail.step, kept ? ink.ink : kHeadDetail.token, false, Align::centre}, box.x, y, box.width);
  }
  if (kept) draw_mark(ui, square, layout.stacked ? std::string_view{} : square.amount, ink.ink, picture);
  else if (grid.teeth) draw_teeth(ui, column + 1, column == 0 && !down ? Token::ink2 : Token::mag, picture);
  else draw_swells(ui, column + 1, picture);
}

void draw_heads(Ui& ui, const SquareGrid& grid, const SquareLayout& layout, const Strip& at) {
  if (layout.stacked) return;
  const auto row = ui.group("heads", {.role = model::Role::row, .rect = {at.x, at.y, at.width, layout.head}});
  for (std::size_t i = 0; i < grid.heads.size(); ++i) {
    const SquareHead& head = grid.heads[i];
    const Box box{at.x + layout.names + static_cast<float>(i) * layout.square, at.y, layout.square, layout.head};
    const float words = ui.line(Step::read) + (head.detail.empty() ? 0 : ui.line(Step::fine));
    const float top = box.y + std::floor((box.height - words) / 2);
    ui.write(head.words, kHead, box.x, top, box.width);
    if (!head.detail.empty()) ui.write(head.detail, kHeadDetail, box.x, top + ui.line(Step::read), box.width);
    const auto path = ui.in("head", i);
    ui.node("words", {.role = model::Role::columnheader, .name = head.detail.empty() ? head.words : head.words + ", " + head.detail, .rect = box});
  }
}

void draw_row(Ui& ui, const SquareGrid& grid, std::size_t index, const SquareLayout& layout, const Strip& at, SquareAnswer& answer) {
  const SquareRow& row = grid.rows[index];
  const float height = row_height(ui, grid, layout, at.width);
  const auto path = ui.in("row", index);
  const auto group = ui.group("squares", {.role = model::Role::row, .rect = {at.x, at.y, at.width, height}});
  const float above = layout.stacked ? name_line(ui, grid, at.width) : 0;
  const Box name{at.x, at.y, layout.stacked ? at.width : layout.names, layout.stacked ? above : height};
  ui.write_in(row.words, kName, {name.x + kGap, name.y, name.width - 2 * kGap, name.height});
  ui.node("name", {.role = model::Role::rowheader, .name = row.words, .rect = name});
  for (std::size_t i = 0; i < std::min(row.squares.size(), grid.heads.size()); ++i) {
    const Square& square = row.squares[i];
    const std::size_t column = i % layout.columns;
    const auto band = static_cast<float>(i / layout.columns);
    const bool last = column + 1 == layout.columns;
    const float left = at.x + layout.names + static_cast<float>(column) * layout.square;
    const Box box{left, at.y + above + band * layout.row, last ? at.x + at.width - left : layout.square, layout.row};
    const auto inside = ui.in("square", i);
    const CellAnswer pressed = ui.cell("face", {.role = model::Role::gridcell,  // a radio may not stand in a row of a grid
                                                .answers = model::Answers::press,
                                                .name = square.spoken,
                                                .checked = square.state != CellState::not_done,
                                                .position = static_cast<std::uint32_t>(i + 1),
                                                .set_size = static_cast<std::uint32_t>(row.squares.size()),
                                                .rect = box});
    draw_square(ui, grid, layout, square, i, box, pressed.down);
    if (pressed.pressed) answer = {answer.height, true, static_cast<std::uint32_t>(index), static_cast<std::uint32_t>(i)};
  }
}

}  // namespace

SquareAnswer draw_squares(Ui& ui, const SquareGrid& grid, const Strip& at) {
  const SquareLayout layout = layout_of(ui, grid, at.width);
  const float each = row_height(ui, grid, layout, at.width);
  SquareAnswer answer;
  answer.height = layout.head + each * static_cast<float>(grid.rows.size());
  const Box box{at.x, at.y, at.width, answer.height};
  const auto group = ui.group(grid.key, {.role = model::Role::grid, .name = grid.spoken, .rect = box});
  draw_heads(ui, grid, layout, at);
  for (std::size_t i = 0; i < grid.rows.size(); ++i) {
    const float y = at.y + layout.head + static_cast<float>(i) * each;
    draw_row(ui, grid, i, layout, {at.x, y, at.width}, answer);
    ui.rule(at.x, y, at.x + at.width, y, Token::ink, 1);
  }
  if (!layout.stacked) ui.rule(at.x + layout.names, at.y, at.x + layout.names, at.y + answer.height, Token::ink, kEdge);
  ui.edge(box, Token::ink, kEdge);
  return answer;
}

}  // namespace slipway::screens
