#include "ops/chain.h"

#include <string>

#include <doctest/doctest.h>

#include "kit/ops_kit.h"
#include "ops/registry.h"

using namespace slipway;
using kit::Device;
using model::Bytes;
using ops::ChainedOp;
using ops::Chunk;

namespace {

Device week_of_sets(std::size_t count) {
  Device device(kit::stream_named('s', 'a'), 1);
  for (std::size_t i = 0; i < count; ++i) device.begin(ops::kind::set, {{ops::set_tag::reps, 8}, {ops::set_tag::load, 22}});
  return device;
}

Chunk only_chunk(const Device& device) {
  const auto chunks = ops::make_chunks(device.ops());
  REQUIRE(chunks.size() == 1);
  return chunks.front();
}

std::string verdict(const Chunk& chunk) {
  const auto read = ops::read_chunk(chunk);
  if (read) return "read " + std::to_string(read->size());
  const model::Error& error = read.error();
  return (error.kind == model::ErrorKind::damaged ? "damaged " : "too large ") + error.args.front();
}

// Ops as they are, whatever they are, in a chunk whose chain is sound.
Chunk chunk_of(const std::vector<Bytes>& ops_bytes) {
  const ops::StreamId stream = kit::stream_named('s', 'a');
  Chunk chunk{stream, 1, ops_bytes.size(), ops::genesis(stream), ops::genesis(stream), {}};
  for (const Bytes& bytes : ops_bytes) {
    ops::put_varint(chunk.bytes, bytes.size());
    model::append(chunk.bytes, bytes);
    chunk.after = ops::chain(chunk.after, bytes);
  }
  return chunk;
}

}  // namespace

TEST_CASE("ops in chunks come back with place, hash and bytes") {
  const Device device = week_of_sets(30);
  const Chunk chunk = only_chunk(device);
  CHECK(chunk.first_seq == 1);
  CHECK(chunk.last_seq == 30);
  CHECK(chunk.before == ops::genesis(device.stream()));
  const auto read = ops::read_chunk(chunk);
  REQUIRE(read);
  REQUIRE(read->size() == 30);
  for (std::size_t i = 0; i < 30; ++i) {
    const ChainedOp &back = (*read)[i], &written = device.ops()[i];
    CHECK(back.stream == written.stream);
    CHECK(back.seq == i + 1);
    CHECK(back.before == written.before);
    CHECK(back.hash == written.hash);
    CHECK(back.bytes == written.bytes);
    CHECK(back.op == written.op);
    CHECK(back.key() == written.key());
  }
}

