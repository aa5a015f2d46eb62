// A squad file: what a coach hands out, so that a swimmer's bundles can be sealed to the coach.
//
// The frame of container.h with one section and an empty header:
//
//   section := length of the coach's name, the name (UTF-8), the key to seal to (32, X25519),
//              the coach's device (16), the key it signs with (32), signature (64)
//   signed  := BLAKE2b-256("slipway squad 0", everything before the signature)
//
// It holds nothing secret. The signature proves that it was made where that key signs, not whose
// name it is: two people compare the digits of the key (keys.h).
#pragma once

#include <string>

#include "model/bytes.h"
#include "model/ids.h"
#include "model/result.h"
#include "sync/bundle.h"
#include "sync/keys.h"

namespace slipway::sync {

inline constexpr std::size_t kMostSquadNameBytes = 240;

struct Squad {
  std::string coach;  // as typed
  RecipientKey seal_to;
  model::DeviceId device;
  SignerKey signer;
  friend bool operator==(const Squad&, const Squad&) = default;
};

// `signer` of the squad is that of the key. Errors: invalid (squad.name: empty, too long or not UTF-8).
model::Result<model::Bytes> write_squad(const Squad& squad, const SigningKey& key);

// It says of itself that it is one; armoured text too.
bool is_squad_file(model::ByteView file);
// Errors: as read_bundle; foreign (squad.not_one), if it is a bundle.
model::Result<Squad> read_squad(model::ByteView file, const std::string& file_name);

}  // namespace slipway::sync
