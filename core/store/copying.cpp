// A copy of the whole database in a file beside it.
#include <sqlite3.h>

#include "store/schema.h"

namespace slipway::store {

namespace {

// No journal: a copy cut short is thrown away and begun again. EXTRA flushes it before the last step answers.
constexpr const char* kWithoutJournal = "PRAGMA journal_mode=OFF";
constexpr const char* kFlushed = "PRAGMA synchronous=EXTRA";
constexpr const char* kAlone = "PRAGMA locking_mode=EXCLUSIVE";

bool copy_pages(Database& from, Database& to) {
  sqlite3_backup* backup = sqlite3_backup_init(to.handle(), "main", from.handle(), "main");
  if (backup == nullptr) {
    to.note_failure(sqlite3_errcode(to.handle()));
    return false;
  }
  sqlite3_backup_step(backup, -1);
  const int code = sqlite3_backup_finish(backup);
  if (code != SQLITE_OK) to.note_failure(code);
  return code == SQLITE_OK;
}

model::Result<model::Done> write_copy(Database& from, Database& to) {
  if (const auto opened = to.open(); !opened) return opened.error();
  for (const char* setting : {kAlone, kFlushed, kWithoutJournal})
    if (!to.execute(setting)) return to.error();
  from.forget_failure();
  if (copy_pages(from, to)) return model::Done{};
  return from.troubled() ? from.error() : to.error();
}

model::Result<model::Done> prove_copy(Database& from, Database& copy, const std::string& name) {
  const auto different = [&](std::string place) {
    return model::error(model::ErrorKind::damaged, "store.damaged", {name, std::move(place)});
  };
  if (const auto opened = copy.open(); !opened) return opened.error();
  {
    Statement quick(copy, "PRAGMA quick_check");
    if (!quick.step()) return copy.error();
    if (copy.troubled()) copy.note_failure(SQLITE_IOERR);  // the check takes a page it cannot read for a damaged one
    if (copy.troubled()) return copy.error();
    if (quick.text(0) != "ok") return different(quick.text(0));
  }
  const auto wanted = contents_of(from);
  if (!wanted) return wanted.error();
  const auto found = contents_of(copy);
  if (!found) return found.error();
  if (*found == *wanted) return model::Done{};
  return different(std::to_string(found->ops) + "/" + std::to_string(wanted->ops));
}

}  // namespace

model::Result<model::Done> copy_database(Database& database, host::Files& files, host::Random& random, const std::string& name) {
  if (files.exists(name))
    if (const auto status = files.remove(name); status != host::IoStatus::ok) return error_of(status, name, "remove " + name);
  {
    Database copy(files, random, name);
    if (const auto written = write_copy(database, copy); !written) return written.error();
  }
  Database copy(files, random, name);  // what is on the storage, not what is in memory
  return prove_copy(database, copy, name);
}

}  // namespace slipway::store
