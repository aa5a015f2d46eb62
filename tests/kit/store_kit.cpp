#include "kit/store_kit.h"

#include <algorithm>

#include "kit/bundle_kit.h"
#include "kit/power_files.h"
#include "sync/at_rest.h"

namespace slipway::kit {

namespace {

constexpr std::size_t kEntries = 12;

Step append_of(const Log& log, std::uint64_t first_seq, std::uint64_t last_seq, const std::string& draft) {
  Step step;
  step.chunks = chunks_of(log.ops(first_seq, last_seq));
  const auto bytes = model::as_bytes(draft);
  step.draft = {bytes.begin(), bytes.end()};
  return step;
}

Step take_in_of(std::vector<ops::Chunk> chunks, const std::string& file_name) {
  Step step;
  step.kind = Step::Kind::take_in;
  step.chunks = std::move(chunks);
  step.line.file_name = file_name;
  step.line.bundle_hash = ops::blake2b(model::as_bytes(file_name));
  step.line.claimed = "2026-03-02";
  step.line.fresh = step.chunks.size();
  return step;
}

void add_ops(std::vector<model::Hash32>& to, const std::vector<ops::Chunk>& chunks) {
  for (const ops::Chunk& chunk : chunks) {
    const auto read = ops::read_chunk(chunk);
    if (!read) continue;  // check() speaks of it
    for (const ops::ChainedOp& op : *read) to.push_back(op.hash);
  }
}

std::vector<ops::Chunk> of_others(std::vector<ops::Chunk> chunks, const model::ScopeId& scope) {
  chunks.erase(std::remove_if(chunks.begin(), chunks.end(), [&](const ops::Chunk& chunk) { return chunk.stream.scope == scope; }), chunks.end());
  return chunks;
}

class TestSeal : public store::RowSeal {
 public:
  explicit TestSeal(std::uint8_t secret) : key_(secret_of(secret)), random_(secret) {}
  model::Bytes seal(model::ByteView row, model::ByteView place) override { return key_.seal(row, place, random_); }
  std::optional<model::Bytes> open(model::ByteView sealed, model::ByteView place) override { return key_.open(sealed, place); }
  model::Hash32 mark(const model::Hash32& hash) override { return key_.mark(hash); }

