// What the ops of one athlete's scope mean, as nouns: athlete, kit, programme, plan
// line, session, set, and the facts of athlete_facts.h. Read from the fold by
// ops/views.h; nothing here is stored.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "model/athlete_facts.h"
#include "model/ids.h"
#include "model/units.h"

namespace slipway::model {

template <class T>
struct Version {
  T value{};
  Writer by;
};

// The values of one field that nobody who saw them has replaced. The first is drawn
// first; more than one is a contradiction, shown and never decided by a clock.
template <class T>
struct Versions {
  std::vector<Version<T>> all;

  bool empty() const { return all.empty(); }
  bool contradiction() const { return all.size() > 1; }
  const T* first() const { return all.empty() ? nullptr : &all.front().value; }
  T value_or(T other) const { return all.empty() ? other : all.front().value; }
};

struct Kit {
  RecordId id;
  std::string name;
  std::vector<Quantity> loads = {};         // rising by mass
  std::vector<std::string> bands = {};      // thickest first
  std::vector<std::string> equipment = {};  // words of assets/ladders.table
  bool lists_equipment = false;             // false: nobody made the list, which is not an empty one

  bool has(std::string_view word) const;    // a word of equipment
};

enum class Format : std::uint8_t { straight = 1, circuit = 2, spread = 3 };

// One line that the coach wrote; the standing dose where the log has not moved it.
struct Prescription {
  RecordId id;
  Versions<std::string> exercise;       // ladder id, "SQ4"
  Versions<std::uint64_t> sets;
  Versions<std::uint64_t> reps;         // the low end; seconds of a hold
  Versions<Quantity> load;
  Versions<std::uint64_t> rir;          // reps in reserve, 0 … 4 (4 means 4 or more) [handbook 1.4]
  Versions<std::uint64_t> rest_ms;
  Versions<std::uint64_t> reps_high = {};      // missing: as reps
  Versions<std::uint64_t> programme_day = {};  // 1 A, 2 B; missing: every session
  Versions<std::uint64_t> place = {};          // order within its block, from 1
  Versions<std::uint64_t> block = {};          // from 1
  Versions<std::uint64_t> format = {};         // a Format
  Versions<std::vector<std::uint64_t>> tempo = {};  // four times in seconds [1.6]
  Versions<std::string> band = {};
  Versions<std::string> grip = {};             // overhand, neutral, underhand
  std::string position = {};                   // order within its block (position.h); never empty once read
  bool revived = false;                        // taken off the plan by somebody, kept by a change they had not seen
  Writer by = {};

  std::uint64_t high() const { return reps_high.value_or(reps.value_or(0)); }
};

struct Programme {
  RecordId id;
  std::string phase;                 // learn, general, strength, power, taper, race, break [5.4]
  std::optional<Day> starts = {};
  std::uint64_t weeks = 0;           // 0: not said
  std::uint64_t days_a_week = 0;     // 0: not said
  std::optional<std::uint64_t> rest_between_exercises_ms = {};
  std::optional<std::uint64_t> rest_between_rounds_ms = {};
};

struct SetDone {
  RecordId id;
  RecordId session;
  std::string exercise;
  std::uint64_t round = 1;
  Versions<std::uint64_t> reps;         // until the last good one; seconds of a hold [6.1]
  Versions<Quantity> load;              // empty: body weight
  Versions<std::uint64_t> rir;          // empty: not said
  std::optional<std::uint64_t> written_reps;
  std::optional<Quantity> written_load;
  std::optional<Side> side = {};        // of a one-sided exercise
  std::string band = {}, grip = {};
  bool warm_up = false;                 // never counted [5.10]
  bool form_broke = false;              // more reps were done, in worse form
  bool two_more = false;                // an adult's tick "two more were there" [6.1]
  bool left_out = false;
  bool corrected = false;               // a later change replaced a value
  bool revived = false;                 // taken back by somebody, kept by a change they had not seen
  Writer by;

