// Words, lines, fills and icons: what is drawn without being worked.
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "screens/ui_inside.h"

namespace slipway::screens {

namespace {

// One code point of UTF-8, 0 at a broken byte, which the fonts draw as missing.
std::uint32_t take_code_point(std::string_view& text) {
  const auto lead = static_cast<unsigned char>(text.front());
  const std::size_t length = lead < 0x80 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
  if (length == 1 || length > text.size()) {
    text.remove_prefix(1);
    return lead < 0x80 ? lead : 0;
  }
  std::uint32_t point = lead & (0xFFU >> (length + 1));
  for (std::size_t i = 1; i < length; ++i) point = point << 6 | (static_cast<unsigned char>(text[i]) & 0x3FU);
  text.remove_prefix(length);
  return point;
}

float width_in(ImFont* font, float size, std::string_view words) {
  return font->CalcTextSizeA(size, FLT_MAX, 0, words.data(), words.data() + words.size()).x;
}

// How much of a word that is too long for a line fits on it: at least one letter.
std::size_t letters_that_fit(ImFont* font, float size, std::string_view word, float width) {
  std::string_view rest = word;
  std::size_t fits = 0;
  while (!rest.empty()) {
    take_code_point(rest);
    const std::size_t upto = word.size() - rest.size();
    if (fits != 0 && width_in(font, size, word.substr(0, upto)) > width) break;
    fits = upto;
  }
  return fits;
}

}  // namespace

ImFont* Ui::Inside::font_for(std::string_view words, bool bold) const {
  const Fonts& fonts = memory.fonts;
  ImFont* own = bold ? fonts.bold : fonts.regular;
  while (!words.empty()) {
    const std::uint32_t point = take_code_point(words);
    if (point > '~' && (point > 0xFFFF || !own->IsGlyphInFont(static_cast<ImWchar>(point))))
      return bold ? fonts.fallback_bold : fonts.fallback_regular;  // the whole line, never letter by letter
  }
  return own;
}

float Ui::Inside::font_size(Step step, const ImFont* font) const {
  const bool own = font == memory.fonts.regular || font == memory.fonts.bold;
  return std::round(em(step) * input.text_scale * (own ? kB612Height : kFallbackHeight));
}

std::vector<Line> lines_of(const Ui::Inside& in, std::string_view words, const Pen& pen, float width) {
  ImFont* font = in.font_for(words, pen.bold);
  const float size = in.font_size(pen.step, font);
  std::vector<Line> lines;
  std::size_t start = 0;  // of the line being filled
  std::size_t end = 0;    // of what surely fits on it
  while (start < words.size()) {
    if (end == start && words[start] == ' ') {  // no line begins with a space
      end = ++start;
      continue;
    }
    const std::size_t from = end > start ? end + 1 : start;
    const std::size_t space = std::min(words.find(' ', from), words.size());
    const std::string_view tried = words.substr(start, space - start);
    if (width_in(font, size, tried) <= width) {
      end = space;
      if (space < words.size()) continue;
    } else if (end == start) {  // one word, too long: broken between letters
      end = start + letters_that_fit(font, size, tried, width);
    }
    const std::string_view line = words.substr(start, end - start);
    lines.push_back({line, width_in(font, size, line)});
    start = end < words.size() && words[end] == ' ' ? end + 1 : end;
    end = start;
  }
  return lines;
}

float Ui::px(Step step) const { return em(step) * text_scale(); }

float Ui::line(Step step) const {
  const float part = step >= Step::read_out ? kFigureLine : kRunningLine;
  return std::ceil(px(step) * part);
}

float Ui::baseline(Step step) const {
  constexpr float kAscent = 0.965F;  // of B612, in em
  const float size = std::round(px(step) * kB612Height);
  return std::floor((line(step) - size) / 2) + std::round(size * kAscent / kB612Height);
}

float Ui::width_of(std::string_view words, const Pen& pen) const {
  ImFont* font = in_.font_for(words, pen.bold);
  return std::ceil(width_in(font, in_.font_size(pen.step, font), words));
}

Size Ui::size_of(std::string_view words, const Pen& pen, float width) const {
  const auto lines = lines_of(in_, words, pen, width);
  Size size{0, static_cast<float>(lines.size()) * line(pen.step)};
  for (const Line& one : lines) size.width = std::max(size.width, std::ceil(one.width));
  return size;
}

float Ui::write(std::string_view words, const Pen& pen, float x, float y, float width) {
  const auto lines = lines_of(in_, words, pen, width);
  const float line_height = line(pen.step);
  if (in_.dry == 0) {
    ImFont* font = in_.font_for(words, pen.bold);
    const float size = in_.font_size(pen.step, font);
    const ScreenRect at = in_.on_screen({x, y, width, 0});
    float top = at.top + std::floor((line_height - size) / 2);
    for (const Line& one : lines) {
      const float spare = pen.align == Align::left ? 0 : pen.align == Align::right ? width - one.width : (width - one.width) / 2;
      in_.list->AddText(font, size, {std::floor(at.left + std::max(0.0F, spare)), top}, in_.colour(pen.token), one.words.data(),
                        one.words.data() + one.words.size());
      top += line_height;
    }
  }
  return static_cast<float>(lines.size()) * line_height;
}

void Ui::write_in(std::string_view words, const Pen& pen, const Box& box) {
  const Size size = size_of(words, pen, box.width);
  write(words, pen, box.x, box.y + std::floor((box.height - size.height) / 2), box.width);
}

void Ui::strike(const Box& words, Token token) {
  const float y = std::floor(words.y + words.height / 2) + 0.5F;
  rule(words.x - 2, y, words.x + words.width + 2, y, token, 1.5F);
}

void Ui::fill(const Box& box, Token token, float corner) {
  if (in_.dry > 0) return;
  const ScreenRect at = in_.on_screen(box);
  in_.list->AddRectFilled({at.left, at.top}, {at.right, at.bottom}, in_.colour(token), corner);
}

void Ui::edge(const Box& box, Token token, float thickness, float corner) {
  if (in_.dry > 0) return;
  const ScreenRect at = in_.on_screen(box);
  const float inset = thickness / 2 - 0.5F;  // AddRect draws half a pixel inside already
  in_.list->AddRect({at.left + inset, at.top + inset}, {at.right - inset, at.bottom - inset}, in_.colour(token), std::max(0.0F, corner - thickness / 2),
                    0, thickness);
}

void Ui::dashed_edge(const Box& box, Token token) {
  constexpr float kDash = 5, kSpace = 4;
  for (float x = box.x; x < box.x + box.width; x += kDash + kSpace) {
    const float to = std::min(x + kDash, box.x + box.width);
    rule(x, box.y + 1, to, box.y + 1, token, metrics::kEdge);
    rule(x, box.y + box.height - 1, to, box.y + box.height - 1, token, metrics::kEdge);
  }
  for (float y = box.y; y < box.y + box.height; y += kDash + kSpace) {
    const float to = std::min(y + kDash, box.y + box.height);
    rule(box.x + 1, y, box.x + 1, to, token, metrics::kEdge);
    rule(box.x + box.width - 1, y, box.x + box.width - 1, to, token, metrics::kEdge);
  }
}

void Ui::rule(float x1, float y1, float x2, float y2, Token token, float thickness) {
  if (in_.dry > 0) return;
  const ScreenRect a = in_.on_screen({x1, y1, 0, 0});
  const ScreenRect b = in_.on_screen({x2, y2, 0, 0});
  const float half = thickness / 2;
  if (y1 == y2) in_.list->AddRectFilled({a.left, a.top - half}, {b.left, a.top + half}, in_.colour(token));
  else if (x1 == x2) in_.list->AddRectFilled({a.left - half, a.top}, {a.left + half, b.top}, in_.colour(token));
  else in_.list->AddLine({a.left, a.top}, {b.left, b.top}, in_.colour(token), thickness);
}

void Ui::polygon(std::span<const GridPoint> points, Token token) {
  if (in_.dry > 0) return;
  for (const GridPoint& point : points) {
    const ScreenRect at = in_.on_screen({point.x, point.y, 0, 0});
    in_.list->PathLineTo({at.left, at.top});
  }
  in_.list->PathFillConvex(in_.colour(token));
}

void Ui::polyline(std::span<const GridPoint> points, Token token, float thickness) {
  if (in_.dry > 0) return;
  for (const GridPoint& point : points) {
    const ScreenRect at = in_.on_screen({point.x, point.y, 0, 0});
    in_.list->PathLineTo({at.left, at.top});
  }
  in_.list->PathStroke(in_.colour(token), 0, thickness);
}

void Ui::icon(Icon icon, float x, float y, float size, Token token) {
  if (in_.dry > 0 || icon == Icon::none) return;
  const ScreenRect at = in_.on_screen({x, y, size, size});
  draw_icon(*in_.list, in_.memory.icons[static_cast<std::size_t>(icon)], at.left, at.top, size, in_.colour(token));
}

float Ui::heading(std::string_view key, std::string_view words, const Pen& pen, float x, float y, float width) {
  const Size size = size_of(words, pen, width);
  write(words, pen, x, y, width);
  node(key, {.role = model::Role::heading, .name = std::string(words), .rect = {x, y, width, size.height}});
  return size.height;
}

float Ui::text(std::string_view key, std::string_view words, const Pen& pen, float x, float y, float width) {
  const Size size = size_of(words, pen, width);
  write(words, pen, x, y, width);
  node(key, {.role = model::Role::text, .name = std::string(words), .rect = {x, y, width, size.height}});
  return size.height;
}

}  // namespace slipway::screens
