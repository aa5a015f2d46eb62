#include "app/dose_text.h"

#include <array>
#include <charconv>
#include <vector>

#include "app/book.h"

namespace slipway::app {

namespace {

std::vector<std::string_view> split(std::string_view text, char mark) {
  std::vector<std::string_view> parts;
  std::size_t from = 0;
  for (std::size_t at = text.find(mark); at != std::string_view::npos; at = text.find(mark, from)) {
    parts.push_back(text.substr(from, at - from));
    from = at + 1;
  }
  parts.push_back(text.substr(from));
  return parts;
}

template <class Number>
bool whole(std::string_view text, Number& out) {
  const auto read = std::from_chars(text.data(), text.data() + text.size(), out);
  return !text.empty() && read.ec == std::errc{} && read.ptr == text.data() + text.size();
}

}  // namespace

std::string dose_text(const rules::StandingDose& dose) {
  const auto number = [](auto value) { return std::to_string(value); };
  const std::string tempo = number(dose.tempo.down) + "-" + number(dose.tempo.bottom) + "-" + number(dose.tempo.up) + "-" + number(dose.tempo.top);
  return dose.exercise + ";" + (dose.load_g ? number(*dose.load_g) : "") + ";" + number(dose.sets) + ";" + number(dose.lo) + ";" +
         number(dose.hi) + ";" + number(dose.tgt_rir) + ";" + dose.band + ";" + dose.first_set_band + ";" + dose.grip + ";" + tempo + ";" +
         number(static_cast<unsigned>(dose.format));
}

std::optional<rules::StandingDose> read_dose(std::string_view text) {
  const auto parts = split(text, ';');
  constexpr std::size_t kParts = 11;
  if (parts.size() != kParts || parts[0].empty()) return std::nullopt;
  rules::StandingDose dose;
  dose.exercise = parts[0];
  if (!parts[1].empty()) {
    std::int64_t load = 0;
    if (!whole(parts[1], load)) return std::nullopt;
    dose.load_g = load;
  }
  if (!whole(parts[2], dose.sets) || !whole(parts[3], dose.lo) || !whole(parts[4], dose.hi) || !whole(parts[5], dose.tgt_rir)) return std::nullopt;
  if (dose.sets > kMaxRounds) return std::nullopt;
  dose.band = parts[6];
  dose.first_set_band = parts[7];
  dose.grip = parts[8];
  const auto tempo = split(parts[9], '-');
  if (tempo.size() != 4 || !whole(tempo[0], dose.tempo.down) || !whole(tempo[1], dose.tempo.bottom) || !whole(tempo[2], dose.tempo.up) ||
      !whole(tempo[3], dose.tempo.top))
    return std::nullopt;
  unsigned format = 0;
  if (!whole(parts[10], format) || format > static_cast<unsigned>(rules::Format::spread)) return std::nullopt;
  dose.format = static_cast<rules::Format>(format);
  return dose;
}

}  // namespace slipway::app
