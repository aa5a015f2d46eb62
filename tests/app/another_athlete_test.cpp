// One device, several athletes: what was begun on the board of one goes to nobody else.
#include <doctest/doctest.h>

#include "app/local_names.h"
#include "app/settings.h"
#include "kit/device.h"
#include "report/words.h"
#include "setup_hand.h"

using namespace slipway;
using report::say;
using screens::Place;

namespace {

struct Tablet {
  explicit Tablet(app::DeviceUser user = app::DeviceUser::shared) {
    for (const char* name : {"Teal", "Wren"}) {
      const auto made = device.book().add_athlete({.name = name, .birth_year = 1990}, app::Author::coach);
      REQUIRE(made.ok());
      (teal.is_zero() ? teal : wren) = *made;
    }
    app::Settings settings;
    settings.user = user;
    settings.user_said = settings.started = true;
    REQUIRE(settings.write(device.book()));
    REQUIRE(device.book().set_local(app::kHereName, wren.view()));
    device.close_book();
    device.open_app();
  }
  app::Book& book() { return *device.app.book(); }
  void be(const std::string& name) {
    hand.open(screens::Setting::device);
    REQUIRE(hand.press(name));
    hand.go(Place::session);
  }
  const screens::SessionView& session() {
    hand.go(Place::session);
    const auto* page = std::get_if<screens::SessionView>(&device.app.view().page);
    REQUIRE(page != nullptr);
    return *page;
  }
  void act(const screens::SessionIntent& intent) { device.app.act(screens::Intent{intent}); }
  void log() {
    act(screens::LogAsWritten{});
    device.clock.tick(app::kDeafMs);
    device.app.tick();
  }
  std::size_t sets(const model::ScopeId& who) {
    std::size_t count = 0;
    for (const model::Session& one : book().athlete(who).sessions) count += one.sets.size();
    return count;
  }
  bool asks_whether_today() {
    for (const auto& state : session().states)
      for (const auto& key : state.keys)
        if (key.words == say("state.train_now")) return true;
    return false;
  }
  void train_now() {
    for (std::uint32_t i = 0; i < session().states.size(); ++i)
      if (!session().states[i].keys.empty() && session().states[i].keys[0].words == say("state.train_now")) return act(screens::PressState{i, 0});
    FAIL("no key to train now");
  }

  kit::SquadDevice device{1};
  kit::SetupHand hand{device.app};
  model::ScopeId wren, teal;
};

}  // namespace

TEST_CASE("a half-entered set is not kept for whoever is chosen next, nor after a start") {
  for (const app::DeviceUser user : {app::DeviceUser::shared, app::DeviceUser::coach}) {
    Tablet tablet(user);
    tablet.session();
    tablet.act(screens::OpenChange{0, 1});
    tablet.act(screens::SetDraftReps{12});
    REQUIRE(tablet.session().change.size() == 1);
    tablet.device.app.hide();
    REQUIRE_FALSE(tablet.book().local(app::kDraftName)->empty());
    tablet.be("Teal");
    CHECK(tablet.session().change.empty());
    tablet.act(screens::KeepChange{});
    CHECK(tablet.sets(tablet.teal) == 0);
    CHECK(tablet.sets(tablet.wren) == 0);
    tablet.device.app.hide();
    CHECK(tablet.book().local(app::kDraftName)->empty());
  }
}

TEST_CASE("the last entry of one is not another's to take back") {
  Tablet tablet;
  tablet.session();
  tablet.log();
  REQUIRE(tablet.sets(tablet.wren) == 1);
  tablet.be("Teal");
  const auto before = tablet.book().revision();
  tablet.act(screens::TakeBack{});
  CHECK(tablet.book().revision() == before);
  CHECK(tablet.sets(tablet.wren) == 1);
}

TEST_CASE("when somebody else's entries were kept and handed over is not said on this board") {
  Tablet tablet;
  tablet.session();
  tablet.log();
  tablet.act(screens::HandOver{});
  REQUIRE(tablet.session().hand_over_words != say("session.hand_over"));
  tablet.log();
  CHECK_MESSAGE(tablet.session().hand_over_words == say("session.hand_over"), "and what was logged since has not gone out");
  tablet.act(screens::HandOver{});
  tablet.be("Teal");
  CHECK(tablet.session().hand_over_words == say("session.hand_over"));
  CHECK(tablet.session().kept_words == say("session.nothing_yet"));
}

