// A bundle: ops that travel as a file. This header, keys.h and squad_file.h are all that leaves the room.
//
// File (sync-and-storage 8), format 1; format.md says the same for other readers:
//   magic 89 53 4C 57 0D 0A 1A 0A, then canonical varints: major, minor, min_reader,
//   flags, total file length, header length, section count, and per section: type,
//   codec, stored length, raw length, 8-byte check of the stored bytes;
//   header fields; sections back to back; BLAKE2b-256 over everything before it.
// Reading: whole-file hash first, then lengths, then sections through a bounded cereal
// archive, then re-encoding must give the same bytes, then every chunk proves its chain.
// Limits are checked before allocating. All or nothing; bad bytes are an Error, never an abort.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "model/bytes.h"
#include "model/ids.h"
#include "model/result.h"
#include "ops/chain.h"
#include "ops/held.h"
#include "ops/packed.h"
#include "ops/ranges.h"
#include "sync/keys.h"

namespace slipway::sync {

// Format 1 is final: its golden files are read for ever. Before it were the drafts 0.0 and 0.1, alike but for their number.
inline constexpr std::uint32_t kMajor = 1, kMinor = 0, kMinReader = 0, kLastDraft = 1;

struct Limits {
  std::uint64_t file_bytes = 64ULL << 20;
  std::uint64_t raw_bytes = 256ULL << 20;
  std::uint64_t header_bytes = 64ULL << 10;
  std::uint64_t sections = 64;
  std::uint64_t ops = 1ULL << 21;
};

struct Bundle {
  std::uint32_t major = kMajor, minor = kMinor;
  model::DeviceId device;             // who made it
  model::IncarnationId created_by;
  std::uint64_t export_counter = 0;   // per device, rising
  std::vector<model::ScopeId> scopes; // sorted; the only ones that may occur below
  ops::Holdings holdings;             // what the sender holds of these scopes
  std::vector<ops::Chunk> chunks;     // sorted by (scope, inc, first_seq, after)
  // To be written, beside the chunks: runs as a store keeps them. A single one that was packed with the same view as the
  // file's goes out as it is, believed on the word of its keeper; others are unpacked and proven. Reading fills in none.
  std::vector<ops::PackedRun> runs = {};
  friend bool operator==(const Bundle&, const Bundle&) = default;
};

// How the ops are stored: with what can be foretold left out (codec 1), or as they are (codec 0), byte for byte.
enum class Packing : std::uint8_t { packed, plain };
struct Signing {
  SigningKey key;
  Envelope envelope;  // for whom the bundle is made: seal() must then be given the same
};

// Same op set, scopes and options give the same raw bytes on every build: the chunks may
// overlap and stand in any order, they are proven, sorted and cut anew. Always written in
// the newest format, whatever bundle.major and minor say. Signed, if there is somebody to sign.
// Errors: too_large; damaged, if a chunk does not prove itself; invalid, if a chunk or a
// holding is of a scope that is not listed.
model::Result<model::Bytes> write_bundle(const Bundle& bundle, const Limits& limits = {}, Packing packing = Packing::packed,
                                         const Signing* signing = nullptr);

// A bundle inside a seal (seal.h). Either keys or a passphrase.
// Errors: invalid (key.recipients, key.not_a_key, those of wrap); too_large.
struct SealPlan {
  std::vector<RecipientKey> to;  // 1 … kMostRecipients
  std::string passphrase;
  PassphraseCost cost = {};
};
model::Result<model::Bytes> seal(model::ByteView bundle, const SealPlan& plan, host::Random& random, const Limits& limits = {});

struct Signature {  // that holds
  SignerKey signer;
  Envelope envelope;
  friend bool operator==(const Signature&, const Signature&) = default;
};

using Stretches = std::map<ops::StreamId, ops::Ranges>;

struct ReadBundle {
  Bundle bundle;
  std::vector<ops::ChainedOp> ops;  // all, proven, in chunk order
  std::optional<ops::PackedRun> run;  // the same, if they are one packed run and of one scope: a store may keep it so
  model::Hash32 file_hash;          // names the file in the import log
  Packing packing = Packing::packed;
  Envelope::How envelope = Envelope::How::open;  // how it travelled
  std::optional<Signature> signature;
  Stretches lost;  // known to be, and could not be read where it comes from (op_lines.h)
};

// `file_name` only names the file in errors. Errors: foreign, damaged (args: file name, place,
// byte offset), newer_version (args: file name, version), too_large (args: file name, place,
// the limit; text "memory.out": no args, memory ran out), sealed (args as of damaged). Armoured text
// is accepted too. A sealed file is opened with what the keyring holds, wholly before anything in it is
// looked at. A signature that does not hold, or is of another envelope than the one that was opened, is damage.
model::Result<ReadBundle> read_bundle(model::ByteView file, const std::string& file_name, const Limits& limits = {},
                                      const Keyring& keyring = {});

// Whether it is a whole file that bears a seal; and what a sealed file holds, whatever that is: a sealed backup
// (app/backup.h) holds a zip. read_bundle says of one that it is no bundle (invalid, bundle.sealed_backup, args: file name).
// Errors: those of read_bundle.
bool is_sealed(model::ByteView file);
model::Result<model::Bytes> open_seal(model::ByteView file, const std::string& file_name, const Keyring& keyring, const Limits& limits = {});

// The bundle that is about to go into a seal of this envelope, as it will be read there: what this program
// would refuse need not leave it.
model::Result<ReadBundle> read_inside(model::ByteView bundle, const std::string& file_name, const Envelope& envelope);

// Whatever brings entries: a bundle, an ops.jsonl (op_lines.h), or the zip of an export with one in it. The bytes
// tell. Errors: those of read_bundle, op_lines.h and zip.h.
bool is_open_form(model::ByteView file);  // one of the latter two
model::Result<ReadBundle> read_entries(model::ByteView file, const std::string& file_name, const Limits& limits = {});

// The same bytes as printable text, for channels that refuse foreign files.
std::string armour(model::ByteView file);

// What taking it in would mean, decided without doing anything.
struct Gap {
  ops::StreamId stream;
  ops::Range range;  // announced by the sender or needed by the chain, and not here after the import
};
struct Taking {
  std::vector<ops::ChainedOp> fresh;   // not held yet, in file order
  std::uint64_t known = 0;
  std::uint64_t not_understood = 0;    // fresh ones with a kind or tag of a newer version: kept
  std::vector<ops::StreamId> forks;    // two different ops at one seq: both kept
  std::vector<Gap> missing;
  bool own_past = false;               // ops of our own incarnation, carried or announced, that we do not hold:
                                       // this store went back in time
};
// Errors: damaged, if an op's lam exceeds what its causal past can hold (ops here + in
// the bundle + announced missing + 1; args: file name, "inc:seq", its lam, the highest
// possible): a forged or broken bundle, the store stays as it is.
model::Result<Taking> plan_taking(const ReadBundle& bundle, const ops::Held& held, const model::IncarnationId& own,
                                  const std::string& file_name);
// The same where the bundle is needed no more: its ops move into the answer.
model::Result<Taking> plan_taking(ReadBundle&& bundle, const ops::Held& held, const model::IncarnationId& own,
                                  const std::string& file_name);

// What a peer said in a bundle that it holds of one scope. Only a bundle received from a peer may shrink what it
// is sent: having handed a file out proves nothing (sync-and-storage 4).
struct PeerWord {
  model::IncarnationId inc;          // of the peer, that wrote the bundle
  std::uint64_t export_counter = 0;
  ops::Holdings holds;               // streams of the scope
  friend bool operator==(const PeerWord&, const PeerWord&) = default;
};
// Which word counts: of one incarnation that with the higher counter; of two the one that holds entries of the
// other; where neither tells, only what both say, so that an old bundle read late or a restored peer is sent too
// much and never too little.
PeerWord newer_word(const std::optional<PeerWord>& known, const PeerWord& said, const model::ScopeId& scope);

// Of chunks held here (all of one scope together) what somebody who said `theirs` lacks, cut to the entry. A
// stream that has forked, here or there, or whose announced head is not ours at that place, goes whole.
// Errors: damaged, if a chunk that must be cut does not prove itself.
model::Result<std::vector<ops::Chunk>> lacking(const std::vector<ops::Chunk>& chunks, const ops::Held& held, const ops::Holdings& theirs);

}  // namespace slipway::sync
