// Pieces that more than one place is made of: rows of keys, panels, the pen tray.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "screens/ui.h"

namespace slipway::screens {

struct RowKey {
  std::string_view key;
  KeyFace face;
};

struct RowAnswer {
  std::optional<std::size_t> pressed;
  float height = 0;
};

// Equal keys beside each other; icons above the words, then fewer in a row, where words are long.
RowAnswer key_row(Ui& ui, std::span<const RowKey> keys, float x, float y, float width);

// A magenta panel: icon, title, words, keys at its foot.
struct Panel {
  std::string_view key;
  Icon icon = Icon::caution;
  std::string_view title;
  std::string_view body;
  std::vector<RowKey> keys = {};
};
RowAnswer draw_panel(Ui& ui, const Panel& panel, float x, float y, float width);

// Words one below the other; returns the height used.
float draw_paragraphs(Ui& ui, std::string_view key, std::span<const std::string> paragraphs, const Pen& pen, float x, float y, float width);

// The tray under the whiteboard, from edge to edge of the page: plan above, hand below.
void draw_tray(Ui& ui, float x, float y, float width);

// The arrangement of the page: two halves beside each other; a phone on its side; places at the left.
bool is_wide(const Ui& ui);
bool is_short(const Ui& ui);
bool has_rail(const Ui& ui);

// A column that stays readable on a wide page: at most kColumnMost, with the page's margins.
Box reading_column(const Ui& ui, const Box& room);
float page_margin(const Ui& ui, const Box& room);

}  // namespace slipway::screens
