// The semantic tree of one frame: everything the canvas shows, as plain data.
//
// Three uses (architecture 2): the browser's DOM mirror (screen readers, switches,
// the phone's own number pad, tests by role and name), the keyboard, and doctests
// that press by name without a window. Nodes stand in reading order, which is also
// the order of Tab. Ids are hashes of key paths, never of words.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace slipway::model {

using NodeId = std::uint64_t;  // 0 = none

enum class Role : std::uint8_t {
  region, group, heading, text, status, alert, button, spinbutton, textbox,
  radiogroup, radio, checkbox, grid, gridcell, rowheader, columnheader,
  row, list, listitem, tablist, tab, link, figure,
};

enum class Answers : std::uint8_t { nothing, press, set_value, step };  // step also answers set_value
enum class InputMode : std::uint8_t { none, text, numeric, decimal };

struct Rect {  // touch-independent CSS pixels, in content coordinates of the node's scroll area
  float x = 0, y = 0, width = 0, height = 0;
  friend bool operator==(const Rect&, const Rect&) = default;
};

struct Node {
  NodeId id = 0;
  NodeId parent = 0;           // a node earlier in reading order, or 0
  NodeId area = 0;             // the scroll area it lives in, 0 = the page itself
  Role role = Role::text;
  Answers answers = Answers::nothing;
  InputMode input = InputMode::none;
  std::string name = {};       // what is spoken first
  std::string value = {};      // current value of a field or stepper
  std::string hint = {};       // description: the cue, then the reason; also error text of a field
  std::int64_t low = 0, high = 0, now = 0;  // of a spinbutton
  bool disabled = false;
  bool checked = false;        // radio, checkbox
  bool pressed = false;        // toggle button
  bool current = false;        // the next cell, the place shown
  bool invalid = false;        // field whose value is refused
  std::uint32_t position = 0, set_size = 0;  // in a list; 0 = not in one
  Rect rect = {};

  friend bool operator==(const Node&, const Node&) = default;
};

struct ScrollArea {
  NodeId id = 0;
  std::string name;
  Rect rect;                    // on the page
  float content_height = 0;
  float scroll_y = 0;

  friend bool operator==(const ScrollArea&, const ScrollArea&) = default;
};

struct Announcement {           // spoken once, when its serial first appears
  std::uint64_t serial = 0;
  bool urgent = false;
  std::string text;
  friend bool operator==(const Announcement&, const Announcement&) = default;
};

struct Tree {
  std::vector<Node> nodes;
  std::vector<ScrollArea> areas;
  std::vector<Announcement> announcements;
  NodeId focus = 0;

  const Node* find(Role role, std::string_view name) const;  // first exact match, else nullptr
  const Node* find(NodeId id) const;
  friend bool operator==(const Tree&, const Tree&) = default;
};

// What a hand, a key, a screen reader or a test did to a node.
enum class ActionKind : std::uint8_t { press, set_value, step_up, step_down, focus };
struct Action {
  NodeId node = 0;
  ActionKind kind = ActionKind::press;
  std::string value;  // set_value only
  friend bool operator==(const Action&, const Action&) = default;
};

std::string_view to_text(Role role);  // the ARIA role word: "button", "spinbutton" …
std::string dump(const Tree& tree);   // one line a node, for failure messages and text snapshots

}  // namespace slipway::model
