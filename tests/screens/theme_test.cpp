#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "screens/theme.h"

using namespace slipway::screens;

namespace {

// Relative luminance and contrast ratio as defined in WCAG 2.x (W3C, "relative luminance",
// "contrast ratio"): sRGB made linear, weighted 0.2126, 0.7152, 0.0722; (L1 + 0.05) / (L2 + 0.05).
double linear(std::uint8_t part) {
  const double value = part / 255.0;
  return value <= 0.04045 ? value / 12.92 : std::pow((value + 0.055) / 1.055, 2.4);
}
double luminance(const Colour& colour) { return 0.2126 * linear(colour.red) + 0.7152 * linear(colour.green) + 0.0722 * linear(colour.blue); }
double contrast(const Colour& a, const Colour& b) {
  const double light = std::max(luminance(a), luminance(b));
  const double dark = std::min(luminance(a), luminance(b));
  return (light + 0.05) / (dark + 0.05);
}

using Pair = std::pair<Token, Token>;

// The pairs in use [screens design 4].
constexpr Pair kTextPairs[] = {
    {Token::ink, Token::paper},   {Token::ink2, Token::paper},    {Token::ink, Token::sea},     {Token::ink2, Token::sea},
    {Token::ink, Token::sea2},    {Token::ink, Token::land},      {Token::ink2, Token::land},   {Token::ink, Token::key},
    {Token::mag, Token::paper},   {Token::mag, Token::mag_tint},  {Token::mag, Token::key},     {Token::on_deep, Token::deep},
    {Token::on_mag, Token::mag},  {Token::paper, Token::ink},
};
constexpr Pair kEdgePairs[] = {
    {Token::line, Token::paper}, {Token::ink, Token::paper}, {Token::deep, Token::paper}, {Token::mag, Token::paper},
    {Token::ink, Token::sea2},   {Token::ink, Token::land},  {Token::lip, Token::paper},
};

double least(const Theme& colours, const Pair* begin, const Pair* end) {
  double least = 21;
  for (const Pair* pair = begin; pair != end; ++pair) least = std::min(least, contrast(colours[pair->first], colours[pair->second]));
  return least;
}

}  // namespace

TEST_CASE("the contrast formula gives 21 for black on white and 1 for a colour on itself") {
  CHECK(contrast({0, 0, 0}, {255, 255, 255}) == doctest::Approx(21.0));
  CHECK(contrast({122, 13, 72}, {122, 13, 72}) == doctest::Approx(1.0));
}

TEST_CASE("text holds 7 to 1 in daylight and forced contrast, 4.5 to 1 at night") {
  CHECK(least(theme(ThemeName::daylight), std::begin(kTextPairs), std::end(kTextPairs)) >= 7.0);
  CHECK(least(theme(ThemeName::forced), std::begin(kTextPairs), std::end(kTextPairs)) >= 7.0);
  CHECK(least(theme(ThemeName::night), std::begin(kTextPairs), std::end(kTextPairs)) >= 4.5);
}

TEST_CASE("edges that mean something hold 3 to 1 in every theme") {
  for (const ThemeName name : {ThemeName::daylight, ThemeName::night, ThemeName::forced})
    CHECK(least(theme(name), std::begin(kEdgePairs), std::end(kEdgePairs)) >= 3.0);
}

TEST_CASE("the focus ring of paper and ink is seen on every ground, the deep key included") {
  for (const ThemeName name : {ThemeName::daylight, ThemeName::night, ThemeName::forced})
    for (std::size_t ground = 0; ground < kTokenCount; ++ground) {
      const Theme& colours = theme(name);
      const Colour& under = colours.colours[ground];
      CHECK(std::max(contrast(colours[Token::paper], under), contrast(colours[Token::ink], under)) >= 3.0);
    }
}

TEST_CASE("no type step is smaller than 14 and each is larger than the one before") {
  float before = 13.9F;
  for (int step = 0; step <= static_cast<int>(Step::reps); ++step) {
    CHECK(em(static_cast<Step>(step)) > before);
    before = em(static_cast<Step>(step));
  }
}
