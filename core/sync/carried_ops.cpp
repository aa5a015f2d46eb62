#include "sync/carried_ops.h"

#include <algorithm>
#include <map>
#include <tuple>

#include "ops/op.h"
#include "sync/bundle_v0.h"

namespace slipway::sync {

using ops::ChainedOp;
using ops::Chunk;
using ops::StreamId;

std::vector<model::Hash32> CarriedOps::hashes_at(const StreamId& stream, std::uint64_t seq) const {
  std::vector<model::Hash32> found;
  auto chunk = std::lower_bound(chunks.begin(), chunks.end(), stream,
                                [](const Chunk& a, const StreamId& wanted) { return a.stream < wanted; });
  for (; chunk != chunks.end() && chunk->stream == stream; ++chunk)
    if (chunk->first_seq <= seq && seq <= chunk->last_seq)
      found.push_back(ops[starts[static_cast<std::size_t>(chunk - chunks.begin())] + static_cast<std::size_t>(seq - chunk->first_seq)].hash);
  return found;
}

namespace {

// Order of ops in a file.
auto place_of(const ChainedOp& op) { return std::tie(op.stream, op.seq, op.hash); }

// Places in `all`, sorted, each op once.
std::vector<std::size_t> sorted_once(const std::vector<ChainedOp>& all) {
  std::vector<std::size_t> order(all.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return place_of(all[a]) < place_of(all[b]); });
  order.erase(std::unique(order.begin(), order.end(),
                          [&](std::size_t a, std::size_t b) { return place_of(all[a]) == place_of(all[b]); }),
              order.end());
  return order;
}

using Run = std::vector<std::size_t>;  // places of ops that follow one another

// Most of all files: one writer's log, in order.
bool all_one_run(const std::vector<ChainedOp>& all) {
  for (std::size_t i = 1; i < all.size(); ++i)
    if (all[i].seq != all[i - 1].seq + 1 || !(all[i].before == all[i - 1].hash) || !(all[i].stream == all[0].stream)) return false;
  return !all.empty();
}

std::vector<Run> unbroken_runs(const std::vector<ChainedOp>& all) {
  if (all_one_run(all)) {
    Run whole(all.size());
    for (std::size_t i = 0; i < whole.size(); ++i) whole[i] = i;
    return {std::move(whole)};
  }
  const std::vector<std::size_t> order = sorted_once(all);
  constexpr std::size_t kNone = static_cast<std::size_t>(-1);
  std::vector<std::size_t> next(order.size(), kNone);
  std::vector<bool> begins(order.size(), true);
  for (std::size_t i = 0; i < order.size(); ++i) {
    const ChainedOp& op = all[order[i]];
    const auto parent_place = std::make_tuple(op.stream, op.seq - 1, op.before);
    const auto end = order.begin() + static_cast<std::ptrdiff_t>(i);
    const auto parent = std::lower_bound(order.begin(), end, parent_place,
                                         [&](std::size_t at, const auto& wanted) { return place_of(all[at]) < wanted; });
    if (parent == end || place_of(all[*parent]) != parent_place) continue;
    const auto p = static_cast<std::size_t>(parent - order.begin());
    if (next[p] != kNone) continue;  // a branch of higher hash
    next[p] = i;
    begins[i] = false;
  }
  std::vector<Run> runs;
  for (std::size_t i = 0; i < order.size(); ++i) {
    if (!begins[i]) continue;
    Run& run = runs.emplace_back();
    for (std::size_t k = i; k != kNone; k = next[k]) run.push_back(order[k]);
  }
  return runs;
}

struct Piece {  // a chunk in the making, and the places of its ops
  Chunk chunk;
  Run members;
};

void cut(const std::vector<ChainedOp>& all, const Run& run, std::vector<Piece>& pieces) {
  bool fresh = true;
  model::Bytes length;
  for (const std::size_t at : run) {
    const ChainedOp& op = all[at];
    length.clear();
    ops::put_varint(length, op.bytes.size());
    if (!fresh) {
      const Piece& open = pieces.back();
      fresh = open.members.size() == v0::kChunkOps || open.chunk.bytes.size() + length.size() + op.bytes.size() > v0::kChunkBytes;
    }
    if (fresh) {
      pieces.push_back({Chunk{.stream = op.stream, .first_seq = op.seq, .last_seq = 0, .before = op.before, .after = {}, .bytes = {}}, {}});
      pieces.back().members.reserve(v0::kChunkOps);
      pieces.back().chunk.bytes.reserve((length.size() + op.bytes.size()) * v0::kChunkOps);
    }
    fresh = false;
    Piece& open = pieces.back();
    open.members.push_back(at);
    open.chunk.last_seq = op.seq;
    open.chunk.after = op.hash;
    model::append(open.chunk.bytes, length);
    model::append(open.chunk.bytes, op.bytes);
  }
}

}  // namespace

CarriedOps carry(std::vector<ChainedOp> all) {
  std::vector<Piece> pieces;
  for (const Run& run : unbroken_runs(all)) cut(all, run, pieces);
  std::sort(pieces.begin(), pieces.end(), [](const Piece& a, const Piece& b) {
    return std::tie(a.chunk.stream, a.chunk.first_seq, a.chunk.after) < std::tie(b.chunk.stream, b.chunk.first_seq, b.chunk.after);
  });
  CarriedOps carried;
  carried.ops.reserve(all.size());
  carried.chunks.reserve(pieces.size());
  for (Piece& piece : pieces) {
    carried.starts.push_back(carried.ops.size());
    carried.chunks.push_back(std::move(piece.chunk));
    for (const std::size_t at : piece.members) carried.ops.push_back(std::move(all[at]));
  }
  return carried;
}

