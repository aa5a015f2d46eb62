#include "model/units.h"

#include <array>
#include <charconv>
#include <chrono>
#include <cstdlib>

namespace slipway::model {

namespace {

constexpr std::string_view kNoBreakSpace = "\xC2\xA0";
constexpr std::string_view kMinus = "\xE2\x88\x92";  // U+2212
constexpr std::int64_t kDayMs = 86'400'000;
constexpr std::int64_t kHundredThousandPoundsG = 45'359'237;  // 1 lb = 0.45359237 kg exactly

constexpr std::array<std::int64_t, 4> kPowers{1, 10, 100, 1000};

std::int64_t divide_half_away(std::int64_t numerator, std::int64_t denominator) {
  const std::int64_t half = denominator / 2;
  return numerator >= 0 ? (numerator + half) / denominator : -((-numerator + half) / denominator);
}

std::int64_t power_of_ten(std::uint8_t decimals) { return kPowers[decimals < 4 ? decimals : 3]; }

std::string_view unit_word(Unit unit) {
  switch (unit) {
    case Unit::kg: return "kg";
    case Unit::lb: return "lb";
    case Unit::m: return "m";
    case Unit::yd: return "yd";
    case Unit::cm: return "cm";
    case Unit::in: return "in";
  }
  return "";
}

std::optional<Unit> read_unit(std::string_view word) {
  for (Unit unit : {Unit::kg, Unit::lb, Unit::m, Unit::yd, Unit::cm, Unit::in})
    if (unit_word(unit) == word) return unit;
  return std::nullopt;
}

std::string two_digits(std::int64_t value) {
  std::string text = std::to_string(value);
  return text.size() < 2 ? "0" + text : text;
}

std::string three_digits(std::int64_t value) {
  std::string text = std::to_string(value);
  return std::string(text.size() < 3 ? 3 - text.size() : 0, '0') + text;
}

std::chrono::year_month_day civil(Day day) {
  return std::chrono::year_month_day{std::chrono::local_days{std::chrono::days{day.since_1970}}};
}

std::int64_t ms_of_day(const ClaimedTime& claimed) {
  const std::int64_t rest = claimed.local_ms % kDayMs;
  return rest < 0 ? rest + kDayMs : rest;
}

}  // namespace

std::int64_t grams(const Quantity& mass) {
  const std::int64_t scale = power_of_ten(mass.decimals);
  if (mass.unit == Unit::lb) return divide_half_away(mass.value * kHundredThousandPoundsG, 100'000 * scale);
  return divide_half_away(mass.value * 1000, scale);
}

std::int64_t millimetres(const Quantity& length) {
  const std::int64_t scale = power_of_ten(length.decimals);
  switch (length.unit) {
    case Unit::yd: return divide_half_away(length.value * 9144, 10 * scale);  // 914.4 mm
    case Unit::in: return divide_half_away(length.value * 254, 10 * scale);   // 25.4 mm
    case Unit::cm: return divide_half_away(length.value * 10, scale);
    default: return divide_half_away(length.value * 1000, scale);
  }
}

namespace {

Quantity shortest(Quantity quantity) {
  while (quantity.decimals > 0 && quantity.value % 10 == 0) {
    quantity.value /= 10;
    quantity.decimals -= 1;
  }
  return quantity;
}

}  // namespace

Quantity kilograms_from_grams(std::int64_t g) { return shortest({g, 3, Unit::kg}); }

std::optional<Quantity> pounds_from_grams(std::int64_t g, std::int64_t off_g) {
  if (g < 0 || g > kMostQuantity) return std::nullopt;
  const std::int64_t quarters = divide_half_away(g * 400'000, kHundredThousandPoundsG);
  const Quantity pounds = shortest({quarters * 25, 2, Unit::lb});
  const std::int64_t off = grams(pounds) - g;
  return off >= -off_g && off <= off_g ? std::optional(pounds) : std::nullopt;
}

std::string number_text(const Quantity& quantity) {
  const std::int64_t scale = power_of_ten(quantity.decimals);
  const std::int64_t size = quantity.value < 0 ? -quantity.value : quantity.value;
  std::string text;
  if (quantity.value < 0) text += kMinus;
  text += std::to_string(size / scale);
  if (quantity.decimals > 0) {
    std::string fraction = three_digits(size % scale);
    text += "." + fraction.substr(fraction.size() - quantity.decimals);
  }
  return text;
}

std::string to_text(const Quantity& quantity) {
  return number_text(quantity) + std::string(kNoBreakSpace) + std::string(unit_word(quantity.unit));
}

Result<Quantity> read_quantity(std::string_view text, Unit assumed) {
  const Error refused = error(ErrorKind::invalid, "quantity.unreadable", {std::string(text)});
  std::string_view rest = text;
  const auto drop_spaces = [&rest] {
    while (rest.starts_with(" ") || rest.starts_with(kNoBreakSpace)) rest.remove_prefix(rest[0] == ' ' ? 1 : 2);
  };
  drop_spaces();
  bool negative = false;
  if (rest.starts_with("-")) {
    negative = true;
    rest.remove_prefix(1);
  } else if (rest.starts_with(kMinus)) {
    negative = true;
    rest.remove_prefix(kMinus.size());
  }
  Quantity quantity{0, 0, assumed};
  bool any_digit = false;
  bool after_point = false;
  while (!rest.empty()) {
    const char sign = rest[0];
    if (sign >= '0' && sign <= '9') {
      if (after_point && quantity.decimals == 3) return refused;
      quantity.value = quantity.value * 10 + (sign - '0');
      if (quantity.value > kMostQuantity) return refused;
      if (after_point) quantity.decimals += 1;
      any_digit = true;
    } else if ((sign == '.' || sign == ',') && !after_point && any_digit) {
      after_point = true;
    } else {
      break;
    }
    rest.remove_prefix(1);
  }
  if (!any_digit || (after_point && quantity.decimals == 0)) return refused;
  drop_spaces();
  while (rest.ends_with(" ")) rest.remove_suffix(1);
  if (!rest.empty()) {
    const auto unit = read_unit(rest);
    if (!unit) return refused;
    quantity.unit = *unit;
  }
  if (negative) quantity.value = -quantity.value;
  return quantity;
}

std::string iso(Day day) {
  const auto date = civil(day);
  const int year = static_cast<int>(date.year());
  std::string text = std::to_string(year < 0 ? -year : year);
  text = std::string(text.size() < 4 ? 4 - text.size() : 0, '0') + text;
  if (year < 0) text = "-" + text;
  return text + "-" + two_digits(static_cast<unsigned>(date.month())) + "-" + two_digits(static_cast<unsigned>(date.day()));
}

std::string weekday_date(Day day) {
  static constexpr std::array<std::string_view, 7> kDays{"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};
  static constexpr std::array<std::string_view, 12> kMonths{"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                                            "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
  const auto date = civil(day);
  const std::chrono::weekday weekday{std::chrono::local_days{std::chrono::days{day.since_1970}}};
  const std::string space(kNoBreakSpace);  // a date never breaks across lines
  return std::string(kDays[weekday.c_encoding()]) + space + std::to_string(static_cast<unsigned>(date.day())) + space +
         std::string(kMonths[static_cast<unsigned>(date.month()) - 1]);
}

Result<Day> read_day(std::string_view iso_text) {
  const Error refused = error(ErrorKind::invalid, "day.unreadable", {std::string(iso_text)});
  if (iso_text.size() != 10 || iso_text[4] != '-' || iso_text[7] != '-') return refused;
  std::array<int, 3> parts{};
  const std::array<std::string_view, 3> texts{iso_text.substr(0, 4), iso_text.substr(5, 2), iso_text.substr(8, 2)};
  for (std::size_t i = 0; i < 3; ++i) {
    const auto read = std::from_chars(texts[i].data(), texts[i].data() + texts[i].size(), parts[i]);
    if (read.ec != std::errc{} || read.ptr != texts[i].data() + texts[i].size() || parts[i] < 0) return refused;
  }
  const std::chrono::year_month_day date{std::chrono::year{parts[0]}, std::chrono::month{static_cast<unsigned>(parts[1])},
                                         std::chrono::day{static_cast<unsigned>(parts[2])}};
  if (!date.ok()) return refused;
  return Day{static_cast<std::int32_t>(std::chrono::local_days{date}.time_since_epoch().count())};
}

Day day_of(const ClaimedTime& claimed) {
  const std::int64_t day = (claimed.local_ms - ms_of_day(claimed)) / kDayMs;
  return Day{static_cast<std::int32_t>(day)};
}

std::string clock(const ClaimedTime& claimed) {
  const std::int64_t minutes = ms_of_day(claimed) / 60'000;
  return two_digits(minutes / 60) + ":" + two_digits(minutes % 60);
}

std::string iso(const ClaimedTime& claimed) {
  const std::int64_t ms = ms_of_day(claimed);
  const std::int32_t offset = claimed.utc_offset_min < 0 ? -claimed.utc_offset_min : claimed.utc_offset_min;
  return iso(day_of(claimed)) + "T" + clock(claimed) + ":" + two_digits(ms / 1000 % 60) + "." + three_digits(ms % 1000) +
         (claimed.utc_offset_min < 0 ? "-" : "+") + two_digits(offset / 60) + ":" + two_digits(offset % 60);
}

}  // namespace slipway::model
