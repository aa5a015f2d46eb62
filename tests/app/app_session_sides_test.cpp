// One-sided moves: both sides in one tap, and what Change does when left and right differ.
#include <doctest/doctest.h>

#include "app/day_plan.h"
#include "app/situation.h"
#include "kit/device.h"
#include "rules/record.h"

using namespace slipway;
using screens::CellState;

namespace {

constexpr std::uint32_t kBoth = 0, kLeft = 1, kRight = 2;  // as Change offers them before a side is there

class Phone : public kit::SquadDevice {
 public:
  explicit Phone(std::uint64_t seed) : SquadDevice(seed) {
    open_app({});
    app.act(screens::Intent{screens::StartIntent{screens::SetDraftName{"Wren"}}});
    app.act(screens::Intent{screens::StartIntent{screens::Start{}}});
    REQUIRE(record().set_athlete(who(), {.birth_year = 1991}, app::Author::swimmer).ok());
    REQUIRE(record().set_plan(who(), "exercise", "LU2", app::Author::coach).ok());  // a reverse lunge, each side
    act(screens::NothingHurts{});
  }
  app::Book& record() { return *app.book(); }
  model::ScopeId who() { return record().scopes().at(0); }
  const screens::SessionView& session() {
    const auto& page = app.view().page;
    REQUIRE(std::holds_alternative<screens::SessionView>(page));
    return std::get<screens::SessionView>(page);
  }
  const screens::NextSet& next() {
    REQUIRE(session().next.size() == 1);
    return session().next[0];
  }
  const screens::ChangePanel& change() {
    REQUIRE(session().change.size() == 1);
    return session().change[0];
  }
  const screens::BoardCell& cell() { return session().board.rows.at(0).cells.at(0); }
  template <class What>
  void act(What what) {
    app.act(screens::Intent{screens::SessionIntent{what}});
  }
  void log() {
    act(screens::LogAsWritten{});
    clock.tick(app::kDeafMs);
    app.tick();
  }
  const std::vector<model::SetDone>& sets() { return record().athlete(who()).sessions.at(0).sets; }
  // The first exercise as the rules read it.
  std::vector<rules::WorkSet> as_read() {
    const auto asked = app::situation_of(record().athlete(who()), {.today = model::day_of(clock.now()), .now_ms = 0, .programme_day = 1, .kit = {}});
    return rules::work_sets(asked.history.at(0).exercises.at(0));
  }
};

}  // namespace

TEST_CASE("a one-sided move says each side, and one tap as written logs both") {
  Phone phone(60);
  CHECK(phone.next().load == "each side");
  CHECK(phone.next().log_dose.find("each side") != std::string::npos);
  CHECK(phone.next().log_spoken.find("each side") != std::string::npos);
  phone.log();
  REQUIRE(phone.sets().size() == 1);
  CHECK_FALSE(phone.sets()[0].side);
  CHECK(phone.cell().state == CellState::kept);
  REQUIRE(phone.as_read().size() == 1);
  CHECK_MESSAGE(phone.next().movement != "Reverse lunge", "the circuit goes on with the next movement");
}

TEST_CASE("one side logged by Change is half a set: the other side is next, with what the first one did, in one tap and without a rest") {
  Phone phone(61);
  const std::int64_t written = 8;  // the line keeps its own range
  phone.act(screens::OpenChange{0, 1});
  REQUIRE(phone.change().sides.size() == 3);
  CHECK(phone.change().sides[kBoth].chosen);
  CHECK(phone.change().reps == written);
  phone.act(screens::ChooseDraftSide{kLeft});
  phone.act(screens::SetDraftReps{5});
  phone.act(screens::KeepChange{});
  CHECK(phone.cell().state == CellState::next);
  CHECK(phone.next().reps == "5");
  CHECK(phone.next().load == "right side");
  CHECK(phone.session().rest.empty());
  CHECK_MESSAGE(phone.as_read().empty(), "a set with one side missing is not done");
  CHECK(phone.app.view().announcements.back().text.find("right side") != std::string::npos);

  phone.act(screens::LogAsWritten{});
  CHECK_MESSAGE(phone.sets().size() == 1, "a double tap on Keep logs no second set");
  phone.clock.tick(app::kDeafMs);
  phone.log();
  REQUIRE(phone.sets().size() == 2);
  CHECK(phone.sets()[1].side == model::Side::right);
  CHECK(phone.sets()[1].round == 1);
  CHECK(phone.cell().figure == "5");
  CHECK(phone.cell().state == CellState::changed);
  CHECK_FALSE(phone.session().rest.empty());
  REQUIRE(phone.as_read().size() == 1);
  CHECK(phone.as_read()[0].reps == 5);
}

