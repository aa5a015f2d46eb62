// The frame of a bundle file: what can be checked before anything is decoded.
//
//   magic    8 bytes 89 53 4C 57 0D 0A 1A 0A
//   numbers  major, minor, min_reader, flags, total file length, header length, section
//            count; per section: type, codec, stored length, raw length, and the first
//            8 bytes of BLAKE2b-256 over the stored bytes        (canonical varints)
//   header   fields in clear
//   sections back to back in table order, nothing between, nothing behind
//   hash     BLAKE2b-256 over everything before it
//
// min_reader is the lowest minor of this major that may read the file. Bit 0 of a
// section type is its critical bit: a reader that does not know the type must refuse.
// Read in this order, so that damage is told from news: magic, versions, whole length,
// whole hash, table, sections. Views in a Frame point into the file that was given.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "model/bytes.h"
#include "model/ids.h"
#include "model/result.h"
#include "sync/bundle.h"
#include "sync/door.h"

namespace slipway::sync {

inline constexpr std::uint64_t kStoredPlain = 0, kPackedOps = 1;  // codecs; the second for the ops section only: codec1.h

// Section types, rising as they stand in a file.
// signature is the only one that a reader may pass over; sealed and squad each stand alone.
namespace section {
inline constexpr std::uint64_t manifest = 1, ranges = 3, ops = 5, signature = 6, sealed = 7, squad = 9;
}

// What the flags say again: so much is known of a file before its table.
namespace flag {
inline constexpr std::uint64_t sealed = 1, has_signature = 2;
}

// A codec that packs makes at most this of a section; what would go further is stored plain.
inline constexpr std::uint64_t kMostUnpacked = 256, kMostUnpackedAnyway = 64 * 1024;
constexpr bool unpacks_too_far(std::uint64_t stored, std::uint64_t raw) {
  return raw > kMostUnpackedAnyway && (raw - kMostUnpackedAnyway) / kMostUnpacked > stored;
}

struct FramePlan {  // what to write
  struct Section {
    std::uint64_t type = 0;
    model::Bytes raw;  // what is stored with codec 0
    std::uint64_t codec = kStoredPlain;
    model::Bytes packed = {};       // with another, and how long its canonical form is
    std::uint64_t raw_length = 0;
  };
  std::uint64_t major = kMajor, minor = kMinor, min_reader = kMinReader;
  std::uint64_t flags = 0;
  model::Bytes header;
  std::vector<Section> sections;
};

struct Frame {  // what was read
  struct Section {
    std::uint64_t type = 0;
    model::ByteView raw;   // codec 0; with another codec empty: it has to be unpacked
    std::uint64_t at = 0;  // offset in the file
    std::uint64_t codec = kStoredPlain;
    model::ByteView stored = {};
    std::uint64_t raw_length = 0;  // as the file says; never more than stored bytes can hold
  };
  std::uint64_t major = 0, minor = 0, min_reader = 0, flags = 0;
  model::ByteView header;
  std::uint64_t header_at = 0;
  std::vector<Section> sections;  // the known ones only, in file order
  model::Hash32 file_hash;

  const Section* find(std::uint64_t type) const;
  bool is_newer() const { return major == kMajor && minor > kMinor; }  // may hold what we do not know
};

std::string section_name(std::uint64_t type);  // as a place in errors

model::Bytes write_frame(const FramePlan& plan);
model::Result<Frame> read_frame(model::ByteView file, const Door& door, const Limits& limits);

bool has_magic(model::ByteView file);
// The answer for bytes without the magic: empty, changed by a text channel, or not ours.
model::Error no_magic(model::ByteView file, const Door& door);

}  // namespace slipway::sync
