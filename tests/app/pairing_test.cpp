// Pairing and sealed files in the app: a file in, a key pressed, nothing to know about keys; and what a person is asked
// before a stranger's or a sealed file is taken in.
#include <doctest/doctest.h>

#include "app/setup_desk.h"
#include "desk_kit.h"
#include "kit/bundle_kit.h"
#include "kit/ops_kit.h"
#include "kit/seal_kit.h"
#include "ops/registry.h"
#include "report/words.h"

using namespace slipway;
using report::say;
using screens::ExchangeAnswer;
using screens::FormPart;

namespace {

const std::string kPassphrase = "starting blocks at dawn";

const screens::ExchangeView& exchange(kit::SquadDevice& device) {
  device.app.act(screens::Intent{screens::GoTo{screens::Place::exchange}});
  return std::get<screens::ExchangeView>(device.app.view().page);
}
const FormPart* part_named(const std::vector<FormPart>& parts, const std::string& label) {
  for (const FormPart& one : parts)
    if (one.label == label) return &one;
  return nullptr;
}
// The key of that name, on the page.
std::pair<std::uint32_t, std::uint32_t> key_named(const std::vector<FormPart>& parts, const std::string& label) {
  for (const FormPart& one : parts)
    for (std::uint32_t i = 0; i < one.choices.size(); ++i)
      if (one.choices[i].label == label) return {one.id, i};
  FAIL("no key: " << label);
  return {};
}
void press(kit::SquadDevice& device, const std::string& label) {
  const auto [part, choice] = key_named(exchange(device).waiting, label);
  device.clock.tick(app::kDeafMs);  // a person reads before the next yes
  device.app.act(screens::Intent{ExchangeAnswer{part, choice}});
}
void type(kit::SquadDevice& device, const std::string& label, const std::string& text) {
  const FormPart* field = part_named(exchange(device).waiting, label);
  REQUIRE(field != nullptr);
  device.app.act(screens::Intent{ExchangeAnswer{field->id, 0, text}});
}

// Past first run, with that user.
void open_as(kit::SquadDevice& device, app::DeviceUser user) {
  app::Settings settings;
  settings.user = user;
  settings.user_said = settings.started = true;
  REQUIRE(settings.write(device.book()));
  device.close_book();
  device.open_app();
}

struct Both {
  Both() {
    open_as(phone, app::DeviceUser::swimmer);
    open_as(coach, app::DeviceUser::coach);
    const auto made = phone.app.book()->add_athlete({.name = "Wren", .birth_year = 1990}, app::Author::coach);
    REQUIRE(made.ok());
    wren = *made;
    phone.app.take_in("first.slip", *phone.app.book()->make_bundle({}));  // makes Wren the one at this device
    REQUIRE(coach.app.book()->keys().make_coach_key("Heron", kPassphrase, false, kit::kCheapCost).ok());
    squad_file = *coach.app.book()->keys().squad_file();
  }
  model::Bytes handed_over() {
    phone.app.act(screens::Intent{screens::ExchangeIntent{screens::HandOverFile{}}});
    return phone.exchange.handed.back().bytes;
  }
  kit::SquadDevice phone{1}, coach{2};
  model::ScopeId wren;
  model::Bytes squad_file;
};

}  // namespace

TEST_CASE("the squad file is taken in like any file, and from then on Hand over seals for the coach") {
  Both both;
  CHECK(exchange(both.phone).sealed_line.empty());
  CHECK(exchange(both.phone).open_words.empty());
  both.phone.app.take_in("squad.slip", both.squad_file);
  CHECK(exchange(both.phone).results.at(0).word == say("exchange.paired"));
  CHECK(exchange(both.phone).results.at(0).sentence.find("Heron") != std::string::npos);
  CHECK(exchange(both.phone).sealed_line.find("Heron") != std::string::npos);
  CHECK(!sync::read_bundle(both.handed_over(), "a.slip"));
  // Another pair of eyes than the coach's: one key more.
  both.phone.app.act(screens::Intent{screens::ExchangeIntent{screens::HandOverOpen{}}});
  CHECK(sync::read_bundle(both.phone.exchange.handed.back().bytes, "a.slip").ok());
}

