// Who made a bundle: an Ed25519 signature by the making device, in a section of its own.
//
//   section  := how sealed (0 open, 1 to keys, 2 by passphrase), count of recipient keys,
//               those keys (32 each, rising), the signer's key (32), signature (64)
//   message  := BLAKE2b-256("slipway signature 0", how sealed, count, keys,
//               of manifest, ranges and ops, in this order: type, BLAKE2b-256 of the raw bytes)
//                                                             (numbers: canonical varints)
//
// The raw bytes are signed, so that a bundle packed anew keeps its signature. The recipients
// are signed too: a bundle taken out of its seal, or sealed again to somebody else, no longer
// says what it was made for. A signature proves the device, not the person who held it.
#pragma once

#include <optional>
#include <vector>

#include "sync/bundle.h"
#include "sync/container.h"
#include "sync/keys.h"

namespace slipway::sync {

model::Bytes write_signature(const SigningKey& key, const Envelope& envelope, const std::vector<FramePlan::Section>& signed_sections);

struct ReadSignature {
  Signature said;  // not proven yet
  SignatureBytes bytes;
};
// The form alone; nothing is proven yet.
std::optional<ReadSignature> read_signature(model::ByteView section);
bool holds(const ReadSignature& signature, const std::vector<FramePlan::Section>& signed_sections);

}  // namespace slipway::sync
