// libFuzzer target for the header of sealed files: stanzas, passphrase costs, MAC.
#include <cstdio>
#include <cstdlib>

#include "kit/bundle_door.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string broken = slipway::kit::broken_seal({data, size});
  if (broken.empty()) return 0;
  std::fprintf(stderr, "broken promise: %s\n", broken.c_str());
  std::abort();
}
