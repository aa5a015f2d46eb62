#include "screens/whiteboard.h"

#include <algorithm>
#include <cmath>

#include "screens/session_parts.h"

namespace slipway::screens {

namespace {

using namespace metrics;

constexpr float kLeastCell = 60;      // a tick and two figures stand in it
constexpr float kPadding = 10;
constexpr float kCodeGap = 8;
constexpr float kFootRow = 34;
constexpr std::size_t kEmptyColumns = 3;  // of a board that is clean
constexpr Pen kFigureDone{Step::mark, Token::ink, true};
constexpr Pen kFigureWritten{Step::mark, Token::ink2, false, Align::centre};

struct Layout {
  bool folded = false;      // large text: no names and no heads, the hand below says them
  float names = 0;          // width of the left column
  float code = 0;           // of the code in it
  std::size_t columns = 0;  // rounds beside each other; more stand in a band below
  float cell = 0;
  float head = 0;
  float row = 0;
  std::size_t first = 0, rows = 0;  // which rows of the board stand on it
};

std::size_t bands_of(const Board& board, const Layout& layout) {
  const std::size_t rounds = std::max<std::size_t>(board.round_names.size(), 1);
  return (rounds + layout.columns - 1) / layout.columns;
}

float row_height(const Ui& ui, const BoardRow& row, const Layout& layout) {
  const float width = layout.names - layout.code;
  float height = ui.size_of(row.name, {Step::read, Token::ink, true}, width).height + 2;
  if (!row.dose.empty()) height += ui.size_of(row.dose, {Step::fine}, width).height;
  return height + 8;
}

float names_needed(const Ui& ui, const Board& board, const Layout& layout) {
  float words = 0;
  for (const BoardRow& row : board.rows) {
    if (layout.folded) break;
    words = std::max({words, ui.width_of(row.name, {Step::read, Token::ink, true}), ui.width_of(row.dose, {Step::fine})});
  }
  return layout.code + words + 4;
}

Layout layout_of(const Ui& ui, const Board& board, float width, const BoardLook& look) {
  Layout layout;
  layout.rows = board.rows.size();
  if (look.folded && layout.rows > 1) {
    const std::size_t shown = std::clamp<std::size_t>(look.rows, 1, layout.rows);
    layout.first = std::min<std::size_t>(board.in_hand, layout.rows - shown);
    layout.rows = shown;
  }
  const float scale = ui.text_scale();
  layout.folded = folds_for_text(ui, width);
  for (const BoardRow& one : board.rows) layout.code = std::max(layout.code, kPadding + ui.width_of(one.code, {Step::mark, Token::ink, true}) + kCodeGap);
  const float most_names = std::round(width * 0.42F);
  const auto columns_beside = [&](float names) {
    const auto most = static_cast<std::size_t>(std::max(1.0F, (width - names - kEdge) / (kLeastCell * scale)));
    return std::clamp<std::size_t>(board.rows.empty() ? kEmptyColumns : board.round_names.size(), 1, most);
  };
  // The names' column is as drawn, or wider where a name would wrap and the rounds leave room; its air saves a band.
  const float needed = std::min(most_names, names_needed(ui, board, layout));
  layout.names = layout.folded ? needed : std::min(most_names, std::round(kBoardNames * scale));
  if (columns_beside(needed) > columns_beside(layout.names) || (needed > layout.names && columns_beside(needed) == columns_beside(layout.names))) layout.names = needed;
  layout.columns = columns_beside(layout.names);
  layout.cell = (width - layout.names - kEdge) / static_cast<float>(layout.columns);
  layout.row = look.row;
  if (layout.folded) {
    layout.row = std::max(look.row, ui.line(Step::mark) + 2 * kPadding);
    return layout;
  }
  layout.head = std::max(kBoardHead, ui.line(Step::fine) + 7);
  for (const std::string& name : board.round_names)
    layout.head = std::max(layout.head, ui.size_of(name, {Step::fine}, layout.cell - 4).height + 7);
  for (std::size_t i = layout.first; i < layout.first + layout.rows; ++i) layout.row = std::max(layout.row, row_height(ui, board.rows[i], layout));
  return layout;
}

void draw_done(Ui& ui, Icon icon, std::string_view figure, const Box& box) {
  const float size = std::round(ui.px(Step::mark) * 0.95F);
  const float gap = std::round(ui.px(Step::mark) * 0.3F);
  const float words = ui.width_of(figure, kFigureDone);
  const float left = box.x + std::floor((box.width - size - gap - words) / 2);
  ui.icon(icon, left, box.y + std::floor((box.height - size) / 2), size, Token::ink);
  ui.write_in(figure, kFigureDone, {left + size + gap, box.y, words + 1, box.height});
}

void draw_changed(Ui& ui, const BoardCell& cell, const Box& box) {
  const Pen old{Step::read, Token::ink2};
  const float words = ui.width_of(cell.written, old);
  const float done = ui.px(Step::mark) * 1.3F + ui.width_of(cell.figure, kFigureDone);
  if (cell.written.empty() || words + 6 + done > box.width - 4) {  // no room for the struck figure: its sign
    draw_done(ui, Icon::changed, cell.figure, box);
    return;
  }
  const float left = box.x + std::floor((box.width - words - 6 - done) / 2);
  ui.write_in(cell.written, old, {left, box.y, words + 1, box.height});
  ui.strike({left, box.y, words, box.height}, Token::ink2);
  draw_done(ui, Icon::kept, cell.figure, {left + words + 6, box.y, done, box.height});
}

// A written figure with the mark of what a rule did to it.
void draw_marked(Ui& ui, Icon icon, Token token, const std::string& figure, const Box& box) {
  const Pen words{Step::mark, Token::ink2};
  const float size = std::round(19 * ui.text_scale());
  const float width = figure.empty() ? 0 : ui.width_of(figure, words) + 6;
  const float left = box.x + std::floor((box.width - size - width) / 2);
  ui.icon(icon, left, box.y + std::floor((box.height - size) / 2), size, token);
  if (!figure.empty()) ui.write_in(figure, words, {left + size + 6, box.y, width, box.height});
}

// Two strokes across the whole cell, so that it can't be taken for a changed figure.
void draw_crossed_out(Ui& ui, const std::string& figure, const Box& box) {
  ui.write_in(figure, kFigureWritten, box);
  const float inset_x = std::max(6.0F, std::floor((box.width - box.height) / 2));
  const float inset_y = 8;
  const float right = box.x + box.width - inset_x;
  const float foot = box.y + box.height - inset_y;
  ui.rule(box.x + inset_x, box.y + inset_y, right, foot, Token::mag, 2.5F);
  ui.rule(box.x + inset_x, foot, right, box.y + inset_y, Token::mag, 2.5F);
}

void draw_cell(Ui& ui, const BoardCell& cell, const Box& box, bool down) {
  if (down) ui.fill(box, Token::land);
  const float dash = 10 * ui.text_scale();
  const float middle = std::floor(box.x + box.width / 2);
  switch (cell.state) {
    case CellState::not_done: ui.write_in(cell.figure, kFigureWritten, box); break;
    case CellState::next: {
      ui.fill(box, Token::land);
      ui.edge(box, Token::ink, kChosenEdge);
      const float size = std::round(16 * ui.text_scale());
      ui.icon(Icon::next, box.x + 7, box.y + std::floor((box.height - size) / 2), size, Token::ink);
      ui.write_in(cell.figure, {Step::mark, Token::ink, true, Align::centre}, {box.x + size, box.y, box.width - size, box.height});
      break;
    }
    case CellState::keeping:
    case CellState::not_kept: draw_done(ui, Icon::wet, cell.figure, box); break;
    case CellState::kept: draw_done(ui, Icon::kept, cell.figure, box); break;
    case CellState::changed: draw_changed(ui, cell, box); break;
    case CellState::held: draw_marked(ui, Icon::held, Token::ink, cell.figure, box); break;
    case CellState::swapped: draw_marked(ui, Icon::pain, Token::mag, cell.figure, box); break;
    case CellState::waits_sign_off: draw_marked(ui, Icon::signoff, Token::ink2, cell.figure, box); break;
    case CellState::crossed_out: draw_crossed_out(ui, cell.figure, box); break;
    case CellState::left_out: {
      const float y = std::floor(box.y + box.height / 2);
      ui.rule(middle - dash, y, middle + dash, y, Token::ink, 3);
      break;
    }
  }
}

void draw_names(Ui& ui, const BoardRow& row, const Layout& layout, const Box& box) {
  const float width = layout.names - layout.code - 2;
  const float name_height = layout.folded ? ui.line(Step::mark) : ui.size_of(row.name, {Step::read, Token::ink, true}, width).height;
  const float dose_height = row.dose.empty() || layout.folded ? 0 : ui.size_of(row.dose, {Step::fine}, width).height;
  const float top = box.y + std::floor((box.height - name_height - dose_height) / 2);
  const float lower = layout.folded ? 0 : ui.baseline(Step::read) - ui.baseline(Step::mark);  // code and name on one foot line
  ui.write(row.code, {Step::mark, Token::ink, true}, box.x + kPadding, top + lower, layout.code - kPadding + 1);
  if (!layout.folded) {
    ui.write(row.name, {Step::read, Token::ink, true}, box.x + layout.code, top, width);
    ui.write(row.dose, {Step::fine, Token::ink2}, box.x + layout.code, top + name_height, width);
  }
  if (row.contradiction) {
    const float size = std::round(16 * std::min(ui.text_scale(), 1.25F));
    ui.icon(Icon::conflict, box.x + kPadding, std::min(std::floor(top + lower + ui.line(Step::mark)) - 2, box.y + box.height - size - 1), size, Token::mag);
  }
  ui.node("names", {.role = model::Role::rowheader, .name = row.spoken, .rect = {box.x, box.y, layout.names, box.height}});
}

struct Band {
  std::size_t first = 0, end = 0;  // rounds of it
  float top = 0;
};

void draw_heads(Ui& ui, const Board& board, const Layout& layout, const Band& band, const Box& box) {
  if (layout.folded) return;
  const auto row = ui.group("heads", {.role = model::Role::row, .rect = {box.x, band.top, box.width, layout.head}});
  for (std::size_t i = band.first; i < band.end; ++i) {
    const float left = box.x + layout.names + static_cast<float>(i - band.first) * layout.cell;
    const Box head{left, band.top, layout.cell, layout.head};
    ui.write_in(board.round_names[i], {Step::fine, Token::ink2, false, Align::centre}, head);
    const auto path = ui.in("round", i);
    ui.node("head", {.role = model::Role::columnheader, .name = board.round_names[i], .rect = head});
  }
}

void draw_row(Ui& ui, const Board& board, std::size_t index, const Layout& layout, const Band& band, float top, const Box& box,
              std::vector<SessionIntent>& out) {
  const BoardRow& row = board.rows[index];
  const auto path = ui.in("row", index);
  const auto group = ui.group("cells", {.role = model::Role::row, .rect = {box.x, top, box.width, layout.row}});
  draw_names(ui, row, layout, {box.x, top, layout.names, layout.row});
  for (std::size_t i = band.first; i < std::min(band.end, row.cells.size()); ++i) {
    const BoardCell& cell = row.cells[i];
    const float from = std::floor(box.x + layout.names + static_cast<float>(i - band.first) * layout.cell);
    const float to = std::floor(box.x + layout.names + static_cast<float>(i + 1 - band.first) * layout.cell);
    const Box place{from + 1, top, to - from, layout.row};
    const auto round = ui.in("round", i);
    const CellAnswer answer = ui.cell("cell", {.role = model::Role::gridcell,
                                               .answers = cell.may_change ? model::Answers::press : model::Answers::nothing,
                                               .name = cell.spoken,
                                               .current = cell.state == CellState::next,
                                               .position = static_cast<std::uint32_t>(i + 1),
                                               .set_size = static_cast<std::uint32_t>(row.cells.size()),
                                               .rect = place});
    draw_cell(ui, cell, place, answer.down);
    if (answer.pressed) out.push_back(OpenChange{static_cast<std::uint32_t>(index), cell.round});
  }
}

// Rules first, so that the chosen cell's edge lies on them.
void draw_rules(Ui& ui, const Layout& layout, const Band& band, float foot, const Box& box) {
  const float body = band.top + layout.head;
  if (!layout.folded) ui.rule(box.x, body, box.x + box.width, body, Token::ink, kEdge);
  for (std::size_t i = 1; i < layout.columns; ++i) {
    const float x = std::floor(box.x + layout.names + static_cast<float>(i) * layout.cell) + 0.5F;
    ui.rule(x, body + 1, x, foot, Token::hair, 1);
  }
  ui.rule(box.x + layout.names, band.top, box.x + layout.names, foot, Token::ink, kEdge);
  for (std::size_t row = 1; row < layout.rows; ++row) {
    const float y = body + static_cast<float>(row) * layout.row + 0.5F;
    ui.rule(box.x + 8, y, box.x + box.width - 8, y, Token::line, 1);
  }
  const float written = body + static_cast<float>(layout.rows) * layout.row;
  for (float y = written; foot - y >= kBlankRowLeast; y += layout.row) {
    const bool under_written = y == written && layout.rows > 0;
    ui.rule(box.x + (under_written ? 8 : 2), y + 0.5F, box.x + box.width - (under_written ? 8 : 2), y + 0.5F, under_written ? Token::line : Token::hair, 1);
  }
}

// The lines under the rows: other blocks of the session; while the board is folded the one that opens it.
struct FootLine {
  std::string_view words, spoken;
  bool up = false;
  SessionIntent intent;
};

std::vector<FootLine> foot_of(const Board& board, const BoardLook& look) {
  std::vector<FootLine> lines;
  if (!look.foot) return lines;
  if (look.folded) {
    if (!board.folded_words.empty()) lines.push_back({board.folded_words, {}, false, OpenBoard{true}});
    return lines;
  }
  for (std::uint32_t i = 0; i < board.foot.size(); ++i) lines.push_back({board.foot[i].words, board.foot[i].spoken, board.foot[i].up, OpenBlock{i}});
  if (board.open && !board.fold_words.empty()) lines.push_back({board.fold_words, {}, true, OpenBoard{false}});
  return lines;
}

float foot_arrow(const Ui& ui) { return std::round(16 * std::min(ui.text_scale(), 1.5F)); }

// The last line is lower than a finger: its target reaches down over what is free below the board.
float foot_line_height(const Ui& ui, const FootLine& line, bool last, float width, const BoardLook& look) {
  const float words = ui.size_of(line.words, {Step::fine}, width - 2 * kPadding - foot_arrow(ui) - 8).height;
  return std::max({kFootRow, words + 14, kTouch - (last ? look.below : 0)});
}

float foot_height(const Ui& ui, const std::vector<FootLine>& lines, float width, const BoardLook& look) {
  float height = 0;
  for (std::size_t i = 0; i < lines.size(); ++i) height += foot_line_height(ui, lines[i], i + 1 == lines.size(), width, look);
  return height;
}

void draw_foot(Ui& ui, const std::vector<FootLine>& lines, float top, const Box& box, const BoardLook& look, std::vector<SessionIntent>& out) {
  const float arrow = foot_arrow(ui);
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const FootLine& line = lines[i];
    const bool last = i + 1 == lines.size();
    const float height = foot_line_height(ui, line, last, box.width, look);
    const Box place{box.x, top, box.width, height};
    const auto path = ui.in("foot", i);
    const CellAnswer answer = ui.cell("line", {.role = model::Role::button,
                                               .answers = model::Answers::press,
                                               .name = std::string(line.spoken.empty() ? line.words : line.spoken),
                                               .rect = {place.x, place.y, place.width, height + (last ? look.below : 0)}});
    if (answer.down) ui.fill(place, Token::land);
    ui.rule(box.x, top, box.x + box.width, top, Token::ink, kEdge);
    ui.write_in(line.words, {Step::fine, Token::ink2}, {box.x + kPadding, top, box.width - 2 * kPadding - arrow - 8, height});
    ui.icon(line.up ? Icon::up : Icon::down, box.x + box.width - kPadding - arrow, top + std::floor((height - arrow) / 2), arrow, Token::ink2);
    if (answer.pressed) out.push_back(line.intent);
    top += height;
  }
}

}  // namespace

