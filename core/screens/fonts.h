// The font files, embedded by the build: subsets made from Debian's font packages.
//
// B612 draws everything; DejaVu Sans draws a whole line that has a letter B612 lacks.
#pragma once

#include <cstdint>
#include <span>

namespace slipway::screens {

enum class Face : std::uint8_t { regular, bold, fallback_regular, fallback_bold };

// The whole file; the bytes live as long as the program.
std::span<const unsigned char> font_file(Face face);

}  // namespace slipway::screens
