// What is met at opening: a newer store, damage, somebody else's database, a storage that
// does not allow it. Nothing of it is ever written over.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>

#include "kit/bundle_kit.h"
#include "kit/memory_files.h"
#include "kit/store_kit.h"

using namespace slipway;

namespace {

const std::string kDatabase(store::kDatabaseName);
const std::string kJournal = kDatabase + "-journal";

// A store with six entries in one scope, a draft and an import, closed.
kit::MemoryDisk written_store() {
  kit::MemoryDisk disk;
  kit::MemoryFiles files(disk);
  kit::Opened opened(files);
  REQUIRE(opened.open());
  for (const kit::Step& step : kit::import_steps()) REQUIRE(opened.perform(step));
  return disk;
}

// PRAGMA user_version: bytes 60 … 63 of the database, big endian.
void set_form(kit::MemoryDisk& disk, std::uint32_t form) {
  for (std::size_t i = 0; i < 4; ++i) disk.files[kDatabase][60 + i] = static_cast<std::uint8_t>(form >> (24 - 8 * i));
}

model::Result<model::Done> open_result(kit::MemoryDisk& disk) {
  kit::MemoryFiles files(disk);
  kit::Opened opened(files);
  return opened.open();
}

// Where these bytes stand in the database; they must.
std::size_t place_of(model::ByteView bytes, const model::Bytes& database) {
  const auto found = std::search(database.begin(), database.end(), bytes.begin(), bytes.end());
  REQUIRE(found != database.end());
  return static_cast<std::size_t>(found - database.begin());
}

void check_damaged_and_untouched(kit::MemoryDisk disk) {
  const auto before = disk.files;
  const auto opened = open_result(disk);
  REQUIRE(!opened);
  CHECK(opened.error().kind == model::ErrorKind::damaged);
  CHECK(opened.error().text == "store.damaged");
  REQUIRE(opened.error().args.size() == 2);
  CHECK(opened.error().args[0] == kDatabase);
  CHECK(opened.error().args[1] != "");
  CHECK(disk.files[kDatabase] == before.at(kDatabase));
}

// Says no at a chosen opening or at every write.
class ForbiddenFiles : public kit::MemoryFiles {
 public:
  ForbiddenFiles(kit::MemoryDisk& disk, host::IoStatus answer, std::string name)
      : MemoryFiles(disk), answer_(answer), name_(std::move(name)) {}
  host::IoStatus open(std::string_view name, host::OpenMode mode, std::unique_ptr<host::File>& out) override {
    return name == name_ ? answer_ : MemoryFiles::open(name, mode, out);
  }

 private:
  host::IoStatus answer_;
  std::string name_;
};

class ReadOnlyFiles : public kit::MemoryFiles {
 public:
  using MemoryFiles::MemoryFiles;
  host::IoStatus open(std::string_view name, host::OpenMode, std::unique_ptr<host::File>& out) override {
    return MemoryFiles::open(name, host::OpenMode::read_only, out);
  }
};

}  // namespace

TEST_CASE("a store of a newer Slipway is shown, refuses every write, and not one byte of it changes") {
  kit::MemoryDisk disk = written_store();
  set_form(disk, 7);
  const auto before = disk.files;
  kit::MemoryFiles files(disk);
  kit::Opened opened(files);
  REQUIRE(opened.open());
  store::Store& store = opened.store();
  CHECK(store.opening().read_only);
  CHECK(store.opening().schema_found == 7);
  CHECK(!store.opening().inc.is_zero());
  CHECK(!store.opening().device.is_zero());

  const auto steps = kit::import_steps();
  const auto held = kit::state_of(store);
  REQUIRE(held.ok());
  CHECK(*held == kit::state_after(steps, steps.size()));
  CHECK(store.check()->findings.empty());

  const auto refused = [](const model::Error& why) {
    return why.kind == model::ErrorKind::newer_version && why.text == "store.newer" && why.args == std::vector<std::string>{kDatabase, "7"};
  };
  kit::Log next('n', 'n');
  next.session();
  const store::Ticket ticket = store.append(kit::chunks_of(next.ops()));
  CHECK(ticket.state == store::Durability::not_kept);
  CHECK(refused(ticket.why));
  CHECK(refused(store.take_in({}, {}).error()));
  CHECK(refused(store.fold_chunks(kit::scope_named('w')).error()));
  CHECK(refused(store.save_derived(kit::scope_named('w'), {}).error()));
  CHECK(refused(store.drop_derived().error()));
  CHECK(refused(store.set_local("draft", {}).error()));
  CHECK(refused(store.next_export_counter().error()));
  CHECK(refused(store.mint_incarnation().error()));
  opened.close();
  CHECK(disk.files[kDatabase] == before.at(kDatabase));
}

