// Unpredictable bytes: ids, nonces, tokens.
#pragma once

#include <cstdint>
#include <span>

namespace slipway::host {

class Random {
 public:
  virtual ~Random() = default;
  virtual void fill(std::span<std::uint8_t> out) = 0;
};

}  // namespace slipway::host
