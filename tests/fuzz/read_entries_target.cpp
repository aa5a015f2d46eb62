// libFuzzer target for the open forms: JSON, ops as lines, zips.
#include <cstdio>
#include <cstdlib>

#include "kit/bundle_door.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string broken = slipway::kit::broken_open_form({data, size});
  if (broken.empty()) return 0;
  std::fprintf(stderr, "broken promise: %s\n", broken.c_str());
  std::abort();
}
