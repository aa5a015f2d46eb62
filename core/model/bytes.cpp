#include "model/bytes.h"

#include <algorithm>

namespace slipway::model {

namespace {

int digit_of(char sign) {
  if (sign >= '0' && sign <= '9') return sign - '0';
  if (sign >= 'a' && sign <= 'f') return sign - 'a' + 10;
  if (sign >= 'A' && sign <= 'F') return sign - 'A' + 10;
  return -1;
}

}  // namespace

std::string hex(ByteView bytes) {
  static constexpr char kDigits[] = "0123456789abcdef";
  std::string out;
  out.reserve(bytes.size() * 2);
  for (std::uint8_t byte : bytes) {
    out.push_back(kDigits[byte >> 4]);
    out.push_back(kDigits[byte & 15]);
  }
  return out;
}

bool read_hex(std::string_view text, Bytes& out) {
  if (text.size() % 2 != 0) return false;
  Bytes bytes;
  bytes.reserve(text.size() / 2);
  for (std::size_t at = 0; at < text.size(); at += 2) {
    const int high = digit_of(text[at]);
    const int low = digit_of(text[at + 1]);
    if (high < 0 || low < 0) return false;
    bytes.push_back(static_cast<std::uint8_t>(high * 16 + low));
  }
  out = std::move(bytes);
  return true;
}

namespace {
constexpr std::string_view kSixBits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
}

std::string base64(ByteView bytes) {
  std::string out;
  for (std::size_t at = 0; at < bytes.size(); at += 3) {
    const std::size_t here = std::min<std::size_t>(3, bytes.size() - at);
    std::uint32_t group = 0;
    for (std::size_t i = 0; i < 3; ++i) group = (group << 8) | (i < here ? bytes[at + i] : 0U);
    for (std::size_t i = 0; i < 4; ++i) out += i <= here ? kSixBits[(group >> (18 - 6 * i)) & 63U] : '=';
  }
  return out;
}

bool read_base64(std::string_view text, Bytes& out) {
  out.clear();
  for (std::size_t at = 0; at + 4 <= text.size(); at += 4) {
    std::uint32_t group = 0;
    for (std::size_t i = 0; i < 4; ++i) {
      const std::size_t value = kSixBits.find(text[at + i]);
      group = (group << 6) | (value == std::string_view::npos ? 0U : static_cast<std::uint32_t>(value));
    }
    const bool last = at + 4 == text.size();
    const std::size_t padding = !last || text[at + 3] != '=' ? 0 : text[at + 2] != '=' ? 1 : 2;
    for (std::size_t i = 0; i + padding < 3; ++i) out.push_back(static_cast<std::uint8_t>(group >> (16 - 8 * i)));
  }
  return base64(out) == text;  // one form only: what another sign or a stray bit made is not it
}

bool is_utf8(std::string_view text) {
  std::size_t at = 0;
  while (at < text.size()) {
    const auto lead = static_cast<std::uint8_t>(text[at]);
    std::size_t more = 0;
    std::uint32_t code = 0;
    if (lead == 0) return false;
    if (lead < 0x80) {
      at += 1;
      continue;
    }
    if (lead >= 0xC2 && lead <= 0xDF) {
      more = 1;
      code = lead & 0x1FU;
    } else if (lead >= 0xE0 && lead <= 0xEF) {
      more = 2;
      code = lead & 0x0FU;
    } else if (lead >= 0xF0 && lead <= 0xF4) {
      more = 3;
      code = lead & 0x07U;
    } else {
      return false;
    }
    if (text.size() - at <= more) return false;
    for (std::size_t i = 1; i <= more; ++i) {
      const auto next = static_cast<std::uint8_t>(text[at + i]);
      if ((next & 0xC0U) != 0x80U) return false;
      code = (code << 6) | (next & 0x3FU);
    }
    const bool overlong = (more == 2 && code < 0x800) || (more == 3 && code < 0x10000);
    const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
    if (overlong || surrogate || code > 0x10FFFF) return false;
    at += more + 1;
  }
  return true;
}

}  // namespace slipway::model
