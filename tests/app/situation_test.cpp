// The question that the rules are asked, where the record says two things.
#include "app/situation.h"

#include <doctest/doctest.h>

using namespace slipway;

namespace {

model::Programme programme(const std::string& phase, std::uint64_t days, std::int32_t starts) {
  return {.id = {}, .phase = phase, .starts = model::Day{starts}, .weeks = 0, .days_a_week = days};
}

rules::SessionSituation asked(std::vector<model::Programme> said) {
  model::Athlete athlete;
  athlete.birth_year.all.push_back({2010, {}});  // a youth: the coach's number of days holds as it is
  for (model::Programme& one : said) athlete.programme.all.push_back({std::move(one), {}});
  return app::situation_of(athlete, {.today = model::Day{20'514}, .now_ms = 0, .programme_day = 1, .kit = {}});
}

}  // namespace

TEST_CASE("of a programme that two coaches wrote apart the more careful part of each counts, whichever came first") {
  const auto gentle = programme("learn", 3, 20'507), keen = programme("power", 2, 20'400);
  for (const auto& said : {std::vector{gentle, keen}, std::vector{keen, gentle}}) {
    const auto question = asked(said);
    CHECK(question.phase.kind == rules::PhaseKind::learn);
    CHECK(question.phase.week == 2);
    CHECK(question.athlete.days_a_week == 2);
  }
  CHECK(asked({keen}).phase.kind == rules::PhaseKind::power);
}
