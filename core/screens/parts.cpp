#include "screens/parts.h"

#include <algorithm>
#include <cmath>

namespace slipway::screens {

namespace {

using namespace metrics;

constexpr float kWideFrom = 600 / kTouch, kRailFrom = 1024 / kTouch;
constexpr float kShortBelow = 480;  // CSS pixels of height
constexpr float kPanelPadding = 10, kPanelIcon = 28, kKeyBeside = 88;
constexpr float kSpace = 12;
constexpr float kRowEnd = 18, kBoxEdge = 1.5F;
constexpr float kRowWords = 120;     // left of a row beside its value
constexpr float kRope = 24, kFloatWidth = 10, kFloatHeight = 6, kFloatEvery = 14;
constexpr float kLabel = 104, kLabelledLeast = 150;
constexpr float kPenWidth = 54, kPenHeight = 5, kPenTip = 8, kPenInset = 22;
constexpr float kWiperWidth = 40, kWiperHeight = 6, kWiperInset = 70;

float share_of(const Ui& ui, float width, std::size_t columns) {
  return std::floor((width - ui.gap() * static_cast<float>(columns - 1)) / static_cast<float>(columns));
}

bool all_fit(const Ui& ui, std::span<const RowKey> keys, float width) {
  return std::all_of(keys.begin(), keys.end(), [&](const RowKey& key) { return ui.key_width(key.face) <= width; });
}

// How many stand in a row; icons move above the words before a row is broken.
std::size_t columns_of(const Ui& ui, std::vector<RowKey>& keys, float width) {
  for (std::size_t columns = keys.size(); columns > 1; --columns) {
    if (all_fit(ui, keys, share_of(ui, width, columns))) return columns;
    std::vector<RowKey> stacked = keys;
    for (RowKey& key : stacked) {
      key.face.stacked = key.face.icon != Icon::none;
      key.face.step = std::min(key.face.step, Step::read);
    }
    if (all_fit(ui, stacked, share_of(ui, width, columns))) {
      keys = stacked;
      return columns;
    }
  }
  return 1;
}

}  // namespace

RowAnswer key_row(Ui& ui, std::span<const RowKey> keys, float x, float y, float width, float least, bool mirrored) {
  RowAnswer answer;
  if (keys.empty()) return answer;
  std::vector<RowKey> row(keys.begin(), keys.end());
  const std::size_t most = columns_of(ui, row, width);
  const std::size_t lines = (row.size() + most - 1) / most;
  const std::size_t columns = (row.size() + lines - 1) / lines;  // even: two and two rather than three and one
  for (std::size_t first = 0; first < row.size(); first += columns) {
    const std::size_t count = std::min(columns, row.size() - first);
    const float each = share_of(ui, width, count);
    float height = 0;
    for (std::size_t i = 0; i < count; ++i) height = std::max(height, ui.key_height(row[first + i].face, each, least));
    if (first > 0) answer.height += ui.gap();
    for (std::size_t i = 0; i < count; ++i) {
      const std::size_t place = mirrored ? count - 1 - i : i;
      const float left = x + static_cast<float>(place) * (each + ui.gap());
      const float own = place + 1 == count ? x + width - left : each;
      if (ui.key(row[first + i].key, row[first + i].face, {left, y + answer.height, own, height})) answer.pressed = first + i;
    }
    answer.height += height;
  }
  return answer;
}

float lone_key_width(const Ui& ui, const KeyFace& face, float width) {
  constexpr float kLeast = 240, kNarrow = 480;
  if (width <= kNarrow * ui.text_scale()) return width;
  return std::min(width, std::max(kLeast * ui.text_scale(), ui.key_width(face) + 2 * kMargin));
}

namespace {

// One key at the right of the words, low enough to leave the page to the work.
RowAnswer draw_slim_panel(Ui& ui, const Panel& panel, float x, float y, float width) {
  constexpr float kInside = 4;
  const Pen title{Step::read, Token::mag, true};
  const Pen body{Step::fine, Token::mag};
  const RowKey& key = panel.keys.front();
  const float key_width = std::max(ui.key_width(key.face), std::round(kKeyBeside * ui.text_scale()));
  const float icon = std::round(kPanelIcon * ui.text_scale());
  const float words_x = x + kPanelPadding + icon + kGap;
  const float words_width = x + width - kInside - key_width - kGap - words_x;
  const float title_height = ui.size_of(panel.title, title, words_width).height;
  const float words_height = title_height + (panel.body.empty() ? 0 : ui.size_of(panel.body, body, words_width).height);
  const float key_height = ui.key_height(key.face, key_width, kTouch);
  const Box box{x, y, width, std::max(words_height, key_height) + 2 * kInside};

  const auto group = ui.group(panel.key, model::Role::group, panel.title, box);
  ui.fill(box, Token::mag_tint, kPanelCorner);
  ui.edge(box, Token::mag, kPanelEdge, kPanelCorner);
  ui.icon(panel.icon, x + kPanelPadding, y + std::floor((box.height - icon) / 2), icon, Token::mag);
  const float words_y = y + std::floor((box.height - words_height) / 2);
  ui.heading("title", panel.title, title, words_x, words_y, words_width);
  if (!panel.body.empty()) ui.text("body", panel.body, body, words_x, words_y + title_height, words_width);
  RowAnswer answer;
  answer.height = box.height;
  if (ui.key(key.key, key.face, {x + width - kInside - key_width, y + std::floor((box.height - key_height) / 2), key_width, key_height})) answer.pressed = 0;
  return answer;
}

bool fits_beside(const Ui& ui, const Panel& panel, float width) {
  constexpr float kWords = 170;
  return panel.keys.size() == 1 && width - ui.key_width(panel.keys.front().face) >= kWords * ui.text_scale() + kPanelIcon + 2 * kPanelPadding;
}

}  // namespace

RowAnswer draw_panel(Ui& ui, const Panel& panel, float x, float y, float width) {
  if (panel.slim && fits_beside(ui, panel, width)) return draw_slim_panel(ui, panel, x, y, width);
  const Pen title{Step::cue, Token::mag, true};
  const Pen body{Step::read, Token::mag};
  const float icon = std::round(kPanelIcon * ui.text_scale());
  const float words_x = x + kPanelPadding + icon + kPanelPadding;
  const float words_width = x + width - kPanelPadding - words_x;
  const float title_height = ui.size_of(panel.title, title, words_width).height;
  const float body_height = panel.body.empty() ? 0 : ui.size_of(panel.body, body, words_width).height;
  const float keys_y = y + kPanelPadding + title_height + body_height + kGap;
  const float keys_x = x + kPanelPadding;
  const float keys_width = width - 2 * kPanelPadding;
  const float keys_height =
      panel.keys.empty() ? 0 : ui.measure([&] { return key_row(ui, panel.keys, keys_x, keys_y, keys_width).height; }) + kGap;
  const Box box{x, y, width, keys_y + keys_height + (panel.keys.empty() ? 2 : 0) - y};

  const auto group = ui.group(panel.key, model::Role::group, panel.title, box);
  ui.fill(box, Token::mag_tint, kPanelCorner);
  ui.edge(box, Token::mag, kPanelEdge, kPanelCorner);
  ui.icon(panel.icon, x + kPanelPadding, y + kPanelPadding + std::floor((ui.line(Step::cue) - icon) / 2), icon, Token::mag);
  ui.heading("title", panel.title, title, words_x, y + kPanelPadding, words_width);
  if (!panel.body.empty()) ui.text("body", panel.body, body, words_x, y + kPanelPadding + title_height, words_width);
  RowAnswer answer = key_row(ui, panel.keys, keys_x, keys_y, keys_width);
  answer.height = box.height;
  return answer;
}

RowAnswer list_row(Ui& ui, std::string_view key, const ListRow& row, float x, float y, float width) {
  const Pen title{Step::cue, row.ink, true};
  const Pen line{Step::read, row.ink == Token::ink ? Token::ink2 : row.ink};
  const Pen value{Step::say, row.ink, true, Align::right};
  const float icon = std::round(kIcon * ui.text_scale());
  const float end = std::round(kRowEnd * ui.text_scale());
  const float pad = row.boxed ? kSpace : 0;
  const float words_x = x + pad + (row.icon == Icon::none ? 0 : icon + kSpace);
  float right = x + width - pad;
  const float end_x = right - end;
  if (row.end != Icon::none) right -= end + 4;
  const float mark_x = right - end;
  if (row.mark != Icon::none) right -= end + kGap;
  const float value_width = row.value.empty() ? 0 : ui.width_of(row.value, value) + 1;
  const bool beside = right - words_x - value_width >= kRowWords * ui.text_scale();
  const float words_width = right - words_x - (beside && value_width > 0 ? value_width + kGap : 0);
  const auto words = [&](float top) {
    float height = ui.write(row.title, title, words_x, top, words_width);
    if (!row.line.empty()) height += ui.write(row.line, line, words_x, top + height, words_width);
    if (!beside) height += ui.write(row.value, {Step::say, row.ink, true}, words_x, top + height, words_width);
    return height;
  };
  const float words_height = ui.measure([&] { return words(0); });
  RowAnswer answer;
  answer.height = std::max(row.least, std::ceil(words_height + 2 * kGap));
  const Box box{x, y, width, answer.height};
  std::string spoken(row.spoken.empty() ? row.title : row.spoken);
  if (row.spoken.empty())
    for (const std::string_view more : {row.line, row.value})
      if (!more.empty()) spoken.append(", ").append(more);
  const CellAnswer cell = ui.cell(key, {.role = model::Role::button, .answers = model::Answers::press, .name = spoken, .pressed = row.open, .rect = box});
  if (cell.pressed) answer.pressed = 0;
  const Token ground = cell.down ? Token::land : row.ground;
  if (ground != Token::paper) ui.fill(box, ground, row.boxed ? kPanelCorner : 0);
  if (row.boxed) ui.edge(box, row.ink, row.ink == Token::ink ? kBoxEdge : kEdge, kPanelCorner);
  else ui.rule(x, y + answer.height, x + width, y + answer.height, Token::line, 1);
  const float middle = y + answer.height / 2;
  ui.icon(row.icon, x + pad, std::floor(middle - icon / 2), icon, row.ink);
  words(y + std::floor((answer.height - words_height) / 2));
  if (beside && value_width > 0) ui.write(row.value, value, words_x, std::floor(middle - ui.line(Step::say) / 2), right - words_x);
  ui.icon(row.mark, mark_x, std::floor(middle - end / 2), end, row.ink);
  ui.icon(row.end, end_x, std::floor(middle - end / 2), end, row.ink);
  return answer;
}

float section_head(Ui& ui, std::string_view key, const Head& head, float x, float y, float width) {
  const float icon = head.icon == Icon::none ? 0 : std::round(kIcon * ui.text_scale());
  const float words_x = x + icon + (icon > 0 ? kGap : 0);
  const float words_width = x + width - words_x;
  const Pen pen{head.step, head.ink, true};
  const float right_width = head.right.empty() ? 0 : ui.width_of(head.right, {Step::read, Token::ink2}) + 1;
  const bool beside = ui.width_of(head.title, pen) + kMargin + right_width <= words_width;
  ui.icon(head.icon, x, y + std::floor((ui.line(head.step) - icon) / 2), icon, head.ink);
  const float title = ui.heading(key, head.title, pen, words_x, y, words_width - (beside ? right_width : 0));
  float height = title;
  if (!head.right.empty()) {
    const auto path = ui.in(key);
    const float right_y = beside ? y + ui.baseline(head.step) - ui.baseline(Step::read) : y + height;
    const float right_x = beside ? x + width - right_width : words_x;
    const float used = ui.text("right", head.right, {Step::read, Token::ink2}, right_x, right_y, x + width - right_x);
    if (!beside) height += used;
  }
  ui.rule(x, y + height + 4, x + width, y + height + 4, head.ink, kEdge);
  return height + 4 + kEdge;
}

float draw_place_head(Ui& ui, const PlaceHead& head, float x, float y, float width) {
  const Pen title{Step::mark, Token::ink, true};
  const Pen kept{Step::fine, Token::ink, true};
  const float icon = std::round(18 * ui.text_scale());
  const float kept_width = head.kept.empty() ? 0 : std::min(width, icon + kGap + ui.width_of(head.kept, kept) + 1);
  const bool beside = ui.width_of(head.title, title) + kMargin + kept_width <= width;
  const float start = y;
  const float beside_y = y + ui.baseline(Step::mark) - ui.baseline(Step::fine);
  y += ui.heading("title", head.title, title, x, y, width - (beside ? kept_width : 0));
  if (!head.line.empty()) y += ui.text("line", head.line, {Step::read, Token::ink2}, x, y, width);
  if (head.kept.empty()) return y - start;
  const float left = beside ? x + width - kept_width : x;
  const float top = beside ? beside_y : y;
  ui.icon(head.kept_icon, left, top + std::floor((ui.line(Step::fine) - icon) / 2), icon, Token::ink);
  const float height = ui.write(head.kept, kept, left + icon + kGap, top, kept_width - icon - kGap);
  ui.spoken("kept", head.kept, {left, top, kept_width, height}, model::Role::status);
  return y + (beside ? 0 : height) - start;
}

float draw_back(Ui& ui, std::string_view words, float x, float y, float width, bool& pressed) {
  const KeyFace face{.words = words, .icon = Icon::undo, .step = Step::say};
  const float own = std::min(width, ui.key_width(face) + kMargin);
  const float height = ui.key_height(face, own, kTouch);
  pressed = ui.key("back", face, {x, y, own, height});
  return height;
}

float draw_rope(Ui& ui, float x, float y, float width) {
  const float middle = y + kRope / 2;
  ui.rule(x, middle, x + width, middle, Token::line, 1);
  int float_number = 1;
  for (float at = x + 4; at + kFloatWidth <= x + width; at += kFloatEvery, ++float_number) {
    const Box box{at, middle - kFloatHeight / 2, kFloatWidth, kFloatHeight};
    ui.fill(box, float_number % 5 == 0 ? Token::line : Token::paper, 2);
    ui.edge(box, Token::line, 1, 2);
  }
  return kRope;
}

float draw_labelled(Ui& ui, std::string_view label, std::string_view words, Icon icon, float x, float y, float width) {
  const float icon_size = icon == Icon::none ? 0 : std::round(20 * ui.text_scale());
  const float label_x = x + icon_size + (icon_size > 0 ? kGap : 0);
  const float label_width = std::round(kLabel * ui.text_scale());
  const bool beside = label_x + label_width + kLabelledLeast * ui.text_scale() <= x + width;
  const Pen bold{Step::read, Token::ink, true};
  ui.icon(icon, x, y + std::floor((ui.line(Step::read) - icon_size) / 2), icon_size, Token::ink);
  const float first = ui.write(label, bold, label_x, y, beside ? label_width : x + width - label_x);
  const float words_x = beside ? label_x + label_width + kGap : label_x;
  const float words_y = beside ? y : y + first;
  const float second = ui.write(words, {Step::read, Token::ink}, words_x, words_y, x + width - words_x);
  return beside ? std::max(first, second) : first + second;
}

float draw_paragraphs(Ui& ui, std::string_view key, std::span<const std::string> paragraphs, const Pen& pen, float x, float y, float width) {
  const float space = std::round(ui.line(pen.step) * 0.4F);
  float height = 0;
  for (std::size_t i = 0; i < paragraphs.size(); ++i) {
    if (i > 0) height += space;
    const auto path = ui.in(key, i);
    height += ui.text("words", paragraphs[i], pen, x, y + height, width);
  }
  return height;
}

void draw_tray(Ui& ui, float x, float y, float width) {
  ui.fill({x, y, width, kTray}, Token::ink);
  ui.fill({x + kPenInset, y - kPenHeight, kPenWidth, kPenHeight}, Token::deep);
  ui.fill({x + kPenInset + kPenWidth, y - kPenHeight + 1, kPenTip, 3}, Token::ink);
  ui.fill({x + width - kWiperInset, y - kWiperHeight, kWiperWidth, kWiperHeight}, Token::ink2);
}

bool is_wide(const Ui& ui) { return ui.touch_units(ui.page_room().width) >= kWideFrom; }
bool is_short(const Ui& ui) { return ui.page_room().height < kShortBelow; }
bool has_rail(const Ui& ui) { return ui.touch_units(ui.page_room().width) >= kRailFrom || (is_wide(ui) && is_short(ui)); }

float page_margin(const Ui& ui, const Box& room) {
  constexpr float kTablet = 768 / kTouch, kDesktop = 1024 / kTouch;
  const float units = ui.touch_units(room.width);
  return units >= kDesktop ? 24 : units >= kTablet ? 20 : kMargin;
}

Box reading_column(const Ui& ui, const Box& room) {
  const float margin = page_margin(ui, room);
  const float width = std::min(room.width - 2 * margin, std::round(kColumnMost * ui.text_scale()));
  return {room.x + margin, room.y, width, room.height};
}

}  // namespace slipway::screens
