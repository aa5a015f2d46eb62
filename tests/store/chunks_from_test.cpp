// What a peer lacks of one stream is found without reading the rest of the store.
#include <doctest/doctest.h>

#include <set>

#include "kit/bundle_kit.h"
#include "kit/memory_files.h"
#include "kit/store_kit.h"

using namespace slipway;

TEST_CASE("chunks from a place on hold every op from there, of both branches, few before it and no other stream's") {
  kit::Log swimmer('A', 's'), other('A', 't');
  for (int i = 0; i < 299; ++i) swimmer.set(8);
  kit::Log clone = swimmer;
  swimmer.set(5);
  clone.set(6);
  for (int i = 0; i < 40; ++i) other.set(9);
  for (const std::size_t at_most : {1U, 7U, 64U}) {
    CAPTURE(at_most);
    kit::MemoryDisk disk;
    kit::MemoryFiles files(disk);
    kit::Opened opened(files);
    REQUIRE(opened.open());
    const auto chunks = kit::chunks_of(kit::together({swimmer.ops(), clone.ops(300, 300), other.ops()}), at_most);
    REQUIRE(opened.store().take_in(chunks, {}));
    const ops::StreamId stream = swimmer.ops().front().stream;
    for (const std::uint64_t first : {1U, 2U, 64U, 65U, 200U, 300U, 301U}) {
      CAPTURE(first);
      const auto found = opened.store().chunks_from(stream, first);
      REQUIRE(found);
      std::set<model::Hash32> hashes;
      std::size_t before = 0;
      for (const ops::Chunk& chunk : *found) {
        const auto proven = ops::read_chunk(chunk);
        REQUIRE(proven);
        for (const ops::ChainedOp& op : *proven) {
          CHECK(op.stream == stream);
          hashes.insert(op.hash);
          before += op.seq < first ? 1 : 0;
        }
      }
      for (const ops::ChainedOp& op : swimmer.ops())
        if (op.seq >= first) CHECK(hashes.count(op.hash) == 1);
      CHECK(hashes.count(clone.ops().back().hash) == (first <= 300 ? 1 : 0));
      CHECK(before < ops::kMaxChunkOps);
    }
  }
}
