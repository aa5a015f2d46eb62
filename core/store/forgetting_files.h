// host::Files that live as long as this object: for a browser that keeps nothing, and for
// looking around in the made-up squad, in every shell. flush() promises no more than that.
#pragma once

#include <map>
#include <string>

#include "host/files.h"
#include "model/bytes.h"

namespace slipway::store {

class ForgettingFiles : public host::Files {
 public:
  host::IoStatus open(std::string_view name, host::OpenMode mode, std::unique_ptr<host::File>& out) override;
  host::IoStatus remove(std::string_view name) override;
  bool exists(std::string_view name) override;

 private:
  std::map<std::string, std::shared_ptr<model::Bytes>> files_;
};

}  // namespace slipway::store
