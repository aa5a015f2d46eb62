// What a peer is sent: what it lacks by its own word, never less.
#include <doctest/doctest.h>

#include "kit/ops_kit.h"
#include "ops/registry.h"
#include "sync/bundle.h"

using namespace slipway;
using kit::Device;
using ops::Chunk;
using ops::ChainedOp;
using ops::Holdings;

namespace {

Device writer(char name, int sets) {
  Device device(kit::stream_named('s', name), static_cast<std::uint64_t>(name));
  for (int i = 0; i < sets; ++i) device.begin(ops::kind::set, {{ops::set_tag::reps, i + 1}});
  return device;
}

std::vector<ChainedOp> part(const std::vector<ChainedOp>& all, std::uint64_t first, std::uint64_t last) {
  std::vector<ChainedOp> out;
  for (const ChainedOp& op : all)
    if (op.seq >= first && op.seq <= last) out.push_back(op);
  return out;
}

std::vector<std::uint64_t> sent(const Device& from, const Holdings& theirs) {
  std::vector<std::uint64_t> seqs;
  const auto chunks = sync::lacking(ops::make_chunks(from.ops()), from.held(), theirs);
  REQUIRE(chunks);
  for (const Chunk& chunk : *chunks) {
    REQUIRE(ops::read_chunk(chunk));
    for (std::uint64_t seq = chunk.first_seq; seq <= chunk.last_seq; ++seq) seqs.push_back(seq);
  }
  return seqs;
}

std::vector<std::uint64_t> counted(std::uint64_t first, std::uint64_t last) {
  std::vector<std::uint64_t> out;
  for (; first <= last; ++first) out.push_back(first);
  return out;
}

using Seqs = std::vector<std::uint64_t>;

}  // namespace

TEST_CASE("somebody never heard of is sent everything, somebody who holds it all nothing") {
  const Device a = writer('a', 100);
  CHECK(sent(a, {}) == counted(1, 100));
  CHECK(sent(a, a.held().holdings()).empty());
}

TEST_CASE("a hole that a lost bundle left is sent, and nothing else") {
  const Device a = writer('a', 100);
  std::vector<ChainedOp> there = part(a.ops(), 1, 57);
  for (const ChainedOp& op : part(a.ops(), 60, 90)) there.push_back(op);
  Seqs wanted{58, 59};
  for (const std::uint64_t seq : counted(91, 100)) wanted.push_back(seq);
  CHECK(sent(a, kit::holding(there).holdings()) == wanted);
}

TEST_CASE("a prefix whose head is another there says that a fork lies between: the whole stream is sent") {
  Device a = writer('a', 20);
  Device twin = a;
  twin.reopen(99);
  a.begin(ops::kind::set, {{ops::set_tag::reps, 50}});
  twin.begin(ops::kind::set, {{ops::set_tag::reps, 51}});
  CHECK(sent(a, twin.held().holdings()) == counted(1, 21));

  twin.take_in(a.ops());  // it knows of both: forked
  CHECK(sent(a, twin.held().holdings()) == counted(1, 21));
  a.take_in(twin.ops());  // and so do we
  CHECK(sent(a, Device(writer('a', 5)).held().holdings()).size() == 22);
}

TEST_CASE("a damaged chunk that must be cut is refused, not sent") {
  const Device a = writer('a', 10);
  std::vector<Chunk> chunks = ops::make_chunks(a.ops());
  chunks[0].bytes.back() ^= 1;
  const auto out = sync::lacking(chunks, a.held(), kit::holding(part(a.ops(), 1, 5)).holdings());
  REQUIRE_FALSE(out);
  CHECK(out.error().kind == model::ErrorKind::damaged);
}

// ---- whose word counts ------------------------------------------------------------------------------------

namespace {

const model::ScopeId kScope = kit::stream_named('s', 'a').scope;

sync::PeerWord word(char inc, std::uint64_t counter, const std::vector<ChainedOp>& holds) {
  return {kit::stream_named('s', inc).inc, counter, kit::holding(holds).holdings()};
}

}  // namespace

TEST_CASE("of one incarnation the higher counter counts, in whatever order the files are read") {
  const Device a = writer('a', 10);
  const auto early = word('p', 3, part(a.ops(), 1, 4)), late = word('p', 4, a.ops());
  CHECK(sync::newer_word(std::nullopt, early, kScope) == early);
  CHECK(sync::newer_word(early, late, kScope) == late);
  CHECK(sync::newer_word(late, early, kScope) == late);
  CHECK(sync::newer_word(late, late, kScope) == late);
}

TEST_CASE("a restored peer's new word replaces the old one, and the old one read late does not come back") {
  const Device before = writer('p', 6);
  Device restored(before);
  restored.become(kit::stream_named('s', 'q').inc, 5);
  restored.begin(ops::kind::set, {{ops::set_tag::reps, 3}});
  const auto old_word = word('p', 9, before.ops()), new_word = word('q', 2, restored.ops());
  // It holds entries of its former self, which holds none of its own: it came later.
  CHECK(sync::newer_word(new_word, old_word, kScope) == new_word);
  const auto taken = sync::newer_word(old_word, new_word, kScope);
  CHECK(taken.inc == new_word.inc);
  CHECK(taken.export_counter == 2);
}

TEST_CASE("where nothing tells which of two came later, only what both say is believed") {
  const Device a = writer('a', 10);
  const auto one = word('p', 9, a.ops()), other = word('q', 1, part(a.ops(), 1, 4));
  for (const auto& [known, said] : {std::pair(one, other), std::pair(other, one)}) {
    const auto counts = sync::newer_word(known, said, kScope);
    CHECK(counts.inc == said.inc);
    REQUIRE(counts.holds.size() == 1);
    CHECK(ops::to_text(counts.holds.begin()->second.ranges) == "1..4");
    CHECK(counts.holds.begin()->second.prefix_hash == a.ops()[3].hash);
    CHECK(sent(a, counts.holds) == counted(5, 10));
  }
  SUBCASE("and a stream that only one of them names is believed of nobody") {
    const Device b = writer('b', 3);
    std::vector<ChainedOp> both = a.ops();
    for (const ChainedOp& op : b.ops()) both.push_back(op);
    const auto counts = sync::newer_word(word('p', 9, a.ops()), word('q', 1, both), kScope);
    CHECK(sent(b, counts.holds) == counted(1, 3));
  }
}
