#include "sync/armour.h"

#include <array>
#include <charconv>
#include <string_view>

#include "ops/chain.h"

namespace slipway::sync {

namespace {

constexpr std::string_view kBegin = "=== slipway bundle begins: keep all lines ===";
constexpr std::string_view kEndHead = "=== slipway bundle ends: ";  // then "1234 bytes, check 0123456789abcdef ==="
constexpr std::string_view kEndMiddle = " bytes, check ";
constexpr std::string_view kEndTail = " ===";
constexpr std::string_view kSigns = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";
constexpr std::size_t kColumns = 76;  // mail wraps longer lines [RFC 2045, from memory]

std::string end_line(model::ByteView file) {
  std::string line(kEndHead);
  line += std::to_string(file.size());
  line += kEndMiddle;
  line += model::shorten(ops::blake2b(file)).hex();
  line += kEndTail;
  return line;
}

constexpr std::array<std::int8_t, 256> make_values() {
  std::array<std::int8_t, 256> values{};
  for (auto& value : values) value = -1;
  for (std::size_t i = 0; i < kSigns.size(); ++i) values[static_cast<std::uint8_t>(kSigns[i])] = static_cast<std::int8_t>(i);
  return values;
}
constexpr std::array<std::int8_t, 256> kValues = make_values();

}  // namespace

std::string armour(model::ByteView file) {
  std::string text(kBegin);
  std::size_t column = kColumns;
  const auto sign = [&](char c) {
    if (column == kColumns) {
      text += '\n';
      column = 0;
    }
    text += c;
    ++column;
  };
  for (std::size_t at = 0; at < file.size(); at += 3) {
    const std::size_t here = std::min<std::size_t>(3, file.size() - at);
    std::uint32_t group = 0;
    for (std::size_t i = 0; i < 3; ++i) group = (group << 8) | (i < here ? file[at + i] : 0U);
    for (std::size_t i = 0; i < 4; ++i) sign(i <= here ? kSigns[(group >> (18 - 6 * i)) & 63U] : '=');
  }
  text += '\n';
  text += end_line(file);
  text += '\n';
  return text;
}

namespace {

// Lines of a text whatever system ended them, without blanks at their ends.
class Lines {
 public:
  explicit Lines(std::string_view text) : text_(text) {
    if (text_.substr(0, kByteOrderMark.size()) == kByteOrderMark) at_ = kByteOrderMark.size();
  }

  // The next line that is not blank; false at the end.
  bool next(std::string_view& line) {
    while (at_ < text_.size()) {
      line_at_ = at_;
      const std::size_t end = std::min(text_.find_first_of("\r\n", at_), text_.size());
      line = text_.substr(at_, end - at_);
      at_ = end == text_.size() ? end : end + 1;
      while (!line.empty() && (line.back() == ' ' || line.back() == '\t')) line.remove_suffix(1);
      if (!line.empty()) return true;
    }
    line_at_ = text_.size();
    return false;
  }
  std::size_t line_at() const { return line_at_; }

 private:
  std::string_view text_;
  std::size_t at_ = 0, line_at_ = 0;
};

// One line of base64 into bytes; nothing may follow a padded group.
class Base64 {
 public:
  bool add(std::string_view line) {
    for (const char c : line) {
      if (c == '=') {
        if (count_ < 2) return false;  // also the sign after a group that was padded
        ++padding_;
      } else if (kValues[static_cast<std::uint8_t>(c)] < 0 || padding_ > 0 || over_) {
        return false;
      }
      group_ = (group_ << 6) | (c == '=' ? 0U : static_cast<std::uint32_t>(kValues[static_cast<std::uint8_t>(c)]));
      if (++count_ == 4 && !close_group()) return false;
    }
    return true;
  }
  bool finished() const { return count_ == 0; }
  model::Bytes& bytes() { return bytes_; }

 private:
  bool close_group() {
    const std::uint32_t unused = padding_ == 0 ? 0U : group_ & ((1U << (8 * padding_)) - 1U);
    if (unused != 0) return false;  // signs that say nothing must be zero
    for (std::size_t i = 0; i + padding_ < 3; ++i) bytes_.push_back(static_cast<std::uint8_t>(group_ >> (16 - 8 * i)));
    over_ = padding_ > 0;
    group_ = 0;
    count_ = 0;
    padding_ = 0;
    return true;
  }

  model::Bytes bytes_;
  std::uint32_t group_ = 0;
  std::size_t count_ = 0, padding_ = 0;
  bool over_ = false;
};

}  // namespace

bool is_armoured(model::ByteView file) {
  Lines lines(model::as_text(file.first(std::min<std::size_t>(file.size(), 4096))));
  std::string_view line;
  return lines.next(line) && line.substr(0, kBegin.size()) == kBegin;
}

model::Result<model::Bytes> take_off_armour(model::ByteView text, const Door& door, const Limits& limits) {
  if (text.size() / 2 > limits.file_bytes) return door.too_large("armour", limits.file_bytes);
  Lines lines(model::as_text(text));
  std::string_view line;
  lines.next(line);
  if (line != kBegin) return door.damaged("bundle.armour", "armour", lines.line_at());
  Base64 base64;
  while (true) {
    if (!lines.next(line)) return door.damaged("bundle.cut", "armour", text.size());
    if (line.substr(0, 3) == "===") break;
    if (!base64.add(line)) return door.damaged("bundle.armour", "armour", lines.line_at());
  }
  const std::size_t end_at = lines.line_at();
  if (!base64.finished()) return door.damaged("bundle.armour", "armour", end_at);
  if (line != end_line(base64.bytes())) return door.damaged("bundle.hash", "armour", end_at);
  if (lines.next(line)) return door.damaged("bundle.extra", "armour", lines.line_at());
  return std::move(base64.bytes());
}

}  // namespace slipway::sync
