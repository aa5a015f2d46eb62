// Nothing of a squad goes out by one tap: a coach says for whom, and sees what was never out before.
#include "app/hand_over_choice.h"

#include "app/settings.h"
#include "desk_kit.h"
#include "report/words.h"
#include "sync/bundle.h"

using namespace slipway;
using app::HandOverChoice;

namespace {

struct Coach {
  Coach() {
    device.settings.user = app::DeviceUser::coach;
    odd = device.add("Odd");
    wren = device.add("Wren");
    choice.ask();
  }
  std::vector<screens::FormPart> parts() {
    auto desk = device.desk();
    std::vector<screens::FormPart> all;
    choice.add_parts(desk, all);
    return all;
  }
  void press(screens::FormKind kind, const std::string& label) {
    for (const screens::FormPart& part : parts())
      for (std::size_t i = 0; part.kind == kind && i < part.choices.size(); ++i)
        if (part.choices[i].label == label) {
          auto desk = device.desk();
          return choice.answer(desk, {part.id, static_cast<std::uint32_t>(i), {}});
        }
    FAIL("no choice " << label);
  }
  std::optional<app::Book::HandOver> asked() {
    auto desk = device.desk();
    return choice.asked(desk);
  }
  bool shows(const std::string& words) {
    const auto all = parts();
    return std::any_of(all.begin(), all.end(), [&](const screens::FormPart& part) { return part.label.find(words) != std::string::npos; });
  }

  kit::DeskDevice device{21};
  HandOverChoice choice;
  model::ScopeId odd, wren;
};

}  // namespace

TEST_CASE("before a coach has said for whom, nothing goes out") {
  Coach coach;
  CHECK_FALSE(coach.asked().has_value());
  const auto parts = coach.parts();
  REQUIRE(parts.size() == 1);
  CHECK(parts[0].choices.size() == 3);
  for (const screens::FormChoice& one : parts[0].choices) CHECK_FALSE(one.chosen);
}

TEST_CASE("the question stands there once the key was pressed") {
  Coach coach;
  coach.choice = {};
  CHECK(coach.parts().empty());
  coach.choice.ask();
  CHECK_FALSE(coach.parts().empty());
}

TEST_CASE("one swimmer chosen, that swimmer alone goes out; everybody only if it is said") {
  Coach coach;
  coach.press(screens::FormKind::choices, "Wren");
  REQUIRE(coach.asked().has_value());
  CHECK(coach.asked()->athletes == std::vector<model::ScopeId>{coach.wren});
  CHECK(coach.shows("1 swimmer"));
  coach.press(screens::FormKind::choices, "Everybody");
  CHECK(coach.asked()->athletes.empty());
  CHECK(coach.shows("2 swimmers"));
}

TEST_CASE("what only coaches read goes along with everybody alone, and only once it is ticked") {
  Coach coach;
  REQUIRE(coach.device.book().add_note(coach.wren, {.text = "watch the left shoulder", .coach_only = true}, app::Author::coach).ok());
  coach.press(screens::FormKind::choices, "Everybody");
  CHECK_FALSE(coach.asked()->coach_notes);
  CHECK_FALSE(coach.shows("watch the left shoulder"));
  coach.press(screens::FormKind::ticks, "Notes only coaches read");
  CHECK(coach.asked()->coach_notes);
  CHECK(coach.shows("watch the left shoulder"));
  coach.press(screens::FormKind::choices, "Wren");
  CHECK_FALSE(coach.asked()->coach_notes);
  coach.press(screens::FormKind::choices, "Everybody");
  CHECK_FALSE(coach.asked()->coach_notes);
}

TEST_CASE("what was typed is shown before it goes out for the first time, and not again") {
  Coach coach;
  REQUIRE(coach.device.book().add_note(coach.wren, {.text = "paired with Odd today"}, app::Author::coach).ok());
  coach.press(screens::FormKind::choices, "Odd");
  CHECK_FALSE(coach.shows("paired with Odd today"));
  coach.press(screens::FormKind::choices, "Wren");
  CHECK(coach.shows("Wren, by the coach: “paired with Odd today”"));
  REQUIRE(coach.device.book().make_bundle(*coach.asked()).ok());
  REQUIRE(coach.device.book().add_note(coach.wren, {.text = "rested"}, app::Author::swimmer).ok());
  CHECK(coach.shows("Wren: “rested”"));
  for (const char* text : {"one more", "two more", "three more", "four more", "five more", "six more"})
    REQUIRE(coach.device.book().add_note(coach.wren, {.text = text}, app::Author::coach).ok());
  for (const char* text : {"one more", "six more"}) CHECK(coach.shows("Wren, by the coach: “" + std::string(text) + "”"));  // all of them
  CHECK_FALSE(coach.shows("paired with Odd today"));
}

