#include "forgetting_files.h"

#include <algorithm>

namespace slipway::native {

namespace {

using host::IoStatus;

constexpr std::uint64_t kMostBytes = 64ULL << 20;  // a squad to look at never needs more

class ForgettingFile : public host::File {
 public:
  explicit ForgettingFile(std::shared_ptr<model::Bytes> bytes) : bytes_(std::move(bytes)) {}

  IoStatus read(std::uint64_t offset, std::span<std::uint8_t> into, std::size_t& got) override {
    const std::uint64_t held = bytes_->size();
    got = offset >= held ? 0 : static_cast<std::size_t>(std::min<std::uint64_t>(into.size(), held - offset));
    std::copy_n(bytes_->begin() + static_cast<std::ptrdiff_t>(std::min(offset, held)), got, into.begin());
    return IoStatus::ok;
  }
  IoStatus write(std::uint64_t offset, std::span<const std::uint8_t> bytes) override {
    if (offset > kMostBytes || bytes.size() > kMostBytes - offset) return IoStatus::full;
    const auto end = static_cast<std::size_t>(offset + bytes.size());
    if (bytes_->size() < end) bytes_->resize(end);
    std::copy(bytes.begin(), bytes.end(), bytes_->begin() + static_cast<std::ptrdiff_t>(offset));
    return IoStatus::ok;
  }
  IoStatus truncate(std::uint64_t size) override {
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
};

}  // namespace

host::IoStatus ForgettingFiles::open(std::string_view name, host::OpenMode mode, std::unique_ptr<host::File>& out) {
  auto found = files_.find(std::string(name));
  if (found == files_.end() && mode != host::OpenMode::create_if_missing) return IoStatus::missing;
  if (found == files_.end()) found = files_.emplace(std::string(name), std::make_shared<model::Bytes>()).first;
  out = std::make_unique<ForgettingFile>(found->second);
  return IoStatus::ok;
}

host::IoStatus ForgettingFiles::remove(std::string_view name) {
  files_.erase(std::string(name));
  return IoStatus::ok;
}

bool ForgettingFiles::exists(std::string_view name) {
  const auto found = files_.find(std::string(name));
  return found != files_.end() && !found->second->empty();
}

}  // namespace slipway::native
