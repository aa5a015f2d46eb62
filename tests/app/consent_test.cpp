// Who may keep what, and who may begin at all: consent of the young [handbook 7.1], a doctor's word
// after a yes in the first questions [handbook 7], the next swimmer at a shared tablet.
#include <string>

#include <doctest/doctest.h>

#include "kit/device.h"
#include "report/words.h"
#include "screens/setup_screen.h"

using namespace slipway;
using report::say;

namespace {

constexpr model::ConsentThing kAll[] = {model::ConsentThing::training_log, model::ConsentThing::pain_and_soreness, model::ConsentThing::body_measures,
                                        model::ConsentThing::wellness};

struct Young : kit::SquadDevice {
  explicit Young(std::uint64_t seed, std::uint64_t born = 2012) : SquadDevice(seed) {
    open_app();
    start(screens::SetDraftName{"Pip"});
    start(screens::Start{});
    REQUIRE(book().set_athlete(who(), {.birth_year = born}, app::Author::swimmer).ok());
    again();
  }
  app::Book& book() { return *app.book(); }
  model::ScopeId who() { return book().scopes().at(0); }
  void start(const screens::StartIntent& intent) { app.act(screens::Intent{intent}); }
  void act(const screens::SessionIntent& intent) {
    clock.tick(app::kDeafMs);
    app.act(screens::Intent{intent});
  }
  void again() { app.act(screens::Intent{screens::GoTo{screens::Place::session}}); }
  const screens::SessionView& session() {
    again();
    REQUIRE(std::holds_alternative<screens::SessionView>(app.view().page));
    return std::get<screens::SessionView>(app.view().page);
  }
  const screens::SetupView& setup() {
    REQUIRE(std::holds_alternative<screens::SetupView>(app.view().page));
    return std::get<screens::SetupView>(app.view().page);
  }
  // The part of Setup's page that is called so; its choice, by number.
  void answer(const std::string& label, std::uint32_t choice) {
    for (const auto& part : setup().parts)
      if (part.label == label || (part.choices.size() == 1 && part.choices[0].label == label)) {
        app.act(screens::Intent{screens::SetupIntent{screens::SetupAnswer{static_cast<screens::Setting>(part.id), choice, {}}}});
        return;
      }
    FAIL("no part is called " << label);
  }
  void say_all(bool log, bool body) {
    for (const auto thing : kAll) {
      model::Consent consent;
      consent.thing = thing;
      consent.given = thing == model::ConsentThing::training_log ? log : thing == model::ConsentThing::pain_and_soreness ? body : true;
      consent.from = model::ConsentBy::guardian;
      consent.day = model::day_of(clock.now());
      REQUIRE(book().give_consent(who(), consent, app::Author::swimmer).ok());
    }
  }
};

}  // namespace

TEST_CASE("of somebody under 18 no set is offered before consent is recorded: by whom, and each of four things") {
  Young phone(61);
  REQUIRE(phone.session().states.size() >= 1);
  CHECK(phone.session().states[0].title == say("state.consent_title"));
  CHECK(phone.session().next.empty());
  // No other way leads to a set: no main key, no cell, no Logbook.
  phone.act(screens::LogAsWritten{});
  CHECK_FALSE(phone.app.view().announcements.empty());
  phone.act(screens::OpenChange{0, 1});
  CHECK(phone.session().change.empty());
  phone.app.act(screens::Intent{screens::GoTo{screens::Place::logbook}});
  for (const auto& key : std::get<screens::LogbookView>(phone.app.view().page).keys) CHECK(key.words != say("logbook.log_late"));
  CHECK(phone.book().athlete(phone.who()).sessions.empty());
  phone.again();
  phone.act(screens::PressState{0, 0});
  phone.answer(say("consent.keep"), 0);  // nothing said yet
  CHECK(phone.book().athlete(phone.who()).consents.empty());
  phone.answer(say("consent.from"), 0);
  for (const char* thing : {"Training log", "Pain and soreness", "Body mass, height and growth"}) phone.answer(thing, 1);
  phone.answer("How the morning was", 0);
  phone.answer(say("consent.keep"), 0);
  const auto& said = phone.book().athlete(phone.who()).counting_consents;
  REQUIRE(said.size() == 4);
  for (const auto& one : said) {
    CHECK(one.from == model::ConsentBy::guardian);
    CHECK(one.given == (one.thing != model::ConsentThing::wellness));
  }
  CHECK(phone.session().next.size() == 1);
}

