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
RowAnswer key_row(Ui& ui, std::span<const RowKey> keys, float x, float y, float width, float least = metrics::kKey,
                  bool mirrored = false);  // the first key at the right

// A key alone is as wide as its words need, at least this and at most the column.
float lone_key_width(const Ui& ui, const KeyFace& face, float width);

// A magenta panel: icon, title, words, keys at its foot.
struct Panel {
  std::string_view key;
  Icon icon = Icon::caution;
  std::string_view title;
  std::string_view body;
  std::vector<RowKey> keys = {};
  bool slim = false;  // one key at the right of small words, where the width allows it
};
RowAnswer draw_panel(Ui& ui, const Panel& panel, float x, float y, float width);

// A row that opens something, one target as a whole: icon, title, a second line, at the right
// a value, a mark and what a press does. `boxed` stands in an edge of its own, else on a rule.
struct ListRow {
  Icon icon = Icon::none;
  std::string_view title, line = {}, value = {};
  std::string_view spoken = {};          // empty: title, line and value
  Icon mark = Icon::none, end = Icon::right;
  Token ink = Token::ink, ground = Token::paper;
  bool boxed = false;
  bool open = false;                     // pressed down for as long as what it opened stands open
  float least = 66;
};
RowAnswer list_row(Ui& ui, std::string_view key, const ListRow& row, float x, float y, float width);

// A head on a rule, with a few words at its right where they fit, else below it.
struct Head {
  std::string_view title, right = {};
  Token ink = Token::ink;
  Icon icon = Icon::none;
  Step step = Step::cue;
};
float section_head(Ui& ui, std::string_view key, const Head& head, float x, float y, float width);

// The first lines of a place: title, its line, and the mark of what is kept.
struct PlaceHead {
  std::string_view title, line = {}, kept = {};
  Icon kept_icon = Icon::kept;
};
float draw_place_head(Ui& ui, const PlaceHead& head, float x, float y, float width);

// The key that leads from a page of its own to where one came from, as wide as its words.
float draw_back(Ui& ui, std::string_view words, float x, float y, float width, bool& pressed);

// A lane rope between two regions of one page; returns the height used.
float draw_rope(Ui& ui, float x, float y, float width);

// Label in bold and what belongs to it, beside each other or, narrow, one below the other.
float draw_labelled(Ui& ui, std::string_view label, std::string_view words, Icon icon, float x, float y, float width);

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
