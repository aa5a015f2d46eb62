// Technique sign-off: form first as a gate (handbook 6.8).
#include <doctest/doctest.h>

#include "kit/rules_kit.h"

using namespace slipway;
using namespace slipway::kit;
using namespace slipway::rules;

namespace {

SessionSituation ready_to_rise(std::int32_t age) {
  auto s = youth(age, 60 * kg);
  s.kit.loads_g = loads(1 * kg, 40 * kg, 1 * kg);
  plan(s, dose("SQ4", 12 * kg));
  did(s, 7, {12, 12, 12}, 3);
  did(s, 3, {12, 12, 12}, 3);
  return s;
}

}  // namespace

TEST_CASE("A youth's step waits for the look, and comes in the first session after it") {
  auto s = ready_to_rise(15);
  CHECK(row(s) == "R26");
  CHECK(decided(s).counters.hits == 2);
  signed_off(s, "SQ4", SignOffLevel::sound, 0);
  CHECK(row(s) == "R15");
}

TEST_CASE("While the gate is closed reps inside the range still grow") {
  auto s = ready_to_rise(15);
  first(s.history[1]).sets[0].reps = 10;
  CHECK(row(s) == "R22");
}

TEST_CASE("An adult's gate is off until somebody switches it on") {
  auto s = ready_to_rise(15);
  s.athlete.age_low = s.athlete.age_high = 30;
  CHECK(row(s) == "R15");
  s.athlete.gate_on = true;
  CHECK(row(s) == "R26");
}

TEST_CASE("A sign-off holds 84 days, not 85") {
  auto s = ready_to_rise(16);
  for (std::int32_t ago = 10; ago < 90; ago += 7) did(s, ago, {10, 10, 10}, 2);
  signed_off(s, "SQ4", SignOffLevel::sound, 84);
  CHECK(row(s) == "R15");
  s.sign_offs[0].day = day(85);
  CHECK(row(s) == "R26");
}

TEST_CASE("A sign-off ends with a break of four weeks, and with pain that swapped or stopped the exercise") {
  auto s = ready_to_rise(16);
  did(s, 34, {12, 12, 12}, 3);
  signed_off(s, "SQ4", SignOffLevel::sound, 40);
  CHECK(row(s) == "R15");  // 27 days between
  s.history.back().day = day(35);
  CHECK(row(s) == "R26");  // 28
  s.history.pop_back();
  CHECK(row(s) == "R15");
  hurt(s, 30, 2).session_id.clear();
  CHECK(row(s) == "R15");
  s.pains[0].amount = 3;
  CHECK(row(s) == "R26");
}

TEST_CASE("Under 16 two increases since the look end it, from 16 they do not") {
  for (const auto& [age, row_id] : {std::pair{15, "R26"}, {16, "R15"}}) {
    auto s = ready_to_rise(age);
    signed_off(s, "SQ4", SignOffLevel::sound, 30);
    for (std::int32_t ago : {20, 14}) {
      auto& done = first(did(s, ago, {8, 8, 8}));
      done.written = Written{};
      done.written->standing = dose("SQ4", ago == 20 ? 10 * kg : 11 * kg);
      done.written->rows = {"G13", "R15"};
    }
    CHECK(row(s) == row_id);
    first(s.history.back()).written->rows = {"G13", "R22"};
    CHECK(row(s) == "R15");
  }
}

TEST_CASE("Of facts of one moment the more careful one counts") {
  auto s = ready_to_rise(15);
  signed_off(s, "SQ4", SignOffLevel::loaded, 2);
  signed_off(s, "SQ4", SignOffLevel::sound, 2);
  CHECK(row(s) == "R15");
  signed_off(s, "SQ4", SignOffLevel::none, 2);
  CHECK(row(s) == "R26");
  signed_off(s, "SQ4", SignOffLevel::withdrawn, 2);
  CHECK(row(s) == "R28");
}

TEST_CASE("R28: withdrawn steps back to the load last signed off, once, with the low end and four left") {
  auto s = ready_to_rise(15);
  signed_off(s, "SQ4", SignOffLevel::sound, 30);
  s.sign_offs[0].load_g = 9 * kg;
  signed_off(s, "SQ4", SignOffLevel::withdrawn, 2);
  s.sign_offs[1].note = "note7";
  auto session = decide(s);
  const auto& d = session.exercises[0];
  CHECK(d.row.row == "R28");
  CHECK(d.dose.load_g == 9 * kg);
  CHECK(d.dose.rir == 4);
  CHECK(reps_of(d.dose) == std::vector<std::uint32_t>{8, 8, 8});
  CHECK(d.standing.load_g == 9 * kg);
  CHECK(tells_coach(d, "W07"));
  CHECK(find_argument(d.row, "note")->text == "note7");
  s.lines[0].standing = d.standing;
  carry_out(s, 0, session, {8, 8, 8}, 4);
  s.today = day(-3);
  CHECK(row(s) == "R22");
}

TEST_CASE("R28 without a load signed off: the rung signed off, else 20 % less") {
  auto s = ready_to_rise(15);
  signed_off(s, "SQ4", SignOffLevel::withdrawn, 2);
  CHECK(decided(s).dose.load_g == 9 * kg);  // at most 9.6
  signed_off(s, "SQ3", SignOffLevel::sound, 30);
  CHECK(decided(s).dose.exercise == "SQ3");
}

TEST_CASE("The look is offered once after the second session on a rung") {
  auto s = ready_to_rise(15);
  first(s.history[0]).sets[0].reps = 10;
  first(s.history[1]).sets[0].reps = 10;
  CHECK(asks(decided(s), Ask::sign_off));
  s.history.pop_back();
  CHECK_FALSE(asks(decided(s), Ask::sign_off));
}

TEST_CASE("An adult without a coach who saw his last rep go wrong waits once") {
  auto s = ready_to_rise(15);
  s.athlete.age_low = s.athlete.age_high = 30;
  s.athlete.has_coach = false;
  CHECK(row(s) == "R15");
  first(s.history[1]).looked_alike = true;
  CHECK(row(s) == "R15");
  first(s.history[1]).looked_alike = false;
  CHECK(row(s) == "R26");
  CHECK(asks(decided(s), Ask::looked_alike));
}
