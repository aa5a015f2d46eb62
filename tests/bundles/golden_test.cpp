// Bundles of every format there has been, read by today's program.
//
// A new set is written by
//   SLIPWAY_WRITE_GOLDEN=tests/bundles/draft_0.h <tests of sync> -tc="golden*"
// While format 0 is a draft it may be written anew; a released set is never touched.
#include <cstdio>
#include <cstdlib>

#include <doctest/doctest.h>

#include "bundles/draft_0.h"
#include "kit/bundle_kit.h"

using namespace slipway;
namespace draft_0 = bundles::draft_0;

TEST_CASE("golden bundles of format 0, draft, are read whole") {
  if (const char* path = std::getenv("SLIPWAY_WRITE_GOLDEN")) {
    const std::string text = kit::golden_header("draft_0");
    std::FILE* file = std::fopen(path, "wb");
    REQUIRE(file != nullptr);
    REQUIRE(std::fwrite(text.data(), 1, text.size(), file) == text.size());
    REQUIRE(std::fclose(file) == 0);
  }
  const auto references = kit::reference_files();
  std::size_t nth = 0;
  for (const draft_0::Golden& golden : draft_0::kAll) {
    CAPTURE(golden.name);
    const model::ByteView bytes(golden.bytes, golden.size);
    const auto read = sync::read_bundle(bytes, "golden.slip");
    REQUIRE(read);
    CHECK(read->ops.size() == golden.ops);
    CHECK(kit::held_of(read->ops).digest().hex() == golden.ops_digest);
    CHECK(read->file_hash.hex() == golden.file_hash);
    // While the format has not moved, the same logs still give the same bytes on every build.
    CHECK(model::equal(references.at(nth).bytes, bytes));
    ++nth;
  }
  CHECK(nth == references.size());
}
