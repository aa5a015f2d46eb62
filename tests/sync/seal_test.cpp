// The seal: only its recipients open it, whole or not at all, and what is in it says by whom and for whom it was made.
#include "sync/seal.h"

#include <algorithm>

#include <doctest/doctest.h>

#include "kit/seal_kit.h"
#include "ops/op.h"

using namespace slipway;
using model::ErrorKind;
using How = sync::Envelope::How;

namespace {

constexpr std::size_t kChunk = 64 * 1024, kMore = 17, kStreamHeader = 24;

sync::Keyring ring(const std::string& coaches, const std::string& passphrase = {}) {
  sync::Keyring keys{{}, passphrase};
  for (const char coach : coaches) keys.keys.push_back(kit::sealing_key_named(coach));
  return keys;
}
model::Result<sync::ReadBundle> read(model::ByteView file, const sync::Keyring& keys) { return sync::read_bundle(file, "from_swimmer.slip", {}, keys); }
std::string verdict(model::ByteView file, const sync::Keyring& keys) { return kit::verdict(read(file, keys)); }

// A seal around bytes that are no bundle, of a length of one's own.
model::Bytes sealed_bytes(std::size_t length) {
  model::Bytes inside(length);
  kit::SameRandom(length).fill(inside);
  kit::SameRandom random(length + 1);
  const auto file = sync::seal(inside, {.to = {kit::sealing_key_named('c').open}, .passphrase = {}, .cost = {}}, random);
  REQUIRE(file);
  return *file;
}
model::Result<sync::Unsealed> unsealed(model::ByteView file, const sync::Limits& limits = {}) {
  const sync::Door door{"from_swimmer.slip"};
  const auto frame = sync::read_frame(file, door, limits);
  if (!frame) return frame.error();
  return sync::unseal(*frame, door, ring("c"), limits);
}

}  // namespace

TEST_CASE("a sealed bundle reads as the bundle it was made of, with any of its keys") {
  const auto open = kit::read_of(kit::signed_bundle({}));
  const model::Bytes file = kit::sealed_to("cde");
  for (const char* coach : {"c", "d", "e", "xc", "edc"}) {
    const auto got = read(file, ring(coach));
    REQUIRE(got);
    CHECK(got->bundle == open.bundle);
    CHECK(kit::held_of(got->ops).digest() == kit::held_of(open.ops).digest());
    CHECK(got->envelope == How::to_keys);
    REQUIRE(got->signature);
    CHECK(got->signature->signer == kit::signing_key_named('s').open);
    CHECK(got->signature->envelope.to.size() == 3);
  }
  const auto by_passphrase = read(kit::sealed_by_passphrase(), ring("", kit::kFilePassphrase));
  REQUIRE(by_passphrase);
  CHECK(by_passphrase->bundle == open.bundle);
  CHECK(by_passphrase->envelope == How::by_passphrase);
}

TEST_CASE("a sealed bundle travels as text too") {
  const std::string text = sync::armour(kit::sealed_to("c"));
  CHECK(read(model::as_bytes(text), ring("c")));
  CHECK(verdict(model::as_bytes(text), ring("d")).starts_with("sealed bundle.sealed_other"));
}

TEST_CASE("without the key, with another, or with a wrong passphrase a sealed bundle says what it needs") {
  CHECK(verdict(kit::sealed_to("c"), {}).starts_with("sealed bundle.sealed_other|from_swimmer.slip|header"));
  CHECK(verdict(kit::sealed_to("c"), ring("def")).starts_with("sealed bundle.sealed_other"));
  CHECK(verdict(kit::sealed_by_passphrase(), ring("c")).starts_with("sealed bundle.sealed_passphrase"));
  CHECK(verdict(kit::sealed_by_passphrase(), ring("c", "two widths overwater")).starts_with("sealed bundle.sealed_wrong"));
}

