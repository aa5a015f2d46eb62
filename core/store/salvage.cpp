#include "store/salvage.h"

#include <algorithm>
#include <array>
#include <optional>

#include "store/runs.h"

namespace slipway::store {

namespace {

constexpr std::size_t kPageBytes = 4096;       // ours are all of this size
constexpr std::size_t kMostPayload = 1 << 20;  // far above any chunk row
constexpr std::size_t kColumns = 7;            // scope, inc, first_seq, before, after, last_seq, bytes
constexpr std::size_t kPackedColumns = 9;      // scope, inc, first_seq, before, last_seq, after, told, row_check, bytes

std::uint64_t big_endian(model::ByteView bytes, std::size_t at, std::size_t count) {
  std::uint64_t value = 0;
  for (std::size_t i = 0; i < count; ++i) value = value << 8 | bytes[at + i];
  return value;
}

// SQLite's own varint: big endian, seven bits a byte, the ninth whole.
bool get_sqlite_varint(model::ByteView bytes, std::size_t& at, std::uint64_t& value) {
  value = 0;
  for (int i = 0; i < 9 && at < bytes.size(); ++i) {
    const std::uint8_t byte = bytes[at++];
    if (i == 8) {
      value = value << 8 | byte;
      return true;
    }
    value = value << 7 | (byte & 0x7F);
    if (byte < 0x80) return true;
  }
  return false;
}

// The payload of a cell, with what lies on overflow pages; nothing if it points outside the file or in a circle.
std::optional<model::Bytes> payload_at(model::ByteView file, model::ByteView page, std::size_t at, bool rowid) {
  std::uint64_t size = 0, id = 0;
  if (!get_sqlite_varint(page, at, size) || size > kMostPayload) return std::nullopt;
  if (rowid && !get_sqlite_varint(page, at, id)) return std::nullopt;
  // How much of it stays on the page: the formulas of the file format for index and for table b-trees.
  constexpr std::size_t kLeast = (kPageBytes - 12) * 32 / 255 - 23;
  const std::size_t most = rowid ? kPageBytes - 35 : (kPageBytes - 12) * 64 / 255 - 23;
  std::size_t here = static_cast<std::size_t>(size);
  if (size > most) {
    const std::size_t fitting = kLeast + (static_cast<std::size_t>(size) - kLeast) % (kPageBytes - 4);
    here = fitting <= most ? fitting : kLeast;
  }
  if (at + here > page.size()) return std::nullopt;
  model::Bytes payload(page.begin() + static_cast<std::ptrdiff_t>(at), page.begin() + static_cast<std::ptrdiff_t>(at + here));
  if (payload.size() == size) return payload;
  if (at + here + 4 > page.size()) return std::nullopt;
  std::uint64_t next = big_endian(page, at + here, 4);
  while (payload.size() < size) {  // each page brings bytes, so a circle ends too
    if (next == 0 || next > file.size() / kPageBytes) return std::nullopt;
    const model::ByteView more = file.subspan(static_cast<std::size_t>(next - 1) * kPageBytes, kPageBytes);
    const std::size_t count = std::min<std::size_t>(kPageBytes - 4, static_cast<std::size_t>(size) - payload.size());
    model::append(payload, more.subspan(4, count));
    next = big_endian(more, 0, 4);
  }
  return payload;
}

struct Column {
  std::size_t at = 0, size = 0;
  bool is_blob = false;
};

// Where the columns of a record stand; nothing if it is not one of so many columns that ends where it says.
template <std::size_t kCount>
std::optional<std::array<Column, kCount>> columns_of(model::ByteView record) {
  std::size_t at = 0;
  std::uint64_t header = 0;
  if (!get_sqlite_varint(record, at, header) || header > record.size()) return std::nullopt;
  std::array<Column, kCount> columns;
  std::size_t body = static_cast<std::size_t>(header);
  for (Column& column : columns) {
    std::uint64_t type = 0;
    if (at >= header || !get_sqlite_varint(record, at, type)) return std::nullopt;
    constexpr std::array<std::size_t, 7> kIntegers{0, 1, 2, 3, 4, 6, 8};
    column.at = body;
    column.is_blob = type >= 12 && type % 2 == 0;
    if (column.is_blob)
      column.size = static_cast<std::size_t>(std::min<std::uint64_t>((type - 12) / 2, kMostPayload));
    else if (type >= 1 && type < kIntegers.size())
      column.size = kIntegers[static_cast<std::size_t>(type)];
    else if (type != 8 && type != 9)
      return std::nullopt;  // the constants 0 and 1 have no bytes
    if (type == 9) column = {body, 0, false};
    body += column.size;
    if (body > record.size()) return std::nullopt;
  }
  if (at != header || body != record.size()) return std::nullopt;
  return columns;
}

// An integer column; the constant 1 has no bytes, and 0 is never a sequence number.
std::uint64_t number_in(model::ByteView record, const Column& column) {
  return column.size == 0 ? 1 : big_endian(record, column.at, column.size);
}

std::optional<ops::Chunk> chunk_in(model::ByteView record) {
  const auto columns = columns_of<kColumns>(record);
  if (!columns) return std::nullopt;
  const auto& [scope, inc, first, before, after, last, bytes] = *columns;
  const bool shaped = scope.is_blob && scope.size == 16 && inc.is_blob && inc.size == 16 && !first.is_blob && before.is_blob &&
                      before.size == 32 && after.is_blob && after.size == 32 && !last.is_blob && bytes.is_blob;
  if (!shaped) return std::nullopt;
  const auto blob = [&](const Column& column) { return record.subspan(column.at, column.size); };
  ops::Chunk chunk{{model::ScopeId::from(blob(scope)), model::IncarnationId::from(blob(inc))},
                   number_in(record, first),
                   number_in(record, last),
                   model::Hash32::from(blob(before)),
                   model::Hash32::from(blob(after)),
                   {blob(bytes).begin(), blob(bytes).end()}};
  return ops::read_chunk(chunk) ? std::optional<ops::Chunk>(std::move(chunk)) : std::nullopt;
}

// Of a packed run what it unpacks to, if that proves itself.
void put_run_in(model::ByteView record, std::vector<ops::Chunk>& found) {
  const auto columns = columns_of<kPackedColumns>(record);
  if (!columns) return;
  const auto& [scope, inc, first, before, last, after, told, check, bytes] = *columns;
  const bool shaped = scope.is_blob && scope.size == 16 && inc.is_blob && inc.size == 16 && !first.is_blob && before.is_blob &&
                      before.size == 32 && after.is_blob && after.size == 32 && !last.is_blob && told.is_blob && check.is_blob && bytes.is_blob;
  if (!shaped) return;
  const auto blob = [&](const Column& column) { return record.subspan(column.at, column.size); };
  ops::PackedRun run{{model::ScopeId::from(blob(scope)), model::IncarnationId::from(blob(inc))},
                     number_in(record, first),
                     number_in(record, last),
                     model::Hash32::from(blob(before)),
                     model::Hash32::from(blob(after)),
                     {},
                     0,
                     0,
                     {blob(bytes).begin(), blob(bytes).end()}};
  if (!read_told(blob(told), run)) return;
  const auto ops = ops::unpack(run);
  if (!ops) return;
  for (ops::Chunk& chunk : ops::make_chunks(*ops)) found.push_back(std::move(chunk));
}

// A cell is known by its record, wherever on the page it stands: what is broken may be the page's own table of cells. Both kinds of
// row begin with two blobs of 16 bytes; before them stand the size of the payload, of a packed run a rowid, and the
// size of the record's header. Whether it is one of ours proves its chain.
void read_page(model::ByteView file, std::size_t number, std::vector<ops::Chunk>& found) {
  constexpr std::uint8_t kBlob16 = 12 + 2 * 16;
  constexpr std::size_t kMostBefore = 2 * 9;
  const model::ByteView page = file.subspan(number * kPageBytes, kPageBytes);
  for (std::size_t types = 2; types + 1 < page.size(); ++types) {
    if (page[types] != kBlob16 || page[types + 1] != kBlob16) continue;
    const std::size_t record = types - 1;
    for (std::size_t before = 1; before <= std::min(kMostBefore, record); ++before) {
      std::size_t at = record - before;
      std::uint64_t skipped = 0;
      if (!get_sqlite_varint(page, at, skipped)) continue;
      const bool rowid = at != record;
      if (rowid && (!get_sqlite_varint(page, at, skipped) || at != record)) continue;
      const auto payload = payload_at(file, page, record - before, rowid);
      if (!payload) continue;
      if (rowid)
        put_run_in(*payload, found);
      else if (auto chunk = chunk_in(*payload))
        found.push_back(std::move(*chunk));
    }
  }
}

}  // namespace

std::vector<ops::Chunk> salvage(model::ByteView database) {
  std::vector<ops::Chunk> found;
  for (std::size_t page = 0; (page + 1) * kPageBytes <= database.size(); ++page) read_page(database, page, found);
  const auto before = [](const ops::Chunk& a, const ops::Chunk& b) {
    if (!(a.stream == b.stream)) return a.stream < b.stream;
    if (a.first_seq != b.first_seq) return a.first_seq < b.first_seq;
    if (!(a.after == b.after)) return a.after < b.after;
    return a.before < b.before;
  };
  std::sort(found.begin(), found.end(), before);
  found.erase(std::unique(found.begin(), found.end()), found.end());
  return found;
}

}  // namespace slipway::store
