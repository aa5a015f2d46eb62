// Keys, passphrases and recovery sheets. The primitives are held to published vectors, so that the library as
// it is built here (without its configure, and as wasm) is the one that was published.
#include "sync/keys.h"

#include <set>

#include <doctest/doctest.h>
#include <sodium.h>

#include "kit/bundle_kit.h"

using namespace slipway;
using model::ErrorKind;

namespace {

constexpr sync::PassphraseCost kCheap{64, 1};
const std::string kPassphrase = "four lanes and a bench";

model::Bytes unhex(std::string_view text) {
  model::Bytes out;
  REQUIRE(model::read_hex(text, out));
  return out;
}
template <class Fixed>
Fixed fixed(std::string_view text) {
  return Fixed::from(unhex(text));
}

sync::Secret32 secret_of(std::uint8_t fill) {
  sync::Secret32 secret;
  secret.bytes.fill(fill);
  return secret;
}

model::Bytes wrapped(sync::Wrapped what = sync::Wrapped::file_key) {
  kit::SameRandom random(5);
  const auto made = sync::wrap(secret_of(7), kPassphrase, kCheap, what, random);
  REQUIRE(made);
  return *made;
}

std::string sheet_of(const sync::RecipientSecret& secret) {
  std::string text;
  for (const std::string& line : sync::recovery_lines(secret)) text += line + "\n";
  return text;
}

}  // namespace

TEST_CASE("signing keys and signatures are those of RFC 8032, 7.1, tests 1 to 3") {
  struct Vector {
    std::string_view secret, open, message, signature;
  };
  for (const Vector& vector :
       {Vector{"9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60", "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a", "",
               "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b"},
        Vector{"4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb", "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c", "72",
               "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00"},
        Vector{"c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7", "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025", "af82",
               "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a"}}) {
    const auto key = sync::signing_key_of(fixed<sync::SigningSeed>(vector.secret));
    CHECK(key.open.hex() == vector.open);
    const model::Bytes message = unhex(vector.message);
    const auto signature = sync::sign(key, message);
    CHECK(signature.hex() == vector.signature);
    CHECK(sync::signature_holds(key.open, message, signature));
    for (std::size_t bit = 0; bit < 512; ++bit) {
      sync::SignatureBytes changed = signature;
      changed.bytes[bit / 8] = static_cast<std::uint8_t>(changed.bytes[bit / 8] ^ (1U << (bit % 8)));
      CHECK(!sync::signature_holds(key.open, message, changed));
    }
  }
}

TEST_CASE("keys to seal to are those of RFC 7748, 6.1") {
  CHECK(sync::sealing_key_of(fixed<sync::RecipientSecret>("77076d0a7318a57d3c16c17251b26645df4c2f87ebc0992ab177fba51db92c2a")).open.hex() ==
        "8520f0098930a754748b7ddcb43ef75a0dbf3a0d26381af4eba4a98eaa9b4e6a");
  CHECK(sync::sealing_key_of(fixed<sync::RecipientSecret>("5dab087e624a8a4b79e17f8b83800ee66f3bb1292618b6fd1c2f8b27ff88e0eb")).open.hex() ==
        "de9edb7d7b7dc1b4d35b61c2ece435373f8343c85b78674dadfc7e146f882b4f");
}

TEST_CASE("Argon2id as built here gives what libsodium publishes (test/default/pwhash_argon2id, first vector)") {
  const model::Bytes passphrase = unhex(
      "a347ae92bce9f80f6f595a4480fc9c2fe7e7d7148d371e9487d75f5c23008ffae065577a928febd9b1973a5a95073acdbeb6a030cfc0d79caa2dc5cd011cef02c08d"
      "a232d76d52dfbca38ca8dcbd665b17d1665f7cf5fe59772ec909733b24de97d6f58d220b20c60d7c07ec1fd93c52c31020300c6c1facd77937a597c7a6");
  const model::Bytes salt = unhex("5541fbc995d5c197ba290346d2c559de");
  model::Bytes out(155);
  REQUIRE(crypto_pwhash_argon2id(out.data(), out.size(), reinterpret_cast<const char*>(passphrase.data()), passphrase.size(), salt.data(), 5, 7256678,
                                 crypto_pwhash_argon2id_ALG_ARGON2ID13) == 0);
  CHECK(model::hex(out) ==
        "18acec5d6507739f203d1f5d9f1d862f7c2cdac4f19d2bdff64487e60d969e3ced615337b9eec6ac4461c6ca07f0939741e57c24d0005c7ea171a0ee1e7348249d135b38f222"
        "e4dad7b9a033ed83f5ca27277393e316582033c74affe2566a2bea47f91f0fd9fe49ece7e1f79f3ad6e9b23e0277c8ecc4b313225748dd2a80f5679534a0700e246a79a49b3f"
        "74eb89ec6205fe1eeb941c73b1fcf1");
}

