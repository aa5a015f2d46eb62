// Choices, steppers and fields: what holds a value.
#include <imgui.h>
#include <imgui_internal.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstring>

#include "screens/ui_inside.h"

namespace slipway::screens {

namespace {

using namespace metrics;

constexpr Pen kChoiceWords{Step::mark, Token::ink, true, Align::centre};  // measured bold: as wide as regular
constexpr std::size_t kFieldBytes = 4096;  // more than any field may keep: 1000 letters of up to four bytes
constexpr float kFootBarWidth = 20, kFootBar = 4;
constexpr float kFieldPadding = 12;
constexpr const char* kFieldLabel = "##typed";  // Dear ImGui hashes it with our id as the seed

// As many columns as hold the widest word with its edges, at most all in one row.
std::size_t columns_of(const Ui& ui, std::span<const ChoiceFace> faces, float width) {
  float widest = 0;
  for (const ChoiceFace& face : faces) widest = std::max(widest, ui.width_of(face.label, kChoiceWords));
  const float least = std::max(kTouch, widest + 2 * kChosenEdge + 4);
  std::size_t columns = faces.size();
  while (columns > 1 && (width - ui.choice_gap() * static_cast<float>(columns - 1)) / static_cast<float>(columns) < least) --columns;
  return columns;
}

struct ChoiceGrid {
  std::size_t columns = 1;
  float width = 0, height = 0;  // of one choice
  float gap = kChoiceGap;
};

// Words that are too long even for a row of their own wrap.
ChoiceGrid grid_of(const Ui& ui, std::span<const ChoiceFace> faces, float width, float least) {
  ChoiceGrid grid{columns_of(ui, faces, width)};
  grid.gap = ui.choice_gap();
  grid.width = (width - grid.gap * static_cast<float>(grid.columns - 1)) / static_cast<float>(grid.columns);
  float words = ui.line(Step::mark);
  if (grid.columns == 1)
    for (const ChoiceFace& face : faces) words = std::max(words, ui.size_of(face.label, kChoiceWords, width - 2 * kChosenEdge - 4).height);
  grid.height = std::max(least, words + 2 * kFootBar + 2 * kChosenEdge);
  return grid;
}

Box choice_box(std::size_t place, const ChoiceGrid& grid, const Box& box) {
  const auto column = static_cast<float>(place % grid.columns);
  const auto row = static_cast<float>(place / grid.columns);
  const float left = std::floor(box.x + column * (grid.width + grid.gap));
  return {left, box.y + row * (grid.height + grid.gap), std::floor(grid.width), grid.height};
}

void draw_choice(Ui& ui, const ChoiceFace& face, const Box& box, bool down) {
  ui.fill(box, face.chosen || down ? Token::land : Token::paper, kBoardCorner);
  ui.edge(box, face.chosen ? Token::ink : Token::line, face.chosen ? kChosenEdge : kEdge, kBoardCorner);
  if (face.chosen) ui.fill({box.x + std::floor((box.width - kFootBarWidth) / 2), box.y + box.height - 2 * kFootBar, kFootBarWidth, kFootBar}, Token::ink);
  ui.write_in(face.label, {Step::mark, Token::ink, face.chosen, Align::centre},
              {box.x + kChosenEdge, box.y, box.width - 2 * kChosenEdge, box.height});
}

// What was typed, as a whole number; -1 for what is none: no stepper of ours goes below 0.
std::int64_t whole_number(std::string_view text) {
  std::int64_t number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc{} || end != text.data() + text.size()) return -1;
  return number;
}

}  // namespace

std::uint32_t field_item_id(model::NodeId id) { return ImHashStr(kFieldLabel, 0, item_id(id)); }

float Ui::choices_height(std::span<const ChoiceFace> faces, float width, float least) const {
  if (faces.empty()) return 0;
  const ChoiceGrid grid = grid_of(*this, faces, width, least);
  const auto rows = static_cast<float>((faces.size() + grid.columns - 1) / grid.columns);
  return rows * grid.height + (rows - 1) * grid.gap;
}

