#include "store/vfs.h"

#include <sqlite3.h>

#include <cstring>
#include <memory>
#include <span>

#include "model/planted.h"

namespace slipway::store {

struct Vfs::Inside {
  sqlite3_vfs vfs{};
  std::string name;
  host::Files* files = nullptr;
  host::Random* random = nullptr;
  host::IoStatus trouble = host::IoStatus::ok;
  std::string place;

  // Notes a refusal, so that the person hears what and where. SQLite hears "full" or its
  // own code for a failed step: those two it is sure to roll back after.
  int note(host::IoStatus status, std::string_view verb, std::string_view file, int code_if_failed) {
    if (status == host::IoStatus::ok) return SQLITE_OK;
    trouble = status;
    place = std::string(verb) + " " + std::string(file);
    return status == host::IoStatus::full ? SQLITE_FULL : code_if_failed;
  }
};

namespace {

constexpr int kSectorBytes = 512;  // the smallest piece that a power cut may tear
constexpr int kMaxPathBytes = 64;  // our files have short flat names

struct OpenFile : sqlite3_file {
  Vfs::Inside* owner;
  host::File* file;
  char name[kMaxPathBytes + 1];
  int lock;
};

OpenFile& as_open(sqlite3_file* file) { return *static_cast<OpenFile*>(file); }
Vfs::Inside& owner_of(sqlite3_vfs* vfs) { return *static_cast<Vfs::Inside*>(vfs->pAppData); }

int close_file(sqlite3_file* base) {
  OpenFile& open = as_open(base);
  delete open.file;
  open.file = nullptr;
  return SQLITE_OK;
}

// Fewer bytes than asked for mean "the file ends here" to SQLite: it reads zeros, and stops playing a
// journal back. So a storage that just stopped early must never pass for the end of the file.
int read_file(sqlite3_file* base, void* into, int amount, sqlite3_int64 offset) {
  OpenFile& open = as_open(base);
  const std::span<std::uint8_t> bytes(static_cast<std::uint8_t*>(into), static_cast<std::size_t>(amount));
  std::size_t done = 0;
  while (done < bytes.size()) {
    std::size_t got = 0;
    const auto status = open.file->read(static_cast<std::uint64_t>(offset) + done, bytes.subspan(done), got);
    if (status != host::IoStatus::ok) return open.owner->note(status, "read", open.name, SQLITE_IOERR_READ);
    if (got == 0) break;
    done += got;
  }
  if (done == bytes.size()) return SQLITE_OK;
  std::uint64_t size = 0;
  auto status = open.file->size(size);
  if (status == host::IoStatus::ok && static_cast<std::uint64_t>(offset) + done < size) status = host::IoStatus::failed;
  if (status != host::IoStatus::ok) return open.owner->note(status, "read", open.name, SQLITE_IOERR_READ);
  std::memset(bytes.data() + done, 0, bytes.size() - done);
  return SQLITE_IOERR_SHORT_READ;
}

int write_file(sqlite3_file* base, const void* from, int amount, sqlite3_int64 offset) {
  OpenFile& open = as_open(base);
  const std::span<const std::uint8_t> bytes(static_cast<const std::uint8_t*>(from), static_cast<std::size_t>(amount));
  return open.owner->note(open.file->write(static_cast<std::uint64_t>(offset), bytes), "write", open.name, SQLITE_IOERR_WRITE);
}

int truncate_file(sqlite3_file* base, sqlite3_int64 size) {
  OpenFile& open = as_open(base);
  return open.owner->note(open.file->truncate(static_cast<std::uint64_t>(size)), "truncate", open.name, SQLITE_IOERR_TRUNCATE);
}

int sync_file(sqlite3_file* base, int) {
  OpenFile& open = as_open(base);
  return open.owner->note(open.file->flush(), "flush", open.name, SQLITE_IOERR_FSYNC);
}

int size_of_file(sqlite3_file* base, sqlite3_int64* out) {
  OpenFile& open = as_open(base);
  std::uint64_t size = 0;
  const auto status = open.file->size(size);
  *out = static_cast<sqlite3_int64>(size);
  return open.owner->note(status, "size", open.name, SQLITE_IOERR_FSTAT);
}

int lock_file(sqlite3_file* base, int level) {
  as_open(base).lock = level;
  return SQLITE_OK;
}

int unlock_file(sqlite3_file* base, int level) {
  as_open(base).lock = level;
  return SQLITE_OK;
}

int check_reserved(sqlite3_file* base, int* out) {
  *out = model::kPlanted == 5 || as_open(base).lock >= SQLITE_LOCK_RESERVED ? 1 : 0;
  return SQLITE_OK;
}

int file_control(sqlite3_file*, int, void*) { return SQLITE_NOTFOUND; }
int sector_size(sqlite3_file*) { return kSectorBytes; }
int device_characteristics(sqlite3_file*) { return 0; }  // claim nothing

constexpr sqlite3_io_methods kMethods = {
    1,         close_file,   read_file,    write_file,     truncate_file, sync_file,   size_of_file,
    lock_file, unlock_file,  check_reserved, file_control, sector_size,   device_characteristics,
    nullptr,   nullptr,      nullptr,      nullptr,        nullptr,       nullptr,
};

int open_file(sqlite3_vfs* vfs, const char* name, sqlite3_file* base, int flags, int* out_flags) {
  Vfs::Inside& owner = owner_of(vfs);
  OpenFile& open = as_open(base);
  open.pMethods = nullptr;
  if (name == nullptr || std::strlen(name) > kMaxPathBytes) return SQLITE_CANTOPEN;  // temporary files live in memory
  const auto mode = (flags & SQLITE_OPEN_READONLY) != 0  ? host::OpenMode::read_only
                    : (flags & SQLITE_OPEN_CREATE) != 0 ? host::OpenMode::create_if_missing
                                                        : host::OpenMode::must_exist;
  std::unique_ptr<host::File> file;
  const auto status = owner.files->open(name, mode, file);
  if (status == host::IoStatus::busy || status == host::IoStatus::no_permission) {
    owner.note(status, "open", name, SQLITE_CANTOPEN);
    return status == host::IoStatus::busy ? SQLITE_BUSY : SQLITE_PERM;
  }
  if (status != host::IoStatus::ok) return owner.note(status, "open", name, SQLITE_CANTOPEN);
  open.owner = &owner;
  open.file = file.release();
  std::strcpy(open.name, name);
  open.lock = SQLITE_LOCK_NONE;
  open.pMethods = &kMethods;
  if (out_flags != nullptr) *out_flags = flags;
  return SQLITE_OK;
}

int delete_file(sqlite3_vfs* vfs, const char* name, int) {
  return owner_of(vfs).note(owner_of(vfs).files->remove(name), "remove", name, SQLITE_IOERR_DELETE);
}

int access_file(sqlite3_vfs* vfs, const char* name, int, int* out) {
  *out = owner_of(vfs).files->exists(name) ? 1 : 0;
  return SQLITE_OK;
}

int full_path(sqlite3_vfs*, const char* name, int room, char* out) {
  if (static_cast<int>(std::strlen(name)) >= room) return SQLITE_CANTOPEN;
  std::strcpy(out, name);
  return SQLITE_OK;
}

int fill_random(sqlite3_vfs* vfs, int amount, char* out) {
  owner_of(vfs).random->fill({reinterpret_cast<std::uint8_t*>(out), static_cast<std::size_t>(amount)});
  return amount;
}

int sleep_not(sqlite3_vfs*, int) { return 0; }

int no_clock(sqlite3_vfs*, double* out) {  // nothing stored may depend on SQLite's own idea of time
  *out = 2440587.5;                        // Julian day of 1970-01-01
  return SQLITE_OK;
}

int no_last_error(sqlite3_vfs*, int, char*) { return 0; }

}  // namespace

Vfs::Vfs(host::Files& files, host::Random& random) : inside_(new Inside) {
  static int count = 0;  // names only; one thread per process (SQLITE_THREADSAFE=0)
  inside_->name = "slipway-" + std::to_string(++count);
  inside_->files = &files;
  inside_->random = &random;
  sqlite3_vfs& vfs = inside_->vfs;
  vfs.iVersion = 1;
  vfs.szOsFile = sizeof(OpenFile);
  vfs.mxPathname = kMaxPathBytes;
  vfs.zName = inside_->name.c_str();
  vfs.pAppData = inside_;
  vfs.xOpen = open_file;
  vfs.xDelete = delete_file;
  vfs.xAccess = access_file;
  vfs.xFullPathname = full_path;
  vfs.xRandomness = fill_random;
  vfs.xSleep = sleep_not;
  vfs.xCurrentTime = no_clock;
  vfs.xGetLastError = no_last_error;
  // SQLite seeds its random numbers from its default VFS, so the newest one is that.
  sqlite3_vfs_register(&vfs, 1);
}

Vfs::~Vfs() {
  sqlite3_vfs_unregister(&inside_->vfs);
  delete inside_;
}

const char* Vfs::name() const { return inside_->name.c_str(); }
host::IoStatus Vfs::last_trouble() const { return inside_->trouble; }
const std::string& Vfs::last_place() const { return inside_->place; }
void Vfs::forget_trouble() {
  inside_->trouble = host::IoStatus::ok;
  inside_->place.clear();
}

}  // namespace slipway::store

// SQLITE_OS_OTHER=1 asks for these two; each Store registers its own VFS.
extern "C" int sqlite3_os_init() { return SQLITE_OK; }
extern "C" int sqlite3_os_end() { return SQLITE_OK; }
