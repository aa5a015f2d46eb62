#include "store/database.h"

#include <sqlite3.h>

namespace slipway::store {

Statement::Statement(Database& database, std::string_view sql) : database_(database) {
  database_.forget_failure();
  const int code = sqlite3_prepare_v2(database.handle(), sql.data(), static_cast<int>(sql.size()), &statement_, nullptr);
  if (code != SQLITE_OK) {
    failed_ = true;
    database_.note_failure(code);
  }
}

Statement::~Statement() { sqlite3_finalize(statement_); }

Statement& Statement::bind(std::int64_t value) {
  if (!failed_) sqlite3_bind_int64(statement_, next_parameter_++, value);
  return *this;
}

Statement& Statement::bind(std::string_view text) {
  if (!failed_) sqlite3_bind_text(statement_, next_parameter_++, text.data(), static_cast<int>(text.size()), SQLITE_TRANSIENT);
  return *this;
}

Statement& Statement::bind(model::ByteView bytes) {
  // An empty span may point nowhere, which SQLite would read as NULL.
  static constexpr std::uint8_t kNothing = 0;
  if (!failed_)
    sqlite3_bind_blob(statement_, next_parameter_++, bytes.empty() ? &kNothing : bytes.data(), static_cast<int>(bytes.size()),
                      SQLITE_TRANSIENT);
  return *this;
}

bool Statement::step() {
  if (failed_) return false;
  const int code = sqlite3_step(statement_);
  if (code == SQLITE_ROW) return true;
  if (code != SQLITE_DONE) {
    failed_ = true;
    database_.note_failure(code);
  }
  return false;
}

bool Statement::run() {
  while (step()) {
  }
  return !failed_;
}

std::int64_t Statement::number(int column) const { return sqlite3_column_int64(statement_, column); }

std::string Statement::text(int column) const {
  const auto* data = reinterpret_cast<const char*>(sqlite3_column_text(statement_, column));
  return data == nullptr ? std::string{} : std::string(data, static_cast<std::size_t>(sqlite3_column_bytes(statement_, column)));
}

model::Bytes Statement::bytes(int column) const {
  const auto* data = static_cast<const std::uint8_t*>(sqlite3_column_blob(statement_, column));
  if (data == nullptr) return {};
  return {data, data + sqlite3_column_bytes(statement_, column)};
}

Database::Database(host::Files& files, host::Random& random, std::string file_name)
    : vfs_(files, random), file_name_(std::move(file_name)) {}

Database::~Database() { close(); }

model::Result<model::Done> Database::open() {
  forget_failure();
  const int code = sqlite3_open_v2(file_name_.c_str(), &handle_, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, vfs_.name());
  if (code != SQLITE_OK) {
    note_failure(code);
    const model::Error why = error();
    close();
    return why;
  }
  sqlite3_extended_result_codes(handle_, 1);
  return model::Done{};
}

void Database::close() {
  if (handle_ != nullptr) sqlite3_close(handle_);
  handle_ = nullptr;
}

bool Database::execute(std::string_view sql) {
  Statement statement(*this, sql);
  return statement.run();
}

void Database::forget_failure() {
  failure_ = {};
  vfs_.forget_trouble();
}

void Database::note_failure(int code) {
  failure_ = {code, handle_ == nullptr ? sqlite3_errstr(code) : sqlite3_errmsg(handle_), vfs_.last_trouble(), vfs_.last_place()};
}

model::Error error_of(host::IoStatus trouble, const std::string& file, const std::string& place) {
  using model::ErrorKind;
  switch (trouble) {
    case host::IoStatus::full: return model::error(ErrorKind::full, "store.full", {file, place});
    case host::IoStatus::busy: return model::error(ErrorKind::busy, "store.busy", {file, place});
    case host::IoStatus::no_permission: return model::error(ErrorKind::no_permission, "store.permission", {file, place});
    default: return model::error(ErrorKind::io, "store.io", {file, place});
  }
}

model::Error Database::error() const {
  const auto say = [&](model::ErrorKind kind, std::string_view text, const std::string& place) {
    return model::error(kind, std::string(text), {file_name_, place});
  };
  const auto& [code, message, trouble, troubled_place] = failure_;
  const std::string& place = troubled_place.empty() ? message : troubled_place;
  // The storage's own word counts for more than the code SQLite wraps it in.
  if (trouble != host::IoStatus::ok) return error_of(trouble, file_name_, place);
  switch (code & 0xFF) {
    case SQLITE_FULL: return say(model::ErrorKind::full, "store.full", place);
    case SQLITE_PERM:
    case SQLITE_READONLY: return say(model::ErrorKind::no_permission, "store.permission", place);
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB: return say(model::ErrorKind::damaged, "store.damaged", place);
    default: return say(model::ErrorKind::io, "store.io", place);
  }
}

bool Database::in_transaction() const { return sqlite3_get_autocommit(handle_) == 0; }

Transaction::Transaction(Database& database) : database_(database) { begun_ = database_.execute("BEGIN IMMEDIATE"); }

Transaction::~Transaction() {
  // After some failures SQLite has rolled back by itself.
  if (begun_ && database_.in_transaction()) database_.execute("ROLLBACK");
}

bool Transaction::keep() {
  if (!begun_ || !database_.execute("COMMIT")) return false;
  begun_ = false;
  return true;
}

}  // namespace slipway::store
