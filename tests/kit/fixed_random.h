// Chance that is the same each time: SplitMix64 (from memory), own so that every build
// and every standard library draws the same numbers.
#pragma once

#include <cstdint>
#include <vector>

#include "host/random.h"

namespace slipway::kit {

class Dice {
 public:
  explicit Dice(std::uint64_t seed) : state_(seed) {}

  std::uint64_t next() {
    state_ += 0x9E3779B97F4A7C15ULL;
    std::uint64_t z = state_;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
    return z ^ (z >> 31);
  }
  std::size_t below(std::size_t limit) { return static_cast<std::size_t>(next() % limit); }  // limit > 0
  bool one_in(std::size_t n) { return below(n) == 0; }
  std::int64_t between(std::int64_t low, std::int64_t high) {
    return low + static_cast<std::int64_t>(next() % static_cast<std::uint64_t>(high - low + 1));
  }
  template <class T>
  const T& pick(const std::vector<T>& from) { return from[below(from.size())]; }
  template <class T>
  void shuffle(std::vector<T>& all) {
    for (std::size_t left = all.size(); left > 1; --left) std::swap(all[left - 1], all[below(left)]);
  }

 private:
  std::uint64_t state_;
};

class FixedRandom : public host::Random {
 public:
  explicit FixedRandom(std::uint64_t seed) : dice_(seed) {}
  void fill(std::span<std::uint8_t> out) override {
    for (std::uint8_t& byte : out) byte = static_cast<std::uint8_t>(dice_.next() >> 56);
  }

 private:
  Dice dice_;
};

}  // namespace slipway::kit
