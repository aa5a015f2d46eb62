// Length of a session and rests inside it, against handbook 1.7 and the vectors T18, T44, T45.
#include <doctest/doctest.h>

#include "load/session_time.h"

using namespace slipway::load;
namespace model = slipway::model;

namespace {

constexpr std::int64_t kS = 1000;

Work work(const char* exercise, std::uint32_t reps, std::int64_t rep_s, std::uint32_t sides = 1, std::int64_t least_s = 0) {
  return {.exercise = exercise, .reps = reps, .rep_ms = rep_s * kS, .sides = sides, .least_rest_ms = least_s * kS};
}

Block main_three(std::int64_t q_s, std::int64_t p_s) {
  return {.rounds = 3,
          .between_exercises_ms = q_s * kS,
          .between_rounds_ms = p_s * kS,
          .work = {work("SQ4", 10, 4, 1, 120), work("VP6", 6, 4, 1, 120), work("PU4", 12, 3, 1, 120)}};
}

SessionPlan worked_example() {
  return {.warm_up_ms = 480 * kS,
          .cool_down_ms = 300 * kS,
          .blocks = {main_three(60, 120), {.rounds = 2, .between_exercises_ms = 30 * kS, .between_rounds_ms = 60 * kS,
                                           .work = {work("SC1", 15, 3, 2), work("TR3", 1, 40), work("TR1", 8, 4, 2)}}}};
}

std::vector<std::int64_t> seconds(const Block& block) {
  const auto rests = rests_of(block);
  REQUIRE(rests.ok());
  std::vector<std::int64_t> out;
  for (const Rest& rest : *rests) out.push_back(rest.ms ? *rest.ms / kS : -1);
  return out;
}

std::vector<RestSays> says(const Block& block) {
  const auto rests = rests_of(block);
  REQUIRE(rests.ok());
  std::vector<RestSays> out;
  for (const Rest& rest : *rests) out.push_back(rest.says);
  return out;
}

bool shares(const char* one, const char* other) {
  const bool there = same_muscles(*model::find_rung(one), *model::find_rung(other));
  CHECK(there == same_muscles(*model::find_rung(other), *model::find_rung(one)));
  return there;
}

SessionPlan lasting(std::int64_t ms) {  // 1 rep of what is left after the set-up
  return {.blocks = {{.work = {{.exercise = "SQ4", .rep_ms = ms - kSetUpMs}}}}};
}

}  // namespace

TEST_CASE("T18: the worked session takes 2533 s, 42.2 min") {
  const auto time = session_time(worked_example());
  REQUIRE(time.ok());
  CHECK(time->ms == 2'533'000);
  CHECK(time->length == Length::fine);
}

TEST_CASE("half an hour and an hour are fine, a millisecond beyond either is not") {
  CHECK(session_time(lasting(1'799'999))->length == Length::below);
  CHECK(session_time(lasting(1'800'000))->length == Length::fine);
  CHECK(session_time(lasting(3'600'000))->length == Length::fine);
  CHECK(session_time(lasting(3'600'001))->length == Length::above);
}

TEST_CASE("T44: in a circuit the other exercises are rest") {
  CHECK(seconds(main_three(60, 120)) == std::vector<std::int64_t>{345, 361, 349});
  CHECK(seconds(main_three(30, 45)) == std::vector<std::int64_t>{210, 226, 214});
}

TEST_CASE("T45: a superset of squat and push-up, with enough rest and with too little") {
  Block block{.rounds = 3, .between_exercises_ms = 20 * kS, .between_rounds_ms = 60 * kS,
              .work = {work("SQ4", 10, 4, 1, 120), work("PU4", 12, 3, 1, 120)}};
  CHECK(seconds(block) == std::vector<std::int64_t>{146, 150});
  CHECK(says(block) == std::vector(2, RestSays::fine));
  block.between_rounds_ms = 20 * kS;
  CHECK(seconds(block) == std::vector<std::int64_t>{106, 110});
  CHECK(says(block) == std::vector(2, RestSays::too_short));
}

