// Situations for the progression engine, said as briefly as the vectors of the handbook
// say them: an adult, 3 x 8-12, two in reserve, last session three days ago.
#pragma once

#include <initializer_list>
#include <string>
#include <vector>

#include "rules/coach_list.h"
#include "rules/decide.h"

namespace slipway::kit {

inline constexpr std::int32_t kToday = 20'000;  // civil days since 1970
inline constexpr std::int64_t kg = 1000;        // grams

model::Day day(std::int32_t days_ago);          // negative: to come

std::vector<std::int64_t> loads(std::int64_t from_g, std::int64_t to_g, std::int64_t by_g);
std::vector<std::int64_t> bells();              // kettlebells, close steps [handbook 1.3]

// Adult of 30 with a coach, nothing hurts, an adult beside, no list of equipment.
rules::SessionSituation adult();
rules::SessionSituation youth(std::int32_t age, std::int64_t body_mass_g);  // with SOUND for nothing yet
void weighs(rules::SessionSituation& s, std::int64_t g);
void signed_off(rules::SessionSituation& s, const std::string& exercise, rules::SignOffLevel level, std::int32_t days_ago);

rules::StandingDose dose(const std::string& exercise, std::optional<std::int64_t> load_g = {}, std::uint32_t sets = 3,
                         std::uint32_t lo = 8, std::uint32_t hi = 12, std::uint32_t tgt = 2);
rules::PlanLine& plan(rules::SessionSituation& s, const rules::StandingDose& dose);

// Whole RIR; 4 is "4+"; missing: not given. It is that of the last set.
using Rir = std::optional<std::uint32_t>;
inline constexpr std::nullopt_t kNotSaid = std::nullopt;

// One session with one exercise, done as the newest plan line stands (or stood: change `written`).
rules::SessionFact& did(rules::SessionSituation& s, std::int32_t days_ago, std::vector<std::uint32_t> reps, Rir rir = 2);
// … with another exercise.
rules::SessionFact& did_other(rules::SessionSituation& s, std::int32_t days_ago, const std::string& exercise,
                              std::optional<std::int64_t> load_g, std::vector<std::uint32_t> reps, Rir rir = 2);
// A passing dose of that row was written and done.
rules::SessionFact& did_by(rules::SessionSituation& s, std::int32_t days_ago, const std::string& row, std::optional<std::int64_t> load_g,
                           std::vector<std::uint32_t> reps);
rules::ExerciseDone& first(rules::SessionFact& session);

rules::PainReport& hurt(rules::SessionSituation& s, std::int32_t days_ago, std::uint32_t amount, std::optional<bool> settled = true);
void sore(rules::SessionSituation& s, model::Pattern pattern, std::int32_t days_in_a_row, std::uint32_t today = 2);

rules::ExerciseDecision decided(const rules::SessionSituation& s);  // of the first plan line
std::string row(const rules::SessionSituation& s);
std::vector<std::uint32_t> reps_of(const rules::Dose& dose);
bool has_modifier(const rules::ExerciseDecision& decision, const std::string& row);
bool asks(const rules::ExerciseDecision& decision, rules::Ask ask);
bool tells_coach(const rules::ExerciseDecision& decision, const std::string& row);
// The decision is carried out: session of that day, written as decided, with these reps.
rules::SessionFact& carry_out(rules::SessionSituation& s, std::int32_t days_ago, const rules::SessionDecision& session,
                              std::vector<std::uint32_t> reps, Rir rir = 2);

}  // namespace slipway::kit
