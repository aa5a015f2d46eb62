// The files of this computer keep what host::Files and the store promise, on a real folder.
#include <doctest/doctest.h>
#include <stdlib.h>

#include <filesystem>

#include "kit/files_promises.h"
#include "kit/store_promises.h"
#include "posix_files.h"

using namespace slipway;

namespace {

// A folder of its own that is gone afterwards.
class Folder {
 public:
  Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "slipway-files-XXXXXX").string();
    if (mkdtemp(name.data()) != nullptr) path_ = name;
  }
  ~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  const std::string& path() const { return path_; }

 private:
  std::string path_;
};

// What a process meets that may not have the folder: every call answers busy.
class Busy : public host::Files {
 public:
  host::IoStatus open(std::string_view, host::OpenMode, std::unique_ptr<host::File>&) override { return host::IoStatus::busy; }
  host::IoStatus remove(std::string_view) override { return host::IoStatus::busy; }
  bool exists(std::string_view) override { return false; }
};

class FolderPlace : public kit::StorePlace {
 public:
  std::unique_ptr<host::Files> process() override {
    auto files = native::PosixFiles::open_folder(folder_.path());
    if (files) return std::move(*files);
    return std::make_unique<Busy>();
  }

 private:
  Folder folder_;
};

}  // namespace

TEST_CASE("the files of this computer keep each promise of the outside") {
  for (const kit::StorePromise& promise : kit::files_promises()) {
    FolderPlace place;
    INFO(promise.name);
    CHECK(promise.broken(place) == "");
  }
}

TEST_CASE("the store keeps each of its promises on the files of this computer") {
  for (const kit::StorePromise& promise : kit::store_promises()) {
    FolderPlace place;
    INFO(promise.name);
    CHECK(promise.broken(place) == "");
  }
}
