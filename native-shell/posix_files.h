// host::Files over one folder of this computer.
//
// Promises those of host/files.h: flush() is fdatasync, and a file that was made or
// removed is made or removed for good, because the folder is synced at once. While an
// object lives, no other Slipway has the folder (a lock file, let go by the kernel even
// if the process is killed), and SQLite's own tools find the database locked.
#pragma once

#include <memory>
#include <string>

#include "host/files.h"
#include "model/result.h"

namespace slipway::native {

inline constexpr std::string_view kLockName = "slipway.lock";

// What the system said (an errno value), as the rooms understand it.
host::IoStatus status_of(int system_error);

class PosixFiles : public host::Files {
 public:
  // Errors: not_found, invalid (not a folder), no_permission, busy (another Slipway has it), full, io.
  static model::Result<std::unique_ptr<PosixFiles>> open_folder(const std::string& folder);
  ~PosixFiles() override;
  PosixFiles(const PosixFiles&) = delete;
  PosixFiles& operator=(const PosixFiles&) = delete;

  host::IoStatus open(std::string_view name, host::OpenMode mode, std::unique_ptr<host::File>& out) override;
  host::IoStatus remove(std::string_view name) override;
  bool exists(std::string_view name) override;

 private:
  PosixFiles(int folder, int lock) : folder_(folder), lock_(lock) {}

  int folder_;  // descriptors
  int lock_;
};

}  // namespace slipway::native
