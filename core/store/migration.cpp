// From an older form to today's, and the copy that is kept of the older one.
//
// Nothing of the store changes before the copy is on the storage and proven; then one transaction makes the
// step and sets user_version. Killed before its COMMIT, the next opening finds the old form and begins again.
#include "store/schema.h"
#include "store/sqlite_store.h"

namespace slipway::store {

namespace {

constexpr std::string_view kRebuild = "rebuild";  // in meta until derived_rebuilt()

}  // namespace

model::Result<model::Done> SqliteStore::migrate() {
  const std::string copy(kCopyName);
  if (const auto copied = copy_database(database_, files_, random_, copy); !copied) {
    (void)files_.remove(copy);  // half a copy is no copy; what matters is why
    return copied.error();
  }
  const auto before = contents_of(database_);
  if (!before) return before.error();
  std::optional<model::Error> unequal;
  const auto climbed = change([&] {
    if (!climb(database_, opening_.schema_found) || !put_value(Values::meta, kRebuild, {})) return false;
    const auto after = contents_of(database_);
    if (!after) return false;
    if (!(*after == *before))
      unequal = model::error(model::ErrorKind::damaged, "store.damaged", {std::string(kDatabaseName), std::to_string(after->ops)});
    return !unequal;
  });
  if (unequal) return *unequal;
  return climbed;
}

model::Result<model::Done> SqliteStore::note_rebuild() {
  const auto rebuild = value(Values::meta, kRebuild);
  if (!rebuild) return rebuild.error();
  opening_.rebuild_derived = rebuild->has_value();
  return model::Done{};
}

model::Result<model::Done> SqliteStore::derived_rebuilt() {
  const auto done = change([&] {
    Statement drop(database_, "DELETE FROM meta WHERE name=?");
    return drop.bind(kRebuild).run();
  });
  if (done) opening_.rebuild_derived = false;
  return done;
}

bool SqliteStore::has_copy() { return files_.exists(kCopyName); }

model::Result<model::Done> SqliteStore::drop_copy() {
  if (auto refused = refuse_writing()) return *refused;
  const auto status = files_.remove(kCopyName);
  if (status == host::IoStatus::ok) return model::Done{};
  return error_of(status, std::string(kCopyName), "remove " + std::string(kCopyName));
}

}  // namespace slipway::store
