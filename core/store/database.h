// Private to the store: one SQLite connection over our VFS, with statements that
// cannot leak and errors that name the file and the place.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>

#include "host/files.h"
#include "host/random.h"
#include "model/bytes.h"
#include "model/result.h"
#include "store/vfs.h"

struct sqlite3;
struct sqlite3_stmt;

namespace slipway::store {

// What the storage refused, as a person hears it.
model::Error error_of(host::IoStatus trouble, const std::string& file, const std::string& place);

class Database;

class Statement {
 public:
  Statement(Database& database, std::string_view sql);
  ~Statement();
  Statement(const Statement&) = delete;
  Statement& operator=(const Statement&) = delete;

  Statement& bind(std::int64_t value);
  Statement& bind(std::string_view text);
  Statement& bind(model::ByteView bytes);

  bool step();                      // true: a row is here; false: done or failed, see failed()
  bool run();                       // steps to the end; true: no failure
  bool failed() const { return failed_; }

  std::int64_t number(int column) const;
  std::string text(int column) const;
  model::Bytes bytes(int column) const;

 private:
  Database& database_;
  sqlite3_stmt* statement_ = nullptr;
  int next_parameter_ = 1;
  bool failed_ = false;
};

class Database {
 public:
  Database(host::Files& files, host::Random& random, std::string file_name);
  ~Database();
  Database(const Database&) = delete;
  Database& operator=(const Database&) = delete;

  model::Result<model::Done> open();
  void close();
  bool execute(std::string_view sql);           // false: see error()
  model::Error error() const;                   // of the last failure, in facts
  bool in_transaction() const;
  sqlite3* handle() const { return handle_; }
  void forget_failure();
  void note_failure(int code);
  bool troubled() const { return vfs_.last_trouble() != host::IoStatus::ok; }  // the storage refused something

 private:
  struct Failure {
    int code = 0;
    std::string message;
    host::IoStatus trouble = host::IoStatus::ok;  // what the storage itself said, and where
    std::string place;
  };

  Vfs vfs_;
  std::string file_name_;
  sqlite3* handle_ = nullptr;
  Failure failure_;
};

// Begins at once; rolled back unless kept.
class Transaction {
 public:
  explicit Transaction(Database& database);
  ~Transaction();
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;

  bool begun() const { return begun_; }
  bool keep();  // COMMIT; true only when it is on stable storage

 private:
  Database& database_;
  bool begun_ = false;
};

}  // namespace slipway::store
