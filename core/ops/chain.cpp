#include "ops/chain.h"

#include <algorithm>

#include <sodium.h>

#include "ops/one_block.h"

namespace slipway::ops {

namespace {

constexpr std::string_view kGenesisWords = "slipway stream 0";

model::Error damaged(const Chunk& chunk, std::string_view what, std::uint64_t seq) {
  return model::error(model::ErrorKind::damaged, "chain.damaged",
                      {std::string(what), chunk.stream.scope.hex() + "/" + chunk.stream.inc.hex(), std::to_string(seq)});
}

bool continues(const ChainedOp& before, const ChainedOp& after) {
  return before.stream == after.stream && before.seq + 1 == after.seq && before.hash == after.before;
}

void put_op(Chunk& chunk, const ChainedOp& op) {
  put_varint(chunk.bytes, op.bytes.size());
  model::append(chunk.bytes, op.bytes);
  chunk.last_seq = op.seq;
  chunk.after = op.hash;
}

}  // namespace

model::Hash32 blake2b(model::ByteView bytes) {
  model::Hash32 hash;
  crypto_generichash(hash.bytes.data(), hash.bytes.size(), bytes.data(), bytes.size(), nullptr, 0);
  return hash;
}

model::Hash32 genesis(const StreamId& stream) {
  model::Bytes input;
  model::append(input, model::as_bytes(kGenesisWords));
  model::append(input, stream.scope.view());
  model::append(input, stream.inc.view());
  return blake2b(input);
}

model::Hash32 chain(const model::Hash32& before, model::ByteView op_bytes) {
  if (before.bytes.size() + op_bytes.size() <= kOneBlock) {
    std::array<std::uint8_t, kOneBlock> block{};
    std::copy(before.bytes.begin(), before.bytes.end(), block.begin());
    std::copy(op_bytes.begin(), op_bytes.end(), block.begin() + static_cast<std::ptrdiff_t>(before.bytes.size()));
    return hash_one_block(block, before.bytes.size() + op_bytes.size());
  }
  crypto_generichash_state state;
  model::Hash32 hash;
  crypto_generichash_init(&state, nullptr, 0, hash.bytes.size());
  crypto_generichash_update(&state, before.bytes.data(), before.bytes.size());
  crypto_generichash_update(&state, op_bytes.data(), op_bytes.size());
  crypto_generichash_final(&state, hash.bytes.data(), hash.bytes.size());
  return hash;
}

bool refs_fit(const Op& op, const model::IncarnationId& home) {
  for (const Field& field : op.fields) {
    if (field.wire != Wire::refs) continue;
    std::size_t at = 0;
    model::OpKey key;
    while (at < field.payload.size())
      if (!get_ref(field.payload, at, home, key)) return false;
  }
  return true;
}

model::Result<std::vector<ChainedOp>> read_chunk(const Chunk& chunk) {
  const bool begins = chunk.before == genesis(chunk.stream);
  if (chunk.first_seq < 1 || chunk.last_seq < chunk.first_seq || chunk.last_seq >= kCounterCeiling)
    return damaged(chunk, "seq", chunk.first_seq);
  if (begins != (chunk.first_seq == 1)) return damaged(chunk, "before", chunk.first_seq);
  const std::uint64_t count = chunk.last_seq - chunk.first_seq + 1;
  if (count > kMaxChunkOps) return model::error(model::ErrorKind::too_large, "op.too_large", {"chunk", std::to_string(count)});
  std::vector<ChainedOp> ops;
  ops.reserve(static_cast<std::size_t>(count));
  const model::ByteView bytes = chunk.bytes;
  model::Hash32 hash = chunk.before;
  std::size_t at = 0;
  for (std::uint64_t seq = chunk.first_seq; seq <= chunk.last_seq; ++seq) {
    std::uint64_t length = 0;
    if (!get_varint(bytes, at, length) || length > bytes.size() - at) return damaged(chunk, "length", seq);
    if (length > kMaxOpBytes)
      return model::error(model::ErrorKind::too_large, "op.too_large", {"op", std::to_string(length)});
    const model::ByteView op_bytes = bytes.subspan(at, static_cast<std::size_t>(length));
    at += op_bytes.size();
    auto op = read_op(op_bytes);
    if (!op) return op.error().kind == model::ErrorKind::too_large ? op.error() : damaged(chunk, op.error().args[0], seq);
    if (!refs_fit(*op, chunk.stream.inc)) return damaged(chunk, "payload", seq);
    const model::Hash32 before = hash;
    hash = chain(before, op_bytes);
    ops.push_back({chunk.stream, seq, before, hash, {op_bytes.begin(), op_bytes.end()}, std::move(*op)});
  }
  if (at != bytes.size()) return damaged(chunk, "end", chunk.last_seq);
  if (!(hash == chunk.after)) return damaged(chunk, "hash", chunk.last_seq);
  return ops;
}

std::vector<Chunk> make_chunks(const std::vector<ChainedOp>& ops) {
  std::vector<Chunk> chunks;
  for (std::size_t i = 0; i < ops.size(); ++i) {
    const bool joined = i > 0 && continues(ops[i - 1], ops[i]);
    const bool room = !chunks.empty() && chunks.back().last_seq - chunks.back().first_seq + 1 < kMaxChunkOps &&
                      chunks.back().bytes.size() + ops[i].bytes.size() <= kFoldedChunkBytes;
    if (!joined || !room) chunks.push_back({ops[i].stream, ops[i].seq, ops[i].seq, ops[i].before, ops[i].hash, {}});
    put_op(chunks.back(), ops[i]);
  }
  return chunks;
}

}  // namespace slipway::ops