float board_height(Ui& ui, const Board& board, float width, const BoardLook& look) {
  const Layout layout = layout_of(ui, board, width, look);
  const float rows = std::max<float>(1, static_cast<float>(layout.rows));
  return static_cast<float>(bands_of(board, layout)) * (layout.head + rows * layout.row) +
         foot_height(ui, foot_of(board, look), width, look);
}

void draw_board(Ui& ui, const Board& board, const Box& box, const BoardLook& look, std::vector<SessionIntent>& out) {
  const Layout layout = layout_of(ui, board, box.width, look);
  const auto lines = foot_of(board, look);
  const float foot_top = box.y + box.height - foot_height(ui, lines, box.width, look);
  {
    const auto grid = ui.group("board", {.role = model::Role::grid, .name = board.spoken, .rect = {box.x, box.y, box.width, foot_top - box.y}});
    const std::size_t bands = bands_of(board, layout);
    const float band_height = layout.head + static_cast<float>(layout.rows) * layout.row;
    for (std::size_t index = 0; index < bands; ++index) {
      const Band band{index * layout.columns, std::min((index + 1) * layout.columns, board.round_names.size()),
                      box.y + static_cast<float>(index) * band_height};
      const float foot = index + 1 == bands ? foot_top : band.top + band_height;
      if (index > 0) ui.rule(box.x, band.top, box.x + box.width, band.top, Token::ink, kEdge);
      draw_rules(ui, layout, band, foot, box);
      const auto path = ui.in("band", index);
      draw_heads(ui, board, layout, band, box);
      for (std::size_t i = 0; i < layout.rows; ++i)
        draw_row(ui, board, layout.first + i, layout, band, band.top + layout.head + static_cast<float>(i) * layout.row, box, out);
    }
  }
  draw_foot(ui, lines, foot_top, box, look, out);
  ui.edge(box, Token::ink, kEdge, kBoardCorner);
}

}  // namespace slipway::screens