TEST_CASE("the coach is asked once who a new device is, and then takes its sealed bundles in without a question") {
  Both both;
  both.phone.app.take_in("squad.slip", both.squad_file);
  both.coach.app.take_in("week1.slip", both.handed_over());
  CHECK(exchange(both.coach).results.empty());
  REQUIRE(!exchange(both.coach).waiting.empty());
  const std::string asked = exchange(both.coach).waiting.front().detail;
  CHECK(asked.find(sync::compare_digits(both.phone.app.book()->keys().signing_key()->open.view())) != std::string::npos);
  CHECK(both.coach.app.book()->scopes().empty());
  press(both.coach, say("waiting.take_in"));
  CHECK(exchange(both.coach).waiting.empty());
  CHECK(exchange(both.coach).results.at(0).word == say("exchange.new"));
  REQUIRE(both.phone.app.book()->set_athlete(both.wren, {.group = "masters"}, app::Author::coach).ok());
  both.coach.app.take_in("week2.slip", both.handed_over());
  CHECK(exchange(both.coach).waiting.empty());
  CHECK(exchange(both.coach).results.at(0).word == say("exchange.new"));
}

TEST_CASE("a signed mark of a device that has written about them puts an athlete out of sight, and deletes nothing") {
  Both both;
  both.phone.app.take_in("squad.slip", both.squad_file);
  both.coach.app.take_in("week1.slip", both.handed_over());
  press(both.coach, say("waiting.take_in"));
  const auto rook = both.coach.app.book()->add_athlete({.name = "Rook", .birth_year = 1990}, app::Author::coach);
  REQUIRE(rook.ok());
  const auto of_both = [&] { return *both.coach.app.book()->make_bundle({}); };
  kit::SquadDevice tablet(3);
  tablet.open_app();
  tablet.app.take_in("all.slip", of_both());

  REQUIRE(both.phone.app.book()->erase(both.wren, "Wren", app::EraseReason::asked).ok());
  const auto mark = *both.phone.app.book()->make_bundle({}, {.whom = app::OutSeal::For::open});
  both.coach.app.take_in("mark.slip", mark);
  app::Book& coach = *both.coach.app.book();
  CHECK(coach.hidden() == std::vector<model::ScopeId>{both.wren});
  CHECK(coach.erase_requests().at(0).hides);
  CHECK(coach.athlete(both.wren).name.value_or("") == "Wren");  // everything is still here
  const auto squad = [&] {
    both.coach.app.act(screens::Intent{screens::GoTo{screens::Place::squad}});
    std::string names;
    for (const auto& row : std::get<screens::SquadView>(both.coach.app.view().page).rows) names += row.name + " ";
    return names;
  };
  CHECK(squad() == "Rook ");
  REQUIRE(coach.show_again(both.wren).ok());
  CHECK(squad() == "Rook Wren ");
  CHECK(coach.erase_requests().size() == 1);  // it goes on asking
  both.coach.app.take_in("mark once more.slip", mark);
  CHECK(squad() == "Rook Wren ");  // and whoever was shown again stays in sight

  // Where no keys are in use nobody is known: the mark asks, and that is all.
  tablet.app.take_in("mark.slip", mark);
  CHECK(tablet.app.book()->erase_requests().size() == 1);
  CHECK(tablet.app.book()->hidden().empty());
}

