// Soreness: which pattern, since when, kept with one press [drawing 01h].
#include <algorithm>

#include "screens/session_parts.h"

namespace slipway::screens {

namespace {

using namespace metrics;

constexpr float kLabelGap = 2;

// "5+ days" asks since when, so that the rule for more than seven days can fire.
float draw_days(Ui& ui, const SorePanel& panel, const Strip& at, SessionIntents& out) {
  if (panel.days_label.empty()) return 0;
  const float label = ui.write(panel.days_label, {Step::read, Token::ink2}, at.x, at.y, at.width) + kLabelGap;
  const float height = std::max(kStepper, ui.line(Step::dial) + 16);
  const auto days = ui.stepper("days",
                               {.spoken = panel.days_spoken,
                                .fewer = panel.fewer_words,
                                .more = panel.more_words,
                                .refused = panel.days_refused,
                                .now = panel.days,
                                .low = panel.days_low,
                                .high = panel.days_high},
                               {at.x, at.y + label, at.width, height});
  if (days) out.push_back(SetSoreDays{*days});
  return label + height + draw_refusal(ui, panel.days_refused, {at.x, at.y + label + height, at.width}) + kGap;
}

}  // namespace

float draw_sore(Ui& ui, const SorePanel& panel, const Strip& at, SessionIntents& out) {
  const auto sheet = ui.sheet("sore-panel", {.role = model::Role::group, .name = panel.title});
  float y = at.y + draw_question(ui, Icon::sore, Token::ink, panel.title, panel.help, at) + kGap;
  const SquareAnswer pressed = draw_squares(ui, {"patterns", panel.grid_spoken, panel.heads, panel.rows, false}, {at.x, y, at.width});
  if (pressed.pressed) out.push_back(ChooseSore{pressed.row, pressed.column});
  y += pressed.height + kMargin;
  if (!panel.kept.empty()) {
    KeptNote note = panel.kept.front();
    note.more_words.clear();  // its extras stand open below
    y += draw_kept_note(ui, note, false, {at.x, y, at.width}).height + kGap;
  }
  y += draw_days(ui, panel, {at.x, y, at.width}, out);
  if (!panel.hinders_words.empty()) {
    const Ticking tick = draw_tick(ui, "hinders", panel.hinders_words, {}, panel.hinders, {at.x, y, at.width});
    if (tick.pressed) out.push_back(SetSoreHinders{!panel.hinders});
    y += tick.height + kGap;
  }
  IntentKeys keys;
  keys.add("take-back", {.words = panel.back_words, .icon = Icon::undo, .step = Step::say}, TakeBackSore{});
  keys.add("close", {.words = panel.close_words, .icon = Icon::right, .step = Step::say, .main_of_page = true}, CloseSore{});
  return y + keys.draw(ui, {at.x, y, at.width}, out) - at.y;
}

}  // namespace slipway::screens
