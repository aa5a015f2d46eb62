#include "posix_files.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <limits>

#include "descriptor.h"

namespace slipway::native {

namespace {

using host::IoStatus;

constexpr mode_t kOwnerOnly = 0600;  // what swimmers log is nobody else's on this computer

// The bytes in which SQLite's own tools keep their locks: PENDING, RESERVED and SHARED
// from 1 GiB on [SQLite's file format]. Holding them all shuts those tools out.
constexpr off_t kSqliteLockStart = 0x40000000;
constexpr off_t kSqliteLockBytes = 512;

bool fits(std::uint64_t value) { return value <= static_cast<std::uint64_t>(std::numeric_limits<off_t>::max()); }

IoStatus shut_out_sqlite_tools(int file) {
  struct flock range {};
  range.l_type = F_WRLCK;
  range.l_whence = SEEK_SET;
  range.l_start = kSqliteLockStart;
  range.l_len = kSqliteLockBytes;
  if (::fcntl(file, F_OFD_SETLK, &range) == 0) return IoStatus::ok;
  // A file system without such locks still has the lock file.
  return errno == EAGAIN || errno == EACCES ? IoStatus::busy : IoStatus::ok;
}

class PosixFile : public host::File {
 public:
  explicit PosixFile(Descriptor file) : file_(std::move(file)) {}

  IoStatus read(std::uint64_t offset, std::span<std::uint8_t> into, std::size_t& got) override {
    got = 0;
    if (!fits(offset) || !fits(offset + into.size())) return IoStatus::failed;
    while (got < into.size()) {
      const ssize_t more = ::pread(file_.get(), into.data() + got, into.size() - got, static_cast<off_t>(offset + got));
      if (more == 0) break;  // the end of the file
      if (more < 0 && errno == EINTR) continue;
      if (more < 0) return status_of(errno);
      got += static_cast<std::size_t>(more);
    }
    return IoStatus::ok;
  }

  IoStatus write(std::uint64_t offset, std::span<const std::uint8_t> bytes) override {
    if (!fits(offset) || !fits(offset + bytes.size())) return IoStatus::failed;
    std::size_t put = 0;
    while (put < bytes.size()) {
      const ssize_t more = ::pwrite(file_.get(), bytes.data() + put, bytes.size() - put, static_cast<off_t>(offset + put));
      if (more < 0 && errno == EINTR) continue;
      if (more < 0) return status_of(errno);
      if (more == 0) return IoStatus::full;
      put += static_cast<std::size_t>(more);
    }
    return IoStatus::ok;
  }

  IoStatus truncate(std::uint64_t size) override {
    if (!fits(size)) return IoStatus::failed;
    return ::ftruncate(file_.get(), static_cast<off_t>(size)) == 0 ? IoStatus::ok : status_of(errno);
  }

  IoStatus flush() override { return ::fdatasync(file_.get()) == 0 ? IoStatus::ok : status_of(errno); }

  IoStatus size(std::uint64_t& out) override {
    struct stat about {};
    if (::fstat(file_.get(), &about) != 0) return status_of(errno);
    out = static_cast<std::uint64_t>(about.st_size);
    return IoStatus::ok;
  }

 private:
  Descriptor file_;
};

bool is_flat(std::string_view name) { return !name.empty() && name[0] != '.' && name.find('/') == std::string_view::npos; }

model::Error refused(int system_error, const std::string& folder, std::string_view place) {
  using model::ErrorKind;
  switch (status_of(system_error)) {
    case IoStatus::missing: return model::error(ErrorKind::not_found, "store.no_folder", {folder});
    case IoStatus::no_permission: return model::error(ErrorKind::no_permission, "store.permission", {folder, std::string(place)});
    case IoStatus::full: return model::error(ErrorKind::full, "store.full", {folder, std::string(place)});
    case IoStatus::busy: return model::error(ErrorKind::busy, "store.busy", {folder});
    default: break;
  }
  if (system_error == ENOTDIR) return model::error(ErrorKind::invalid, "cli.not_folder", {folder});
  return model::error(ErrorKind::io, "store.io", {folder, std::string(place)});
}

}  // namespace

host::IoStatus status_of(int system_error) {
  switch (system_error) {
    case ENOENT: return IoStatus::missing;
    case ENOSPC:
    case EDQUOT:
    case EFBIG: return IoStatus::full;
    case EACCES:
    case EPERM:
    case EROFS: return IoStatus::no_permission;
    case EWOULDBLOCK: return IoStatus::busy;
    default: return IoStatus::failed;
  }
}

model::Result<std::unique_ptr<PosixFiles>> PosixFiles::open_folder(const std::string& folder) {
  Descriptor opened(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  if (!opened) return refused(errno, folder, "open");
  Descriptor lock(::openat(opened.get(), std::string(kLockName).c_str(), O_RDWR | O_CREAT | O_CLOEXEC, kOwnerOnly));
  if (!lock) return refused(errno, folder, kLockName);
  if (::flock(lock.get(), LOCK_EX | LOCK_NB) != 0) return refused(errno, folder, kLockName);
  return std::unique_ptr<PosixFiles>(new PosixFiles(opened.release(), lock.release()));
}

PosixFiles::~PosixFiles() {
  ::close(lock_);  // lets the lock go; the file stays, so that two processes never lock two files of one name
  ::close(folder_);
}

host::IoStatus PosixFiles::open(std::string_view name, host::OpenMode mode, std::unique_ptr<host::File>& out) {
  if (!is_flat(name)) return IoStatus::failed;
  const std::string path(name);
  const bool writes = mode != host::OpenMode::read_only;
  const int access = (writes ? O_RDWR : O_RDONLY) | O_CLOEXEC;
  Descriptor file(::openat(folder_, path.c_str(), access));
  if (!file && errno == ENOENT && mode == host::OpenMode::create_if_missing) {
    file = Descriptor(::openat(folder_, path.c_str(), access | O_CREAT, kOwnerOnly));
    if (!file) return status_of(errno);
    if (::fsync(folder_) != 0) return status_of(errno);
  }
  if (!file) return status_of(errno);
  if (writes)
    if (const IoStatus locked = shut_out_sqlite_tools(file.get()); locked != IoStatus::ok) return locked;
  out = std::make_unique<PosixFile>(std::move(file));
  return IoStatus::ok;
}

host::IoStatus PosixFiles::remove(std::string_view name) {
  if (!is_flat(name)) return IoStatus::failed;
  if (::unlinkat(folder_, std::string(name).c_str(), 0) != 0 && errno != ENOENT) return status_of(errno);
  return ::fsync(folder_) == 0 ? IoStatus::ok : status_of(errno);
}

bool PosixFiles::exists(std::string_view name) {
  struct stat about {};
  return is_flat(name) && ::fstatat(folder_, std::string(name).c_str(), &about, 0) == 0 && about.st_size > 0;
}

}  // namespace slipway::native
