#include "sync/codec1.h"

#include <algorithm>
#include <map>

#include "ops/op_coder.h"
#include "sync/bundle_v0.h"

namespace slipway::sync {

using ops::ChainedOp;
using ops::StreamId;

namespace {

struct Piece {
  std::size_t stream = 0;
  std::uint64_t first_seq = 1, op_count = 0;
  model::Hash32 before;
  model::ShortHash check;  // of the hash after the last op
};

std::vector<Piece> pieces_of(const CarriedOps& carried, const std::vector<StreamId>& streams) {
  std::vector<Piece> pieces;
  const ops::Chunk* last = nullptr;
  for (const ops::Chunk& chunk : carried.chunks) {
    const bool goes_on = last != nullptr && last->stream == chunk.stream && last->after == chunk.before;
    if (!goes_on) {
      const auto stream = std::lower_bound(streams.begin(), streams.end(), chunk.stream);
      pieces.push_back({static_cast<std::size_t>(stream - streams.begin()), chunk.first_seq, 0, chunk.before, {}});
    }
    pieces.back().op_count += chunk.last_seq - chunk.first_seq + 1;
    pieces.back().check = model::shorten(chunk.after);
    last = &chunk;
  }
  return pieces;
}

}  // namespace

model::Bytes pack_ops(const CarriedOps& carried, const std::vector<StreamId>& streams) {
  const std::vector<Piece> pieces = pieces_of(carried, streams);
  model::Bytes out;
  ops::put_varint(out, pieces.size());
  for (const Piece& piece : pieces) {
    ops::put_varint(out, piece.stream);
    ops::put_varint(out, piece.first_seq);
    if (piece.first_seq > 1) model::append(out, piece.before.view());
    ops::put_varint(out, piece.op_count);
    model::append(out, piece.check.view());
  }
  ops::RangeWriter writer;
  ops::OpCoder<ops::RangeWriter> coder(writer, streams);
  model::Bytes unused;
  std::size_t next = 0;
  for (const Piece& piece : pieces) {
    coder.begin(piece.stream, piece.first_seq);
    for (std::uint64_t i = 0; i < piece.op_count; ++i, ++next) {
      coder.code(&carried.ops[next].op, unused);
      coder.stands(carried.ops[next].hash);
    }
  }
  model::append(out, std::move(writer).finish());
  return out;
}

namespace {

class Unpacker {
 public:
  Unpacker(model::ByteView stored, std::uint64_t at, std::uint64_t raw_length, const std::vector<StreamId>& streams, std::uint64_t op_count,
           const Door& door)
      : stored_(stored), cursor_(stored), at_(at), raw_left_(raw_length), streams_(streams), op_count_(op_count), door_(door) {}

  model::Result<Unpacked> read() {
    std::vector<Piece> pieces;
    if (const auto told = read_pieces(pieces); !told) return told.error();
    ops::RangeReader reader(stored_.subspan(cursor_.at()));
    ops::OpCoder<ops::RangeReader> coder(reader, streams_);
    for (const Piece& piece : pieces) {
      ++piece_;
      if (const auto done = one_piece(piece, reader, coder); !done) return done.error();
    }
    const bool one_form = pieces.size() == 1 && reader.ends_here();
    if (pieces.size() == 1 && !one_form) return broken();
    return Unpacked{std::move(ops_), one_form};
  }

 private:
  model::Result<model::Done> read_pieces(std::vector<Piece>& pieces) {
    std::uint64_t count = 0, ops_left = op_count_;
    std::map<std::size_t, std::uint64_t> in_stream;
    if (!cursor_.number(count)) return broken();
    for (; count > 0; --count) {
      Piece piece;
      std::uint64_t stream = 0;
      model::ByteView before, check;
      if (!cursor_.number(stream) || stream >= streams_.size()) return broken();
      piece.stream = static_cast<std::size_t>(stream);
      if (!cursor_.number(piece.first_seq) || piece.first_seq == 0 || piece.first_seq >= ops::kCounterCeiling) return broken();
      piece.before = ops::genesis(streams_[piece.stream]);
      if (piece.first_seq > 1) {
        if (!cursor_.take(sizeof(piece.before.bytes), before)) return broken();
        if (model::equal(piece.before.view(), before)) return broken();  // only the first op stands on it
        piece.before = model::Hash32::from(before);
      }
      if (!cursor_.number(piece.op_count) || piece.op_count == 0 || piece.op_count > ops_left) return broken();
      if (!cursor_.take(sizeof(piece.check.bytes), check)) return broken();
      piece.check = model::ShortHash::from(check);
      ops_left -= piece.op_count;
      if (++in_stream[piece.stream] > v0::kPiecesAStream) return door_.too_large("ops", v0::kPiecesAStream);
      pieces.push_back(piece);
    }
    if (ops_left != 0) return broken();
    return model::Done{};
  }

