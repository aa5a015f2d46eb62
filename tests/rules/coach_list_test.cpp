// Who needs the coach (handbook 6.9): which rows hold, and in which order.
#include <doctest/doctest.h>

#include "kit/rules_kit.h"

using namespace slipway;
using namespace slipway::kit;
using namespace slipway::rules;

namespace {

SessionSituation squatter() {
  SessionSituation s = adult();
  s.kit.loads_g = loads(1 * kg, 40 * kg, 1 * kg);
  plan(s, dose("SQ4", 20 * kg));
  return s;
}

CoachSituation about(const std::string& athlete, SessionSituation s) { return {athlete, std::move(s), {}, day(2)}; }

std::vector<std::string> rows_of(const SessionSituation& s) {
  std::vector<std::string> out;
  for (const CoachFact& fact : coach_facts(about("a", s))) out.push_back(fact.reason.row);
  return out;
}

bool holds(const SessionSituation& s, const std::string& row_id) {
  for (const std::string& found : rows_of(s))
    if (found == row_id) return true;
  return false;
}

}  // namespace

TEST_CASE("Nobody is on the list of whom nothing is to be said") {
  auto s = squatter();
  did(s, 3, {10, 10, 10});
  CHECK(rows_of(s).empty());
  CHECK(coach_list({about("a", s)}).empty());
}

TEST_CASE("Most urgent first: a red flag before pain, pain before a swap, a swap before a miss") {
  auto flag = squatter();
  flag.red_flags.push_back({"f", "fainting", day(1), false, 0});
  auto stopped = squatter();
  did(stopped, 3, {10, 10, 10});
  hurt(stopped, 3, 7);
  auto swapped = squatter();
  did(swapped, 3, {10, 10, 10});
  hurt(swapped, 3, 4);
  auto missing = squatter();
  did(missing, 6, {8, 7, 7});
  did(missing, 3, {8, 7, 7});
  const auto list = coach_list({about("d", missing), about("c", swapped), about("b", stopped), about("a", flag)});
  REQUIRE(list.size() == 4);
  const char* rows[] = {"W01", "W02", "W04", "W08"};
  const char* athletes[] = {"a", "b", "c", "d"};
  for (std::size_t i = 0; i < 4; ++i) {
    CHECK(list[i].facts.front().reason.row == rows[i]);
    CHECK(list[i].athlete == athletes[i]);
  }
}

TEST_CASE("Of two athletes with the same row the one who waits longer comes first, whatever their order") {
  auto older = squatter(), younger = squatter();
  did(older, 5, {10, 10, 10});
  hurt(older, 5, 4);
  did(younger, 3, {10, 10, 10});
  hurt(younger, 3, 4);
  CHECK(coach_list({about("a", younger), about("b", older)}).front().athlete == "b");
  CHECK(coach_list({about("b", older), about("a", younger)}).front().athlete == "b");
  CHECK(coach_list({about("b", older), about("a", older)}).front().athlete == "a");
}

TEST_CASE("One line an athlete: the others are folded behind the most urgent") {
  auto s = squatter();
  did(s, 6, {8, 7, 7});
  did(s, 3, {8, 7, 7});
  plan(s, dose("PU4"));
  did(s, 4, {10, 10, 10});
  hurt(s, 4, 4);
  const auto list = coach_list({about("a", s)});
  REQUIRE(list.size() == 1);
  REQUIRE(list[0].facts.size() == 2);
  CHECK(list[0].facts[0].reason.row == "W04");
  CHECK(list[0].facts[1].reason.row == "W08");
}

TEST_CASE("W03: a youth who trained with load alone, until somebody ticks in afterwards; it counts for nothing") {
  auto s = youth(15, 60 * kg);
  s.kit.loads_g = loads(1 * kg, 40 * kg, 1 * kg);
  plan(s, dose("SQ4", 20 * kg));
  did(s, 3, {10, 10, 10}).adult_ticked_in = false;
  CHECK(holds(s, "W03"));
  CHECK(decided(s).counters.counted == 0);
  s.history[0].ticked_in_afterwards = true;
  CHECK_FALSE(holds(s, "W03"));
  CHECK(decided(s).counters.counted == 1);
  first(s.history[0]).sets[0].load_g = 31 * kg;  // 15 years, 60 kg: 30 kg
  s.history[0].ticked_in_afterwards = false;
  s.history[0].adult_ticked_in = true;
  CHECK(holds(s, "W03"));
}

