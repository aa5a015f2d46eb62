// Every kind of op and every field tag: number, name, unit, merge type. Tags are
// never re-used; a test holds the code to this list. Names are those of JSON too.
//
// Tags 1 … 15 are common to all kinds; a kind's own fields begin at 16. A `change`
// carries the own tags of the record it changes.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>

#include "ops/op.h"

namespace slipway::ops {

enum class Merge : std::uint8_t {
  fact,        // append-only; a correction is a `change`, each field a register
  register_mv, // multi-value register per field: unseen concurrent values stay side by side
  add_only,    // never hidden: resolved or withdrawn shows struck through
  careful,     // never edited; a later fact names in `saw` those it replaces; of concurrent ones the more careful counts
  covers,      // change / take_back: acts on the ops it names in `saw`, never on others
  add_wins,    // a member of a set: a record of its own; taking back removes the additions it saw, a concurrent one stays
  auto_pick,   // small preferences: the highest (lam, writer) is shown, no contradiction is raised
  erasure,     // the whole scope is to be deleted; nothing else in it counts
  header,      // says who and when, merges nothing
};

struct KindInfo {
  std::uint32_t kind;
  std::string_view name;
  Merge merge;
  std::string_view meaning;
};
struct FieldInfo {
  std::uint32_t kind;  // 0 = common to all
  std::uint32_t tag;
  std::string_view name;
  Wire wire;
  std::string_view unit;  // "g", "ms", "reps" …; empty for words and ids
  std::string_view meaning;
};

std::span<const KindInfo> kinds();
std::span<const FieldInfo> fields();
const KindInfo* find_kind(std::uint32_t kind);
const FieldInfo* find_field(std::uint32_t kind, std::uint32_t tag);
bool is_known(const Op& op);  // its kind and every tag; of a change, whose record may not be here, tags that any kind has

// Kinds. Bit 0 is the critical bit: only erase has it.
namespace kind {
inline constexpr std::uint32_t erase = 1;
inline constexpr std::uint32_t athlete = 2, kit = 4, prescription = 6, session = 8, set = 10, pain = 12,
                               change = 14, take_back = 16, pain_end = 18, programme = 20, soreness = 22, check = 24,
                               red_flag = 26, clearance = 28, sign_off = 30, tick_in = 32, consent = 34, body_mass = 36,
                               finish = 38, decision = 40, overrule = 42, illness = 44, race = 46, key_swim = 48, swap = 50, note = 52, member = 54, preference = 56, library = 58, coach_notes = 60;
}
// A field in which somebody typed what they liked: it may name other people, so it is shown before it goes out.
// `kind` is the record's, also where a change wrote it.
bool is_free_text(std::uint32_t kind, std::uint32_t tag);
bool creates_record(std::uint32_t kind);  // every kind that does not act on a record already there, or on the whole scope
// Common tags.
namespace tag {
inline constexpr std::uint32_t nonce = 1;            // bytes[8], in the first op after each opening of the store
inline constexpr std::uint32_t author = 2;           // unsigned: 1 swimmer, 2 coach, 3 adult helper
inline constexpr std::uint32_t claimed_local_ms = 3; // signed, civil local ms since 1970
inline constexpr std::uint32_t utc_offset_min = 4;   // signed
inline constexpr std::uint32_t since_start_min = 5;  // unsigned
inline constexpr std::uint32_t target = 6;           // refs[1]: record acted on
inline constexpr std::uint32_t saw = 7;              // refs: ops whose values or existence this one covers
inline constexpr std::uint32_t own = 16;             // first tag of a kind's own fields
}
// limitations, bands, equipment, modifiers: words separated by one space. training_days: bit 0 is Monday.
// load, mass: list (zigzag value, decimals, unit), as in Quantity; kit loads one after the other, rising by mass.
// Days are civil days since 1970-01-01; local_ms civil local milliseconds since then.
namespace athlete_tag {
inline constexpr std::uint32_t name = 16, birth_year = 17, birth_month = 18, group = 19, limitations = 20, training_days = 21,
                               sign_off_gate = 22;
}
namespace kit_tag { inline constexpr std::uint32_t name = 16, loads = 17, bands = 18, equipment = 19; }
namespace prescription_tag {
inline constexpr std::uint32_t exercise = 16, sets = 17, reps = 18, load = 19, rir = 20, rest_ms = 21, reps_high = 22,
                               programme_day = 23, place = 24, block = 25, format = 26, tempo = 27, band = 28, grip = 29, position = 30;
}
namespace session_tag { inline constexpr std::uint32_t training_day = 16, title = 17, prescription = 18, programme_day = 19, kit = 20; }
namespace set_tag {
inline constexpr std::uint32_t session = 16, exercise = 17, round = 18, reps = 19, load = 20, rir = 21,
                               written_reps = 22, written_load = 23, left_out = 24, side = 25, warm_up = 26, form_broke = 27,
                               band = 28, grip = 29, two_more = 30, rest_ms = 31, note = 32;
}
namespace pain_tag {
inline constexpr std::uint32_t region = 16, band = 17, side = 18, amount = 19, exercise = 20, session = 21, settled = 22, in_swim = 23;
}
namespace pain_end_tag { inline constexpr std::uint32_t how = 16, note = 17; }  // how: 1 resolved, 2 withdrawn
namespace programme_tag {
inline constexpr std::uint32_t phase = 16, starts = 17, weeks = 18, days_a_week = 19, rest_between_exercises_ms = 20,
                               rest_between_rounds_ms = 21;
}
namespace soreness_tag { inline constexpr std::uint32_t region = 16, level = 17, days = 18, training_day = 19, session = 20; }
namespace check_tag { inline constexpr std::uint32_t training_day = 16, session = 17; }
namespace red_flag_tag { inline constexpr std::uint32_t flag = 16, group = 17, region = 18, training_day = 19; }
namespace clearance_tag { inline constexpr std::uint32_t covers = 16, note = 17, role = 18, day = 19, reports = 20, clinician_allowed = 21; }
namespace sign_off_tag {
inline constexpr std::uint32_t exercise = 16, level = 17, load = 18, reps = 19, note = 20, day = 21, role = 22;
}
namespace tick_in_tag { inline constexpr std::uint32_t session = 16, role = 17, second_adult = 18, training_day = 19; }
namespace consent_tag { inline constexpr std::uint32_t thing = 16, given = 17, by = 18, day = 19; }
namespace body_mass_tag { inline constexpr std::uint32_t mass = 16, day = 17, coarse = 18; }
namespace finish_tag { inline constexpr std::uint32_t session = 16, effort_tenths = 17, minutes = 18, short_reason = 19; }
namespace decision_tag {
inline constexpr std::uint32_t session = 16, exercise = 17, row = 18, gate = 19, when = 20, sets = 21, reps = 22, load = 23, rir = 24,
                               reps_low = 25, reps_high = 26, passing = 27, band = 28, grip = 29, tempo = 30, modifiers = 31,
                               args = 32, prescription = 33, swapped_from = 34, rest_ms = 35, standing = 36, start = 37,
                               ramp_step = 38, by_coach = 39, cut_by_gate = 40, reps_up_to = 41;
}
namespace overrule_tag {
inline constexpr std::uint32_t exercise = 16, training_day = 17, row = 18, note = 19, sets = 20, reps = 21, load = 22, reps_high = 23,
                               choice = 24;
}
namespace erase_tag { inline constexpr std::uint32_t reason = 16; }
namespace illness_tag { inline constexpr std::uint32_t state = 16, day = 17, ended_local_ms = 18; }
namespace race_tag { inline constexpr std::uint32_t name = 16, first_day = 17, last_day = 18, priority = 19; }
namespace key_swim_tag { inline constexpr std::uint32_t start_local_ms = 16; }
namespace swap_tag { inline constexpr std::uint32_t session = 16, from = 17, to = 18, pain = 19; }
namespace note_tag { inline constexpr std::uint32_t text = 16, about = 17, day = 18; }
namespace member_tag { inline constexpr std::uint32_t list = 16, word = 17; }  // list: limitations
namespace preference_tag { inline constexpr std::uint32_t name = 16, value = 17; }
namespace library_tag { inline constexpr std::uint32_t name = 16; }
namespace coach_notes_tag { inline constexpr std::uint32_t athlete = 16; }

}  // namespace slipway::ops
