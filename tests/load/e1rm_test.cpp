// Estimates of the 1RM and the percent table, against the vectors of handbook 8.1 (computed there with R 4.2.2).
#include <doctest/doctest.h>

#include <array>
#include <cmath>

#include "load/e1rm.h"

using namespace slipway::load;

namespace {

constexpr double kTolerance = 0.001;  // kg, T01-T09, T13

double kg(Formula formula, double load, std::uint32_t reps, std::optional<std::uint32_t> rir_halves = {}) {
  const auto found = estimate(formula, {.load = load, .reps = reps, .rir_halves = rir_halves});
  REQUIRE(found.ok());
  return found->e1rm;
}

bool near(double got, double wanted, double tolerance) { return std::abs(got - wanted) <= tolerance; }

}  // namespace

TEST_CASE("T01-T07: 60 kg for 8 reps, by each of the seven formulas") {
  CHECK(near(kg(Formula::epley, 60, 8), 76.000, kTolerance));
  CHECK(near(kg(Formula::brzycki, 60, 8), 74.483, kTolerance));
  CHECK(near(kg(Formula::lander, 60, 8), 75.066, kTolerance));
  CHECK(near(kg(Formula::lombardi, 60, 8), 73.869, kTolerance));
  CHECK(near(kg(Formula::mayhew, 60, 8), 75.772, kTolerance));
  CHECK(near(kg(Formula::oconner, 60, 8), 72.000, kTolerance));
  CHECK(near(kg(Formula::wathan, 60, 8), 76.603, kTolerance));
}

TEST_CASE("T08: all seven for 100 kg and 5 reps, in the order of the handbook") {
  const std::array wanted{116.667, 112.500, 113.709, 117.462, 119.011, 112.500, 116.583};
  for (std::size_t i = 0; i < kFormulas.size(); ++i) {
    CAPTURE(name(kFormulas[i]));
    CHECK(near(kg(kFormulas[i], 100, 5), wanted[i], kTolerance));
  }
}

TEST_CASE("T09: Epley and Brzycki agree at 10 reps, and differ most at 4 below it") {
  CHECK(near(kg(Formula::epley, 100, 10), 133.333, kTolerance));
  CHECK(near(kg(Formula::brzycki, 100, 10), 133.333, kTolerance));
  CHECK(near(kg(Formula::epley, 1, 4) - kg(Formula::brzycki, 1, 4), 0.042, 0.0005));  // 1.1: 0.042 w
  for (const std::uint32_t reps : {2U, 3U, 5U, 6U, 7U, 8U, 9U})
    CHECK(kg(Formula::epley, 1, reps) - kg(Formula::brzycki, 1, reps) < kg(Formula::epley, 1, 4) - kg(Formula::brzycki, 1, 4));
}

TEST_CASE("T10: one rep to failure is the load itself, one rep with a reserve is not") {
  for (const Formula formula : kFormulas) {
    CAPTURE(name(formula));
    CHECK(kg(formula, 50, 1) == 50);
    CHECK(kg(formula, 50, 1, 0) == 50);
    CHECK(kg(formula, 50, 1, 1) > 50);
  }
}

TEST_CASE("T11: Brzycki and Lander have no answer from 37 reps on, counted with the reserve; the others go on") {
  for (const Formula formula : kFormulas) {
    CAPTURE(name(formula));
    const bool pole = formula == Formula::brzycki || formula == Formula::lander;
    CHECK(estimate(formula, {.load = 60, .reps = 36}).ok());
    CHECK(estimate(formula, {.load = 60, .reps = 37}).ok() != pole);
    CHECK(estimate(formula, {.load = 60, .reps = 38}).ok() != pole);
    CHECK(estimate(formula, {.load = 60, .reps = 36, .rir_halves = 1}).ok());
    CHECK(estimate(formula, {.load = 60, .reps = 36, .rir_halves = 2}).ok() != pole);
  }
  CHECK(estimate(Formula::lander, {.load = 60, .reps = 40}).error().text == "load.pole");
}

