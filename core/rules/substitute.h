// Substitution where something hurts (handbook 5.2).
#pragma once

#include "rules/body.h"

namespace slipway::rules {

// Joints of a region's word; 0: not a word of 5.2.
std::uint32_t region_joints(std::string_view region);
// Whether the "take out" list of that part names the exercise.
bool taken_out(std::string_view region, std::uint32_t joints, const std::string& exercise, const std::string& grip);
// A painless exercise to put in, or nothing.
std::optional<std::string> substitute_for(const Record& record, const model::Rung& rung, const Body& body);

}  // namespace slipway::rules
