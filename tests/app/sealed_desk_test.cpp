// A profile that is sealed by a passphrase, as its people meet it on the screens: sealed in Setup, asked for at the next
// start, shut on a shared tablet, removed when the passphrase is lost.
#include "app/sealed_desk.h"

#include <doctest/doctest.h>

#include "app/local_names.h"
#include "app/profile_lock.h"
#include "app/settings.h"
#include "kit/device.h"
#include "report/words.h"
#include "setup_hand.h"

using namespace slipway;
using report::say;
using screens::FormPart;
using screens::Place;

namespace {

const std::string kPassphrase = "three wet towels";

struct Phone {
  explicit Phone(app::DeviceUser user = app::DeviceUser::swimmer, std::initializer_list<const char*> names = {"Wren"}) {
    for (const char* name : names) {
      const auto made = device.book().add_athlete({.name = name, .birth_year = 1990}, app::Author::coach);
      REQUIRE(made.ok());
      if (wren.is_zero()) wren = *made;
    }
    app::Settings settings;
    settings.user = user;
    settings.user_said = settings.started = true;
    REQUIRE(settings.write(device.book()));
    REQUIRE(device.book().set_local(app::kHereName, wren.view()));
    start();
  }
  void start() {
    device.close_book();
    device.open_app();
  }
  app::App& app() { return device.app; }
  app::Book& book() { return *app().book(); }
  const screens::NoticeView* notice() { return std::get_if<screens::NoticeView>(&app().view().page); }
  bool shows_board() { return std::holds_alternative<screens::SessionView>(app().view().page); }
  bool asks() { return hand.page() != nullptr && hand.page()->title == say("sealed.asked_title", {"Wren"}); }
  // The tablet's PIN, set by an adult and given to whoever is here.
  void set_pin(bool given) {
    app::ProfileLock lock(device.clock, device.random, {8, 1});
    REQUIRE(lock.set_pin(book(), std::nullopt, "777777").ok());
    if (!given) return;
    hand.open(screens::Setting::lock);
    hand.type(say("pin.tablet_give"), "777777");
    REQUIRE(hand.press(say("pin.give")));
  }
  void seal() {
    hand.open(screens::Setting::passphrase);
    hand.type(say("sealed.passphrase"), kPassphrase);
    hand.type(say("sealed.again"), kPassphrase);
    REQUIRE(hand.press(say("sealed.seal")));
    REQUIRE(book().sealed_profile(wren));
  }
  void give(const std::string& passphrase) {
    hand.type(say("sealed.passphrase"), passphrase);
    REQUIRE(hand.press(say("sealed.give")));
  }

  kit::SquadDevice device{1};
  kit::SetupHand hand{device.app};
  model::ScopeId wren;
};

}  // namespace

TEST_CASE("sealed in Setup, the profile goes on; at the next start nothing of it is shown before the passphrase") {
  Phone phone;
  phone.seal();
  phone.hand.go(Place::session);
  CHECK(phone.shows_board());
  phone.start();
  CHECK(phone.asks());
  for (const Place place : {Place::session, Place::logbook, Place::exchange, Place::setup}) {
    phone.hand.go(place);
    CHECK(phone.asks());
    CHECK(phone.app().view().bar.empty());
  }
  phone.give("three dry towels");
  CHECK(phone.asks());
  CHECK(phone.hand.part(say("sealed.passphrase"))->refused == say("key.passphrase_wrong"));
  CHECK(phone.hand.part(say("sealed.passphrase"))->value.empty());
  phone.give(kPassphrase);
  CHECK_FALSE(phone.asks());
  phone.hand.go(Place::session);
  CHECK(phone.shows_board());
  CHECK(phone.book().athlete(phone.wren).name.value_or("") == "Wren");
}

TEST_CASE("two passphrases that are not alike seal nothing, nor does a short one, and the page says why") {
  Phone phone;
  phone.hand.open(screens::Setting::passphrase);
  phone.hand.type(say("sealed.passphrase"), kPassphrase);
  phone.hand.type(say("sealed.again"), "three wet towel");
  REQUIRE(phone.hand.press(say("sealed.seal")));
  CHECK(phone.hand.part(say("sealed.again"))->refused == say("sealed.not_alike"));
  phone.hand.type(say("sealed.passphrase"), "short");
  phone.hand.type(say("sealed.again"), "short");
  REQUIRE(phone.hand.press(say("sealed.seal")));
  CHECK(phone.hand.part(say("sealed.again"))->refused == say("key.passphrase_short", {"8"}));
  CHECK(phone.book().sealed_profiles().empty());
}

TEST_CASE("the seal is shut by a key, and taken away by a key") {
  Phone phone;
  phone.seal();
  REQUIRE(phone.hand.press(say("sealed.shut_now")));
  CHECK(phone.asks());
  phone.give(kPassphrase);
  phone.hand.open(screens::Setting::passphrase);
  REQUIRE(phone.hand.press(say("sealed.take_away")));
  CHECK(phone.book().sealed_profiles().empty());
  phone.start();
  CHECK_FALSE(phone.asks());
  phone.hand.go(Place::session);
  CHECK(phone.shows_board());
}

