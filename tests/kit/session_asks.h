// What a press, Escape or Ctrl+Enter on the Session place asks for.
#pragma once

#include <doctest/doctest.h>

#include <optional>
#include <string>
#include <string_view>

#include "kit/session_views.h"

namespace slipway::kit {

// The one intent of this kind that a press by name asks for.
template <class Wanted>
std::optional<Wanted> pressed(NullWindow& window, const screens::SessionView& view, model::Role role, std::string_view name) {
  const auto shown = window.press(app_with(view), role, name);
  const Wanted* found = only<screens::SessionIntent, Wanted>(shown.intents);
  return found == nullptr ? std::nullopt : std::optional<Wanted>(*found);
}

// Whether a press by name, Escape or Ctrl+Enter asks for it.
template <class Wanted>
bool asks(const screens::SessionView& view, model::Role role, std::string_view name) {
  NullWindow window;
  return pressed<Wanted>(window, view, role, name).has_value();
}

template <class Wanted>
bool escape_asks(const screens::SessionView& view) {
  NullWindow window;
  window.draw(app_with(view));
  return only<screens::SessionIntent, Wanted>(window.strike(app_with(view), Key::escape).intents) != nullptr;
}

template <class Wanted>
bool ctrl_enter_asks(const screens::SessionView& view) {
  NullWindow window;
  window.draw(app_with(view));
  return only<screens::SessionIntent, Wanted>(window.strike(app_with(view), Key::enter, false, true).intents) != nullptr;
}

inline void tab_to(NullWindow& window, const screens::AppView& view, const std::string& name) {
  window.draw(view);
  for (int i = 0; i < 40; ++i) {
    const auto tree = window.strike(view, Key::tab).tree;
    const model::Node* node = tree.find(tree.focus);
    if (node != nullptr && node->name == name) return;
  }
  FAIL("Tab never reached " << name);
}

}  // namespace slipway::kit
