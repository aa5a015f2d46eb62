#include "store/forgetting_files.h"

#include <algorithm>
#include <cstring>

namespace slipway::store {

namespace {

using host::IoStatus;

// Far more than a log of sets comes to; keeps a 64-bit length inside a 32-bit size_t.
constexpr std::uint64_t kMostBytes = 512ULL * 1024 * 1024;

class ForgettingFile : public host::File {
 public:
  ForgettingFile(std::shared_ptr<model::Bytes> bytes, bool read_only) : bytes_(std::move(bytes)), read_only_(read_only) {}

  IoStatus read(std::uint64_t offset, std::span<std::uint8_t> into, std::size_t& got) override {
    got = 0;
    if (into.empty() || offset >= bytes_->size()) return IoStatus::ok;  // an empty span may point nowhere
    got = std::min(into.size(), bytes_->size() - static_cast<std::size_t>(offset));
    std::memcpy(into.data(), bytes_->data() + offset, got);
    return IoStatus::ok;
  }
  IoStatus write(std::uint64_t offset, std::span<const std::uint8_t> bytes) override {
    if (read_only_) return IoStatus::no_permission;
    if (offset > kMostBytes || bytes.size() > kMostBytes - offset) return IoStatus::full;
    if (bytes.empty()) return IoStatus::ok;
    const auto end = static_cast<std::size_t>(offset) + bytes.size();
    if (bytes_->size() < end) bytes_->resize(end);
    std::memcpy(bytes_->data() + offset, bytes.data(), bytes.size());
    return IoStatus::ok;
  }
  IoStatus truncate(std::uint64_t size) override {
    if (read_only_) return IoStatus::no_permission;
    if (size > kMostBytes) return IoStatus::full;
    bytes_->resize(static_cast<std::size_t>(size));
    return IoStatus::ok;
  }
  IoStatus flush() override { return IoStatus::ok; }
  IoStatus size(std::uint64_t& out) override {
    out = bytes_->size();
    return IoStatus::ok;
  }

 private:
  std::shared_ptr<model::Bytes> bytes_;
  bool read_only_;
};

}  // namespace

IoStatus ForgettingFiles::open(std::string_view name, host::OpenMode mode, std::unique_ptr<host::File>& out) {
  auto found = files_.find(std::string(name));
  if (found == files_.end()) {
    if (mode != host::OpenMode::create_if_missing) return IoStatus::missing;
    found = files_.emplace(std::string(name), std::make_shared<model::Bytes>()).first;
  }
  out = std::make_unique<ForgettingFile>(found->second, mode == host::OpenMode::read_only);
  return IoStatus::ok;
}

IoStatus ForgettingFiles::remove(std::string_view name) {
  files_.erase(std::string(name));
  return IoStatus::ok;
}

bool ForgettingFiles::exists(std::string_view name) {
  const auto found = files_.find(std::string(name));
  return found != files_.end() && !found->second->empty();
}

}  // namespace slipway::store
