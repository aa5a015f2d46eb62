// First run, notices, Exchange and the bar.
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

AppView bare(decltype(AppView::page) page) {
  AppView view;
  view.page = std::move(page);
  return view;
}

}  // namespace

TEST_CASE("at the first run a name is given and the app started") {
  NullWindow window;
  const auto view = bare(kit::first_run());
  const auto named = window.act(view, Role::textbox, "Name or nickname on this device", ActionKind::set_value, "Wren");
  const auto* name = only<StartIntent, SetDraftName>(named.intents);
  REQUIRE(name != nullptr);
  CHECK(name->name == "Wren");
  CHECK(only<StartIntent, Start>(window.press(view, Role::button, "Start").intents) != nullptr);
  CHECK(only<StartIntent, AskForBundle>(window.press(view, Role::button, "Take in a bundle").intents) != nullptr);
  CHECK(only<StartIntent, LookAround>(window.click(view, Role::button, "Look around with a made-up squad").intents) != nullptr);
}

TEST_CASE("the cautions of the first run are read before the name is asked") {
  NullWindow window;
  const auto shown = window.draw(bare(kit::first_run()));
  bool cautioned = false;
  for (const model::Node& node : shown.tree.nodes) {
    if (node.role == Role::text && node.name.find("Stop at pain") == 0) cautioned = true;
    if (node.role == Role::textbox) CHECK(cautioned);
  }
}

TEST_CASE("a name with letters the main font lacks is drawn, whole and with shapes of its own") {
  StartView polish = kit::first_run();
  polish.name = "Łucja Żółkiewska";
  StartView broken = polish;
  broken.name = "??ucja ??????kiewska";
  NullWindow window;
  window.draw(bare(polish));
  const std::string drawn = kit::drawn_shape();
  window.draw(bare(broken));
  CHECK(drawn != kit::drawn_shape());
}

TEST_CASE("each key of a notice answers with its own number") {
  NullWindow window;
  const auto view = bare(kit::open_elsewhere());
  const auto pressed = window.press(view, Role::button, "Only look").intents;
  REQUIRE(pressed.size() == 1);
  REQUIRE(std::holds_alternative<PressKey>(pressed[0]));
  CHECK(std::get<PressKey>(pressed[0]).key == 1);
}

TEST_CASE("a bundle leaves as a file or as text, and comes in, by three keys") {
  NullWindow window;
  const auto view = app_with(kit::exchange_with_results());
  CHECK(only<ExchangeIntent, HandOverFile>(window.press(view, Role::button, "Hand over").intents) != nullptr);
  CHECK(only<ExchangeIntent, HandOverText>(window.press(view, Role::button, "Hand over as text").intents) != nullptr);
  CHECK(only<ExchangeIntent, TakeInFile>(window.press(view, Role::button, "Take in a bundle").intents) != nullptr);
}

TEST_CASE("every file taken in and every contradiction is a row that is spoken, with its place in the list") {
  NullWindow window;
  window.draw(app_with(kit::exchange_with_results()));
  const model::Node& first = window.node(Role::listitem, "moth.slip: new. 12 new, 3 already here.");
  CHECK(first.position == 1);
  CHECK(first.set_size == 2);
  CHECK(window.last().find(Role::listitem, "Odd, load: 22 kg by the swimmer, or 24 kg by the coach.") != nullptr);
}

TEST_CASE("without results and contradictions the Exchange place shows no empty lists") {
  ExchangeView view = kit::exchange_with_results();
  view.results.clear();
  view.contradictions.clear();
  NullWindow window;
  window.draw(app_with(view));
  for (const model::Node& node : window.last().nodes) CHECK(node.role != Role::list);
  CHECK(window.last().find(Role::heading, "Taken in this visit") == nullptr);
}

TEST_CASE("a press on the bar goes to that place, and the bar says where one is") {
  NullWindow window;
  const auto view = app_with(kit::ready_session());
  const auto pressed = window.press(view, Role::tab, "Exchange").intents;
  REQUIRE(pressed.size() == 1);
  REQUIRE(std::holds_alternative<GoTo>(pressed[0]));
  CHECK(std::get<GoTo>(pressed[0]).place == Place::exchange);
  CHECK(window.node(Role::tab, "Session").current);
  CHECK_FALSE(window.node(Role::tab, "Exchange").current);
}

TEST_CASE("what the app announces is handed on word for word") {
  AppView view = app_with(kit::ready_session());
  view.announcements = {{7, false, "Kept. A1 round 2, 10 at 22 kilograms."}, {8, true, "Not kept."}};
  NullWindow window;
  CHECK(window.draw(view).tree.announcements == view.announcements);
}
