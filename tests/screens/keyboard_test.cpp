#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "kit/screen_kit.h"
#include "kit/session_views.h"

using namespace slipway;
using namespace slipway::screens;
using kit::app_with;
using kit::Key;
using kit::NullWindow;
using kit::only;
using model::Role;

namespace {

std::string focused(const model::Tree& tree) {
  const model::Node* node = tree.find(tree.focus);
  return node == nullptr ? "" : node->name;
}

std::vector<std::string> tab_round(NullWindow& window, const AppView& view) {
  window.draw(view);
  std::vector<std::string> names;
  for (int i = 0; i < 40; ++i) {
    const std::string name = focused(window.strike(view, Key::tab).tree);
    if (!names.empty() && name == names.front()) break;
    names.push_back(name);
  }
  return names;
}

void tab_to(NullWindow& window, const AppView& view, const std::string& name) {
  window.draw(view);
  for (int i = 0; i < 40; ++i)
    if (focused(window.strike(view, Key::tab).tree) == name) return;
  FAIL("Tab never reached " << name);
}

}  // namespace

TEST_CASE("Tab goes in reading order; the board and the bar are one stop each") {
  NullWindow window;
  const std::vector<std::string> expected{"Log as written, 10 at 22 kilograms", "A1 back", "Change", "Hand over",
                                          "A1 goblet squat, round 2: written 10 at 22 kilograms, next", "Session"};
  CHECK(tab_round(window, app_with(kit::ready_session())) == expected);
}

TEST_CASE("Tab in the change goes by the stepper, the two choices and the keys") {
  NullWindow window;
  const std::vector<std::string> expected{"Fewer reps",   "Reps",          "More reps",        "22 kilograms", "1 in reserve",
                                          "Log 9 × 22 kg", "Leave as written", "Left out",
                                          "A1 goblet squat, round 2: written 10 at 22 kilograms, next", "Session"};
  CHECK(tab_round(window, app_with(kit::changing_session())) == expected);
}

TEST_CASE("Shift+Tab goes back") {
  NullWindow window;
  const auto view = app_with(kit::ready_session());
  tab_to(window, view, "A1 back");
  CHECK(focused(window.strike(view, Key::tab, true).tree) == "Log as written, 10 at 22 kilograms");
}

TEST_CASE("Enter and Space press what has the focus") {
  const auto view = app_with(kit::ready_session());
  for (const Key key : {Key::enter, Key::space}) {
    NullWindow window;
    tab_to(window, view, "Log as written, 10 at 22 kilograms");
    CHECK(only<SessionIntent, LogAsWritten>(window.strike(view, key).intents) != nullptr);
  }
}

TEST_CASE("arrows move from cell to cell inside the board, and no further than its edge") {
  NullWindow window;
  const auto view = app_with(kit::ready_session());
  tab_to(window, view, "A1 goblet squat, round 2: written 10 at 22 kilograms, next");
  CHECK(focused(window.strike(view, Key::right).tree) == "A1 goblet squat, round 3: written 9 at 22 kilograms, not done");
  CHECK(focused(window.strike(view, Key::right).tree) == "A1 goblet squat, round 3: written 9 at 22 kilograms, not done");
  window.strike(view, Key::left);
  CHECK(focused(window.strike(view, Key::left).tree) == "A1 goblet squat, round 1: 10 at 22 kilograms, as written, kept");
  const auto opened = window.strike(view, Key::enter);
  const auto* open = only<SessionIntent, OpenChange>(opened.intents);
  REQUIRE(open != nullptr);
  CHECK(open->round == 1);
}

TEST_CASE("up and down keep the column of the board") {
  SessionView session = kit::ready_session();
  BoardRow second = session.board.rows[0];
  for (BoardCell& cell : second.cells) {
    cell.spoken = "A2 " + cell.spoken;
    cell.state = CellState::not_done;
  }
  session.board.rows.push_back(second);
  NullWindow window;
  const auto view = app_with(session);
  tab_to(window, view, "A1 goblet squat, round 2: written 10 at 22 kilograms, next");
  CHECK(focused(window.strike(view, Key::down).tree) == "A2 A1 goblet squat, round 2: written 10 at 22 kilograms, next");
  CHECK(focused(window.strike(view, Key::up).tree) == "A1 goblet squat, round 2: written 10 at 22 kilograms, next");
}

TEST_CASE("in a choice the arrows choose, and a figure takes the choice of that number") {
  NullWindow window;
  const auto view = app_with(kit::changing_session());
  tab_to(window, view, "22 kilograms");
  const auto moved = window.strike(view, Key::right);
  const auto* load = only<SessionIntent, ChooseDraftLoad>(moved.intents);
  REQUIRE(load != nullptr);
  CHECK(load->choice == 3);
  tab_to(window, view, "1 in reserve");
  const auto typed = window.strike(view, Key::digit_2);
  const auto* reserve = only<SessionIntent, ChooseDraftReserve>(typed.intents);
  REQUIRE(reserve != nullptr);
  CHECK(reserve->choice == 2);
}

TEST_CASE("of a question nobody has answered the arrows answer nothing; Enter does") {
  const auto session = kit::pain_asked_session();
  NullWindow window;
  const auto view = app_with(session);
  tab_to(window, view, "Yes, settled");
  const auto moved = window.strike(view, Key::down);
  CHECK(focused(moved.tree) == "No, not settled");
  CHECK(moved.intents.empty());
  const auto answered = window.strike(view, Key::enter);
  const auto* answer = only<SessionIntent, AnswerAsked>(answered.intents);
  REQUIRE(answer != nullptr);
  CHECK(answer->choice == 1);
}

