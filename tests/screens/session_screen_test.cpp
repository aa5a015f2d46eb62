#include <doctest/doctest.h>

#include "kit/screen_kit.h"

using namespace slipway;
using namespace slipway::screens;
using kit::app_with;
using kit::NullWindow;
using kit::only;
using model::ActionKind;
using model::Role;

namespace {

constexpr const char* kLog = "Log as written, 10 at 22 kilograms";

}  // namespace

TEST_CASE("pressing Log as written by name asks to log the next set") {
  NullWindow window;
  const auto shown = window.press(app_with(kit::ready_session()), Role::button, kLog);
  CHECK(only<SessionIntent, LogAsWritten>(shown.intents) != nullptr);
  CHECK(shown.intents.size() == 1);
}

TEST_CASE("a press with the mouse on the key asks for the same as a press by name") {
  NullWindow window;
  const auto shown = window.click(app_with(kit::ready_session()), Role::button, kLog);
  CHECK(only<SessionIntent, LogAsWritten>(shown.intents) != nullptr);
  CHECK(shown.intents.size() == 1);
}

TEST_CASE("a finger that slides off the key before it lifts asks for nothing") {
  NullWindow window;
  CHECK(window.slide_off(app_with(kit::ready_session()), Role::button, kLog).intents.empty());
}

TEST_CASE("the key that logs carries the cue and the reason as its description") {
  NullWindow window;
  window.draw(app_with(kit::ready_session()));
  CHECK(window.node(Role::button, kLog).hint ==
        "Weight at the breastbone, elbows inside the knees. Why this: written by the coach on Mon 23 Nov.");
}

TEST_CASE("the Change key opens the set that is next") {
  NullWindow window;
  const auto shown = window.press(app_with(kit::ready_session()), Role::button, "Change");
  const auto* open = only<SessionIntent, OpenChange>(shown.intents);
  REQUIRE(open != nullptr);
  CHECK(open->row == 0);
  CHECK(open->round == 2);
}

TEST_CASE("after the last written round the Change key opens the round nobody wrote") {
  SessionView view = kit::ready_session();
  for (BoardCell& cell : view.board.rows[0].cells) cell.state = CellState::kept;
  view.next[0].extra = true;
  NullWindow window;
  const auto shown = window.press(app_with(view), Role::button, "Change");
  const auto* open = only<SessionIntent, OpenChange>(shown.intents);
  REQUIRE(open != nullptr);
  CHECK(open->round == 4);
}

TEST_CASE("a kept set on the board opens to be mended, one not done does not") {
  NullWindow window;
  const auto view = app_with(kit::ready_session());
  const auto mended = window.press(view, Role::gridcell, "A1 goblet squat, round 1: 10 at 22 kilograms, as written, kept");
  const auto* open = only<SessionIntent, OpenChange>(mended.intents);
  REQUIRE(open != nullptr);
  CHECK(open->round == 1);
  CHECK(window.press(view, Role::gridcell, "A1 goblet squat, round 3: written 9 at 22 kilograms, not done").intents.empty());
}

TEST_CASE("the last entry can be taken back and the bundle handed over with one press each") {
  NullWindow window;
  const auto view = app_with(kit::ready_session());
  CHECK(only<SessionIntent, TakeBack>(window.press(view, Role::button, "A1 back").intents) != nullptr);
  CHECK(only<SessionIntent, HandOver>(window.press(view, Role::button, "Hand over").intents) != nullptr);
}

TEST_CASE("trouble offers to try again and to hand over, and the set can still be logged") {
  NullWindow window;
  const auto view = app_with(kit::troubled_session());
  CHECK(only<SessionIntent, TryAgain>(window.press(view, Role::button, "Try again").intents) != nullptr);
  CHECK(only<SessionIntent, HandOver>(window.press(view, Role::button, "Hand over by file").intents) != nullptr);
  CHECK(only<SessionIntent, LogAsWritten>(window.press(view, Role::button, kLog).intents) != nullptr);
  CHECK(window.node(Role::button, kLog).hint.find("will wait, not yet kept") == 0);
}

TEST_CASE("reps typed into the field called Reps become the draft's reps") {
  NullWindow window;
  const auto shown = window.act(app_with(kit::changing_session()), Role::spinbutton, "Reps", ActionKind::set_value, "12");
  const auto* set = only<SessionIntent, SetDraftReps>(shown.intents);
  REQUIRE(set != nullptr);
  CHECK(set->reps == 12);
}

TEST_CASE("reps that are no whole number are handed on as a value that is refused") {
  NullWindow window;
  for (const char* typed : {"", "nine", "9.5", "99999999999999999999"}) {
    CAPTURE(typed);
    const auto shown = window.act(app_with(kit::changing_session()), Role::spinbutton, "Reps", ActionKind::set_value, typed);
    const auto* set = only<SessionIntent, SetDraftReps>(shown.intents);
    REQUIRE(set != nullptr);
    CHECK(set->reps < 0);
  }
}

TEST_CASE("a refused number is marked at the field and said in words") {
  SessionView view = kit::changing_session();
  view.change[0].reps_refused = "Reps must be a whole number from 0 to 100.";
  NullWindow window;
  window.draw(app_with(view));
  const model::Node& field = window.node(Role::spinbutton, "Reps");
  CHECK(field.invalid);
  CHECK(field.hint == view.change[0].reps_refused);
  CHECK(window.last().find(Role::text, view.change[0].reps_refused) != nullptr);
}

