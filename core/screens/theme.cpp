#include "screens/theme.h"

namespace slipway::screens {

namespace {

constexpr Colour rgb(std::uint32_t value) {
  return {static_cast<std::uint8_t>(value >> 16), static_cast<std::uint8_t>(value >> 8), static_cast<std::uint8_t>(value)};
}

// In the order of Token: paper, ink, ink2, line, hair, sea, sea2, deep, on_deep, land, mag, mag_tint, on_mag, key, lip.
constexpr Theme kDaylight{{rgb(0xFDFDF8), rgb(0x07202F), rgb(0x34495A), rgb(0x6A7C88), rgb(0xC9D2D6), rgb(0xD6EAF3), rgb(0x9CCAE1), rgb(0x0B4566),
                           rgb(0xFFFFFF), rgb(0xF5E7BF), rgb(0x7A0D48), rgb(0xFAE1EC), rgb(0xFFFFFF), rgb(0xFFFFFF), rgb(0x07202F)}};
constexpr Theme kNight{{rgb(0x0A1217), rgb(0xEADFC2), rgb(0xB9AF96), rgb(0x7E7A6C), rgb(0x33393A), rgb(0x11303F), rgb(0x225469), rgb(0xE3CD92),
                        rgb(0x0A1217), rgb(0x352C14), rgb(0xF29AC6), rgb(0x3A1529), rgb(0x0A1217), rgb(0x151F25), rgb(0x7E7A6C)}};
constexpr Theme kForced{{rgb(0x000000), rgb(0xFFFFFF), rgb(0xFFFFFF), rgb(0xFFFFFF), rgb(0x808080), rgb(0x000000), rgb(0x1A4A66), rgb(0xFFFF00),
                         rgb(0x000000), rgb(0x000000), rgb(0xFF9FD6), rgb(0x000000), rgb(0x000000), rgb(0x000000), rgb(0xFFFFFF)}};

}  // namespace

const Theme& theme(ThemeName name) {
  switch (name) {
    case ThemeName::night: return kNight;
    case ThemeName::forced: return kForced;
    case ThemeName::daylight: break;
  }
  return kDaylight;
}

float em(Step step) {
  constexpr float kSizes[] = {14, 15, 16, 18, 20, 25, 28, 36, 42, 56, 80};
  return kSizes[static_cast<std::size_t>(step)];
}

}  // namespace slipway::screens