std::optional<std::uint32_t> Ui::choices(std::string_view key, std::string_view spoken, std::span<const ChoiceFace> faces, const Box& box,
                                         float least) {
  if (in_.dry > 0 || faces.empty()) return std::nullopt;
  const Scope all = group(key, {.role = model::Role::radiogroup, .name = std::string(spoken), .rect = box});
  const ChoiceGrid grid = grid_of(*this, faces, box.width, least);
  std::optional<std::uint32_t> chosen;
  for (std::size_t i = 0; i < faces.size(); ++i) {
    const Box place = choice_box(i, grid, box);
    const std::string name = faces[i].key.empty() ? std::to_string(i) : std::string(faces[i].key);
    in_.add(name, {.role = model::Role::radio,
                   .answers = model::Answers::press,
                   .name = std::string(faces[i].spoken.empty() ? faces[i].label : faces[i].spoken),
                   .checked = faces[i].chosen,
                   .position = static_cast<std::uint32_t>(i + 1),
                   .set_size = static_cast<std::uint32_t>(faces.size()),
                   .rect = place});
    bool down = false;
    if (in_.worked(in_.id_of(name), place, down)) chosen = static_cast<std::uint32_t>(i);
    draw_choice(*this, faces[i], place, down);
  }
  return chosen;
}

// One of the two keys of a stepper; held with the mouse it repeats after 400 ms, 6 a second.
void Ui::stepper_key(std::string_view key, std::string_view spoken, Icon icon, bool at_end, const Box& box, std::int64_t& steps) {
  const model::NodeId id = in_.id_of(key);
  in_.add(key, {.role = model::Role::button, .answers = model::Answers::press, .name = std::string(spoken), .disabled = at_end, .rect = box});
  bool down = false;
  const bool by_hand = in_.item(id, box, true, down);
  const std::uint32_t by_name = in_.presses(id);
  if (at_end) down = false;
  else steps += static_cast<std::int64_t>(by_name) + (by_hand ? 1 : 0);
  if (by_hand || by_name > 0) {
    in_.take_focus(id);
    in_.memory.rising = id;
    in_.memory.rise_left = kKeyRiseSeconds;
  }
  down = down || (!at_end && in_.memory.rising == id && in_.memory.rise_left > 0);
  face({.words = "", .icon = icon, .step = Step::mark, .disabled = at_end}, box, down);
}

std::optional<std::int64_t> Ui::stepper(std::string_view key, const StepperFace& face, const Box& box) {
  if (in_.dry > 0) return std::nullopt;
  const Scope inside = in(key);
  // Three figures stand between the keys, which give way for them at large text.
  const float figures = width_of("000", {Step::dial, Token::ink, true}) + 2 * kFieldPadding;
  const float side = std::clamp(std::floor((box.width - 2 * kGap - figures) / 2), kTouch, kStepperKey);
  const Box field{box.x + side + kGap, box.y, box.width - 2 * (side + kGap), box.height};
  std::int64_t down = 0;
  std::int64_t up = 0;
  const Box left{box.x, box.y, side, box.height};
  const Box right{box.x + box.width - side, box.y, side, box.height};
  stepper_key("fewer", face.fewer, Icon::minus, face.now <= face.low, hand_.left ? right : left, down);

  const model::NodeId id = in_.id_of("value");
  const std::string value = std::to_string(face.now);
  in_.add("value", {.role = model::Role::spinbutton,
                    .answers = model::Answers::step,
                    .input = model::InputMode::numeric,
                    .name = std::string(face.spoken),
                    .value = value,
                    .hint = std::string(face.refused),
                    .low = face.low,
                    .high = face.high,
                    .now = face.now,
                    .invalid = !face.refused.empty(),
                    .rect = field});
  std::optional<std::int64_t> typed;
  for (const model::Action& action : in_.actions) {
    if (action.node != id) continue;
    if (action.kind == model::ActionKind::step_up) ++up;
    if (action.kind == model::ActionKind::step_down) ++down;
    if (action.kind == model::ActionKind::set_value) typed = whole_number(action.value);
  }
  if (const auto text = edited(id, value, {Step::dial, Token::ink, true, Align::centre}, field, !face.refused.empty())) typed = whole_number(*text);
  stepper_key("more", face.more, Icon::plus, face.now >= face.high, hand_.left ? left : right, up);
  if (typed) return typed;
  if (up == down) return std::nullopt;  // what stands outside the range is not changed by being shown
  const std::int64_t stepped = std::clamp(face.now + up - down, face.low, face.high);
  return stepped == face.now ? std::nullopt : std::optional(stepped);
}

