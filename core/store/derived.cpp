// The derived cache with its watermark. All of it can be thrown away.
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
  return change([&] {
    Statement put(database_, "INSERT INTO derived VALUES(?,?,?,?) ON CONFLICT(scope) DO UPDATE SET"
                             " fold_version=excluded.fold_version, covers=excluded.covers, state=excluded.state");
    const model::Bytes covers = write_covers(derived.covers);
    put.bind(scope.view()).bind(static_cast<std::int64_t>(derived.fold_version));
    return put.bind(model::ByteView(covers)).bind(model::ByteView(derived.state)).run();
  });
}

model::Result<model::Done> SqliteStore::drop_derived() {
  return change([&] { return database_.execute("DELETE FROM derived"); });
}

}  // namespace slipway::store
