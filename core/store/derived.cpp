// The derived cache with its watermark. All of it can be thrown away.
//   state := what was saved, then check: the short hash of the row without it
#include "ops/chain.h"
#include "ops/op.h"
#include "store/holdings_bytes.h"
#include "store/sqlite_store.h"

namespace slipway::store {

namespace {

model::ShortHash check_of(const model::ScopeId& scope, std::uint64_t fold_version, model::ByteView covers, model::ByteView state) {
  model::Bytes row;
  model::append(row, scope.view());
  ops::put_varint(row, fold_version);
  ops::put_varint(row, covers.size());
  model::append(row, covers);
  model::append(row, state);
  return model::shorten(ops::blake2b(row));
}

}  // namespace

model::Result<std::optional<Derived>> SqliteStore::derived(const model::ScopeId& scope) {
  Statement get(database_, "SELECT fold_version,covers,state FROM derived WHERE scope=?");
  get.bind(scope.view());
  if (!get.step()) {
    if (get.failed()) return database_.error();
    return std::optional<Derived>();
  }
  const auto covers = read_holdings(get.bytes(1));
  if (!covers) return std::optional<Derived>();  // it counts for nothing and is built again
  Derived out{static_cast<std::uint32_t>(get.number(0)), *covers, get.bytes(2)};
  constexpr std::size_t kCheckBytes = sizeof(model::ShortHash);
  if (out.state.size() < kCheckBytes) return std::optional<Derived>(std::move(out));
  const model::ByteView whole(out.state), state = whole.first(whole.size() - kCheckBytes);
  out.proven = model::equal(whole.last(kCheckBytes), check_of(scope, out.fold_version, get.bytes(1), state).view());
  if (out.proven) out.state.resize(state.size());
  return std::optional<Derived>(std::move(out));
}

// What is derived of a sealed scope lives in memory alone.
model::Result<model::Done> SqliteStore::save_derived(const model::ScopeId& scope, const Derived& derived) {
  if (is_sealed(scope)) return model::Done{};
  return change([&] {
    Statement put(database_, "INSERT INTO derived VALUES(?,?,?,?) ON CONFLICT(scope) DO UPDATE SET"
                             " fold_version=excluded.fold_version, covers=excluded.covers, state=excluded.state");
    const model::Bytes covers = write_holdings(derived.covers);
    put.bind(scope.view()).bind(static_cast<std::int64_t>(derived.fold_version));
    model::Bytes state = derived.state;
    model::append(state, check_of(scope, derived.fold_version, covers, derived.state).view());
    return put.bind(model::ByteView(covers)).bind(model::ByteView(state)).run();
  });
}

model::Result<std::optional<SetColumns>> SqliteStore::set_columns(const model::ScopeId& scope) {
  if (!has_packed()) return std::optional<SetColumns>();
  Statement get(database_, "SELECT version,covers,bytes FROM set_columns WHERE scope=?");
  get.bind(scope.view());
  if (!get.step()) {
    if (get.failed()) return database_.error();
    return std::optional<SetColumns>();
  }
  const auto covers = read_holdings(get.bytes(1));
  if (!covers) return std::optional<SetColumns>();
  return std::optional<SetColumns>(SetColumns{static_cast<std::uint32_t>(get.number(0)), *covers, get.bytes(2)});
}

model::Result<model::Done> SqliteStore::save_set_columns(const model::ScopeId& scope, const SetColumns& columns) {
  if (is_sealed(scope)) return model::Done{};
  return change([&] {
    Statement put(database_, "INSERT INTO set_columns VALUES(?,?,?,?) ON CONFLICT(scope) DO UPDATE SET"
                             " version=excluded.version, covers=excluded.covers, bytes=excluded.bytes");
    const model::Bytes covers = write_holdings(columns.covers);
    put.bind(scope.view()).bind(static_cast<std::int64_t>(columns.version));
    return put.bind(model::ByteView(covers)).bind(model::ByteView(columns.bytes)).run();
  });
}

model::Result<model::Done> SqliteStore::drop_derived() {
  return change([&] { return database_.execute("DELETE FROM derived") && database_.execute("DELETE FROM set_columns"); });
}

}  // namespace slipway::store
