// Bundles of every format there has been, read by today's program.
//
// A set of a new format is written by
//   SLIPWAY_WRITE_GOLDEN=tests/bundles <tests of bundles> -tc="golden*"
// and never touched again.
#include <cstdio>
#include <cstdlib>

#include <doctest/doctest.h>

#include "bundles/draft_0.h"
#include "bundles/packed_0.h"
#include "bundles/packed_1.h"
#include "bundles/plain_1.h"
#include "kit/bundle_kit.h"

using namespace slipway;

namespace {

void write_anew(const std::string& name, sync::Packing packing) {
  const char* folder = std::getenv("SLIPWAY_WRITE_GOLDEN");
  if (!folder) return;
  const std::string text = kit::golden_header(name, packing);
  std::FILE* file = std::fopen((std::string(folder) + '/' + name + ".h").c_str(), "wb");
  REQUIRE(file != nullptr);
  REQUIRE(std::fwrite(text.data(), 1, text.size(), file) == text.size());
  REQUIRE(std::fclose(file) == 0);
}

template <class Golden, std::size_t kCount>
void read_whole(const Golden (&all)[kCount], sync::Packing packing, std::uint32_t major) {
  const auto references = kit::reference_files(packing);
  std::size_t nth = 0;
  for (const Golden& golden : all) {
    CAPTURE(golden.name);
    const model::ByteView bytes(golden.bytes, golden.size);
    const auto read = sync::read_bundle(bytes, "golden.slip");
    REQUIRE(read);
    CHECK(read->packing == packing);
    CHECK(read->bundle.major == major);
    CHECK(read->ops.size() == golden.ops);
    CHECK(kit::held_of(read->ops).digest().hex() == golden.ops_digest);
    CHECK(read->file_hash.hex() == golden.file_hash);
    // While the format has not moved, the same logs still give the same bytes on every build.
    if (major == sync::kMajor) CHECK(model::equal(references.at(nth).bytes, bytes));
    ++nth;
  }
  CHECK(nth == references.size());
}

}  // namespace

TEST_CASE("golden bundles of format 0, the draft, are read whole") {
  read_whole(bundles::draft_0::kAll, sync::Packing::plain, 0);
  read_whole(bundles::packed_0::kAll, sync::Packing::packed, 0);
}

TEST_CASE("golden bundles of format 1, ops stored plain, are read whole and still written so") {
  write_anew("plain_1", sync::Packing::plain);
  read_whole(bundles::plain_1::kAll, sync::Packing::plain, 1);
}

TEST_CASE("golden bundles of format 1, ops packed, are read whole and still written so") {
  write_anew("packed_1", sync::Packing::packed);
  read_whole(bundles::packed_1::kAll, sync::Packing::packed, 1);
}
