#include "sync/codec1.h"

#include <algorithm>
#include <map>

#include "sync/bundle_v0.h"
#include "sync/op_coder.h"

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
  RangeWriter writer;
  OpCoder<RangeWriter> coder(writer, streams);
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

  model::Result<std::vector<ChainedOp>> read() {
    std::vector<Piece> pieces;
    if (const auto told = read_pieces(pieces); !told) return told.error();
    RangeReader reader(stored_.subspan(cursor_.at()));
    OpCoder<RangeReader> coder(reader, streams_);
    for (const Piece& piece : pieces) {
      ++piece_;
      if (const auto done = one_piece(piece, reader, coder); !done) return done.error();
    }
    return std::move(ops_);
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

  model::Result<model::Done> one_piece(const Piece& piece, const RangeReader& reader, OpCoder<RangeReader>& coder) {
    const StreamId& stream = streams_[piece.stream];
    model::Hash32 before = piece.before;
    coder.begin(piece.stream, piece.first_seq);
    for (std::uint64_t i = 0; i < piece.op_count; ++i) {
      ChainedOp op{stream, piece.first_seq + i, before, {}, {}, {}};
      if (op.seq >= ops::kCounterCeiling) return broken();
      coder.code(nullptr, op.bytes);
      if (reader.failed() || op.bytes.size() > raw_left_) return broken();
      raw_left_ -= op.bytes.size();
      auto read = ops::read_op(op.bytes);
      if (!read) return door_.no(read.error().kind, "bundle.entry", place(), at_);
      if (!ops::refs_fit(*read, stream.inc)) return door_.damaged("bundle.entry", place(), at_);
      op.op = std::move(*read);
      op.hash = ops::chain(before, op.bytes);
      before = op.hash;
      coder.stands(op.hash);
      ops_.push_back(std::move(op));
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
};

}  // namespace

model::Result<std::vector<ChainedOp>> unpack_ops(model::ByteView stored, std::uint64_t at, std::uint64_t raw_length,
                                                 const std::vector<StreamId>& streams, std::uint64_t op_count, const Door& door) {
  return Unpacker(stored, at, raw_length, streams, op_count, door).read();
}

}  // namespace slipway::sync
