// A clock that only moves when a test moves it, and may be as wrong as a test likes.
#pragma once

#include <cstdint>

#include "host/clock.h"

namespace slipway::kit {

class FixedClock : public host::Clock {
 public:
  // 2026-03-02, a Monday, at 18:00, one hour east of UTC.
  static constexpr std::int64_t kStartMs = (std::int64_t{20'514} * 24 + 18) * 3'600'000;

  model::ClaimedTime now() override { return {kStartMs + local_shift_ms_ + run_ms_, 60, static_cast<std::uint64_t>(run_ms_ / 60'000)}; }
  std::uint64_t monotonic_ms() override { return static_cast<std::uint64_t>(run_ms_); }

  void tick(std::int64_t ms) { run_ms_ += ms; }                  // time goes by
  void set_wrong_by(std::int64_t ms) { local_shift_ms_ = ms; }   // somebody turned the calendar

 private:
  std::int64_t run_ms_ = 0;
  std::int64_t local_shift_ms_ = 0;
};

}  // namespace slipway::kit