std::optional<std::string> Ui::text_field(std::string_view key, const FieldFace& face, const Box& box) {
  if (in_.dry > 0) return std::nullopt;
  const model::NodeId id = in_.id_of(key);
  in_.add(key, {.role = model::Role::textbox,
                .answers = model::Answers::set_value,
                .input = face.number ? model::InputMode::decimal : model::InputMode::text,
                .name = std::string(face.spoken),
                .value = std::string(face.value),
                .hint = std::string(face.refused),
                .invalid = !face.refused.empty(),
                .rect = box});
  std::optional<std::string> typed;
  for (const model::Action& action : in_.actions)
    if (action.node == id && action.kind == model::ActionKind::set_value) typed = action.value;
  auto text = edited(id, std::string(face.value), {Step::mark, Token::ink, true}, box, !face.refused.empty());
  return text ? text : typed;
}

// Typed by name into a field that has the focus, as the mirror's own input does: it is shown
// as it was typed, also while it is no value that is taken, until the focus goes on.
bool Ui::typed_elsewhere(model::NodeId id) {
  Memory& memory = in_.memory;
  for (const model::Action& action : in_.actions) {
    if (action.node != id || action.kind == model::ActionKind::focus) continue;
    memory.typed_in = action.kind == model::ActionKind::set_value ? id : 0;
    memory.typed = action.value;
  }
  if (memory.typed_in == id && memory.focus != id) memory.typed_in = 0;
  return memory.typed_in == id;
}

// The box of a field and, on a real keyboard, the typing in it. In the browser the mirror's
// own input has the caret, so the field only shows that it is being typed in.
std::optional<std::string> Ui::edited(model::NodeId id, const std::string& value, const Pen& pen, const Box& box, bool refused) {
  Memory& memory = in_.memory;
  const bool typing = memory.focus == id;
  fill(box, typing ? Token::land : Token::paper, kBoardCorner);
  edge(box, refused ? Token::mag : typing ? Token::ink : Token::line, typing ? kChosenEdge : kEdge, kBoardCorner);

  const std::string& standing = typed_elsewhere(id) ? memory.typed : value;
  ImFont* font = in_.font_for(standing, pen.bold);
  const float size = in_.font_size(pen.step, font);
  std::array<char, kFieldBytes> buffer{};
  std::memcpy(buffer.data(), standing.data(), std::min(standing.size(), buffer.size() - 1));
  const std::string_view shown = memory.editing == id ? std::string_view(memory.edit_sent) : std::string_view(standing);
  const float words = font->CalcTextSizeA(size, FLT_MAX, 0, shown.data(), shown.data() + shown.size()).x;
  const float indent = pen.align == Align::centre ? std::max(kFieldPadding, std::floor((box.width - words) / 2)) : kFieldPadding;

  const ScreenRect at = in_.on_screen(box);
  ImGuiContext& context = *ImGui::GetCurrentContext();
  const bool opens = memory.opens == id;
  if (opens) memory.opens = 0;
  ImGui::PushFont(font, size);
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {indent, std::floor((box.height - size) / 2)});
  context.CurrentWindow->DC.CursorPos = {at.left, at.top};
  if (opens) {
    context.NavActivateId = field_item_id(id);
    context.NavActivateFlags = ImGuiActivateFlags_PreferInput;
  }
  ImGui::PushOverrideID(item_id(id));
  bool changed = ImGui::InputTextEx(kFieldLabel, nullptr, buffer.data(), static_cast<int>(buffer.size()), {box.width, box.height}, ImGuiInputTextFlags_None);
  const bool active = ImGui::IsItemActive();
  ImGui::PopID();
  if (opens) context.NavActivateId = 0;
  ImGui::PopStyleVar();
  ImGui::PopFont();

  if (active && memory.editing != id) {
    if (memory.focus != id) in_.take_focus(id);
    memory.editing = id;
    memory.edit_sent = value;
  }
  if (!active && memory.editing == id) memory.editing = 0;
  changed = changed && memory.edit_sent != buffer.data();
  if (typing && !active) rule(box.x + indent + words + 3, box.y + 12, box.x + indent + words + 3, box.y + box.height - 12, Token::ink, 3);
  if (!changed) return std::nullopt;
  memory.edit_sent = buffer.data();
  return memory.edit_sent;
}

}  // namespace slipway::screens
