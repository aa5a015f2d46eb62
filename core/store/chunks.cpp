// Chunks in and out, the import, and folding chunks together.
#include <algorithm>

#include "store/sqlite_store.h"

namespace slipway::store {

namespace {

ops::Chunk read_row(const Statement& row, const ops::StreamId& stream, int first_column) {
  ops::Chunk chunk;
  chunk.stream = stream;
  chunk.first_seq = static_cast<std::uint64_t>(row.number(first_column));
  chunk.before = model::Hash32::from(row.bytes(first_column + 1));
  chunk.last_seq = static_cast<std::uint64_t>(row.number(first_column + 2));
  chunk.after = model::Hash32::from(row.bytes(first_column + 3));
  chunk.bytes = row.bytes(first_column + 4);
  return chunk;
}

bool continues(const ops::Chunk& before, const ops::Chunk& after) {
  return before.stream == after.stream && before.last_seq + 1 == after.first_seq && before.after == after.before;
}

// Chains of chunks that continue each other, each worth folding: more than one row, none full.
std::vector<std::vector<ops::Chunk>> foldable(const std::vector<ops::Chunk>& chunks) {
  std::vector<std::vector<ops::Chunk>> runs;
  for (const ops::Chunk& chunk : chunks) {
    const auto joined = std::find_if(runs.begin(), runs.end(), [&](const std::vector<ops::Chunk>& run) { return continues(run.back(), chunk); });
    if (joined == runs.end()) {
      runs.push_back({chunk});
    } else {
      joined->push_back(chunk);
    }
  }
  return runs;
}

}  // namespace

bool SqliteStore::put_chunk(const ops::Chunk& chunk) {
  Statement put(database_, "INSERT OR IGNORE INTO chunk VALUES(?,?,?,?,?,?,?)");
  return put.bind(chunk.stream.scope.view())
      .bind(chunk.stream.inc.view())
      .bind(static_cast<std::int64_t>(chunk.first_seq))
      .bind(chunk.before.view())
      .bind(static_cast<std::int64_t>(chunk.last_seq))
      .bind(chunk.after.view())
      .bind(model::ByteView(chunk.bytes))
      .run();
}

// What this device writes must continue what it holds: anything else is a bug of the caller, refused before it lasts.
std::optional<model::Error> SqliteStore::refuse_gap(std::span<const ops::Chunk> chunks) {
  for (std::size_t i = 0; i < chunks.size(); ++i) {
    const ops::Chunk& chunk = chunks[i];
    if (chunk.first_seq == 1) continue;
    if (std::any_of(chunks.begin(), chunks.begin() + static_cast<std::ptrdiff_t>(i),
                    [&](const ops::Chunk& earlier) { return continues(earlier, chunk); }))
      continue;
    Statement find(database_, "SELECT 1 FROM chunk WHERE scope=? AND inc=? AND last_seq=? AND after_hash=?");
    find.bind(chunk.stream.scope.view()).bind(chunk.stream.inc.view());
    find.bind(static_cast<std::int64_t>(chunk.first_seq - 1)).bind(chunk.before.view());
    if (find.step()) continue;
    if (find.failed()) return database_.error();
    return model::error(model::ErrorKind::invalid, "store.gap", {std::string(kDatabaseName), std::to_string(chunk.first_seq)});
  }
  return std::nullopt;
}

Ticket SqliteStore::append(std::span<const ops::Chunk> chunks, std::string_view local_name, model::ByteView local_value) {
  if (auto refused = read_only()) return {Durability::not_kept, *refused};
  Transaction transaction(database_);
  if (!transaction.begun()) return {Durability::not_kept, database_.error()};
  if (auto refused = refuse_gap(chunks)) return {Durability::not_kept, *refused};
  for (const ops::Chunk& chunk : chunks)
    if (!put_chunk(chunk)) return {Durability::not_kept, database_.error()};
  if (!local_name.empty() && !put_value(kLocal, local_name, local_value)) return {Durability::not_kept, database_.error()};
  if (!transaction.keep()) return {Durability::not_kept, database_.error()};
  return {Durability::kept, {}};
}

model::Result<model::Done> SqliteStore::take_in(std::span<const ops::Chunk> chunks, const ImportLine& line) {
  if (auto refused = read_only()) return *refused;
  Transaction transaction(database_);
  if (!transaction.begun()) return database_.error();
  for (const ops::Chunk& chunk : chunks)
    if (!put_chunk(chunk)) return database_.error();
  Statement log(database_, "INSERT INTO import_log(bundle_hash,file_name,claimed,fresh,known,not_understood,forks) VALUES(?,?,?,?,?,?,?)");
  log.bind(line.bundle_hash.view()).bind(std::string_view(line.file_name)).bind(std::string_view(line.claimed));
  for (std::uint64_t count : {line.fresh, line.known, line.not_understood, line.forks}) log.bind(static_cast<std::int64_t>(count));
  if (!log.run() || !transaction.keep()) return database_.error();
  return model::Done{};
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

model::Result<std::vector<model::ScopeId>> SqliteStore::scopes() {
  std::vector<model::ScopeId> ids;
  Statement all(database_, "SELECT DISTINCT scope FROM chunk ORDER BY scope");
  while (all.step()) ids.push_back(model::ScopeId::from(all.bytes(0)));
  if (all.failed()) return database_.error();
  return ids;
}

model::Result<std::vector<ops::Chunk>> SqliteStore::chunks(const model::ScopeId& scope) {
  std::vector<ops::Chunk> out;
  Statement all(database_, "SELECT inc,first_seq,before_hash,last_seq,after_hash,bytes FROM chunk WHERE scope=?"
                           " ORDER BY inc,first_seq,before_hash,after_hash");
  all.bind(scope.view());
  while (all.step()) out.push_back(read_row(all, {scope, model::IncarnationId::from(all.bytes(0))}, 1));
  if (all.failed()) return database_.error();
  return out;
}

model::Result<std::uint64_t> SqliteStore::fold_chunks(const model::ScopeId& scope) {
  if (auto refused = read_only()) return *refused;
  const auto held = chunks(scope);
  if (!held) return held.error();
  std::uint64_t saved = 0;
  for (const auto& run : foldable(*held)) {
    if (run.size() < 2) continue;
    std::vector<ops::ChainedOp> all;
    bool sound = true;
    for (const ops::Chunk& chunk : run) {
      auto read = ops::read_chunk(chunk);
      sound = sound && read.ok();
      if (!sound) break;  // a damaged row is left for check() and salvage, as it is
      for (ops::ChainedOp& op : *read) all.push_back(std::move(op));
    }
    const auto folded = sound ? ops::make_chunks(all) : std::vector<ops::Chunk>{};
    if (!sound || folded.size() >= run.size() || !(folded.back().after == run.back().after)) continue;
    Transaction transaction(database_);
    if (!transaction.begun()) return database_.error();
    for (const ops::Chunk& chunk : run) {
      Statement drop(database_, "DELETE FROM chunk WHERE scope=? AND inc=? AND first_seq=? AND before_hash=? AND after_hash=?");
      drop.bind(chunk.stream.scope.view()).bind(chunk.stream.inc.view()).bind(static_cast<std::int64_t>(chunk.first_seq));
      if (!drop.bind(chunk.before.view()).bind(chunk.after.view()).run()) return database_.error();
    }
    for (const ops::Chunk& chunk : folded)
      if (!put_chunk(chunk)) return database_.error();
    if (!transaction.keep()) return database_.error();
    saved += run.size() - folded.size();
  }
  return saved;
}

}  // namespace slipway::store
