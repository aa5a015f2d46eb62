// What a store leaves behind: how many bytes are written for a logged set, and the same
// bytes on every build.
#include <doctest/doctest.h>

#include <cstdio>

#include "kit/bundle_kit.h"
#include "kit/memory_files.h"
#include "kit/power_files.h"
#include "kit/store_kit.h"

using namespace slipway;

namespace {

constexpr std::size_t kTrainings = 10, kSets = 20;  // a usual training: 20 sets, folded when it is finished

struct Cost {  // a set
  std::uint64_t bytes = 0, flushes = 0, folding_bytes = 0;
};

std::uint64_t flushes_in(const kit::PowerFiles& files) {
  std::uint64_t count = 0;
  for (const kit::PowerStep& step : files.steps()) count += step.kind == kit::PowerStep::Kind::flush ? 1 : 0;
  return count;
}

Cost cost_of_a_set(bool with_draft) {
  kit::PowerFiles files;
  kit::Opened opened(files);
  REQUIRE(opened.open());
  kit::Log log('w', 'p');
  Cost sum;
  for (std::size_t training = 0; training < kTrainings; ++training) {
    const std::size_t written = log.ops().size();
    for (std::size_t set = 0; set < kSets; ++set) log.set(5 + set % 4);
    const auto chunks = kit::chunks_of({log.ops().begin() + static_cast<std::ptrdiff_t>(written), log.ops().end()}, 1);
    const std::uint64_t bytes_before = files.bytes_written(), flushes_before = flushes_in(files);
    for (std::size_t i = 0; i < chunks.size(); ++i) {
      const std::string draft = "set " + std::to_string(i);
      const auto ticket =
          opened.store().append(std::span(chunks).subspan(i, 1), with_draft ? kit::kDraftName : "", model::as_bytes(draft));
      REQUIRE(ticket.state == store::Durability::kept);
    }
    const std::uint64_t bytes_logged = files.bytes_written();
    sum.bytes += bytes_logged - bytes_before;
    sum.flushes += flushes_in(files) - flushes_before;
    REQUIRE(opened.store().fold_chunks(kit::scope_named('w')).ok());
    sum.folding_bytes += files.bytes_written() - bytes_logged;
  }
  const std::uint64_t sets = kTrainings * kSets;
  return {sum.bytes / sets, sum.flushes / sets, sum.folding_bytes / sets};
}

void print_cost(const char* name, const Cost& cost) {
  std::printf("figure store.%s %llu bytes %llu flushes, folding later %llu bytes\n", name, static_cast<unsigned long long>(cost.bytes),
              static_cast<unsigned long long>(cost.flushes), static_cast<unsigned long long>(cost.folding_bytes));
}

void print_digest(const char* name, const model::Hash32& hash) { std::printf("digest store.%s %s\n", name, hash.hex().c_str()); }

model::Bytes laid_out(store::Store& store) {
  model::Bytes all;
  const auto scopes = store.scopes();
  REQUIRE(scopes.ok());
  for (const model::ScopeId& scope : *scopes) {
    const auto chunks = store.chunks(scope);
    REQUIRE(chunks.ok());
    for (const ops::Chunk& chunk : *chunks) {
      for (const model::ByteView part : {chunk.stream.scope.view(), chunk.stream.inc.view(), chunk.before.view(), chunk.after.view()})
        model::append(all, part);
      ops::put_varint(all, chunk.first_seq);
      ops::put_varint(all, chunk.last_seq);
      ops::put_varint(all, chunk.bytes.size());
      model::append(all, chunk.bytes);
    }
  }
  return all;
}

}  // namespace

TEST_CASE("a logged set is one page written twice, a draft that ends with it one page more") {
  const Cost alone = cost_of_a_set(false), with_draft = cost_of_a_set(true);
  print_cost("set", alone);
  print_cost("set_with_draft", with_draft);
  CHECK(alone.bytes < 10'000);  // the page, its copy in the journal, now and then one that splits
  CHECK(with_draft.bytes < 19'000);
  CHECK(alone.flushes == 4);    // journal, its length, database, journal emptied
  CHECK(with_draft.flushes == 4);
  CHECK(alone.folding_bytes < 3'000);
}

TEST_CASE("what is read back from a store is the same on every build") {
  kit::MemoryDisk disk;
  kit::MemoryFiles files(disk);
  kit::Opened opened(files);
  REQUIRE(opened.open());
  for (const kit::Step& step : kit::import_steps()) REQUIRE(opened.perform(step));
  print_digest("device", ops::blake2b(opened.store().opening().device.view()));
  print_digest("incarnation", ops::blake2b(opened.store().opening().inc.view()));
  print_digest("chunks", ops::blake2b(laid_out(opened.store())));
  REQUIRE(opened.open());
  const auto scopes = opened.store().scopes();
  REQUIRE(scopes.ok());
  for (const model::ScopeId& scope : *scopes) REQUIRE(opened.store().fold_chunks(scope).ok());
  print_digest("chunks_folded", ops::blake2b(laid_out(opened.store())));
  opened.close();
  // Even the file: SQLite and our options are one and the same in both builds.
  print_digest("file", ops::blake2b(disk.files[std::string(store::kDatabaseName)]));
  CHECK(disk.files[std::string(store::kDatabaseName) + "-journal"].empty());
}
