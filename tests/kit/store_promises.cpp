#include "kit/store_promises.h"

#include <algorithm>
#include <array>
#include <optional>

#include "kit/bundle_kit.h"
#include "kit/fixed_random.h"
#include "store/store.h"

namespace slipway::kit {

namespace {

// What does not hold ends the promise with its own words.
#define HOLDS(condition) \
  do {                   \
    if (!(condition)) return #condition; \
  } while (false)

using store::Durability;
using store::WhyNewIncarnation;

// A person's use of one place: the app is started and ended, the token outside is kept.
class Use {
 public:
  explicit Use(StorePlace& place) : place_(place) {}

  bool start() {
    end();
    files_ = place_.process();
    store::OpenTokens tokens{token_outside, {}};
    random_.fill(tokens.fresh.bytes);
    token_outside = tokens.fresh;
    auto opened = store::Store::open(*files_, random_, tokens);
    if (!opened) refusal = opened.error();
    if (opened) store_ = std::move(*opened);
    return store_ != nullptr;
  }
  void end() {
    store_.reset();
    files_.reset();
  }
  store::Store* operator->() { return store_.get(); }
  // Storage that answers later has taken it when it says so; whether it lasts is asked by who opens the place again.
  bool kept(std::span<const ops::Chunk> chunks, std::string_view draft = {}, model::ByteView value = {}) {
    const Durability state = store_->append(chunks, draft, value).state;
    return state == Durability::kept || (state == Durability::saving && !files_->lasting().all());
  }
  bool kept(std::initializer_list<ops::Chunk> chunks) { return kept(std::span(chunks.begin(), chunks.size())); }
  bool sound() {
    const auto found = store_->check();
    return found && found->findings.empty();
  }
  std::vector<ops::Chunk> chunks(char scope) {
    auto held = store_->chunks(scope_named(scope));
    return held ? *held : std::vector<ops::Chunk>{};
  }
  // Every op of a scope, each one proven by its chain: the hash says all there is to say.
  std::vector<model::Hash32> ops(char scope) {
    std::vector<model::Hash32> hashes;
    for (const ops::Chunk& chunk : chunks(scope))
      if (const auto read = ops::read_chunk(chunk))
        for (const ops::ChainedOp& op : *read) hashes.push_back(op.hash);
    std::sort(hashes.begin(), hashes.end());
    return hashes;
  }
  std::string local(std::string_view name) {
    const auto value = store_->local(name);
    if (!value) return "refused";
    return value->has_value() ? std::string(model::as_text(**value)) : "nothing";
  }

  std::optional<model::Token16> token_outside;
  model::Error refusal;

