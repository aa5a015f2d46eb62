#include "kit/files_promises.h"

#include <array>

#include "model/bytes.h"

namespace slipway::kit {

namespace {

#define HOLDS(condition)                 \
  do {                                   \
    if (!(condition)) return #condition; \
  } while (false)

using host::IoStatus;
using host::OpenMode;

constexpr std::string_view kName = "promise.bin";

// One process with the file open; the file is closed before the process ends.
class Held {
 public:
  explicit Held(StorePlace& place, OpenMode mode = OpenMode::create_if_missing) : files_(place.process()) {
    status = files_->open(kName, mode, file_);
  }

  bool is_open() const { return status == IoStatus::ok && file_ != nullptr; }
  bool writes(std::uint64_t offset, std::string_view text) { return file_->write(offset, model::as_bytes(text)) == IoStatus::ok; }
  bool truncates(std::uint64_t size) { return file_->truncate(size) == IoStatus::ok; }
  bool flushes() { return file_->flush() == IoStatus::ok; }
  std::uint64_t size() {
    std::uint64_t out = ~std::uint64_t{0};
    return file_->size(out) == IoStatus::ok ? out : ~std::uint64_t{0};
  }
  std::string read(std::uint64_t offset, std::size_t amount) {
    model::Bytes into(amount, '?');
    std::size_t got = amount + 1;
    if (file_->read(offset, into, got) != IoStatus::ok) return "refused";
    if (got > amount) return "more than asked for";
    into.resize(got);
    return std::string(model::as_text(into));
  }
  void close() { file_.reset(); }
  host::Files& files() { return *files_; }

  IoStatus status = IoStatus::failed;

 private:
  std::unique_ptr<host::Files> files_;
  std::unique_ptr<host::File> file_;
};

std::string a_missing_file_is_missing(StorePlace& place) {
  HOLDS(Held(place, OpenMode::must_exist).status == IoStatus::missing);
  HOLDS(Held(place, OpenMode::read_only).status == IoStatus::missing);
  HOLDS(!place.process()->exists(kName));
  return {};
}

std::string a_new_file_is_empty(StorePlace& place) {
  Held held(place);
  HOLDS(held.is_open());
  HOLDS(held.size() == 0);
  HOLDS(held.read(0, 10).empty());
  HOLDS(!held.files().exists(kName));
  HOLDS(held.writes(0, "a"));
  HOLDS(held.files().exists(kName));
  return {};
}

std::string bytes_are_read_where_they_were_written(StorePlace& place) {
  Held held(place);
  HOLDS(held.is_open());
  HOLDS(held.writes(0, "swim bench squat"));
  HOLDS(held.writes(5, "BENCH"));
  HOLDS(held.read(0, 16) == "swim BENCH squat");
  HOLDS(held.read(5, 5) == "BENCH");
  HOLDS(held.size() == 16);
  return {};
}

std::string a_read_past_the_end_is_answered_by_what_is_there(StorePlace& place) {
  Held held(place);
  HOLDS(held.is_open() && held.writes(0, "twelve bytes"));
  HOLDS(held.read(7, 100) == "bytes");
  HOLDS(held.read(12, 4).empty());
  HOLDS(held.read(4000, 4).empty());
  HOLDS(held.read(0, 0).empty());
  return {};
}

std::string a_gap_reads_as_zeros(StorePlace& place) {
  Held held(place);
  HOLDS(held.is_open() && held.writes(0, "ab") && held.writes(1000, "yz"));
  HOLDS(held.size() == 1002);
  HOLDS(held.read(0, 1002) == "ab" + std::string(998, '\0') + "yz");
  return {};
}

std::string truncate_cuts_and_forgets(StorePlace& place) {
  Held held(place);
  HOLDS(held.is_open() && held.writes(0, "old bytes that are cut off"));
  HOLDS(held.truncates(3));
  HOLDS(held.size() == 3);
  HOLDS(held.read(0, 26) == "old");
  HOLDS(held.writes(6, "!"));
  HOLDS(held.read(0, 26) == std::string("old\0\0\0!", 7));  // what was cut off does not come back
  HOLDS(held.truncates(0));
  HOLDS(held.size() == 0);
  HOLDS(!held.files().exists(kName));
  return {};
}

std::string flushed_bytes_are_there_for_the_next_process(StorePlace& place) {
  {
    Held held(place);
    HOLDS(held.is_open() && held.writes(0, "kept") && held.flushes());
  }
  {
    Held held(place, OpenMode::must_exist);
    HOLDS(held.is_open());
    HOLDS(held.read(0, 10) == "kept");
    HOLDS(held.writes(4, " twice") && held.truncates(9) && held.flushes());
  }
  Held held(place, OpenMode::read_only);
  HOLDS(held.is_open());
  HOLDS(held.read(0, 20) == "kept twic");
  return {};
}

std::string opening_again_keeps_what_is_there(StorePlace& place) {
  Held held(place);
  HOLDS(held.is_open() && held.writes(0, "still here") && held.flushes());
  held.close();
  std::unique_ptr<host::File> again;
  HOLDS(held.files().open(kName, OpenMode::create_if_missing, again) == IoStatus::ok);
  std::uint64_t size = 0;
  HOLDS(again->size(size) == IoStatus::ok && size == 10);
  return {};
}

std::string removing_leaves_nothing_and_may_be_said_twice(StorePlace& place) {
  {
    Held held(place);
    HOLDS(held.is_open() && held.writes(0, "gone") && held.flushes());
    held.close();
    HOLDS(held.files().remove(kName) == IoStatus::ok);
    HOLDS(!held.files().exists(kName));
    HOLDS(held.files().remove(kName) == IoStatus::ok);
  }
  HOLDS(!place.process()->exists(kName));
  Held again(place);
  HOLDS(again.is_open());
  HOLDS(again.size() == 0);
  return {};
}

std::string two_files_do_not_touch_each_other(StorePlace& place) {
  Held held(place);
  std::unique_ptr<host::File> other;
  HOLDS(held.is_open() && held.files().open("promise.bin-journal", OpenMode::create_if_missing, other) == IoStatus::ok);
  HOLDS(held.writes(0, "database") && other->write(0, model::as_bytes("journal")) == IoStatus::ok);
  HOLDS(other->truncate(0) == IoStatus::ok && other->flush() == IoStatus::ok);
  HOLDS(held.read(0, 20) == "database");
  return {};
}

constexpr std::array kPromises{
    StorePromise{"a file that is not there is missing unless it may be made", a_missing_file_is_missing},
    StorePromise{"a new file is empty, and is there once it holds a byte", a_new_file_is_empty},
    StorePromise{"bytes are read where they were written", bytes_are_read_where_they_were_written},
    StorePromise{"a read past the end is answered by what is there", a_read_past_the_end_is_answered_by_what_is_there},
    StorePromise{"a gap reads as zeros", a_gap_reads_as_zeros},
    StorePromise{"what was cut off does not come back", truncate_cuts_and_forgets},
    StorePromise{"flushed bytes are there for the next process", flushed_bytes_are_there_for_the_next_process},
    StorePromise{"opening again keeps what is there", opening_again_keeps_what_is_there},
    StorePromise{"removing leaves nothing and may be said twice", removing_leaves_nothing_and_may_be_said_twice},
    StorePromise{"two files do not touch each other", two_files_do_not_touch_each_other},
};

}  // namespace

std::span<const StorePromise> files_promises() { return kPromises; }

}  // namespace slipway::kit
