// Order in a list: there is always room for one more, wherever it is put.
#include "model/position.h"

#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "kit/fixed_random.h"

using namespace slipway::model;

namespace {
bool stands_between(const std::string& lower, const std::string& middle, const std::string& upper) {
  return lower < middle && (upper.empty() || middle < upper) && !middle.empty() && middle.back() != '\0';
}
}  // namespace

TEST_CASE("between any two positions there is a third, however close they are") {
  std::string lower = position_of_place(1), upper = position_of_place(2);
  for (int i = 0; i < 200; ++i) {  // always into the same gap, from both sides
    const std::string middle = position_between(lower, upper);
    REQUIRE(stands_between(lower, middle, upper));
    (i % 2 == 0 ? lower : upper) = middle;
  }
  std::string first = position_of_place(1);
  for (int i = 0; i < 200; ++i) {
    const std::string before = position_between("", first);
    REQUIRE(stands_between("", before, first));
    first = before;
  }
  std::string last = position_of_place(20);
  for (int i = 0; i < 200; ++i) {
    const std::string after = position_between(last, "");
    REQUIRE(stands_between(last, after, ""));
    last = after;
  }
}

TEST_CASE("a list in which things are put anywhere keeps the order they were put in") {
  slipway::kit::Dice dice(7);
  std::vector<std::string> list;
  for (int i = 0; i < 500; ++i) {
    const std::size_t at = static_cast<std::size_t>(dice.below(list.size() + 1));
    const std::string position = position_between(at == 0 ? "" : list[at - 1], at == list.size() ? "" : list[at]);
    list.insert(list.begin() + static_cast<std::ptrdiff_t>(at), position);
  }
  for (std::size_t i = 0; i < list.size(); ++i) {
    CHECK(list[i].back() != '\0');
    if (i > 0) REQUIRE(list[i - 1] < list[i]);
  }
}

TEST_CASE("numbered places rise, also beyond what one byte can hold") {
  for (std::uint64_t place = 1; place < 100; ++place) {
    CHECK(position_of_place(place) < position_of_place(place + 1));
    CHECK(stands_between(position_of_place(place), position_between(position_of_place(place), position_of_place(place + 1)), position_of_place(place + 1)));
  }
}

TEST_CASE("of two things at one place the next one follows, and nothing hangs") {
  CHECK(position_between("\x10", "\x10") > "\x10");
  CHECK(position_between("\x20", "\x10") > "\x20");
}
