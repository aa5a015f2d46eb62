// The app without a window: what a session has beside its sets as written.
#include <doctest/doctest.h>

#include <algorithm>

#include "app/day_plan.h"
#include "board_kit.h"
#include "report/words.h"

using namespace slipway;
using namespace slipway::kit;
using screens::CellState;

TEST_CASE("a set of last week is changed from the Logbook, which shows what it was, and nobody rests from it") {
  kit::SquadDevice phone(40);
  start(phone);
  log_round(phone);
  phone.clock.tick(7LL * 24 * 3600 * 1000);
  phone.app.tick();
  const auto logbook = [&phone]() -> const screens::LogbookView& {
    const auto& page = phone.app.view().page;
    REQUIRE(std::holds_alternative<screens::LogbookView>(page));
    return std::get<screens::LogbookView>(page);
  };
  const auto press = [&phone](auto what) {
    phone.clock.tick(app::kDeafMs);
    phone.app.act(screens::Intent{screens::LogbookIntent{what}});
  };
  phone.app.act(screens::Intent{screens::GoTo{screens::Place::logbook}});
  press(screens::OpenEntry{0, 0});
  REQUIRE_FALSE(logbook().days.at(0).entries.at(0).lines.empty());
  REQUIRE_FALSE(logbook().days[0].entries[0].lines[0].change_words.empty());

  press(screens::ChangeLine{0, 0, 0});
  REQUIRE(session(phone).change.size() == 1);
  CHECK(session(phone).change[0].reps == 8);
  CHECK_MESSAGE(session(phone).board.rows.at(session(phone).board.in_hand).code == "A1", "the row of the set stays in sight");
  act(phone, screens::LeaveAsWritten{});
  CHECK_MESSAGE(logbook().days[0].entries[0].open, "back, with the same entry open");

  press(screens::ChangeLine{0, 0, 0});
  act(phone, screens::SetDraftReps{6});
  act(phone, screens::KeepChange{});
  const screens::LogLine& line = logbook().days[0].entries[0].lines[0];
  CHECK(line.value.find('6') != std::string::npos);
  CHECK(line.was.find('8') != std::string::npos);
  CHECK(line.history.size() >= 2);
  phone.app.act(screens::Intent{screens::GoTo{screens::Place::session}});
  CHECK_MESSAGE(session(phone).rest.empty(), "today's session is untouched");
  CHECK(session(phone).change.empty());
  CHECK(phone.app.book()->athlete(phone.app.book()->scopes()[0]).sessions.size() == 1);

  // Left half changed by another place: as it was.
  phone.app.act(screens::Intent{screens::GoTo{screens::Place::logbook}});
  press(screens::OpenEntry{0, 0});
  press(screens::ChangeLine{0, 0, 1});
  act(phone, screens::SetDraftReps{1});
  phone.app.act(screens::Intent{screens::GoTo{screens::Place::setup}});
  phone.app.act(screens::Intent{screens::GoTo{screens::Place::session}});
  CHECK(session(phone).change.empty());
}

TEST_CASE("the screen is asked to stay on while a session is in hand, and no longer") {
  kit::SquadDevice phone(41);
  start(phone);
  phone.app.tick();
  CHECK_FALSE(phone.exchange.awake);
  log_one(phone);
  CHECK(phone.exchange.awake);
  phone.app.act(screens::Intent{screens::GoTo{screens::Place::logbook}});
  phone.app.tick();
  CHECK_FALSE(phone.exchange.awake);
  phone.app.act(screens::Intent{screens::GoTo{screens::Place::session}});
  phone.app.tick();
  CHECK(phone.exchange.awake);
  act(phone, screens::OpenFinish{});
  act(phone, screens::ChooseEffort{5});
  act(phone, screens::KeepFinish{});
  phone.app.tick();
  CHECK_FALSE(phone.exchange.awake);
}

