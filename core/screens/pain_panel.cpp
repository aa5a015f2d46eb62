// Pain: where and how much, kept with one press; and the stop for a red flag [drawing 01d].
#include <algorithm>

#include "screens/session_parts.h"

namespace slipway::screens {

namespace {

using namespace metrics;

constexpr float kStopKey = 52;
constexpr float kStopPadding = 12;

float draw_questions(Ui& ui, const PainPanel& panel, const Strip& at, SessionIntents& out) {
  float y = at.y;
  for (const AskedQuestion& question : panel.asked) {
    const auto path = ui.in(question.about);
    const Choosing answer = draw_choosing(ui, "answer", question.label, question.choices, {at.x, y, at.width});
    if (answer.chosen) out.push_back(AnswerAsked{question.about, *answer.chosen});
    y += answer.height > 0 ? answer.height + kGap : 0;
  }
  return y - at.y;
}

float draw_after(Ui& ui, const PainPanel& panel, const Strip& at, SessionIntents& out) {
  float y = at.y;
  if (!panel.kept.empty()) {
    const Noting note = draw_kept_note(ui, panel.kept.front(), true, {at.x, y, at.width});
    if (note.pressed) out.push_back(OpenPainMore{});
    y += note.height + kGap;
  }
  const Choosing side = draw_choosing(ui, "side", panel.side_label, panel.sides, {at.x, y, at.width});
  if (side.chosen) out.push_back(ChoosePainSide{*side.chosen});
  y += side.height > 0 ? side.height + kGap : 0;
  const Choosing number = draw_choosing(ui, "number", panel.number_label, panel.numbers, {at.x, y, at.width});
  if (number.chosen) out.push_back(ChoosePainNumber{*number.chosen});
  y += number.height > 0 ? number.height + kGap : 0;
  return y + draw_questions(ui, panel, {at.x, y, at.width}, out) - at.y;
}

// While its extras are open only what was kept stays in sight; then the squares come back.
struct ShownRows {
  std::vector<SquareRow> rows;
  std::vector<std::uint32_t> places;  // in the panel
};

ShownRows shown_rows(const PainPanel& panel) {
  const bool extras = !panel.sides.empty() || !panel.numbers.empty();
  ShownRows shown;
  for (std::uint32_t i = 0; i < panel.rows.size(); ++i) {
    const auto& squares = panel.rows[i].squares;
    const bool kept = std::any_of(squares.begin(), squares.end(), [](const Square& square) { return square.state != CellState::not_done; });
    if (extras && !kept) continue;
    shown.rows.push_back(panel.rows[i]);
    shown.places.push_back(i);
  }
  return shown;
}

}  // namespace

float draw_pain(Ui& ui, const PainPanel& panel, const Strip& at, SessionIntents& out) {
  const auto sheet = ui.sheet("pain-panel", {.role = model::Role::group, .name = panel.title});
  float y = at.y + draw_question(ui, Icon::pain, Token::mag, panel.title, panel.help, at) + kGap;
  const ShownRows shown = shown_rows(panel);
  const SquareAnswer pressed = draw_squares(ui, {"parts", panel.grid_spoken, panel.heads, shown.rows, true}, {at.x, y, at.width});
  if (pressed.pressed) out.push_back(ChoosePain{shown.places[pressed.row], pressed.column});
  y += pressed.height + kGap;
  if (!panel.stop_words.empty()) {
    const KeyFace stop{.words = panel.stop_words, .kind = KeyKind::pain, .icon = Icon::caution, .step = Step::say};
    const float height = ui.key_height(stop, at.width, kStopKey);
    if (ui.key("stop", stop, {at.x, y, at.width, height})) out.push_back(OpenStop{});
    y += height + kGap;
  }
  y += draw_after(ui, panel, {at.x, y, at.width}, out);
  IntentKeys keys;
  keys.add("take-back", {.words = panel.back_words, .icon = Icon::undo, .step = Step::say}, TakeBackPain{});
  keys.add("close", {.words = panel.close_words, .icon = Icon::right, .step = Step::say, .main_of_page = true}, ClosePain{});
  return y + keys.draw(ui, {at.x, y, at.width}, out) - at.y;
}

namespace {

// What to do and the number to call: the largest thing on the page.
float draw_help(Ui& ui, const StopPanel& panel, const Strip& at) {
  float y = at.y;
  const float icon = std::min(ui.line(Step::key), 56.0F);
  ui.icon(Icon::caution, at.x, y + 2, icon, Token::mag);
  y += ui.heading("title", panel.title, {Step::key, Token::mag, true}, at.x + icon + kGap, y, at.width - icon - kGap) + kGap;
  y += draw_paragraphs(ui, "words", panel.words, {Step::say, Token::mag}, at.x, y, at.width);
  if (panel.number.empty()) return y - at.y;
  const float label = ui.write(panel.number_label, {Step::say, Token::mag}, at.x, y + kGap, at.width);
  const float number = ui.write(panel.number, {Step::load, Token::mag, true}, at.x, y + kGap + label, at.width);
  ui.node("number", {.role = model::Role::text,
                     .name = panel.number_label.empty() ? panel.number : panel.number_label + " " + panel.number,
                     .rect = {at.x, y + kGap, at.width, label + number}});
  return y + kGap + label + number - at.y;
}

float draw_flags(Ui& ui, const StopPanel& panel, const Strip& at, SessionIntents& out) {
  if (panel.flags.empty()) return 0;
  float y = at.y;
  if (!panel.flags_label.empty()) y += ui.heading("flags-label", panel.flags_label, {Step::cue, Token::ink, true}, at.x, y, at.width);
  for (std::size_t i = 0; i < panel.flags.size(); ++i) {
    const FlagRow& flag = panel.flags[i];
    const auto path = ui.in("flag", i);
    const Ticking tick = draw_tick(ui, "tick", flag.words, flag.spoken, flag.ticked, {at.x, y, at.width});
    if (tick.pressed) out.push_back(TickFlag{static_cast<std::uint32_t>(i), !flag.ticked});
    y += tick.height;
  }
  return y + kGap - at.y;
}

}  // namespace

float draw_stop(Ui& ui, const StopPanel& panel, const Strip& at, SessionIntents& out) {
  const auto sheet = ui.sheet("stop-panel", {.role = model::Role::group, .name = panel.title});
  const Strip inner{at.x + kStopPadding, at.y + kStopPadding, at.width - 2 * kStopPadding};
  const float help = ui.measure([&] { return draw_help(ui, panel, inner); }) + 2 * kStopPadding;
  const Box box{at.x, at.y, at.width, help};
  ui.fill(box, Token::mag_tint, kPanelCorner);
  ui.edge(box, Token::mag, kPanelEdge, kPanelCorner);
  draw_help(ui, panel, inner);
  float y = at.y + help + kGap;
  y += draw_flags(ui, panel, {at.x, y, at.width}, out);
  IntentKeys keys;
  keys.add("take-back", {.words = panel.back_words, .icon = Icon::undo, .step = Step::say}, TakeBackStop{});
  keys.add("close", {.words = panel.close_words, .icon = Icon::right, .step = Step::say, .main_of_page = true}, CloseStop{});
  return y + keys.draw(ui, {at.x, y, at.width}, out) - at.y;
}

}  // namespace slipway::screens
