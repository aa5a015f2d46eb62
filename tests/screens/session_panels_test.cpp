// The set, the board, rest, change, pain and soreness, pressed by name, by hand and by keyboard.
#include <doctest/doctest.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "kit/session_asks.h"
#include "screens/theme.h"

using namespace slipway;
using namespace slipway::screens;
using kit::app_with;
using kit::asks;
using kit::ctrl_enter_asks;
using kit::escape_asks;
using kit::Key;
using kit::NullWindow;
using kit::only;
using kit::pressed;
using kit::tab_to;
using model::Role;

namespace {

// Corners of this colour inside a box, on a page that isn't scrolled.
int painted_in(Token token, const model::Rect& box) {
  const Colour& wanted = theme(ThemeName::daylight)[token];
  int count = 0;
  for (const ImDrawList* list : ImGui::GetDrawData()->CmdLists)
    for (const ImDrawVert& corner : list->VtxBuffer) {
      const bool inside = corner.pos.x >= box.x && corner.pos.x <= box.x + box.width && corner.pos.y >= box.y && corner.pos.y <= box.y + box.height;
      if (inside && corner.col == IM_COL32(wanted.red, wanted.green, wanted.blue, 255)) ++count;
    }
  return count;
}

}  // namespace

// --- the set ---------------------------------------------------------------------------------------

TEST_CASE("the last set of a main exercise is logged with its reserve in one tap, on either of two keys") {
  NullWindow window;
  const auto view = kit::last_set_session();
  for (std::uint32_t choice = 0; choice < 2; ++choice) {
    const auto log = pressed<LogAsWritten>(window, view, Role::button, view.next[0].keys[choice].spoken);
    REQUIRE(log);
    CHECK(log->choice == choice);
    const auto clicked = window.click(app_with(view), Role::button, view.next[0].keys[choice].spoken);
    const auto* by_hand = only<SessionIntent, LogAsWritten>(clicked.intents);
    REQUIRE(by_hand != nullptr);
    CHECK(by_hand->choice == choice);
  }
}

TEST_CASE("the two keys stand beside each other and are equally large") {
  NullWindow window;
  const auto view = kit::last_set_session();
  window.draw(app_with(view));
  const auto& more = window.node(Role::button, view.next[0].keys[0].spoken).rect;
  const auto& fewer = window.node(Role::button, view.next[0].keys[1].spoken).rect;
  CHECK(more.y == fewer.y);
  CHECK(more.height == fewer.height);
  CHECK(more.height >= 100);
  CHECK(std::abs(more.width - fewer.width) <= 1);
}

TEST_CASE("reserve is never answered beforehand: Ctrl+Enter logs one key, not one of two") {
  CHECK(ctrl_enter_asks<LogAsWritten>(kit::circuit_session()));
  CHECK_FALSE(ctrl_enter_asks<LogAsWritten>(kit::last_set_session()));
}

TEST_CASE("the key that says Kept after a set with two keys answers nothing") {
  SessionView view = kit::last_set_session();
  view.next[0].just_logged = true;
  view.next[0].just_words = "Kept";
  NullWindow window;
  CHECK(window.press(app_with(view), Role::button, view.next[0].log_spoken).intents.empty());
}

TEST_CASE("a warm-up set is offered beside the set and may be passed over") {
  const auto view = kit::warming_up_session();
  CHECK(asks<LogWarmUp>(view, Role::button, "Log the warm-up set, 6 at 12 kilograms"));
  CHECK(asks<SkipWarmUp>(view, Role::button, "No warm-up"));
  CHECK(asks<LogAsWritten>(view, Role::button, view.next[0].log_spoken));
}

TEST_CASE("the reason is a row to press, its whole sentence the name; large text keeps two words of it") {
  const auto view = kit::circuit_session();
  CHECK(asks<OpenWhy>(view, Role::button, view.next[0].why));
  NullWindow window;
  window.draw(app_with(view));
  const float usual = window.node(Role::button, view.next[0].why).rect.height;
  CHECK(usual == 50);
  window.input.text_scale = 2;
  window.draw(app_with(view));
  CHECK(window.node(Role::button, view.next[0].why).rect.height < 2 * usual);
}

