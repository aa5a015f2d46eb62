// The one set that is next, and the keys under it [drawing 01a].
#include <algorithm>
#include <array>
#include <cmath>

#include "screens/session_parts.h"

namespace slipway::screens {

void draw_times(Ui& ui, float x, float baseline, float size) {
  const float arm = std::floor(size * 0.42F);
  const float middle_x = std::round(x + size / 2);
  const float middle_y = std::round(baseline - size * 0.6F);
  const float thickness = std::max(2.0F, size / 7);
  ui.rule(middle_x - arm, middle_y - arm, middle_x + arm, middle_y + arm, Token::ink2, thickness);
  ui.rule(middle_x - arm, middle_y + arm, middle_x + arm, middle_y - arm, Token::ink2, thickness);
}

float air_above(const Ui& ui, Step step) { return std::floor((ui.baseline(step) - ui.px(step) * 0.75F) * 0.6F); }

namespace {

using namespace metrics;

struct DoseSize {
  Step reps, load;
};
// From the drawing down; the first that fits its line is taken. Tight pages begin at the second.
constexpr std::array kDoseSizes{DoseSize{Step::reps, Step::load}, DoseSize{Step::load, Step::dial}, DoseSize{Step::dial, Step::read_out},
                                DoseSize{Step::read_out, Step::key}};

struct DoseWidths {
  float reps, gap, times, load;
  float all() const { return reps + (load > 0 ? 2 * gap + times + load : 0); }
};

DoseWidths widths_of(const Ui& ui, const NextSet& next, const DoseSize& size) {
  const float load = next.load.empty() ? 0 : ui.width_of(next.load, {size.load, Token::ink, true});
  return {ui.width_of(next.reps, {size.reps, Token::ink, true}), std::round(ui.px(size.reps) * 0.17F), std::round(ui.px(size.load) * 0.46F), load};
}

float draw_dose(Ui& ui, const NextSet& next, bool tight, float x, float y, float width) {
  std::size_t at = tight ? 1 : 0;
  while (at + 1 < kDoseSizes.size() && widths_of(ui, next, kDoseSizes[at]).all() > width) ++at;
  const DoseSize& size = kDoseSizes[at];
  const DoseWidths widths = widths_of(ui, next, size);
  const Pen reps{size.reps, Token::ink, true};
  const Pen load{size.load, Token::ink, true};
  const float baseline = ui.baseline(size.reps);
  if (widths.all() > width && !next.load.empty()) {  // too long even so: one below the other
    const float first = ui.write(next.reps + " ×", reps, x, y, width);
    return first + ui.write(next.load, load, x, y + first, width);
  }
  ui.write(next.reps, reps, x, y, width);
  if (!next.load.empty()) {
    float left = x + widths.reps + widths.gap;
    draw_times(ui, left, y + baseline, widths.times);
    left += widths.times + widths.gap;
    ui.write(next.load, load, left, y + baseline - ui.baseline(size.load), x + width - left);
  }
  return ui.line(size.reps);
}

struct Badge {
  Icon icon = Icon::none;
  Token ink = Token::ink, ground = Token::paper;
};

Badge badge_of(CellState state) {
  switch (state) {
    case CellState::held: return {Icon::held, Token::ink, Token::paper};
    case CellState::swapped: return {Icon::pain, Token::mag, Token::mag_tint};
    case CellState::crossed_out: return {Icon::close, Token::mag, Token::mag_tint};
    case CellState::waits_sign_off: return {Icon::signoff, Token::ink, Token::paper};
    case CellState::changed: return {Icon::changed, Token::ink, Token::paper};
    default: return {};
  }
}

constexpr float kBadgePadding = 8, kBadgeGap = 5;

Size badge_size(const Ui& ui, const NextSet& next) {
  if (next.badge.empty()) return {};
  const float icon = badge_of(next.badge_state).icon == Icon::none ? 0 : ui.line(Step::fine) - 3 + kBadgeGap;
  return {ui.width_of(next.badge, {Step::fine, Token::ink, true}) + icon + 2 * kBadgePadding + 1, ui.line(Step::fine) + 6};
}

// A plate with the mark and the word of what a rule did.
void draw_badge(Ui& ui, const NextSet& next, float x, float y) {
  const Badge badge = badge_of(next.badge_state);
  const Size size = badge_size(ui, next);
  const Box plate{x, y, size.width, size.height};
  ui.fill(plate, badge.ground, metrics::kPanelCorner);
  ui.edge(plate, badge.ink, kEdge, metrics::kPanelCorner);
  float left = x + kBadgePadding;
  if (badge.icon != Icon::none) {
    const float icon = ui.line(Step::fine) - 3;
    ui.icon(badge.icon, left, y + std::floor((size.height - icon) / 2), icon, badge.ink);
    left += icon + kBadgeGap;
  }
  ui.write_in(next.badge, {Step::fine, badge.ink, true}, {left, y, x + size.width - left, size.height});
}

// The name; behind it the badge and at the right the reserve, each below where it doesn't fit.
float draw_movement(Ui& ui, const NextSet& next, const Strip& at) {
  const Pen movement{Step::move, Token::ink, true};
  const Pen reserve{Step::say, Token::ink2};
  const Size badge = badge_size(ui, next);
  float right = at.x + std::min(at.width, ui.width_of(next.movement, movement));
  float y = at.y + ui.write(next.movement, movement, at.x, at.y, at.width);
  if (badge.width > 0) {
    if (right + kGap + badge.width <= at.x + at.width) {
      draw_badge(ui, next, right + kGap, at.y + std::floor((ui.line(Step::move) - badge.height) / 2));
      right += kGap + badge.width;
    } else {
      draw_badge(ui, next, at.x, y);
      y += badge.height + 4;
    }
  }
  if (next.reserve.empty()) return y - at.y;
  if (right + kMargin + ui.width_of(next.reserve, reserve) <= at.x + at.width) {
    const float lower = ui.baseline(Step::move) - ui.baseline(Step::say);
    ui.write(next.reserve, {Step::say, Token::ink2, false, Align::right}, at.x, at.y + lower, at.width);
  } else {
    y += ui.write(next.reserve, reserve, at.x, y, at.width);
  }
  return y - at.y;
}

constexpr float kWhyRow = 50, kWhyIcon = 20;

// The reason, one target; large text and low pages keep its two words.
float draw_why_row(Ui& ui, const NextSet& next, bool folded, const Strip& at, SessionIntents& out) {
  const Token token = next.why_urgent ? Token::mag : Token::ink2;
  const bool opens = !next.why_short.empty();
  const std::string& words = opens && folded ? next.why_short : next.why;
  const Pen pen{Step::read, token, opens && folded};
  const float icon = std::round(kWhyIcon * std::min(ui.text_scale(), 1.5F));
  const float arrow = opens ? std::round(14 * std::min(ui.text_scale(), 1.5F)) : 0;
  const float indent = icon + 4;
  const float width = at.width - indent - (opens ? arrow + kGap : 0);
  const float words_height = ui.size_of(words, pen, width).height;
  const float height = opens ? std::max(folded ? kTouch : kWhyRow, words_height + 6) : words_height + 5;
  const float top = opens ? at.y + std::floor((height - words_height) / 2) : at.y + 5;
  if (opens) {
    const Box row{at.x, at.y, at.width, height};
    const CellAnswer answer = ui.cell("why", {.role = model::Role::button, .answers = model::Answers::press, .name = next.why, .rect = row});
    if (answer.down) ui.fill(row, Token::land);
    if (answer.pressed) out.push_back(OpenWhy{});
    ui.icon(Icon::right, at.x + at.width - arrow, at.y + std::floor((height - arrow) / 2), arrow, token);
  }
  ui.icon(Icon::why, at.x - 2, top + std::floor((ui.line(Step::read) - icon) / 2), icon, token);
  ui.write(words, pen, at.x + indent, top, width);
  return height;
}

std::string hint_of(const NextSet& next) {
  std::string hint;
  const auto add = [&hint](const std::string& words) {
    if (words.empty()) return;
    if (!hint.empty()) hint += " ";
    hint += words;
  };
  if (next.just_logged) add(next.just_words);
  if (next.will_wait) add(next.wait_words);
  add(next.cue);
  add(next.why);
  return hint;
}

// Above the key: what is to be done. Spoken as one group, so its words have no nodes of their own.
float draw_words(Ui& ui, const NextSet& next, bool tight, const Strip& at) {
  float y = at.y;
  y += ui.write(next.place, {Step::say, Token::ink2}, at.x, y, at.width);
  y += draw_movement(ui, next, {at.x, y, at.width});
  const float air = air_above(ui, tight ? Step::load : Step::reps);
  y += draw_dose(ui, next, tight, at.x, y - air, at.width) - air;
  if (!next.cue.empty()) y += ui.write(next.cue, {Step::cue, Token::ink, true}, at.x, y, at.width);
  return y - at.y;
}

KeyFace log_face(const SessionView& view, const MainKey& key, const std::string& hint, bool tight) {
  const NextSet& next = view.next.front();
  const bool rests = !view.rest.empty() && !view.rest.front().go;
  return {.words = next.just_logged ? next.just_words : key.words,
          .spoken = key.spoken,
          .detail = next.will_wait ? next.wait_words : key.detail,
          .hint = hint,
          .kind = KeyKind::main,
          .icon = next.will_wait ? Icon::wet : Icon::kept,
          .step = tight ? Step::move : Step::key,
          .outlined = next.just_logged || next.extra || next.will_wait || rests,
          .resting_lip = !next.just_logged};
}

float draw_one_key(Ui& ui, const SessionView& view, const MainKey& key, bool tight, const Strip& at, SessionIntents& out) {
  const std::string hint = hint_of(view.next.front());
  KeyFace face = log_face(view, key, hint, tight);
  face.main_of_page = true;
  const float height = ui.key_height(face, at.width, tight ? kMainKeyTight : kMainKey);
  if (ui.key("log", face, {at.x, at.y, at.width, height})) out.push_back(LogAsWritten{0});
  return height;
}

// The reserve of the last set inside the tap: what differs stands large, the verb both share
// small. Neither is the one that Ctrl+Enter works, because that would be an answer given beforehand.
float draw_two_keys(Ui& ui, const SessionView& view, bool tight, const Strip& at, SessionIntents& out) {
  const NextSet& next = view.next.front();
  const std::string hint = hint_of(next);
  const auto count = static_cast<float>(next.keys.size());
  const float each = std::floor((at.width - ui.gap() * (count - 1)) / count);
  std::vector<KeyFace> faces;
  for (const MainKey& key : next.keys) {
    KeyFace face = log_face(view, key, hint, tight);
    std::swap(face.words, face.detail);
    face.step = Step::mark;
    face.stacked = true;
    faces.push_back(face);
  }
  const auto fits = [&](const KeyFace& face) { return ui.key_width(face) <= each && ui.width_of(face.detail, {Step::cue}) <= each - 2 * kGap; };
  const bool beside = std::all_of(faces.begin(), faces.end(), fits);
  float height = 0;
  for (KeyFace& face : faces) {
    face.stacked = beside;
    height = std::max(height, ui.key_height(face, beside ? each : at.width, tight ? kMainKeyTight : kMainKey));
  }
  for (std::size_t i = 0; i < faces.size(); ++i) {
    const auto part = static_cast<float>(i);
    const Box box = beside ? Box{at.x + part * (each + ui.gap()), at.y, i + 1 == faces.size() ? at.width - part * (each + ui.gap()) : each, height}
                           : Box{at.x, at.y + part * (height + ui.gap()), at.width, height};
    const auto path = ui.in("log", i);
    if (ui.key("with-reserve", faces[i], box)) out.push_back(LogAsWritten{static_cast<std::uint32_t>(i)});
  }
  return beside ? height : count * height + (count - 1) * ui.gap();
}

float draw_log_keys(Ui& ui, const SessionView& view, bool tight, const Strip& at, SessionIntents& out) {
  const NextSet& next = view.next.front();
  if (next.keys.empty()) return draw_one_key(ui, view, {next.log_words, next.log_dose, next.log_spoken}, tight, at, out);
  if (next.keys.size() == 1) return draw_one_key(ui, view, next.keys.front(), tight, at, out);
  if (!next.just_logged) return draw_two_keys(ui, view, tight, at, out);
  SessionIntents deaf;  // "Kept" is no answer to how many were left
  return draw_one_key(ui, view, {next.just_words, next.log_dose, next.log_spoken}, tight, at, deaf);
}

float draw_warm_up(Ui& ui, const NextSet& next, const Strip& at, SessionIntents& out) {
  IntentKeys keys;
  keys.add("warm-up", {.words = next.warm_up_words, .spoken = next.warm_up_spoken, .icon = Icon::kept, .step = Step::say}, LogWarmUp{});
  keys.add("skip-warm-up", {.words = next.skip_words, .icon = Icon::left_out, .step = Step::say}, SkipWarmUp{});
  return keys.empty() ? 0 : keys.draw(ui, at, out) + ui.gap();
}

}  // namespace

float draw_next_set(Ui& ui, const SessionView& view, bool tight, const Strip& at, SessionIntents& out) {
  const NextSet& next = view.next.front();
  const bool rests = !view.rest.empty();
  const auto drawn = [&] { return rests ? draw_rest(ui, view.rest.front(), next, tight, at) : draw_words(ui, next, tight, at); };
  const float words = ui.measure(drawn);
  ui.node("next", {.role = model::Role::group, .name = next.spoken_group, .rect = {at.x, at.y, at.width, words}});
  if (!rests) drawn();
  float y = at.y + words;
  const bool opens = !next.why_short.empty();
  if (!rests && !next.why.empty()) {
    y += draw_why_row(ui, next, tight || ui.hand().gloves || folds_for_text(ui, at.width), {at.x, y, at.width}, out);
    y += opens ? 4 : 12;
  } else {
    y += 12;
  }
  y += draw_warm_up(ui, next, {at.x, y, at.width}, out);
  y += draw_log_keys(ui, view, tight, {at.x, y, at.width}, out);
  if (rests) drawn();  // read after the keys [screens design 11]
  return y - at.y;
}

namespace {

// Which set the Change key opens: the next one, on the board or after its last round.
OpenChange next_on(const SessionView& view) {
  const NextSet& next = view.next.front();
  if (next.round > 0) return {next.row, next.round};
  OpenChange open{0, 1};
  for (std::uint32_t row = 0; row < view.board.rows.size(); ++row)
    for (const BoardCell& cell : view.board.rows[row].cells) {
      if (cell.state == CellState::next) return {row, cell.round};
      open.round = std::max(open.round, cell.round + 1);
    }
  return open;
}

float draw_end_key(Ui& ui, const SessionView& view, const Strip& at, SessionIntents& out) {
  const bool finishes = !view.finish_words.empty();
  const KeyFace face{.words = finishes ? view.finish_words : view.hand_over_words,
                     .kind = KeyKind::main,
                     .icon = finishes ? Icon::kept : Icon::exchange,
                     .step = Step::key,
                     .main_of_page = true};
  const float height = ui.key_height(face, at.width, kMainKeyTight);
  const Box box{at.x, at.y, at.width, height};
  if (ui.key(finishes ? "finish" : "hand-over", face, box)) out.push_back(finishes ? SessionIntent{OpenFinish{}} : SessionIntent{HandOver{}});
  return height + kGap;
}

}  // namespace

float draw_session_keys(Ui& ui, const SessionView& view, KeysShown shown, const Strip& at, SessionIntents& out) {
  const bool is_next = !view.next.empty();
  const bool others_main = !view.states.empty() || !view.check.empty();  // they bring the page's main key
  const bool ends = !is_next && !others_main && !(view.finish_words.empty() && view.hand_over_words.empty());
  const bool finish_ends = ends && !view.finish_words.empty();
  float y = at.y;
  if (ends && shown != KeysShown::under_board) y += draw_end_key(ui, view, at, out);
  IntentKeys keys;
  if (shown != KeysShown::under_board) {
    keys.add("back", {.words = view.back_words, .icon = Icon::undo}, TakeBack{});
    if (is_next) keys.add("change", {.words = view.change_words, .icon = Icon::pencil}, next_on(view));
  }
  if (shown != KeysShown::under_hand) {
    keys.add("pain", {.words = view.pain_words, .kind = KeyKind::pain, .icon = Icon::pain}, OpenPain{});
    keys.add("sore", {.words = view.sore_words, .icon = Icon::sore}, OpenSore{});
  }
  float height = keys.draw(ui, {at.x, y, at.width}, out, kKey, ui.hand().left);
  if (shown == KeysShown::under_board) return height;
  IntentKeys last;  // a row of their own, so that the three at the thumb stay where they are
  const std::string_view finish = is_next || others_main ? std::string_view(view.finish_words) : std::string_view{};
  if (!finish_ends) last.add("finish", {.words = finish, .icon = Icon::land, .step = Step::say}, OpenFinish{});
  if (!ends || finish_ends) last.add("hand-over", {.words = view.hand_over_words, .icon = Icon::exchange, .step = Step::say}, HandOver{});
  if (last.empty()) return y + height - at.y;
  if (!keys.empty()) height += ui.gap();
  height += last.draw(ui, {at.x, y + height, at.width}, out);
  return y + height - at.y;
}

}  // namespace slipway::screens
