// Files taken apart and sealed again, leniently: they may be broken in any way.
#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <optional>

#include "kit/bundle_kit.h"
#include "ops/op.h"
#include "sync/door.h"
#include "sync/tables.h"

namespace slipway::kit {

namespace {

constexpr std::size_t kHash = 32, kCheck = 8, kMagic = 8;

struct Row {
  std::uint64_t type = 0, codec = 0, at = 0, length = 0;
  std::size_t check_at = 0;
};

// Rows whose section still lies inside the file; nothing if the table cannot be followed.
std::vector<Row> find_rows(model::ByteView file) {
  std::size_t at = kMagic;
  std::uint64_t skipped = 0, header = 0, count = 0;
  for (int i = 0; i < 5; ++i)
    if (!ops::get_varint(file, at, skipped)) return {};
  if (!ops::get_varint(file, at, header) || !ops::get_varint(file, at, count)) return {};
  std::vector<Row> rows;
  for (std::uint64_t i = 0; i < count; ++i) {
    Row row;
    std::uint64_t raw = 0;
    if (!ops::get_varint(file, at, row.type) || !ops::get_varint(file, at, row.codec) || !ops::get_varint(file, at, row.length) ||
        !ops::get_varint(file, at, raw) || file.size() - at < kCheck)
      return {};
    row.check_at = at;
    at += kCheck;
    rows.push_back(row);
  }
  std::uint64_t next = at;
  const auto room = [&](std::uint64_t length) { return length <= file.size() && next + length <= file.size(); };
  if (!room(header)) return {};
  next += header;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (!room(rows[i].length)) return {rows.begin(), rows.begin() + static_cast<std::ptrdiff_t>(i)};
    rows[i].at = next;
    next += rows[i].length;
  }
  return rows;
}

void put(model::Bytes& file, std::size_t at, model::ByteView bytes) { std::copy(bytes.begin(), bytes.end(), file.begin() + static_cast<std::ptrdiff_t>(at)); }

// The check of each chunk of the ops section, as far as chunks can be followed.
void seal_chunks(model::Bytes& file, const Row& row, const std::vector<ops::StreamId>& streams) {
  const model::Bytes section(file.begin() + static_cast<std::ptrdiff_t>(row.at), file.begin() + static_cast<std::ptrdiff_t>(row.at + row.length));
  sync::Cursor cursor(section);
  std::uint64_t count = 0;
  if (!cursor.number(count)) return;
  for (std::uint64_t i = 0; i < count; ++i) {
    std::uint64_t stream = 0, first = 0, op_count = 0, length = 0;
    model::ByteView before, bytes, check;
    if (!cursor.number(stream) || stream >= streams.size() || !cursor.number(first)) return;
    model::Hash32 hash = ops::genesis(streams[static_cast<std::size_t>(stream)]);
    if (first > 1) {
      if (!cursor.take(kHash, before)) return;
      hash = model::Hash32::from(before);
    }
    if (!cursor.number(op_count) || !cursor.number(length) || !cursor.take(length, bytes)) return;
    const std::size_t check_at = static_cast<std::size_t>(row.at) + cursor.at();
    if (!cursor.take(kCheck, check)) return;
    sync::Cursor inside(bytes);
    std::uint64_t op_length = 0;
    model::ByteView op;
    while (inside.left() > 0 && inside.number(op_length) && inside.take(op_length, op)) hash = ops::chain(hash, op);
    put(file, check_at, model::shorten(hash).view());
  }
}

std::vector<ops::StreamId> find_streams(model::ByteView file, const std::vector<Row>& rows) {
  for (const Row& row : rows) {
    if (row.type != sync::section::manifest) continue;
    sync::Bundle unused;
    const auto streams = sync::read_manifest(file.subspan(static_cast<std::size_t>(row.at), static_cast<std::size_t>(row.length)), row.at,
                                             sync::Door{"kit.slip"}, unused);
    if (streams) return *streams;
  }
  return {};
}

}  // namespace

model::Bytes whole_hash_again(model::Bytes file) {
  if (file.size() < kMagic + kHash) return file;
  put(file, file.size() - kHash, ops::blake2b(model::ByteView(file).first(file.size() - kHash)).view());
  return file;
}

model::Bytes sealed_again(model::Bytes file) {
  const std::vector<Row> rows = find_rows(file);
  const std::vector<ops::StreamId> streams = find_streams(file, rows);
  for (const Row& row : rows)
    if (row.type == sync::section::ops && row.codec == sync::kStoredPlain && row.at != 0) seal_chunks(file, row, streams);
  for (const Row& row : rows)
    if (row.at != 0)
      put(file, row.check_at, model::shorten(ops::blake2b(model::ByteView(file).subspan(static_cast<std::size_t>(row.at), static_cast<std::size_t>(row.length)))).view());
  return whole_hash_again(std::move(file));
}

sync::FramePlan taken_apart(model::ByteView file) {
  const auto frame = sync::read_frame(file, sync::Door{"kit.slip"}, {});
  if (!frame) {
    std::fprintf(stderr, "taken_apart: %s\n", frame.error().text.c_str());
    std::abort();
  }
  sync::FramePlan plan;
  plan.flags = frame->flags;
  plan.header.assign(frame->header.begin(), frame->header.end());
  for (const auto& section : frame->sections) {
    plan.sections.push_back({section.type, model::Bytes(section.raw.begin(), section.raw.end())});
    sync::FramePlan::Section& part = plan.sections.back();
    if (section.codec == sync::kStoredPlain) continue;
    part.codec = section.codec;
    part.packed.assign(section.stored.begin(), section.stored.end());
    part.raw_length = section.raw_length;
  }
  return plan;
}

std::string verdict(const model::Result<sync::ReadBundle>& read) {
  if (read) return "read " + std::to_string(read->ops.size());
  static constexpr const char* kKinds[] = {"invalid", "not_found", "foreign", "damaged",       "newer_version",
                                           "too_large", "full",     "busy",    "io",            "no_permission", "sealed", "unconfirmed"};
  std::string line = kKinds[static_cast<int>(read.error().kind)];
  line += ' ';
  line += read.error().text;
  for (const std::string& arg : read.error().args) line += '|' + arg;
  return line;
}

void Verdicts::add(std::string_view line) {
  hash_ = ops::chain(hash_, model::as_bytes(line));
  ++count_;
}

void Verdicts::print(std::string_view name) const {
  std::printf("digest sync.%.*s %s\n", static_cast<int>(name.size()), name.data(), hash_.hex().c_str());
}

}  // namespace slipway::kit
