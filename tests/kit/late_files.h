// host::Files that answer later, as pages in IndexedDB do: what was written lasts when the test says so.
#pragma once

#include <memory>
#include <string_view>

#include "kit/plain_files.h"

namespace slipway::kit {

class LateFiles : public host::Files {
 public:
  PlainFiles image;    // what the running program sees
  PlainFiles durable;  // what another start would find

  // Everything written so far arrives, in one batch.
  void arrive() {
    hand();
    durable.content = image.content;
    lasts_ = begun_;
    trouble_ = host::IoStatus::ok;
  }
  void refuse(host::IoStatus why) {
    hand();
    trouble_ = why;
  }

  host::IoStatus open(std::string_view name, host::OpenMode mode, std::unique_ptr<host::File>& out) override {
    std::unique_ptr<host::File> file;
    const auto status = image.open(name, mode, file);
    if (status == host::IoStatus::ok) out = std::make_unique<LateFile>(*this, std::move(file));
    return status;
  }
  host::IoStatus remove(std::string_view name) override {
    changed_ = true;
    return image.remove(name);
  }
  bool exists(std::string_view name) override { return image.exists(name); }
  host::Lasting lasting() override {
    return {begun_ + (changed_ ? 1 : 0), lasts_, changed_ ? host::IoStatus::ok : trouble_};
  }
  void hand_again() override { changed_ = changed_ || trouble_ != host::IoStatus::ok; }

 private:
  class LateFile : public host::File {
   public:
    LateFile(LateFiles& owner, std::unique_ptr<host::File> file) : owner_(owner), file_(std::move(file)) {}
    host::IoStatus read(std::uint64_t offset, std::span<std::uint8_t> into, std::size_t& got) override {
      return file_->read(offset, into, got);
    }
    host::IoStatus write(std::uint64_t offset, std::span<const std::uint8_t> bytes) override {
      owner_.changed_ = true;
      return file_->write(offset, bytes);
    }
    host::IoStatus truncate(std::uint64_t size) override {
      owner_.changed_ = true;
      return file_->truncate(size);
    }
    host::IoStatus flush() override { return file_->flush(); }
    host::IoStatus size(std::uint64_t& out) override { return file_->size(out); }

   private:
    LateFiles& owner_;
    std::unique_ptr<host::File> file_;
  };

  void hand() {
    begun_ += changed_ ? 1 : 0;
    changed_ = false;
  }

  bool changed_ = false;
  std::uint64_t begun_ = 0, lasts_ = 0;
  host::IoStatus trouble_ = host::IoStatus::ok;
};

}  // namespace slipway::kit
