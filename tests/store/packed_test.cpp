// What is folded stays packed in the store: nothing is lost by it, at no file operation, and damage has a name. And
// the sets in columns beside it, which are only a cache.
#include <doctest/doctest.h>

#include <algorithm>
#include <cstdio>

#include "kit/bundle_kit.h"
#include "kit/faulty_files.h"
#include "kit/memory_files.h"
#include "kit/power_files.h"
#include "kit/store_kit.h"
#include "store/columns.h"
#include "store/salvage.h"

using namespace slipway;

namespace {

using Ops = std::vector<ops::ChainedOp>;

const std::string kDatabase(store::kDatabaseName);
constexpr std::size_t kMany = 700;

const kit::Log& long_log() {
  static const kit::Log log = [] {
    kit::Log all('w', 'p');
    while (all.ops().size() < kMany) {
      if (all.ops().size() % 12 == 0) all.session();
      all.set(4 + all.ops().size() % 5);
    }
    return all;
  }();
  return log;
}

std::vector<model::Hash32> hashes(const std::vector<ops::Chunk>& chunks) {
  std::vector<model::Hash32> all;
  for (const ops::Chunk& chunk : chunks)
    if (const auto read = ops::read_chunk(chunk))
      for (const ops::ChainedOp& op : *read) all.push_back(op.hash);
  std::sort(all.begin(), all.end());
  return all;
}
std::vector<model::Hash32> hashes(const Ops& ops) {
  std::vector<model::Hash32> all;
  for (const ops::ChainedOp& op : ops) all.push_back(op.hash);
  std::sort(all.begin(), all.end());
  return all;
}

model::ScopeId scope() { return kit::scope_named('w'); }

// A closed store with the long log in chunks, folded or not.
kit::MemoryDisk store_with(const Ops& ops, bool folded) {
  kit::MemoryDisk disk;
  kit::MemoryFiles files(disk);
  kit::Opened opened(files);
  REQUIRE(opened.open());
  REQUIRE(opened.store().take_in(kit::chunks_of(ops), {}));
  if (folded) REQUIRE(opened.store().fold_chunks(scope()));
  opened.close();
  return disk;
}

// The packed row's bytes stand in the file as they are, over several pages; any one of them is changed.
bool damage_run(kit::MemoryDisk& disk) {
  Ops full(long_log().ops().begin(), long_log().ops().begin() + static_cast<std::ptrdiff_t>(long_log().ops().size() / 64 * 64));
  const ops::PackedRun run = ops::pack(full, {});
  model::Bytes& file = disk.files[kDatabase];
  const model::ByteView piece = model::ByteView(run.bytes).subspan(run.bytes.size() / 2, 40);
  const auto found = std::search(file.begin(), file.end(), piece.begin(), piece.end());
  if (found == file.end()) return false;
  *found ^= 0x40;
  return true;
}

}  // namespace

