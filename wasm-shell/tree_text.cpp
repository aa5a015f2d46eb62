#include "tree_text.h"

#include <array>
#include <charconv>
#include <cmath>
#include <string_view>

namespace slipway::web {

namespace {

void add_hex(std::string& out, std::uint64_t value, int digits) {
  constexpr std::string_view kDigits = "0123456789abcdef";
  for (int shift = 4 * (digits - 1); shift >= 0; shift -= 4) out += kDigits[(value >> shift) & 15U];
}

void add_text(std::string& out, std::string_view text) {
  out += '"';
  for (const char sign : text) {
    if (sign == '"' || sign == '\\') out += '\\';
    if (static_cast<unsigned char>(sign) < 0x20) {
      out += "\\u";
      add_hex(out, static_cast<unsigned char>(sign), 4);
    } else {
      out += sign;
    }
  }
  out += '"';
}

void add_number(std::string& out, std::int64_t number) {
  std::array<char, 24> digits{};
  const auto done = std::to_chars(digits.data(), digits.data() + digits.size(), number);
  out.append(digits.data(), done.ptr);
}

// To a hundredth of a CSS pixel.
void add_length(std::string& out, float length) {
  std::int64_t hundredths = std::llround(static_cast<double>(length) * 100);
  if (hundredths < 0) {
    out += '-';
    hundredths = -hundredths;
  }
  add_number(out, hundredths / 100);
  if (hundredths % 100 == 0) return;
  out += '.';
  if (hundredths % 100 < 10) out += '0';
  add_number(out, hundredths % 100);
}

// One object: a comma before each member but the first.
class Object {
 public:
  explicit Object(std::string& out) : out_(out) { out_ += '{'; }
  Object(const Object&) = delete;
  Object& operator=(const Object&) = delete;
  ~Object() { out_ += '}'; }

  void text(std::string_view key, std::string_view value) {
    if (value.empty()) return;
    begin(key);
    add_text(out_, value);
  }
  void id(std::string_view key, model::NodeId value) {
    if (value == 0) return;
    begin(key);
    out_ += '"';
    add_hex(out_, value, 16);
    out_ += '"';
  }
  void number(std::string_view key, std::int64_t value) {
    begin(key);
    add_number(out_, value);
  }
  void length(std::string_view key, float value) {
    begin(key);
    add_length(out_, value);
  }
  void flag(std::string_view key, bool value) {
    if (!value) return;
    begin(key);
    out_ += "true";
  }
  void rect(const model::Rect& rect) {
    begin("rect");
    out_ += '[';
    for (const float side : {rect.x, rect.y, rect.width, rect.height}) {
      if (out_.back() != '[') out_ += ',';
      add_length(out_, side);
    }
    out_ += ']';
  }
  std::string& begin(std::string_view key) {
    if (!first_) out_ += ',';
    first_ = false;
    out_ += '"';
    out_ += key;
    out_ += "\":";
    return out_;
  }

 private:
  std::string& out_;
  bool first_ = true;
};

std::string_view word(model::Answers answers) {
  switch (answers) {
    case model::Answers::press: return "press";
    case model::Answers::set_value: return "set_value";
    case model::Answers::step: return "step";
    case model::Answers::nothing: break;
  }
  return "";
}

std::string_view word(model::InputMode mode) {
  switch (mode) {
    case model::InputMode::text: return "text";
    case model::InputMode::numeric: return "numeric";
    case model::InputMode::decimal: return "decimal";
    case model::InputMode::none: break;
  }
  return "";
}

void add(std::string& out, const model::Node& node) {
  Object object(out);
  object.id("id", node.id);
  object.id("parent", node.parent);
  object.id("area", node.area);
  object.text("role", node.role == model::Role::text ? "text" : model::to_text(node.role));
  object.text("answers", word(node.answers));
  object.text("input", word(node.input));
  object.text("name", node.name);
  object.text("value", node.value);
  object.text("hint", node.hint);
  if (node.role == model::Role::spinbutton) {
    object.number("low", node.low);
    object.number("high", node.high);
    object.number("now", node.now);
  }
  object.flag("disabled", node.disabled);
  object.flag("checked", node.checked);
  object.flag("pressed", node.pressed);
  object.flag("current", node.current);
  object.flag("invalid", node.invalid);
  if (node.set_size > 0) {
    object.number("position", node.position);
    object.number("set_size", node.set_size);
  }
  object.rect(node.rect);
}

void add(std::string& out, const model::ScrollArea& area) {
  Object object(out);
  object.id("id", area.id);
  object.text("name", area.name);
  object.rect(area.rect);
  object.length("content_height", area.content_height);
  object.length("scroll_y", area.scroll_y);
}

void add(std::string& out, const model::Announcement& said) {
  Object object(out);
  object.number("serial", static_cast<std::int64_t>(said.serial));
  object.flag("urgent", said.urgent);
  object.text("text", said.text);
}

template <class Item>
void add_list(Object& object, std::string_view key, const std::vector<Item>& items) {
  std::string& out = object.begin(key);
  out += '[';
  for (const Item& item : items) {
    if (&item != items.data()) out += ',';
    add(out, item);
  }
  out += ']';
}

}  // namespace

std::string tree_text(const model::Tree& tree) {
  std::string out;
  {
    Object object(out);
    add_list(object, "areas", tree.areas);
    add_list(object, "nodes", tree.nodes);
    add_list(object, "announcements", tree.announcements);
    object.id("focus", tree.focus);
  }
  return out;
}

}  // namespace slipway::web