TEST_CASE("to train now is said for one athlete and one day") {
  Tablet tablet;
  const model::Day yesterday{model::day_of(tablet.device.clock.now()).since_1970 - 1};
  for (const auto& who : {tablet.wren, tablet.teal})  // too soon after it, unless somebody says so [G09]
    for (std::uint64_t round = 1; round <= 3; ++round) {
      app::SetEntry entry;
      entry.exercise = "SQ4";
      entry.round = round;
      entry.reps = 8;
      entry.rir = 2;
      REQUIRE(tablet.book().log_set(who, entry, yesterday, app::Author::swimmer).ok());
    }
  REQUIRE(tablet.asks_whether_today());
  tablet.train_now();
  REQUIRE_FALSE(tablet.asks_whether_today());
  tablet.be("Teal");
  CHECK(tablet.asks_whether_today());
  tablet.be("Wren");
  CHECK(tablet.asks_whether_today());
  tablet.train_now();
  tablet.session();
  tablet.log();
  REQUIRE(tablet.sets(tablet.wren) == 4);
  tablet.device.clock.tick(86'400'000);
  tablet.device.app.tick();
  CHECK(tablet.asks_whether_today());
}

TEST_CASE("what is only in memory leaves with whoever hands over, whosever it is") {
  Tablet tablet;
  tablet.session();
  tablet.device.files.refuses = host::IoStatus::full;
  tablet.log();
  tablet.log();
  REQUIRE(tablet.book().waiting_sets() > 0);
  tablet.be("Teal");
  tablet.act(screens::HandOver{});
  REQUIRE(tablet.device.exchange.handed.size() == 1);
  kit::SquadDevice coach(2);
  REQUIRE(coach.book().take_in("rescue.slip", tablet.device.exchange.handed[0].bytes).ok());
  REQUIRE(coach.book().scopes().size() == 2);
  CHECK(coach.book().athlete(tablet.wren).sessions.at(0).sets.size() == 2);
  tablet.device.files.refuses = host::IoStatus::ok;
  REQUIRE(tablet.book().try_again());
  tablet.act(screens::HandOver{});
  kit::SquadDevice other(3);
  REQUIRE(other.book().take_in("own.slip", tablet.device.exchange.handed.at(1).bytes).ok());
  CHECK(other.book().scopes() == std::vector{tablet.teal});  // and nobody else once all is kept
}

TEST_CASE("whoever is put in the place of an athlete who went out of sight gets nothing of what was half entered") {
  Tablet tablet(app::DeviceUser::coach);
  REQUIRE(tablet.book().keys().make_coach_key("Heron", "starting blocks at dawn", false, {8, 1}).ok());
  kit::SquadDevice swimmer(4);
  REQUIRE(swimmer.book().take_in("squad.slip", *tablet.book().keys().squad_file()).ok());
  REQUIRE(swimmer.book().take_in("all.slip", *tablet.book().make_bundle({}, {.whom = app::OutSeal::For::open})).ok());
  app::SetEntry entry;
  entry.exercise = "SQ4";
  entry.reps = 8;
  REQUIRE(swimmer.book().log_set(tablet.wren, entry, model::day_of(swimmer.clock.now()), app::Author::swimmer).ok());
  REQUIRE(tablet.book().take_in("wren.slip", *swimmer.book().make_bundle({}), {.passphrase = {}, .confirmed = true}).ok());
  tablet.be("Wren");
  tablet.act(screens::OpenChange{0, 1});
  tablet.act(screens::SetDraftReps{12});
  REQUIRE(swimmer.book().erase(tablet.wren, "Wren", app::EraseReason::asked).ok());
  tablet.device.app.take_in("mark.slip", *swimmer.book().make_bundle({}));
  REQUIRE(tablet.book().hidden() == std::vector{tablet.wren});
  CHECK(tablet.session().change.empty());
  tablet.act(screens::KeepChange{});
  CHECK(tablet.sets(tablet.teal) == 0);
}

TEST_CASE("a half-entered set of one is not opened at a start at which another is here") {
  Tablet tablet;
  tablet.session();
  tablet.act(screens::OpenChange{0, 1});
  tablet.act(screens::SetDraftReps{12});
  tablet.device.app.hide();
  REQUIRE(tablet.book().set_local(app::kHereName, tablet.teal.view()));  // the power went before the draft was let go
  tablet.device.close_book();
  tablet.device.open_app();
  CHECK(tablet.session().change.empty());
}

TEST_CASE("a set that was taken back in the Logbook is not there to take back once more") {
  Tablet tablet;
  tablet.session();
  tablet.log();
  tablet.log();
  const auto sets = tablet.book().athlete(tablet.wren).sessions.at(0).sets;
  REQUIRE(sets.size() == 2);
  REQUIRE(tablet.book().take_back(tablet.wren, sets[1].id, app::Author::swimmer).ok());
  tablet.act(screens::TakeBack{});
  CHECK(tablet.sets(tablet.wren) == 0);
}

TEST_CASE("a session that is finished after midnight is the one that was asked about") {
  Tablet tablet;
  tablet.session();
  tablet.log();
  tablet.act(screens::OpenFinish{});
  tablet.act(screens::ChooseEffort{5});
  tablet.device.clock.tick(86'400'000);
  tablet.device.app.tick();
  tablet.act(screens::KeepFinish{});
  CHECK_FALSE(tablet.book().athlete(tablet.wren).sessions.at(0).finish.empty());
}

