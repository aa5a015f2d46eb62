// The bytes of one op: the only source of truth, written once, never re-encoded.
//
//   op    := lam kind count field*
//   field := tag wire length payload
//
// lam, kind, count, tag and length are canonical varints (LEB128, shortest form);
// wire is one byte; fields stand in rising order of tag, each tag once. Kinds and
// tags are those of registry.h; unknown ones are kept byte for byte and passed on.
// Bit 0 of a kind is the critical bit: "an older reader must not act on this record".
// No floating point, ever (NaN, minus zero and printing break byte equality).
//
// Limits, checked before anything is allocated (sync-and-storage 8): 64 KiB an op,
// 256 fields, 16 KiB a field, lam and seq below 2^40.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "model/bytes.h"
#include "model/ids.h"
#include "model/result.h"
#include "ops/payload.h"

namespace slipway::ops {

inline constexpr std::size_t kMaxOpBytes = 64 * 1024;
inline constexpr std::size_t kMaxFields = 256;
inline constexpr std::size_t kMaxFieldBytes = 16 * 1024;
// Own fields times refs of `saw`: the fold remembers each reference under each field, so a change of more covers nothing.
inline constexpr std::size_t kMostCovered = 4096;
inline constexpr std::size_t kMostRefs = 500;      // that a writer puts into one field: of 31 bytes each at most, below kMaxFieldBytes
inline constexpr std::uint64_t kCounterCeiling = std::uint64_t{1} << 40;  // lam, seq

enum class Wire : std::uint8_t {
  unsigned_int = 0,  // one varint
  signed_int = 1,    // one zigzag varint
  text = 2,          // UTF-8
  bytes = 3,
  unsigned_list = 4, // varints back to back
  refs = 5,          // references back to back, see OpKey encoding below
};

struct Field {
  std::uint32_t tag = 0;
  Wire wire = Wire::bytes;
  Payload payload;

  friend bool operator==(const Field&, const Field&) = default;
};

struct Op {
  std::uint64_t lam = 0;  // 1 + the highest lam held in the scope when it was written
  std::uint32_t kind = 0;
  std::vector<Field> fields;

  const Field* find(std::uint32_t tag) const;
  friend bool operator==(const Op&, const Op&) = default;
};

inline constexpr bool is_critical(std::uint32_t kind) { return (kind & 1U) != 0; }

model::Bytes write_op(const Op& op);

// Reads exactly one op. Errors: damaged (args: what, byte offset) for every form that
// write_op could not have written; too_large over a limit. Unknown kinds, tags and wires are fine.
model::Result<Op> read_op(model::ByteView bytes);

// Varints: canonical LEB128. read answers false at the end, over 64 bits or a form
// that is not the shortest; on false `at` is unchanged.
void put_varint(model::Bytes& out, std::uint64_t value);
bool get_varint(model::ByteView bytes, std::size_t& at, std::uint64_t& value);
constexpr std::uint64_t zigzag(std::int64_t v) {
  return (static_cast<std::uint64_t>(v) << 1) ^ static_cast<std::uint64_t>(v >> 63);
}
constexpr std::int64_t unzigzag(std::uint64_t v) {
  return static_cast<std::int64_t>(v >> 1) ^ -static_cast<std::int64_t>(v & 1);
}

// A reference inside an op written by incarnation `home`:
//   0x00 seq hash8            for an op of the same incarnation
//   0x01 inc16 seq hash8      for any other
void put_ref(model::Bytes& out, const model::OpKey& key, const model::IncarnationId& home);
bool get_ref(model::ByteView bytes, std::size_t& at, const model::IncarnationId& home, model::OpKey& key);

// Typed reading and writing of fields; readers answer nothing if the tag is missing
// or its wire or payload is not what the type needs.
Field unsigned_field(std::uint32_t tag, std::uint64_t value);
Field signed_field(std::uint32_t tag, std::int64_t value);
Field text_field(std::uint32_t tag, std::string_view value);
Field bytes_field(std::uint32_t tag, model::ByteView value);
Field list_field(std::uint32_t tag, const std::vector<std::uint64_t>& values);
Field refs_field(std::uint32_t tag, const std::vector<model::OpKey>& keys, const model::IncarnationId& home);

std::optional<std::uint64_t> read_unsigned(const Field& field);
std::optional<std::int64_t> read_signed(const Field& field);
std::optional<std::string_view> read_text(const Field& field);
std::optional<std::vector<std::uint64_t>> read_list(const Field& field);
std::optional<std::vector<model::OpKey>> read_refs(const Field& field, const model::IncarnationId& home);

}  // namespace slipway::ops