 private:
  StorePlace& place_;
  FixedRandom random_{7};
  std::unique_ptr<host::Files> files_;
  std::unique_ptr<store::Store> store_;
};

std::vector<model::Hash32> hashes(std::vector<ops::ChainedOp> ops) {
  std::vector<model::Hash32> all;
  for (const ops::ChainedOp& op : ops) all.push_back(op.hash);
  std::sort(all.begin(), all.end());
  return all;
}

Log training(char scope, char inc, std::uint64_t sets) {
  Log log(scope, inc);
  log.session();
  for (std::uint64_t set = 1; set < sets; ++set) log.set(5 + set % 3);
  return log;
}

std::vector<ops::Chunk> one_by_one(const Log& log) { return chunks_of(log.ops(), 1); }

store::ImportLine line_of(std::string file_name) {
  store::ImportLine line;
  line.bundle_hash = ops::blake2b(model::as_bytes(file_name));
  line.file_name = std::move(file_name);
  line.claimed = "2026-11-25T18:00:00.000+01:00";
  line.fresh = 4;
  line.known = 3;
  line.not_understood = 2;
  line.forks = 1;
  return line;
}

// ---- entries ------------------------------------------------------------------------------------------

std::string entries_stay(StorePlace& place) {
  const Log log = training('w', 'p', 9);
  const auto chunks = one_by_one(log);
  Use use(place);
  HOLDS(use.start());
  for (const ops::Chunk& chunk : chunks) HOLDS(use.kept({chunk}));
  HOLDS(use.chunks('w') == chunks);
  HOLDS(use.start());
  HOLDS(use.chunks('w') == chunks);
  HOLDS(use.sound());
  HOLDS(use->scopes()->size() == 1);
  HOLDS(use->scopes()->front() == scope_named('w'));
  return {};
}

std::string order_is_by_stream(StorePlace& place) {
  Use use(place);
  HOLDS(use.start());
  const Log first = training('a', 'p', 3), second = training('a', 'q', 3), elsewhere = training('b', 'p', 2);
  HOLDS(use.kept(one_by_one(second)));
  HOLDS(use.kept(one_by_one(elsewhere)));
  HOLDS(use.kept(one_by_one(first)));
  auto wanted = one_by_one(first);
  for (const ops::Chunk& chunk : one_by_one(second)) wanted.push_back(chunk);
  HOLDS(use.chunks('a') == wanted);
  HOLDS(use.chunks('b') == one_by_one(elsewhere));
  HOLDS(use.chunks('c').empty());
  HOLDS(*use->scopes() == (std::vector{scope_named('a'), scope_named('b')}));
  return {};
}

std::string many_in_one_intent(StorePlace& place) {
  const auto chunks = one_by_one(training('w', 'p', 5));
  Use use(place);
  HOLDS(use.start());
  HOLDS(use.kept(chunks));
  HOLDS(use.kept(chunks));     // said again
  HOLDS(use.kept({}));         // nothing to say
  HOLDS(use.chunks('w') == chunks);
  return {};
}

std::string gaps_are_refused(StorePlace& place) {
  const Log log = training('w', 'p', 6);
  const auto chunks = one_by_one(log);
  Log clone = log;  // went on from the same place with something else
  Use use(place);
  HOLDS(use.start());
  const auto refused = [&](const std::vector<ops::Chunk>& some) {
    const store::Ticket ticket = use->append(some, "draft", model::as_bytes("new"));
    return ticket.state == Durability::not_kept && ticket.why.kind == model::ErrorKind::invalid && ticket.why.text == "store.gap";
  };
  HOLDS(refused({chunks[1]}));                        // nothing before it is here
  HOLDS(use.kept({chunks[0], chunks[1]}));
  HOLDS(refused({chunks[3]}));                        // one is missing
  HOLDS(refused({chunks[2], chunks[4]}));             // one of two is wrong: neither stays
  ops::Chunk foreign_before = chunks[2];
  foreign_before.before = chunks[0].after;
  HOLDS(refused({foreign_before}));
  Log other_start('w', 'p');
  other_start.set(3);
  HOLDS(refused(one_by_one(other_start)));            // the stream has begun already, otherwise
  HOLDS(use.chunks('w') == (std::vector{chunks[0], chunks[1]}));
  HOLDS(use.local("draft") == "nothing");
  HOLDS(use.kept(std::span(chunks).subspan(2)));
  clone.set(9);
  ops::Chunk late = one_by_one(clone).back();
  HOLDS(use.kept({late}));
  HOLDS(use->fold_chunks(scope_named('w')).ok());
  Log fork = log;
  fork.set(12);
  HOLDS(refused({one_by_one(fork).back()}));          // a second seventh entry: the pen is a clone's
  return {};
}

std::string draft_and_entry_are_one(StorePlace& place) {
  const auto chunks = one_by_one(training('w', 'p', 2));
  Use use(place);
  HOLDS(use.start());
  HOLDS(use.kept(std::span(chunks).first(1), "draft", model::as_bytes("half a set")));
  HOLDS(use.local("draft") == "half a set");
  HOLDS(use.kept(std::span(chunks).last(1), "draft"));
  HOLDS(use.start());
  HOLDS(use.local("draft").empty());
  HOLDS(use.chunks('w') == chunks);
  return {};
}

// ---- imports ------------------------------------------------------------------------------------------

std::string imports_are_whole(StorePlace& place) {
  const Log log = training('w', 'c', 130);
  const auto chunks = chunks_of(log.ops());
  Use use(place);
  HOLDS(use.start());
  HOLDS(use->take_in(chunks, line_of("week 48.slip")).ok());
  HOLDS(use->take_in({}, line_of("week 48 again.slip")).ok());
  HOLDS(use.start());
  HOLDS(use.chunks('w') == chunks);
  const auto log_lines = use->import_log();
  HOLDS(log_lines.ok());
  HOLDS(log_lines->size() == 2);
  const store::ImportLine &read = log_lines->front(), written = line_of("week 48.slip");
  HOLDS(read.bundle_hash == written.bundle_hash);
  HOLDS(read.file_name == written.file_name);
  HOLDS(read.claimed == written.claimed);
  HOLDS(read.fresh == 4 && read.known == 3 && read.not_understood == 2 && read.forks == 1);
  HOLDS(log_lines->back().file_name == "week 48 again.slip");
  HOLDS(use.sound());
  return {};
}

// A lost bundle leaves a hole, and a later one may fill it.
std::string holes_are_allowed_in_imports(StorePlace& place) {
  const Log log = training('w', 'c', 12);
  Use use(place);
  HOLDS(use.start());
  HOLDS(use->take_in(chunks_of(log.ops(8, 12)), line_of("second.slip")).ok());
  HOLDS(use.ops('w') == hashes(log.ops(8, 12)));
  HOLDS(use->take_in(chunks_of(log.ops(1, 7)), line_of("first.slip")).ok());
  HOLDS(use.ops('w') == hashes(log.ops()));
  HOLDS(use->fold_chunks(scope_named('w')).ok());
  HOLDS(use.chunks('w') == chunks_of(log.ops()));
  return {};
}

std::string both_branches_stay(StorePlace& place) {
  Log log = training('w', 'p', 4);
  Log clone = log;
  log.set(8), log.set(9);
  clone.set(3), clone.set(4), clone.set(5);
  Use use(place);
  HOLDS(use.start());
  HOLDS(use.kept(one_by_one(log)));
  HOLDS(use->take_in(chunks_of(clone.ops(5, 7), 1), line_of("clone.slip")).ok());
  const auto all = hashes(together({log.ops(), clone.ops(5, 7)}));
  HOLDS(use.ops('w') == all);
  HOLDS(use->fold_chunks(scope_named('w')).value() == 7);  // nine rows become two
  HOLDS(use.ops('w') == all);
  HOLDS(use.chunks('w').size() == 2);
  HOLDS(use->fold_chunks(scope_named('w')).value() == 0);
  HOLDS(use.start());
  HOLDS(use.ops('w') == all);
  HOLDS(use.sound());
  return {};
}

// ---- folding ------------------------------------------------------------------------------------------

std::string folding_keeps_all(StorePlace& place) {
  const Log log = training('w', 'p', 150), other = training('v', 'p', 3);
  Use use(place);
  HOLDS(use.start());
  HOLDS(use.kept(one_by_one(log)));
  HOLDS(use.kept(one_by_one(other)));
  const auto saved = use->fold_chunks(scope_named('w'));
  HOLDS(saved.ok());
  HOLDS(*saved == 147);                           // 64 + 64 + 22
  HOLDS(use.chunks('w') == chunks_of(log.ops()));
  HOLDS(use.chunks('v') == one_by_one(other));    // another scope: not asked for
  HOLDS(use.start());
  HOLDS(use.chunks('w') == chunks_of(log.ops()));
  Log more = log;
  more.set(4);
  HOLDS(use.kept({one_by_one(more).back()}));     // writing goes on where the folded row ends
  HOLDS(use->fold_chunks(scope_named('w')).value() == 1);
  HOLDS(use.chunks('w') == chunks_of(more.ops()));
  HOLDS(use.sound());
  return {};
}

// Rows grow to about 16 kB, not beyond.
std::string folding_stops_at_the_limit(StorePlace& place) {
  Log log('w', 'p');
  for (int i = 0; i < 6; ++i) log.write(200, {ops::bytes_field(16, model::Bytes(5000, static_cast<std::uint8_t>(i)))});
  Use use(place);
  HOLDS(use.start());
  HOLDS(use.kept(one_by_one(log)));
  HOLDS(use->fold_chunks(scope_named('w')).value() == 4);
  HOLDS(use.chunks('w').size() == 2);
  for (const ops::Chunk& chunk : use.chunks('w')) HOLDS(chunk.bytes.size() <= ops::kFoldedChunkBytes);
  HOLDS(use.ops('w') == hashes(log.ops()));
  return {};
}

// ---- what is derived and what is local ----------------------------------------------------------------

std::string derived_state_comes_and_goes(StorePlace& place) {
  const Log log = training('w', 'p', 5);
  Use use(place);
  HOLDS(use.start());
  HOLDS(!use->derived(scope_named('w'))->has_value());
  store::Derived derived{3, held_of(together({log.ops(1, 2), log.ops(4, 5)})).holdings(), model::Bytes(40'000, 7)};
  HOLDS(derived.covers.begin()->second.ranges.spans().size() == 2);
  HOLDS(use->save_derived(scope_named('w'), {1, {}, {}}).ok());
  HOLDS(use->save_derived(scope_named('w'), derived).ok());
  HOLDS(use.start());
  const auto read = use->derived(scope_named('w'));
  HOLDS(read.ok() && read->has_value());
  HOLDS((*read)->fold_version == 3);
  HOLDS((*read)->covers == derived.covers);
  HOLDS((*read)->state == derived.state);
  HOLDS(use->drop_derived().ok());
  HOLDS(!use->derived(scope_named('w'))->has_value());
  return {};
}

std::string local_values_are_kept(StorePlace& place) {
  Use use(place);
  HOLDS(use.start());
  HOLDS(use.local("settings") == "nothing");
  HOLDS(use->set_local("settings", model::as_bytes("large text")).ok());
  HOLDS(use->set_local("settings", model::as_bytes("small text")).ok());
  HOLDS(use->set_local("nothing yet", {}).ok());
  HOLDS(use->set_local("long", model::Bytes(20'000, 'x')).ok());
  HOLDS(use.start());
  HOLDS(use.local("settings") == "small text");
  HOLDS(use.local("nothing yet").empty());
  HOLDS(use.local("long") == std::string(20'000, 'x'));
  HOLDS(use->scopes()->empty());  // never ops
  return {};
}

std::string export_counter_rises(StorePlace& place) {
  Use use(place);
  HOLDS(use.start());
  std::uint64_t last = 0;
  for (int round = 0; round < 3; ++round) {
    for (int times = 0; times < 100; ++times) {
      const auto next = use->next_export_counter();
      HOLDS(next.ok());
      HOLDS(*next > last);
      last = *next;
    }
    HOLDS(use.start());
  }
  return {};
}

// ---- who this device is -------------------------------------------------------------------------------

std::string same_device_while_tokens_agree(StorePlace& place) {
  Use use(place);
  HOLDS(use.start());
  const store::Opening first = use->opening();
  HOLDS(first.why == WhyNewIncarnation::first_run);
  HOLDS(!first.inc.is_zero() && !first.device.is_zero());
  HOLDS(!first.read_only && !first.cleared && first.schema_found == store::kSchemaVersion);
  for (int again = 0; again < 3; ++again) {
    HOLDS(use.start());
    HOLDS(use->opening().why == WhyNewIncarnation::same_as_before);
    HOLDS(use->opening().inc == first.inc);
    HOLDS(use->opening().device == first.device);
  }
  return {};
}

std::string new_incarnation_when_tokens_differ(StorePlace& place) {
  Use use(place);
  HOLDS(use.start());
  const store::Opening first = use->opening();
  HOLDS(use.kept(one_by_one(training('w', 'p', 2))));
  use.token_outside.reset();  // copied to another machine
  HOLDS(use.start());
  const store::Opening copied = use->opening();
  HOLDS(copied.why == WhyNewIncarnation::token_broken);
  HOLDS(!(copied.inc == first.inc));
  HOLDS(copied.device == first.device);
  HOLDS(use.chunks('w').size() == 2);
  use.token_outside->bytes[15] ^= 1;  // restored from an older backup
  HOLDS(use.start());
  HOLDS(use->opening().why == WhyNewIncarnation::token_broken);
  HOLDS(!(use->opening().inc == copied.inc) && !(use->opening().inc == first.inc));
  const auto third = use->opening().inc;
  HOLDS(use.start());
  HOLDS(use->opening().why == WhyNewIncarnation::same_as_before);
  HOLDS(use->opening().inc == third);
  return {};
}

std::string cleared_storage_is_said(StorePlace& place) {
  Use use(place);
  use.token_outside = model::Token16{};  // a token is here, no store is
  HOLDS(use.start());
  HOLDS(use->opening().cleared);
  HOLDS(use->opening().why == WhyNewIncarnation::first_run);
  HOLDS(use.start());
  HOLDS(!use->opening().cleared);
  return {};
}

std::string minted_incarnation_stays(StorePlace& place) {
  Use use(place);
  HOLDS(use.start());
  const auto before = use->opening().inc;
  HOLDS(use->mint_incarnation().ok());
  const auto minted = use->opening().inc;
  HOLDS(!(minted == before));
  HOLDS(use.start());
  HOLDS(use->opening().why == WhyNewIncarnation::same_as_before);
  HOLDS(use->opening().inc == minted);
  return {};
}

// ---- what peers hold, and erasure -----------------------------------------------------------------------

store::Peer peer_of(char device, char scope, std::uint64_t counter, std::uint64_t held) {
  store::Peer peer;
  peer.device.bytes.fill(static_cast<std::uint8_t>(device));
  peer.scope = scope_named(scope);
  peer.inc = inc_named(device);
  peer.export_counter = counter;
  peer.claimed = "2026-11-25T18:00:00.000+01:00";
  ops::Holding& holding = peer.holds[{peer.scope, peer.inc}];
  holding.ranges.add(1, held);
  holding.ranges.add(held + 3, held + 9);
  holding.prefix_hash.bytes.fill(7);
  return peer;
}

std::string peers_are_remembered(StorePlace& place) {
  Use use(place);
  HOLDS(use.start());
  HOLDS(use->peers(scope_named('w'))->empty());
  const store::Peer late = peer_of('q', 'w', 3, 40), early = peer_of('b', 'w', 1, 12), elsewhere = peer_of('b', 'k', 1, 5);
  for (const store::Peer& peer : {late, early, elsewhere}) HOLDS(use->set_peer(peer).ok());
  HOLDS(use.start());
  HOLDS(*use->peers(scope_named('w')) == (std::vector{early, late}));
  HOLDS(*use->peers(scope_named('k')) == std::vector{elsewhere});
  const store::Peer newer = peer_of('b', 'w', 2, 20);
  const auto log = training('w', 'q', 2);
  const std::array peers{newer};
  HOLDS(use->take_in(chunks_of(log.ops()), line_of("b.slip"), peers).ok());
  HOLDS(use.start());
  HOLDS(*use->peers(scope_named('w')) == (std::vector{newer, late}));  // replaced, not beside it
  HOLDS(use.ops('w') == hashes(log.ops()));
  return {};
}

std::string erasing_leaves_a_marker(StorePlace& place) {
  const Log gone = training('w', 'p', 5), stays = training('k', 'p', 3);
  store::Erased mark;
  mark.scope = scope_named('w');
  mark.reason = 2;
  mark.marker = chunks_of({gone.ops().back()}).front();
  Use use(place);
  HOLDS(use.start());
  HOLDS(use.kept(chunks_of(gone.ops())) && use.kept(chunks_of(stays.ops())));
  HOLDS(use->take_in({}, line_of("wren.slip")).ok());
  HOLDS(use->set_peer(peer_of('b', 'w', 1, 5)).ok() && use->set_peer(peer_of('b', 'k', 1, 5)).ok());
  HOLDS(use->save_derived(scope_named('w'), {}).ok());

  store::Erased wrong = mark;
  wrong.scope = scope_named('k');  // a marker of another scope
  HOLDS(use->erase(wrong).error().kind == model::ErrorKind::invalid);
  HOLDS(use->erased()->empty());

  HOLDS(use->erase(mark).ok());
  for (int round = 0; round < 2; ++round) {
    HOLDS(*use->erased() == std::vector{mark});
    HOLDS(use.chunks('w').empty());
    HOLDS(use->peers(scope_named('w'))->empty());
    HOLDS(!use->derived(scope_named('w'))->has_value());
    HOLDS(use->import_log()->front().file_name.empty());
    HOLDS(use.ops('k') == hashes(stays.ops()));
    HOLDS(use->peers(scope_named('k'))->size() == 1);
    HOLDS(use->compact().ok() && use.sound());
    HOLDS(use.start());
  }
  store::Erased again = mark;
  again.reason = 5;
  HOLDS(use->erase(again).ok());
  HOLDS(*use->erased() == std::vector{mark});  // said once
  return {};
}

// ---- two at once --------------------------------------------------------------------------------------

std::string second_opening_is_busy(StorePlace& place) {
  const auto chunks = one_by_one(training('w', 'p', 2));
  Use use(place), other(place);
  HOLDS(use.start());
  HOLDS(use.kept({chunks[0]}));
  HOLDS(!other.start());
  HOLDS(other.refusal.kind == model::ErrorKind::busy);
  HOLDS(other.refusal.text == "store.busy");
  HOLDS(other.refusal.args.front() == store::kDatabaseName);
  HOLDS(use.kept({chunks[1]}));  // undisturbed
  use.end();
  HOLDS(other.start());
  HOLDS(other.chunks('w') == chunks);
  return {};
}

#undef HOLDS

constexpr auto kPromises = std::to_array<StorePromise>({
    {"what was kept is there at the next start, byte for byte", entries_stay},
    {"chunks come by stream and then by place", order_is_by_stream},
    {"an intent of several entries is kept once, however often it is said", many_in_one_intent},
    {"an entry that does not continue its stream is refused and leaves nothing", gaps_are_refused},
    {"a draft ends in the same step that keeps its entry", draft_and_entry_are_one},
    {"an import is there with all its chunks and its line", imports_are_whole},
    {"a hole left by a lost bundle is filled by a later one", holes_are_allowed_in_imports},
    {"both branches of a fork stay, folded apart", both_branches_stay},
    {"folding saves rows and keeps every entry", folding_keeps_all},
    {"folding stops at sixteen kilobytes a row", folding_stops_at_the_limit},
    {"derived state is kept with what it covers, and may go", derived_state_comes_and_goes},
    {"local values are kept and are never entries", local_values_are_kept},
    {"the export counter only rises", export_counter_rises},
    {"a device stays itself while both tokens agree", same_device_while_tokens_agree},
    {"a copied or restored store writes under a new incarnation", new_incarnation_when_tokens_differ},
    {"a storage that was cleared is said to be", cleared_storage_is_said},
    {"a minted incarnation stays", minted_incarnation_stays},
    {"what a peer holds is remembered as it was last said", peers_are_remembered},
    {"erasing leaves a marker and nothing else of a scope", erasing_leaves_a_marker},
    {"a store that is open elsewhere is busy", second_opening_is_busy},
});

}  // namespace

std::span<const StorePromise> store_promises() { return kPromises; }

}  // namespace slipway::kit