TEST_CASE("a newer store whose tables this program does not know is still opened to look only") {
  kit::MemoryDisk disk = written_store();
  set_form(disk, store::kSchemaVersion + 1);
  model::Bytes& bytes = disk.files[kDatabase];
  bytes[place_of(model::as_bytes("CREATE TABLE meta"), bytes) + 7] = 'F';  // a kind of thing that only the newer one knows
  const auto before = disk.files;
  kit::MemoryFiles files(disk);
  kit::Opened opened(files);
  REQUIRE(opened.open());
  CHECK(opened.store().opening().read_only);
  CHECK(opened.store().opening().inc.is_zero());
  CHECK(!opened.store().scopes().ok());
  opened.close();
  CHECK(disk.files[kDatabase] == before.at(kDatabase));
}

TEST_CASE("a database damaged beyond opening is refused by name and left as it is") {
  const kit::MemoryDisk sound = written_store();
  SUBCASE("cut to half") {
    kit::MemoryDisk disk = sound;
    disk.files[kDatabase].resize(disk.files[kDatabase].size() / 2);
    check_damaged_and_untouched(disk);
  }
  SUBCASE("a few bytes of something") {
    kit::MemoryDisk disk = sound;
    disk.files[kDatabase] = {'h', 'e', 'l', 'l', 'o'};
    check_damaged_and_untouched(disk);
  }
  SUBCASE("its first words are gone") {
    kit::MemoryDisk disk = sound;
    disk.files[kDatabase][0] ^= 0x20;
    check_damaged_and_untouched(disk);
  }
  SUBCASE("all zeros") {
    kit::MemoryDisk disk = sound;
    std::fill(disk.files[kDatabase].begin(), disk.files[kDatabase].end(), std::uint8_t{0});
    check_damaged_and_untouched(disk);
  }
  SUBCASE("its schema is gone") {
    kit::MemoryDisk disk = sound;
    std::fill(disk.files[kDatabase].begin() + 100, disk.files[kDatabase].begin() + 4096, std::uint8_t{0});
    check_damaged_and_untouched(disk);
  }
  SUBCASE("a form below nothing") {
    kit::MemoryDisk disk = sound;
    set_form(disk, 0xFFFFFFFF);
    check_damaged_and_untouched(disk);
  }
  SUBCASE("somebody else's database: tables, but no form of ours") {
    kit::MemoryDisk disk = sound;
    set_form(disk, 0);
    check_damaged_and_untouched(disk);
  }
  SUBCASE("and the sound one opens") {
    kit::MemoryDisk disk = sound;
    CHECK(open_result(disk).ok());
  }
}

