#include "screens/session_screen.h"

#include <algorithm>
#include <cmath>

#include "screens/parts.h"
#include "screens/session_parts.h"
#include "screens/whiteboard.h"

namespace slipway::screens {

namespace {

using namespace metrics;

constexpr float kHandLeast = 313, kHandMost = 516;
constexpr float kBoardMost = 776;
constexpr float kHeadTop = 4, kHeadSpace = 4;
constexpr float kHandTop = 10, kHandFoot = 10, kKeysSpace = 10;

struct Mark {
  Icon icon = Icon::missing;
  Token token = Token::ink;
};

Mark kept_mark(CellState state) {
  switch (state) {
    case CellState::kept:
    case CellState::changed: return {Icon::kept, Token::ink};
    case CellState::keeping: return {Icon::wet, Token::ink};
    case CellState::not_kept: return {Icon::wet, Token::mag};
    case CellState::left_out: return {Icon::left_out, Token::ink};
    case CellState::held: return {Icon::held, Token::ink};
    case CellState::swapped: return {Icon::pain, Token::mag};
    case CellState::crossed_out: return {Icon::close, Token::mag};
    case CellState::waits_sign_off: return {Icon::signoff, Token::ink2};
    case CellState::next:
    case CellState::not_done: break;
  }
  return {Icon::missing, Token::mag};
}

// Title and kept mark, under them the day; the mark goes below where it does not fit beside.
float draw_head(Ui& ui, const SessionView& view, float x, float y, float width) {
  const Mark mark = kept_mark(view.kept_state);
  const Pen title{Step::mark, Token::ink, true};
  const Pen kept{Step::fine, mark.token, true};
  const float icon = std::round(18 * ui.text_scale());
  const float kept_width = std::min(width, icon + kGap + ui.width_of(view.kept_words, kept) + 1);
  const bool beside = ui.width_of(view.title, title) + kMargin + kept_width <= width;
  const float start = y;
  y += kHeadTop;
  const float kept_y = beside ? y + ui.baseline(Step::mark) - ui.baseline(Step::fine) : 0;
  y += ui.heading("title", view.title, title, x, y, beside ? width - kept_width - kMargin : width);
  y += ui.text("day", view.day_line, {Step::fine, Token::ink2}, x, y, width);
  const Box place{beside ? x + width - kept_width : x, beside ? kept_y : y, kept_width, ui.line(Step::fine)};
  ui.icon(mark.icon, place.x, place.y + std::floor((place.height - icon) / 2), icon, mark.token);
  const float kept_height = ui.write(view.kept_words, kept, place.x + icon + kGap, place.y, kept_width - icon - kGap);
  ui.node("kept", {.role = model::Role::status, .name = view.kept_words, .rect = {place.x, place.y, place.width, kept_height}});
  if (!beside) y += kept_height;
  return y + kHeadSpace - start;
}

float draw_trouble(Ui& ui, const TroublePanel& trouble, std::size_t index, float x, float y, float width, std::vector<SessionIntent>& out) {
  std::vector<RowKey> keys;
  std::vector<SessionIntent> intents;
  const auto add = [&](std::string_view key, const std::string& words, KeyKind kind, SessionIntent intent) {
    if (words.empty()) return;
    keys.push_back({key, {.words = words, .kind = kind, .step = Step::say}});
    intents.push_back(std::move(intent));
  };
  add("retry", trouble.retry_words, KeyKind::main, TryAgain{});
  add("hand-over", trouble.hand_over_words, KeyKind::plain, HandOver{});
  const auto path = ui.in("trouble", index);
  const RowAnswer row = draw_panel(ui, {"panel", trouble.drop ? Icon::wet : Icon::missing, trouble.title, trouble.body, keys}, x, y, width);
  if (row.pressed) out.push_back(intents[*row.pressed]);
  return row.height;
}

// Trouble with sets in memory stands at the hand; what holds for the whole visit under the head.
float draw_troubles(Ui& ui, const SessionView& view, bool drops, float x, float y, float width, std::vector<SessionIntent>& out) {
  float height = 0;
  for (std::size_t i = 0; i < view.troubles.size(); ++i)
    if (view.troubles[i].drop == drops) height += draw_trouble(ui, view.troubles[i], i, x, y + height, width, out) + kGap;
  return height;
}

float draw_hand(Ui& ui, const SessionView& view, bool tight, float x, float y, float width, std::vector<SessionIntent>& out) {
  if (!view.change.empty()) return draw_change(ui, view, tight, x, y, width, out);
  const float start = y;
  if (!view.next.empty()) {
    y += draw_next_set(ui, view, tight, x, y, width, out) + kKeysSpace;
  } else if (!view.done_words.empty()) {
    y += ui.text("done", view.done_words, {Step::move, Token::ink, true}, x, y, width) + kMargin;
  }
  y += draw_session_keys(ui, view, x, y, width, out);
  return y - start;
}

struct Arranged {
  bool tight = false;
  float row = kBoardRow;  // height of a board row
  float hand = 0;         // height of the hand region
  float head = 0, notes = 0, drops = 0;
};

// The board above, the hand low where the thumb is; what is spare goes to the board.
void draw_narrow(Ui& ui, const SessionView& view, const Box& room, std::vector<SessionIntent>& out) {
  const float x = room.x + kMargin;
  const float width = room.width - 2 * kMargin;
  const float board_x = room.x + kBoardMargin;
  const float board_width = room.width - 2 * kBoardMargin;
  Arranged at;
  std::vector<SessionIntent> none;
  at.head = ui.measure([&] { return draw_head(ui, view, x, room.y, width); });
  at.notes = ui.measure([&] { return draw_troubles(ui, view, false, board_x, 0, board_width, none); });
  at.drops = ui.measure([&] { return draw_troubles(ui, view, true, board_x, 0, board_width, none); });
  const float natural_board = board_height(ui, view.board, board_width, kBoardRow);
  const float around = at.head + at.notes + kTrayGap + kTray + kHandTop + at.drops + kHandFoot;
  const auto hand_height = [&](bool tight) { return ui.measure([&] { return draw_hand(ui, view, tight, x, 0, width, none); }); };
  at.hand = hand_height(false);
  if (around + natural_board + at.hand > room.height) {
    at.tight = true;
    at.hand = hand_height(true);
  }
  const float spare = room.height - around - natural_board - at.hand;
  const auto rows = std::max<float>(1, static_cast<float>(view.board.rows.size()));
  if (spare > 0) at.row = std::min(kBoardRowMost, kBoardRow + std::floor(spare / rows));
  const float rows_board = board_height(ui, view.board, board_width, at.row);
  const float left = natural_board + std::floor(spare) - rows_board;  // ruled rows, or too little for one
  const float board = rows_board + (left >= kBlankRowLeast ? left : 0);

  const float board_y = room.y + at.head + at.notes;
  const float tray_y = board_y + std::max(board, natural_board + std::floor(spare)) + kTrayGap;
  const float hand_y = tray_y + kTray + kHandTop;
  draw_head(ui, view, x, room.y, width);
  draw_troubles(ui, view, false, board_x, room.y + at.head, board_width, out);
  draw_tray(ui, 0, tray_y, ui.ground().width);
  draw_troubles(ui, view, true, board_x, hand_y, board_width, out);
  draw_hand(ui, view, at.tight, x, hand_y + at.drops, width, out);
  // Read after the hand, because the hand is what is wanted [screens design 11].
  if (const auto open = draw_board(ui, view.board, {board_x, board_y, board_width, board}, at.row)) out.push_back(*open);
}

void draw_wide(Ui& ui, const SessionView& view, const Box& room, std::vector<SessionIntent>& out) {
  const float margin = page_margin(ui, room);
  const bool short_page = is_short(ui);
  const float hand_width = std::clamp(std::round(room.width * 0.4F), kHandLeast, kHandMost);
  const float board_width = std::min(kBoardMost, room.width - hand_width - kPost - 4 * margin);
  const float used = board_width + hand_width + kPost + 4 * margin;
  const float x = room.x + std::floor((room.width - used) / 2) + margin;
  const float top = room.y + (short_page ? kGap : kMargin);
  const float hand_x = x + board_width + margin + kPost + margin;
  const float post_x = x + board_width + margin;
  std::vector<SessionIntent> none;
  const float room_foot = room.y + room.height - margin;

  const float head = ui.measure([&] { return draw_head(ui, view, x, top, board_width); });
  const float notes = ui.measure([&] {
    return draw_troubles(ui, view, false, x, 0, board_width, none) + draw_troubles(ui, view, true, x, 0, board_width, none);
  });
  const auto hand_height = [&](bool tight) { return ui.measure([&] { return draw_hand(ui, view, tight, hand_x, 0, hand_width, none); }); };
  const bool tight = top + hand_height(false) > room_foot;
  const float hand_foot = top + hand_height(tight);
  const float board_y = top + head + notes;
  const float row = short_page ? kBoardRow : kBoardRowMost;
  const float board_foot = std::max(board_y + board_height(ui, view.board, board_width, row), hand_foot);  // both halves end on one line

  draw_head(ui, view, x, top, board_width);
  const float notes_used = draw_troubles(ui, view, false, x, top + head, board_width, out);
  draw_troubles(ui, view, true, x, top + head + notes_used, board_width, out);
  ui.fill({post_x, top, kPost, board_foot - top}, Token::ink);
  draw_hand(ui, view, tight, hand_x, top, hand_width, out);
  if (const auto open = draw_board(ui, view.board, {x, board_y, board_width, board_foot - board_y}, row)) out.push_back(*open);
}

}  // namespace

std::vector<SessionIntent> draw_session_screen(Ui& ui, const SessionView& view) {
  std::vector<SessionIntent> out;
  const Box room = ui.room();
  if (is_wide(ui)) draw_wide(ui, view, room, out);
  else draw_narrow(ui, view, room, out);
  if (!view.change.empty() && ui.escape_pressed()) out.push_back(LeaveAsWritten{});
  return out;
}

}  // namespace slipway::screens
