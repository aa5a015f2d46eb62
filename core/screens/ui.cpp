#include "screens/ui.h"

#include <imgui.h>
#include <imgui_internal.h>

#include <algorithm>

#include "screens/ui_inside.h"

namespace slipway::screens {

namespace {

constexpr std::uint8_t kClosePath = 1, kCloseGroup = 2, kCloseArea = 4;
constexpr float kFootPadding = 8;  // below the last thing of a page that scrolls

model::NodeId hashed(model::NodeId seed, std::string_view key) {
  constexpr std::uint64_t kPrime = 1099511628211ULL;
  std::uint64_t hash = (seed ^ '/') * kPrime;
  for (const char letter : key) hash = (hash ^ static_cast<unsigned char>(letter)) * kPrime;
  return hash == 0 ? 1 : hash;
}

Box joined(const Box& a, const Box& b) {
  if (a.width <= 0 && a.height <= 0) return b;
  const float left = std::min(a.x, b.x);
  const float top = std::min(a.y, b.y);
  return {left, top, std::max(a.x + a.width, b.x + b.width) - left, std::max(a.y + a.height, b.y + b.height) - top};
}

}  // namespace

std::uint32_t item_id(model::NodeId id) {
  const auto folded = static_cast<std::uint32_t>(id ^ (id >> 32));
  return folded == 0 ? 1 : folded;
}

// --- Inside -----------------------------------------------------------------------------------------

model::NodeId Ui::Inside::id_of(std::string_view key) const { return hashed(path.back(), key); }

std::size_t Ui::Inside::add(std::string_view key, model::Node node) {
  node.id = id_of(key);
  if (!parents.empty()) node.parent = out.nodes[parents.back()].id;
  node.area = area == 0 ? 0 : out.areas[area - 1].id;
  note_ring(node.id, node.rect);
  out.nodes.push_back(std::move(node));
  return out.nodes.size() - 1;
}

std::uint32_t Ui::Inside::presses(model::NodeId id) const {
  const auto is_press = [id](const model::Action& action) { return action.node == id && action.kind == model::ActionKind::press; };
  return static_cast<std::uint32_t>(std::count_if(actions.begin(), actions.end(), is_press));
}

ScreenRect Ui::Inside::on_screen(const Box& box) const {
  const float left = box.x + area_x;
  const float top = box.y + area_y - scroll_y;
  return {left, top, left + box.width, top + box.height};
}

std::uint32_t Ui::Inside::colour(Token token) const {
  const Colour& c = theme[token];
  return IM_COL32(c.red, c.green, c.blue, 255);
}

bool Ui::Inside::item(model::NodeId id, const Box& box, bool repeat, bool& held) {
  const ScreenRect at = on_screen(box);
  const ImRect rect(at.left, at.top, at.right, at.bottom);
  const ImGuiID item = item_id(id);
  held = false;
  ImGui::PushItemFlag(ImGuiItemFlags_ButtonRepeat, repeat);
  const bool seen = ImGui::ItemAdd(rect, item);
  bool hovered = false;
  // On release also where it repeats: a drag that begins on a stepper key to scroll is no step.
  const bool fired = seen && ImGui::ButtonBehavior(rect, item, &hovered, &held, ImGuiButtonFlags_PressedOnClickRelease);
  ImGui::PopItemFlag();
  repeats = repeats || (held && repeat);
  held = held && hovered;  // slid off: the face comes up, a release does nothing
  return fired;
}

void Ui::Inside::take_focus(model::NodeId id) {
  memory.focus = id;
}

bool Ui::Inside::worked(model::NodeId id, const Box& box, bool& down) {
  const bool by_hand = item(id, box, false, down);
  const bool fired = by_hand || presses(id) > 0;
  if (fired) {
    take_focus(id);
    memory.rising = id;
    memory.rise_left = kKeyRiseSeconds;
  }
  down = down || (memory.rising == id && memory.rise_left > 0);
  return fired;
}

void Ui::Inside::note_ring(model::NodeId id, const Box& box) {
  if (id != memory.focus || !input.show_focus) return;
  ring = true;
  ring_box = on_screen(box);
  ring_clip = {0, 0, input.width, input.height};
  if (area == 0) return;
  const Box& rect = out.areas[area - 1].rect;
  ring_clip = {rect.x, rect.y, rect.x + rect.width, rect.y + rect.height};
}

// --- the page ---------------------------------------------------------------------------------------

Box Ui::page() const { return {0, 0, in_.input.width, in_.input.height}; }

Box Ui::page_room() const {
  const FrameInput& input = in_.input;
  return {input.inset_left, input.inset_top, input.width - input.inset_left - input.inset_right, input.height - input.inset_top - input.inset_bottom};
}

Box Ui::ground() const {
  if (in_.area == 0) return page();
  const Box& rect = in_.out.areas[in_.area - 1].rect;
  return {0, 0, rect.width, rect.height};
}

Box Ui::room() const {
  const FrameInput& input = in_.input;
  Box room = page();
  if (in_.area != 0) room = in_.out.areas[in_.area - 1].rect;
  const float right = std::min(room.x + room.width, input.width - input.inset_right);
  const float bottom = std::min(room.y + room.height, input.height - input.inset_bottom);
  const float left = std::max(room.x, input.inset_left);
  const float top = std::max(room.y, input.inset_top);
  return {left - in_.area_x, top - in_.area_y, right - left, bottom - top};
}

float Ui::text_scale() const { return in_.input.text_scale; }
bool Ui::escape_pressed() const { return in_.escape; }

// --- key paths and structure ------------------------------------------------------------------------

Ui::Scope Ui::in(std::string_view key) {
  in_.path.push_back(in_.id_of(key));
  return Scope(*this, kClosePath);
}

Ui::Scope Ui::in(std::string_view key, std::size_t index) {
  in_.path.push_back(in_.id_of(key));
  in_.path.back() = in_.id_of(std::to_string(index));
  return Scope(*this, kClosePath);
}

Ui::Scope Ui::group(std::string_view key, model::Node node) {
  const model::NodeId id = in_.id_of(key);
  if (in_.dry == 0) in_.parents.push_back(in_.add(key, std::move(node)));
  in_.path.push_back(id);
  return Scope(*this, in_.dry == 0 ? kClosePath | kCloseGroup : kClosePath);
}

Ui::Scope Ui::group(std::string_view key, model::Role role, std::string_view name, const Box& box) {
  return group(key, {.role = role, .name = std::string(name), .rect = box});
}

Ui::Scope Ui::sheet(std::string_view key, model::Node node) {
  if (in_.dry == 0) in_.sheet = in_.id_of(key);
  return group(key, std::move(node));
}

Ui::Scope Ui::area(std::string_view key, std::string_view name, const Box& rect) {
  const model::NodeId id = in_.id_of(key);
  in_.path.push_back(id);
  if (in_.dry > 0) return Scope(*this, kClosePath);
  for (const auto& [scrolled, y] : in_.input.scrolled)
    if (scrolled == id) in_.memory.scroll[id] = y;
  in_.out.areas.push_back({id, std::string(name), rect, 0, 0});
  in_.area = in_.out.areas.size();
  in_.area_x = rect.x;
  in_.area_y = rect.y;
  const auto known = in_.memory.scroll.find(id);
  in_.scroll_y = in_.scroll_drawn = known == in_.memory.scroll.end() ? 0 : known->second;
  in_.content_foot = 0;
  ImGui::PushClipRect({rect.x, rect.y}, {rect.x + rect.width, rect.y + rect.height}, true);
  return Scope(*this, kClosePath | kCloseArea);
}

void Ui::close(std::uint8_t what) {
  if ((what & kCloseArea) != 0) {
    model::ScrollArea& area = in_.out.areas[in_.area - 1];
    for (const model::Node& node : in_.out.nodes)
      if (node.area == area.id) in_.content_foot = std::max(in_.content_foot, node.rect.y + node.rect.height);
    const float inset = std::max(0.0F, area.rect.y + area.rect.height - (in_.input.height - in_.input.inset_bottom));
    const float fits = area.rect.height;
    area.content_height = in_.content_foot + inset <= fits ? fits : in_.content_foot + inset + kFootPadding;
    const float most = area.content_height - fits;
    area.scroll_y = std::clamp(in_.scroll_y, 0.0F, most);
    in_.memory.scroll[area.id] = area.scroll_y;
    ImGui::PopClipRect();
    in_.area = 0;
    in_.area_x = in_.area_y = in_.scroll_y = 0;
  }
  if ((what & kCloseGroup) != 0) {
    model::Node& group = in_.out.nodes[in_.parents.back()];
    if (group.rect.width <= 0 && group.rect.height <= 0)
      for (std::size_t i = in_.parents.back() + 1; i < in_.out.nodes.size(); ++i) group.rect = joined(group.rect, in_.out.nodes[i].rect);
    in_.parents.pop_back();
  }
  if ((what & kClosePath) != 0) in_.path.pop_back();
}

float Ui::measure(const std::function<float()>& part) {
  ++in_.dry;
  const float height = part();
  --in_.dry;
  return height;
}

void Ui::node(std::string_view key, model::Node node) {
  if (in_.dry == 0) in_.add(key, std::move(node));
}

void Ui::spoken(std::string_view key, std::string_view name, const Box& box, model::Role role) {
  node(key, {.role = role, .name = std::string(name), .rect = box});
}

void Ui::announce(const model::Announcement& said) {
  if (in_.dry == 0) in_.out.announcements.push_back(said);
}

}  // namespace slipway::screens
