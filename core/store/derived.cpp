// The derived cache with its watermark. All of it can be thrown away.
#include "store/holdings_bytes.h"
#include "store/sqlite_store.h"

namespace slipway::store {

model::Result<std::optional<Derived>> SqliteStore::derived(const model::ScopeId& scope) {
  Statement get(database_, "SELECT fold_version,covers,state FROM derived WHERE scope=?");
  get.bind(scope.view());
  if (!get.step()) {
    if (get.failed()) return database_.error();
    return std::optional<Derived>();
  }
  const auto covers = read_holdings(get.bytes(1));
  if (!covers) return std::optional<Derived>();  // it counts for nothing and is built again
  return std::optional<Derived>(Derived{static_cast<std::uint32_t>(get.number(0)), *covers, get.bytes(2)});
}

model::Result<model::Done> SqliteStore::save_derived(const model::ScopeId& scope, const Derived& derived) {
  return change([&] {
    Statement put(database_, "INSERT INTO derived VALUES(?,?,?,?) ON CONFLICT(scope) DO UPDATE SET"
                             " fold_version=excluded.fold_version, covers=excluded.covers, state=excluded.state");
    const model::Bytes covers = write_holdings(derived.covers);
    put.bind(scope.view()).bind(static_cast<std::int64_t>(derived.fold_version));
    return put.bind(model::ByteView(covers)).bind(model::ByteView(derived.state)).run();
  });
}

model::Result<model::Done> SqliteStore::drop_derived() {
  return change([&] { return database_.execute("DELETE FROM derived"); });
}

}  // namespace slipway::store
