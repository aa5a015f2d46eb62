#include "ops/held.h"

#include <algorithm>

#include <sodium.h>

#include "model/planted.h"

namespace slipway::ops {

namespace {

// False: it was there.
bool insert(std::vector<model::Hash32>& sorted, const model::Hash32& hash) {
  const auto place = std::lower_bound(sorted.begin(), sorted.end(), hash);
  if (place != sorted.end() && *place == hash) return false;
  sorted.insert(place, hash);
  return true;
}

}  // namespace

Holding Held::holding_of(const StreamId& id, const Stream& stream) {
  Holding holding;
  const std::uint64_t end = stream.run.size();
  if (end != 0) holding.ranges.add(1, end);
  for (const auto& [seq, hashes] : stream.beside) {
    if (seq > end) holding.ranges.add(seq, seq);
    if (seq <= end || hashes.size() > 1) holding.forked = true;
  }
  // At a fork the smallest hash stands for the place, so that every device names the same one.
  holding.prefix_hash = end == 0 ? genesis(id) : stream.run.back();
  return holding;
}

void Held::add(const ChainedOp& op) {
  if (contains(op.stream, op.seq, op.hash)) return;
  Stream& stream = streams_[op.stream];
  ++stream.ops;
  ++op_count_;
  if (op.seq <= stream.run.size()) {
    model::Hash32 larger = op.hash;
    model::Hash32& smallest = stream.run[static_cast<std::size_t>(op.seq - 1)];
    if (larger < smallest) std::swap(larger, smallest);
    insert(stream.beside[op.seq], larger);
    return;
  }
  if (op.seq > stream.run.size() + 1) {
    insert(stream.beside[op.seq], op.hash);
    return;
  }
  stream.run.push_back(op.hash);
  for (auto next = stream.beside.find(stream.run.size() + 1); next != stream.beside.end() && next->first == stream.run.size() + 1;) {
    stream.run.push_back(next->second.front());
    next->second.erase(next->second.begin());
    next = next->second.empty() ? stream.beside.erase(next) : std::next(next);
  }
}

void Held::add(const std::vector<ChainedOp>& ops) {
  Stream* stream = nullptr;
  const StreamId* of = nullptr;
  for (const ChainedOp& op : ops) {
    if (!of || !(*of == op.stream)) {
      of = &op.stream;
      stream = &streams_[op.stream];
    }
    if (op.seq != stream->run.size() + 1 || !stream->beside.empty()) {
      add(op);
      continue;
    }
    stream->run.push_back(op.hash);
    ++stream->ops;
    ++op_count_;
  }
}

void Held::forget(const model::ScopeId& scope) {
  op_count_ -= op_count(scope);
  const auto first = streams_.lower_bound({scope, {}});
  streams_.erase(first, std::find_if(first, streams_.end(), [&](const auto& held) { return !(held.first.scope == scope); }));
}

bool Held::contains(const StreamId& id, std::uint64_t seq, const model::Hash32& hash) const {
  const auto found = streams_.find(id);
  if (found == streams_.end() || seq == 0) return false;
  const Stream& stream = found->second;
  if (seq <= stream.run.size() && stream.run[static_cast<std::size_t>(seq - 1)] == hash) return true;
  const auto hashes = stream.beside.find(seq);
  if (model::kPlanted == 1) return seq <= stream.run.size() || hashes != stream.beside.end();
  return hashes != stream.beside.end() && std::binary_search(hashes->second.begin(), hashes->second.end(), hash);
}

bool Held::forks(const StreamId& id, std::uint64_t seq, const model::Hash32& hash) const {
  const auto found = streams_.find(id);
  if (found == streams_.end() || seq == 0) return false;
  const bool taken = seq <= found->second.run.size() || found->second.beside.count(seq) != 0;
  return taken && !contains(id, seq, hash);
}

std::uint64_t Held::op_count(const model::ScopeId& scope) const {
  std::uint64_t count = 0;
  for (auto at = streams_.lower_bound({scope, {}}); at != streams_.end() && at->first.scope == scope; ++at) count += at->second.ops;
  return count;
}

Holdings Held::holdings() const {
  Holdings all;
  for (const auto& [id, stream] : streams_) all.emplace_hint(all.end(), id, holding_of(id, stream));
  return all;
}

Holdings Held::holdings(const model::ScopeId& scope) const {
  Holdings some;
  for (auto at = streams_.lower_bound({scope, {}}); at != streams_.end() && at->first.scope == scope; ++at)
    some.emplace_hint(some.end(), at->first, holding_of(at->first, at->second));
  return some;
}

model::Hash32 Held::digest() const {
  crypto_generichash_state state;
  model::Hash32 digest;
  model::Bytes place;
  crypto_generichash_init(&state, nullptr, 0, digest.bytes.size());
  const auto add_place = [&](const StreamId& id, std::uint64_t seq, const model::Hash32& hash) {
    place.clear();
    model::append(place, id.scope.view());
    model::append(place, id.inc.view());
    put_varint(place, seq);
    model::append(place, hash.view());
    crypto_generichash_update(&state, place.data(), place.size());
  };
  for (const auto& [id, stream] : streams_) {
    auto others = stream.beside.begin();
    for (std::uint64_t seq = 1; seq <= stream.run.size(); ++seq) {
      add_place(id, seq, stream.run[static_cast<std::size_t>(seq - 1)]);
      if (others == stream.beside.end() || others->first != seq) continue;
      for (const model::Hash32& hash : others->second) add_place(id, seq, hash);
      ++others;
    }
    for (; others != stream.beside.end(); ++others)
      for (const model::Hash32& hash : others->second) add_place(id, others->first, hash);
  }
  crypto_generichash_final(&state, digest.bytes.data(), digest.bytes.size());
  return digest;
}

}  // namespace slipway::ops
