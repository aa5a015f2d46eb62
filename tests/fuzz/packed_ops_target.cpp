// libFuzzer target for codec 1 alone, past every check of the frame: clang++ -fsanitize=fuzzer,address,undefined.
#include <cstdio>
#include <cstdlib>

#include "kit/bundle_door.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string broken = slipway::kit::broken_unpacking({data, size});
  if (broken.empty()) return 0;
  std::fprintf(stderr, "broken promise: %s\n", broken.c_str());
  std::abort();
}
