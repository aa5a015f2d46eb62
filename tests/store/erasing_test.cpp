// After an erasure no byte of what was erased is on the storage.
#include <doctest/doctest.h>

#include <algorithm>

#include "kit/bundle_kit.h"
#include "kit/memory_files.h"
#include "kit/store_golden.h"
#include "kit/store_kit.h"
#include "store/schema_1.h"

using namespace slipway;

namespace {

namespace form_1 = stores::schema_1;

bool stands_in(const kit::MemoryDisk& disk, model::ByteView bytes) {
  return std::any_of(disk.files.begin(), disk.files.end(), [&](const auto& file) {
    return std::search(file.second.begin(), file.second.end(), bytes.begin(), bytes.end()) != file.second.end();
  });
}

}  // namespace

TEST_CASE("what was erased stands nowhere any more: not in the store, its journal or the copy of an older form") {
  kit::MemoryDisk disk = kit::disk_of_stretches(form_1::kSize, form_1::kStretches, form_1::kBytes);
  kit::MemoryFiles files(disk);
  kit::Opened opened(files);
  REQUIRE(opened.open());
  REQUIRE(opened.store().has_copy());
  const auto held = opened.store().chunks(kit::scope_named('w'));
  REQUIRE(held.ok());
  REQUIRE(held->size() > 2);
  kit::Log last('w', 'z');
  last.session();
  store::Erased mark{kit::scope_named('w'), 1, kit::chunks_of(last.ops()).front()};
  for (const ops::Chunk& chunk : *held) REQUIRE(stands_in(disk, chunk.bytes));
  REQUIRE(stands_in(disk, model::as_bytes("early.slip")));

  REQUIRE(opened.store().erase(mark));
  for (const ops::Chunk& chunk : *held) CHECK_FALSE(stands_in(disk, chunk.bytes));
  for (const ops::Chunk& chunk : *held) CHECK_FALSE(stands_in(disk, chunk.after.view()));
  CHECK_FALSE(stands_in(disk, model::as_bytes("early.slip")));
  CHECK_FALSE(opened.store().has_copy());
  const std::size_t before = disk.files[std::string(store::kDatabaseName)].size();
  REQUIRE(opened.store().compact());
  CHECK(disk.files[std::string(store::kDatabaseName)].size() <= before);
  CHECK(opened.store().check()->findings.empty());
  CHECK(opened.store().chunks(kit::scope_named('k'))->size() > 0);
}
