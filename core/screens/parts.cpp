#include "screens/parts.h"

#include <algorithm>
#include <cmath>

namespace slipway::screens {

namespace {

using namespace metrics;

constexpr float kWideFrom = 600 / kTouch, kRailFrom = 1024 / kTouch;
constexpr float kShortBelow = 480;  // CSS pixels of height
constexpr float kPanelPadding = 10, kPanelIcon = 28;
constexpr float kPenWidth = 54, kPenHeight = 5, kPenTip = 8, kPenInset = 22;
constexpr float kWiperWidth = 40, kWiperHeight = 6, kWiperInset = 70;

float share_of(float width, std::size_t columns) {
  return std::floor((width - kGap * static_cast<float>(columns - 1)) / static_cast<float>(columns));
}

bool all_fit(const Ui& ui, std::span<const RowKey> keys, float width) {
  return std::all_of(keys.begin(), keys.end(), [&](const RowKey& key) { return ui.key_width(key.face) <= width; });
}

// How many stand in a row; icons move above the words before a row is broken.
std::size_t columns_of(const Ui& ui, std::vector<RowKey>& keys, float width) {
  for (std::size_t columns = keys.size(); columns > 1; --columns) {
    if (all_fit(ui, keys, share_of(width, columns))) return columns;
    std::vector<RowKey> stacked = keys;
    for (RowKey& key : stacked) {
      key.face.stacked = key.face.icon != Icon::none;
      key.face.step = std::min(key.face.step, Step::read);
    }
    if (all_fit(ui, stacked, share_of(width, columns))) {
      keys = stacked;
      return columns;
    }
  }
  return 1;
}

}  // namespace

RowAnswer key_row(Ui& ui, std::span<const RowKey> keys, float x, float y, float width) {
  RowAnswer answer;
  if (keys.empty()) return answer;
  std::vector<RowKey> row(keys.begin(), keys.end());
  const std::size_t columns = columns_of(ui, row, width);
  for (std::size_t first = 0; first < row.size(); first += columns) {
    const std::size_t count = std::min(columns, row.size() - first);
    const float each = share_of(width, count);
    float height = 0;
    for (std::size_t i = 0; i < count; ++i) height = std::max(height, ui.key_height(row[first + i].face, each, kKey));
    if (first > 0) answer.height += kGap;
    for (std::size_t i = 0; i < count; ++i) {
      const float left = x + static_cast<float>(i) * (each + kGap);
      const float own = i + 1 == count ? x + width - left : each;
      if (ui.key(row[first + i].key, row[first + i].face, {left, y + answer.height, own, height})) answer.pressed = first + i;
    }
    answer.height += height;
  }
  return answer;
}

RowAnswer draw_panel(Ui& ui, const Panel& panel, float x, float y, float width) {
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

  const auto group = ui.group(panel.key, {.role = model::Role::group, .name = std::string(panel.title), .rect = box});
  ui.fill(box, Token::mag_tint, kPanelCorner);
  ui.edge(box, Token::mag, kPanelEdge, kPanelCorner);
  ui.icon(panel.icon, x + kPanelPadding, y + kPanelPadding + std::floor((ui.line(Step::cue) - icon) / 2), icon, Token::mag);
  ui.heading("title", panel.title, title, words_x, y + kPanelPadding, words_width);
  if (!panel.body.empty()) ui.text("body", panel.body, body, words_x, y + kPanelPadding + title_height, words_width);
  RowAnswer answer = key_row(ui, panel.keys, keys_x, keys_y, keys_width);
  answer.height = box.height;
  return answer;
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
