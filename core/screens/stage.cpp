#include "screens/stage.h"

#include <imgui.h>
#include <imgui_internal.h>

#include <algorithm>
#include <cmath>

#include "screens/fonts.h"
#include "screens/keyboard.h"
#include "screens/ui.h"
#include "screens/ui_inside.h"

namespace slipway::screens {

namespace {

constexpr int kPassesMost = 8;             // while queued input trickles in
constexpr float kPassSeconds = 1.0F / 1000;  // between two passes of one frame
constexpr float kWheelStep = 60;           // CSS pixels a notch of the wheel
constexpr float kRepeatDelaySeconds = 0.4F;
constexpr float kRepeatEverySeconds = 1.0F / 6;
constexpr std::uint32_t kHeldFrameMs = 40;  // often enough for a held stepper key
constexpr int kAtlasWidth = 1024, kAtlasHeight = 512;  // holds a page at one device pixel, so that it is laid out once
constexpr float kRingGap = 3, kRing = 3;
constexpr float kSightMargin = 12;         // left around what the focus scrolls to

ImFont* add_font(ImFontAtlas& atlas, Face face) {
  const auto bytes = font_file(face);
  ImFontConfig config;
  config.FontDataOwnedByAtlas = false;  // the program owns it
  // Dear ImGui takes a pointer to what may be written and only reads it.
  void* data = const_cast<unsigned char*>(bytes.data());
  return atlas.AddFontFromMemoryTTF(data, static_cast<int>(bytes.size()), 16, &config);
}

void set_style(ImGuiStyle& style, const Theme& theme) {
  const auto packed = [&theme](Token token) {
    const Colour& c = theme[token];
    return ImVec4(static_cast<float>(c.red) / 255, static_cast<float>(c.green) / 255, static_cast<float>(c.blue) / 255, 1);
  };
  style.WindowPadding = {0, 0};
  style.WindowBorderSize = 0;
  style.FrameBorderSize = 0;
  style.WindowRounding = 0;
  style.WindowMinSize = {1, 1};
  style.Colors[ImGuiCol_WindowBg] = packed(Token::paper);
  style.Colors[ImGuiCol_FrameBg] = {0, 0, 0, 0};  // the field's box is drawn by us
  style.Colors[ImGuiCol_Text] = packed(Token::ink);
  style.Colors[ImGuiCol_TextSelectedBg] = packed(Token::sea2);
  style.Colors[ImGuiCol_InputTextCursor] = packed(Token::ink);
}

// Without a backend nobody takes the textures: say they are taken, so that frames go on.
void settle_textures() {
  for (ImTextureData* texture : ImGui::GetPlatformIO().Textures) {
    switch (texture->Status) {
      case ImTextureStatus_WantCreate: texture->SetTexID(1); [[fallthrough]];
      case ImTextureStatus_WantUpdates: texture->SetStatus(ImTextureStatus_OK); break;
      case ImTextureStatus_WantDestroy:
        texture->SetTexID(ImTextureID_Invalid);
        texture->SetStatus(ImTextureStatus_Destroyed);
        break;
      default: break;
    }
  }
}

struct Mapped {
  ImGuiKey key;
  Stroke stroke;
  bool repeats;
};
constexpr Mapped kKeys[] = {
    {ImGuiKey_LeftArrow, Stroke::left, true},     {ImGuiKey_RightArrow, Stroke::right, true}, {ImGuiKey_UpArrow, Stroke::up, true},
    {ImGuiKey_DownArrow, Stroke::down, true},     {ImGuiKey_Home, Stroke::home, false},       {ImGuiKey_End, Stroke::end, false},
    {ImGuiKey_PageUp, Stroke::page_up, true},     {ImGuiKey_PageDown, Stroke::page_down, true}, {ImGuiKey_Enter, Stroke::enter, false},
    {ImGuiKey_KeypadEnter, Stroke::enter, false}, {ImGuiKey_Space, Stroke::space, false},
};

std::vector<Struck> strokes(bool in_field) {
  std::vector<Struck> struck;
  const ImGuiIO& io = ImGui::GetIO();
  if (io.KeyCtrl || io.KeyAlt || io.KeySuper) return struck;
  if (ImGui::IsKeyPressed(ImGuiKey_Tab)) struck.push_back({io.KeyShift ? Stroke::back_tab : Stroke::tab});
  if (ImGui::IsKeyPressed(ImGuiKey_F6, false)) struck.push_back({io.KeyShift ? Stroke::back_region : Stroke::region});
  for (const Mapped& mapped : kKeys) {
    const bool is_typing = mapped.stroke != Stroke::up && mapped.stroke != Stroke::down && mapped.stroke != Stroke::page_up &&
                           mapped.stroke != Stroke::page_down;
    if (in_field && is_typing) continue;  // the field's own
    if (ImGui::IsKeyPressed(mapped.key, mapped.repeats)) struck.push_back({mapped.stroke});
  }
  for (std::uint32_t digit = 0; digit <= 9 && !in_field; ++digit)
    if (ImGui::IsKeyPressed(static_cast<ImGuiKey>(ImGuiKey_0 + static_cast<int>(digit)), false) ||
        ImGui::IsKeyPressed(static_cast<ImGuiKey>(ImGuiKey_Keypad0 + static_cast<int>(digit)), false))
      struck.push_back({Stroke::digit, digit});
  return struck;
}

}  // namespace

struct Stage::Inside {
  ImGuiContext* context = nullptr;
  Memory memory;
  model::Tree last;
  model::NodeId main_key = 0;
  std::uint32_t wants_ms = 0;
  bool drawn_over = false;  // the focus or a scroll position moved after it was drawn