TEST_CASE("the whole reason is read with its entries and its rule, and closes") {
  const auto view = kit::reason_session();
  NullWindow window;
  window.draw(app_with(view));
  for (const std::string& entry : view.why[0].entries) CHECK(window.last().find(Role::text, entry) != nullptr);
  CHECK(window.last().find(Role::text, "Rule R22") != nullptr);
  CHECK(asks<CloseWhy>(view, Role::button, "To the session"));
  CHECK(escape_asks<CloseWhy>(view));
  CHECK(ctrl_enter_asks<CloseWhy>(view));
}

TEST_CASE("Pain, Sore and Finish are one press away") {
  SessionView view = kit::circuit_session();
  view.finish_words = "Finish";
  CHECK(asks<OpenPain>(view, Role::button, "Pain"));
  CHECK(asks<OpenSore>(view, Role::button, "Sore"));
  CHECK(asks<OpenFinish>(view, Role::button, "Finish"));
}

TEST_CASE("Change opens the set the view names, also in a row that is not the first") {
  SessionView view = kit::resting_session();
  NullWindow window;
  const auto found = pressed<OpenChange>(window, view, Role::button, "Change");
  REQUIRE(found);
  CHECK(found->row == 1);
  CHECK(found->round == 2);
  view.next[0].row = 2;
  view.next[0].round = 3;
  const auto named = pressed<OpenChange>(window, view, Role::button, "Change");
  REQUIRE(named);
  CHECK(named->row == 2);
  CHECK(named->round == 3);
}

// --- the board -------------------------------------------------------------------------------------

TEST_CASE("the line under the board opens the next block, and its target reaches down to the tray") {
  const auto view = kit::circuit_session();
  NullWindow window;
  const auto open = pressed<OpenBlock>(window, view, Role::button, view.board.foot[0].spoken);
  REQUIRE(open);
  CHECK(open->foot == 0);
  CHECK(window.node(Role::button, view.board.foot[0].spoken).rect.height == 48);
}

TEST_CASE("large text folds the board to the row in hand; a line opens it and folds it again") {
  SessionView view = kit::resting_session();
  NullWindow window;
  window.input.text_scale = 1.5F;
  const auto open = pressed<OpenBoard>(window, view, Role::button, view.board.folded_words);
  REQUIRE(open);
  CHECK(open->open);
  CHECK(window.last().find(Role::rowheader, view.board.rows[1].spoken) != nullptr);
  CHECK(window.last().find(Role::rowheader, view.board.rows[0].spoken) == nullptr);
  view.board.open = true;
  const auto fold = pressed<OpenBoard>(window, view, Role::button, view.board.fold_words);
  REQUIRE(fold);
  CHECK_FALSE(fold->open);
  CHECK(window.last().find(Role::rowheader, view.board.rows[0].spoken) != nullptr);
}

TEST_CASE("while a set is changed the board keeps its row, and a press on it names the right row") {
  SessionView view = kit::changing_circuit();
  view.board.in_hand = 1;
  NullWindow window;
  window.draw(app_with(view));
  CHECK(window.last().find(Role::rowheader, view.board.rows[0].spoken) == nullptr);
  const auto open = pressed<OpenChange>(window, view, Role::gridcell, view.board.rows[1].cells[0].spoken);
  REQUIRE(open);
  CHECK(open->row == 1);
  CHECK(open->round == 1);
}

// --- rest ------------------------------------------------------------------------------------------

TEST_CASE("rest is a silent node whose words change, and never blocks the next set") {
  const auto view = kit::resting_session();
  NullWindow window;
  window.draw(app_with(view));
  CHECK(window.node(Role::text, "37 seconds to go, at least 1 minute").answers == model::Answers::nothing);
  CHECK(window.last().announcements.empty());
  CHECK(asks<LogAsWritten>(view, Role::button, view.next[0].log_spoken));
  CHECK(asks<TakeBack>(view, Role::button, "A1 back"));
}

TEST_CASE("a second of rest moves the water and the clock and nothing else") {
  SessionView view = kit::resting_session();
  NullWindow window;
  const auto before = window.draw(app_with(view)).tree;
  const std::string shape = kit::drawn_shape();
  view.rest[0].left_s = 36;
  view.rest[0].clock = "0:36";
  view.rest[0].spoken = "36 seconds to go, at least 1 minute";
  const auto after = window.draw(app_with(view)).tree;
  CHECK(shape != kit::drawn_shape());
  REQUIRE(before.nodes.size() == after.nodes.size());
  int changed = 0;
  for (std::size_t i = 0; i < before.nodes.size(); ++i) changed += before.nodes[i] == after.nodes[i] ? 0 : 1;
  CHECK(changed == 1);
}

