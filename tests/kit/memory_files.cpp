#include "kit/memory_files.h"

#include <algorithm>
#include <cstring>

namespace slipway::kit {

namespace {

using host::IoStatus;

class MemoryFile : public host::File {
 public:
  MemoryFile(MemoryDisk& disk, std::string name, bool read_only) : disk_(disk), name_(std::move(name)), read_only_(read_only) {
    disk_.in_use.insert(name_);
  }
  ~MemoryFile() override { disk_.in_use.erase(name_); }

  IoStatus read(std::uint64_t offset, std::span<std::uint8_t> into, std::size_t& got) override {
    got = read_bytes(content(), offset, into);
    return IoStatus::ok;
  }
  IoStatus write(std::uint64_t offset, std::span<const std::uint8_t> bytes) override {
    if (read_only_) return IoStatus::no_permission;
    write_bytes(content(), offset, bytes);
    return IoStatus::ok;
  }
  IoStatus truncate(std::uint64_t size) override {
    if (read_only_) return IoStatus::no_permission;
    content().resize(static_cast<std::size_t>(size));
    return IoStatus::ok;
  }
  IoStatus flush() override { return IoStatus::ok; }
  IoStatus size(std::uint64_t& out) override {
    out = content().size();
    return IoStatus::ok;
  }

 private:
  model::Bytes& content() { return disk_.files[name_]; }

  MemoryDisk& disk_;
  std::string name_;
  bool read_only_;
};

}  // namespace

std::size_t read_bytes(const model::Bytes& from, std::uint64_t offset, std::span<std::uint8_t> into) {
  if (offset >= from.size()) return 0;
  const std::size_t got = std::min(into.size(), from.size() - static_cast<std::size_t>(offset));
  if (got > 0) std::memcpy(into.data(), from.data() + offset, got);
  return got;
}

void write_bytes(model::Bytes& to, std::uint64_t offset, std::span<const std::uint8_t> bytes) {
  if (bytes.empty()) return;
  const std::size_t end = static_cast<std::size_t>(offset) + bytes.size();
  if (to.size() < end) to.resize(end);
  std::memcpy(to.data() + offset, bytes.data(), bytes.size());
}

IoStatus MemoryFiles::open(std::string_view name, host::OpenMode mode, std::unique_ptr<host::File>& out) {
  if (disk_.in_use.count(name) != 0) return IoStatus::busy;
  if (disk_.files.count(name) == 0 && mode != host::OpenMode::create_if_missing) return IoStatus::missing;
  out = std::make_unique<MemoryFile>(disk_, std::string(name), mode == host::OpenMode::read_only);
  disk_.files[std::string(name)];  // a new one is empty
  return IoStatus::ok;
}

IoStatus MemoryFiles::remove(std::string_view name) {
  disk_.files.erase(std::string(name));
  return IoStatus::ok;
}

bool MemoryFiles::exists(std::string_view name) {
  const auto found = disk_.files.find(name);
  return found != disk_.files.end() && !found->second.empty();
}

}  // namespace slipway::kit
