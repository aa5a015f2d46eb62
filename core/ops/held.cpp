#include "ops/held.h"

#include <algorithm>

#include <sodium.h>

#include "model/planted.h"

namespace slipway::ops {

namespace {

using Places = std::map<std::uint64_t, std::vector<model::Hash32>>;

Holding holding_of(const StreamId& stream, const Places& places) {
  Holding holding;
  std::uint64_t first = 1, last = 0;  // the run being walked along
  for (const auto& [seq, hashes] : places) {
    if (seq != last + 1) {
      holding.ranges.add(first, last);
      first = seq;
    }
    last = seq;
    if (hashes.size() > 1) holding.forked = true;
  }
  holding.ranges.add(first, last);
  const std::uint64_t end = holding.ranges.prefix_end();
  // At a fork the smallest hash stands for the place, so that every device names the same one.
  holding.prefix_hash = end == 0 ? genesis(stream) : places.at(end).front();
  return holding;
}

}  // namespace

void Held::add(const ChainedOp& op) {
  auto& hashes = streams_[op.stream][op.seq];
  const auto place = std::lower_bound(hashes.begin(), hashes.end(), op.hash);
  if (place != hashes.end() && *place == op.hash) return;
  hashes.insert(place, op.hash);
  op_count_ += 1;
}

bool Held::contains(const StreamId& stream, std::uint64_t seq, const model::Hash32& hash) const {
  const auto places = streams_.find(stream);
  if (places == streams_.end()) return false;
  const auto hashes = places->second.find(seq);
  if (model::kPlanted == 1) return hashes != places->second.end();
  return hashes != places->second.end() && std::binary_search(hashes->second.begin(), hashes->second.end(), hash);
}

bool Held::forks(const StreamId& stream, std::uint64_t seq, const model::Hash32& hash) const {
  const auto places = streams_.find(stream);
  return places != streams_.end() && places->second.count(seq) != 0 && !contains(stream, seq, hash);
}

std::uint64_t Held::op_count(const model::ScopeId& scope) const {
  std::uint64_t count = 0;
  for (const auto& [stream, places] : streams_)
    if (stream.scope == scope)
      for (const auto& [seq, hashes] : places) count += hashes.size();
  return count;
}

Holdings Held::holdings() const {
  Holdings all;
  for (const auto& [stream, places] : streams_) all[stream] = holding_of(stream, places);
  return all;
}

Holdings Held::holdings(const model::ScopeId& scope) const {
  Holdings some;
  for (const auto& [stream, places] : streams_)
    if (stream.scope == scope) some[stream] = holding_of(stream, places);
  return some;
}

model::Hash32 Held::digest() const {
  crypto_generichash_state state;
  model::Hash32 digest;
  model::Bytes place;
  crypto_generichash_init(&state, nullptr, 0, digest.bytes.size());
  for (const auto& [stream, places] : streams_)
    for (const auto& [seq, hashes] : places)
      for (const model::Hash32& hash : hashes) {
        place.clear();
        model::append(place, stream.scope.view());
        model::append(place, stream.inc.view());
        put_varint(place, seq);
        model::append(place, hash.view());
        crypto_generichash_update(&state, place.data(), place.size());
      }
  crypto_generichash_final(&state, digest.bytes.data(), digest.bytes.size());
  return digest;
}

}  // namespace slipway::ops
