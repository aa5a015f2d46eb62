#include "screens/form.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

#include "screens/parts.h"
#include "screens/ui.h"

namespace slipway::screens {

namespace {

using namespace metrics;

constexpr float kSpace = 12;
constexpr float kFieldHeight = 56;
constexpr float kAnswer = 66, kQuestionLeast = 150;  // a choice beside its question, and the least width of the question
constexpr float kTickBox = 28, kTwoColumns = 480;
constexpr Pen kLabel{Step::read, Token::ink2};
constexpr std::string_view kPaths[] = {"0", "1", "2", "3", "4", "5", "6", "7", "8", "9"};

struct PartDrawing {
  Ui& ui;
  const FormPart& part;
  std::vector<FormAnswer>& out;
  float x, y, width;
  float used = 0;

  void answer(std::size_t choice, std::string text = {}) const { out.push_back({part.id, static_cast<std::uint32_t>(choice), std::move(text)}); }
  std::vector<ChoiceFace> faces() const {
    std::vector<ChoiceFace> all;
    for (const FormChoice& choice : part.choices) all.push_back({.label = choice.label, .spoken = choice.spoken, .chosen = choice.chosen});
    return all;
  }
  void label() {
    if (!part.label.empty()) used += ui.write(part.label, kLabel, x, y + used, width) + 2;
  }
  void detail() {
    if (!part.detail.empty()) used += 2 + ui.text("detail", part.detail, kLabel, x, y + used + 2, width);
  }
  void refused() {
    if (!part.refused.empty()) used += 3 + ui.text("refused", part.refused, {Step::read, Token::mag, true}, x, y + used + 3, width);
  }

