// First run, notices, Exchange and the bar.
#include <doctest/doctest.h>

#include <algorithm>

#include "kit/desk_views.h"

using namespace slipway;
using namespace slipway::screens;
using kit::app_with;
using kit::asked;
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

TEST_CASE("the questions of health are answered one by one, and none is chosen beforehand") {
  StartView fresh = kit::first_run_in_full();
  for (FormPart& part : fresh.questions)
    for (FormChoice& choice : part.choices) choice.chosen = false;
  NullWindow window;
  window.draw(bare(fresh));
  for (const model::Node& node : window.last().nodes)
    if (node.role == Role::radio && node.name == "Yes") CHECK_FALSE(node.checked);
  const auto view = bare(kit::first_run_in_full());
  window.draw(view);
  const auto is_yes = [](const model::Node& node) { return node.role == Role::radio && node.name == "Yes"; };
  const auto first = std::find_if(window.last().nodes.begin(), window.last().nodes.end(), is_yes);
  REQUIRE(first != window.last().nodes.end());
  window.input.actions = {{first->id, ActionKind::press, {}}};
  const auto pressed = window.draw(view).intents;
  const auto* answer = only<StartIntent, StartAnswer>(pressed);
  REQUIRE(answer != nullptr);
  CHECK(answer->part == StartPart::heart);
  CHECK(answer->choice == 1);
  const auto help = asked<StartIntent, StartAnswer>(window.press(view, Role::button, "Help now").intents);
  REQUIRE(help.has_value());
  CHECK(help->part == StartPart::help);
  const auto born = asked<StartIntent, StartAnswer>(window.act(view, Role::textbox, "Year of birth", ActionKind::set_value, "2010").intents);
  REQUIRE(born.has_value());
  CHECK(born->part == StartPart::born);
  CHECK(born->text == "2010");
  const auto coach = asked<StartIntent, StartAnswer>(window.press(view, Role::radio, "the coach").intents);
  REQUIRE(coach.has_value());
  CHECK(coach->part == StartPart::device);
  CHECK(coach->choice == 2);
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

TEST_CASE("a line written twice is chosen by equal keys, or another value is typed") {
  NullWindow window({1440, 900});
  const auto view = kit::coach_with(kit::exchange_in_full(), Place::exchange);
  const auto b = asked<ExchangeIntent, UseLine>(window.press(view, Role::button, "Use line B, 20 kg").intents);
  REQUIRE(b.has_value());
  CHECK(b->contradiction == 0);
  CHECK(b->line == 1);
  const model::Rect key_a = window.node(Role::button, "Use line A, 22 kg").rect;
  const model::Rect key_b = window.node(Role::button, "Use line B, 20 kg").rect;
  CHECK(key_a.width == key_b.width);
  CHECK(key_a.height == key_b.height);
  CHECK(key_a.y == key_b.y);
  const auto typed = asked<SetOtherValue>(window.act(view, Role::textbox, "Or another value, kg", ActionKind::set_value, "21").intents);
  REQUIRE(typed.has_value());
  CHECK(typed->text == "21");
  CHECK(only<ExchangeIntent, UseOtherValue>(window.press(view, Role::button, "Use this value").intents) != nullptr);
}

TEST_CASE("line A is read before line B, what differs is said, and on a phone they stand one above the other") {
  const auto view = kit::coach_with(kit::exchange_in_full(), Place::exchange);
  for (const float width : {390.0F, 1440.0F}) {
    NullWindow window({width, 900});
    window.draw(view);
    const model::Node& a = window.node(Role::group, "Line A");
    const model::Node& b = window.node(Role::group, "Line B: in use till you choose");
    CHECK((width > 1000 ? a.rect.y == b.rect.y && a.rect.x < b.rect.x : a.rect.x == b.rect.x && a.rect.y < b.rect.y));
    const auto place = [&window](const model::Node& node) { return &node - window.last().nodes.data(); };
    CHECK(place(a) < place(window.node(Role::text, "differs: load")));
    CHECK(place(window.node(Role::text, "differs: load")) < place(b));
    CHECK(window.last().find(Role::text, "Until then 20 kg counts, the lower load. Both lines stay in the record.") != nullptr);
    CHECK(window.last().find(Role::text, "Sol: bundle 14, about Sun 10 Jan.") != nullptr);
  }
}

TEST_CASE("files are taken in by the key of the drop zone") {
  NullWindow window({1440, 900});
  const auto view = kit::coach_with(kit::exchange_in_full(), Place::exchange);
  CHECK(only<ExchangeIntent, TakeInFile>(window.click(view, Role::button, "Take in a bundle").intents) != nullptr);
  CHECK(window.last().find(Role::text, "Drop bundles here") != nullptr);
}

TEST_CASE("where not every place has room, the bar keeps the first and the key to all places") {
  NullWindow window({360, 640});
  const auto view = kit::coach_with(kit::setup_list(), Place::setup);
  window.draw(view);
  CHECK(window.last().find(Role::tab, "Logbook") != nullptr);
  CHECK(window.last().find(Role::tab, "All places") == nullptr);
  window.input.text_scale = 2;
  window.draw(view);
  CHECK(window.last().find(Role::tab, "Logbook") == nullptr);
  CHECK(window.last().find(Role::tab, "Session") != nullptr);
  CHECK(window.node(Role::tab, "All places").current);
  const auto pressed = window.press(view, Role::tab, "All places").intents;
  REQUIRE(pressed.size() == 1);
  REQUIRE(std::holds_alternative<OpenMore>(pressed[0]));
  CHECK(std::get<OpenMore>(pressed[0]).open);
}

TEST_CASE("the sheet of all places hands over, goes to a place and closes") {
  NullWindow window;
  const auto view = kit::all_places();
  const auto handed = window.press(view, Role::button, "Hand over").intents;
  REQUIRE(handed.size() == 1);
  CHECK(std::holds_alternative<MoreHandOver>(handed[0]));
  const auto gone = window.press(view, Role::button, "Squad, for the coach").intents;
  REQUIRE(gone.size() == 1);
  REQUIRE(std::holds_alternative<GoTo>(gone[0]));
  CHECK(std::get<GoTo>(gone[0]).place == Place::squad);
  for (const auto& closed : {window.press(view, Role::button, "Close").intents, window.strike(view, kit::Key::escape).intents}) {
    REQUIRE(closed.size() == 1);
    REQUIRE(std::holds_alternative<OpenMore>(closed[0]));
    CHECK_FALSE(std::get<OpenMore>(closed[0]).open);
  }
}

TEST_CASE("what waits at a place is a number in the bar and words in its description") {
  NullWindow window;
  AppView view = kit::coach_with(kit::squad(), Place::squad);
  window.draw(view);
  CHECK(window.node(Role::tab, "Exchange").hint == "2 to choose");
  const std::string drawn = kit::drawn_shape();
  view.bar[3].count.clear();
  window.draw(view);
  CHECK(drawn != kit::drawn_shape());
}

TEST_CASE("a phone on its side has room for the five places of a coach") {
  NullWindow window({844, 390});
  window.draw(kit::coach_with(kit::squad(), Place::squad));
  const model::Node& last = window.node(Role::tab, "Setup");
  CHECK(last.rect.y + last.rect.height <= 390);
  CHECK(last.rect.height >= 48);
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