TEST_CASE("a mark hides also if it came first from somebody whose word does not hide") {
  Both both;
  both.phone.app.take_in("squad.slip", both.squad_file);
  both.coach.app.take_in("week1.slip", both.handed_over());
  press(both.coach, say("waiting.take_in"));
  REQUIRE(both.phone.app.book()->erase(both.wren, "Wren", app::EraseReason::asked).ok());
  const auto mark = *both.phone.app.book()->make_bundle({}, {.whom = app::OutSeal::For::open});
  kit::SquadDevice other(4);
  open_as(other, app::DeviceUser::swimmer);
  other.app.take_in("mark.slip", mark);
  both.coach.app.take_in("passed on.slip", *other.app.book()->make_bundle({}));
  press(both.coach, say("waiting.take_in"));
  CHECK(both.coach.app.book()->erase_requests().size() == 1);
  CHECK(both.coach.app.book()->hidden().empty());
  both.coach.app.take_in("mark.slip", mark);
  CHECK(both.coach.app.book()->hidden() == std::vector<model::ScopeId>{both.wren});
}

TEST_CASE("a mark that somebody else's device brings asks, and hides nobody") {
  Both both;
  both.phone.app.take_in("squad.slip", both.squad_file);
  both.coach.app.take_in("week1.slip", both.handed_over());
  press(both.coach, say("waiting.take_in"));
  kit::SquadDevice other(4);
  open_as(other, app::DeviceUser::swimmer);
  REQUIRE(other.app.book()->add_athlete({.name = "Rook", .birth_year = 1990}, app::Author::coach).ok());
  both.coach.app.take_in("rook.slip", *other.app.book()->make_bundle({}));
  press(both.coach, say("waiting.take_in"));  // from now on a known device
  REQUIRE(other.app.book()->take_in("wren.slip", *both.phone.app.book()->make_bundle({}, {.whom = app::OutSeal::For::open})).ok());
  REQUIRE(other.app.book()->erase(both.wren, "Wren", app::EraseReason::asked).ok());
  both.coach.app.take_in("mark.slip", *other.app.book()->make_bundle({}));
  CHECK(both.coach.app.book()->erase_requests().size() == 1);
  CHECK(both.coach.app.book()->hidden().empty());
}

TEST_CASE("a file that brings somebody else to a swimmer's own device waits for a yes; a coach's device asks nothing") {
  kit::SquadDevice phone(5), other(6), coach(7);
  open_as(phone, app::DeviceUser::swimmer);
  open_as(coach, app::DeviceUser::coach);
  const auto add = [](kit::SquadDevice& device, const char* name) {
    const auto made = device.book().add_athlete({.name = name, .birth_year = 1990}, app::Author::coach);
    REQUIRE(made.ok());
    return *made;
  };
  const auto wren = add(other, "Wren");
  const auto of_wren = *other.book().make_bundle({.athletes = {wren}});
  phone.app.take_in("wren.slip", of_wren);  // nobody is here yet: no question
  CHECK(phone.app.book()->scopes().size() == 1);
  REQUIRE(other.book().set_athlete(wren, {.group = "masters"}, app::Author::coach).ok());
  phone.app.take_in("wren2.slip", *other.book().make_bundle({.athletes = {wren}}));
  CHECK(exchange(phone).waiting.empty());  // the swimmer's own record
  for (const char* name : {"Rook", "Odd", "Juno", "Tam"}) add(other, name);
  const auto everybody = *other.book().make_bundle({});
  const auto before = phone.app.book()->digests().ops;
  phone.app.take_in("all.slip", everybody);
  REQUIRE(!exchange(phone).waiting.empty());
  CHECK(exchange(phone).waiting.front().detail.find("and 1 more") != std::string::npos);
  CHECK(phone.app.book()->digests().ops == before);
  press(phone, say("waiting.take_in"));
  CHECK(phone.app.book()->scopes().size() == 5);
  phone.app.take_in("again.slip", everybody);
  CHECK(exchange(phone).waiting.empty());  // they are here now
  coach.app.take_in("wren.slip", of_wren);
  coach.app.take_in("all.slip", everybody);
  CHECK(exchange(coach).waiting.empty());
  CHECK(coach.app.book()->scopes().size() == 5);
}