TEST_CASE("nothing of what is sealed can be seen from outside") {
  const model::Bytes open = kit::signed_bundle({});
  for (const model::Bytes& file : {kit::sealed_to("c"), kit::sealed_by_passphrase()}) {
    const std::string_view seen = model::as_text(file);
    for (const std::string& secret : {std::string(16, 'A'), std::string(16, 's'), std::string(16, 'S'), std::string("SQ4")})
      CHECK(seen.find(secret) == std::string_view::npos);
    CHECK(model::as_text(open).find("SQ4") != std::string_view::npos);  // it would be found
    CHECK(seen.find(model::as_text(kit::sealing_key_named('c').open.view())) == std::string_view::npos);
    CHECK(seen.find(model::as_text(kit::signing_key_named('s').open.view())) == std::string_view::npos);
  }
}

TEST_CASE("every bit flip of a sealed file is refused, with its outer checks as they were and made true again") {
  struct Case {
    const char* name;
    model::Bytes file;
    sync::Keyring keys;
  };
  for (const Case& one : {Case{"keys", kit::sealed_to("c"), ring("c")}, Case{"passphrase", kit::sealed_by_passphrase(), ring("", kit::kFilePassphrase)}}) {
    CAPTURE(one.name);
    kit::Verdicts verdicts;
    std::uint64_t wrongly_read = 0;
    for (std::size_t bit = 0; bit < one.file.size() * 8; ++bit) {
      model::Bytes changed = one.file;
      changed[bit / 8] = static_cast<std::uint8_t>(changed[bit / 8] ^ (1U << (bit % 8)));
      wrongly_read += read(changed, one.keys) ? 1U : 0U;
      const model::Bytes again = kit::sealed_again(changed);
      if (again == one.file) continue;  // the flip was in an outer check itself
      const auto got = read(again, one.keys);
      wrongly_read += got ? 1U : 0U;
      verdicts.add(kit::verdict(got));
    }
    CHECK(wrongly_read == 0);
    CHECK(read(one.file, one.keys));
    verdicts.print(std::string("seal.bit_flips.") + one.name);
  }
}

TEST_CASE("a sealed file cut anywhere is refused") {
  const model::Bytes file = kit::sealed_to("c");
  std::uint64_t wrongly_read = 0;
  for (std::size_t length = 0; length < file.size(); ++length) wrongly_read += read(model::ByteView(file).first(length), ring("c")) ? 1U : 0U;
  CHECK(wrongly_read == 0);
}

TEST_CASE("what is sealed comes out the same at every length around a chunk's border") {
  for (const std::size_t length : {std::size_t{1}, kChunk - 1, kChunk, kChunk + 1, 2 * kChunk, 3 * kChunk + 5}) {
    CAPTURE(length);
    model::Bytes inside(length);
    kit::SameRandom(length).fill(inside);
    const auto got = unsealed(sealed_bytes(length));
    REQUIRE(got);
    CHECK(got->bundle == inside);
    CHECK(got->opened_by == kit::sealing_key_named('c').open);
  }
}

TEST_CASE("chunks that are cut off, swapped, doubled, left out or lengthened are refused, all outer checks true") {
  const kit::SealParts whole = kit::seal_apart(sealed_bytes(3 * kChunk));
  const auto chunk = [&](std::size_t nth) {
    const auto at = whole.content.begin() + static_cast<std::ptrdiff_t>(kStreamHeader + nth * (kChunk + kMore));
    return model::Bytes(at, at + static_cast<std::ptrdiff_t>(kChunk + kMore));
  };
  const auto with = [&](const std::vector<std::size_t>& order, const model::Bytes& more = {}) {
    kit::SealParts parts = whole;
    parts.content.resize(kStreamHeader);
    for (const std::size_t nth : order) model::append(parts.content, chunk(nth));
    model::append(parts.content, more);
    return kit::verdict([&]() -> model::Result<sync::ReadBundle> {
      const auto got = unsealed(kit::seal_together(parts));
      return got ? model::Result<sync::ReadBundle>(sync::ReadBundle{}) : got.error();
    }());
  };
  CHECK(with({0, 1, 2}) == "read 0");
  for (const auto& order : std::vector<std::vector<std::size_t>>{{}, {0}, {0, 1}, {1, 0, 2}, {0, 2}, {2}, {0, 0, 1, 2}, {0, 1, 2, 2}, {2, 1, 0}})
    CHECK(with(order).starts_with("damaged bundle.seal|from_swimmer.slip|sealed|"));
  CHECK(with({0, 1, 2}, model::Bytes(1)).starts_with("damaged bundle.seal"));
  CHECK(with({0, 1, 2}, model::Bytes(kMore)).starts_with("damaged bundle.seal"));
  CHECK(with({0, 1}, model::Bytes(kMore)).starts_with("damaged bundle.seal"));
}

