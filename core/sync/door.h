// How the door of this room says no: one place that makes its errors.
//
// Every refusal names the file, the place inside it ("table", "ops/3") and the byte
// offset in the bundle's bytes, in this order, as arguments of a text of the table.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "model/bytes.h"
#include "model/result.h"

namespace slipway::sync {

struct Door {
  std::string_view file_name;

  model::Error no(model::ErrorKind kind, std::string_view text, std::string_view place, std::uint64_t at) const;
  model::Error damaged(std::string_view text, std::string_view place, std::uint64_t at) const;
  model::Error too_large(std::string_view place, std::uint64_t limit) const;  // args: file, place, the limit
  model::Error newer(std::uint64_t major, std::uint64_t minor) const;         // args: file, "1.0"
};

// Reads forward over bytes from outside. A step that cannot be taken answers false and
// leaves the cursor where it was. Lengths stay 64 bit until they are known to fit.
class Cursor {
 public:
  explicit Cursor(model::ByteView bytes, std::size_t at = 0) : bytes_(bytes), at_(at) {}  // at: within bytes

  bool number(std::uint64_t& value);                 // canonical varint
  bool take(std::uint64_t length, model::ByteView& out);

  std::size_t at() const { return at_; }
  std::uint64_t left() const { return bytes_.size() - at_; }

 private:
  model::ByteView bytes_;
  std::size_t at_;
};

}  // namespace slipway::sync
