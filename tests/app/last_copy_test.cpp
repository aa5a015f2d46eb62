// How long nothing has left this device: said in Exchange after a week, on the board after two.
#include "app/exchange_desk.h"
#include "desk_kit.h"
#include "report/words.h"

using namespace slipway;

namespace {

screens::ExchangeView exchange_of(kit::DeskDevice& device, bool demo = false) {
  app::ExchangeDesk exchange;
  auto desk = device.desk();
  desk.demo = demo;
  return exchange.view(desk, {});
}

}  // namespace

TEST_CASE("without a set there is nothing to copy, and nothing is said") {
  kit::DeskDevice device(3);
  device.add("Wren");
  device.next_day(40);
  CHECK_FALSE(device.book().days_without_copy().has_value());
  CHECK_FALSE(exchange_of(device).last_out_is_old);
}

TEST_CASE("never handed over, the days count from the first set; handed over, from then") {
  kit::DeskDevice device(4);
  const auto wren = device.add("Wren");
  device.log(wren, 1, 8, 20);
  CHECK(device.book().days_without_copy() == 0);
  device.next_day(6);
  CHECK_FALSE(exchange_of(device).last_out_is_old);
  device.next_day();
  CHECK(device.book().days_without_copy() == app::Book::kCopyIsOld);
  const auto view = exchange_of(device);
  CHECK(view.last_out_is_old);
  CHECK_FALSE(exchange_of(device, true).last_out_is_old);  // the made-up squad keeps nothing that a copy could save
  CHECK(view.last_out.find("7 days") != std::string::npos);
  device.book().note_copied({});
  CHECK(device.book().days_without_copy() == 0);
  CHECK_FALSE(exchange_of(device).last_out_is_old);
  device.next_day(8);
  CHECK(device.book().days_without_copy() == 8);
}

TEST_CASE("after two weeks the board says it too, and handing over ends it") {
  kit::SquadDevice phone(5);
  phone.open_app();
  const auto made = phone.app.book()->add_athlete({.name = "Wren", .birth_year = 1990}, app::Author::coach);
  REQUIRE(made.ok());
  app::SetEntry entry;
  entry.exercise = "SQ4";
  entry.reps = 8;
  REQUIRE(phone.app.book()->log_set(*made, entry, model::day_of(phone.clock.now()), app::Author::swimmer).ok());
  const auto troubles = [&] {
    phone.app.close();
    phone.open_app();
    const auto& page = phone.app.view().page;
    REQUIRE(std::holds_alternative<screens::SessionView>(page));
    return std::get<screens::SessionView>(page).troubles;
  };
  phone.clock.tick(std::int64_t{13} * 86'400'000);
  CHECK(troubles().empty());
  phone.clock.tick(std::int64_t{86'400'000});
  const auto said = troubles();
  REQUIRE(said.size() == 1);
  CHECK(said[0].title == "No copy for 14 days");
  CHECK_FALSE(said[0].hand_over_words.empty());
  phone.app.act(screens::Intent{screens::SessionIntent{screens::HandOver{}}});
  REQUIRE(phone.exchange.handed.size() == 1);
  CHECK(troubles().empty());
}

TEST_CASE("a file that leaves somebody or something out is no copy of this device") {
  kit::DeskDevice device(6);
  const auto wren = device.add("Wren"), rook = device.add("Rook");
  device.log(wren, 1, 8, 20);
  device.next_day(10);
  const auto days_after = [&](const app::Book::HandOver& asked) {
    device.book().note_copied(asked);
    return device.book().days_without_copy();
  };
  CHECK(days_after({.athletes = {wren}}) == 10);
  REQUIRE(device.book().add_note(rook, {.text = "x", .coach_only = true}, app::Author::coach).ok());
  CHECK(days_after({}) == 10);
  CHECK(days_after({.athletes = {wren, rook}, .libraries = true, .coach_notes = true}) == 0);
}

TEST_CASE("a file that did not leave after all is taken back: no copy, no time of handing over") {
  kit::SquadDevice phone(7);
  phone.open_app();
  REQUIRE(phone.app.book()->add_athlete({.name = "Wren", .birth_year = 1990}, app::Author::coach).ok());
  phone.app.take_in("first.slip", *phone.app.book()->make_bundle({}));
  app::SetEntry entry;
  entry.exercise = "SQ4";
  entry.reps = 8;
  const auto wren = phone.app.book()->scopes().front();
  REQUIRE(phone.app.book()->log_set(wren, entry, model::day_of(phone.clock.now()), app::Author::swimmer).ok());
  phone.clock.tick(std::int64_t{9} * 86'400'000);
  const auto last_out = [&] {
    phone.app.act(screens::Intent{screens::GoTo{screens::Place::exchange}});
    return std::get<screens::ExchangeView>(phone.app.view().page).last_out;
  };
  const std::string before = last_out();
  phone.app.act(screens::Intent{screens::ExchangeIntent{screens::HandOverFile{}}});
  CHECK(phone.app.book()->days_without_copy() == 0);
  CHECK_FALSE(last_out() == before);
  phone.app.act(screens::Intent{screens::ExchangeIntent{screens::HandOverFile{}}});
  phone.app.not_handed_over();  // the second one: the first stands
  CHECK(phone.app.book()->days_without_copy() == 0);
  phone.clock.tick(std::int64_t{9} * 86'400'000);
  const std::string after_first = last_out();
  phone.app.act(screens::Intent{screens::ExchangeIntent{screens::HandOverFile{}}});
  phone.app.not_handed_over();
  CHECK(phone.app.book()->days_without_copy() == 9);
  CHECK(last_out() == after_first);
  CHECK(phone.app.view().announcements.back().text == report::say("exchange.said_not_out"));
}

TEST_CASE("a file that left stays a copy though a later one of another kind does not leave; texts of one that did not leave were not shown") {
  kit::SquadDevice phone(8);
  phone.open_app();
  phone.app.act(screens::Intent{screens::StartIntent{screens::SetDraftName{"Wren"}}});
  phone.app.act(screens::Intent{screens::StartIntent{screens::Start{}}});
  app::Book& book = *phone.app.book();
  const auto wren = book.scopes().front();
  REQUIRE(book.add_note(wren, {.text = "left heel lifts"}, app::Author::swimmer).ok());
  const auto first_time = [&] { return book.preview({.athletes = {wren}})->first_time.size(); };
  REQUIRE(first_time() == 2);  // the name and the note
  phone.app.act(screens::Intent{screens::GoTo{screens::Place::exchange}});
  phone.app.act(screens::Intent{screens::ExchangeIntent{screens::HandOverFile{}}});
  CHECK(first_time() == 0);
  phone.app.not_handed_over();
  CHECK(first_time() == 2);
  phone.app.act(screens::Intent{screens::ExchangeIntent{screens::HandOverFile{}}});
  const auto copied = book.local("handed.over.day");
  phone.clock.tick(std::int64_t{3} * 86'400'000);
  phone.app.act(screens::Intent{screens::GoTo{screens::Place::session}});
  phone.app.not_handed_over();  // of something else that was offered since
  CHECK(book.local("handed.over.day") == copied);
  CHECK(first_time() == 0);
}
