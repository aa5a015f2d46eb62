#include "json_fields.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace slipway::native::json {

namespace {

using model::ErrorKind;

constexpr double kFourOrMore = 4;

std::string plain(double value) {
  std::string text = Json(value).dump();
  return text.ends_with(".0") ? text.substr(0, text.size() - 2) : text;
}

std::string numbered(std::string_view name, std::size_t i) { return std::string(name) + "[" + std::to_string(i) + "]"; }

}  // namespace

model::Result<Json> parse(std::string_view text) {
  std::vector<std::set<std::string>> seen;
  std::optional<std::string> twice;
  const auto watch = [&](int, nlohmann::detail::parse_event_t event, Json& value) {
    using Event = nlohmann::detail::parse_event_t;
    if (event == Event::object_start) seen.emplace_back();
    if (event == Event::object_end) seen.pop_back();
    if (event == Event::key && !seen.back().insert(value.get<std::string>()).second && !twice) twice = value.get<std::string>();
    return true;
  };
  try {
    Json read = Json::parse(text, watch);
    if (twice) return model::error(ErrorKind::invalid, "ask.twice", {*twice});
    return read;
  } catch (const Json::parse_error& error) {
    return model::error(ErrorKind::invalid, "ask.not_json", {std::to_string(error.byte)});
  } catch (const Json::exception&) {  // a number beyond every range
    return model::error(ErrorKind::invalid, "ask.not_json", {"1"});
  }
}

Fields::Fields(const Json& object, std::string where, std::optional<model::Error>& trouble)
    : object_(&object), where_(std::move(where)), trouble_(&trouble) {
  if (!object.is_object()) take(model::error(ErrorKind::invalid, "ask.not_object", {where_.empty() ? "JSON" : where_}));
}

std::string Fields::path(std::string_view name) const { return where_.empty() ? std::string(name) : where_ + "." + std::string(name); }

void Fields::refuse(const char* text_id, std::string_view name, std::vector<std::string> more) {
  more.insert(more.begin(), path(name));
  take(model::error(ErrorKind::invalid, text_id, std::move(more)));
}

const Json* Fields::find(std::string_view name) {
  if (std::find(asked_.begin(), asked_.end(), name) == asked_.end()) asked_.emplace_back(name);
  if (!object_->is_object()) return nullptr;
  const auto found = object_->find(std::string(name));
  return found == object_->end() || found->is_null() ? nullptr : &*found;
}

bool Fields::has(std::string_view name) { return find(name) != nullptr; }
const Json* Fields::any(std::string_view name) { return find(name); }

std::optional<double> Fields::number_of(const Json& found, std::string_view name, double least, double most) {
  if (!found.is_number()) refuse("ask.number", name);
  else if (const double value = found.get<double>(); value >= least && value <= most) return value;
  else refuse("ask.range", name, {plain(least), plain(most)});
  return std::nullopt;
}

std::optional<std::int64_t> Fields::whole_of(const Json& found, std::string_view name, std::int64_t least, std::int64_t most) {
  const auto value = number_of(found, name, static_cast<double>(least), static_cast<double>(most));
  if (!value) return std::nullopt;
  if (std::floor(*value) == *value) return static_cast<std::int64_t>(*value);
  refuse("ask.whole", name);
  return std::nullopt;
}

std::optional<double> Fields::number(std::string_view name, double least, double most) {
  const Json* found = find(name);
  return found == nullptr ? std::nullopt : number_of(*found, name, least, most);
}

std::optional<std::int64_t> Fields::whole(std::string_view name, std::int64_t least, std::int64_t most) {
  const Json* found = find(name);
  return found == nullptr ? std::nullopt : whole_of(*found, name, least, most);
}

std::optional<bool> Fields::yes_no(std::string_view name) {
  const Json* found = find(name);
  if (found == nullptr) return std::nullopt;
  if (found->is_boolean()) return found->get<bool>();
  refuse("ask.yes_no", name);
  return std::nullopt;
}

std::optional<std::string> Fields::text(std::string_view name) {
  const Json* found = find(name);
  if (found == nullptr) return std::nullopt;
  if (found->is_string()) return found->get<std::string>();
  refuse("ask.text", name);
  return std::nullopt;
}

std::optional<model::Day> Fields::day(std::string_view name) {
  const auto said = text(name);
  if (!said) return std::nullopt;
  if (const auto read = model::read_day(*said)) return *read;
  refuse("ask.day", name);
  return std::nullopt;
}

std::optional<std::uint32_t> Fields::rir_halves(std::string_view name) {
  const Json* found = find(name);
  if (found == nullptr) return std::nullopt;
  if (*found == "4+") return 8;
  if (found->is_number()) {
    const double value = found->get<double>();
    if (value >= 0 && value <= kFourOrMore && std::floor(value * 2) == value * 2) return static_cast<std::uint32_t>(value * 2);
  }
  refuse("ask.rir", name);
  return std::nullopt;
}

std::vector<std::int64_t> Fields::wholes(std::string_view name, std::int64_t least, std::int64_t most) {
  const Json* found = find(name);
  std::vector<std::int64_t> out;
  if (found == nullptr) return out;
  if (!found->is_array()) refuse("ask.list", name);
  for (std::size_t i = 0; found->is_array() && i < found->size(); ++i)
    if (const auto one = whole_of((*found)[i], numbered(name, i), least, most)) out.push_back(*one);
  return out;
}

std::vector<std::string> Fields::texts(std::string_view name) {
  const Json* found = find(name);
  std::vector<std::string> out;
  if (found == nullptr) return out;
  if (!found->is_array()) refuse("ask.list", name);
  for (std::size_t i = 0; found->is_array() && i < found->size(); ++i) {
    if ((*found)[i].is_string()) out.push_back((*found)[i].get<std::string>());
    else refuse("ask.text", numbered(name, i));
  }
  return out;
}

std::vector<Fields> Fields::objects(std::string_view name) {
  const Json* found = find(name);
  std::vector<Fields> out;
  if (found == nullptr) return out;
  if (!found->is_array()) refuse("ask.list", name);
  for (std::size_t i = 0; found->is_array() && i < found->size(); ++i)
    out.emplace_back((*found)[i], path(numbered(name, i)), *trouble_);
  return out;
}

std::optional<Fields> Fields::object(std::string_view name) {
  const Json* found = find(name);
  if (found == nullptr) return std::nullopt;
  return Fields(*found, path(name), *trouble_);
}

std::int64_t Fields::need_whole(std::string_view name, std::int64_t least, std::int64_t most) {
  if (!has(name)) refuse("ask.missing", name);
  return whole(name, least, most).value_or(0);
}

std::string Fields::need_text(std::string_view name) {
  if (!has(name)) refuse("ask.missing", name);
  return text(name).value_or("");
}

model::Day Fields::need_day(std::string_view name) {
  if (!has(name)) refuse("ask.missing", name);
  return day(name).value_or(model::Day{});
}

void Fields::close() {
  if (!object_->is_object()) return;
  for (const auto& [name, value] : object_->items()) {
    if (std::find(asked_.begin(), asked_.end(), name) != asked_.end()) continue;
    std::string all;
    for (const std::string& known : asked_) all += (all.empty() ? "" : ", ") + known;
    return refuse("ask.unknown", name, {all});
  }
}

Json rounded(double value, int decimals) {
  const double scale = std::pow(10, decimals);
  const double out = std::round(value * scale) / scale;
  return std::isfinite(out) ? Json(out) : Json(value);
}

}  // namespace slipway::native::json