TEST_CASE("the browser is asked to keep the storage once a session is finished, never in its middle, and not again") {
  kit::SquadDevice phone(43);
  start(phone);
  log_one(phone);
  CHECK(phone.exchange.asked_to_persist == 0);
  for (int session = 0; session < 2; ++session) {
    act(phone, screens::OpenFinish{});
    act(phone, screens::ChooseEffort{5});
    act(phone, screens::KeepFinish{});
    CHECK(phone.exchange.asked_to_persist == 1);
    log_one(phone);
  }
  const auto file = phone.app.book()->make_bundle({});
  REQUIRE(file.ok());
  kit::SquadDevice coach(44), granted(45);
  coach.open_app();
  coach.app.take_in("wren.slip", *file);
  CHECK(coach.exchange.asked_to_persist == 1);
  granted.open_app();
  granted.app.persisted(app::Persisted::granted);  // on an earlier visit
  granted.app.take_in("wren.slip", *file);
  CHECK(granted.exchange.asked_to_persist == 0);
}

TEST_CASE("a browser that clears a page after a week is named in Setup, with what helps") {
  kit::SquadDevice phone(46);
  start(phone);
  const auto warned = [&] {
    phone.app.act(screens::Intent{screens::GoTo{screens::Place::setup}});
    phone.app.act(screens::Intent{screens::SetupIntent{screens::SetupBack{}}});
    phone.app.act(screens::Intent{screens::SetupIntent{screens::SetupAnswer{screens::Setting::storage, 0, {}}}});
    const auto& page = std::get<screens::SetupView>(phone.app.view().page);
    const bool part = std::any_of(page.parts.begin(), page.parts.end(), [](const screens::FormPart& one) { return one.label == "After seven days without a visit"; });
    CHECK(part == (page.line.find("seven days") != std::string::npos));
    return part;
  };
  CHECK_FALSE(warned());
  phone.app.persisted(app::Persisted::a_week);
  CHECK(warned());
  phone.app.persisted(app::Persisted::granted);
  CHECK_FALSE(warned());
}

TEST_CASE("at the end of a rest sound and buzz are each as Setup says") {
  for (const bool beep : {true, false}) {
    kit::SquadDevice phone(42);
    start(phone);
    phone.app.act(screens::Intent{screens::GoTo{screens::Place::setup}});
    phone.app.act(screens::Intent{screens::SetupIntent{screens::SetupAnswer{screens::Setting::sound, 0, {}}}});
    phone.app.act(screens::Intent{screens::SetupIntent{screens::SetupAnswer{beep ? screens::Setting::buzz : screens::Setting::beep, 1, {}}}});
    phone.app.act(screens::Intent{screens::GoTo{screens::Place::session}});
    log_one(phone);
    for (int second = 0; second < 130; ++second) {
      phone.clock.tick(1000);
      phone.app.tick();
    }
    CHECK(phone.exchange.signals == 1);
    CHECK(phone.exchange.beeps == (beep ? 1 : 0));
    CHECK(phone.exchange.buzzes == (beep ? 0 : 1));
  }
}

