#include "model/ids.h"

#include <charconv>

namespace slipway::model {

std::string to_text(const OpKey& key) {
  return key.inc.hex() + ":" + std::to_string(key.seq) + ":" + key.hash.hex();
}

bool read_op_key(std::string_view text, OpKey& out) {
  const auto first = text.find(':');
  if (first == std::string_view::npos) return false;
  const auto second = text.find(':', first + 1);
  if (second == std::string_view::npos) return false;
  Bytes inc;
  Bytes hash;
  if (!read_hex(text.substr(0, first), inc) || inc.size() != 16) return false;
  if (!read_hex(text.substr(second + 1), hash) || hash.size() != 8) return false;
  const auto digits = text.substr(first + 1, second - first - 1);
  std::uint64_t seq = 0;
  const auto read = std::from_chars(digits.data(), digits.data() + digits.size(), seq);
  if (read.ec != std::errc{} || read.ptr != digits.data() + digits.size() || digits.empty()) return false;
  out = OpKey{IncarnationId::from(inc), seq, ShortHash::from(hash)};
  return true;
}

}  // namespace slipway::model
