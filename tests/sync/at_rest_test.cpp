// The key of a profile that is sealed at rest: it opens its own rows, each at its own place.
#include "sync/at_rest.h"

#include <sodium.h>

#include <doctest/doctest.h>

#include "kit/bundle_kit.h"
#include "ops/chain.h"

using namespace slipway;

namespace {

sync::Secret32 secret_of(std::uint8_t byte) {
  sync::Secret32 secret;
  secret.bytes.fill(byte);
  return secret;
}

}  // namespace

TEST_CASE("a row opens with its key at its place, and with no other key, place or bit") {
  kit::SameRandom random(5);
  const sync::ProfileKey key(secret_of(7)), other(secret_of(8));
  const model::ByteView row = model::as_bytes("pain 6 in the shoulder"), place = model::as_bytes("row 3");
  const model::Bytes sealed = key.seal(row, place, random);
  CHECK(sealed.size() == row.size() + 24 + 16);
  const auto opened = key.open(sealed, place);
  REQUIRE(opened);
  CHECK(model::equal(*opened, row));
  CHECK_FALSE(other.open(sealed, place));
  CHECK_FALSE(key.open(sealed, model::as_bytes("row 4")));
  for (std::size_t bit = 0; bit < sealed.size() * 8; ++bit) {
    model::Bytes flipped = sealed;
    flipped[bit / 8] ^= static_cast<std::uint8_t>(1 << bit % 8);
    CHECK_FALSE(key.open(flipped, place));
  }
  for (std::size_t size = 0; size < sealed.size(); ++size) CHECK_FALSE(key.open(model::ByteView(sealed).first(size), place));
  CHECK(key.seal(row, place, random) != sealed);  // a nonce of its own each time
}

TEST_CASE("a mark is the same for the same hash and key, and is not the hash") {
  const sync::ProfileKey key(secret_of(7)), other(secret_of(8));
  const model::Hash32 hash = ops::blake2b(model::as_bytes("an entry"));
  CHECK(key.mark(hash) == key.mark(hash));
  CHECK_FALSE(key.mark(hash) == hash);
  CHECK_FALSE(key.mark(hash) == other.mark(hash));
  CHECK_FALSE(key.mark(hash) == key.mark(ops::blake2b(model::as_bytes("another"))));
}

// draft-irtf-cfrg-xchacha-03, A.3.1: the cipher under the rows gives the published text and tag.
TEST_CASE("the cipher of the rows gives the published vector of XChaCha20-Poly1305") {
  model::Bytes key, nonce, aad, wanted;
  REQUIRE(model::read_hex("808182838485868788898a8b8c8d8e8f909192939495969798999a9b9c9d9e9f", key));
  REQUIRE(model::read_hex("404142434445464748494a4b4c4d4e4f5051525354555657", nonce));
  REQUIRE(model::read_hex("50515253c0c1c2c3c4c5c6c7", aad));
  REQUIRE(model::read_hex("bd6d179d3e83d43b9576579493c0e939572a1700252bfaccbed2902c21396cbb731c7f1b0b4aa6440bf3a82f4eda7e39ae64c6708c54c216cb96b72e1213b452"
                          "2f8c9ba40db5d945b11b69b982c1bb9e3f3fac2bc369488f76b2383565d3fff921f9664c97637da9768812f615c68b13b52e"
                          "c0875924c1c7987947deafd8780acf49",
                          wanted));
  const model::ByteView text = model::as_bytes(
      "Ladies and Gentlemen of the class of '99: If I could offer you only one tip for the future, sunscreen would be it.");
  model::Bytes out(text.size() + crypto_aead_xchacha20poly1305_ietf_ABYTES);
  crypto_aead_xchacha20poly1305_ietf_encrypt(out.data(), nullptr, text.data(), text.size(), aad.data(), aad.size(), nullptr, nonce.data(), key.data());
  CHECK(out == wanted);
}