TEST_CASE("a passphrase gives back what it wrapped, and no other passphrase, purpose or byte does") {
  const model::Bytes whole = wrapped();
  CHECK(whole.size() <= sync::kMostWrappedBytes);
  const auto back = sync::unwrap(whole, kPassphrase, sync::Wrapped::file_key);
  REQUIRE(back);
  CHECK(*back == secret_of(7));
  CHECK(sync::unwrap(whole, "four lanes and a Bench", sync::Wrapped::file_key).error().text == "key.passphrase_wrong");
  CHECK(sync::unwrap(whole, kPassphrase, sync::Wrapped::coach_key).error().text == "key.passphrase_wrong");
  for (std::size_t bit = 0; bit < whole.size() * 8; ++bit) {
    model::Bytes changed = whole;
    changed[bit / 8] = static_cast<std::uint8_t>(changed[bit / 8] ^ (1U << (bit % 8)));
    CAPTURE(bit);
    CHECK(!sync::unwrap(changed, kPassphrase, sync::Wrapped::file_key));
  }
  for (std::size_t length = 0; length < whole.size(); ++length)
    CHECK(sync::unwrap(model::ByteView(whole).first(length), kPassphrase, sync::Wrapped::file_key).error().text == "key.wrapped");
}

TEST_CASE("a cost over the caps is refused before memory is asked for") {
  const model::Bytes whole = wrapped();
  struct Cost {
    std::uint64_t kib, passes;
  };
  for (const Cost& cost : {Cost{sync::kMostCostKib + 1, 1}, Cost{1ULL << 32, 1}, Cost{1ULL << 63, 1}, Cost{64, sync::kMostPasses + 1},
                           Cost{64, 1ULL << 32}, Cost{7, 1}, Cost{0, 1}, Cost{64, 0}}) {
    model::Bytes hostile(whole.begin(), whole.begin() + 16);
    ops::put_varint(hostile, cost.kib);
    ops::put_varint(hostile, cost.passes);
    hostile.insert(hostile.end(), whole.end() - 48, whole.end());
    const auto got = sync::unwrap(hostile, kPassphrase, sync::Wrapped::file_key);
    REQUIRE(!got);
    CHECK(got.error().kind == ErrorKind::too_large);
    CHECK(got.error().text == "key.cost");
  }
}

TEST_CASE("a passphrase of 7 bytes is refused, of 8 taken") {
  kit::SameRandom random(1);
  CHECK(sync::wrap(secret_of(1), "7 bytes", kCheap, sync::Wrapped::file_key, random).error().text == "key.passphrase_short");
  CHECK(sync::wrap(secret_of(1), "8 bytes!", kCheap, sync::Wrapped::file_key, random));
  CHECK(sync::wrap(secret_of(1), std::string(sync::kMostPassphraseBytes + 1, 'x'), kCheap, sync::Wrapped::file_key, random).error().text == "key.passphrase_long");
}

TEST_CASE("a key's digits are four groups of five, the same each time, and others for another key") {
  std::set<std::string> all;
  for (std::uint8_t fill = 0; fill < 50; ++fill) {
    const std::string digits = sync::compare_digits(secret_of(fill).view());
    CHECK(digits == sync::compare_digits(secret_of(fill).view()));
    REQUIRE(digits.size() == 23);
    for (std::size_t i = 0; i < digits.size(); ++i) CHECK((i % 6 == 5 ? digits[i] == ' ' : digits[i] >= '0' && digits[i] <= '9'));
    all.insert(digits);
  }
  CHECK(all.size() == 50);
}

TEST_CASE("a recovery sheet gives back the key however it is typed") {
  kit::SameRandom random(11);
  for (int nth = 0; nth < 200; ++nth) {
    const auto key = sync::make_sealing_key(random);
    const std::string sheet = sheet_of(key.secret);
    std::string sloppy = "# Keep this sheet where nobody else looks: lower case\n\r\n  ";
    for (const char sign : sheet) {
      if (sign >= 'A' && sign <= 'Z') sloppy += static_cast<char>(sign - 'A' + 'a');
      else if (sign == '0') sloppy += nth % 2 == 0 ? 'o' : 'O';
      else if (sign == '1') sloppy += nth % 2 == 0 ? 'l' : 'I';
      else if (sign == ' ') sloppy += nth % 3 == 0 ? "-" : "";
      else sloppy += sign;
    }
    for (const std::string& typed : {sheet, sloppy}) {
      const auto back = sync::read_recovery(typed);
      REQUIRE(back);
      CHECK(*back == key.secret);
      CHECK(sync::sealing_key_of(*back).open == key.open);
    }
  }
}

TEST_CASE("a slip on the recovery sheet is named by its line") {
  kit::SameRandom random(12);
  const auto secret = sync::make_sealing_key(random).secret;
  const auto lines = sync::recovery_lines(secret);
  REQUIRE(lines.size() == 4);
  for (std::size_t at = 0; at < 4; ++at) {
    auto changed = lines;
    changed[at][6] = changed[at][6] == 'A' ? 'B' : 'A';
    const auto got = sync::read_recovery(changed[0] + changed[1] + changed[2] + changed[3]);
    REQUIRE(!got);
    CHECK(got.error().text == "key.sheet_line");
    CHECK(got.error().args == std::vector<std::string>{std::to_string(at + 1)});
  }
  CHECK(sync::read_recovery(lines[1] + lines[0] + lines[2] + lines[3]).error().args.front() == "1");
  CHECK(sync::read_recovery(lines[0] + lines[1] + lines[2] + "U").error().args.front() == "4");
  CHECK(sync::read_recovery(lines[0] + lines[1] + lines[2]).error().text == "key.sheet_length");
  CHECK(sync::read_recovery("").error().text == "key.sheet_length");
}

TEST_CASE("keys are drawn from the random source that is handed in, and from nothing else") {
  kit::SameRandom once(3), again(3), other(4);
  CHECK(sync::make_signing_key(once).secret == sync::make_signing_key(again).secret);
  CHECK(!(sync::make_sealing_key(once).open == sync::make_sealing_key(other).open));
}
