// Ups by kind (handbook 6.4a), milestones (6.5), limits by age (5.7), modifiers M03 and M09.
#include <doctest/doctest.h>

#include <tuple>

#include "kit/rules_kit.h"

using namespace slipway;
using namespace slipway::kit;
using namespace slipway::rules;
using Reps = std::vector<std::uint32_t>;

namespace {

// Twice at the top with three left.
SessionSituation topped(SessionSituation s, const StandingDose& standing) {
  plan(s, standing);
  did(s, 7, Reps(standing.sets, standing.hi), 3);
  did(s, 3, Reps(standing.sets, standing.hi), 3);
  return s;
}

StandingDose with_band(StandingDose standing, const std::string& band) {
  standing.band = band;
  return standing;
}

}  // namespace

TEST_CASE("A body-weight move goes to the next of its line, onto a first load below 15 % of body mass") {  // 6.4a, 5.8
  auto s = adult();
  weighs(s, 70 * kg);
  s.kit.loads_g = bells();
  auto d = decided(topped(s, dose("SQ3", {}, 3, 8, 15)));
  CHECK(d.row.row == "R18");
  CHECK(d.dose.exercise == "SQ4");
  CHECK(d.dose.load_g == 10 * kg);  // below 10.5
  CHECK(reps_of(d.dose) == Reps{8, 8, 8});
  s.kit.loads_g = std::vector<std::int64_t>{};
  d = decided(topped(s, dose("SQ3", {}, 3, 8, 15)));  // no load here: as at the end of the line
  CHECK(d.dose.exercise == "SQ3");
  CHECK(d.standing.hi == 17);
}

TEST_CASE("A helping band gets thinner, the thinnest offers the test, and not again within six sessions") {  // 6.4a, 6.5
  auto s = adult();
  s.kit.bands = {"thick", "middle", "thin"};
  auto d = decided(topped(s, with_band(dose("VP4", {}, 3, 3, 8), "middle")));
  CHECK(d.row.row == "R18");
  CHECK(d.standing.band == "thin");
  auto thinnest = topped(s, with_band(dose("VP4", {}, 3, 3, 8), "thin"));
  d = decided(thinnest);
  CHECK(d.row.row == "R18");
  CHECK(asks(d, Ask::test_set));
  CHECK_FALSE(d.increase);
  first(did_other(thinnest, 20, "VP6", {}, {1})).test = true;
  CHECK_FALSE(asks(decided(thinnest), Ask::test_set));
}

TEST_CASE("The test: three clean pull-ups or more, or slow lowering first") {  // 6.5
  for (const auto& [reps, exercise, sets_of] : {std::tuple{2U, "VP5", 3U}, {3U, "VP6", 3U}, {4U, "VP6", 4U}, {9U, "VP6", 5U}}) {
    const auto shown = reps;  // doctest makes a lambda of it, which may not hold a structured binding
    CAPTURE(shown);
    auto s = adult();
    s.kit.bands = {"thick", "thin"};
    s = topped(s, with_band(dose("VP4", {}, 3, 3, 8), "thin"));
    first(did_other(s, 2, "VP6", {}, {reps}, kNotSaid)).test = true;
    const auto d = decided(s);
    CHECK(d.row.row == "R14");
    CHECK(d.standing.exercise == exercise);
    CHECK(d.dose.targets.front().reps == sets_of);
    CHECK(d.dose.sets() == (reps < 3 ? 1 : 3));  // slow lowering: first time 1 x 3
  }
}

