// Tables of comma separated values [RFC 4180]: lines end in CR LF, cells with a comma, a quote or a line end
// are quoted.
//
// A cell that a spreadsheet would take for a formula (it begins with = + - @, a tab or a carriage return), and one
// that begins with an apostrophe, gets an apostrophe in front. Whoever reads the table takes one leading
// apostrophe off again, and has what was there.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace slipway::report {

std::string csv_cell(std::string_view value);
std::string csv_row(const std::vector<std::string>& cells);

}  // namespace slipway::report
