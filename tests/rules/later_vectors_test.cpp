// The decision vectors of the handbook, section 6.6, from D43 on, and T47; what is left out and
// why stands in vectors_test.cpp.
#include <doctest/doctest.h>

#include "vectors_kit.h"

using namespace slipway;
using namespace slipway::kit;
using namespace slipway::rules;
using model::Pattern;
using Reps = std::vector<std::uint32_t>;

TEST_CASE("D43: where no lighter load is here the range goes down") {
  auto s = goblet(12 * kg, {12 * kg});
  did(s, 6, {8, 7, 6}, 0);
  did(s, 3, {8, 7, 7}, 0);
  const auto d = decided(s);
  CHECK(d.row.row == "R11");
  CHECK(d.dose.load_g == 12 * kg);
  CHECK(d.standing.lo == 5);
  CHECK(d.standing.hi == 8);
}

TEST_CASE("D44: where no heavier load is here two reps are added") {
  const auto d = decided(two_tops(12 * kg, {12 * kg}));
  CHECK(d.row.row == "R17");
  CHECK(d.standing.hi == 14);
}

TEST_CASE("D46 and D47: a new phase works out its load from the old one") {
  struct Change {
    std::int64_t old_g;
    std::uint32_t old_lo, old_hi;
    std::int64_t by_g;
    std::uint32_t lo, hi;
    std::int64_t load_g;
  };
  for (const Change& c : {Change{20 * kg, 10, 15, 2 * kg, 5, 8, 22 * kg}, Change{30 * kg, 5, 8, 2500, 10, 15, 25 * kg}}) {
    SessionSituation s = adult();
    s.kit.loads_g = loads(c.by_g, 50 * kg, c.by_g);
    plan(s, dose("SQ4", c.old_g, 3, c.lo, c.hi));
    Written written;
    written.standing = dose("SQ4", c.old_g, 3, c.old_lo, c.old_hi);
    first(did(s, 3, {c.old_hi, c.old_hi, c.old_hi})).written = written;
    const auto d = decided(s);
    CHECK(d.row.row == "R27");
    CHECK(d.dose.load_g == c.load_g);
    CHECK(reps_of(d.dose) == Reps{c.lo, c.lo, c.lo});
    CHECK(d.dose.rir == 3);
    CHECK(find_argument(d.row, "old_load_g")->number == c.old_g);
  }
}

TEST_CASE("D48: a plank that is long enough twice becomes shoulder taps, and nobody asks what was left") {
  SessionSituation s = adult();
  plan(s, dose("TR3", {}, 2, 20, 45));
  did(s, 6, {45, 45}, kNotSaid);
  did(s, 3, {45, 45}, kNotSaid);
  const auto d = decided(s);
  CHECK(d.row.row == "R18");
  CHECK(d.dose.exercise == "TR8");
  CHECK(reps_of(d.dose) == Reps{6, 6});
}

TEST_CASE("D49: pull-ups at the top of 5-8 go to 10 before anything is hung on") {
  SessionSituation s = adult();
  plan(s, dose("VP6", {}, 3, 5, 8));
  did(s, 6, {8, 8, 8});
  did(s, 3, {8, 8, 8});
  const auto d = decided(s);
  CHECK(d.row.row == "R18");
  CHECK(d.dose.exercise == "VP6");
  CHECK(d.standing.hi == 10);
}

TEST_CASE("D50: ten in the first set twice is the milestone, hits or not") {
  SessionSituation s = adult();
  weighs(s, 70 * kg);
  s.kit.plates_g = std::vector<std::int64_t>{1250, 2500};
  plan(s, dose("VP6", {}, 3, 8, 15));
  did(s, 6, {11, 9, 8});
  did(s, 3, {10, 9, 8});
  const auto d = decided(s);
  CHECK(d.counters.hits == 0);
  CHECK(d.row.row == "R14");
  CHECK(d.dose.exercise == "VP8");
}

TEST_CASE("D51: pain of 7 last week stays a stop until somebody clears it") {
  auto s = goblet(20 * kg, kByTwoAndHalf);
  did(s, 8, {10, 10, 10});
  hurt(s, 8, 7);
  auto& check = hurt(s, 0, 0);
  check.at = PainAt::check;
  check.session_id.clear();
  CHECK(row(s) == "R01");
}

