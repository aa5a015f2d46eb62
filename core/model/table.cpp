#include "model/table.h"

namespace slipway::model {

namespace {

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) text.remove_prefix(1);
  while (!text.empty() && (text.back() == ' ' || text.back() == '\t' || text.back() == '\r')) text.remove_suffix(1);
  return text;
}

std::vector<std::string> cells_of(std::string_view line) {
  static constexpr std::string_view kSeparator = " | ";
  std::vector<std::string> cells;
  while (true) {
    const auto end = line.find(kSeparator);
    cells.emplace_back(trimmed(line.substr(0, end)));
    if (end == std::string_view::npos) return cells;
    line.remove_prefix(end + kSeparator.size());
  }
}

}  // namespace

const std::string& Table::cell(std::size_t row, std::string_view column) const {
  static const std::string kNone;
  for (std::size_t i = 0; i < columns.size(); ++i)
    if (columns[i] == column && row < rows.size()) return rows[row][i];
  return kNone;
}

Result<Table> read_table(std::string_view text) {
  Table table;
  std::size_t line_number = 0;
  while (!text.empty()) {
    line_number += 1;
    const auto end = text.find('\n');
    const std::string_view line = trimmed(text.substr(0, end));
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    if (line.empty() || line.starts_with("#")) continue;
    std::vector<std::string> cells = cells_of(line);
    if (table.columns.empty()) {
      table.columns = std::move(cells);
    } else if (cells.size() != table.columns.size()) {
      return error(ErrorKind::damaged, "table.cells",
                   {std::to_string(line_number), std::to_string(cells.size()), std::to_string(table.columns.size())});
    } else {
      table.rows.push_back(std::move(cells));
    }
  }
  return table;
}

}  // namespace slipway::model
