// Merging is the union of sets, and the view is a function of the set: whatever order,
// repetition, detour or part.
#include <algorithm>
#include <string>

#include <doctest/doctest.h>

#include "kit/history.h"
#include "kit/ops_kit.h"
#include "kit/rows.h"
#include "ops/registry.h"
#include "ops/views.h"

using namespace slipway;
using kit::Device;
using model::Hash32;
using ops::ChainedOp;
using ops::Fold;

namespace {

using Ops = std::vector<ChainedOp>;

std::uint64_t cases() { return kit::times(kit::kWasm ? 60 : 300, 100'000); }

struct Digests {
  Hash32 ops, views;
  friend bool operator==(const Digests&, const Digests&) = default;
};

Digests digests_of(const Ops& ops) {
  const Fold fold = kit::fold_of(ops);
  return {kit::holding(ops).digest(), ops::digest_of_views({&fold})};
}

Ops joined(const std::vector<Ops>& parts) {
  Ops all;
  for (const Ops& part : parts) all.insert(all.end(), part.begin(), part.end());
  return all;
}

// A device that only takes in.
Device reader(char inc) { return Device(kit::stream_named('s', inc), static_cast<std::uint64_t>(inc)); }

}  // namespace

TEST_CASE("merging is commutative, associative and idempotent") {
  const std::uint64_t count = cases();
  for (std::uint64_t seed = 1; seed <= count; ++seed) {
    CAPTURE(seed);
    const auto parts = kit::three_streams(seed, 10 + seed % 60);
    const Ops &a = parts[0], &b = parts[1], &c = parts[2];
    const Digests all = digests_of(joined({a, b, c}));
    REQUIRE(digests_of(joined({c, b, a})) == all);
    REQUIRE(digests_of(joined({b, a, c})) == all);
    REQUIRE(digests_of(joined({a, a, b, c, b, a})) == all);

    Device left = reader('x'), right = reader('y');  // (a ∪ b) ∪ c and a ∪ (b ∪ c)
    left.take_in(joined({a, b}));
    left.take_in(c);
    right.take_in(joined({b, c}));
    right.take_in(a);
    REQUIRE(left.fold() == right.fold());
    REQUIRE(left.held().digest() == right.held().digest());

    Ops shuffled = joined({a, b, c});
    kit::Dice dice(seed);
    dice.shuffle(shuffled);
    REQUIRE(digests_of(shuffled) == all);
    REQUIRE(left.take_in(shuffled) == 0);  // nothing new
    REQUIRE(kit::holding(left.ops()).op_count() == shuffled.size());
  }
  kit::row(2, count, "merges of three logs, in any order, grouping and repetition");
}

TEST_CASE("any part of a log has a view, and the rest completes it") {
  const std::uint64_t count = cases();
  for (std::uint64_t seed = 1; seed <= count; ++seed) {
    CAPTURE(seed);
    const Ops all = joined(kit::three_streams(seed, 10 + seed % 60));
    const Fold whole = kit::fold_of(all);
    kit::Dice dice(seed);
    Fold some(whole.scope());
    Ops rest;
    for (const ChainedOp& op : all) {
      if (dice.one_in(2)) {
        some.add(op);
      } else {
        rest.push_back(op);
      }
    }
    const model::Athlete athlete = ops::read_athlete(some);
    REQUIRE(athlete.pains.size() == some.of_kind(ops::kind::pain).size());
    REQUIRE(athlete.red_flags.size() == some.of_kind(ops::kind::red_flag).size());
    REQUIRE(athlete.sign_offs.size() == some.of_kind(ops::kind::sign_off).size());
    REQUIRE(athlete.counting_sign_offs.empty() == athlete.sign_offs.empty());
    REQUIRE(*Fold::read_state(some.write_state()) == some);
    dice.shuffle(rest);
    for (const ChainedOp& op : rest) some.add(op);
    REQUIRE(some == whole);
  }
  kit::row(2, count, "views of a part, completed by the rest");
}

TEST_CASE("three devices, random edits: all orders of merging give the same two digests") {
  const auto parts = kit::three_streams(7, 36);
  const Digests expected = digests_of(joined(parts));
  kit::print_digest("three_devices.ops", expected.ops);
  kit::print_digest("three_devices.views", expected.views);

  // Six carryings, each from one device to another, in every order; then once around.
  std::vector<std::pair<std::size_t, std::size_t>> carryings{{0, 1}, {0, 2}, {1, 0}, {1, 2}, {2, 0}, {2, 1}};
  std::size_t orders = 0;
  do {
    std::vector<Device> devices{reader('a'), reader('b'), reader('c')};
    for (std::size_t i = 0; i < 3; ++i) devices[i].take_in(parts[i]);
    for (const auto& [from, to] : carryings) devices[to].take_in(devices[from].ops());
    for (std::size_t to : {1U, 2U, 0U, 1U}) devices[to].take_in(devices[(to + 2) % 3].ops());
    for (const Device& device : devices) {
      REQUIRE(device.held().digest() == expected.ops);
      REQUIRE(ops::digest_of_views({&device.fold()}) == expected.views);
    }
    ++orders;
  } while (std::next_permutation(carryings.begin(), carryings.end()));
  CHECK(orders == 720);
}

TEST_CASE("one changed bit of one op changes both digests") {
  auto parts = kit::three_streams(3, 14);
  const Digests sound = digests_of(joined(parts));
  std::uint64_t planted = 0;
  for (std::size_t part = 0; part < parts.size(); ++part)
    for (std::size_t nth = 0; nth < parts[part].size(); ++nth)
      for (std::size_t bit = 0; bit < parts[part][nth].bytes.size() * 8; ++bit) {
        model::Bytes changed = parts[part][nth].bytes;
        changed[bit / 8] = static_cast<std::uint8_t>(changed[bit / 8] ^ (1U << (bit % 8)));
        if (!ops::read_op(changed)) continue;  // refused at the door, which is tested there
        auto forged = parts;
        forged[part] = kit::chained_anew(parts[part], nth, changed);
        CAPTURE(part);
        CAPTURE(nth);
        CAPTURE(bit);
        const Digests other = digests_of(joined(forged));
        REQUIRE_FALSE(other.ops == sound.ops);
        REQUIRE_FALSE(other.views == sound.views);
        ++planted;
      }
  CHECK(planted > 1'000);
}

TEST_CASE("one op more or less changes both digests, of every kind") {
  Ops all = joined(kit::three_streams(3, 40));
  kit::Device newer(kit::stream_named('s', 'n'), 3);
  newer.write(1000, {});
  newer.write(ops::kind::change, {});  // without target
  for (const ChainedOp& op : newer.ops()) all.push_back(op);
  const Digests whole = digests_of(all);
  for (std::size_t i = 0; i < all.size(); ++i) {
    CAPTURE(i);
    Ops less = all;
    less.erase(less.begin() + static_cast<std::ptrdiff_t>(i));
    const Digests other = digests_of(less);
    REQUIRE_FALSE(other.ops == whole.ops);
    REQUIRE_FALSE(other.views == whole.views);
  }
}
