// Gates of a session: whether, when, filters (handbook 6.2), each border one step each way.
#include <doctest/doctest.h>

#include "kit/rules_kit.h"

using namespace slipway;
using namespace slipway::kit;
using namespace slipway::rules;

namespace {

constexpr std::int64_t kHourMs = 3'600'000;

SessionSituation ready() {
  SessionSituation s = adult();
  s.kit.loads_g = loads(2 * kg, 40 * kg, 2 * kg);
  plan(s, dose("SQ4", 20 * kg));
  return s;
}

void ill(SessionSituation& s, std::optional<std::int64_t> ended_hours_ago, bool below_neck = true) {
  Illness illness;
  illness.first_day = day(4);
  illness.below_neck = below_neck;
  if (ended_hours_ago) illness.ended_ms = s.now_ms - *ended_hours_ago * kHourMs;
  s.illnesses.push_back(illness);
}

RedFlag general_flag(std::int32_t days_ago) {
  RedFlag flag;
  flag.word = "chest_pain";
  flag.day = day(days_ago);
  return flag;
}

}  // namespace

TEST_CASE("G01: a general red flag stops the session, and nobody overrules it") {  // 6.2a, 2.7
  auto s = ready();
  did(s, 3, {10, 10, 10});
  s.red_flags.push_back(general_flag(2));
  s.overrulings.push_back({"G01", {}});
  const auto d = decide(s);
  CHECK(d.whether == Whether::stop);
  CHECK(d.gate.row == "G01");
  CHECK(d.exercises.empty());
  CHECK(find_argument(d.gate, "flag")->text == "chest_pain");
  CHECK(d.coach_rows.front().row == "W01");
}

TEST_CASE("G01: only a note that a clinician allowed training clears it; for a child not his own") {  // 2.7
  for (const bool child : {false, true}) {
    CAPTURE(child);
    auto s = ready();
    if (child) s.athlete.age_low = s.athlete.age_high = 12;
    s.red_flags.push_back(general_flag(2));
    Clearance note;
    note.day = day(1);
    note.general = true;
    s.clearances = {note};
    CHECK(decide(s).gate.row == "G01");  // "seen by a doctor" is not enough
    s.clearances[0].clinician_allowed = true;
    CHECK(decide(s).gate.row == (child ? "G01" : "G13"));
    s.clearances[0].by = ClearedBy::guardian;
    CHECK(decide(s).gate.row == "G13");
    s.clearances[0].day = day(3);  // before the flag
    CHECK(decide(s).gate.row == "G01");
  }
}

TEST_CASE("G02 and D21: fever skips, and 24 hours more after it ended") {  // 6.2a
  auto s = ready();
  ill(s, {});
  CHECK(decide(s).gate.row == "G02");
  CHECK(decide(s).whether == Whether::skip);
  for (const auto& [hours, row] : {std::pair{14, "G02"}, {23, "G02"}, {24, "G13"}, {30, "G13"}}) {
    const auto shown = hours;  // doctest makes a lambda of it, which may not hold a structured binding
    CAPTURE(shown);
    s.illnesses.clear();
    ill(s, hours);
    CHECK(decide(s).gate.row == row);
  }
}

TEST_CASE("A mild head cold is not decided on yet: it neither skips nor stops") {
  auto s = ready();
  ill(s, {}, false);
  CHECK(decide(s).gate.row == "G13");
}

TEST_CASE("G08: the same pattern twice on one day moves; an adult may train the others with a set less") {  // 6.2b
  auto s = ready();
  did(s, 0, {10, 10, 10});
  plan(s, dose("PU4"));
  s.history[0].start_ms -= 8 * kHourMs;
  const auto d = decide(s);
  CHECK(d.when == When::move);
  CHECK(d.when_row.row == "G08");
  CHECK(d.fallback);
  CHECK(d.exercises[0].action == Action::leave_out);
  CHECK(d.exercises[1].action == Action::train);
  CHECK(d.exercises[1].dose.sets() == 2);
}

TEST_CASE("G08: a session that is still open is no other session") {
  auto s = ready();
  did(s, 0, {10, 10}).open = true;
  CHECK(decide(s).when == When::today);
}

TEST_CASE("G08: shoulder care of this morning moves nothing") {  // 5.3
  auto s = ready();
  did_other(s, 0, "SC4", {}, {12, 12});
  CHECK(decide(s).when_row.row == "TODAY");
}

TEST_CASE("G08: days used in the six days before today, by age") {  // 5.7, 6.2b
  struct Week {
    std::int32_t age;
    std::vector<std::int32_t> days_ago;
    const char* row;
  };
  for (const Week& week : {Week{12, {3, 6}, "G08"}, Week{12, {3, 7}, "TODAY"}, Week{12, {3}, "TODAY"}, Week{15, {2, 4, 6}, "G08"},
                           Week{15, {2, 4, 7}, "TODAY"}, Week{30, {2, 4, 6}, "G08"}, Week{55, {3, 5}, "G08"}, Week{55, {3, 7}, "TODAY"}}) {
    CAPTURE(week.age);
    auto s = ready();
    s.athlete.age_low = s.athlete.age_high = week.age;
    for (std::int32_t ago : week.days_ago) did(s, ago, {10, 10, 10});
    CHECK(decide(s).when_row.row == week.row);
  }
  auto s = ready();  // three by the coach
  s.athlete.age_low = s.athlete.age_high = 55;
  s.athlete.days_a_week = 3;
  did(s, 5, {10, 10, 10});
  did(s, 3, {10, 10, 10});
  CHECK(decide(s).when_row.row == "TODAY");
}