  model::Tree pass(const FrameInput& input, const std::vector<model::Action>& actions, const std::function<void(Ui&)>& draw);
  void take_keys(const FrameInput& input, std::vector<model::Action>& actions, bool& escape);
  void scroll_by(float pixels);
  void show_focus_in_area(const model::Tree& tree);
  void settle_focus(const model::Tree& tree, model::NodeId sheet);
  void draw_ring(const Ui::Inside& in);
};

Stage::Stage() : inside_(std::make_unique<Inside>()) {
  Inside& in = *inside_;
  in.context = ImGui::CreateContext();
  ImGui::SetCurrentContext(in.context);  // a context made beside another does not become the current one
  ImGuiIO& io = ImGui::GetIO();
  io.Fonts->TexMinWidth = kAtlasWidth;
  io.Fonts->TexMinHeight = kAtlasHeight;
  io.IniFilename = nullptr;
  io.LogFilename = nullptr;
  io.ConfigInputTextCursorBlink = false;  // still water
  io.ConfigNavCaptureKeyboard = false;
  io.KeyRepeatDelay = kRepeatDelaySeconds;
  io.KeyRepeatRate = kRepeatEverySeconds;
  in.memory.fonts = {add_font(*io.Fonts, Face::regular), add_font(*io.Fonts, Face::bold), add_font(*io.Fonts, Face::fallback_regular),
                     add_font(*io.Fonts, Face::fallback_bold)};
  for (std::size_t i = 1; i < in.memory.icons.size(); ++i) in.memory.icons[i] = read_construction(construction(static_cast<Icon>(i)));
}

Stage::~Stage() {
  ImGui::DestroyContext(inside_->context);
}

model::Tree Stage::frame(const FrameInput& input, const std::function<void(Ui&)>& draw) {
  Inside& in = *inside_;
  ImGui::SetCurrentContext(in.context);
  ImGuiIO& io = ImGui::GetIO();
  if (!input.backend_draws) io.BackendFlags |= ImGuiBackendFlags_RendererHasTextures;
  io.DisplaySize = {input.width, input.height};
  io.DisplayFramebufferScale = {input.pixel_ratio, input.pixel_ratio};
  io.DeltaTime = std::max(input.seconds_since_last, kPassSeconds);
  set_style(ImGui::GetStyle(), theme(input.theme));
  in.memory.rise_left = std::max(0.0F, in.memory.rise_left - input.seconds_since_last);

  for (int count = 1;; ++count) {
    in.last = in.pass(input, count == 1 ? input.actions : std::vector<model::Action>{}, draw);
    if (!input.backend_draws) settle_textures();
    const bool settled = in.context->InputEventsQueue.Size == 0 && !in.drawn_over;
    if (settled || count == kPassesMost) break;
    io.DeltaTime = kPassSeconds;
  }
  return in.last;
}

model::Tree Stage::Inside::pass(const FrameInput& input, const std::vector<model::Action>& actions, const std::function<void(Ui&)>& draw) {
  model::Tree tree;
  Ui::Inside in{memory, tree, input, theme(input.theme), actions};
  ImGui::NewFrame();
  for (const model::Action& action : actions)
    if (action.kind == model::ActionKind::focus) memory.focus = action.node;
  take_keys(input, in.actions, in.escape);

  ImGui::SetNextWindowPos({0, 0});
  ImGui::SetNextWindowSize({input.width, input.height});
  constexpr ImGuiWindowFlags kFlags = ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                                      ImGuiWindowFlags_NoNav | ImGuiWindowFlags_NoScrollWithMouse | ImGuiWindowFlags_NoBringToFrontOnFocus;
  ImGui::Begin("##page", nullptr, kFlags);
  in.list = ImGui::GetWindowDrawList();
  in.focus_drawn = memory.focus;
  Ui ui(in);
  draw(ui);
  draw_ring(in);
  ImGui::End();
  ImGui::Render();

  main_key = in.main_key;
  settle_focus(tree, in.sheet);
  if (memory.focus_moved) show_focus_in_area(tree);
  memory.focus_moved = false;
  drawn_over = memory.focus != in.focus_drawn || std::any_of(tree.areas.begin(), tree.areas.end(), [&](const model::ScrollArea& area) {
    return memory.scroll[area.id] != in.scroll_drawn;
  });
  tree.focus = memory.focus;
  const auto rise_ms = static_cast<std::uint32_t>(std::ceil(memory.rise_left * 1000));
  wants_ms = in.repeats ? kHeldFrameMs : rise_ms;
  return tree;
}

// Keys mean what they do to the tree that was seen, the last one.
void Stage::Inside::take_keys(const FrameInput& input, std::vector<model::Action>& actions, bool& escape) {
  const ImGuiIO& io = ImGui::GetIO();
  const bool in_field = memory.editing != 0;
  escape = !in_field && ImGui::IsKeyPressed(ImGuiKey_Escape, false);
  if (io.KeyCtrl && ImGui::IsKeyPressed(ImGuiKey_Enter, false) && main_key != 0) actions.push_back({main_key, model::ActionKind::press, {}});
  for (const Struck& struck : strokes(in_field)) {
    const Answered answered = answer(last, memory.focus, struck);
    if (!answered.used) {
      if (struck.stroke == Stroke::page_up) scroll_by(-input.height * 0.8F);
      if (struck.stroke == Stroke::page_down) scroll_by(input.height * 0.8F);
      continue;
    }
    if (answered.focus != memory.focus) {
      memory.focus_moved = true;
      if (in_field) ImGui::ClearActiveID();
    }
    memory.focus = answered.focus;
    if (answered.opens_field) memory.opens = answered.focus;
    actions.insert(actions.end(), answered.actions.begin(), answered.actions.end());
  }
  if (io.MouseWheel != 0) scroll_by(-io.MouseWheel * kWheelStep);
}

void Stage::Inside::scroll_by(float pixels) {
  for (const model::ScrollArea& area : last.areas) {
    const float most = std::max(0.0F, area.content_height - area.rect.height);
    memory.scroll[area.id] = std::clamp(area.scroll_y + pixels, 0.0F, most);
  }
}

void Stage::Inside::show_focus_in_area(const model::Tree& tree) {
  const model::Node* node = tree.find(memory.focus);
  if (node == nullptr) return;
  for (const model::ScrollArea& area : tree.areas) {
    if (area.id != node->area) continue;
    const float most = std::max(0.0F, area.content_height - area.rect.height);
    const float lowest = node->rect.y + node->rect.height + kSightMargin - area.rect.height;
    const float highest = node->rect.y - kSightMargin;
    const float wanted = std::max(std::min(area.scroll_y, highest), lowest);
    memory.scroll[area.id] = std::clamp(wanted, 0.0F, most);
  }
}

// A sheet that came takes the focus to its first stop and gives it back when it goes.
void Stage::Inside::settle_focus(const model::Tree& tree, model::NodeId sheet) {
  if (sheet != memory.sheet) {
    if (sheet != 0) {
      if (memory.sheet == 0) memory.before_sheet = memory.focus;
      const auto inside_sheet = [&tree, sheet](const model::Node& node) {
        for (const model::Node* up = tree.find(node.parent); up != nullptr; up = tree.find(up->parent))
          if (up->id == sheet) return node.answers != model::Answers::nothing && !node.disabled;
        return false;
      };
      const auto first = std::find_if(tree.nodes.begin(), tree.nodes.end(), inside_sheet);
      if (memory.focus != 0 && first != tree.nodes.end()) memory.focus = first->id;
    } else if (memory.focus != 0) {
      memory.focus = tree.find(memory.before_sheet) != nullptr ? memory.before_sheet : main_key;
    }
    memory.sheet = sheet;
    memory.focus_moved = true;  // it may lie out of sight
  }
  if (memory.focus != 0 && tree.find(memory.focus) == nullptr) memory.focus = 0;
}

// 3 px of paper, then 3 px of ink: seen on every ground [screens design 9].
void Stage::Inside::draw_ring(const Ui::Inside& in) {
  if (!in.ring) return;
  ImDrawList* list = ImGui::GetForegroundDrawList();
  const ScreenRect& box = in.ring_box;
  const ScreenRect& clip = in.ring_clip;
  list->PushClipRect({clip.left, clip.top}, {clip.right, clip.bottom});
  const auto ring = [&](float out, float corner, Token token) {
    const float middle = out - kRing / 2 - 0.5F;  // AddRect draws half a pixel inside
    list->AddRect({box.left - middle - 1, box.top - middle - 1}, {box.right + middle + 1, box.bottom + middle + 1}, in.colour(token), corner, 0, kRing);
  };
  ring(kRingGap, 7.5F, Token::paper);
  ring(kRingGap + kRing, 10.5F, Token::ink);
  list->PopClipRect();
}

std::uint32_t Stage::wants_frame_in_ms() const { return inside_->wants_ms; }

}  // namespace slipway::screens
