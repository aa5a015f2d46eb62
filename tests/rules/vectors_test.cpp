// The decision vectors of the handbook, section 6.6, one after the other. Not here, because
// their rows come with races, deload, illness, key sets and tests of those: D17-D21, D25,
// D31-D34, D45, D58 (G03-G07, G10, G12, G14; D21 is told in gates_test, where G02 stands).
#include <doctest/doctest.h>

#include "vectors_kit.h"

using namespace slipway;
using namespace slipway::kit;
using namespace slipway::rules;
using model::Pattern;
using Reps = std::vector<std::uint32_t>;

TEST_CASE("D01: 20 kg to 24 kg is a big jump, 16 reps would earn it, so two reps more first") {
  const auto d = decided(two_tops(20 * kg, bells()));
  CHECK(d.row.row == "R16");
  CHECK(d.step == Step::big);
  CHECK(d.step_load_g == 24 * kg);
  CHECK(d.reps_to_earn == 16U);
  CHECK(d.standing.hi == 14);
  CHECK(d.dose.load_g == 20 * kg);
  CHECK(find_argument(d.row, "percent")->number == 20);
}

TEST_CASE("D02: 20 kg to 22 kg is exactly 10 % and goes up") {
  const auto d = decided(two_tops(20 * kg, loads(2 * kg, 40 * kg, 2 * kg)));
  CHECK(d.row.row == "R15");
  CHECK(d.dose.load_g == 22 * kg);
  CHECK(reps_of(d.dose) == Reps{8, 8, 8});
}

TEST_CASE("D03: 20 kg to 22.5 kg is 12.5 % and must be earned") { CHECK(row(two_tops(20 * kg, kByTwoAndHalf)) == "R16"); }

