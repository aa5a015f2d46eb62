// What still parses of a damaged store file, and nothing that does not prove itself.
#include "store/salvage.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "kit/bundle_kit.h"
#include "kit/memory_files.h"
#include "kit/store_golden.h"
#include "kit/store_kit.h"
#include "store/schema_1.h"

using namespace slipway;

namespace {

const std::string kDatabase(store::kDatabaseName);

std::vector<model::Hash32> hashes(const std::vector<ops::Chunk>& chunks) {
  std::vector<model::Hash32> all;
  for (const ops::Chunk& chunk : chunks)
    if (const auto read = ops::read_chunk(chunk))
      for (const ops::ChainedOp& op : *read) all.push_back(op.hash);
  std::sort(all.begin(), all.end());
  return all;
}

struct Written {
  model::Bytes bytes;
  std::vector<model::Hash32> ops;
};

// Two swimmers, 300 sets each, partly folded: inner pages, leaves and overflow pages.
Written big_store() {
  kit::MemoryDisk disk;
  kit::MemoryFiles files(disk);
  kit::Opened opened(files);
  REQUIRE(opened.open());
  for (const char scope : {'w', 'k'}) {
    kit::Log log(scope, 'p');
    log.session();
    for (std::uint64_t set = 0; set < 300; ++set) log.set(5 + set % 4);
    for (const ops::Chunk& chunk : kit::chunks_of(log.ops(), 1))
      REQUIRE(opened.store().append(std::span(&chunk, 1)).state == store::Durability::kept);
    if (scope == 'w') REQUIRE(opened.store().fold_chunks(kit::scope_named('w')).ok());
  }
  const auto state = kit::state_of(opened.store());
  REQUIRE(state.ok());
  opened.close();
  return {disk.files[kDatabase], state->ops};
}

}  // namespace

TEST_CASE("where each page has lost its table of cells, every cell is still found") {
  Written store = big_store();
  constexpr std::size_t kPage = 4096, kFileHeader = 100;
  std::size_t lost = 0;
  for (std::size_t page = 0; page < store.bytes.size(); page += kPage) {
    const std::size_t begin = page == 0 ? kFileHeader : page;
    const std::uint8_t kind = store.bytes[begin];
    if (kind != 0x02 && kind != 0x05 && kind != 0x0A && kind != 0x0D) continue;  // the b-tree pages of SQLite's file format, section 1.6
    std::fill_n(store.bytes.begin() + static_cast<std::ptrdiff_t>(begin), 12, std::uint8_t{0xFF});
    ++lost;
  }
  CHECK(lost > 20);
  CHECK(hashes(store::salvage(store.bytes)) == store.ops);
}

TEST_CASE("of a sound store everything is salvaged, of every form there has been") {
  const Written store = big_store();
  CHECK(hashes(store::salvage(store.bytes)) == store.ops);
  namespace form_1 = stores::schema_1;
  const auto old = kit::disk_of_stretches(form_1::kSize, form_1::kStretches, form_1::kBytes);
  CHECK(hashes(store::salvage(old.files.at(kDatabase))).size() == form_1::kOps);
}

TEST_CASE("a store without its first page, cut, or with pages of nonsense gives what the other pages hold") {
  const Written store = big_store();
  const auto subset = [&](const model::Bytes& bytes) {
    const auto found = hashes(store::salvage(bytes));
    CHECK(std::includes(store.ops.begin(), store.ops.end(), found.begin(), found.end()));
    return found.size();
  };
  model::Bytes headless = store.bytes;
  std::fill_n(headless.begin(), 4096, std::uint8_t{0});
  CHECK(subset(headless) == store.ops.size());

  const model::Bytes half(store.bytes.begin(), store.bytes.begin() + static_cast<std::ptrdiff_t>(store.bytes.size() / 2));
  CHECK(subset(half) > store.ops.size() / 12);

  std::size_t least = store.ops.size();
  for (std::size_t page = 1; (page + 1) * 4096 <= store.bytes.size(); ++page) {
    model::Bytes damaged = store.bytes;
    std::fill_n(damaged.begin() + static_cast<std::ptrdiff_t>(page * 4096), 4096, std::uint8_t{0xA5});
    least = std::min(least, subset(damaged));
  }
  // The dearest page holds the heads of all five folded rows of one swimmer; the other swimmer is whole.
  CHECK(least > store.ops.size() / 3);
}

TEST_CASE("no changed bit anywhere makes an entry that was not there") {
  const Written store = big_store();
  std::uint64_t next = 0x536C697077617931;
  for (int round = 0; round < 400; ++round) {
    model::Bytes damaged = store.bytes;
    for (int flips = 0; flips < 8; ++flips) {
      next = next * 6364136223846793005ULL + 1442695040888963407ULL;
      damaged[static_cast<std::size_t>((next >> 20) % damaged.size())] ^= static_cast<std::uint8_t>(1U << (next >> 61));
    }
    const auto found = hashes(store::salvage(damaged));
    REQUIRE(std::includes(store.ops.begin(), store.ops.end(), found.begin(), found.end()));
    REQUIRE(found.size() > store.ops.size() / 2);
  }
}

TEST_CASE("bytes that are no store of ours give nothing") {
  CHECK(store::salvage({}).empty());
  CHECK(store::salvage(model::Bytes(100, 0x0A)).empty());
  CHECK(store::salvage(model::Bytes(40960, 0x0A)).empty());
  CHECK(store::salvage(model::Bytes(40960, 0xFF)).empty());
}
