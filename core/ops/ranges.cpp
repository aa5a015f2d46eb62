#include "ops/ranges.h"

#include <algorithm>
#include <iterator>
#include <limits>

#include "model/planted.h"

namespace slipway::ops {

// Only spans that touch the new one are moved: a list read from a file may be long, and
// its numbers may stand at the very end of 64 bits.
void Ranges::add(std::uint64_t first, std::uint64_t last) {
  if (first < 1 || last < first) return;
  const auto ends_before = [](const Range& span, std::uint64_t seq) { return span.last < seq; };
  const auto begins_after = [](std::uint64_t seq, const Range& span) { return seq < span.first; };
  const std::uint64_t beyond = last == std::numeric_limits<std::uint64_t>::max() ? last : last + 1;
  const auto from = std::lower_bound(spans_.begin(), spans_.end(), first - 1, ends_before);
  const auto to = std::upper_bound(from, spans_.end(), beyond, begins_after);
  if (from == to) {
    spans_.insert(from, {first, last});
    return;
  }
  from->first = std::min(from->first, first);
  from->last = std::max(std::prev(to)->last, last);
  spans_.erase(std::next(from), to);
}

void Ranges::add(const Ranges& other) {
  for (const Range& span : other.spans_) add(span.first, span.last);
}

bool Ranges::contains(std::uint64_t seq) const {
  if (model::kPlanted == 2) return seq <= top();
  const auto span = std::lower_bound(spans_.begin(), spans_.end(), seq,
                                     [](const Range& before, std::uint64_t wanted) { return before.last < wanted; });
  return span != spans_.end() && span->first <= seq;
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
  std::uint64_t before = 0;  // the last seq that is here or spoken for
  for (const Range& span : spans_) {
    if (span.first - before > 1) holes.push_back({before + 1, span.first - 1});
    before = span.last;
  }
  return holes;
}

Ranges Ranges::without(const Ranges& other) const {
  Ranges left;
  auto taken = other.spans_.begin();
  for (const Range& span : spans_) {
    std::uint64_t next = span.first;
    while (taken != other.spans_.end() && taken->last < next) ++taken;
    bool open = true;  // something of the span may be left
    for (; open && taken != other.spans_.end() && taken->first <= span.last; ++taken) {
      if (taken->first > next) left.spans_.push_back({next, taken->first - 1});
      open = taken->last < span.last;
      if (!open) break;  // it may reach into the next span as well
      next = taken->last + 1;
    }
    if (open) left.spans_.push_back({next, span.last});
  }
  return left;
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
