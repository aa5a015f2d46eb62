#include "ops/read_values.h"

namespace slipway::ops {

model::Writer writer_of(const Stamp& stamp) { return {stamp.key, stamp.lam, stamp.author, stamp.claimed}; }

std::optional<std::vector<model::Quantity>> to_quantities(const Field& field) {
  const auto numbers = read_list(field);
  if (!numbers || numbers->size() % 3 != 0) return std::nullopt;
  std::vector<model::Quantity> out;
  for (std::size_t at = 0; at < numbers->size(); at += 3) {
    const std::uint64_t decimals = (*numbers)[at + 1];
    const std::uint64_t unit = (*numbers)[at + 2];
    const std::int64_t value = unzigzag((*numbers)[at]);
    if (decimals > 3 || unit < 1 || unit > 6 || value < -model::kMostQuantity || value > model::kMostQuantity) return std::nullopt;
    out.push_back({value, static_cast<std::uint8_t>(decimals), static_cast<model::Unit>(unit)});
  }
  return out;
}

std::optional<std::uint64_t> to_unsigned(const Field& field) { return read_unsigned(field); }

std::optional<std::vector<std::uint64_t>> to_list(const Field& field) { return read_list(field); }

std::optional<std::string> to_string(const Field& field) {
  const auto text = read_text(field);
  return text ? std::optional<std::string>(std::string(*text)) : std::nullopt;
}

std::optional<std::vector<std::string>> to_words(const Field& field) {
  const auto text = read_text(field);
  if (!text) return std::nullopt;
  std::vector<std::string> words;
  std::string word;
  for (char sign : std::string(*text) + " ") {
    if (sign != ' ') {
      word += sign;
    } else if (!word.empty()) {
      words.push_back(std::move(word));
      word.clear();
    }
  }
  return words;
}

std::optional<model::Quantity> to_quantity(const Field& field) {
  const auto list = to_quantities(field);
  return list && list->size() == 1 ? std::optional<model::Quantity>(list->front()) : std::nullopt;
}

namespace {

constexpr std::int64_t kDayCeiling = 4'000'000;  // about the year 12,900: far beyond any claimed date
constexpr std::int64_t kDayMs = 86'400'000;

}  // namespace

std::optional<model::Day> to_day(const Field& field) {
  const auto days = read_signed(field);
  if (!days || *days < -kDayCeiling || *days > kDayCeiling) return std::nullopt;
  return model::Day{static_cast<std::int32_t>(*days)};
}

std::optional<std::int64_t> to_signed_ms(const Field& field) {
  const auto ms = read_signed(field);
  if (!ms || *ms < -kDayCeiling * kDayMs || *ms > kDayCeiling * kDayMs) return std::nullopt;
  return ms;
}

Marks marks(const Record& record, std::uint32_t tag) {
  Marks out;
  for (const auto& version : versions<std::uint64_t>(record, tag, to_unsigned).all) (version.value == 1 ? out.any_yes : out.any_no) = true;
  return out;
}

bool own_mark(const Record& record, std::uint32_t tag) { return own_value<std::uint64_t>(record, tag, to_unsigned).value_or(0) == 1; }

std::optional<model::RecordId> first_ref(const Record& record, std::uint32_t tag) {
  for (const Written& written : record.visible(tag)) {
    const auto keys = read_refs(Field{tag, written.wire, written.payload}, written.by.key.inc);
    if (keys && keys->size() == 1) return keys->front();
  }
  return std::nullopt;
}

std::vector<model::RecordId> own_refs(const Record& record, std::uint32_t tag) {
  const auto own = record.own(tag);
  if (!own) return {};
  return read_refs(*own, record.created->key.inc).value_or(std::vector<model::OpKey>{});
}

}  // namespace slipway::ops
