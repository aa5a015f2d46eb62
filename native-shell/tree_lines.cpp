#include "tree_lines.h"

#include <cmath>

namespace slipway::native {

namespace {

std::string whole(float length) { return std::to_string(std::lround(length)); }

std::string place_of(const model::Tree& tree, const model::Node& node) {
  model::Rect rect = node.rect;
  for (const model::ScrollArea& area : tree.areas) {
    if (area.id != node.area) continue;
    rect.x += area.rect.x;
    rect.y += area.rect.y - area.scroll_y;
  }
  return whole(rect.x) + "," + whole(rect.y) + " " + whole(rect.width) + "x" + whole(rect.height);
}

std::string states_of(const model::Tree& tree, const model::Node& node) {
  std::string states;
  if (node.id == tree.focus) states += " focus";
  if (node.current) states += " current";
  if (node.checked) states += " checked";
  if (node.pressed) states += " pressed";
  if (node.disabled) states += " disabled";
  if (node.invalid) states += " invalid";
  return states;
}

}  // namespace

std::string tree_lines(const model::Tree& tree, std::uint64_t frame) {
  std::string out = "frame " + std::to_string(frame) + "\n";
  for (const model::Node& node : tree.nodes) {
    out += std::string(model::to_text(node.role)) + " \"" + node.name + "\"";
    if (!node.value.empty()) out += " = \"" + node.value + "\"";
    if (!node.hint.empty()) out += " (" + node.hint + ")";
    out += states_of(tree, node) + " at " + place_of(tree, node) + "\n";
  }
  for (const model::Announcement& said : tree.announcements) out += "said \"" + said.text + "\"\n";
  return out + "end\n";
}

}  // namespace slipway::native
