// The Session place before the first set, where there is none, and after the last.
#include <doctest/doctest.h>

#include "kit/session_asks.h"

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
using model::ActionKind;
using model::Role;

namespace {

std::size_t place_of(const model::Tree& tree, Role role, std::string_view name) {
  for (std::size_t i = 0; i < tree.nodes.size(); ++i)
    if (tree.nodes[i].role == role && tree.nodes[i].name.find(name) == 0) return i;
  FAIL("no " << std::string(name));
  return 0;
}

}  // namespace

TEST_CASE("the check is one tap, by its key or by Ctrl+Enter, and never answered beforehand") {
  const auto view = kit::checking_session();
  CHECK(asks<NothingHurts>(view, Role::button, "Nothing hurts, not sore"));
  CHECK(ctrl_enter_asks<NothingHurts>(view));
  CHECK(asks<OpenPain>(view, Role::button, "Pain"));
  CHECK(asks<OpenSore>(view, Role::button, "Sore"));
  NullWindow window;
  CHECK(window.draw(app_with(view)).intents.empty());
}

TEST_CASE("beside a set the check is quiet: the set stays the page's main key and is read after it") {
  const auto view = kit::check_beside_session();
  CHECK(asks<NothingHurts>(view, Role::button, "Nothing hurts, not sore"));
  CHECK(ctrl_enter_asks<LogAsWritten>(view));
  NullWindow window;
  const auto tree = window.draw(app_with(view)).tree;
  CHECK(place_of(tree, Role::button, "Nothing hurts") < place_of(tree, Role::button, "Log as written"));
}

TEST_CASE("an adult ticks in with one key, or says in which role") {
  NullWindow window;
  const auto ticked = pressed<TickAdult>(window, kit::checking_session(), Role::button, "An adult is in the room");
  REQUIRE(ticked);
  CHECK(ticked->role == 0);
  const auto role = pressed<TickAdult>(window, kit::check_beside_session(), Role::radio, "guardian");
  REQUIRE(role);
  CHECK(role->role == 2);
}

TEST_CASE("a clean board offers its keys, the first as the page's main key") {
  const auto view = kit::empty_session();
  NullWindow window;
  const auto first = pressed<PressState>(window, view, Role::button, "Take in a bundle");
  REQUIRE(first);
  CHECK(first->state == 0);
  CHECK(first->key == 0);
  const auto second = pressed<PressState>(window, view, Role::button, "Start the learning weeks");
  REQUIRE(second);
  CHECK(second->key == 1);
  CHECK(ctrl_enter_asks<PressState>(view));
  CHECK(window.last().find(Role::heading, "The board is clean.") != nullptr);
}

TEST_CASE("a rule that would move the session offers training first and moving second") {
  const auto view = kit::moved_session();
  NullWindow window;
  const auto tree = window.draw(app_with(view)).tree;
  CHECK(place_of(tree, Role::button, "Train now") < place_of(tree, Role::button, "Move to"));
  CHECK(ctrl_enter_asks<PressState>(view));
  CHECK(window.last().find(Role::text, "G09") != nullptr);
}

TEST_CASE("a red stop has no key to log with and none that Ctrl+Enter works") {
  const auto view = kit::refused_session();
  NullWindow window;
  window.draw(app_with(view));
  for (const model::Node& node : window.last().nodes) CHECK(node.name.find("Log") == std::string::npos);
  CHECK(window.strike(app_with(view), Key::enter, false, true).intents.empty());
  CHECK(asks<PressState>(view, Role::button, "What to do"));
}

TEST_CASE("what is missing is said in one sentence with one key, and the set can still be logged") {
  const auto view = kit::lacking_session();
  CHECK(asks<PressState>(view, Role::button, "Enter body mass"));
  CHECK(ctrl_enter_asks<LogAsWritten>(view));
}

TEST_CASE("the session's effort is chosen by name and by figure, and finished with the page's main key") {
  const auto view = kit::finish_session();
  NullWindow window;
  const auto effort = pressed<ChooseEffort>(window, view, Role::radio, "7, very hard");
  REQUIRE(effort);
  CHECK(effort->effort == 7);
  NullWindow keys;
  tab_to(keys, app_with(view), "5, hard");
  const auto typed = keys.strike(app_with(view), Key::digit_2);
  const auto* by_figure = only<SessionIntent, ChooseEffort>(typed.intents);
  REQUIRE(by_figure != nullptr);
  CHECK(by_figure->effort == 2);
  NullWindow first;  // nothing is chosen yet, and the figure still names its answer
  const auto unanswered = app_with(kit::short_finish_session());
  tab_to(first, unanswered, "0, rest");
  const auto two = first.strike(unanswered, Key::digit_2);
  const auto* easy = only<SessionIntent, ChooseEffort>(two.intents);
  REQUIRE(easy != nullptr);
  CHECK(easy->effort == 2);
  const auto minutes = pressed<SetMinutes>(window, view, Role::button, "Fewer minutes");
  REQUIRE(minutes);
  CHECK(minutes->minutes == 45);
  CHECK(asks<KeepFinish>(view, Role::button, "Finish: effort 5, 46 min"));
  CHECK(ctrl_enter_asks<KeepFinish>(view));
  CHECK(escape_asks<LeaveFinish>(view));
}

TEST_CASE("without an effort the session can't be finished, and the key says what it waits for") {
  const auto view = kit::short_finish_session();
  NullWindow window;
  CHECK(window.press(app_with(view), Role::button, "Finish").intents.empty());
  CHECK(window.node(Role::button, "Finish").disabled);
  CHECK_FALSE(ctrl_enter_asks<KeepFinish>(view));
  for (const model::Node& node : window.last().nodes)
    if (node.role == Role::radio) CHECK_FALSE(node.checked);
}

TEST_CASE("a short session is asked for its reason, and minutes typed as words are refused") {
  const auto view = kit::short_finish_session();
  NullWindow window;
  const auto reason = pressed<ChooseShortReason>(window, view, Role::radio, "kit missing");
  REQUIRE(reason);
  CHECK(reason->choice == 3);
  const auto typed = window.act(app_with(view), Role::spinbutton, "Minutes", ActionKind::set_value, "an hour");
  const auto* minutes = only<SessionIntent, SetMinutes>(typed.intents);
  REQUIRE(minutes);
  CHECK(minutes->minutes < 0);
  CHECK(window.last().find(Role::text, view.finish[0].minutes_refused) != nullptr);
  CHECK(asks<LeaveFinish>(view, Role::button, "Back to the session"));
}

TEST_CASE("once nothing is next Finish is the main key; after it Hand over is") {
  CHECK(ctrl_enter_asks<OpenFinish>(kit::all_done_session()));
  CHECK(asks<HandOver>(kit::all_done_session(), Role::button, "Hand over"));
  CHECK(ctrl_enter_asks<HandOver>(kit::coming_session()));
}

TEST_CASE("what comes next is a list, one line a movement, each with its reason") {
  const auto view = kit::coming_session();
  NullWindow window;
  window.draw(app_with(view));
  const ComingRow& row = view.coming[0].rows[1];
  const model::Node& node = window.node(Role::listitem, row.movement + ", " + row.dose + ". " + row.why);
  CHECK(node.position == 2);
  CHECK(node.set_size == 4);
}

TEST_CASE("of several panels the stop comes first, and Escape closes what is seen") {
  SessionView view = kit::pain_session();
  view.stop = kit::stopped_session().stop;
  CHECK(escape_asks<CloseStop>(view));
  SessionView swap = kit::changing_circuit();
  swap.swap = kit::swapping_session().swap;
  CHECK(escape_asks<CloseSwap>(swap));
}
