// Packed runs: written when an import brings one, or when the folding has a long run of full chunks before it.
#include "store/runs.h"

#include <algorithm>

#include "store/sqlite_store.h"

namespace slipway::store {

namespace {

constexpr int kFormWithPacked = 3;

std::uint64_t op_count(const ops::Chunk& chunk) { return chunk.last_seq - chunk.first_seq + 1; }

bool full(const ops::Chunk& chunk) {
  return op_count(chunk) == ops::kMaxChunkOps || chunk.bytes.size() > ops::kFoldedChunkBytes * 3 / 4;
}

Statement& bind_key(Statement& statement, const ops::PackedRun& run) {
  return statement.bind(run.stream.scope.view())
      .bind(run.stream.inc.view())
      .bind(static_cast<std::int64_t>(run.first_seq))
      .bind(run.before.view())
      .bind(run.after.view());
}

}  // namespace

void put_unpacked(const ops::PackedRun& run, std::vector<ops::Chunk>& out) {
  if (const auto ops = ops::unpack(run)) {
    for (ops::Chunk& chunk : ops::make_chunks(*ops)) out.push_back(std::move(chunk));
    return;
  }
  for (std::uint64_t seq = run.first_seq; seq <= run.last_seq; seq += ops::kMaxChunkOps) {
    const std::uint64_t last = std::min(run.last_seq, seq + ops::kMaxChunkOps - 1);
    out.push_back({run.stream, seq, last, seq == run.first_seq ? run.before : model::Hash32{}, last == run.last_seq ? run.after : model::Hash32{}, {}});
  }
}

model::Bytes told_of(const ops::PackedRun& run) {
  model::Bytes told;
  ops::put_varint(told, run.op_bytes);
  ops::put_varint(told, run.section_length);
  for (const model::IncarnationId& inc : run.beside) model::append(told, inc.view());
  return told;
}

bool read_told(model::ByteView told, ops::PackedRun& run) {
  std::size_t at = 0;
  if (!ops::get_varint(told, at, run.op_bytes) || !ops::get_varint(told, at, run.section_length)) return false;
  constexpr std::size_t kIncBytes = sizeof(model::IncarnationId);
  if ((told.size() - at) % kIncBytes != 0) return false;
  for (; at < told.size(); at += kIncBytes) run.beside.push_back(model::IncarnationId::from(told.subspan(at, kIncBytes)));
  return true;
}

model::ShortHash check_of(const ops::PackedRun& run) {
  model::Bytes row;
  for (const model::ByteView part : {run.stream.scope.view(), run.stream.inc.view(), run.before.view(), run.after.view()}) model::append(row, part);
  ops::put_varint(row, run.first_seq);
  ops::put_varint(row, run.last_seq);
  model::append(row, told_of(run));
  model::append(row, run.bytes);
  return model::shorten(ops::blake2b(row));
}

model::Result<std::vector<ops::PackedRun>> read_runs(Database& database, const model::ScopeId& scope, const ops::StreamId* stream,
                                                     std::uint64_t first_seq) {
  std::vector<ops::PackedRun> runs;
  Statement all(database, stream ? "SELECT inc,first_seq,before_hash,last_seq,after_hash,told,row_check,bytes FROM packed WHERE scope=? AND last_seq>=? AND inc=?"
                                  : "SELECT inc,first_seq,before_hash,last_seq,after_hash,told,row_check,bytes FROM packed WHERE scope=? AND last_seq>=?");
  all.bind(scope.view()).bind(static_cast<std::int64_t>(first_seq));
  if (stream) all.bind(stream->inc.view());
  while (all.step()) {
    ops::PackedRun run{{scope, model::IncarnationId::from(all.bytes(0))},
                       static_cast<std::uint64_t>(all.number(1)),
                       static_cast<std::uint64_t>(all.number(3)),
                       model::Hash32::from(all.bytes(2)),
                       model::Hash32::from(all.bytes(4)),
                       {},
                       0,
                       0,
                       all.bytes(7)};
    if (!read_told(all.bytes(5), run) || !model::equal(check_of(run).view(), all.bytes(6))) {
      run.bytes.clear();
      run.beside.clear();
    }
    runs.push_back(std::move(run));
  }
  if (all.failed()) return database.error();
  return runs;
}

bool SqliteStore::has_packed() const { return opening_.schema_found >= kFormWithPacked; }

bool SqliteStore::put_run(const ops::PackedRun& run) {
  if (is_sealed(run.stream.scope)) {  // what is sealed is kept as chunks
    const auto ops = ops::unpack(run);
    if (!ops) return false;
    const auto chunks = ops::make_chunks(*ops);
    return std::all_of(chunks.begin(), chunks.end(), [this](const ops::Chunk& chunk) { return put_chunk(chunk); });
  }
  Statement put(database_,
                "INSERT OR IGNORE INTO packed(scope,inc,first_seq,before_hash,after_hash,last_seq,told,row_check,bytes) VALUES(?,?,?,?,?,?,?,?,?)");
  const model::Bytes told = told_of(run);
  const model::ShortHash check = check_of(run);
  bind_key(put, run).bind(static_cast<std::int64_t>(run.last_seq)).bind(model::ByteView(told)).bind(check.view());
  return put.bind(model::ByteView(run.bytes)).run();
}

model::Result<std::vector<ops::PackedRun>> SqliteStore::runs_of(const model::ScopeId& scope, const ops::StreamId* stream,
                                                                std::uint64_t first_seq) {
  if (!has_packed()) return std::vector<ops::PackedRun>();
  return read_runs(database_, scope, stream, first_seq);
}

model::Result<std::optional<ops::PackedRun>> SqliteStore::whole_run(const ops::StreamId& stream) {
  auto runs = runs_of(stream.scope, &stream, 1);
  if (!runs) return runs.error();
  if (runs->size() != 1 || runs->front().beside.empty()) return std::optional<ops::PackedRun>();
  Statement chunk(database_, "SELECT 1 FROM chunk WHERE scope=? AND inc=? LIMIT 1");
  chunk.bind(stream.scope.view()).bind(stream.inc.view());
  if (chunk.step()) return std::optional<ops::PackedRun>();
  if (chunk.failed()) return database_.error();
  return std::optional<ops::PackedRun>(std::move(runs->front()));
}

model::Result<ops::Holdings> SqliteStore::holdings(const model::ScopeId& scope) {
  struct Row {
    std::uint64_t first, last;
    model::Hash32 before, after;
  };
  std::map<ops::StreamId, std::vector<Row>> streams;
  if (is_sealed(scope)) {  // the hashes in the keys are no hashes
    const auto held = chunks(scope);
    if (!held) return held.error();
    for (const ops::Chunk& chunk : *held) streams[chunk.stream].push_back({chunk.first_seq, chunk.last_seq, chunk.before, chunk.after});
  }
  for (const std::string_view table : {"chunk", "packed"}) {
    if (is_sealed(scope) || (table == "packed" && !has_packed())) continue;
    Statement all(database_, "SELECT inc,first_seq,before_hash,last_seq,after_hash FROM " + std::string(table) + " WHERE scope=?");
    all.bind(scope.view());
    while (all.step())
      streams[{scope, model::IncarnationId::from(all.bytes(0))}].push_back({static_cast<std::uint64_t>(all.number(1)),
                                                                            static_cast<std::uint64_t>(all.number(3)),
                                                                            model::Hash32::from(all.bytes(2)), model::Hash32::from(all.bytes(4))});
    if (all.failed()) return database_.error();
  }
  ops::Holdings out;
  for (auto& [stream, rows] : streams) {
    std::sort(rows.begin(), rows.end(), [](const Row& a, const Row& b) { return a.first < b.first; });
    ops::Holding& holding = out[stream];
    holding.prefix_hash = ops::genesis(stream);
    const Row* before = nullptr;
    for (const Row& row : rows) {
      if (before && (row.first <= before->last || (row.first == before->last + 1 && !(row.before == before->after)))) holding.forked = true;
      if (row.first == holding.ranges.prefix_end() + 1) holding.prefix_hash = row.after;
      holding.ranges.add(row.first, row.last);
      before = &row;
    }
  }
  return out;
}

// ---- packing what is folded -----------------------------------------------------------------------------

// Written, read back, unpacked and compared with the chunks it stands for, before these go.
bool SqliteStore::pack_rows(const std::vector<ops::Chunk>& rows, const std::vector<model::IncarnationId>& beside,
                            std::optional<model::Error>& unequal) {
  std::vector<ops::ChainedOp> all;
  for (const ops::Chunk& row : rows) {
    auto read = ops::read_chunk(row);
    if (!read) return true;  // a damaged row stays as it is, and keeps its neighbours
    for (ops::ChainedOp& op : *read) all.push_back(std::move(op));
  }
  const ops::PackedRun run = ops::pack(all, beside);
  if (!put_run(run)) return false;
  const auto written = runs_of(run.stream.scope, &run.stream, run.first_seq);
  if (!written) return false;
  const auto same = std::find(written->begin(), written->end(), run);
  const auto back = same == written->end() ? model::Result<std::vector<ops::ChainedOp>>(model::Error{}) : ops::unpack(*same);
  const auto equal = [](const ops::ChainedOp& a, const ops::ChainedOp& b) { return a.hash == b.hash && a.bytes == b.bytes; };
  if (!back || !std::equal(back->begin(), back->end(), all.begin(), all.end(), equal)) {
    unequal = model::error(model::ErrorKind::damaged, "store.damaged", {std::string(kDatabaseName), std::to_string(run.first_seq)});
    return false;
  }
  for (const ops::Chunk& row : rows)
    if (!drop_chunk(row)) return false;
  return true;
}

bool SqliteStore::pack_chunks(const model::ScopeId& scope, std::uint64_t& saved, std::optional<model::Error>& unequal) {
  if (is_sealed(scope)) return true;
  {
    // Enough of them at all? Keys are read only.
    Statement count(database_, "SELECT sum(last_seq-first_seq+1) FROM chunk WHERE scope=?");
    if (!count.bind(scope.view()).step()) return false;
    if (count.number(0) < static_cast<std::int64_t>(kLeastPackedOps)) return true;
  }
  const auto held = holdings(scope);
  if (!held) return false;
  std::vector<model::IncarnationId> beside;
  for (const auto& [stream, holding] : *held) beside.push_back(stream.inc);
  Statement all(database_, "SELECT scope,inc,first_seq,before_hash,last_seq,after_hash,bytes FROM chunk WHERE scope=? ORDER BY inc,first_seq");
  auto chunks = read_chunks(all.bind(scope.view()));
  if (!chunks) return false;
  std::vector<ops::Chunk> rows;
  std::uint64_t ops = 0;
  const auto close = [&] {
    const bool worth = ops >= kLeastPackedOps;
    if (worth && !pack_rows(rows, beside, unequal)) return false;
    if (worth) saved += rows.size() - 1;
    rows.clear();
    ops = 0;
    return true;
  };
  for (ops::Chunk& chunk : *chunks) {
    const bool forked = held->at(chunk.stream).forked;
    const bool goes_on = !rows.empty() && rows.back().stream == chunk.stream && rows.back().after == chunk.before;
    if ((!goes_on || ops + op_count(chunk) > ops::kMostPackedOps) && !close()) return false;
    if (forked || !full(chunk)) {
      if (!close()) return false;
      continue;  // it may still grow
    }
    ops += op_count(chunk);
    rows.push_back(std::move(chunk));
  }
  return close();
}

}  // namespace slipway::store
