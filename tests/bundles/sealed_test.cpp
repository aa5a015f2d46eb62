// Sealed files and squad files of every format as bytes: what one build has sealed every other opens, 64 bit or wasm.
//
// Those of a new format are written by
//   SLIPWAY_WRITE_GOLDEN_SEALED=tests/bundles/sealed/format_1.h <tests of bundles> -tc="golden sealed*"
// and never touched again.
#include <cstdio>
#include <cstdlib>

#include <doctest/doctest.h>

#include "bundles/sealed/draft_0.h"
#include "bundles/sealed/format_1.h"
#include "kit/seal_kit.h"
#include "ops/chain.h"
#include "sync/squad_file.h"

using namespace slipway;

namespace {

sync::Squad squad() {
  return {"Heron", kit::sealing_key_named('c').open, model::DeviceId::from(kit::inc_named('C').view()), kit::signing_key_named('c').open};
}

struct Made {
  const char* name;
  model::Bytes bytes;
};
std::vector<Made> made_now() {
  return {{"to_keys", kit::sealed_to("cd")}, {"by_passphrase", kit::sealed_by_passphrase()}, {"squad", *sync::write_squad(squad(), kit::signing_key_named('c'))}};
}

std::string header() {
  std::string text =
      "// Sealed files and a squad file of format 1 as bytes, written once by the golden test (see sealed_test.cpp).\n"
      "#pragma once\n\n#include <cstdint>\n\nnamespace slipway::bundles::sealed_1 {\n\n";
  for (const Made& made : made_now()) {
    text += std::string("inline constexpr std::uint8_t ") + made.name + "[] = {";
    for (std::size_t i = 0; i < made.bytes.size(); ++i) text += (i % 24 == 0 ? "\n    0x" : " 0x") + model::hex({&made.bytes[i], 1}) + ",";
    text += "\n};\n\n";
  }
  return text + "}  // namespace slipway::bundles::sealed_1\n";
}

void open_all(model::ByteView to_keys, model::ByteView by_passphrase, model::ByteView squad_file) {
  const auto open = kit::held_of(kit::read_of(kit::signed_bundle({})).ops).digest();
  for (const char coach : {'c', 'd'}) {
    const auto read = sync::read_bundle(to_keys, "golden.slip", {}, {{kit::sealing_key_named(coach)}, {}});
    REQUIRE(read);
    CHECK(kit::held_of(read->ops).digest() == open);
    REQUIRE(read->signature);
    CHECK(read->signature->signer == kit::signing_key_named('s').open);
    CHECK(read->signature->envelope.to.size() == 2);
  }
  const auto read = sync::read_bundle(by_passphrase, "golden.slip", {}, {{}, kit::kFilePassphrase});
  REQUIRE(read);
  CHECK(kit::held_of(read->ops).digest() == open);
  const auto joined = sync::read_squad(squad_file, "golden.slip");
  REQUIRE(joined);
  CHECK(*joined == squad());
}

}  // namespace

TEST_CASE("golden sealed files of format 0, the draft, open on every build") {
  open_all(bundles::sealed_0::to_keys, bundles::sealed_0::by_passphrase, bundles::sealed_0::squad);
}

TEST_CASE("golden sealed files of format 1 open on every build, and are still sealed so") {
  if (const char* path = std::getenv("SLIPWAY_WRITE_GOLDEN_SEALED")) {
    const std::string text = header();
    std::FILE* file = std::fopen(path, "wb");
    REQUIRE(file != nullptr);
    REQUIRE(std::fwrite(text.data(), 1, text.size(), file) == text.size());
    REQUIRE(std::fclose(file) == 0);
  }
  open_all(bundles::sealed_1::to_keys, bundles::sealed_1::by_passphrase, bundles::sealed_1::squad);
}

TEST_CASE("from the same random numbers every build seals the same bytes") {
  for (const Made& made : made_now()) std::printf("digest sync.seal.%s %s\n", made.name, ops::blake2b(made.bytes).hex().c_str());
  CHECK(made_now().front().bytes == made_now().front().bytes);
}
