// The twins that the other tests stand on keep what host::Files promises. The POSIX files are
// held against the same list in tests/native-shell, the browser's in tests/wasm-shell, inside it.
#include <doctest/doctest.h>

#include "kit/faulty_files.h"
#include "kit/files_promises.h"
#include "kit/memory_files.h"
#include "kit/plain_files.h"
#include "kit/power_files.h"
#include "store/forgetting_files.h"

using namespace slipway;

namespace {

// A process that passes every call on to storage which outlives it.
class Passing : public host::Files {
 public:
  explicit Passing(host::Files& files) : files_(files) {}
  host::IoStatus open(std::string_view name, host::OpenMode mode, std::unique_ptr<host::File>& out) override {
    return files_.open(name, mode, out);
  }
  host::IoStatus remove(std::string_view name) override { return files_.remove(name); }
  bool exists(std::string_view name) override { return files_.exists(name); }

 private:
  host::Files& files_;
};

template <class Storage>
class Place : public kit::StorePlace {
 public:
  std::unique_ptr<host::Files> process() override { return std::make_unique<Passing>(storage_); }

 private:
  Storage storage_;
};

struct DiskInMemory : kit::MemoryFiles {
  DiskInMemory() : kit::MemoryFiles(disk) {}
  kit::MemoryDisk disk;
};

// A file in memory with one defect, to see that the list would notice it.
class Forgetful : public kit::PlainFiles {
 public:
  host::IoStatus remove(std::string_view) override { return host::IoStatus::ok; }
};

template <class Storage>
std::vector<std::string> broken_promises() {
  std::vector<std::string> broken;
  for (const kit::StorePromise& promise : kit::files_promises()) {
    Place<Storage> place;
    const std::string why = promise.broken(place);
    if (!why.empty()) broken.push_back(std::string(promise.name) + ": " + why);
  }
  return broken;
}

}  // namespace

TEST_CASE_TEMPLATE("files in memory keep every promise of the outside", Storage, kit::PlainFiles, DiskInMemory, kit::FaultyFiles,
                   kit::PowerFiles, store::ForgettingFiles) {
  const auto broken = broken_promises<Storage>();
  CAPTURE(broken.empty() ? "" : broken.front());
  CHECK(broken.empty());
}

TEST_CASE("files that remove nothing break one promise, and it is named") {
  const auto broken = broken_promises<Forgetful>();
  REQUIRE(broken.size() == 1);
  CHECK(broken[0].find("removing leaves nothing") == 0);
}

TEST_CASE("a faulty storage does what it was told at the call it was told") {
  kit::FaultyFiles files;
  std::unique_ptr<host::File> file;
  REQUIRE(files.open("a", host::OpenMode::create_if_missing, file) == host::IoStatus::ok);
  const model::Bytes eight(8, 'x');

  files.break_at(2, kit::Fault::full, kit::Lasting::once);
  CHECK(file->write(0, eight) == host::IoStatus::ok);
  CHECK_FALSE(files.struck());
  CHECK(file->write(8, eight) == host::IoStatus::full);
  CHECK(files.plain.content["a"].size() == 12);  // half of it was written
  CHECK(file->write(8, eight) == host::IoStatus::ok);

  files.break_at(1, kit::Fault::failed, kit::Lasting::sticky);
  CHECK(file->flush() == host::IoStatus::failed);
  CHECK(file->flush() == host::IoStatus::failed);
  CHECK(files.remove("a") == host::IoStatus::failed);
  files.repair();
  CHECK(file->flush() == host::IoStatus::ok);

  files.break_at(1, kit::Fault::short_read, kit::Lasting::once);
  model::Bytes into(8);
  std::size_t got = 0;
  CHECK(file->read(0, into, got) == host::IoStatus::ok);
  CHECK(got == 4);
}

TEST_CASE("after a loss of power flushed bytes are there, and of the others those that the pattern names") {
  kit::PowerFiles files;
  std::unique_ptr<host::File> file;
  REQUIRE(files.open("a", host::OpenMode::create_if_missing, file) == host::IoStatus::ok);
  const auto fill = [&](char letter) { return file->write(0, model::Bytes(1024, static_cast<std::uint8_t>(letter))); };
  REQUIRE(fill('o') == host::IoStatus::ok);
  REQUIRE(file->flush() == host::IoStatus::ok);
  REQUIRE(fill('n') == host::IoStatus::ok);

  kit::PowerLoss loss(files);
  while (loss.next() && loss.finished_steps() < files.steps().size()) {
  }
  const auto left = [&](kit::Survival survival) { return std::string(model::as_text(loss.survivors(survival).files["a"])); };
  const std::string o(512, 'o'), n(512, 'n'), half = std::string(256, 'n') + std::string(256, 'o');
  CHECK(left(kit::Survival::none) == o + o);
  CHECK(left(kit::Survival::all) == n + n);
  CHECK(left(kit::Survival::even) == n + o);
  CHECK(left(kit::Survival::odd) == o + n);
  CHECK(left(kit::Survival::torn) == half + half);
}
