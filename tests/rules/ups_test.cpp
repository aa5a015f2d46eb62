// Dose rows of handbook 6.3 from R11 on: misses, ups, new doses; and what counts at all.
#include <doctest/doctest.h>

#include "kit/rules_kit.h"

using namespace slipway;
using namespace slipway::kit;
using namespace slipway::rules;
using Reps = std::vector<std::uint32_t>;

namespace {

SessionSituation goblet(std::int64_t load_g = 40 * kg) {
  SessionSituation s = adult();
  s.kit.loads_g = loads(2500, 50'000, 2500);
  plan(s, dose("SQ4", load_g));
  return s;
}

}  // namespace

TEST_CASE("R11: two misses in a row, not one, and not with a session between") {
  auto s = goblet();
  did(s, 9, {8, 7, 6}, 0);
  did(s, 6, {10, 10, 10});
  did(s, 3, {8, 7, 6}, 0);
  CHECK(row(s) == "R12");
  s.history[1].left_out = true;  // does not count, so neither adds nor breaks
  CHECK(row(s) == "R11");
}

TEST_CASE("R11: too few sets is a miss only where it was too hard") {  // 6.1 short, miss
  auto s = goblet();
  did(s, 6, {8, 8}, 0);
  did(s, 3, {8, 8}, 0);
  CHECK(row(s) == "R27");  // nothing counted
  for (auto& session : s.history) first(session).short_reason = ShortReason::too_hard;
  CHECK(row(s) == "R11");
}

TEST_CASE("R11: out of a lowered range the first step up is the range as at the start, same load") {
  auto s = adult();
  s.kit.loads_g = std::vector<std::int64_t>{12 * kg};
  plan(s, dose("SQ4", 12 * kg, 3, 5, 8)).start = dose("SQ4", 12 * kg);
  did(s, 6, {8, 8, 8}, 3);
  did(s, 3, {8, 8, 8}, 3);
  auto d = decided(s);
  CHECK(d.row.row == "R17");
  CHECK(d.standing.lo == 8);
  CHECK(d.standing.hi == 12);
  CHECK(d.dose.load_g == 12 * kg);
  for (auto& session : s.history) first(session).sets = {{0, 4, 12 * kg, 0U, Side::both, false, false, {}}};
  for (auto& session : s.history) first(session).short_reason = ShortReason::too_hard;
  d = decided(s);  // already lowered: one rung easier, range as at the start
  CHECK(d.row.row == "R11");
  CHECK(d.standing.exercise == "SQ3");
  CHECK(d.standing.hi == 12);
}

TEST_CASE("R11: a move without load goes one rung easier, from rung 1 a set fewer") {
  auto s = adult();
  plan(s, dose("PU4"));
  did(s, 6, {8, 7, 6}, 0);
  did(s, 3, {8, 7, 6}, 0);
  CHECK(decided(s).standing.exercise == "PU3");
  auto low = adult();
  plan(low, dose("PU1"));
  did(low, 6, {8, 7, 6}, 0);
  did(low, 3, {8, 7, 6}, 0);
  CHECK(decided(low).standing.exercise == "PU1");
  CHECK(decided(low).standing.sets == 2);
  CHECK(tells_coach(decided(low), "W08"));
}

TEST_CASE("The written reserve decides: one half rep short of it is no top") {  // 6.1 topHit
  for (const auto& [halves, row_id] : {std::pair{3U, "R20"}, {4U, "R19"}, {8U, "R19"}}) {
    auto s = goblet();
    did(s, 3, {12, 12, 12});
    first(s.history[0]).sets.back().rir_halves = halves;
    CHECK(row(s) == row_id);
  }
}

TEST_CASE("Form that broke is no top, in the first set it is a miss") {  // 6.1, 6.7
  auto s = goblet();
  did(s, 3, {12, 12, 12});
  first(s.history[0]).sets[2].form_broke = true;
  CHECK(row(s) == "R20");
  first(s.history[0]).sets[0].form_broke = true;
  CHECK(row(s) == "R12");
}

TEST_CASE("A poor first set stays a miss when the lighter offer was taken") {  // 6.7
  auto s = goblet(20 * kg);
  did(s, 3, {6, 10, 10});
  first(s.history[0]).sets[1].load_g = first(s.history[0]).sets[2].load_g = 17'500;
  CHECK(row(s) == "R12");
}

TEST_CASE("Warm-up sets and sets beyond the written ones are kept and not counted") {  // 6.1
  auto s = goblet();
  did(s, 3, {6, 12, 12, 12, 5});
  first(s.history[0]).sets[0].warm_up = true;
  first(s.history[0]).sets[3].rir_halves = 4;
  CHECK(row(s) == "R19");
}

TEST_CASE("Big step: one rep below the earned number is still made small") {  // R16, 1.3
  for (const auto& [reps, what] : {std::pair{15U, "reps"}, {16U, "load"}}) {
    auto s = adult();
    s.kit.loads_g = bells();
    plan(s, dose("SQ4", 20 * kg));
    did(s, 6, {16, 16, 16}, 3);
    did(s, 3, {reps, 16, 16}, 3);
    CHECK(find_argument(decided(s).row, "what")->text == what);
  }
}

TEST_CASE("R16 in its order: three times two reps, a set, slow, paused") {
  auto s = adult();
  s.kit.loads_g = bells();
  plan(s, dose("SQ4", 20 * kg)).start = dose("SQ4", 20 * kg);
  const auto step = [&](StandingDose standing) {
    s.lines[0].standing = standing;
    s.history.clear();
    const Reps reps(standing.sets, standing.hi);
    did(s, 6, reps, 3);
    did(s, 3, reps, 3);
    first(s.history[1]).sets.front().reps = std::min(15U, standing.hi);  // not earned
    if (standing.hi > 15) first(s.history[1]).sets.front().reps = standing.hi;
    return decided(s);
  };
  CHECK(step(dose("SQ4", 20 * kg)).standing.hi == 14);
  CHECK(step(dose("SQ4", 20 * kg, 3, 8, 14)).standing.hi == 16);
  s.kit.loads_g = std::vector<std::int64_t>{20 * kg, 32 * kg};  // 31 to earn
  CHECK(step(dose("SQ4", 20 * kg, 3, 8, 16)).standing.hi == 18);
  const auto set = step(dose("SQ4", 20 * kg, 3, 8, 18));
  CHECK(set.standing.sets == 4);
  const auto slow = step(dose("SQ4", 20 * kg, 4, 8, 18));
  CHECK(slow.standing.tempo == Tempo{3, 0, 1, 0});
  CHECK(slow.standing.hi == 12);
  auto standing = dose("SQ4", 20 * kg, 4);
  standing.tempo = {3, 0, 1, 0};
  CHECK(step(standing).standing.tempo == Tempo{3, 2, 1, 0});
}

TEST_CASE("R17 in its order: up to 25 reps, slow, paused, the next rung with no heavier load") {
  auto s = adult();
  s.kit.loads_g = std::vector<std::int64_t>{12 * kg};
  plan(s, dose("SQ4", 12 * kg)).start = dose("SQ4", 12 * kg);
  const auto step = [&](StandingDose standing) {
    s.lines[0].standing = standing;
    s.history.clear();
    did(s, 6, Reps(3, standing.hi), 3);
    did(s, 3, Reps(3, standing.hi), 3);
    return decided(s);
  };
  CHECK(step(dose("SQ4", 12 * kg, 3, 8, 24)).standing.hi == 25);
  CHECK(step(dose("SQ4", 12 * kg, 3, 8, 25)).standing.tempo == Tempo{3, 0, 1, 0});
  auto standing = dose("SQ4", 12 * kg);
  standing.tempo = {3, 0, 1, 0};
  CHECK(step(standing).standing.tempo == Tempo{3, 2, 1, 0});
  standing.tempo = {3, 2, 1, 0};
  CHECK(step(standing).standing.exercise == "SQ6");
  CHECK(step(standing).dose.load_g == 12 * kg);
}

TEST_CASE("R22: with four and more left everywhere an adult adds two, with pain or three left one") {
  const auto last_time = [](std::uint32_t rir) {
    auto s = goblet();
    did(s, 3, {9, 9, 9}, rir);
    return s;
  };
  CHECK(reps_of(decided(last_time(4)).dose) == Reps{11, 11, 11});
  CHECK(reps_of(decided(last_time(3)).dose) == Reps{10, 10, 10});
  auto s = last_time(4);
  s.athlete.age_low = s.athlete.age_high = 16;
  CHECK(reps_of(decided(s).dose) == Reps{10, 10, 10});
  s = last_time(4);
  first(s.history[0]).sets[0].rir_halves = 6;
  CHECK(reps_of(decided(s).dose) == Reps{10, 10, 10});
}

TEST_CASE("R22: a hold gets five seconds") {
  auto s = adult();
  plan(s, dose("TR3", {}, 2, 20, 60));
  did(s, 3, {30, 25}, kNotSaid);
  CHECK(reps_of(decided(s).dose) == Reps{35, 30});
}

TEST_CASE("R21: the first time is the low end with four left") {
  auto s = goblet(20 * kg);
  const auto d = decided(s);
  CHECK(d.row.row == "R21");
  CHECK(reps_of(d.dose) == Reps{8, 8, 8});
  CHECK(d.dose.rir == 4);
}

TEST_CASE("very sore before the first time of a move: fewer sets, and as easy as a first time is") {  // R25 stands before R21; the safer of both
  auto s = goblet(20 * kg);
  sore(s, model::Pattern::squat, 1, 3);
  const auto d = decided(s);
  CHECK(d.row.row == "R25");
  CHECK(reps_of(d.dose) == Reps{8, 8});
  CHECK(d.dose.rir == 4);
}

TEST_CASE("R21 or R27 overruled: no rep is added before there is one") {  // 6.1: reps that a row does not write are as HOLD
  auto s = goblet(20 * kg);
  s.overrulings.push_back({"R21", "SQ4"});
  s.overrulings.push_back({"R27", "SQ4"});
  CHECK(row(s) == "R22");
  CHECK(reps_of(decided(s).dose) == Reps{8, 8, 8});
  did(s, 3, {9, 9, 9});
  Written written;
  written.standing = dose("SQ4", 20 * kg);
  first(s.history[0]).written = written;
  s.lines[0].standing = dose("SQ4", 30 * kg, 4, 5, 8);
  s.lines[0].by_coach = true;
  s.lines[0].since = day(1);
  CHECK(row(s) == "R22");
  CHECK(reps_of(decided(s).dose) == Reps{5, 5, 5, 5});
}

TEST_CASE("R27: what the coach wrote is given as written") {
  auto s = goblet(20 * kg);
  did(s, 3, {12, 12, 12});
  Written written;
  written.standing = dose("SQ4", 20 * kg);
  first(s.history[0]).written = written;
  auto& line = s.lines[0];
  line.standing = dose("SQ4", 30 * kg, 4, 5, 8);
  line.by_coach = true;
  line.since = day(1);
  const auto d = decided(s);
  CHECK(d.row.row == "R27");
  CHECK(d.dose.load_g == 30 * kg);
  CHECK(reps_of(d.dose) == Reps{5, 5, 5, 5});
  CHECK(d.dose.rir == 2);
}

TEST_CASE("An increase takes effect with the session in which it is first done, and not before") {  // 6.1
  auto s = adult();
  s.kit.loads_g = loads(2 * kg, 40 * kg, 2 * kg);
  plan(s, dose("SQ4", 20 * kg));
  did(s, 9, {12, 12, 12}, 3);
  did(s, 6, {12, 12, 12}, 3);
  const std::vector<Prescribed> prescribed{{dose("SQ4", 20 * kg), day(30), true}};
  CHECK(present_line(prescribed, s.history, s.pains, s.athlete, s.today).standing.load_g == 20 * kg);
  s.today = day(3);
  const auto session = decide(s);
  CHECK(session.exercises[0].dose.load_g == 22 * kg);
  carry_out(s, 3, session, {9, 8, 8}, 1);
  s.today = day(0);
  s.lines[0] = present_line(prescribed, s.history, s.pains, s.athlete, s.today);
  CHECK(s.lines[0].standing.load_g == 22 * kg);
  CHECK(s.lines[0].start->hi == 12);
  const auto d = decided(s);
  CHECK(d.row.row == "R22");
  CHECK(reps_of(d.dose) == Reps{10, 9, 9});
}

TEST_CASE("A passing dose never becomes a base") {  // 6.1
  auto s = goblet();
  did(s, 30, {10, 10, 10});
  s.today = day(3);
  carry_out(s, 3, decide(s), {8}, 4);
  s.today = day(0);
  const std::vector<Prescribed> prescribed{{dose("SQ4", 40 * kg), day(60), true}};
  CHECK(present_line(prescribed, s.history, s.pains, s.athlete, s.today).standing.load_g == 40 * kg);
}

TEST_CASE("A prescription written again as it stands begins nothing anew; a changed one does") {
  auto s = goblet(20 * kg);
  did(s, 6, {12, 12, 12});
  did(s, 3, {12, 12, 12});
  std::vector<Prescribed> prescribed{{dose("SQ4", 20 * kg), day(30), true}, {dose("SQ4", 20 * kg), day(1), true}};
  s.lines[0] = present_line(prescribed, s.history, s.pains, s.athlete, s.today);
  CHECK(decided(s).counters.hits == 2);
  prescribed[1].dose.hi = 10;
  s.lines[0] = present_line(prescribed, s.history, s.pains, s.athlete, s.today);
  CHECK(decided(s).row.row == "R27");
}

TEST_CASE("Going up one load in the first session makes the heaviest good one the standing load") {  // 6.7
  auto s = goblet(20 * kg);
  auto& done = first(did(s, 3, {8, 8, 8}, 4));
  done.written = Written{};
  done.written->standing = dose("SQ4", 20 * kg);
  done.written->rows = {"G13", "R21"};
  done.sets[1].load_g = 22'500;
  done.sets[2].load_g = 25'000;
  done.sets[1].rir_halves = 8;
  done.sets[2].rir_halves = 2;  // one left: too heavy yet
  CHECK(decided(s).standing.load_g == 22'500);
  done.sets[2].rir_halves = 4;
  CHECK(decided(s).standing.load_g == 25'000);
  s.athlete.age_low = s.athlete.age_high = 16;
  CHECK(decided(s).standing.load_g == 20'000);
}

TEST_CASE("Days that lie ahead, or before the athlete began, are left out and flagged") {  // 6.7
  auto s = goblet();
  did(s, 3, {10, 10, 10});
  did(s, -1, {12, 12, 12});
  did(s, 400, {12, 12, 12});
  s.first_day = day(200);
  const auto d = decide(s);
  CHECK(d.flagged.size() == 2);
  CHECK(d.exercises[0].counters.counted == 1);
  CHECK(d.exercises[0].counters.gap == 3);
}

TEST_CASE("A load that is not here today becomes the largest below it, for today only") {  // 6.1
  auto s = goblet(21 * kg);
  did(s, 3, {10, 10, 10});
  auto d = decided(s);
  CHECK(d.dose.load_g == 20 * kg);
  CHECK(d.passing);
  CHECK(d.standing.load_g == 21 * kg);
  s.kit.loads_g = std::vector<std::int64_t>{24 * kg};
  d = decided(s);
  CHECK(d.dose.exercise == "SQ3");
  CHECK(d.passing);
}
