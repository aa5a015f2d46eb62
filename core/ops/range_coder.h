// Codec 1's entropy coder: an adaptive binary range coder, both directions (private).
//
// A decision is coded with the chance that it is "no", learned from the decisions coded
// with it before: n decisions seen, the next moves the chance by 1/(n + 1.6), at the
// least by 1/kSteady. Integers only, so every build learns the same. The coded bytes are
// the fraction that names the interval, cut of zeros at its end: one form only, and past
// the end a reader sees zeros. RangeWriter and RangeReader have the same steps, so that
// what is written and how it is read stand in the code once (coded_columns.h, op_coder.h).
#pragma once

#include <array>
#include <cstdint>

#include "model/bytes.h"

namespace slipway::ops {

inline constexpr unsigned kSteady = 160;  // decisions a chance remembers

class Chance {
 public:
  std::uint32_t of_no() const { return no_; }  // in 65536ths, 32 … 65504
  void learn(bool yes) {
    const std::uint32_t rate = kRates[seen_];
    const std::uint32_t no = yes ? no_ - ((no_ * rate) >> 16) : no_ + (((65536U - no_) * rate) >> 16);
    no_ = static_cast<std::uint16_t>(no < 32 ? 32 : no > 65504 ? 65504 : no);
    if (seen_ < kSteady) ++seen_;
  }

 private:
  static constexpr auto kRates = [] {
    std::array<std::uint32_t, kSteady + 1> rates{};
    for (std::uint32_t n = 0; n <= kSteady; ++n) rates[n] = 65536 * 5 / (5 * n + 8);
    return rates;
  }();
  std::uint16_t no_ = 32768;
  std::uint16_t seen_ = 0;
};

class RangeWriter {
 public:
  static constexpr bool kReading = false;

  void decide(Chance& chance, bool& yes) {
    const auto bound = static_cast<std::uint32_t>((std::uint64_t{range_} * chance.of_no()) >> 16);
    if (yes) {
      low_ += bound;
      range_ -= bound;
    } else {
      range_ = bound;
    }
    chance.learn(yes);
    while (range_ < kLeast) shift();
  }

  // The low `bits` bits of a value, each as likely as not.
  void direct(unsigned bits, std::uint64_t& value) {
    while (bits > 0) {
      const unsigned now = bits < 16 ? bits : 16;
      bits -= now;
      range_ >>= now;
      low_ += ((value >> bits) & ((1U << now) - 1)) * std::uint64_t{range_};
      while (range_ < kLeast) shift();
    }
  }

  bool failed() const { return false; }
  void refuse_unless(bool) {}

  model::Bytes finish() && {
    // Of all fractions inside the interval the one with the most zeros at its end.
    for (unsigned bits = 32; bits > 0; --bits) {
      const std::uint64_t mask = (std::uint64_t{1} << bits) - 1;
      const std::uint64_t rounded = (low_ + mask) & ~mask;
      if (rounded > low_ + range_ - 1) continue;
      low_ = rounded;
      break;
    }
    for (int i = 0; i < 5; ++i) put_byte();
    out_.erase(out_.begin());  // what stands before the point is always nought
    while (!out_.empty() && out_.back() == 0) out_.pop_back();
    return std::move(out_);
  }

 private:
  static constexpr std::uint32_t kLeast = 1U << 24;

  void shift() {
    range_ <<= 8;
    put_byte();
  }
  // The top byte of low, held back while a carry could still run through it.
  void put_byte() {
    if (low_ < 0xFF000000U || low_ > 0xFFFFFFFFU) {
      const auto carry = static_cast<std::uint8_t>(low_ >> 32);
      out_.push_back(static_cast<std::uint8_t>(held_ + carry));
      for (; waiting_ > 0; --waiting_) out_.push_back(static_cast<std::uint8_t>(0xFF + carry));
      held_ = static_cast<std::uint8_t>(low_ >> 24);
    } else {
      ++waiting_;
    }
    low_ = (low_ & 0x00FFFFFFU) << 8;
  }

  model::Bytes out_;
  std::uint64_t low_ = 0;
  std::uint32_t range_ = 0xFFFFFFFFU;
  std::uint64_t waiting_ = 0;
  std::uint8_t held_ = 0;
};

class RangeReader {
 public:
  static constexpr bool kReading = true;

  explicit RangeReader(model::ByteView bytes) : bytes_(bytes) {
    for (int i = 0; i < 4; ++i) code_ = code_ << 8 | next();
  }

  void decide(Chance& chance, bool& yes) {
    const auto bound = static_cast<std::uint32_t>((std::uint64_t{range_} * chance.of_no()) >> 16);
    yes = code_ >= bound;
    if (yes) {
      low_ += bound;
      code_ -= bound;
      range_ -= bound;
    } else {
      range_ = bound;
    }
    chance.learn(yes);
    while (range_ < kLeast) shift();
  }

  void direct(unsigned bits, std::uint64_t& value) {
    value = 0;
    while (bits > 0) {
      const unsigned now = bits < 16 ? bits : 16;
      bits -= now;
      range_ >>= now;
      std::uint32_t part = code_ / range_;
      if (part >> now != 0) {  // no writer stands there
        failed_ = true;
        part = 0;
      }
      low_ += part * range_;
      code_ -= part * range_;
      value = value << now | part;
      while (range_ < kLeast) shift();
    }
  }

  bool failed() const { return failed_; }  // these bytes are no writer's
  void refuse_unless(bool a_writer_would) { failed_ = failed_ || !a_writer_would; }

  // After the last decision: do the bytes end as a writer would have ended them?
  bool ends_here() const {
    if (failed_ || at_ < bytes_.size() || (!bytes_.empty() && bytes_.back() == 0)) return false;
    for (unsigned bits = 32; bits > 0; --bits) {
      const std::uint64_t mask = (std::uint64_t{1} << bits) - 1;
      const std::uint64_t rounded = (std::uint64_t{low_} + mask) & ~mask;
      if (rounded <= std::uint64_t{low_} + range_ - 1) return code_ == static_cast<std::uint32_t>(rounded - low_);
    }
    return code_ == 0;
  }

 private:
  static constexpr std::uint32_t kLeast = 1U << 24;

  std::uint32_t next() { return at_ < bytes_.size() ? bytes_[at_++] : 0; }
  void shift() {
    range_ <<= 8;
    low_ <<= 8;
    code_ = code_ << 8 | next();
  }

  model::ByteView bytes_;
  std::size_t at_ = 0;
  std::uint32_t range_ = 0xFFFFFFFFU, code_ = 0;
  std::uint32_t low_ = 0;  // the writer's, as far as it still moves
  bool failed_ = false;
};

}  // namespace slipway::ops
