// Private to the book: what values are allowed, and fields from optional values. Each
// refusal names the field and its range; texts are those of the text table.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/book.h"

namespace slipway::app {

using Refusal = std::optional<model::Error>;

model::Error invalid(std::string text, std::vector<std::string> args = {});
model::Error unknown_record(const model::RecordId& id);

Refusal refuse_name(std::string_view name);
Refusal refuse_note(std::string_view note);       // may be empty
Refusal refuse_comment(std::string_view text);    // a longer one; line ends are allowed
Refusal refuse_word(std::string_view word);       // letters a-z, digits and _
Refusal refuse_words(const std::vector<std::string>& words);
Refusal refuse_band_name(std::string_view band);  // a name without spaces; may be empty
Refusal refuse_grip(std::string_view grip);       // may be empty
Refusal refuse_exercise(std::string_view exercise);
Refusal refuse_equipment(const std::vector<std::string>& words);
Refusal refuse_reps(std::string_view exercise, std::uint64_t reps);  // seconds of a hold; of a set that was tried, none is an answer
Refusal refuse_written_reps(std::string_view exercise, std::uint64_t reps);  // one at least
Refusal refuse_load(const model::Quantity& load);
Refusal refuse_rir(std::uint64_t rir);
Refusal refuse_birth_year(std::uint64_t year, model::Day today);
Refusal refuse_birth_month(std::uint64_t month);
Refusal refuse_programme_day(std::uint64_t day);
// "value.<text>" with the number, if it is outside.
Refusal refuse_outside(std::uint64_t number, std::uint64_t low, std::uint64_t high, std::string text);
Refusal refuse_day(model::Day day);               // within what a calendar shows

Refusal refuse_local_ms(std::int64_t local_ms);   // the same

// The first that refuses.
template <class... Refusals>
Refusal first_of(Refusals&&... refusals) {
  Refusal found;
  ((found ? void() : void(found = refusals)), ...);
  return found;
}
template <class T, class Check>
Refusal if_given(const std::optional<T>& value, Check check) {
  return value ? check(*value) : Refusal{};
}

std::string joined(const std::vector<std::string>& words, std::string_view between = " ");

// Appends a field where there is a value.
class Fields {
 public:
  explicit Fields(const model::IncarnationId& home) : home_(home) {}

  Fields& whole(std::uint32_t tag, std::optional<std::uint64_t> value);
  Fields& mark(std::uint32_t tag, bool value);          // 1 if true, else nothing
  Fields& yes_no(std::uint32_t tag, std::optional<bool> value);
  Fields& with_sign(std::uint32_t tag, std::optional<std::int64_t> value);
  Fields& day(std::uint32_t tag, model::Day value) { return with_sign(tag, value.since_1970); }
  Fields& text(std::uint32_t tag, std::string_view value);  // nothing if empty
  Fields& said(std::uint32_t tag, const std::optional<std::string>& value);  // empty too: it was taken away
  Fields& load(std::uint32_t tag, const std::optional<model::Quantity>& value);
  Fields& list(std::uint32_t tag, const std::optional<std::vector<std::uint64_t>>& value);
  Fields& ref(std::uint32_t tag, const std::optional<model::RecordId>& value);
  Fields& refs(std::uint32_t tag, const std::vector<model::RecordId>& values);  // the first kMostRefs of them

  std::vector<ops::Field> take() { return std::move(fields_); }

 private:
  model::IncarnationId home_;
  std::vector<ops::Field> fields_;
};

// A starting programme of two sessions in turn, by age and kit (book_start.cpp).
KitEntry common_kit();
std::vector<PlanLineEntry> starting_lines(const KitEntry& kit, const std::optional<model::Ages>& ages);
model::Programme starting_programme(model::Day today);

// Fields of a plan line; those of the entry that are given.
std::vector<ops::Field> plan_line_fields(const PlanLineEntry& line, const model::IncarnationId& home);
std::vector<ops::Field> kit_fields(const KitEntry& kit, const model::IncarnationId& home);
std::vector<ops::Field> programme_fields(const model::Programme& programme, const model::IncarnationId& home);
Refusal refuse(const KitEntry& kit);

}  // namespace slipway::app
