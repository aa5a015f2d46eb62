// Room kept free for the moment when the storage is full (sync-and-storage 9).
#include <array>

#include "store/sqlite_store.h"

namespace slipway::store {

namespace {

constexpr std::uint64_t kBallastBytes = std::uint64_t{1} << 20;

// Cut short by an end of the program, it is written once more.
bool is_whole(host::Files& files) {
  std::unique_ptr<host::File> file;
  std::uint64_t size = 0;
  return files.open(kBallastName, host::OpenMode::read_only, file) == host::IoStatus::ok && file->size(size) == host::IoStatus::ok && size >= kBallastBytes;
}

host::IoStatus write_ballast(host::Files& files) {
  std::unique_ptr<host::File> file;
  if (const auto opened = files.open(kBallastName, host::OpenMode::create_if_missing, file); opened != host::IoStatus::ok) return opened;
  static const std::array<std::uint8_t, 64 * 1024> nothing{};
  for (std::uint64_t at = 0; at < kBallastBytes; at += nothing.size())
    if (const auto written = file->write(at, nothing); written != host::IoStatus::ok) return written;
  return file->flush();
}

}  // namespace

void SqliteStore::keep_ballast() {
  if (opening_.read_only) return;
  if (!is_whole(files_)) {
    const auto status = write_ballast(files_);
    nearly_full_ = status == host::IoStatus::full;
    if (status != host::IoStatus::ok) (void)files_.remove(kBallastName);
  }
}

bool SqliteStore::let_ballast_go() {
  if (!files_.exists(kBallastName) || files_.remove(kBallastName) != host::IoStatus::ok) return false;
  nearly_full_ = true;
  return true;
}

}  // namespace slipway::store
