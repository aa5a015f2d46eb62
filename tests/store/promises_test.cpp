#include <doctest/doctest.h>

#include "kit/memory_files.h"
#include "kit/store_promises.h"

using namespace slipway;

namespace {

class MemoryPlace : public kit::StorePlace {
 public:
  std::unique_ptr<host::Files> process() override { return std::make_unique<kit::MemoryFiles>(disk_); }

 private:
  kit::MemoryDisk disk_;
};

}  // namespace

TEST_CASE("the store keeps each of its promises on files in memory") {
  for (const kit::StorePromise& promise : kit::store_promises()) {
    MemoryPlace place;
    INFO(promise.name);
    CHECK(promise.broken(place) == "");
  }
}
