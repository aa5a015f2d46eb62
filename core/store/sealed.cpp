// Scopes that are sealed at rest: what stands in their rows, and the way in and out.
//   bytes of a row of sealed_chunk := sealed (before (32), after (32), ops), bound to scope, inc, first and last seq
//   before_hash, after_hash of it := their marks, so that equal chunks still meet in one row
//   holds of a peer's row := sealed, bound to device and scope
#include <algorithm>

#include "ops/op.h"
#include "store/holdings_bytes.h"
#include "store/runs.h"
#include "store/schema.h"
#include "store/sqlite_store.h"

namespace slipway::store {

namespace {

constexpr std::size_t kHashBytes = sizeof(model::Hash32);

model::Bytes place_of(const ops::Chunk& chunk) {
  model::Bytes place(chunk.stream.scope.view().begin(), chunk.stream.scope.view().end());
  model::append(place, chunk.stream.inc.view());
  ops::put_varint(place, chunk.first_seq);
  ops::put_varint(place, chunk.last_seq);
  return place;
}

model::Bytes place_of(const model::DeviceId& device, const model::ScopeId& scope) {
  model::Bytes place(device.view().begin(), device.view().end());
  model::append(place, scope.view());
  return place;
}

model::Error shut(const model::ScopeId& scope) { return model::error(model::ErrorKind::sealed, "store.sealed", {scope.hex()}); }

}  // namespace

model::Result<model::Done> SqliteStore::read_sealed() {
  const auto tables = has_table(database_, "sealed");
  if (!tables) return tables.error();
  std::map<model::ScopeId, Rest> found;
  if (*tables) {
    Statement all(database_, "SELECT scope,lock FROM sealed");
    while (all.step()) {
      const auto scope = model::ScopeId::from(all.bytes(0));
      const auto known = sealed_.find(scope);
      found[scope] = {all.bytes(1), known != sealed_.end() ? known->second.by : in_doubt_ && in_doubt_->first == scope ? in_doubt_->second.by : nullptr};
    }
    if (all.failed()) return database_.error();
  }
  sealed_ = std::move(found);
  in_doubt_.reset();
  return model::Done{};
}

std::vector<SealedScope> SqliteStore::sealed() {
  std::vector<SealedScope> out;
  for (const auto& [scope, rest] : sealed_) out.push_back({scope, rest.lock, rest.by != nullptr});
  return out;
}

RowSeal* SqliteStore::seal_of(const model::ScopeId& scope) const {
  const auto found = sealed_.find(scope);
  return found == sealed_.end() ? nullptr : found->second.by.get();
}

std::optional<model::Error> SqliteStore::refuse_shut(const model::ScopeId& scope) const {
  return is_sealed(scope) && seal_of(scope) == nullptr ? std::optional(shut(scope)) : std::nullopt;
}

std::optional<model::Error> SqliteStore::refuse_shut(std::span<const ops::Chunk> chunks, std::span<const Peer> peers,
                                                     std::span<const ops::PackedRun> runs) const {
  for (const ops::Chunk& chunk : chunks)
    if (auto refused = refuse_shut(chunk.stream.scope)) return refused;
  for (const Peer& peer : peers)
    if (auto refused = refuse_shut(peer.scope)) return refused;
  for (const ops::PackedRun& run : runs)
    if (auto refused = refuse_shut(run.stream.scope)) return refused;
  return std::nullopt;
}

// ---- rows ---------------------------------------------------------------------------------------------

ops::Chunk SqliteStore::key_at_rest(const ops::Chunk& chunk) const {
  ops::Chunk key{chunk.stream, chunk.first_seq, chunk.last_seq, chunk.before, chunk.after, {}};
  if (RowSeal* seal = seal_of(chunk.stream.scope)) {
    key.before = seal->mark(chunk.before);
    key.after = seal->mark(chunk.after);
  }
  return key;
}

model::Bytes SqliteStore::at_rest(const ops::Chunk& chunk) const {
  RowSeal* seal = seal_of(chunk.stream.scope);
  if (seal == nullptr) return chunk.bytes;
  model::Bytes row(chunk.before.view().begin(), chunk.before.view().end());
  model::append(row, chunk.after.view());
  model::append(row, chunk.bytes);
  return seal->seal(row, place_of(chunk));
}

ops::Chunk SqliteStore::from_rest(ops::Chunk row) const {
  RowSeal* seal = seal_of(row.stream.scope);
  if (seal == nullptr) return row;
  const auto opened = seal->open(row.bytes, place_of(row));
  row.before = {};
  row.after = {};
  row.bytes.clear();
  if (!opened || opened->size() < 2 * kHashBytes) return row;
  const model::ByteView all(*opened);
  row.before = model::Hash32::from(all.first(kHashBytes));
  row.after = model::Hash32::from(all.subspan(kHashBytes, kHashBytes));
  row.bytes.assign(all.begin() + 2 * kHashBytes, all.end());
  return row;
}

model::Bytes SqliteStore::at_rest(const Peer& peer) const {
  model::Bytes holds = write_holdings(peer.holds);
  RowSeal* seal = seal_of(peer.scope);
  return seal == nullptr ? holds : seal->seal(holds, place_of(peer.device, peer.scope));
}

std::optional<model::Bytes> SqliteStore::from_rest(const model::DeviceId& device, const model::ScopeId& scope, model::Bytes holds) const {
  if (!is_sealed(scope)) return holds;
  RowSeal* seal = seal_of(scope);
  return seal == nullptr ? std::nullopt : seal->open(holds, place_of(device, scope));
}

// ---- in and out ---------------------------------------------------------------------------------------

bool SqliteStore::clear_rows(const model::ScopeId& scope) {
  const auto sealed_tables = has_table(database_, "sealed");
  if (!sealed_tables) return false;
  for (const std::string_view table : {"chunk", "packed", "derived", "set_columns", "peer", "sealed", "sealed_chunk"}) {
    if (table.starts_with("sealed") && !*sealed_tables) continue;
    Statement drop(database_, "DELETE FROM " + std::string(table) + " WHERE scope=?");
    if (!drop.bind(scope.view()).run()) return false;
  }
  return true;
}

// Every row of the scope as it is to stand from now on, in one transaction; `after`: sealed by that.
model::Result<model::Done> SqliteStore::rewrite(const model::ScopeId& scope, const Rest* after) {
  if (auto refused = refuse_writing()) return *refused;
  if (const auto sure = settle_doubt(); !sure) return sure.error();
  const auto before = sealed_;
  std::optional<model::Error> unequal;
  const auto done = change([&] {
    const auto rows = chunks(scope);  // inside: what was refused before is out of them now
    const auto known = peers(scope);
    if (!rows || !known) unequal = !rows ? rows.error() : known.error();
    if (unequal) return false;
    for (const ops::Chunk& row : *rows)
      if (const auto read = ops::read_chunk(row); !read) unequal = read.error();
    if (unequal || !clear_rows(scope) || (after != nullptr && !make_sealed_tables(database_))) return false;
    sealed_.erase(scope);
    if (after != nullptr) {
      sealed_[scope] = *after;
      Statement put(database_, "INSERT INTO sealed(scope,lock) VALUES(?,?)");
      if (!put.bind(scope.view()).bind(model::ByteView(after->lock)).run()) return false;
    }
    for (const ops::Chunk& row : *rows)
      if (!put_chunk(row)) return false;
    for (const Peer& peer : *known)
      if (!put_peer(peer)) return false;
    const auto written = chunks(scope);
    if (!written) return false;
    const auto in_order = [](std::vector<ops::Chunk> all) {
      std::sort(all.begin(), all.end(), by_key);
      return all;
    };
    if (in_order(*written) != in_order(*rows)) unequal = model::error(model::ErrorKind::damaged, "store.damaged", {std::string(kDatabaseName), "sealed"});
    return !unequal && database_.execute("UPDATE import_log SET file_name=''");
  });
  if (done) return done;
  // COMMIT may answer with an error after the point of no return: what stands there decides, now or when it can be read again.
  sealed_ = before;
  in_doubt_ = {scope, after == nullptr ? Rest{} : *after};
  (void)settle_doubt();
  return unequal ? *unequal : done.error();
}

model::Result<model::Done> SqliteStore::seal(const model::ScopeId& scope, model::ByteView lock, std::shared_ptr<RowSeal> by) {
  if (is_sealed(scope)) return model::error(model::ErrorKind::invalid, "store.sealed_twice");
  const Rest rest{{lock.begin(), lock.end()}, std::move(by)};
  const auto done = rewrite(scope, &rest);
  return done && has_copy() ? drop_copy() : done;
}

model::Result<model::Done> SqliteStore::open_sealed(const model::ScopeId& scope, std::shared_ptr<RowSeal> by) {
  const auto found = sealed_.find(scope);
  if (found == sealed_.end()) return model::error(model::ErrorKind::not_found, "store.not_sealed");
  found->second.by = std::move(by);
  return model::Done{};
}

void SqliteStore::shut_sealed(const model::ScopeId& scope) {
  if (const auto found = sealed_.find(scope); found != sealed_.end()) found->second.by.reset();
}

model::Result<model::Done> SqliteStore::unseal(const model::ScopeId& scope) {
  if (!is_sealed(scope)) return model::error(model::ErrorKind::not_found, "store.not_sealed");
  if (auto refused = refuse_shut(scope)) return *refused;
  return rewrite(scope, nullptr);
}

model::Result<model::Done> SqliteStore::drop_sealed(const model::ScopeId& scope) {
  if (!is_sealed(scope)) return model::error(model::ErrorKind::not_found, "store.not_sealed");
  const auto done = change([&] { return clear_rows(scope); });
  in_doubt_ = {scope, sealed_[scope]};
  const auto sure = settle_doubt();
  return done ? sure : done;
}

}  // namespace slipway::store
