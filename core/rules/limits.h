// Youth and age limits (handbook 5.7, 1.3 without a body mass, 0.4 ages).
#pragma once

#include "rules/decision.h"

namespace slipway::rules {

bool is_youth(const Athlete& athlete);     // by the lowest possible age; unknown: yes
bool is_masters(const Athlete& athlete);   // by the highest possible age
std::int32_t limit_age(const Athlete& athlete);  // the age that limits go by; unknown: kUnknownAge

struct AgeRow {                            // 5.7, one row an age
  std::int32_t from_age;                   // years
  std::uint32_t days_a_week, sets_most, reps_least, reps_most;
};
const AgeRow& age_row(const Athlete& athlete);

struct LoadLimit {
  bool allowed = true;                     // false: not at this age, or not without LOADED
  std::optional<std::int64_t> most_g;      // as written (one hand where the ladder writes one hand); missing: no limit
};
// `in_use`: the limit of a dose in use, where a LOADED that ended by time still counts; an
// increase needs a valid one [5.7].
LoadLimit load_limit(const model::Rung& rung, const SessionSituation& situation, bool in_use);
bool load_allowed(const model::Rung& rung, std::int64_t load_g, const SessionSituation& situation);
bool exercise_allowed(const model::Rung& rung, const SessionSituation& situation, bool in_use);

}  // namespace slipway::rules
