// Questions an athlete's record answers by itself: ages, body mass, illness, clearances.
#include "model/athlete.h"

#include <doctest/doctest.h>

using namespace slipway::model;

namespace {

Day on(const char* iso) { return *read_day(iso); }

Athlete born(std::uint64_t year, std::optional<std::uint64_t> month = {}) {
  Athlete athlete;
  athlete.birth_year.all.push_back({year, {}});
  if (month) athlete.birth_month.all.push_back({*month, {}});
  return athlete;
}

RecordId key(std::uint64_t seq) { return {IncarnationId{}, seq, ShortHash{}}; }

}  // namespace

TEST_CASE("from the year alone both ages are possible, from the month one, in that month again both") {
  const auto year = ages_on(born(2008), on("2026-03-02"));
  REQUIRE(year);
  CHECK(year->lowest == 17);
  CHECK(year->highest == 18);
  struct Expected {
    const char* day;
    int lowest, highest;
  };
  for (const Expected& one : {Expected{"2026-02-28", 17, 17}, {"2026-03-01", 17, 18}, {"2026-03-31", 17, 18}, {"2026-04-01", 18, 18}}) {
    CAPTURE(one.day);
    const auto month = ages_on(born(2008, 3), on(one.day));
    CHECK(month->lowest == one.lowest);
    CHECK(month->highest == one.highest);
  }
  CHECK_FALSE(ages_on(Athlete{}, on("2026-03-02")));
}

TEST_CASE("of two years of birth the youngest and the oldest age count") {
  Athlete athlete = born(2008);
  athlete.birth_year.all.push_back({1970, {}});
  const auto ages = ages_on(athlete, on("2026-03-02"));
  CHECK(ages->lowest == 17);
  CHECK(ages->highest == 56);
  CHECK(is_youth(athlete, on("2026-03-02")));
}

TEST_CASE("a youth is who may be under 18, and who gave no year of birth") {
  CHECK(is_youth(born(2008), on("2026-12-31")));
  CHECK_FALSE(is_youth(born(2007), on("2026-01-01")));
  CHECK(is_youth(born(2008, 3), on("2026-03-31")));
  CHECK_FALSE(is_youth(born(2008, 3), on("2026-04-01")));
  CHECK(is_youth(Athlete{}, on("2026-03-02")));
}

TEST_CASE("a body mass counts for sixty days, and never before it was measured") {
  Athlete athlete;
  athlete.body_masses = {{.id = key(1), .mass = {60, 0, Unit::kg}, .day = {100}}, {.id = key(2), .mass = {62, 0, Unit::kg}, .day = {120}}};
  CHECK(body_mass_on(athlete, {99}) == nullptr);
  CHECK(body_mass_on(athlete, {100})->id == key(1));
  CHECK(body_mass_on(athlete, {119})->id == key(1));
  CHECK(body_mass_on(athlete, {180})->id == key(2));
  CHECK(body_mass_on(athlete, {181}) == nullptr);
}

TEST_CASE("ill until something else was said; of one day the gravest counts") {
  Athlete athlete;
  athlete.illnesses = {{.id = key(1), .state = IllnessState::fever_or_below_neck, .day = {100}},
                       {.id = key(2), .state = IllnessState::well, .day = {103}},
                       {.id = key(3), .state = IllnessState::head_cold, .day = {110}},
                       {.id = key(4), .state = IllnessState::well, .day = {110}}};
  CHECK(illness_on(athlete, {99}) == nullptr);
  CHECK(illness_on(athlete, {102})->state == IllnessState::fever_or_below_neck);
  CHECK(illness_on(athlete, {103})->state == IllnessState::well);
  CHECK(illness_on(athlete, {200})->state == IllnessState::head_cold);
}

TEST_CASE("a clearance counts for the reports it names; a youth's own word clears nothing") {
  Athlete athlete = born(1990);
  athlete.pains = {{.id = key(7), .region = "knee", .band = 2}};
  athlete.clearances = {{.id = key(1), .covers = "knee", .note = "", .role = ClearanceRole::self, .day = {20'514}, .reports = {key(7), key(9)}}};
  CHECK(is_cleared(athlete, key(7)));
  CHECK_FALSE(is_cleared(athlete, key(9)));  // a report that is not here: nobody knows how much it was
  CHECK_FALSE(is_cleared(athlete, key(8)));
  athlete.birth_year.all.front().value = 2012;
  CHECK_FALSE(is_cleared(athlete, key(7)));
  athlete.clearances.front().role = ClearanceRole::guardian;
  CHECK_FALSE(is_cleared(athlete, key(7)));  // under 18 "seen" is not yet "training is allowed" [handbook 2.7]
  athlete.clearances.front().clinician_allowed = true;
  CHECK(is_cleared(athlete, key(7)));
  athlete.clearances.front().withdrawn = true;
  CHECK_FALSE(is_cleared(athlete, key(7)));
}

TEST_CASE("seen by a clinician frees an adult of a local sign and of pain below 6, and of nothing graver") {  // handbook 2.7
  Athlete athlete = born(1990);
  athlete.clearances = {{.id = key(1), .covers = "knee", .note = "", .role = ClearanceRole::coach, .day = {20'514}, .reports = {key(7)}}};
  Pain pain;
  pain.id = key(7);
  for (const std::uint64_t amount : {1U, 5U, 6U, 10U}) {
    pain.amount = amount;
    athlete.pains = {pain};
    athlete.clearances.front().clinician_allowed = false;
    CHECK(is_cleared(athlete, key(7)) == (amount < 6));
    athlete.clearances.front().clinician_allowed = true;
    CHECK(is_cleared(athlete, key(7)));
  }
  athlete.pains.clear();
  for (const FlagGroup group : {FlagGroup::local, FlagGroup::general, FlagGroup::emergency}) {
    RedFlag flag;
    flag.id = key(7);
    flag.group = group;
    athlete.red_flags = {flag};
    athlete.clearances.front().clinician_allowed = false;
    CHECK(is_cleared(athlete, key(7)) == (group == FlagGroup::local));
  }
}

TEST_CASE("a pain without a number is taken at the upper end of its band") {
  Pain pain;
  for (const auto& [band, worst] : {std::pair{0U, 0U}, {1U, 2U}, {2U, 5U}, {3U, 10U}, {9U, 10U}}) {
    pain.band = band;
    CHECK(pain.worst() == worst);
  }
  pain.amount = 4;
  CHECK(pain.worst() == 4);
}