model::Bytes write_ops(const std::vector<Chunk>& chunks, const std::vector<StreamId>& streams) {
  model::Bytes out;
  ops::put_varint(out, chunks.size());
  for (const Chunk& chunk : chunks) {
    const auto stream = std::lower_bound(streams.begin(), streams.end(), chunk.stream);
    ops::put_varint(out, static_cast<std::uint64_t>(stream - streams.begin()));
    ops::put_varint(out, chunk.first_seq);
    if (chunk.first_seq > 1) model::append(out, chunk.before.view());
    ops::put_varint(out, chunk.last_seq - chunk.first_seq + 1);
    ops::put_varint(out, chunk.bytes.size());
    model::append(out, chunk.bytes);
    model::append(out, model::shorten(chunk.after).view());
  }
  return out;
}

std::uint64_t length_of_ops(const std::vector<Chunk>& chunks, const std::vector<StreamId>& streams) {
  std::vector<Chunk> heads;  // all but the bytes of the ops
  std::uint64_t length = 0;
  for (const Chunk& chunk : chunks) {
    const std::uint64_t bytes = chunk.bytes.size();
    model::Bytes number;
    ops::put_varint(number, bytes);
    length += bytes + number.size() - 1;  // an empty one has one byte to say so
    heads.push_back({chunk.stream, chunk.first_seq, chunk.last_seq, chunk.before, chunk.after, {}});
  }
  return length + write_ops(heads, streams).size();
}

namespace {

class OpsReader {
 public:
  OpsReader(model::ByteView section, std::uint64_t at, const std::vector<StreamId>& streams, std::uint64_t op_count,
            const Door& door)
      : cursor_(section), section_at_(at), streams_(streams), ops_left_(op_count), door_(door) {}

  model::Result<CarriedOps> read() {
    std::uint64_t count = 0;
    if (!cursor_.number(count)) return broken();
    for (chunk_ = 1; chunk_ <= count; ++chunk_)
      if (auto done = one_chunk(); !done) return done.error();
    if (cursor_.left() != 0 || ops_left_ != 0) return broken();
    return std::move(carried_);
  }

 private:
  model::Result<model::Done> one_chunk() {
    chunk_at_ = section_at_ + cursor_.at();
    std::uint64_t stream = 0, op_count = 0, length = 0;
    Chunk chunk;
    if (!cursor_.number(stream) || stream >= streams_.size()) return broken();
    chunk.stream = streams_[static_cast<std::size_t>(stream)];
    if (!cursor_.number(chunk.first_seq) || chunk.first_seq == 0 || chunk.first_seq >= ops::kCounterCeiling) return broken();
    if (chunk.first_seq == 1) {
      chunk.before = ops::genesis(chunk.stream);
    } else {
      model::ByteView before;
      if (!cursor_.take(sizeof(chunk.before.bytes), before)) return broken();
      chunk.before = model::Hash32::from(before);
    }
    if (!cursor_.number(op_count) || op_count == 0 || op_count > v0::kChunkOps || op_count > ops_left_) return broken();
    model::ByteView bytes, check;
    if (!cursor_.number(length) || !cursor_.take(length, bytes) || !cursor_.take(sizeof(model::ShortHash), check)) return broken();
    chunk.last_seq = chunk.first_seq + op_count - 1;
    chunk.bytes.assign(bytes.begin(), bytes.end());
    ops_left_ -= op_count;
    return prove(std::move(chunk), op_count, model::ShortHash::from(check));
  }

  // First the chain over the bytes as they are, so that damage is told from ops that
  // nobody could have written.
  model::Result<model::Done> prove(Chunk chunk, std::uint64_t op_count, const model::ShortHash& check) {
    Cursor ops_cursor(chunk.bytes);
    chunk.after = chunk.before;
    for (std::uint64_t i = 0; i < op_count; ++i) {
      std::uint64_t length = 0;
      model::ByteView op;
      if (!ops_cursor.number(length) || !ops_cursor.take(length, op)) return broken();
      chunk.after = ops::chain(chunk.after, op);
    }
    if (ops_cursor.left() != 0) return broken();
    if (!(model::shorten(chunk.after) == check)) return door_.damaged("bundle.chain", place(), chunk_at_);
    auto proven = ops::read_chunk(chunk);
    if (!proven) return door_.no(proven.error().kind, "bundle.entry", place(), chunk_at_);
    carried_.starts.push_back(carried_.ops.size());
    for (ChainedOp& op : *proven) carried_.ops.push_back(std::move(op));
    if (!goes_on(chunk) && ++pieces_[chunk.stream] > v0::kPiecesAStream) return door_.too_large(place(), v0::kPiecesAStream);
    carried_.chunks.push_back(std::move(chunk));
    return model::Done{};
  }

  bool goes_on(const Chunk& chunk) const {
    return !carried_.chunks.empty() && carried_.chunks.back().stream == chunk.stream && carried_.chunks.back().after == chunk.before;
  }
  std::string place() const { return "ops/" + std::to_string(chunk_); }
  model::Error broken() const { return door_.damaged("bundle.section", place(), section_at_ + cursor_.at()); }

  Cursor cursor_;
  std::uint64_t section_at_ = 0, chunk_at_ = 0, chunk_ = 0;
  const std::vector<StreamId>& streams_;
  std::uint64_t ops_left_ = 0;
  const Door& door_;
  CarriedOps carried_;
  std::map<StreamId, std::uint64_t> pieces_;
};

}  // namespace

model::Result<CarriedOps> read_ops(model::ByteView section, std::uint64_t at, const std::vector<StreamId>& streams,
                                   std::uint64_t op_count, const Door& door) {
  return OpsReader(section, at, streams, op_count, door).read();
}

}  // namespace slipway::sync