TEST_CASE("one changed bit of a stored entry is found by the check, and every other entry is still read") {
  const kit::MemoryDisk sound = written_store();
  kit::MemoryDisk disk = sound;
  const ops::Chunk chunk = kit::import_steps().back().chunks.back();
  model::Bytes& bytes = disk.files[kDatabase];
  bytes[place_of(chunk.bytes, bytes) + chunk.bytes.size() - 1] ^= 1;

  kit::MemoryFiles files(disk);
  kit::Opened opened(files);
  REQUIRE(opened.open());
  const auto found = opened.store().check();
  REQUIRE(found.ok());
  REQUIRE(found->findings.size() == 1);
  CHECK(found->findings[0].kind == model::ErrorKind::damaged);
  CHECK(found->findings[0].args[1] == chunk.stream.scope.hex() + "/" + chunk.stream.inc.hex());
  const auto held = kit::state_of(opened.store());
  REQUIRE(held.ok());
  const auto all = kit::state_after(kit::import_steps(), kit::import_steps().size());
  CHECK(held->ops.size() + (chunk.last_seq - chunk.first_seq + 1) == all.ops.size());
  // Folding goes round the damaged row and never hides it.
  CHECK(opened.store().fold_chunks(chunk.stream.scope).ok());
  CHECK(opened.store().check()->findings.size() == 1);
  CHECK(kit::state_of(opened.store())->ops == held->ops);
}

TEST_CASE("a damaged page below the entries is a finding of the check, not the end of the program") {
  kit::MemoryDisk disk = written_store();
  model::Bytes& bytes = disk.files[kDatabase];
  const ops::Chunk chunk = kit::import_steps().back().chunks.back();
  const std::size_t page = place_of(chunk.bytes, bytes) / 4096 * 4096;
  std::fill_n(bytes.begin() + static_cast<std::ptrdiff_t>(page), 64, std::uint8_t{0xFF});
  kit::MemoryFiles files(disk);
  kit::Opened opened(files);
  REQUIRE(opened.open());
  const auto found = opened.store().check();
  REQUIRE(found.ok());
  CHECK(!found->findings.empty());
  for (const model::Error& finding : found->findings) CHECK(finding.kind == model::ErrorKind::damaged);
}

TEST_CASE("a storage that does not allow opening is named with its reason") {
  struct Reason {
    host::IoStatus answer;
    model::ErrorKind kind;
    const char* text;
  };
  const std::array reasons{Reason{host::IoStatus::busy, model::ErrorKind::busy, "store.busy"},
                           Reason{host::IoStatus::no_permission, model::ErrorKind::no_permission, "store.permission"},
                           Reason{host::IoStatus::full, model::ErrorKind::full, "store.full"},
                           Reason{host::IoStatus::failed, model::ErrorKind::io, "store.io"}};
  for (const Reason& reason : reasons)
    for (const std::string& name : {kDatabase, kJournal}) {
      kit::MemoryDisk disk = written_store();
      const auto before = disk.files;
      ForbiddenFiles files(disk, reason.answer, name);
      kit::Opened opened(files);
      CAPTURE(reason.text);
      CAPTURE(name);
      REQUIRE(!opened.open());
      CHECK(opened.error().kind == reason.kind);
      CHECK(opened.error().text == reason.text);
      CHECK(opened.error().args == std::vector<std::string>{kDatabase, "open " + name});
      CHECK(disk.files[kDatabase] == before.at(kDatabase));
    }
}

TEST_CASE("a storage that may only be read refuses to open, and is not changed") {
  kit::MemoryDisk disk = written_store();
  const auto before = disk.files;
  ReadOnlyFiles files(disk);
  kit::Opened opened(files);
  REQUIRE(!opened.open());
  CHECK(opened.error().kind == model::ErrorKind::no_permission);
  CHECK(opened.error().text == "store.permission");
  CHECK(disk.files == before);
}

TEST_CASE("two stores on two storages live side by side and end in any order") {
  kit::MemoryDisk one, other;
  kit::MemoryFiles files_of_one(one), files_of_other(other);
  kit::Opened first(files_of_one, 1);
  auto second = std::make_unique<kit::Opened>(files_of_other, 2);
  REQUIRE(first.open());
  REQUIRE(second->open());
  CHECK(!(first.store().opening().inc == second->store().opening().inc));
  const auto steps = kit::log_steps();
  REQUIRE(first.perform(steps[0]));
  REQUIRE(second->perform(steps[0]));
  first.close();
  REQUIRE(second->perform(steps[1]));
  REQUIRE(first.open());
  second.reset();
  REQUIRE(first.perform(steps[1]));
  CHECK(*kit::state_of(first.store()) == kit::state_after(steps, 2));
}