TEST_CASE("a long stream is packed when it is folded; everything comes back, and it goes on growing") {
  kit::MemoryDisk plain = store_with(long_log().ops(), false), packed = store_with(long_log().ops(), true);
  kit::MemoryFiles files(packed);
  kit::Opened opened(files, 2);
  REQUIRE(opened.open());
  store::Store& store = opened.store();
  CHECK(hashes(*store.chunks(scope())) == hashes(long_log().ops()));
  CHECK(store.scopes()->size() == 1);
  const auto check = store.check();
  REQUIRE(check);
  CHECK(check->findings.empty());
  CHECK(check->ops == long_log().ops().size());
  CHECK(*store.holdings(scope()) == kit::held_of(long_log().ops()).holdings());
  CHECK(store.fold_chunks(scope()).value() == 0);

  kit::Log more = long_log();
  more.set(9);
  CHECK(store.append(kit::chunks_of({more.ops().back()})).state == store::Durability::kept);
  kit::Log gap = more;
  gap.set(9);
  gap.set(9);
  CHECK(store.append(kit::chunks_of({gap.ops().back()})).state == store::Durability::not_kept);
  CHECK(hashes(*store.chunks(scope())) == hashes(more.ops()));
  for (const std::uint64_t first : {1U, 100U, 600U, 700U}) {
    const auto some = store.chunks_from(more.ops().front().stream, first);
    REQUIRE(some);
    for (const ops::ChainedOp& op : more.ops())
      if (op.seq >= first) {
        const auto all = hashes(*some);
        CHECK(std::binary_search(all.begin(), all.end(), op.hash));
      }
  }
  REQUIRE(store.compact());
  opened.close();
  MESSAGE("700 entries: " << plain.files[kDatabase].size() << " bytes in chunks, " << packed.files[kDatabase].size() << " packed");
  CHECK(packed.files[kDatabase].size() + 40'000 < plain.files[kDatabase].size());
}

TEST_CASE("an import that stays packed as it came is held like any other, handed on, handed out and erased") {
  const Ops& ops = long_log().ops();
  const sync::ReadBundle read = kit::read_of(kit::file_of(kit::bundle_of(ops, 's'), sync::Packing::packed));
  REQUIRE(read.run);
  kit::MemoryDisk disk;
  kit::MemoryFiles files(disk);
  kit::Opened opened(files);
  REQUIRE(opened.open());
  store::Store& store = opened.store();
  store::ImportLine line;
  line.file_name = "week.slip";
  REQUIRE(store.take_in({}, line, {}, {&*read.run, 1}));
  REQUIRE(store.take_in({}, line, {}, {&*read.run, 1}));  // said twice, held once
  CHECK(hashes(*store.chunks(scope())) == hashes(ops));
  CHECK(hashes(*store.chunks(scope())).size() == ops.size());
  const auto run = store.whole_run(ops.front().stream);
  REQUIRE(run);
  REQUIRE(run->has_value());
  CHECK(**run == *read.run);

  // Handed on without unpacking it is the same file; so it is unpacked, and beside what another view needs.
  sync::Bundle again = kit::bundle_of(ops, 's');
  const model::Bytes whole = kit::file_of(again, sync::Packing::packed);
  again.chunks.clear();
  again.runs = {**run};
  CHECK(kit::file_of(again, sync::Packing::packed) == whole);
  again.runs.front().section_length = 0;
  CHECK(kit::file_of(again, sync::Packing::packed) == whole);
  again.runs.front().bytes[20] ^= 1;
  CHECK_FALSE(sync::write_bundle(again));
  sync::Bundle other = kit::bundle_of(ops, 's');
  other.scopes = {kit::scope_named('x')};
  other.holdings.clear();
  other.chunks.clear();
  other.runs = {**run};
  CHECK_FALSE(sync::write_bundle(other));  // a scope that is not listed must never leave

  // The copy for other hands holds chunks.
  const auto copy = store.handed_copy(std::vector{scope()});
  REQUIRE(copy);
  kit::MemoryDisk handed;
  handed.files[kDatabase] = *copy;
  kit::MemoryFiles handed_files(handed);
  kit::Opened out(handed_files, 3);
  REQUIRE(out.open());
  CHECK(hashes(*out.store().chunks(scope())) == hashes(ops));
  CHECK_FALSE(out.store().whole_run(ops.front().stream)->has_value());

  kit::Log marker('w', 'e');
  marker.set(1);
  REQUIRE(store::save_sets(store, scope()).value());
  REQUIRE(store.erase({scope(), 1, kit::chunks_of(marker.ops()).front()}));
  CHECK(store.chunks(scope())->empty());
  CHECK(store.scopes()->empty());
  CHECK_FALSE(store.set_columns(scope())->has_value());
}

TEST_CASE("a damaged run is named place by place, takes nothing else with it, and does not go out") {
  kit::MemoryDisk disk = store_with(long_log().ops(), true);
  REQUIRE(damage_run(disk));
  kit::MemoryFiles files(disk);
  kit::Opened opened(files, 2);
  REQUIRE(opened.open());
  const auto check = opened.store().check();
  REQUIRE(check);
  REQUIRE(!check->findings.empty());
  for (const model::Error& finding : check->findings) CHECK(finding.kind == model::ErrorKind::damaged);
  CHECK(check->findings.front().args.back() == "1");
  const auto chunks = opened.store().chunks(scope());
  REQUIRE(chunks);
  CHECK(hashes(*chunks).size() == long_log().ops().size() % 64);  // the tail was not packed yet
  std::uint64_t places = 0;
  for (const ops::Chunk& chunk : *chunks) places += chunk.last_seq - chunk.first_seq + 1;
  CHECK(places == long_log().ops().size());
  CHECK_FALSE(opened.store().whole_run(long_log().ops().front().stream)->has_value());
  CHECK_FALSE(store::read_sets(opened.store(), scope()));
}

TEST_CASE("salvage finds what stands in packed rows") {
  const kit::MemoryDisk disk = store_with(long_log().ops(), true);
  CHECK(hashes(store::salvage(disk.files.at(kDatabase))) == hashes(long_log().ops()));
}

TEST_CASE("power lost at any moment of packing leaves every entry, once") {
  kit::PowerFiles files(store_with(long_log().ops(), false));
  kit::Opened opened(files);
  REQUIRE(opened.open());
  REQUIRE(opened.store().fold_chunks(scope()).value() > 0);
  REQUIRE(store::save_sets(opened.store(), scope()).value());
  opened.close();
  const auto wanted = hashes(long_log().ops());
  std::uint64_t runs = 0;
  kit::PowerLoss loss(files);
  while (loss.next()) {
    for (const kit::Survival survival : kit::kSurvivals) {
      kit::MemoryDisk left = loss.survivors(survival);
      kit::MemoryFiles left_files(left);
      kit::Opened after(left_files, 9);
      CAPTURE(loss.finished_steps());
      CAPTURE(kit::name_of(survival));
      REQUIRE(after.open());
      const auto chunks = after.store().chunks(scope());
      REQUIRE(chunks);
      REQUIRE(hashes(*chunks) == wanted);
      runs += 1;
    }
  }
  std::printf("figure store.power_loss_packing runs %llu\n", static_cast<unsigned long long>(runs));
}

TEST_CASE("a storage that refuses any step of packing loses nothing, and the next time it is done") {
  const kit::MemoryDisk start = store_with(long_log().ops(), false);
  const auto wanted = hashes(long_log().ops());
  std::uint64_t struck = 0;
  for (const auto fault : {kit::Fault::failed, kit::Fault::full}) {
    for (std::uint64_t nth = 1;; nth += 3) {
      CAPTURE(nth);
      kit::FaultyFiles files;
      files.plain.content = start.files;
      kit::Opened opened(files);
      REQUIRE(opened.open());
      files.break_at(nth, fault, kit::Lasting::sticky);
      const bool done = opened.store().fold_chunks(scope()).ok();
      const bool hit = files.struck();
      files.repair();
      if (hit) {
        struck += 1;
        opened.close();
        REQUIRE(opened.open());
      }
      const auto chunks = opened.store().chunks(scope());
      REQUIRE(chunks);
      REQUIRE(hashes(*chunks) == wanted);
      REQUIRE(opened.store().fold_chunks(scope()));
      REQUIRE(hashes(*opened.store().chunks(scope())) == wanted);
      if (!hit) {
        CHECK(done);
        break;
      }
    }
  }
  CHECK(struck > 0);
}

TEST_CASE("sets in columns are a cache: with it, without it, below, above, and damaged, the answer is the same") {
  const Ops& all = long_log().ops();
  const ops::SetTable wanted = ops::SetTable::of(all);
  kit::MemoryDisk disk;
  kit::MemoryFiles files(disk);
  kit::Opened opened(files);
  REQUIRE(opened.open());
  store::Store& store = opened.store();
  const Ops early(all.begin(), all.begin() + 650), late(all.begin() + 650, all.end());
  REQUIRE(store.take_in(kit::chunks_of(early), {}));
  CHECK(*store::read_sets(store, scope()) == ops::SetTable::of(early));  // nothing is kept yet
  CHECK(store::save_sets(store, scope()).value());
  CHECK_FALSE(store::save_sets(store, scope()).value());
  CHECK(*store::read_sets(store, scope()) == ops::SetTable::of(early));

  REQUIRE(store.take_in(kit::chunks_of(late), {}));
  const auto on_top = store::read_sets(store, scope());
  REQUIRE(on_top);
  CHECK(on_top->seq == wanted.seq);
  CHECK(on_top->reps == wanted.reps);
  CHECK(on_top->session == wanted.session);
  CHECK(on_top->done_ms == wanted.done_ms);
  CHECK(store::save_sets(store, scope()).value());
  CHECK(*store::read_sets(store, scope()) == wanted);

  // Whatever is wrong with the cache, it counts for nothing and is made anew.
  const store::SetColumns good = **store.set_columns(scope());
  const auto with = [&](auto change) {
    store::SetColumns bad = good;
    change(bad);
    REQUIRE(store.save_set_columns(scope(), bad));
    CHECK(*store::read_sets(store, scope()) == wanted);
    CHECK(store::save_sets(store, scope()).value());
    CHECK((*store.set_columns(scope()))->bytes == good.bytes);
  };
  with([](store::SetColumns& bad) { bad.bytes[bad.bytes.size() / 2] ^= 4; });
  with([](store::SetColumns& bad) { bad.bytes.clear(); });
  with([](store::SetColumns& bad) { bad.version += 1; });
  with([](store::SetColumns& bad) { bad.covers.begin()->second.prefix_hash.bytes[0] ^= 1; });
  with([](store::SetColumns& bad) { bad.covers.begin()->second.ranges.add(5'000, 5'001); });
  with([&](store::SetColumns& bad) { bad.covers = kit::held_of(Ops(early.begin() + 10, early.end())).holdings(); });

  REQUIRE(store.drop_derived());
  CHECK_FALSE(store.set_columns(scope())->has_value());
  CHECK(*store::read_sets(store, scope()) == wanted);

  // Of a forked stream no columns are kept.
  kit::Log clone = long_log();
  kit::Log other = long_log();
  clone.set(5);
  other.set(6);
  REQUIRE(store.take_in(kit::chunks_of({clone.ops().back()}), {}));
  REQUIRE(store.take_in(kit::chunks_of({other.ops().back()}), {}));
  CHECK_FALSE(store::save_sets(store, scope()).value());
  Ops forked = clone.ops();
  forked.push_back(other.ops().back());
  CHECK(*store::read_sets(store, scope()) == ops::SetTable::of(forked));
}
