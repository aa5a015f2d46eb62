#include "browser_files.h"

#include <limits>

#include "outside.h"

namespace slipway::web {

namespace {

using host::IoStatus;

// lib_files.js answers with an IoStatus whose sign is turned, or with a count.
IoStatus status_of(std::int32_t answer) { return answer >= 0 ? IoStatus::ok : static_cast<IoStatus>(-answer); }

class BrowserFile : public host::File {
 public:
  BrowserFile(std::int32_t slot, bool read_only) : slot_(slot), read_only_(read_only) {}

  IoStatus read(std::uint64_t offset, std::span<std::uint8_t> into, std::size_t& got) override {
    const std::int32_t answer = slipway_file_read(slot_, static_cast<double>(offset), into.data(), into.size());
    got = answer > 0 ? static_cast<std::size_t>(answer) : 0;
    return status_of(answer);
  }
  IoStatus write(std::uint64_t offset, std::span<const std::uint8_t> bytes) override {
    if (read_only_) return IoStatus::no_permission;
    return status_of(slipway_file_write(slot_, static_cast<double>(offset), bytes.data(), bytes.size()));
  }
  IoStatus truncate(std::uint64_t size) override {
    if (read_only_) return IoStatus::no_permission;
    return status_of(slipway_file_truncate(slot_, static_cast<double>(size)));
  }
  IoStatus flush() override { return status_of(slipway_file_flush(slot_)); }
  IoStatus size(std::uint64_t& out) override {
    const double answer = slipway_file_size(slot_);
    out = answer > 0 ? static_cast<std::uint64_t>(answer) : 0;
    return answer >= 0 ? IoStatus::ok : static_cast<IoStatus>(static_cast<std::int32_t>(-answer));
  }

 private:
  std::int32_t slot_;
  bool read_only_;
};

}  // namespace

std::int32_t BrowserFiles::slot_of(std::string_view name) const {
  return slipway_file_slot(shelf_ == Shelf::beside, name.data(), name.size());
}

IoStatus BrowserFiles::open(std::string_view name, host::OpenMode mode, std::unique_ptr<host::File>& out) {
  if (refused_ != IoStatus::ok) return refused_;
  const std::int32_t slot = slot_of(name);
  if (slot < 0) return mode == host::OpenMode::create_if_missing ? IoStatus::failed : IoStatus::missing;
  if (mode != host::OpenMode::create_if_missing && !exists(name)) return IoStatus::missing;
  out = std::make_unique<BrowserFile>(slot, mode == host::OpenMode::read_only);
  return IoStatus::ok;
}

IoStatus BrowserFiles::remove(std::string_view name) {
  if (refused_ != IoStatus::ok) return refused_;
  const std::int32_t slot = slot_of(name);
  if (slot < 0) return IoStatus::ok;
  const IoStatus emptied = status_of(slipway_file_truncate(slot, 0));
  return emptied == IoStatus::ok ? status_of(slipway_file_flush(slot)) : emptied;
}

bool BrowserFiles::exists(std::string_view name) {
  const std::int32_t slot = refused_ == IoStatus::ok ? slot_of(name) : -1;
  return slot >= 0 && slipway_file_size(slot) > 0;
}

// Only the main shelf is written by a person.
host::Lasting BrowserFiles::lasting() {
  if (shelf_ == Shelf::beside) return {};
  return {static_cast<std::uint64_t>(slipway_files_handed()), static_cast<std::uint64_t>(slipway_files_last()),
          static_cast<IoStatus>(slipway_files_trouble())};
}

void BrowserFiles::hand_again() { slipway_files_hand_again(); }

}  // namespace slipway::web