TEST_CASE("D04: 40 kg to 42.5 kg is 6.25 % and goes up") {
  const auto d = decided(two_tops(40 * kg, kByTwoAndHalf));
  CHECK(d.row.row == "R15");
  CHECK(d.dose.load_g == 42'500);
}

TEST_CASE("D05: one session at the top is confirmed once more") {
  auto s = goblet(20 * kg, kByTwoAndHalf);
  did(s, 6, {11, 12, 12}, 2);
  did(s, 3, {12, 12, 12}, 2);
  const auto d = decided(s);
  CHECK(d.row.row == "R19");
  CHECK(d.counters.hits == 1);
  CHECK(reps_of(d.dose) == Reps{12, 12, 12});
}

TEST_CASE("D06: all reps done with one left is no top yet") {
  auto s = goblet(20 * kg, kByTwoAndHalf);
  did(s, 3, {12, 12, 12}, 1);
  CHECK(row(s) == "R20");
}

TEST_CASE("D07: two reps over the top show a reserve that nobody wrote down") {
  auto s = goblet(20 * kg, loads(2 * kg, 40 * kg, 2 * kg));
  did(s, 6, {12, 12, 14}, kNotSaid);
  did(s, 3, {12, 12, 14}, kNotSaid);
  const auto d = decided(s);
  CHECK(d.counters.hits == 2);
  CHECK(d.row.row == "R15");
}

TEST_CASE("D08: one hard day is tried again") {
  auto s = goblet(20 * kg, kByTwoAndHalf);
  did(s, 3, {8, 8, 7}, 1);
  const auto d = decided(s);
  CHECK(d.row.row == "R12");
  CHECK(reps_of(d.dose) == Reps{8, 8, 8});
}

TEST_CASE("D09: twice below the range takes 10 % off") {
  auto s = goblet(20 * kg, kByTwoAndHalf);
  did(s, 6, {8, 7, 6}, 0);
  did(s, 3, {9, 8, 7}, 0);
  const auto d = decided(s);
  CHECK(d.row.row == "R11");
  CHECK(d.dose.load_g == 17'500);
  CHECK(d.standing.load_g == 17'500);
  CHECK(d.passing == false);
}

TEST_CASE("D10: inside the range every set gets a rep") {
  auto s = goblet(20 * kg, kByTwoAndHalf);
  did(s, 3, {10, 9, 9}, 2);
  const auto d = decided(s);
  CHECK(d.row.row == "R22");
  CHECK(reps_of(d.dose) == Reps{11, 10, 10});
}

TEST_CASE("D11: pain of 4 at the exercise is not made good by a painless check at rest") {
  auto s = goblet(20 * kg, kByTwoAndHalf);
  did(s, 6, {10, 10, 10});
  did(s, 3, {10, 10, 10});
  hurt(s, 3, 4);
  auto& check = hurt(s, 0, 0);
  check.at = PainAt::check;
  check.session_id.clear();
  check.exercise.clear();
  check.joints = model::joint::knee;
  const auto d = decided(s);
  CHECK(d.row.row == "R02");
  CHECK(d.counters.pain == 4);
  CHECK(d.passing);
  CHECK(d.dose.exercise != "SQ4");
  CHECK(d.dose.rir >= 4);
  CHECK(has_modifier(d, "M08"));
  CHECK(tells_coach(d, "W04"));
}

TEST_CASE("D12: pain of 3 in two sessions in a row stops the exercise") {
  auto s = goblet(20 * kg, kByTwoAndHalf);
  did(s, 6, {10, 10, 10});
  hurt(s, 6, 3);
  did(s, 3, {10, 10, 10});
  hurt(s, 3, 3);
  const auto d = decided(s);
  CHECK(d.row.row == "R01");
  CHECK(d.action == Action::stop);
  CHECK(tells_coach(d, "W02"));
}

TEST_CASE("D13: a week off holds and keeps the hits") {
  auto s = goblet(40 * kg, kByTwoAndHalf);
  did(s, 15, {12, 12, 12});
  did(s, 12, {12, 12, 12});
  const auto d = decided(s);
  CHECK(d.row.row == "R08");
  CHECK(d.counters.hits == 2);
  CHECK(d.dose.load_g == 40 * kg);
}

TEST_CASE("D14, D15, D16: the longer the break, the lighter the first session") {
  struct Break {
    std::int32_t days;
    const char* row;
    std::int64_t load_g;
    std::uint32_t sets;
    std::uint32_t rir;
  };
  for (const Break& b : {Break{17, "R07", 35'000, 2, 3}, Break{24, "R06", 30'000, 2, 3}, Break{30, "R05", 27'500, 1, 4}}) {
    CAPTURE(b.days);
    auto s = goblet(40 * kg, kByTwoAndHalf);
    did(s, b.days + 3, {12, 12, 12});
    did(s, b.days, {12, 12, 12});
    const auto d = decided(s);
    CHECK(d.row.row == b.row);
    CHECK(d.dose.load_g == b.load_g);
    CHECK(d.dose.sets() == b.sets);
    CHECK(d.dose.rir == b.rir);
    CHECK(d.passing);
    CHECK(d.standing.load_g == 40 * kg);
  }
}

TEST_CASE("D22: sore for five days takes load and a set off, whatever the hits") {
  auto s = two_tops(20 * kg, kByTwoAndHalf);
  sore(s, Pattern::squat, 5);
  const auto d = decided(s);
  CHECK(d.row.row == "R10");
  CHECK(d.dose.load_g == 17'500);
  CHECK(d.dose.sets() == 2);
}

TEST_CASE("D23: ten pull-ups twice bring the smallest plate that is a step") {
  SessionSituation s = adult();
  weighs(s, 70 * kg);
  s.kit.plates_g = std::vector<std::int64_t>{1250};
  plan(s, dose("VP6"));
  did(s, 6, {12, 12, 12});
  did(s, 3, {12, 12, 12});
  const auto d = decided(s);
  CHECK(d.row.row == "R14");
  CHECK(d.dose.exercise == "VP8");
  CHECK(d.dose.load_g == 2500);
  CHECK(d.standing.lo == 5);
  CHECK(d.standing.hi == 8);
}

TEST_CASE("D24: at a quarter of body mass a child gets better, not heavier") {
  auto s = youth(12, 40 * kg);
  s.kit.loads_g = loads(1 * kg, 10 * kg, 1 * kg);
  s.kit.loads_g->push_back(11 * kg);
  plan(s, dose("SQ4", 10 * kg));
  signed_off(s, "SQ4", SignOffLevel::sound, 20);
  did(s, 7, {12, 12, 12}, kNotSaid);  // two days a week at this age
  did(s, 3, {12, 12, 12}, kNotSaid);
  for (auto& session : s.history) first(session).two_more = true;
  const auto d = decided(s);
  CHECK(d.row.row == "R13");
  CHECK(d.standing.hi == 14);
  CHECK(d.dose.load_g == 10 * kg);
}

TEST_CASE("D26: pain of 1 hides no 40 days off") {
  auto s = goblet(40 * kg, kByTwoAndHalf);
  did(s, 40, {12, 12, 12});
  hurt(s, 40, 1);
  const auto d = decided(s);
  CHECK(d.row.row == "R05");
  CHECK(d.dose.load_g == 27'500);
  CHECK(d.dose.sets() == 1);
}

TEST_CASE("D27: pain of 2 hides no eight days of soreness") {
  auto s = goblet(20 * kg, kByTwoAndHalf);
  did(s, 3, {10, 10, 10});
  hurt(s, 3, 2);
  sore(s, Pattern::squat, 8);
  CHECK(row(s) == "R09");
}

TEST_CASE("D28: a week off hides no six days of soreness") {
  auto s = goblet(20 * kg, kByTwoAndHalf);
  did(s, 12, {10, 10, 10});
  sore(s, Pattern::squat, 6);
  const auto d = decided(s);
  CHECK(d.row.row == "R10");
  CHECK(d.dose.load_g == 17'500);
  CHECK(d.dose.sets() == 2);
}

namespace {

SessionSituation child_at_eight() {
  auto s = youth(12, 40 * kg);
  s.kit.loads_g = loads(1 * kg, 10 * kg, 1 * kg);
  plan(s, dose("SQ4", 8 * kg));
  did(s, 7, {12, 12, 12}, kNotSaid);  // two days a week at this age
  did(s, 3, {12, 12, 12}, kNotSaid);
  for (auto& session : s.history) first(session).two_more = true;
  return s;
}

}  // namespace

TEST_CASE("D29: a child without a sign-off holds and the coach is asked to look") {
  const auto d = decided(child_at_eight());
  CHECK(d.row.row == "R26");
  CHECK(d.counters.hits == 2);
  CHECK(d.dose.load_g == 8 * kg);
  CHECK(asks(d, Ask::sign_off));
  CHECK(tells_coach(d, "W07"));
}

TEST_CASE("D30: after SOUND the same child has a big step to earn") {
  auto s = child_at_eight();
  signed_off(s, "SQ4", SignOffLevel::sound, 1);
  const auto d = decided(s);
  CHECK(d.row.row == "R16");
  CHECK(d.standing.hi == 14);
}

TEST_CASE("D35: who never says what was left is asked for it, and the coach hears after eight sessions") {
  auto s = goblet(20 * kg, loads(2 * kg, 40 * kg, 2 * kg));
  for (std::int32_t i = 7; i >= 1; --i) did(s, 3 * i, {12, 12, 12}, kNotSaid);
  auto d = decided(s);
  CHECK(d.row.row == "R20");
  CHECK(d.dose.targets.back() == SetTarget{12, 14});
  CHECK(d.dose.targets.front() == SetTarget{12, 12});
  CHECK(asks(d, Ask::reserve_of_last));
  CHECK_FALSE(has_modifier(d, "M09"));
  did(s, 24, {12, 12, 12}, kNotSaid);
  d = decided(s);
  CHECK(has_modifier(d, "M09"));
  CHECK(tells_coach(d, "W08"));
}

TEST_CASE("D36: three left does not go with reps that fell by two and below, so it is asked again") {
  auto s = goblet(20 * kg, kByTwoAndHalf);
  did(s, 3, {12, 11, 9}, 3);
  const auto d = decided(s);
  CHECK(d.row.row == "R22");
  CHECK(reps_of(d.dose) == Reps{12, 12, 10});
  CHECK(has_modifier(d, "M10"));
  CHECK(asks(d, Ask::reserve_again));
}

TEST_CASE("D37: in the learn phase four must be left") {
  SessionSituation s = adult();
  s.kit.loads_g = kByTwoAndHalf;
  s.phase.kind = PhaseKind::learn;
  plan(s, dose("SQ4", 20 * kg, 2, 8, 12, 4));
  did(s, 6, {12, 12}, 3);
  did(s, 3, {12, 12}, 3);
  CHECK(row(s) == "R20");
}

TEST_CASE("D38: after the one step of a two-week break the standing dose is back") {
  auto s = goblet(40 * kg, kByTwoAndHalf);
  did(s, 24, {12, 11, 10});
  did_by(s, 3, "R07", 35'000, {8, 8});
  const auto d = decided(s);
  CHECK(d.row.row == "R24");
  CHECK(d.ramp_step == RampStep::d);
  CHECK(d.dose.load_g == 40 * kg);
  CHECK(reps_of(d.dose) == Reps{12, 11, 10});
}

TEST_CASE("D39: four weeks off are climbed back in four sessions") {
  auto s = goblet(40 * kg, kByTwoAndHalf);
  did(s, 50, {10, 10, 10});
  did_by(s, 12, "R05", 27'500, {8});
  s.today = day(9);
  auto session = decide(s);
  CHECK(session.exercises[0].row.row == "R24");
  CHECK(session.exercises[0].dose.load_g == 30'000);
  CHECK(reps_of(session.exercises[0].dose) == Reps{8, 8});
  carry_out(s, 9, session, {8, 8});
  s.today = day(6);
  session = decide(s);
  CHECK(session.exercises[0].row.row == "R24");
  CHECK(session.exercises[0].dose.load_g == 35'000);
  CHECK(reps_of(session.exercises[0].dose) == Reps{8, 8});
  carry_out(s, 6, session, {8, 8});
  s.today = day(3);
  session = decide(s);
  CHECK(session.exercises[0].row.row == "R24");
  CHECK(session.exercises[0].dose.load_g == 40'000);
  CHECK(reps_of(session.exercises[0].dose) == Reps{10, 10, 10});
  carry_out(s, 3, session, {10, 10, 10});
  s.today = day(0);
  const auto d = decided(s);
  CHECK(d.row.row == "R22");
  CHECK(reps_of(d.dose) == Reps{11, 11, 11});
}

TEST_CASE("D40: another break on the way back gives no later step than the last one done") {
  auto s = goblet(40 * kg, kByTwoAndHalf);
  did(s, 60, {12, 12, 12});
  did_by(s, 15, "R05", 27'500, {8});
  const auto d = decided(s);
  CHECK(d.row.row == "R07");
  CHECK(d.ramp_step == RampStep::a);
  CHECK(d.dose.load_g == 27'500);
  CHECK(d.dose.sets() == 1);
}

TEST_CASE("D41: free squats on the way bridge a class of the break") {
  auto s = goblet(24 * kg, bells());
  did(s, 35, {12, 12, 12});
  for (std::int32_t i = 0; i < 10; ++i) did_other(s, 2 + 3 * i, "SQ3", {}, {15, 15, 15});
  const auto d = decided(s);
  CHECK(d.counters.bridged);
  CHECK(d.counters.gap_class == 3);
  CHECK(d.row.row == "R06");
  CHECK(d.dose.load_g == 18 * kg);
  CHECK(d.dose.sets() == 2);
}

TEST_CASE("D41 again, as the plan's own line on a beach: what no load made of it bridges the break and is no step of the way back") {
  auto s = goblet(24 * kg, bells());
  did(s, 35, {12, 12, 12});
  const Kit gym = s.kit;
  for (std::int32_t ago = 31; ago >= 4; ago -= 3) {
    s.today = day(ago);
    s.kit.loads_g.emplace();
    s.kit.equipment.emplace();
    const SessionDecision session = decide(s);
    REQUIRE(session.exercises.at(0).action == Action::train);
    CHECK(session.exercises[0].dose.exercise == "SQ3");
    CHECK(session.exercises[0].passing);
    carry_out(s, ago, session, std::vector<std::uint32_t>(session.exercises[0].dose.sets(), 15));
  }
  s.today = day(0);
  s.kit = gym;
  const auto d = decided(s);
  CHECK(d.counters.gap == 35);
  CHECK(d.counters.bridged);
  CHECK(d.row.row == "R06");
  CHECK(d.dose.load_g == 18 * kg);
  CHECK(d.ramp_step == RampStep::b);
}

TEST_CASE("D42: the same traveller had no bar: two rungs easier, and never slow lowering") {
  SessionSituation s = adult();
  s.kit.bands = {"thick", "middle", "thin"};
  plan(s, dose("VP6", {}, 3, 3, 8));
  did(s, 35, {8, 8, 8});
  for (std::int32_t i = 0; i < 10; ++i) did_other(s, 2 + 3 * i, "SQ3", {}, {15, 15, 15});
  const auto d = decided(s);
  CHECK(d.row.row == "R05");
  CHECK(d.dose.exercise == "VP4");
  CHECK(d.dose.band == "middle");
  CHECK(d.dose.sets() == 1);
}
