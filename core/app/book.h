// The book: one store, its folds and its pens, behind the verbs of a swimmer or coach.
//
// The meeting place of ops, store and sync, without a screen: the command line and the
// app both stand on it. Every verb checks its values first (Error invalid: nothing
// stored), writes ops, and settles one transaction. What the storage refuses waits in
// memory, in order, shown as not kept, offered in bundles, until try_again().
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "host/clock.h"
#include "host/files.h"
#include "host/random.h"
#include "model/athlete.h"
#include "model/ids.h"
#include "model/result.h"
#include "ops/fold.h"
#include "ops/held.h"
#include "ops/pen.h"
#include "store/store.h"
#include "sync/bundle.h"

namespace slipway::app {

inline constexpr std::uint64_t kMaxReps = 100, kMaxRounds = 20, kMaxSets = 10, kMaxRir = 4;
inline constexpr std::int64_t kMaxLoadGrams = 500'000;
inline constexpr std::uint64_t kMaxRestSeconds = 600;
inline constexpr std::size_t kMaxNameLetters = 60;

enum class Author : std::uint64_t { swimmer = 1, coach = 2, helper = 3 };

struct Outside {  // outlives the book
  host::Files& files;
  host::Clock& clock;
  host::Random& random;
};

struct NewAthlete {
  std::string name;
  std::optional<std::uint64_t> birth_year;
};

struct SetEntry {
  std::string exercise;
  std::uint64_t round = 1;
  std::uint64_t reps = 0;
  std::optional<model::Quantity> load;
  std::optional<std::uint64_t> rir;
  std::optional<std::uint64_t> written_reps;
  std::optional<model::Quantity> written_load;
  bool left_out = false;
};

struct SetChange {  // only what is given is changed
  std::optional<std::uint64_t> reps;
  std::optional<model::Quantity> load;
  std::optional<std::uint64_t> rir;
  std::optional<bool> left_out;
};

// A local value that belongs to the same intent, written in the same transaction.
struct LocalValue {
  std::string name;
  model::Bytes value;
};

struct TakenIn {  // the import report
  std::string file_name;
  model::Hash32 file_hash;
  std::uint64_t fresh = 0, known = 0, not_understood = 0;
  std::uint64_t fresh_sets = 0;
  std::uint64_t forks = 0;
  std::vector<std::string> missing;  // "seq 58..59 of a1b2c3d4"
  bool own_past = false;
};

struct Digests {
  model::Hash32 ops, views;
};

struct CheckReport {
  std::vector<model::Error> findings;  // empty: sound
  std::uint64_t ops = 0, chunks = 0;
  Digests digests;
};

class Book {
 public:
  // Errors: those of Store::open.
  static model::Result<std::unique_ptr<Book>> open(const Outside& outside, const store::OpenTokens& tokens);

  const store::Opening& opening() const { return store_->opening(); }

  // Athletes, by name. The reference lives until the next verb.
  std::vector<model::ScopeId> scopes() const;
  const model::Athlete& athlete(const model::ScopeId& scope);
  // By whole name, whole id, or the first signs of an id. Errors: not_found, invalid (more than one).
  model::Result<model::ScopeId> find_athlete(std::string_view name_or_id);

  model::Result<model::ScopeId> add_athlete(const NewAthlete& who, Author author);

  // Begins a session of the training day first, if none of that day is here.
  model::Result<model::RecordId> log_set(const model::ScopeId& scope, const SetEntry& entry, model::Day training_day,
                                         Author author, const LocalValue* with = nullptr);
  model::Result<model::Done> change_set(const model::ScopeId& scope, const model::RecordId& set, const SetChange& change,
                                        Author author, const LocalValue* with = nullptr);
  model::Result<model::Done> take_back(const model::ScopeId& scope, const model::RecordId& record, Author author);
  // field: exercise, sets, reps, load, rir, rest; value as typed. Names every value it saw, so it
  // settles a contradiction it was shown.
  model::Result<model::Done> set_plan(const model::ScopeId& scope, std::string_view field, std::string_view value, Author author);
  model::Result<model::RecordId> note_pain(const model::ScopeId& scope, std::string_view region, std::uint64_t band, Author author);

  // Durability. An op that is not waiting is kept.
  bool waits(const model::OpKey& op) const { return waiting_keys_.count(op) != 0; }
  std::size_t waiting_sets() const;
  std::size_t waiting() const { return waiting_.size(); }
  const std::optional<model::Error>& trouble() const { return trouble_; }
  bool try_again();  // true: everything is kept now

  // Bundles. Without scopes: all. Waiting ops travel too.
  model::Result<model::Bytes> make_bundle(std::vector<model::ScopeId> scopes);
  // Errors: those of read_bundle and plan_taking, and of the store; then nothing has changed.
  model::Result<TakenIn> take_in(const std::string& file_name, model::ByteView file);

  // Local values (settings, drafts).
  std::optional<model::Bytes> local(std::string_view name);
  bool set_local(std::string_view name, model::ByteView value);

  // Folds chunks and saves the derived state; for session end, after an import, idle time.
  model::Result<model::Done> tidy();
  // Reads every chunk again from the storage and folds afresh; compares with what is shown.
  model::Result<CheckReport> check();
  Digests digests();

  model::ClaimedTime now() { return outside_.clock.now(); }

 private:
  explicit Book(const Outside& outside, std::unique_ptr<store::Store> store);
  struct Scope;

  model::Result<model::Done> read_all();
  model::Result<model::Done> read_scope(const model::ScopeId& scope);
  Scope& scope_of(const model::ScopeId& scope);
  ops::ChainedOp write(Scope& scope, std::uint32_t kind, std::vector<ops::Field> fields, Author author);
  void settle(const LocalValue* with);
  model::Result<model::Done> writable() const;

  Outside outside_;
  std::unique_ptr<store::Store> store_;
  std::map<model::ScopeId, std::unique_ptr<Scope>> scopes_;
  ops::Held held_;
  std::vector<ops::ChainedOp> waiting_;       // written, not kept, in order
  std::set<model::OpKey> waiting_keys_;
  std::optional<model::Error> trouble_;
  model::Athlete nobody_;

 public:
  ~Book();
};

}  // namespace slipway::app
