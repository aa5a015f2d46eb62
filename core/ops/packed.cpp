#include "ops/packed.h"

#include <algorithm>
#include <string>

#include "ops/op_coder.h"

namespace slipway::ops {

namespace {

model::Error damaged(const PackedRun& run, std::string_view what, std::uint64_t seq) {
  return model::error(model::ErrorKind::damaged, "chain.damaged",
                      {std::string(what), run.stream.scope.hex() + "/" + run.stream.inc.hex(), std::to_string(seq)});
}

std::vector<StreamId> streams_of(const model::ScopeId& scope, const std::vector<model::IncarnationId>& beside) {
  std::vector<StreamId> streams;
  for (const model::IncarnationId& inc : beside) streams.push_back({scope, inc});
  return streams;
}

}  // namespace

PackedRun pack(const std::vector<ChainedOp>& run, std::vector<model::IncarnationId> beside) {
  const ChainedOp& first = run.front();
  beside.push_back(first.stream.inc);
  std::sort(beside.begin(), beside.end());
  beside.erase(std::unique(beside.begin(), beside.end()), beside.end());
  const std::vector<StreamId> streams = streams_of(first.stream.scope, beside);
  const auto own = std::lower_bound(streams.begin(), streams.end(), first.stream) - streams.begin();
  PackedRun packed{first.stream, first.seq, run.back().seq, first.before, run.back().hash, std::move(beside), 0, 0, {}};
  RangeWriter writer;
  OpCoder<RangeWriter> coder(writer, streams);
  coder.begin(static_cast<std::size_t>(own), first.seq);
  model::Bytes unused;
  for (const ChainedOp& op : run) {
    coder.code(&op.op, unused);
    coder.stands(op.hash);
    packed.op_bytes += op.bytes.size();
  }
  packed.bytes = std::move(writer).finish();
  return packed;
}

model::Result<std::vector<ChainedOp>> unpack(const PackedRun& run) {
  const bool begins = run.before == genesis(run.stream);
  if (run.first_seq < 1 || run.last_seq < run.first_seq || run.last_seq >= kCounterCeiling) return damaged(run, "seq", run.first_seq);
  if (begins != (run.first_seq == 1)) return damaged(run, "before", run.first_seq);
  const std::uint64_t count = run.last_seq - run.first_seq + 1;
  if (count > kMostPackedOps) return model::error(model::ErrorKind::too_large, "op.too_large", {"chunk", std::to_string(count)});
  const std::vector<StreamId> streams = streams_of(run.stream.scope, run.beside);
  const auto own = std::lower_bound(streams.begin(), streams.end(), run.stream);
  if (!std::is_sorted(streams.begin(), streams.end()) || own == streams.end() || !(*own == run.stream)) return damaged(run, "beside", run.first_seq);
  RangeReader reader(run.bytes);
  OpCoder<RangeReader> coder(reader, streams);
  coder.begin(static_cast<std::size_t>(own - streams.begin()), run.first_seq);
  std::vector<ChainedOp> ops;
  ops.reserve(static_cast<std::size_t>(count));
  model::Hash32 hash = run.before;
  std::uint64_t left = run.op_bytes;
  for (std::uint64_t seq = run.first_seq; seq <= run.last_seq; ++seq) {
    ChainedOp op{run.stream, seq, hash, {}, {}, {}};
    coder.code(nullptr, op.bytes);
    if (reader.failed() || op.bytes.size() > left) return damaged(run, "length", seq);
    left -= op.bytes.size();
    auto read = read_op(op.bytes);
    if (!read) return read.error().kind == model::ErrorKind::too_large ? read.error() : damaged(run, read.error().args[0], seq);
    if (!refs_fit(*read, run.stream.inc)) return damaged(run, "payload", seq);
    op.op = std::move(*read);
    hash = op.hash = chain(hash, op.bytes);
    coder.stands(hash);
    ops.push_back(std::move(op));
  }
  if (left != 0) return damaged(run, "end", run.last_seq);
  if (!(hash == run.after)) return damaged(run, "hash", run.last_seq);
  return ops;
}

}  // namespace slipway::ops