TEST_CASE("the bar is taken: another exercise stands in for today, is logged in one tap, and the line goes on as before") {
  kit::SquadDevice phone(44);
  start(phone);
  act(phone, screens::OpenChange{1, 1});  // A2, band-assisted pull-up
  REQUIRE_FALSE(session(phone).change.at(0).swap_words.empty());
  act(phone, screens::OpenSwap{});
  REQUIRE(session(phone).swap.size() == 1);
  REQUIRE_FALSE(session(phone).swap[0].choices.empty());
  act(phone, screens::CloseSwap{});
  CHECK_MESSAGE(session(phone).change.size() == 1, "back to the set that was being changed");
  act(phone, screens::OpenSwap{});
  const auto& offered = session(phone).swap[0].choices;
  CHECK(offered.size() <= 5);
  CHECK_MESSAGE(std::any_of(offered.begin(), offered.end(), [](const auto& one) { return one.words.find("row") != std::string::npos; }), "something that needs no bar is among them");
  const std::string instead = offered[0].words;
  act(phone, screens::ChooseSwap{0});
  CHECK(last_said(phone).find("instead") != std::string::npos);
  REQUIRE(session(phone).change.empty());
  log_one(phone);  // A1
  REQUIRE(session(phone).next.size() == 1);
  CHECK(session(phone).next[0].movement == instead);
  log_one(phone);
  const model::Athlete& wren = phone.app.book()->athlete(phone.app.book()->scopes().at(0));
  REQUIRE(wren.swaps.size() == 1);
  CHECK(wren.swaps[0].from == "VP4");
  CHECK(wren.sessions.at(0).sets.at(1).exercise == wren.swaps[0].to);
  // Done, it is changed like any set and not swapped again.
  act(phone, screens::OpenChange{1, 1});
  CHECK(session(phone).change.at(0).swap_words.empty());
  act(phone, screens::LeaveAsWritten{});
  // In the next session of that kind the line stands as the coach wrote it.
  const app::DayPlan later = app::plan_day(wren, {.today = model::Day{model::day_of(phone.clock.now()).since_1970 + 7}, .now_ms = 0, .kit = {}, .train_now = {}, .programme_day = 1});
  CHECK(later.rows.at(1).rung->id == "VP4");
}

TEST_CASE("a row that stands on the board already is not offered in place of another") {
  kit::SquadDevice phone(48);
  start(phone);
  app::Book& book = *phone.app.book();
  const auto who = book.scopes().at(0);
  const auto offers_row = [&] {
    act(phone, screens::OpenChange{1, 1});
    act(phone, screens::OpenSwap{});
    const auto& choices = session(phone).swap.at(0).choices;
    const bool found = std::any_of(choices.begin(), choices.end(), [](const auto& one) { return one.words == "Band row"; });
    act(phone, screens::CloseSwap{});
    act(phone, screens::LeaveAsWritten{});
    return found;
  };
  CHECK(offers_row());
  app::PlanLineEntry line;
  line.exercise = "HP1";
  line.sets = 2;
  line.reps = 8;
  line.programme_day = 1;
  line.block = 2;
  line.place = 9;
  REQUIRE(book.add_plan_line(who, line, app::Author::coach).ok());
  CHECK_FALSE(offers_row());
}

TEST_CASE("a heavy first move has its warm-up sets, which count for nothing and start no rest; skipped, that is kept too") {
  kit::SquadDevice phone(45);
  start(phone);
  app::Book& book = *phone.app.book();
  const model::ScopeId who = book.scopes().at(0);
  app::KitEntry kit;
  kit.loads = std::vector<model::Quantity>{{20, 0, model::Unit::kg}, {30, 0, model::Unit::kg}, {40, 0, model::Unit::kg}};
  REQUIRE(book.set_kit(who, book.athlete(who).kits.at(0).id, kit, app::Author::coach).ok());
  REQUIRE(book.set_plan(who, "load", "40kg", app::Author::coach).ok());
  act(phone, screens::NothingHurts{});
  // From 16 kg six at about half, from 40 kg a second of four at three quarters [handbook 5.10].
  REQUIRE(session(phone).next.size() == 1);
  CHECK(session(phone).next[0].warm_up_words.find("6 ×") != std::string::npos);
  CHECK_MESSAGE(session(phone).next[0].warm_up_words.find("20") != std::string::npos, session(phone).next[0].warm_up_words << " before " << session(phone).next[0].log_dose);
  act(phone, screens::LogWarmUp{});
  CHECK(session(phone).rest.empty());
  CHECK(session(phone).next[0].warm_up_words.find("4 ×") != std::string::npos);
  CHECK(session(phone).next[0].warm_up_words.find("30") != std::string::npos);
  act(phone, screens::SkipWarmUp{});
  CHECK_MESSAGE(session(phone).next[0].warm_up_words.find("4 ×") != std::string::npos, "a double tap on the first says nothing about the second");
  act(phone, screens::LogAsWritten{});
  CHECK(book.athlete(who).sessions.at(0).sets.size() == 1);
  phone.clock.tick(app::kDeafMs);
  act(phone, screens::SkipWarmUp{});
  CHECK(session(phone).next[0].warm_up_words.empty());
  phone.clock.tick(app::kDeafMs);
  CHECK_MESSAGE(cell(phone, 1).state == CellState::next, "the first set is still to come");
  log_one(phone);
  const model::Session& now = book.athlete(who).sessions.at(0);
  REQUIRE(now.sets.size() == 3);
  CHECK(now.sets[0].warm_up);
  CHECK(now.sets[1].left_out);
  CHECK_FALSE(now.sets[2].warm_up);
  CHECK(now.sets[2].round == 1);
}

