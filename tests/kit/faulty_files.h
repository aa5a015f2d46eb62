// host::Files in memory on which the n-th call goes wrong, once or from then on.
//
// A refused write has already written its first half, as a real one may have. The n
// counts only calls that the fault can strike: reads for short_read; writing, flushing,
// truncating and creating for full; every call for failed.
#pragma once

#include <cstdint>
#include <memory>
#include <string_view>

#include "kit/plain_files.h"

namespace slipway::kit {

enum class Fault : std::uint8_t {
  failed,       // the storage says no
  short_read,   // half of what was asked for, and "ok"
  full,         // no room
  silent_loss,  // a write or truncate says "ok" and does nothing: no promise stands that, tests of the tests only
};
enum class Lasting : std::uint8_t { once, sticky };

class FaultyFiles : public host::Files {
 public:
  PlainFiles plain;  // what is there

  void break_at(std::uint64_t nth, Fault fault, Lasting lasting);  // the nth call from now, from 1
  void repair() { left_ = 0; }
  bool struck() const { return struck_; }  // since break_at

  host::IoStatus open(std::string_view name, host::OpenMode mode, std::unique_ptr<host::File>& out) override;
  host::IoStatus remove(std::string_view name) override;
  bool exists(std::string_view name) override { return plain.exists(name); }

  enum class Call : std::uint8_t { open, create, remove, read, write, truncate, flush, size };
  bool strikes(Call call);  // counts the call
  Fault fault() const { return fault_; }
  host::IoStatus refusal() const { return fault_ == Fault::full ? host::IoStatus::full : host::IoStatus::failed; }

 private:
  std::uint64_t left_ = 0;  // calls until it breaks; 0: sound
  Fault fault_ = Fault::failed;
  Lasting lasting_ = Lasting::once;
  bool struck_ = false;
};

}  // namespace slipway::kit
