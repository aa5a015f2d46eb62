#include "screens/squad_screen.h"

#include <algorithm>
#include <cmath>

#include "screens/parts.h"
#include "screens/swimmer_page.h"
#include "screens/ui.h"

namespace slipway::screens {

namespace {

using namespace metrics;

constexpr float kSpace = 12;
constexpr float kBeside = 1280 / kTouch;   // from here the list and the swimmer's page stand beside each other
constexpr float kPageWidth = 484;        // of 516, less its margin
constexpr float kNeedRow = 62, kNeedKey = 166, kNeedWide = 620;  // a row in one line, and from which width
constexpr float kDay = 26, kDayHeight = 36, kDayEvery = 28;
constexpr float kNameMost = 140;           // names longer than this wrap
constexpr float kRungLeast = 76;           // a column of the board, else its rows are stacked
constexpr float kClipWidth = 120, kClipHeight = 14;
constexpr float kOpenBar = 7;

struct NeedDrawing {
  Ui& ui;
  const NeedRow& row;
  float name_width;
  float x, width;

  KeyFace face() const {
    return {.words = row.key_words, .spoken = row.key_spoken, .kind = row.urgent ? KeyKind::main : KeyKind::plain, .step = Step::read};
  }
  Token ink() const { return row.urgent ? Token::mag : Token::ink; }

  // In one line: order, mark, name, sentence, rule, key.
  float in_line(float y, bool& pressed) const {
    const float scale = ui.text_scale();
    const float icon = std::round(28 * scale);
    const float icon_x = x + kGap + std::round(32 * scale);  // room for two digits of the order
    const float name_x = icon_x + icon + kSpace;
    const float words_x = name_x + name_width + kGap;
    const float key_width = std::round(kNeedKey * scale);
    const float key_x = x + width - key_width - 6;
    const Pen rule{Step::fine, Token::ink2, false, Align::right};
    const float rule_width = row.rule.empty() ? 0 : ui.width_of(row.rule, rule) + 1;
    const float words_width = key_x - kSpace - rule_width - kGap - words_x;
    const float words = ui.size_of(row.sentence, {Step::read}, words_width).height;
    const float name = ui.size_of(row.name, {Step::cue, Token::ink, true}, name_width).height;
    const float key_height = ui.key_height(face(), key_width, kTouch);
    const float height = std::max({kNeedRow, words + kGap, name + kGap, key_height + kSpace});
    ground(y, height);
    const auto middle = [&](float own) { return y + std::floor((height - own) / 2); };
    ui.write(row.order, {Step::cue, Token::ink2, true}, x + kGap, middle(ui.line(Step::cue)), icon_x - x - kGap);
    ui.icon(row.icon, icon_x, middle(icon), icon, ink());
    ui.write(row.name, {Step::cue, ink(), true}, name_x, middle(name), name_width);
    ui.write(row.sentence, {Step::read, Token::ink}, words_x, middle(words), words_width);
    ui.write(row.rule, rule, key_x - kSpace - rule_width, middle(ui.line(Step::fine)), rule_width);
    pressed = !row.key_words.empty() && ui.key("key", face(), {key_x, middle(key_height), key_width, key_height});
    return height;
  }

  float stacked(float y, bool& pressed) const {
    const float icon = std::round(kIcon * ui.text_scale());
    const float inner_x = x + kGap;
    const float inner = width - 2 * kGap;
    const float name_x = inner_x + icon + kGap;
    const Pen rule{Step::fine, Token::ink2, false, Align::right};
    const float rule_width = row.rule.empty() ? 0 : ui.width_of(row.rule, rule) + 1;
    const float words_width = inner_x + inner - name_x - rule_width - (rule_width > 0 ? kGap : 0);
    const float name = ui.size_of(row.name, {Step::cue, Token::ink, true}, words_width).height;
    const float words = ui.size_of(row.sentence, {Step::read}, inner).height;
    const float key_height = row.key_words.empty() ? 0 : ui.key_height(face(), inner, kTouch) + kGap;
    const float height = kGap + name + words + kGap + key_height;
    ground(y, height);
    ui.icon(row.icon, inner_x, y + kGap + std::floor((ui.line(Step::cue) - icon) / 2), icon, ink());
    ui.write(row.name, {Step::cue, ink(), true}, name_x, y + kGap, words_width);
    ui.write(row.rule, rule, inner_x + inner - rule_width, y + kGap + 2, rule_width);
    ui.write(row.sentence, {Step::read, Token::ink}, inner_x, y + kGap + name, inner);
    if (key_height > 0) pressed = ui.key("key", face(), {inner_x, y + kGap + name + words + kGap, inner, key_height - kGap});
    return height;
  }

