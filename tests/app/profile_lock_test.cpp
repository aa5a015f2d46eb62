// The PIN of a profile on the shared tablet: what it stands before, what it never stands before, and what wrong ones cost.
#include "app/profile_lock.h"

#include <doctest/doctest.h>

#include "app/settings.h"
#include "kit/device.h"
#include "kit/seal_kit.h"
#include "report/words.h"
#include "setup_hand.h"

using namespace slipway;
using report::say;
using screens::Place;

namespace {

std::string refused(const model::Result<model::Done>& result) { return result.ok() ? "" : result.error().text; }

struct Tablet {
  Tablet() {
    for (const char* name : {"Wren", "Teal"}) {
      const auto made = device.book().add_athlete({.name = name, .birth_year = 1990}, app::Author::coach);
      REQUIRE(made.ok());
      (wren.is_zero() ? wren : teal) = *made;
    }
  }
  app::Book& book() { return device.book(); }
  void set_pins() {
    REQUIRE(lock.set_pin(book(), std::nullopt, "777777").ok());
    REQUIRE(lock.set_pin(book(), wren, "1234").ok());
    lock.lock();
  }
  kit::SquadDevice device{1};
  app::ProfileLock lock{device.clock, device.random, kit::kCheapCost};
  model::ScopeId wren, teal;
};

// The app on a shared tablet: Wren has the PIN 1234, the tablet 777777.
struct SharedApp {
  SharedApp() {
    tablet.device.close_book();
    {
      app::Settings settings;
      settings.user = app::DeviceUser::shared;
      settings.user_said = settings.started = true;
      REQUIRE(settings.write(tablet.book()));
      tablet.set_pins();
      tablet.device.close_book();
    }
    tablet.device.open_app();
    be(tablet.wren);
  }
  app::App& app() { return tablet.device.app; }
  void be(const model::ScopeId& who) {
    // As the person does: the page of who is at the tablet, or the locked page, names everybody.
    const std::string name = app().book()->athlete(who).name.value_or("");
    hand.go(Place::setup);
    if (hand.press(name)) return;
    hand.open(screens::Setting::device);
    REQUIRE(hand.press(name));
  }
  void give(const std::string& digits) {
    hand.type(say("pin.label"), digits);
    REQUIRE(hand.press(say("pin.give")));
  }
  void give_for_a_while() {
    hand.go(Place::logbook);
    give("1234");
  }
  bool shows_lock() { return hand.part(say("pin.label")) != nullptr; }
  void wait(std::int64_t ms) {
    tablet.device.clock.tick(ms);
    app().tick();
  }
  Tablet tablet;
  kit::SetupHand hand{tablet.device.app};
};

}  // namespace

TEST_CASE("a profile without a PIN is never locked; one with a PIN is, till its own or the tablet's is given") {
  Tablet tablet;
  CHECK(!tablet.lock.is_locked(tablet.book(), tablet.wren));
  tablet.set_pins();
  CHECK(tablet.lock.is_locked(tablet.book(), tablet.wren));
  CHECK(!tablet.lock.is_locked(tablet.book(), tablet.teal));
  CHECK(tablet.lock.is_tablet_locked(tablet.book()));
  REQUIRE(tablet.lock.give_pin(tablet.book(), tablet.wren, "1234").ok());
  CHECK(!tablet.lock.is_locked(tablet.book(), tablet.wren));
  CHECK(tablet.lock.is_tablet_locked(tablet.book()));  // her own PIN opens her profile alone
  tablet.lock.lock();
  REQUIRE(tablet.lock.give_pin(tablet.book(), tablet.wren, "777777").ok());
  CHECK(!tablet.lock.is_locked(tablet.book(), tablet.wren));
  CHECK(!tablet.lock.is_tablet_locked(tablet.book()));
}

TEST_CASE("a PIN has four to six digits, and a swimmer's needs the tablet's first") {
  Tablet tablet;
  for (const char* digits : {"123", "1234567", "12a4", "12 4"}) CHECK(refused(tablet.lock.set_pin(tablet.book(), std::nullopt, digits)) == "pin.form");
  CHECK(refused(tablet.lock.set_pin(tablet.book(), tablet.wren, "1234")) == "pin.tablet_first");
  CHECK(!tablet.lock.has_pin(tablet.book(), tablet.wren));
  tablet.set_pins();
  CHECK(tablet.lock.has_pin(tablet.book(), tablet.wren));
}

