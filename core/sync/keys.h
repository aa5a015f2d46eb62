// The keys of devices and coaches, and the few things that are done with them.
//
// A device signs with Ed25519; what is meant for a coach is sealed to an X25519 key. All
// randomness comes from host::Random, drawn here: libsodium's own source is never asked.
// A passphrase becomes a key by Argon2id at a cost that stands beside what it wraps; a cost
// from a file is checked against the caps before any memory is asked for.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "host/random.h"
#include "model/bytes.h"
#include "model/ids.h"
#include "model/result.h"

namespace slipway::sync {

using SignerKey = model::FixedBytes<struct SignerKeyTag, 32>;          // Ed25519, public
using SigningSeed = model::FixedBytes<struct SigningSeedTag, 32>;      // its secret half
using RecipientKey = model::FixedBytes<struct RecipientKeyTag, 32>;    // X25519, public
using RecipientSecret = model::FixedBytes<struct RecipientSecretTag, 32>;
using SignatureBytes = model::FixedBytes<struct SignatureTag, 64>;
using Secret32 = model::FixedBytes<struct Secret32Tag, 32>;            // what a passphrase wraps

struct SigningKey {
  SignerKey open;
  SigningSeed secret;
};
struct SealingKey {
  RecipientKey open;
  RecipientSecret secret;
};

SigningKey make_signing_key(host::Random& random);
SigningKey signing_key_of(const SigningSeed& secret);
SealingKey make_sealing_key(host::Random& random);
SealingKey sealing_key_of(const RecipientSecret& secret);

SignatureBytes sign(const SigningKey& key, model::ByteView message);
bool signature_holds(const SignerKey& key, model::ByteView message, const SignatureBytes& signature);

// For whom a bundle was made.
inline constexpr std::size_t kMostRecipients = 16;
struct Envelope {
  enum class How : std::uint8_t { open, to_keys, by_passphrase };
  How how = How::open;
  std::vector<RecipientKey> to;  // of to_keys, rising
  friend bool operator==(const Envelope&, const Envelope&) = default;
};

// What this device can open.
struct Keyring {
  std::vector<SealingKey> keys;
  std::string passphrase;
};

// ---- passphrases ---------------------------------------------------------------------------------------

struct PassphraseCost {
  std::uint64_t kib = 64 * 1024;  // memory
  std::uint64_t passes = 2;
};
inline constexpr std::uint64_t kLeastCostKib = 8, kMostCostKib = 256 * 1024, kMostPasses = 4;
inline constexpr std::size_t kLeastPassphraseBytes = 8, kMostPassphraseBytes = 1024;
inline constexpr std::size_t kMostWrappedBytes = 16 + 3 + 1 + 48;  // see wrap()

// What a wrapped secret is of; one cannot be passed off as the other.
enum class Wrapped : std::uint8_t { file_key, coach_key, pin, profile };  // of a PIN nothing: only whether it fits counts

// salt (16), KiB and passes (canonical varints), secretbox of the secret (48).
// Errors: invalid (key.passphrase_short, key.passphrase_long); too_large (memory.out).
model::Result<model::Bytes> wrap(const Secret32& secret, std::string_view passphrase, const PassphraseCost& cost, Wrapped what, host::Random& random);
// Errors: damaged (key.wrapped, no args: not of this form); too_large (key.cost, args: KiB, passes: over the
// caps; memory.out); sealed (key.passphrase_wrong).
model::Result<Secret32> unwrap(model::ByteView wrapped, std::string_view passphrase, Wrapped what);
// The form alone: of a cost within the caps. Nothing is computed.
bool is_wrapped(model::ByteView wrapped);

// ---- for eyes and paper --------------------------------------------------------------------------------

// Four groups of five digits made from a public key (66 bits), to be compared by two people.
std::string compare_digits(model::ByteView public_key);

// The coach's secret for a sheet of paper: four lines of four groups of four signs, from an alphabet without
// I, L, O and U. Each line carries a check of 16 bits over itself and its number.
std::vector<std::string> recovery_lines(const RecipientSecret& secret);
// Reads it as typed: any case, blanks and hyphens where one likes, O for 0, I and L for 1; other lines of the
// sheet begin with "#" and are passed over.
// Errors: invalid (key.sheet_line, args: the line, 1 to 4; key.sheet_length, args: signs found, signs wanted).
model::Result<RecipientSecret> read_recovery(std::string_view typed);

}  // namespace slipway::sync
