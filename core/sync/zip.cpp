#include "sync/zip.h"

#include <algorithm>
#include <cstring>
#include <exception>

#include <zlib.h>
#include <contrib/minizip/unzip.h>
#include <contrib/minizip/zip.h>

namespace slipway::sync {

namespace {

constexpr uLong kFirstDosDay = 0x00210000;  // 1980-01-01, 0:00: a zip cannot say "no date"
constexpr unsigned kUtf8Names = 1U << 11;
constexpr unsigned kMadeBy = 20;            // version 2.0, no system: the parts carry no rights
constexpr std::size_t kPiece = 64 * 1024;

// What the library takes for a file. Nothing of ours may be thrown through it.
struct Memory {
  model::Bytes written;
  model::ByteView given;  // of one that is read
  std::uint64_t at = 0;
  std::uint64_t size() const { return std::max<std::uint64_t>(written.size(), given.size()); }
};

Memory& memory(voidpf opaque) { return *static_cast<Memory*>(opaque); }

voidpf open_it(voidpf opaque, const void*, int) { return opaque; }
int close_it(voidpf, voidpf) { return 0; }
int has_failed(voidpf, voidpf) { return 0; }
ZPOS64_T tell(voidpf opaque, voidpf) { return memory(opaque).at; }

uLong read_it(voidpf opaque, voidpf, void* into, uLong size) {
  Memory& from = memory(opaque);
  if (from.at >= from.given.size()) return 0;
  const std::size_t got = std::min<std::uint64_t>(size, from.given.size() - from.at);
  std::memcpy(into, from.given.data() + from.at, got);
  from.at += got;
  return static_cast<uLong>(got);
}

uLong write_it(voidpf opaque, voidpf, const void* bytes, uLong size) {
  Memory& to = memory(opaque);
  try {
    const auto end = static_cast<std::size_t>(to.at) + size;
    if (to.written.size() < end) to.written.resize(end);
  } catch (const std::exception&) {
    return 0;  // the library answers with an error
  }
  std::memcpy(to.written.data() + to.at, bytes, size);
  to.at += size;
  return size;
}

long seek(voidpf opaque, voidpf, ZPOS64_T offset, int origin) {
  Memory& in = memory(opaque);
  const std::uint64_t from = origin == ZLIB_FILEFUNC_SEEK_CUR ? in.at : origin == ZLIB_FILEFUNC_SEEK_END ? in.size() : 0;
  if (offset > in.size() || from > in.size() - offset) return -1;
  in.at = from + offset;
  return 0;
}

zlib_filefunc64_def over(Memory& memory) { return {open_it, read_it, write_it, tell, seek, close_it, has_failed, &memory}; }

}  // namespace

// ---- writing --------------------------------------------------------------------------------------------

struct ZipWriter::Inside {
  Memory memory;
  zipFile zip = nullptr;
  bool fine = true, in_part = false;

  void end_part() {
    if (in_part) fine = zipCloseFileInZip(zip) == ZIP_OK && fine;
    in_part = false;
  }
  void end() {
    end_part();
    if (zip != nullptr) fine = zipClose(zip, nullptr) == ZIP_OK && fine;
    zip = nullptr;
  }
};

ZipWriter::ZipWriter() : inside_(std::make_unique<Inside>()) {
  zlib_filefunc64_def files = over(inside_->memory);
  inside_->zip = zipOpen2_64("", APPEND_STATUS_CREATE, nullptr, &files);
  inside_->fine = inside_->zip != nullptr;
}
ZipWriter::~ZipWriter() { inside_->end(); }

void ZipWriter::begin(const std::string& part) {
  inside_->end_part();
  if (!inside_->fine) return;
  zip_fileinfo about{};
  about.dosDate = kFirstDosDay;
  inside_->in_part = zipOpenNewFileInZip4_64(inside_->zip, part.c_str(), &about, nullptr, 0, nullptr, 0, nullptr, Z_DEFLATED,
                                             Z_DEFAULT_COMPRESSION, 0, -MAX_WBITS, DEF_MEM_LEVEL, Z_DEFAULT_STRATEGY, nullptr, 0, kMadeBy,
                                             kUtf8Names, 0) == ZIP_OK;
  inside_->fine = inside_->in_part;
}

void ZipWriter::add(model::ByteView bytes) {
  while (inside_->fine && !bytes.empty()) {
    const model::ByteView piece = bytes.first(std::min(bytes.size(), std::size_t{1} << 30));
    inside_->fine = zipWriteInFileInZip(inside_->zip, piece.data(), static_cast<unsigned>(piece.size())) == ZIP_OK;
    bytes = bytes.subspan(piece.size());
  }
}

model::Result<model::Bytes> ZipWriter::finish() {
  inside_->end();
  if (!inside_->fine) return model::error(model::ErrorKind::too_large, "memory.out");
  return std::move(inside_->memory.written);
}

// ---- reading --------------------------------------------------------------------------------------------

bool is_zip(model::ByteView file) {
  constexpr std::string_view kLocalHeader("PK\x03\x04", 4);
  return model::as_text(file).substr(0, kLocalHeader.size()) == kLocalHeader;
}

namespace {

struct Unzipped {
  explicit Unzipped(model::ByteView file) {
    memory.given = file;
    zlib_filefunc64_def files = over(memory);
    zip = unzOpen2_64("", &files);
  }
  ~Unzipped() {
    if (zip != nullptr) unzClose(zip);
  }
  Unzipped(const Unzipped&) = delete;
  Unzipped& operator=(const Unzipped&) = delete;

  Memory memory;
  unzFile zip = nullptr;
};

}  // namespace

model::Result<model::Bytes> read_zip_part(model::ByteView file, const std::string& part, const Door& door, std::uint64_t most_bytes) {
  const model::Error damaged = model::error(model::ErrorKind::damaged, "zip.damaged", {std::string(door.file_name), part});
  Unzipped opened(file);
  if (opened.zip == nullptr) return damaged;
  constexpr int kByLetter = 1;
  if (unzLocateFile(opened.zip, part.c_str(), kByLetter) != UNZ_OK)
    return model::error(model::ErrorKind::not_found, "zip.no_part", {std::string(door.file_name), part});
  unz_file_info64 about{};
  if (unzGetCurrentFileInfo64(opened.zip, &about, nullptr, 0, nullptr, 0, nullptr, 0) != UNZ_OK) return damaged;
  if (about.uncompressed_size > most_bytes) return door.too_large(part, most_bytes);
  if (unzOpenCurrentFile(opened.zip) != UNZ_OK) return damaged;
  // The declared length says how much is kept at most, not how much is believed to come.
  model::Bytes out;
  model::Bytes piece(kPiece);
  while (true) {
    const int got = unzReadCurrentFile(opened.zip, piece.data(), static_cast<unsigned>(piece.size()));
    if (got < 0) return damaged;
    if (got == 0) break;
    if (out.size() + static_cast<std::size_t>(got) > about.uncompressed_size) return damaged;
    out.insert(out.end(), piece.begin(), piece.begin() + got);
  }
  if (unzCloseCurrentFile(opened.zip) != UNZ_OK || out.size() != about.uncompressed_size) return damaged;
  return out;
}

}  // namespace slipway::sync
