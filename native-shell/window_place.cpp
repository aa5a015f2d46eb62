#include "window_place.h"

#include <charconv>
#include <string>

#include "places.h"
#include "whole_files.h"

namespace slipway::native {

namespace {

constexpr int kMostPixels = 8192;
constexpr int kFarthest = 32768;  // X counts no farther

bool read_number(std::string_view text, int least, int most, int& out) {
  const auto got = std::from_chars(text.data(), text.data() + text.size(), out);
  return got.ec == std::errc{} && got.ptr == text.data() + text.size() && out >= least && out <= most;
}

std::string file() { return state_folder().empty() ? "" : state_folder() + "/window"; }

// "390x844", "390x844+20+-5"
bool read_place(std::string_view text, WindowPlace& place) {
  const std::size_t first = text.find('+');
  if (!read_size(text.substr(0, first), place.size)) return false;
  if (first == std::string_view::npos) return true;
  const std::string_view spot = text.substr(first + 1);
  const std::size_t second = spot.find('+');
  Spot at;
  if (second == std::string_view::npos || !read_number(spot.substr(0, second), -kFarthest, kFarthest, at.left) ||
      !read_number(spot.substr(second + 1), -kFarthest, kFarthest, at.top))
    return false;
  place.at = at;
  return true;
}

}  // namespace

bool read_size(std::string_view text, SurfaceSize& size) {
  const std::size_t cross = text.find('x');
  int width = 0;
  int height = 0;
  if (cross == std::string_view::npos || !read_number(text.substr(0, cross), 1, kMostPixels, width) ||
      !read_number(text.substr(cross + 1), 1, kMostPixels, height))
    return false;
  size.width = static_cast<float>(width);
  size.height = static_cast<float>(height);
  return true;
}

WindowPlace remembered_place() {
  if (file().empty()) return {};
  const auto bytes = read_whole(file());
  WindowPlace place;
  return bytes && read_place(model::as_text(*bytes), place) ? place : WindowPlace{};
}

void remember_place(const WindowPlace& place) {
  if (file().empty() || !make_folder(state_folder())) return;
  std::string text = std::to_string(static_cast<int>(place.size.width)) + "x" + std::to_string(static_cast<int>(place.size.height));
  if (place.at) text += "+" + std::to_string(place.at->left) + "+" + std::to_string(place.at->top);
  static_cast<void>(write_whole(file(), model::as_bytes(text), IfThere::replace));
}

}  // namespace slipway::native
