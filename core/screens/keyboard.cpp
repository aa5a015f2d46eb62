#include "screens/keyboard.h"

#include <algorithm>
#include <charconv>

namespace slipway::screens {

namespace {

using model::Action;
using model::ActionKind;
using model::Node;
using model::NodeId;
using model::Role;
using model::Tree;

constexpr std::uint32_t kPageOfSteps = 5;  // page up and down in a stepper

bool is_field(const Node& node) { return node.role == Role::textbox || node.role == Role::spinbutton; }
bool holds_arrows(Role role) { return role == Role::grid || role == Role::radiogroup || role == Role::tablist; }
bool is_inner(Role role) { return role == Role::gridcell || role == Role::radio || role == Role::tab; }

// The grid, choice or bar that a node is an inner stop of.
const Node* holder_of(const Tree& tree, const Node& node) {
  if (!is_inner(node.role)) return nullptr;
  for (const Node* up = tree.find(node.parent); up != nullptr; up = tree.find(up->parent))
    if (holds_arrows(up->role)) return up;
  return nullptr;
}

std::vector<const Node*> inner_of(const Tree& tree, NodeId holder) {
  std::vector<const Node*> inner;
  for (const Node& node : tree.nodes) {
    const Node* own = holder_of(tree, node);
    if (own != nullptr && own->id == holder) inner.push_back(&node);
  }
  return inner;
}

// Where Tab enters a holder: the chosen, next or shown one, else the first.
const Node* entry_of(const std::vector<const Node*>& inner) {
  for (const Node* node : inner)
    if (node->checked || node->current) return node;
  return inner.empty() ? nullptr : inner.front();
}

struct Stop {
  NodeId id = 0;      // where the focus goes
  NodeId holder = 0;  // the stop as a whole
};

std::vector<Stop> stops_of(const Tree& tree) {
  std::vector<Stop> stops;
  for (const Node& node : tree.nodes) {
    if (node.disabled) continue;
    if (holds_arrows(node.role)) {
      const Node* entry = entry_of(inner_of(tree, node.id));
      if (entry != nullptr) stops.push_back({entry->id, node.id});
    } else if (node.answers != model::Answers::nothing && holder_of(tree, node) == nullptr) {
      stops.push_back({node.id, node.id});
    }
  }
  return stops;
}

NodeId next_stop(const Tree& tree, NodeId focus, bool back) {
  const auto stops = stops_of(tree);
  if (stops.empty()) return 0;
  const Node* node = tree.find(focus);
  const Node* holder = node == nullptr ? nullptr : holder_of(tree, *node);
  const NodeId here = holder != nullptr ? holder->id : focus;
  const auto at = std::find_if(stops.begin(), stops.end(), [here](const Stop& stop) { return stop.holder == here; });
  if (at == stops.end()) return back ? stops.back().id : stops.front().id;
  const auto place = static_cast<std::size_t>(at - stops.begin());
  return stops[(place + (back ? stops.size() - 1 : 1)) % stops.size()].id;
}

// The region or bar a node stands in; 0 in none.
NodeId region_of(const Tree& tree, NodeId id) {
  for (const Node* node = tree.find(id); node != nullptr; node = tree.find(node->parent))
    if (node->role == Role::region || node->role == Role::tablist) return node->id;
  return 0;
}

// The first stop of the next region, of the one before, or of the only one.
NodeId next_region(const Tree& tree, NodeId focus, bool back) {
  std::vector<NodeId> regions;
  std::vector<NodeId> first;
  for (const Stop& stop : stops_of(tree)) {
    const NodeId region = region_of(tree, stop.id);
    if (std::find(regions.begin(), regions.end(), region) != regions.end()) continue;
    regions.push_back(region);
    first.push_back(stop.id);
  }
  if (first.empty()) return 0;
  if (tree.find(focus) == nullptr) return back ? first.back() : first.front();
  const auto at = std::find(regions.begin(), regions.end(), region_of(tree, focus));
  const auto place = static_cast<std::size_t>(at - regions.begin());
  return first[(place + (back ? first.size() - 1 : 1)) % first.size()];
}

// Up and down in a grid: the cell of the same column in the neighbouring row.
const Node* in_next_row(const Tree& tree, const std::vector<const Node*>& cells, const Node& from, bool down) {
  std::vector<NodeId> rows;
  for (const Node* cell : cells)
    if (rows.empty() || rows.back() != cell->parent) rows.push_back(cell->parent);
  const auto at = std::find(rows.begin(), rows.end(), from.parent);
  if (at == rows.end() || (down ? at + 1 == rows.end() : at == rows.begin())) return tree.find(from.id);
  const NodeId row = down ? *(at + 1) : *(at - 1);
  for (const Node* cell : cells)
    if (cell->parent == row && cell->position == from.position) return cell;
  return tree.find(from.id);
}

const Node* moved_inside(const Tree& tree, const Node& holder, const Node& from, Stroke stroke) {
  const auto inner = inner_of(tree, holder.id);
  const auto at = std::find_if(inner.begin(), inner.end(), [&from](const Node* node) { return node->id == from.id; });
  if (at == inner.end()) return nullptr;
  const auto place = static_cast<std::size_t>(at - inner.begin());
  const bool grid = holder.role == Role::grid;
  switch (stroke) {
    case Stroke::home: return inner.front();
    case Stroke::end: return inner.back();
    case Stroke::up:
    case Stroke::down:
      if (grid) return in_next_row(tree, inner, from, stroke == Stroke::down);
      [[fallthrough]];
    case Stroke::left:
    case Stroke::right: {
      const bool back = stroke == Stroke::left || stroke == Stroke::up;
      if (back ? place == 0 : place + 1 == inner.size()) return &from;
      return inner[back ? place - 1 : place + 1];
    }
    default: return nullptr;
  }
}

// A digit in a choice takes the one whose name begins with that number.
const Node* with_number(const Tree& tree, const Node& holder, std::uint32_t digit) {
  for (const Node* node : inner_of(tree, holder.id)) {
    std::uint32_t number = 0;
    const char* begin = node->name.data();
    const auto [end, error] = std::from_chars(begin, begin + node->name.size(), number);
    if (error == std::errc{} && number == digit) return node;
  }
  return nullptr;
}

Answered answer_inside(const Tree& tree, const Node& holder, const Node& node, const Struck& struck) {
  const Node* to = struck.stroke == Stroke::digit ? (holder.role == Role::radiogroup ? with_number(tree, holder, struck.digit) : nullptr)
                                                  : moved_inside(tree, holder, node, struck.stroke);
  if (to == nullptr) return {.focus = node.id};
  Answered answered{.focus = to->id, .used = true};
  // In a choice the arrows choose, once something is chosen: of an open question each answer may be the last word, so there,
  // as in a grid and a bar, they only move and wait for Enter.
  const auto inner = inner_of(tree, holder.id);
  const bool answered_before = std::any_of(inner.begin(), inner.end(), [](const Node* one) { return one->checked; });
  const bool named = struck.stroke == Stroke::digit;
  if (holder.role == Role::radiogroup && (answered_before || named) && !to->checked) answered.actions.push_back({to->id, ActionKind::press, {}});
  return answered;
}

Answered answer_stepper(const Node& node, Stroke stroke) {
  const bool up = stroke == Stroke::up || stroke == Stroke::page_up;
  const bool page = stroke == Stroke::page_up || stroke == Stroke::page_down;
  const Action step{node.id, up ? ActionKind::step_up : ActionKind::step_down, {}};
  return {.focus = node.id, .actions = std::vector<Action>(page ? kPageOfSteps : 1, step), .used = true};
}

}  // namespace

Answered answer(const Tree& tree, NodeId focus, const Struck& struck) {
  const Stroke stroke = struck.stroke;
  const bool to_region = stroke == Stroke::region || stroke == Stroke::back_region;
  if (stroke == Stroke::tab || stroke == Stroke::back_tab || to_region) {
    const bool back = stroke == Stroke::back_tab || stroke == Stroke::back_region;
    const NodeId to = to_region ? next_region(tree, focus, back) : next_stop(tree, focus, back);
    const Node* node = tree.find(to);
    return {.focus = to, .opens_field = node != nullptr && is_field(*node), .used = true};
  }
  const Node* node = tree.find(focus);
  if (node == nullptr) return {};
  if (stroke == Stroke::enter || stroke == Stroke::space) {
    if (is_field(*node)) return {.focus = focus, .opens_field = stroke == Stroke::enter, .used = true};
    if (node->answers != model::Answers::press || node->disabled) return {.focus = focus};
    return {.focus = focus, .actions = {{focus, ActionKind::press, {}}}, .used = true};
  }
  const bool vertical = stroke == Stroke::up || stroke == Stroke::down || stroke == Stroke::page_up || stroke == Stroke::page_down;
  if (node->role == Role::spinbutton && vertical) return answer_stepper(*node, stroke);
  if (const Node* holder = holder_of(tree, *node)) return answer_inside(tree, *holder, *node, struck);
  return {.focus = focus};
}

}  // namespace slipway::screens
