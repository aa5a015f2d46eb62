// Row 15 of the table of tests: every form of store there has been, brought up to date, with the program killed
// or the power lost at any file operation, and with a storage that refuses any of them.
#include <doctest/doctest.h>

#include <algorithm>
#include <cstdio>

#include "kit/bundle_kit.h"
#include "kit/faulty_files.h"
#include "kit/power_files.h"
#include "kit/store_golden.h"
#include "kit/store_kit.h"
#include "store/schema_1.h"
#include "store/schema_2.h"
#include "store/schema_3.h"

using namespace slipway;

namespace {

namespace form_1 = stores::schema_1;
namespace form_2 = stores::schema_2;
namespace form_3 = stores::schema_3;
constexpr int kForms[] = {1, 2, 3};

const std::string kDatabase(store::kDatabaseName);
const std::string kCopy(store::kCopyName);

kit::MemoryDisk old_store(int form) {
  if (form == 3) return kit::disk_of_stretches(form_3::kSize, form_3::kStretches, form_3::kBytes);
  if (form == 2) return kit::disk_of_stretches(form_2::kSize, form_2::kStretches, form_2::kBytes);
  return kit::disk_of_stretches(form_1::kSize, form_1::kStretches, form_1::kBytes);
}

kit::GoldenContent wanted(int form) {
  if (form == 3)
    return {
        form_3::kOps, form_3::kOpsDigest, form_3::kDraft, {std::begin(form_3::kImports), std::end(form_3::kImports)}, form_3::kNextExport};
  if (form == 2)
    return {
        form_2::kOps, form_2::kOpsDigest, form_2::kDraft, {std::begin(form_2::kImports), std::end(form_2::kImports)}, form_2::kNextExport};
  return {
      form_1::kOps, form_1::kOpsDigest, form_1::kDraft, {std::begin(form_1::kImports), std::end(form_1::kImports)}, form_1::kNextExport};
}

// PRAGMA user_version as it stands on the storage.
int form_of(const kit::MemoryDisk& disk, const std::string& name) {
  const auto found = disk.files.find(name);
  if (found == disk.files.end() || found->second.size() < 64) return 0;
  int form = 0;
  for (std::size_t i = 60; i < 64; ++i) form = form * 256 + found->second[i];
  return form;
}

std::string everything_is_there(store::Store& store, int form) {
  if (store.opening().read_only) return "opened to look only: " + kit::words(*store.opening().not_migrated);
  const auto check = store.check();
  if (!check) return kit::words(check.error());
  if (!check->findings.empty()) return kit::words(check->findings.front());
  const auto content = kit::golden_content(store);
  if (!content) return kit::words(content.error());
  if (!(*content == wanted(form))) return std::to_string(content->ops) + " ops, next export " + std::to_string(content->next_export);
  return {};
}

// After a loss the next opening ends in today's form with everything in it, whichever form it found.
std::string after_loss(kit::MemoryDisk disk, int form) {
  kit::MemoryFiles files(disk);
  kit::Opened opened(files, 9);
  if (!opened.open()) return kit::words(opened.error());
  if (auto missing = everything_is_there(opened.store(), form); !missing.empty()) return missing;
  const bool has_copy = opened.store().has_copy();
  opened.close();
  if (form_of(disk, kDatabase) != store::kSchemaVersion) return "an old form after opening";
  if (!has_copy || form_of(disk, kCopy) != form) return "no copy of the old form";
  kit::MemoryDisk old;
  old.files[kDatabase] = disk.files[kCopy];
  kit::MemoryFiles old_files(old);
  kit::Opened copy(old_files, 10);
  if (!copy.open()) return "the copy: " + kit::words(copy.error());
  if (auto missing = everything_is_there(copy.store(), form); !missing.empty()) return "the copy: " + missing;
  return {};
}

}  // namespace

TEST_CASE("power lost at any moment of bringing an old store up to date leaves the old form or the new one, whole") {
  std::uint64_t runs = 0, old_found = 0, new_found = 0;
  for (const int form : kForms) {
    CAPTURE(form);
    kit::PowerFiles files(old_store(form));
    kit::Opened opened(files);
    REQUIRE(opened.open());
    opened.close();
    kit::PowerLoss loss(files);
    while (loss.next()) {
      for (const kit::Survival survival : kit::kSurvivals) {
        const kit::MemoryDisk left = loss.survivors(survival);
        const bool journal = left.files.count(kDatabase + "-journal") != 0 && !left.files.at(kDatabase + "-journal").empty();
        if (!journal) (form_of(left, kDatabase) == form ? old_found : new_found) += 1;
        CAPTURE(loss.finished_steps());
        CAPTURE(kit::name_of(survival));
        REQUIRE(after_loss(left, form) == "");
        runs += 1;
      }
    }
  }
  std::printf("figure store.power_loss_migration runs %llu old %llu new %llu\n", static_cast<unsigned long long>(runs),
              static_cast<unsigned long long>(old_found), static_cast<unsigned long long>(new_found));
  CHECK(old_found > 0);
  CHECK(new_found > 0);
}

