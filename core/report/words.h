// Words for people, from the one text table (assets/texts.table): the same for the
// screen, the command line and paper. A text is named by its id; {0}, {1} … are filled
// by facts. An unknown id answers the id in brackets, so that a gap is seen, never hidden.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "model/athlete.h"
#include "model/result.h"

namespace slipway::report {

std::string say(std::string_view text_id, const std::vector<std::string>& args = {});
std::string say(const model::Error& error);

// The rows "<about>.1", "<about>.2" … in order, each filled with the same args.
std::vector<std::string> text_lines(const std::string& about, const std::vector<std::string>& args = {});

// Everybody's ids, for the test that holds the table to the code.
std::vector<std::string> text_ids();

std::string author_word(std::uint64_t author);               // "swimmer", "coach" …
std::string dose(std::uint64_t reps, const model::Quantity* load);         // "10 × 22 kg", "10" without a load
std::string spoken_load(const model::Quantity& load);        // "22 kilograms"
std::string number(std::uint64_t value);
std::string capital(std::string words);                      // its first letter

}  // namespace slipway::report