  void words() {
    if (!part.label.empty()) used += ui.text("words", part.label, {Step::say, Token::ink}, x, y, width);
    detail();
  }
  void caution() {
    used = draw_panel(ui, {.key = "panel", .icon = part.icon == Icon::none ? Icon::caution : part.icon, .title = part.label, .body = part.detail}, x, y,
                      width).height;
  }
  void choices() {
    label();
    const auto all = faces();
    const float height = ui.choices_height(all, width);
    if (const auto chosen = ui.choices("choices", spoken(), all, {x, y + used, width, height})) answer(*chosen);
    used += height;
    detail();
    refused();
  }
  void question() {
    const auto all = faces();
    const auto count = static_cast<float>(all.size());
    const float answers = std::round(kAnswer * ui.text_scale()) * count + kChoiceGap * (count - 1);
    const bool beside = width - answers - kSpace >= kQuestionLeast * ui.text_scale();
    const float words_width = beside ? width - answers - kSpace : width;
    const float words_height = ui.text("question", part.label, {Step::read, Token::ink}, x, y + kGap, words_width);
    const float box_width = beside ? answers : width;
    const float height = ui.choices_height(all, box_width);
    const Box box{x + width - box_width, y + kGap + (beside ? 0 : words_height + 4), box_width, height};
    if (const auto chosen = ui.choices("choices", spoken(), all, box)) answer(*chosen);
    used = kGap + (beside ? std::max(words_height, height) : words_height + 4 + height) + kGap;
    ui.rule(x, y + used, x + width, y + used, Token::hair, 1);
  }
  void ticks() {
    label();
    const auto group = ui.group("ticks", model::Role::group, spoken());
    const std::size_t columns = width / ui.text_scale() >= kTwoColumns ? 2 : 1;
    const float each = std::floor((width - kMargin * static_cast<float>(columns - 1)) / static_cast<float>(columns));
    for (std::size_t first = 0; first < part.choices.size(); first += columns) {
      float height = 0;
      for (std::size_t i = first; i < std::min(first + columns, part.choices.size()); ++i)
        height = std::max(height, tick(i, x + static_cast<float>(i - first) * (each + kMargin), y + used, each));
      used += height;
    }
    detail();
  }
  float tick(std::size_t place, float left, float top, float each) const {
    const FormChoice& choice = part.choices[place];
    const float side = std::round(kTickBox * ui.text_scale());
    const float words_width = each - side - kSpace;
    const Pen pen{Step::say, Token::ink, choice.chosen};
    const float words_height = ui.size_of(choice.label, {Step::say, Token::ink, true}, words_width).height;
    const float height = std::max(kTouch, words_height + kGap);
    const auto path = ui.in("tick", place);
    const CellAnswer cell = ui.cell("box", {.role = model::Role::checkbox,
                                            .answers = model::Answers::press,
                                            .name = choice.spoken.empty() ? choice.label : choice.spoken,
                                            .checked = choice.chosen,
                                            .rect = {left, top, each, height}});
    if (cell.pressed) answer(place);
    const Box box{left + 2, top + std::floor((height - side) / 2), side, side};
    ui.fill(box, choice.chosen || cell.down ? Token::land : Token::paper, kPanelCorner);
    ui.edge(box, choice.chosen ? Token::ink : Token::line, choice.chosen ? 3 : kEdge, kPanelCorner);
    if (choice.chosen) ui.icon(Icon::kept, box.x + 3, box.y + 3, side - 6, Token::ink);
    ui.write(choice.label, pen, left + side + kSpace, top + std::floor((height - words_height) / 2), words_width);
    return height;
  }
  void removable() {
    label();
    const auto group = ui.group("list", model::Role::group, spoken());
    float left = x;
    float height = 0;
    for (std::size_t i = 0; i < part.choices.size(); ++i) {
      const FormChoice& choice = part.choices[i];
      const KeyFace face{.words = choice.label, .spoken = choice.spoken, .icon = Icon::close, .step = Step::say};
      const float own = std::min(width, ui.key_width(face) + 4);
      if (left > x && left + own > x + width) {
        left = x;
        used += height + kGap;
      }
      height = ui.key_height(face, own, kTouch);
      const auto path = ui.in("item", i);
      if (ui.key("remove", face, {left, y + used, own, height})) answer(i);
      left += own + kGap;
    }
    used += height;
    detail();
  }
  void field() {
    label();
    const float height = std::max(kFieldHeight, ui.line(Step::mark) + 20);
    const FieldFace face{.spoken = part.spoken.empty() ? part.label : part.spoken, .value = part.value, .refused = part.refused, .number = part.number};
    if (auto text = ui.text_field("field", face, {x, y + used, width, height})) answer(0, std::move(*text));
    used += height;
    refused();
    detail();
  }
  void row() {
    const RowAnswer row = list_row(ui, "row", {.icon = part.icon, .title = part.label, .line = part.detail, .value = part.value, .spoken = part.spoken}, x, y, width);
    if (row.pressed) answer(0);
    used = row.height;
  }
  void keys() {
    std::vector<RowKey> keys;
    for (std::size_t i = 0; i < std::min(part.choices.size(), std::size(kPaths)); ++i) {
      const FormChoice& choice = part.choices[i];
      const bool main = part.main && i == 0;
      keys.push_back({kPaths[i], {.words = choice.label, .spoken = choice.spoken, .kind = choice.urgent ? KeyKind::pain : main ? KeyKind::main : KeyKind::plain,
                                  .icon = choice.icon, .step = main ? Step::cue : Step::say, .main_of_page = main}});
    }
    const RowAnswer row = key_row(ui, keys, x, y, keys.size() == 1 ? lone_key_width(ui, keys[0].face, width) : width);
    if (row.pressed) answer(*row.pressed);
    used = row.height;
    detail();
  }
  std::string spoken() const { return part.spoken.empty() ? part.label : part.spoken; }
};

}  // namespace

float draw_form_part(Ui& ui, const FormPart& part, std::size_t index, float x, float y, float width, std::vector<FormAnswer>& out) {
  const auto path = ui.in("part", index);
  PartDrawing drawing{ui, part, out, x, y, width};
  switch (part.kind) {
    case FormKind::heading: return ui.heading("heading", part.label, {Step::cue, Token::ink, true}, x, y, width);
    case FormKind::words: drawing.words(); break;
    case FormKind::caution: drawing.caution(); break;
    case FormKind::choices: drawing.choices(); break;
    case FormKind::question: drawing.question(); break;
    case FormKind::ticks: drawing.ticks(); break;
    case FormKind::removable: drawing.removable(); break;
    case FormKind::field: drawing.field(); break;
    case FormKind::row: drawing.row(); break;
    case FormKind::keys: drawing.keys(); break;
  }
  return drawing.used;
}

float draw_form(Ui& ui, std::span<const FormPart> parts, float x, float y, float width, std::vector<FormAnswer>& out) {
  const float start = y;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    // Numbered by what it is about, so that a panel that comes between moves no one's focus.
    const auto before = parts.first(i);
    const auto same = static_cast<std::size_t>(std::count_if(before.begin(), before.end(), [&](const FormPart& one) { return one.id == parts[i].id; }));
    constexpr std::size_t kMostOfOne = 1000;
    y += draw_form_part(ui, parts[i], parts[i].id * kMostOfOne + same, x, y, width, out);
    if (i + 1 == parts.size()) break;
    const bool close = parts[i].kind == parts[i + 1].kind && (parts[i].kind == FormKind::row || parts[i].kind == FormKind::question);
    y += close ? 1 : kSpace;
  }
  return y - start;
}

}  // namespace slipway::screens
