#include "screens/session_screen.h"

#include <algorithm>
#include <cmath>

#include "screens/session_parts.h"
#include "screens/whiteboard.h"

namespace slipway::screens {

namespace {

using namespace metrics;

constexpr float kHandLeast = 313, kHandMost = 516;
constexpr float kBoardMost = 776;
constexpr float kUprightFrom = 768 / kTouch;
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

float draw_trouble(Ui& ui, const TroublePanel& trouble, std::size_t index, const Strip& at, SessionIntents& out) {
  std::vector<RowKey> keys;
  SessionIntents intents;
  const auto add = [&](std::string_view key, const std::string& words, KeyKind kind, SessionIntent intent) {
    if (words.empty()) return;
    keys.push_back({key, {.words = words, .kind = kind, .step = Step::say}});
    intents.push_back(std::move(intent));
  };
  add("retry", trouble.retry_words, KeyKind::main, TryAgain{});
  add("hand-over", trouble.hand_over_words, KeyKind::plain, HandOver{});
  add("leave", trouble.leave_words, KeyKind::plain, LeaveMadeUp{});
  const auto path = ui.in("trouble", index);
  const RowAnswer row = draw_panel(ui, {"panel", trouble.drop ? Icon::wet : Icon::missing, trouble.title, trouble.body, keys, !trouble.leave_words.empty()}, at.x, at.y, at.width);
  if (row.pressed) out.push_back(intents[*row.pressed]);
  return row.height;
}

// Trouble with sets in memory stands at the hand; what holds for the whole visit under the head.
float draw_troubles(Ui& ui, const SessionView& view, bool drops, const Strip& at, SessionIntents& out) {
  float height = 0;
  for (std::size_t i = 0; i < view.troubles.size(); ++i)
    if (view.troubles[i].drop == drops) height += draw_trouble(ui, view.troubles[i], i, {at.x, at.y + height, at.width}, out) + kGap;
  return height;
}

// What stands in place of the next set, if anything is open.
enum class Open : std::uint8_t { nothing, stop, pain, sore, finish, change, swap, why };

Open open_of(const SessionView& view) {
  if (!view.stop.empty()) return Open::stop;
  if (!view.pain.empty()) return Open::pain;
  if (!view.sore.empty()) return Open::sore;
  if (!view.finish.empty()) return Open::finish;
  if (!view.swap.empty()) return Open::swap;
  if (!view.change.empty()) return Open::change;
  if (!view.why.empty()) return Open::why;
  return Open::nothing;
}

bool wants_page(Open open) { return open == Open::stop || open == Open::pain || open == Open::sore || open == Open::finish; }

float draw_open(Ui& ui, const SessionView& view, bool tight, const Strip& at, SessionIntents& out) {
  switch (open_of(view)) {
    case Open::stop: return draw_stop(ui, view.stop.front(), at, out);
    case Open::pain: return draw_pain(ui, view.pain.front(), at, out);
    case Open::sore: return draw_sore(ui, view.sore.front(), at, out);
    case Open::finish: return draw_finish(ui, view.finish.front(), at, out);
    case Open::change: return draw_change(ui, view.change.front(), tight, at, out);
    case Open::swap: return draw_swap(ui, view.swap.front(), at, out);
    case Open::why: return draw_why(ui, view.why.front(), at, out);
    case Open::nothing: break;
  }
  return 0;
}

std::optional<SessionIntent> closing(Open open) {
  switch (open) {
    case Open::stop: return CloseStop{};
    case Open::pain: return ClosePain{};
    case Open::sore: return CloseSore{};
    case Open::finish: return LeaveFinish{};
    case Open::change: return LeaveAsWritten{};
    case Open::swap: return CloseSwap{};
    case Open::why: return CloseWhy{};
    case Open::nothing: break;
  }
  return std::nullopt;
}

float draw_hand(Ui& ui, const SessionView& view, bool tight, KeysShown keys, const Strip& at, SessionIntents& out) {
  if (open_of(view) != Open::nothing) return draw_open(ui, view, tight, at, out);
  float y = at.y + draw_states(ui, view, at, out);
  if (!view.next.empty()) {
    y += draw_next_set(ui, view, tight, {at.x, y, at.width}, out) + std::max(kKeysSpace, ui.gap());
  } else if (!view.done_words.empty()) {
    y += ui.text("done", view.done_words, {Step::move, Token::ink, true}, at.x, y, at.width) + kMargin;
    if (!view.coming.empty()) y += draw_coming(ui, view.coming.front(), {at.x, y, at.width}) + kMargin;
  }
  y += draw_session_keys(ui, view, keys, {at.x, y, at.width}, out);
  return y - at.y;
}

struct Arranged {
  bool tight = false;
  BoardLook look;
  float hand = 0;         // height of the hand region
  float head = 0, notes = 0, drops = 0;
};

// Pain, soreness, finish and a stop take the whole page where two halves would be too small.
void draw_page(Ui& ui, const SessionView& view, const Box& room, SessionIntents& out) {
  const Box column = reading_column(ui, room);
  const float x = room.x + std::floor((room.width - column.width) / 2);
  const float head = draw_head(ui, view, x, room.y, column.width);
  const float notes = draw_troubles(ui, view, false, {x, room.y + head, column.width}, out);
  const float drops = draw_troubles(ui, view, true, {x, room.y + head + notes, column.width}, out);
  draw_open(ui, view, false, {x, room.y + head + notes + drops, column.width}, out);
}

// The board above, the hand low where the thumb is; what is spare goes to the board.
void draw_narrow(Ui& ui, const SessionView& view, const Box& room, SessionIntents& out) {
  const float x = room.x + kMargin;
  const float width = room.width - 2 * kMargin;
  const float board_x = room.x + kBoardMargin;
  const float board_width = room.width - 2 * kBoardMargin;
  const Board& board = view.board;
  Arranged at;
  SessionIntents none;
  at.head = ui.measure([&] { return draw_head(ui, view, x, room.y, width); });
  at.notes = ui.measure([&] { return draw_troubles(ui, view, false, {board_x, 0, board_width}, none); });
  at.drops = ui.measure([&] { return draw_troubles(ui, view, true, {board_x, 0, board_width}, none); });
  const Open open = open_of(view);
  const bool panel_open = open != Open::nothing;
  at.look = {.row = kBoardRow,  // 01c: what is being changed stays in sight, no more
             .folded = open == Open::change || (folds_for_text(ui, board_width) && !board.folded_words.empty() && !board.open),
             .foot = !panel_open,
             .below = kTrayGap};
  const float around = at.head + at.notes + kTrayGap + kTray + kHandTop + at.drops + kHandFoot;
  const auto hand_height = [&](bool tight) {
    return ui.measure([&] { return draw_hand(ui, view, tight, KeysShown::all, {x, 0, width}, none); });
  };
  const auto fits = [&] { return around + board_height(ui, board, board_width, at.look) + at.hand <= room.height; };
  at.hand = hand_height(false);
  if (!fits()) {
    at.tight = true;
    at.hand = hand_height(true);
  }
  if (!fits() && (panel_open || (!board.folded_words.empty() && !board.open))) {
    at.look.folded = true;  // with the rows beside the one in hand that still have room
    if (!panel_open)
      for (at.look.rows = std::max<std::size_t>(1, board.rows.size()); at.look.rows > 1 && !fits();) --at.look.rows;
  }
  if (wants_page(open) && !fits()) {  // the panel alone, rather than one that scrolls under a board
    draw_page(ui, view, room, out);
    return;
  }
  const float natural_board = board_height(ui, board, board_width, at.look);
  const float spare = std::floor(std::max(0.0F, room.height - around - natural_board - at.hand));
  const float rows = static_cast<float>(at.look.folded ? at.look.rows : std::max<std::size_t>(1, board.rows.size()));
  if (spare > 0) at.look.row = std::min(kBoardRowMost, kBoardRow + std::floor(spare / rows));
  const float rows_board = board_height(ui, board, board_width, at.look);
  const float left = natural_board + spare - rows_board;  // ruled rows, or too little for one
  const float board_used = rows_board + (left >= kBlankRowLeast ? left : 0);

  const float board_y = room.y + at.head + at.notes;
  const float tray_y = board_y + std::max(board_used, natural_board + spare) + kTrayGap;
  const float hand_y = tray_y + kTray + kHandTop;
  draw_head(ui, view, x, room.y, width);
  draw_troubles(ui, view, false, {board_x, room.y + at.head, board_width}, out);
  draw_tray(ui, 0, tray_y, ui.ground().width);
  draw_troubles(ui, view, true, {board_x, hand_y, board_width}, out);
  draw_hand(ui, view, at.tight, KeysShown::all, {x, hand_y + at.drops, width}, out);
  // Read after the hand, because the hand is what is wanted [screens design 11].
  draw_board(ui, board, {board_x, board_y, board_width, board_used}, at.look, out);
}

void draw_wide(Ui& ui, const SessionView& view, const Box& room, SessionIntents& out) {
  const float margin = page_margin(ui, room);
  const bool short_page = is_short(ui);
  const float hand_width = std::clamp(std::round(room.width * 0.4F), kHandLeast, kHandMost);
  const float board_width = std::min(kBoardMost, room.width - hand_width - kPost - 4 * margin);
  const float used = board_width + hand_width + kPost + 4 * margin;
  const float x = room.x + std::floor((room.width - used) / 2) + margin;
  const float top = room.y + (short_page ? kGap : kMargin);
  const float hand_x = x + board_width + margin + kPost + margin;
  const float post_x = x + board_width + margin;
  SessionIntents none;
  const float room_foot = room.y + room.height - margin;

  const float head = ui.measure([&] { return draw_head(ui, view, x, top, board_width); });
  const float notes = ui.measure([&] {
    return draw_troubles(ui, view, false, {x, 0, board_width}, none) + draw_troubles(ui, view, true, {x, 0, board_width}, none);
  });
  // A phone on its side has no height for all keys in the hand: Pain and Sore stand under its board [01g].
  const bool split = short_page && open_of(view) == Open::nothing && !(view.pain_words.empty() && view.sore_words.empty());
  const KeysShown keys = split ? KeysShown::under_hand : KeysShown::all;
  const float under_board =
      split ? ui.measure([&] { return draw_session_keys(ui, view, KeysShown::under_board, {x, 0, board_width}, none); }) + kMargin : 0;
  const auto hand_height = [&](bool tight) { return ui.measure([&] { return draw_hand(ui, view, tight, keys, {hand_x, 0, hand_width}, none); }); };
  const bool tight = top + hand_height(false) > room_foot;
  const float hand_foot = top + hand_height(tight);
  const float board_y = top + head + notes;
  BoardLook look{.row = short_page ? kBoardRow : kBoardRowMost, .folded = false, .foot = true, .below = 0};
  float board = board_height(ui, view.board, board_width, look);
  if (short_page && board_y + board + under_board > room_foot && !view.board.folded_words.empty() && !view.board.open) {
    look.folded = true;
    for (look.rows = std::max<std::size_t>(1, view.board.rows.size());; --look.rows) {
      board = board_height(ui, view.board, board_width, look);
      if (look.rows == 1 || board_y + board + under_board <= room_foot) break;
    }
  }
  const float board_foot = std::max(board_y + board, hand_foot - under_board);  // both halves end on one line

  draw_head(ui, view, x, top, board_width);
  const float notes_used = draw_troubles(ui, view, false, {x, top + head, board_width}, out);
  draw_troubles(ui, view, true, {x, top + head + notes_used, board_width}, out);
  ui.fill({post_x, top, kPost, board_foot + under_board - top}, Token::ink);
  draw_hand(ui, view, tight, keys, {hand_x, top, hand_width}, out);
  if (split) draw_session_keys(ui, view, KeysShown::under_board, {x, board_foot + kMargin, board_width}, out);
  draw_board(ui, view.board, {x, board_y, board_width, board_foot - board_y}, look, out);
}

// A tablet held upright is one column, board above and hand low, as on the phone.
bool stands_upright(const Ui& ui) {
  const float width = ui.touch_units(ui.page_room().width);
  return !has_rail(ui) && width >= kUprightFrom;
}

Box column_of(const Box& room) {
  const float width = std::min(room.width, kColumnMost + 2 * kMargin);
  return {room.x + std::floor((room.width - width) / 2), room.y, width, room.height};
}

}  // namespace

std::vector<SessionIntent> draw_session_screen(Ui& ui, const SessionView& view) {
  SessionIntents out;
  ui.hold(view.hand);
  const Box room = ui.room();
  const Open open = open_of(view);
  const bool halves = is_wide(ui) && !stands_upright(ui);
  if (wants_page(open) && (!halves || is_short(ui))) draw_page(ui, view, room, out);
  else if (halves) draw_wide(ui, view, room, out);
  else draw_narrow(ui, view, column_of(room), out);
  if (ui.escape_pressed())
    if (const auto close = closing(open)) out.push_back(*close);
  ui.hold({});
  return out;
}

}  // namespace slipway::screens
