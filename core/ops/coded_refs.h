// Codec 1's references from op to op, for both directions (private): mostly the same as last time, or a distance back in
// this stream or one beside it; else spelled. What stood where is remembered here.
#pragma once

#include <algorithm>
#include <array>
#include <map>
#include <vector>

#include "ops/chain.h"
#include "ops/coded_columns.h"
#include "ops/op.h"

namespace slipway::ops {

struct Refs {  // what is known of one column of references
  Values count, distance, stream, inc;
  std::array<Symbol<3>, 2> ways;
  Number other_distance, seq;
  model::OpKey last;
  std::map<std::uint64_t, std::uint64_t> last_seq;  // by place of the incarnation
};

template <class Coder>
class RefCoder {
 public:
  RefCoder(Coder& coder, const std::vector<StreamId>& streams) : coder_(coder), streams_(streams), known_(streams.size()) {
    for (const StreamId& stream : streams)
      if (std::find(incs_.begin(), incs_.end(), stream.inc) == incs_.end()) incs_.push_back(stream.inc);
  }

  std::size_t stream() const { return stream_; }  // its place
  void begin(std::size_t stream, std::uint64_t first_seq) {
    stream_ = stream;
    known_[stream_] = {first_seq, {}};
  }
  void begin_op() { in_op_.clear(); }
  void stands(const model::Hash32& hash) { known_[stream_].hashes.push_back(model::shorten(hash)); }

  // The references of one field; reading, `payload` grows by them.
  void code(Refs& refs, const Field* given, model::Bytes& payload) {
    std::uint64_t count = 0;
    model::OpKey key;
    if (given)
      for (std::size_t at = 0; get_ref(given->payload, at, home(), key);) ++count;
    refs.count.code(coder_, count);
    std::size_t at = 0;
    for (std::uint64_t i = 0; i < count; ++i) {
      key = {};
      if (given) get_ref(given->payload, at, home(), key);
      code_ref(refs, i, key);
      in_op_.push_back(key);
      refs.last = key;
      if constexpr (Coder::kReading) {
        put_ref(payload, key, home());
        if (payload.size() > kMaxFieldBytes) return;
      }
    }
  }

 private:
  static constexpr std::size_t kMostIncs = 4096;  // what a file can make us remember
  struct Known {
    std::uint64_t first_seq = 1;
    std::vector<model::ShortHash> hashes;
  };
  enum Way : unsigned { as_last_time, as_just_now, own, other, spelled };

  void code_ref(Refs& refs, std::uint64_t nth, model::OpKey& key) {
    const std::uint64_t seq = known_[stream_].first_seq + known_[stream_].hashes.size();
    std::size_t place = 0;  // of the stream or incarnation it is in
    unsigned way = spelled;
    if constexpr (!Coder::kReading) way = way_to(refs, key, place);
    read_ref(refs, nth, seq, way, place, key);
    if constexpr (Coder::kReading) {
      std::size_t best_place = 0;
      const unsigned best = way_to(refs, key, best_place);
      coder_.refuse_unless(best == way && (way != other || best_place == place));
    }
  }

  unsigned way_to(const Refs& refs, const model::OpKey& key, std::size_t& place) const {
    if (key == refs.last) return as_last_time;
    if (!in_op_.empty() && key == in_op_.back()) return as_just_now;
    if (stands_in(stream_, key)) return own;
    place = place_of(key.inc);
    return place < streams_.size() && stands_in(place, key) ? other : spelled;
  }

  void read_ref(Refs& refs, std::uint64_t nth, std::uint64_t seq, unsigned& way, std::size_t& place, model::OpKey& key) {
    refs.ways[nth == 0 ? 0 : 1].code(coder_, way);
    switch (way) {
      case as_last_time:
        key = refs.last;
        return;
      case as_just_now:
        key = in_op_.empty() ? model::OpKey{} : in_op_.back();
        return;
      case own: {
        std::uint64_t distance = seq - key.seq;
        refs.distance.code(coder_, distance);
        if constexpr (Coder::kReading) key = known_at(stream_, seq - distance);
        return;
      }
      case other: {
        std::uint64_t told = place;
        refs.stream.code(coder_, told);
        if (told >= streams_.size()) return;  // no reference: refused when it is read
        place = static_cast<std::size_t>(told);
        std::uint64_t distance = known_[place].first_seq + known_[place].hashes.size() - key.seq;
        refs.other_distance.code(coder_, distance);
        if constexpr (Coder::kReading) key = known_at(place, known_[place].first_seq + known_[place].hashes.size() - distance);
        return;
      }
      default:
        return spell_ref(refs, key);
    }
  }

  void spell_ref(Refs& refs, model::OpKey& key) {
    std::uint64_t place = static_cast<std::uint64_t>(std::find(incs_.begin(), incs_.end(), key.inc) - incs_.begin());
    refs.inc.code(coder_, place);
    if (place >= incs_.size()) {
      coder_.refuse_unless(place == incs_.size());
      for (std::uint8_t& byte : key.inc.bytes) code_byte(byte);
      if constexpr (Coder::kReading) coder_.refuse_unless(std::find(incs_.begin(), incs_.end(), key.inc) == incs_.end());
      place = incs_.size();
      if (place < kMostIncs) incs_.push_back(key.inc);
    } else {
      key.inc = incs_[static_cast<std::size_t>(place)];
    }
    std::uint64_t& last = refs.last_seq[place];
    std::uint64_t apart = zigzag(static_cast<std::int64_t>(key.seq - last));
    refs.seq.code(coder_, apart);
    key.seq = last + static_cast<std::uint64_t>(unzigzag(apart));
    last = key.seq;
    for (std::uint8_t& byte : key.hash.bytes) code_byte(byte);
  }

  void code_byte(std::uint8_t& byte) {
    std::uint64_t value = byte;
    coder_.direct(8, value);
    byte = static_cast<std::uint8_t>(value);
  }

  const model::IncarnationId& home() const { return streams_[stream_].inc; }
  bool stands_in(std::size_t place, const model::OpKey& key) const {
    const Known& known = known_[place];
    return streams_[place].inc == key.inc && key.seq >= known.first_seq && key.seq - known.first_seq < known.hashes.size() &&
           known.hashes[static_cast<std::size_t>(key.seq - known.first_seq)] == key.hash;
  }
  model::OpKey known_at(std::size_t place, std::uint64_t seq) const {
    const Known& known = known_[place];
    if (seq < known.first_seq || seq - known.first_seq >= known.hashes.size()) return {};  // refused when it is read
    return {streams_[place].inc, seq, known.hashes[static_cast<std::size_t>(seq - known.first_seq)]};
  }
  // Place of an incarnation's stream in this scope.
  std::size_t place_of(const model::IncarnationId& inc) const {
    const StreamId wanted{streams_[stream_].scope, inc};
    const auto found = std::lower_bound(streams_.begin(), streams_.end(), wanted);
    return found != streams_.end() && *found == wanted ? static_cast<std::size_t>(found - streams_.begin()) : streams_.size();
  }

  Coder& coder_;
  const std::vector<StreamId>& streams_;
  std::vector<Known> known_;  // of each stream, the ops of its last unbroken run
  std::vector<model::IncarnationId> incs_;
  std::size_t stream_ = 0;
  std::vector<model::OpKey> in_op_;  // of the op being coded
};

}  // namespace slipway::ops
