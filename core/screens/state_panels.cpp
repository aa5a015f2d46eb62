// What stands in the hand before, instead of and after the sets: nothing to log, a rule that
// says not today, the check, the adult in the room; and what comes next and why [drawing 05c].
#include <algorithm>
#include <cmath>

#include "screens/session_parts.h"

namespace slipway::screens {

namespace {

using namespace metrics;

constexpr float kPadding = 12, kStateKey = 72;
constexpr float kRowPadding = 6;

struct StateInk {
  Token title, words, edge, ground;
};

StateInk ink_of(const StatePanel& panel) {
  if (panel.urgent) return {Token::mag, Token::mag, Token::mag, Token::mag_tint};
  return {Token::ink, Token::ink2, Token::ink, Token::paper};
}

float draw_state_words(Ui& ui, const StatePanel& panel, const Strip& at) {
  const StateInk ink = ink_of(panel);
  const Step step = panel.quiet ? Step::cue : Step::move;
  const float icon = panel.icon == Icon::none ? 0 : std::round(std::min(ui.line(step), 48.0F));
  const float indent = icon > 0 ? icon + kGap : 0;
  float y = at.y;
  if (!panel.title.empty()) {
    ui.icon(panel.icon, at.x, y, icon, ink.title);
    y += ui.heading("title", panel.title, {step, ink.title, true}, at.x + indent, y, at.width - indent) + 2;
  }
  y += draw_paragraphs(ui, "words", panel.words, {panel.quiet ? Step::read : Step::say, ink.words}, at.x, y, at.width);
  if (!panel.rule.empty()) y += ui.text("rule", panel.rule, {Step::fine, ink.words, false, Align::right}, at.x, y, at.width);
  return y - at.y;
}

// The first key is the page's main key where nothing else is to be logged: the offer comes first.
float draw_state_keys(Ui& ui, const StatePanel& panel, std::uint32_t index, bool main, const Strip& at, SessionIntents& out) {
  float y = at.y;
  for (std::uint32_t i = 0; i < panel.keys.size(); ++i) {
    const StateKey& key = panel.keys[i];
    const bool first = main && i == 0;
    const KeyFace face{.words = key.words,
                       .spoken = key.spoken,
                       .detail = key.detail,
                       .kind = first ? KeyKind::main : panel.urgent ? KeyKind::pain : KeyKind::plain,
                       .step = first ? Step::move : Step::say,
                       .main_of_page = first};
    const float height = ui.key_height(face, at.width, first ? kStateKey : kKey);
    const auto path = ui.in("key", i);
    if (i > 0) y += kGap;
    if (ui.key("face", face, {at.x, y, at.width, height})) out.push_back(PressState{index, i});
    y += height;
  }
  return y - at.y;
}

float draw_state(Ui& ui, const StatePanel& panel, std::uint32_t index, bool main, const Strip& at, SessionIntents& out) {
  const auto path = ui.in("state", index);
  const bool boxed = panel.urgent || panel.quiet;
  const float padding = boxed ? kPadding : 0;
  const Strip inner{at.x + padding, at.y + padding, at.width - 2 * padding};
  const float words = ui.measure([&] { return draw_state_words(ui, panel, inner); });
  const float keys_y = inner.y + words + (panel.keys.empty() ? 0 : panel.quiet ? kGap : kMargin);
  const float keys = ui.measure([&] { return draw_state_keys(ui, panel, index, main, {inner.x, keys_y, inner.width}, out); });
  const Box box{at.x, at.y, at.width, keys_y + keys + padding - at.y};
  const auto group = ui.group("panel", {.role = model::Role::group, .name = panel.title, .rect = box});
  if (boxed) {
    const StateInk ink = ink_of(panel);
    ui.fill(box, ink.ground, kPanelCorner);
    ui.edge(box, ink.edge, panel.urgent ? kPanelEdge : kEdge, kPanelCorner);
  }
  draw_state_words(ui, panel, inner);
  draw_state_keys(ui, panel, index, main, {inner.x, keys_y, inner.width}, out);
  return box.height;
}

// The words stand without nodes where the key says them too: a person hears them once.
float draw_adult(Ui& ui, const AdultPanel& panel, const Strip& at, SessionIntents& out) {
  float y = at.y;
  if (!panel.words.empty()) y += ui.text("adult-words", panel.words, {Step::read, Token::ink2}, at.x, y, at.width) + 4;
  if (!panel.roles.empty()) {
    const Choosing role = draw_choosing(ui, "adult-role", panel.key_words, panel.roles, {at.x, y, at.width});
    if (role.chosen) out.push_back(TickAdult{*role.chosen});
    return y + role.height - at.y;
  }
  if (panel.key_words.empty()) return y - at.y;
  const KeyFace face{.words = panel.key_words, .detail = panel.key_detail, .icon = Icon::coach, .step = Step::say};
  const float height = ui.key_height(face, at.width, kKey);
  if (ui.key("adult", face, {at.x, y, at.width, height})) out.push_back(TickAdult{0});
  return y + height - at.y;
}

float draw_check(Ui& ui, const CheckPanel& panel, bool main, const Strip& at, SessionIntents& out) {
  float y = at.y;
  if (!panel.title.empty()) y += ui.heading("check-title", panel.title, {main ? Step::move : Step::cue, Token::ink, true}, at.x, y, at.width);
  if (!panel.words.empty()) y += ui.text("check-words", panel.words, {main ? Step::say : Step::read, Token::ink2}, at.x, y, at.width);
  if (panel.fine_words.empty()) return y - at.y;
  y += main ? kMargin : 4;
  const KeyFace face{.words = panel.fine_words,
                     .spoken = panel.fine_spoken,
                     .kind = main ? KeyKind::main : KeyKind::plain,
                     .icon = Icon::kept,
                     .step = main ? Step::move : Step::say,
                     .main_of_page = main};
  const float height = ui.key_height(face, at.width, main ? kMainKeyTight : kKey);
  if (ui.key("fine", face, {at.x, y, at.width, height})) out.push_back(NothingHurts{});
  return y + height - at.y;
}

}  // namespace

float draw_states(Ui& ui, const SessionView& view, const Strip& at, SessionIntents& out) {
  float y = at.y;
  bool main = view.next.empty() && view.check.empty();  // still free for the page's main key
  for (std::uint32_t i = 0; i < view.states.size(); ++i) {
    const StatePanel& panel = view.states[i];
    const bool takes = main && !panel.urgent && !panel.quiet && !panel.keys.empty();
    y += draw_state(ui, panel, i, takes, {at.x, y, at.width}, out) + kMargin;
    if (takes) main = false;
  }
  if (!view.adult.empty()) y += draw_adult(ui, view.adult.front(), {at.x, y, at.width}, out) + kGap;
  if (!view.check.empty()) y += draw_check(ui, view.check.front(), view.next.empty(), {at.x, y, at.width}, out) + kGap;
  return y - at.y;
}

namespace {

Icon mark_of(CellState state) {
  switch (state) {
    case CellState::held: return Icon::held;
    case CellState::swapped: return Icon::pain;
    case CellState::crossed_out: return Icon::close;
    case CellState::waits_sign_off: return Icon::signoff;
    default: return Icon::none;
  }
}

float draw_coming_row(Ui& ui, const ComingRow& row, const Strip& at) {
  const Pen movement{Step::say, Token::ink, true};
  const Pen why{Step::read, Token::ink2};
  const Icon mark = mark_of(row.state);
  const Token ink = row.state == CellState::swapped || row.state == CellState::crossed_out ? Token::mag : Token::ink;
  const float icon = mark == Icon::none ? 0 : std::round(ui.line(Step::say) - 4);
  const float indent = icon > 0 ? icon + 6 : 0;
  const float dose_width = ui.width_of(row.dose, {Step::say});
  const float rule_width = row.rule.empty() ? 0 : ui.width_of(row.rule, {Step::fine}) + kGap;
  float y = at.y + kRowPadding;
  ui.icon(mark, at.x, y + 2, icon, ink);
  const bool beside = indent + ui.width_of(row.movement, movement) + kMargin + dose_width <= at.width;
  y += ui.write(row.movement, movement, at.x + indent, y, at.width - indent);
  if (beside) ui.write(row.dose, {Step::say, Token::ink, false, Align::right}, at.x, at.y + kRowPadding, at.width);
  else y += ui.write(row.dose, {Step::say, Token::ink}, at.x + indent, y, at.width - indent);
  const float why_height = ui.write(row.why, why, at.x, y, at.width - rule_width);
  if (!row.rule.empty()) {
    const float lower = ui.baseline(Step::read) - ui.baseline(Step::fine);
    ui.write(row.rule, {Step::fine, Token::ink2, false, Align::right}, at.x, y + lower, at.width);
  }
  return y + why_height + kRowPadding - at.y;
}

}  // namespace

float draw_coming(Ui& ui, const ComingPanel& panel, const Strip& at) {
  float y = at.y;
  y += ui.heading("coming", panel.title, {Step::cue, Token::ink, true}, at.x, y, at.width) + 2;
  ui.rule(at.x, y, at.x + at.width, y, Token::ink, kEdge);
  y += kEdge;
  const auto list = ui.group("coming-rows", {.role = model::Role::list, .name = panel.title});
  for (std::size_t i = 0; i < panel.rows.size(); ++i) {
    const ComingRow& row = panel.rows[i];
    const float height = draw_coming_row(ui, row, {at.x, y, at.width});
    const auto path = ui.in("row", i);
    ui.node("words", {.role = model::Role::listitem,
                      .name = row.spoken.empty() ? row.movement + ", " + row.dose + ". " + row.why : row.spoken,
                      .position = static_cast<std::uint32_t>(i + 1),
                      .set_size = static_cast<std::uint32_t>(panel.rows.size()),
                      .rect = {at.x, y, at.width, height}});
    y += height;
    ui.rule(at.x, y, at.x + at.width, y, Token::hair, 1);
  }
  return y - at.y;
}

}  // namespace slipway::screens