TEST_CASE("After one fall-back from the thinner band its first set is tried there, until it holds twice") {  // 6.4a
  auto s = adult();
  s.kit.bands = {"thick", "thin"};
  const auto thick = with_band(dose("VP4", {}, 3, 3, 8), "thick"), thin = with_band(dose("VP4", {}, 3, 3, 8), "thin");
  plan(s, thick);
  const auto wrote = [&](std::int32_t ago, const StandingDose& standing, const char* row_id, Reps reps) {
    auto& done = first(did(s, ago, std::move(reps), 3));
    done.written = Written{};
    done.written->standing = standing;
    done.written->rows = {"G13", row_id};
  };
  wrote(15, thin, "R18", {2, 2, 2});
  wrote(12, thin, "R12", {2, 2, 2});
  wrote(9, thick, "R11", {8, 8, 8});
  wrote(7, thick, "R19", {8, 8, 8});
  auto d = decided(s);
  CHECK(d.row.row == "R18");
  CHECK(d.standing.band == "thick");
  CHECK(d.standing.first_set_band == "thin");
  s.lines[0].standing = d.standing;
  wrote(4, d.standing, "R18", {3, 7, 7});
  wrote(2, d.standing, "R22", {2, 7, 7});
  CHECK(decided(s).standing.first_set_band == "thin");
  first(s.history.back()).sets[0].reps = 3;
  d = decided(s);
  CHECK(d.row.row == "R18");
  CHECK(d.standing.band == "thin");
  CHECK(d.standing.first_set_band.empty());
}

TEST_CASE("A resisting band gets thicker; the only band: more reps to 20, a pause, then slow back, then stay") {  // 6.4a
  auto s = adult();
  s.kit.bands = {"thick", "thin"};
  CHECK(decided(topped(s, with_band(dose("HP1"), "thin"))).standing.band == "thick");
  auto standing = with_band(dose("HP1"), "thick");
  CHECK(decided(topped(s, standing)).standing.hi == 14);
  standing.hi = 20;
  CHECK(decided(topped(s, standing)).standing.tempo.top == 2);
  standing.tempo = {2, 0, 1, 2};
  CHECK(decided(topped(s, standing)).standing.tempo.down == 3);
  standing.tempo = {3, 0, 1, 2};
  CHECK(decided(topped(s, standing)).standing == standing);
}

TEST_CASE("Shoulder care goes up after three hits, one move a session, and not with shoulder pain") {  // 6.4a
  auto s = adult();
  s = topped(s, dose("SC4", {}, 2, 10, 12, 3));
  CHECK(row(s) == "R19");
  did(s, 10, {12, 12}, 3);
  CHECK(row(s) == "R18");
  plan(s, dose("SC5", {}, 2, 10, 12, 3));
  for (std::int32_t ago : {3, 7, 10}) did(s, ago, {12, 12}, 3);
  const auto d = decide(s);
  CHECK(d.exercises[0].standing.hi == 14);
  CHECK(d.exercises[1].standing.hi == 12);
  auto& check = hurt(s, 0, 1);
  check.at = PainAt::check;
  check.exercise.clear();
  check.session_id.clear();
  check.region = "shoulder";
  CHECK(decide(s).exercises[0].standing.hi == 12);
}

TEST_CASE("Jumps never go up by rule") {  // 6.4a
  const auto d = decided(topped(adult(), dose("SQ9", {}, 3, 3, 6)));
  CHECK(d.standing.hi == 6);
  CHECK_FALSE(d.increase);
}

TEST_CASE("Ten push-ups twice: weight where it is here and allowed, else feet up, with a sore shoulder slower") {  // 6.5
  auto s = adult();
  weighs(s, 70 * kg);
  s.kit.plates_g = std::vector<std::int64_t>{1250};
  plan(s, dose("PU4"));
  did(s, 6, {10, 9, 8});
  did(s, 3, {10, 9, 8});
  auto d = decided(s);
  CHECK(d.row.row == "R14");
  CHECK(d.dose.exercise == "PU8");
  CHECK(d.dose.load_g == 2500);  // 1.25 kg is below 2 % of 70 kg
  s.kit.plates_g = std::vector<std::int64_t>{};
  CHECK(decided(s).dose.exercise == "PU6");
  auto& report = hurt(s, 50, 3);
  report.at = PainAt::swim;
  report.exercise.clear();
  report.session_id.clear();
  report.joints = model::joint::shoulder;
  CHECK(decided(s).dose.exercise == "PU5");
  s.pains[0].day = day(57);
  CHECK(decided(s).dose.exercise == "PU6");
  first(s.history[0]).sets[0].reps = 9;
  CHECK(row(s) == "R22");
}

