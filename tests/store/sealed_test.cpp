// Scopes that are sealed at rest [sync-and-storage 10.1, profile passphrase]: nothing of them can be read on the storage,
// and whoever has the key loses nothing.
#include <doctest/doctest.h>

#include <algorithm>

#include "kit/bundle_kit.h"
#include "kit/memory_files.h"
#include "kit/store_kit.h"
#include "store/columns.h"

using namespace slipway;

namespace {

const std::string kDatabase(store::kDatabaseName);

model::ScopeId swimmer() { return kit::scope_named('w'); }

bool stands_in(const kit::MemoryDisk& disk, model::ByteView bytes) {
  return std::any_of(disk.files.begin(), disk.files.end(), [&](const auto& file) {
    return std::search(file.second.begin(), file.second.end(), bytes.begin(), bytes.end()) != file.second.end();
  });
}

kit::Log training(std::uint64_t sets) {
  kit::Log log('w', 'p');
  log.session();
  for (std::uint64_t set = 0; set < sets; ++set) log.set(4 + set % 5);
  return log;
}

store::Peer peer_who_holds(const std::vector<ops::ChainedOp>& ops) {
  store::Peer peer{{}, swimmer(), kit::inc_named('c'), 3, "2026-03-02", kit::held_of(ops).holdings(swimmer())};
  peer.device.bytes.fill('d');
  return peer;
}

// A store that only looks once: what it was opened with is not given.
struct Shut {
  explicit Shut(kit::MemoryDisk& disk) : files(disk) {
    auto opened = store::Store::open(files, random, {});
    REQUIRE(opened.ok());
    store = std::move(*opened);
  }
  kit::MemoryFiles files;
  kit::FixedRandom random{9};
  std::unique_ptr<store::Store> store;
};

struct Sealed {
  Sealed() : log(training(9)), files(disk), opened(files) {
    REQUIRE(opened.open());
    for (const ops::Chunk& chunk : kit::chunks_of(log.ops(), 3)) REQUIRE(store().append({&chunk, 1}).state == store::Durability::kept);
    store::ImportLine line;
    line.file_name = "wren-monday.slip";
    const store::Peer peer = peer_who_holds(log.ops());
    REQUIRE(store().take_in({}, line, {&peer, 1}).ok());
    before = *store().chunks(swimmer());
    held_before = *store().holdings(swimmer());
    REQUIRE(store().seal(swimmer(), model::as_bytes("lock"), kit::test_seal()).ok());  // what is freed is overwritten: no compacting is needed
  }
  store::Store& store() { return opened.store(); }

  kit::Log log;
  kit::MemoryDisk disk;
  kit::MemoryFiles files;
  kit::Opened opened;
  std::vector<ops::Chunk> before;
  ops::Holdings held_before;
};

}  // namespace

TEST_CASE("of a sealed scope no entry, no hash, no file name and nothing derived stands on the storage") {
  Sealed sealed;
  for (const ops::Chunk& chunk : sealed.before) {
    CHECK_FALSE(stands_in(sealed.disk, chunk.bytes));
    CHECK_FALSE(stands_in(sealed.disk, chunk.after.view()));
    CHECK_FALSE(stands_in(sealed.disk, model::ByteView(chunk.after.bytes).first(8)));
  }
  for (const ops::ChainedOp& op : sealed.log.ops()) {
    CHECK_FALSE(stands_in(sealed.disk, op.bytes));
    CHECK_FALSE(stands_in(sealed.disk, op.hash.view()));
  }
  CHECK_FALSE(stands_in(sealed.disk, model::as_bytes("wren-monday.slip")));
  REQUIRE(sealed.store().save_derived(swimmer(), {1, {}, model::Bytes(40, 0xAB)}).ok());
  REQUIRE(store::save_sets(sealed.store(), swimmer()).ok());
  CHECK_FALSE(sealed.store().derived(swimmer())->has_value());
  CHECK_FALSE(sealed.store().set_columns(swimmer())->has_value());
  kit::Log more = sealed.log;
  more.set(6);
  const auto next = kit::chunks_of(more.ops(11, 11));
  REQUIRE(sealed.store().append(next).state == store::Durability::kept);
  CHECK_FALSE(stands_in(sealed.disk, next.front().bytes));
  CHECK_FALSE(stands_in(sealed.disk, next.front().after.view()));
}

