// host::Files over what the worker opened before and closes after: a fixed set of files, as
// synchronous access handles of the browser's own file system or as pages kept in IndexedDB.
// A file is there when it is not empty; to remove one is to empty it. When the worker could
// not open them it says why, and every opening answers that.
#pragma once

#include "host/files.h"

namespace slipway::web {

enum class Shelf : std::uint8_t { main, beside };  // beside: an older place, found with the main one

class BrowserFiles : public host::Files {
 public:
  explicit BrowserFiles(Shelf shelf = Shelf::main, host::IoStatus refused = host::IoStatus::ok) : shelf_(shelf), refused_(refused) {}

  host::IoStatus open(std::string_view name, host::OpenMode mode, std::unique_ptr<host::File>& out) override;
  host::IoStatus remove(std::string_view name) override;
  bool exists(std::string_view name) override;
  host::Lasting lasting() override;
  void hand_again() override;

 private:
  std::int32_t slot_of(std::string_view name) const;

  Shelf shelf_;
  host::IoStatus refused_;
};

}  // namespace slipway::web
