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
  std::function<std::string(const std::string& sign_off)> note = {};  // the words of a withdrawn sign-off, by its id [R28]
  std::function<std::string(std::int64_t load_g)> load = {};  // in the units of the reader; missing: "22.5 kg"
};

// Empty where the row has no words of its own.
std::string sentence(const rules::Reason& reason, const Speaking& speaking = {});
// What acted last on an exercise that is left out; else the row its dose came from.
const rules::Reason& told(const rules::ExerciseDecision& exercise);
// The sentence of what is told.
std::string sentence(const rules::ExerciseDecision& exercise, const Speaking& speaking = {});
// What a decision says first: the stop of the session, else the row of the exercise.
std::string sentence(const rules::SessionDecision& session, const rules::ExerciseDecision* exercise, const Speaking& speaking = {});

std::string part_word(std::string_view region, std::uint32_t joints);  // "front shoulder"; by the joints; "" for several or none

}  // namespace slipway::report
