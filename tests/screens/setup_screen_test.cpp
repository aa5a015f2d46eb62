// Setup, and the form that Setup, first run and the coach's questions are made of.
#include <doctest/doctest.h>

#include "kit/desk_views.h"

using namespace slipway;
using namespace slipway::screens;
using kit::asked;
using kit::coach_with;
using kit::NullWindow;
using kit::only;
using model::ActionKind;
using model::Role;

namespace {

AppView shown(SetupView setup) { return coach_with(std::move(setup), Place::setup); }

}  // namespace

TEST_CASE("a choice of Setup answers with what it is about and which was chosen") {
  NullWindow window;
  const auto view = shown(kit::setup_list());
  const auto night = asked<SetupIntent, SetupAnswer>(window.press(view, Role::radio, "night").intents);
  REQUIRE(night.has_value());
  CHECK(night->setting == Setting::display);
  CHECK(night->choice == 1);
  const auto large = asked<SetupIntent, SetupAnswer>(window.click(view, Role::radio, "200 %").intents);
  REQUIRE(large.has_value());
  CHECK(large->setting == Setting::text_size);
  CHECK(large->choice == 3);
}

TEST_CASE("a row of Setup says its present value and opens its page, which leads back") {
  NullWindow window;
  const auto list = shown(kit::setup_list());
  const auto kit_row = asked<SetupIntent, SetupAnswer>(window.press(list, Role::button, "Kit, dumbbells by 2 kg, bands, bar, gym").intents);
  REQUIRE(kit_row.has_value());
  CHECK(kit_row->setting == Setting::kit);
  const auto page = shown(kit::setup_kit());
  CHECK(only<SetupIntent, SetupBack>(window.press(page, Role::button, "Back to Setup").intents) != nullptr);
  CHECK(only<SetupIntent, SetupBack>(window.strike(page, kit::Key::escape).intents) != nullptr);
  CHECK(only<SetupIntent, SetupBack>(window.strike(list, kit::Key::escape).intents) == nullptr);
}

TEST_CASE("one load is taken out of the kit, another is typed and put in") {
  NullWindow window;
  const auto view = shown(kit::setup_kit());
  const auto out = asked<SetupIntent, SetupAnswer>(window.press(view, Role::button, "Take out 22.5 kilograms").intents);
  REQUIRE(out.has_value());
  CHECK(out->setting == Setting::loads);
  CHECK(out->choice == 9);
  const auto typed = asked<SetupIntent, SetupAnswer>(window.act(view, Role::textbox, "Add a load, kg", ActionKind::set_value, "26").intents);
  REQUIRE(typed.has_value());
  CHECK(typed->setting == Setting::add_load);
  CHECK(typed->text == "26");
  const auto put = asked<SetupIntent, SetupAnswer>(window.press(view, Role::button, "Add this load").intents);
  REQUIRE(put.has_value());
  CHECK(put->setting == Setting::add_load_key);
}

TEST_CASE("what is refused is said beside its field and in the field's own description") {
  NullWindow window;
  window.draw(shown(kit::setup_kit()));
  const model::Node& field = window.node(Role::textbox, "Add a load, kg");
  CHECK(field.invalid);
  CHECK(field.hint == "A load is 0.5 to 300 kg.");
  CHECK(field.input == model::InputMode::decimal);
  CHECK(window.last().find(Role::text, "A load is 0.5 to 300 kg.") != nullptr);
}

TEST_CASE("a tick says whether it stands and answers with its place; the mark differs without colour") {
  NullWindow window;
  SetupView kit_page = kit::setup_kit();
  const auto view = shown(kit_page);
  window.draw(view);
  CHECK(window.node(Role::checkbox, "thin").checked);
  CHECK_FALSE(window.node(Role::checkbox, "middle").checked);
  const std::string before = kit::drawn_shape();
  const auto tick = asked<SetupIntent, SetupAnswer>(window.press(view, Role::checkbox, "middle").intents);
  REQUIRE(tick.has_value());
  CHECK(tick->setting == Setting::bands);
  CHECK(tick->choice == 2);
  for (FormPart& part : kit_page.parts)
    if (part.kind == FormKind::ticks) part.choices[2].chosen = true;
  NullWindow another;
  another.draw(shown(kit_page));
  CHECK(kit::drawn_shape() != before);
}

TEST_CASE("an athlete's facts are typed, chosen and ticked, each told by what it is about") {
  NullWindow window;
  const auto view = shown(kit::setup_facts());
  const auto name = asked<SetupIntent, SetupAnswer>(window.act(view, Role::textbox, "Name or nickname", ActionKind::set_value, "Lark").intents);
  REQUIRE(name.has_value());
  CHECK(name->setting == Setting::name);
  CHECK(name->text == "Lark");
  const auto group = asked<SetupIntent, SetupAnswer>(window.press(view, Role::radio, "open water").intents);
  REQUIRE(group.has_value());
  CHECK(group->setting == Setting::group);
  CHECK(group->choice == 3);
  const auto limit = asked<SetupIntent, SetupAnswer>(window.click(view, Role::checkbox, "no hanging").intents);
  REQUIRE(limit.has_value());
  CHECK(limit->setting == Setting::limits);
  CHECK(limit->choice == 2);
}

TEST_CASE("a panel that comes between two parts does not move the focus of those below") {
  SetupView view = kit::setup_list();
  NullWindow window;
  window.draw(shown(view));
  const model::NodeId row = window.node(Role::button, "About, licences, sources, version").id;
  FormPart caution;
  caution.kind = FormKind::caution;
  caution.id = number_of(Setting::said);
  caution.label = "The storage may be cleared.";
  view.parts.insert(view.parts.begin(), caution);
  window.draw(shown(view));
  CHECK(window.node(Role::button, "About, licences, sources, version").id == row);
}

TEST_CASE("words too long for their choice wrap inside it") {
  SetupView view = kit::setup_kit();
  NullWindow window({360, 640});
  window.input.text_scale = 2;
  window.draw(shown(view));
  const model::Node& wide = window.node(Role::radio, "gym dumbbells, 2.5 to 50 by 2.5");
  const model::Node& narrow = window.node(Role::radio, "kettlebells, close steps");
  CHECK(wide.rect.height > 100);
  CHECK(narrow.rect.height == wide.rect.height);
}
