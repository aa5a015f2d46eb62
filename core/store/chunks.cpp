// Chunks in and out: what this device writes, what an import brings, what a scope holds.
#include <algorithm>

#include "model/planted.h"
#include "store/runs.h"
#include "store/sqlite_store.h"

namespace slipway::store {

namespace {

constexpr std::string_view kColumns = "SELECT scope,inc,first_seq,before_hash,last_seq,after_hash,bytes FROM ";
constexpr std::string_view kOfScope = " WHERE scope=? ";
constexpr std::string_view kByKey = " WHERE scope=? AND inc=? AND first_seq=? AND before_hash=? AND after_hash=?";
constexpr std::string_view kInOrder = "ORDER BY inc,first_seq,before_hash,after_hash";

std::string sql(std::initializer_list<std::string_view> parts) {
  std::string all;
  for (std::string_view part : parts) all += part;
  return all;
}

ops::Chunk read_row(const Statement& row) {
  return {{model::ScopeId::from(row.bytes(0)), model::IncarnationId::from(row.bytes(1))},
          static_cast<std::uint64_t>(row.number(2)),
          static_cast<std::uint64_t>(row.number(4)),
          model::Hash32::from(row.bytes(3)),
          model::Hash32::from(row.bytes(5)),
          row.bytes(6)};
}

Statement& bind_key(Statement& statement, const ops::Chunk& chunk) {  // as it stands at rest
  return statement.bind(chunk.stream.scope.view())
      .bind(chunk.stream.inc.view())
      .bind(static_cast<std::int64_t>(chunk.first_seq))
      .bind(chunk.before.view())
      .bind(chunk.after.view());
}

ops::Chunk key_of(const ops::Chunk& chunk) {
  return {chunk.stream, chunk.first_seq, chunk.last_seq, chunk.before, chunk.after, {}};
}

}  // namespace

// A chunk that is held already is the same chunk: its hashes say so.
bool SqliteStore::put_chunk(const ops::Chunk& chunk) {
  Statement put(database_,
                sql({"INSERT OR IGNORE INTO ", table_of(chunk.stream.scope), "(scope,inc,first_seq,before_hash,after_hash,last_seq,bytes) VALUES(?,?,?,?,?,?,?)"}));
  const model::Bytes bytes = at_rest(chunk);
  return bind_key(put, key_at_rest(chunk)).bind(static_cast<std::int64_t>(chunk.last_seq)).bind(model::ByteView(bytes)).run();
}

bool SqliteStore::drop_chunk(const ops::Chunk& chunk) {
  Statement drop(database_, sql({"DELETE FROM ", table_of(chunk.stream.scope), kByKey}));
  return bind_key(drop, key_at_rest(chunk)).run();
}

bool SqliteStore::chunk_held(const ops::Chunk& chunk) {
  Statement find(database_, sql({"SELECT 1 FROM ", table_of(chunk.stream.scope), kByKey}));
  return bind_key(find, key_at_rest(chunk)).step();
}

// ---- what this device writes --------------------------------------------------------------------------

// It begins its stream or continues the head of it. Anything else is a pen that lost its place: written
// down, it would be a fork of our own making.
std::optional<model::Error> SqliteStore::refuse_gap(const ops::Chunk& chunk) {
  bool joins = chunk.first_seq == 1 && chunk.before == ops::genesis(chunk.stream);
  const model::Hash32 before = key_at_rest(chunk).before;
  bool beyond = chunk.last_seq < chunk.first_seq || chunk.last_seq >= ops::kCounterCeiling;
  // A row holds at most kMaxChunkOps ops: none that begins earlier reaches up to here.
  const auto reach = static_cast<std::int64_t>(chunk.first_seq) - static_cast<std::int64_t>(ops::kMaxChunkOps);
  Statement near(database_, sql({"SELECT last_seq,after_hash FROM ", table_of(chunk.stream.scope), " WHERE scope=? AND inc=? AND first_seq>=?"}));
  near.bind(chunk.stream.scope.view()).bind(chunk.stream.inc.view()).bind(reach);
  while (near.step()) {
    const auto last = static_cast<std::uint64_t>(near.number(0));
    if (last >= chunk.first_seq) beyond = true;
    if (last + 1 == chunk.first_seq && model::equal(near.bytes(1), before.view())) joins = true;
  }
  if (near.failed()) return database_.error();
  Statement packed(database_, "SELECT last_seq,after_hash FROM packed WHERE scope=? AND inc=? AND last_seq>=?");
  packed.bind(chunk.stream.scope.view()).bind(chunk.stream.inc.view()).bind(static_cast<std::int64_t>(chunk.first_seq) - 1);
  while (packed.step()) {
    const auto last = static_cast<std::uint64_t>(packed.number(0));
    if (last >= chunk.first_seq) beyond = true;
    if (last + 1 == chunk.first_seq && model::equal(packed.bytes(1), chunk.before.view())) joins = true;
  }
  if (packed.failed()) return database_.error();
  if (joins && !beyond) return std::nullopt;
  return model::error(model::ErrorKind::invalid, "store.gap", {std::string(kDatabaseName), std::to_string(chunk.first_seq)});
}

// Inside a transaction. `written` says how to take it out again.
std::optional<model::Error> SqliteStore::write_all(std::span<const ops::Chunk> chunks, Written& written) {
  for (const ops::Chunk& chunk : chunks) {
    if (chunk_held(chunk)) continue;  // said twice, held once
    if (auto gap = refuse_gap(chunk)) return gap;
    if (!put_chunk(chunk)) return database_.error();
    written.chunks.push_back(key_of(chunk));
  }
  if (written.local_name.empty()) return std::nullopt;
  auto before = value(Values::local, written.local_name);
  if (!before) return before.error();
  written.local_before = std::move(*before);
  if (!put_value(Values::local, written.local_name, written.local_value)) return database_.error();
  return std::nullopt;
}

Ticket SqliteStore::append(std::span<const ops::Chunk> chunks, std::string_view local_name, model::ByteView local_value) {
  if (auto shut = refuse_shut(chunks, {}, {})) return {Durability::not_kept, *shut, 0};
  while (true) {
    Written written{{}, std::string(local_name), {local_value.begin(), local_value.end()}, {}};
    std::optional<model::Error> refused;
    const auto kept = change([&] {
      refused = write_all(chunks, written);
      return !refused;
    });
    if (kept) return ticket();
    const Ticket answer{Durability::not_kept, refused ? *refused : kept.error(), 0};
    if (!refused && !opening_.read_only) {
      // COMMIT answers with an error also when only its last flush fails, after the point of no return. Then
      // the refused entry stands in the store, and what the person was told is made true again.
      refused_.push_back(std::move(written));
    }
    if (answer.why.kind == model::ErrorKind::full && let_ballast_go()) continue;
    if (!refused_.empty()) (void)change([] { return true; });
    return answer;
  }
}

Ticket SqliteStore::ticket(std::uint64_t batch) {
  const host::Lasting lasting = files_.lasting();
  if (lasting.lasts >= batch) return {Durability::kept, {}, batch};
  if (lasting.trouble == host::IoStatus::ok) return {Durability::saving, {}, batch};
  if (lasting.trouble == host::IoStatus::full && let_ballast_go()) {
    files_.hand_again();
    return {Durability::saving, {}, batch};
  }
  return {Durability::not_kept, error_of(lasting.trouble, std::string(kDatabaseName), "write"), batch};
}

Ticket SqliteStore::hand_again() {
  files_.hand_again();
  return ticket();
}

bool SqliteStore::take_out(const Written& refused) {
  for (const ops::Chunk& chunk : refused.chunks)
    if (!drop_chunk(chunk)) return false;
  if (refused.local_name.empty()) return true;
  const auto now = value(Values::local, refused.local_name);
  if (!now) return false;
  if (!now->has_value() || **now != refused.local_value) return true;
  return refused.local_before ? put_value(Values::local, refused.local_name, *refused.local_before) : drop_local(refused.local_name);
}

bool SqliteStore::take_out_refused() {  // newest first, as each knows what stood before it
  for (auto refused = refused_.rbegin(); refused != refused_.rend(); ++refused)
    if (!take_out(*refused)) return false;
  return true;
}

// ---- what an import brings ----------------------------------------------------------------------------

model::Result<model::Done> SqliteStore::take_in(std::span<const ops::Chunk> chunks, const ImportLine& line, std::span<const Peer> peers,
                                               std::span<const ops::PackedRun> runs) {
  if (auto shut = refuse_shut(chunks, peers, runs)) return *shut;
  return change([&] {
    for (const ops::Chunk& chunk : chunks)
      if (!put_chunk(chunk)) return false;
    for (const ops::PackedRun& run : runs)
      if (!put_run(run)) return false;
    for (const Peer& peer : peers)
      if (!put_peer(peer)) return false;
    Statement log(database_,
                  "INSERT INTO import_log(bundle_hash,file_name,claimed,fresh,known,not_understood,forks) VALUES(?,?,?,?,?,?,?)");
    const bool sealed_in_it = std::any_of(chunks.begin(), chunks.end(), [this](const ops::Chunk& chunk) { return is_sealed(chunk.stream.scope); }) ||
                              std::any_of(runs.begin(), runs.end(), [this](const ops::PackedRun& run) { return is_sealed(run.stream.scope); }) ||
                              std::any_of(peers.begin(), peers.end(), [this](const Peer& peer) { return is_sealed(peer.scope); });
    const std::string_view name = sealed_in_it ? std::string_view("") : std::string_view(line.file_name);  // it may tell of whom
    log.bind(line.bundle_hash.view()).bind(name).bind(std::string_view(line.claimed));
    for (std::uint64_t count : {line.fresh, line.known, line.not_understood, line.forks}) log.bind(static_cast<std::int64_t>(count));
    return log.run();
  });
}

model::Result<std::vector<ImportLine>> SqliteStore::import_log() {
  std::vector<ImportLine> lines;
  Statement all(database_, "SELECT bundle_hash,file_name,claimed,fresh,known,not_understood,forks FROM import_log ORDER BY id");
  while (all.step())
    lines.push_back({model::Hash32::from(all.bytes(0)), all.text(1), all.text(2), static_cast<std::uint64_t>(all.number(3)),
                     static_cast<std::uint64_t>(all.number(4)), static_cast<std::uint64_t>(all.number(5)),
                     static_cast<std::uint64_t>(all.number(6))});
  if (all.failed()) return database_.error();
  return lines;
}

// ---- what is held -------------------------------------------------------------------------------------

model::Result<std::vector<model::ScopeId>> SqliteStore::scopes() {
  if (const auto sure = settle_doubt(); !sure) return sure.error();
  std::vector<model::ScopeId> ids;
  for (const std::string_view table : {"chunk", "packed", "sealed_chunk"}) {
    if ((table == "packed" && !has_packed()) || (table == "sealed_chunk" && sealed_.empty())) continue;
    Statement all(database_, sql({"SELECT DISTINCT scope FROM ", table}));
    while (all.step()) ids.push_back(model::ScopeId::from(all.bytes(0)));
    if (all.failed()) return database_.error();
  }
  std::sort(ids.begin(), ids.end());
  ids.erase(std::unique(ids.begin(), ids.end()), ids.end());
  std::erase_if(ids, [this](const model::ScopeId& id) { return refuse_shut(id).has_value(); });
  return ids;
}

model::Result<std::vector<ops::Chunk>> SqliteStore::read_chunks(Statement& rows) {
  std::vector<ops::Chunk> out;
  while (rows.step()) out.push_back(from_rest(read_row(rows)));
  if (rows.failed()) return database_.error();
  return out;
}

model::Result<std::vector<ops::Chunk>> SqliteStore::chunks(const model::ScopeId& scope) {
  if (const auto sure = settle_doubt(); !sure) return sure.error();
  if (auto shut = refuse_shut(scope)) return *shut;
  Statement all(database_, sql({kColumns, table_of(scope), model::kPlanted == 8 ? " WHERE ?1 IS NOT NULL " : kOfScope, kInOrder}));
  auto held = read_chunks(all.bind(scope.view()));
  if (!held) return held.error();
  const auto runs = runs_of(scope, nullptr, 1);
  if (!runs) return runs.error();
  for (const ops::PackedRun& run : *runs) put_unpacked(run, *held);
  if (!runs->empty()) std::sort(held->begin(), held->end(), by_key);
  return held;
}

model::Result<std::vector<ops::Chunk>> SqliteStore::chunks_from(const ops::StreamId& stream, std::uint64_t first_seq) {
  if (auto shut = refuse_shut(stream.scope)) return *shut;
  // A row holds at most kMaxChunkOps ops: none that begins earlier reaches up to here.
  const auto reach = static_cast<std::int64_t>(first_seq) - static_cast<std::int64_t>(ops::kMaxChunkOps);
  Statement some(database_, sql({kColumns, table_of(stream.scope), " WHERE scope=? AND inc=? AND first_seq>? AND last_seq>=? ORDER BY first_seq,before_hash,after_hash"}));
  auto held = read_chunks(some.bind(stream.scope.view()).bind(stream.inc.view()).bind(reach).bind(static_cast<std::int64_t>(first_seq)));
  if (!held) return held.error();
  const auto runs = runs_of(stream.scope, &stream, first_seq);
  if (!runs) return runs.error();
  for (const ops::PackedRun& run : *runs) put_unpacked(run, *held);
  std::erase_if(*held, [&](const ops::Chunk& chunk) { return chunk.last_seq < first_seq; });
  if (!runs->empty()) std::sort(held->begin(), held->end(), by_key);
  return held;
}

// Those that folding may still add to: full ones are left in peace, and their bytes unread.
model::Result<std::vector<ops::Chunk>> SqliteStore::chunks_with_room(const model::ScopeId& scope) {
  Statement some(database_, sql({kColumns, table_of(scope), kOfScope, "AND last_seq-first_seq+1<? AND length(bytes)<? ", kInOrder}));
  some.bind(scope.view());
  return read_chunks(some.bind(std::int64_t{ops::kMaxChunkOps}).bind(std::int64_t{ops::kFoldedChunkBytes}));
}

model::Result<ops::Chunk> SqliteStore::chunk(const ops::Chunk& key) {
  Statement one(database_, sql({kColumns, table_of(key.stream.scope), kByKey}));
  auto found = read_chunks(bind_key(one, key_at_rest(key)));
  if (!found) return found.error();
  if (found->size() != 1) return model::error(model::ErrorKind::not_found, "store.gap", {std::string(kDatabaseName), std::to_string(key.first_seq)});
  return std::move(found->front());
}

}  // namespace slipway::store
