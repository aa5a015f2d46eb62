// The app without a window: what is shown after each thing a person asks for.
#include <doctest/doctest.h>

#include "app/day_plan.h"
#include "board_kit.h"
#include "report/words.h"

using namespace slipway;
using namespace slipway::kit;
using screens::CellState;

TEST_CASE("a first run asks for a name, shows the cautions, and starts with two sessions in turn") {
  kit::SquadDevice phone(1);
  phone.open_app();
  const auto& page = phone.app.view().page;
  REQUIRE(std::holds_alternative<screens::StartView>(page));
  phone.app.act(screens::Intent{screens::StartIntent{screens::Start{}}});
  CHECK_FALSE(std::get<screens::StartView>(phone.app.view().page).name_refused.empty());

  kit::SquadDevice other(101);
  start(other);
  // Without a body mass a goblet squat begins at 8 kg or less [handbook 5.8], from 8 reps [5.1].
  REQUIRE(session(other).next.size() == 1);
  CHECK(session(other).title == "Dryland A");
  CHECK(session(other).board.rows.size() == 3);
  CHECK(session(other).next[0].reps == "8");
  CHECK(session(other).next[0].load == "8\xC2\xA0kg");
  CHECK(session(other).next[0].why == "Why this: First time: easy, learn the move.");
  CHECK(session(other).kept_words == "nothing yet");
}

TEST_CASE("without a year of birth the careful limits of a child hold, and the board says what to add") {
  kit::SquadDevice phone(102);
  phone.open_app();
  phone.app.act(screens::Intent{screens::StartIntent{screens::SetDraftName{"Wren"}}});
  phone.app.act(screens::Intent{screens::StartIntent{screens::Start{}}});
  REQUIRE(session(phone).states.size() == 1);
  CHECK(session(phone).states[0].title == "Year of birth is not known");
  CHECK(session(phone).next.at(0).load.empty());  // nothing in the hands
}

TEST_CASE("as written is one tap: the cell is kept, the next set is next, and it is spoken") {
  kit::SquadDevice phone(2);
  start(phone);
  CHECK(cell(phone, 1).state == CellState::next);
  log_one(phone);
  CHECK(cell(phone, 1).state == CellState::kept);
  CHECK(cell(phone, 1, 1).state == CellState::next);
  CHECK(cell(phone, 1).spoken == "A1 goblet squat, round 1: 8 at 8 kilograms, as written, kept");
  CHECK(last_said(phone).find("Kept. A1 round 1, 8 at 8 kilograms.") == 0);
  CHECK(session(phone).kept_words == "kept 18:00");
  REQUIRE(session(phone).rest.size() == 1);  // and the rest runs
}

