// Questions written as JSON, read field by field: what is missing, of the wrong kind, out of range or unknown is
// said by name, and the first trouble counts. For the json_*.cpp files alone, because the library is slow to compile.
#pragma once

#include <nlohmann/json.hpp>

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "model/result.h"
#include "model/units.h"

namespace slipway::native::json {

using Json = nlohmann::ordered_json;

// One JSON text, with no name twice in one object. Errors: invalid "ask.not_json" (and where), "ask.twice".
model::Result<Json> parse(std::string_view text);

class Fields {
 public:
  // `where` names the object in messages: "" or "history[2]".
  Fields(const Json& object, std::string where, std::optional<model::Error>& trouble);

  bool has(std::string_view name);  // there, and not null: null is missing
  std::optional<std::int64_t> whole(std::string_view name, std::int64_t least, std::int64_t most);
  std::optional<double> number(std::string_view name, double least, double most);
  std::optional<bool> yes_no(std::string_view name);
  std::optional<std::string> text(std::string_view name);
  std::optional<model::Day> day(std::string_view name);  // "2026-03-02"
  std::optional<std::uint32_t> rir_halves(std::string_view name);  // 0 … 3.5 in halves; 4 or "4+": four or more, 8
  std::vector<std::int64_t> wholes(std::string_view name, std::int64_t least, std::int64_t most);  // a list
  std::vector<std::string> texts(std::string_view name);                                           // a list
  std::vector<Fields> objects(std::string_view name);    // a list of objects
  std::optional<Fields> object(std::string_view name);
  const Json* any(std::string_view name);                // for a field that may be of two kinds

  template <class T, std::size_t N>
  std::optional<T> choice(std::string_view name, const std::array<std::pair<std::string_view, T>, N>& words) {
    const auto said = text(name);
    if (!said) return std::nullopt;
    std::string all;
    for (const auto& [word, value] : words) {
      if (*said == word) return value;
      all += (all.empty() ? "" : ", ") + std::string(word);
    }
    refuse("ask.choice", name, {all});
    return std::nullopt;
  }

  // As above, but must be there; after a trouble the answer is a zero nobody uses.
  std::int64_t need_whole(std::string_view name, std::int64_t least, std::int64_t most);
  std::string need_text(std::string_view name);
  model::Day need_day(std::string_view name);

  void refuse(const char* text_id, std::string_view name, std::vector<std::string> more = {});
  void take(const model::Error& why) { if (!*trouble_) *trouble_ = why; }
  // Fields nobody asked for are refused. Call it last.
  void close();
  bool fine() const { return !trouble_->has_value(); }
  std::string path(std::string_view name) const;
  const std::vector<std::string>& asked() const { return asked_; }

 private:
  const Json* find(std::string_view name);
  std::optional<double> number_of(const Json& found, std::string_view name, double least, double most);
  std::optional<std::int64_t> whole_of(const Json& found, std::string_view name, std::int64_t least, std::int64_t most);

  const Json* object_;
  std::string where_;
  std::optional<model::Error>* trouble_;
  std::vector<std::string> asked_;
};

// A number as JSON text says it, without what a double cannot hold.
Json rounded(double value, int decimals);

}  // namespace slipway::native::json
