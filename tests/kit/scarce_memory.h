// Memory that runs out on request: every operator new of the test program goes through
// here. While one of these lives, the n-th allocation fails, once or for good.
#pragma once

#include <cstdint>

namespace slipway::kit {

class ScarceMemory {
 public:
  enum class From : std::uint8_t { once, for_good };

  ScarceMemory(std::uint64_t nth, From from);
  ~ScarceMemory();
  ScarceMemory(const ScarceMemory&) = delete;
  ScarceMemory& operator=(const ScarceMemory&) = delete;

  bool ran_out() const;  // an allocation was refused
};

}  // namespace slipway::kit