TEST_CASE("what is sealed opens with its key just as it was: entries, holdings, peers and what comes after") {
  Sealed sealed;
  REQUIRE(sealed.opened.open());
  store::Store& store = sealed.store();
  CHECK(*store.chunks(swimmer()) == sealed.before);
  CHECK(*store.holdings(swimmer()) == sealed.held_before);
  const auto peers = store.peers(swimmer());
  REQUIRE(peers->size() == 1);
  CHECK(peers->front() == peer_who_holds(sealed.log.ops()));
  CHECK(store.check()->findings.empty());
  CHECK(store.check()->ops == sealed.log.ops().size());

  kit::Log more = sealed.log;
  for (std::uint64_t reps : {5, 6, 7}) more.set(reps);
  CHECK(store.append(kit::chunks_of(more.ops(12, 12))).why.text == "store.gap");
  for (std::uint64_t seq : {11, 11, 12, 13}) REQUIRE(store.append(kit::chunks_of(more.ops(seq, seq))).state == store::Durability::kept);  // one said twice
  CHECK(store.check()->ops == 13);
  const auto from = store.chunks_from(sealed.before.front().stream, 8);
  REQUIRE(from.ok());
  CHECK(from->front().first_seq <= 8);
  CHECK(from->back().last_seq == 13);
  CHECK(*store.fold_chunks(swimmer()) > 3);
  CHECK(store.chunks(swimmer())->size() == 1);
  CHECK(store.check()->ops == 13);
  CHECK_FALSE(stands_in(sealed.disk, more.ops().back().bytes));
}

TEST_CASE("a scope that is shut is not listed, every verb about it is refused, and not a byte changes") {
  Sealed sealed;
  sealed.opened.close();
  Shut shut(sealed.disk);
  const kit::MemoryDisk before = sealed.disk;
  store::Store& store = *shut.store;
  REQUIRE(store.sealed().size() == 1);
  CHECK(store.sealed()[0].scope == swimmer());
  CHECK(model::as_text(store.sealed()[0].lock) == "lock");
  CHECK_FALSE(store.sealed()[0].open);
  CHECK(store.scopes()->empty());
  const auto refused = [](const auto& result) { return !result.ok() && result.error().kind == model::ErrorKind::sealed; };
  kit::Log more = sealed.log;
  more.set(6);
  const auto next = kit::chunks_of(more.ops(11, 11));
  const ops::PackedRun run = ops::pack(training(600).ops(), {});
  const store::Peer peer = peer_who_holds(more.ops());
  CHECK(refused(store.chunks(swimmer())));
  CHECK(refused(store.chunks_from(sealed.before.front().stream, 1)));
  CHECK(refused(store.holdings(swimmer())));
  CHECK(refused(store.fold_chunks(swimmer())));
  CHECK(store.append(next).why.kind == model::ErrorKind::sealed);
  CHECK(refused(store.take_in(next, {})));
  CHECK(refused(store.take_in({}, {}, {&peer, 1})));
  CHECK(refused(store.take_in({}, {}, {}, {&run, 1})));
  CHECK(refused(store.set_peer(peer)));
  CHECK(refused(store.unseal(swimmer())));
  CHECK(refused(store.handed_copy(std::vector{swimmer()})));
  CHECK(store.peers(swimmer())->empty());
  CHECK(store.seal(swimmer(), {}, kit::test_seal()).error().text == "store.sealed_twice");
  CHECK(store.open_sealed(kit::scope_named('k'), kit::test_seal()).error().kind == model::ErrorKind::not_found);
  CHECK(store.check()->findings.empty());
  CHECK(store.check()->ops == 0);
  CHECK(sealed.disk.files == before.files);
  store.shut_sealed(swimmer());
  REQUIRE(store.open_sealed(swimmer(), kit::test_seal()).ok());
  CHECK(*store.chunks(swimmer()) == sealed.before);
  store.shut_sealed(swimmer());
  CHECK(refused(store.chunks(swimmer())));
}

TEST_CASE("another key opens nothing, names every place, and what it leaves still opens with the right one") {
  Sealed sealed;
  sealed.opened.close();
  {
    Shut shut(sealed.disk);
    REQUIRE(shut.store->open_sealed(swimmer(), kit::test_seal(0x11)).ok());
    const auto chunks = shut.store->chunks(swimmer());
    REQUIRE(chunks.ok());
    CHECK(chunks->size() == sealed.before.size());
    for (const ops::Chunk& chunk : *chunks) CHECK(chunk.bytes.empty());
    CHECK(shut.store->check()->findings.size() == sealed.before.size());
    CHECK(shut.store->unseal(swimmer()).error().kind == model::ErrorKind::damaged);
    CHECK(shut.store->peers(swimmer())->empty());
  }
  REQUIRE(sealed.opened.open());
  CHECK(*sealed.store().chunks(swimmer()) == sealed.before);
}

