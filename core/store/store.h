// The durable truth: chunks of ops in SQLite, over the files the outside promises.
//
// One intent of a person is one transaction. Everything but the chunks is derived or
// local and can be thrown away and built again. Settings of sync-and-storage 9:
// synchronous=EXTRA first, then journal_mode=TRUNCATE, locking_mode=EXCLUSIVE,
// secure_delete, cell_size_check on, trusted_schema off, no WAL. No table refers to another, so there are no
// foreign keys to hold.
// Nothing here decides a merge; the store never includes sync.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "host/files.h"
#include "host/random.h"
#include "model/bytes.h"
#include "model/ids.h"
#include "model/result.h"
#include "ops/chain.h"
#include "ops/packed.h"
#include "ops/ranges.h"

namespace slipway::store {

inline constexpr std::string_view kDatabaseName = "slipway.db";  // and "slipway.db-journal"
inline constexpr std::string_view kCopyName = "slipway-before.db";  // the store as it was before a migration
inline constexpr std::string_view kBallastName = "slipway-ballast";  // zeros: room for the entries of a full storage
inline constexpr int kSchemaVersion = 4;                            // PRAGMA user_version

// What became of an append. Natively and on OPFS it is settled when append returns; where the storage answers
// later (host::Lasting) it is saving first, and ticket() tells how it goes on. What the storage refuses later stands
// in the store for as long as it is open, and is given to the storage again with the next change or by hand_again().
// A screen says "kept" only from a ticket that says kept.
enum class Durability : std::uint8_t { saving, kept, not_kept };
struct Ticket {
  Durability state = Durability::saving;
  model::Error why;         // of not_kept
  std::uint64_t batch = 0;  // of one that was saving: what ticket() is asked about
};

// The open token (sync-and-storage 3): the same 16 random bytes in the database and
// in a second place outside it, fresh at every opening. The shell reads the second
// place, writes `fresh` there first, then opens. A mismatch means copied, restored
// or cloned: a new incarnation is minted.
struct OpenTokens {
  std::optional<model::Token16> found_outside;
  model::Token16 fresh;
};

enum class WhyNewIncarnation : std::uint8_t { same_as_before, first_run, token_broken };

struct Opening {
  model::IncarnationId inc;
  model::DeviceId device;
  WhyNewIncarnation why = WhyNewIncarnation::same_as_before;
  bool read_only = false;     // a newer store, or not_migrated: shown and exported, never written
  int schema_found = kSchemaVersion;
  std::optional<model::Error> not_migrated;  // an older store that could not be brought up to date: why; it is as it was
  bool rebuild_derived = false;  // since a migration nobody has said derived_rebuilt(): build it from the ops and compare
  bool cleared = false;       // the token was outside and no store was here: the browser has cleared the data
};

struct Derived {  // the cache of one scope and what it covers
  std::uint32_t fold_version = 0;
  ops::Holdings covers;  // the watermark: streams of this scope
  model::Bytes state;    // Fold::write_state
  bool proven = false;   // as read: just what was saved. False: changed since, or of a program that wrote no check
};

struct ImportLine {
  model::Hash32 bundle_hash;
  std::string file_name;
  std::string claimed;  // iso, as the device claims
  std::uint64_t fresh = 0, known = 0, not_understood = 0, forks = 0;
};

struct SetColumns {  // the cache of one scope's sets in columns, and what it covers
  std::uint32_t version = 0;
  ops::Holdings covers;
  model::Bytes bytes;  // SetTable::write
};

// A run of fewer ops is kept as chunks: it would be a row of its own for ever.
inline constexpr std::size_t kLeastPackedOps = 512;

// What a peer said in its newest bundle that it holds of a scope.
struct Peer {
  model::DeviceId device;
  model::ScopeId scope;
  model::IncarnationId inc;          // that wrote the bundle
  std::uint64_t export_counter = 0;  // below 2^63
  std::string claimed;               // iso, when this device took it in
  ops::Holdings holds;               // streams of this scope
  friend bool operator==(const Peer&, const Peer&) = default;
};

// What is left of an athlete who was erased here (sync-and-storage 12).
struct Erased {
  model::ScopeId scope;
  std::uint64_t reason = 0;  // below 2^63
  ops::Chunk marker;         // the one op that says so, for bundles
  friend bool operator==(const Erased&, const Erased&) = default;
};

// What seals the rows of one scope (sync-and-storage 10.1, the profile passphrase). The store knows neither cipher
// nor passphrase: whoever calls brings this, and takes it away again.
class RowSeal {
 public:
  virtual ~RowSeal() = default;
  virtual model::Bytes seal(model::ByteView row, model::ByteView place) = 0;  // opens at that place only
  virtual std::optional<model::Bytes> open(model::ByteView sealed, model::ByteView place) = 0;
  virtual model::Hash32 mark(const model::Hash32& hash) = 0;  // stands for a hash, and tells nobody what was hashed
};
struct SealedScope {
  model::ScopeId scope;
  model::Bytes lock;  // what the caller opens it by
  bool open = false;  // its rows can be read and written now
};

struct Integrity {
  std::vector<model::Error> findings;  // empty: sound
  std::uint64_t chunks = 0, ops = 0;   // of what is open
};

class Store {
 public:
  // Errors: busy (another process holds it), full, no_permission, io, damaged.
  // A store newer than this program opens read-only. An older one is copied, the copy is proven, and then
  // one transaction brings it up to date: killed at any moment, the next opening finds the old form or the
  // new one. Where that is refused it opens read-only as it was. Nothing is ever deleted for the user.
  static model::Result<std::unique_ptr<Store>> open(host::Files& files, host::Random& random, const OpenTokens& tokens);
  virtual ~Store() = default;