 private:
  static sync::Secret32 secret_of(std::uint8_t byte) {
    sync::Secret32 secret;
    secret.bytes.fill(byte);
    return secret;
  }
  sync::ProfileKey key_;
  SameRandom random_;
};

Finding found(Finding::Kind kind, std::string facts) { return {kind, std::move(facts)}; }

std::string counted(const State& state) {
  return std::to_string(state.ops.size()) + " ops, draft " + std::string(model::as_text(state.draft)) + ", " +
         std::to_string(state.imports.size()) + " imports";
}

}  // namespace

// The first entry writes the session with the set, and every fourth two sets at once.
Steps log_steps() {
  Log log('w', 'p');
  Steps steps;
  std::uint64_t seq = 0;
  for (std::size_t entry = 0; entry <= kEntries; ++entry) {
    const std::uint64_t first = seq + 1;
    if (entry == 0) log.session(), ++seq;
    log.set(5 + entry % 4), ++seq;
    if (entry % 4 == 3) log.set(5), ++seq;
    if (entry == kEntries) {
      Step fold;
      fold.kind = Step::Kind::fold;
      steps.push_back(fold);
    }
    steps.push_back(append_of(log, first, seq, "entry " + std::to_string(entry)));
  }
  return steps;
}

Steps import_steps() {
  Log own('w', 'p');
  own.session();
  own.set(8);
  own.set(7);
  Log other('w', 'c');
  Log second('k', 'c');
  for (Log* log : {&other, &second}) {
    log->session();
    for (std::uint64_t reps = 3; reps < 12; ++reps) log->set(reps);
  }
  const auto part = [](const Log& log, std::uint64_t first, std::uint64_t last) { return chunks_of(log.ops(first, last), 3); };
  std::vector<ops::Chunk> early = part(other, 1, 6);
  for (const ops::Chunk& chunk : part(second, 1, 7)) early.push_back(chunk);
  std::vector<ops::Chunk> later = part(second, 8, 10);
  for (const ops::Chunk& chunk : part(other, 7, 10)) later.push_back(chunk);
  return {append_of(own, 1, 2, "one"), append_of(own, 3, 3, "two"), take_in_of(early, "early.slip"), take_in_of(later, "later.slip")};
}

Steps erase_steps() {
  Steps steps = import_steps();
  Log gone('k', 'x');
  gone.session();
  Step erase;
  erase.kind = Step::Kind::erase;
  erase.mark = {scope_named('k'), 1, chunks_of(gone.ops()).front()};
  steps.push_back(std::move(erase));
  Log own('w', 'p');
  own.session();
  for (std::uint64_t reps : {8, 7, 6}) own.set(reps);
  steps.push_back(append_of(own, 4, 4, "three"));
  return steps;
}

Steps seal_steps() {
  const Steps imports = import_steps();
  Log own('w', 'p');
  own.session();
  for (std::uint64_t reps : {8, 7, 6, 5}) own.set(reps);
  Step seal, fold, unseal;
  seal.kind = Step::Kind::seal;
  fold.kind = Step::Kind::fold;
  unseal.kind = Step::Kind::unseal;
  return {imports[0], imports[1], imports[2], seal, append_of(own, 4, 4, "three"), imports[3], fold, unseal, append_of(own, 5, 5, "four")};
}

std::shared_ptr<store::RowSeal> test_seal(std::uint8_t secret) { return std::make_shared<TestSeal>(secret); }

State state_after(const Steps& steps, std::size_t done) {
  State state;
  for (std::size_t i = 0; i < done; ++i) {
    if (steps[i].kind == Step::Kind::erase) {  // of the scope nothing, and no file name that could tell of it
      state.ops.clear();
      for (std::size_t before = 0; before < i; ++before) add_ops(state.ops, of_others(steps[before].chunks, steps[i].mark.scope));
      for (std::string& name : state.imports) name.clear();
    }
    if (steps[i].kind == Step::Kind::seal || steps[i].kind == Step::Kind::unseal)
      for (std::string& name : state.imports) name.clear();
    add_ops(state.ops, steps[i].chunks);
    if (steps[i].kind == Step::Kind::append) state.draft = steps[i].draft;
    if (steps[i].kind == Step::Kind::take_in) {
      bool sealed = false;
      for (std::size_t before = 0; before < i; ++before) {
        if (steps[before].kind == Step::Kind::seal) sealed = true;
        if (steps[before].kind == Step::Kind::unseal) sealed = false;
      }
      state.imports.push_back(sealed ? "" : steps[i].line.file_name);  // every bundle of these steps has something of the first swimmer
    }
  }
  std::sort(state.ops.begin(), state.ops.end());
  return state;
}

model::Result<State> state_of(store::Store& store) {
  State state;
  const auto scopes = store.scopes();
  if (!scopes) return scopes.error();
  for (const model::ScopeId& scope : *scopes) {
    const auto chunks = store.chunks(scope);
    if (!chunks) return chunks.error();
    add_ops(state.ops, *chunks);
  }
  std::sort(state.ops.begin(), state.ops.end());
  const auto draft = store.local(kDraftName);
  if (!draft) return draft.error();
  if (draft->has_value()) state.draft = **draft;
  const auto log = store.import_log();
  if (!log) return log.error();
  for (const store::ImportLine& line : *log) state.imports.push_back(line.file_name);
  return state;
}

const model::Result<model::Done>& Opened::open() {
  close();
  store::OpenTokens tokens;
  tokens.found_outside = token_outside;
  random_.fill(tokens.fresh.bytes);
  token_outside = tokens.fresh;
  auto opened = store::Store::open(files_, random_, tokens);
  if (opened) {
    store_ = std::move(*opened);
    result_ = model::Done{};
    for (const store::SealedScope& one : store_->sealed()) (void)store_->open_sealed(one.scope, test_seal());
  } else {
    result_ = opened.error();
  }
  return result_;
}

bool Opened::perform(const Step& step) {
  switch (step.kind) {
    case Step::Kind::append: {
      const auto ticket = store_->append(step.chunks, kDraftName, step.draft);
      refusal_ = ticket.why;
      return ticket.state == store::Durability::kept;
    }
    case Step::Kind::take_in: {
      const auto taken = store_->take_in(step.chunks, step.line);
      if (!taken) refusal_ = taken.error();
      return taken.ok();
    }
    case Step::Kind::fold: {
      const auto folded = store_->fold_chunks(scope_named('w'));
      if (!folded) refusal_ = folded.error();
      return folded.ok();
    }
    case Step::Kind::erase: {
      auto erased = store_->erase(step.mark);
      if (erased) erased = store_->compact();
      if (!erased) refusal_ = erased.error();
      return erased.ok();
    }
    case Step::Kind::seal:
    case Step::Kind::unseal: break;
  }
  const bool wanted = step.kind == Step::Kind::seal;
  model::Result<model::Done> done = model::Done{};
  if (wanted == store_->sealed().empty())  // else it stands already, and only the compacting was refused
    done = wanted ? store_->seal(scope_named('w'), model::as_bytes("lock"), test_seal()) : store_->unseal(scope_named('w'));
  if (done) done = store_->compact();
  if (!done) refusal_ = done.error();
  return done.ok();
}

MemoryDisk killed_during(const Steps& steps, std::size_t step) {
  PowerFiles files;
  Opened opened(files);
  opened.open();
  std::size_t begun = 0;
  for (std::size_t i = 0; i <= step && opened.is_open(); ++i) {
    begun = files.steps().size();
    opened.perform(steps[i]);
  }
  std::size_t last_write = begun;
  for (std::size_t i = begun; i < files.steps().size(); ++i)
    if (files.steps()[i].kind == PowerStep::Kind::write && files.steps()[i].file == store::kDatabaseName) last_write = i;
  PowerLoss kill(files);
  while (kill.next() && kill.finished_steps() < last_write) {
  }
  return kill.survivors(Survival::all);
}

std::string words(const model::Error& error) {
  std::string out = error.text;
  for (const std::string& arg : error.args) out += " | " + arg;
  return out;
}

Finding judge(host::Files& files, const Steps& steps, std::size_t acknowledged, std::size_t begun) {
  Opened opened(files, 99);
  if (!opened.open()) return found(Finding::Kind::does_not_open, words(opened.error()));
  const auto check = opened.store().check();
  if (!check) return found(Finding::Kind::damaged, words(check.error()));
  if (!check->findings.empty()) return found(Finding::Kind::damaged, words(check->findings.front()));
  const auto state = state_of(opened.store());
  if (!state) return found(Finding::Kind::damaged, words(state.error()));
  for (std::size_t done = acknowledged; done <= begun; ++done)
    if (*state == state_after(steps, done)) return {};
  const auto wanted = state_after(steps, acknowledged);
  const bool all_there = std::includes(state->ops.begin(), state->ops.end(), wanted.ops.begin(), wanted.ops.end());
  return found(all_there ? Finding::Kind::half_there : Finding::Kind::lost, counted(*state) + "; acknowledged " + counted(wanted));
}

}  // namespace slipway::kit