TEST_CASE("D52: two calm sessions of the substitute bring the exercise back lighter") {
  auto s = goblet(20 * kg, kByTwoAndHalf);
  did(s, 9, {10, 10, 10});
  hurt(s, 9, 4);
  for (std::int32_t ago : {6, 3}) {
    auto& session = did_other(s, ago, "SQ2", {}, {10, 10, 10});
    Written written;
    written.standing = s.lines[0].standing;
    written.rows = {"G13", "R02"};
    written.passing = true;
    written.stands_for = "SQ4";
    first(session).written = written;
    auto& report = hurt(s, ago, 1);
    report.exercise = "SQ2";
  }
  const auto d = decided(s);
  CHECK(d.row.row == "R23");
  CHECK(d.dose.load_g == 15 * kg);
  CHECK(d.dose.sets() == 2);
  s.history.pop_back();  // only one of the two
  CHECK(row(s) == "R02");
}

TEST_CASE("D53: a session left unfinished without a word counts neither way") {
  auto s = goblet(20 * kg, kByTwoAndHalf);
  did(s, 6, {12, 12, 12});
  did(s, 3, {12, 12});
  const auto d = decided(s);
  CHECK(d.row.row == "R19");
  CHECK(d.counters.hits == 1);
  CHECK(d.counters.counted == 1);
}

TEST_CASE("D54: sets spread over the day are kept but not counted where straight sets were written") {
  SessionSituation s = adult();
  plan(s, dose("PU4"));
  did(s, 9, {10, 9, 9});
  for (std::int32_t ago : {6, 3}) {
    auto& done = first(did(s, ago, {12, 12, 12}, 3));
    for (std::size_t i = 0; i < 3; ++i) done.sets[i].at_ms = static_cast<std::int64_t>(i) * 7'200'000;
  }
  const auto d = decided(s);
  CHECK(d.counters.hits == 0);
  CHECK(d.counters.counted == 1);
  CHECK(d.row.row == "R22");
  CHECK(reps_of(d.dose) == Reps{11, 10, 10});
}

TEST_CASE("D55: the weaker side leads") {
  SessionSituation s = adult();
  s.kit.loads_g = bells();
  plan(s, dose("SQ6", 12 * kg));
  auto& done = first(did(s, 3, {}));
  for (const auto& [side, reps] : {std::pair{Side::left, Reps{12, 12, 12}}, {Side::right, Reps{12, 11, 12}}})
    for (std::uint32_t r : reps) {
      SetFact set;
      set.reps = r;
      set.side = side;
      set.load_g = 12 * kg;
      set.rir_halves = 6;
      done.sets.push_back(set);
    }
  const auto d = decided(s);
  CHECK(d.row.row == "R22");
  CHECK(reps_of(d.dose) == Reps{12, 12, 12});
}

TEST_CASE("D56: a second week off right after the first goes on as if nothing were") {
  auto s = goblet(40 * kg, kByTwoAndHalf);
  did(s, 22, {12, 12, 12});
  Written written;
  written.standing = s.lines[0].standing;
  written.rows = {"G13", "R08"};
  first(did(s, 10, {12, 12, 12})).written = written;
  CHECK(row(s) == "R15");
}

TEST_CASE("D57: very sore today holds and leaves a set out") {
  auto s = two_tops(20 * kg, loads(2 * kg, 40 * kg, 2 * kg));
  sore(s, Pattern::squat, 2, 3);
  const auto d = decided(s);
  CHECK(d.row.row == "R25");
  CHECK(d.dose.sets() == 2);
  CHECK(d.dose.load_g == 20 * kg);
}

TEST_CASE("D59: a heavier load that an adult chose becomes his") {
  auto s = goblet(20 * kg, loads(2 * kg, 40 * kg, 2 * kg));
  did(s, 6, {12, 12, 12});
  auto& done = first(did(s, 3, {9, 9, 8}));
  for (SetFact& set : done.sets) set.load_g = 22 * kg;
  const auto d = decided(s);
  CHECK(d.standing.load_g == 22 * kg);
  CHECK(d.dose.load_g == 22 * kg);
  CHECK(d.counters.hits == 0);
  CHECK(d.counters.misses == 0);
}

