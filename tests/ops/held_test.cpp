#include "ops/held.h"

#include <algorithm>

#include <doctest/doctest.h>

#include "kit/history.h"
#include "kit/ops_kit.h"
#include "kit/plain_blake2b.h"
#include "ops/registry.h"

using namespace slipway;
using kit::Device;
using ops::ChainedOp;
using ops::Held;

namespace {

Device device_with(char scope, char inc, std::size_t count) {
  Device device(kit::stream_named(scope, inc), static_cast<std::uint64_t>(inc));
  for (std::size_t i = 0; i < count; ++i) device.begin(ops::kind::session, {});
  return device;
}

std::vector<ChainedOp> ops_of(char scope, char inc, std::size_t count) { return device_with(scope, inc, count).ops(); }

}  // namespace

TEST_CASE("an op is new until it is held, by its whole hash") {
  const Device device = device_with('s', 'a', 3);
  Held held;
  const ChainedOp& op = device.ops()[1];
  CHECK_FALSE(held.contains(op.stream, op.seq, op.hash));
  CHECK_FALSE(held.forks(op.stream, op.seq, op.hash));
  held.add(op);
  CHECK(held.contains(op.stream, op.seq, op.hash));
  CHECK_FALSE(held.forks(op.stream, op.seq, op.hash));
  model::Hash32 other = op.hash;
  other.bytes[31] ^= 1U;  // beyond the eight bytes that references carry
  CHECK_FALSE(held.contains(op.stream, op.seq, other));
  CHECK(held.forks(op.stream, op.seq, other));
  held.add(op);
  CHECK(held.op_count() == 1);
}

TEST_CASE("both branches of a fork are held, counted and told") {
  Device device = device_with('s', 'a', 2);
  Device twin = device;
  twin.reopen(9);
  device.begin(ops::kind::session, {});
  twin.begin(ops::kind::session, {});
  Held held = kit::holding(device.ops());
  CHECK_FALSE(held.holdings().at(device.stream()).forked);
  const ChainedOp& theirs = twin.ops().back();
  CHECK(held.forks(theirs.stream, theirs.seq, theirs.hash));
  held.add(theirs);
  CHECK(held.op_count() == 4);
  const ops::Holding holding = held.holdings().at(device.stream());
  CHECK(holding.forked);
  CHECK(ops::to_text(holding.ranges) == "1..3");
  CHECK(holding.prefix_hash == std::min(device.ops().back().hash, theirs.hash));
}

TEST_CASE("what is held is told as ranges with the hash at the end of the prefix") {
  const Device device = device_with('s', 'a', 9);
  Held held;
  for (std::size_t i : {8U, 0U, 1U, 4U, 5U}) held.add(device.ops()[i]);
  const ops::Holding holding = held.holdings().at(device.stream());
  CHECK(ops::to_text(holding.ranges) == "1..2, 5..6, 9");
  CHECK(holding.prefix_hash == device.ops()[1].hash);

  Held late;
  late.add(device.ops()[3]);
  CHECK(late.holdings().at(device.stream()).prefix_hash == ops::genesis(device.stream()));
  CHECK(ops::to_text(late.holdings().at(device.stream()).ranges) == "4");
}

TEST_CASE("each athlete is counted apart") {
  Held held;
  for (const Device& device : {device_with('s', 'a', 3), device_with('s', 'b', 2), device_with('t', 'a', 4)})
    for (const ChainedOp& op : device.ops()) held.add(op);
  const model::ScopeId s = kit::stream_named('s', 'a').scope, t = kit::stream_named('t', 'a').scope;
  CHECK(held.op_count() == 9);
  CHECK(held.op_count(s) == 5);
  CHECK(held.op_count(t) == 4);
  CHECK(held.holdings().size() == 3);
  CHECK(held.holdings(s).size() == 2);
  CHECK(held.holdings(t).size() == 1);
  CHECK(held.has_stream(kit::stream_named('t', 'a')));
  CHECK_FALSE(held.has_stream(kit::stream_named('t', 'b')));
}

TEST_CASE("the digest of ops is that of all scopes, incarnations, seqs and hashes in order, however they came") {
  std::vector<ChainedOp> all = ops_of('t', 'b', 3);
  for (const ChainedOp& op : ops_of('s', 'b', 2)) all.push_back(op);
  for (const ChainedOp& op : ops_of('s', 'a', 200)) all.push_back(op);

  std::vector<ChainedOp> sorted = all;
  std::sort(sorted.begin(), sorted.end(), [](const ChainedOp& a, const ChainedOp& b) {
    return a.stream == b.stream ? a.seq < b.seq : a.stream < b.stream;
  });
  model::Bytes plain;
  for (const ChainedOp& op : sorted) {
    model::append(plain, op.stream.scope.view());
    model::append(plain, op.stream.inc.view());
    ops::put_varint(plain, op.seq);
    model::append(plain, op.hash.view());
  }
  const model::Bytes expected = kit::plain_blake2b(plain, 32);

  kit::Dice dice(4);
  for (int i = 0; i < 5; ++i) {
    dice.shuffle(all);
    CHECK(model::equal(kit::holding(all).digest().view(), expected));
  }
  all.pop_back();
  CHECK_FALSE(model::equal(kit::holding(all).digest().view(), expected));
  CHECK(Held{}.digest() == ops::blake2b({}));
}

TEST_CASE("a scope that is forgotten is held no more, and the others are as they were") {
  const Device gone = device_with('s', 'a', 5), also = device_with('s', 'b', 4), stays = device_with('z', 'a', 3);
  Held all, one;
  for (const Device* device : {&gone, &also, &stays})
    for (const ChainedOp& op : device->ops()) all.add(op);
  for (const ChainedOp& op : stays.ops()) one.add(op);
  REQUIRE(all.op_count() == 12);
  all.forget(kit::stream_named('s', 'a').scope);
  CHECK(all.op_count() == 3);
  CHECK(all.digest() == one.digest());
  CHECK(all.holdings() == one.holdings());
}

TEST_CASE("many ops at once are held as they would be one by one, whatever their order") {
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    CAPTURE(seed);
    kit::History history(seed);
    history.run();
    history.exchange_all();
    std::vector<ops::ChainedOp> all = history.device(0).ops();
    kit::Dice dice(seed);
    if (seed % 2 == 0) dice.shuffle(all);
    if (seed % 3 == 0) all.insert(all.end(), all.begin(), all.end());
    ops::Held one_by_one, at_once;
    for (const ops::ChainedOp& op : all) one_by_one.add(op);
    at_once.add(all);
    REQUIRE(at_once.digest() == one_by_one.digest());
    REQUIRE(at_once.op_count() == one_by_one.op_count());
    REQUIRE(at_once.holdings() == one_by_one.holdings());
  }
}