TEST_CASE("stanzas of kinds nobody knows are passed over, 16 at most in all, and a passphrase stands alone") {
  // What is added is under the MAC: so these are made by somebody who holds the file key, but not by this program.
  const auto without_mac = [](const std::vector<kit::Stanza>& stanzas, const model::Bytes& file, const sync::Keyring& keys) {
    kit::SealParts parts = kit::seal_apart(file);
    parts.stanzas = stanzas;
    return verdict(kit::seal_together(parts), keys);
  };
  const kit::Stanza box = kit::seal_apart(kit::sealed_to("c")).stanzas.front();
  const kit::Stanza words = kit::seal_apart(kit::sealed_by_passphrase()).stanzas.front();
  const kit::Stanza newer{40, model::Bytes(200)};
  const auto of_newer = [&](std::size_t count) {
    std::vector<kit::Stanza> stanzas(count, newer);
    stanzas.push_back(box);
    return stanzas;
  };
  // The box is found behind 15 others; then the MAC says that they were not there when the seal was made.
  CHECK(without_mac(of_newer(15), kit::sealed_to("c"), ring("c")).starts_with("damaged bundle.seal|from_swimmer.slip|header"));
  CHECK(without_mac(of_newer(16), kit::sealed_to("c"), ring("c")).starts_with("too_large bundle.too_large|from_swimmer.slip|header|16"));
  CHECK(without_mac({newer}, kit::sealed_to("c"), ring("c")).starts_with("sealed bundle.sealed_other"));
  CHECK(without_mac({}, kit::sealed_to("c"), ring("c")).starts_with("damaged bundle.section|from_swimmer.slip|header"));
  const sync::Keyring both = ring("c", kit::kFilePassphrase);
  for (const auto& mixed : {std::vector<kit::Stanza>{words, box}, {box, words}, {words, words}, {words, newer}})
    CHECK(without_mac(mixed, kit::sealed_by_passphrase(), both).starts_with("damaged bundle.section|from_swimmer.slip|header"));
  CHECK(without_mac({words}, kit::sealed_by_passphrase(), both) == "read 4");
  CHECK(without_mac({{1, model::Bytes(79)}}, kit::sealed_to("c"), ring("c")).starts_with("damaged bundle.section"));
  CHECK(without_mac({{40, model::Bytes(1025)}}, kit::sealed_to("c"), ring("c")).starts_with("damaged bundle.section"));
}

TEST_CASE("a version that was changed on the way is noticed, though all outer checks are true") {
  kit::SealParts parts = kit::seal_apart(kit::sealed_to("c"));
  parts.minor += 1;
  CHECK(verdict(kit::seal_together(parts), ring("c")).starts_with("damaged bundle.seal|from_swimmer.slip|header"));
}

TEST_CASE("a hostile passphrase cost is refused, with and without a passphrase") {
  for (const std::uint64_t kib : {std::uint64_t{sync::kMostCostKib + 1}, std::uint64_t{1} << 32, ~std::uint64_t{0}}) {
    kit::SealParts parts = kit::seal_apart(kit::sealed_by_passphrase());
    model::Bytes& stanza = parts.stanzas.front().bytes;
    model::Bytes hostile(stanza.begin(), stanza.begin() + 16);
    ops::put_varint(hostile, kib);
    ops::put_varint(hostile, 1);
    hostile.insert(hostile.end(), stanza.end() - 48, stanza.end());
    stanza = hostile;
    for (const std::string& passphrase : {std::string(), kit::kFilePassphrase})
      CHECK(verdict(kit::seal_together(parts), ring("", passphrase)).starts_with("too_large bundle.too_large|from_swimmer.slip|passphrase"));
  }
}

