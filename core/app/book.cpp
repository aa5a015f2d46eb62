#include "app/book.h"

#include <algorithm>

#include "app/book_scope.h"
#include "ops/registry.h"
#include "ops/views.h"
#include "store/columns.h"

namespace slipway::app {

// Streams in the order of their first op.
std::vector<ops::Chunk> chunks_of(const std::vector<ops::ChainedOp>& all) {
  std::vector<ops::StreamId> order;
  std::map<ops::StreamId, std::vector<ops::ChainedOp>> by_stream;
  for (const ops::ChainedOp& op : all) {
    auto& stream_ops = by_stream[op.stream];
    if (stream_ops.empty()) order.push_back(op.stream);
    stream_ops.push_back(op);
  }
  std::vector<ops::Chunk> chunks;
  for (const ops::StreamId& stream : order)
    for (ops::Chunk& chunk : ops::make_chunks(by_stream[stream])) chunks.push_back(std::move(chunk));
  return chunks;
}

Book::Book(const Outside& outside, std::unique_ptr<store::Store> store) : outside_(outside), store_(std::move(store)), keys_(*store_, outside_.random), rests_(std::make_unique<Rests>()) {}
Book::~Book() = default;

model::Result<std::unique_ptr<Book>> Book::open(const Outside& outside, const store::OpenTokens& tokens) {
  auto store = store::Store::open(outside.files, outside.random, tokens);
  if (!store) return store.error();
  std::unique_ptr<Book> book(new Book(outside, std::move(*store)));
  // After a migration the cache is compared, not used.
  const auto read = book->read_all(book->opening().rebuild_derived ? Trust::ops_only : Trust::derived);
  if (!read) return read.error();
  return book;
}

model::Result<model::Done> Book::read_all(Trust trust) {
  const auto scopes = store_->scopes();
  if (!scopes) return scopes.error();
  for (const model::ScopeId& scope : *scopes) {
    const auto read = read_scope(scope, trust);
    if (!read) return read.error();
  }
  return model::Done{};
}

// Every chunk is proven at opening, so what is held is known exactly. The stored derived
// state is compared, not trusted: a state that covers just these ops saves the fold.
model::Result<model::Done> Book::read_scope(const model::ScopeId& id, Trust trust) {
  const auto chunks = store_->chunks(id);
  if (!chunks) return chunks.error();
  auto scope = std::make_unique<Scope>(id, *rests_);
  std::vector<ops::ChainedOp> all;
  for (const ops::Chunk& chunk : *chunks) {
    auto read = ops::read_chunk(chunk);
    if (!read) return read.error();
    for (ops::ChainedOp& op : *read) all.push_back(std::move(op));
  }
  for (const ops::ChainedOp& op : all) {
    held_.add(op);
    scope->note(op);
  }
  const auto derived = store_->derived(id);
  bool ready = false;
  // An older form's cache has no check: it is compared below and not used.
  if (derived && derived->has_value() && ((*derived)->proven || trust == Trust::ops_only) && (*derived)->fold_version == ops::kFoldVersion &&
      (*derived)->covers == held_.holdings(id) &&
      std::none_of((*derived)->covers.begin(), (*derived)->covers.end(), [](const auto& item) { return item.second.forked; })) {
    auto fold = ops::Fold::read_state((*derived)->state);
    if (fold && fold->scope() == id) {
      scope->put(std::move(*fold));
      ready = true;
    }
  }
  if (ready && trust == Trust::ops_only) {
    ops::Fold anew(id);
    for (const ops::ChainedOp& op : all) anew.add(op);
    if (scope->state() != anew.write_state()) derived_differed_ = true;
    scope->put(std::move(anew));
  } else if (!ready) {
    ops::Fold fold(id);
    for (const ops::ChainedOp& op : all) fold.add(op);
    scope->put(std::move(fold));
  } else if (rests_->awake > kFoldsAwake) {
    scope->what();
    scope->put_at_rest((*derived)->state);
  }
  const ops::StreamId own{id, store_->opening().inc};
  for (const ops::ChainedOp& op : all)
    if (op.stream == own && (!scope->pen || op.seq > scope->pen->last_seq())) scope->pen.emplace(own, op.seq, op.hash);
  scopes_[id] = std::move(scope);
  rest_folds();
  return model::Done{};
}

std::size_t Book::folds_awake() const { return rests_->awake; }

void Book::rest_folds() {
  if (rests_->awake <= kMostFoldsAwake) return;
  std::vector<Scope*> awake;
  for (const auto& [id, scope] : scopes_)
    if (scope->asked() > 0) awake.push_back(scope.get());
  const std::size_t resting = awake.size() - std::min(awake.size(), kFoldsAwake);
  std::nth_element(awake.begin(), awake.begin() + static_cast<std::ptrdiff_t>(resting), awake.end(), [](const Scope* a, const Scope* b) { return a->asked() < b->asked(); });
  for (std::size_t i = 0; i < resting; ++i) awake[i]->rest();
}

Book::Scope& Book::scope_of(const model::ScopeId& id) {
  auto& scope = scopes_[id];
  if (!scope) scope = std::make_unique<Scope>(id, *rests_);
  return *scope;
}

std::vector<model::ScopeId> Book::scopes_that_are(model::ScopeIs what) const {
  std::vector<model::ScopeId> ids;
  for (const auto& [id, scope] : scopes_) {
    if (scope->what() == what && !scope->only_marks()) ids.push_back(id);
  }
  return ids;
}

std::vector<model::ScopeId> Book::scopes() const { return scopes_that_are(model::ScopeIs::athlete); }
std::vector<model::ScopeId> Book::libraries() const { return scopes_that_are(model::ScopeIs::library); }
std::vector<model::ScopeId> Book::coach_notes() const { return scopes_that_are(model::ScopeIs::coach_notes); }

const model::Library& Book::library(const model::ScopeId& id) {
  const auto found = scopes_.find(id);
  if (found == scopes_.end()) return nothing_;
  if (!found->second->library) found->second->library = found->second->peek(ops::read_library);
  return *found->second->library;
}

const model::Athlete& Book::athlete(const model::ScopeId& id) {
  const auto found = scopes_.find(id);
  if (found == scopes_.end()) return nobody_;
  if (!found->second->athlete) found->second->athlete = found->second->peek(ops::read_athlete);
  return *found->second->athlete;
}

model::Result<model::ScopeId> Book::find_athlete(std::string_view name_or_id) {
  std::vector<SealedProfile> shut = sealed_profiles();
  std::erase_if(shut, [&](const SealedProfile& one) { return one.open || (one.name != name_or_id && (name_or_id.empty() || !one.scope.hex().starts_with(name_or_id))); });
  const auto all = scopes();
  if (all.empty() && shut.empty()) return model::error(model::ErrorKind::not_found, "athlete.none");
  std::vector<model::ScopeId> named;
  std::vector<model::ScopeId> begun;
  for (const model::ScopeId& id : all) {
    for (const auto& version : athlete(id).name.all)
      if (version.value == name_or_id) {
        named.push_back(id);
        break;
      }
    if (!name_or_id.empty() && id.hex().starts_with(name_or_id)) begun.push_back(id);
  }
  const bool shut_named = std::any_of(shut.begin(), shut.end(), [&](const SealedProfile& one) { return one.name == name_or_id; });
  auto& found = named.empty() ? begun : named;
  if (!shut.empty() && (found.empty() || (named.empty() && shut_named))) return model::error(model::ErrorKind::sealed, "profile.shut", {shut.front().name});
  if (shut_named || named.empty())
    for (const SealedProfile& one : shut) found.push_back(one.scope);  // one of two alike, and nobody chooses for them
  if (found.empty()) return model::error(model::ErrorKind::not_found, "athlete.unknown", {std::string(name_or_id)});
  if (found.size() > 1) {
    std::string ids;
    for (const model::ScopeId& id : found) ids += (ids.empty() ? "" : ", ") + id.hex().substr(0, 8) + (athlete(id).birth_year.empty() ? "" : " (" + std::to_string(*athlete(id).birth_year.first()) + ")");
    return model::error(model::ErrorKind::invalid, "athlete.ambiguous", {std::string(name_or_id), ids});
  }
  return found.front();
}

model::Result<model::Done> Book::writable() const {
  if (store_->opening().not_migrated) return *store_->opening().not_migrated;
  if (store_->opening().read_only)
    return model::error(model::ErrorKind::newer_version, "store.read_only", {std::string(store::kDatabaseName)});
  return model::Done{};
}

ops::ChainedOp Book::write(Scope& scope, std::uint32_t kind, std::vector<ops::Field> fields, Author author) {
  const ops::StreamId stream{scope.id(), store_->opening().inc};
  if (!scope.pen) scope.pen.emplace(stream, 0, ops::genesis(stream));
  const ops::Signature signature{static_cast<std::uint64_t>(author), outside_.clock.now()};
  ops::ChainedOp op = scope.pen->write(kind, std::move(fields), signature, scope.fold().lam(), outside_.random);
  scope.add(op);
  held_.add(op);
  waiting_.push_back(op);
  waiting_keys_.insert(op.key());
  return op;
}

// Everything that waits goes in one transaction, in order; refused, it all waits on.
void Book::settle(const LocalValue* with) {
  const auto chunks = chunks_of(waiting_);
  const store::Ticket ticket =
      with == nullptr ? store_->append(chunks) : store_->append(chunks, with->name, with->value);
  if (ticket.state == store::Durability::not_kept) {
    trouble_ = ticket.why;
    return;
  }
  trouble_.reset();
  note_saving(ticket, std::move(waiting_));
  waiting_.clear();
}

// A later batch lasts only with all before it, so what is kept now is kept with everything that was on its way.
void Book::note_saving(const store::Ticket& ticket, std::vector<ops::ChainedOp> ops) {
  saving_.push_back({ticket.batch, std::move(ops)});
  if (ticket.state == store::Durability::kept) settled();
}

void Book::settled() {
  while (!saving_.empty()) {
    const store::Ticket ticket = store_->ticket(saving_.front().batch);
    if (ticket.state == store::Durability::not_kept) trouble_ = ticket.why;
    if (ticket.state != store::Durability::kept) return;
    for (const ops::ChainedOp& op : saving_.front().ops) waiting_keys_.erase(op.key());
    saving_.erase(saving_.begin());
  }
  if (waiting_.empty()) trouble_.reset();
}

bool Book::try_again() {
  if (!saving_.empty()) {
    const store::Ticket ticket = store_->hand_again();
    trouble_ = ticket.state == store::Durability::not_kept ? std::optional<model::Error>(ticket.why) : std::nullopt;
  }
  if (!waiting_.empty()) settle(nullptr);
  return waiting_.empty() && saving_.empty();
}

std::vector<model::ScopeId> Book::athletes_waiting() const {
  std::vector<model::ScopeId> out = scopes_that_are(model::ScopeIs::athlete);
  std::erase_if(out, [this](const model::ScopeId& scope) {
    const auto of_it = [&](const ops::ChainedOp& op) { return op.stream.scope == scope; };
    return std::none_of(waiting_.begin(), waiting_.end(), of_it) &&
           std::none_of(saving_.begin(), saving_.end(), [&](const Saving& saving) { return std::any_of(saving.ops.begin(), saving.ops.end(), of_it); });
  });
  return out;
}

bool Book::waits_in(model::ScopeIs what) const {
  const auto scopes = scopes_that_are(what);
  const auto of_one = [&](const ops::ChainedOp& op) { return std::find(scopes.begin(), scopes.end(), op.stream.scope) != scopes.end(); };
  return std::any_of(waiting_.begin(), waiting_.end(), of_one) ||
         std::any_of(saving_.begin(), saving_.end(), [&](const Saving& saving) { return std::any_of(saving.ops.begin(), saving.ops.end(), of_one); });
}

std::size_t Book::waiting_sets() const {
  const auto of_a_set = [](const ops::ChainedOp& op) {
    return op.op.kind == ops::kind::set || op.op.kind == ops::kind::change || op.op.kind == ops::kind::take_back;
  };
  auto sets = std::count_if(waiting_.begin(), waiting_.end(), of_a_set);
  for (const Saving& saving : saving_) sets += std::count_if(saving.ops.begin(), saving.ops.end(), of_a_set);
  return static_cast<std::size_t>(sets);
}

std::optional<model::Bytes> Book::local(std::string_view name) {
  auto value = store_->local(name);
  return value ? *value : std::nullopt;
}

bool Book::set_local(std::string_view name, model::ByteView value) { return store_->set_local(name, value).ok(); }

model::Result<model::Done> Book::tidy() {
  if (store_->opening().read_only || waiting() > 0) return model::Done{};
  if (const auto done = seal_new_notes(); !done) return done.error();
  std::vector<model::ScopeId> sealed;
  for (const store::SealedScope& one : store_->sealed()) sealed.push_back(one.scope);
  for (const auto& [id, scope] : scopes_) {
    const auto folded = store_->fold_chunks(id);
    if (!folded) return folded.error();
    if (std::find(sealed.begin(), sealed.end(), id) != sealed.end()) continue;  // nothing derived of it is stored
    const auto saved = store_->save_derived(id, {ops::kFoldVersion, held_.holdings(id), scope->state()});
    if (!saved) return saved.error();
    // A cache: an entry that cannot be read is named elsewhere.
    if (const auto columns = store::save_sets(*store_, id); !columns && columns.error().kind != model::ErrorKind::damaged) return columns.error();
  }
  rest_folds();
  return opening().rebuild_derived ? store_->derived_rebuilt() : model::Done{};
}

Digests Book::digests() {
  std::vector<std::pair<model::ScopeId, model::Hash32>> views;
  for (const auto& [id, scope] : scopes_) views.emplace_back(id, scope->view_digest());
  return {held_.digest(), ops::digest_of_digests(std::move(views))};
}

model::Result<CheckReport> Book::check() {
  const auto integrity = store_->check();
  if (!integrity) return integrity.error();
  CheckReport report{integrity->findings, integrity->ops, integrity->chunks, {}};
  ops::Held held;
  std::vector<std::pair<model::ScopeId, model::Hash32>> views;
  const auto scopes = store_->scopes();
  if (!scopes) return scopes.error();
  for (const model::ScopeId& id : *scopes) {
    const auto chunks = store_->chunks(id);
    if (!chunks) return chunks.error();
    ops::Fold fold(id);
    std::vector<ops::ChainedOp> all;
    for (const ops::Chunk& chunk : *chunks) {
      const auto read = ops::read_chunk(chunk);
      if (!read) {
        if (std::find(report.findings.begin(), report.findings.end(), read.error()) == report.findings.end())
          report.findings.push_back(read.error());
        continue;
      }
      for (const ops::ChainedOp& op : *read) {
        held.add(op);
        fold.add(op);
        all.push_back(op);
      }
    }
    views.emplace_back(id, fold.digest());
    const auto columns = store_->set_columns(id);
    if (!columns) return columns.error();
    const bool whole = columns->has_value() && (*columns)->version == ops::kSetTableVersion && (*columns)->covers == held.holdings(id);
    if (whole && !(ops::SetTable::read((*columns)->bytes) == ops::SetTable::of(all)))
      report.findings.push_back(model::error(model::ErrorKind::damaged, "check.differs"));
  }
  report.digests = {held.digest(), ops::digest_of_digests(std::move(views))};
  const Digests shown = digests();
  const bool same = shown.ops == report.digests.ops && shown.views == report.digests.views;
  if (waiting_.empty() && !same) report.findings.push_back(model::error(model::ErrorKind::damaged, "check.differs"));
  // Made anew at the next calm moment, unless entries are damaged: then what is shown stays.
  if (!report.findings.empty() && std::all_of(report.findings.begin(), report.findings.end(), is_of_the_view)) derived_differed_ = true;
  return report;
}

}  // namespace slipway::app