TEST_CASE("half an entry of a sealed swimmer is not written down, and one that was before the seal is gone") {
  Phone phone;
  phone.seal();
  REQUIRE(phone.book().set_local(app::kDraftName, {}));
  phone.hand.go(Place::session);
  phone.app().act(screens::Intent{screens::SessionIntent{screens::OpenChange{0, 1}}});
  phone.app().hide();
  CHECK(phone.book().local(app::kDraftName)->empty());
}

TEST_CASE("on a shared tablet whoever is sealed is shut when somebody else is chosen, and after a quarter of an hour without a touch") {
  Phone phone(app::DeviceUser::shared, {"Wren", "Teal"});
  phone.set_pin(true);
  phone.seal();
  phone.device.clock.tick(app::kShutAfterMs - 1000);
  phone.app().tick();
  CHECK(phone.book().sealed_profile(phone.wren)->open);
  CHECK(phone.app().next_wake_ms() <= 1000);
  phone.device.clock.tick(1001);
  phone.app().tick();
  CHECK_FALSE(phone.book().sealed_profile(phone.wren)->open);
  CHECK(phone.asks());
  phone.give(kPassphrase);
  CHECK(phone.book().sealed_profile(phone.wren)->open);
  phone.hand.open(screens::Setting::device);
  REQUIRE(phone.hand.press("Teal"));
  CHECK_FALSE(phone.book().sealed_profile(phone.wren)->open);
  CHECK_FALSE(phone.asks());
  CHECK(phone.book().scopes().size() == 1);
}

TEST_CASE("on a device of one's own a touchless hour shuts nothing") {
  Phone phone;
  phone.seal();
  phone.device.clock.tick(3'600'000);
  phone.app().tick();
  CHECK(phone.book().sealed_profile(phone.wren)->open);
}

TEST_CASE("while one is sealed another can be chosen, and whoever is asked who they are finds the sealed one too") {
  Phone phone(app::DeviceUser::swimmer, {"Wren", "Teal", "Robin"});
  phone.seal();
  phone.start();
  REQUIRE(phone.asks());
  CHECK(phone.hand.has_key("Teal"));
  REQUIRE(phone.hand.press(say("sealed.else")));
  REQUIRE(phone.notice() != nullptr);
  std::vector<std::string> keys;
  for (const auto& key : phone.notice()->keys) keys.push_back(key.words);
  CHECK(keys == std::vector<std::string>{"Robin", "Teal", say("sealed.key", {"Wren"}), say("who.other"), say("who.coach")});
  phone.app().act(screens::Intent{screens::PressKey{2}});
  CHECK(phone.asks());
  REQUIRE(phone.hand.press("Teal"));
  CHECK_FALSE(phone.asks());
  phone.hand.go(Place::session);
  CHECK(phone.shows_board());
}

TEST_CASE("a lost passphrase: the profile is removed by its name, and the device begins anew") {
  Phone phone;
  phone.seal();
  phone.start();
  REQUIRE(phone.hand.press(say("sealed.give_up", {"Wren"})));
  phone.hand.type(say("sealed.type_name", {"Wren"}), "Teal");
  REQUIRE(phone.hand.press(say("sealed.remove")));
  CHECK(phone.hand.part(say("sealed.type_name", {"Wren"}))->refused == say("profile.other_name"));
  CHECK(phone.book().sealed_profiles().size() == 1);
  phone.hand.type(say("sealed.type_name", {"Wren"}), "Wren");
  REQUIRE(phone.hand.press(say("sealed.remove")));
  CHECK(phone.book().sealed_profiles().empty());
  CHECK_FALSE(phone.asks());
}

TEST_CASE("on a shared tablet with a PIN a sealed swimmer is removed only after the tablet's PIN") {
  Phone phone(app::DeviceUser::shared, {"Wren", "Teal"});
  phone.set_pin(true);
  phone.seal();
  phone.start();
  REQUIRE(phone.asks());
  CHECK_FALSE(phone.hand.has_key(say("sealed.give_up", {"Wren"})));
  const auto give_pin = [&](const std::string& digits) {
    phone.hand.type(say("pin.tablet_give"), digits);
    REQUIRE(phone.hand.press(say("sealed.give_pin")));
  };
  give_pin("123456");
  CHECK(phone.hand.part(say("pin.tablet_give"))->refused == say("pin.wrong"));
  give_pin("777777");
  REQUIRE(phone.hand.press(say("sealed.give_up", {"Wren"})));
  phone.hand.type(say("sealed.type_name", {"Wren"}), "Wren");
  phone.device.clock.tick(app::kLockAfterMs + 1);  // nobody was there meanwhile: it is locked again
  REQUIRE(phone.hand.press(say("sealed.remove")));
  CHECK(phone.book().sealed_profiles().size() == 1);
  give_pin("777777");
  REQUIRE(phone.hand.press(say("sealed.remove")));
  CHECK(phone.book().sealed_profiles().empty());
}

