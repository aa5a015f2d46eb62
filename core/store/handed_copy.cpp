// A copy of the database for somebody else's hands: made in memory, what is private to this device taken out.
#include <algorithm>
#include <array>
#include <map>

#include "store/forgetting_files.h"
#include "store/runs.h"
#include "store/schema.h"
#include "store/sqlite_store.h"

namespace slipway::store {

namespace {

constexpr std::array<std::string_view, 11> kKnownTables{"chunk", "derived", "erased", "import_log", "local", "meta", "packed", "peer", "sealed", "sealed_chunk", "set_columns"};
constexpr std::array<std::string_view, 6> kTablesOfScopes{"chunk", "derived", "erased", "packed", "peer", "set_columns"};

bool read_tables(Database& database, std::vector<std::string>& names) {
  Statement all(database, "SELECT name FROM sqlite_schema WHERE type='table' AND name NOT LIKE 'sqlite%' ORDER BY name");
  while (all.step()) names.push_back(all.text(0));
  return !all.failed();
}

std::string quoted(const std::string& name) {
  std::string out = "\"";
  for (const char sign : name) out += sign == '"' ? std::string("\"\"") : std::string(1, sign);
  return out + "\"";
}

bool keep_only(Database& copy, std::string_view table, std::span<const model::ScopeId> scopes) {
  std::string sql = "DELETE FROM " + std::string(table) + " WHERE scope NOT IN (";
  for (std::size_t i = 0; i < scopes.size(); ++i) sql += i == 0 ? "?" : ",?";
  Statement drop(copy, sql + ")");
  for (const model::ScopeId& scope : scopes) drop.bind(scope.view());
  return drop.run();
}

bool put_in_clear(Database& copy, const ops::Chunk& chunk) {
  Statement put(copy, "INSERT OR IGNORE INTO chunk(scope,inc,first_seq,before_hash,after_hash,last_seq,bytes) VALUES(?,?,?,?,?,?,?)");
  put.bind(chunk.stream.scope.view()).bind(chunk.stream.inc.view()).bind(static_cast<std::int64_t>(chunk.first_seq));
  put.bind(chunk.before.view()).bind(chunk.after.view()).bind(static_cast<std::int64_t>(chunk.last_seq));
  return put.bind(model::ByteView(chunk.bytes)).run();
}

// What is sealed on this device and open now goes out as everything else does.
bool lay_out_sealed(Database& copy, const model::ScopeId& scope, const std::vector<ops::Chunk>& chunks) {
  Statement drop(copy, "DELETE FROM peer WHERE scope=?");
  if (!drop.bind(scope.view()).run()) return false;
  return std::all_of(chunks.begin(), chunks.end(), [&](const ops::Chunk& chunk) { return put_in_clear(copy, chunk); });
}

// Whoever opens the file with a tool of their own finds entries as the format page tells them. A run that is damaged stays.
bool lay_out_runs(Database& copy, const model::ScopeId& scope) {
  const auto runs = read_runs(copy, scope, nullptr, 1);
  if (!runs) return false;
  for (const ops::PackedRun& run : *runs) {
    const auto ops = ops::unpack(run);
    if (!ops) continue;
    for (const ops::Chunk& chunk : ops::make_chunks(*ops))
      if (!put_in_clear(copy, chunk)) return false;
    Statement drop(copy, "DELETE FROM packed WHERE scope=? AND inc=? AND first_seq=? AND before_hash=? AND after_hash=?");
    drop.bind(scope.view()).bind(run.stream.inc.view()).bind(static_cast<std::int64_t>(run.first_seq));
    if (!drop.bind(run.before.view()).bind(run.after.view()).run()) return false;
  }
  return true;
}

// The token and the local values (keys among them) are this device's own; file names of the log may name anybody;
// and what a newer version keeps in tables of its own nobody here can judge.
bool take_out_private(Database& copy, std::span<const model::ScopeId> scopes) {
  std::vector<std::string> tables;
  if (!copy.execute("PRAGMA secure_delete=ON") || !read_tables(copy, tables)) return false;
  for (const std::string& table : tables) {
    if (std::find(kKnownTables.begin(), kKnownTables.end(), table) == kKnownTables.end() && !copy.execute("DROP TABLE " + quoted(table))) return false;
    if (std::find(kTablesOfScopes.begin(), kTablesOfScopes.end(), table) != kTablesOfScopes.end() && !keep_only(copy, table, scopes)) return false;
  }
  if (std::find(tables.begin(), tables.end(), "packed") != tables.end())
    for (const model::ScopeId& scope : scopes)
      if (!lay_out_runs(copy, scope)) return false;
  if (std::find(tables.begin(), tables.end(), "sealed") != tables.end() && !(copy.execute("DELETE FROM sealed") && copy.execute("DELETE FROM sealed_chunk"))) return false;
  return copy.execute("DELETE FROM local") && copy.execute("DELETE FROM import_log") && copy.execute("DELETE FROM meta WHERE name='token'") &&
         copy.execute("VACUUM");
}

}  // namespace

model::Result<model::Bytes> SqliteStore::handed_copy(std::span<const model::ScopeId> scopes) {
  std::map<model::ScopeId, std::vector<ops::Chunk>> opened_ones;
  for (const model::ScopeId& scope : scopes) {
    if (!is_sealed(scope)) continue;
    auto held = chunks(scope);
    if (!held) return held.error();
    opened_ones[scope] = std::move(*held);
  }
  ForgettingFiles files;
  if (const auto copied = copy_database(database_, files, random_, std::string(kDatabaseName)); !copied) return copied.error();
  {
    Database copy(files, random_, std::string(kDatabaseName));
    if (const auto opened = copy.open(); !opened) return opened.error();
    for (const auto& [scope, held] : opened_ones)
      if (!lay_out_sealed(copy, scope, held)) return copy.error();
    if (!take_out_private(copy, scopes)) return copy.error();
  }
  std::unique_ptr<host::File> file;
  std::uint64_t size = 0;
  std::size_t got = 0;
  const bool opened = files.open(kDatabaseName, host::OpenMode::read_only, file) == host::IoStatus::ok && file->size(size) == host::IoStatus::ok;
  model::Bytes bytes(opened ? static_cast<std::size_t>(size) : 0);
  if (!opened || file->read(0, bytes, got) != host::IoStatus::ok || got != bytes.size())
    return model::error(model::ErrorKind::io, "store.io", {std::string(kDatabaseName), "copy"});
  return bytes;
}

}  // namespace slipway::store
