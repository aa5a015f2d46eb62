#include "shell.h"

#include <imgui.h>

#include <algorithm>
#include <array>
#include <cfloat>
#include <iterator>
#include <utility>

#include "outside.h"
#include "screens/app_screen.h"
#include "store/forgetting_files.h"
#include "tree_text.h"

namespace slipway::web {

namespace {

constexpr int kRoundsMost = 8;            // intents that lead to intents: more would be a bug
constexpr float kLongestPause = 0.25F;    // seconds a frame may count at most: a sleep is no motion
constexpr float kPastAllMotion = 1;       // seconds after which nothing moves any more

ImGuiKey imgui_key(ShellKey key) {
  static constexpr std::array kKeys{ImGuiKey_LeftArrow, ImGuiKey_RightArrow, ImGuiKey_UpArrow,  ImGuiKey_DownArrow, ImGuiKey_Home,
                                    ImGuiKey_End,       ImGuiKey_PageUp,     ImGuiKey_PageDown, ImGuiKey_Escape,    ImGuiKey_Enter};
  const auto place = static_cast<std::size_t>(key);
  if (place < kKeys.size()) return kKeys[place];
  return static_cast<ImGuiKey>(ImGuiKey_0 + static_cast<int>(place - static_cast<std::size_t>(ShellKey::digit_0)));
}

}  // namespace

Shell::Shell(bool draws) : app_(clock_, random_, exchange_), draws_(draws && gl_.open()) { input_.backend_draws = draws_; }

void Shell::open(std::unique_ptr<host::Files> files, const store::OpenTokens& tokens, const app::OpenFacts& facts) {
  app_.close();  // lets go of the files before they go
  files_ = std::move(files);
  app_.open(*files_, tokens, facts);
  told_ = true;
}

void Shell::look_around() {
  store::OpenTokens tokens;
  random_.fill(tokens.fresh.bytes);
  open(std::make_unique<store::ForgettingFiles>(), tokens, {.storage_kept = false, .demo = true});
}

void Shell::close() {
  app_.hide();
  app_.close();
  files_.reset();
}

void Shell::surface(const Surface& surface) {
  input_.width = surface.width;
  input_.height = surface.height;
  input_.pixel_ratio = surface.pixel_ratio;
  input_.inset_top = surface.inset_top;
  input_.inset_right = surface.inset_right;
  input_.inset_bottom = surface.inset_bottom;
  input_.inset_left = surface.inset_left;
  system_text_scale_ = surface.text_scale;
  told_ = true;
}

void Shell::look(const Look& look) {
  system_theme_ = look.theme;
  reduced_motion_ = look.reduced_motion;
  told_ = true;
}

void Shell::context_restored() {
  gl_.forget();
  told_ = true;
}

void Shell::act(const model::Action& action, bool by_pointer) {
  if (by_pointer && action.kind == model::ActionKind::press && std::exchange(answered_by_hand_, false)) return;
  input_.actions.push_back(action);
  told_ = true;
}

void Shell::focus(model::NodeId id, bool by_key) {
  input_.actions.push_back({id, model::ActionKind::focus, {}});
  input_.show_focus = by_key;
  told_ = true;
}

// The mirror's click is what presses; the pointer only shows a key going down. It is moved
// off the page before it comes up, so that Dear ImGui sees no release inside the key.
void Shell::pointer(PointerMove move, float x, float y) {
  ImGuiIO& io = ImGui::GetIO();
  const bool lifts = move == PointerMove::up || move == PointerMove::cancelled;
  if (lifts && !pointer_down_) return;
  if (lifts) io.AddMousePosEvent(-FLT_MAX, -FLT_MAX);
  else io.AddMousePosEvent(x, y);
  if (move == PointerMove::down) answered_by_hand_ = false;
  if (move == PointerMove::down || lifts) {
    pointer_down_ = !lifts;
    io.AddMouseButtonEvent(ImGuiMouseButton_Left, pointer_down_);
    input_.show_focus = false;
  }
  told_ = true;
}

void Shell::key(ShellKey key, bool control) {
  ImGuiIO& io = ImGui::GetIO();
  io.AddKeyEvent(ImGuiMod_Ctrl, control);
  io.AddKeyEvent(imgui_key(key), true);
  io.AddKeyEvent(imgui_key(key), false);
  io.AddKeyEvent(ImGuiMod_Ctrl, false);
  input_.show_focus = true;
  told_ = true;
}

void Shell::scroll(model::NodeId area, float y) {
  std::erase_if(input_.scrolled, [area](const auto& scrolled) { return scrolled.first == area; });
  input_.scrolled.emplace_back(area, y);
  // The page moved it: the mirror needs not be told what it knows.
  if (shown_)
    for (model::ScrollArea& known : shown_->areas)
      if (known.id == area) known.scroll_y = y;
  told_ = true;
}

void Shell::frame() {
  const std::uint64_t now = clock_.monotonic_ms();
  const float pause = static_cast<float>(now - last_frame_ms_) / 1000;
  last_frame_ms_ = now;
  input_.seconds_since_last = std::min(pause, kLongestPause);
  told_ = false;
  app_.wants_draw();
  input_.theme = app_.theme(system_theme_);
  input_.text_scale = app_.text_scale(system_text_scale_);
  model::Tree tree = settle();
  if (draws_ && !hidden_) gl_.draw(input_.width, input_.height, input_.pixel_ratio, input_.theme);
  ++frames_;
  show(std::move(tree));
}

// One frame, and again while intents change what is to be seen.
model::Tree Shell::settle() {
  model::Tree tree;
  for (int round = 0; round < kRoundsMost; ++round) {
    std::vector<screens::Intent> intents;
    const screens::AppView& view = app_.view();
    const bool by_hand = pointer_down_ && input_.actions.empty();
    tree = stage_.frame(input_, [&](screens::Ui& ui) {
      auto more = screens::draw_app_screen(ui, view);
      std::move(more.begin(), more.end(), std::back_inserter(intents));
    });
    input_.actions.clear();
    input_.scrolled.clear();
    input_.seconds_since_last = 0;
    answered_by_hand_ = answered_by_hand_ || (by_hand && !intents.empty());
    handle(std::move(intents));
    moves_in_ms_ = stage_.wants_frame_in_ms();
    const bool jumps = reduced_motion_ && moves_in_ms_ > 0 && !pointer_down_;
    if (jumps) input_.seconds_since_last = kPastAllMotion;
    input_.theme = app_.theme(system_theme_);
    input_.text_scale = app_.text_scale(system_text_scale_);
    if (!app_.wants_draw() && !jumps) break;
  }
  return tree;
}

void Shell::handle(std::vector<screens::Intent> intents) {
  for (const screens::Intent& intent : intents) app_.act(intent);
  if (exchange_.take_wish_to_look_around()) look_around();
}

void Shell::show(model::Tree tree) {
  if (shown_ && *shown_ == tree) return;
  const std::string text = tree_text(tree);
  slipway_show(text.data(), text.size());
  shown_ = std::move(tree);
}

}  // namespace slipway::web
