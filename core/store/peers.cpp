// What peers hold, and what is left of those who were erased.
#include "store/holdings_bytes.h"
#include "store/sqlite_store.h"

namespace slipway::store {

namespace {

// Tables of form 2: a store that is looked at in an older form has neither peers nor erased ones.
constexpr int kFormWithPeers = 2;

Erased read_erased(const Statement& row) {
  const auto scope = model::ScopeId::from(row.bytes(0));
  const auto seq = static_cast<std::uint64_t>(row.number(3));
  return {scope,
          static_cast<std::uint64_t>(row.number(1)),
          {{scope, model::IncarnationId::from(row.bytes(2))},
           seq,
           seq,
           model::Hash32::from(row.bytes(4)),
           model::Hash32::from(row.bytes(5)),
           row.bytes(6)}};
}

}  // namespace

bool SqliteStore::put_peer(const Peer& peer) {
  const model::Bytes holds = at_rest(peer);
  Statement put(database_, "INSERT OR REPLACE INTO peer(device,scope,inc,export_counter,claimed,holds) VALUES(?,?,?,?,?,?)");
  put.bind(peer.device.view()).bind(peer.scope.view()).bind(peer.inc.view()).bind(static_cast<std::int64_t>(peer.export_counter));
  return put.bind(std::string_view(peer.claimed)).bind(model::ByteView(holds)).run();
}

model::Result<model::Done> SqliteStore::set_peer(const Peer& peer) {
  if (auto shut = refuse_shut(peer.scope)) return *shut;
  return change([&] { return put_peer(peer); });
}

model::Result<std::vector<Peer>> SqliteStore::peers(const model::ScopeId& scope) {
  std::vector<Peer> out;
  if (opening_.schema_found < kFormWithPeers) return out;
  Statement all(database_, "SELECT device,inc,export_counter,claimed,holds FROM peer WHERE scope=? ORDER BY device");
  all.bind(scope.view());
  while (all.step()) {
    const auto bytes = from_rest(model::DeviceId::from(all.bytes(0)), scope, all.bytes(4));
    auto holds = bytes ? read_holdings(*bytes) : std::nullopt;
    if (!holds) continue;  // as if nothing had been heard of it: then everything is sent
    out.push_back({model::DeviceId::from(all.bytes(0)), scope, model::IncarnationId::from(all.bytes(1)),
                   static_cast<std::uint64_t>(all.number(2)), all.text(3), std::move(*holds)});
  }
  if (all.failed()) return database_.error();
  return out;
}

model::Result<std::vector<Erased>> SqliteStore::erased() {
  std::vector<Erased> out;
  if (opening_.schema_found < kFormWithPeers) return out;
  Statement all(database_, "SELECT scope,reason,inc,seq,before_hash,hash,bytes FROM erased ORDER BY scope");
  while (all.step()) out.push_back(read_erased(all));
  if (all.failed()) return database_.error();
  return out;
}

model::Result<model::Done> SqliteStore::erase(const Erased& erased) {
  const ops::Chunk& marker = erased.marker;
  const bool one_op = marker.first_seq == marker.last_seq && marker.stream.scope == erased.scope && ops::read_chunk(marker).ok();
  if (!one_op) return model::error(model::ErrorKind::invalid, "store.gap", {std::string(kDatabaseName), std::to_string(marker.first_seq)});
  const auto done = change([&] {
    Statement put(database_, "INSERT OR IGNORE INTO erased(scope,reason,inc,seq,before_hash,hash,bytes) VALUES(?,?,?,?,?,?,?)");
    put.bind(erased.scope.view()).bind(static_cast<std::int64_t>(erased.reason)).bind(marker.stream.inc.view());
    put.bind(static_cast<std::int64_t>(marker.first_seq)).bind(marker.before.view()).bind(marker.after.view());
    if (!put.bind(model::ByteView(marker.bytes)).run()) return false;
    return clear_rows(erased.scope) && database_.execute("UPDATE import_log SET file_name=''");
  });
  if (done) sealed_.erase(erased.scope);
  return done ? drop_copy() : done;
}

model::Result<model::Done> SqliteStore::compact() {
  if (auto refused = refuse_writing()) return *refused;
  if (!database_.execute("VACUUM")) return database_.error();
  return model::Done{};
}

}  // namespace slipway::store
