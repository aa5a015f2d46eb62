// Bundles out and in.
#include <algorithm>

#include "app/book.h"
#include "app/book_scope.h"
#include "ops/registry.h"

namespace slipway::app {

namespace {

std::vector<ops::Chunk> rechunked(const std::vector<ops::ChainedOp>& fresh) {
  std::map<ops::StreamId, std::vector<ops::ChainedOp>> by_stream;
  for (const ops::ChainedOp& op : fresh) by_stream[op.stream].push_back(op);
  std::vector<ops::Chunk> chunks;
  for (auto& [stream, stream_ops] : by_stream)
    for (ops::Chunk& chunk : ops::make_chunks(stream_ops)) chunks.push_back(std::move(chunk));
  return chunks;
}

std::string span_text(const sync::Gap& gap) {
  return std::to_string(gap.range.first) + "–" + std::to_string(gap.range.last) + " (" + gap.stream.inc.hex().substr(0, 8) + ")";
}

}  // namespace

model::Result<model::Bytes> Book::make_bundle(std::vector<model::ScopeId> scopes) {
  if (scopes.empty()) scopes = this->scopes();
  std::sort(scopes.begin(), scopes.end());
  scopes.erase(std::unique(scopes.begin(), scopes.end()), scopes.end());
  sync::Bundle bundle;
  bundle.device = opening().device;
  bundle.created_by = opening().inc;
  bundle.scopes = scopes;
  // A full or read-only store must still be able to hand over: then the counter stays what it was.
  const auto counter = store_->next_export_counter();
  bundle.export_counter = counter ? *counter : 0;
  for (const model::ScopeId& scope : scopes) {
    const ops::Holdings holdings = held_.holdings(scope);
    bundle.holdings.insert(holdings.begin(), holdings.end());
    const auto chunks = store_->chunks(scope);
    if (!chunks) return chunks.error();
    bundle.chunks.insert(bundle.chunks.end(), chunks->begin(), chunks->end());
  }
  std::vector<ops::ChainedOp> waiting;
  for (const ops::ChainedOp& op : waiting_)
    if (std::binary_search(scopes.begin(), scopes.end(), op.stream.scope)) waiting.push_back(op);
  for (ops::Chunk& chunk : rechunked(waiting)) bundle.chunks.push_back(std::move(chunk));
  return sync::write_bundle(bundle);
}

model::Result<TakenIn> Book::take_in(const std::string& file_name, model::ByteView file) {
  if (const auto may = writable(); !may) return may.error();
  const auto read = sync::read_bundle(file, file_name);
  if (!read) return read.error();
  auto plan = sync::plan_taking(*read, held_, opening().inc, file_name);
  if (!plan) return plan.error();

  TakenIn report{.file_name = file_name,
                 .file_hash = read->file_hash,
                 .fresh = plan->fresh.size(),
                 .known = plan->known,
                 .not_understood = plan->not_understood,
                 .fresh_sets = static_cast<std::uint64_t>(std::count_if(plan->fresh.begin(), plan->fresh.end(),
                                                                        [](const ops::ChainedOp& op) { return op.op.kind == ops::kind::set; })),
                 .forks = plan->forks.size(),
                 .missing = {},
                 .own_past = plan->own_past};
  for (const sync::Gap& gap : plan->missing) report.missing.push_back(span_text(gap));

  const store::ImportLine line{read->file_hash, file_name, model::iso(now()), report.fresh, report.known, report.not_understood, report.forks};
  const auto taken = store_->take_in(rechunked(plan->fresh), line);
  if (!taken) return taken.error();
  for (const ops::ChainedOp& op : plan->fresh) {
    scope_of(op.stream.scope).add(op);
    held_.add(op);
  }
  const bool own_fork = std::any_of(plan->forks.begin(), plan->forks.end(),
                                    [this](const ops::StreamId& stream) { return stream.inc == opening().inc; });
  if (report.own_past || own_fork) {
    // Going on under the old writer id would give two ops one place (sync-and-storage 3).
    const auto minted = store_->mint_incarnation();
    if (!minted) return minted.error();
    for (auto& [id, scope] : scopes_) scope->pen.reset();
  }
  return report;
}

}  // namespace slipway::app