TEST_CASE("a swimmer's own name is no text that goes out; an earlier name is one") {
  Coach coach;
  coach.press(screens::FormKind::choices, "Wren");
  CHECK_FALSE(coach.shows("for the first time"));
  CHECK_FALSE(coach.shows("Wren: “Wren”"));
  REQUIRE(coach.device.book().set_athlete(coach.wren, {.name = "Wren Two"}, app::Author::coach).ok());
  CHECK(coach.shows("“Wren”"));
  CHECK_FALSE(coach.shows("“Wren Two”"));
}

TEST_CASE("a swimmer is not asked and hands over that swimmer alone") {
  Coach coach;
  coach.device.settings.user = app::DeviceUser::swimmer;
  coach.device.here = coach.odd;
  REQUIRE(coach.asked().has_value());
  CHECK(coach.asked()->athletes == std::vector<model::ScopeId>{coach.odd});
  for (const screens::FormPart& part : coach.parts()) CHECK(part.choices.empty());
}

TEST_CASE("a swimmer who was chosen and is gone is no choice any more") {
  Coach coach;
  coach.press(screens::FormKind::choices, "Wren");
  REQUIRE(coach.device.book().erase(coach.wren, "Wren", app::EraseReason::left).ok());
  CHECK_FALSE(coach.asked().has_value());
}

TEST_CASE("what the storage refused leaves with one key: notes for coaches go along only if they are among it") {
  kit::SquadDevice coach(22);
  app::Settings settings;
  settings.user = app::DeviceUser::coach;
  settings.user_said = settings.started = true;
  REQUIRE(settings.write(coach.book()));
  const auto wren = coach.book().add_athlete({.name = "Wren", .birth_year = 1990}, app::Author::coach);
  REQUIRE(wren.ok());
  REQUIRE(coach.book().add_note(*wren, {.text = "kept already", .coach_only = true}, app::Author::coach).ok());
  coach.close_book();
  coach.open_app();
  const auto handed_over_holds = [&](const std::string& words) {
    coach.app.act(screens::Intent{screens::SessionIntent{screens::HandOver{}}});
    const auto read = sync::read_bundle(coach.exchange.handed.back().bytes, "out.slip");
    REQUIRE(read.ok());
    return std::any_of(read->ops.begin(), read->ops.end(), [&](const ops::ChainedOp& op) {
      return std::any_of(op.op.fields.begin(), op.op.fields.end(), [&](const ops::Field& field) { return model::as_text(field.payload) == words; });
    });
  };
  coach.files.refuses = host::IoStatus::full;
  REQUIRE(coach.app.book()->add_note(*wren, {.text = "for everybody"}, app::Author::coach).ok());
  REQUIRE(coach.app.book()->waiting() > 0);
  CHECK(handed_over_holds("for everybody"));
  CHECK_FALSE(handed_over_holds("kept already"));
  REQUIRE(coach.app.book()->add_note(*wren, {.text = "refused", .coach_only = true}, app::Author::coach).ok());
  CHECK(handed_over_holds("refused"));
  CHECK(coach.app.view().announcements.back().text == report::say("hand_over.with_notes"));
}

TEST_CASE("two of one name are told apart by their year, or by the first signs of the id, on a shared tablet always by those") {
  kit::DeskDevice device(31);
  const auto first = device.add("Robin", 2009), second = device.add("Robin", 2011), wren = device.add("Wren", 2009);
  auto desk = device.desk();
  CHECK(app::name_apart(desk, first) == "Robin, born 2009");
  CHECK(app::name_apart(desk, second) == "Robin, born 2011");
  CHECK(app::name_apart(desk, wren) == "Wren");
  const auto third = device.add("Robin", 2011);
  CHECK(app::name_apart(desk, second) == "Robin, " + second.hex().substr(0, 4));
  CHECK(app::name_apart(desk, third) == "Robin, " + third.hex().substr(0, 4));
  CHECK(app::name_apart(desk, first) == "Robin, born 2009");
  device.settings.user = app::DeviceUser::shared;
  auto tablet = device.desk();
  CHECK(app::name_apart(tablet, first) == "Robin, " + first.hex().substr(0, 4));
}
