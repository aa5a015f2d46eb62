#include "app/archive.h"

#include <algorithm>
#include <iterator>
#include <map>
#include <memory>

#include "app/profile_seals.h"
#include "ops/fold.h"
#include "ops/held.h"
#include "ops/views.h"
#include "sync/op_lines.h"
#include "sync/zip.h"

namespace slipway::app {

namespace {

using ops::ChainedOp;

class Maker {
 public:
  Maker(store::Store& store, std::span<const ChainedOp> waiting) : store_(&store), waiting_(waiting) {}
  explicit Maker(std::span<const ops::Chunk> found) : found_(found) {}

  model::Result<Archive> make(const std::vector<model::ScopeId>& scopes) {
    std::string lines, sessions = sessions_head(), sets = sets_head(), pains = pain_head(), plans, libraries;
    for (const model::ScopeId& scope : scopes) {
      std::vector<ChainedOp> ops = proven_ops(scope);
      if (ops.empty()) continue;
      ops::Fold fold(scope);
      for (const ChainedOp& op : ops) fold.add(op);
      archive_.ops += ops.size();
      switch (ops::scope_is(fold)) {
        case model::ScopeIs::library: libraries += (libraries.empty() ? "" : ",\n") + library_object(ops::read_library(fold)); break;
        case model::ScopeIs::coach_notes: break;  // words only: they stand in ops.jsonl
        case model::ScopeIs::athlete: {
          const model::Athlete athlete = ops::read_athlete(fold);
          sessions += sessions_rows(athlete);
          sets += sets_rows(athlete);
          pains += pain_rows(athlete);
          plans += (plans.empty() ? "" : ",\n") + plan_object(athlete);
          count(athlete);
        }
      }
      lines += sync::op_lines_of(std::move(ops));
    }
    add("FORMAT.txt", format_text());
    zip_.begin(std::string(sync::kOpLinesName));
    const store::Opening by = store_ == nullptr ? store::Opening{} : store_->opening();
    zip_.add(model::as_bytes(sync::op_lines_head(by.device, by.inc, archive_.ops, lost_)));
    zip_.add(model::as_bytes(lines));
    archive_.parts.emplace_back(sync::kOpLinesName);
    add("sessions.csv", sessions);
    add("sets.csv", sets);
    add("pain.csv", pains);
    add("plans.json", "{\"slipway\":\"plans\",\"form\":1,\"athletes\":[\n" + plans + "\n],\"libraries\":[\n" + libraries + "\n]}\n");
    if (store_ == nullptr) {
      archive_.left_out.push_back(model::error(model::ErrorKind::damaged, "store.salvaged", {std::string(store::kDatabaseName), std::to_string(archive_.ops)}));
    } else if (const auto copy = store_->handed_copy(scopes)) {
      zip_.begin(std::string(store::kDatabaseName));
      zip_.add(*copy);
      archive_.parts.emplace_back(store::kDatabaseName);
    } else {
      archive_.left_out.push_back(copy.error());
    }
    auto zip = zip_.finish();
    if (!zip) return zip.error();
    archive_.zip = std::move(*zip);
    return std::move(archive_);
  }

 private:
  void add(const char* part, const std::string& text) {
    zip_.begin(part);
    zip_.add(model::as_bytes(text));
    archive_.parts.emplace_back(part);
  }

  model::Result<std::vector<ops::Chunk>> chunks_of(const model::ScopeId& scope) {
    if (store_ != nullptr) return store_->chunks(scope);
    std::vector<ops::Chunk> chunks;
    std::copy_if(found_.begin(), found_.end(), std::back_inserter(chunks), [&](const ops::Chunk& chunk) { return chunk.stream.scope == scope; });
    return chunks;
  }

  // Each once: at a fold of chunks cut short the same op can stand in two rows.
  std::vector<ChainedOp> proven_ops(const model::ScopeId& scope) {
    std::vector<ChainedOp> ops;
    ops::Held held;
    const auto keep = [&](const ChainedOp& op) {
      if (held.contains(op.stream, op.seq, op.hash)) return;
      held.add(op);
      ops.push_back(op);
    };
    const auto chunks = chunks_of(scope);
    if (!chunks) archive_.left_out.push_back(chunks.error());
    else
      for (const ops::Chunk& chunk : *chunks) {
        const auto read = ops::read_chunk(chunk);
        if (!read) {
          if (chunk.first_seq <= chunk.last_seq) {
            archive_.left_out.push_back(model::error(model::ErrorKind::damaged, "archive.entries_lost",
                                                     {std::string(store::kDatabaseName), std::to_string(chunk.first_seq), std::to_string(chunk.last_seq),
                                                      chunk.stream.inc.hex().substr(0, 8)}));
            lost_[chunk.stream].add(chunk.first_seq, chunk.last_seq);
          } else {
            archive_.left_out.push_back(read.error());  // it does not even know which they were
          }
        } else std::for_each(read->begin(), read->end(), keep);
      }
    for (const ChainedOp& op : waiting_)
      if (op.stream.scope == scope) keep(op);
    return ops;
  }

  void count(const model::Athlete& athlete) {
    archive_.athletes += 1;
    archive_.sessions += athlete.sessions.size();
    for (const model::Session& session : athlete.sessions) archive_.sets += session.sets.size();
    archive_.pains += athlete.pains.size();
  }

  store::Store* store_ = nullptr;
  std::span<const ops::Chunk> found_;
  std::span<const ChainedOp> waiting_;
  sync::ZipWriter zip_;
  Archive archive_;
  sync::Stretches lost_;
};

}  // namespace

model::Result<Archive> make_archive(store::Store& store, std::span<const ChainedOp> waiting, std::vector<model::ScopeId> scopes) {
  std::vector<std::string> shut;  // everybody was asked for
  if (scopes.empty()) {
    auto held = store.scopes();
    if (!held) return held.error();
    scopes = std::move(*held);
    shut = shut_names(store);
    for (const ChainedOp& op : waiting) scopes.push_back(op.stream.scope);
  }
  std::sort(scopes.begin(), scopes.end());
  scopes.erase(std::unique(scopes.begin(), scopes.end()), scopes.end());
  auto made = Maker(store, waiting).make(scopes);
  if (made)
    for (const std::string& name : shut) made->left_out.push_back(model::error(model::ErrorKind::sealed, "profile.shut", {name}));
  return made;
}

model::Result<Archive> make_archive_of(std::span<const ops::Chunk> found) {
  std::vector<model::ScopeId> scopes;
  for (const ops::Chunk& chunk : found) scopes.push_back(chunk.stream.scope);
  std::sort(scopes.begin(), scopes.end());
  scopes.erase(std::unique(scopes.begin(), scopes.end()), scopes.end());
  return Maker(found).make(scopes);
}

}  // namespace slipway::app
