// The derived cache with its watermark, and the self-check.
#include "store/sqlite_store.h"

namespace slipway::store {

namespace {

model::Bytes write_covers(const ops::Holdings& covers) {
  model::Bytes out;
  ops::put_varint(out, covers.size());
  for (const auto& [stream, holding] : covers) {
    model::append(out, stream.scope.view());
    model::append(out, stream.inc.view());
    model::append(out, holding.prefix_hash.view());
    out.push_back(holding.forked ? 1 : 0);
    ops::put_varint(out, holding.ranges.spans().size());
    for (const ops::Range& span : holding.ranges.spans()) {
      ops::put_varint(out, span.first);
      ops::put_varint(out, span.last);
    }
  }
  return out;
}

// Nothing if the bytes are not what write_covers wrote: then the cache counts for nothing and is built again.
std::optional<ops::Holdings> read_covers(model::ByteView bytes) {
  constexpr std::size_t kFixedBytes = 16 + 16 + 32 + 1;
  ops::Holdings covers;
  std::size_t at = 0;
  std::uint64_t streams = 0;
  if (!ops::get_varint(bytes, at, streams)) return std::nullopt;
  for (; streams > 0; --streams) {
    if (bytes.size() - at < kFixedBytes) return std::nullopt;
    const ops::StreamId stream{model::ScopeId::from(bytes.subspan(at, 16)), model::IncarnationId::from(bytes.subspan(at + 16, 16))};
    ops::Holding holding;
    holding.prefix_hash = model::Hash32::from(bytes.subspan(at + 32, 32));
    holding.forked = bytes[at + 64] != 0;
    at += kFixedBytes;
    std::uint64_t spans = 0, first = 0, last = 0;
    if (!ops::get_varint(bytes, at, spans)) return std::nullopt;
    for (; spans > 0; --spans) {
      if (!ops::get_varint(bytes, at, first) || !ops::get_varint(bytes, at, last)) return std::nullopt;
      holding.ranges.add(first, last);
    }
    covers[stream] = holding;
  }
  if (at != bytes.size()) return std::nullopt;
  return covers;
}

}  // namespace

model::Result<std::optional<Derived>> SqliteStore::derived(const model::ScopeId& scope) {
  Statement get(database_, "SELECT fold_version,covers,state FROM derived WHERE scope=?");
  get.bind(scope.view());
  if (!get.step()) {
    if (get.failed()) return database_.error();
    return std::optional<Derived>();
  }
  const auto covers = read_covers(get.bytes(1));
  if (!covers) return std::optional<Derived>();
  return std::optional<Derived>(Derived{static_cast<std::uint32_t>(get.number(0)), *covers, get.bytes(2)});
}

model::Result<model::Done> SqliteStore::save_derived(const model::ScopeId& scope, const Derived& derived) {
  if (auto refused = read_only()) return *refused;
  const model::Bytes covers = write_covers(derived.covers);
  Transaction transaction(database_);
  Statement put(database_, "INSERT INTO derived VALUES(?,?,?,?) ON CONFLICT(scope) DO UPDATE SET"
                           " fold_version=excluded.fold_version, covers=excluded.covers, state=excluded.state");
  put.bind(scope.view()).bind(static_cast<std::int64_t>(derived.fold_version)).bind(model::ByteView(covers));
  if (!transaction.begun() || !put.bind(model::ByteView(derived.state)).run() || !transaction.keep()) return database_.error();
  return model::Done{};
}

model::Result<model::Done> SqliteStore::drop_derived() {
  if (auto refused = read_only()) return *refused;
  Transaction transaction(database_);
  if (!transaction.begun() || !database_.execute("DELETE FROM derived") || !transaction.keep()) return database_.error();
  return model::Done{};
}

model::Result<Integrity> SqliteStore::check() {
  Integrity found;
  Statement quick(database_, "PRAGMA quick_check");
  while (quick.step())
    if (quick.text(0) != "ok")
      found.findings.push_back(model::error(model::ErrorKind::damaged, "store.damaged", {std::string(kDatabaseName), quick.text(0)}));
  if (quick.failed()) return database_.error();
  const auto ids = scopes();
  if (!ids) return ids.error();
  for (const model::ScopeId& scope : *ids) {
    const auto held = chunks(scope);
    if (!held) return held.error();
    for (const ops::Chunk& chunk : *held) {
      found.chunks += 1;
      const auto read = ops::read_chunk(chunk);
      if (read) {
        found.ops += read->size();
      } else {
        found.findings.push_back(read.error());
      }
    }
  }
  return found;
}

}  // namespace slipway::store