TEST_CASE("a double tap never logs two sets") {
  kit::SquadDevice phone(3);
  start(phone);
  act(phone, screens::LogAsWritten{});
  phone.clock.tick(app::kDeafMs - 1);
  act(phone, screens::LogAsWritten{});
  CHECK(cell(phone, 1, 1).state == CellState::next);
  CHECK(phone.app.next_wake_ms() == 1);
  phone.clock.tick(1);
  phone.app.tick();
  CHECK(phone.app.next_wake_ms() <= 1000);  // the clock of the rest steps once a second
  phone.clock.tick(660'000);
  phone.app.tick();
  CHECK(phone.app.next_wake_ms() > 3'600'000);  // still water: nothing is drawn until midnight or till something happens
  act(phone, screens::LogAsWritten{});
  CHECK(cell(phone, 1, 1).state == CellState::kept);
}

TEST_CASE("a set that went differently is changed by steppers before it is kept") {
  kit::SquadDevice phone(4);
  start(phone);
  act(phone, screens::OpenChange{0, 1});
  REQUIRE(session(phone).change.size() == 1);
  act(phone, screens::SetDraftReps{7});
  act(phone, screens::ChooseDraftReserve{1});
  CHECK(session(phone).change[0].keep_words == "Log 7 × 8\xC2\xA0kg");
  act(phone, screens::KeepChange{});
  CHECK(cell(phone, 1).state == CellState::changed);
  CHECK(cell(phone, 1).figure == "7");
  CHECK(cell(phone, 1).spoken.find("did 7 at 8 kilograms, written 8 at 8 kilograms, changed, kept") != std::string::npos);
}

TEST_CASE("a kept set is mended later, and taken back") {
  kit::SquadDevice phone(5);
  start(phone);
  log_one(phone);
  act(phone, screens::OpenChange{0, 1});
  act(phone, screens::SetDraftReps{9});
  act(phone, screens::KeepChange{});
  CHECK(cell(phone, 1).figure == "9");
  CHECK(cell(phone, 1, 1).state == CellState::next);
  act(phone, screens::TakeBack{});
  CHECK(cell(phone, 1).state == CellState::next);
  CHECK(last_said(phone) == "Taken back. A1 round 1.");
  const auto& athlete = phone.app.book()->athlete(phone.app.book()->scopes()[0]);
  CHECK(athlete.taken_back.size() == 1);  // it stays in the history
}

TEST_CASE("reps that cannot be are refused beside the field, and nothing can be kept until they are mended") {
  kit::SquadDevice phone(6);
  start(phone);
  act(phone, screens::OpenChange{0, 1});
  act(phone, screens::SetDraftReps{101});
  CHECK(session(phone).change[0].reps_refused == "Reps must be a whole number from 0 to 100.");
  act(phone, screens::KeepChange{});
  CHECK(session(phone).change.size() == 1);
  CHECK(last_said(phone) == "The reps cannot be kept as they stand. See beside the field.");
  act(phone, screens::SetDraftReps{100});
  CHECK(session(phone).change[0].reps_refused.empty());
  act(phone, screens::KeepChange{});
  CHECK(session(phone).change.empty());
}

TEST_CASE("a half-entered set survives the app being gone, unless the day has changed") {
  kit::SquadDevice phone(7);
  start(phone);
  act(phone, screens::OpenChange{0, 1});
  act(phone, screens::SetDraftReps{5});
  phone.app.hide();
  phone.app.close();
  phone.open_app();
  REQUIRE(session(phone).change.size() == 1);
  CHECK(session(phone).change[0].reps == 5);
  phone.app.close();
  phone.clock.set_wrong_by(86'400'000);
  phone.open_app();
  CHECK(session(phone).change.empty());
}

TEST_CASE("a full storage is said, the set shows a drop, logging goes on, and trying again keeps all in order") {
  kit::SquadDevice phone(8);
  start(phone);
  phone.files.refuses = host::IoStatus::full;
  log_one(phone);
  log_one(phone);
  CHECK(cell(phone, 1).state == CellState::not_kept);
  CHECK(session(phone).kept_words == "2 sets not kept");
  REQUIRE(session(phone).troubles.size() == 1);
  CHECK(session(phone).troubles[0].title == "Not kept: the storage is full");
  CHECK(phone.app.view().announcements.back().urgent);
  act(phone, screens::HandOver{});
  REQUIRE(phone.exchange.handed.size() == 1);
  CHECK(sync::read_bundle(phone.exchange.handed[0].bytes, "out").ok());

  phone.files.refuses = host::IoStatus::ok;
  act(phone, screens::TryAgain{});
  CHECK(session(phone).troubles.empty());
  CHECK(cell(phone, 1).state == CellState::kept);
  CHECK(cell(phone, 1, 1).state == CellState::kept);
  phone.app.close();
  phone.open_app();
  CHECK(cell(phone, 1, 1).state == CellState::kept);
}

TEST_CASE("a window that forgets says so, and the made-up squad says what it is") {
  kit::SquadDevice phone(9);
  start(phone, {.storage_kept = false, .demo = false, .author = app::Author::swimmer});
  CHECK(session(phone).troubles.at(0).title == "This window forgets");
  CHECK(session(phone).kept_words == "this visit only");
  kit::SquadDevice tablet(10);
  tablet.open_app({.storage_kept = false, .demo = true, .author = app::Author::swimmer});
  CHECK(session(tablet).troubles.at(0).title == "Made-up squad");
  CHECK_FALSE(session(tablet).board.rows.empty());
  tablet.app.act(screens::Intent{screens::SessionIntent{screens::LeaveMadeUp{}}});
  CHECK_MESSAGE(tablet.exchange.opened_again == 1, "one tap leads back to the real store");
}

TEST_CASE("a wrong file is refused by name and place, in the list of this visit") {
  kit::SquadDevice phone(11);
  start(phone);
  const std::string letter = "Dear coach, here is my log";
  phone.app.take_in("letter.txt", model::as_bytes(letter));
  REQUIRE(std::holds_alternative<screens::ExchangeView>(phone.app.view().page));
  const auto& view = std::get<screens::ExchangeView>(phone.app.view().page);
  REQUIRE(view.results.size() == 1);
  CHECK(view.results[0].refused);
  CHECK(view.results[0].sentence.find("letter.txt") != std::string::npos);
}

TEST_CASE("a contradiction of the plan is listed with both values, and the lighter load is written meanwhile") {
  kit::SquadDevice phone(12);
  start(phone);
  const auto scope = phone.app.book()->scopes()[0];
  auto out = phone.app.book()->make_bundle({});
  REQUIRE(out.ok());
  kit::SquadDevice desk(13);
  REQUIRE(desk.book().take_in("wren.slip", *out).ok());
  REQUIRE(desk.book().set_plan(scope, "load", "12", app::Author::coach).ok());
  REQUIRE(phone.app.book()->set_plan(scope, "load", "10", app::Author::swimmer).ok());
  auto back = desk.book().make_bundle({});
  REQUIRE(back.ok());
  phone.app.take_in("coach.slip", *back);
  const auto& view = std::get<screens::ExchangeView>(phone.app.view().page);
  REQUIRE(view.written_twice.size() == 1);
  REQUIRE(view.written_twice[0].lines.size() == 2);
  CHECK(view.written_twice[0].meanwhile.find("10") != std::string::npos);
  phone.app.act(screens::Intent{screens::GoTo{screens::Place::session}});
  CHECK(session(phone).next.at(0).load == "10\xC2\xA0kg");
  CHECK(session(phone).board.rows[0].contradiction);
}

TEST_CASE("a second window says so and asks to take over; the other says it was taken over") {
  kit::SquadDevice phone(14);
  phone.app.open_elsewhere();
  REQUIRE(std::holds_alternative<screens::NoticeView>(phone.app.view().page));
  CHECK(std::get<screens::NoticeView>(phone.app.view().page).title == "Open in another window");
  phone.app.act(screens::Intent{screens::PressKey{0}});
  CHECK(phone.exchange.took_over == 1);
  start(phone);
  log_one(phone);
  phone.app.taken_over();
  CHECK(std::get<screens::NoticeView>(phone.app.view().page).title == "Taken over by another window");
  phone.open_app();
  CHECK(cell(phone, 1).state == CellState::kept);
}

TEST_CASE("when all that is written is done, finishing is offered first, and one set more quietly") {
  kit::SquadDevice phone(15);
  start(phone);
  for (int sets = 0; sets < 60 && !session(phone).next.empty(); ++sets) log_one(phone);
  REQUIRE(session(phone).next.empty());
  CHECK(session(phone).finish_words == "Finish");
  REQUIRE(session(phone).states.size() == 1);
  act(phone, screens::PressState{0, 0});
  REQUIRE(session(phone).change.size() == 1);
  act(phone, screens::KeepChange{});
  CHECK(session(phone).change.empty());
}

TEST_CASE("the reserve of a main exercise's last set is said by the same tap") {
  kit::SquadDevice phone(16);
  start(phone);
  while (session(phone).next.at(0).keys.empty()) log_one(phone);
  const auto& keys = session(phone).next[0].keys;
  REQUIRE(keys.size() == 2);
  CHECK(keys[0].detail == "4 or more left");  // a first session keeps four in reserve [handbook R21]
  CHECK(keys[1].detail == "0–3 left");
  act(phone, screens::LogAsWritten{1});
  const auto& athlete = phone.app.book()->athlete(phone.app.book()->scopes()[0]);
  CHECK(athlete.sessions.at(0).sets.back().rir.value_or(99) == 3);
}

TEST_CASE("a session finished with effort and minutes shows what comes next and why") {
  kit::SquadDevice phone(17);
  start(phone);
  log_round(phone);
  phone.clock.tick(30 * 60'000);
  act(phone, screens::OpenFinish{});
  REQUIRE(session(phone).finish.size() == 1);
  CHECK_FALSE(session(phone).finish[0].ready);  // effort is never chosen for anybody
  CHECK(session(phone).finish[0].minutes == 31);
  CHECK(session(phone).finish[0].short_reasons.size() == 5);  // fewer sets than written
  act(phone, screens::KeepFinish{});
  CHECK(session(phone).finish.size() == 1);
  act(phone, screens::ChooseEffort{5});
  act(phone, screens::ChooseShortReason{0});
  act(phone, screens::KeepFinish{});
  const auto& view = session(phone);
  CHECK(view.done_words == "Session finished and kept.");
  REQUIRE(view.coming.size() == 1);
  CHECK(view.coming[0].title.find("Dryland B") != std::string::npos);
  CHECK(view.coming[0].rows.size() >= 3);
  const auto& finish = phone.app.book()->athlete(phone.app.book()->scopes()[0]).sessions.at(0).finish;
  REQUIRE(finish.first() != nullptr);
  CHECK(finish.first()->effort_tenths == 50);
}

TEST_CASE("the rest counts down to its least, then up, and survives the app being gone") {
  kit::SquadDevice phone(18);
  start(phone);
  log_one(phone);
  const std::int64_t least = session(phone).rest.at(0).least_s;
  phone.clock.tick(10'000);
  phone.app.close();
  phone.open_app();
  REQUIRE(session(phone).rest.size() == 1);
  CHECK(session(phone).rest[0].left_s <= least - 10);
  CHECK_FALSE(session(phone).rest[0].go);
  const std::uint32_t step = phone.app.next_wake_ms();
  REQUIRE_MESSAGE(step > 0, "its clock goes on though nobody touches anything");
  CHECK(step <= 1000);
  phone.clock.tick(static_cast<std::uint64_t>(least) * 1000);
  CHECK(session(phone).rest.at(0).go);
}

TEST_CASE("pain is kept at the first press, stops what it must, and is never taken out of the record") {
  kit::SquadDevice phone(19);
  start(phone);
  log_round(phone);
  act(phone, screens::OpenPain{});
  act(phone, screens::ChoosePain{0, 2});  // shoulder, a lot
  const auto& athlete = phone.app.book()->athlete(phone.app.book()->scopes()[0]);
  REQUIRE(athlete.pains.size() == 1);
  CHECK(session(phone).pain.at(0).kept.size() == 1);
  act(phone, screens::ClosePain{});
  const auto& rows = session(phone).board.rows;
  CHECK(rows.at(0).cells.at(1).state == CellState::next);          // squats go on
  CHECK(rows.at(1).cells.at(1).state == CellState::crossed_out);   // pulls and pushes stop [R01]
  CHECK(rows.at(2).cells.at(1).state == CellState::crossed_out);
  act(phone, screens::OpenPain{});
  act(phone, screens::ChoosePain{6, 0});
  act(phone, screens::TakeBackPain{});
  CHECK(phone.app.book()->athlete(phone.app.book()->scopes()[0]).pains.size() == 2);  // struck through, not gone
}

TEST_CASE("a warning sign stops the session at once, and only a clinician's word opens it again") {
  kit::SquadDevice phone(20);
  start(phone);
  act(phone, screens::OpenPain{});
  act(phone, screens::OpenStop{});
  act(phone, screens::TickFlag{0, true});
  act(phone, screens::CloseStop{});
  REQUIRE(session(phone).states.size() == 1);
  CHECK(session(phone).states[0].rule == "G01");
  CHECK(session(phone).next.empty());
  act(phone, screens::PressState{0, 0});
  act(phone, screens::PressState{0, 0});  // a double tap
  CHECK_MESSAGE(session(phone).next.empty(), "one press asks once more");
  CHECK(session(phone).states[0].keys[0].words == report::say("state.cleared_sure"));
  phone.app.act(screens::Intent{screens::GoTo{screens::Place::logbook}});
  phone.app.act(screens::Intent{screens::GoTo{screens::Place::session}});
  phone.clock.tick(app::kDeafMs);
  CHECK(session(phone).states[0].keys[0].words == report::say("state.cleared"));
  act(phone, screens::PressState{0, 0});
  phone.clock.tick(app::kDeafMs);
  act(phone, screens::PressState{0, 0});
  CHECK(session(phone).next.size() == 1);
  CHECK(phone.app.book()->athlete(phone.app.book()->scopes()[0]).red_flags.size() == 1);  // the report stays
}

TEST_CASE("a youth who is stopped finds help under the first key, and no key that is not theirs") {
  kit::SquadDevice phone(23);
  start(phone);
  app::Book& book = *phone.app.book();
  const model::ScopeId who = book.scopes().at(0);
  REQUIRE(book.set_athlete(who, {.birth_year = 2012}, app::Author::coach).ok());
  REQUIRE(book.note_red_flag(who, {.id = {}, .flag = "chest_pain", .group = model::FlagGroup::emergency, .region = {}, .day = model::day_of(phone.clock.now())}, app::Author::swimmer).ok());
  const auto& state = session(phone).states.at(0);
  REQUIRE(state.keys.size() == 1);
  CHECK(state.keys[0].words == report::say("state.help_now"));
  act(phone, screens::PressState{0, 0});
  CHECK(session(phone).stop.size() == 1);
  CHECK(book.athlete(who).clearances.empty());
}

TEST_CASE("a second tap takes no second set back, and a key of another page takes none") {
  kit::SquadDevice phone(24);
  start(phone);
  const auto sets = [&] {
    const auto& sessions = phone.app.book()->athlete(phone.app.book()->scopes()[0]).sessions;
    return sessions.empty() ? std::size_t{0} : sessions[0].sets.size();
  };
  log_round(phone);
  const std::size_t before = sets();
  act(phone, screens::TakeBack{});
  act(phone, screens::TakeBack{});
  CHECK(sets() == before - 1);
  phone.clock.tick(app::kDeafMs);
  phone.app.act(screens::Intent{screens::GoTo{screens::Place::logbook}});
  phone.app.undo_last();
  CHECK(sets() == before - 1);
  phone.app.act(screens::Intent{screens::GoTo{screens::Place::session}});
  phone.app.undo_last();
  CHECK(sets() == before - 2);
}

TEST_CASE("at midnight the board of the next day is drawn, though nobody touches it") {
  kit::SquadDevice phone(25);
  start(phone);
  const std::string today = session(phone).day_line;
  const std::int64_t of_day = phone.clock.now().local_ms % 86'400'000;
  phone.clock.tick(static_cast<std::uint64_t>(86'400'000 - of_day - 60'000));
  phone.app.tick();
  phone.app.wants_draw();
  CHECK(phone.app.next_wake_ms() == 60'000);
  phone.clock.tick(60'000);
  phone.app.tick();
  CHECK(phone.app.wants_draw());
  CHECK(session(phone).day_line != today);
}

TEST_CASE("loads in pounds are offered as pounds") {
  kit::SquadDevice phone(26);
  start(phone);
  app::Book& book = *phone.app.book();
  const model::ScopeId who = book.scopes().at(0);
  app::KitEntry kit;
  kit.loads = std::vector<model::Quantity>{{10, 0, model::Unit::lb}, {15, 0, model::Unit::lb}, {20, 0, model::Unit::lb}};
  REQUIRE(book.set_kit(who, book.athlete(who).kits.at(0).id, kit, app::Author::coach).ok());
  const auto label = [&] {
    act(phone, screens::OpenChange{0, 1});
    const auto panel = session(phone).change.at(0);
    return panel.load_label + " " + panel.loads.front().label;
  };
  CHECK(label() == report::say("change.load", {"lb"}) + " 10");
  act(phone, screens::LeaveAsWritten{});
  kit.loads->push_back({5, 0, model::Unit::kg});
  REQUIRE(book.set_kit(who, book.athlete(who).kits.at(0).id, kit, app::Author::coach).ok());
  CHECK(label().find(report::say("change.load_mixed")) == 0);
  CHECK(session(phone).change.at(0).loads.front().label.size() > 2);
}

TEST_CASE("two days of the same muscles in a row are asked about; the shorter session is offered first") {
  kit::SquadDevice phone(21);
  start(phone);
  log_round(phone);
  phone.clock.set_wrong_by(86'400'000);
  phone.app.tick();
  REQUIRE(session(phone).states.size() == 1);
  CHECK(session(phone).states[0].rule == "G09");
  act(phone, screens::PressState{0, 0});
  CHECK(session(phone).next.size() == 1);
}

TEST_CASE("every text that a screen or an error names is in the text table, without an exclamation mark") {
  for (const std::string& id : report::text_ids()) {
    CHECK_FALSE(report::say(id, {"1", "2", "3", "4", "5", "6"}).empty());
    CHECK(report::say(id).find('!') == std::string::npos);
  }
  CHECK(report::say("no.such.text", {"a"}) == "[no.such.text a]");
}
