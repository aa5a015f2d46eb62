// Sealed files for tests: keys that are always the same, and seals taken apart and put together wrong.
#pragma once

#include <string>
#include <vector>

#include "kit/bundle_kit.h"
#include "sync/bundle.h"
#include "sync/keys.h"

namespace slipway::kit {

inline constexpr sync::PassphraseCost kCheapCost{64, 1};  // KiB, passes
inline const std::string kFilePassphrase = "two widths underwater";

sync::SealingKey sealing_key_named(char letter);
sync::SigningKey signing_key_named(char letter);

// The reference bundle of three sets, signed for that envelope by the swimmer's device.
model::Bytes signed_bundle(const sync::Envelope& envelope, char signer = 's');
// Sealed to these coaches, and by kFilePassphrase.
model::Bytes sealed_to(const std::string& coaches);
model::Bytes sealed_by_passphrase();

// The inside of a seal as it is written: stanzas with their count, and what follows them.
struct Stanza {
  std::uint64_t type = 0;
  model::Bytes bytes;
};
struct SealParts {
  std::uint64_t minor = sync::kMinor;
  std::vector<Stanza> stanzas;
  model::Bytes mac;
  model::Bytes content;  // stream header and chunks
};
SealParts seal_apart(model::ByteView file);
// All unkeyed checks true: what is left to say no is the seal itself.
model::Bytes seal_together(const SealParts& parts);

}  // namespace slipway::kit