TEST_CASE("Weight on pull-ups: from 16, at 14 and 15 only LOADED, without a body mass the smallest plate") {  // 6.5, 1.3, 5.7
  const auto ten_twice = [](std::int32_t age, std::int64_t mass, bool loaded) {
    auto s = age >= 18 ? adult() : youth(age, mass);
    if (age >= 18 && mass > 0) weighs(s, mass);
    s.kit.plates_g = std::vector<std::int64_t>{1250};
    plan(s, dose("VP6", {}, 3, 8, 12));
    if (age < 18) signed_off(s, "VP6", SignOffLevel::sound, 30);
    if (loaded) signed_off(s, "VP6", SignOffLevel::loaded, 20);
    did(s, 7, {10, 9, 9});
    did(s, 3, {10, 9, 9});
    return s;
  };
  CHECK(decided(ten_twice(16, 60 * kg, false)).dose.exercise == "VP8");
  CHECK(decided(ten_twice(16, 60 * kg, false)).standing.lo == 6);
  CHECK(decided(ten_twice(15, 60 * kg, false)).dose.exercise == "VP6");
  CHECK(decided(ten_twice(15, 60 * kg, true)).dose.exercise == "VP8");
  CHECK(decided(ten_twice(15, 0, true)).dose.exercise == "VP6");  // no body mass: no weighted pull-ups
  CHECK(decided(ten_twice(30, 0, false)).dose.load_g == 1250);
}

TEST_CASE("Goblet standard: offered when 22 are expected at half of body mass, met by 25") {  // 6.5
  auto s = adult();
  weighs(s, 60 * kg);
  s.kit.loads_g = loads(2 * kg, 40 * kg, 2 * kg);
  plan(s, dose("SQ4", 28 * kg, 3, 8, 25));
  did(s, 3, {25, 20, 20});
  CHECK_FALSE(asks(decided(s), Ask::test_set));  // 28 kg x 25 is 21 at 30 kg
  first(s.history[0]).sets[0].reps = 26;
  CHECK(asks(decided(s), Ask::test_set));  // 22.27
  auto& test = did_other(s, 2, "SQ4", 30 * kg, {24}, kNotSaid);
  first(test).test = true;
  CHECK(row(s) != "R14");
  first(s.history.back()).sets[0].reps = 25;
  const auto d = decided(s);
  CHECK(d.row.row == "R14");
  CHECK(d.dose.load_g == 30 * kg);
  CHECK(d.standing.hi == 15);
}

TEST_CASE("Limits by age and sign-off, with body mass and without") {  // 5.7, 1.3
  struct Limit {
    std::int32_t age;
    std::int64_t mass_g;
    const char* exercise;
    SignOffLevel level;
    std::int64_t written_g, given_g;
  };
  for (const Limit& l : {Limit{12, 40 * kg, "SQ4", SignOffLevel::sound, 12 * kg, 10 * kg}, Limit{12, 40 * kg, "SQ4", SignOffLevel::sound, 10 * kg, 10 * kg},
                         Limit{12, 40 * kg, "SQ4", SignOffLevel::loaded, 24 * kg, 20 * kg}, Limit{12, 40 * kg, "SQ6", SignOffLevel::sound, 8 * kg, 6 * kg},
                         Limit{12, 40 * kg, "HG4", SignOffLevel::sound, 6 * kg, 5 * kg},  // two of them: 10 kg in all
                         Limit{12, 40 * kg, "HP4", SignOffLevel::sound, 5 * kg, 4 * kg}, Limit{12, 0, "SQ4", SignOffLevel::sound, 8 * kg, 6 * kg},
                         Limit{12, 0, "SQ4", SignOffLevel::loaded, 12 * kg, 10 * kg}, Limit{15, 60 * kg, "SQ4", SignOffLevel::sound, 32 * kg, 30 * kg},
                         Limit{15, 0, "SQ4", SignOffLevel::sound, 20 * kg, 16 * kg}, Limit{15, 60 * kg, "HG4", SignOffLevel::loaded, 24 * kg, 22 * kg},
                         Limit{16, 60 * kg, "SQ4", SignOffLevel::sound, 40 * kg, 40 * kg}}) {
    CAPTURE(l.age);
    CAPTURE(l.exercise);
    CAPTURE(l.written_g);
    auto s = youth(l.age, l.mass_g);
    s.kit.loads_g = loads(1 * kg, 40 * kg, 1 * kg);
    plan(s, dose(l.exercise, l.written_g));
    signed_off(s, l.exercise, l.level, 20);
    did(s, 3, {10, 10, 10});
    const auto d = decided(s);
    CHECK(d.dose.load_g == l.given_g);
    CHECK(has_modifier(d, "5.7") == (l.given_g != l.written_g));
  }
}

