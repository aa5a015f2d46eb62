// A sealed file: a whole bundle inside a seal that only its recipients open.
//
// The frame of container.h with flag 1 and one section. In clear stand the numbers of the
// frame and, as its header, how the file key can be had (canonical varints):
//
//   header  := stanza count (1 … 16), stanza*, MAC (32)
//   stanza  := type, length (<= 1024), bytes
//     type 1   libsodium's sealed box of the file key to an X25519 key (80 bytes)
//     type 2   the file key wrapped by a passphrase (keys.h); it stands alone
//     others   ignored: of a newer version
//   MAC     := keyed BLAKE2b-256 over major, minor, min_reader, flags and the stanzas
//   section := secretstream header (24), then XChaCha20-Poly1305 secretstream chunks of 64 KiB
//              (the last may be shorter, never empty), the last with the final tag
//
// File key: 32 random bytes, for this file only. Keys of MAC and section: BLAKE2b-256 keyed with
// the file key, over "slipway seal header" and "slipway seal content". Nothing leaves here before
// the final tag is proven. Nothing says to whom a stanza is sealed: each key that is here is tried.
#pragma once

#include <string>
#include <vector>

#include "host/random.h"
#include "sync/bundle.h"
#include "sync/container.h"
#include "sync/door.h"
#include "sync/keys.h"

namespace slipway::sync {

// What an opened seal held, and by what it was opened.
struct Unsealed {
  model::Bytes bundle;
  Envelope::How how = Envelope::How::to_keys;
  RecipientKey opened_by;  // of to_keys
};

// `frame` is a sealed one of read_frame. Errors: sealed (bundle.sealed_other: none of the keys here opens it;
// bundle.sealed_passphrase: one is needed; bundle.sealed_wrong: it is another); damaged; too_large (a cost or a
// size over the caps).
model::Result<Unsealed> unseal(const Frame& frame, const Door& door, const Keyring& keyring, const Limits& limits);

}  // namespace slipway::sync
