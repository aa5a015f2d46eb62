#include "model/json.h"

#include <algorithm>
#include <charconv>
#include <utility>

#include "model/bytes.h"

namespace slipway::model {

// ---- writing ------------------------------------------------------------------------------------------

void JsonWriter::value_begins() {
  if (!first_ && !named_) out_ += ',';
  first_ = named_ = false;
}

JsonWriter& JsonWriter::object() {
  value_begins();
  out_ += '{';
  open_ += '}';
  first_ = true;
  return *this;
}

JsonWriter& JsonWriter::list() {
  value_begins();
  out_ += '[';
  open_ += ']';
  first_ = true;
  return *this;
}

JsonWriter& JsonWriter::end() {
  out_ += open_.back();
  open_.pop_back();
  first_ = false;
  return *this;
}

JsonWriter& JsonWriter::name(std::string_view name) {
  value_begins();
  put_text(name);
  out_ += ':';
  named_ = true;
  return *this;
}

JsonWriter& JsonWriter::text(std::string_view text) {
  value_begins();
  put_text(text);
  return *this;
}

JsonWriter& JsonWriter::whole(std::uint64_t number) {
  value_begins();
  out_ += std::to_string(number);
  return *this;
}

JsonWriter& JsonWriter::with_sign(std::int64_t number) {
  value_begins();
  out_ += std::to_string(number);
  return *this;
}

JsonWriter& JsonWriter::yes_no(bool truth) {
  value_begins();
  out_ += truth ? "true" : "false";
  return *this;
}

JsonWriter& JsonWriter::nothing() {
  value_begins();
  out_ += "null";
  return *this;
}

JsonWriter& JsonWriter::json(std::string_view value) {
  value_begins();
  out_ += value;
  return *this;
}

void JsonWriter::put_text(std::string_view text) {
  constexpr std::string_view kDigits = "0123456789abcdef";
  out_ += '"';
  for (const char sign : text) {
    const auto byte = static_cast<std::uint8_t>(sign);
    if (sign == '"' || sign == '\\') {
      out_ += '\\';
      out_ += sign;
    } else if (byte < 0x20) {
      out_ += "\\u00";
      out_ += kDigits[byte >> 4];
      out_ += kDigits[byte & 15U];
    } else {
      out_ += sign;
    }
  }
  out_ += '"';
}

// ---- reading ------------------------------------------------------------------------------------------

const JsonValue* JsonValue::find(std::string_view name) const {
  const auto at = std::find(names.begin(), names.end(), name);
  return at == names.end() ? nullptr : &items[static_cast<std::size_t>(at - names.begin())];
}

namespace {

template <class T>
std::optional<T> number_of(const JsonValue& value) {
  if (value.kind != JsonValue::Kind::number) return std::nullopt;
  T number = 0;
  const char* end = value.text.data() + value.text.size();
  const auto read = std::from_chars(value.text.data(), end, number);
  if (read.ec != std::errc{} || read.ptr != end) return std::nullopt;
  return number;
}

bool is_digit(char sign) { return sign >= '0' && sign <= '9'; }

void put_utf8(std::string& out, std::uint32_t point) {
  if (point < 0x80) {
    out += static_cast<char>(point);
  } else if (point < 0x800) {
    out += static_cast<char>(0xC0 | (point >> 6));
    out += static_cast<char>(0x80 | (point & 0x3F));
  } else if (point < 0x10000) {
    out += static_cast<char>(0xE0 | (point >> 12));
    out += static_cast<char>(0x80 | ((point >> 6) & 0x3F));
    out += static_cast<char>(0x80 | (point & 0x3F));
  } else {
    out += static_cast<char>(0xF0 | (point >> 18));
    out += static_cast<char>(0x80 | ((point >> 12) & 0x3F));
    out += static_cast<char>(0x80 | ((point >> 6) & 0x3F));
    out += static_cast<char>(0x80 | (point & 0x3F));
  }
}

class Reader {
 public:
  Reader(std::string_view text, const JsonLimits& limits) : text_(text), limits_(limits) {}

  Result<JsonValue> read() {
    JsonValue root;
    JsonValue* into = &root;  // the value that comes next goes here; nullptr: one has just been read
    while (fits_) {
      blanks();
      if (into != nullptr) {
        if (!value(*into)) return no();
        const bool opened = into->kind == JsonValue::Kind::list || into->kind == JsonValue::Kind::object;
        if (!opened) {
          into = nullptr;
        } else if (open_.size() == limits_.depth) {
          return too_large();
        } else {
          open_.push_back(into);  // stays in place: what it lies in gets no new items while it is open
          blanks();
          into = takes(close_of(*open_.back())) ? closed() : next_item();
          if (!fits_) break;
          if (into == nullptr && broken_) return no();
        }
        continue;
      }
      if (open_.empty()) return at_ == text_.size() ? Result<JsonValue>(std::move(root)) : no();
      if (takes(',')) {
        blanks();
        into = next_item();
        if (broken_) return no();
      } else if (takes(close_of(*open_.back()))) {
        into = closed();
      } else {
        return no();
      }
    }
    return too_large();
  }

