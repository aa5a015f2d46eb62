#include "model/json.h"

#include <doctest/doctest.h>

#include <cstdint>
#include <limits>
#include <string>

#include "model/bytes.h"

using namespace slipway::model;

namespace {

// "read", or "damaged 3", "too_large 8": the byte where it stopped.
std::string verdict(std::string_view text, const JsonLimits& limits = {}) {
  const auto read = read_json(text, limits);
  if (read) return "read";
  return (read.error().kind == ErrorKind::too_large ? "too_large " : "damaged ") + read.error().args.at(0);
}

}  // namespace

TEST_CASE("what is written reads back as it was") {
  JsonWriter out;
  out.object().name("name").text("Wren \"W\" \\ \n\x01 Ω 🏊").name("least").with_sign(std::numeric_limits<std::int64_t>::min());
  out.name("most").whole(std::numeric_limits<std::uint64_t>::max()).name("list").list().whole(1).list().end().object().end().nothing();
  out.yes_no(true).end().name("no").yes_no(false).end();
  const std::string text = out.take();
  CHECK(text.find('\n') == std::string::npos);
  const auto read = read_json(text);
  REQUIRE(read.ok());
  CHECK(read->find("name")->text == "Wren \"W\" \\ \n\x01 Ω 🏊");
  CHECK(read->find("least")->with_sign() == std::numeric_limits<std::int64_t>::min());
  CHECK(read->find("most")->whole() == std::numeric_limits<std::uint64_t>::max());
  REQUIRE(read->find("list")->items.size() == 5);
  CHECK(read->find("list")->items[4].truth);
  CHECK(read->find("no")->kind == JsonValue::Kind::yes_no);
  CHECK_FALSE(read->find("no")->truth);
  CHECK(read->find("absent") == nullptr);
}

TEST_CASE("escaped signs mean what RFC 8259 says") {
  const auto read = read_json(R"("\"\\\/\b\f\n\r\tA\u00e9\ud83c\udfca")");
  REQUIRE(read.ok());
  CHECK(read->text == "\"\\/\b\f\n\r\tAé🏊");
}

TEST_CASE("only whole numbers in range are whole") {
  CHECK(read_json("0")->whole() == 0);
  CHECK(read_json("-1")->with_sign() == -1);
  for (const char* text : {"-1", "1.0", "1e3", "18446744073709551616"}) CHECK_FALSE(read_json(text)->whole().has_value());
  CHECK_FALSE(read_json("9223372036854775808")->with_sign().has_value());
  CHECK_FALSE(read_json("\"1\"")->whole().has_value());
}

TEST_CASE("what is not JSON is refused at its place") {
  CHECK(verdict(R"( {"a" : [1, 2.5e-3, true, null, "x"], "b": {}} )") == "read");
  for (const char* text : {"", " ", "{", "[", "[1", "[1,", "[1,]", "{,}", "{1:2}", R"({"a"})", R"({"a":})", R"({"a":1,})", "01", "-", "1.", "1e", ".5", "+1", "tru", "nul", "[1 2]",
                           "1 2", "]", "}", "[}", "\"", "\"\n\"", R"("\x")", R"("\u12")", R"("\u0000")", R"("\ud83c")", R"("\udfca")", R"("\ud83cA")", "'a'", "NaN", "\xEF\xBB\xBF" "1"})
    CHECK_MESSAGE(verdict(text).starts_with("damaged"), text);
  CHECK(verdict("[1,x]") == "damaged 3");
}

TEST_CASE("a name twice in an object is refused: readers would differ about which counts") {
  CHECK(verdict(R"({"reps":1,"reps":2})").starts_with("damaged"));
  CHECK(verdict(R"([{"reps":1},{"reps":2}])") == "read");
}

TEST_CASE("text that is not UTF-8 is refused") {
  CHECK(verdict("\"\xC3\"").starts_with("damaged"));
  CHECK(verdict("\"\xED\xA0\x80\"").starts_with("damaged"));
}

TEST_CASE("depth and number of values are limited before they cost anything") {
  const auto nested = [](std::size_t depth) { return std::string(depth, '[') + std::string(depth, ']'); };
  CHECK(verdict(nested(32)) == "read");
  CHECK(verdict(nested(33)).starts_with("too_large"));
  CHECK(verdict(std::string(1'000'000, '[')).starts_with("too_large"));
  CHECK(verdict("[1,2,3]", {.depth = 2, .values = 3}) == "read");
  CHECK(verdict(R"({"a":1,"b":2})", {.names = 2}) == "read");
  CHECK(verdict(R"({"a":1,"b":2})", {.names = 1}).starts_with("too_large"));
  CHECK(verdict("[1,2,3,4]", {.depth = 2, .values = 3}).starts_with("too_large"));
}

TEST_CASE("every cut of a text is refused, and every changed byte answers") {
  const std::string text = R"({"a":[1,-2,{"b":"\u00e9\n"}],"c":null})";
  for (std::size_t length = 0; length < text.size(); ++length) CHECK(verdict(text.substr(0, length)) != "read");
  std::size_t answered = 0;
  for (std::size_t at = 0; at < text.size(); ++at)
    for (int value = 0; value < 256; ++value) {
      std::string changed = text;
      changed[at] = static_cast<char>(value);
      const auto read = read_json(changed);
      answered += read.ok() || read.error().text == "json.sign" ? 1 : 0;
    }
  CHECK(answered == text.size() * 256);
}
