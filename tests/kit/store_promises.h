// What every store keeps on every storage: one list of promises, to be held against the
// memory twin, the POSIX files and the browser's files alike. No doctest here, so that a
// shell can run it where no test program runs.
#pragma once

#include <memory>
#include <span>
#include <string>
#include <string_view>

#include "host/files.h"

namespace slipway::kit {

// A storage that processes come to and leave. Each call is one more process on the same
// storage: what an earlier one left is there, what an earlier one still holds is busy.
class StorePlace {
 public:
  virtual ~StorePlace() = default;
  virtual std::unique_ptr<host::Files> process() = 0;
};

struct StorePromise {
  std::string_view name;
  std::string (*broken)(StorePlace& place);  // of an empty place; empty answer: kept
};

std::span<const StorePromise> store_promises();

}  // namespace slipway::kit
