// One exercise of one session on the way through the rows of 6.3: everything the rows test
// and use, worked out once. Private to this room.
#pragma once

#include "rules/body.h"
#include "rules/decide.h"
#include "rules/record.h"
#include "rules/sign_off.h"
#include "rules/walk.h"

namespace slipway::rules {

// What a row of R13-R18 would do.
struct Move {
  std::string row;                        // "R14" … "R18"
  bool changes = false;                   // false: there is nothing to go to, HOLD
  StandingDose standing, start;           // after it
  enum class Reps { lo, hold, add } reps = Reps::lo;
  std::optional<std::int64_t> judged_load_g;  // L', also before it is earned: what R13 holds against the limits
  std::string what;                       // "load", "reps", "set", "slow", "pause", "rung", "band", "test", "range"
  std::string milestone;
  std::uint32_t clean_reps = 0;           // assist -> body weight: as many as were clean
  bool offers_test = false;
};

struct Case {
  const SessionSituation& situation;
  const Record& record;
  const PlanLine& line;
  std::uint32_t index = 0;                // of the line
  const model::Rung& rung;
  StandingDose standing, start;           // inside the limits of 5.7
  bool limited = false;                   // the written dose was not
  LineRecord past;
  Gap gap;
  Body body;
  Form form;
  bool form_closed = false;
  LoadStep step;
  std::optional<Move> milestone;          // R14
  std::optional<Move> move;               // R15-R18: what hits would bring

  bool youth = false, masters = false;
  const Entry* last() const { return past.counted.empty() ? nullptr : past.counted.front(); }
  std::uint32_t needed_hits() const;
  bool hits_met() const { return past.hits >= needed_hits(); }
  std::optional<std::uint32_t> lowest() const;  // lowest set of the last counted session
};

// Nothing: the exercise is not on the ladder.
std::optional<Case> make_case(const SessionSituation& situation, const Record& record, std::uint32_t line);

std::optional<Move> milestone_move(const Case& c);   // 6.5
Move next_move(const Case& c);                       // R15-R18, 6.4a
bool breaks_limit(const Case& c, const Move& move);  // R13
Move within_limit(const Case& c);                    // what R13 does instead
bool goblet_test_due(const Case& c);                 // 6.5, "offered when"
Tempo tempo_of(const StandingDose& dose);            // usual tempo filled in

// ---- doses ------------------------------------------------------------------------------------------

Dose plain_dose(const Case& c, const StandingDose& standing, std::vector<std::uint32_t> reps, std::uint32_t rir);
std::vector<std::uint32_t> hold_reps(const Case& c, const StandingDose& standing);
std::vector<std::uint32_t> added_reps(const Case& c, const StandingDose& standing);
std::vector<std::uint32_t> same_reps(std::uint32_t sets, std::uint32_t reps);

// "-x %" of 6.1. `reps_fewer`: reps to take off every set (holds: seconds / 5 each 2 reps).
struct Cut {
  StandingDose dose;
  std::uint32_t reps_fewer = 0;
  bool other_rung = false;
};
Cut cut_by(const Case& c, std::uint32_t percent);

StandingDose phase_load(const Case& c, bool* known);  // 6.4b

void fill_dose(const Case& c, ExerciseDecision& out);  // rows of 6.3, first match wins
void modify(std::vector<Case>& cases, std::vector<ExerciseDecision>& out);  // 6.4
void hold_instead(const Case& c, ExerciseDecision& out);  // "increase becomes HOLD", counters are kept
bool overruled(const SessionSituation& situation, const std::string& row, const std::string& exercise);

}  // namespace slipway::rules
