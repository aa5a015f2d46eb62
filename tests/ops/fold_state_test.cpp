// The stored form of a fold: canonical, strict, and a digest that moves with every op.
#include <string>

#include <doctest/doctest.h>

#include "kit/history.h"
#include "kit/ops_kit.h"
#include "kit/plain_blake2b.h"
#include "ops/fold.h"
#include "ops/registry.h"

using namespace slipway;
using model::Bytes;
using ops::Fold;

namespace {

// A bit of everything: conflict, take-back, revival, ended pain, a change whose record is
// not here, an unknown kind.
Fold rich_fold() {
  const auto streams = kit::three_streams(21, 40);
  Fold fold(streams[0].front().stream.scope);
  for (const auto& stream : streams)
    for (std::size_t i = 0; i < stream.size(); ++i)
      if (i % 5 != 4) fold.add(stream[i]);
  kit::Device newer(kit::stream_named('s', 'n'), 3);
  newer.write(1001, {});
  fold.add(newer.ops().front());
  return fold;
}

}  // namespace

TEST_CASE("a state reads back to an equal fold and is written again in the same bytes") {
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    CAPTURE(seed);
    std::vector<ops::ChainedOp> all;
    for (const auto& stream : kit::three_streams(seed, seed * 3)) all.insert(all.end(), stream.begin(), stream.end());
    const Fold fold = kit::fold_of(all);
    const Bytes state = fold.write_state();
    const auto read = Fold::read_state(state);
    REQUIRE(read);
    REQUIRE(*read == fold);
    REQUIRE(read->write_state() == state);
    REQUIRE(read->lam() == fold.lam());
  }
  const Fold nothing(kit::stream_named('s', 'a').scope);
  CHECK(*Fold::read_state(nothing.write_state()) == nothing);
}

TEST_CASE("a fold read from its state goes on like the one that was written") {
  const auto streams = kit::three_streams(5, 60);
  Fold whole(streams[0].front().stream.scope), stored = whole;
  for (std::size_t part = 0; part < streams.size(); ++part) {
    for (const ops::ChainedOp& op : streams[part]) {
      whole.add(op);
      stored.add(op);
    }
    stored = *Fold::read_state(stored.write_state());
    CHECK(stored == whole);
  }
}

TEST_CASE("a state with any bit changed is refused or is another fold in canonical form") {
  const Fold fold = rich_fold();
  Bytes state = fold.write_state();
  std::uint64_t refused = 0, other = 0;
  for (std::size_t at = 0; at < state.size(); ++at)
    for (int bit = 0; bit < 8; ++bit) {
      CAPTURE(at);
      state[at] = static_cast<std::uint8_t>(state[at] ^ (1 << bit));
      const auto read = Fold::read_state(state);
      if (read) {
        REQUIRE(read->write_state() == state);
        REQUIRE_FALSE(*read == fold);
        ++other;
      } else {
        REQUIRE(read.error().kind == model::ErrorKind::damaged);
        REQUIRE(read.error().text == "fold.damaged");
        ++refused;
      }
      state[at] = static_cast<std::uint8_t>(state[at] ^ (1 << bit));
    }
  CHECK(refused > other / 4);
  CHECK(*Fold::read_state(state) == fold);
}

TEST_CASE("a state that is cut, or has anything behind its end, is refused") {
  Bytes state = rich_fold().write_state();
  for (std::size_t length = 0; length < state.size(); ++length) {
    CAPTURE(length);
    REQUIRE_FALSE(Fold::read_state(model::ByteView(state.data(), length)));
  }
  state.push_back(0);
  CHECK_FALSE(Fold::read_state(state));
}

TEST_CASE("a state of another version, or that promises more than it holds, is refused") {
  const Bytes scope(16, 's');
  const auto state = [&](std::string_view before, std::string_view after) {
    Bytes out = kit::typed_bytes(before);
    model::append(out, scope);
    model::append(out, kit::typed_bytes(after));
    return out;
  };
  CHECK(Fold::read_state(state("03", "00 00 00 00 00 00")));
  CHECK_FALSE(Fold::read_state(state("00", "00 00 00 00 00 00")));
  CHECK_FALSE(Fold::read_state(state("01", "00 00 00 00 00 00")));
  CHECK_FALSE(Fold::read_state(state("04", "00 00 00 00 00 00")));
  CHECK_FALSE(Fold::read_state(state("02", "808080808020 00 00 00 00 00")));            // lam 2^40
  CHECK_FALSE(Fold::read_state(state("02", "00 ffffffffffffffffff01 00 00 00 00")));    // 2^64 - 1 incarnations
  CHECK_FALSE(Fold::read_state(state("02", "00 00 00 00 8380808010 00 00 00")));        // 2^32 + 3 records
  CHECK_FALSE(Fold::read_state(state("02", "00 01 61616161616161616161616161616161 00 00 00 00")));  // nobody uses it
}

TEST_CASE("the digest of views is that of each scope with its digest, scopes in order") {
  const auto one = kit::three_streams(1, 20), two = kit::three_streams(2, 20);
  Fold s = kit::fold_of(one[0]);
  kit::Device other(kit::stream_named('b', 'a'), 1);
  other.begin(ops::kind::set, {{ops::set_tag::reps, 8}});
  const Fold& b = other.fold();

  Bytes plain;
  for (const Fold* fold : {&b, static_cast<const Fold*>(&s)}) {
    model::append(plain, fold->scope().view());
    model::append(plain, kit::plain_blake2b(fold->write_state(), 32));
  }
  CHECK(model::equal(ops::digest_of_views({&s, &b}).view(), kit::plain_blake2b(plain, 32)));
  CHECK(ops::digest_of_views({&s, &b}) == ops::digest_of_views({&b, &s}));
  CHECK_FALSE(ops::digest_of_views({&s}) == ops::digest_of_views({&s, &b}));
  CHECK(ops::digest_of_views({}) == ops::blake2b({}));
}

