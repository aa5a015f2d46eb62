// Pain that arrives after the plan was raised by somebody who could not know of it: said, whatever the clocks said.
#include <doctest/doctest.h>

#include "book_kit.h"

using namespace slipway;
using kit::Author;

namespace {

constexpr std::int64_t kHourMs = 3'600'000;

struct Apart {
  Apart() {
    who = *coach.book().add_athlete({.name = "Wren", .birth_year = 1990}, Author::coach);
    REQUIRE(coach.book().start_programme(who, Author::coach).ok());
    kit::carry(coach.book(), phone.book());
  }
  void raise_plan() {
    coach.clock.tick(60'000);
    const auto& lines = coach.book().athlete(who).prescriptions;
    REQUIRE_FALSE(lines.empty());
    app::PlanLineEntry more;
    more.reps = static_cast<std::uint64_t>(5 + ++raised);
    REQUIRE(coach.book().change_plan_line(who, lines.front().id, more, Author::coach).ok());
  }
  void hurt() {
    phone.clock.tick(60'000);
    REQUIRE(phone.book().note_pain(who, "shoulder", 2, Author::swimmer).ok());
  }
  std::size_t late_after_import() {
    kit::carry(phone.book(), coach.book());
    return coach.book().late_pains(who).size();
  }
  kit::SquadDevice coach{1}, phone{2};
  model::ScopeId who;
  int raised = 0;
};

}  // namespace

TEST_CASE("pain that was written before the plan was raised, and comes after, is said") {
  Apart apart;
  apart.hurt();
  apart.coach.clock.tick(kHourMs);
  apart.raise_plan();
  CHECK(apart.late_after_import() == 1);
  apart.raise_plan();  // by somebody who has now seen it
  CHECK(apart.coach.book().late_pains(apart.who).empty());
}

TEST_CASE("a phone whose clock is ahead, or a coach's that is behind, hides no late pain") {
  Apart apart;
  apart.phone.clock.set_wrong_by(5 * kHourMs);
  for (int i = 0; i < 3; ++i) apart.raise_plan();  // the coach's count goes on past the swimmer's
  apart.hurt();
  CHECK(apart.late_after_import() == 1);
}

TEST_CASE("pain of somebody who had seen the raised plan is not late") {
  Apart apart;
  apart.raise_plan();
  kit::carry(apart.coach.book(), apart.phone.book());
  apart.phone.clock.tick(kHourMs);
  apart.hurt();
  CHECK(apart.late_after_import() == 0);
}
