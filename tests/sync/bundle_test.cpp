#include "sync/bundle.h"

#include <algorithm>

#include <doctest/doctest.h>

#include "kit/bundle_kit.h"
#include "ops/registry.h"

using namespace slipway;

namespace {

std::vector<ops::ChainedOp> swimmers_week() { return kit::read_of(kit::reference_files()[1].bytes).ops; }
std::vector<ops::ChainedOp> forked_log() { return kit::read_of(kit::reference_files()[2].bytes).ops; }

bool contains(model::ByteView all, model::ByteView part) {
  return std::search(all.begin(), all.end(), part.begin(), part.end()) != all.end();
}

}  // namespace

TEST_CASE("a bundle read back is the bundle that was made") {
  for (const auto& reference : kit::reference_files()) {
    CAPTURE(reference.name);
    const sync::ReadBundle read = kit::read_of(reference.bytes);
    CHECK(kit::file_of(read.bundle) == reference.bytes);
    CHECK(kit::read_of(kit::file_of(read.bundle)).bundle == read.bundle);
  }
}

TEST_CASE("a bundle carries every entry byte for byte, those of a later version too") {
  const sync::ReadBundle read = kit::read_of(kit::reference_files()[2].bytes);
  CHECK(read.ops.size() == 12);
  CHECK(std::count_if(read.ops.begin(), read.ops.end(), [](const auto& op) { return op.op.kind == 998; }) == 1);
  std::size_t at = 0;
  for (const ops::Chunk& chunk : read.bundle.chunks) {
    const auto proven = ops::read_chunk(chunk);
    REQUIRE(proven);
    for (const ops::ChainedOp& op : *proven) {
      CHECK(op.bytes == read.ops[at].bytes);
      CHECK(op.hash == read.ops[at].hash);
      ++at;
    }
  }
  CHECK(at == read.ops.size());
}

TEST_CASE("who made a bundle and what they hold comes out as it went in") {
  kit::Log swimmer('A', 's');
  swimmer.session();
  for (int i = 0; i < 9; ++i) swimmer.set(8);
  kit::Log coach('A', 'c');
  coach.has_seen(swimmer.ops());
  coach.session();
  // The coach sends the own entry and says: of the swimmer I hold 1..4 and 7..9.
  sync::Bundle sent = kit::bundle_of(coach.ops(), 'c', kit::together({swimmer.ops(1, 4), swimmer.ops(7, 9)}));
  sent.export_counter = 1ULL << 39;
  const sync::Bundle got = kit::read_of(kit::file_of(sent)).bundle;
  CHECK(got == sent);
  CHECK(ops::to_text(got.holdings.at({kit::scope_named('A'), kit::inc_named('s')}).ranges) == "1..4, 7..9");
}

TEST_CASE("a bundle without entries says what is held and nothing else") {
  sync::Bundle asks = kit::bundle_of({}, 'c', swimmers_week());
  const sync::ReadBundle got = kit::read_of(kit::file_of(asks));
  CHECK(got.ops.empty());
  CHECK(got.bundle == asks);
  sync::Bundle nothing;
  CHECK(kit::read_of(kit::file_of(nothing)).bundle == nothing);
}

TEST_CASE("equal entries give equal bytes however they were stored or listed") {
  kit::SameRandom random(20261125);
  for (const auto& all : {swimmers_week(), forked_log()}) {
    const model::Bytes reference = kit::file_of(kit::bundle_of(all, 's'));
    for (const std::size_t at_most : {1U, 2U, 3U, 7U, 64U}) {
      sync::Bundle bundle = kit::bundle_of(all, 's');
      bundle.chunks = kit::chunks_of(all, at_most);
      CHECK(kit::file_of(bundle) == reference);
      for (std::size_t i = bundle.chunks.size(); i > 1; --i) std::swap(bundle.chunks[i - 1], bundle.chunks[random.below(i)]);
      CHECK(kit::file_of(bundle) == reference);
      const auto once_more = bundle.chunks;  // stored twice, in pieces that overlap
      bundle.chunks.insert(bundle.chunks.end(), once_more.begin(), once_more.end());
      const auto whole = kit::chunks_of(all, 5);
      bundle.chunks.insert(bundle.chunks.end(), whole.begin(), whole.end());
      std::reverse(bundle.scopes.begin(), bundle.scopes.end());
      CHECK(kit::file_of(bundle) == reference);
    }
  }
}