TEST_CASE("What an age may not do at all becomes an easier rung") {  // 5.7
  for (const auto& [age, exercise, given] : {std::tuple{9, "SQ4", "SQ3"}, {12, "VP8", "VP6"}, {12, "PU8", "PU4"}, {15, "HG7", "HG6"}}) {
    const auto shown = exercise;  // doctest makes a lambda of it, which may not hold a structured binding
    CAPTURE(shown);
    auto s = youth(age, 40 * kg);
    s.kit.loads_g = loads(1 * kg, 20 * kg, 1 * kg);
    plan(s, dose(exercise, 10 * kg));
    const auto d = decided(s);
    CHECK(d.dose.exercise == given);
    CHECK(has_modifier(d, "5.7"));
  }
}

TEST_CASE("Sets and reps of the written range by age; reps added by R13 and R16 may go above") {  // 5.7
  auto s = youth(12, 40 * kg);
  plan(s, dose("SQ3", {}, 5, 5, 20));
  auto d = decided(s);
  CHECK(d.dose.sets() == 3);
  CHECK(d.standing.lo == 8);
  CHECK(d.standing.hi == 15);
  s.lines[0].standing = dose("SQ3", {}, 3, 8, 18);
  s.lines[0].start = dose("SQ3", {}, 3, 8, 12);
  CHECK(decided(s).standing.hi == 18);
}

TEST_CASE("R13 in its order: reps to 20, a second more down, the next rung of the kind with what its limit allows") {
  auto s = youth(12, 40 * kg);
  s.kit.loads_g = loads(1 * kg, 20 * kg, 1 * kg);
  signed_off(s, "SQ4", SignOffLevel::sound, 20);
  const auto at = [&](StandingDose standing) {
    auto t = topped(s, standing);
    t.lines[0].start = dose("SQ4", 10 * kg);
    for (auto& session : t.history) first(session).two_more = true;
    return decided(t);
  };
  CHECK(at(dose("SQ4", 10 * kg, 3, 8, 18)).standing.hi == 20);
  const auto slow = at(dose("SQ4", 10 * kg, 3, 8, 20));
  CHECK(slow.row.row == "R13");
  CHECK(slow.standing.tempo.down == 3);
  CHECK(slow.standing.hi == 12);
  auto standing = dose("SQ4", 10 * kg);
  standing.tempo = {3, 0, 1, 0};
  const auto rung = at(standing);
  CHECK(rung.row.row == "R13");
  CHECK(rung.dose.exercise == "SQ6");
  CHECK(rung.dose.load_g == 6 * kg);  // 15 % of 40 kg
  CHECK(rung.increase);
}

TEST_CASE("M03: in a youth's session one main exercise goes up, the one that waited longest, then squat, pull, push") {
  auto s = youth(15, 60 * kg);
  for (const char* id : {"SQ2", "PU3"}) {
    plan(s, dose(id));
    signed_off(s, id, SignOffLevel::sound, 20);
    did(s, 7, {12, 12, 12}, 3);
    did(s, 3, {12, 12, 12}, 3);
  }
  auto d = decide(s);
  CHECK(d.exercises[0].increase);
  CHECK_FALSE(d.exercises[1].increase);
  CHECK(has_modifier(d.exercises[1], "M03"));
  CHECK(d.exercises[1].dose.exercise == "PU3");
  CHECK(d.exercises[1].counters.hits == 2);
  did(s, 10, {12, 12, 12}, 3);  // the push-up has waited since seven days ago
  d = decide(s);
  CHECK_FALSE(d.exercises[0].increase);
  CHECK(d.exercises[1].increase);
  s.athlete.age_low = s.athlete.age_high = 18;
  d = decide(s);
  CHECK(d.exercises[0].increase);
  CHECK(d.exercises[1].increase);
}

