// What is put right afterwards in the Logbook: the day of a session, a set that was forgotten, a session
// logged late, one that was never finished.
#include "app/day_plan.h"
#include "app/logbook_desk.h"
#include "app/needs.h"
#include "desk_kit.h"
#include "report/words.h"

using namespace slipway;
using report::say;

namespace {

// A swimmer whose only line is a goblet squat, 3 sets of 8 to 12 with 20 kg, and what the Logbook asks of her.
struct Phone : kit::DeskDevice {
  explicit Phone(std::uint64_t seed) : DeskDevice(seed) {
    who = add("Fen");
    std::vector<model::RecordId> lines;
    for (const auto& line : book().athlete(who).prescriptions) lines.push_back(line.id);
    for (const auto& line : lines) REQUIRE(book().take_back(who, line, app::Author::coach).ok());
    app::PlanLineEntry line;
    line.exercise = "SQ4";
    line.sets = 3;
    line.reps = 8;
    line.reps_high = 12;
    line.load = kit::kilograms(20);
    line.rir = 2;
    REQUIRE(book().add_plan_line(who, line, app::Author::coach).ok());
    app::KitEntry kit;
    kit.loads = std::vector<model::Quantity>{kit::kilograms(18), kit::kilograms(20), kit::kilograms(22), kit::kilograms(24)};
    kit.equipment = std::vector<std::string>{"dumbbell", "kettlebell"};
    REQUIRE(book().set_kit(who, book().athlete(who).kits.front().id, kit, app::Author::coach).ok());
  }
  model::ScopeId who;
  app::LogbookDesk logbook;

  screens::LogbookView view() {
    auto now = desk();
    return logbook.view(now);
  }
  void act(const screens::LogbookIntent& intent) {
    auto now = desk();
    logbook.act(now, intent);
  }
  const model::Athlete& athlete() { return book().athlete(who); }
  std::vector<screens::FormPart> parts() {
    const screens::LogbookView now = view();
    if (!now.ask.empty()) return now.ask;
    for (const auto& day : now.days)
      for (const auto& entry : day.entries)
        if (entry.open) return entry.parts;
    return {};
  }
  screens::FormPart part(const std::string& label) {
    for (const auto& one : parts())
      if (one.label == label) return one;
    FAIL("no part is called " << label);
    return {};
  }
  void answer(const screens::FormPart& part, std::uint32_t choice, const std::string& text = {}) {
    auto now = desk();
    logbook.act(now, screens::LogAnswer{{part.id, choice, text}});
  }
  void type(const std::string& label, const std::string& text) { answer(part(label), 0, text); }
  void choose(const std::string& label, const std::string& choice) {
    const screens::FormPart asked = part(label);
    for (std::uint32_t i = 0; i < asked.choices.size(); ++i)
      if (asked.choices[i].label == choice) return answer(asked, i);
    FAIL("no choice is called " << choice);
  }
  void press(const std::string& key) {
    for (const auto& one : parts())
      for (std::uint32_t i = 0; i < one.choices.size(); ++i)
        if (one.kind == screens::FormKind::keys && one.choices[i].label == key) return answer(one, i);
    FAIL("no key is called " << key);
  }
  bool offers(const std::string& key) {
    for (const auto& one : parts())
      for (const auto& choice : one.choices)
        if (choice.label == key) return true;
    return false;
  }
  // Sets of a day that has no session yet, as many as there are reps, from an ordinary Logbook.
  void log_late(model::Day day, const std::vector<int>& reps) {
    act(screens::PressLogKey{1});
    choose(say("late.which_day"), app::day_words(day, today()));
    for (std::size_t i = 0; i < reps.size(); ++i) {
      type(say("change.reps"), std::to_string(reps[i]));
      if (i == 0) type(say("late.load_kg"), "20");
      if (i + 1 == reps.size()) choose(say("change.reserve"), "2");
      press(say("late.set_key"));
    }
    press(say("late.leave"));
  }
  model::Day back(std::int32_t days) { return {today().since_1970 - days}; }
  app::DayPlan plan() { return app::plan_day(athlete(), {.today = today(), .now_ms = device.clock.now().local_ms, .kit = {}, .train_now = {}, .programme_day = 1}); }
};

}  // namespace