TEST_CASE("a long log is cut at 64 entries and at 16 kB") {
  kit::Log swimmer('A', 's');
  swimmer.session();
  for (int i = 0; i < 199; ++i) swimmer.set(8);
  for (int i = 0; i < 3; ++i)
    swimmer.write(998, {ops::bytes_field(16, model::Bytes(9'000, static_cast<std::uint8_t>(i)))});
  std::vector<std::uint64_t> lengths;
  for (const ops::Chunk& chunk : kit::read_of(kit::file_of(kit::bundle_of(swimmer.ops(), 's'))).bundle.chunks)
    lengths.push_back(chunk.last_seq - chunk.first_seq + 1);
  CHECK(lengths == std::vector<std::uint64_t>{64, 64, 64, 9, 1, 1});
}

TEST_CASE("a chunk of exactly 16 kB is whole, one byte more is cut") {
  for (const std::size_t more : {0U, 1U}) {
    kit::Log swimmer('A', 's');
    swimmer.write(998, {ops::bytes_field(16, model::Bytes(9'000))});
    swimmer.write(998, {ops::bytes_field(16, model::Bytes(7'000))});
    std::size_t framed = 0;
    for (const ops::ChainedOp& op : swimmer.ops()) framed += 2 + op.bytes.size();
    swimmer = kit::Log('A', 's');
    swimmer.write(998, {ops::bytes_field(16, model::Bytes(9'000))});
    swimmer.write(998, {ops::bytes_field(16, model::Bytes(7'000 + 16 * 1024 - framed + more))});
    const auto chunks = kit::read_of(kit::file_of(kit::bundle_of(swimmer.ops(), 's'))).bundle.chunks;
    CHECK(chunks.size() == 1 + more);
    if (more == 0) CHECK(chunks.front().bytes.size() == 16 * 1024);
  }
}

TEST_CASE("no entry of an athlete who is not listed can leave") {
  sync::Bundle bundle = kit::bundle_of(forked_log(), 'c');
  REQUIRE(bundle.scopes.size() == 2);
  bundle.scopes.pop_back();
  const auto refused = sync::write_bundle(bundle);
  REQUIRE(!refused);
  CHECK(refused.error().text == "bundle.scope");
  CHECK(refused.error().args == std::vector<std::string>{kit::scope_named('B').hex()});

  std::erase_if(bundle.chunks, [](const ops::Chunk& chunk) { return chunk.stream.scope == kit::scope_named('B'); });
  CHECK(!sync::write_bundle(bundle));  // still named in what the sender holds
  std::erase_if(bundle.holdings, [](const auto& held) { return held.first.scope == kit::scope_named('B'); });
  const auto left = sync::write_bundle(bundle);
  REQUIRE(left);
  CHECK(!contains(*left, kit::scope_named('B').view()));
  CHECK(!contains(*left, kit::inc_named('t').view()));
}

TEST_CASE("a broken chunk in the store is not written into a bundle") {
  sync::Bundle bundle = kit::bundle_of(swimmers_week(), 's');
  bundle.chunks.front().bytes[10] ^= 1;
  const auto refused = sync::write_bundle(bundle);
  REQUIRE(!refused);
  CHECK(refused.error().kind == model::ErrorKind::damaged);
}

TEST_CASE("a bundle over the limits is not made") {
  const sync::Bundle bundle = kit::bundle_of(swimmers_week(), 's');
  const auto too_large = [&](const sync::Limits& limits) { return sync::write_bundle(bundle, limits, sync::Packing::plain).error(); };
  CHECK(too_large({.file_bytes = 1000}) == model::error(model::ErrorKind::too_large, "bundle.too_large_to_make", {"1000"}));
  CHECK(too_large({.ops = 34}) == model::error(model::ErrorKind::too_large, "bundle.too_large_to_make", {"34"}));
  CHECK(sync::write_bundle(bundle, {.ops = 35}, sync::Packing::plain));
}

TEST_CASE("the hash of a file names it: one more set is another file") {
  kit::Log swimmer('A', 's');
  swimmer.session();
  swimmer.set(8);
  const auto before = kit::read_of(kit::file_of(kit::bundle_of(swimmer.ops(), 's')));
  const auto again = kit::read_of(kit::file_of(kit::bundle_of(swimmer.ops(), 's')));
  swimmer.set(8);
  const auto after = kit::read_of(kit::file_of(kit::bundle_of(swimmer.ops(), 's')));
  CHECK(before.file_hash == again.file_hash);
  CHECK(!(before.file_hash == after.file_hash));
}

TEST_CASE("the frame around a week of one swimmer is small") {
  const auto files = kit::reference_files();
  const model::Bytes& week = files[1].bytes;
  const sync::ReadBundle read = kit::read_of(week);
  std::size_t op_bytes = 0;
  for (const ops::ChainedOp& op : read.ops) op_bytes += op.bytes.size();
  const std::size_t frame = week.size() - op_bytes;
  MESSAGE("week of one swimmer, codec 0: " << week.size() << " bytes, entries " << op_bytes << " in " << read.ops.size() << " ops, frame " << frame);
  CHECK(read.ops.size() == 35);
  CHECK(frame < 220);
}