TEST_CASE("W04: a grumble of 1 or 2 in three sessions in a row, not in two") {
  auto s = squatter();
  for (std::int32_t ago : {6, 3}) {
    did(s, ago, {10, 10, 10});
    hurt(s, ago, 1);
  }
  CHECK_FALSE(holds(s, "W04"));
  did(s, 9, {10, 10, 10});
  hurt(s, 9, 2);
  CHECK(holds(s, "W04"));
  CHECK(coach_facts(about("a", s)).front().since == day(9));
}

TEST_CASE("W05: sore for more than four days, and illness") {
  auto s = squatter();
  did(s, 3, {10, 10, 10});
  sore(s, model::Pattern::squat, 4);
  CHECK_FALSE(holds(s, "W05"));
  s.soreness.push_back({day(4), model::Pattern::squat, 2});
  CHECK(holds(s, "W05"));
  s.history[0].day = day(30);  // R05 decides today; the coach hears of the soreness all the same
  CHECK(row(s) == "R05");
  CHECK(holds(s, "W05"));
  auto ill = squatter();
  ill.illnesses.push_back({"i", day(1), false, {}});
  CHECK(holds(ill, "W05"));
  ill.illnesses[0].below_neck = true;
  CHECK(holds(ill, "W05"));
}

TEST_CASE("W06: twelve times the same reserve, a heavier load a youth chose, a date that cannot be, two devices that disagree") {
  auto s = squatter();
  for (std::int32_t i = 11; i >= 1; --i) did(s, 2 * i, {9, 9, 9}, 2);
  CHECK_FALSE(holds(s, "W06"));
  did(s, 24, {9, 9, 9}, 2);
  CHECK(holds(s, "W06"));
  auto young = youth(15, 60 * kg);
  young.kit.loads_g = loads(1 * kg, 40 * kg, 1 * kg);
  plan(young, dose("SQ4", 20 * kg));
  did(young, 3, {9, 9, 9});
  for (SetFact& set : first(young.history[0]).sets) set.load_g = 22 * kg;
  CHECK(holds(young, "W06"));
  CHECK(decided(young).standing.load_g == 20 * kg);
  auto dated = squatter();
  did(dated, -2, {9, 9, 9});
  CHECK(holds(dated, "W06"));
  auto twice = squatter();
  did(twice, 3, {9, 9, 9}).contradiction = true;
  CHECK(holds(twice, "W06"));
}

TEST_CASE("W07: a sign-off that waits for more than 14 days comes just after W04") {
  const auto waiting_since = [](std::int32_t ago) {
    auto s = youth(15, 60 * kg);
    s.kit.loads_g = loads(1 * kg, 40 * kg, 1 * kg);
    plan(s, dose("SQ4", 12 * kg));
    did(s, ago + 4, {12, 12, 12}, 3);
    did(s, ago, {12, 12, 12}, 3);
    for (std::int32_t i = 3; i < ago; i += 4) did(s, i, {12, 12, 12}, 3);
    return s;
  };
  auto sore_one = squatter();
  did(sore_one, 3, {10, 10, 10});
  sore(sore_one, model::Pattern::squat, 5);
  CHECK(coach_list({about("a", waiting_since(3)), about("b", sore_one)}).front().athlete == "b");
  CHECK(coach_list({about("a", waiting_since(15)), about("b", sore_one)}).front().athlete == "a");
  auto ended = waiting_since(3);
  first(ended.history[0]).sets[0].reps = 10;
  signed_off(ended, "SQ4", SignOffLevel::sound, 90);
  CHECK(holds(ended, "W07"));
}

TEST_CASE("W09: ten days without a planned session, or three left short in a row") {
  auto s = squatter();
  did(s, 10, {10, 10, 10});
  auto facts = about("a", s);
  const auto away = [&] {
    for (const CoachFact& fact : coach_facts(facts))
      if (fact.reason.row == "W09") return true;
    return false;
  };
  CHECK_FALSE(away());  // nothing was planned
  facts.planned = {{day(7)}};
  CHECK(away());
  facts.situation.history[0].day = day(9);
  CHECK_FALSE(away());
  auto hurried = squatter();
  for (std::int32_t ago : {9, 6, 3}) did(hurried, ago, {10, 10});
  CHECK(holds(hurried, "W09"));
  first(hurried.history[1]).sets.push_back({0, 10, 20 * kg, 4U, Side::both, false, false, {}});
  CHECK_FALSE(holds(hurried, "W09"));
}

TEST_CASE("W14: milestones since last Monday") {
  auto s = squatter();
  first(did_other(s, 2, "VP6", {}, {1}, kNotSaid)).test = true;
  CHECK(holds(s, "W14"));  // the first pull-up
  s.history[0].day = day(3);
  CHECK_FALSE(holds(s, "W14"));
}