TEST_CASE("the main key is outlined while the rest runs and filled at Go") {
  NullWindow window;
  window.draw(app_with(kit::resting_session()));
  const auto key = window.node(Role::button, kit::resting_session().next[0].log_spoken).rect;
  CHECK(painted_in(Token::deep, key) == 0);
  window.draw(app_with(kit::rested_session()));
  CHECK(painted_in(Token::deep, key) > 0);
}

TEST_CASE("rests of every length are drawn, also none and one longer than an hour") {
  for (const std::int64_t least : {std::int64_t{0}, std::int64_t{1}, std::int64_t{30}, std::int64_t{60}, std::int64_t{90}, std::int64_t{120},
                                   std::int64_t{180}, std::int64_t{3600}}) {
    CAPTURE(least);
    SessionView view = kit::resting_session();
    view.rest[0].least_s = least;
    for (const std::int64_t left : {std::int64_t{0}, least / 2, least, 2 * least}) {
      view.rest[0].left_s = left;
      NullWindow window;
      window.draw(app_with(view));
      const auto drawn = kit::drawn_extent();
      CHECK(drawn.left >= -1.5F);
      CHECK(drawn.right <= 391.5F);
    }
  }
}

// --- change ----------------------------------------------------------------------------------------

TEST_CASE("a change may name the side, say that form broke, and ask for another exercise") {
  SessionView view = kit::changing_circuit();
  NullWindow window;
  const auto side = pressed<ChooseDraftSide>(window, view, Role::radio, "right side");
  REQUIRE(side);
  CHECK(side->choice == 2);
  const auto broke = pressed<SetDraftFormBroke>(window, view, Role::checkbox, view.change[0].form_words);
  REQUIRE(broke);
  CHECK(broke->broke);
  view.change[0].form_broke = true;
  const auto mended = pressed<SetDraftFormBroke>(window, view, Role::checkbox, view.change[0].form_words);
  REQUIRE(mended);
  CHECK_FALSE(mended->broke);
  CHECK(asks<OpenSwap>(view, Role::button, "Another exercise"));
  CHECK(asks<TakeBackThis>(view, Role::button, "Take back"));
  CHECK(ctrl_enter_asks<KeepChange>(view));
}

TEST_CASE("another exercise is chosen from the list, or none") {
  const auto view = kit::swapping_session();
  NullWindow window;
  const auto chosen = pressed<ChooseSwap>(window, view, Role::button, "Row under the bar, knees bent, 8");
  REQUIRE(chosen);
  CHECK(chosen->choice == 1);
  CHECK(asks<CloseSwap>(view, Role::button, "Leave as written"));
  CHECK(escape_asks<CloseSwap>(view));
}

// --- pain and soreness ------------------------------------------------------------------------------

TEST_CASE("a square of the pain grid is kept with one press, by name, by hand and by keyboard") {
  const auto view = kit::pain_session();
  NullWindow window;
  const auto named = pressed<ChoosePain>(window, view, Role::gridcell, "Knee, a lot, 6 to 10");
  REQUIRE(named);
  CHECK(named->row == 6);
  CHECK(named->band == 2);
  const auto clicked = window.click(app_with(view), Role::gridcell, "Elbow, a little, 1 to 2");
  const auto* by_hand = only<SessionIntent, ChoosePain>(clicked.intents);
  REQUIRE(by_hand != nullptr);
  CHECK(by_hand->row == 1);
  CHECK(by_hand->band == 0);
  NullWindow keys;
  tab_to(keys, app_with(view), "Shoulder, hurts, 3 to 5");
  CHECK(keys.strike(app_with(view), Key::down).intents.empty());  // the arrows only move
  const auto entered = keys.strike(app_with(view), Key::enter);
  const auto* by_key = only<SessionIntent, ChoosePain>(entered.intents);
  REQUIRE(by_key != nullptr);
  CHECK(by_key->row == 1);
  CHECK(by_key->band == 1);
}

TEST_CASE("the kept square is checked and looks different kept, not kept and empty") {
  SessionView view = kit::pain_session();
  NullWindow window;
  window.draw(app_with(view));
  CHECK(window.node(Role::gridcell, "Shoulder, hurts, 3 to 5").checked);
  CHECK_FALSE(window.node(Role::gridcell, "Elbow, hurts, 3 to 5").checked);
  const std::string kept = kit::drawn_shape();
  view.pain[0].rows[0].squares[1].state = CellState::not_kept;
  window.draw(app_with(view));
  const std::string wet = kit::drawn_shape();
  view.pain[0].rows[0].squares[1].state = CellState::not_done;
  window.draw(app_with(view));
  CHECK(kept != wet);
  CHECK(kept != kit::drawn_shape());
  CHECK(wet != kit::drawn_shape());
}

