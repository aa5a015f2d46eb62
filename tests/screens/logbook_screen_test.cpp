// The Logbook: days, entries that open in place, and the history of a changed line.
#include <doctest/doctest.h>

#include "kit/desk_views.h"

using namespace slipway;
using namespace slipway::screens;
using kit::asked;
using kit::coach_with;
using kit::NullWindow;
using kit::only;
using model::Role;

namespace {

AppView shown(LogbookView logbook) { return coach_with(std::move(logbook), Place::logbook); }

}  // namespace

TEST_CASE("a press on an entry opens it, told by its day and its place in the day") {
  NullWindow window;
  const auto view = shown(kit::logbook());
  const auto open = asked<LogbookIntent, OpenEntry>(window.press(view, Role::button, "Shoulder hurts, 3 to 5. during Pull-up, round 1.").intents);
  REQUIRE(open.has_value());
  CHECK(open->day == 0);
  CHECK(open->entry == 1);
}

TEST_CASE("an open entry shows who wrote what and when, newest first, and a folded one does not") {
  NullWindow window;
  window.draw(shown(kit::logbook()));
  const model::Node* now = window.last().find(Role::text, "by Wren, claimed Tue 12 Jan 08:02");
  const model::Node* first = window.last().find(Role::text, "by Wren, claimed Mon 11 Jan 17:31");
  REQUIRE(now != nullptr);
  REQUIRE(first != nullptr);
  CHECK(now->rect.y < first->rect.y);
  CHECK(window.node(Role::button, "Dryland A. 15 sets, 44 min, effort 5.").pressed);
  LogbookView folded = kit::logbook();
  folded.days[3].entries[0].open = false;
  window.draw(shown(folded));
  CHECK(window.last().find(Role::text, "by Wren, claimed Mon 11 Jan 17:31") == nullptr);
}

TEST_CASE("a line is changed or taken back by keys that say which line") {
  NullWindow window;
  const auto view = shown(kit::logbook());
  const auto change = asked<LogbookIntent, ChangeLine>(window.press(view, Role::button, "Change A2 pull-up, round 3").intents);
  REQUIRE(change.has_value());
  CHECK(change->day == 3);
  CHECK(change->entry == 0);
  CHECK(change->line == 1);
  const auto back = asked<LogbookIntent, TakeBackLine>(window.click(view, Role::button, "Take back A1 goblet squat, round 1").intents);
  REQUIRE(back.has_value());
  CHECK(back->line == 0);
}

TEST_CASE("only the keys that work are shown, and older days come on demand") {
  NullWindow window;
  const auto view = shown(kit::logbook());
  const auto other = asked<LogbookIntent, PressLogKey>(window.press(view, Role::button, "Log other").intents);
  REQUIRE(other.has_value());
  CHECK(other->key == 1);
  CHECK(only<LogbookIntent, ShowMoreDays>(window.press(view, Role::button, "Show older days").intents) != nullptr);
  LogbookView bare = kit::logbook();
  bare.keys.clear();
  bare.more_words.clear();
  window.draw(shown(bare));
  CHECK(window.last().find(Role::button, "Log other") == nullptr);
  CHECK(window.last().find(Role::button, "Show older days") == nullptr);
}

TEST_CASE("what an open entry asks about the whole session is answered part by part, and so is a session of another day") {
  NullWindow window;
  LogbookView logbook = kit::logbook();
  FormPart verbs;
  verbs.kind = FormKind::keys;
  verbs.id = 4;
  verbs.choices = {{.label = "Add a set"}, {.label = "Another day"}};
  FormPart typed;
  typed.kind = FormKind::field;
  typed.id = 5;
  typed.label = "Or type a day";
  logbook.days[3].entries[0].parts = {verbs};
  logbook.ask = {typed};
  const auto view = shown(logbook);
  const auto pressed = asked<LogAnswer>(window.press(view, Role::button, "Another day").intents);
  REQUIRE(pressed.has_value());
  CHECK(pressed->part.id == 4);
  CHECK(pressed->part.choice == 1);
  const auto text = asked<LogAnswer>(window.act(view, Role::textbox, "Or type a day", model::ActionKind::set_value, "2026-03-01").intents);
  REQUIRE(text.has_value());
  CHECK(text->part.id == 5);
  CHECK(text->part.text == "2026-03-01");
}
