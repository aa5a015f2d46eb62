#include "model/position.h"

namespace slipway::model {

namespace {

constexpr unsigned kDigits = 256;
constexpr std::uint64_t kStep = 8;     // between two numbered places: room for a few one-byte positions
constexpr std::uint64_t kPlaces = 31;  // that fit one byte

unsigned digit(const std::string& position, std::size_t at) {
  return at < position.size() ? static_cast<unsigned char>(position[at]) : 0;
}

}  // namespace

std::string position_between(const std::string& lower, const std::string& upper) {
  std::string out;
  bool bounded = !upper.empty() && lower < upper;  // while all before this digit is the upper's own
  for (std::size_t at = 0;; ++at) {
    const unsigned low = digit(lower, at);
    const unsigned high = bounded ? digit(upper, at) : kDigits;
    if (const unsigned middle = (low + high) / 2; middle > low && middle < high) {
      out.push_back(static_cast<char>(middle));
      return out;
    }
    out.push_back(static_cast<char>(low));
    bounded = bounded && low == high;
  }
}

std::string position_of_place(std::uint64_t place) {
  std::string out;
  for (; place > kPlaces; place -= kPlaces) out.push_back(static_cast<char>(kDigits - 1));
  out.push_back(static_cast<char>(place * kStep));
  return out;
}

}  // namespace slipway::model
