// Moves that carry the body, tonnage, effort and exact units: vectors of handbook 8.1 and the texts of 0.4, 1.3, 1.4, 2.1, 2.3.
#include <doctest/doctest.h>

#include <cmath>

#include "load/body_weight.h"
#include "load/effort.h"
#include "load/exact.h"
#include "load/tonnage.h"

using namespace slipway::load;
namespace model = slipway::model;

namespace {

bool near(double got, double wanted, double tolerance) { return std::abs(got - wanted) <= tolerance; }

double share(Raised raised, double height_cm) {
  const auto found = push_up_share(raised, height_cm);
  REQUIRE(found.ok());
  return found->fraction;
}

double tonnage_kg(const char* exercise, const Lifted& lifted) {
  const auto found = tonnage_hundredths_g(*model::find_rung(exercise), lifted);
  REQUIRE(found.has_value());
  return static_cast<double>(*found) / 100'000;
}

bool counts_nothing(const char* exercise, const Lifted& lifted) {
  return !tonnage_hundredths_g(*model::find_rung(exercise), lifted).has_value();
}

}  // namespace

TEST_CASE("T14: a pull-up of 70 kg with 10 kg for 5 reps") {
  CHECK(*pull_up_total({.body_mass_g = 70'000, .added_g = 10'000}) == 80'000);
  const auto epley = pull_up_estimate(Formula::epley, {.body_mass_g = 70'000, .added_g = 10'000}, 5, {});
  CHECK(near(epley->total.e1rm, 93'333, 1));
  CHECK(near(epley->added_g, 23'333, 1));
  CHECK(epley->unassisted);
  const auto brzycki = pull_up_estimate(Formula::brzycki, {.body_mass_g = 70'000, .added_g = 10'000}, 5, {});
  CHECK(near(brzycki->total.e1rm, 90'000, 1));
  CHECK(near(brzycki->added_g, 20'000, 1));
}

TEST_CASE("with help, the assistance still needed is told and never a negative weight") {
  const auto helped = pull_up_estimate(Formula::epley, {.body_mass_g = 70'000, .assist_g = 30'000}, 8, {});
  CHECK_FALSE(helped->unassisted);  // 40 kg · (1 + 8/30) = 50.667 kg
  CHECK(near(helped->assist_needed_g, 19'333, 1));
  CHECK(helped->added_g == 0);
  const auto exact = pull_up_estimate(Formula::epley, {.body_mass_g = 60'000, .assist_g = 15'000}, 10, {});
  CHECK(exact->total.e1rm == 60'000);  // 0 is not negative
  CHECK(exact->unassisted);
  CHECK(*pull_up_total({.body_mass_g = 60'000, .assist_g = 59'999}) == 1);
  CHECK(pull_up_total({.body_mass_g = 60'000, .assist_g = 60'000}).error().text == "load.total_above_zero");
  CHECK(pull_up_total({.body_mass_g = 0}).error().text == "load.body_mass_range");
  CHECK(pull_up_total({.body_mass_g = 400'001}).error().text == "load.body_mass_range");
  CHECK(pull_up_total({.body_mass_g = 60'000, .added_g = -1}).error().text == "load.not_negative");
  CHECK(pull_up_total({.body_mass_g = 60'000, .assist_g = -1}).error().text == "load.not_negative");
}

TEST_CASE("T15: a push-up of 70 kg on six heights") {
  const double tolerance = 50;  // g
  const auto load = [](Raised raised, double height_cm) { return *push_up_load_g(share(raised, height_cm), 70'000, 0); };
  CHECK(near(load(Raised::hands, 60.96), 28'700, tolerance));
  CHECK(near(load(Raised::knees_on_floor, 0), 34'300, tolerance));
  CHECK(near(load(Raised::hands, 30.48), 38'500, tolerance));
  CHECK(near(load(Raised::hands, 0), 44'800, tolerance));
  CHECK(near(load(Raised::feet, 0), 44'800, tolerance));
  CHECK(near(load(Raised::feet, 30.48), 49'000, tolerance));
  CHECK(near(load(Raised::feet, 60.96), 51'800, tolerance));
  CHECK(near(*push_up_load_g(0.64, 70'000, 10'000), 51'200, tolerance));  // fraction · (body mass + vest)
}

TEST_CASE("between the measured heights the share lies on a line, above them it stays and says so") {
  CHECK(near(share(Raised::hands, 15.24), 0.595, 1e-9));
  CHECK(near(share(Raised::hands, 45.72), 0.48, 1e-9));
  CHECK(near(share(Raised::feet, 45.72), 0.72, 1e-9));
  CHECK_FALSE(push_up_share(Raised::hands, 60.96)->estimated);
  CHECK(push_up_share(Raised::hands, 60.97)->estimated);
  CHECK(near(share(Raised::hands, 100), 0.41, 1e-9));
  CHECK(near(share(Raised::feet, 100), 0.74, 1e-9));
  for (const double wrong : {-0.1, 300.1, std::nan("")}) CHECK_FALSE(push_up_share(Raised::feet, wrong).ok());
  CHECK_FALSE(push_up_share(Raised::knees_on_floor, 10).ok());
}

TEST_CASE("the ladder's fractions are those of the heights") {
  const auto fraction = [](const char* id) { return model::find_rung(id)->fraction_hundredths / 100.0; };
  CHECK(near(fraction("PU2"), share(Raised::hands, 60.96), 1e-9));
  CHECK(near(fraction("PU3"), share(Raised::hands, 30.48), 1e-9));
  CHECK(near(fraction("PU3k"), share(Raised::knees_on_floor, 0), 1e-9));
  CHECK(near(fraction("PU4"), share(Raised::hands, 0), 1e-9));
  CHECK(near(fraction("PU6"), share(Raised::feet, 30.48), 1e-9));
  CHECK(near(fraction("PU7"), share(Raised::feet, 60.96), 1e-9));
}

TEST_CASE("T19: tonnage of a goblet squat, a pull-up and a push-up") {
  CHECK(near(3 * tonnage_kg("SQ4", {.reps = 10, .load_g = 16'000}), 480, 0.05));
  CHECK(near(3 * tonnage_kg("VP6", {.reps = 6, .body_mass_g = 70'000}), 1260, 0.05));
  CHECK(near(3 * tonnage_kg("PU4", {.reps = 12, .body_mass_g = 70'000}), 1612.8, 0.05));
}

TEST_CASE("two implements count as their sum, reps of each side twice, help is taken off") {
  CHECK(tonnage_kg("HG4", {.reps = 10, .load_g = 10'000}) == 200);                  // one in each hand
  CHECK(tonnage_kg("LU6", {.reps = 10, .load_g = 10'000, .sides = 2}) == 400);      // and each side
  CHECK(tonnage_kg("SQ6", {.reps = 10, .load_g = 10'000, .sides = 2}) == 200);      // one at the chest
  CHECK(tonnage_kg("HP4", {.reps = 10, .load_g = 10'000, .sides = 2}) == 200);      // the one hand, each side
  CHECK(tonnage_kg("HP6", {.reps = 10, .load_g = 10'000}) == 200);
  CHECK(tonnage_kg("VP4m", {.reps = 5, .load_g = 20'000, .body_mass_g = 70'000}) == 250);
  CHECK(tonnage_kg("VP8", {.reps = 5, .load_g = 10'000, .body_mass_g = 70'000}) == 400);
  CHECK(tonnage_kg("PU8", {.reps = 10, .load_g = 10'000, .body_mass_g = 70'000}) == 512);
}

TEST_CASE("what has no weight to count counts nothing, and is not counted as 0") {
  CHECK(counts_nothing("VP6", {.reps = 6}));   // no body mass
  CHECK(counts_nothing("PU4", {.reps = 6}));
  CHECK(counts_nothing("VP4", {.reps = 6, .body_mass_g = 70'000}));  // a band without kg
  CHECK(counts_nothing("PU3b", {.reps = 6, .body_mass_g = 70'000}));
  CHECK(counts_nothing("TR3", {.reps = 45, .body_mass_g = 70'000}));
  CHECK(counts_nothing("SQ3", {.reps = 10, .body_mass_g = 70'000}));
  CHECK(counts_nothing("SQ4", {.reps = 10}));
  CHECK(counts_nothing("SQ4", {.reps = 10, .load_g = -1}));
  CHECK(counts_nothing("VP4m", {.reps = 5, .load_g = 70'000, .body_mass_g = 70'000}));  // nothing left to pull
}

TEST_CASE("set effort is 10 less the reserve, and has no number above 3 in reserve") {
  CHECK(set_rpe_halves(0) == 20);
  CHECK(set_rpe_halves(3) == 17);  // 1.5 left: 8.5
  CHECK(set_rpe_halves(6) == 14);
  CHECK_FALSE(set_rpe_halves(7).has_value());
  CHECK_FALSE(set_rpe_halves(8).has_value());
}

TEST_CASE("session load is rating times minutes, from rest to maximal, from 1 to 600 minutes") {
  CHECK(*session_load_au(6, 45) == 270);  // 2.1: 270 of the worked week
  CHECK(*session_load_au(3.5, 41.5) == 145.25);
  CHECK(*session_load_au(0, 30) == 0);
  CHECK(*session_load_au(10, 600) == 6000);
  CHECK(session_load_au(10.5, 30).error().text == "load.rating_range");
  CHECK(session_load_au(-0.5, 30).error().text == "load.rating_range");
  CHECK(session_load_au(3.3, 30).error().text == "load.rating_range");
  CHECK(session_load_au(3, 0.9).error().text == "load.minutes_range");
  CHECK(*session_load_au(3, 1) == 3);
  CHECK(session_load_au(3, 600.5).error().text == "load.minutes_range");
}

TEST_CASE("T42: 45 lb is 20411.65665 g in formulas and 45 lb wherever it is read or shown") {
  const auto typed = model::read_quantity("45 lb", model::Unit::kg);
  REQUIRE(typed.ok());
  CHECK(near(exact_grams(*typed), 20'411.65665, 1e-6));
  CHECK(model::number_text(*typed) == "45");
  CHECK(*model::read_quantity(model::to_text(*typed), model::Unit::kg) == *typed);
  CHECK(exact_grams({225, 1, model::Unit::kg}) == 22'500);
}

TEST_CASE("T43: a week across the change of the clock is 7 days, whatever hour it begins and ends") {
  CHECK(days_between(*model::read_day("2026-10-25"), *model::read_day("2026-11-01")) == 7);
  // 25 October 2026, 00:30 at UTC+2, and 1 November, 00:10 at UTC+1: 168 h 40 min apart; and 23:50 to 00:10.
  const auto local = [](const char* day, std::int64_t minutes, std::int32_t offset) {
    return model::day_of({(std::int64_t{model::read_day(day)->since_1970} * 24 * 60 + minutes) * 60'000, offset, 0});
  };
  CHECK(days_between(local("2026-10-25", 30, 120), local("2026-11-01", 10, 60)) == 7);
  CHECK(days_between(local("2026-10-25", 23 * 60 + 50, 60), local("2026-11-01", 10, 60)) == 7);
  CHECK(days_between(*model::read_day("2026-03-28"), *model::read_day("2026-03-29")) == 1);  // a day of 23 hours
  CHECK(days_between(*model::read_day("2026-03-29"), *model::read_day("2026-03-28")) == -1);
}
