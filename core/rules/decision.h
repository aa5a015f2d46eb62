// What the progression engine answers, as data: row ids, named arguments, evidence and a
// dose. No sentence for people is in here; `report` makes those from Reason.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "rules/situation.h"

namespace slipway::rules {

// A named fact for the reason text. The name carries the unit: "load_g", "days", "amount",
// "percent", "reps"; a text argument has `text` ("exercise", "region", "milestone").
struct Argument {
  std::string name;
  std::int64_t number = 0;
  std::string text;
  friend bool operator==(const Argument&, const Argument&) = default;
};

enum class EvidenceOf : std::uint8_t { session, pain, soreness, sign_off, red_flag, illness, clearance, line };

// Index into the list of the situation the decision was made from (not sorted order).
struct Evidence {
  EvidenceOf of = EvidenceOf::session;
  std::uint32_t index = 0;
  friend bool operator==(const Evidence&, const Evidence&) = default;
};

struct Reason {
  std::string row;                    // "R15", "G01", "M03", "W07"; "TODAY" where no row of 6.2b holds
  std::vector<Argument> args;
  std::vector<Evidence> evidence;
  std::vector<std::string> overruled; // rows that held but that the coach overruled
  friend bool operator==(const Reason&, const Reason&) = default;
};
const Argument* find_argument(const Reason& reason, std::string_view name);

struct SetTarget {
  std::uint32_t reps = 0;
  std::uint32_t up_to = 0;            // R20: "12 to 14"; otherwise the same as reps
  friend bool operator==(const SetTarget&, const SetTarget&) = default;
};

struct Dose {
  std::string exercise;               // what is done today: a substitute, an easier rung …
  std::optional<std::int64_t> load_g;
  std::vector<SetTarget> targets;     // one for each set
  std::uint32_t lo = 0, hi = 0;
  std::uint32_t rir = 2;              // RIR to keep, at least
  bool ask_rir = true;                // false: under 14, holds [1.4]
  Tempo tempo;                        // as usual: all 0
  std::string band, first_set_band, grip;
  std::uint32_t rest_s = 0;           // least rest between two sets of it
  Format format = Format::straight;
  std::uint32_t sets() const { return static_cast<std::uint32_t>(targets.size()); }
  friend bool operator==(const Dose&, const Dose&) = default;
};

struct Counters {
  std::uint32_t hits = 0, misses = 0;
  std::uint32_t counted = 0;          // counted sessions with this standing dose
  std::optional<std::int32_t> gap, pgap;  // days; missing: no such session yet
  std::uint32_t gap_class = 0;
  bool bridged = false;
  std::optional<RampStep> ramp_done;  // an open ramp: the last step done
  std::uint32_t pain = 0;             // 6.1
  std::int32_t sore_days = 0;
  std::uint32_t sore_today = 0;
  bool form_closed = false;
  friend bool operator==(const Counters&, const Counters&) = default;
};

enum class Action : std::uint8_t {
  train,      // the dose is given
  stop,       // R01, R09: not done; tell the coach
  leave_out,  // nothing possible here today: no substitute, no floor version, pattern trained today
};

enum class Step : std::uint8_t { usable, big, none, not_applicable };

// Questions the screen should put; each at most once.
enum class Ask : std::uint8_t {
  reserve_again,    // M10: RIR and reps contradict each other
  reserve_of_last,  // R20: say how many were left
  settled,          // "back to normal next morning?"
  sign_off,         // an adult looks at the form (R26, or the second session on a rung)
  looked_alike,     // adult without a coach: "did the last rep look like the first?"
  test_set,         // 6.5: a test set is offered
  lower_load,       // twice lighter than written: should the load come down?
  keep_or_change,   // M09, adult alone
  birth_year,       // unknown: treated as a child
  entry_sets,       // RESTART: placement by 5.8, confirmed by the coach
};

struct ExerciseDecision {
  std::string line;                   // the plan line's exercise
  Action action = Action::train;
  Reason row;                         // of 6.3
  std::vector<Reason> modifiers;      // and filters, cuts and limits that acted here, in order
  Dose dose;                          // where action == train
  bool passing = false;               // never a base [6.1]
  bool increase = false;              // R14-R18, R13 with tempo or rung
  StandingDose standing;              // what stands once this dose has been done; passing: unchanged
  StandingDose start;                 // what "as at the start" means then
  std::optional<RampStep> ramp_step;  // this dose is that step of a ramp
  bool cut_by_gate = false;           // … and a gate cut it further
  Step step = Step::not_applicable;
  std::optional<std::int64_t> step_load_g;  // L' of the load search
  std::optional<std::uint32_t> reps_to_earn;  // of a big step
  Counters counters;
  std::vector<Ask> asks;
  std::vector<Reason> coach_rows;     // "W02" …, from this exercise
};

enum class Whether : std::uint8_t { stop, skip, normal };
enum class When : std::uint8_t { today, move, ask };

struct FlaggedSession {
  std::uint32_t index = 0;            // into SessionSituation::history
  bool after_today = false;           // else: before the athlete's first day
};

struct SessionDecision {
  Whether whether = Whether::normal;
  Reason gate;                        // 6.2a
  When when = When::today;            // 6.2b
  Reason when_row;
  // The doses below carry the cut of "train now". `when` not today and no fallback (a youth under
  // G08): they are those of the day the session moves to, nothing is given today.
  bool fallback = false;
  std::vector<Reason> filters;        // 6.2c
  std::vector<ExerciseDecision> exercises;  // as the plan lines; empty after stop and skip
  std::vector<FlaggedSession> flagged;      // left out of counters and gaps
  std::vector<Reason> coach_rows;     // W rows of the session itself
};

// What the record keeps with an exercise done under this decision.
Written written_from(const SessionDecision& session, const ExerciseDecision& exercise);

}  // namespace slipway::rules
