// Random histories of a squad's devices: every act of the vocabulary below on the real
// fold and, beside it, on the oracle of op_model.h. One seed is one history, for ever.
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "kit/op_model.h"
#include "kit/ops_kit.h"

namespace slipway::kit {

enum class Act : std::uint8_t {
  begin_session, log_set, report_pain, write_plan, raise_flag, sign_off, consent, say_sore, tick_in, clear, set_programme,
  add_word, prefer, write_note, change, change_unseen, take_back, keep_it, end_pain, write_unknown,
  make_letter, read_letter, lose_letter, back_up, restore, clone, wipe, turn_clock, start_again,
};
inline constexpr std::size_t kActs = static_cast<std::size_t>(Act::start_again) + 1;

// What became of the deeds that a device had acknowledged.
struct Toll {
  std::uint64_t acknowledged = 0;  // over the whole history
  std::uint64_t gone = 0;          // the only device that held it was wiped or set back: no copy is left anywhere
  std::uint64_t lost = 0;          // a copy was left, and it is not everywhere in the end
  std::uint64_t unexpected = 0;    // entries that nobody wrote
  std::uint64_t duplicated = 0;    // entries held twice
  std::uint64_t pain_hidden = 0;   // pain reports and red flags held and not shown
};

class History {
 public:
  explicit History(std::uint64_t seed);

  void run();           // 2 to 6 devices, 5 to 80 steps
  void exchange_all();  // every letter still under way is read, then everybody meets everybody

  std::size_t places() const { return places_.size(); }
  const Device& device(std::size_t place) const { return places_[place].device; }
  std::string view(std::size_t place) const;      // what the fold of this device shows
  std::string expected(std::size_t place) const;  // what the oracle says it must show
  std::string counting(std::size_t place) const;  // which facts count, read as nouns
  std::string expected_counting(std::size_t place) const;
  Toll toll() const;                              // after exchange_all
  std::uint64_t times(Act act) const { return times_[static_cast<std::size_t>(act)]; }

 private:
  struct Backup {
    Device device;
    OpModel::Hand hand;
  };
  struct Place {
    Device device;
    OpModel::Hand hand;
    std::optional<Backup> backup;
  };
  using Letter = std::vector<ops::ChainedOp>;  // one bundle under way

  void step();
  bool act(Act act, Place& at);
  void begin(Place& at, std::uint32_t kind, const Values& values);
  // A fact about what is said in the first `about` values; two of three name what they see.
  void say(Place& at, std::uint32_t kind, const Values& values, std::size_t about);
  bool belonging(Place& at, std::uint32_t kind, std::uint32_t ref_tag, std::uint32_t to_kind, const Values& values);
  bool change(Place& at, bool seen);
  bool take_back(Place& at);
  bool keep_it(Place& at);
  bool end_pain(Place& at);
  void write_unknown(Place& at);
  void make_letter(const Place& at);
  bool read_letter(Place& at);
  bool restore(Place& at);
  bool clone(const Place& at);
  void become_another(Place& at);
  void wipe(Place& at);
  void turn_clock(Place& at);

  void keep(Place& at, const model::OpKey& key, Deed deed);
  void take_in(Place& at, const Letter& letter);
  std::optional<int> some_record(const Place& at, std::uint32_t kind);  // 0: of any kind
  model::RecordId record_id(int number) const { return keys_[static_cast<std::size_t>(number)]; }
  model::IncarnationId fresh_inc();

  Dice dice_;
  std::vector<Place> places_;
  std::vector<Letter> letters_;
  OpModel model_;
  std::vector<model::OpKey> keys_;      // of each deed
  std::map<model::OpKey, int> numbers_;  // and back
  std::array<std::uint64_t, kActs> times_{};
};

// Entries of one athlete written by three devices that met now and then: plans, sets, pain,
// changes and take-backs, known to nobody whole. One list a device, its own stream only.
std::vector<std::vector<ops::ChainedOp>> three_streams(std::uint64_t seed, std::size_t rounds);

}  // namespace slipway::kit
