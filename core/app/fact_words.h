// The words of facts that are stored as ids: group, limits, kit, days of the week, why a session
// was short, what is consented to. In the order of their pages.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>

#include "model/athlete.h"

namespace slipway::app {

struct FactWord {
  std::string_view word;   // as it is stored
  const char* text = "";   // text id
};

std::span<const FactWord> known_groups();
std::span<const FactWord> known_limits();
std::span<const FactWord> known_bands();      // thickest first, as a kit keeps them
std::span<const FactWord> known_equipment();  // the words of assets/ladders.table
std::span<const char* const> week_texts();    // text ids, Monday first

std::string words_of(std::span<const FactWord> all, std::string_view word);  // the id itself of one we do not know
std::string short_words(model::ShortReason reason);                          // "short: no time"
std::string adult_words(model::AdultRole role);                              // "A coach"
std::string thing_words(model::ConsentThing thing);                          // "training log"
std::string side_words(const model::Pain& pain);                             // "left", "both sides"; nothing: not said

}  // namespace slipway::app
