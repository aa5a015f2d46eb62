// Private to the store: our one SQLite VFS over host::Files, the same natively and in wasm.
//
// SQLite is built with SQLITE_OS_OTHER=1, so this is the only way it reaches storage.
// Locks are bookkeeping: the shell guards the store against a second process or tab.
// xCheckReservedLock answers 0 when this process holds no lock; answering "reserved"
// would keep a hot journal from being rolled back after a crash (sync-and-storage 9).
#pragma once

#include <string>
#include <string_view>

#include "host/files.h"
#include "host/random.h"

namespace slipway::store {

class Vfs {
 public:
  // Registers a VFS of its own for as long as this object lives; files and random outlive it.
  Vfs(host::Files& files, host::Random& random);
  ~Vfs();
  Vfs(const Vfs&) = delete;
  Vfs& operator=(const Vfs&) = delete;

  const char* name() const;

  // What the storage last refused and where, in words of facts: "write slipway.db-journal".
  host::IoStatus last_trouble() const;
  const std::string& last_place() const;
  void forget_trouble();

  struct Inside;

 private:
  Inside* inside_;
};

}  // namespace slipway::store
