// JSON text [RFC 8259], written and read within limits.
//
// What is read comes from outside: the reader keeps its own stack, so that depth costs no more
// than its limit, and counts values before it keeps them. It takes less than the standard allows:
// a name at most once in an object, texts of well-formed UTF-8 without U+0000. Numbers keep
// their signs as written; whole ones are read exactly, all 64 bits.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "model/result.h"

namespace slipway::model {

class JsonWriter {  // one value on one line; names and values in the order they are written
 public:
  JsonWriter& object();
  JsonWriter& list();
  JsonWriter& end();  // of the object or list that is open
  JsonWriter& name(std::string_view name);
  JsonWriter& text(std::string_view text);  // UTF-8
  JsonWriter& whole(std::uint64_t number);
  JsonWriter& with_sign(std::int64_t number);
  JsonWriter& yes_no(bool truth);
  JsonWriter& nothing();  // null
  JsonWriter& json(std::string_view value);  // a value that is JSON already

  std::string take() { return std::move(out_); }  // every object and list is ended

 private:
  void value_begins();
  void put_text(std::string_view text);

  std::string out_;
  std::string open_;  // brackets to come, innermost last
  bool first_ = true, named_ = false;
};

struct JsonValue {
  enum class Kind : std::uint8_t { nothing, yes_no, number, text, list, object };
  Kind kind = Kind::nothing;
  bool truth = false;
  std::string text;               // of a text; of a number its signs
  std::vector<std::string> names; // of an object, one for each of items
  std::vector<JsonValue> items;   // of a list or object

  const JsonValue* find(std::string_view name) const;      // nullptr: not an object, or no such name
  std::optional<std::uint64_t> whole() const;              // nothing: no whole number, or out of range
  std::optional<std::int64_t> with_sign() const;
  const std::string* as_text() const { return kind == Kind::text ? &text : nullptr; }
};

struct JsonLimits {
  std::size_t depth = 32;
  std::size_t values = std::size_t{1} << 17;
  std::size_t names = 512;  // in one object
};

// Exactly one value, with white space around it. Errors: damaged "json.sign" (args: the byte where
// it stops making sense, from 0), too_large "json.limit" (args: that byte).
Result<JsonValue> read_json(std::string_view text, const JsonLimits& limits = {});

}  // namespace slipway::model
