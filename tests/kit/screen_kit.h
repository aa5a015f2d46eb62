// A window without a window: views in, a tree and intents out.
//
// Works the screens the three ways people do: by name (an Action), with the mouse at a
// node's place, and with the keyboard. Also hands out what was drawn, as data.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "model/tree.h"
#include "screens/app_screen.h"
#include "screens/stage.h"

namespace slipway::kit {

// Views as the app words them: goblet squat, round 2 of 3 is next, 10 at 22 kg.
screens::SessionView ready_session();
screens::SessionView changing_session();   // the change of round 2 is open, 9 reps so far
screens::SessionView troubled_session();   // storage full and a window that forgets
screens::ExchangeView exchange_with_results();
screens::StartView first_run();
screens::NoticeView open_elsewhere();
screens::AboutView about();

struct NamedPage {
  std::string name;
  screens::AppView view;
};
screens::AppView app_with(decltype(screens::AppView::page) page);  // with the bar
std::vector<NamedPage> every_page();

struct PageSize {
  float width = 390, height = 844;
};
// Phone, phone on its side, tablet, desktop.
std::vector<PageSize> agreed_sizes();

enum class Key : std::uint8_t { tab, enter, space, escape, left, right, up, down, page_down, digit_2 };

struct Shown {  // what one frame gave
  model::Tree tree;
  std::vector<screens::Intent> intents;
};

class NullWindow {
 public:
  explicit NullWindow(PageSize size = {});
  screens::FrameInput input;

  Shown draw(const screens::AppView& view);
  // By name: fails the test if there is no such node.
  Shown press(const screens::AppView& view, model::Role role, std::string_view name);
  Shown act(const screens::AppView& view, model::Role role, std::string_view name, model::ActionKind kind, std::string value = {});
  // With the mouse: down and up in the middle of the node as it was last drawn.
  Shown click(const screens::AppView& view, model::Role role, std::string_view name);
  // Pressed inside the node, let go far away.
  Shown slide_off(const screens::AppView& view, model::Role role, std::string_view name);
  Shown strike(const screens::AppView& view, Key key, bool shift = false, bool ctrl = false);
  Shown type(const screens::AppView& view, std::string_view text);
  Shown wheel(const screens::AppView& view, float notches);

  const model::Node& node(model::Role role, std::string_view name) const;  // in the last tree
  const model::Tree& last() const { return last_; }
  std::uint32_t wants_frame_in_ms() const { return stage_.wants_frame_in_ms(); }

 private:
  Shown frame(const screens::AppView& view);
  void mouse_to(const model::Node& node);
  screens::Stage stage_;
  model::Tree last_;
};

// The one intent of this kind among them, or nullptr.
template <class Place, class Wanted>
const Wanted* only(const std::vector<screens::Intent>& intents) {
  const Wanted* found = nullptr;
  for (const screens::Intent& intent : intents) {
    const auto* of_place = std::get_if<Place>(&intent);
    const auto* wanted = of_place == nullptr ? nullptr : std::get_if<Wanted>(of_place);
    if (wanted == nullptr) continue;
    if (found != nullptr) return nullptr;
    found = wanted;
  }
  return found;
}

// What the last frame drew, as bytes: vertices, indices, clip rectangles.
std::string drawn_bytes();
struct DrawnExtent {
  float left = 0, top = 0, right = 0, bottom = 0;
};
DrawnExtent drawn_extent();
// The shape of the last frame without its colours.
std::string drawn_shape();

// Every interactive item Dear ImGui was given in the last frame, as its own hooks saw it.
std::vector<std::uint32_t> hooked_items();
void start_hooks();  // of the current context, from the next frame on
void forget_hooked_items();

}  // namespace slipway::kit
