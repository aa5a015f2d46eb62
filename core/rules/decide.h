// The progression engine (handbook 6): gates, then a dose row for each exercise, then
// modifiers. Pure functions: the same situation always gives the same decision, in
// whatever order its lists come. Nothing here stores, shows or asks a clock.
#pragma once

#include "rules/decision.h"

namespace slipway::rules {

SessionDecision decide(const SessionSituation& situation);

// A dose the coach or the plan wrote, with the day from which it holds.
struct Prescribed {
  StandingDose dose;
  Day since;
  bool by_coach = false;              // false: a phase or format change, whose load is worked out by 6.4b
};

// The present standing dose: what was written and first done since the newest prescription,
// else that prescription. A passing dose never becomes a base [6.1]. `prescribed` must not be
// empty; its lines are those of one place in the plan (SQ4 that became SQ6 by a rule stays one).
PlanLine present_line(const std::vector<Prescribed>& prescribed, const std::vector<SessionFact>& history, const std::vector<PainReport>& pains,
                      const Athlete& athlete, Day today);

// ---- while a session runs [6.7] ------------------------------------------------------------------

struct PainAnswer {
  enum class What : std::uint8_t { go_on, swap, stop_joints } what = What::go_on;
  std::vector<std::string> crossed_out;  // exercises of today whose sets still to come are crossed out
  std::string substitute;                // swap: what may be offered, at a painless level; empty: none
  Reason reason;                         // R02 or R01; go_on: R03 (pain 1-2) or empty
};
// Pain `amount` was entered at a set of `exercise`.
PainAnswer pain_at_set(const SessionSituation& situation, const std::string& exercise, std::uint32_t amount, std::uint32_t joints,
                       const std::string& region);

// First set below lo - 1, or with "form broke": the dose to offer for the remaining sets. The
// session counts as a miss, taken or not. Nothing: the set was good enough, or nothing is easier.
std::optional<Dose> offer_after_first_set(const SessionSituation& situation, const Dose& dose, const SetFact& first);

// START and R27 in adults: a clean set with 4+ left may be followed by one available load more.
std::optional<std::int64_t> next_load_in_session(const SessionSituation& situation, const ExerciseDecision& decision, const SetFact& done);

// Rest to show: the larger of the written rest and what is still missing to the least rest of
// the coming exercise, counted from the end of its own last set. Seconds.
std::uint32_t rest_to_show(std::uint32_t written_rest_s, std::uint32_t least_rest_s, std::optional<std::int64_t> own_last_set_ms,
                           std::int64_t now_ms);

// ---- small answers other rooms need -----------------------------------------------------------------

// Reps in whole numbers: ceil(L2 (30 + r2) / L1) - 30, for L2 > L1 > 0 [1.3].
std::uint32_t reps_to_earn(std::int64_t from_g, std::int64_t to_g, std::uint32_t reps);
// Reps to expect at L2 after r1 at L1, rounded down; below 1: nothing.
std::optional<std::uint32_t> reps_expected(std::int64_t from_g, std::int64_t to_g, std::uint32_t reps);

struct LoadStep {
  Step step = Step::none;
  std::optional<std::int64_t> load_g;
};
LoadStep load_step(std::int64_t from_g, const std::vector<std::int64_t>& available_g);  // 1.3
// "-x % load" for x = 10, 20, 30 [6.1]: nothing means fewer reps or an easier rung.
std::optional<std::int64_t> load_cut(std::int64_t from_g, std::uint32_t percent, const std::vector<std::int64_t>& available_g);

// Where a line begins, from entry sets [5.8]. A missing answer: not tried.
struct EntrySets {
  std::optional<bool> sits_to_box{};           // without pain or hands
  std::optional<std::uint32_t> squat_clean{};  // clean SQ3, of 10
  std::optional<std::uint32_t> hang_s{}, scapular_pulls{}, pull_ups{};
  std::optional<std::uint32_t> push_60{}, push_30{}, push_floor{};  // PU2, PU3, PU4 reps
  std::optional<bool> hinge_clean{}, lunge_clean{};                 // HG3, LU1
};
// The exercise (and band, load) to begin with; reps, sets and reserve of the phase.
std::optional<StandingDose> placed(model::Pattern pattern, const EntrySets& entry, const SessionSituation& situation);

Tempo standard_tempo(model::Pattern pattern);  // 1.6

}  // namespace slipway::rules
