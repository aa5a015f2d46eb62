// What is written twice is shown side by side, settled by picking, and never lost.
#include "app/exchange_desk.h"
#include "app/needs.h"
#include "app/situation.h"
#include "desk_kit.h"

using namespace slipway;

namespace {

// The same swimmer on two devices; each then writes another load, unseen by the other.
struct Two {
  Two() : a(11), b(12) {
    wren = a.add("Wren");
    b.take_from(a);
    b.here = wren;
    line = a.book().athlete(wren).prescriptions.front().id;
    write(a, 22);
    write(b, 20);
    a.take_from(b);
    b.take_from(a);
  }
  void write(kit::DeskDevice& device, std::int64_t kg) {
    app::PlanLineEntry change;
    change.load = kit::kilograms(kg);
    REQUIRE(device.book().change_plan_line(wren, line, change, app::Author::coach).ok());
  }
  const model::Versions<model::Quantity>& load(kit::DeskDevice& device) {
    for (const model::Prescription& one : device.book().athlete(wren).prescriptions)
      if (one.id == line) return one.load;
    FAIL("the line is gone");
    throw 0;
  }
  kit::DeskDevice a, b;
  model::ScopeId wren;
  model::RecordId line;
};

}  // namespace

TEST_CASE("two loads that nobody has seen together stand side by side, the lower one in use") {
  Two two;
  app::ExchangeDesk exchange;
  auto desk = two.a.desk();
  const auto view = exchange.view(desk, {});
  REQUIRE(view.written_twice.size() == 1);
  const auto& twice = view.written_twice[0];
  REQUIRE(twice.lines.size() == 2);
  for (const auto& line : twice.lines) {
    const bool twenty = line.use_words.find("20") != std::string::npos;
    CHECK(line.in_use == twenty);
    bool differs = false;
    for (const auto& fact : line.facts) differs = differs || (fact.differs && fact.value.find(twenty ? "20" : "22") == 0);
    CHECK(differs);
  }
  CHECK(exchange.waiting(desk) == 1);
}