TEST_CASE("a long run that comes packed into a sealed scope is kept sealed, and unsealed all stands as if it had never been") {
  Sealed sealed;
  REQUIRE(sealed.store().drop_sealed(swimmer()).ok());
  REQUIRE(sealed.store().seal(swimmer(), model::as_bytes("lock"), kit::test_seal()).ok());
  const kit::Log log = training(store::kLeastPackedOps + 88);
  const ops::PackedRun run = ops::pack(log.ops(), {kit::inc_named('p')});
  REQUIRE(sealed.store().take_in({}, {}, {}, {&run, 1}).ok());
  CHECK_FALSE(stands_in(sealed.disk, run.bytes));
  CHECK(sealed.store().check()->findings.empty());
  CHECK(sealed.store().holdings(swimmer())->begin()->second.ranges.count() == log.ops().size());
  CHECK_FALSE(sealed.store().whole_run(log.ops().front().stream)->has_value());
  REQUIRE(sealed.store().fold_chunks(swimmer()).ok());
  REQUIRE(sealed.store().unseal(swimmer()).ok());
  CHECK(sealed.store().sealed().empty());
  REQUIRE(sealed.store().fold_chunks(swimmer()).ok());
  CHECK(sealed.store().check()->ops == log.ops().size());
  CHECK(sealed.store().check()->findings.empty());
  REQUIRE(sealed.opened.open());
  CHECK(sealed.store().check()->ops == log.ops().size());
}

TEST_CASE("a copy that is handed out holds in the clear what is open, and no lock") {
  Sealed sealed;
  const auto copy = sealed.store().handed_copy(std::vector{swimmer()});
  REQUIRE(copy.ok());
  kit::MemoryDisk disk;
  disk.files[kDatabase] = *copy;
  kit::MemoryFiles files(disk);
  kit::Opened there(files, 4);
  REQUIRE(there.open());
  CHECK(there.store().sealed().empty());
  CHECK(*there.store().chunks(swimmer()) == sealed.before);
  const auto nobody = sealed.store().handed_copy({});
  REQUIRE(nobody.ok());
  kit::MemoryDisk empty;
  empty.files[kDatabase] = *nobody;
  CHECK_FALSE(stands_in(empty, swimmer().view()));
}

TEST_CASE("a sealed scope can be erased and dropped while it is shut; its lock goes with it, nobody else is touched") {
  Sealed sealed;
  kit::Log other('k', 'p');
  other.session();
  REQUIRE(sealed.store().append(kit::chunks_of(other.ops())).state == store::Durability::kept);
  sealed.opened.close();
  Shut shut(sealed.disk);
  SUBCASE("dropped") {
    REQUIRE(shut.store->drop_sealed(swimmer()).ok());
    CHECK(shut.store->erased()->empty());
    CHECK(shut.store->drop_sealed(swimmer()).error().kind == model::ErrorKind::not_found);
    // A bundle brings back what others hold.
    REQUIRE(shut.store->take_in(sealed.before, {}).ok());
    CHECK(*shut.store->chunks(swimmer()) == sealed.before);
  }
  SUBCASE("erased") {
    kit::Log last('w', 'z');
    last.session();
    REQUIRE(shut.store->erase({swimmer(), 1, kit::chunks_of(last.ops()).front()}).ok());
    CHECK(shut.store->erased()->size() == 1);
    CHECK(*shut.store->scopes() == std::vector{kit::scope_named('k')});
  }
  CHECK(shut.store->sealed().empty());
  CHECK(shut.store->chunks(kit::scope_named('k'))->size() == 1);
  CHECK(shut.store->check()->findings.empty());
}

TEST_CASE("a scope of nobody yet can be sealed before its first entry") {
  Sealed sealed;
  REQUIRE(sealed.store().seal(kit::scope_named('n'), model::as_bytes("new"), kit::test_seal()).ok());
  kit::Log notes('n', 'p');
  notes.session();
  REQUIRE(sealed.store().append(kit::chunks_of(notes.ops())).state == store::Durability::kept);
  CHECK_FALSE(stands_in(sealed.disk, notes.ops().front().bytes));
  REQUIRE(sealed.opened.open());
  CHECK(sealed.store().sealed().size() == 2);
  CHECK(sealed.store().chunks(kit::scope_named('n'))->size() == 1);
  CHECK(*sealed.store().chunks(swimmer()) == sealed.before);
}

TEST_CASE("a scope with a damaged row is not sealed: what can still be salvaged stays as it is") {
  Sealed sealed;
  REQUIRE(sealed.store().unseal(swimmer()).ok());
  sealed.opened.close();
  model::Bytes& file = sealed.disk.files[kDatabase];
  const auto place = std::search(file.begin(), file.end(), sealed.before[1].bytes.begin(), sealed.before[1].bytes.end());
  REQUIRE(place != file.end());
  *place ^= 1;
  REQUIRE(sealed.opened.open());
  CHECK(sealed.store().seal(swimmer(), model::as_bytes("lock"), kit::test_seal()).error().kind == model::ErrorKind::damaged);
  CHECK(sealed.store().sealed().empty());
  CHECK(sealed.store().chunks(swimmer())->size() == sealed.before.size());
}
