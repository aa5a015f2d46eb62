// That others read what is written here is checked by Python's zipfile (tests/cli/export_test.py).
#include "sync/zip.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "kit/bundle_kit.h"

using namespace slipway;

namespace {

constexpr std::uint64_t kPlenty = 1 << 24;
const sync::Door kDoor{"all.zip"};

model::Bytes zip_of(std::initializer_list<std::pair<std::string, model::Bytes>> parts) {
  sync::ZipWriter zip;
  for (const auto& [name, bytes] : parts) {
    zip.begin(name);
    zip.add(bytes);
  }
  const auto whole = zip.finish();
  REQUIRE(whole.ok());
  return *whole;
}

model::Bytes some_bytes(std::size_t count) {
  model::Bytes bytes(count);
  kit::SameRandom(count).fill(bytes);
  return bytes;
}

}  // namespace

TEST_CASE("parts come back as they were put in, empty and incompressible ones too") {
  const model::Bytes noise = some_bytes(200'000), zeros(300'000);
  const model::Bytes whole = zip_of({{"a.csv", {}}, {"b.db", noise}, {"c.txt", zeros}});
  CHECK(sync::is_zip(whole));
  CHECK(whole.size() < noise.size() + 3'000);
  CHECK(*sync::read_zip_part(whole, "a.csv", kDoor, kPlenty) == model::Bytes{});
  CHECK(*sync::read_zip_part(whole, "b.db", kDoor, kPlenty) == noise);
  CHECK(*sync::read_zip_part(whole, "c.txt", kDoor, kPlenty) == zeros);
  CHECK(sync::read_zip_part(whole, "C.TXT", kDoor, kPlenty).error().kind == model::ErrorKind::not_found);
  CHECK(whole == zip_of({{"a.csv", {}}, {"b.db", noise}, {"c.txt", zeros}}));
}

TEST_CASE("more than the limit is refused before it is unpacked") {
  const model::Bytes bomb = zip_of({{"c.txt", model::Bytes(std::size_t{1} << 25)}});
  CHECK(bomb.size() < 40'000);
  CHECK(sync::read_zip_part(bomb, "c.txt", kDoor, (1 << 25) - 1).error().kind == model::ErrorKind::too_large);
}

TEST_CASE("a part that unpacks to more or less than it declares is damaged") {
  const model::Bytes whole = zip_of({{"c.txt", model::Bytes(5'000, 'x')}});
  const std::uint8_t length[] = {0x88, 0x13, 0, 0};  // 5000
  for (const std::uint8_t said : {0x00, 0x87, 0x89, 0xFF}) {
    model::Bytes lying = whole;
    for (auto at = lying.begin();; ++at) {
      at = std::search(at, lying.end(), std::begin(length), std::end(length));
      if (at == lying.end()) break;
      *at = said;
    }
    CHECK(sync::read_zip_part(lying, "c.txt", kDoor, kPlenty).error().kind == model::ErrorKind::damaged);
  }
}

TEST_CASE("every cut and every changed byte gives the part or a refusal") {
  const model::Bytes part = some_bytes(60);
  const model::Bytes whole = zip_of({{"c.txt", part}});
  constexpr std::size_t kCommentLength = 2;  // a zip's last two bytes say how long its comment is; without them nothing is lost
  for (std::size_t length = 0; length + kCommentLength < whole.size(); ++length)
    CHECK_FALSE(sync::read_zip_part(model::ByteView(whole).first(length), "c.txt", kDoor, kPlenty).ok());
  std::uint64_t wrong = 0, refused = 0;
  for (std::size_t at = 0; at < whole.size(); ++at)
    for (int value = 0; value < 256; ++value) {
      model::Bytes changed = whole;
      changed[at] = static_cast<std::uint8_t>(value);
      const auto read = sync::read_zip_part(changed, "c.txt", kDoor, kPlenty);
      refused += read.ok() ? 0 : 1;
      wrong += read.ok() && *read != part ? 1 : 0;
    }
  CHECK(wrong == 0);
  CHECK(refused > whole.size() * 100);
}