TEST_CASE("the young person's own word is offered from 16, not before [7.1]") {
  for (const bool old_enough : {false, true}) {
    Young phone(62, old_enough ? 2008 : 2012);
    CAPTURE(old_enough);
    const int year = std::stoi(model::iso(model::day_of(phone.clock.now())).substr(0, 4));
    CAPTURE(year);
    REQUIRE(phone.book().set_athlete(phone.who(), {.birth_year = static_cast<std::uint64_t>(year - (old_enough ? 17 : 15))}, app::Author::swimmer).ok());
    REQUIRE(phone.session().states.size() >= 1);
    phone.act(screens::PressState{0, 0});
    for (const auto& part : phone.setup().parts)
      if (part.label == say("consent.from")) CHECK(part.choices.size() == (old_enough ? 2 : 1));
  }
}

TEST_CASE("a refused training log keeps no entry, and the answer can be changed") {
  Young phone(63);
  phone.say_all(false, true);
  REQUIRE(phone.session().states.size() >= 1);
  CHECK(phone.session().states[0].title == say("state.consent_no_title"));
  CHECK(phone.session().next.empty());
  phone.clock.tick(1000);
  phone.say_all(true, true);
  CHECK(phone.session().next.size() == 1);
}

TEST_CASE("without consent for pain and soreness neither is asked; a warning sign can still be told") {
  Young phone(64);
  phone.say_all(true, false);
  CHECK(phone.session().sore_words.empty());
  CHECK(phone.session().pain_words == say("session.warning"));
  CHECK(phone.session().check.empty());
  phone.act(screens::OpenPain{});
  CHECK(phone.session().pain.empty());
  CHECK(phone.session().stop.size() == 1);
}

TEST_CASE("consent is asked again after 12 months, not a day before [7.1]") {
  Young phone(65);
  const model::Day said_on = model::day_of(phone.clock.now());
  phone.say_all(true, true);
  const model::Athlete& pip = phone.book().athlete(phone.who());
  CHECK(model::may_keep(pip, model::ConsentThing::training_log, model::Day{said_on.since_1970 + 364}));
  CHECK_FALSE(model::may_keep(pip, model::ConsentThing::training_log, model::Day{said_on.since_1970 + 365}));
}

TEST_CASE("an adult, and somebody of unknown age, is asked for no consent") {
  Young phone(66, 1990);
  CHECK(phone.session().next.size() == 1);
  kit::SquadDevice unknown(67);
  unknown.open_app();
  unknown.app.act(screens::Intent{screens::StartIntent{screens::SetDraftName{"Otter"}}});
  unknown.app.act(screens::Intent{screens::StartIntent{screens::Start{}}});
  CHECK(std::get<screens::SessionView>(unknown.app.view().page).next.size() == 1);
}

TEST_CASE("one yes in the first questions holds the session till somebody says that a doctor has allowed it") {
  kit::SquadDevice phone(68);
  phone.open_app();
  const auto start = [&](const screens::StartIntent& intent) { phone.app.act(screens::Intent{intent}); };
  start(screens::StartAnswer{screens::StartPart::heart, 1, {}});
  start(screens::SetDraftName{"Otter"});
  start(screens::Start{});
  const auto session = [&]() -> const screens::SessionView& { return std::get<screens::SessionView>(phone.app.view().page); };
  REQUIRE(session().states.size() == 1);
  CHECK(session().states[0].title == say("state.doctor_title"));
  CHECK(session().next.empty());
  phone.app.act(screens::Intent{screens::SessionIntent{screens::PressState{0, 0}}});
  CHECK(session().next.size() == 1);
}

TEST_CASE("at a shared tablet the next swimmer is added and chosen, each with an own board") {
  Young tablet(69, 1990);
  tablet.app.act(screens::Intent{screens::GoTo{screens::Place::setup}});
  tablet.answer(say("setup.device"), 0);
  tablet.answer(say("setup.device"), 1);
  REQUIRE(tablet.session().states.size() >= 1);
  CHECK(tablet.session().states[0].title == say("state.other_title", {"Pip"}));
  tablet.act(screens::PressState{0, 0});
  tablet.answer(say("setup.new_swimmer"), 0);
  for (const auto& part : tablet.setup().parts)
    if (part.label == say("setup.name")) tablet.app.act(screens::Intent{screens::SetupIntent{screens::SetupAnswer{static_cast<screens::Setting>(part.id), 0, "Moss"}}});
  tablet.answer(say("setup.add_swimmer"), 0);
  REQUIRE(tablet.book().scopes().size() == 2);
  CHECK(tablet.session().states[0].title == say("state.other_title", {"Moss"}));
  tablet.act(screens::PressState{0, 0});
  for (const auto& part : tablet.setup().parts) {
    if (part.label != say("setup.who")) continue;
    REQUIRE(part.choices.size() == 2);
    const std::uint32_t pip = part.choices[0].label == "Pip" ? 0 : 1;
    CHECK(part.choices[1 - pip].chosen);
    tablet.answer(say("setup.who"), pip);
    break;
  }
  CHECK(tablet.session().states[0].title == say("state.other_title", {"Pip"}));
}