TEST_CASE("a yes to a stranger is none to somebody else's record in the file, also where no entry says whose it is") {
  Both both;
  both.phone.app.take_in("squad.slip", both.squad_file);  // keys are in use
  kit::SquadDevice other(8);
  const auto rook = other.book().add_athlete({.name = "Rook", .birth_year = 1990}, app::Author::coach);
  REQUIRE(rook.ok());
  both.phone.app.take_in("rook.slip", *other.book().make_bundle({}));
  press(both.phone, say("waiting.take_in"));  // the stranger
  REQUIRE(!exchange(both.phone).waiting.empty());
  CHECK(exchange(both.phone).waiting.front().detail.find("Rook") != std::string::npos);
  CHECK(both.phone.app.book()->scopes().size() == 1);
  press(both.phone, say("waiting.take_in"));
  CHECK(both.phone.app.book()->scopes().size() == 2);

  kit::Device headless(kit::stream_named('h', 'h'), 1);
  headless.begin(ops::kind::set, {{ops::set_tag::reps, 8}});
  both.phone.app.take_in("sets.slip", kit::file_of(kit::bundle_of(headless.ops(), 'h')));
  REQUIRE(!exchange(both.phone).waiting.empty());
  press(both.phone, say("waiting.take_in"));  // not signed
  REQUIRE(!exchange(both.phone).waiting.empty());
  CHECK(exchange(both.phone).waiting.front().detail.find(say("who.nameless")) != std::string::npos);
  CHECK(both.phone.app.book()->scopes().size() == 2);
}

TEST_CASE("what is left is left: nothing of it is in the record") {
  Both both;
  both.coach.app.take_in("week1.slip", *both.phone.app.book()->make_bundle({}));
  press(both.coach, say("waiting.leave"));
  CHECK(exchange(both.coach).waiting.empty());
  CHECK(both.coach.app.book()->scopes().empty());
  CHECK(both.coach.app.book()->keys().known().empty());
}

TEST_CASE("with the key locked several files wait for one passphrase, and a wrong one leaves them waiting") {
  Both both;
  both.phone.app.take_in("squad.slip", both.squad_file);
  both.coach.app.book()->keys().lock_coach_key();
  both.coach.app.take_in("week1.slip", both.handed_over());
  REQUIRE(both.phone.app.book()->set_athlete(both.wren, {.group = "masters"}, app::Author::coach).ok());
  both.coach.app.take_in("week2.slip", both.handed_over());
  CHECK(exchange(both.coach).waiting.front().label == say("waiting.sealed_many", {"2"}));
  press(both.coach, say("waiting.open"));  // without a word
  CHECK(exchange(both.coach).waiting.front().label == say("waiting.sealed_many", {"2"}));
  type(both.coach, say("waiting.passphrase"), "starting blocks at dusk");
  press(both.coach, say("waiting.open"));
  CHECK(exchange(both.coach).waiting.front().label == say("waiting.sealed_many", {"2"}));
  CHECK(part_named(exchange(both.coach).waiting, say("waiting.passphrase"))->value.empty());
  CHECK(both.coach.app.book()->scopes().empty());
  type(both.coach, say("waiting.passphrase"), kPassphrase);
  press(both.coach, say("waiting.open"));
  press(both.coach, say("waiting.take_in"));  // who is it?
  press(both.coach, say("waiting.take_in"));  // the second of the two that were opened
  CHECK(exchange(both.coach).waiting.empty());
  CHECK(both.coach.app.book()->digests().ops == both.phone.app.book()->digests().ops);
}

TEST_CASE("another coach's squad file waits for a yes, and a file sealed for somebody else is refused") {
  Both both;
  both.phone.app.take_in("squad.slip", both.squad_file);
  kit::SquadDevice other(3);
  open_as(other, app::DeviceUser::coach);
  REQUIRE(other.app.book()->keys().make_coach_key("Plover", "", false).ok());
  both.phone.app.take_in("other.slip", *other.app.book()->keys().squad_file());
  CHECK(exchange(both.phone).sealed_line.find("Heron") != std::string::npos);
  press(both.phone, say("waiting.take_in"));
  CHECK(exchange(both.phone).sealed_line.find("Plover") != std::string::npos);
  both.coach.app.take_in("week1.slip", both.handed_over());
  CHECK(exchange(both.coach).waiting.empty());
  CHECK(exchange(both.coach).results.at(0).refused);
}