TEST_CASE("a seal is not made for nobody, for both a key and a passphrase, or for more than 16") {
  kit::SameRandom random(1);
  const model::Bytes inside = kit::signed_bundle({});
  const sync::RecipientKey key = kit::sealing_key_named('c').open;
  CHECK(sync::seal(inside, {}, random).error().text == "key.recipients");
  CHECK(sync::seal(inside, {.to = {key}, .passphrase = kit::kFilePassphrase, .cost = kit::kCheapCost}, random).error().text == "key.recipients");
  CHECK(sync::seal(inside, {.to = std::vector<sync::RecipientKey>(17, key), .passphrase = {}, .cost = {}}, random).error().text == "key.recipients");
  CHECK(sync::seal(inside, {.to = {}, .passphrase = "short", .cost = kit::kCheapCost}, random).error().text == "key.passphrase_short");
  CHECK(sync::seal(inside, {.to = {sync::RecipientKey{}}, .passphrase = {}, .cost = {}}, random).error().text == "key.not_a_key");
  CHECK(sync::seal({}, {.to = {key}, .passphrase = {}, .cost = {}}, random).error().text == "key.recipients");
}

TEST_CASE("two seals of one bundle have nothing in common but their form") {
  kit::SameRandom random(9);
  const model::Bytes inside = kit::signed_bundle({How::to_keys, {kit::sealing_key_named('c').open}});
  const sync::SealPlan plan{.to = {kit::sealing_key_named('c').open}, .passphrase = {}, .cost = {}};
  const auto one = kit::seal_apart(*sync::seal(inside, plan, random)), two = kit::seal_apart(*sync::seal(inside, plan, random));
  CHECK(one.stanzas.front().bytes != two.stanzas.front().bytes);
  CHECK(one.mac != two.mac);
  CHECK(one.content.size() == two.content.size());
  std::size_t same = 0;
  for (std::size_t i = 0; i < one.content.size(); ++i) same += one.content[i] == two.content[i] ? 1U : 0U;
  CHECK(same < one.content.size() / 32);
}

TEST_CASE("a seal inside a seal is refused") {
  kit::SameRandom random(2);
  const auto twice = sync::seal(kit::sealed_to("c"), {.to = {kit::sealing_key_named('c').open}, .passphrase = {}, .cost = {}}, random);
  REQUIRE(twice);
  CHECK(verdict(*twice, ring("c")).starts_with("damaged bundle.seal"));
}

// ---- signatures ----------------------------------------------------------------------------------------

TEST_CASE("a signed bundle names its device's key, and an unsigned one nobody") {
  const auto got = read(kit::signed_bundle({}), {});
  REQUIRE(got);
  REQUIRE(got->signature);
  CHECK(got->signature->signer == kit::signing_key_named('s').open);
  CHECK(got->envelope == How::open);
  CHECK(!kit::read_of(kit::reference_files().front().bytes).signature);
}

TEST_CASE("every bit flip of a signed bundle is refused or no longer signed by that device, all checks true") {
  const model::Bytes file = kit::signed_bundle({});
  const sync::SignerKey signer = kit::signing_key_named('s').open;
  std::uint64_t wrongly_signed = 0, other_reading = 0;
  const auto whole = kit::read_of(file);
  for (std::size_t bit = 0; bit < file.size() * 8; ++bit) {
    model::Bytes changed = file;
    changed[bit / 8] = static_cast<std::uint8_t>(changed[bit / 8] ^ (1U << (bit % 8)));
    changed = kit::sealed_again(changed);
    if (changed == file) continue;
    auto got = read(changed, {});
    if (!got) continue;
    other_reading += 1;
    got->bundle.major = whole.bundle.major;
    got->bundle.minor = whole.bundle.minor;
    wrongly_signed += got->signature && got->signature->signer == signer && !(got->bundle == whole.bundle) ? 1U : 0U;
  }
  CHECK(wrongly_signed == 0);
  CHECK(other_reading <= 16);  // changes of the numbers of the form: the same content, said to be of a newer one, or a draft
}