  virtual const Opening& opening() const = 0;

  // This store went back in time (it met its own later ops in a bundle): from now on this
  // device writes under a new incarnation, durable before anything that is written under it; opening() names it.
  virtual model::Result<model::Done> mint_incarnation() = 0;

  // One transaction: the chunks (each continues what is held, or begins a stream), and
  // optionally the local value that belongs to the same intent (a draft that is done).
  virtual Ticket append(std::span<const ops::Chunk> chunks, std::string_view local_name = {}, model::ByteView local_value = {}) = 0;

  virtual Ticket ticket(std::uint64_t batch) = 0;  // what has become of it by now
  virtual Ticket ticket() = 0;                     // of everything that was written so far
  // A mebibyte beside the database, put there in calm moments. The first append that the storage is too full for
  // gives it away and is kept after all; until it is back, nearly_full() says that only logging and handing over is wise.
  virtual void keep_ballast() = 0;
  virtual bool nearly_full() const = 0;
  virtual Ticket hand_again() = 0;                 // the same, after giving what was refused once more

  // One transaction for a whole import: chunks, peer knowledge and log line, or nothing.
  // Runs, proven by whoever read them, stay packed; what is in one is in no chunk. The log names no file with something of a sealed scope.
  virtual model::Result<model::Done> take_in(std::span<const ops::Chunk> chunks, const ImportLine& line, std::span<const Peer> peers = {},
                                             std::span<const ops::PackedRun> runs = {}) = 0;

  virtual model::Result<std::vector<model::ScopeId>> scopes() = 0;
  // By stream, then first_seq. What is kept packed comes out as chunks too, unpacked and proven; of a run that is
  // damaged come chunks without bytes, which prove nothing and name their places.
  virtual model::Result<std::vector<ops::Chunk>> chunks(const model::ScopeId& scope) = 0;

  // What is held of a scope, by the keys of the rows alone: no op is read and nothing is proven. A stream whose rows
  // do not follow one another is called forked: whoever needs to know better reads the chunks.
  virtual model::Result<ops::Holdings> holdings(const model::ScopeId& scope) = 0;

  // The run, if everything that is held of a stream is this one and its row is as it was written.
  virtual model::Result<std::optional<ops::PackedRun>> whole_run(const ops::StreamId& stream) = 0;

  // Those of one stream that hold ops from `first_seq` on (and maybe a few before): what a peer lacks, whatever
  // else the store holds.
  virtual model::Result<std::vector<ops::Chunk>> chunks_from(const ops::StreamId& stream, std::uint64_t first_seq) = 0;

  // Folds small chunks of a scope together (read, verify, write, compare head, one
  // transaction); answers how many rows were saved. Ops and digests stay the same. Long runs of full chunks are packed.
  virtual model::Result<std::uint64_t> fold_chunks(const model::ScopeId& scope) = 0;

