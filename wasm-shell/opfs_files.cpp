#include "opfs_files.h"

#include <limits>

#include "outside.h"

namespace slipway::web {

namespace {

using host::IoStatus;

// lib_opfs.js answers with an IoStatus whose sign is turned, or with a count.
IoStatus status_of(std::int32_t answer) { return answer >= 0 ? IoStatus::ok : static_cast<IoStatus>(-answer); }

std::int32_t slot_of(std::string_view name) { return slipway_file_slot(name.data(), name.size()); }

class OpfsFile : public host::File {
 public:
  OpfsFile(std::int32_t slot, bool read_only) : slot_(slot), read_only_(read_only) {}

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

IoStatus OpfsFiles::open(std::string_view name, host::OpenMode mode, std::unique_ptr<host::File>& out) {
  if (refused_ != IoStatus::ok) return refused_;
  const std::int32_t slot = slot_of(name);
  if (slot < 0) return mode == host::OpenMode::create_if_missing ? IoStatus::failed : IoStatus::missing;
  if (mode == host::OpenMode::must_exist && !exists(name)) return IoStatus::missing;
  out = std::make_unique<OpfsFile>(slot, mode == host::OpenMode::read_only);
  return IoStatus::ok;
}

IoStatus OpfsFiles::remove(std::string_view name) {
  if (refused_ != IoStatus::ok) return refused_;
  const std::int32_t slot = slot_of(name);
  if (slot < 0) return IoStatus::ok;
  const IoStatus emptied = status_of(slipway_file_truncate(slot, 0));
  return emptied == IoStatus::ok ? status_of(slipway_file_flush(slot)) : emptied;
}

bool OpfsFiles::exists(std::string_view name) {
  const std::int32_t slot = refused_ == IoStatus::ok ? slot_of(name) : -1;
  return slot >= 0 && slipway_file_size(slot) > 0;
}

}  // namespace slipway::web
