// The bytes of one field. Nearly all are a few bytes long, and there are many: up to
// kInside of them live in the object itself, without a trip to the allocator.
#pragma once

#include <algorithm>
#include <cstdint>
#include <cstring>
#include <memory>

#include "model/bytes.h"

namespace slipway::ops {

class Payload {
 public:
  static constexpr std::size_t kInside = 20;

  Payload() = default;
  Payload(model::ByteView bytes) { put(bytes); }  // NOLINT: a payload is its bytes
  Payload(const model::Bytes& bytes) : Payload(model::ByteView(bytes)) {}
  Payload(const Payload& other) : Payload(model::ByteView(other)) {}
  Payload(Payload&& other) noexcept { take(other); }
  Payload& operator=(const Payload& other) {
    if (this == &other) return *this;
    drop();
    put(other);
    return *this;
  }
  Payload& operator=(Payload&& other) noexcept {
    if (this == &other) return *this;
    drop();
    take(other);
    return *this;
  }
  ~Payload() { drop(); }

  const std::uint8_t* data() const { return size_ <= kInside ? bytes_ : outside(); }
  std::size_t size() const { return size_; }
  bool empty() const { return size_ == 0; }
  const std::uint8_t* begin() const { return data(); }
  const std::uint8_t* end() const { return data() + size_; }
  std::uint8_t operator[](std::size_t at) const { return data()[at]; }
  operator model::ByteView() const { return {data(), size_}; }  // NOLINT: a payload is its bytes

  friend bool operator==(const Payload& a, const Payload& b) { return std::equal(a.begin(), a.end(), b.begin(), b.end()); }
  friend bool operator<(const Payload& a, const Payload& b) { return std::lexicographical_compare(a.begin(), a.end(), b.begin(), b.end()); }

 private:
  std::uint8_t* outside() const {
    std::uint8_t* pointer = nullptr;
    std::memcpy(&pointer, bytes_, sizeof(pointer));
    return pointer;
  }
  void put(model::ByteView bytes) {
    std::uint8_t* to = bytes_;
    if (bytes.size() > kInside) {
      to = std::allocator<std::uint8_t>().allocate(bytes.size());
      std::memcpy(bytes_, &to, sizeof(to));
    }
    size_ = static_cast<std::uint32_t>(bytes.size());
    if (!bytes.empty()) std::memcpy(to, bytes.data(), bytes.size());
  }
  void take(Payload& other) noexcept {
    std::memcpy(bytes_, other.bytes_, kInside);
    size_ = other.size_;
    other.size_ = 0;
  }
  void drop() {
    if (size_ > kInside) std::allocator<std::uint8_t>().deallocate(outside(), size_);
    size_ = 0;
  }

  std::uint32_t size_ = 0;
  std::uint8_t bytes_[kInside] = {};  // or, where they do not fit, where they are
};

}  // namespace slipway::ops