  virtual model::Result<std::optional<Derived>> derived(const model::ScopeId& scope) = 0;
  virtual model::Result<model::Done> save_derived(const model::ScopeId& scope, const Derived& derived) = 0;
  virtual model::Result<std::optional<SetColumns>> set_columns(const model::ScopeId& scope) = 0;
  virtual model::Result<model::Done> save_set_columns(const model::ScopeId& scope, const SetColumns& columns) = 0;
  virtual model::Result<model::Done> drop_derived() = 0;  // all of it, set columns too
  virtual model::Result<model::Done> derived_rebuilt() = 0;  // after opening().rebuild_derived: all of it is saved anew

  // Local values (settings, drafts): never ops, never in a bundle.
  virtual model::Result<std::optional<model::Bytes>> local(std::string_view name) = 0;
  virtual model::Result<model::Done> set_local(std::string_view name, model::ByteView value) = 0;

  virtual model::Result<std::uint64_t> next_export_counter() = 0;  // moves on, durable

  // What peers told us they hold: one row a device and scope, by device; written as given. Which of two
  // bundles of one peer says more is decided outside.
  virtual model::Result<std::vector<Peer>> peers(const model::ScopeId& scope) = 0;
  virtual model::Result<model::Done> set_peer(const Peer& peer) = 0;

  // Erasure. One transaction writes the row, deletes chunks, packed runs, derived state and peers of the scope, and empties the
  // file names of the import log, which may name anybody; freed bytes are overwritten. The copy that a migration
  // left goes too. Local values are the caller's. Said again for a scope, the first row stays.
  virtual model::Result<std::vector<Erased>> erased() = 0;  // by scope
  virtual model::Result<model::Done> erase(const Erased& erased) = 0;
  // Writes the database anew without the room that deleted rows left.
  virtual model::Result<model::Done> compact() = 0;

  // Scopes that are sealed at rest. In the file stand: the scope's id, the writers' incarnations, which seqs a row holds and
  // how long it is, peers' names and times, and the lock; ops, hashes and what peers hold are sealed. Nothing is derived of
  // them on the storage. Shut (from opening the store on), such a scope is not among scopes(), and every verb about it answers
  // Error sealed, but erase() and drop_sealed().
  virtual std::vector<SealedScope> sealed() = 0;  // by scope
  // One transaction: its rows are written anew, read back and compared; file names of the import log are emptied, and the copy that a
  // migration left goes. It is open then. A scope of which nothing is here may be sealed before its first op.
  // Errors: invalid (sealed already); damaged (a row that cannot be read is not sealed).
  virtual model::Result<model::Done> seal(const model::ScopeId& scope, model::ByteView lock, std::shared_ptr<RowSeal> by) = 0;
  virtual model::Result<model::Done> open_sealed(const model::ScopeId& scope, std::shared_ptr<RowSeal> by) = 0;  // Error not_found: it is not sealed
  virtual void shut_sealed(const model::ScopeId& scope) = 0;
  virtual model::Result<model::Done> unseal(const model::ScopeId& scope) = 0;  // while it is open: everything stands in clear again
  // Rows and lock go, as for a passphrase that is lost, without a word to anybody: a bundle may bring them back. What this
  // incarnation wrote may be missing there, so the caller begins a new one.
  virtual model::Result<model::Done> drop_sealed(const model::ScopeId& scope) = 0;

  // The copy that a migration made: kept for 30 days, which the caller counts.
  virtual bool has_copy() = 0;
  virtual model::Result<model::Done> drop_copy() = 0;

  virtual model::Result<std::vector<ImportLine>> import_log() = 0;

  // SQLite's own quick check: the file, not the entries. Empty: sound.
  virtual model::Result<std::vector<model::Error>> quick_check() = 0;
  // The database as the bytes of one file, to be handed out: the ops and what is derived of these scopes and no
  // others; no local values, no open token, no import log. Packed runs stand in it as chunks. Made in memory; the store itself stays as it is. Works
  // on a store that is read-only too. Errors: damaged, io.
  virtual model::Result<model::Bytes> handed_copy(std::span<const model::ScopeId> scopes) = 0;

  // quick_check of SQLite and every chunk's chain.
  virtual model::Result<Integrity> check() = 0;
};

}  // namespace slipway::store
