#include "ops/ranges.h"

#include <limits>
#include <set>

#include <doctest/doctest.h>

#include "kit/fixed_random.h"

using namespace slipway;
using ops::Range;
using ops::Ranges;

namespace {

constexpr std::uint64_t kEnd = std::numeric_limits<std::uint64_t>::max();

Ranges ranges(std::initializer_list<Range> spans) {
  Ranges out;
  for (const Range& span : spans) out.add(span.first, span.last);
  return out;
}

}  // namespace

TEST_CASE("a lost bundle leaves a named hole") {
  const Ranges held = ranges({{60, 61}, {1, 57}});
  CHECK(ops::to_text(held) == "1..57, 60..61");
  CHECK(held.prefix_end() == 57);
  CHECK(held.top() == 61);
  CHECK(held.count() == 59);
  CHECK(held.missing() == std::vector<Range>{{58, 59}});
  CHECK(held.contains(57));
  CHECK_FALSE(held.contains(58));
}

TEST_CASE("nothing held is nothing, not zero") {
  const Ranges none;
  CHECK(none.empty());
  CHECK(ops::to_text(none) == "–");
  CHECK(none.prefix_end() == 0);
  CHECK(none.top() == 0);
  CHECK(none.missing().empty());
  CHECK_FALSE(none.contains(0));
  CHECK(ranges({{0, 4}, {5, 4}}).empty());  // no such seqs
}

TEST_CASE("without the first op there is no prefix") {
  const Ranges late = ranges({{3, 3}, {5, 9}});
  CHECK(late.prefix_end() == 0);
  CHECK(ops::to_text(late) == "3, 5..9");
  CHECK(late.missing() == std::vector<Range>{{1, 2}, {4, 4}});
}

TEST_CASE("ranges that touch or overlap are one") {
  CHECK(ops::to_text(ranges({{1, 3}, {4, 6}})) == "1..6");
  CHECK(ops::to_text(ranges({{4, 6}, {1, 3}})) == "1..6");
  CHECK(ops::to_text(ranges({{1, 2}, {5, 6}, {9, 9}, {2, 8}})) == "1..9");
  CHECK(ops::to_text(ranges({{1, 9}, {3, 4}})) == "1..9");
}

TEST_CASE("here and not there is what is sent") {
  CHECK(ops::to_text(ranges({{1, 10}}).without(ranges({{3, 4}, {8, 20}}))) == "1..2, 5..7");
  CHECK(ops::to_text(ranges({{1, 3}, {6, 9}}).without(ranges({{2, 7}}))) == "1, 8..9");
  CHECK(ranges({{2, 3}}).without(ranges({{1, 9}})).empty());
  CHECK(ranges({{2, 3}, {7, 9}}).without({}) == ranges({{2, 3}, {7, 9}}));
}

TEST_CASE("numbers at the end of sixty-four bits do no harm") {
  const Ranges top = ranges({{kEnd, kEnd}, {5, kEnd - 1}, {1, 2}});
  CHECK(top == ranges({{1, 2}, {5, kEnd}}));
  CHECK(top.missing() == std::vector<Range>{{3, 4}});
  CHECK(top.contains(kEnd));
  CHECK(top.without(ranges({{7, kEnd}})) == ranges({{1, 2}, {5, 6}}));
  CHECK(ranges({{1, kEnd}}).without(ranges({{kEnd, kEnd}})) == ranges({{1, kEnd - 1}}));
  CHECK(ranges({{1, kEnd}}).without(ranges({{1, kEnd - 1}})) == ranges({{kEnd, kEnd}}));
}

TEST_CASE("ranges are a set of numbers, however they were put together") {
  kit::Dice dice(3);
  const auto some = [&dice](std::set<std::uint64_t>& plain) {
    Ranges out;
    for (std::size_t left = dice.below(12); left > 0; --left) {
      const std::uint64_t first = 1 + dice.below(40), last = first + dice.below(6);
      out.add(first, last);
      for (std::uint64_t seq = first; seq <= last; ++seq) plain.insert(seq);
    }
    return out;
  };
  const auto same = [](const Ranges& ranges, const std::set<std::uint64_t>& plain) {
    Ranges one_by_one;
    for (std::uint64_t seq : plain) one_by_one.add(seq, seq);
    return ranges == one_by_one && ranges.count() == plain.size();
  };
  for (int i = 0; i < 2'000; ++i) {
    CAPTURE(i);
    std::set<std::uint64_t> plain_here, plain_there;
    Ranges here = some(plain_here);
    const Ranges there = some(plain_there);
    REQUIRE(same(here, plain_here));
    std::set<std::uint64_t> difference, holes;
    for (std::uint64_t seq : plain_here)
      if (plain_there.count(seq) == 0) difference.insert(seq);
    REQUIRE(same(here.without(there), difference));
    for (std::uint64_t seq = 1; seq <= 50; ++seq) {
      REQUIRE(here.contains(seq) == (plain_here.count(seq) != 0));
      if (seq < here.top() && plain_here.count(seq) == 0) holes.insert(seq);
    }
    Ranges missing;
    for (const Range& hole : here.missing()) missing.add(hole.first, hole.last);
    REQUIRE(same(missing, holes));
    here.add(there);
    plain_here.insert(plain_there.begin(), plain_there.end());
    REQUIRE(same(here, plain_here));
  }
}