namespace {

// All of R16 a-d used: three times two reps (taken back by the tempo), a set, slow, paused.
SessionSituation all_micro_used(SessionSituation s, std::int64_t load_g, std::vector<std::int64_t> kit, std::uint32_t sets) {
  s.kit.loads_g = std::move(kit);
  auto standing = dose("SQ4", load_g, sets);
  standing.tempo = {3, 2, 1, 0};
  plan(s, standing).start = dose("SQ4", load_g);
  const Reps reps(sets, 18);
  did(s, 6, reps, 3);
  did(s, 3, reps, 3);
  return s;
}

}  // namespace

TEST_CASE("D60: at 17 a jump of 4 kg that is not earned gives way to the next rung") {
  auto s = all_micro_used(youth(17, 65 * kg), 12 * kg, {8 * kg, 12 * kg, 16 * kg}, 4);
  signed_off(s, "SQ4", SignOffLevel::sound, 20);
  const auto d = decided(s);
  CHECK(d.row.row == "R16");
  CHECK(d.reps_to_earn == 21U);
  CHECK(d.dose.exercise == "SQ6");
  CHECK(d.dose.load_g == 12 * kg);
}

TEST_CASE("D63: a jump of 2 kg is taken in the end, also at 15") {
  auto s = all_micro_used(youth(15, 60 * kg), 6 * kg, bells(), 3);
  signed_off(s, "SQ4", SignOffLevel::sound, 30);
  signed_off(s, "SQ4", SignOffLevel::loaded, 20);
  const auto d = decided(s);
  CHECK(d.row.row == "R16");
  CHECK(d.reps_to_earn == 21U);
  CHECK(d.dose.exercise == "SQ4");
  CHECK(d.dose.load_g == 8 * kg);
  CHECK(reps_of(d.dose) == Reps{8, 8, 8});
}

TEST_CASE("D64: twice the load is no step for an adult either") {
  const auto d = decided(all_micro_used(adult(), 8 * kg, {8 * kg, 16 * kg}, 4));
  CHECK(d.row.row == "R16");
  CHECK(d.dose.exercise == "SQ6");
  CHECK(d.dose.load_g == 8 * kg);
}

TEST_CASE("D61: a session that arrives late counts by its training date") {
  auto s = goblet(20 * kg, loads(2 * kg, 40 * kg, 2 * kg));
  did(s, 2, {12, 12, 12});  // Thursday, here first
  CHECK(row(s) == "R19");
  did(s, 4, {12, 12, 12});  // Tuesday, arrives after it
  const auto d = decided(s);
  CHECK(d.counters.hits == 2);
  CHECK(d.row.row == "R15");
}

TEST_CASE("D62: pain that arrives late acts at once, also in an open session") {
  auto s = goblet(20 * kg, kByTwoAndHalf);
  did(s, 4, {10, 10, 10});
  auto& open = did(s, 0, {10, 10});
  open.open = true;
  CHECK(row(s) == "R22");
  hurt(s, 4, 4, false);
  const auto d = decided(s);
  CHECK(d.row.row == "R01");
  CHECK(asks(d, Ask::settled));
  CHECK(s.history.back().exercises[0].sets.size() == 2);  // what was done stays
}

TEST_CASE("T47: the cuts of a 16 kg bell among 8, 12 and 16") {
  const std::vector<std::int64_t> kit{8 * kg, 12 * kg, 16 * kg};
  CHECK(load_cut(16 * kg, 10, kit) == 12 * kg);  // exactly 75 %
  CHECK(load_cut(16 * kg, 20, kit) == 12 * kg);
  CHECK_FALSE(load_cut(16 * kg, 30, kit));  // 8 is 50 %, below 55 %
  auto s = goblet(16 * kg, kit);
  did(s, 30, {10, 10, 10});
  const auto d = decided(s);
  CHECK(d.row.row == "R05");
  CHECK(d.dose.exercise == "SQ2");  // two rungs easier
}
