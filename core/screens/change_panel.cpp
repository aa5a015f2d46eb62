// What was done instead of what was written [drawing 01c].
#include <algorithm>

#include "screens/session_parts.h"

namespace slipway::screens {

namespace {

using namespace metrics;

constexpr float kLabelGap = 2;
constexpr float kFieldSpace = 12, kTightSpace = 6;
constexpr float kTightStepper = 56, kTightKey = 64;  // where the page is low: nothing under a touch

float draw_reps(Ui& ui, const ChangePanel& panel, bool tight, const Strip& at, SessionIntents& out) {
  const auto [x, y, width] = at;
  const float label = ui.write(panel.reps_label, {Step::read, Token::ink2}, x, y, width) + kLabelGap;
  const float height = std::max(tight ? kTightStepper : kStepper, ui.line(Step::dial) + (tight ? 4 : 16));
  const auto reps = ui.stepper("reps",
                               {.spoken = panel.reps_spoken,
                                .fewer = panel.fewer_words,
                                .more = panel.more_words,
                                .refused = panel.reps_refused,
                                .now = panel.reps,
                                .low = panel.reps_low,
                                .high = panel.reps_high},
                               {x, y + label, width, height});
  if (reps) out.push_back(SetDraftReps{*reps});
  return label + height + draw_refusal(ui, panel.reps_refused, {x, y + label + height, width});
}

float draw_leaving_keys(Ui& ui, const ChangePanel& panel, bool tight, const Strip& at, SessionIntents& out) {
  IntentKeys keys;
  const auto add = [&keys](std::string_view key, const std::string& words, Icon icon, SessionIntent intent) {
    keys.add(key, {.words = words, .icon = icon, .step = Step::say}, std::move(intent));
  };
  add("leave", panel.leave_words, Icon::close, LeaveAsWritten{});
  add("left-out", panel.left_out_words, Icon::left_out, MarkLeftOut{});
  add("take-back", panel.take_back_words, Icon::undo, TakeBackThis{});
  add("swap", panel.swap_words, Icon::exchange, OpenSwap{});
  return keys.draw(ui, at, out, tight ? kTouch : kKey);
}

// Load, side, reserve and the tick, each only where the view asks for it.
float draw_choices(Ui& ui, const ChangePanel& panel, bool tight, const Strip& at, SessionIntents& out) {
  const float space = tight ? kTightSpace : kFieldSpace;
  const float least = tight ? kTouch : kChoice;
  float y = at.y;
  const auto below = [&](float height) { y += height > 0 ? height + space : 0; };
  const Choosing load = draw_choosing(ui, "load", panel.load_label, panel.loads, {at.x, y, at.width}, least);
  if (load.chosen) out.push_back(ChooseDraftLoad{*load.chosen});
  below(load.height);
  const Choosing side = draw_choosing(ui, "side", panel.side_label, panel.sides, {at.x, y, at.width}, least);
  if (side.chosen) out.push_back(ChooseDraftSide{*side.chosen});
  below(side.height);
  const Choosing reserve = draw_choosing(ui, "reserve", panel.reserve_label, panel.reserves, {at.x, y, at.width}, least);
  if (reserve.chosen) out.push_back(ChooseDraftReserve{*reserve.chosen});
  below(reserve.height);
  if (panel.form_words.empty()) return y - at.y;
  const Ticking form = draw_tick(ui, "form", panel.form_words, {}, panel.form_broke, {at.x, y, at.width});
  if (form.pressed) out.push_back(SetDraftFormBroke{!panel.form_broke});
  return y + form.height - at.y;
}

}  // namespace

float draw_change(Ui& ui, const ChangePanel& panel, bool tight, const Strip& at, SessionIntents& out) {
  const float space = tight ? kTightSpace : kFieldSpace;
  float y = at.y;
  const auto sheet = ui.sheet("change", {.role = model::Role::group, .name = panel.title});
  y += ui.heading("title", panel.title, {Step::mark, Token::ink, true}, at.x, y, at.width);
  y += ui.text("written", panel.written, {Step::read, Token::ink2}, at.x, y, at.width) + space;
  y += draw_reps(ui, panel, tight, {at.x, y, at.width}, out) + space;
  y += draw_choices(ui, panel, tight, {at.x, y, at.width}, out) + 4;

  const KeyFace keep{.words = panel.keep_words,
                     .detail = panel.keep_detail,
                     .kind = KeyKind::main,
                     .icon = Icon::kept,
                     .step = tight ? Step::move : Step::key,
                     .main_of_page = true};
  const float height = ui.key_height(keep, at.width, tight ? kTightKey : kMainKey);
  if (ui.key("keep", keep, {at.x, y, at.width, height})) out.push_back(KeepChange{});
  y += height + (tight ? kGap : 12);
  y += draw_leaving_keys(ui, panel, tight, {at.x, y, at.width}, out);
  return y - at.y;
}

float draw_swap(Ui& ui, const SwapPanel& panel, const Strip& at, SessionIntents& out) {
  float y = at.y;
  const auto sheet = ui.sheet("swap", {.role = model::Role::group, .name = panel.title});
  y += draw_question(ui, Icon::exchange, Token::ink, panel.title, panel.words, {at.x, y, at.width}) + kGap;
  for (std::size_t i = 0; i < panel.choices.size(); ++i) {
    const SwapChoice& choice = panel.choices[i];
    const KeyFace face{.words = choice.words, .spoken = choice.spoken, .detail = choice.detail};
    const float height = ui.key_height(face, at.width, kKey);
    const auto path = ui.in("choice", i);
    if (ui.key("key", face, {at.x, y, at.width, height})) out.push_back(ChooseSwap{static_cast<std::uint32_t>(i)});
    y += height + kGap;
  }
  IntentKeys keys;
  keys.add("leave", {.words = panel.leave_words, .icon = Icon::close, .step = Step::say}, CloseSwap{});
  y += kGap + keys.draw(ui, {at.x, y + kGap, at.width}, out);
  return y - at.y;
}

float draw_why(Ui& ui, const WhyPanel& panel, const Strip& at, SessionIntents& out) {
  float y = at.y;
  const auto sheet = ui.sheet("why-panel", {.role = model::Role::group, .name = panel.title});
  y += draw_question(ui, Icon::why, Token::ink, panel.title, {}, {at.x, y, at.width}) + 4;
  y += ui.text("sentence", panel.sentence, {Step::say, Token::ink}, at.x, y, at.width) + kGap;
  y += draw_paragraphs(ui, "entry", panel.entries, {Step::read, Token::ink2}, at.x, y, at.width) + kGap;
  if (!panel.rule.empty()) y += ui.text("rule", panel.rule, {Step::fine, Token::ink2, false, Align::right}, at.x, y, at.width) + kGap;
  const KeyFace close{.words = panel.close_words, .icon = Icon::right, .main_of_page = true};
  const float height = ui.key_height(close, at.width, kKey);
  if (ui.key("close", close, {at.x, y, at.width, height})) out.push_back(CloseWhy{});
  return y + height - at.y;
}

}  // namespace slipway::screens
