// Bytes and the few things everybody does with them.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace slipway::model {

using Bytes = std::vector<std::uint8_t>;
using ByteView = std::span<const std::uint8_t>;

inline ByteView as_bytes(std::string_view text) {
  return {reinterpret_cast<const std::uint8_t*>(text.data()), text.size()};
}
inline std::string_view as_text(ByteView bytes) {
  return {reinterpret_cast<const char*>(bytes.data()), bytes.size()};
}
inline bool equal(ByteView a, ByteView b) {
  return a.size() == b.size() && std::string_view(as_text(a)) == as_text(b);
}
inline void append(Bytes& to, ByteView more) { to.insert(to.end(), more.begin(), more.end()); }

std::string hex(ByteView bytes);                       // lower case, two digits a byte
bool read_hex(std::string_view text, Bytes& out);      // false: odd length or a foreign sign
std::string base64(ByteView bytes);                    // RFC 4648, padded
bool read_base64(std::string_view text, Bytes& out);   // false: any other form
bool is_utf8(std::string_view text);                   // well formed, no surrogates, no NUL

}  // namespace slipway::model
