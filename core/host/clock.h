// The device's idea of time. It is only ever claimed, never believed
// (sync-and-storage 2): it labels entries and decides nothing.
#pragma once

#include <cstdint>

#include "model/units.h"

namespace slipway::host {

class Clock {
 public:
  virtual ~Clock() = default;
  virtual model::ClaimedTime now() = 0;        // civil local time, offset, minutes since start
  virtual std::uint64_t monotonic_ms() = 0;    // never goes back while the app runs
};

}  // namespace slipway::host
