// Opening a store: settings, schema, who this device is; and the named values.
#include "store/store.h"

#include <array>

#include "model/planted.h"
#include "store/schema.h"
#include "store/sqlite_store.h"

namespace slipway::store {

namespace {

// Before the first look into the file, which may meet a journal and play it back: in this mode that ends
// with an emptied journal, flushed, and never with a removed one. It asks for no schema, so that a newer
// store can be told apart whatever its schema says.
constexpr const char* kAlone = "PRAGMA locking_mode=EXCLUSIVE";

constexpr std::array kSettings{
    // EXTRA before anything is written: a stale journal could come back to life (sync-and-storage 9).
    model::kPlanted == 6 ? "PRAGMA synchronous=NORMAL" : "PRAGMA synchronous=EXTRA",
    "PRAGMA journal_mode=TRUNCATE", "PRAGMA secure_delete=ON",
    "PRAGMA trusted_schema=OFF", "PRAGMA cell_size_check=ON", "PRAGMA temp_store=MEMORY",
};

template <class Id>
Id random_id(host::Random& random) {
  Id id;
  random.fill(id.bytes);
  return id;
}

template <class Id>
std::optional<Id> as_id(const std::optional<model::Bytes>& bytes) {
  if (!bytes || bytes->size() != Id{}.bytes.size()) return std::nullopt;
  return Id::from(*bytes);
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
    : files_(files), random_(random), database_(files, random, std::string(kDatabaseName)) {}

model::Result<model::Done> SqliteStore::start(bool had_file, const OpenTokens& tokens) {
  if (const auto opened = database_.open(); !opened) return opened.error();
  if (!database_.execute(kAlone)) return database_.error();
  {
    Statement version(database_, "PRAGMA user_version");
    if (!version.step()) return database_.error();
    opening_.schema_found = static_cast<int>(version.number(0));
  }
  if (opening_.schema_found > kSchemaVersion) return look_only();
  if (const auto set = settings(); !set) return set.error();
  bool empty = false;
  {
    Statement tables(database_, "SELECT count(*) FROM sqlite_schema");
    if (!tables.step()) return database_.error();
    empty = tables.number(0) == 0;
  }
  const bool foreign = opening_.schema_found < 0 || (opening_.schema_found == 0) != empty;
  if (foreign)  // a database, but nobody of ours made it: its owner may want it back
    return model::error(model::ErrorKind::damaged, "store.damaged", {std::string(kDatabaseName), "user_version"});
  if (!empty && opening_.schema_found < kSchemaVersion) {
    if (const auto migrated = migrate(); !migrated) {
      opening_.not_migrated = migrated.error();
      return look_only();
    }
  }
  opening_.schema_found = kSchemaVersion;
  if (!empty)
    if (const auto noted = note_rebuild(); !noted) return noted.error();
  if (!empty)
    if (const auto read = read_sealed(); !read) return read.error();
  return identify(had_file, empty, tokens);
}

model::Result<model::Done> SqliteStore::settings() {
  for (const char* setting : kSettings)
    if (!database_.execute(setting)) return database_.error();
  return model::Done{};
}

// A newer store, or an older one that could not be brought up to date, is never damaged: from here on this
// program writes not one byte of it. What it can read it shows.
model::Result<model::Done> SqliteStore::look_only() {
  opening_.read_only = true;
  if (!database_.execute("PRAGMA query_only=ON")) return database_.error();
  (void)read_sealed();  // of a newer one that keeps them otherwise nothing opens
  const auto device = value(Values::meta, "device");
  const auto inc = value(Values::meta, "incarnation");
  if (device) opening_.device = as_id<model::DeviceId>(*device).value_or(model::DeviceId{});
  if (inc) opening_.inc = as_id<model::IncarnationId>(*inc).value_or(model::IncarnationId{});
  return model::Done{};
}

// One transaction with the schema, so that an opening cut short leaves a whole store or none.
model::Result<model::Done> SqliteStore::identify(bool had_file, bool empty, const OpenTokens& tokens) {
  std::optional<model::DeviceId> device;
  std::optional<model::IncarnationId> inc;
  std::optional<model::Token16> token;
  if (!empty) {
    const auto device_read = value(Values::meta, "device");
    const auto inc_read = value(Values::meta, "incarnation");
    const auto token_read = value(Values::meta, "token");
    for (const auto* read : {&device_read, &inc_read, &token_read})
      if (!*read) return read->error();
    device = as_id<model::DeviceId>(*device_read);
    inc = as_id<model::IncarnationId>(*inc_read);
    token = as_id<model::Token16>(*token_read);
  }
  const bool same = inc && token && token == tokens.found_outside;
  opening_.cleared = !had_file && tokens.found_outside.has_value();
  opening_.why = empty  ? WhyNewIncarnation::first_run
                 : same ? WhyNewIncarnation::same_as_before
                        : WhyNewIncarnation::token_broken;
  opening_.device = device ? *device : random_id<model::DeviceId>(random_);
  opening_.inc = same ? *inc : random_id<model::IncarnationId>(random_);
  return change([&] {
    if (empty && !climb(database_, 0)) return false;
    return put_value(Values::meta, "device", opening_.device.view()) &&
           put_value(Values::meta, "incarnation", opening_.inc.view()) &&
           put_value(Values::meta, "token", tokens.fresh.view());
  });
}

model::Result<model::Done> SqliteStore::mint_incarnation() {
  const auto inc = random_id<model::IncarnationId>(random_);
  const auto minted = change([&] { return put_value(Values::meta, "incarnation", inc.view()); });
  if (minted) opening_.inc = inc;
  return minted;
}

std::optional<model::Error> SqliteStore::refuse_writing() const {
  if (!opening_.read_only) return std::nullopt;
  if (opening_.not_migrated) return opening_.not_migrated;
  return model::error(model::ErrorKind::newer_version, "store.newer",
                      {std::string(kDatabaseName), std::to_string(opening_.schema_found)});
}

// ---- named values -----------------------------------------------------------------------------------

bool SqliteStore::put_value(Values table, std::string_view name, model::ByteView value) {
  Statement put(database_, table == Values::meta ? "INSERT INTO meta VALUES(?,?) ON CONFLICT(name) DO UPDATE SET value=excluded.value"
                                                 : "INSERT INTO local VALUES(?,?) ON CONFLICT(name) DO UPDATE SET value=excluded.value");
  return put.bind(name).bind(value).run();
}

bool SqliteStore::drop_local(std::string_view name) {
  Statement drop(database_, "DELETE FROM local WHERE name=?");
  return drop.bind(name).run();
}

model::Result<std::optional<model::Bytes>> SqliteStore::value(Values table, std::string_view name) {
  Statement get(database_, table == Values::meta ? "SELECT value FROM meta WHERE name=?" : "SELECT value FROM local WHERE name=?");
  get.bind(name);
  if (get.step()) return std::optional<model::Bytes>(get.bytes(0));
  if (get.failed()) return database_.error();
  return std::optional<model::Bytes>();
}

model::Result<std::optional<model::Bytes>> SqliteStore::local(std::string_view name) { return value(Values::local, name); }

model::Result<model::Done> SqliteStore::set_local(std::string_view name, model::ByteView bytes) {
  return change([&] { return put_value(Values::local, name, bytes); });
}

model::Result<std::uint64_t> SqliteStore::next_export_counter() {
  std::uint64_t counter = 0;
  const auto moved = change([&] {
    const auto held = value(Values::meta, "export_counter");
    if (!held) return false;
    std::size_t at = 0;
    if (held->has_value() && !ops::get_varint(**held, at, counter)) counter = 0;
    counter += 1;
    model::Bytes bytes;
    ops::put_varint(bytes, counter);
    return put_value(Values::meta, "export_counter", bytes);
  });
  if (!moved) return moved.error();
  return counter;
}

}  // namespace slipway::store