TEST_CASE("T12: percent of the 1RM, between the listed reps on a straight line") {
  const double tolerance = 0.01;
  CHECK(near(*percent_of_1rm(8), 80, tolerance));
  CHECK(near(*percent_of_1rm(11), 72.5, tolerance));
  CHECK(near(*percent_of_1rm(12), 70, tolerance));
  CHECK(near(*percent_of_1rm(14), 66.67, tolerance));
  CHECK(near(*percent_of_1rm(13), 68.33, tolerance));
  CHECK(near(*percent_of_1rm(8.5), 78.5, tolerance));
  CHECK(*percent_of_1rm(1) == 100);
  CHECK(*percent_of_1rm(15) == 65);
  for (const double wrong : {0.0, 0.5, 0.99, 15.01, 16.0, -3.0, std::nan("")}) CHECK_FALSE(percent_of_1rm(wrong).ok());
}

TEST_CASE("T13: a set of 8 with 2 in reserve counts as 10 reps") {
  CHECK(near(kg(Formula::epley, 60, 8, 4), 80.000, kTolerance));
  CHECK(near(kg(Formula::brzycki, 60, 8, 4), 80.000, kTolerance));
  CHECK(near(kg(Formula::epley, 60, 8, 5), 60 * (1 + 10.5 / 30), kTolerance));  // half a rep counts as half a rep
}

TEST_CASE("an estimate is shown up to 10 reps to failure, rough up to 12, and hidden beyond") {
  const auto shown = [](std::uint32_t reps, std::optional<std::uint32_t> rir_halves) {
    return estimate(Formula::epley, {.load = 60, .reps = reps, .rir_halves = rir_halves})->shown;
  };
  CHECK(shown(10, {}) == Shown::plain);
  CHECK(shown(8, 4) == Shown::plain);
  CHECK(shown(8, 5) == Shown::rough);
  CHECK(shown(11, {}) == Shown::rough);
  CHECK(shown(12, {}) == Shown::rough);
  CHECK(shown(12, 1) == Shown::hidden);
  CHECK(shown(13, {}) == Shown::hidden);
  CHECK(shown(3, 7) == Shown::plain);
  CHECK(shown(3, 8) == Shown::rough);  // 4 or more is always rough
  CHECK(shown(9, 8) == Shown::hidden);
}

TEST_CASE("no estimate without a load, without a rep, or with a reserve that is no answer") {
  CHECK(estimate(Formula::epley, {.load = 0, .reps = 8}).error().text == "load.load_above_zero");
  CHECK(estimate(Formula::epley, {.load = -1, .reps = 8}).error().text == "load.load_above_zero");
  CHECK(estimate(Formula::epley, {.load = std::nan(""), .reps = 8}).error().text == "load.load_above_zero");
  CHECK(estimate(Formula::epley, {.load = 60, .reps = 0}).error().text == "load.reps_from_one");
  CHECK(estimate(Formula::epley, {.load = 60, .reps = 8, .rir_halves = 9}).error().text == "load.rir_range");
  CHECK(estimate(Formula::epley, {.load = 1e308, .reps = 4000}).error().text == "load.too_large");
  CHECK(estimate(Formula::epley, {.load = 0.001, .reps = 1}).ok());
}

TEST_CASE("a formula is found by its name and by no other") {
  for (const Formula formula : kFormulas) CHECK(find_formula(name(formula)) == formula);
  CHECK_FALSE(find_formula("Epley").has_value());
  CHECK_FALSE(find_formula("").has_value());
}

TEST_CASE("T17: 15 reps at 16 kg are 6 at 20 kg") {
  CHECK(near(expected_reps(16'000, 20'000, 15), 6.0, kTolerance));
  CHECK(expected_reps(16'000, 40'000, 1) < 0);  // not one rep: it is for others to hide
}