TEST_CASE("a contradiction is settled by picking, on every device, and the other value can still be found") {
  Two two;
  app::ExchangeDesk exchange;
  auto desk = two.a.desk();
  const auto before = exchange.view(desk, {});
  std::uint32_t pick = 0;
  for (std::uint32_t i = 0; i < 2; ++i)
    if (!before.written_twice[0].lines[i].in_use) pick = i;  // the heavier one
  exchange.act(desk, screens::UseLine{0, pick});
  CHECK(two.a.refused.empty());
  CHECK(exchange.view(desk, {}).written_twice.empty());
  two.b.take_from(two.a);
  REQUIRE_FALSE(two.load(two.b).contradiction());
  CHECK(model::grams(*two.load(two.b).first()) == 22'000);
}

TEST_CASE("another value can be typed; what is no value is refused and nothing is stored") {
  Two two;
  app::ExchangeDesk exchange;
  auto desk = two.a.desk();
  const std::uint64_t before = two.a.book().revision();
  exchange.act(desk, screens::SetOtherValue{0, "plenty"});
  exchange.act(desk, screens::UseOtherValue{0});
  CHECK(two.a.book().revision() == before);
  const auto view = exchange.view(desk, {});
  CHECK_FALSE(view.written_twice.at(0).other_refused.empty());
  CHECK(view.written_twice.at(0).other == "plenty");
  exchange.act(desk, screens::SetOtherValue{0, "21"});
  exchange.act(desk, screens::UseOtherValue{0});
  REQUIRE_FALSE(two.load(two.a).contradiction());
  CHECK(model::grams(*two.load(two.a).first()) == 21'000);
}

TEST_CASE("a set corrected differently on two devices is settled by picking, and its history keeps all values") {
  kit::DeskDevice a(13), b(14);
  const auto wren = a.add("Wren");
  const auto set = a.log(wren, 1, 10, 22);
  b.take_from(a);
  b.here = wren;
  app::SetChange nine, eight;
  nine.reps = 9;
  eight.reps = 8;
  REQUIRE(a.book().change_set(wren, set, nine, app::Author::swimmer).ok());
  REQUIRE(b.book().change_set(wren, set, eight, app::Author::coach).ok());
  a.take_from(b);
  app::ExchangeDesk exchange;
  auto desk = a.desk();
  const auto view = exchange.view(desk, {});
  REQUIRE(view.written_twice.size() == 1);
  std::uint32_t safer = 0;
  for (std::uint32_t i = 0; i < 2; ++i)
    if (view.written_twice[0].lines[i].in_use) safer = i;
  exchange.act(desk, screens::UseLine{0, safer});
  CHECK(a.book().athlete(wren).sessions.at(0).sets.at(0).reps.value_or(0) == 8);
  CHECK_FALSE(a.book().athlete(wren).sessions.at(0).sets.at(0).reps.contradiction());
  std::vector<std::uint64_t> written;
  for (const auto& version : a.book().set_history(wren, set))
    if (version.reps) written.push_back(*version.reps);
  std::sort(written.begin(), written.end());
  CHECK(written == std::vector<std::uint64_t>{8, 8, 9, 10});
}

TEST_CASE("a swimmer's device never shows another athlete's line; the coach's shows all") {
  Two two;
  const auto moth = two.a.add("Moth");
  two.a.here = moth;
  app::ExchangeDesk exchange;
  {
    auto desk = two.a.desk();
    CHECK(exchange.view(desk, {}).written_twice.empty());
    CHECK(exchange.waiting(desk) == 0);
    exchange.act(desk, screens::UseLine{0, 0});
  }
  CHECK(two.load(two.a).contradiction());
  two.a.settings.user = app::DeviceUser::coach;
  auto desk = two.a.desk();
  CHECK(exchange.view(desk, {}).written_twice.size() == 1);
}

TEST_CASE("of a programme written twice what counts meanwhile is named: the more careful of each part, and the rules take the same") {
  Two two;
  app::ExchangeDesk exchange;
  auto desk = two.a.desk();
  exchange.act(desk, screens::UseLine{0, 0});
  model::Programme hard, often;
  hard.phase = "strength";
  hard.starts = desk.today;
  hard.weeks = 6;
  hard.days_a_week = 1;
  hard.rest_between_exercises_ms = 90'000;
  often = hard;
  often.phase = "general";
  often.days_a_week = 3;
  REQUIRE(two.a.book().set_programme(two.wren, hard, app::Author::coach).ok());
  REQUIRE(two.b.book().set_programme(two.wren, often, app::Author::coach).ok());
  two.a.take_from(two.b);
  const auto in_use = app::programme_in_use(two.a.book().athlete(two.wren));
  REQUIRE(in_use.has_value());
  CHECK(in_use->phase == "general");
  CHECK(in_use->days_a_week == 1);
  const auto view = exchange.view(desk, {});
  REQUIRE(view.written_twice.size() == 1);
  CHECK(view.written_twice[0].meanwhile.find("general, from ") != std::string::npos);
  CHECK(view.written_twice[0].meanwhile.find(", 1 day a week, rest 90 s between exercises. All") != std::string::npos);
  for (const auto& line : view.written_twice[0].lines) CHECK_FALSE(line.in_use);
  exchange.act(desk, screens::UseLine{0, 0});
  CHECK(two.a.refused.empty());
  CHECK_FALSE(two.a.book().athlete(two.wren).programme.contradiction());
}

TEST_CASE("of a programme written twice one line is in use where it is the more careful in every part") {
  Two two;
  app::ExchangeDesk exchange;
  auto desk = two.a.desk();
  exchange.act(desk, screens::UseLine{0, 0});
  model::Programme learn, power;
  learn.phase = "learn";
  learn.days_a_week = 2;
  power.phase = "power";
  power.days_a_week = 3;
  REQUIRE(two.a.book().set_programme(two.wren, power, app::Author::coach).ok());
  REQUIRE(two.b.book().set_programme(two.wren, learn, app::Author::coach).ok());
  two.a.take_from(two.b);
  const auto view = exchange.view(desk, {});
  REQUIRE(view.written_twice.size() == 1);
  for (const auto& line : view.written_twice[0].lines) CHECK(line.in_use == (line.use_words.find("learn, 2 days a week") != std::string::npos));
  CHECK(view.written_twice[0].meanwhile.find("learn, 2 days a week") != std::string::npos);
}

TEST_CASE("what was taken in is summed up in words") {
  kit::DeskDevice device(15);
  device.add("Wren");
  app::ExchangeDesk exchange;
  auto desk = device.desk();
  screens::FileResult fresh, refused;
  fresh.word = "new";
  refused.refused = true;
  CHECK(exchange.view(desk, {}).sum.empty());
  CHECK(exchange.view(desk, {fresh, refused}).sum == "2 files read: 1 new, 0 already here, 1 refused.");
}

TEST_CASE("a line picked on the page of the app is settled in its record") {
  Two two;
  const auto bundle = two.a.book().make_bundle({});
  REQUIRE(bundle.ok());
  kit::SquadDevice phone(16);
  phone.open_app();
  phone.app.take_in("bundle", *bundle);
  phone.app.act(screens::Intent{screens::GoTo{screens::Place::exchange}});
  const auto waiting = [&] { return std::get<screens::ExchangeView>(phone.app.view().page).written_twice.size(); };
  REQUIRE(waiting() == 1);
  phone.app.act(screens::Intent{screens::ExchangeIntent{screens::UseLine{0, 1}}});
  CHECK(waiting() == 0);
}

TEST_CASE("a line changed here and taken away there is shown with both deeds, and either is kept by one key") {
  for (const std::uint32_t pick : {0U, 1U}) {
    CAPTURE(pick);
    kit::DeskDevice a(17), b(18);
    const auto wren = a.add("Wren");
    b.take_from(a);
    b.here = wren;
    const auto line = a.book().athlete(wren).prescriptions.front().id;
    const std::size_t lines = a.book().athlete(wren).prescriptions.size();
    REQUIRE(a.book().take_back(wren, line, app::Author::coach).ok());
    REQUIRE(b.book().change_plan_line(wren, line, {.sets = 2}, app::Author::helper).ok());
    a.take_from(b);
    app::ExchangeDesk exchange;
    auto desk = a.desk();
    const auto view = exchange.view(desk, {});
    REQUIRE(view.written_twice.size() == 1);
    CHECK(view.written_twice[0].title == "Changed while it was taken away");
    REQUIRE(view.written_twice[0].lines.size() == 2);
    CHECK(view.written_twice[0].lines[0].use_words == "Keep it");
    CHECK(view.written_twice[0].lines[1].use_words == "Take it away");
    CHECK(exchange.waiting(desk) == 1);
    exchange.act(desk, screens::UseLine{0, pick});
    CHECK(a.refused.empty());
    CHECK(exchange.waiting(desk) == 0);
    CHECK(a.book().athlete(wren).prescriptions.size() == lines - pick);
    b.take_from(a);
    CHECK(b.book().athlete(wren).prescriptions.size() == lines - pick);
    CHECK(b.book().athlete(wren).came_back.empty());
  }
}

TEST_CASE("two days of one session, and two wordings of one note, are settled by picking") {
  kit::DeskDevice a(19), b(20);
  const auto wren = a.add("Wren");
  a.log(wren, 1, 10, 22);
  const auto note = a.book().add_note(wren, {.text = "first"}, app::Author::coach);
  REQUIRE(note.ok());
  const model::RecordId session = a.book().athlete(wren).sessions.front().id;
  const model::Day day = a.book().athlete(wren).sessions.front().training_day.value_or({});
  b.take_from(a);
  b.here = wren;
  REQUIRE(a.book().move_session(wren, session, {day.since_1970 - 1}, app::Author::coach).ok());
  REQUIRE(b.book().move_session(wren, session, {day.since_1970 - 2}, app::Author::helper).ok());
  REQUIRE(a.book().change_note(wren, *note, "by one", app::Author::coach).ok());
  REQUIRE(b.book().change_note(wren, *note, "by the other", app::Author::helper).ok());
  a.take_from(b);
  app::ExchangeDesk exchange;
  auto desk = a.desk();
  REQUIRE(exchange.waiting(desk) == 2);
  exchange.act(desk, screens::UseLine{0, 1});
  exchange.act(desk, screens::UseLine{0, 0});
  CHECK(a.refused.empty());
  CHECK(exchange.waiting(desk) == 0);
  CHECK_FALSE(a.book().athlete(wren).sessions.front().training_day.contradiction());
  CHECK_FALSE(a.book().athlete(wren).notes.front().text.contradiction());
}

TEST_CASE("two wordings of a note that only coaches hold stand side by side for coaches, and for nobody else") {
  kit::DeskDevice a(19), b(20);
  const auto wren = a.add("Wren");
  const auto note = a.book().add_note(wren, {.text = "first", .coach_only = true}, app::Author::coach);
  REQUIRE(note.ok());
  const auto hand = [](kit::DeskDevice& from, kit::DeskDevice& to) {
    const auto bundle = from.book().make_bundle({.coach_notes = true});
    REQUIRE(bundle.ok());
    REQUIRE(to.book().take_in("coaches.slip", *bundle).ok());
  };
  hand(a, b);
  REQUIRE(a.book().change_note(wren, *note, "by one", app::Author::coach).ok());
  REQUIRE(b.book().change_note(wren, *note, "by the other", app::Author::coach).ok());
  hand(b, a);
  app::ExchangeDesk exchange;
  a.here = wren;
  auto desk = a.desk();
  CHECK(exchange.waiting(desk) == 0);
  a.settings.user = app::DeviceUser::coach;
  auto coach = a.desk();
  REQUIRE(exchange.waiting(coach) == 1);
  CHECK(app::contradictions_of(a.book(), wren) == 1);
  CHECK(app::wordings_of(a.book().notes(wren).front().note) == "by one / by the other");
  exchange.act(coach, screens::UseLine{0, 1});
  CHECK(a.refused.empty());
  CHECK(exchange.waiting(coach) == 0);
  CHECK(app::contradictions_of(a.book(), wren) == 0);
  CHECK_FALSE(a.book().notes(wren).front().note.text.contradiction());
}

TEST_CASE("pain that arrives after the plan was changed is said until the plan is written again") {
  kit::DeskDevice coach(21), phone(22);
  const auto wren = coach.add("Wren");
  phone.take_from(coach);
  phone.here = wren;
  REQUIRE(phone.book().note_pain(wren, "knee", 2, app::Author::swimmer).ok());
  coach.device.clock.tick(3'600'000);
  const auto line = coach.book().athlete(wren).prescriptions.front().id;
  app::PlanLineEntry heavier;
  heavier.load = kit::kilograms(30);
  REQUIRE(coach.book().change_plan_line(wren, line, heavier, app::Author::coach).ok());
  coach.take_from(phone);
  app::ExchangeDesk exchange;
  auto desk = coach.desk();
  const auto view = exchange.view(desk, {});
  REQUIRE(view.contradictions.size() == 1);
  CHECK(view.contradictions[0].find("pain in the knee") != std::string::npos);
  heavier.load = kit::kilograms(10);
  REQUIRE(coach.book().change_plan_line(wren, line, heavier, app::Author::coach).ok());
  CHECK(exchange.view(desk, {}).contradictions.empty());

  // Reported after the plan was written, it is no news of this kind.
  phone.device.clock.tick(7'200'000);
  REQUIRE(phone.book().note_pain(wren, "hip", 2, app::Author::swimmer).ok());
  coach.take_from(phone);
  CHECK(exchange.view(desk, {}).contradictions.empty());
}
