#include <doctest/doctest.h>

#include "kit/ops_kit.h"
#include "kit/plain_blake2b.h"
#include "ops/chain.h"

using namespace slipway;
using model::Bytes;

namespace {

// The filling of RFC 7693, appendix E.
Bytes filling(std::size_t length) {
  Bytes out;
  std::uint32_t a = 0xDEAD4BADU * static_cast<std::uint32_t>(length), b = 1;
  for (std::size_t i = 0; i < length; ++i) {
    const std::uint32_t t = a + b;
    a = b;
    b = t;
    out.push_back(static_cast<std::uint8_t>(t >> 24));
  }
  return out;
}

}  // namespace

TEST_CASE("the second opinion hashes as RFC 7693 says") {
  // Appendix A: BLAKE2b-512 of "abc".
  CHECK(model::hex(kit::plain_blake2b(model::as_bytes("abc"), 64)) ==
        "ba80a53f981c4d0d6a2797b69f12f6e94c212f14685ac4b74b12bb6fdbffa2d1"
        "7d87c5392aab792dc252d5de4533cc9518d38aa8dbf1925ab92386edd4009923");
}

TEST_CASE("our hash of the 48 hashes of RFC 7693, appendix E, is the published one") {
  Bytes all;
  for (std::size_t size : {20U, 32U, 48U, 64U})
    for (std::size_t length : {0U, 3U, 128U, 129U, 255U, 1024U}) {
      model::append(all, kit::plain_blake2b(filling(length), size));
      model::append(all, kit::plain_blake2b(filling(length), size, filling(size)));
    }
  CHECK(ops::blake2b(all).hex() == "c23a7800d98123bd10f506c61e29da5603d763b8bbad2e737f5e765a7bccd475");
}

TEST_CASE("our hash is BLAKE2b-256, without key, for every length up to five blocks") {
  // The first two are widely printed; they are also what "b2sum -l 256" answers.
  CHECK(ops::blake2b({}).hex() == "0e5751c026e543b2e8ab2eb06099daa1d1e5df47778f7787faab45cdf12fe3a8");
  CHECK(ops::blake2b(model::as_bytes("abc")).hex() == "bddd813c634239723171ef3fee98579b94964e3bb1cb3e427262c8c068d52319");
  for (std::size_t length = 0; length <= 5 * 128; ++length) {
    CAPTURE(length);
    const Bytes input = filling(length);
    REQUIRE(model::equal(ops::blake2b(input).view(), kit::plain_blake2b(input, 32)));
  }
}

TEST_CASE("an op is hashed with the hash before it, for every length up to three blocks") {
  model::Hash32 before = ops::blake2b(model::as_bytes("before"));
  for (std::size_t length = 0; length <= 3 * 128; ++length) {
    CAPTURE(length);
    const Bytes op = filling(length);
    Bytes both(before.bytes.begin(), before.bytes.end());
    model::append(both, op);
    const model::Hash32 hash = ops::chain(before, op);
    REQUIRE(model::equal(hash.view(), kit::plain_blake2b(both, 32)));
    REQUIRE(hash == ops::blake2b(both));
    before = hash;
  }
}

TEST_CASE("a stream begins with the hash of its name, and each hash takes in the one before") {
  const ops::StreamId stream = kit::stream_named('s', 'a');
  Bytes words;
  model::append(words, model::as_bytes("slipway stream 0ssssssssssssssssaaaaaaaaaaaaaaaa"));
  CHECK(model::equal(ops::genesis(stream).view(), kit::plain_blake2b(words, 32)));

  const Bytes op = kit::typed_bytes("01 02 00");
  Bytes input;
  model::append(input, ops::genesis(stream).view());
  model::append(input, op);
  CHECK(model::equal(ops::chain(ops::genesis(stream), op).view(), kit::plain_blake2b(input, 32)));
}
