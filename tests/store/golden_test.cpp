// Stores of every form there has been, opened by today's program.
//
// When a new form leaves the house, its golden store is written by
//   SLIPWAY_WRITE_GOLDEN=tests/store/schema_N.h <tests of store> -tc="golden*"
// with the program that makes such stores. A golden store is never written anew.
#include <doctest/doctest.h>

#include <cstdio>
#include <cstdlib>

#include "kit/bundle_kit.h"
#include "kit/memory_files.h"
#include "kit/store_golden.h"
#include "kit/store_kit.h"
#include "store/schema_1.h"
#include "store/schema_2.h"
#include "store/schema_3.h"
#include "store/schema_4.h"

using namespace slipway;

namespace {

struct Golden {
  int form;
  kit::MemoryDisk disk;
  kit::GoldenContent content;
};

Golden golden_1() {
  namespace form = stores::schema_1;
  Golden out{1, {}, {form::kOps, form::kOpsDigest, form::kDraft, {}, form::kNextExport}};
  out.content.imports.assign(std::begin(form::kImports), std::end(form::kImports));
  out.disk = kit::disk_of_stretches(form::kSize, form::kStretches, form::kBytes);
  return out;
}

Golden golden_2() {
  namespace form = stores::schema_2;
  Golden out{2, {}, {form::kOps, form::kOpsDigest, form::kDraft, {}, form::kNextExport}};
  out.content.imports.assign(std::begin(form::kImports), std::end(form::kImports));
  out.disk = kit::disk_of_stretches(form::kSize, form::kStretches, form::kBytes);
  return out;
}

Golden golden_3() {
  namespace form = stores::schema_3;
  Golden out{3, {}, {form::kOps, form::kOpsDigest, form::kDraft, {}, form::kNextExport}};
  out.content.imports.assign(std::begin(form::kImports), std::end(form::kImports));
  out.disk = kit::disk_of_stretches(form::kSize, form::kStretches, form::kBytes);
  return out;
}

Golden golden_4() {
  namespace form = stores::schema_4;
  Golden out{4, {}, {form::kOps, form::kOpsDigest, form::kDraft, {}, form::kNextExport}};
  out.content.imports.assign(std::begin(form::kImports), std::end(form::kImports));
  out.disk = kit::disk_of_stretches(form::kSize, form::kStretches, form::kBytes);
  return out;
}

}  // namespace

TEST_CASE("golden stores of every form open, and nothing of them is lost") {
  if (const char* path = std::getenv("SLIPWAY_WRITE_GOLDEN")) {
    const std::string text = kit::golden_store_header();
    std::FILE* file = std::fopen(path, "wb");
    REQUIRE(file != nullptr);
    REQUIRE(std::fwrite(text.data(), 1, text.size(), file) == text.size());
    REQUIRE(std::fclose(file) == 0);
  }
  for (Golden golden : {golden_1(), golden_2(), golden_3(), golden_4()}) {
    CAPTURE(golden.form);
    const model::Bytes before = golden.disk.files[std::string(store::kDatabaseName)];
    kit::MemoryFiles files(golden.disk);
    kit::Opened opened(files);
    REQUIRE(opened.open());
    CHECK_FALSE(opened.store().opening().read_only);
    CHECK(opened.store().opening().schema_found == store::kSchemaVersion);
    CHECK(opened.store().opening().rebuild_derived == (golden.form < store::kSchemaVersion));
    const auto check = opened.store().check();
    REQUIRE(check.ok());
    CHECK(check->findings.empty());
    const auto content = kit::golden_content(opened.store());
    REQUIRE(content.ok());
    CHECK(*content == golden.content);
    const auto derived = opened.store().derived(kit::scope_named('w'));
    REQUIRE(derived.ok());
    CHECK(derived->has_value());

    if (golden.form == store::kSchemaVersion) continue;
    // The copy beside it is a whole store of the old form.
    REQUIRE(opened.store().has_copy());
    opened.close();
    kit::MemoryDisk old;
    old.files[std::string(store::kDatabaseName)] = golden.disk.files[std::string(store::kCopyName)];
    CHECK(old.files[std::string(store::kDatabaseName)].size() == before.size());
    kit::MemoryFiles old_files(old);
    kit::Opened again(old_files);
    REQUIRE(again.open());
    const auto same = kit::golden_content(again.store());
    REQUIRE(same.ok());
    CHECK(*same == golden.content);
  }
}