  bool contradiction() const { return reps.contradiction() || load.contradiction() || rir.contradiction(); }
  bool as_written() const;              // done, with the reps and load that were written
};

enum class ShortReason : std::uint8_t { no_time = 1, kit_busy = 2, too_hard = 3, pain = 4, other = 5 };

struct Finish {
  RecordId id;
  std::optional<std::uint64_t> effort_tenths = {};  // 0 … 100
  std::optional<std::uint64_t> minutes = {};        // 1 … 600
  std::optional<ShortReason> short_reason = {};     // why it was short, if asked; no answer = no time [6.1]
};

struct Session {
  RecordId id;
  Versions<Day> training_day;
  std::string title;
  Writer by;
  std::vector<SetDone> sets;            // in drawing order, without those taken back
  std::optional<std::uint64_t> programme_day = {};  // 1 A, 2 B
  std::optional<RecordId> kit = {};
  Versions<Finish> finish = {};         // empty: still open
};

// The dose shown when a session was opened. Stays on record whatever arrives later [6.7].
struct Decision {
  RecordId id;
  RecordId session;
  std::string exercise, row, gate, when;            // row ids of handbook 6: "R15", "G13", "" for today
  std::uint64_t sets = 0;
  std::vector<std::uint64_t> reps = {};             // of each set
  std::optional<Quantity> load = {};
  std::optional<std::uint64_t> rir = {};
  std::uint64_t reps_low = 0, reps_high = 0;
  bool passing = false;                             // for one session only, not counted
  std::string band = {}, grip = {};
  std::vector<std::uint64_t> tempo = {};
  std::vector<std::string> modifiers = {};          // row ids, "M08"
  std::vector<std::string> args = {};               // facts for the reason text
  std::optional<RecordId> prescription = {};
  std::string swapped_from = {};
  std::optional<std::uint64_t> rest_ms = {};
  std::string standing = {}, start = {};            // doses as one text each, read and written by `app`
  std::uint64_t ramp_step = 0;                      // 1 … 4: step a … d of the way back; 0: none
  bool by_coach = false, cut_by_gate = false;
  std::vector<std::uint64_t> reps_up_to = {};       // of each set, where it is written as a range
  Writer by = {};
};

struct Overrule {
  RecordId id;
  std::string exercise;   // empty: the whole session
  Day day;
  std::string row;        // the row overruled
  std::string note;
  std::string choice = {};
  std::optional<std::uint64_t> sets = {}, reps = {}, reps_high = {};
  std::optional<Quantity> load = {};
  Writer by = {};
};

struct Race {
  RecordId id;
  std::string name;
  Day first_day, last_day;
  std::uint64_t priority = 1;  // 1 A, 2 B, 3 C; what cannot be read counts as A [5.5]
  Writer by = {};
};

struct KeySwim {
  RecordId id;
  std::int64_t start_local_ms = 0;
  Writer by = {};
};

struct Swap {
  RecordId id;
  RecordId session;
  std::string from, to;
  std::optional<RecordId> pain = {};
  Writer by = {};
};

// A coach's comment or a swimmer's note. Two versions that did not know of each other are both shown.
struct Note {
  RecordId id;
  Versions<std::string> text;
  std::optional<RecordId> about = {};  // the session or set it is about
  std::optional<Day> day = {};
  bool revived = false;
  Writer by = {};
};

// A record that one changed and another, who did not know of it, took away: it is there again until somebody answers.
struct CameBack {
  RecordId id;
  std::string kind;     // name of the registry: "prescription", "set" …
  Writer changed;       // the last one who changed it
  Writer taken_away;
};

struct Preference {  // auto-picked: one a name
  std::string name, value;
};

struct Athlete {
  ScopeId scope;
  RecordId id = {};                            // the record that names the athlete
  Versions<std::string> name = {};
  Versions<std::uint64_t> birth_year = {};
  Versions<std::uint64_t> birth_month = {};    // 1 … 12, where it was given
  Versions<std::string> group = {};            // youth, open_water, masters, triathlon …
  std::vector<std::string> limitations = {};   // loose_joints, shoulder_slipped, heart …: a set, what anybody added and nobody who saw it removed
  std::vector<bool> training_days = {};        // seven from Monday; empty: not said
  bool sign_off_gate = false;                  // of an adult; a youth's is always on [6.8]
  std::vector<Kit> kits = {};
  std::vector<Prescription> prescriptions = {};
  Versions<Programme> programme = {};          // the standing ones, newest first
  std::vector<Session> sessions = {};          // oldest first
  std::vector<SetDone> taken_back = {};        // history
  std::vector<Decision> decisions = {};        // all below: in drawing order, oldest first
  std::vector<Overrule> overrules = {};
  std::vector<Swap> swaps = {};
  std::vector<Pain> pains = {};
  std::vector<Soreness> soreness = {};         // standing
  std::vector<Check> checks = {};
  std::vector<RedFlag> red_flags = {};
  std::vector<Clearance> clearances = {};
  std::vector<SignOff> sign_offs = {};         // history
  std::vector<SignOff> counting_sign_offs = {};  // one an exercise: the one that counts now
  std::vector<TickIn> tick_ins = {};
  std::vector<Consent> consents = {};          // history
  std::vector<Consent> counting_consents = {}; // one a thing: the one that counts now
  std::vector<BodyMass> body_masses = {};      // standing, by day
  std::vector<Illness> illnesses = {};         // standing, by day
  std::vector<Race> races = {};                // by first day
  std::vector<KeySwim> key_swims = {};         // by start
  std::vector<Note> notes = {};                // oldest first
  std::vector<Preference> preferences = {};    // by name
  std::vector<CameBack> came_back = {};
  std::uint64_t not_understood = 0;            // entries that need a newer version: kept and passed on
};

// What a scope is about. Nothing known yet counts as an athlete.
enum class ScopeIs : std::uint8_t { athlete, library, coach_notes };

// Lines to be copied from, of no athlete: shared plans.
struct Library {
  ScopeId scope;
  RecordId id = {};
  Versions<std::string> name = {};
  std::vector<Prescription> prescriptions = {};
};

// Comments about an athlete that only coaches hold: a scope of their own, so that no filter can leak them.
struct CoachNotes {
  ScopeId scope, athlete;
  std::vector<Note> notes = {};
};

// Ages that the year, and the month where it was given, allow on a day [handbook 0.4]:
// the lowest for youth limits, the highest for those of 50 and over. Of a contradiction
// the widest range. Nothing without a year of birth.
struct Ages {
  std::int32_t lowest = 0, highest = 0;
};
std::optional<Ages> ages_on(const Athlete& athlete, Day day);
inline constexpr std::int32_t kAdultAge = 18;
// Under 18 by the lowest age; without a year of birth too: the safe side.
bool is_youth(const Athlete& athlete, Day day);

inline constexpr std::int32_t kBodyMassDays = 60;  // [handbook 1.3]
// The last on or before the day, at most 60 days old.
const BodyMass* body_mass_on(const Athlete& athlete, Day day);

const SignOff* counting_sign_off(const Athlete& athlete, std::string_view exercise);  // nullptr: none
std::optional<bool> consent_for(const Athlete& athlete, ConsentThing thing);           // nothing: never asked
inline constexpr std::int32_t kConsentDays = 365;  // asked again every 12 months [handbook 7.1]
// Known to be under 18, by year of birth or group: of them consent is asked before the first entry.
bool asks_consent(const Athlete& athlete, Day day);
// Never said, or 12 months old and more.
bool is_consent_due(const Athlete& athlete, ConsentThing thing, Day day);
// An adult's, or a youth's with a consent that is not due and says yes.
bool may_keep(const Athlete& athlete, ConsentThing thing, Day day);
const Illness* illness_on(const Athlete& athlete, Day day);  // the state that holds on that day; nullptr: nothing was said
// An adult ticked in for this session, and nobody took it back.
bool adult_ticked_in(const Athlete& athlete, const RecordId& session);
// A clearance names this pain or red flag; a youth's own word is none [2.7].
bool is_cleared(const Athlete& athlete, const RecordId& report);
const Session* session_on(const Athlete& athlete, Day day);  // the latest begun; nullptr: none
const Session* find_session(const Athlete& athlete, const RecordId& session);

}  // namespace slipway::model
