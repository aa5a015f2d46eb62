// The table of tests (DEVELOPERS.md): its counts, ordinary and at length, and what each row has counted in this run.
// tests/run gathers the lines that row() prints.
#pragma once

#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>

namespace slipway::kit {

inline std::uint64_t number_from_outside(const char* name, std::uint64_t otherwise) {
  const char* text = std::getenv(name);
  return text == nullptr || *text == '\0' ? otherwise : std::strtoull(text, nullptr, 10);
}

#ifdef __EMSCRIPTEN__
inline constexpr bool kWasm = true;  // there the suite shows that both builds agree; large counts are reached natively
#else
inline constexpr bool kWasm = false;
#endif

inline bool at_length() { return std::getenv("SLIPWAY_LONG") != nullptr; }
inline std::uint64_t times(std::uint64_t ordinary, std::uint64_t long_run) { return at_length() ? long_run : ordinary; }

inline void row(int number, std::uint64_t count, const std::string& of_what) {
  std::printf("row %2d  %llu %s\n", number, static_cast<unsigned long long>(count), of_what.c_str());
}

}  // namespace slipway::kit