  model::Result<model::Done> one_piece(const Piece& piece, const ops::RangeReader& reader, ops::OpCoder<ops::RangeReader>& coder) {
    const StreamId& stream = streams_[piece.stream];
    model::Hash32 before = piece.before;
    coder.begin(piece.stream, piece.first_seq);
    ops_.reserve(ops_.size() + static_cast<std::size_t>(std::min<std::uint64_t>(piece.op_count, stored_.size())));
    for (std::uint64_t i = 0; i < piece.op_count; ++i) {
      ChainedOp& op = ops_.emplace_back();
      op.stream = stream;
      op.seq = piece.first_seq + i;
      op.before = before;
      if (op.seq >= ops::kCounterCeiling) return broken();
      scratch_.clear();
      coder.code(nullptr, scratch_);
      if (reader.failed() || scratch_.size() > raw_left_) return broken();
      raw_left_ -= scratch_.size();
      op.bytes = scratch_;
      auto read = ops::read_op(op.bytes);
      if (!read) return door_.no(read.error().kind, "bundle.entry", place(), at_);
      if (!ops::refs_fit(*read, stream.inc)) return door_.damaged("bundle.entry", place(), at_);
      op.op = std::move(*read);
      op.hash = ops::chain(before, op.bytes);
      before = op.hash;
      coder.stands(op.hash);
    }
    if (!(model::shorten(before) == piece.check)) return door_.damaged("bundle.chain", place(), at_);
    return model::Done{};
  }

  std::string place() const { return "ops/" + std::to_string(piece_); }
  model::Error broken() const { return door_.damaged("bundle.section", place(), at_ + cursor_.at()); }

  model::ByteView stored_;
  Cursor cursor_;
  std::uint64_t at_ = 0, piece_ = 0, raw_left_ = 0;
  const std::vector<StreamId>& streams_;
  std::uint64_t op_count_ = 0;
  const Door& door_;
  std::vector<ChainedOp> ops_;
  model::Bytes scratch_;
};

}  // namespace

model::Result<Unpacked> unpack_ops(model::ByteView stored, std::uint64_t at, std::uint64_t raw_length, const std::vector<StreamId>& streams,
                                   std::uint64_t op_count, const Door& door) {
  return Unpacker(stored, at, raw_length, streams, op_count, door).read();
}

namespace {

void put_piece(model::Bytes& out, std::size_t stream, const ops::PackedRun& run) {
  ops::put_varint(out, 1);
  ops::put_varint(out, stream);
  ops::put_varint(out, run.first_seq);
  if (run.first_seq > 1) model::append(out, run.before.view());
  ops::put_varint(out, run.last_seq - run.first_seq + 1);
  model::append(out, model::shorten(run.after).view());
}

std::size_t place_in(const std::vector<StreamId>& streams, const StreamId& stream) {
  return static_cast<std::size_t>(std::lower_bound(streams.begin(), streams.end(), stream) - streams.begin());
}

}  // namespace

std::optional<ops::PackedRun> only_run(model::ByteView stored, std::uint64_t raw_length, const std::vector<StreamId>& streams,
                                       const std::vector<ChainedOp>& ops) {
  if (ops.empty() || ops.size() > ops::kMostPackedOps || stored.empty() || stored[0] != 1) return std::nullopt;
  ops::PackedRun run{ops.front().stream, ops.front().seq, ops.back().seq, ops.front().before, ops.back().hash, {}, 0, raw_length, {}};
  for (const StreamId& stream : streams) {
    if (!(stream.scope == run.stream.scope)) return std::nullopt;
    run.beside.push_back(stream.inc);
  }
  for (const ChainedOp& op : ops) run.op_bytes += op.bytes.size();
  model::Bytes head;
  put_piece(head, place_in(streams, run.stream), run);
  if (stored.size() < head.size() || !model::equal(stored.first(head.size()), head)) return std::nullopt;
  run.bytes.assign(stored.begin() + static_cast<std::ptrdiff_t>(head.size()), stored.end());
  return run;
}

model::Bytes section_of(const ops::PackedRun& run, const std::vector<StreamId>& streams) {
  model::Bytes out;
  put_piece(out, place_in(streams, run.stream), run);
  model::append(out, run.bytes);
  return out;
}

}  // namespace slipway::sync
