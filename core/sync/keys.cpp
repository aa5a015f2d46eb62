#include "sync/keys.h"

#include <sodium.h>

#include <algorithm>
#include <array>

#include "ops/chain.h"
#include "ops/op.h"
#include "sync/door.h"

namespace slipway::sync {

namespace {

constexpr std::size_t kSaltBytes = crypto_pwhash_argon2id_SALTBYTES;
constexpr std::size_t kBoxBytes = 32 + crypto_secretbox_MACBYTES;
static_assert(kSaltBytes == 16 && kBoxBytes == 48);

template <class Secret>
void wipe(Secret& secret) {
  sodium_memzero(secret.bytes.data(), secret.bytes.size());
}

model::Bytes with_context(std::string_view context, model::ByteView bytes) {
  model::Bytes all(context.begin(), context.end());
  model::append(all, bytes);
  return all;
}

}  // namespace

SigningKey signing_key_of(const SigningSeed& secret) {
  SigningKey key{{}, secret};
  std::array<std::uint8_t, crypto_sign_SECRETKEYBYTES> both{};
  crypto_sign_seed_keypair(key.open.bytes.data(), both.data(), secret.bytes.data());
  sodium_memzero(both.data(), both.size());
  return key;
}

SigningKey make_signing_key(host::Random& random) {
  SigningSeed secret;
  random.fill(secret.bytes);
  return signing_key_of(secret);
}

SealingKey sealing_key_of(const RecipientSecret& secret) {
  SealingKey key{{}, secret};
  crypto_scalarmult_base(key.open.bytes.data(), secret.bytes.data());
  return key;
}

SealingKey make_sealing_key(host::Random& random) {
  RecipientSecret secret;
  random.fill(secret.bytes);
  return sealing_key_of(secret);
}

SignatureBytes sign(const SigningKey& key, model::ByteView message) {
  std::array<std::uint8_t, crypto_sign_SECRETKEYBYTES> both{};
  SignerKey unused;
  crypto_sign_seed_keypair(unused.bytes.data(), both.data(), key.secret.bytes.data());
  SignatureBytes signature;
  crypto_sign_detached(signature.bytes.data(), nullptr, message.data(), message.size(), both.data());
  sodium_memzero(both.data(), both.size());
  return signature;
}

bool signature_holds(const SignerKey& key, model::ByteView message, const SignatureBytes& signature) {
  return crypto_sign_verify_detached(signature.bytes.data(), message.data(), message.size(), key.bytes.data()) == 0;
}

// ---- passphrases ---------------------------------------------------------------------------------------

namespace {

struct Parts {
  model::ByteView salt;
  PassphraseCost cost;
  model::ByteView box;
};

bool take_apart(model::ByteView wrapped, Parts& parts) {
  Cursor cursor(wrapped);
  return cursor.take(kSaltBytes, parts.salt) && cursor.number(parts.cost.kib) && cursor.number(parts.cost.passes) &&
         cursor.take(kBoxBytes, parts.box) && cursor.left() == 0;
}

bool within_caps(const PassphraseCost& cost) {
  return cost.kib >= kLeastCostKib && cost.kib <= kMostCostKib && cost.passes >= 1 && cost.passes <= kMostPasses;
}

// The key made from a passphrase wraps one secret, ever (its salt is random), so the nonce only says what it is of.
std::array<std::uint8_t, crypto_secretbox_NONCEBYTES> nonce_of(Wrapped what) {
  const auto says = [what]() -> std::string_view {
    switch (what) {
      case Wrapped::file_key: return "slipway file key";
      case Wrapped::coach_key: return "slipway coach key";
      case Wrapped::profile: return "slipway profile";
      case Wrapped::pin: break;
    }
    return "slipway pin";
  }();
  std::array<std::uint8_t, crypto_secretbox_NONCEBYTES> nonce{};
  std::copy(says.begin(), says.end(), nonce.begin());
  return nonce;
}

// False: memory ran out.
bool derive(Secret32& key, std::string_view passphrase, model::ByteView salt, const PassphraseCost& cost) {
  return crypto_pwhash_argon2id(key.bytes.data(), key.bytes.size(), passphrase.data(), passphrase.size(), salt.data(), cost.passes,
                                static_cast<std::size_t>(cost.kib) * 1024, crypto_pwhash_argon2id_ALG_ARGON2ID13) == 0;
}

model::Error no_memory() { return model::Error{model::ErrorKind::too_large, "memory.out", {}}; }

}  // namespace

model::Result<model::Bytes> wrap(const Secret32& secret, std::string_view passphrase, const PassphraseCost& cost, Wrapped what, host::Random& random) {
  if (passphrase.size() < kLeastPassphraseBytes)
    return model::error(model::ErrorKind::invalid, "key.passphrase_short", {std::to_string(kLeastPassphraseBytes)});
  if (passphrase.size() > kMostPassphraseBytes)
    return model::error(model::ErrorKind::invalid, "key.passphrase_long", {std::to_string(kMostPassphraseBytes)});
  model::Bytes out(kSaltBytes);
  random.fill(out);
  Secret32 key;
  if (!derive(key, passphrase, out, cost)) return no_memory();
  ops::put_varint(out, cost.kib);
  ops::put_varint(out, cost.passes);
  std::array<std::uint8_t, kBoxBytes> box{};
  crypto_secretbox_easy(box.data(), secret.bytes.data(), secret.bytes.size(), nonce_of(what).data(), key.bytes.data());
  wipe(key);
  model::append(out, box);
  return out;
}

bool is_wrapped(model::ByteView wrapped) {
  Parts parts;
  return take_apart(wrapped, parts) && within_caps(parts.cost);
}

model::Result<Secret32> unwrap(model::ByteView wrapped, std::string_view passphrase, Wrapped what) {
  Parts parts;
  if (!take_apart(wrapped, parts)) return model::error(model::ErrorKind::damaged, "key.wrapped");
  if (!within_caps(parts.cost))
    return model::error(model::ErrorKind::too_large, "key.cost", {std::to_string(parts.cost.kib), std::to_string(parts.cost.passes)});
  Secret32 key, secret;
  if (!derive(key, passphrase, parts.salt, parts.cost)) return no_memory();
  const int opened = crypto_secretbox_open_easy(secret.bytes.data(), parts.box.data(), parts.box.size(), nonce_of(what).data(), key.bytes.data());
  wipe(key);
  if (opened != 0) return model::error(model::ErrorKind::sealed, "key.passphrase_wrong");
  return secret;
}

// ---- for eyes and paper --------------------------------------------------------------------------------

namespace {

constexpr std::string_view kSigns = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
constexpr std::size_t kLines = 4, kSecretALine = 8, kCheckALine = 2, kSignsALine = 16, kSignsAGroup = 4;
static_assert((kSecretALine + kCheckALine) * 8 == kSignsALine * 5);

using Line = std::array<std::uint8_t, kSecretALine + kCheckALine>;

// Over the line and its number, so that two lines in the wrong order are noticed.
void put_check(Line& line, std::size_t number) {
  model::Bytes said = with_context("slipway recovery line ", model::ByteView(line).first(kSecretALine));
  said.push_back(static_cast<std::uint8_t>(number));
  const model::Hash32 hash = ops::blake2b(said);
  std::copy_n(hash.bytes.begin(), kCheckALine, line.begin() + kSecretALine);
}

// The place of a sign, as people write it; -1: none of ours.
int value_of(char sign) {
  if (sign >= 'a' && sign <= 'z') sign = static_cast<char>(sign - 'a' + 'A');
  if (sign == 'O') sign = '0';
  if (sign == 'I' || sign == 'L') sign = '1';
  const std::size_t at = kSigns.find(sign);
  return at == std::string_view::npos ? -1 : static_cast<int>(at);
}

}  // namespace

std::string compare_digits(model::ByteView public_key) {
  constexpr std::size_t kGroups = 4;
  constexpr std::uint32_t kLimit = 100'000;
  const model::Hash32 hash = ops::blake2b(with_context("slipway compare ", public_key));
  std::string text;
  for (std::size_t group = 0; group < kGroups; ++group) {
    std::uint32_t number = 0;
    for (std::size_t i = 0; i < 4; ++i) number = (number << 8) | hash.bytes[group * 4 + i];
    const std::string digits = std::to_string(number % kLimit);
    text += (group == 0 ? "" : " ") + std::string(5 - digits.size(), '0') + digits;
  }
  return text;
}

std::vector<std::string> recovery_lines(const RecipientSecret& secret) {
  std::vector<std::string> lines;
  for (std::size_t number = 0; number < kLines; ++number) {
    Line line{};
    std::copy_n(secret.bytes.begin() + static_cast<std::ptrdiff_t>(number * kSecretALine), kSecretALine, line.begin());
    put_check(line, number);
    std::string text;
    for (std::size_t sign = 0; sign < kSignsALine; ++sign) {
      unsigned value = 0;
      for (std::size_t bit = sign * 5; bit < sign * 5 + 5; ++bit) value = (value << 1) | ((line[bit / 8] >> (7 - bit % 8)) & 1U);
      text += (sign > 0 && sign % kSignsAGroup == 0 ? " " : "") + std::string(1, kSigns[value]);
    }
    lines.push_back(std::move(text));
  }
  return lines;
}

model::Result<RecipientSecret> read_recovery(std::string_view typed) {
  std::vector<unsigned> values;
  bool remark = false, line_begins = true;
  for (const char sign : typed) {
    if (sign == '\n' || sign == '\r') {
      line_begins = true;
      remark = false;
      continue;
    }
    if (sign == ' ' || sign == '\t' || sign == '-') continue;
    if (line_begins && sign == '#') remark = true;
    line_begins = false;
    if (remark) continue;
    const int value = value_of(sign);
    if (value < 0)
      return model::error(model::ErrorKind::invalid, "key.sheet_line", {std::to_string(std::min(values.size() / kSignsALine, kLines - 1) + 1)});
    values.push_back(static_cast<unsigned>(value));
  }
  if (values.size() != kLines * kSignsALine)
    return model::error(model::ErrorKind::invalid, "key.sheet_length", {std::to_string(values.size()), std::to_string(kLines * kSignsALine)});
  RecipientSecret secret;
  for (std::size_t number = 0; number < kLines; ++number) {
    Line line{};
    for (std::size_t bit = 0; bit < line.size() * 8; ++bit) {
      const unsigned value = values[number * kSignsALine + bit / 5];
      line[bit / 8] = static_cast<std::uint8_t>(line[bit / 8] | (((value >> (4 - bit % 5)) & 1U) << (7 - bit % 8)));
    }
    Line proven = line;
    put_check(proven, number);
    if (proven != line) return model::error(model::ErrorKind::invalid, "key.sheet_line", {std::to_string(number + 1)});
    std::copy_n(line.begin(), kSecretALine, secret.bytes.begin() + static_cast<std::ptrdiff_t>(number * kSecretALine));
  }
  return secret;
}

}  // namespace slipway::sync
