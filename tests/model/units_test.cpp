// Units, against what the definitions say.
#include <doctest/doctest.h>

#include "model/bytes.h"
#include "model/ladder.h"
#include "model/table.h"
#include "model/units.h"

using namespace slipway::model;

TEST_CASE("pounds, yards and inches convert by their exact definitions, half away from zero") {
  // 1 lb = 0.45359237 kg, 1 yd = 0.9144 m, 1 in = 25.4 mm: international yard and pound agreement of 1959,
  // NIST Special Publication 811, appendix B (from memory); same values in handbook 0.4.
  CHECK(grams({1, 0, Unit::lb}) == 454);
  CHECK(grams({45, 0, Unit::lb}) == 20'412);
  CHECK(grams({100, 0, Unit::lb}) == 45'359);
  CHECK(grams({225, 1, Unit::kg}) == 22'500);
  CHECK(grams({-125, 2, Unit::kg}) == -1'250);
  CHECK(millimetres({1, 0, Unit::yd}) == 914);
  CHECK(millimetres({25, 0, Unit::yd}) == 22'860);
  CHECK(millimetres({1, 0, Unit::in}) == 25);
  CHECK(millimetres({24, 0, Unit::in}) == 610);
  CHECK(millimetres({50, 0, Unit::m}) == 50'000);
  CHECK(millimetres({3048, 2, Unit::cm}) == 305);
}

TEST_CASE("grams are pounds again where they are a load in quarters of one, and nothing else") {
  for (const auto& [g, text] : {std::pair{20'412, "45"}, {567, "1.25"}, {1134, "2.5"}, {0, "0"}}) {
    const auto pounds = pounds_from_grams(g, 0);
    REQUIRE(pounds.has_value());
    CHECK(number_text(*pounds) == text);
    CHECK(grams(*pounds) == g);
  }
  CHECK_FALSE(pounds_from_grams(20'000, 1).has_value());
  CHECK_FALSE(pounds_from_grams(2269, 0).has_value());
  CHECK(pounds_from_grams(2269, 1).has_value());  // a step between two rounded loads
  CHECK_FALSE(pounds_from_grams(-2268, 0).has_value());
}

TEST_CASE("a quantity is read as typed and written as it was typed") {
  CHECK(to_text(*read_quantity("22.5", Unit::kg)) == "22.5\xC2\xA0kg");
  CHECK(to_text(*read_quantity("22,50 kg", Unit::lb)) == "22.50\xC2\xA0kg");
  CHECK(to_text(*read_quantity("45lb", Unit::kg)) == "45\xC2\xA0lb");
  CHECK(to_text(*read_quantity("-5", Unit::kg)) == "\xE2\x88\x92" "5\xC2\xA0kg");
  for (const char* wrong : {"", "kg", ".", "5.", "1.2345", "5 stone", "5 5", "1e3", "99999999999", "5kg!"}) {
    CAPTURE(wrong);
    CHECK_FALSE(read_quantity(wrong, Unit::kg).ok());
  }
  CHECK(number_text(kilograms_from_grams(22'000)) == "22");
  CHECK(number_text(kilograms_from_grams(1'250)) == "1.25");
}

TEST_CASE("civil days count from 1970 and know the calendar") {
  CHECK(iso(Day{0}) == "1970-01-01");
  CHECK(iso(Day{20'514}) == "2026-03-02");
  CHECK(weekday_date(Day{20'514}) == "Mon\xC2\xA0" "2\xC2\xA0Mar");  // 2026-03-02 is a Monday [stories page]
  CHECK(read_day("2024-02-29")->since_1970 == 19'782);
  CHECK(iso(*read_day("1969-12-31")) == "1969-12-31");
  for (const char* wrong : {"2023-02-29", "2023-13-01", "2023-1-01", "23-01-01", "2023/01/01", ""}) {
    CAPTURE(wrong);
    CHECK_FALSE(read_day(wrong).ok());
  }
}

TEST_CASE("a claimed time prints in ISO 8601 with its offset, also before 1970 and far wrong") {
  CHECK(iso(ClaimedTime{(std::int64_t{20'514} * 24 + 18) * 3'600'000 + 42'007'120 % 60'000, 60, 0}).substr(0, 16) == "2026-03-02T18:00");
  CHECK(iso(ClaimedTime{-1, -330, 0}) == "1969-12-31T23:59:59.999-05:30");
  CHECK(clock(ClaimedTime{-1, 0, 0}) == "23:59");
  CHECK(day_of(ClaimedTime{-1, 0, 0}).since_1970 == -1);
}

TEST_CASE("text is UTF-8 or it is refused") {
  CHECK(is_utf8("Ærø, Łódź, 東京"));
  CHECK_FALSE(is_utf8("\xC0\x80"));          // overlong
  CHECK_FALSE(is_utf8("\xED\xA0\x80"));      // surrogate
  CHECK_FALSE(is_utf8("\xF4\x90\x80\x80"));  // above U+10FFFF
  CHECK_FALSE(is_utf8("\xE6\x9D"));          // cut
  CHECK_FALSE(is_utf8(std::string_view("a\0b", 3)));
}

TEST_CASE("a table names the line that does not fit") {
  const auto table = read_table("# note\na | b\n1 | 2\n\n3\n");
  REQUIRE_FALSE(table.ok());
  CHECK(table.error().args[0] == "5");
}

TEST_CASE("the squat line begins with the easiest rung and only loaded rungs carry a load") {
  REQUIRE(find_rung("SQ4") != nullptr);
  CHECK(rungs().front().id == "SQ1");
  CHECK(find_rung("SQ4")->loaded);
  CHECK_FALSE(find_rung("SQ3")->loaded);
  CHECK(find_rung("XX1") == nullptr);
  for (const Rung& rung : rungs()) CHECK_FALSE(rung.cue.empty());
}