  void ground(float y, float height) const {
    if (row.urgent) {
      ui.fill({x, y, width, height}, Token::mag_tint);
      ui.edge({x, y, width, height}, Token::mag, kEdge);
    }
    ui.rule(x, y + height, x + width, y + height, row.urgent ? Token::mag : Token::line, 1);
  }
};

float draw_needs(Ui& ui, const SquadView& view, float x, float y, float width, std::vector<SquadIntent>& out) {
  const float start = y;
  const float most = std::round(kNameMost * ui.text_scale());
  float name_width = 0;
  for (const NeedRow& row : view.needs) name_width = std::max(name_width, std::min(most, ui.width_of(row.name, {Step::cue, Token::ink, true}) + 1));
  y += section_head(ui, "needs-title", {.title = view.needs_title, .right = view.needs_line, .step = Step::mark}, x, y, width);
  if (view.needs.empty()) return y + kGap + ui.text("none", view.needs_none, {Step::say, Token::ink2}, x, y + kGap, width) - start;
  const bool wide = width / ui.text_scale() >= kNeedWide;
  const auto list = ui.group("needs", model::Role::region, view.needs_title);
  for (std::uint32_t i = 0; i < view.needs.size(); ++i) {
    const auto row = ui.group("need-" + std::to_string(i), model::Role::group, view.needs[i].spoken);
    const NeedDrawing drawing{ui, view.needs[i], name_width, x, width};
    bool pressed = false;
    const float height = wide ? drawing.in_line(y, pressed) : drawing.stacked(y, pressed);
    if (pressed) out.push_back(PressNeed{i});
    y += height + 1;
  }
  return y - start;
}

// Water above, land below; a day that should have brought something shows broken lines.
void draw_days(Ui& ui, const std::vector<DayBox>& days, float x, float y) {
  constexpr float kHalf = kDayHeight / 2, kSmall = 14;
  for (const DayBox& day : days) {
    const Box box{x, y, kDay, kDayHeight};
    if (day.water) ui.fill({x, y, kDay, day.land ? kHalf : kDayHeight}, Token::sea, 2);
    if (day.land) ui.fill({x, day.water ? y + kHalf : y, kDay, day.water ? kHalf : kDayHeight}, Token::land, 2);
    ui.edge(box, Token::line, 1.5F, 2);
    const float left = x + std::floor((kDay - kSmall) / 2);
    const float middle = y + std::floor((kDayHeight - kSmall) / 2);
    if (day.water) ui.icon(Icon::swim, left, day.land ? y + 3 : middle, kSmall, Token::ink);
    if (day.land) ui.icon(Icon::land, left, day.water ? y + kHalf + 1 : middle, kSmall, Token::ink);
    if (day.missing && !day.water && !day.land) ui.icon(Icon::missing, left, middle, kSmall, Token::ink2);
    x += kDayEvery;
  }
}

struct Columns {
  float name = 0, seen = 0, days = 0, rung = 0;  // widths
  bool fits = false;
};

Columns columns_of(const Ui& ui, const SquadView& view, float width) {
  Columns columns;
  const float icon = std::round(20 * ui.text_scale());
  const auto heads = [&](std::size_t i) { return i < view.heads.size() ? ui.width_of(view.heads[i], {Step::fine, Token::ink2}) : 0; };
  columns.name = heads(0);
  columns.seen = heads(1);
  std::size_t rungs = 1;
  for (const SquadRow& row : view.rows) {
    columns.name = std::max(columns.name, ui.width_of(row.name, {Step::say, Token::ink, true}) + kGap + icon);
    columns.seen = std::max(columns.seen, ui.width_of(row.last_seen, {Step::read, Token::ink}));
    rungs = std::max(rungs, row.rungs.size());
  }
  columns.name = std::min(columns.name, std::round(kNameMost * ui.text_scale()));
  columns.days = std::max(heads(2), 7 * kDayEvery);
  const float left = width - 2 * kSpace - columns.name - columns.seen - columns.days - 3 * kSpace;
  columns.rung = std::floor(left / static_cast<float>(rungs));
  columns.fits = columns.rung >= kRungLeast * ui.text_scale();
  return columns;
}

struct RowDrawing {
  Ui& ui;
  const SquadView& view;
  const SquadRow& row;
  Columns columns;
  float x, width;