TEST_CASE("on a shared tablet without a PIN nobody removes a sealed swimmer") {
  Phone phone(app::DeviceUser::shared, {"Wren", "Teal"});
  REQUIRE(phone.book().seal_profile(phone.wren, kPassphrase, {8, 1}).ok());
  phone.start();
  REQUIRE(phone.asks());
  CHECK_FALSE(phone.hand.has_key(say("sealed.give_up", {"Wren"})));
  CHECK(phone.hand.part(say("sealed.tablet_unset")) != nullptr);
}

TEST_CASE("on a shared tablet nobody seals a swimmer without that swimmer's PIN or the tablet's") {
  Phone phone(app::DeviceUser::shared, {"Wren", "Teal"});
  phone.hand.open(screens::Setting::passphrase);
  CHECK(phone.hand.part(say("sealed.passphrase")) == nullptr);
  REQUIRE(phone.hand.part(say("sealed.not")) != nullptr);
  CHECK(phone.hand.part(say("sealed.not"))->detail == say("sealed.pin_first"));
  phone.set_pin(true);
  phone.seal();
}

TEST_CASE("on a tablet with a PIN somebody else is asked for by name, and nobody becomes its coach without the PIN") {
  Phone phone(app::DeviceUser::shared, {"Wren", "Teal"});
  phone.set_pin(true);
  phone.seal();
  phone.start();
  REQUIRE(phone.hand.press(say("sealed.else")));
  REQUIRE(phone.notice() != nullptr);  // nobody is chosen for whoever stands there
  const auto count = static_cast<std::uint32_t>(phone.notice()->keys.size());
  for (const std::uint32_t key : {count - 2, count - 1}) {
    phone.app().act(screens::Intent{screens::PressKey{key}});
    REQUIRE(phone.notice() != nullptr);
    CHECK(phone.app().view().announcements.back().text == say("pin.device_locked"));
  }
  CHECK(app::Settings::read(phone.book()).user == app::DeviceUser::shared);
  phone.app().act(screens::Intent{screens::PressKey{0}});
  phone.hand.go(Place::session);
  CHECK(phone.shows_board());
}

TEST_CASE("what is half typed about a sealed swimmer is gone when the profile is shut") {
  Phone phone(app::DeviceUser::shared, {"Wren", "Teal"});
  phone.set_pin(true);
  phone.seal();
  phone.hand.open(screens::Setting::facts);
  phone.device.clock.tick(app::kShutAfterMs + 1);
  phone.app().tick();
  REQUIRE(phone.asks());
  REQUIRE(phone.hand.press("Teal"));
  CHECK(phone.shows_board());
  phone.hand.go(Place::setup);
  for (const FormPart& part : phone.hand.page()->parts) CHECK(part.value != "Wren");
}

TEST_CASE("a file with something of a sealed swimmer is refused in words, and does not wait for a passphrase of its own") {
  Phone phone(app::DeviceUser::coach, {"Wren", "Teal"});
  const auto file = phone.book().make_bundle({.athletes = {phone.wren}});
  REQUIRE(file.ok());
  phone.seal();
  phone.start();
  REQUIRE(phone.hand.press("Teal"));
  phone.app().take_in("wren.slip", *file);
  const auto* page = std::get_if<screens::ExchangeView>(&phone.app().view().page);
  REQUIRE(page != nullptr);
  CHECK(page->waiting.empty());
  REQUIRE(page->results.size() == 1);
  CHECK(page->results[0].sentence == say("profile.shut_file", {"wren.slip", "Wren"}));
}

TEST_CASE("while somebody is sealed nothing counts as a copy of the device, and the pages of copies say who is left out") {
  Phone phone(app::DeviceUser::coach, {"Wren", "Teal"});
  phone.book().note_copied({});
  const auto copied = phone.book().local("handed.over.day");
  REQUIRE(copied);
  phone.seal();
  phone.start();
  REQUIRE(phone.hand.press("Teal"));
  phone.device.clock.tick(3 * 86'400'000);
  phone.book().note_copied({});
  CHECK(phone.book().local("handed.over.day") == copied);
  phone.hand.open(screens::Setting::copies);
  CHECK(phone.hand.part(say("sealed.left_out_one")) != nullptr);
}

TEST_CASE("the honest table names what a passphrase does not protect from") {
  Phone phone;
  phone.hand.open(screens::Setting::passphrase);
  const FormPart* row = phone.hand.part(say("pin.passphrase_head"));
  REQUIRE(row != nullptr);
  for (const char* words : {"changed app", "looks on", "while it is open", "lost passphrase"}) CHECK(row->detail.find(words) != std::string::npos);
}

TEST_CASE("a coach's list says that somebody is sealed and not looked at") {
  Phone phone(app::DeviceUser::coach, {"Wren", "Teal"});
  phone.seal();
  phone.start();
  REQUIRE(phone.asks());
  REQUIRE(phone.hand.press("Teal"));
  phone.hand.go(Place::squad);
  const auto* squad = std::get_if<screens::SquadView>(&phone.app().view().page);
  REQUIRE(squad != nullptr);
  CHECK(squad->needs_line.find(say("sealed.squad_one")) != std::string::npos);
  CHECK(squad->rows.size() == 1);
  phone.hand.open(screens::Setting::passphrase);
  CHECK(phone.hand.has_key("Wren"));
}