TEST_CASE("left and right that differ stand side by side on the board and count as the lower side") {
  Phone phone(62);
  phone.log();
  phone.act(screens::OpenChange{0, 1});
  phone.act(screens::ChooseDraftSide{kRight});
  phone.act(screens::SetDraftReps{4});
  phone.act(screens::KeepChange{});
  REQUIRE_MESSAGE(phone.sets().size() == 2, "what was logged for both stays, as the left side");
  CHECK(phone.cell().figure == "8/4");
  CHECK(phone.cell().state == CellState::changed);
  CHECK(phone.cell().spoken.find("left 8, right 4") != std::string::npos);
  REQUIRE(phone.as_read().size() == 1);
  CHECK(phone.as_read()[0].reps == 4);

  // Each side is changed by itself, and neither can be called both any more.
  phone.act(screens::OpenChange{0, 1});
  REQUIRE(phone.change().sides.size() == 2);
  phone.act(screens::ChooseDraftSide{1});  // right
  CHECK(phone.change().reps == 4);
  phone.act(screens::SetDraftReps{8});
  phone.act(screens::KeepChange{});
  CHECK(phone.sets().size() == 2);
  CHECK(phone.cell().figure == "8");
  CHECK(phone.as_read()[0].reps == 8);
}

TEST_CASE("a side said by mistake is said otherwise, or taken back, and the round is whole or open again") {
  Phone phone(63);
  phone.act(screens::OpenChange{0, 1});
  phone.act(screens::ChooseDraftSide{kLeft});
  phone.act(screens::KeepChange{});
  phone.act(screens::OpenChange{0, 1});  // the right side is to come
  REQUIRE(phone.change().sides.size() == 2);
  CHECK(phone.change().sides[1].chosen);
  phone.act(screens::ChooseDraftSide{0});  // left: what is there
  REQUIRE(phone.change().sides.size() == 3);
  CHECK_FALSE(phone.change().take_back_words.empty());
  phone.act(screens::ChooseDraftSide{kBoth});
  phone.act(screens::KeepChange{});
  REQUIRE(phone.sets().size() == 1);
  CHECK_FALSE(phone.sets()[0].side);
  CHECK(phone.as_read().size() == 1);
  phone.act(screens::TakeBack{});
  CHECK(phone.cell().state == CellState::next);
  CHECK(phone.next().load == "each side");
}

TEST_CASE("a session with a side missing is short, and the side that is there is no set") {
  Phone phone(64);
  for (int i = 0; i < 40 && !phone.session().next.empty(); ++i) {
    if (phone.next().movement == "Reverse lunge" && phone.next().place.find("round 3") != std::string::npos) break;
    phone.log();
  }
  phone.act(screens::OpenChange{0, 3});
  phone.act(screens::ChooseDraftSide{kLeft});
  phone.act(screens::KeepChange{});
  phone.act(screens::OpenFinish{});
  REQUIRE(phone.session().finish.size() == 1);
  CHECK_FALSE(phone.session().finish[0].short_reasons.empty());
  CHECK(phone.as_read().size() == 2);
}

TEST_CASE("a set of both sides that is split from the Logbook keeps both halves, or stays whole where nothing may be logged") {
  Phone phone(65);
  phone.log();
  REQUIRE(phone.sets().size() == 1);
  phone.app.act(screens::Intent{screens::GoTo{screens::Place::logbook}});
  phone.app.act(screens::Intent{screens::LogbookIntent{screens::OpenEntry{0, 0}}});
  phone.app.act(screens::Intent{screens::LogbookIntent{screens::ChangeLine{0, 0, 0}}});
  REQUIRE(phone.change().sides.size() == 3);
  phone.act(screens::ChooseDraftSide{kLeft});
  // Meanwhile it is known that this is a child, and nobody has said yet what may be kept.
  REQUIRE(phone.record().set_athlete(phone.who(), {.birth_year = 2012}, app::Author::coach).ok());
  phone.act(screens::KeepChange{});
  CHECK(phone.app.view().announcements.back().urgent);
  REQUIRE(phone.sets().size() == 1);
  CHECK_FALSE(phone.sets()[0].side);
  REQUIRE(phone.record().set_athlete(phone.who(), {.birth_year = 1991}, app::Author::coach).ok());
  phone.act(screens::KeepChange{});
  REQUIRE(phone.sets().size() == 2);
  REQUIRE(phone.sets()[0].side);
  REQUIRE(phone.sets()[1].side);
  CHECK_FALSE(*phone.sets()[0].side == *phone.sets()[1].side);
}