  Pen rung_pen(const RungCell& cell) const { return {Step::read, cell.stopped ? Token::mag : Token::ink, cell.stopped}; }

  float in_line(float y, float height, bool draws) const {
    const float icon = std::round(20 * ui.text_scale());
    float at = x + kSpace;
    const auto middle = [&](float own) { return y + std::floor((height - own) / 2); };
    const Pen name{Step::say, row.urgent ? Token::mag : Token::ink, true};
    const float name_width = columns.name - (row.icon == Icon::none ? 0 : icon + 4);
    float most = ui.size_of(row.name, name, name_width).height;
    if (draws) {
      ui.write(row.name, name, at, middle(most), name_width);
      ui.icon(row.icon, at + columns.name - icon, middle(icon), icon, row.urgent ? Token::mag : Token::ink);
    }
    at += columns.name + kSpace;
    if (draws) ui.write(row.last_seen, {Step::read, Token::ink}, at, middle(ui.line(Step::read)), columns.seen + 1);
    at += columns.seen + kSpace;
    if (draws) draw_days(ui, row.days, at, middle(kDayHeight));
    at += columns.days + kSpace;
    for (const RungCell& cell : row.rungs) {
      const float own = ui.size_of(cell.words, rung_pen(cell), columns.rung - kGap).height;
      if (draws) ui.write(cell.words, rung_pen(cell), at, middle(own), columns.rung - kGap);
      most = std::max(most, own);
      at += columns.rung;
    }
    return most + kGap;
  }

  float stacked(float y) const {
    const float inner_x = x + kSpace;
    const float inner = width - 2 * kSpace;
    const float icon = row.icon == Icon::none ? 0 : std::round(20 * ui.text_scale());
    const Pen name{Step::cue, row.urgent ? Token::mag : Token::ink, true};
    const Pen seen{Step::read, Token::ink2, false, Align::right};
    const float seen_width = ui.width_of(row.last_seen, seen) + 1;
    const float name_width = ui.width_of(row.name, name) + 1;
    const bool beside = name_width + kGap + icon + kMargin + seen_width <= inner;
    float used = kGap;
    const float first = ui.write(row.name, name, inner_x, y + used, inner - icon - kGap);
    ui.icon(row.icon, beside ? inner_x + name_width + kGap : inner_x + inner - icon, y + used + 2, icon, name.token);
    if (beside) ui.write(row.last_seen, seen, inner_x, y + used + 2, inner);
    used += first;
    if (!beside) used += ui.write(row.last_seen, {Step::read, Token::ink2}, inner_x, y + used, inner);
    used += 4;
    draw_days(ui, row.days, inner_x, y + used);
    used += kDayHeight + 4;
    float at = inner_x;  // beside each other, as many as have room
    for (std::size_t i = 0; i < row.rungs.size(); ++i) {
      const RungCell& cell = row.rungs[i];
      const std::string words = (i + 3 < view.heads.size() ? view.heads[i + 3] + " " : "") + cell.words;
      const float own = ui.width_of(words, rung_pen(cell)) + 1;
      if (at > inner_x && at + own > inner_x + inner) {
        at = inner_x;
        used += ui.line(Step::read);
      }
      const float height = ui.write(words, rung_pen(cell), at, y + used, inner);
      if (height > ui.line(Step::read)) used += height - ui.line(Step::read);
      at += own + kMargin;
    }
    return used + (row.rungs.empty() ? 0 : ui.line(Step::read)) + kGap;
  }