TEST_CASE("a chunk holds at most sixty-four ops and about sixteen kilobytes") {
  std::vector<std::size_t> sizes;
  const Device many = week_of_sets(150);
  for (const Chunk& chunk : ops::make_chunks(many.ops())) {
    sizes.push_back(static_cast<std::size_t>(chunk.last_seq - chunk.first_seq + 1));
    CHECK(verdict(chunk) == "read " + std::to_string(sizes.back()));
  }
  CHECK(sizes == std::vector<std::size_t>{64, 64, 22});

  Device wordy(kit::stream_named('s', 'a'), 1);
  for (int i = 0; i < 6; ++i) wordy.write(ops::kind::session, {ops::text_field(ops::session_tag::title, std::string(7'000, 'x'))});
  for (int i = 0; i < 2; ++i)  // each alone longer than a chunk should be
    wordy.write(ops::kind::session, {ops::text_field(30, std::string(16'000, 'x')), ops::text_field(31, std::string(16'000, 'x'))});
  std::vector<std::uint64_t> ends;
  for (const Chunk& chunk : ops::make_chunks(wordy.ops())) {
    ends.push_back(chunk.last_seq);
    CHECK(ops::read_chunk(chunk));
  }
  CHECK(ends == std::vector<std::uint64_t>{2, 4, 6, 7, 8});
}

TEST_CASE("chunks part where an op is missing, where a stream forks and where another begins") {
  Device device = week_of_sets(6);
  Device twin = device;
  twin.reopen(9);
  device.begin(ops::kind::set, {{ops::set_tag::reps, 9}});
  twin.begin(ops::kind::set, {{ops::set_tag::reps, 10}});
  Device other(kit::stream_named('s', 'b'), 2);
  other.begin(ops::kind::set, {{ops::set_tag::reps, 11}});

  std::vector<ChainedOp> some;
  for (std::size_t i : {0U, 1U, 3U, 4U, 5U, 6U}) some.push_back(device.ops()[i]);
  some.push_back(twin.ops()[6]);
  some.push_back(other.ops()[0]);
  std::string parts;
  for (const Chunk& chunk : ops::make_chunks(some)) {
    parts += std::to_string(chunk.first_seq) + ".." + std::to_string(chunk.last_seq) + " ";
    CHECK(ops::read_chunk(chunk));
  }
  CHECK(parts == "1..2 4..7 7..7 1..1 ");
  CHECK(ops::make_chunks({}).empty());
}

TEST_CASE("a forger who hangs an op on somebody's hash at another place joins nothing") {
  const Device device = week_of_sets(3);
  ChainedOp elsewhere = device.ops()[1], another_stream = device.ops()[1];
  elsewhere.seq = 9;
  another_stream.stream = kit::stream_named('s', 'b');
  for (const ChainedOp& forged : {elsewhere, another_stream}) {
    const auto chunks = ops::make_chunks({device.ops()[0], forged});
    REQUIRE(chunks.size() == 2);
    CHECK(verdict(chunks[0]) == "read 1");
    CHECK(verdict(chunks[1]) == "read 1");
    CHECK(chunks[1].stream == forged.stream);
    CHECK(chunks[1].first_seq == forged.seq);
  }
}

TEST_CASE("a changed bit anywhere in a chunk is found") {
  const Chunk sound = only_chunk(week_of_sets(3));
  CHECK(verdict(sound) == "read 3");
  for (std::size_t at = 0; at < sound.bytes.size(); ++at)
    for (int bit = 0; bit < 8; ++bit) {
      Chunk changed = sound;
      changed.bytes[at] = static_cast<std::uint8_t>(changed.bytes[at] ^ (1 << bit));
      REQUIRE_FALSE(ops::read_chunk(changed));
    }
  for (std::size_t at = 0; at < 32; ++at) {
    Chunk before = sound, after = sound;
    before.before.bytes[at] ^= 1U;
    after.after.bytes[at] ^= 1U;
    CHECK(verdict(before) == "damaged before");
    CHECK(verdict(after) == "damaged hash");
  }
  for (std::size_t length = 0; length < sound.bytes.size(); ++length) {
    Chunk cut = sound;
    cut.bytes.resize(length);
    REQUIRE_FALSE(ops::read_chunk(cut));
  }
}

TEST_CASE("a chunk under another name, place or count is refused") {
  const Chunk sound = only_chunk(week_of_sets(3));
  Chunk chunk = sound;
  chunk.stream.scope = kit::stream_named('t', 'a').scope;
  CHECK(verdict(chunk) == "damaged before");
  chunk = sound;
  chunk.stream.inc = kit::stream_named('s', 'b').inc;
  CHECK(verdict(chunk) == "damaged before");
  chunk = sound;
  chunk.first_seq = 2;
  chunk.last_seq = 4;
  CHECK(verdict(chunk) == "damaged before");  // genesis stands before the first op only
  chunk = sound;
  chunk.before.bytes[0] ^= 1U;
  chunk.first_seq = 1;
  CHECK(verdict(chunk) == "damaged before");
  chunk = sound;
  chunk.last_seq = 2;
  CHECK(verdict(chunk) == "damaged end");
  chunk = sound;
  chunk.last_seq = 4;
  CHECK(verdict(chunk) == "damaged length");
  chunk = sound;
  chunk.first_seq = 0;
  CHECK(verdict(chunk) == "damaged seq");
  chunk = sound;
  chunk.last_seq = 0;
  CHECK(verdict(chunk) == "damaged seq");
  chunk = sound;
  chunk.last_seq = ops::kCounterCeiling;
  CHECK(verdict(chunk) == "damaged seq");
  chunk = sound;
  chunk.last_seq = std::uint64_t{1} << 33;
  CHECK(verdict(chunk) == "too large chunk");
  CHECK(verdict(sound) == "read 3");
}

TEST_CASE("a sound chain does not carry an op that nobody could have written") {
  CHECK(verdict(chunk_of({kit::typed_bytes("01 0a 00")})) == "read 1");
  CHECK(verdict(chunk_of({kit::typed_bytes("808080808020 0a 00")})) == "damaged lam");  // lam 2^40
  CHECK(verdict(chunk_of({kit::typed_bytes("ffffffffff1f 0a 00")})) == "read 1");       // lam 2^40 - 1
  CHECK(verdict(chunk_of({kit::typed_bytes("01 0a 00"), {}})) == "damaged lam");
  CHECK(verdict(chunk_of({kit::typed_bytes("01 8a00 00")})) == "damaged kind");
  CHECK(verdict(chunk_of({Bytes(ops::kMaxOpBytes + 1)})) == "too large op");
  // The long form of a reference to an own op.
  CHECK(verdict(chunk_of({kit::typed_bytes("01 0e 01 06 05 1a 01 61616161616161616161616161616161 05 3333333333333333")})) ==
        "damaged payload");
  CHECK(verdict(chunk_of({kit::typed_bytes("01 0e 01 06 05 1a 01 62626262626262626262626262626262 05 3333333333333333")})) == "read 1");
  CHECK(verdict(chunk_of(std::vector<Bytes>(64, kit::typed_bytes("01 0a 00")))) == "read 64");
  CHECK(verdict(chunk_of(std::vector<Bytes>(65, kit::typed_bytes("01 0a 00")))) == "too large chunk");
}

TEST_CASE("what is damaged names stream and seq") {
  Chunk chunk = only_chunk(week_of_sets(3));
  chunk.bytes.back() ^= 1U;
  const auto read = ops::read_chunk(chunk);
  REQUIRE_FALSE(read);
  CHECK(read.error().kind == model::ErrorKind::damaged);
  CHECK(read.error().args == std::vector<std::string>{"hash", chunk.stream.scope.hex() + "/" + chunk.stream.inc.hex(), "3"});
}