TEST_CASE("exactly the least rest is enough, and exactly five minutes is no hint") {
  const auto of = [](std::int64_t rest_ms) {
    return says({.rounds = 2, .between_rounds_ms = rest_ms - kSetUpMs, .work = {work("SQ4", 10, 3, 1, 120)}}).front();
  };
  CHECK(of(119'999) == RestSays::too_short);
  CHECK(of(120'000) == RestSays::fine);
  CHECK(of(300'000) == RestSays::fine);
  CHECK(of(300'001) == RestSays::long_enough_to_cut);
}

TEST_CASE("straight sets rest from the end of a set to the next start; a single round asks nothing") {
  Block block{.rounds = 3, .between_rounds_ms = 120 * kS, .work = {work("SQ4", 10, 3, 1, 120)}};
  CHECK(seconds(block) == std::vector<std::int64_t>{135});
  block.rounds = 1;
  CHECK(seconds(block) == std::vector<std::int64_t>{-1});
}

TEST_CASE("two exercises for the same muscles give each other no rest, within a round too") {
  // Squat 40 s, then lunge 30 s, q 20, p 100, set-up 15: from the squat's end to the lunge's start 35 s,
  // from the lunge's end to the next squat 115 s.
  const Block block{.rounds = 2, .between_exercises_ms = 20 * kS, .between_rounds_ms = 100 * kS, .work = {work("SQ4", 10, 4), work("LU2", 10, 3)}};
  CHECK(seconds(block) == std::vector<std::int64_t>{115, 35});
  // Somebody between them is rest: push-up 36 s and its set-up and walk come on top.
  const Block three{.rounds = 2, .between_exercises_ms = 20 * kS, .between_rounds_ms = 100 * kS,
                    .work = {work("SQ4", 10, 4), work("PU4", 12, 3), work("LU2", 10, 3)}};
  CHECK(seconds(three)[0] == 115);
  CHECK(seconds(three)[2] == 106);
  Block once = block;
  once.rounds = 1;
  CHECK(seconds(once) == std::vector<std::int64_t>{-1, 35});
}

TEST_CASE("the pairs that share muscles are those of the handbook") {
  CHECK(shares("SQ4", "SQ6"));
  CHECK(shares("VP6", "HP2"));
  CHECK(shares("VP6", "TR11"));
  CHECK(shares("PU4", "TR8"));
  CHECK(shares("SQ4", "LU3"));
  CHECK(shares("HG4", "SQ8"));
  CHECK_FALSE(shares("HG4", "SQ7"));
  CHECK_FALSE(shares("HP2", "TR11"));
  CHECK_FALSE(shares("PU4", "TR3"));
  CHECK_FALSE(shares("HG4", "LU3"));
  CHECK_FALSE(shares("SQ4", "PU4"));
}

TEST_CASE("a plan without work, or with numbers nobody means, is refused") {
  CHECK(session_time({}).error().text == "load.plan_empty");
  CHECK(session_time({.blocks = {{}}}).error().text == "load.plan_empty");
  SessionPlan plan = worked_example();
  plan.blocks[1].rounds = 0;
  CHECK(session_time(plan).error().text == "load.plan_empty");
  CHECK(session_time({.warm_up_ms = -1, .blocks = lasting(60'000).blocks}).error().text == "load.plan_range");
  CHECK(session_time({.cool_down_ms = 86'400'001, .blocks = lasting(60'000).blocks}).error().text == "load.plan_range");
  const auto refused = [](auto change) {
    SessionPlan changed = worked_example();
    change(changed.blocks[0].work[0]);
    return session_time(changed).ok() ? std::string() : session_time(changed).error().text;
  };
  CHECK(refused([](Work& one) { one.reps = 0; }) == "load.plan_range");
  CHECK(refused([](Work& one) { one.reps = 1001; }) == "load.plan_range");
  CHECK(refused([](Work& one) { one.reps = 1000; }).empty());
  CHECK(refused([](Work& one) { one.sides = 3; }) == "load.plan_range");
  CHECK(refused([](Work& one) { one.rep_ms = 0; }) == "load.plan_range");
  Block unknown = main_three(60, 120);
  unknown.work[1].exercise = "ZZ1";
  CHECK(rests_of(unknown).error().args.front() == "ZZ1");
}