TEST_CASE("side and number are extras behind the kept line; last time's pain is asked about") {
  CHECK(asks<OpenPainMore>(kit::pain_session(), Role::button, "Kept: shoulder hurts, 3 to 5. Pull and push change now. Side? Number?"));
  const auto view = kit::pain_asked_session();
  NullWindow window;
  const auto side = pressed<ChoosePainSide>(window, view, Role::radio, "left");
  REQUIRE(side);
  CHECK(side->choice == 0);
  const auto number = pressed<ChoosePainNumber>(window, view, Role::radio, "10");
  REQUIRE(number);
  CHECK(number->choice == 4);
  const auto settled = pressed<AnswerAsked>(window, view, Role::radio, "No, not settled");
  REQUIRE(settled);
  CHECK(settled->about == "report");
  CHECK(settled->choice == 1);
}

TEST_CASE("while side and number are asked only what was kept stays in sight, and a press there is of its own part") {
  SessionView view = kit::pain_asked_session();
  PainPanel& panel = view.pain.front();
  for (SquareRow& row : panel.rows)
    for (Square& square : row.squares) square.state = CellState::not_done;
  panel.rows[6].squares[1].state = CellState::kept;
  NullWindow window;
  const auto tree = window.draw(app_with(view)).tree;
  CHECK(std::any_of(tree.nodes.begin(), tree.nodes.end(), [](const model::Node& node) { return node.name.find("Knee") == 0; }));
  CHECK(std::none_of(tree.nodes.begin(), tree.nodes.end(), [](const model::Node& node) { return node.name.find("Shoulder, ") == 0 && node.answers != model::Answers::nothing; }));
  const auto more = pressed<ChoosePain>(window, view, Role::gridcell, "Knee, a lot, 6 to 10");
  REQUIRE(more);
  CHECK(more->row == 6);
  CHECK(more->band == 2);
}

TEST_CASE("pain is taken back or left with a key, and Escape goes to the session") {
  const auto view = kit::pain_session();
  CHECK(asks<TakeBackPain>(view, Role::button, "Take back"));
  CHECK(asks<ClosePain>(view, Role::button, "To the session"));
  CHECK(escape_asks<ClosePain>(view));
}

TEST_CASE("a red flag is two taps from the set: the stop says what to do and shows the number") {
  CHECK(asks<OpenPain>(kit::circuit_session(), Role::button, "Pain"));
  CHECK(asks<OpenStop>(kit::pain_session(), Role::button, "Chest pain, faint, head knock, numb"));
  const auto view = kit::stopped_session();
  NullWindow window;
  window.draw(app_with(view));
  CHECK(window.last().find(Role::text, "Emergency number 112") != nullptr);
  CHECK(window.last().find(Role::text, view.stop[0].words[0]) != nullptr);
  const auto ticked = pressed<TickFlag>(window, view, Role::checkbox, "Weight loss without a cause");
  REQUIRE(ticked);
  CHECK(ticked->flag == 0);
  CHECK(ticked->ticked);
  const auto cleared = pressed<TickFlag>(window, view, Role::checkbox, "Night sweats, or night pain without a cause");
  REQUIRE(cleared);
  CHECK(cleared->flag == 1);
  CHECK_FALSE(cleared->ticked);
  CHECK(asks<TakeBackStop>(view, Role::button, "Take back"));
  CHECK(asks<CloseStop>(view, Role::button, "To the session"));
  CHECK(escape_asks<CloseStop>(view));
}

TEST_CASE("soreness is kept with one press; five days and more ask since when") {
  const auto view = kit::sore_session();
  NullWindow window;
  const auto named = pressed<ChooseSore>(window, view, Role::gridcell, "Trunk, 3 to 4 days");
  REQUIRE(named);
  CHECK(named->row == 3);
  CHECK(named->span == 3);
  const auto days = pressed<SetSoreDays>(window, view, Role::button, "More days");
  REQUIRE(days);
  CHECK(days->days == 6);
  CHECK(window.press(app_with(view), Role::button, "Fewer days").intents.empty());  // five is the least of "5+"
  const auto hinders = pressed<SetSoreHinders>(window, view, Role::checkbox, "It hinders movement");
  REQUIRE(hinders);
  CHECK(hinders->hinders);
  CHECK(asks<TakeBackSore>(view, Role::button, "Take back"));
  CHECK(asks<CloseSore>(view, Role::button, "To the session"));
  CHECK(escape_asks<CloseSore>(view));
}

