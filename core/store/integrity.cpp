// The self-check: SQLite's own, then the chain of every chunk.
#include "store/sqlite_store.h"

namespace slipway::store {

namespace {

// Damage is what the check is there to find; only a storage that refuses ends it.
bool is_finding(const model::Error& error) { return error.kind == model::ErrorKind::damaged; }

}  // namespace

model::Result<std::vector<model::Error>> SqliteStore::quick_check() {
  std::vector<model::Error> findings;
  Statement quick(database_, "PRAGMA quick_check");
  while (quick.step())
    if (quick.text(0) != "ok")
      findings.push_back(model::error(model::ErrorKind::damaged, "store.damaged", {std::string(kDatabaseName), quick.text(0)}));
  if (!quick.failed()) return findings;
  if (!is_finding(database_.error())) return database_.error();
  findings.push_back(database_.error());
  return findings;
}

model::Result<Integrity> SqliteStore::check() {
  Integrity found;
  auto quick = quick_check();
  if (!quick) return quick.error();
  found.findings = std::move(*quick);
  const auto ids = scopes();
  if (!ids && !is_finding(ids.error())) return ids.error();
  if (!ids) {
    found.findings.push_back(ids.error());
    return found;
  }
  for (const model::ScopeId& scope : *ids) {
    const auto held = chunks(scope);
    if (!held && !is_finding(held.error())) return held.error();
    if (!held) {
      found.findings.push_back(held.error());
      continue;
    }
    for (const ops::Chunk& chunk : *held) {
      found.chunks += 1;
      const auto read = ops::read_chunk(chunk);
      if (read) {
        found.ops += read->size();
      } else {
        found.findings.push_back(read.error());
      }
    }
  }
  return found;
}

}  // namespace slipway::store
