#include "ops/ranges.h"

#include <algorithm>

namespace slipway::ops {

void Ranges::add(std::uint64_t first, std::uint64_t last) {
  if (first < 1 || last < first) return;
  std::vector<Range> merged;
  Range grown{first, last};
  for (const Range& span : spans_) {
    const bool apart = span.last + 1 < grown.first || grown.last + 1 < span.first;
    if (apart) {
      merged.push_back(span);
    } else {
      grown.first = std::min(grown.first, span.first);
      grown.last = std::max(grown.last, span.last);
    }
  }
  merged.push_back(grown);
  std::sort(merged.begin(), merged.end(), [](const Range& a, const Range& b) { return a.first < b.first; });
  spans_ = std::move(merged);
}

void Ranges::add(const Ranges& other) {
  for (const Range& span : other.spans_) add(span.first, span.last);
}

bool Ranges::contains(std::uint64_t seq) const {
  return std::any_of(spans_.begin(), spans_.end(), [seq](const Range& span) { return span.first <= seq && seq <= span.last; });
}

std::uint64_t Ranges::prefix_end() const { return spans_.empty() || spans_.front().first != 1 ? 0 : spans_.front().last; }
std::uint64_t Ranges::top() const { return spans_.empty() ? 0 : spans_.back().last; }

std::uint64_t Ranges::count() const {
  std::uint64_t sum = 0;
  for (const Range& span : spans_) sum += span.last - span.first + 1;
  return sum;
}

std::vector<Range> Ranges::missing() const {
  std::vector<Range> holes;
  std::uint64_t next = 1;
  for (const Range& span : spans_) {
    if (span.first > next) holes.push_back({next, span.first - 1});
    next = span.last + 1;
  }
  return holes;
}

Ranges Ranges::without(const Ranges& other) const {
  Ranges out;
  for (const Range& span : spans_) {
    std::uint64_t next = span.first;
    for (const Range& taken : other.spans_) {
      if (taken.last < next || taken.first > span.last) continue;
      if (taken.first > next) out.spans_.push_back({next, taken.first - 1});
      next = taken.last + 1;
    }
    if (next <= span.last) out.spans_.push_back({next, span.last});
  }
  return out;
}

std::string to_text(const Ranges& ranges) {
  if (ranges.empty()) return "–";
  std::string text;
  for (const Range& span : ranges.spans()) {
    if (!text.empty()) text += ", ";
    text += span.first == span.last ? std::to_string(span.first) : std::to_string(span.first) + ".." + std::to_string(span.last);
  }
  return text;
}

}  // namespace slipway::ops
