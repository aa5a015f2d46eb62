// The history of one athlete as the rows of 6.3 need it: in order, counted or not, hits and
// misses, gaps, ramps. All of it is worked out from what was logged (handbook 6.1, 6.7).
#pragma once

#include "rules/decision.h"

namespace slipway::rules {

// Sessions in the order of 6.7, oldest first, without the one going on now and without
// those dated after today or before the first day, which are flagged.
struct Record {
  const SessionSituation* situation = nullptr;
  std::vector<std::uint32_t> order;
  std::vector<FlaggedSession> flagged;

  const SessionFact& session(std::uint32_t index) const { return situation->history[index]; }
};
Record read_record(const SessionSituation& situation);

struct WorkSet {
  std::uint32_t reps = 0;                   // one-sided moves: the lower side
  std::optional<std::int64_t> load_g;
  std::optional<std::uint32_t> rir_halves;
  bool form_broke = false;
  std::optional<std::int64_t> at_ms;
};
std::vector<WorkSet> work_sets(const ExerciseDone& done);  // warm-up sets and half-done sides left out
bool completed(const ExerciseDone& done);                  // at least one working set is logged
bool has_row(const ExerciseDone& done, std::string_view row);
bool is_passing(const ExerciseDone& done);
bool was_held(const ExerciseDone& done);                   // its row's step did not come, or only in passing
// Youth, load, no qualified adult ticked in, and nobody did so afterwards [W03].
bool loaded_alone(const SessionFact& session, const Athlete& athlete);

struct Outcome {
  bool counted = false, hit = false, near_top = false, miss = false, cut_short = false;
  bool lighter = false;                     // a lighter load than written
  bool reserve_aside = false;               // M10
  bool spread_apart = false;
  std::optional<std::uint32_t> reserve_halves;  // RIRlast, not set aside
  std::optional<std::uint32_t> reserve_written; // as it was entered
  std::optional<std::int64_t> self_chosen_g;    // the one heavier load of all counted sets
  std::vector<std::uint32_t> reps;          // r of the first S working sets
  bool every_reserve_four = false;          // every RIR given is 4+, the last set's among them
};

struct Entry {
  std::uint32_t session = 0;                // index into the history
  const ExerciseDone* done = nullptr;
  Day day;
  bool passing = false;
  bool same_exercise = true;                // false: another exercise that stood for it
  StandingDose effective;                   // the standing dose after this session (not passing)
  Outcome outcome;                          // against the dose it was done under
};

struct Ramp {
  bool open = false;
  std::optional<RampStep> done;             // last step done; open without one: the first was cut by a gate
  RampStep due = RampStep::d;               // next step, before "the same again"
  bool last_was_miss = false;
};

struct LineRecord {
  std::vector<Entry> entries;               // newest first
  std::vector<const Entry*> counted;        // newest first, at the present standing dose
  std::uint32_t hits = 0, misses = 0;
  bool ever_done = false;                   // the exercise itself
  bool last_by_r08 = false;
  Ramp ramp;

  LineRecord() = default;
  LineRecord(const LineRecord&) = delete;   // `counted` points into `entries`
  LineRecord& operator=(const LineRecord&) = delete;
  LineRecord(LineRecord&&) = default;
  LineRecord& operator=(LineRecord&&) = default;
};

// Sessions of the exercise of `standing` and what stood for it; counters at `standing`.
LineRecord read_line(const Record& record, const StandingDose& standing, std::optional<Day> since);

// The standing dose with a load that the athlete chose himself, or went up to in START and
// R27, taken over: an adult's last session decides [6.1, 6.7].
StandingDose with_chosen_load(const Record& record, const StandingDose& standing, std::optional<Day> since);

struct Gap {
  std::optional<std::int32_t> gap, pgap;    // days
  std::uint32_t gap_class = 0;
  bool bridged = false;
};
Gap gap_of(const Record& record, const StandingDose& standing, Day on);
std::optional<std::int32_t> pattern_gap(const Record& record, model::Pattern pattern, Day on);
// A break of class 4 or 5 with its end after `since` (the end may be still to come: `on`).
bool long_break_since(const Record& record, const std::string& exercise, Day since, Day on);

bool harder_on_line(const std::string& exercise, const std::string& than);
std::int32_t days_between(Day from, Day to);
std::uint32_t reserve_target(const StandingDose& standing, const SessionSituation& situation);  // tgt, never below 3 for SC, at most 4

}  // namespace slipway::rules
