// Small helpers to write reasons. Private to this room.
#pragma once

#include <utility>

#include "rules/decision.h"

namespace slipway::rules {

inline Argument number(std::string name, std::int64_t value) { return {std::move(name), value, {}}; }
inline Argument word(std::string name, std::string text) { return {std::move(name), 0, std::move(text)}; }
inline Reason reason(std::string row, std::vector<Argument> args = {}, std::vector<Evidence> evidence = {}) {
  return {std::move(row), std::move(args), std::move(evidence), {}};
}

}  // namespace slipway::rules
