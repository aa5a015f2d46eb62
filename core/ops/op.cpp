#include "ops/op.h"

#include <algorithm>
#include <cassert>
#include <limits>

namespace slipway::ops {

namespace {

constexpr std::size_t kMaxVarintBytes = 10;

model::Error damaged(std::string_view what, std::size_t offset) {
  return model::error(model::ErrorKind::damaged, "op.damaged", {std::string(what), std::to_string(offset)});
}

model::Error too_large(std::string_view what, std::uint64_t size) {
  return model::error(model::ErrorKind::too_large, "op.too_large", {std::string(what), std::to_string(size)});
}

bool whole_varints(model::ByteView payload) {
  std::size_t at = 0;
  std::uint64_t value = 0;
  while (at < payload.size())
    if (!get_varint(payload, at, value)) return false;
  return true;
}

// One reference taken apart; whose incarnation "own" means is not known here.
bool split_ref(model::ByteView bytes, std::size_t& at, bool& own, model::OpKey& key) {
  if (at >= bytes.size() || bytes[at] > 1) return false;
  own = bytes[at] == 0;
  at += 1;
  if (!own) {
    if (bytes.size() - at < sizeof(key.inc.bytes)) return false;
    key.inc = model::IncarnationId::from(bytes.subspan(at, sizeof(key.inc.bytes)));
    at += sizeof(key.inc.bytes);
  }
  if (!get_varint(bytes, at, key.seq) || key.seq == 0 || key.seq >= kCounterCeiling) return false;
  if (bytes.size() - at < sizeof(key.hash.bytes)) return false;
  key.hash = model::ShortHash::from(bytes.subspan(at, sizeof(key.hash.bytes)));
  at += sizeof(key.hash.bytes);
  return true;
}

bool whole_refs(model::ByteView payload) {
  std::size_t at = 0;
  bool own = false;
  model::OpKey key;
  while (at < payload.size())
    if (!split_ref(payload, at, own, key)) return false;
  return true;
}

// What the known wires promise of their payload; a wire of a newer version promises nothing.
bool payload_fits(Wire wire, model::ByteView payload) {
  std::size_t at = 0;
  std::uint64_t value = 0;
  switch (wire) {
    case Wire::unsigned_int:
    case Wire::signed_int: return get_varint(payload, at, value) && at == payload.size();
    case Wire::text: return model::is_utf8(model::as_text(payload));
    case Wire::bytes: return true;
    case Wire::unsigned_list: return whole_varints(payload);
    case Wire::refs: return whole_refs(payload);
  }
  return true;
}

Field varint_field(std::uint32_t tag, Wire wire, std::uint64_t value) {
  model::Bytes payload;
  put_varint(payload, value);
  return {tag, wire, payload};
}

std::optional<std::uint64_t> only_varint(const Field& field) {
  std::size_t at = 0;
  std::uint64_t value = 0;
  if (!get_varint(field.payload, at, value) || at != field.payload.size()) return std::nullopt;
  return value;
}

}  // namespace

const Field* Op::find(std::uint32_t tag) const {
  for (const Field& field : fields)
    if (field.tag == tag) return &field;
  return nullptr;
}

void put_varint(model::Bytes& out, std::uint64_t value) {
  while (value >= 0x80) {
    out.push_back(static_cast<std::uint8_t>(value | 0x80U));
    value >>= 7;
  }
  out.push_back(static_cast<std::uint8_t>(value));
}

bool get_varint(model::ByteView bytes, std::size_t& at, std::uint64_t& value) {
  std::uint64_t read = 0;
  for (std::size_t i = 0; i < kMaxVarintBytes && at + i < bytes.size(); ++i) {
    const std::uint8_t byte = bytes[at + i];
    if (i == kMaxVarintBytes - 1 && byte > 1) return false;  // over 64 bits
    read |= static_cast<std::uint64_t>(byte & 0x7FU) << (7 * i);
    if ((byte & 0x80U) != 0) continue;
    if (byte == 0 && i > 0) return false;  // a shorter form exists
    at += i + 1;
    value = read;
    return true;
  }
  return false;
}

void put_ref(model::Bytes& out, const model::OpKey& key, const model::IncarnationId& home) {
  const bool own = key.inc == home;
  out.push_back(own ? 0 : 1);
  if (!own) model::append(out, key.inc.view());
  put_varint(out, key.seq);
  model::append(out, key.hash.view());
}

bool get_ref(model::ByteView bytes, std::size_t& at, const model::IncarnationId& home, model::OpKey& key) {
  bool own = false;
  model::OpKey read;
  std::size_t here = at;
  if (!split_ref(bytes, here, own, read)) return false;
  if (own) {
    read.inc = home;
  } else if (read.inc == home) {
    return false;  // a shorter form exists
  }
  at = here;
  key = read;
  return true;
}
model::Bytes write_op(const Op& op) {
  std::vector<const Field*> sorted;
  for (const Field& field : op.fields) sorted.push_back(&field);
  std::sort(sorted.begin(), sorted.end(), [](const Field* a, const Field* b) { return a->tag < b->tag; });
  model::Bytes out;
  put_varint(out, op.lam);
  put_varint(out, op.kind);
  put_varint(out, sorted.size());
  for (std::size_t i = 0; i < sorted.size(); ++i) {
    assert(i == 0 || sorted[i - 1]->tag < sorted[i]->tag);  // each tag once
    put_varint(out, sorted[i]->tag);
    out.push_back(static_cast<std::uint8_t>(sorted[i]->wire));
    put_varint(out, sorted[i]->payload.size());
    model::append(out, sorted[i]->payload);
  }
  assert(out.size() <= kMaxOpBytes);
  return out;
}

model::Result<Op> read_op(model::ByteView bytes) {
  if (bytes.size() > kMaxOpBytes) return too_large("op", bytes.size());
  constexpr std::uint64_t kMaxU32 = std::numeric_limits<std::uint32_t>::max();
  std::size_t at = 0;
  std::uint64_t kind = 0, count = 0;
  Op op;
  if (!get_varint(bytes, at, op.lam) || op.lam >= kCounterCeiling) return damaged("lam", 0);
  const std::size_t after_lam = at;
  if (!get_varint(bytes, at, kind) || kind > kMaxU32) return damaged("kind", after_lam);
  op.kind = static_cast<std::uint32_t>(kind);
  if (!get_varint(bytes, at, count)) return damaged("count", at);
  if (count > kMaxFields) return too_large("fields", count);
  op.fields.reserve(static_cast<std::size_t>(count));
  for (std::uint64_t i = 0; i < count; ++i) {
    std::uint64_t tag = 0, length = 0;
    const std::size_t start = at;
    if (!get_varint(bytes, at, tag) || tag > kMaxU32) return damaged("tag", start);
    if (i > 0 && tag <= op.fields.back().tag) return damaged("order of tags", start);
    if (at >= bytes.size()) return damaged("wire", at);
    const auto wire = static_cast<Wire>(bytes[at]);
    at += 1;
    if (!get_varint(bytes, at, length)) return damaged("length", at);
    if (length > kMaxFieldBytes) return too_large("field", length);
    if (length > bytes.size() - at) return damaged("payload", at);
    const model::ByteView payload = bytes.subspan(at, static_cast<std::size_t>(length));
    if (!payload_fits(wire, payload)) return damaged("payload", at);
    op.fields.push_back({static_cast<std::uint32_t>(tag), wire, payload});
    at += payload.size();
  }
  if (at != bytes.size()) return damaged("end", at);
  return op;
}

Field unsigned_field(std::uint32_t tag, std::uint64_t value) { return varint_field(tag, Wire::unsigned_int, value); }
Field signed_field(std::uint32_t tag, std::int64_t value) { return varint_field(tag, Wire::signed_int, zigzag(value)); }
Field text_field(std::uint32_t tag, std::string_view value) { return {tag, Wire::text, model::as_bytes(value)}; }
Field bytes_field(std::uint32_t tag, model::ByteView value) { return {tag, Wire::bytes, value}; }

Field list_field(std::uint32_t tag, const std::vector<std::uint64_t>& values) {
  model::Bytes payload;
  for (std::uint64_t value : values) put_varint(payload, value);
  return {tag, Wire::unsigned_list, payload};
}

Field refs_field(std::uint32_t tag, const std::vector<model::OpKey>& keys, const model::IncarnationId& home) {
  model::Bytes payload;
  for (const model::OpKey& key : keys) put_ref(payload, key, home);
  return {tag, Wire::refs, payload};
}

std::optional<std::uint64_t> read_unsigned(const Field& field) {
  return field.wire == Wire::unsigned_int ? only_varint(field) : std::nullopt;
}

std::optional<std::int64_t> read_signed(const Field& field) {
  const auto value = field.wire == Wire::signed_int ? only_varint(field) : std::nullopt;
  return value ? std::optional<std::int64_t>(unzigzag(*value)) : std::nullopt;
}

std::optional<std::string_view> read_text(const Field& field) {
  if (field.wire != Wire::text) return std::nullopt;
  return model::as_text(field.payload);
}

std::optional<std::vector<std::uint64_t>> read_list(const Field& field) {
  if (field.wire != Wire::unsigned_list) return std::nullopt;
  std::vector<std::uint64_t> values;
  std::size_t at = 0;
  while (at < field.payload.size()) {
    std::uint64_t value = 0;
    if (!get_varint(field.payload, at, value)) return std::nullopt;
    values.push_back(value);
  }
  return values;
}

std::optional<std::vector<model::OpKey>> read_refs(const Field& field, const model::IncarnationId& home) {
  if (field.wire != Wire::refs) return std::nullopt;
  std::vector<model::OpKey> keys;
  std::size_t at = 0;
  while (at < field.payload.size()) {
    model::OpKey key;
    if (!get_ref(field.payload, at, home, key)) return std::nullopt;
    keys.push_back(key);
  }
  return keys;
}

}  // namespace slipway::ops