TEST_CASE("a signature is for one envelope: taken out of its seal, or sealed again to another, it does not hold") {
  const sync::RecipientKey coach = kit::sealing_key_named('c').open, other = kit::sealing_key_named('d').open;
  CHECK(verdict(kit::signed_bundle({How::to_keys, {coach}}), {}).starts_with("damaged bundle.signature|from_swimmer.slip|signature|"));
  CHECK(verdict(kit::signed_bundle({How::by_passphrase, {}}), {}).starts_with("damaged bundle.signature"));
  kit::SameRandom random(3);
  const auto sealed_as = [&](const sync::Envelope& said, const sync::SealPlan& plan) { return *sync::seal(kit::signed_bundle(said), plan, random); };
  const sync::SealPlan to_other{.to = {other}, .passphrase = {}, .cost = {}};
  CHECK(verdict(sealed_as({How::to_keys, {coach}}, to_other), ring("d")).starts_with("damaged bundle.signature"));
  CHECK(verdict(sealed_as({}, to_other), ring("d")).starts_with("damaged bundle.signature"));
  CHECK(verdict(sealed_as({How::to_keys, {other}}, to_other), ring("d")) == "read 4");
  CHECK(verdict(sealed_as({How::to_keys, {other}}, {.to = {}, .passphrase = kit::kFilePassphrase, .cost = kit::kCheapCost}), ring("d", kit::kFilePassphrase))
            .starts_with("damaged bundle.signature"));
}

TEST_CASE("a signature section of another form is refused by its place") {
  const model::Bytes file = kit::signed_bundle({});
  const auto with_signature = [&](const model::Bytes& bytes) {
    sync::FramePlan plan = kit::taken_apart(file);
    plan.sections.back().raw = bytes;
    return verdict(sync::write_frame(plan), {});
  };
  const model::Bytes whole = kit::taken_apart(file).sections.back().raw;
  CHECK(with_signature(whole) == "read 4");
  CHECK(with_signature({}).starts_with("damaged bundle.section|from_swimmer.slip|signature"));
  model::Bytes longer = whole;
  longer.push_back(0);
  CHECK(with_signature(longer).starts_with("damaged bundle.section"));
  model::Bytes other_kind = whole;
  other_kind[0] = 3;
  CHECK(with_signature(other_kind).starts_with("damaged bundle.section"));
  model::Bytes no_keys = whole;
  no_keys[0] = 1;  // to keys, but none is named
  CHECK(with_signature(no_keys).starts_with("damaged bundle.section"));
  model::Bytes other_signer = whole;
  const sync::SignerKey key = kit::signing_key_named('t').open;
  std::copy(key.bytes.begin(), key.bytes.end(), other_signer.begin() + 2);
  CHECK(with_signature(other_signer).starts_with("damaged bundle.signature"));
}

TEST_CASE("flags that do not say what the file holds are refused") {
  const auto with_flags = [](const model::Bytes& file, std::uint64_t flags) {
    sync::FramePlan plan = kit::taken_apart(file);
    plan.flags = flags;
    return verdict(sync::write_frame(plan), ring("c"));
  };
  const model::Bytes plain = kit::reference_files().front().bytes, is_signed = kit::signed_bundle({}), is_sealed = kit::sealed_to("c");
  CHECK(with_flags(plain, 0) == "read 4");
  CHECK(with_flags(is_signed, 2) == "read 4");
  CHECK(with_flags(is_sealed, 1) == "read 4");
  for (const std::uint64_t flags : {1, 2, 3}) CHECK(with_flags(plain, flags).starts_with("damaged bundle.section"));
  for (const std::uint64_t flags : {0, 1, 3}) CHECK(with_flags(is_signed, flags).starts_with("damaged bundle.section"));
  for (const std::uint64_t flags : {0, 2, 3}) CHECK(with_flags(is_sealed, flags).starts_with("damaged bundle.section"));
  CHECK(with_flags(plain, 4).starts_with("newer_version"));
}
