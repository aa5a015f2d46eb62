#include "sync/door.h"

#include "ops/op.h"

namespace slipway::sync {

using model::ErrorKind;

model::Error Door::no(ErrorKind kind, std::string_view text, std::string_view place, std::uint64_t at) const {
  return model::error(kind, std::string(text), {std::string(file_name), std::string(place), std::to_string(at)});
}

model::Error Door::damaged(std::string_view text, std::string_view place, std::uint64_t at) const {
  return no(ErrorKind::damaged, text, place, at);
}

model::Error Door::too_large(std::string_view place, std::uint64_t limit) const {
  return no(ErrorKind::too_large, "bundle.too_large", place, limit);
}

model::Error Door::newer(std::uint64_t major, std::uint64_t minor) const {
  return model::error(ErrorKind::newer_version, "bundle.newer",
                      {std::string(file_name), std::to_string(major) + "." + std::to_string(minor)});
}

bool Cursor::number(std::uint64_t& value) { return ops::get_varint(bytes_, at_, value); }

bool Cursor::take(std::uint64_t length, model::ByteView& out) {
  if (length > left()) return false;
  out = bytes_.subspan(at_, static_cast<std::size_t>(length));
  at_ += out.size();
  return true;
}

}  // namespace slipway::sync