TEST_CASE("who begins, and who begins anew after twelve weeks, leaves four: the dose, the key of the last set and the rules say the same") {
  kit::SquadDevice phone(47);
  start(phone);
  act(phone, screens::NothingHurts{});
  app::Book& book = *phone.app.book();
  const auto who = book.scopes().at(0);
  const auto last_set_of_first = [&](const char* row) {
    const auto rows = app::plan_day(book.athlete(who), {.today = model::day_of(phone.clock.now()), .now_ms = phone.clock.now().local_ms, .kit = {}, .train_now = {}, .programme_day = {}}).rows;
    CHECK(rows.at(0).decision.row.row == row);
    CHECK(rows[0].decision.dose.rir == 4);
    REQUIRE(session(phone).next.size() == 1);
    CHECK(session(phone).next[0].reserve == "leave 4 or more in reserve");
    act(phone, screens::OpenWhy{});
    REQUIRE(session(phone).why.size() == 1);
    CHECK_MESSAGE(session(phone).why[0].entries.at(0).find("not clean") != std::string::npos, "where to stop stands with the reason");
    act(phone, screens::CloseWhy{});
    const std::string code = session(phone).board.rows.at(0).code;
    for (int i = 0; i < 20; ++i) {
      const auto& next = session(phone).next.at(0);
      if (next.place.find(code) != std::string::npos && next.keys.size() == 2) break;
      log_one(phone);
    }
    REQUIRE(session(phone).next.at(0).keys.size() == 2);
    CHECK(session(phone).next[0].keys[0].detail == "4 or more left");
    CHECK(session(phone).next[0].keys[1].detail == "0–3 left");
    act(phone, screens::LogAsWritten{0});
    phone.clock.tick(app::kDeafMs);
    phone.app.tick();
    CHECK(book.athlete(who).sessions.back().sets.back().rir.value_or(0) == 4);
  };
  last_set_of_first("R21");
  phone.clock.tick(90LL * 24 * 3600 * 1000);
  phone.app.tick();
  act(phone, screens::NothingHurts{});
  last_set_of_first("R21");  // the other session of the programme: never done
  phone.clock.tick(3LL * 24 * 3600 * 1000);
  phone.app.tick();
  act(phone, screens::NothingHurts{});
  last_set_of_first("R04");
}

TEST_CASE("a light first move, and the second of a region, has no warm-up set") {
  kit::SquadDevice phone(46);
  start(phone);
  act(phone, screens::NothingHurts{});
  REQUIRE(session(phone).next.size() == 1);
  CHECK(session(phone).next[0].warm_up_words.empty());
}

TEST_CASE("a round that a file made up does not make the board endless") {
  kit::SquadDevice phone(57);
  start(phone);
  log_one(phone);
  model::Athlete athlete = phone.app.book()->athlete(phone.app.book()->scopes().at(0));
  athlete.sessions.at(0).sets.at(0).round = std::uint64_t{1} << 40;
  const auto plan = app::plan_day(athlete, {.today = model::day_of(phone.clock.now()), .now_ms = phone.clock.now().local_ms, .kit = {}, .train_now = {}, .programme_day = {}});
  REQUIRE_FALSE(plan.rows.empty());
  CHECK(app::rounds_of(plan, plan.rows[0].block) <= app::kMaxRounds);
  CHECK(app::next_cell(plan).has_value());
}