 private:
  Error no() const { return error(ErrorKind::damaged, "json.sign", {std::to_string(at_)}); }
  Error too_large() const { return error(ErrorKind::too_large, "json.limit", {std::to_string(at_)}); }
  static char close_of(const JsonValue& open) { return open.kind == JsonValue::Kind::list ? ']' : '}'; }

  JsonValue* closed() {
    open_.pop_back();
    return nullptr;
  }

  // Room for one more item of what is open, after its name in an object. nullptr: broken_ or over the limit.
  JsonValue* next_item() {
    JsonValue& open = *open_.back();
    if (++values_ > limits_.values || open.names.size() == limits_.names) {
      fits_ = false;
      return nullptr;
    }
    if (open.kind == JsonValue::Kind::object) {
      std::string name;
      broken_ = !letters(name);
      if (!broken_) blanks();
      broken_ = broken_ || !takes(':') || open.find(name) != nullptr;
      if (broken_) return nullptr;
      open.names.push_back(std::move(name));
    }
    return &open.items.emplace_back();
  }

  void blanks() {
    while (at_ < text_.size() && (text_[at_] == ' ' || text_[at_] == '\t' || text_[at_] == '\n' || text_[at_] == '\r')) ++at_;
  }
  bool takes(char sign) {
    if (at_ == text_.size() || text_[at_] != sign) return false;
    ++at_;
    return true;
  }
  bool takes(std::string_view word) {
    if (text_.substr(at_, word.size()) != word) return false;
    at_ += word.size();
    return true;
  }

  bool value(JsonValue& out) {
    using Kind = JsonValue::Kind;
    if (takes('{')) return says(out, Kind::object);
    if (takes('[')) return says(out, Kind::list);
    if (takes("null")) return says(out, Kind::nothing);
    if (takes("false")) return says(out, Kind::yes_no);
    if (takes("true")) return out.truth = says(out, Kind::yes_no);
    if (at_ < text_.size() && text_[at_] == '"') return letters(out.text) && says(out, Kind::text);
    return number(out.text) && says(out, Kind::number);
  }
  static bool says(JsonValue& out, JsonValue::Kind kind) {
    out.kind = kind;
    return true;
  }

  bool digits() {
    const std::size_t from = at_;
    while (at_ < text_.size() && is_digit(text_[at_])) ++at_;
    return at_ > from;
  }
  bool number(std::string& out) {
    const std::size_t from = at_;
    takes('-');
    if (!takes('0') && !digits()) return false;
    if (takes('.') && !digits()) return false;
    if (takes('e') || takes('E')) {
      if (!takes('+')) takes('-');
      if (!digits()) return false;
    }
    out = text_.substr(from, at_ - from);
    return true;
  }

  bool four_digits(std::uint32_t& out) {
    if (text_.size() - at_ < 4) return false;
    const char* from = text_.data() + at_;
    const auto read = std::from_chars(from, from + 4, out, 16);
    if (read.ec != std::errc{} || read.ptr != from + 4) return false;
    at_ += 4;
    return true;
  }
  // After "\u". A pair of surrogates is one sign; half of one is none.
  bool code_point(std::string& out) {
    std::uint32_t point = 0, low = 0;
    if (!four_digits(point) || point == 0) return false;
    if (point >= 0xD800 && point < 0xE000) {
      if (point >= 0xDC00 || !takes("\\u") || !four_digits(low) || low < 0xDC00 || low >= 0xE000) return false;
      point = 0x10000 + ((point - 0xD800) << 10) + (low - 0xDC00);
    }
    put_utf8(out, point);
    return true;
  }
  bool letters(std::string& out) {
    constexpr std::string_view kEscaped = "\"\\/bfnrt", kMeant = "\"\\/\b\f\n\r\t";
    if (!takes('"')) return false;
    while (at_ < text_.size()) {
      const char sign = text_[at_++];
      if (sign == '"') return is_utf8(out);
      if (static_cast<std::uint8_t>(sign) < 0x20) return false;
      if (sign != '\\') {
        out += sign;
        continue;
      }
      if (takes('u')) {
        if (!code_point(out)) return false;
        continue;
      }
      const std::size_t which = at_ < text_.size() ? kEscaped.find(text_[at_]) : std::string_view::npos;
      if (which == std::string_view::npos) return false;
      out += kMeant[which];
      ++at_;
    }
    return false;
  }

  std::string_view text_;
  const JsonLimits& limits_;
  std::size_t at_ = 0, values_ = 0;
  std::vector<JsonValue*> open_;  // outermost first
  bool broken_ = false, fits_ = true;
};

}  // namespace

std::optional<std::uint64_t> JsonValue::whole() const { return number_of<std::uint64_t>(*this); }
std::optional<std::int64_t> JsonValue::with_sign() const { return number_of<std::int64_t>(*this); }

Result<JsonValue> read_json(std::string_view text, const JsonLimits& limits) { return Reader(text, limits).read(); }

}  // namespace slipway::model
