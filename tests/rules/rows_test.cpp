// Dose rows of handbook 6.3 down to R10 at their borders, one step each way, and their order.
#include <doctest/doctest.h>

#include "kit/rules_kit.h"

using namespace slipway;
using namespace slipway::kit;
using namespace slipway::rules;
using model::Pattern;
using Reps = std::vector<std::uint32_t>;

namespace {

SessionSituation goblet(std::int64_t load_g = 40 * kg) {
  SessionSituation s = adult();
  s.kit.loads_g = loads(2500, 50'000, 2500);
  plan(s, dose("SQ4", load_g));
  return s;
}

void report_check(SessionSituation& s, std::uint32_t amount) {
  auto& check = hurt(s, 0, amount);
  check.at = PainAt::check;
  check.exercise.clear();
  check.session_id.clear();
  check.region = "knee";
}

}  // namespace

TEST_CASE("Pain of 0 to 10 at the last session, settled: go, hold, swap, stop") {  // 2.6, R01-R03
  const char* expected[] = {"R22", "R03", "R03", "R02", "R02", "R02", "R01", "R01", "R01", "R01", "R01"};
  for (std::uint32_t amount = 0; amount <= 10; ++amount) {
    CAPTURE(amount);
    auto s = goblet();
    did(s, 3, {10, 10, 10});
    if (amount > 0) hurt(s, 3, amount);
    CHECK(row(s) == expected[amount]);
  }
}

TEST_CASE("R01: pain of 3 that was not settled, or that nobody asked about, stops; pain of 2 does not") {
  for (const auto& [amount, row_id] : {std::pair{2U, "R03"}, {3U, "R01"}}) {
    auto s = goblet();
    did(s, 3, {10, 10, 10});
    hurt(s, 3, amount, {});
    CHECK(row(s) == row_id);
    s.pains[0].settled = false;
    CHECK(row(s) == row_id);
  }
}

TEST_CASE("R01: 3 and more in today's check is not settled") {
  auto s = goblet();
  did(s, 3, {10, 10, 10});
  report_check(s, 2);
  CHECK(row(s) == "R03");
  s.pains.clear();
  report_check(s, 3);
  CHECK(row(s) == "R01");
}

TEST_CASE("R01: 3 twice in a row stops, 3 with a 2 between swaps") {
  auto s = goblet();
  did(s, 9, {10, 10, 10});
  hurt(s, 9, 3);
  did(s, 6, {10, 10, 10});
  hurt(s, 6, 2);
  did(s, 3, {10, 10, 10});
  hurt(s, 3, 3);
  CHECK(row(s) == "R02");
  s.pains[1].amount = 3;
  CHECK(row(s) == "R01");
}

TEST_CASE("R01: pain of 6 at one exercise stops every exercise with that joint") {
  auto s = goblet();
  did(s, 3, {10, 10, 10});
  hurt(s, 3, 6).joints = model::joint::knee;
  plan(s, dose("LU2", {}, 3, 6, 10));
  plan(s, dose("PU4"));
  const auto d = decide(s);
  CHECK(d.exercises[0].row.row == "R01");
  CHECK(d.exercises[1].row.row == "R01");
  CHECK(d.exercises[2].row.row == "R21");
}

TEST_CASE("Pain of 4 at one exercise holds the others with that joint") {  // 6.1
  auto s = goblet();
  did(s, 3, {10, 10, 10});
  auto& session = did_other(s, 3, "LU2", {}, {8, 8, 8});
  session.start_ms -= 1;  // earlier that day: a later calm answer would lower it
  plan(s, dose("LU2", {}, 3, 6, 10));
  auto& report = hurt(s, 3, 4);
  report.session_id = s.history[0].id;
  report.exercise = "SQ4";
  report.joints = model::joint::knee;
  const auto d = decide(s);
  CHECK(d.exercises[0].row.row == "R02");
  CHECK(d.exercises[1].row.row == "R03");
}

TEST_CASE("What was never done waits while pain of 3 to 5 at that joint is not settled, and says the pain when it begins") {  // 6.1, common practice, no source
  auto s = adult();
  plan(s, dose("PU3"));
  did(s, 3, {10, 10, 10});
  plan(s, dose("PU4"));  // the next one of its line, never done
  plan(s, dose("SQ3"));
  auto& report = hurt(s, 3, 5);
  report.exercise = "PU3";
  report.joints = model::joint::shoulder;
  const auto rows = [&] {
    std::vector<std::string> out;
    for (const auto& exercise : decide(s).exercises) out.push_back(exercise.row.row);
    return out;
  };
  using Rows = std::vector<std::string>;
  CHECK(rows() == Rows{"R02", "R21", "R21"});  // hurt() says settled
  const auto begun = decide(s).exercises[1];
  REQUIRE(begun.row.evidence.size() == 1);
  CHECK(begun.row.evidence[0].of == EvidenceOf::pain);
  s.pains[0].settled = false;
  CHECK(rows() == Rows{"R01", "R01", "R21"});
  s.pains[0].settled.reset();
  CHECK(rows() == Rows{"R01", "R01", "R21"});
  s.pains[0].amount = 2;
  CHECK(rows() == Rows{"R03", "R21", "R21"});
  s.pains[0].amount = 5;
  s.overrulings.push_back({"R01", "PU4"});  // an adult's below 6 may be: then it begins, and is not said to have hurt
  CHECK(rows() == Rows{"R01", "R21", "R21"});
  s.overrulings.clear();
  did_other(s, 2, "PU4", {}, {8, 8, 8});  // done since, and nothing was said
  CHECK(rows()[0] == "R01");
  CHECK(rows()[1] == "R22");
}

TEST_CASE("Shoulder pain in the water reaches what uses the shoulder: the list of 5.2 is swapped, the rest holds") {  // 2.6, 6.1
  auto s = adult();
  plan(s, dose("PU6"));
  did(s, 3, {10, 10, 10});
  plan(s, dose("PU4"));
  did(s, 4, {10, 10, 10});
  plan(s, dose("SQ3"));
  did(s, 4, {10, 10, 10});
  auto& swim = hurt(s, 1, 4);
  swim.at = PainAt::swim;
  swim.exercise.clear();
  swim.session_id.clear();
  swim.region = "front_shoulder";
  auto d = decide(s);
  CHECK(d.exercises[0].row.row == "R02");
  CHECK(d.exercises[0].dose.exercise == "PU3");
  CHECK(d.exercises[1].row.row == "R03");
  CHECK(d.exercises[2].row.row == "R22");
  s.pains[0].settled.reset();
  d = decide(s);
  CHECK(d.exercises[0].row.row == "R01");
  CHECK(d.exercises[1].row.row == "R01");
}

TEST_CASE("A local red flag stops its part and nothing else, and the coach cannot overrule it") {  // 2.7
  auto s = goblet();
  did(s, 3, {10, 10, 10});
  plan(s, dose("PU4"));
  did(s, 3, {10, 10, 10});
  RedFlag flag;
  flag.local = true;
  flag.joints = model::joint::knee;
  flag.day = day(1);
  s.red_flags.push_back(flag);
  s.overrulings.push_back({"R01", {}});
  const auto d = decide(s);
  CHECK(d.exercises[0].row.row == "R01");
  CHECK(d.exercises[1].row.row == "R22");
}

TEST_CASE("R01 below 6 may be overruled for an adult, never for a youth") {  // 6
  auto s = goblet();
  did(s, 3, {10, 10, 10});
  hurt(s, 3, 3, false);
  s.overrulings.push_back({"R01", "SQ4"});
  CHECK(row(s) == "R02");
  CHECK(decided(s).row.overruled == std::vector<std::string>{"R01"});
  s.athlete.age_low = s.athlete.age_high = 16;
  CHECK(row(s) == "R01");
}

TEST_CASE("A clearance frees the exercise, and it comes back lighter: R23, then the ramp") {  // 2.7, R23, R24
  auto s = goblet(20 * kg);
  did(s, 9, {10, 10, 10});
  hurt(s, 9, 7);
  Clearance note;
  note.day = day(2);
  note.joints = model::joint::knee | model::joint::hip | model::joint::ankle | model::joint::spine;
  s.clearances = {note};
  CHECK(row(s) == "R01");  // 6 and more: "seen by" is not enough
  s.clearances[0].clinician_allowed = true;
  auto session = decide(s);
  CHECK(session.exercises[0].row.row == "R23");
  CHECK(session.exercises[0].dose.load_g == 15 * kg);
  CHECK(session.exercises[0].dose.sets() == 2);
  s.today = day(1);
  carry_out(s, 1, session, {8, 8});
  s.today = day(-2);
  const auto d = decided(s);
  CHECK(d.row.row == "R24");
  CHECK(d.ramp_step == RampStep::c);
  CHECK(d.dose.load_g == 17'500);
}

TEST_CASE("Seven days in daily life at 1 or below free an adult below 6, six days do not") {  // 2.7
  for (const std::int32_t days : {6, 7}) {
    auto s = goblet(20 * kg);
    did(s, 9, {10, 10, 10});
    hurt(s, 9, 4, false);
    for (std::int32_t i = 0; i < days; ++i) {
      PainReport daily;
      daily.day = day(7 - i);
      daily.at = PainAt::daily;
      daily.amount = 1;
      s.pains.push_back(daily);
    }
    CHECK(row(s) == (days == 7 ? "R23" : "R01"));
  }
}

TEST_CASE("R09: sore for more than 7 days stops; R10: for more than 4 reduces; below that nothing") {
  const char* expected[] = {"R22", "R22", "R22", "R22", "R22", "R10", "R10", "R10", "R09", "R09"};
  for (std::int32_t days = 0; days < 10; ++days) {
    CAPTURE(days);
    auto s = goblet();
    did(s, 3, {10, 10, 10});
    sore(s, Pattern::squat, days);
    CHECK(row(s) == expected[days]);
  }
}

TEST_CASE("R09 ends with an answer that is no longer sore, then the exercise comes back by R23") {
  auto s = goblet();
  did(s, 9, {10, 10, 10});
  for (std::int32_t ago = 1; ago <= 8; ++ago) s.soreness.push_back({day(ago), Pattern::squat, 2});
  s.soreness.push_back({day(0), Pattern::squat, 1});
  CHECK(row(s) == "R23");
  s.soreness.back().level = 2;
  CHECK(row(s) == "R09");
}

TEST_CASE("R25: soreness of 3 today, not of 2") {
  for (const auto& [level, row_id] : {std::pair{2U, "R22"}, {3U, "R25"}}) {
    auto s = goblet();
    did(s, 3, {10, 10, 10});
    sore(s, Pattern::squat, 1, level);
    CHECK(row(s) == row_id);
  }
}

TEST_CASE("Breaks by their days: 9, 10, 13, 14, 20, 21, 27, 28, 83, 84") {  // 6.1 gap class, R04-R08
  for (const auto& [days, row_id] : {std::pair{9, "R22"}, {10, "R08"}, {13, "R08"}, {14, "R07"}, {20, "R07"}, {21, "R06"}, {27, "R06"},
                                     {28, "R05"}, {83, "R05"}, {84, "R04"}}) {
    const auto shown = days;  // doctest makes a lambda of it, which may not hold a structured binding
    CAPTURE(shown);
    auto s = goblet();
    did(s, days, {10, 10, 10});
    CHECK(row(s) == row_id);
  }
}

TEST_CASE("R04: after twelve weeks the line starts as for a new athlete, on its entry rung") {
  auto s = goblet();
  did(s, 90, {10, 10, 10});
  const auto d = decided(s);
  CHECK(d.dose.exercise == "SQ3");
  CHECK(d.dose.sets() == 1);
  CHECK(d.dose.rir == 4);
  CHECK(d.standing.exercise == "SQ3");
  CHECK(asks(d, Ask::entry_sets));
}

TEST_CASE("A bridge needs enough sessions, and lately") {  // 6.1
  struct Bridge {
    std::vector<std::int32_t> days_ago;
    const char* row;
  };
  for (const Bridge& bridge : {Bridge{{2, 6}, "R08"}, Bridge{{2}, "R07"}, Bridge{{9, 12}, "R08"}, Bridge{{10, 12}, "R07"}}) {
    auto s = goblet();
    did(s, 14, {10, 10, 10});
    for (std::int32_t ago : bridge.days_ago) did_other(s, ago, "SQ3", {}, {10, 10, 10});
    CHECK(row(s) == bridge.row);
  }
}

TEST_CASE("R24: the same step again after a miss, with a little pain, sore for three days, or a week later") {
  const auto on_the_way = [] {
    auto s = goblet();
    did(s, 40, {10, 10, 10});
    did_by(s, 3, "R06", 30'000, {8, 8});
    return s;
  };
  CHECK(decided(on_the_way()).ramp_step == RampStep::c);
  auto s = on_the_way();
  first(s.history[1]).sets[1].reps = 7;
  CHECK(decided(s).ramp_step == RampStep::b);
  s = on_the_way();
  hurt(s, 3, 1);
  CHECK(decided(s).ramp_step == RampStep::b);
  s = on_the_way();
  sore(s, Pattern::squat, 2);
  CHECK(decided(s).ramp_step == RampStep::c);
  sore(s, Pattern::squat, 3);
  CHECK(decided(s).ramp_step == RampStep::b);
  s = on_the_way();
  s.today = day(-6);
  CHECK(decided(s).ramp_step == RampStep::c);
  s.today = day(-7);
  CHECK(decided(s).row.row == "R24");
  CHECK(decided(s).ramp_step == RampStep::b);
}

TEST_CASE("R24: a step that a gate cut further is not yet done") {  // 6.1
  auto s = goblet();
  did(s, 40, {10, 10, 10});
  first(did_by(s, 3, "R06", 30'000, {8})).written->cut_by_gate = true;
  CHECK(decided(s).row.row == "R24");
  CHECK(decided(s).ramp_step == RampStep::b);
}
