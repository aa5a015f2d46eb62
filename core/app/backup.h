// Backup and restore: all entries of all athletes and this device's settings, as one file; and back.
//
//   a zip [sync/zip.h] of
//   entries.slip  one bundle of everything, as for handing over
//   backup.json   {"slipway":"backup","form":1,"made":moment,"ops":count,"digests":{"ops","views"},"settings":text,
//                 "here":athlete}
//
// "here" is whose device it is, if it is anybody's: a restored one must not show another swimmer's board.
// Settings are how the device looks, who uses it, its units and sounds: no draft, no token, no key, and not
// the answers to the questions about health, which never leave a device.
//
// Restoring is taking in, never replacing: what is here already stays, and the device goes on as a new
// incarnation, so that two devices restored from one backup do not write as one (sync-and-storage 3). Settings are
// taken only where this device has none yet, and so is whose it is.
// With a passphrase the whole zip goes into a seal (sync/seal.h). Sealed to no key: whoever lost the device may have
// lost the key with it.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "app/book.h"

namespace slipway::app {

struct Backup {
  model::Bytes file = {};
  std::uint64_t athletes = 0, ops = 0;
  Digests digests = {};
  std::vector<std::string> left_out = {};  // names: sealed by a passphrase and shut
};
// Errors: those of make_bundle; of a passphrase those of sync::wrap.
model::Result<Backup> make_backup(Book& book, const std::string& passphrase = {}, const sync::PassphraseCost& cost = {});

bool is_backup(model::ByteView file);

struct Restored {
  TakenIn taken = {};
  std::string made = {};               // when the backup was made, as its device claimed
  std::uint64_t ops_of_backup = 0;
  std::uint64_t athletes = 0, sessions = 0, sets = 0;  // held now
  Digests of_backup = {}, now = {};
  bool same = false;                 // this store holds just what the backup holds, and shows the same
  bool settings_taken = false;
  std::vector<model::Error> findings = {};     // of the check of the whole store afterwards; empty: sound
  std::vector<MissingStretch> missing = {};    // known to exist elsewhere, and not here
};
// A sealed one is opened by the wish's passphrase. Errors: those of take_in and sync::open_seal, damaged (backup.json
// cannot be read), newer_version. On an error nothing has changed,
// unless it is the store's own when a new incarnation is begun.
model::Result<Restored> restore(Book& book, const std::string& file_name, model::ByteView file, const TakeInWish& wish = {});

}  // namespace slipway::app
