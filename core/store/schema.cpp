#include "store/schema.h"

#include <algorithm>
#include <array>
#include <span>

#include "ops/chain.h"
#include "store/store.h"

namespace slipway::store {

namespace {

constexpr std::array kForm1{
    // after_hash is in the key, a departure from the design's (stream, first_seq, before_hash): both branches
    // of a fork can begin at one seq after one and the same op, and each needs a place.
    "CREATE TABLE chunk("
    " scope BLOB NOT NULL CHECK(length(scope)=16), inc BLOB NOT NULL CHECK(length(inc)=16),"
    " first_seq INTEGER NOT NULL CHECK(first_seq>=1), before_hash BLOB NOT NULL CHECK(length(before_hash)=32),"
    " last_seq INTEGER NOT NULL CHECK(last_seq>=first_seq), after_hash BLOB NOT NULL CHECK(length(after_hash)=32),"
    " bytes BLOB NOT NULL, PRIMARY KEY(scope, inc, first_seq, before_hash, after_hash)) STRICT, WITHOUT ROWID",
    "CREATE TABLE meta(name TEXT NOT NULL PRIMARY KEY, value BLOB NOT NULL) STRICT, WITHOUT ROWID",
    "CREATE TABLE local(name TEXT NOT NULL PRIMARY KEY, value BLOB NOT NULL) STRICT, WITHOUT ROWID",
    "CREATE TABLE derived(scope BLOB NOT NULL PRIMARY KEY CHECK(length(scope)=16), fold_version INTEGER NOT NULL,"
    " covers BLOB NOT NULL, state BLOB NOT NULL) STRICT",
    "CREATE TABLE import_log(id INTEGER PRIMARY KEY, bundle_hash BLOB NOT NULL CHECK(length(bundle_hash)=32),"
    " file_name TEXT NOT NULL, claimed TEXT NOT NULL, fresh INTEGER NOT NULL, known INTEGER NOT NULL,"
    " not_understood INTEGER NOT NULL, forks INTEGER NOT NULL) STRICT",
    "PRAGMA user_version=1",
};

constexpr std::array kForm2{
    "CREATE TABLE peer("
    " device BLOB NOT NULL CHECK(length(device)=16), scope BLOB NOT NULL CHECK(length(scope)=16),"
    " inc BLOB NOT NULL CHECK(length(inc)=16), export_counter INTEGER NOT NULL CHECK(export_counter>=0),"
    " claimed TEXT NOT NULL, holds BLOB NOT NULL, PRIMARY KEY(device, scope)) STRICT, WITHOUT ROWID",
    // The marker is a chunk of one op; it is all that is left of the scope.
    "CREATE TABLE erased("
    " scope BLOB NOT NULL PRIMARY KEY CHECK(length(scope)=16), reason INTEGER NOT NULL CHECK(reason>=0),"
    " inc BLOB NOT NULL CHECK(length(inc)=16), seq INTEGER NOT NULL CHECK(seq>=1),"
    " before_hash BLOB NOT NULL CHECK(length(before_hash)=32), hash BLOB NOT NULL CHECK(length(hash)=32),"
    " bytes BLOB NOT NULL) STRICT, WITHOUT ROWID",
    "PRAGMA user_version=2",
};

constexpr std::array kForm3{
    // Runs of a stream that was folded (ops::PackedRun); the check is over the whole row. What is in here is in no chunk.
    // With rowids: there the rest of a long row lies beside others on a page, and its overflow pages are full ones.
    "CREATE TABLE packed("
    " scope BLOB NOT NULL CHECK(length(scope)=16), inc BLOB NOT NULL CHECK(length(inc)=16),"
    " first_seq INTEGER NOT NULL CHECK(first_seq>=1), before_hash BLOB NOT NULL CHECK(length(before_hash)=32),"
    " last_seq INTEGER NOT NULL CHECK(last_seq>=first_seq), after_hash BLOB NOT NULL CHECK(length(after_hash)=32),"
    " told BLOB NOT NULL, row_check BLOB NOT NULL CHECK(length(row_check)=8),"
    " bytes BLOB NOT NULL, UNIQUE(scope, inc, first_seq, before_hash, last_seq, after_hash)) STRICT",
    // Sets in columns (ops::SetTable), as derived: a cache with its watermark.
    "CREATE TABLE set_columns(scope BLOB NOT NULL PRIMARY KEY CHECK(length(scope)=16), version INTEGER NOT NULL,"
    " covers BLOB NOT NULL, bytes BLOB NOT NULL) STRICT",
    "PRAGMA user_version=3",
};

// The tables of form 4 come with the first seal (make_sealed_tables): most stores never seal, and each table takes a page.
constexpr std::array kForm4{
    "PRAGMA user_version=4",
};

constexpr std::array kSealedTables{
    // Scopes that are sealed at rest (Store::seal); the lock is the caller's. Their rows stand apart, so that a program that
    // knows nothing of them goes on reading everybody else; what peers hold is sealed in place, and there counts for nothing.
    "CREATE TABLE IF NOT EXISTS sealed(scope BLOB NOT NULL PRIMARY KEY CHECK(length(scope)=16), lock BLOB NOT NULL) STRICT, WITHOUT ROWID",
    "CREATE TABLE IF NOT EXISTS sealed_chunk("
    " scope BLOB NOT NULL CHECK(length(scope)=16), inc BLOB NOT NULL CHECK(length(inc)=16),"
    " first_seq INTEGER NOT NULL CHECK(first_seq>=1), before_hash BLOB NOT NULL CHECK(length(before_hash)=32),"
    " last_seq INTEGER NOT NULL CHECK(last_seq>=first_seq), after_hash BLOB NOT NULL CHECK(length(after_hash)=32),"
    " bytes BLOB NOT NULL, PRIMARY KEY(scope, inc, first_seq, before_hash, after_hash)) STRICT, WITHOUT ROWID",
};

constexpr std::array<std::span<const char* const>, 4> kForms{kForm1, kForm2, kForm3, kForm4};
static_assert(kForms.size() == kSchemaVersion);

}  // namespace

bool climb(Database& database, int from) {
  for (std::size_t form = static_cast<std::size_t>(from); form < kForms.size(); ++form)
    for (const char* line : kForms[form])
      if (!database.execute(line)) return false;
  return true;
}

bool make_sealed_tables(Database& database) {
  return std::all_of(kSealedTables.begin(), kSealedTables.end(), [&](const char* line) { return database.execute(line); });
}

model::Result<bool> has_table(Database& database, std::string_view name) {
  Statement table(database, "SELECT count(*) FROM sqlite_schema WHERE type='table' AND name=?");
  if (!table.bind(name).step()) return database.error();
  return table.number(0) != 0;
}

model::Result<Contents> contents_of(Database& database) {
  Contents contents;
  const auto add_all = [&](std::string_view sql, int columns) {
    Statement rows(database, sql);
    while (rows.step()) {
      const auto first = static_cast<std::uint64_t>(rows.number(0)), last = static_cast<std::uint64_t>(rows.number(1));
      contents.ops += last - first + 1;
      model::Bytes row;
      for (int blob = 2; blob < columns; ++blob) {
        const model::Bytes bytes = rows.bytes(blob);
        ops::put_varint(row, bytes.size());
        model::append(row, bytes);
      }
      ops::put_varint(row, first);
      ops::put_varint(row, last);
      contents.rows = ops::chain(contents.rows, row);
    }
    return !rows.failed();
  };
  if (!add_all("SELECT first_seq,last_seq,scope,inc,before_hash,after_hash,bytes FROM chunk"
               " ORDER BY scope,inc,first_seq,before_hash,after_hash", 7))
    return database.error();
  if (const auto there = has_table(database, "packed"); !there || !*there) return there ? model::Result<Contents>(contents) : there.error();
  if (!add_all("SELECT first_seq,last_seq,scope,inc,before_hash,after_hash,told,row_check,bytes FROM packed"
               " ORDER BY scope,inc,first_seq,before_hash,after_hash", 9))
    return database.error();
  if (const auto there = has_table(database, "sealed"); !there || !*there) return there ? model::Result<Contents>(contents) : there.error();
  if (!add_all("SELECT first_seq,last_seq,scope,inc,before_hash,after_hash,bytes FROM sealed_chunk"
               " ORDER BY scope,inc,first_seq,before_hash,after_hash", 7))
    return database.error();
  Statement locks(database, "SELECT scope,lock FROM sealed ORDER BY scope");
  while (locks.step()) {
    model::Bytes row = locks.bytes(0);
    model::append(row, locks.bytes(1));
    contents.rows = ops::chain(contents.rows, row);
  }
  if (locks.failed()) return database.error();
  return contents;
}

}  // namespace slipway::store