TEST_CASE("a storage that refuses any step of bringing an old store up to date leaves it readable, and the next start does it") {
  std::uint64_t looked_only = 0, refused = 0;
  for (const int form : kForms) {
    CAPTURE(form);
    for (const auto fault : {kit::Fault::failed, kit::Fault::full}) {
      for (const auto lasting : {kit::Lasting::once, kit::Lasting::sticky}) {
        for (std::uint64_t nth = 1;; ++nth) {
          CAPTURE(nth);
          kit::FaultyFiles files;
          files.plain.content = old_store(form).files;
          files.break_at(nth, fault, lasting);
          kit::Opened opened(files);
          const bool open = opened.open().ok();
          if (!files.struck()) {
            REQUIRE(open);
            break;
          }
          if (open && opened.store().opening().read_only) {
            looked_only += 1;
            REQUIRE(opened.store().opening().not_migrated);
            const auto kind = opened.store().opening().not_migrated->kind;
            CHECK(kind == (fault == kit::Fault::full ? model::ErrorKind::full : model::ErrorKind::io));
            const store::Ticket ticket = opened.store().append(kit::log_steps().front().chunks);
            CHECK(ticket.state == store::Durability::not_kept);
            CHECK(ticket.why.kind == kind);
            files.repair();
            CHECK(opened.store().peers(kit::scope_named('w')).ok());
            CHECK(opened.store().erased().ok());
            CHECK(opened.store().holdings(kit::scope_named('w')).ok());
            CHECK(opened.store().set_columns(kit::scope_named('w'))->has_value() == (form >= 3));
            const auto state = kit::state_of(opened.store());
            REQUIRE(state.ok());
            CHECK(state->ops.size() == wanted(form).ops);
          } else if (!open) {
            refused += 1;
          }
          opened.close();
          files.repair();
          REQUIRE(opened.open());
          REQUIRE(everything_is_there(opened.store(), form) == "");
        }
      }
    }
  }
  std::printf("figure store.migration_refused looked_only %llu refused %llu\n", static_cast<unsigned long long>(looked_only),
              static_cast<unsigned long long>(refused));
  CHECK(looked_only > 0);
}

TEST_CASE("the copy of the old form is there until it is dropped, and the rebuilding asked for until it is done") {
  kit::MemoryDisk disk = old_store(1);
  kit::MemoryFiles files(disk);
  kit::Opened opened(files);
  REQUIRE(opened.open());
  CHECK(opened.store().has_copy());
  CHECK(opened.store().opening().rebuild_derived);
  REQUIRE(opened.open());
  CHECK(opened.store().opening().rebuild_derived);
  REQUIRE(opened.store().derived_rebuilt());
  CHECK_FALSE(opened.store().opening().rebuild_derived);
  REQUIRE(opened.open());
  CHECK_FALSE(opened.store().opening().rebuild_derived);
  CHECK(opened.store().has_copy());
  REQUIRE(opened.store().drop_copy());
  CHECK_FALSE(opened.store().has_copy());
  REQUIRE(opened.store().drop_copy());
  REQUIRE(opened.open());
  CHECK_FALSE(opened.store().has_copy());
}

TEST_CASE("a new store needs no copy, and has the same tables as one that was brought up to date") {
  const auto schema_of = [](const kit::MemoryDisk& disk) {
    std::vector<std::string> tables;
    const std::string text(model::as_text(disk.files.at(kDatabase)));
    for (std::size_t at = text.find("CREATE TABLE"); at != std::string::npos; at = text.find("CREATE TABLE", at + 1))
      tables.push_back(text.substr(at, text.find('(', at) - at));
    std::sort(tables.begin(), tables.end());
    return tables;
  };
  kit::MemoryDisk fresh, old = old_store(1);
  for (kit::MemoryDisk* disk : {&fresh, &old}) {
    kit::MemoryFiles files(*disk);
    kit::Opened opened(files);
    REQUIRE(opened.open());
    CHECK(opened.store().has_copy() == (disk == &old));
  }
  CHECK(schema_of(fresh) == schema_of(old));
  CHECK(schema_of(fresh).size() == 9);
}
