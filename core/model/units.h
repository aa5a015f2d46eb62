// Units of everything stored, merged or decided: integers only
// (architecture 1, handbook 0.4). Doubles live in `compute` results and display.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "model/result.h"

namespace slipway::model {

// 1 lb = 0.45359237 kg, 1 yd = 0.9144 m, 1 in = 25.4 mm, all exact [definition: handbook 0.4].
enum class Unit : std::uint8_t { kg = 1, lb = 2, m = 3, yd = 4, cm = 5, in = 6 };

inline constexpr std::int64_t kMostQuantity = 1'000'000'000;  // typed or foreign: far above any load, and grams() can multiply it

// A quantity keeps what was typed, so that 45 lb stays 45 lb on every device:
// value 225, decimals 1, unit kg is "22.5 kg". Grams and millimetres are derived,
// rounded half away from zero.
struct Quantity {
  std::int64_t value = 0;     // as typed, without the decimal point; -kMostQuantity … kMostQuantity
  std::uint8_t decimals = 0;  // 0 … 3
  Unit unit = Unit::kg;

  friend bool operator==(const Quantity&, const Quantity&) = default;
};

std::int64_t grams(const Quantity& mass);        // unit kg or lb
std::int64_t millimetres(const Quantity& length);  // unit m, yd, cm or in
Quantity kilograms_from_grams(std::int64_t g);   // shortest form: 22000 -> 22 kg, 22500 -> 22.5 kg
// In quarters of a pound where it is that to within `off_g` grams: 20412 -> 45 lb; nothing: it is no such load.
std::optional<Quantity> pounds_from_grams(std::int64_t g, std::int64_t off_g);
std::string to_text(const Quantity& quantity);   // "22.5 kg", with a no-break space and U+2212 for minus
std::string number_text(const Quantity& quantity);  // "22.5"
// Reads "22.5", "22,5 kg", "50 lb"; without a unit `assumed` counts. Errors: invalid.
Result<Quantity> read_quantity(std::string_view text, Unit assumed);

// Civil days since 1970-01-01 (chrono::local_days); "days between" is a difference
// of these, never hours / 24.
struct Day {
  std::int32_t since_1970 = 0;
  friend bool operator==(const Day&, const Day&) = default;
  friend bool operator<(const Day& a, const Day& b) { return a.since_1970 < b.since_1970; }
};
std::string iso(Day day);                    // "2026-11-25"
std::string weekday_date(Day day);           // "Wed 25 Nov", with no-break spaces
Result<Day> read_day(std::string_view iso);  // Errors: invalid

// What a device claims about the moment of an entry. It labels; it never decides
// a merge (sync-and-storage 2).
struct ClaimedTime {
  std::int64_t local_ms = 0;            // civil local milliseconds since 1970-01-01T00:00 local
  std::int32_t utc_offset_min = 0;      // minutes east of UTC, -1440 … 1440
  std::uint64_t since_start_min = 0;    // monotonic minutes since the app started

  friend bool operator==(const ClaimedTime&, const ClaimedTime&) = default;
};
Day day_of(const ClaimedTime& claimed);
std::string iso(const ClaimedTime& claimed);  // "2026-11-25T18:42:07.120+01:00"
std::string clock(const ClaimedTime& claimed);  // "18:42"

}  // namespace slipway::model
