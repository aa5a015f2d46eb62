// Places in a list that can always take one more between two others (fractional order):
// a byte string that sorts, so that moving one thing writes one value and never moves another.
#pragma once

#include <cstdint>
#include <string>

namespace slipway::model {

// A position strictly between two: lower < between < upper by bytes. An empty `lower` is the very
// beginning, an empty `upper` the very end. Never ends in a zero byte, so that there is always
// room in front of it. If lower >= upper (two things stand at one place) the answer follows `lower`.
std::string position_between(const std::string& lower, const std::string& upper);

// The position of the n-th place, from 1, of a list that was numbered: rises with n.
std::string position_of_place(std::uint64_t place);

}  // namespace slipway::model
