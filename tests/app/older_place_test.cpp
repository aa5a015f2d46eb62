// A store in an older place of this browser is taken over whole, or that place is left alone.
#include <doctest/doctest.h>

#include "app/profile_lock.h"
#include "app/settings.h"
#include "book_kit.h"
#include "kit/device.h"
#include "kit/seal_kit.h"

using namespace slipway;
using kit::Author;

namespace {

// The store of the pages, as it was left, and the device that found handles since.
struct Browser {
  Browser() {
    now.open_app();
    REQUIRE(now.app.book()->add_athlete({.name = "Rook", .birth_year = 1990}, Author::coach).ok());
    now.app.close();
    now.open_app();  // Rook is the one at it
    wren = *pages.book().add_athlete({.name = "Wren", .birth_year = 1991}, Author::coach);
    REQUIRE(pages.book().log_set(wren, kit::entry_of("SQ4", 9), model::day_of(pages.book().now()), Author::swimmer).ok());
  }
  bool take_over() {
    pages.close_book();
    return now.app.take_in_from_beside(pages.files);
  }
  app::Book& book() { return *now.app.book(); }
  kit::SquadDevice pages{1}, now{2};
  model::ScopeId wren;
};

}  // namespace

TEST_CASE("entries of every kind come over: libraries and what only coaches hold too") {
  Browser browser;
  REQUIRE(browser.pages.book().add_library("winter", Author::coach).ok());
  REQUIRE(browser.pages.book().add_note(browser.wren, {.text = "left shoulder", .coach_only = true}, Author::coach).ok());
  CHECK(browser.take_over());
  CHECK(browser.book().scopes().size() == 2);
  CHECK(browser.book().libraries().size() == 1);
  CHECK(browser.book().coach_notes().size() == 1);
  CHECK(browser.book().athlete(browser.wren).sessions.front().sets.size() == 1);
  const auto* told = std::get_if<screens::ExchangeView>(&browser.now.app.view().page);
  REQUIRE(told != nullptr);
  CHECK(told->results.size() == 1);
}

TEST_CASE("where keys are in use nobody is asked: both stores are this device's") {
  Browser browser;
  REQUIRE(browser.book().keys().make_coach_key("Heron", "starting blocks at dawn", false, kit::kCheapCost).ok());
  CHECK(browser.take_over());
  CHECK(browser.book().scopes().size() == 2);
}

TEST_CASE("a paired swimmer's pages come over though only the coach could open what they hand out") {
  Browser browser;
  kit::SquadDevice coach(3);
  REQUIRE(coach.book().keys().make_coach_key("Heron", "starting blocks at dawn", false, kit::kCheapCost).ok());
  REQUIRE(browser.pages.book().take_in("squad.slip", *coach.book().keys().squad_file()).ok());
  CHECK(browser.take_over());
  CHECK(browser.book().scopes().size() == 2);
  CHECK(browser.book().keys().squad().has_value());
}

TEST_CASE("the coach's key, PINs and settings come along where there are none; of two keys neither is lost") {
  Browser browser;
  REQUIRE(browser.pages.book().keys().make_coach_key("Heron", "starting blocks at dawn", false, kit::kCheapCost).ok());
  app::ProfileLock lock(browser.pages.clock, browser.pages.random, kit::kCheapCost);
  REQUIRE(lock.set_pin(browser.pages.book(), std::nullopt, "777777").ok());
  REQUIRE(lock.set_pin(browser.pages.book(), browser.wren, "1234").ok());
  app::Settings settings;
  settings.text_percent = 150;
  REQUIRE(settings.write(browser.pages.book()));
  CHECK(browser.take_over());
  REQUIRE(browser.book().keys().coach().has_value());
  CHECK(browser.book().keys().coach()->name == "Heron");
  CHECK(lock.has_pin(browser.book(), std::nullopt));
  CHECK(lock.has_pin(browser.book(), browser.wren));
  CHECK(app::Settings::read(browser.book()).text_percent == 150);

  Browser two;
  REQUIRE(two.pages.book().keys().make_coach_key("Heron", "starting blocks at dawn", false, kit::kCheapCost).ok());
  REQUIRE(two.book().keys().make_coach_key("Heron", "starting blocks at dusk", false, kit::kCheapCost).ok());
  CHECK_FALSE(two.take_over());
  CHECK(two.book().scopes().size() == 2);  // the entries are here all the same
}

TEST_CASE("a place that can not be read, or a storage that refuses, leaves the older place alone") {
  Browser browser;
  browser.pages.close_book();
  browser.pages.files.content["slipway.db"].resize(5000, 0xEE);
  browser.pages.files.content["slipway.db"][0] = 'x';
  CHECK_FALSE(browser.now.app.take_in_from_beside(browser.pages.files));
  Browser full;
  full.now.files.refuses = host::IoStatus::full;
  CHECK_FALSE(full.take_over());
}

TEST_CASE("a swimmer who is sealed in the older place can not come over, so that place stays, and everybody else comes") {
  Browser browser;
  REQUIRE(browser.pages.book().add_athlete({.name = "Teal", .birth_year = 1992}, Author::coach).ok());
  REQUIRE(browser.pages.book().seal_profile(browser.wren, "three wet towels", kit::kCheapCost).ok());
  CHECK_FALSE(browser.take_over());
  CHECK(browser.book().scopes().size() == 2);
  CHECK(browser.pages.book().open_profile(browser.wren, "three wet towels").ok());
  CHECK(browser.pages.book().athlete(browser.wren).sessions.size() == 1);
}

TEST_CASE("whoever was erased in the older place stays erased: no old file brings them back") {
  Browser browser;
  const auto old_file = browser.pages.book().make_bundle({});
  REQUIRE(old_file.ok());
  REQUIRE(browser.pages.book().erase(browser.wren, "Wren", app::EraseReason::asked).ok());
  CHECK(browser.take_over());
  REQUIRE(browser.book().erased().size() == 1);
  CHECK(browser.book().erase_requests().empty());
  const auto taken = browser.book().take_in("old.slip", *old_file);
  REQUIRE(taken.ok());
  CHECK(taken->dropped > 0);
  CHECK(browser.book().scopes().size() == 1);
  browser.now.app.close();
  browser.now.open_app();
  CHECK(browser.book().erased().size() == 1);
}