TEST_CASE("a PIN is changed or taken away only by whoever knows it, or the tablet's") {
  Tablet tablet;
  tablet.set_pins();
  CHECK(refused(tablet.lock.set_pin(tablet.book(), tablet.wren, "9999")) == "pin.own_first");
  CHECK(refused(tablet.lock.set_pin(tablet.book(), tablet.wren, "")) == "pin.own_first");
  CHECK(refused(tablet.lock.set_pin(tablet.book(), std::nullopt, "")) == "pin.own_first");
  REQUIRE(tablet.lock.give_pin(tablet.book(), tablet.wren, "1234").ok());
  CHECK(refused(tablet.lock.set_pin(tablet.book(), std::nullopt, "")) == "pin.own_first");
  REQUIRE(tablet.lock.set_pin(tablet.book(), tablet.wren, "9999").ok());
  tablet.lock.lock();
  CHECK(refused(tablet.lock.give_pin(tablet.book(), tablet.wren, "1234")) == "pin.wrong");
  // Forgotten: the adult takes it away.
  REQUIRE(tablet.lock.give_pin(tablet.book(), tablet.wren, "777777").ok());
  REQUIRE(tablet.lock.set_pin(tablet.book(), tablet.wren, "").ok());
  tablet.lock.lock();
  CHECK(!tablet.lock.is_locked(tablet.book(), tablet.wren));
}

TEST_CASE("wrong PINs cost a growing time, over a restart too, and never more than five minutes") {
  Tablet tablet;
  tablet.set_pins();
  const auto wrong = [&] { return refused(tablet.lock.give_pin(tablet.book(), tablet.wren, "0000")); };
  CHECK(wrong() == "pin.wrong");
  CHECK(wrong() == "pin.wrong");
  CHECK(tablet.lock.wait_ms(tablet.book()) == 0);
  for (std::uint64_t wait = app::kFirstPinWaitMs; wait < app::kMostPinWaitMs; wait *= 2) {
    CHECK(wrong() == "pin.wrong");
    CHECK(tablet.lock.wait_ms(tablet.book()) == wait);
    CHECK(refused(tablet.lock.give_pin(tablet.book(), tablet.wren, "1234")) == "pin.wait");  // the right one is not looked at either
    tablet.device.clock.tick(static_cast<std::int64_t>(wait));
  }
  for (int nth = 0; nth < 3; ++nth) {
    CHECK(wrong() == "pin.wrong");
    CHECK(tablet.lock.wait_ms(tablet.book()) == app::kMostPinWaitMs);
    tablet.device.clock.tick(static_cast<std::int64_t>(app::kMostPinWaitMs));
  }
  tablet.device.close_book();  // taken apart and started again
  app::ProfileLock again(tablet.device.clock, tablet.device.random, kit::kCheapCost);
  CHECK(again.wait_ms(tablet.book()) == app::kMostPinWaitMs);
  tablet.device.clock.tick(static_cast<std::int64_t>(app::kMostPinWaitMs));
  REQUIRE(again.give_pin(tablet.book(), tablet.wren, "1234").ok());
  again.lock();
  CHECK(refused(again.give_pin(tablet.book(), tablet.wren, "0000")) == "pin.wrong");
  CHECK(again.wait_ms(tablet.book()) == 0);  // the row of wrong ones was broken
  CHECK(tablet.book().athlete(tablet.wren).name.value_or("") == "Wren");  // and nothing is gone
}

TEST_CASE("opened, it locks after two minutes without a touch, and not before") {
  Tablet tablet;
  tablet.set_pins();
  REQUIRE(tablet.lock.give_pin(tablet.book(), tablet.wren, "1234").ok());
  tablet.device.clock.tick(static_cast<std::int64_t>(app::kLockAfterMs) - 1);
  CHECK(!tablet.lock.tick());
  tablet.lock.touch();
  tablet.device.clock.tick(static_cast<std::int64_t>(app::kLockAfterMs) - 1);
  CHECK(!tablet.lock.tick());
  CHECK(!tablet.lock.is_locked(tablet.book(), tablet.wren));
  tablet.device.clock.tick(1);
  CHECK(tablet.lock.tick());
  CHECK(tablet.lock.is_locked(tablet.book(), tablet.wren));
  CHECK(!tablet.lock.tick());
}

TEST_CASE("no PIN stands in clear in the store") {
  Tablet tablet;
  tablet.set_pins();
  tablet.device.close_book();
  CHECK(model::as_text(tablet.device.files.content["slipway.db"]).find("777777") == std::string_view::npos);
}

