// What lies behind Ui: one pass of one frame, and what is remembered between frames.
// For the .cpp files of this room only.
#pragma once

#include <array>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "model/tree.h"
#include "screens/icons.h"
#include "screens/stage.h"
#include "screens/ui.h"

struct ImDrawList;
struct ImFont;

namespace slipway::screens {

inline constexpr float kB612Height = 1.215F;      // ascent less descent, in em: what Dear ImGui calls size [design 2]
inline constexpr float kFallbackHeight = 1.1640625F * 0.95F;  // DejaVu Sans at 0.95 of the size
inline constexpr float kKeyRiseSeconds = 0.08F;   // a pressed key comes up in 80 ms [design 7]

struct Fonts {
  ImFont* regular = nullptr;
  ImFont* bold = nullptr;
  ImFont* fallback_regular = nullptr;
  ImFont* fallback_bold = nullptr;
};

struct Memory {
  Fonts fonts;
  std::array<std::vector<Shape>, static_cast<std::size_t>(Icon::count)> icons;
  model::NodeId focus = 0;
  bool focus_moved = false;          // by the keyboard here: scroll to it
  model::NodeId opens = 0;           // the field that shall get the caret
  model::NodeId sheet = 0;           // the open sheet, and who had the focus before
  model::NodeId before_sheet = 0;
  std::map<model::NodeId, float> scroll;
  model::NodeId rising = 0;          // the key that is coming up
  float rise_left = 0;
  model::NodeId editing = 0;         // the field that has the caret
  std::string edit_sent;             // and what was last told of it
  model::NodeId typed_in = 0;        // the field that is typed into by name, and what stands in it
  std::string typed;
};

struct ScreenRect {
  float left = 0, top = 0, right = 0, bottom = 0;
};

struct Ui::Inside {
  Memory& memory;
  model::Tree& out;
  const FrameInput& input;
  const Theme& theme;
  std::vector<model::Action> actions;
  bool escape = false;
  ImDrawList* list = nullptr;

  std::vector<model::NodeId> path{14695981039346656037ULL};  // FNV-1a, 64 bit, one hash a level
  std::vector<std::size_t> parents = {};                     // places in out.nodes
  std::size_t area = 0;                                      // 1-based place in out.areas; 0: the page
  float area_x = 0, area_y = 0, scroll_y = 0;
  float content_foot = 0;
  int dry = 0;                                               // > 0: measuring
  float scroll_drawn = 0;
  model::NodeId focus_drawn = 0;
  model::NodeId main_key = 0;
  model::NodeId sheet = 0;
  bool ring = false;
  ScreenRect ring_box = {}, ring_clip = {};
  bool repeats = false;                                      // a key is held that fires again by itself

  model::NodeId id_of(std::string_view key) const;
  std::size_t add(std::string_view key, model::Node node);
  std::uint32_t presses(model::NodeId id) const;             // by Action, this pass
  // The Dear ImGui item of a node: fires on release inside. Says also whether it is held down.
  bool item(model::NodeId id, const Box& box, bool repeat, bool& held);
  bool worked(model::NodeId id, const Box& box, bool& down);  // item or Action, with focus and the rising key
  void take_focus(model::NodeId id);
  void note_ring(model::NodeId id, const Box& box);
  ScreenRect on_screen(const Box& box) const;
  std::uint32_t colour(Token token) const;
  ImFont* font_for(std::string_view words, bool bold) const;
  float font_size(Step step, const ImFont* font) const;
};

// The id under which Dear ImGui knows a node's item.
std::uint32_t item_id(model::NodeId id);
std::uint32_t field_item_id(model::NodeId id);  // of the typing inside a field

struct Line {
  std::string_view words;
  float width = 0;
};
std::vector<Line> lines_of(const Ui::Inside& in, std::string_view words, const Pen& pen, float width);

}  // namespace slipway::screens
