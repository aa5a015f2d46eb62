// Finish: how hard the whole session was, as depth of water, and its minutes [drawing 01f].
#include <algorithm>
#include <cmath>

#include "screens/session_parts.h"

namespace slipway::screens {

namespace {

using namespace metrics;

constexpr float kFigureColumn = 58, kWordsIndent = 16;
constexpr float kStrip = 5, kStripPitch = 10, kMarksInset = 14, kDot = 6;
constexpr std::size_t kDeepFrom = 5;       // from here the water is a shade deeper
constexpr float kFinishKey = 72, kFieldAir = 26;

// Leather marks of a lead line: a strip for each two, a dot for one more.
float marks_width(std::size_t effort) {
  return static_cast<float>(effort / 2) * kStripPitch + (effort % 2 == 1 ? kStripPitch : 0) + kMarksInset;
}

float figure_width(const Ui& ui) { return std::round(kFigureColumn * std::min(ui.text_scale(), 1.6F)); }

float effort_height(const Ui& ui, const FinishPanel& panel, std::size_t effort, float width) {
  const float words = width - figure_width(ui) - kWordsIndent - marks_width(effort) - kGap;
  const float needed = ui.size_of(panel.rows[effort].words, {Step::cue, Token::ink, true}, words).height;
  return std::max({kTouch, needed + kGap, ui.line(Step::mark) + kGap});
}

void draw_marks(Ui& ui, std::size_t effort, const Box& box) {
  float x = box.x + box.width - kMarksInset;
  for (std::size_t i = 0; i < effort / 2; ++i, x -= kStripPitch) ui.fill({x, box.y + 12, kStrip, box.height - 24}, Token::ink);
  if (effort % 2 == 1) ui.fill({x, std::floor(box.y + (box.height - kDot) / 2), kDot, kDot}, Token::ink, kDot / 2);
}

Token ground_of(std::size_t effort) { return effort == 0 ? Token::paper : effort < kDeepFrom ? Token::sea : Token::sea2; }

void draw_effort(Ui& ui, const FinishPanel& panel, std::size_t effort, const Box& box, bool down) {
  const EffortRow& row = panel.rows[effort];
  const float figure = figure_width(ui);
  ui.fill(box, row.chosen || down ? Token::land : ground_of(effort));
  ui.edge(box, Token::line, 1);
  const float words_x = box.x + figure + kWordsIndent;
  float words_right = box.x + box.width - marks_width(effort) - kGap;
  if (row.chosen) {
    const Pen said{Step::fine, Token::ink, false, Align::right};
    const float chosen = ui.width_of(panel.chosen_words, said) + kMarksInset;
    ui.edge(box, Token::ink, kChosenEdge);
    const float icon = std::round(14 * std::min(ui.text_scale(), 1.6F));
    ui.icon(Icon::next, box.x + 8, box.y + std::floor((box.height - icon) / 2), icon, Token::ink);
    const float words = ui.size_of(row.words, {Step::cue, Token::ink, true}, words_right - words_x).width;
    if (words_x + words + kGap + chosen <= box.x + box.width) ui.write_in(panel.chosen_words, said, {box.x, box.y, box.width - kMarksInset, box.height});
    words_right = std::max(words_right, words_x + words);
  } else {
    ui.rule(box.x + figure, box.y, box.x + figure, box.y + box.height, Token::ink, 1);
    draw_marks(ui, effort, box);
  }
  const float pointer = row.chosen ? 10 : 0;
  ui.write_in(row.figure, {Step::mark, Token::ink, true, Align::centre}, {box.x + pointer, box.y, figure - pointer, box.height});
  ui.write_in(row.words, {Step::cue, Token::ink, row.chosen}, {words_x, box.y, words_right - words_x, box.height});
}

float draw_scale(Ui& ui, const FinishPanel& panel, const Strip& at, SessionIntents& out) {
  float height = 0;
  for (std::size_t i = 0; i < panel.rows.size(); ++i) height += effort_height(ui, panel, i, at.width);
  const Box box{at.x, at.y, at.width, height};
  const auto group =
      ui.group("effort", {.role = model::Role::radiogroup, .name = panel.scale_spoken.empty() ? panel.question : panel.scale_spoken, .rect = box});
  float y = at.y;
  for (std::size_t i = 0; i < panel.rows.size(); ++i) {
    const Box place{at.x, y, at.width, effort_height(ui, panel, i, at.width)};
    const auto path = ui.in("row", i);
    const CellAnswer answer = ui.cell("face", {.role = model::Role::radio,
                                               .answers = model::Answers::press,
                                               .name = panel.rows[i].spoken,
                                               .checked = panel.rows[i].chosen,
                                               .position = static_cast<std::uint32_t>(i + 1),
                                               .set_size = static_cast<std::uint32_t>(panel.rows.size()),
                                               .rect = place});
    draw_effort(ui, panel, i, place, answer.down);
    if (answer.pressed) out.push_back(ChooseEffort{static_cast<std::uint32_t>(i)});
    y += place.height;
  }
  ui.edge(box, Token::ink, kEdge);
  if (panel.rows.size() > 1) draw_waterline(ui, at.x, at.y + effort_height(ui, panel, 0, at.width), at.width);
  return height;
}

float draw_minutes(Ui& ui, const FinishPanel& panel, const Strip& at, SessionIntents& out) {
  // Beside its label as long as three figures stand between the two keys.
  const float figures = ui.width_of(std::to_string(panel.minutes_high), {Step::dial, Token::ink, true});
  const float beside = std::min(2 * (kStepperKey + kGap) + figures + kFieldAir, at.width);
  const float label_width = at.width - beside - kGap;
  const Pen note{Step::fine, Token::ink2};
  const auto label_fits = [&](Step step) { return ui.width_of(panel.minutes_label, {step, Token::ink, true}) <= label_width; };
  const bool fits = label_fits(Step::fine);
  const Pen label{fits && !label_fits(Step::say) ? Step::fine : Step::say, Token::ink, true};
  const float height = std::max(kStepper, ui.line(Step::dial) + 16);
  float y = at.y;
  Box box{at.x + at.width - beside, y, beside, height};
  if (fits) {
    const float words = ui.line(label.step) + ui.size_of(panel.minutes_note, note, label_width).height;
    const float top = y + std::floor((height - words) / 2);
    ui.write(panel.minutes_label, label, at.x, top, label_width);
    ui.write(panel.minutes_note, note, at.x, top + ui.line(label.step), label_width);
  } else {
    const float words = ui.write(panel.minutes_label, label, at.x, y, at.width);
    y += words + ui.write(panel.minutes_note, note, at.x, y + words, at.width) + 2;
    box = {at.x, y, at.width, height};
  }
  const auto minutes = ui.stepper("minutes",
                                  {.spoken = panel.minutes_spoken,
                                   .fewer = panel.fewer_words,
                                   .more = panel.more_words,
                                   .refused = panel.minutes_refused,
                                   .now = panel.minutes,
                                   .low = panel.minutes_low,
                                   .high = panel.minutes_high},
                                  box);
  if (minutes) out.push_back(SetMinutes{*minutes});
  y += height;
  return y + draw_refusal(ui, panel.minutes_refused, {at.x, y, at.width}) - at.y;
}

float draw_reasons(Ui& ui, const FinishPanel& panel, const Strip& at, SessionIntents& out) {
  if (panel.short_reasons.empty()) return 0;
  const Choosing reason = draw_choosing(ui, "short", panel.short_label, panel.short_reasons, at);
  if (reason.chosen) out.push_back(ChooseShortReason{*reason.chosen});
  return reason.height + kGap;
}

}  // namespace

float draw_finish(Ui& ui, const FinishPanel& panel, const Strip& at, SessionIntents& out) {
  const auto sheet = ui.sheet("finish-panel", {.role = model::Role::group, .name = panel.question});
  float y = at.y + ui.heading("question", panel.question, {Step::mark, Token::ink, true}, at.x, at.y, at.width) + 2;
  y += draw_scale(ui, panel, {at.x, y, at.width}, out) + kGap;
  y += draw_minutes(ui, panel, {at.x, y, at.width}, out) + kGap;
  y += draw_reasons(ui, panel, {at.x, y, at.width}, out);
  const KeyFace finish{.words = panel.finish_words,
                       .detail = panel.finish_detail,
                       .kind = KeyKind::main,
                       .icon = Icon::kept,
                       .step = Step::move,
                       .disabled = !panel.ready,
                       .main_of_page = panel.ready};
  const float height = ui.key_height(finish, at.width, kFinishKey);
  if (ui.key("finish", finish, {at.x, y, at.width, height})) out.push_back(KeepFinish{});
  y += height;
  IntentKeys keys;
  keys.add("leave", {.words = panel.leave_words, .icon = Icon::close, .step = Step::say}, LeaveFinish{});
  if (!keys.empty()) y += kGap + keys.draw(ui, {at.x, y + kGap, at.width}, out);
  return y - at.y;
}

}  // namespace slipway::screens
