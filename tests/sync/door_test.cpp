// The door: what is broken, foreign or newer is refused by name and place, and the
// untouched file is accepted in the same run.
#include <algorithm>
#include <set>

#include <doctest/doctest.h>

#include "kit/bundle_kit.h"
#include "kit/rows.h"
#include "ops/op.h"

using namespace slipway;
using model::ErrorKind;

namespace {

constexpr const char* kName = "from_swimmer.slip";

model::Result<sync::ReadBundle> read(model::ByteView file) { return sync::read_bundle(file, kName); }
model::Result<sync::ReadBundle> read(std::string_view file) { return read(model::as_bytes(file)); }
std::string verdict(model::ByteView file) { return kit::verdict(read(file)); }
std::string verdict(std::string_view file) { return kit::verdict(read(file)); }

std::uint64_t accepted(const kit::ReferenceFile& reference) { return read(reference.bytes) ? 1U : 0U; }

// Each single bit and the edges.
std::set<int> other_values(std::uint8_t byte) {
  std::set<int> values;
  for (const int value : {0, 1, 0x7F, 0x80, 0xFF, byte - 1, byte + 1, byte ^ 2, byte ^ 4, byte ^ 8, byte ^ 16, byte ^ 32, byte ^ 64, byte ^ 128})
    values.insert(value & 0xFF);
  values.erase(byte);
  return values;
}

}  // namespace

TEST_CASE("a bundle with any one byte changed is refused") {
  // In the long run all 255 other values; the digest is always over the same ones.
  std::uint64_t tried = 0;
  for (const auto& reference : kit::reference_files()) {
    CAPTURE(reference.name);
    kit::Verdicts verdicts;
    std::uint64_t wrongly_read = 0;
    model::Bytes mutant = reference.bytes;
    for (std::size_t at = 0; at < mutant.size(); ++at) {
      const std::set<int> values = other_values(reference.bytes[at]);
      for (int value = 0; value < 256; ++value) {
        const bool told = values.count(value) != 0;
        if (value == reference.bytes[at] || (!told && !kit::at_length())) continue;
        mutant[at] = static_cast<std::uint8_t>(value);
        tried += 1;
        const auto got = read(mutant);
        wrongly_read += got ? 1U : 0U;
        if (told) verdicts.add(kit::verdict(got));
      }
      mutant[at] = reference.bytes[at];
    }
    CHECK(wrongly_read == 0);
    CHECK(accepted(reference) == 1);
    verdicts.print("one_byte." + reference.name);
  }
  kit::row(7, tried, "files with one byte changed, 0 read");
}

TEST_CASE("a bundle cut anywhere is refused, and says that it is cut") {
  for (const auto& reference : kit::reference_files()) {
    CAPTURE(reference.name);
    kit::Verdicts verdicts;
    std::uint64_t named = 0;
    for (std::size_t length = 0; length < reference.bytes.size(); ++length) {
      const auto got = read(model::ByteView(reference.bytes).first(length));
      REQUIRE(!got);
      verdicts.add(kit::verdict(got));
      named += got.error().text == "bundle.cut" ? 1U : 0U;
    }
    // All but the empty file, the first 3 bytes that could be anybody's, and cuts inside the first numbers.
    CHECK(named >= reference.bytes.size() - 12);
    CHECK(accepted(reference) == 1);
    verdicts.print("cut." + reference.name);
  }
}

TEST_CASE("something appended to a bundle is refused, however it is sealed") {
  for (const auto& reference : kit::reference_files()) {
    for (const std::size_t more : {1U, 2U, 32U, 1000U}) {
      model::Bytes longer = reference.bytes;
      longer.insert(longer.end(), more, 0);
      CHECK(read(longer).error() ==
            model::error(ErrorKind::damaged, "bundle.extra", {kName, "file", std::to_string(reference.bytes.size())}));
      CHECK(!read(kit::whole_hash_again(longer)));
    }
    model::Bytes twice = reference.bytes;
    model::append(twice, reference.bytes);
    CHECK(read(twice).error().text == "bundle.extra");
    CHECK(accepted(reference) == 1);
  }
}

