// Inside a session (handbook 6.7).
#include <doctest/doctest.h>

#include "kit/rules_kit.h"

using namespace slipway;
using namespace slipway::kit;
using namespace slipway::rules;

namespace {

SessionSituation circuit() {
  SessionSituation s = adult();
  s.kit.loads_g = loads(2500, 50'000, 2500);
  plan(s, dose("SQ4", 20 * kg));
  plan(s, dose("LU2", {}, 3, 6, 10));
  plan(s, dose("PU4"));
  return s;
}

SetFact one_set(std::uint32_t reps, std::optional<std::uint32_t> halves = {}) {
  SetFact set;
  set.reps = reps;
  set.rir_halves = halves;
  return set;
}

}  // namespace

TEST_CASE("Pain at a set: 0 goes on, 1-2 holds, 3-5 crosses out the exercise, 6 everything with that joint") {
  const auto s = circuit();
  const auto at = [&](std::uint32_t amount) { return pain_at_set(s, "SQ4", amount, model::joint::knee, "knee"); };
  CHECK(at(0).reason.row.empty());
  CHECK(at(2).what == PainAnswer::What::go_on);
  CHECK(at(2).reason.row == "R03");
  CHECK(at(3).what == PainAnswer::What::swap);
  CHECK(at(5).crossed_out == std::vector<std::string>{"SQ4"});
  CHECK(at(5).substitute == "SQ2");
  CHECK(at(6).what == PainAnswer::What::stop_joints);
  CHECK(at(6).crossed_out == std::vector<std::string>{"SQ4", "LU2"});
}

TEST_CASE("A youth without an adult is offered a substitute of the floor list or none") {
  auto s = circuit();
  s.athlete.age_low = s.athlete.age_high = 15;
  s.adult_ticked_in = false;
  CHECK(pain_at_set(s, "PU4", 4, model::joint::shoulder, "front_shoulder").substitute == "PU3");
  CHECK(pain_at_set(s, "VP6", 4, model::joint::shoulder, "front_shoulder").substitute == "SC4");
  CHECK(pain_at_set(s, "TR11", 4, model::joint::shoulder, "front_shoulder").substitute == "TR7");
  CHECK(pain_at_set(s, "HP1", 4, model::joint::elbow, "elbow").substitute.empty());
}

TEST_CASE("A first set two reps below the range is offered 10 % less, one below is not") {
  const auto s = circuit();
  const auto d = decide(s).exercises;
  CHECK_FALSE(offer_after_first_set(s, d[0].dose, one_set(7)));
  CHECK(offer_after_first_set(s, d[0].dose, one_set(6))->load_g == 17'500);
  CHECK(offer_after_first_set(s, d[2].dose, one_set(6))->exercise == "PU3");
  auto broke = one_set(10);
  broke.form_broke = true;
  CHECK(offer_after_first_set(s, d[0].dose, broke));
}

TEST_CASE("In the first session an adult may go up one load after a set with four left, a youth may not") {
  auto s = circuit();
  const auto d = decide(s).exercises[0];
  CHECK(next_load_in_session(s, d, one_set(8, 8)) == 22'500);
  CHECK_FALSE(next_load_in_session(s, d, one_set(8, 7)));
  CHECK_FALSE(next_load_in_session(s, d, one_set(8)));
  s.athlete.age_low = s.athlete.age_high = 17;
  CHECK_FALSE(next_load_in_session(s, d, one_set(8, 8)));
}

TEST_CASE("The rest shown is the larger of the written one and what is missing to the least") {
  CHECK(rest_to_show(60, 120, {}, 500'000) == 60);
  CHECK(rest_to_show(60, 120, 500'000, 530'000) == 90);
  CHECK(rest_to_show(60, 120, 500'000, 560'000) == 60);
  CHECK(rest_to_show(60, 120, 500'000, 900'000) == 60);
  CHECK(rest_to_show(60, 120, 500'000, 400'000) == 60);  // a clock set back
}
