#include "report/csv.h"

namespace slipway::report {

std::string csv_cell(std::string_view value) {
  constexpr std::string_view kGuarded = "=+-@\t\r'";
  std::string text(value);
  if (!text.empty() && kGuarded.find(text.front()) != std::string_view::npos) text.insert(0, 1, '\'');
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string out = "\"";
  for (const char sign : text) out += sign == '"' ? std::string("\"\"") : std::string(1, sign);
  return out + "\"";
}

std::string csv_row(const std::vector<std::string>& cells) {
  std::string row;
  for (const std::string& cell : cells) {
    if (&cell != &cells.front()) row += ',';
    row += csv_cell(cell);
  }
  return row + "\r\n";
}

}  // namespace slipway::report
