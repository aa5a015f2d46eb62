// How long nothing has left this device: said in Exchange after a week, on the board after two.
#include "app/exchange_desk.h"
#include "desk_kit.h"

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
  device.book().note_copied();
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
