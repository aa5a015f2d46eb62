// A squad file: what pairs a swimmer's device with a coach.
#include "sync/squad_file.h"

#include <doctest/doctest.h>

#include "kit/seal_kit.h"

using namespace slipway;

namespace {

sync::Squad squad() {
  return {"Coach Ada", kit::sealing_key_named('c').open, model::DeviceId::from(kit::inc_named('C').view()), kit::signing_key_named('c').open};
}
model::Bytes squad_file() {
  const auto made = sync::write_squad(squad(), kit::signing_key_named('c'));
  REQUIRE(made);
  return *made;
}

}  // namespace

TEST_CASE("a squad file gives back the coach's name and keys, as bytes and as text") {
  const model::Bytes file = squad_file();
  const std::string text = sync::armour(file);
  for (const model::ByteView form : {model::ByteView(file), model::as_bytes(text)}) {
    CHECK(sync::is_squad_file(form));
    const auto got = sync::read_squad(form, "squad.slip");
    REQUIRE(got);
    CHECK(*got == squad());
  }
}

TEST_CASE("every bit flip of a squad file is refused, its outer checks made true again") {
  const model::Bytes file = squad_file();
  std::uint64_t wrongly_read = 0;
  for (std::size_t bit = 0; bit < file.size() * 8; ++bit) {
    model::Bytes changed = file;
    changed[bit / 8] = static_cast<std::uint8_t>(changed[bit / 8] ^ (1U << (bit % 8)));
    wrongly_read += sync::read_squad(changed, "squad.slip") ? 1U : 0U;
    changed = kit::sealed_again(changed);
    if (changed == file) continue;
    const auto got = sync::read_squad(changed, "squad.slip");
    wrongly_read += got && !(*got == squad()) ? 1U : 0U;  // the minor number alone may change
  }
  CHECK(wrongly_read == 0);
}

TEST_CASE("a squad file and a bundle are not taken for each other") {
  CHECK(!sync::is_squad_file(kit::signed_bundle({})));
  CHECK(!sync::is_squad_file({}));
  CHECK(sync::read_squad(kit::signed_bundle({}), "squad.slip").error().text == "squad.not_one");
  CHECK(kit::verdict(sync::read_bundle(squad_file(), "squad.slip")).starts_with("foreign bundle.is_squad|squad.slip|squad"));
}

TEST_CASE("a coach without a name, or with one that is no text, hands out no squad file") {
  sync::Squad nobody = squad();
  for (const std::string& name : {std::string(), std::string(sync::kMostSquadNameBytes + 1, 'x'), std::string("\xff")}) {
    nobody.coach = name;
    CHECK(sync::write_squad(nobody, kit::signing_key_named('c')).error().text == "squad.name");
  }
}