TEST_CASE("a foreign file is refused as not ours") {
  const auto text_of = [](const auto& got) { return got.error().text; };
  const auto kind_of = [](const auto& got) { return got.error().kind; };
  for (const std::string_view foreign :
       {std::string_view("\x89PNG\r\n\x1A\n\0\0\0\rIHDR", 16), std::string_view("hello coach"), std::string_view("PK\x03\x04"),
        std::string_view("{\"sets\": []}"), std::string_view("\0\0\0\0\0\0\0\0", 8), std::string_view("\x89"), std::string_view("\x89SL")}) {
    CHECK(text_of(read(foreign)) == "bundle.not_ours");
    CHECK(kind_of(read(foreign)) == ErrorKind::foreign);
  }
  CHECK(verdict(std::string_view()) == "foreign bundle.empty|from_swimmer.slip|file|0");
  // A magic changed by a text channel: line ends rewritten, the eighth bit lost.
  CHECK(text_of(read("\x89SLW\n\x1A\n rest of it")) == "bundle.mangled");
  CHECK(text_of(read("\tSLW\r\n\x1A\n rest of it")) == "bundle.mangled");
  CHECK(text_of(read("\x89SLW\r\n")) == "bundle.cut");
}

TEST_CASE("a bundle of a newer version is refused by that name") {
  const model::Bytes file = kit::reference_files()[1].bytes;
  const auto made = [&](std::uint64_t major, std::uint64_t minor, std::uint64_t min_reader, std::uint64_t flags = 0) {
    sync::FramePlan plan = kit::taken_apart(file);
    plan.major = major;
    plan.minor = minor;
    plan.min_reader = min_reader;
    plan.flags = flags;
    return verdict(sync::write_frame(plan));
  };
  CHECK(made(sync::kMajor + 1, 0, 0) == "newer_version bundle.newer|from_swimmer.slip|2.0");
  CHECK(made(1ULL << 40, 7, 0) == "newer_version bundle.newer|from_swimmer.slip|1099511627776.7");
  CHECK(made(sync::kMajor, sync::kMinor + 1, sync::kMinor + 1) == "newer_version bundle.newer|from_swimmer.slip|1.1");
  CHECK(made(sync::kMajor, sync::kMinor + 1, sync::kMinor) == "read 35");
  CHECK(made(sync::kMajor, sync::kMinor, sync::kMinReader, 4) == "newer_version bundle.newer|from_swimmer.slip|1.0");
  // "Sealed" or "signed" of a file that is not.
  for (const std::uint64_t flags : {1U, 2U, 3U})
    CHECK(made(sync::kMajor, sync::kMinor, sync::kMinReader, flags).substr(0, 44) == "damaged bundle.section|from_swimmer.slip|tab");
  CHECK(made(sync::kMajor, sync::kMinor, sync::kMinReader) == "read 35");
  // The drafts of format 1.
  CHECK(made(0, 0, 0) == "read 35");
  CHECK(made(0, sync::kLastDraft, 0) == "read 35");
  CHECK(made(0, sync::kLastDraft + 1, 0) == "newer_version bundle.newer|from_swimmer.slip|0.2");
  CHECK(made(0, 1, 1) == "newer_version bundle.newer|from_swimmer.slip|0.1");
}

TEST_CASE("a newer minor may add sections, unless they are critical") {
  sync::FramePlan plan = kit::taken_apart(kit::reference_files()[1].bytes);
  plan.sections.push_back({8, {1, 2, 3}});
  CHECK(verdict(sync::write_frame(plan)).substr(0, 29) == "damaged bundle.section|from_s");  // our own minor has none
  plan.sections.pop_back();
  plan.header.push_back(17);
  CHECK(verdict(sync::write_frame(plan)).substr(0, 29) == "damaged bundle.section|from_s");  // nor such a field
  plan.sections.push_back({8, {1, 2, 3}});
  plan.minor = sync::kMinor + 1;
  plan.header.back() = 18;  // and fields at the end of the header
  const auto got = read(sync::write_frame(plan));
  REQUIRE(got);
  CHECK(got->ops.size() == 35);
  CHECK(got->bundle.minor == sync::kMinor + 1);
  model::Bytes flipped = sync::write_frame(plan);
  flipped[flipped.size() - 33] ^= 1;  // the unknown section's last byte: it is held to its check all the same
  CHECK(verdict(kit::whole_hash_again(flipped)).substr(0, 41) == "damaged bundle.section|from_swimmer.slip|");
  plan.sections.back().type = 99;
  CHECK(verdict(sync::write_frame(plan)) == "newer_version bundle.newer|from_swimmer.slip|1.1");
}

