#include "kit/screen_kit.h"

#include <doctest/doctest.h>
#include <imgui.h>

#include <algorithm>

#include "screens/ui.h"

namespace slipway::kit {

namespace {

ImGuiKey imgui_key(Key key) {
  switch (key) {
    case Key::tab: return ImGuiKey_Tab;
    case Key::enter: return ImGuiKey_Enter;
    case Key::space: return ImGuiKey_Space;
    case Key::escape: return ImGuiKey_Escape;
    case Key::left: return ImGuiKey_LeftArrow;
    case Key::right: return ImGuiKey_RightArrow;
    case Key::up: return ImGuiKey_UpArrow;
    case Key::down: return ImGuiKey_DownArrow;
    case Key::page_down: return ImGuiKey_PageDown;
    case Key::digit_2: return ImGuiKey_2;
  }
  return ImGuiKey_None;
}

constexpr float kFarAway = 100000;

}  // namespace

NullWindow::NullWindow(PageSize size) {
  input.width = size.width;
  input.height = size.height;
}

Shown NullWindow::frame(const screens::AppView& view) {
  Shown shown;
  shown.tree = stage_.frame(input, [&](screens::Ui& ui) {
    for (screens::Intent& intent : screens::draw_app_screen(ui, view)) shown.intents.push_back(std::move(intent));
  });
  input.actions.clear();
  last_ = shown.tree;
  return shown;
}

Shown NullWindow::draw(const screens::AppView& view) { return frame(view); }

const model::Node& NullWindow::node(model::Role role, std::string_view name) const {
  const model::Node* found = last_.find(role, name);
  if (found == nullptr) FAIL("no " << model::to_text(role) << " \"" << std::string(name) << "\" in\n" << model::dump(last_));
  return *found;
}

Shown NullWindow::act(const screens::AppView& view, model::Role role, std::string_view name, model::ActionKind kind, std::string value) {
  draw(view);
  input.actions = {{node(role, name).id, kind, std::move(value)}};
  return frame(view);
}

Shown NullWindow::press(const screens::AppView& view, model::Role role, std::string_view name) {
  return act(view, role, name, model::ActionKind::press);
}

void NullWindow::mouse_to(const model::Node& node) {
  float x = node.rect.x + node.rect.width / 2;
  float y = node.rect.y + node.rect.height / 2;
  for (const model::ScrollArea& area : last_.areas)
    if (area.id == node.area) {
      x += area.rect.x;
      y += area.rect.y - area.scroll_y;
    }
  ImGui::GetIO().AddMousePosEvent(x, y);
}

Shown NullWindow::click(const screens::AppView& view, model::Role role, std::string_view name) {
  draw(view);
  mouse_to(node(role, name));
  ImGuiIO& io = ImGui::GetIO();
  io.AddMouseButtonEvent(0, true);
  io.AddMouseButtonEvent(0, false);
  return frame(view);
}

Shown NullWindow::slide_off(const screens::AppView& view, model::Role role, std::string_view name) {
  draw(view);
  mouse_to(node(role, name));
  ImGuiIO& io = ImGui::GetIO();
  io.AddMouseButtonEvent(0, true);
  io.AddMousePosEvent(kFarAway, kFarAway);
  io.AddMouseButtonEvent(0, false);
  return frame(view);
}

Shown NullWindow::strike(const screens::AppView& view, Key key, bool shift, bool ctrl) {
  ImGuiIO& io = ImGui::GetIO();
  if (shift) io.AddKeyEvent(ImGuiMod_Shift, true);
  if (ctrl) io.AddKeyEvent(ImGuiMod_Ctrl, true);
  io.AddKeyEvent(imgui_key(key), true);
  io.AddKeyEvent(imgui_key(key), false);
  if (shift) io.AddKeyEvent(ImGuiMod_Shift, false);
  if (ctrl) io.AddKeyEvent(ImGuiMod_Ctrl, false);
  input.show_focus = true;
  return frame(view);
}

Shown NullWindow::type(const screens::AppView& view, std::string_view text) {
  ImGui::GetIO().AddInputCharactersUTF8(std::string(text).c_str());
  return frame(view);
}

Shown NullWindow::wheel(const screens::AppView& view, float notches) {
  ImGui::GetIO().AddMouseWheelEvent(0, notches);
  return frame(view);
}

namespace {

template <class Each>
void each_list(Each each) {
  const ImDrawData& data = *ImGui::GetDrawData();
  for (const ImDrawList* list : data.CmdLists) each(*list);
}

template <class T>
void append(std::string& bytes, const T& value) {
  bytes.append(reinterpret_cast<const char*>(&value), sizeof value);
}

}  // namespace

std::string drawn_bytes() {
  std::string bytes;
  each_list([&bytes](const ImDrawList& list) {
    for (const ImDrawVert& vertex : list.VtxBuffer) {
      append(bytes, vertex.pos.x);
      append(bytes, vertex.pos.y);
      append(bytes, vertex.uv.x);
      append(bytes, vertex.uv.y);
      append(bytes, vertex.col);
    }
    for (const ImDrawIdx index : list.IdxBuffer) append(bytes, index);
    for (const ImDrawCmd& command : list.CmdBuffer) append(bytes, command.ClipRect);
  });
  return bytes;
}

std::string drawn_shape() {
  std::string bytes;
  each_list([&bytes](const ImDrawList& list) {
    for (const ImDrawVert& vertex : list.VtxBuffer) {
      append(bytes, vertex.pos.x);
      append(bytes, vertex.pos.y);
    }
  });
  return bytes;
}

DrawnExtent drawn_extent() {
  DrawnExtent extent{kFarAway, kFarAway, -kFarAway, -kFarAway};
  each_list([&extent](const ImDrawList& list) {
    for (const ImDrawVert& vertex : list.VtxBuffer) {
      extent.left = std::min(extent.left, vertex.pos.x);
      extent.top = std::min(extent.top, vertex.pos.y);
      extent.right = std::max(extent.right, vertex.pos.x);
      extent.bottom = std::max(extent.bottom, vertex.pos.y);
    }
  });
  return extent;
}

}  // namespace slipway::kit
