// Colours, type sizes and measures of the screens, as plain data [screens design 2, 3, 4].
//
// A screen names tokens and steps, never colours or pixels of its own. Every colour
// pair that carries text or an edge is held to its ratio by a test.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

namespace slipway::screens {

enum class ThemeName : std::uint8_t { daylight, night, forced };

enum class Token : std::uint8_t {
  paper, ink, ink2, line, hair, sea, sea2, deep, on_deep, land, mag, mag_tint, on_mag, key, lip,
};
inline constexpr std::size_t kTokenCount = 15;

struct Colour {
  std::uint8_t red = 0, green = 0, blue = 0;
  friend bool operator==(const Colour&, const Colour&) = default;
};

struct Theme {
  std::array<Colour, kTokenCount> colours;
  const Colour& operator[](Token token) const { return colours[static_cast<std::size_t>(token)]; }
};

const Theme& theme(ThemeName name);

// The eleven type steps; sizes are em in CSS pixels at text size 100 %.
enum class Step : std::uint8_t { fine, read, say, cue, mark, move, key, read_out, dial, load, reps };
float em(Step step);

inline constexpr float kTouch = 48;  // smallest target, and the touch unit a screen's width is counted in

// Steps of the grid and the sizes of drawn parts, CSS pixels.
namespace metrics {
inline constexpr float kMargin = 16, kBoardMargin = 12;
inline constexpr float kGap = 8, kChoiceGap = 6;
inline constexpr float kMainKey = 100, kMainKeyTight = 84, kKey = 56;
inline constexpr float kStepperKey = 84, kStepper = 70, kChoice = 56;
inline constexpr float kLip = 4, kCorner = 6, kBoardCorner = 4, kPanelCorner = 3;
inline constexpr float kEdge = 2, kChosenEdge = 4, kPanelEdge = 3;
inline constexpr float kBoardNames = 118, kBoardHead = 26, kBoardRow = 52, kBoardRowMost = 64;
inline constexpr float kTray = 8, kTrayGap = 14, kPost = 6;
inline constexpr float kBar = 58, kRail = 104;
inline constexpr float kIcon = 24;
inline constexpr float kColumnMost = 640;
inline constexpr float kGloveGap = 12, kGloveKey = 64;
}  // namespace metrics

// How the device is held, by Setup: the left hand mirrors Change, Pain, Sore and the steppers; gloves
// raise gaps and secondary keys, and the reason keeps two words [screens design 3, 8].
struct Hand {
  bool left = false, gloves = false;
};

inline constexpr float kRunningLine = 1.35F;  // line height in em, running text
inline constexpr float kFigureLine = 1.1F;    // and of large figures

}  // namespace slipway::screens
