// host::Files over the browser's own file system: a fixed set of synchronous access
// handles, which the worker opens before and closes after. A file is there when it is
// not empty; to remove one is to empty it. When the worker could not get the handles it
// says why, and every opening answers that.
#pragma once

#include "host/files.h"

namespace slipway::web {

class OpfsFiles : public host::Files {
 public:
  explicit OpfsFiles(host::IoStatus refused = host::IoStatus::ok) : refused_(refused) {}

  host::IoStatus open(std::string_view name, host::OpenMode mode, std::unique_ptr<host::File>& out) override;
  host::IoStatus remove(std::string_view name) override;
  bool exists(std::string_view name) override;

 private:
  host::IoStatus refused_;
};

}  // namespace slipway::web
