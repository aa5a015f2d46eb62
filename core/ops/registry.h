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
  covers,      // change / take_back: acts on the ops it names in `saw`, never on others
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

// Kinds (even: bit 0 is the critical bit).
namespace kind {
inline constexpr std::uint32_t athlete = 2, kit = 4, prescription = 6, session = 8, set = 10, pain = 12,
                               change = 14, take_back = 16, pain_end = 18;
}
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
namespace athlete_tag { inline constexpr std::uint32_t name = 16, birth_year = 17; }
// loads: (zigzag value, decimals, unit) a load, rising by mass.
namespace kit_tag { inline constexpr std::uint32_t name = 16, loads = 17; }
// load: list (zigzag value, decimals, unit), as in Quantity.
namespace prescription_tag {
inline constexpr std::uint32_t exercise = 16, sets = 17, reps = 18, load = 19, rir = 20, rest_ms = 21;
}
namespace session_tag { inline constexpr std::uint32_t training_day = 16, title = 17, prescription = 18; }
namespace set_tag {
inline constexpr std::uint32_t session = 16, exercise = 17, round = 18, reps = 19, load = 20, rir = 21,
                               written_reps = 22, written_load = 23, left_out = 24;
}
namespace pain_tag { inline constexpr std::uint32_t region = 16, band = 17, side = 18, amount = 19; }
namespace pain_end_tag { inline constexpr std::uint32_t how = 16, note = 17; }  // how: 1 resolved, 2 withdrawn

}  // namespace slipway::ops