TEST_CASE("two sessions logged late and in the wrong order count by their days: two hits, and the next load") {
  Phone ordered(71), late(72);
  for (Phone* one : {&ordered, &late}) one->next_day(9);
  ordered.log_late(ordered.back(7), {11, 11, 10});
  late.log_late(late.back(7), {11, 11, 10});
  ordered.log_late(ordered.back(4), {12, 12, 12});
  ordered.log_late(ordered.back(2), {12, 12, 12});
  late.log_late(late.back(2), {12, 12, 12});  // the later one first
  CHECK(late.plan().rows.at(0).decision.row.row == "R19");  // one hit: once more
  late.log_late(late.back(4), {12, 12, 12});
  for (Phone* one : {&ordered, &late}) {
    const app::DayPlan plan = one->plan();
    CHECK(plan.rows.at(0).decision.row.row == "R15");
    CHECK(plan.rows.at(0).decision.dose.load_g == 22000);
    REQUIRE(one->athlete().sessions.size() == 3);
    for (const auto& session : one->athlete().sessions) CHECK(session.sets.size() == 3);
  }
}

TEST_CASE("days that have a session are not offered for another, and a set is asked for first") {
  Phone phone(73);
  phone.next_day(3);
  phone.log(phone.who, 1, 12, 20);
  phone.next_day();
  phone.act(screens::PressLogKey{1});
  const auto days = phone.part(say("late.which_day")).choices;
  REQUIRE(days.size() == 6);  // of seven, yesterday has one
  CHECK(days[0].label == app::day_words(phone.back(2), phone.today()));
  phone.choose(say("late.which_day"), days[0].label);
  CHECK(phone.athlete().sessions.size() == 1);  // nothing is begun by asking
  phone.press(say("late.set_key"));
  CHECK(phone.part(say("change.reps")).refused == say("change.reps_refused", {"100"}));
  CHECK(phone.athlete().sessions.size() == 1);
  phone.act(screens::PressLogKey{1});
  CHECK(phone.view().ask.empty());  // the same key puts it away
}

TEST_CASE("a typed day that has a session opens that one, to add what was forgotten") {
  Phone phone(74);
  phone.log(phone.who, 1, 12, 20);
  phone.next_day(20);
  phone.act(screens::PressLogKey{1});
  phone.type(say("late.typed_day"), model::iso(phone.back(20)));
  phone.press(say("late.day_key"));
  CHECK(phone.view().ask.empty());
  CHECK(phone.view().days.at(0).entries.at(0).open);
  CHECK(phone.part(say("late.load_kg")).value == "20");  // as the set before
  phone.type(say("change.reps"), "11");
  phone.press(say("late.set_key"));
  REQUIRE(phone.athlete().sessions.size() == 1);
  REQUIRE(phone.athlete().sessions[0].sets.size() == 2);
  CHECK(phone.athlete().sessions[0].sets[1].round == 2);
  CHECK(phone.athlete().sessions[0].sets[1].rir.empty());  // nobody said it
}

TEST_CASE("a set out of range is refused beside its field and nothing is stored") {
  Phone phone(75);
  phone.log(phone.who, 1, 12, 20);
  phone.act(screens::OpenEntry{0, 0});
  phone.press(say("late.add_set"));
  for (const char* reps : {"", "101", "-1", "ten", "9.5"}) {
    phone.type(say("change.reps"), reps);
    phone.press(say("late.set_key"));
    CHECK(phone.part(say("change.reps")).refused == say("change.reps_refused", {"100"}));
  }
  phone.type(say("change.reps"), "100");
  CHECK(phone.part(say("change.reps")).refused.empty());
  for (const char* load : {"501", "heavy", "20 m", "-1"}) {
    phone.type(say("late.load_kg"), load);
    phone.press(say("late.set_key"));
    CHECK(phone.part(say("late.load_kg")).refused == say("value.load", {load}));
    CHECK(phone.refused.back() == say("value.load", {load}));
  }
  CHECK(phone.athlete().sessions[0].sets.size() == 1);
  phone.type(say("late.load_kg"), "500");
  phone.press(say("late.set_key"));
  CHECK(phone.athlete().sessions[0].sets.size() == 2);
}

