// What a peer lacks of what is here.
#include <algorithm>

#include "sync/bundle.h"
#include "sync/door.h"
#include "sync/no_memory.h"

namespace slipway::sync {

namespace {

using ops::Chunk;
using ops::ChainedOp;
using ops::Holding;
using ops::Ranges;
using ops::StreamId;

// Only if the peer's own prefix is ours too do its ranges say anything: else a fork lies between.
bool may_be_believed(const StreamId& stream, const Holding& theirs, const ops::Holdings& here, const ops::Held& held) {
  const auto own = here.find(stream);
  if (own == here.end() || own->second.forked || theirs.forked) return false;
  const std::uint64_t end = theirs.ranges.prefix_end();
  return end == 0 || held.contains(stream, end, theirs.prefix_hash);
}

// The ops of a chunk that lie in `wanted`, as chunks.
model::Result<std::vector<Chunk>> cut(const Chunk& chunk, const Ranges& wanted) {
  auto read = ops::read_chunk(chunk);
  if (!read) return read.error();
  std::vector<ChainedOp> left;
  for (ChainedOp& op : *read)
    if (wanted.contains(op.seq)) left.push_back(std::move(op));
  return ops::make_chunks(left);
}

Ranges span_of(const Chunk& chunk) {
  Ranges span;
  span.add(chunk.first_seq, chunk.last_seq);
  return span;
}

}  // namespace

model::Result<std::vector<Chunk>> lacking(const std::vector<Chunk>& chunks, const ops::Held& held, const ops::Holdings& theirs) {
  return or_no_memory<std::vector<Chunk>>([&]() -> model::Result<std::vector<Chunk>> {
    std::vector<Chunk> out;
    ops::Holdings here;
    model::ScopeId scope;
    for (const Chunk& chunk : chunks) {
      if (here.empty() || !(chunk.stream.scope == scope)) {
        scope = chunk.stream.scope;
        here = held.holdings(scope);
      }
      const auto told = theirs.find(chunk.stream);
      if (told == theirs.end() || !may_be_believed(chunk.stream, told->second, here, held)) {
        out.push_back(chunk);
        continue;
      }
      const Ranges span = span_of(chunk);
      const Ranges wanted = span.without(told->second.ranges);
      if (wanted.empty()) continue;
      if (wanted == span) {
        out.push_back(chunk);
        continue;
      }
      auto pieces = cut(chunk, wanted);
      if (!pieces) return pieces.error();
      for (Chunk& piece : *pieces) out.push_back(std::move(piece));
    }
    return out;
  });
}

PeerWord newer_word(const std::optional<PeerWord>& known, const PeerWord& said, const model::ScopeId& scope) {
  if (!known) return said;
  if (known->inc == said.inc) return said.export_counter > known->export_counter ? said : *known;
  const auto knows = [&](const PeerWord& word, const model::IncarnationId& inc) {
    const auto found = word.holds.find({scope, inc});
    return found != word.holds.end() && !found->second.ranges.empty();
  };
  // The one that holds entries of the other came later.
  if (knows(*known, said.inc) && !knows(said, known->inc)) return *known;
  PeerWord careful = said;
  for (auto& [stream, holding] : careful.holds) {
    const auto before = known->holds.find(stream);
    const bool same_prefix = before != known->holds.end() && !before->second.forked && !holding.forked;
    if (!same_prefix) {
      holding = {};
      holding.prefix_hash = ops::genesis(stream);
      continue;
    }
    // Both say it: what either may have lost is sent again.
    const Holding& shorter = before->second.ranges.prefix_end() < holding.ranges.prefix_end() ? before->second : holding;
    const model::Hash32 hash = shorter.prefix_hash;
    Ranges both = holding.ranges;
    const Ranges only_now = holding.ranges.without(before->second.ranges);
    holding.ranges = both.without(only_now);
    holding.prefix_hash = holding.ranges.prefix_end() == 0 ? ops::genesis(stream) : hash;
  }
  return careful;
}

}  // namespace slipway::sync
