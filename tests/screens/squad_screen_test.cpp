// Squad, a swimmer's page and what a coach asks of it.
#include <doctest/doctest.h>

#include "kit/desk_views.h"
#include "screens/keyboard.h"

using namespace slipway;
using namespace slipway::screens;
using kit::asked;
using kit::coach_with;
using kit::NullWindow;
using kit::only;
using model::ActionKind;
using model::Role;

namespace {

AppView shown(SquadView squad) { return coach_with(std::move(squad), Place::squad); }

constexpr kit::PageSize kPhone{390, 844}, kDesktop{1440, 900};

}  // namespace

TEST_CASE("each who needs the coach is said whole, and the one key of the row answers with its row") {
  for (const kit::PageSize& size : {kPhone, kDesktop}) {
    NullWindow window(size);
    const auto view = shown(kit::squad());
    const auto pressed = window.press(view, Role::button, "Agree or overrule: Tam").intents;
    const auto need = asked<SquadIntent, PressNeed>(pressed);
    REQUIRE(need.has_value());
    CHECK(need->need == 2);
    CHECK(window.last().find(Role::group, "3 of 6. Tam. Push-up below 8 reps in two sessions. Step back to hands on 30 cm. Rule R11.") != nullptr);
  }
}

TEST_CASE("a press anywhere on a row of the board opens that swimmer, with the mouse too") {
  NullWindow window(kDesktop);
  const auto view = shown(kit::squad());
  const auto open = asked<SquadIntent, OpenSwimmer>(window.click(view, Role::button, "Juno. Last seen today 17:25.").intents);
  REQUIRE(open.has_value());
  CHECK(open->row == 2);
}

TEST_CASE("on a phone the swimmer's page stands alone and leads back; on a desktop it stands beside the list") {
  const auto view = shown(kit::squad_with_swimmer());
  NullWindow phone(kPhone);
  phone.draw(view);
  CHECK(phone.last().find(Role::heading, "Squad board") == nullptr);
  CHECK(only<SquadIntent, CloseSwimmer>(phone.press(view, Role::button, "Back to the squad").intents) != nullptr);
  CHECK(only<SquadIntent, CloseSwimmer>(phone.strike(view, kit::Key::escape).intents) != nullptr);
  NullWindow desktop(kDesktop);
  desktop.draw(view);
  CHECK(desktop.last().find(Role::heading, "Squad board") != nullptr);
  CHECK(desktop.last().find(Role::heading, "Juno") != nullptr);
  CHECK(desktop.last().find(Role::button, "Back to the squad") == nullptr);
  CHECK(desktop.node(Role::button, "Juno. Last seen today 17:25.").pressed);
}

TEST_CASE("a decision is signed off, overruled or explained by keys that say which one") {
  NullWindow window(kPhone);
  const auto view = shown(kit::squad_with_swimmer());
  const std::string squat = ": goblet squat, 20 to 22 kilograms, 8 reps";
  const auto signed_off = asked<SquadIntent, SignOffDecision>(window.press(view, Role::button, "Sign off" + squat).intents);
  REQUIRE(signed_off.has_value());
  CHECK(signed_off->decision == 0);
  const auto overrule = asked<SquadIntent, OverruleDecision>(window.press(view, Role::button, "Overrule: pull-up, stopped").intents);
  REQUIRE(overrule.has_value());
  CHECK(overrule->decision == 1);
  const auto why = asked<SquadIntent, WhyDecision>(window.press(view, Role::button, "Why" + squat).intents);
  REQUIRE(why.has_value());
  CHECK(why->decision == 0);
  CHECK(window.last().find(Role::text, "Shoulder hurts, 3 to 5, on two days running. R01") != nullptr);
}

TEST_CASE("a technique is signed off by one tap, SOUND or LOADED, and withdrawn by another key") {
  NullWindow window(kPhone);
  const auto view = shown(kit::squad_with_swimmer());
  const auto sound = asked<SquadIntent, SignOff>(window.press(view, Role::button, "SOUND: Push-up").intents);
  REQUIRE(sound.has_value());
  CHECK(sound->row == 1);
  CHECK_FALSE(sound->loaded);
  const auto loaded = asked<SquadIntent, SignOff>(window.press(view, Role::button, "LOADED: Goblet squat").intents);
  REQUIRE(loaded.has_value());
  CHECK(loaded->row == 0);
  CHECK(loaded->loaded);
  const auto withdrawn = asked<SquadIntent, WithdrawSignOff>(window.press(view, Role::button, "Withdraw: Goblet squat").intents);
  REQUIRE(withdrawn.has_value());
  CHECK(withdrawn->row == 0);
  CHECK(window.last().find(Role::button, "LOADED: Push-up") == nullptr);
}

