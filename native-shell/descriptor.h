// A file descriptor that closes itself.
#pragma once

#include <unistd.h>

#include <utility>

namespace slipway::native {

class Descriptor {
 public:
  explicit Descriptor(int descriptor = -1) : descriptor_(descriptor) {}
  Descriptor(Descriptor&& other) noexcept : descriptor_(other.release()) {}
  Descriptor& operator=(Descriptor&& other) noexcept {
    if (this != &other) {
      shut();
      descriptor_ = other.release();
    }
    return *this;
  }
  ~Descriptor() { shut(); }

  explicit operator bool() const { return descriptor_ >= 0; }
  int get() const { return descriptor_; }
  int release() { return std::exchange(descriptor_, -1); }

 private:
  void shut() {
    if (descriptor_ >= 0) ::close(descriptor_);
  }
  int descriptor_;
};

}  // namespace slipway::native
