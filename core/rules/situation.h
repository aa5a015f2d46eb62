// What the progression engine is told about one athlete and one planned session: facts,
// never conclusions. Hits, misses, gaps and ramps are worked out inside, from the history.
// A value that is missing is missing (optional, or an empty string), never 0.
// Lists may come in any order; decide() sorts what has an order (handbook 6.7).
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "model/ladder.h"
#include "model/units.h"

namespace slipway::rules {

using model::Day;

// ---- dose -----------------------------------------------------------------------------------------

// Whole seconds of one rep: lower, pause at the bottom, lift, pause at the top [1.6].
// All 0: as the exercise is usually done (standard_tempo()).
struct Tempo {
  std::uint32_t down = 0, bottom = 0, up = 0, top = 0;
  bool usual() const { return down + bottom + up + top == 0; }
  friend bool operator==(const Tempo&, const Tempo&) = default;
};

enum class Format : std::uint8_t { straight, circuit, spread };

// The dose that is written until a rule or the coach changes it [6.1].
struct StandingDose {
  std::string exercise;               // ladder id, "SQ4"
  std::optional<std::int64_t> load_g; // in_hands exercises: one hand. VP4m: the assistance, a positive number
  std::uint32_t sets = 0;
  std::uint32_t lo = 0, hi = 0;       // reps, or seconds of a hold
  std::uint32_t tgt_rir = 2;          // written reserve, whole reps
  std::string band;                   // one of Kit::bands
  std::string first_set_band;         // thinner band for the first set only [6.4a]; empty: as the others
  std::string grip;                   // "overhand", "neutral", "underhand", "wide"; empty: not said
  Tempo tempo;
  Format format = Format::straight;
  friend bool operator==(const StandingDose&, const StandingDose&) = default;
};

// ---- athlete and place ----------------------------------------------------------------------------

struct BodyMass {
  Day day;
  std::int64_t g = 0;
  bool coarse = false;                // the multiple of 5 kg at or below: for limits only [1.3]
};

struct Athlete {
  // Both ages by 0.4 (see ages_on()). Missing: treated as a youth with the limits of 10-13.
  std::optional<std::int32_t> age_low, age_high;
  std::vector<BodyMass> body_masses;
  bool has_coach = true;              // an adult without one is asked himself [6.8]
  bool gate_on = false;               // technique gate switched on for an adult [6.8]; youth: always on
  std::optional<std::uint32_t> days_a_week;  // written by the coach [G08]; missing: upper number of 5.7
  std::vector<std::string> ticks;     // exercises the coach ticked for this youth: SQ8, SC1, SC2 with a thin band [5.1, 5.7]
};

struct Ages {
  std::int32_t low = 0, high = 0;     // years
};
Ages ages_on(Day day, std::int32_t birth_year, std::optional<std::uint32_t> birth_month = {});

// What is here today. A list that nobody made is missing: every exercise is then taken as
// possible, and the written load as the only one here; an empty list says "nothing".
struct Kit {
  std::optional<std::vector<std::int64_t>> loads_g;   // dumbbells, kettlebells, filled rucksack: one implement each
  std::optional<std::vector<std::int64_t>> plates_g;  // for VP8, PU8: each entry stands for a pair [1.3], sums are made inside; missing: loads_g
  std::optional<std::vector<std::int64_t>> stack_g;   // machine: VP4m (assistance), VPx; missing: loads_g
  std::vector<std::string> bands;                     // thick … thin
  std::optional<std::vector<std::string>> equipment;  // words of the ladder table: "bar", "bench", …
};

// ---- what happened --------------------------------------------------------------------------------

enum class Side : std::uint8_t { both, left, right };
enum class RampStep : std::uint8_t { a = 1, b, c, d };  // -30 %, -20 %, -10 %, standing dose [6.1]

struct SetFact {
  std::uint32_t number = 0;           // 1 … within the exercise; left and right of one set share it. 0: by position
  std::uint32_t reps = 0;             // full-range reps; form_broke: up to the last good one; seconds of a hold
  std::optional<std::int64_t> load_g; // missing: as written
  std::optional<std::uint32_t> rir_halves;  // 0 … 7; 8 is "4+"
  Side side = Side::both;
  bool warm_up = false;
  bool form_broke = false;
  std::optional<std::int64_t> at_ms;  // end of the set; only differences within one exercise are used
};

// The decision under which an exercise was done, as the record keeps it.
struct Written {
  StandingDose standing;              // the dose that stands once this was done (ExerciseDecision::standing)
  StandingDose start;                 // "as at the start" (ExerciseDecision::start); exercise empty: as `standing`
  std::vector<std::string> rows;      // gate, when, filters, dose row, modifiers: "R07", "G13"
  std::string stands_for;             // the plan line's exercise, where another was done for it (substitute, easier rung)
  bool passing = false;               // valid for that one session
  bool by_coach = false;              // the coach's own dose, or the coach overruled the row
  bool cut_by_gate = false;           // a gate cut the ramp step further: it is not yet done
  std::optional<RampStep> ramp_step;  // missing with a ramp row: worked out from the row
};

enum class ShortReason : std::uint8_t { not_given, no_time, kit_busy, too_hard, pain, other };

struct ExerciseDone {
  std::string exercise;
  std::string band, grip;             // empty: as written
  std::vector<SetFact> sets;
  ShortReason short_reason = ShortReason::not_given;
  bool two_more = false;              // under 14: the adult ticked "two more were there"
  std::optional<bool> looked_alike;   // adult without coach: "Did the last rep look like the first?" [6.8]
  bool test = false;                  // a milestone test: never a hit or miss [6.5]
  std::optional<Written> written;     // missing: done as the standing dose of today
};

struct SessionFact {
  std::string id;                     // record id, for evidence
  Day day;                            // training date
  std::int64_t start_ms = 0;          // claimed start
  std::string order_key;              // of the store
  bool adult_ticked_in = true;        // youth: whether a qualified adult was there
  bool ticked_in_afterwards = false;  // W03 settled by the coach
  bool left_out = false;              // not counted, by W03 or by the coach
  bool pain_answered = false;         // "nothing hurts", or details: parts without a report count as 0 for this session
  bool first_of_programme = false;
  bool open = false;                  // going on now: the session decide() is asked about
  bool contradiction = false;         // entries of two devices disagree [W06]
  std::vector<ExerciseDone> exercises;
};

enum class PainAt : std::uint8_t { session, swim, check, daily };  // check: before a session, at rest

struct PainReport {
  std::string id;
  Day day;
  std::int64_t at_ms = 0;
  PainAt at = PainAt::session;
  std::string session_id;             // where at == session; empty: the session of that day
  std::string exercise;               // empty: reported without an exercise
  std::uint32_t joints = 0;           // model::joint bits of the part that hurts; 0: all joints of `exercise`
  std::string region;                 // the part's own word ("front_shoulder", "low_back"): finds the row of 5.2
  std::uint32_t amount = 0;           // 0 … 10
  std::optional<bool> settled;        // "back to normal next morning"; missing = not settled, and asked
};

struct RedFlag {
  std::string id, word;
  Day day;
  bool local = false;                 // false: general or emergency
  std::uint32_t joints = 0;           // of a local one
};

enum class ClearedBy : std::uint8_t { athlete, coach, guardian };

struct Clearance {                    // a fact with a date and the part it covers [2.7]
  std::string id;
  Day day;
  std::int64_t at_ms = 0;
  ClearedBy by = ClearedBy::athlete;
  bool clinician_allowed = false;     // a clinician has allowed training; false: "seen by a doctor or physiotherapist"
  bool general = false;               // covers general flags
  std::uint32_t joints = 0;           // covers these parts
  std::optional<std::vector<std::string>> reports = {};  // ids of what it was given for, and of no other; missing: all of its part up to its day
};

struct Illness {
  std::string id;
  Day first_day;
  bool below_neck = false;            // fever, chest, stomach, aching body
  std::optional<std::int64_t> ended_ms;  // local civil ms, same scale as now_ms; missing: still ill
};

struct SorenessAnswer {
  Day day;
  model::Pattern pattern = model::Pattern::squat;
  std::uint32_t level = 0;            // 0 none … 3 hinders movement
};

enum class SignOffLevel : std::uint8_t { withdrawn, none, sound, loaded };

struct SignOff {
  std::string id;
  std::string exercise;
  SignOffLevel level = SignOffLevel::sound;
  Day day;
  std::int64_t at_ms = 0;
  std::optional<std::int64_t> load_g; // seen
  std::string note;                   // id of the coach's note, never its words
};

struct Overruling {                   // by the coach, for this session [6]
  std::string row;                    // the row that is not to act
  std::string exercise;               // empty: a row of the session
};

// ---- the question -----------------------------------------------------------------------------------

enum class PhaseKind : std::uint8_t { learn, general, strength, power };

struct Phase {
  PhaseKind kind = PhaseKind::general;
  std::optional<std::uint32_t> week;  // of the learn phase, from 1: sets of 5.9
};

struct PlanLine {
  StandingDose standing;              // present standing dose (present_line() derives it)
  std::optional<StandingDose> start;  // "as at the start": missing, as `standing`
  std::optional<Day> since;           // counters begin here: a change of phase or by the coach. Missing: as far as the record goes
  bool by_coach = false;              // the coach wrote exactly this dose: R27 gives it as written
};

enum class TrainNow : std::uint8_t { no, swimmer, coach };  // who says "train now" to MOVE or "keep" to ASK

struct SessionSituation {
  Day today;
  std::int64_t now_ms = 0;            // planned start, or now: local civil ms
  std::optional<Day> first_day;       // of this athlete's record: earlier sessions are flagged [6.7]
  Athlete athlete;
  Kit kit;
  Phase phase;
  bool adult_ticked_in = false;
  TrainNow train_now = TrainNow::no;
  std::vector<RedFlag> red_flags;
  std::vector<Illness> illnesses;
  std::vector<Clearance> clearances;
  std::vector<PainReport> pains;
  std::vector<SorenessAnswer> soreness;
  std::vector<SignOff> sign_offs;
  std::vector<Overruling> overrulings;
  std::vector<SessionFact> history;
  std::vector<PlanLine> lines;
};

}  // namespace slipway::rules