TEST_CASE("Setup makes the coach's key, hands out squad file and sheet, and brings the key back from the sheet's lines") {
  kit::DeskDevice device(5), fresh(6);
  for (kit::DeskDevice* one : {&device, &fresh}) one->settings.user = app::DeviceUser::coach;
  app::SetupDesk setup, setup_of_fresh;
  const auto page = [](app::SetupDesk& of, kit::DeskDevice& on) {
    auto desk = on.desk();
    of.open(screens::Setting::keys);
    return of.view(desk).parts;
  };
  const auto act = [](app::SetupDesk& of, kit::DeskDevice& on, std::uint32_t part, std::uint32_t choice, const std::string& text = {}) {
    auto desk = on.desk();
    of.act(desk, screens::SetupIntent{screens::SetupAnswer{static_cast<screens::Setting>(part), choice, text}});
  };
  const auto press_key = [&](app::SetupDesk& of, kit::DeskDevice& on, const std::string& label) {
    auto desk = on.desk();
    const auto [part, choice] = key_named(of.view(desk).parts, label);
    act(of, on, part, choice);
  };
  const auto fill = [&](app::SetupDesk& of, kit::DeskDevice& on, const std::string& label, const std::string& text) {
    auto desk = on.desk();
    const auto parts = of.view(desk).parts;
    const FormPart* field = part_named(parts, label);
    REQUIRE(field != nullptr);
    act(of, on, field->id, 0, text);
  };
  page(setup, device);
  press_key(setup, device, say("keys.make"));  // neither name nor passphrase
  CHECK(device.refused.size() == 1);
  CHECK(!device.book().keys().coach().has_value());
  fill(setup, device, say("keys.name"), "Heron");
  fill(setup, device, say("keys.new_passphrase"), kPassphrase);
  press_key(setup, device, say("keys.make"));
  REQUIRE(device.book().keys().coach().has_value());
  CHECK(device.book().keys().coach()->wrapped);
  press_key(setup, device, say("keys.hand_out"));
  REQUIRE(device.device.exchange.handed.size() == 1);
  CHECK(sync::read_squad(device.device.exchange.handed[0].bytes, "squad.slip")->coach == "Heron");
  press_key(setup, device, say("keys.sheet"));
  REQUIRE(device.device.exchange.handed.size() == 2);
  const std::string sheet(model::as_text(device.device.exchange.handed[1].bytes));
  const std::string secret_lines = sheet.substr(sheet.find("<pre>") + 5, sheet.find("</pre>") - sheet.find("<pre>") - 5);
  device.book().keys().lock_coach_key();
  CHECK(part_named(page(setup, device), say("keys.passphrase")) != nullptr);
  fill(setup, device, say("keys.passphrase"), kPassphrase);
  press_key(setup, device, say("keys.unlock"));
  CHECK(device.book().keys().coach()->usable);

  page(setup_of_fresh, fresh);
  press_key(setup_of_fresh, fresh, say("keys.recover_instead"));
  fill(setup_of_fresh, fresh, say("keys.name"), "Heron");
  fill(setup_of_fresh, fresh, say("keys.sheet_lines"), secret_lines);
  press_key(setup_of_fresh, fresh, say("keys.without_passphrase"));
  press_key(setup_of_fresh, fresh, say("keys.recover"));
  REQUIRE(fresh.book().keys().coach().has_value());
  CHECK(fresh.book().keys().coach()->open == device.book().keys().coach()->open);
  CHECK(!fresh.book().keys().coach()->wrapped);
}
