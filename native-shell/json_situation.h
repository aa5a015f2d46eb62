// A question to the rules, from JSON: the words of the domain handbook in snake_case, with units in the names.
// For the json_*.cpp files alone.
#pragma once

#include "json_fields.h"
#include "rules/situation.h"

namespace slipway::native::json {

struct Question {
  rules::SessionSituation situation;
  bool one_exercise = true;  // asked about by "exercise"; false: a list, "exercises"
};
model::Result<Question> read_question(const Json& asked);

// json_history.cpp: the sessions before, oldest first. Undated ones lie 3 days apart, the newest `gap_days` before today.
struct HistoryWish {
  model::Day today;
  bool today_said = false;
  std::int32_t gap_days = 3;
};
void read_history(Fields& in, const HistoryWish& wish, rules::SessionSituation& out);

// Shared by both.
rules::StandingDose read_dose(Fields& in, const rules::StandingDose& otherwise);  // closes nothing
std::optional<std::uint32_t> read_joints(Fields& in);
std::string read_region(Fields& in, std::string_view name);
// "date" or "days_ago"; otherwise `if_missing`.
model::Day read_day_of(Fields& in, const HistoryWish& wish, model::Day if_missing);
std::int64_t midnight_ms(model::Day day);
std::optional<std::int64_t> read_clock_ms(Fields& in, std::string_view name);  // since midnight

}  // namespace slipway::native::json