TEST_CASE("on the bar the arrows only move; Enter goes") {
  NullWindow window;
  const auto view = app_with(kit::ready_session());
  tab_to(window, view, "Session");
  const auto moved = window.strike(view, Key::right);
  CHECK(focused(moved.tree) == "Exchange");
  CHECK(moved.intents.empty());
  const auto gone = window.strike(view, Key::enter);
  REQUIRE(gone.intents.size() == 1);
  CHECK(std::get<GoTo>(gone.intents[0]).place == Place::exchange);
}

TEST_CASE("up and down step the reps while the field has the focus") {
  NullWindow window;
  const auto view = app_with(kit::changing_session());
  tab_to(window, view, "Reps");
  const auto up = window.strike(view, Key::up);
  const auto* more = only<SessionIntent, SetDraftReps>(up.intents);
  REQUIRE(more != nullptr);
  CHECK(more->reps == 10);
  const auto down = window.strike(view, Key::page_down);
  const auto* fewer = only<SessionIntent, SetDraftReps>(down.intents);
  REQUIRE(fewer != nullptr);
  CHECK(fewer->reps == 4);
}

TEST_CASE("figures typed on a keyboard replace the reps, and Escape brings the old value back without closing the change") {
  NullWindow window;
  SessionView session = kit::changing_session();
  tab_to(window, app_with(session), "Reps");
  window.draw(app_with(session));
  const auto typed = window.type(app_with(session), "12");
  REQUIRE_FALSE(typed.intents.empty());
  const auto* last = std::get_if<SetDraftReps>(std::get_if<SessionIntent>(&typed.intents.back()));
  REQUIRE(last != nullptr);
  CHECK(last->reps == 12);
  session.change[0].reps = 12;
  CHECK(window.draw(app_with(session)).intents.empty());
  const auto back = window.strike(app_with(session), Key::escape);
  const auto* reverted = only<SessionIntent, SetDraftReps>(back.intents);
  REQUIRE(reverted != nullptr);
  CHECK(reverted->reps == 9);
  CHECK(only<SessionIntent, LeaveAsWritten>(back.intents) == nullptr);
  session.change[0].reps = 9;
  CHECK(only<SessionIntent, LeaveAsWritten>(window.strike(app_with(session), Key::escape).intents) != nullptr);
}

TEST_CASE("a refused number is told once, not again with every frame") {
  NullWindow window;
  const auto view = app_with(kit::changing_session());
  tab_to(window, view, "Reps");
  window.draw(view);
  CHECK_FALSE(window.type(view, "999").intents.empty());
  CHECK(window.draw(view).intents.empty());
  CHECK(window.draw(view).intents.empty());
}

TEST_CASE("a name is typed on a keyboard, letters beyond Latin-1 too") {
  StartView start = kit::first_run();
  AppView view;
  view.page = start;
  NullWindow window;
  tab_to(window, view, "Name or nickname on this device");
  window.draw(view);
  const auto typed = window.type(view, "Łuc ja");
  REQUIRE_FALSE(typed.intents.empty());
  const auto* name = std::get_if<SetDraftName>(std::get_if<StartIntent>(&typed.intents.back()));
  REQUIRE(name != nullptr);
  CHECK(name->name == "Łuc ja");
}

TEST_CASE("the change takes the focus when it opens and gives it back when it closes") {
  NullWindow window;
  const auto ready = app_with(kit::ready_session());
  tab_to(window, ready, "Change");
  window.strike(ready, Key::enter);
  CHECK(focused(window.draw(app_with(kit::changing_session())).tree) == "Fewer reps");
  CHECK(focused(window.draw(ready).tree) == "Change");
}

TEST_CASE("Escape does nothing where nothing is open") {
  NullWindow window;
  const auto view = app_with(kit::ready_session());
  window.draw(view);
  CHECK(window.strike(view, Key::escape).intents.empty());
}

TEST_CASE("the focus ring is drawn for keys and not for touch") {
  const auto view = app_with(kit::ready_session());
  NullWindow window;
  tab_to(window, view, "Change");
  window.draw(view);
  const std::string with_ring = kit::drawn_shape();
  window.input.show_focus = false;
  window.draw(view);
  CHECK(with_ring != kit::drawn_shape());
}

TEST_CASE("the focus that Tab moves below the page scrolls into sight") {
  NullWindow window({390, 420});
  window.input.text_scale = 2;
  const auto view = app_with(kit::ready_session());
  tab_to(window, view, "Hand over");
  const auto tree = window.draw(view).tree;
  const model::Node& key = window.node(Role::button, "Hand over");
  const auto& area = tree.areas.front();
  CHECK(key.rect.y >= area.scroll_y);
  CHECK(key.rect.y + key.rect.height <= area.scroll_y + area.rect.height);
}

TEST_CASE("a focus by name is what the tree says next") {
  NullWindow window;
  const auto view = app_with(kit::ready_session());
  const auto shown = window.act(view, Role::button, "Change", model::ActionKind::focus);
  CHECK(focused(shown.tree) == "Change");
  CHECK(shown.intents.empty());
}