TEST_CASE("a session that a wrong clock put into 2062 counts nowhere till its day is put right, and then on its day") {
  Phone phone(76);
  const std::int64_t ahead = std::int64_t{36 * 365} * 86'400'000;
  phone.next_day(5);
  phone.device.clock.set_wrong_by(ahead);
  const auto set = phone.log(phone.who, 1, 12, 20);
  phone.device.clock.set_wrong_by(0);
  const auto looks_wrong = [&phone] {
    for (const app::Need& need : app::who_needs_the_coach(phone.book(), {phone.who}, {phone.today(), phone.device.clock.now().local_ms}))
      for (const app::NeedFact& fact : need.facts)
        if (fact.words == say("squad.w06_date")) return true;
    return false;
  };
  CHECK(looks_wrong());
  CHECK(phone.view().days.at(0).entries.at(0).line.find(say("logbook.date_wrong")) == 0);
  const auto squats = [&phone] { return phone.plan().rows.at(0).decision.row.row; };
  CHECK(squats() == "R21");  // as if nothing had been done yet
  phone.act(screens::OpenEntry{0, 0});
  phone.press(say("late.move"));
  for (const std::string& day : {std::string("yesterday"), std::string("2026-02-30"), model::iso(phone.back(-1))}) {
    phone.type(say("late.typed_day"), day);
    phone.press(say("late.move_key"));
    CHECK(phone.part(say("late.typed_day")).refused == say("late.day_refused", {model::iso(phone.back(1))}));
  }
  CHECK(looks_wrong());
  phone.choose(say("late.which_day"), app::day_words(phone.back(3), phone.today()));
  CHECK(phone.said.back() == say("late.said_moved", {model::weekday_date(phone.back(3))}));
  CHECK_FALSE(looks_wrong());
  REQUIRE(phone.athlete().sessions.size() == 1);
  CHECK(*phone.athlete().sessions[0].training_day.first() == phone.back(3));
  CHECK(phone.athlete().sessions[0].sets.at(0).id == set);
  CHECK(squats() != "R21");
  const screens::LogEntry entry = phone.view().days.at(0).entries.at(0);
  CHECK(entry.line.find(say("logbook.date_wrong")) == std::string::npos);
  CHECK(entry.note.find(say("logbook.stood_on", {model::weekday_date(model::Day{phone.today().since_1970 + 36 * 365}), say("desk.writer", {report::author_word(1)})})) != std::string::npos);
}

TEST_CASE("a day that has a session already takes no second one, and nothing moves") {
  Phone phone(77);
  phone.log(phone.who, 1, 12, 20);
  phone.next_day(2);
  phone.log(phone.who, 1, 11, 20);
  phone.act(screens::OpenEntry{0, 0});
  phone.press(say("late.move"));
  for (const auto& day : phone.part(say("late.which_day")).choices) CHECK(day.label != app::day_words(phone.back(2), phone.today()));
  phone.type(say("late.typed_day"), model::iso(phone.back(2)));
  phone.press(say("late.move_key"));
  CHECK(phone.part(say("late.typed_day")).refused == say("session.day_taken", {model::iso(phone.back(2))}));
  phone.press(say("late.leave"));
  CHECK(phone.offers(say("late.move")));
  CHECK(phone.book().day_history(phone.who, phone.athlete().sessions[1].id).size() == 1);
}

TEST_CASE("a session left open over midnight is finished afterwards, by its own words of how hard and how long") {
  Phone phone(78);
  phone.log(phone.who, 1, 12, 20);
  phone.next_day();
  phone.act(screens::OpenEntry{0, 0});
  phone.press(say("late.finish"));
  phone.press(say("late.finish_key"));
  CHECK_FALSE(phone.part(say("finish.question")).refused.empty());  // never filled in for anybody
  phone.choose(say("finish.question"), "6");
  for (const char* minutes : {"0", "601", "long"}) {
    phone.type(say("finish.minutes"), minutes);
    phone.press(say("late.finish_key"));
    CHECK(phone.part(say("finish.minutes")).refused == say("finish.minutes_refused"));
  }
  CHECK(phone.athlete().sessions[0].finish.empty());
  phone.type(say("finish.minutes"), "45");
  phone.press(say("late.finish_key"));
  REQUIRE_FALSE(phone.athlete().sessions[0].finish.empty());
  CHECK(phone.athlete().sessions[0].finish.first()->effort_tenths == 60U);
  CHECK(phone.athlete().sessions[0].finish.first()->minutes == 45U);
  CHECK_FALSE(phone.offers(say("late.finish")));
}

TEST_CASE("leaving the Logbook leaves nothing half asked, and nothing is stored") {
  Phone phone(79);
  phone.log(phone.who, 1, 12, 20);
  phone.act(screens::OpenEntry{0, 0});
  phone.press(say("late.add_set"));
  phone.type(say("change.reps"), "9");
  phone.logbook.leave();
  phone.act(screens::OpenEntry{0, 0});
  CHECK(phone.offers(say("late.add_set")));
  CHECK(phone.athlete().sessions[0].sets.size() == 1);
}