TEST_CASE("on the shared tablet the PIN stands before Logbook, Exchange and Setup; Session is open") {
  SharedApp shared;
  for (const Place place : {Place::logbook, Place::exchange, Place::setup}) {
    shared.hand.go(place);
    CHECK(shared.shows_lock());
  }
  shared.hand.go(Place::session);
  CHECK(std::holds_alternative<screens::SessionView>(shared.app().view().page));
  shared.hand.go(Place::logbook);
  shared.give("4321");
  CHECK(shared.shows_lock());
  shared.give("1234");
  CHECK(std::holds_alternative<screens::LogbookView>(shared.app().view().page));
  shared.wait(static_cast<std::int64_t>(app::kLockAfterMs));
  CHECK(shared.shows_lock());
}

TEST_CASE("before the PIN the open Session tells nothing of earlier days: no numbers behind a dose, no pain to be asked about") {
  SharedApp shared;
  app::Book& book = *shared.app().book();
  shared.give_for_a_while();
  model::Pain pain;
  pain.region = "shoulder";
  pain.amount = 4;
  REQUIRE(book.note_pain(shared.tablet.wren, pain, app::Author::swimmer).ok());
  shared.tablet.device.clock.tick(86'400'000);
  const auto session = [&](const screens::SessionIntent& intent) {
    shared.hand.go(Place::session);
    shared.app().act(screens::Intent{intent});
    return std::get<screens::SessionView>(shared.app().view().page);
  };
  const auto asked = [&] { return session(screens::OpenPain{}).pain.at(0).asked.size(); };
  const auto told = [&] {
    const auto entries = session(screens::OpenWhy{}).why.at(0).entries;
    return std::find(entries.begin(), entries.end(), say("why.locked")) == entries.end();
  };
  CHECK(asked() == 0);
  CHECK_FALSE(told());
  shared.give_for_a_while();
  CHECK(asked() == 1);
  CHECK(told());
}

TEST_CASE("a set is logged without a PIN, and nothing is handed over with none") {
  SharedApp shared;
  shared.hand.go(Place::session);
  const auto before = shared.app().book()->revision();
  shared.app().act(screens::Intent{screens::SessionIntent{screens::LogAsWritten{}}});
  CHECK(shared.app().book()->revision() > before);
  for (const screens::Intent& intent : {screens::Intent{screens::MoreHandOver{}}, screens::Intent{screens::SessionIntent{screens::HandOver{}}},
                                        screens::Intent{screens::ExchangeIntent{screens::HandOverFile{}}}, screens::Intent{screens::ExchangeIntent{screens::HandOverOpen{}}}})
    shared.app().act(intent);
  CHECK(shared.tablet.device.exchange.handed.empty());
  shared.hand.go(Place::exchange);
  shared.give("1234");
  shared.app().act(screens::Intent{screens::ExchangeIntent{screens::HandOverFile{}}});
  CHECK(shared.tablet.device.exchange.handed.size() == 1);
}

TEST_CASE("another swimmer at the tablet may be chosen on the locked page, and finds it locked again when coming back") {
  SharedApp shared;
  shared.hand.go(Place::setup);
  shared.give("1234");
  CHECK(!shared.shows_lock());
  shared.be(shared.tablet.teal);
  shared.hand.go(Place::logbook);
  CHECK(std::holds_alternative<screens::LogbookView>(shared.app().view().page));  // Teal has no PIN
  shared.be(shared.tablet.wren);
  shared.hand.go(Place::logbook);
  CHECK(shared.shows_lock());
}

TEST_CASE("what the tablet is used for changes only with the tablet's PIN: a coach's view would lead round every PIN") {
  SharedApp shared;
  shared.be(shared.tablet.teal);
  const auto choose_coach = [&] {
    shared.hand.go(Place::session);
    shared.hand.go(Place::setup);
    shared.hand.answer(screens::number_of(screens::Setting::device), 0);
    shared.hand.answer(screens::number_of(screens::Setting::device), static_cast<std::uint32_t>(app::DeviceUser::coach));
    return app::Settings::read(*shared.app().book()).user;
  };
  CHECK(choose_coach() == app::DeviceUser::shared);
  shared.be(shared.tablet.wren);
  shared.hand.go(Place::setup);
  shared.give("777777");
  CHECK(choose_coach() == app::DeviceUser::coach);
  shared.wait(static_cast<std::int64_t>(app::kLockAfterMs) + 1);
  shared.hand.open(screens::Setting::device);
  shared.hand.answer(screens::number_of(screens::Setting::device), static_cast<std::uint32_t>(app::DeviceUser::swimmer));
  CHECK(app::Settings::read(*shared.app().book()).user == app::DeviceUser::swimmer);  // where no PIN can be given none is asked for
}
