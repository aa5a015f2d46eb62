// The promises of host::Files and of the store, run inside a browser on its own storage: called by files_worker.js, which
// has opened the files and holds the lock.
#include <emscripten.h>

#include <span>
#include <string>

#include "browser_files.h"
#include "kit/files_promises.h"
#include "kit/store_promises.h"

using namespace slipway;

namespace {

// One worker is one process: who comes while another is still there gets what a second window's program is given.
class WorkerPlace : public kit::StorePlace {
 public:
  std::unique_ptr<host::Files> process() override {
    return std::make_unique<Process>(*this, here_ > 0 ? host::IoStatus::busy : host::IoStatus::ok);
  }

 private:
  class Process : public web::BrowserFiles {
   public:
    Process(WorkerPlace& place, host::IoStatus refused) : web::BrowserFiles(web::Shelf::main, refused), place_(place) { ++place_.here_; }
    ~Process() override { --place_.here_; }
    Process(const Process&) = delete;
    Process& operator=(const Process&) = delete;

   private:
    WorkerPlace& place_;
  };

  int here_ = 0;
};

std::span<const kit::StorePromise> list(std::int32_t which) { return which == 0 ? kit::files_promises() : kit::store_promises(); }

}  // namespace

#define SLIPWAY_CALL extern "C" EMSCRIPTEN_KEEPALIVE

// Lists: 0 of the files, 1 of the store.
SLIPWAY_CALL std::int32_t slipway_promises(std::int32_t which) { return static_cast<std::int32_t>(list(which).size()); }

SLIPWAY_CALL const char* slipway_promise_name(std::int32_t which, std::int32_t nth) {
  static std::string text;
  text = list(which)[static_cast<std::size_t>(nth)].name;
  return text.c_str();
}

// On empty files. Empty: kept.
SLIPWAY_CALL const char* slipway_promise_broken(std::int32_t which, std::int32_t nth) {
  static std::string text;
  WorkerPlace place;
  text = list(which)[static_cast<std::size_t>(nth)].broken(place);
  return text.c_str();
}
