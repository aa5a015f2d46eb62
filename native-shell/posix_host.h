// The clock and the unpredictable bytes of this computer.
#pragma once

#include <optional>
#include <string_view>

#include "host/clock.h"
#include "host/random.h"
#include "model/result.h"

namespace slipway::native {

class PosixClock : public host::Clock {
 public:
  // With a moment, every entry claims that one instead of the computer's.
  explicit PosixClock(std::optional<model::ClaimedTime> claimed = std::nullopt);
  model::ClaimedTime now() override;
  std::uint64_t monotonic_ms() override;  // goes on while the computer sleeps

 private:
  std::optional<model::ClaimedTime> claimed_;
  std::int64_t started_ms_;
};

class PosixRandom : public host::Random {
 public:
  void fill(std::span<std::uint8_t> out) override;  // ends the program if the system has none to give
};

// Reads "2026-03-02T18:42:07+01:00"; seconds and a fraction may be left out, Z is +00:00.
// Errors: invalid.
model::Result<model::ClaimedTime> read_moment(std::string_view text);

}  // namespace slipway::native
