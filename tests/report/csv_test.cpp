// That others read these tables is checked by Python's csv module (tests/cli/export_test.py).
#include "report/csv.h"

#include <doctest/doctest.h>

#include <string>

using namespace slipway;
using report::csv_cell;
using report::csv_row;

TEST_CASE("cells are quoted where RFC 4180 says so, and only there") {
  CHECK(csv_cell("") == "");
  CHECK(csv_cell("goblet squat") == "goblet squat");
  CHECK(csv_cell("a,b") == "\"a,b\"");
  CHECK(csv_cell("a \"b\"") == "\"a \"\"b\"\"\"");
  CHECK(csv_cell("a\nb") == "\"a\nb\"");
  CHECK(csv_row({"a", "b,c", ""}) == "a,\"b,c\",\r\n");
}

TEST_CASE("a cell that a spreadsheet would run as a formula gets one apostrophe, which comes off again without loss") {
  for (const std::string value : {"=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "'quoted", "''twice"}) {
    std::string cell = csv_cell(value);
    if (cell.front() == '"') cell = cell.substr(1, cell.size() - 2);
    CHECK(cell == "'" + value);
  }
  for (const std::string value : {"a=1", "1-2", "O'Neil", " =1"}) CHECK(csv_cell(value) == value);
}
