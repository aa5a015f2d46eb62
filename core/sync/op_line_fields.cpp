#include "sync/op_line_fields.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <utility>

namespace slipway::sync {

namespace {

using model::JsonValue;
using model::JsonWriter;
using ops::Field;
using ops::FieldInfo;
using ops::Wire;

constexpr std::string_view kQuantity = "quantity";
constexpr std::array<std::string_view, 7> kUnits{"", "kg", "lb", "m", "yd", "cm", "in"};  // by model::Unit
constexpr std::uint64_t kMostDecimals = 3;
constexpr std::size_t kNumbersAQuantity = 3;

// The registry both ways round. Common fields stand under kind 0.
struct Names {
  std::map<std::pair<std::uint32_t, std::uint32_t>, const FieldInfo*> by_tag;
  std::map<std::pair<std::uint32_t, std::string_view>, const FieldInfo*> by_name;
  std::map<std::string_view, std::uint32_t> kinds;

  Names() {
    for (const ops::KindInfo& kind : ops::kinds()) kinds[kind.name] = kind.kind;
    for (const FieldInfo& field : ops::fields()) {
      by_tag[{field.kind, field.tag}] = &field;
      by_name[{field.kind, field.name}] = &field;
    }
  }
  const FieldInfo* find(std::uint32_t kind, std::uint32_t tag) const {
    const auto found = by_tag.find({tag < ops::tag::own ? 0 : kind, tag});
    return found == by_tag.end() ? nullptr : found->second;
  }
  const FieldInfo* find(std::uint32_t kind, std::string_view name) const {
    const auto found = by_name.find({kind, name});
    return found == by_name.end() ? nullptr : found->second;
  }
};
const Names& names() {
  static const Names kNames;
  return kNames;
}

std::string_view kind_name(std::uint32_t kind) {
  const ops::KindInfo* info = ops::find_kind(kind);
  return info == nullptr ? std::string_view() : info->name;
}

// ---- one value ------------------------------------------------------------------------------------------

void write_quantity(JsonWriter& out, std::uint64_t value, std::uint64_t decimals, std::uint64_t unit) {
  out.object().name("value").with_sign(ops::unzigzag(value)).name("decimals").whole(decimals);
  out.name("unit").text(kUnits[static_cast<std::size_t>(unit)]).end();
}

bool are_quantities(const std::vector<std::uint64_t>& list) {
  if (list.empty() || list.size() % kNumbersAQuantity != 0) return false;
  for (std::size_t at = 0; at < list.size(); at += kNumbersAQuantity)
    if (list[at + 1] > kMostDecimals || list[at + 2] == 0 || list[at + 2] >= kUnits.size()) return false;
  return true;
}

bool write_list(JsonWriter& out, const std::vector<std::uint64_t>& list, bool quantities) {
  if (quantities && !are_quantities(list)) return false;
  if (quantities && list.size() == kNumbersAQuantity) {
    write_quantity(out, list[0], list[1], list[2]);
    return true;
  }
  out.list();
  for (std::size_t at = 0; at < list.size(); at += quantities ? kNumbersAQuantity : 1)
    if (quantities) write_quantity(out, list[at], list[at + 1], list[at + 2]);
    else out.whole(list[at]);
  out.end();
  return true;
}

// The value in its open form; nothing if it has none that gives back just this payload.
std::optional<std::string> open_form(const Field& field, const FieldInfo& info, const model::IncarnationId& home) {
  JsonWriter out;
  if (info.wire != field.wire) return std::nullopt;
  switch (field.wire) {
    case Wire::unsigned_int:
      if (const auto value = ops::read_unsigned(field); value && ops::unsigned_field(field.tag, *value) == field) return out.whole(*value).take();
      return std::nullopt;
    case Wire::signed_int:
      if (const auto value = ops::read_signed(field); value && ops::signed_field(field.tag, *value) == field) return out.with_sign(*value).take();
      return std::nullopt;
    case Wire::text:
      if (!model::is_utf8(model::as_text(field.payload))) return std::nullopt;
      return out.text(model::as_text(field.payload)).take();
    case Wire::bytes: return out.text(model::base64(field.payload)).take();
    case Wire::unsigned_list: {
      const auto list = ops::read_list(field);
      if (!list || !(ops::list_field(field.tag, *list) == field) || !write_list(out, *list, info.unit == kQuantity)) return std::nullopt;
      return out.take();
    }
    case Wire::refs: {
      const auto keys = ops::read_refs(field, home);
      if (!keys || !(ops::refs_field(field.tag, *keys, home) == field)) return std::nullopt;
      out.list();
      for (const model::OpKey& key : *keys) out.text(model::to_text(key));
      return out.end().take();
    }
  }
  return std::nullopt;
}

bool read_quantity(const JsonValue& value, std::vector<std::uint64_t>& list) {
  const JsonValue *number = value.find("value"), *decimals = value.find("decimals"), *unit = value.find("unit");
  if (number == nullptr || decimals == nullptr || unit == nullptr || unit->as_text() == nullptr) return false;
  const auto typed = number->with_sign();
  const auto places = decimals->whole();
  const auto found = std::find(kUnits.begin() + 1, kUnits.end(), unit->text);
  if (!typed || !places || found == kUnits.end()) return false;
  list.insert(list.end(), {ops::zigzag(*typed), *places, static_cast<std::uint64_t>(found - kUnits.begin())});
  return true;
}

std::optional<Field> read_list_value(const JsonValue& value, const FieldInfo& info) {
  std::vector<std::uint64_t> list;
  if (info.unit == kQuantity && value.kind == JsonValue::Kind::object)
    return read_quantity(value, list) ? std::optional<Field>(ops::list_field(info.tag, list)) : std::nullopt;
  if (value.kind != JsonValue::Kind::list) return std::nullopt;
  for (const JsonValue& item : value.items) {
    const auto number = item.whole();
    if (info.unit == kQuantity ? !read_quantity(item, list) : !number) return std::nullopt;
    if (info.unit != kQuantity) list.push_back(*number);
  }
  return ops::list_field(info.tag, list);
}

std::optional<Field> read_value(const JsonValue& value, const FieldInfo& info, const model::IncarnationId& home) {
  switch (info.wire) {
    case Wire::unsigned_int:
      if (const auto number = value.whole()) return ops::unsigned_field(info.tag, *number);
      return std::nullopt;
    case Wire::signed_int:
      if (const auto number = value.with_sign()) return ops::signed_field(info.tag, *number);
      return std::nullopt;
    case Wire::text:
      if (const std::string* text = value.as_text()) return ops::text_field(info.tag, *text);
      return std::nullopt;
    case Wire::bytes:
      if (model::Bytes bytes; value.as_text() != nullptr && model::read_base64(value.text, bytes)) return ops::bytes_field(info.tag, bytes);
      return std::nullopt;
    case Wire::unsigned_list: return read_list_value(value, info);
    case Wire::refs: {
      if (value.kind != JsonValue::Kind::list) return std::nullopt;
      std::vector<model::OpKey> keys(value.items.size());
      for (std::size_t i = 0; i < keys.size(); ++i)
        if (value.items[i].as_text() == nullptr || !model::read_op_key(value.items[i].text, keys[i])) return std::nullopt;
      return ops::refs_field(info.tag, keys, home);
    }
  }
  return std::nullopt;
}

// ---- names ----------------------------------------------------------------------------------------------

std::optional<std::uint32_t> whole_name(std::string_view name) {
  std::uint32_t tag = 0;
  const auto read = std::from_chars(name.data(), name.data() + name.size(), tag);
  if (read.ec != std::errc{} || read.ptr != name.data() + name.size()) return std::nullopt;
  return tag;
}

// Whose own tags an op carries; 0: of a record that is not here.
std::uint32_t owner_of(const ops::Op& op, const model::IncarnationId& home, const RecordKinds& kinds) {
  if (op.kind != ops::kind::change) return op.kind;
  const Field* target = op.find(ops::tag::target);
  const auto keys = target == nullptr ? std::nullopt : ops::read_refs(*target, home);
  if (!keys || keys->empty()) return 0;
  const auto found = kinds.find(keys->front());
  return found == kinds.end() ? 0 : found->second;
}

const FieldInfo* info_of(std::uint32_t kind, std::string_view name) {
  if (const FieldInfo* common = names().find(0, name)) return common;
  const std::size_t dot = name.find('.');
  if (kind != ops::kind::change || dot == std::string_view::npos) return names().find(kind, name);
  const auto owner = names().kinds.find(name.substr(0, dot));
  return owner == names().kinds.end() ? nullptr : names().find(owner->second, name.substr(dot + 1));
}

std::optional<Field> read_field(const std::string& name, const JsonValue& value, std::uint32_t kind, const model::IncarnationId& home) {
  if (const auto tag = whole_name(name)) {
    const JsonValue *wire = value.find("wire"), *base64 = value.find("base64");
    const auto number = wire == nullptr ? std::nullopt : wire->whole();
    model::Bytes bytes;
    if (!number || *number > 255 || base64 == nullptr || base64->as_text() == nullptr || !model::read_base64(base64->text, bytes)) return std::nullopt;
    return Field{*tag, static_cast<Wire>(*number), bytes};
  }
  const FieldInfo* info = info_of(kind, name);
  return info == nullptr ? std::nullopt : read_value(value, *info, home);
}

}  // namespace

void write_fields(JsonWriter& out, const ops::Op& op, const model::IncarnationId& home, const RecordKinds& kinds) {
  const std::uint32_t owner = owner_of(op, home, kinds);
  out.object();
  for (const Field& field : op.fields) {
    const FieldInfo* info = names().find(owner, field.tag);
    const auto open = info == nullptr ? std::nullopt : open_form(field, *info, home);
    if (open) {
      const bool qualified = op.kind == ops::kind::change && field.tag >= ops::tag::own;
      out.name(qualified ? std::string(kind_name(owner)) + "." + std::string(info->name) : std::string(info->name)).json(*open);
    } else {
      out.name(std::to_string(field.tag)).object().name("wire").whole(static_cast<std::uint64_t>(field.wire));
      out.name("base64").text(model::base64(field.payload)).end();
    }
  }
  out.end();
}

std::optional<std::string> read_fields(const JsonValue& fields, const model::IncarnationId& home, ops::Op& op) {
  if (fields.kind != JsonValue::Kind::object || fields.items.size() > ops::kMaxFields) return "fields";
  for (std::size_t i = 0; i < fields.items.size(); ++i) {
    auto field = read_field(fields.names[i], fields.items[i], op.kind, home);
    if (!field || field->payload.size() > ops::kMaxFieldBytes) return fields.names[i];
    op.fields.push_back(std::move(*field));
  }
  std::sort(op.fields.begin(), op.fields.end(), [](const Field& a, const Field& b) { return a.tag < b.tag; });
  const auto twice = std::adjacent_find(op.fields.begin(), op.fields.end(), [](const Field& a, const Field& b) { return a.tag == b.tag; });
  return twice == op.fields.end() ? std::nullopt : std::optional<std::string>(std::to_string(twice->tag));
}

void write_units(JsonWriter& out) {
  out.object();
  for (const FieldInfo& field : ops::fields())
    if (!field.unit.empty())
      out.name(field.kind == 0 ? std::string(field.name) : std::string(kind_name(field.kind)) + "." + std::string(field.name)).text(field.unit);
  out.end();
}

}  // namespace slipway::sync
