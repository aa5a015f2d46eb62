// The one plain table format of assets/ and its one reader.
//
// A line is a row; cells are separated by " | "; the first row names the columns;
// lines that begin with '#' and blank lines are left out. Cells are trimmed UTF-8.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "model/result.h"

namespace slipway::model {

struct Table {
  std::vector<std::string> columns;
  std::vector<std::vector<std::string>> rows;

  // The cell of a named column, empty if there is no such column.
  const std::string& cell(std::size_t row, std::string_view column) const;
};

// Errors: damaged with the line number, if a row has another number of cells than the head.
Result<Table> read_table(std::string_view text);

}  // namespace slipway::model
