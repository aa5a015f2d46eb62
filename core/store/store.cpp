#include "store/store.h"

#include <array>

#include "store/sqlite_store.h"

namespace slipway::store {

namespace {

constexpr std::array kSettings{
    // EXTRA before anything else is written (sync-and-storage 9: a stale journal can come back to life).
    "PRAGMA synchronous=EXTRA",        "PRAGMA locking_mode=EXCLUSIVE", "PRAGMA journal_mode=TRUNCATE",
    "PRAGMA secure_delete=ON",         "PRAGMA foreign_keys=ON",        "PRAGMA trusted_schema=OFF",
    "PRAGMA cell_size_check=ON",       "PRAGMA temp_store=MEMORY",
};

// after_hash is in the key of a chunk because both branches of a fork can begin at one seq with one before_hash.
constexpr std::array kSchema{
    "CREATE TABLE chunk(scope BLOB NOT NULL, inc BLOB NOT NULL, first_seq INTEGER NOT NULL, before_hash BLOB NOT NULL,"
    " last_seq INTEGER NOT NULL, after_hash BLOB NOT NULL, bytes BLOB NOT NULL,"
    " PRIMARY KEY(scope, inc, first_seq, before_hash, after_hash)) STRICT, WITHOUT ROWID",
    "CREATE TABLE meta(name TEXT PRIMARY KEY, value BLOB NOT NULL) STRICT, WITHOUT ROWID",
    "CREATE TABLE local(name TEXT PRIMARY KEY, value BLOB NOT NULL) STRICT, WITHOUT ROWID",
    "CREATE TABLE derived(scope BLOB PRIMARY KEY, fold_version INTEGER NOT NULL, covers BLOB NOT NULL, state BLOB NOT NULL) STRICT",
    "CREATE TABLE import_log(id INTEGER PRIMARY KEY, bundle_hash BLOB NOT NULL, file_name TEXT NOT NULL, claimed TEXT NOT NULL,"
    " fresh INTEGER NOT NULL, known INTEGER NOT NULL, not_understood INTEGER NOT NULL, forks INTEGER NOT NULL) STRICT",
    "PRAGMA user_version=1",
};

template <class Id>
Id random_id(host::Random& random) {
  Id id;
  random.fill(id.bytes);
  return id;
}

}  // namespace

model::Result<std::unique_ptr<Store>> Store::open(host::Files& files, host::Random& random, const OpenTokens& tokens) {
  const bool had_file = files.exists(kDatabaseName);
  auto store = std::make_unique<SqliteStore>(files, random);
  const auto started = store->start(had_file, tokens);
  if (!started) return started.error();
  return std::unique_ptr<Store>(std::move(store));
}

SqliteStore::SqliteStore(host::Files& files, host::Random& random)
    : random_(random), database_(files, random, std::string(kDatabaseName)) {}

model::Result<model::Done> SqliteStore::start(bool had_file, const OpenTokens& tokens) {
  if (const auto opened = database_.open(false); !opened) return opened.error();
  if (const auto set = settings(); !set) return set.error();
  {
    Statement version(database_, "PRAGMA user_version");
    if (!version.step()) return database_.error();
    opening_.schema_found = static_cast<int>(version.number(0));
  }
  if (opening_.schema_found > kSchemaVersion) {
    opening_.read_only = true;  // never damaged: not one byte of it is written by this older program
    const auto inc = value(kMeta, "incarnation");
    if (inc && inc->has_value() && (*inc)->size() == 16) opening_.inc = model::IncarnationId::from(**inc);
    return model::Done{};
  }
  if (opening_.schema_found == 0)
    if (const auto made = schema(); !made) return made.error();
  opening_.schema_found = kSchemaVersion;
  return identify(had_file, tokens);
}

model::Result<model::Done> SqliteStore::settings() {
  for (const char* setting : kSettings)
    if (!database_.execute(setting)) return database_.error();
  return model::Done{};
}

model::Result<model::Done> SqliteStore::schema() {
  Transaction transaction(database_);
  if (!transaction.begun()) return database_.error();
  for (const char* line : kSchema)
    if (!database_.execute(line)) return database_.error();
  if (!transaction.keep()) return database_.error();
  return model::Done{};
}

model::Result<model::Done> SqliteStore::identify(bool had_file, const OpenTokens& tokens) {
  const auto inc = value(kMeta, "incarnation");
  const auto device = value(kMeta, "device");
  const auto token = value(kMeta, "token");
  for (const auto* read : {&inc, &device, &token})
    if (!*read) return read->error();
  const bool first_run = !inc->has_value() || !device->has_value();
  const bool same = token->has_value() && tokens.found_outside && model::equal(**token, tokens.found_outside->view());
  opening_.cleared = !had_file && tokens.found_outside.has_value();
  opening_.why = first_run ? WhyNewIncarnation::first_run : same ? WhyNewIncarnation::same_as_before : WhyNewIncarnation::token_broken;
  opening_.device = first_run ? random_id<model::DeviceId>(random_) : model::DeviceId::from(**device);
  opening_.inc = opening_.why == WhyNewIncarnation::same_as_before ? model::IncarnationId::from(**inc)
                                                                   : random_id<model::IncarnationId>(random_);
  Transaction transaction(database_);
  const bool written = transaction.begun() && put_value(kMeta, "device", opening_.device.view()) &&
                       put_value(kMeta, "incarnation", opening_.inc.view()) && put_value(kMeta, "token", tokens.fresh.view()) &&
                       transaction.keep();
  if (!written) return database_.error();
  return model::Done{};
}

model::Result<model::Done> SqliteStore::mint_incarnation() {
  if (auto refused = read_only()) return *refused;
  const auto inc = random_id<model::IncarnationId>(random_);
  Transaction transaction(database_);
  if (!transaction.begun() || !put_value(kMeta, "incarnation", inc.view()) || !transaction.keep()) return database_.error();
  opening_.inc = inc;
  return model::Done{};
}

std::optional<model::Error> SqliteStore::read_only() const {
  if (!opening_.read_only) return std::nullopt;
  return model::error(model::ErrorKind::newer_version, "store.newer", {std::string(kDatabaseName), std::to_string(opening_.schema_found)});
}

// ---- named values -----------------------------------------------------------------------------------

bool SqliteStore::put_value(std::string_view table, std::string_view name, model::ByteView value) {
  Statement put(database_, table == kMeta ? "INSERT INTO meta VALUES(?,?) ON CONFLICT(name) DO UPDATE SET value=excluded.value"
                                          : "INSERT INTO local VALUES(?,?) ON CONFLICT(name) DO UPDATE SET value=excluded.value");
  return put.bind(name).bind(value).run();
}

model::Result<std::optional<model::Bytes>> SqliteStore::value(std::string_view table, std::string_view name) {
  Statement get(database_, table == kMeta ? "SELECT value FROM meta WHERE name=?" : "SELECT value FROM local WHERE name=?");
  get.bind(name);
  if (get.step()) return std::optional<model::Bytes>(get.bytes(0));
  if (get.failed()) return database_.error();
  return std::optional<model::Bytes>();
}

model::Result<std::optional<model::Bytes>> SqliteStore::local(std::string_view name) { return value(kLocal, name); }

model::Result<model::Done> SqliteStore::set_local(std::string_view name, model::ByteView bytes) {
  if (auto refused = read_only()) return *refused;
  Transaction transaction(database_);
  if (!transaction.begun() || !put_value(kLocal, name, bytes) || !transaction.keep()) return database_.error();
  return model::Done{};
}

model::Result<std::uint64_t> SqliteStore::next_export_counter() {
  if (auto refused = read_only()) return *refused;
  const auto held = value(kMeta, "export_counter");
  if (!held) return held.error();
  std::uint64_t counter = 0;
  if (held->has_value())
    for (std::uint8_t byte : **held) counter = (counter << 8) | byte;
  counter += 1;
  model::Bytes bytes(8);
  for (std::size_t i = 0; i < 8; ++i) bytes[i] = static_cast<std::uint8_t>(counter >> (56 - 8 * i));
  Transaction transaction(database_);
  if (!transaction.begun() || !put_value(kMeta, "export_counter", bytes) || !transaction.keep()) return database_.error();
  return counter;
}

}  // namespace slipway::store
