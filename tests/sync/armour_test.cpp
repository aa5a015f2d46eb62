#include "sync/armour.h"

#include <algorithm>

#include <doctest/doctest.h>

#include "kit/bundle_kit.h"

using namespace slipway;

namespace {

model::Result<sync::ReadBundle> read(std::string_view text) { return sync::read_bundle(model::as_bytes(text), "coach.txt"); }

std::string with(std::string text, std::string_view from, std::string_view to) {
  for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size())) text.replace(at, from.size(), to);
  return text;
}

}  // namespace

TEST_CASE("a bundle as text is printable, narrow, and reads as the same bundle") {
  for (const auto& reference : kit::reference_files()) {
    const std::string text = sync::armour(reference.bytes);
    CHECK(std::all_of(text.begin(), text.end(), [](char c) { return c == '\n' || (c >= ' ' && c <= '~'); }));
    for (std::size_t at = 0; at < text.size();) {
      const std::size_t end = text.find('\n', at);
      CHECK(end - at <= 76);
      at = end + 1;
    }
    CHECK(read(text)->bundle == kit::read_of(reference.bytes).bundle);
    CHECK(read(text)->file_hash == kit::read_of(reference.bytes).file_hash);
  }
}

TEST_CASE("text of every length comes back whole") {
  const sync::Door door{"coach.txt"};
  for (std::size_t length = 0; length < 120; ++length) {
    model::Bytes bytes(length);
    kit::SameRandom(length).fill(bytes);
    const auto back = sync::take_off_armour(model::as_bytes(sync::armour(bytes)), door, {});
    REQUIRE(back);
    CHECK(*back == bytes);
  }
}

TEST_CASE("what mail programs do to line ends and blanks does no harm") {
  const std::string text = sync::armour(kit::reference_files()[1].bytes);
  for (const std::string& changed :
       {with(text, "\n", "\r\n"), with(text, "\n", "\r"), "\n\n \r\n" + text + "\n\n\r\n  \n", "\xEF\xBB\xBF" + text, with(text, "\n", " \t\n"),
        text.substr(0, text.size() - 1), with(text, "\n", "\n\n")}) {
    const auto got = read(changed);
    REQUIRE(got);
    CHECK(got->ops.size() == 35);
  }
}

TEST_CASE("damaged text is refused with the place, and the untouched text is accepted") {
  const std::string text = sync::armour(kit::reference_files()[0].bytes);
  const std::size_t second_line = text.find('\n') + 1;
  const auto refusal = [&](std::string_view changed) { return read(changed).error(); };
  std::string cut_off = text.substr(0, text.rfind("==="));
  cut_off = cut_off.substr(0, cut_off.rfind("==="));
  CHECK(refusal(cut_off).text == "bundle.cut");

  std::string other_sign = text;
  other_sign[second_line + 30] = other_sign[second_line + 30] == 'A' ? 'B' : 'A';
  CHECK(refusal(other_sign).text == "bundle.hash");

  std::string foreign_sign = text;
  foreign_sign[second_line + 30] = '*';
  CHECK(refusal(foreign_sign) ==
        model::error(model::ErrorKind::damaged, "bundle.armour", {"coach.txt", "armour", std::to_string(second_line)}));

  std::string line_lost = text;
  line_lost.erase(second_line, 77);
  CHECK(refusal(line_lost).text == "bundle.hash");
  CHECK(refusal(text + "and a signature").text == "bundle.extra");
  CHECK(refusal(with(text, "keep all lines ===", "keep all lines === or not")).text == "bundle.armour");
  CHECK(refusal(text + text).text == "bundle.extra");
  CHECK(refusal("> " + text).text == "bundle.not_ours");
  CHECK(read(text));
}

TEST_CASE("text over the limit is refused before it is read") {
  const std::string text = sync::armour(kit::reference_files()[1].bytes);
  const auto got = sync::read_bundle(model::as_bytes(text), "coach.txt", {.file_bytes = 1000});
  REQUIRE(!got);
  CHECK(got.error() == model::error(model::ErrorKind::too_large, "bundle.too_large", {"coach.txt", "armour", "1000"}));
}

TEST_CASE("base64 has one form only") {
  const sync::Door door{"coach.txt"};
  const model::Bytes one{0x41};  // "QQ=="
  const std::string text = sync::armour(one);
  const auto body = [&](std::string_view signs) { return sync::take_off_armour(model::as_bytes(with(text, "QQ==", signs)), door, {}); };
  CHECK(*body("QQ==") == one);
  for (const std::string_view signs : {"QR==", "QQ", "QQ=", "QQ===", "Q===", "====", "QQ==QQ==", "QQ======", "QQ==A", "Q=Q=", "QQ=A", "\xFF\xFF=="}) {
    CAPTURE(signs);
    CHECK(!body(signs));
  }
  const model::Bytes three{0x41, 0x42, 0x43};  // "QUJD"
  const std::string longer = sync::armour(three);
  for (const std::string_view signs : {"QUJDQ", "QUJDQQ", "QUJDQQQ", "QUJD=", "QUJD=="})
    CHECK(!sync::take_off_armour(model::as_bytes(with(longer, "QUJD", signs)), door, {}));
  CHECK(*sync::take_off_armour(model::as_bytes(with(longer, "QUJD", "QU\nJ\r\nD")), door, {}) == three);
}

TEST_CASE("every cut of a text and every changed sign is refused or harmless") {
  const std::string text = sync::armour(kit::reference_files()[0].bytes);
  const auto whole = read(text);
  REQUIRE(whole);
  kit::Verdicts verdicts;
  std::uint64_t accepted = 0;
  for (std::size_t cut = 0; cut < text.size(); ++cut) {
    const auto got = read(text.substr(0, cut));
    verdicts.add(kit::verdict(got));
    if (got) ++accepted;
  }
  CHECK(accepted == 1);  // only the last line end is missing
  constexpr std::string_view kSigns{"\0\t\n\r +/=AQaz09~\x80\xFF", 17};
  for (std::size_t at = 0; at < text.size(); ++at)
    for (const char sign : kSigns) {
      std::string changed = text;
      changed[at] = sign;
      const auto got = read(changed);
      verdicts.add(kit::verdict(got));
      if (got) CHECK(got->file_hash == whole->file_hash);
    }
  verdicts.print("armour_mutants");
  CHECK(verdicts.count() == text.size() * (1 + kSigns.size()));
}