namespace {

// The state of one set with reps 8, lam 1, by the swimmer, nothing claimed; each part may
// be replaced.
struct SmallState {
  std::string head = "03 73737373737373737373737373737373 01";  // version, scope, lam
  std::string incs = "01 61616161616161616161616161616161";
  std::string keys = "01 00 01 3333333333333333";                 // incarnation 0, seq 1
  std::string stamps = "01 00 01 01 00 00 00";                    // key 0, lam 1, swimmer
  std::string record = "01 00 01 0a 00 00";                       // one: key 0, a set by stamp 0, replaces none
  std::string fields = "01 13 01 00 00 01 08 00";                 // one, reps: stamp 0, unsigned, 8; covers none
  std::string touches = "01 00  00 00 00 00";                     // by key 0; nothing taken back, kept or ended
  std::string unknown = "00";                                     // all understood

  Bytes bytes() const { return kit::typed_bytes(head + incs + keys + stamps + record + fields + touches + unknown); }
  bool reads() const { return Fold::read_state(bytes()).ok(); }
};

}  // namespace

TEST_CASE("the bytes of a small state, by hand") {
  const ops::StreamId stream = kit::stream_named('s', 'a');
  ops::ChainedOp op{stream, 1, ops::genesis(stream), {}, kit::typed_bytes("01 0a 02 02 00 01 01 13 00 01 08"), {}};
  op.op = *ops::read_op(op.bytes);
  op.hash.bytes.fill(0x33);
  Fold fold(stream.scope);
  fold.add(op);
  CHECK(model::hex(fold.write_state()) == model::hex(SmallState{}.bytes()));
}

TEST_CASE("a fact keeps the names of those it replaces, held or not, in the state too") {
  kit::Device device(kit::stream_named('s', 'a'), 1);
  const model::OpKey absent{kit::stream_named('s', 'b').inc, 9, {}};
  const auto said = [&](std::vector<model::OpKey> saw) {
    return device.write(ops::kind::sign_off, {ops::refs_field(ops::tag::saw, saw, device.inc()), ops::unsigned_field(ops::sign_off_tag::level, 1)});
  };
  const model::OpKey first = said({absent});
  const model::OpKey second = said({first, absent});
  const auto read = Fold::read_state(device.fold().write_state());
  REQUIRE(read);
  CHECK(*read == device.fold());
  CHECK(read->find(first)->acts->replaces == std::set<model::OpKey>{absent});
  CHECK(read->find(second)->acts->replaces == std::set<model::OpKey>{first, absent});
}

TEST_CASE("a state that no fold could have written is refused") {
  CHECK(SmallState{}.reads());
  const auto with = [](std::string SmallState::*part, std::string bytes) {
    SmallState state;
    state.*part = std::move(bytes);
    return state.reads();
  };
  CHECK_FALSE(with(&SmallState::head, "03 73737373737373737373737373737373 00"));  // a stamp above the highest count
  CHECK_FALSE(with(&SmallState::keys, "01 00 00 3333333333333333"));               // seq 0
  CHECK_FALSE(with(&SmallState::keys, "01 01 01 3333333333333333"));               // an incarnation beyond the table
  CHECK_FALSE(with(&SmallState::stamps, "01 00 01 01 00 8080808020 00"));          // offset 2^32
  CHECK_FALSE(with(&SmallState::record, "01 00 02 0a 00 00"));
  CHECK_FALSE(with(&SmallState::record, "01 00 01 00 00 00"));                        // kind 0
  CHECK_FALSE(with(&SmallState::record, "01 00 01 8080808010 00 00"));                // kind 2^32
  CHECK_FALSE(with(&SmallState::fields, "01 8080808010 01 00 00 01 08 00"));       // tag 2^32
  CHECK_FALSE(with(&SmallState::fields, "01 13 00 00"));                           // a field nobody wrote
  CHECK_FALSE(with(&SmallState::fields, "02 13 01 00 00 01 08 00 12 01 00 00 01 08 00"));

  CHECK_FALSE(with(&SmallState::touches, "00  00 00 00 00"));                        // the op that began it has not touched it

  // Created by another op than the one that names it.
  SmallState other;
  other.keys = "02 00 01 3333333333333333 00 02 4444444444444444";
  other.stamps = "01 01 01 01 00 00 00";
  CHECK_FALSE(other.reads());

  // Two writers, in the one order that counts.
  SmallState two{"03 73737373737373737373737373737373 00", "02 61616161616161616161616161616161 62626262626262626262626262626262",
                 "02 00 01 3333333333333333 01 01 4444444444444444", "00", "00", "", "", "02 00 01"};
  CHECK(two.reads());
  two.unknown = "02 01 00";
  CHECK_FALSE(two.reads());
  two.unknown = "02 00 01";
  two.incs = "02 62626262626262626262626262626262 61616161616161616161616161616161";
  two.keys = "02 01 01 3333333333333333 00 01 4444444444444444";
  CHECK_FALSE(two.reads());
}
