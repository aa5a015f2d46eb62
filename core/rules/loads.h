// Loads of one exercise in one place: what can be put together, the next step, the cuts of
// 6.1, both in totals where the body is part of the load [handbook 1.3].
#pragma once

#include "rules/decide.h"

namespace slipway::rules {

// Body mass valid on that day: last entry on or before it, at most 60 days old [1.3].
const BodyMass* body_mass_on(const Athlete& athlete, Day day);

// Loads that can be put together here for this exercise, rising, above 0. Missing: nobody listed them.
std::optional<std::vector<std::int64_t>> available_loads(const model::Rung& rung, const Kit& kit);

// Both hands together, as 5.7 counts; HP4 and HP6 stay "a hand".
std::int64_t limit_mass(const model::Rung& rung, std::int64_t load_g);

bool counts_body(const model::Rung& rung);     // VP6, VP8, VP4m, PU8: totals decide
bool goes_by_load(const model::Rung& rung);    // kind loaded

// Next step of this exercise from `load_g`. usable and big carry the load to write.
LoadStep exercise_step(const model::Rung& rung, std::int64_t load_g, const SessionSituation& situation);

// Load, as Epley sees it: totals where the body counts. Missing body mass: nothing.
std::optional<std::int64_t> searched_mass(const model::Rung& rung, std::int64_t load_g, const SessionSituation& situation);

// "-x %" of this exercise: the load to write; 0 for VP8 means the body alone (VP6).
std::optional<std::int64_t> exercise_cut(const model::Rung& rung, std::int64_t load_g, std::uint32_t percent,
                                         const SessionSituation& situation);

// Largest available load at or below; nothing: none.
std::optional<std::int64_t> largest_at_most(const model::Rung& rung, std::int64_t most_g, const Kit& kit);
bool load_is_here(const model::Rung& rung, std::int64_t load_g, const Kit& kit);

// The first load of 5.8.
std::optional<std::int64_t> first_load(const model::Rung& rung, const SessionSituation& situation);

}  // namespace slipway::rules
