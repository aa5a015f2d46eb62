// Keys, cells and the bar: what fires on release inside itself.
#include <imgui.h>
#include <imgui_internal.h>

#include <algorithm>
#include <cmath>

#include "screens/ui_inside.h"

namespace slipway::screens {

namespace {

using namespace metrics;

constexpr float kPadding = 8;   // between the edge of a key and its words
constexpr float kDrop = 3;      // a pressed face drops this far
constexpr float kBarMark = 6, kRailMark = 8;
constexpr float kRailPlace = 84, kRailShort = 84;
constexpr float kTabTop = 12;   // above the icon of a place

struct KeyPlan {
  Pen words, detail;
  float icon = 0, gap = 0;
  Size words_size, detail_size;
  float height() const { return words_size.height + detail_size.height; }
};

Token face_token(const KeyFace& face) {
  if (face.disabled) return Token::paper;
  return face.kind == KeyKind::main && !face.outlined ? Token::deep : Token::key;
}

Token words_token(const KeyFace& face) {
  if (face.disabled) return Token::ink2;
  if (face.kind == KeyKind::pain) return Token::mag;
  return face.kind == KeyKind::main && !face.outlined ? Token::on_deep : Token::ink;
}

KeyPlan plan_of(const Ui& ui, const KeyFace& face, float width) {
  KeyPlan plan;
  const Token token = words_token(face);
  plan.words = {face.step, token, true, face.icon == Icon::none || face.stacked ? Align::centre : Align::left};
  plan.detail = {face.step >= Step::move ? Step::cue : Step::read, token, false, Align::centre};
  const float inner = width - 2 * kPadding;
  float words_width = inner;
  if (face.icon != Icon::none) {
    plan.icon = std::round(ui.px(face.step) * (face.stacked ? 1.3F : 1.25F));
    plan.gap = face.stacked ? 2 : kPadding;
    if (face.words.empty()) plan.gap = 0;
    if (!face.stacked) words_width -= plan.icon + plan.gap;
  }
  plan.words_size = ui.size_of(face.words, plan.words, words_width);
  if (face.stacked) plan.words_size.height += plan.icon + plan.gap;
  if (!face.detail.empty()) plan.detail_size = ui.size_of(face.detail, plan.detail, inner);
  return plan;
}

void draw_words(Ui& ui, const KeyFace& face, const KeyPlan& plan, const Box& box) {
  float y = box.y + std::floor((box.height - plan.height()) / 2);
  const float middle = box.x + box.width / 2;
  if (face.stacked) {
    ui.icon(face.icon, std::floor(middle - plan.icon / 2), y, plan.icon, plan.words.token);
    ui.write(face.words, plan.words, box.x + kPadding, y + plan.icon + plan.gap, box.width - 2 * kPadding);
  } else {
    const float width = plan.words_size.width + plan.icon + plan.gap;
    const float x = std::floor(middle - width / 2);
    const float icon_y = y + std::floor((plan.words_size.height - plan.icon) / 2);
    ui.icon(face.icon, x, icon_y, plan.icon, plan.words.token);
    ui.write(face.words, plan.words, x + plan.icon + plan.gap, y, plan.words_size.width + 1);
  }
  y += plan.words_size.height;
  if (!face.detail.empty()) ui.write(face.detail, plan.detail, box.x + kPadding, y, box.width - 2 * kPadding);
}

// A plank: a face with an edge, and a lip at the foot that goes when the face is down.
Box draw_plank(Ui& ui, const KeyFace& face, const Box& box, bool down) {
  if (face.disabled) {
    ui.dashed_edge(box, Token::line);
    return box;
  }
  const Token edge = face.kind == KeyKind::pain ? Token::mag : face_token(face) == Token::deep ? Token::deep : Token::ink;
  const Token lip = face.kind == KeyKind::pain ? Token::mag : Token::lip;
  if (!down) ui.fill(box, lip, kCorner + 1);
  const Box plank{box.x, box.y + (down ? kDrop : 0), box.width, box.height - kDrop};
  ui.fill(plank, face_token(face), kCorner);
  ui.edge(plank, edge, kEdge, kCorner);
  return {box.x, plank.y, box.width, box.height - kLip};
}

}  // namespace

float Ui::key_height(const KeyFace& face, float width, float least) const {
  const KeyPlan plan = plan_of(*this, face, width);
  return std::max(least, plan.height() + 2 * kPadding + kLip);
}

float Ui::key_width(const KeyFace& face) const {
  const KeyPlan plan = plan_of(*this, face, 100000);
  const float icon = face.stacked ? 0 : plan.icon + plan.gap;
  return std::max(kTouch, plan.words_size.width + icon + 2 * kPadding + 2);
}

bool Ui::key(std::string_view key, const KeyFace& face, const Box& box) {
  if (in_.dry > 0) return false;
  const model::NodeId id = in_.id_of(key);
  in_.add(key, {.role = model::Role::button,
                .answers = model::Answers::press,
                .name = std::string(face.spoken.empty() ? face.words : face.spoken),
                .hint = std::string(face.hint),
                .disabled = face.disabled,
                .rect = box});
  if (face.main_of_page) in_.main_key = id;
  bool down = false;
  const bool fired = in_.worked(id, box, down) && !face.disabled;
  this->face(face, box, (down || !face.resting_lip) && !face.disabled);
  return fired;
}

void Ui::face(const KeyFace& face, const Box& box, bool down) {
  const Box plank = draw_plank(*this, face, box, down);
  draw_words(*this, face, plan_of(*this, face, box.width), plank);
}

CellAnswer Ui::cell(std::string_view key, model::Node node) {
  if (in_.dry > 0) return {};
  const model::NodeId id = in_.id_of(key);
  const Box box = node.rect;
  const bool answers = node.answers == model::Answers::press;
  in_.add(key, std::move(node));
  if (!answers) return {};
  CellAnswer answer;
  answer.pressed = in_.worked(id, box, answer.down);
  return answer;
}

float Ui::bar_height(BarStyle style) const {
  const float content = kTabTop + kIcon + 4 + line(Step::fine);
  return std::max(style == BarStyle::rail ? kRailPlace : kBar, content);
}

float Ui::rail_width(bool short_page) const { return std::round((short_page ? kRailShort : kRail) * text_scale()); }

std::optional<std::uint32_t> Ui::bar(std::string_view key, std::string_view spoken, std::span<const TabFace> tabs, const Box& box, BarStyle style) {
  if (in_.dry > 0 || tabs.empty()) return std::nullopt;
  const Scope list = group(key, {.role = model::Role::tablist, .name = std::string(spoken), .rect = box});
  // Places share the width by their words, so that the space between the words is even.
  float words = 0;
  for (const TabFace& tab : tabs) words += width_of(tab.words, {Step::fine, Token::ink, true});
  const float share = std::floor((box.width - words) / static_cast<float>(tabs.size()));
  std::optional<std::uint32_t> pressed;
  // A low rail closes up, as far as its words go.
  const bool low = static_cast<float>(tabs.size()) * bar_height(style) + kPadding > box.height;
  const float height = style == BarStyle::rail && low ? std::max(kTouch, kTabTop + kIcon + 4 + line(Step::fine)) : bar_height(style);
  float x = box.x;
  float y = box.y + (style == BarStyle::rail ? kPadding : 0);
  for (std::uint32_t i = 0; i < tabs.size(); ++i) {
    const TabFace& tab = tabs[i];
    const Pen pen{Step::fine, tab.current ? Token::ink : Token::ink2, tab.current, Align::centre};
    const bool last = i + 1 == tabs.size();
    const float width = last ? box.x + box.width - x : width_of(tab.words, {Step::fine, Token::ink, true}) + share;
    const Box place = style == BarStyle::rail ? Box{box.x, y, box.width, height}
                                              : Box{x, box.y, width, height};
    if (tab_pressed(tab, pen, place, style, {i + 1, static_cast<std::uint32_t>(tabs.size())})) pressed = i;
    x += width;
    y += place.height;
  }
  return pressed;
}

bool Ui::tab_pressed(const TabFace& tab, const Pen& pen, const Box& place, BarStyle style, Place at) {
  const model::NodeId id = in_.id_of(tab.key);
  in_.add(tab.key, {.role = model::Role::tab,
                    .answers = model::Answers::press,
                    .name = std::string(tab.words),
                    .hint = std::string(tab.hint),
                    .current = tab.current,
                    .position = at.position,
                    .set_size = at.set_size,
                    .rect = place});
  bool down = false;
  const bool fired = in_.worked(id, place, down);
  if (down) fill(place, Token::land);
  const float content = kIcon + 4 + line(Step::fine);
  const float top = place.y + std::max(style == BarStyle::rail ? 0.0F : kTabTop, std::floor((place.height - content) / 2));
  if (tab.current && style == BarStyle::foot) fill({place.x + 4, place.y, place.width - 8, kBarMark}, Token::ink);
  if (tab.current && style == BarStyle::rail) fill({place.x, place.y, kRailMark, place.height}, Token::ink);
  icon(tab.icon, place.x + std::floor((place.width - kIcon) / 2), top, kIcon, pen.token);
  write(tab.words, pen, place.x, top + kIcon + 4, place.width);
  if (tab.count.empty()) return fired;
  const Pen count{Step::fine, Token::mag, true, Align::centre};
  const Box box{place.x + std::floor(place.width / 2) + kIcon / 2 + 2, top - 6, std::max(20.0F, width_of(tab.count, count) + kPadding), line(Step::fine)};
  fill(box, Token::paper, kCorner / 2);
  edge(box, Token::mag, kEdge, kCorner / 2);
  write_in(tab.count, count, box);
  return fired;
}

}  // namespace slipway::screens
