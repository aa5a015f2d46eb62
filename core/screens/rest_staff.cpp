// Rest: the tide staff, out of which the water runs, and the clock beside it [drawings 01b, 01i].
#include <algorithm>
#include <array>
#include <cmath>

#include "screens/session_parts.h"

namespace slipway::screens {

namespace {

using namespace metrics;

constexpr float kStaffWidth = 84, kStaffHeight = 212, kStaffGap = 16;
constexpr float kTick = 9, kWordTick = 16;
constexpr float kLowStaff = 150;
// From the drawing down; the first that fits its line is taken.
constexpr std::array kClockSizes{Step::reps, Step::load, Step::dial, Step::read_out, Step::key};

// One tick each 7.5 s for rests to 1 min, 15 s to 2 min, 30 s above; in half seconds.
std::int64_t tick_halves(std::int64_t least_s) { return least_s <= 60 ? 15 : least_s <= 120 ? 30 : 60; }

std::string tick_words(std::int64_t seconds, std::int64_t least_s) {
  if (least_s <= 120) return std::to_string(seconds);
  const std::string part = std::to_string(seconds % 60);
  return std::to_string(seconds / 60) + ":" + (part.size() < 2 ? "0" : "") + part;
}

void draw_ticks(Ui& ui, std::int64_t least_s, const Box& box) {
  const Pen pen{Step::fine, Token::ink, true, Align::right};
  const float right = box.x + box.width;
  const std::int64_t step = tick_halves(least_s);
  const float room = box.height / static_cast<float>(2 * least_s) * static_cast<float>(2 * step);  // between two words
  const bool words_fit = room >= ui.line(Step::fine);
  for (std::int64_t halves = step; halves < 2 * least_s; halves += step) {
    const bool with_words = halves % (2 * step) == 0;
    const float y = std::round(box.y + box.height - box.height * static_cast<float>(halves) / static_cast<float>(2 * least_s));
    ui.rule(right - (with_words ? kWordTick : kTick), y, right, y, Token::ink, kEdge);
    if (!with_words || !words_fit) continue;
    const float line = ui.line(Step::fine);
    ui.write(tick_words(halves / 2, least_s), pen, box.x, y - std::floor(line / 2), box.width - kWordTick - 5);
  }
}

void draw_staff(Ui& ui, const RestView& rest, const Box& box) {
  const std::int64_t least = std::max<std::int64_t>(1, rest.least_s);
  const float part = std::clamp(static_cast<float>(rest.left_s) / static_cast<float>(least), 0.0F, 1.0F);
  const Box inner{box.x + kEdge, box.y + kEdge, box.width - 2 * kEdge, box.height - 2 * kEdge};
  const float y = std::clamp(std::round(inner.y + inner.height * (1 - part)), inner.y + 3, inner.y + inner.height - 3);
  if (rest.left_s > 0) draw_water(ui, inner, y, Token::sea2);
  draw_ticks(ui, least, box);
  draw_waterline(ui, inner.x, y, inner.width);
  ui.edge(box, Token::ink, kEdge);
}

// "0:37", or a pointer and "Go".
float draw_clock(Ui& ui, const RestView& rest, bool tight, const Strip& at) {
  std::size_t size = tight ? 1 : 0;
  const auto pointer = [&](Step step) { return rest.go ? std::round(ui.px(step) * 0.65F) + 12 : 0; };
  const auto needed = [&](Step step) { return pointer(step) + ui.width_of(rest.clock, {step, Token::ink, true}); };
  while (size + 1 < kClockSizes.size() && needed(kClockSizes[size]) > at.width) ++size;
  const Step step = kClockSizes[size];
  const float air = air_above(ui, step);
  const float indent = pointer(step);
  if (rest.go) {
    const float icon = indent - 12;
    const float middle = at.y - air + ui.baseline(step) - ui.px(step) * 0.37F;
    ui.icon(Icon::next, at.x, std::round(middle - icon / 2), icon, Token::ink);
  }
  return ui.write(rest.clock, {step, Token::ink, true}, at.x + indent, at.y - air, at.width - indent) - air;
}

// Two words at the ends of a line, or below each other.
float draw_ends(Ui& ui, const std::string& left, const Pen& left_pen, const std::string& right, const Strip& at) {
  const Pen right_pen{Step::read, Token::ink2};
  const float needed = ui.width_of(left, left_pen) + kMargin + ui.width_of(right, right_pen);
  const float height = ui.write(left, left_pen, at.x, at.y, at.width);
  if (right.empty()) return height;
  if (needed > at.width) return height + ui.write(right, right_pen, at.x, at.y + height, at.width);
  const float lower = ui.baseline(left_pen.step) - ui.baseline(Step::read);
  ui.write(right, {Step::read, Token::ink2, false, Align::right}, at.x, at.y + lower, at.width);
  return height;
}

float draw_then(Ui& ui, const RestView& rest, const NextSet& next, const Strip& at) {
  float y = at.y;
  y += ui.write(rest.then_place, {Step::read, Token::ink2}, at.x, y, at.width);
  y += ui.write(next.movement, {Step::mark, Token::ink, true}, at.x, y, at.width);
  y += ui.write(rest.then_dose, {Step::mark, Token::ink}, at.x, y, at.width);
  return y - at.y;
}

float draw_words(Ui& ui, const RestView& rest, const NextSet& next, bool tight, const Strip& at) {
  float y = at.y;
  y += ui.write(rest.title, {Step::say, Token::ink2}, at.x, y, at.width);
  y += draw_clock(ui, rest, tight, {at.x, y, at.width});
  y += draw_ends(ui, rest.under, {Step::say, rest.go ? Token::ink : Token::ink2, rest.go}, rest.note, {at.x, y, at.width}) + 6;
  ui.rule(at.x, y, at.x + at.width, y, Token::line, 1);
  y += 7;
  y += draw_then(ui, rest, next, {at.x, y, at.width});
  return y - at.y;
}

}  // namespace

float draw_rest(Ui& ui, const RestView& rest, const NextSet& next, bool tight, const Strip& at) {
  const Strip words{at.x + kStaffWidth + kStaffGap, at.y, at.width - kStaffWidth - kStaffGap};
  const float needed = ui.measure([&] { return draw_words(ui, rest, next, tight, words); });
  const float height = std::max(needed, tight ? kLowStaff : kStaffHeight);
  // Its figures change every second, so it is no live message: what is to be said the app announces.
  ui.node("rest", {.role = model::Role::text, .name = rest.spoken, .rect = {at.x, at.y, at.width, height}});
  draw_staff(ui, rest, {at.x, at.y, kStaffWidth, height});
  draw_words(ui, rest, next, tight, {words.x, at.y + std::floor((height - needed) / 2), words.width});
  return height;
}

}  // namespace slipway::screens
