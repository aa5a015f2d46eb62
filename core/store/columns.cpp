#include "store/columns.h"

#include <algorithm>

namespace slipway::store {

namespace {

model::Result<std::vector<ops::ChainedOp>> proven(const std::vector<ops::Chunk>& chunks) {
  std::vector<ops::ChainedOp> all;
  for (const ops::Chunk& chunk : chunks) {
    auto read = ops::read_chunk(chunk);
    if (!read) return read.error();
    for (ops::ChainedOp& op : *read) all.push_back(std::move(op));
  }
  return all;
}

model::Result<ops::SetTable> made_anew(Store& store, const model::ScopeId& scope) {
  const auto chunks = store.chunks(scope);
  if (!chunks) return chunks.error();
  const auto ops = proven(*chunks);
  if (!ops) return ops.error();
  return ops::SetTable::of(*ops);
}

bool any_forked(const ops::Holdings& holdings) {
  return std::any_of(holdings.begin(), holdings.end(), [](const auto& one) { return one.second.forked; });
}

// What is held beyond a watermark; nothing, if the watermark is not the beginning of what is held.
model::Result<std::optional<std::vector<ops::ChainedOp>>> beyond(Store& store, const ops::Holdings& covers, const ops::Holdings& held) {
  std::vector<ops::ChainedOp> later;
  for (const auto& [stream, holding] : held) {
    const auto before = covers.find(stream);
    const ops::Ranges covered = before == covers.end() ? ops::Ranges{} : before->second.ranges;
    if (before != covers.end() && covered == holding.ranges) {
      if (!(before->second.prefix_hash == holding.prefix_hash)) return std::optional<std::vector<ops::ChainedOp>>();
      continue;
    }
    const std::uint64_t end = covered.prefix_end();
    if (covered.top() != end || !covered.without(holding.ranges).empty()) return std::optional<std::vector<ops::ChainedOp>>();
    const auto chunks = store.chunks_from(stream, end + 1);
    if (!chunks) return chunks.error();
    auto ops = proven(*chunks);
    if (!ops) return ops.error();
    bool joined = end == 0;
    for (ops::ChainedOp& op : *ops) {
      if (!joined && op.seq == end + 1 && op.before == before->second.prefix_hash) joined = true;
      if (op.seq > end) later.push_back(std::move(op));
    }
    if (!joined) return std::optional<std::vector<ops::ChainedOp>>();
  }
  for (const auto& [stream, holding] : covers)
    if (held.count(stream) == 0) return std::optional<std::vector<ops::ChainedOp>>();
  return std::optional<std::vector<ops::ChainedOp>>(std::move(later));
}

}  // namespace

model::Result<ops::SetTable> read_sets(Store& store, const model::ScopeId& scope) {
  const auto held = store.holdings(scope);
  if (!held) return held.error();
  const auto kept = store.set_columns(scope);
  if (!kept) return kept.error();
  if (!kept->has_value() || (*kept)->version != ops::kSetTableVersion || any_forked(*held) || any_forked((*kept)->covers))
    return made_anew(store, scope);
  auto table = ops::SetTable::read((*kept)->bytes);
  if (!table) return made_anew(store, scope);
  if ((*kept)->covers == *held) return std::move(*table);
  const auto later = beyond(store, (*kept)->covers, *held);
  if (!later) return later.error();
  if (!later->has_value() || !table->add(**later)) return made_anew(store, scope);
  return std::move(*table);
}

model::Result<bool> save_sets(Store& store, const model::ScopeId& scope) {
  const auto held = store.holdings(scope);
  if (!held) return held.error();
  if (any_forked(*held)) return false;
  const auto kept = store.set_columns(scope);
  if (!kept) return kept.error();
  const bool covered = kept->has_value() && (*kept)->version == ops::kSetTableVersion && (*kept)->covers == *held;
  if (covered && ops::SetTable::read((*kept)->bytes)) return false;
  const auto table = made_anew(store, scope);
  if (!table) return table.error();
  const auto saved = store.save_set_columns(scope, {ops::kSetTableVersion, *held, table->write()});
  if (!saved) return saved.error();
  return true;
}

}  // namespace slipway::store
