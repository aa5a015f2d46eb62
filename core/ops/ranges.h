// What is held of a stream: ranges, not a maximum, so that a lost bundle leaves a
// named hole (sync-and-storage 4).
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include "model/ids.h"
#include "ops/chain.h"

namespace slipway::ops {

struct Range {
  std::uint64_t first = 1, last = 1;
  friend bool operator==(const Range&, const Range&) = default;
};

// Sorted, disjoint, not touching. "1..57, 60..61".
class Ranges {
 public:
  void add(std::uint64_t first, std::uint64_t last);
  void add(const Ranges& other);
  bool contains(std::uint64_t seq) const;
  std::uint64_t prefix_end() const;  // last of 1..n, 0 if 1 is missing
  std::uint64_t top() const;         // highest seq, 0 if empty
  std::uint64_t count() const;
  bool empty() const { return spans_.empty(); }
  std::vector<Range> missing() const;                 // the holes below top()
  Ranges without(const Ranges& other) const;          // here and not there
  const std::vector<Range>& spans() const { return spans_; }
  friend bool operator==(const Ranges&, const Ranges&) = default;

 private:
  std::vector<Range> spans_;
};

std::string to_text(const Ranges& ranges);  // "1..57, 60..61"; "–" if empty

// What one side holds of one stream, with the head hash of the contiguous prefix.
struct Holding {
  Ranges ranges;
  model::Hash32 prefix_hash;  // hash of prefix_end(); genesis if that is 0
  bool forked = false;        // two different ops stand at one seq
  friend bool operator==(const Holding&, const Holding&) = default;
};
using Holdings = std::map<StreamId, Holding>;

}  // namespace slipway::ops
