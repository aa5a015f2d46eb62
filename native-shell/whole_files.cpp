#include "whole_files.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <climits>
#include <cstdio>
#include <cstdlib>

#include "descriptor.h"
#include "posix_files.h"

namespace slipway::native {

namespace {

using model::ErrorKind;

model::Error unwritable(int system_error, const std::string& path) {
  switch (status_of(system_error)) {
    case host::IoStatus::full: return model::error(ErrorKind::full, "file.unwritable", {path});
    case host::IoStatus::no_permission: return model::error(ErrorKind::no_permission, "file.unwritable", {path});
    default: return model::error(ErrorKind::io, "file.unwritable", {path});
  }
}

bool put_all(int file, model::ByteView bytes) {
  while (!bytes.empty()) {
    const ssize_t put = ::write(file, bytes.data(), bytes.size());
    if (put < 0 && errno == EINTR) continue;
    if (put <= 0) return false;
    bytes = bytes.subspan(static_cast<std::size_t>(put));
  }
  return true;
}

// Renames without ever replacing. Where the file system has no such rename, looks first.
bool rename_to_free_place(const std::string& from, const std::string& to) {
  if (::renameat2(AT_FDCWD, from.c_str(), AT_FDCWD, to.c_str(), RENAME_NOREPLACE) == 0) return true;
  if (errno != EINVAL && errno != ENOSYS) return false;
  struct stat about {};
  if (::lstat(to.c_str(), &about) == 0) {
    errno = EEXIST;
    return false;
  }
  return ::rename(from.c_str(), to.c_str()) == 0;
}

bool sync_folder(const std::string& folder) {
  const Descriptor opened(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  return opened && ::fsync(opened.get()) == 0;
}

}  // namespace

model::Result<model::Bytes> read_whole(const std::string& path) {
  const Descriptor file(::open(path.c_str(), O_RDONLY | O_CLOEXEC));
  if (!file) return status_of(errno) == host::IoStatus::missing ? model::error(ErrorKind::not_found, "file.missing", {path})
                                                                 : model::error(ErrorKind::io, "file.unreadable", {path});
  model::Bytes bytes;
  constexpr std::size_t kStep = 1 << 16;
  for (std::size_t got = 0;;) {
    if (got > kMostReadBytes) return model::error(ErrorKind::too_large, "cli.file_large", {path, std::to_string(kMostReadBytes >> 20)});
    bytes.resize(got + kStep);
    const ssize_t more = ::read(file.get(), bytes.data() + got, kStep);
    if (more < 0 && errno == EINTR) continue;
    if (more < 0 && errno == EISDIR) return model::error(ErrorKind::invalid, "cli.folder", {path});
    if (more < 0) return model::error(ErrorKind::io, "file.unreadable", {path});
    got += static_cast<std::size_t>(more);
    if (more == 0) {
      bytes.resize(got);
      return bytes;
    }
  }
}

model::Result<model::Done> write_whole(const std::string& path, model::ByteView bytes, IfThere if_there) {
  struct stat about {};
  if (is_folder(path)) return model::error(ErrorKind::invalid, "cli.out_folder", {path});
  const model::Error taken = model::error(ErrorKind::invalid, "cli.file_there", {path});
  if (if_there == IfThere::refuse && ::lstat(path.c_str(), &about) == 0) return taken;
  constexpr std::size_t kLettersOfItsOwn = 6;  // mkostemp puts them where the X are, so that the name is free
  std::string part = folder_of(path) + "/." + file_name_of(path) + "." + std::string(kLettersOfItsOwn, 'X');
  const Descriptor file(::mkostemp(part.data(), O_CLOEXEC));  // made for its owner only
  if (!file) return unwritable(errno, path);
  bool written = put_all(file.get(), bytes) && ::fsync(file.get()) == 0;
  if (written) written = if_there == IfThere::replace ? ::rename(part.c_str(), path.c_str()) == 0 : rename_to_free_place(part, path);
  const int said = errno;
  if (!written) ::unlink(part.c_str());
  if (!written && said == EEXIST) return taken;
  if (!written) return unwritable(said, path);
  if (!sync_folder(folder_of(path))) return unwritable(errno, path);
  return model::Done{};
}

model::Result<model::Done> make_folder(const std::string& path) {
  if (is_folder(path)) return model::Done{};
  const std::string above = folder_of(path);
  if (above != path)
    if (const auto made = make_folder(above); !made) return made;
  constexpr mode_t kOwnerOnly = 0700;
  if (::mkdir(path.c_str(), kOwnerOnly) != 0 && errno != EEXIST) return unwritable(errno, path);
  if (!sync_folder(above)) return unwritable(errno, path);
  return model::Done{};
}

bool is_missing(const std::string& path) {
  struct stat about {};
  return ::stat(path.c_str(), &about) != 0 && errno == ENOENT;
}

bool is_folder(const std::string& path) {
  struct stat about {};
  return ::stat(path.c_str(), &about) == 0 && S_ISDIR(about.st_mode);
}

std::string file_name_of(const std::string& path) {
  const std::size_t slash = path.rfind('/');
  return slash == std::string::npos ? path : path.substr(slash + 1);
}

std::string folder_of(const std::string& path) {
  const std::size_t slash = path.rfind('/');
  if (slash == std::string::npos) return ".";
  return slash == 0 ? "/" : path.substr(0, slash);
}

std::string absolute(const std::string& path) {
  char resolved[PATH_MAX];
  return ::realpath(path.c_str(), resolved) != nullptr ? std::string(resolved) : path;
}

}  // namespace slipway::native
