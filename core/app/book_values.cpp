#include "app/book_values.h"

#include <algorithm>
#include <array>
#include <set>

#include "model/ladder.h"
#include "ops/views.h"

namespace slipway::app {

namespace {

constexpr std::int32_t kDayCeiling = 100'000;  // years 1696 to 2243
constexpr std::uint64_t kFirstBirthYear = 1900;

std::size_t letters(std::string_view text) {  // code points of valid UTF-8
  return static_cast<std::size_t>(
      std::count_if(text.begin(), text.end(), [](char sign) { return (static_cast<unsigned char>(sign) & 0xC0U) != 0x80U; }));
}

bool has_control(std::string_view text) {
  return std::any_of(text.begin(), text.end(), [](char sign) { return static_cast<unsigned char>(sign) < 32; });
}

std::set<std::string, std::less<>> equipment_words() {
  std::set<std::string, std::less<>> words;
  for (const model::Rung& rung : model::rungs())
    for (const std::string& need : rung.equipment) {
      std::size_t at = 0;
      while (at <= need.size()) {  // "dumbbell/kettlebell": either
        const std::size_t end = std::min(need.find('/', at), need.size());
        words.insert(need.substr(at, end - at));
        at = end + 1;
      }
    }
  return words;
}

}  // namespace

model::Error invalid(std::string text, std::vector<std::string> args) {
  return model::error(model::ErrorKind::invalid, std::move(text), std::move(args));
}

model::Error unknown_record(const model::RecordId& id) {
  return model::error(model::ErrorKind::not_found, "record.unknown", {model::to_text(id)});
}

Refusal refuse_name(std::string_view name) {
  const bool blank = name.find_first_not_of(' ') == std::string_view::npos;
  if (blank || has_control(name) || letters(name) > kMaxNameLetters || !model::is_utf8(name)) return invalid("value.name");
  return std::nullopt;
}

Refusal refuse_note(std::string_view note) {
  if (has_control(note) || letters(note) > kMaxNoteLetters || !model::is_utf8(note)) return invalid("value.note");
  return std::nullopt;
}

Refusal refuse_comment(std::string_view text) {
  const auto control = [](char sign) { return (static_cast<unsigned char>(sign) < 0x20 && sign != '\n') || sign == 0x7F; };
  const bool foreign = std::any_of(text.begin(), text.end(), control) || !model::is_utf8(text);
  if (foreign || letters(text) > kMaxCommentLetters) return invalid("value.comment", {std::to_string(kMaxCommentLetters)});
  return std::nullopt;
}

Refusal refuse_word(std::string_view word) {
  const auto plain = [](char sign) { return (sign >= 'a' && sign <= 'z') || (sign >= '0' && sign <= '9') || sign == '_'; };
  if (word.empty() || word.size() > kMaxWordLetters || !std::all_of(word.begin(), word.end(), plain))
    return invalid("value.word", {std::string(word)});
  return std::nullopt;
}

Refusal refuse_words(const std::vector<std::string>& words) {
  if (words.size() > kMaxWords) return invalid("value.word_count", {std::to_string(words.size())});
  for (const std::string& word : words)
    if (auto error = refuse_word(word)) return error;
  return std::nullopt;
}

Refusal refuse_band_name(std::string_view band) {
  if (has_control(band) || band.find(' ') != std::string_view::npos || letters(band) > kMaxWordLetters || !model::is_utf8(band))
    return invalid("value.band_name", {std::string(band)});
  return std::nullopt;
}

Refusal refuse_grip(std::string_view grip) {
  constexpr std::array<std::string_view, 4> kGrips{"", "overhand", "neutral", "underhand"};
  if (std::find(kGrips.begin(), kGrips.end(), grip) == kGrips.end()) return invalid("value.grip", {std::string(grip)});
  return std::nullopt;
}

Refusal refuse_exercise(std::string_view exercise) {
  if (model::find_rung(exercise) != nullptr) return std::nullopt;
  std::string all;
  for (const model::Rung& rung : model::rungs()) all += (all.empty() ? "" : ", ") + rung.id;
  return invalid("value.exercise", {std::string(exercise), all});
}

Refusal refuse_equipment(const std::vector<std::string>& words) {
  const auto known = equipment_words();
  for (const std::string& word : words)
    if (known.count(word) == 0)
      return invalid("value.equipment", {word, joined(std::vector<std::string>(known.begin(), known.end()), ", ")});
  return std::nullopt;
}

Refusal refuse_reps(std::string_view exercise, std::uint64_t reps) {
  const model::Rung* rung = model::find_rung(exercise);
  if (rung != nullptr && rung->is_hold()) return refuse_outside(reps, 0, kMaxHoldSeconds, "value.hold");
  return refuse_outside(reps, 0, kMaxReps, "value.reps");
}

Refusal refuse_written_reps(std::string_view exercise, std::uint64_t reps) {
  return reps == 0 ? Refusal(invalid("value.plan_reps")) : refuse_reps(exercise, reps);
}

Refusal refuse_load(const model::Quantity& load) {
  const bool mass = load.unit == model::Unit::kg || load.unit == model::Unit::lb;
  if (!mass || load.value < 0 || model::grams(load) > kMaxLoadGrams) return invalid("value.load", {model::to_text(load)});
  return std::nullopt;
}

Refusal refuse_rir(std::uint64_t rir) { return refuse_outside(rir, 0, kMaxRir, "value.rir"); }

Refusal refuse_birth_year(std::uint64_t year, model::Day today) {
  const std::uint64_t year_now = std::stoull(model::iso(today).substr(0, 4));
  if (year < kFirstBirthYear || year > year_now) return invalid("value.birth_year", {std::to_string(year_now), std::to_string(year)});
  return std::nullopt;
}

Refusal refuse_birth_month(std::uint64_t month) { return refuse_outside(month, 1, 12, "value.birth_month"); }
Refusal refuse_programme_day(std::uint64_t day) { return refuse_outside(day, 1, 2, "value.programme_day"); }

Refusal refuse_outside(std::uint64_t number, std::uint64_t low, std::uint64_t high, std::string text) {
  if (number >= low && number <= high) return std::nullopt;
  return invalid(std::move(text), {std::to_string(number)});
}

Refusal refuse_day(model::Day day) {
  if (day.since_1970 < -kDayCeiling || day.since_1970 > kDayCeiling) return invalid("value.day", {std::to_string(day.since_1970)});
  return std::nullopt;
}

Refusal refuse_local_ms(std::int64_t local_ms) {
  constexpr std::int64_t kDayMs = 86'400'000;
  if (local_ms < -kDayCeiling * kDayMs || local_ms > kDayCeiling * kDayMs) return invalid("value.day", {std::to_string(local_ms)});
  return std::nullopt;
}

std::string joined(const std::vector<std::string>& words, std::string_view between) {
  std::string all;
  for (const std::string& word : words) all += (all.empty() ? std::string() : std::string(between)) + word;
  return all;
}

Fields& Fields::whole(std::uint32_t tag, std::optional<std::uint64_t> value) {
  if (value) fields_.push_back(ops::unsigned_field(tag, *value));
  return *this;
}

Fields& Fields::mark(std::uint32_t tag, bool value) { return value ? whole(tag, 1) : *this; }

Fields& Fields::yes_no(std::uint32_t tag, std::optional<bool> value) {
  return value ? whole(tag, *value ? 1 : 0) : *this;
}

Fields& Fields::with_sign(std::uint32_t tag, std::optional<std::int64_t> value) {
  if (value) fields_.push_back(ops::signed_field(tag, *value));
  return *this;
}

Fields& Fields::text(std::uint32_t tag, std::string_view value) {
  if (!value.empty()) fields_.push_back(ops::text_field(tag, value));
  return *this;
}

Fields& Fields::said(std::uint32_t tag, const std::optional<std::string>& value) {
  if (value) fields_.push_back(ops::text_field(tag, *value));
  return *this;
}

Fields& Fields::load(std::uint32_t tag, const std::optional<model::Quantity>& value) {
  if (value) fields_.push_back(ops::quantity_field(tag, *value));
  return *this;
}

Fields& Fields::list(std::uint32_t tag, const std::optional<std::vector<std::uint64_t>>& value) {
  if (value) fields_.push_back(ops::list_field(tag, *value));
  return *this;
}

Fields& Fields::ref(std::uint32_t tag, const std::optional<model::RecordId>& value) {
  if (value) fields_.push_back(ops::refs_field(tag, {*value}, home_));
  return *this;
}

Fields& Fields::refs(std::uint32_t tag, const std::vector<model::RecordId>& values) {
  const std::size_t most = std::min(values.size(), ops::kMostRefs);
  if (most != 0) fields_.push_back(ops::refs_field(tag, {values.begin(), values.begin() + static_cast<std::ptrdiff_t>(most)}, home_));
  return *this;
}

}  // namespace slipway::app
