// The reason of every decision as a sentence (handbook 6, column Reason text), from the one text table.
//
// Rows of 6.2 to 6.4 have a text; G13, TODAY, M08 and the rows of the coach's list say nothing here.
#pragma once

#include <cstdint>
#include <functional>
#include <string>

#include "rules/decision.h"

namespace slipway::report {

struct Speaking {
  std::function<std::string(std::int64_t load_g)> load = {};  // in the units of the reader; missing: "22.5 kg"
  std::string note = {};                                      // R28: the words of the coach's note
};

// Empty where the row has no words of its own.
std::string sentence(const rules::Reason& reason, const Speaking& speaking = {});
// Of an exercise that is left out: why. Else the row its dose came from.
std::string sentence(const rules::ExerciseDecision& exercise, const Speaking& speaking = {});
// What a decision says first: the stop of the session, else the row of the exercise.
std::string sentence(const rules::SessionDecision& session, const rules::ExerciseDecision* exercise, const Speaking& speaking = {});

std::string part_word(std::string_view region, std::uint32_t joints);  // "front shoulder"; by the joints; "" for several or none

}  // namespace slipway::report
