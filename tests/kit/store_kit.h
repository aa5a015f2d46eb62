// What a store is asked to do in tests, step by step, what it must hold after each step,
// and the judge of what is found on a storage that something happened to.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "host/files.h"
#include "kit/fixed_random.h"
#include "kit/memory_files.h"
#include "model/result.h"
#include "store/store.h"

namespace slipway::kit {

struct Step {
  enum class Kind : std::uint8_t { append, take_in, fold, erase, seal, unseal };  // fold, seal and unseal: the first swimmer
  Kind kind = Kind::append;
  std::vector<ops::Chunk> chunks;
  model::Bytes draft;      // of an append: the local value of the same intent
  store::ImportLine line;  // of a take_in
  store::Erased mark;      // of an erase; the freed room is overwritten with it
};
using Steps = std::vector<Step>;

Steps log_steps();     // a training of twelve entries, folded together, and one entry more
Steps import_steps();  // two own entries, a bundle of two swimmers, and a later one that goes on from it

Steps erase_steps();   // those, then the second swimmer is erased, and logging goes on

Steps seal_steps();    // the first swimmer is sealed, goes on, is folded, and is unsealed at the end

// A sealed scope's key, the same in every test; Opened opens with it what is sealed.
std::shared_ptr<store::RowSeal> test_seal(std::uint8_t secret = 0x5A);

inline constexpr std::string_view kDraftName = "draft";

// What a person would miss if it were gone.
struct State {
  std::vector<model::Hash32> ops;  // sorted, with repetitions
  model::Bytes draft;
  std::vector<std::string> imports;  // file names

  friend bool operator==(const State&, const State&) = default;
};
State state_after(const Steps& steps, std::size_t done);
model::Result<State> state_of(store::Store& store);

// A store on its own: chance outlives it, the token outside is remembered as a shell does.
class Opened {
 public:
  explicit Opened(host::Files& files, std::uint64_t seed = 1) : files_(files), random_(seed) {}

  const model::Result<model::Done>& open();  // closes first
  void close() { store_.reset(); }
  bool is_open() const { return store_ != nullptr; }
  const model::Error& error() const { return result_.error(); }
  store::Store& store() { return *store_; }
  bool perform(const Step& step);  // acknowledged
  const model::Error& refusal() const { return refusal_; }

  std::optional<model::Token16> token_outside;

 private:
  host::Files& files_;
  FixedRandom random_;
  std::unique_ptr<store::Store> store_;
  model::Result<model::Done> result_ = model::Done{};
  model::Error refusal_;
};

// What lies on the storage when the program is killed in the middle of the commit of this step: the
// database partly written, beside it the journal that can take it back. Every step before is kept.
MemoryDisk killed_during(const Steps& steps, std::size_t step);

std::string words(const model::Error& error);

// The finding on a storage after `acknowledged` steps, with at most `begun` of them begun.
struct Finding {
  enum class Kind : std::uint8_t { sound, does_not_open, damaged, lost, half_there };
  Kind kind = Kind::sound;
  std::string facts;
};
Finding judge(host::Files& files, const Steps& steps, std::size_t acknowledged, std::size_t begun);

}  // namespace slipway::kit