TEST_CASE("more pain has more teeth and longer soreness more swells, whatever their colour") {
  // Of one row all squares but one are kept alike, so that only the picture of that one differs in size.
  const auto grows = [&](SessionView view, auto rows_of, std::size_t squares) {
    std::size_t before = 0;
    for (std::size_t open = 0; open < squares; ++open) {
      CAPTURE(open);
      SessionView one = view;
      std::vector<SquareRow> rows = rows_of(one);
      rows.resize(1);
      for (std::size_t i = 0; i < squares; ++i) {
        rows[0].squares[i].state = i == open ? CellState::not_done : CellState::kept;
        rows[0].squares[i].amount = "2";
      }
      rows_of(one) = rows;
      NullWindow window;
      window.draw(app_with(one));
      const std::size_t now = kit::drawn_shape().size();
      CHECK(now > before);
      before = now;
    }
  };
  grows(kit::pain_session(), [](SessionView& view) -> std::vector<SquareRow>& { return view.pain[0].rows; }, 3);
  grows(kit::sore_session(), [](SessionView& view) -> std::vector<SquareRow>& { return view.sore[0].rows; }, 5);
}

TEST_CASE("a panel takes the focus when it opens by key and gives it back when it closes") {
  const auto ready = app_with(kit::circuit_session());
  NullWindow window;
  tab_to(window, ready, "Pain");
  window.strike(ready, Key::enter);
  const auto opened = window.draw(app_with(kit::pain_session())).tree;
  const model::Node* inside = opened.find(opened.focus);
  REQUIRE(inside != nullptr);
  CHECK(inside->role == Role::gridcell);
  const auto closed = window.draw(ready).tree;
  REQUIRE(closed.find(closed.focus) != nullptr);
  CHECK(closed.find(closed.focus)->name == "Pain");
}

// --- hand and gloves ----------------------------------------------------------------------------------

TEST_CASE("for the left hand Change, Pain and Sore and both keys of a stepper stand the other way round, and are read as ever") {
  const auto keys = [](const SessionView& view) {
    NullWindow window({390, 844});
    std::vector<std::pair<std::string, float>> found;
    for (const auto& node : window.draw(app_with(view)).tree.nodes)
      for (const char* name : {"Change", "Pain", "Sore", "Fewer reps", "More reps"})
        if (node.name == name) found.emplace_back(name, node.rect.x);
    return found;
  };
  for (const SessionView& plain : {kit::circuit_session(), kit::changing_circuit()}) {
    SessionView mirrored = plain;
    mirrored.hand.left = true;
    const auto right = keys(plain), left = keys(mirrored);
    REQUIRE(right.size() >= 2);
    REQUIRE(left.size() == right.size());
    for (std::size_t i = 0; i < right.size(); ++i) {
      CHECK(left[i].first == right[i].first);
      CHECK(std::abs(left[i].second - right[right.size() - 1 - i].second) < 2);
    }
    CHECK(right.front().second < right.back().second);
    CHECK(left.front().second > left.back().second);
  }
}

TEST_CASE("in gloves secondary keys are 64 high and 12 apart, and the reason keeps one line") {
  NullWindow window({390, 844});
  const auto tree = window.draw(app_with(kit::in_gloves(kit::circuit_session()))).tree;
  std::vector<model::Rect> keys;
  for (const auto& node : tree.nodes)
    if (node.name == "Change" || node.name == "Pain" || node.name == "Sore") keys.push_back(node.rect);
  REQUIRE(keys.size() == 3);
  for (const auto& key : keys) CHECK(key.height >= 64);
  CHECK(keys[1].x - (keys[0].x + keys[0].width) >= 12);
  CHECK(keys[2].x - (keys[1].x + keys[1].width) >= 12);
  const auto why = std::find_if(tree.nodes.begin(), tree.nodes.end(), [](const model::Node& node) { return node.name.find("Why this: ") == 0; });
  REQUIRE(why != tree.nodes.end());
  CHECK(why->rect.height == 48);
}