TEST_CASE("the stepper knows its value and range, and steps by name, by key and by step") {
  NullWindow window;
  const auto view = app_with(kit::changing_session());
  const auto reps_after = [&](const kit::Shown& shown) {
    const auto* set = only<SessionIntent, SetDraftReps>(shown.intents);
    return set == nullptr ? -1 : set->reps;
  };
  CHECK(reps_after(window.act(view, Role::spinbutton, "Reps", ActionKind::step_up)) == 10);
  CHECK(reps_after(window.act(view, Role::spinbutton, "Reps", ActionKind::step_down)) == 8);
  CHECK(reps_after(window.press(view, Role::button, "More reps")) == 10);
  CHECK(reps_after(window.press(view, Role::button, "Fewer reps")) == 8);
  CHECK(reps_after(window.click(view, Role::button, "Fewer reps")) == 8);
  const model::Node& field = window.node(Role::spinbutton, "Reps");
  CHECK(field.now == 9);
  CHECK(field.low == 0);
  CHECK(field.high == 100);
  CHECK(field.input == model::InputMode::numeric);
}

TEST_CASE("a number outside its range is not changed by being shown, and comes back into it by a step") {
  NullWindow window;
  auto session = kit::changing_session();
  session.change[0].reps = 150;
  const auto view = app_with(session);
  CHECK(window.draw(view).intents.empty());
  const auto shown = window.press(view, Role::button, "Fewer reps");
  const auto* set = only<SessionIntent, SetDraftReps>(shown.intents);
  REQUIRE(set != nullptr);
  CHECK(set->reps == 100);
}

TEST_CASE("two steps in one frame are two reps") {
  NullWindow window;
  const auto view = app_with(kit::changing_session());
  window.draw(view);
  const model::NodeId more = window.node(Role::button, "More reps").id;
  window.input.actions = {{more, ActionKind::press, {}}, {more, ActionKind::press, {}}};
  const auto shown = window.draw(view);
  const auto* set = only<SessionIntent, SetDraftReps>(shown.intents);
  REQUIRE(set != nullptr);
  CHECK(set->reps == 11);
}

TEST_CASE("no rep is stepped below the least") {
  SessionView view = kit::changing_session();
  view.change[0].reps = 0;
  NullWindow window;
  CHECK(window.press(app_with(view), Role::button, "Fewer reps").intents.empty());
  CHECK(window.node(Role::button, "Fewer reps").disabled);
  CHECK_FALSE(window.node(Role::button, "More reps").disabled);
}

TEST_CASE("a load and a reserve are chosen by their spoken names") {
  NullWindow window;
  const auto view = app_with(kit::changing_session());
  const auto loads = window.press(view, Role::radio, "24 kilograms");
  const auto* load = only<SessionIntent, ChooseDraftLoad>(loads.intents);
  REQUIRE(load != nullptr);
  CHECK(load->choice == 3);
  const auto reserves = window.click(view, Role::radio, "4+ in reserve");
  const auto* reserve = only<SessionIntent, ChooseDraftReserve>(reserves.intents);
  REQUIRE(reserve != nullptr);
  CHECK(reserve->choice == 4);
  CHECK(window.node(Role::radio, "22 kilograms").checked);
  CHECK_FALSE(window.node(Role::radio, "24 kilograms").checked);
}

TEST_CASE("a change is kept, left as written or marked left out by its own key") {
  NullWindow window;
  const auto view = app_with(kit::changing_session());
  CHECK(only<SessionIntent, KeepChange>(window.press(view, Role::button, "Log 9 × 22 kg").intents) != nullptr);
  CHECK(only<SessionIntent, LeaveAsWritten>(window.press(view, Role::button, "Leave as written").intents) != nullptr);
  CHECK(only<SessionIntent, MarkLeftOut>(window.press(view, Role::button, "Left out").intents) != nullptr);
  CHECK(window.last().find(Role::button, "Take back") == nullptr);
}

TEST_CASE("only what the view has words for is shown: no dead keys") {
  SessionView view = kit::ready_session();
  view.back_words.clear();
  view.hand_over_words.clear();
  NullWindow window;
  window.draw(app_with(view));
  int keys = 0;
  for (const model::Node& node : window.last().nodes) keys += node.role == Role::button ? 1 : 0;
  CHECK(keys == 2);  // Log as written, Change
}

TEST_CASE("the hand is read before the board, and the places come last") {
  NullWindow window;
  const auto shown = window.draw(app_with(kit::ready_session()));
  const auto place = [&](Role role) {
    for (std::size_t i = 0; i < shown.tree.nodes.size(); ++i)
      if (shown.tree.nodes[i].role == role) return i;
    return shown.tree.nodes.size();
  };
  CHECK(place(Role::heading) < place(Role::status));
  CHECK(place(Role::status) < place(Role::group));
  CHECK(place(Role::group) < place(Role::button));
  CHECK(place(Role::button) < place(Role::grid));
  CHECK(place(Role::grid) < place(Role::tablist));
}

TEST_CASE("each state of a cell has a shape of its own, not only a colour") {
  std::vector<std::string> shapes;
  for (const CellState state : {CellState::not_done, CellState::next, CellState::not_kept, CellState::kept, CellState::changed, CellState::left_out, CellState::held,
                                CellState::swapped, CellState::crossed_out, CellState::waits_sign_off}) {
    SessionView view = kit::ready_session();
    view.board.rows[0].cells[2].state = state;
    NullWindow window;
    window.draw(app_with(view));
    shapes.push_back(kit::drawn_shape());
  }
  for (std::size_t a = 0; a < shapes.size(); ++a)
    for (std::size_t b = a + 1; b < shapes.size(); ++b) {
      CAPTURE(a);
      CAPTURE(b);
      CHECK(shapes[a] != shapes[b]);
    }
}