TEST_CASE("sections that are swapped, doubled, lost or empty are refused") {
  for (const auto& reference : kit::reference_files()) {
    const sync::FramePlan whole = kit::taken_apart(reference.bytes);
    REQUIRE(whole.sections.size() == 3);
    kit::Verdicts verdicts;
    const auto refuse = [&](const sync::FramePlan& plan) {
      const model::Bytes file = sync::write_frame(plan);
      CHECK(!read(file));
      verdicts.add(verdict(file));
    };
    for (std::size_t a = 0; a < 3; ++a) {
      for (std::size_t b = 0; b < 3; ++b) {
        if (a == b) continue;
        sync::FramePlan plan = whole;
        std::swap(plan.sections[a], plan.sections[b]);
        refuse(plan);
        std::swap(plan.sections[a].type, plan.sections[b].type);  // the contents only
        refuse(plan);
        plan = whole;
        plan.sections[a] = plan.sections[b];
        refuse(plan);
      }
      sync::FramePlan plan = whole;
      plan.sections.insert(plan.sections.begin() + static_cast<std::ptrdiff_t>(a), plan.sections[a]);
      refuse(plan);
      plan = whole;
      plan.sections.erase(plan.sections.begin() + static_cast<std::ptrdiff_t>(a));
      refuse(plan);
      plan = whole;
      plan.sections[a].raw.clear();
      refuse(plan);
      plan = whole;
      plan.sections[a].raw.push_back(0);
      refuse(plan);
      plan.sections[a].raw.pop_back();
      plan.sections[a].raw.pop_back();
      refuse(plan);
    }
    CHECK(accepted(reference) == 1);
    verdicts.print("sections." + reference.name);
  }
}

TEST_CASE("each section is held to its own check, and named") {
  const model::Bytes file = kit::reference_files()[1].bytes;
  std::size_t at = file.size() - 32;
  const auto sections = kit::taken_apart(file).sections;
  for (std::size_t i = sections.size(); i > 0; --i) {
    at -= sections[i - 1].raw.size();
    model::Bytes mutant = file;
    mutant[at + 5] ^= 1;
    const std::string place = sync::section_name(sections[i - 1].type);
    CHECK(verdict(kit::whole_hash_again(mutant)) ==
          "damaged bundle.section|from_swimmer.slip|" + place + '|' + std::to_string(at));
  }
}

TEST_CASE("limits are held before anything is taken into memory") {
  const model::Bytes file = kit::reference_files()[1].bytes;
  const auto with = [&](const sync::Limits& limits) { return kit::verdict(sync::read_bundle(file, kName, limits)); };
  CHECK(with({.file_bytes = 100}) == "too_large bundle.too_large|from_swimmer.slip|file|100");
  CHECK(with({.raw_bytes = 100}) == "too_large bundle.too_large|from_swimmer.slip|table|100");
  CHECK(with({.header_bytes = 0}) == "too_large bundle.too_large|from_swimmer.slip|header|0");
  CHECK(with({.sections = 2}) == "too_large bundle.too_large|from_swimmer.slip|table|2");
  CHECK(with({.ops = 34}) == "too_large bundle.too_large|from_swimmer.slip|ops|34");
  CHECK(with({.file_bytes = file.size(), .ops = 35}) == "read 35");

  // The sections together, not each; and the file as it is, not as it says.
  std::uint64_t all = 0, largest = 0;
  for (const auto& section : kit::taken_apart(file).sections) {
    all += section.raw.size();
    largest = std::max<std::uint64_t>(largest, section.raw.size());
  }
  CHECK(with({.raw_bytes = all}) == "read 35");
  CHECK(with({.raw_bytes = largest}).substr(0, 9) == "too_large");
  CHECK(with({.raw_bytes = all - 1}).substr(0, 9) == "too_large");
  model::Bytes longer = file;
  longer.resize(3000);
  CHECK(kit::verdict(sync::read_bundle(longer, kName, {.file_bytes = 2999})) == "too_large bundle.too_large|from_swimmer.slip|file|2999");
  CHECK(kit::verdict(sync::read_bundle(model::ByteView(file).first(100), kName, {.file_bytes = 2000})) ==
        "too_large bundle.too_large|from_swimmer.slip|file|2000");
}

TEST_CASE("a length is compared in 64 bits before it is used") {
  const model::Bytes ten(10);
  model::ByteView taken;
  sync::Cursor cursor(ten);
  constexpr std::uint64_t kOne = 1;
  for (const std::uint64_t lie : {kOne * 11, kOne << 31, kOne << 32, (kOne << 32) + 3, kOne << 63, ~std::uint64_t{0}}) {
    CHECK(!cursor.take(lie, taken));
    CHECK(cursor.at() == 0);
  }
  CHECK(cursor.take(10, taken));
  CHECK(cursor.left() == 0);
}

TEST_CASE("the length of a file counts the number that says it") {
  const sync::Door door{kName};
  for (const std::size_t around : {std::size_t{128}, std::size_t{16'384}, std::size_t{1} << 21})
    for (std::size_t size = around - 90; size < around + 10; ++size) {
      sync::FramePlan plan;
      plan.header.assign(size, 1);
      const auto frame = sync::read_frame(sync::write_frame(plan), door, {.header_bytes = 1ULL << 22});
      REQUIRE(frame);
      CHECK(frame->header.size() == size);
    }
}