TEST_CASE("G08: a child's moved session shows the doses of the day it moves to, and no cut") {
  auto s = youth(12, 40 * kg);
  plan(s, dose("SQ3"));
  did(s, 6, {10, 10, 10});
  did(s, 3, {10, 10, 10});
  const auto d = decide(s);
  CHECK(d.when == When::move);
  CHECK_FALSE(d.fallback);
  CHECK(d.exercises[0].dose.sets() == 3);
}

TEST_CASE("G09: the day after is asked about, two days after is normal") {  // 6.2b
  auto s = ready();
  did(s, 1, {12, 12, 12});
  did(s, 5, {12, 12, 12});
  auto d = decide(s);
  CHECK(d.when_row.row == "G09");
  CHECK(d.when == When::ask);
  CHECK(find_argument(d.when_row, "days")->number == 1);
  CHECK(d.exercises[0].row.row == "R15");  // all of 6.3 runs …
  CHECK_FALSE(d.exercises[0].increase);    // … and the increase becomes HOLD
  CHECK(d.exercises[0].dose.load_g == 20 * kg);
  CHECK(d.exercises[0].dose.sets() == 2);
  CHECK(d.exercises[0].passing);
  s.athlete.age_low = s.athlete.age_high = 15;
  CHECK(decide(s).when == When::move);
  s.history[0].day = day(2);
  CHECK(decide(s).when_row.row == "TODAY");
}

TEST_CASE("G09: two days after a set to failure, or at 50, only without soreness") {  // 6.2b, 1.9
  auto s = ready();
  did(s, 2, {10, 10, 10}, 0);
  CHECK(decide(s).when_row.row == "TODAY");
  sore(s, model::Pattern::squat, 1);
  CHECK(decide(s).when_row.row == "G09");
  first(s.history[0]).sets.back().rir_halves = 2;
  CHECK(decide(s).when_row.row == "TODAY");
  s.history[0].first_of_programme = true;
  CHECK(decide(s).when_row.row == "G09");
  s.history[0].first_of_programme = false;
  s.athlete.age_high = 50;
  CHECK(decide(s).when_row.row == "G09");
  s.history[0].day = day(3);
  CHECK(decide(s).when_row.row == "TODAY");
}

TEST_CASE("The coach may overrule G08 and G09") {
  auto s = ready();
  did(s, 1, {10, 10, 10});
  s.overrulings.push_back({"G09", {}});
  const auto d = decide(s);
  CHECK(d.when == When::today);
  CHECK(d.when_row.overruled == std::vector<std::string>{"G09"});
  CHECK(d.exercises[0].dose.sets() == 3);
}

TEST_CASE("G11: without an adult a youth gets the floor version, an adult his own") {  // 6.2c, 5.7
  auto s = youth(15, 60 * kg);
  s.kit.loads_g = loads(2 * kg, 40 * kg, 2 * kg);
  plan(s, dose("SQ4", 20 * kg));
  did(s, 3, {10, 10, 10});
  plan(s, dose("VP6"));
  plan(s, dose("PU4"));
  s.adult_ticked_in = false;
  s.overrulings.push_back({"G11", {}});
  auto d = decide(s);
  CHECK(d.filters.size() == 1);
  CHECK(d.exercises[0].dose.exercise == "SQ3");
  CHECK_FALSE(d.exercises[0].dose.load_g);
  CHECK(d.exercises[0].passing);
  CHECK(d.exercises[1].action == Action::leave_out);  // nothing that hangs
  CHECK(d.exercises[2].dose.exercise == "PU4");
  s.adult_ticked_in = true;
  d = decide(s);
  CHECK(d.filters.empty());
  CHECK(d.exercises[0].dose.load_g == 20 * kg);
  s.adult_ticked_in = false;
  s.athlete.age_low = s.athlete.age_high = 18;
  CHECK(decide(s).filters.empty());
}

TEST_CASE("G11: no increase at home, and the hits are kept") {
  auto s = youth(15, 60 * kg);
  plan(s, dose("PU3"));
  signed_off(s, "PU3", SignOffLevel::sound, 10);
  did(s, 6, {12, 12, 12});
  did(s, 3, {12, 12, 12});
  CHECK(decided(s).dose.exercise == "PU4");  // with an adult: hands down
  s.adult_ticked_in = false;
  const auto d = decided(s);
  CHECK(d.row.row == "R14");
  CHECK(d.dose.exercise == "PU3");
  CHECK_FALSE(d.increase);
  CHECK(d.counters.hits == 2);
}

TEST_CASE("Soreness and age: a day without an answer between two sore ones is sore") {  // 6.1
  auto s = ready();
  did(s, 3, {10, 10, 10});
  const auto answers = [&](std::vector<std::pair<std::int32_t, std::uint32_t>> list) {
    s.soreness.clear();
    for (const auto& [ago, level] : list) s.soreness.push_back({day(ago), model::Pattern::squat, level});
    return decided(s).counters.sore_days;
  };
  CHECK(answers({{0, 2}, {2, 2}}) == 3);
  CHECK(answers({{0, 1}, {1, 3}, {2, 3}}) == 0);
  CHECK(answers({{1, 2}, {2, 2}}) == 3);  // no answer today: yesterday's
  CHECK(answers({{2, 2}, {3, 2}}) == 0);  // nor yesterday
  CHECK(answers({{0, 2}, {1, 1}, {2, 3}}) == 1);
}

TEST_CASE("T46: the youngest age for youth limits, the oldest for 50 and over") {  // 0.4, 8.1
  const auto march = *model::read_day("2026-03-01");
  CHECK(ages_on(march, 2013).low == 12);
  CHECK(ages_on(march, 1976).high == 50);
  CHECK(ages_on(march, 2013, 2).low == 13);
  CHECK(ages_on(march, 2013, 3).low == 12);
  CHECK(ages_on(march, 2013, 3).high == 13);
  CHECK(ages_on(march, 2013, 4).low == 12);
}