TEST_CASE("M09: an adult alone is asked, seven sessions are not yet eight") {
  auto s = adult();
  s.athlete.has_coach = false;
  plan(s, dose("SQ3"));
  for (std::int32_t i = 7; i >= 1; --i) did(s, 3 * i, {10, 9, 9});
  CHECK_FALSE(asks(decided(s), Ask::keep_or_change));
  did(s, 24, {10, 9, 9});
  CHECK(asks(decided(s), Ask::keep_or_change));
  CHECK_FALSE(tells_coach(decided(s), "W08"));
}

TEST_CASE("Load search at its bounds") {  // 1.3
  CHECK(load_step(20 * kg, {20'399}).step == Step::none);
  CHECK(load_step(20 * kg, {20'400}).step == Step::usable);
  CHECK(load_step(20 * kg, {22'000}).step == Step::usable);
  CHECK(load_step(20 * kg, {22'001}).step == Step::big);
  CHECK(load_step(20 * kg, {24'000, 20'500, 22'000}).load_g == 20'500);
  CHECK(reps_to_earn(20 * kg, 24 * kg, 8) == 16);
  CHECK(reps_expected(20 * kg, 24 * kg, 15) == 7U);
  CHECK(reps_expected(20 * kg, 24 * kg, 16) == 8U);
  CHECK_FALSE(reps_expected(10 * kg, 20 * kg, 20));
}

TEST_CASE("Placement, line by line") {  // 5.8
  auto s = adult();
  weighs(s, 70 * kg);
  s.kit.loads_g = bells();
  s.kit.bands = {"thick", "middle", "thin"};
  const auto at = [&](model::Pattern pattern, EntrySets entry) { return placed(pattern, entry, s).value_or(StandingDose{}); };
  using model::Pattern;
  CHECK(at(Pattern::squat, {.sits_to_box = false}).exercise == "SQ1");
  CHECK(at(Pattern::squat, {.sits_to_box = true, .squat_clean = 9}).exercise == "SQ2");
  CHECK(at(Pattern::squat, {.sits_to_box = true, .squat_clean = 10}).exercise == "SQ4");
  CHECK(at(Pattern::vertical_pull, {.hang_s = 9}).exercise == "VP1");
  CHECK(at(Pattern::vertical_pull, {.hang_s = 29, .scapular_pulls = 8}).exercise == "VP2");
  CHECK(at(Pattern::vertical_pull, {.hang_s = 30, .scapular_pulls = 8}).band == "thick");
  CHECK(at(Pattern::vertical_pull, {.hang_s = 30, .scapular_pulls = 8, .pull_ups = 2}).band == "middle");
  CHECK(at(Pattern::vertical_pull, {.hang_s = 30, .scapular_pulls = 8, .pull_ups = 3}).exercise == "VP6");
  CHECK(at(Pattern::push, {.push_60 = 4}).exercise == "PU1");
  CHECK(at(Pattern::push, {.push_60 = 9}).exercise == "PU2");
  CHECK(at(Pattern::push, {.push_60 = 10, .push_30 = 7}).exercise == "PU3");
  CHECK(at(Pattern::push, {.push_60 = 10, .push_30 = 8, .push_floor = 4}).exercise == "PU3");
  CHECK(at(Pattern::push, {.push_60 = 10, .push_30 = 8, .push_floor = 5}).exercise == "PU4");
  s.kit.loads_g = std::vector<std::int64_t>{};
  CHECK(at(Pattern::squat, {.sits_to_box = true, .squat_clean = 10}).exercise == "SQ3");
}
