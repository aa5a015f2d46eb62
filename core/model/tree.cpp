#include "model/tree.h"

namespace slipway::model {

const Node* Tree::find(Role role, std::string_view name) const {
  for (const Node& node : nodes)
    if (node.role == role && node.name == name) return &node;
  return nullptr;
}

const Node* Tree::find(NodeId id) const {
  for (const Node& node : nodes)
    if (node.id == id) return &node;
  return nullptr;
}

std::string_view to_text(Role role) {
  switch (role) {
    case Role::region: return "region";
    case Role::group: return "group";
    case Role::heading: return "heading";
    case Role::text: return "paragraph";
    case Role::status: return "status";
    case Role::alert: return "alert";
    case Role::button: return "button";
    case Role::spinbutton: return "spinbutton";
    case Role::textbox: return "textbox";
    case Role::radiogroup: return "radiogroup";
    case Role::radio: return "radio";
    case Role::checkbox: return "checkbox";
    case Role::grid: return "grid";
    case Role::gridcell: return "gridcell";
    case Role::rowheader: return "rowheader";
    case Role::columnheader: return "columnheader";
    case Role::row: return "row";
    case Role::list: return "list";
    case Role::listitem: return "listitem";
    case Role::tablist: return "tablist";
    case Role::tab: return "tab";
    case Role::link: return "link";
    case Role::figure: return "figure";
  }
  return "";
}

std::string dump(const Tree& tree) {
  std::string out;
  for (const Node& node : tree.nodes) {
    out += std::string(to_text(node.role)) + " \"" + node.name + "\"";
    if (!node.value.empty()) out += " = \"" + node.value + "\"";
    if (!node.hint.empty()) out += " (" + node.hint + ")";
    if (node.current) out += " current";
    if (node.checked) out += " checked";
    if (node.pressed) out += " pressed";
    if (node.disabled) out += " disabled";
    if (node.invalid) out += " invalid";
    out += "\n";
  }
  for (const Announcement& said : tree.announcements)
    out += std::string(said.urgent ? "urgent" : "polite") + " \"" + said.text + "\"\n";
  return out;
}

}  // namespace slipway::model
