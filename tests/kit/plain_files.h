// host::Files in memory, with a switch for "the storage is full": enough for journeys.
#pragma once

#include <algorithm>
#include <cstring>
#include <map>
#include <optional>
#include <string>

#include "host/files.h"
#include "model/bytes.h"

namespace slipway::kit {

class PlainFiles : public host::Files {
 public:
  std::map<std::string, model::Bytes, std::less<>> content;  // what stays when the app is gone
  host::IoStatus refuses = host::IoStatus::ok;               // answered by every write while it is set
  std::optional<std::uint64_t> room = {};                    // bytes in all; a write beyond is answered "full"

  host::IoStatus open(std::string_view name, host::OpenMode mode, std::unique_ptr<host::File>& out) override {
    const auto found = content.find(name);
    if (found == content.end()) {
      if (mode != host::OpenMode::create_if_missing) return host::IoStatus::missing;
      content[std::string(name)] = {};
    }
    out = std::make_unique<PlainFile>(*this, std::string(name));
    return host::IoStatus::ok;
  }
  host::IoStatus remove(std::string_view name) override {
    content.erase(std::string(name));
    return host::IoStatus::ok;
  }
  bool exists(std::string_view name) override {
    const auto found = content.find(name);
    return found != content.end() && !found->second.empty();
  }

  std::uint64_t used() const {
    std::uint64_t bytes = 0;
    for (const auto& [name, file] : content) bytes += file.size();
    return bytes;
  }

 private:
  class PlainFile : public host::File {
   public:
    PlainFile(PlainFiles& owner, std::string name) : owner_(owner), name_(std::move(name)) {}

    host::IoStatus read(std::uint64_t offset, std::span<std::uint8_t> into, std::size_t& got) override {
      const model::Bytes& bytes = owner_.content[name_];
      const std::uint64_t left = offset < bytes.size() ? bytes.size() - offset : 0;
      got = static_cast<std::size_t>(std::min<std::uint64_t>(left, into.size()));
      if (got > 0) std::memcpy(into.data(), bytes.data() + offset, got);
      return host::IoStatus::ok;
    }
    host::IoStatus write(std::uint64_t offset, std::span<const std::uint8_t> from) override {
      if (owner_.refuses != host::IoStatus::ok) return owner_.refuses;
      model::Bytes& bytes = owner_.content[name_];
      const std::size_t end = static_cast<std::size_t>(offset) + from.size();
      if (bytes.size() < end && owner_.room && owner_.used() + end - bytes.size() > *owner_.room) return host::IoStatus::full;
      if (bytes.size() < end) bytes.resize(end);
      std::memcpy(bytes.data() + offset, from.data(), from.size());
      return host::IoStatus::ok;
    }
    host::IoStatus truncate(std::uint64_t size) override {
      owner_.content[name_].resize(static_cast<std::size_t>(size));
      return host::IoStatus::ok;
    }
    host::IoStatus flush() override { return host::IoStatus::ok; }
    host::IoStatus size(std::uint64_t& out) override {
      out = owner_.content[name_].size();
      return host::IoStatus::ok;
    }

   private:
    PlainFiles& owner_;
    std::string name_;
  };
};

}  // namespace slipway::kit
