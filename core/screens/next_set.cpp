// The one set that is next, and the keys under it [drawing 01a].
#include <algorithm>
#include <array>
#include <cmath>

#include "screens/parts.h"
#include "screens/session_parts.h"

namespace slipway::screens {

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

// The sign between the two figures, drawn so that it keeps its distance at every size.
void draw_times(Ui& ui, float x, float baseline, float size) {
  const float arm = std::floor(size * 0.42F);
  const float middle_x = std::round(x + size / 2);
  const float middle_y = std::round(baseline - size * 0.6F);
  const float thickness = std::max(2.0F, size / 7);
  ui.rule(middle_x - arm, middle_y - arm, middle_x + arm, middle_y + arm, Token::ink2, thickness);
  ui.rule(middle_x - arm, middle_y + arm, middle_x + arm, middle_y - arm, Token::ink2, thickness);
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

// What the letters of a figure leave free above them in their line.
float air_above(const Ui& ui, Step step) { return std::floor((ui.baseline(step) - ui.px(step) * 0.75F) * 0.6F); }

float draw_movement(Ui& ui, const NextSet& next, float x, float y, float width) {
  const Pen movement{Step::move, Token::ink, true};
  const Pen reserve{Step::say, Token::ink2};
  const float reserve_width = next.reserve.empty() ? 0 : ui.width_of(next.reserve, reserve);
  const bool beside = ui.width_of(next.movement, movement) + kMargin + reserve_width <= width;
  float height = ui.write(next.movement, movement, x, y, width);
  if (beside) {
    const float lower = ui.baseline(Step::move) - ui.baseline(Step::say);
    ui.write(next.reserve, {Step::say, Token::ink2, false, Align::right}, x, y + lower, width);
  } else if (!next.reserve.empty()) {
    height += ui.write(next.reserve, reserve, x, y + height, width);
  }
  return height;
}

float draw_why(Ui& ui, const NextSet& next, float x, float y, float width) {
  const float icon = std::round(20 * ui.text_scale());
  ui.icon(Icon::why, x - 2, y, icon, Token::ink2);
  return ui.write(next.why, {Step::read, Token::ink2}, x + icon + 4, y, width - icon - 4);
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
float draw_words(Ui& ui, const NextSet& next, bool tight, float x, float y, float width) {
  const float start = y;
  y += ui.write(next.place, {Step::say, Token::ink2}, x, y, width);
  y += draw_movement(ui, next, x, y, width);
  const float air = air_above(ui, tight ? Step::load : Step::reps);
  y += draw_dose(ui, next, tight, x, y - air, width) - air;
  if (!next.cue.empty()) y += ui.write(next.cue, {Step::cue, Token::ink, true}, x, y, width);
  if (!next.why.empty()) y += 5 + draw_why(ui, next, x, y + 5, width);
  return y - start;
}

}  // namespace

float draw_next_set(Ui& ui, const SessionView& view, bool tight, float x, float y, float width, std::vector<SessionIntent>& out) {
  const NextSet& next = view.next.front();
  const float words = ui.measure([&] { return draw_words(ui, next, tight, x, y, width); });
  ui.node("next", {.role = model::Role::group, .name = next.spoken_group, .rect = {x, y, width, words}});
  draw_words(ui, next, tight, x, y, width);

  const std::string hint = hint_of(next);
  const KeyFace face{.words = next.just_logged ? next.just_words : next.log_words,
                     .spoken = next.log_spoken,
                     .detail = next.will_wait ? next.wait_words : next.log_dose,
                     .hint = hint,
                     .kind = KeyKind::main,
                     .icon = next.will_wait ? Icon::wet : Icon::kept,
                     .step = tight ? Step::move : Step::key,
                     .outlined = next.just_logged || next.extra || next.will_wait,
                     .resting_lip = !next.just_logged,
                     .main_of_page = true};
  const float height = ui.key_height(face, width, tight ? kMainKeyTight : kMainKey);
  const float top = y + words + 12;
  if (ui.key("log", face, {x, top, width, height})) out.push_back(LogAsWritten{});
  return top + height - y;
}

namespace {

// Which set the Change key opens: the next one, on the board or after its last round.
OpenChange next_on(const Board& board) {
  OpenChange open{0, 1};
  for (std::uint32_t row = 0; row < board.rows.size(); ++row)
    for (const BoardCell& cell : board.rows[row].cells) {
      if (cell.state == CellState::next) return {row, cell.round};
      open.round = std::max(open.round, cell.round + 1);
    }
  return open;
}

}  // namespace

float draw_session_keys(Ui& ui, const SessionView& view, float x, float y, float width, std::vector<SessionIntent>& out) {
  std::vector<RowKey> keys;
  std::vector<SessionIntent> intents;
  const auto add = [&](std::string_view key, const std::string& words, Icon icon, SessionIntent intent) {
    if (words.empty()) return;
    keys.push_back({key, {.words = words, .icon = icon}});
    intents.push_back(std::move(intent));
  };
  if (!view.next.empty()) add("change", view.change_words, Icon::pencil, next_on(view.board));
  add("back", view.back_words, Icon::undo, TakeBack{});
  add("hand-over", view.hand_over_words, Icon::exchange, HandOver{});
  const RowAnswer row = key_row(ui, keys, x, y, width);
  if (row.pressed) out.push_back(intents[*row.pressed]);
  return row.height;
}

}  // namespace slipway::screens
