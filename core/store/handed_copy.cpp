// A copy of the database for somebody else's hands: made in memory, what is private to this device taken out.
#include <algorithm>
#include <array>

#include "store/forgetting_files.h"
#include "store/schema.h"
#include "store/sqlite_store.h"

namespace slipway::store {

namespace {

constexpr std::array<std::string_view, 7> kKnownTables{"chunk", "derived", "erased", "import_log", "local", "meta", "peer"};
constexpr std::array<std::string_view, 4> kTablesOfScopes{"chunk", "derived", "erased", "peer"};

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

// The token and the local values (keys among them) are this device's own; file names of the log may name anybody;
// and what a newer version keeps in tables of its own nobody here can judge.
bool take_out_private(Database& copy, std::span<const model::ScopeId> scopes) {
  std::vector<std::string> tables;
  if (!copy.execute("PRAGMA secure_delete=ON") || !read_tables(copy, tables)) return false;
  for (const std::string& table : tables) {
    if (std::find(kKnownTables.begin(), kKnownTables.end(), table) == kKnownTables.end() && !copy.execute("DROP TABLE " + quoted(table))) return false;
    if (std::find(kTablesOfScopes.begin(), kTablesOfScopes.end(), table) != kTablesOfScopes.end() && !keep_only(copy, table, scopes)) return false;
  }
  return copy.execute("DELETE FROM local") && copy.execute("DELETE FROM import_log") && copy.execute("DELETE FROM meta WHERE name='token'") &&
         copy.execute("VACUUM");
}

}  // namespace

model::Result<model::Bytes> SqliteStore::handed_copy(std::span<const model::ScopeId> scopes) {
  ForgettingFiles files;
  if (const auto copied = copy_database(database_, files, random_, std::string(kDatabaseName)); !copied) return copied.error();
  {
    Database copy(files, random_, std::string(kDatabaseName));
    if (const auto opened = copy.open(); !opened) return opened.error();
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