  bool draw(float y, float& height) const {
    height = columns.fits ? std::max(kTouch, in_line(y, 0, false)) : ui.measure([&] { return stacked(y); });
    const CellAnswer cell =
        ui.cell("open", {.role = model::Role::button, .answers = model::Answers::press, .name = row.spoken, .pressed = row.open, .rect = {x, y, width, height}});
    if (row.open || cell.down) ui.fill({x + kEdge, y, width - 2 * kEdge, height}, Token::land);
    if (row.open) ui.fill({x, y, kOpenBar, height}, Token::ink);
    if (columns.fits) in_line(y, height, true);
    else stacked(y);
    ui.rule(x + kGap, y + height, x + width - kGap, y + height, Token::line, 1);
    return cell.pressed;
  }
};

float draw_board(Ui& ui, const SquadView& view, float x, float y, float width, std::vector<SquadIntent>& out) {
  const float start = y;
  y += section_head(ui, "board-title", {.title = view.board_title, .right = view.board_line, .step = Step::mark}, x, y, width) + kGap;
  const float top = y;
  if (view.rows.empty()) return y + ui.text("board-none", view.board_none, {Step::say, Token::ink2}, x, y, width) - start;
  const Columns columns = columns_of(ui, view, width);
  y += kClipHeight / 2 + 2;
  if (columns.fits) {
    float at = x + kSpace;
    for (std::size_t i = 0; i < view.heads.size(); ++i) {
      const float own = i == 0 ? columns.name + kSpace : i == 1 ? columns.seen + kSpace : i == 2 ? columns.days + kSpace : columns.rung;
      ui.write(view.heads[i], {Step::fine, Token::ink2}, at, y, own);
      at += own;
    }
    y += ui.line(Step::fine) + 4;
    ui.rule(x, y, x + width, y, Token::ink, kEdge);
  }
  const auto board = ui.group("board", model::Role::region, view.board_title);
  for (std::uint32_t i = 0; i < view.rows.size(); ++i) {
    const auto path = ui.in("row", i);
    float height = 0;
    if (RowDrawing{ui, view, view.rows[i], columns, x, width}.draw(y, height)) out.push_back(OpenSwimmer{i});
    y += height + 1;
  }
  ui.edge({x, top, width, y - top}, Token::ink, kEdge, kBoardCorner);
  ui.fill({x + std::floor((width - kClipWidth) / 2), top - kClipHeight / 2, kClipWidth, kClipHeight}, Token::ink, 2);
  return y - start;
}

float draw_list(Ui& ui, const SquadView& view, float x, float y, float width, std::vector<SquadIntent>& out) {
  const float start = y;
  y += draw_needs(ui, view, x, y, width, out) + kMargin;
  y += draw_board(ui, view, x, y, width, out) + kSpace;
  if (view.add_words.empty()) return y - start;
  const KeyFace face{.words = view.add_words, .icon = Icon::plus, .step = Step::say};
  const float own = std::min(width, ui.key_width(face) + 2 * kMargin);
  const float height = ui.key_height(face, own, kKey);
  if (ui.key("add", face, {x, y, own, height})) out.push_back(AddSwimmer{});
  return y + height - start;
}

}  // namespace

bool squad_stands_beside(const Ui& ui) { return ui.touch_units(ui.page_room().width) >= kBeside; }

std::vector<SquadIntent> draw_squad_screen(Ui& ui, const SquadView& view, std::vector<AskAnswer>& answers) {
  std::vector<SquadIntent> out;
  const Box room = ui.room();
  const float margin = page_margin(ui, room);
  const float x = room.x + margin;
  const float y = room.y + kMargin;
  const float width = room.width - 2 * margin;
  if (!squad_stands_beside(ui)) {
    if (view.swimmer.empty()) draw_list(ui, view, x, y, width, out);
    else draw_swimmer_page(ui, view.swimmer[0], true, x, y, reading_column(ui, room).width, out, answers);
    return out;
  }
  const float page = std::round(kPageWidth * ui.text_scale());
  const float list = width - page - 2 * margin - kPost;
  const float page_x = x + list + 2 * margin + kPost;
  const float left = draw_list(ui, view, x, y, list, out);
  float right = 0;
  if (!view.swimmer.empty()) right = draw_swimmer_page(ui, view.swimmer[0], false, page_x, y, page, out, answers);
  else if (!view.choose_words.empty()) right = ui.text("choose", view.choose_words, {Step::say, Token::ink2}, page_x, y, page);
  const float foot = std::max({y + left, y + right, room.y + room.height}) + kMargin;
  ui.fill({x + list + margin, 0, kPanelEdge, foot}, Token::ink);
  return out;
}

}  // namespace slipway::screens