TEST_CASE("the page of a swimmer who was erased meanwhile is closed") {
  Tablet tablet(app::DeviceUser::coach);
  tablet.hand.go(Place::squad);
  const auto squad = [&] { return std::get<screens::SquadView>(tablet.device.app.view().page); };
  tablet.device.app.act(screens::Intent{screens::SquadIntent{screens::OpenSwimmer{1}}});
  REQUIRE(squad().swimmer.size() == 1);
  REQUIRE(tablet.book().erase(tablet.wren, "Wren", app::EraseReason::asked).ok());
  tablet.hand.go(Place::exchange);
  tablet.hand.go(Place::squad);
  CHECK(squad().swimmer.empty());
}

TEST_CASE("whoever starts on a tablet after another begins with an empty page") {
  kit::SquadDevice tablet(9);
  tablet.open_app();
  const auto start = [&tablet](const screens::StartIntent& intent) { tablet.app.act(screens::Intent{intent}); };
  start(screens::SetDraftName{"Wren"});
  start(screens::StartAnswer{screens::StartPart::device, 1, {}});
  start(screens::StartAnswer{screens::StartPart::born, 0, "1990"});
  start(screens::Start{});
  REQUIRE(tablet.app.book()->scopes().size() == 1);
  REQUIRE(tablet.app.book()->seal_profile(tablet.app.book()->scopes().front(), "three wet towels", {8, 1}).ok());
  tablet.close_book();
  tablet.open_app();
  kit::SetupHand hand(tablet.app);
  REQUIRE(hand.press(say("sealed.else")));
  const auto* who = std::get_if<screens::NoticeView>(&tablet.app.view().page);
  REQUIRE(who != nullptr);
  tablet.app.act(screens::Intent{screens::PressKey{static_cast<std::uint32_t>(who->keys.size() - 2)}});
  const auto* page = std::get_if<screens::StartView>(&tablet.app.view().page);
  REQUIRE(page != nullptr);
  CHECK(page->name.empty());
  for (const auto& part : page->facts) CHECK(part.value.empty());
}

TEST_CASE("the answers about health, and a doctor's word, are each athlete's own on a shared tablet") {
  Tablet tablet;
  app::Health yes;
  yes.answers[0] = app::Answer::yes;
  REQUIRE(yes.write(tablet.book(), tablet.wren));
  const auto asks = [&] {
    for (const auto& state : tablet.session().states)
      if (state.title == say("state.doctor_title")) return true;
    return false;
  };
  CHECK(asks());
  tablet.be("Teal");
  CHECK_FALSE(asks());
  REQUIRE(yes.write(tablet.book(), tablet.teal));
  tablet.be("Wren");
  tablet.be("Teal");
  REQUIRE(asks());
  for (std::uint32_t i = 0; i < tablet.session().states.size(); ++i)
    if (tablet.session().states[i].title == say("state.doctor_title")) {
      tablet.act(screens::PressState{i, 0});  // a doctor has allowed it: Teal
      break;
    }
  CHECK_FALSE(asks());
  tablet.be("Wren");
  CHECK(asks());
}

TEST_CASE("answers given before a first bundle was taken in are those of whoever is here then, also in a store of an older version") {
  Tablet tablet;
  app::Settings settings = app::Settings::read(tablet.book());
  settings.health[1] = app::Answer::yes;
  REQUIRE(settings.write(tablet.book()));
  tablet.device.close_book();
  tablet.device.open_app();
  CHECK(app::Health::read(tablet.book(), tablet.wren).asks_doctor());
  CHECK(app::Settings::read(tablet.book()).health[1] == app::Answer::open);
  CHECK_FALSE(app::Health::read(tablet.book(), tablet.teal).asks_doctor());
}

TEST_CASE("a file the outside could not read is told as a refused one, and what is not kept leaves before the store is let go") {
  Tablet tablet;
  tablet.device.app.not_read("away.slip", model::error(model::ErrorKind::io, "file.unreadable", {"away.slip"}));
  const auto* page = std::get_if<screens::ExchangeView>(&tablet.device.app.view().page);
  REQUIRE(page != nullptr);
  REQUIRE(page->results.size() == 1);
  CHECK(page->results[0].refused);
  CHECK(page->results[0].spoken.find("away.slip") != std::string::npos);

  CHECK_FALSE(tablet.device.app.rescue());
  CHECK(tablet.device.exchange.handed.empty());
  tablet.device.files.refuses = host::IoStatus::full;
  tablet.session();
  tablet.log();
  CHECK(tablet.device.app.rescue());
  CHECK(tablet.device.exchange.handed.size() == 1);
  tablet.device.files.refuses = host::IoStatus::ok;
  CHECK_FALSE(tablet.device.app.rescue());  // kept at the last try: nothing has to leave
  CHECK(tablet.device.exchange.handed.size() == 1);
}