TEST_CASE("overruling asks what instead and for a note, takes the focus, and can be left") {
  NullWindow window(kPhone);
  const auto view = shown(kit::squad_overruling());
  const auto choice = asked<AskAnswer>(window.press(view, Role::radio, "24 kg").intents);
  REQUIRE(choice.has_value());
  CHECK(choice->part.id == 0);
  CHECK(choice->part.choice == 1);
  const auto note = asked<AskAnswer>(window.act(view, Role::textbox, "Why, in a few words", ActionKind::set_value, "Elbows").intents);
  REQUIRE(note.has_value());
  CHECK(note->part.id == 1);
  CHECK(note->part.text == "Elbows");
  CHECK(only<SquadIntent, KeepAsk>(window.press(view, Role::button, "Keep this").intents) != nullptr);
  CHECK(only<SquadIntent, LeaveAsk>(window.press(view, Role::button, "Leave as written").intents) != nullptr);
  const auto escaped = window.strike(view, kit::Key::escape).intents;
  CHECK(only<SquadIntent, LeaveAsk>(escaped) != nullptr);
  CHECK(only<SquadIntent, CloseSwimmer>(escaped) == nullptr);
}

TEST_CASE("a keyboard that was at Overrule is inside the question, and back at its key when it is gone") {
  NullWindow window(kPhone);
  const auto before = shown(kit::squad_with_swimmer());
  window.press(before, Role::button, "Overrule: goblet squat, 20 to 22 kilograms, 8 reps");
  const model::NodeId key = window.last().focus;
  window.draw(shown(kit::squad_overruling()));
  window.draw(shown(kit::squad_overruling()));
  const model::Node* inside = window.last().find(window.last().focus);
  REQUIRE(inside != nullptr);
  CHECK(inside->role == Role::radio);
  window.draw(before);
  CHECK(window.draw(before).tree.focus == key);
}

TEST_CASE("a stop is noted as cleared, and the page's foot keys answer by number") {
  NullWindow window(kPhone);
  const auto view = shown(kit::squad_with_swimmer());
  CHECK(only<SquadIntent, NoteClearance>(window.press(view, Role::button, "Note a clearance: Juno").intents) != nullptr);
  const auto facts = asked<SquadIntent, PressSwimmerKey>(window.press(view, Role::button, "Facts").intents);
  REQUIRE(facts.has_value());
  CHECK(facts->key == 1);
}

TEST_CASE("an empty squad says so and offers to add a swimmer") {
  SquadView quiet = kit::squad();
  quiet.needs.clear();
  quiet.needs_none = "Nobody needs you today.";
  quiet.rows.clear();
  quiet.board_none = "No swimmer yet.";
  NullWindow window(kPhone);
  const auto view = shown(quiet);
  window.draw(view);
  CHECK(window.last().find(Role::text, "Nobody needs you today.") != nullptr);
  CHECK(window.last().find(Role::text, "No swimmer yet.") != nullptr);
  CHECK(only<SquadIntent, AddSwimmer>(window.press(view, Role::button, "Add a swimmer").intents) != nullptr);
}

TEST_CASE("who is urgent stands out by an edge and a mark, not by colour alone") {
  SquadView calm = kit::squad();
  calm.needs[0].urgent = false;
  NullWindow window(kDesktop);
  window.draw(shown(kit::squad()));
  const std::string urgent = kit::drawn_shape();
  window.draw(shown(calm));
  CHECK(urgent != kit::drawn_shape());
}

TEST_CASE("F6 goes from the list to the board, the swimmer's page and the bar, and Shift+F6 back") {
  NullWindow window(kDesktop);
  const auto tree = window.draw(shown(kit::squad_with_swimmer())).tree;
  const auto name = [&tree](model::NodeId id) {
    const model::Node* node = tree.find(id);
    return node == nullptr ? "" : node->name;
  };
  const std::vector<std::string> expected{"See them today: Moth", "Moth. Last seen today 17:24.", "Add a swimmer",
                                          "Sign off: goblet squat, 20 to 22 kilograms, 8 reps", "Squad"};
  model::NodeId focus = 0;
  for (const std::string& stop : expected) {
    focus = answer(tree, focus, {Stroke::region}).focus;
    CHECK(name(focus) == stop);
  }
  CHECK(name(answer(tree, focus, {Stroke::region}).focus) == expected.front());
  focus = answer(tree, focus, {Stroke::back_region}).focus;
  CHECK(name(focus) == "Sign off: goblet squat, 20 to 22 kilograms, 8 reps");
}

TEST_CASE("F6 struck in the window moves the focus to the next region") {
  NullWindow window(kDesktop);
  const auto view = shown(kit::squad());
  window.draw(view);
  for (const char* stop : {"See them today: Moth", "Moth. Last seen today 17:24."}) {
    kit::strike_f6();
    const auto tree = window.draw(view).tree;
    const model::Node* node = tree.find(tree.focus);
    REQUIRE(node != nullptr);
    CHECK(node->name == stop);
  }
}
