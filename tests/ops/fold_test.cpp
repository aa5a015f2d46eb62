#include "ops/fold.h"

#include <limits>
#include <string>

#include <doctest/doctest.h>

#include "kit/ops_kit.h"
#include "ops/registry.h"
#include "ops/views.h"

using namespace slipway;
using kit::Device;
using ops::ChainedOp;
using ops::Fold;

namespace {

namespace kind = ops::kind;
namespace set_tag = ops::set_tag;

const model::ScopeId kScope = kit::stream_named('s', 'a').scope;

Device device(char inc) { return Device(kit::stream_named('s', inc), static_cast<std::uint64_t>(inc)); }

// A device that has seen all that the first has.
Device beside(const Device& first, char inc) {
  Device other = device(inc);
  other.take_in(first.ops());
  return other;
}

std::string values(const Fold& fold, const model::RecordId& id, std::uint32_t tag) {
  std::string text;
  for (const ops::Written& written : fold.find(id)->visible(tag))
    text += (text.empty() ? "" : "|") + std::to_string(kit::value_of(tag, written));
  return text;
}

ops::Field target(const Device& by, const model::RecordId& record) { return ops::refs_field(ops::tag::target, {record}, by.inc()); }

}  // namespace

TEST_CASE("a set logged is there with its values, its writer and the time they claim") {
  Device a = device('a');
  a.clock().tick(60'000);
  const auto id = a.begin(kind::set, {{set_tag::reps, 8}, {set_tag::load, 22}});
  const ops::Record& record = *a.fold().find(id);
  CHECK(record.kind == kind::set);
  CHECK(record.created->key == id);
  CHECK(record.created->author == 1);
  CHECK(record.created->claimed.local_ms == kit::FixedClock::kStartMs + 90'000);
  CHECK(record.created->claimed.utc_offset_min == 60);
  CHECK(values(a.fold(), id, set_tag::reps) == "8");
  CHECK(values(a.fold(), id, set_tag::load) == "22");
  CHECK_FALSE(record.taken_back());
  CHECK(a.fold().lam() == 1);
}

TEST_CASE("the same entry twice counts once, of every kind") {
  Device a = device('a');
  const auto set = a.begin(kind::set, {{set_tag::reps, 8}});
  const auto pain = a.begin(kind::pain, {{ops::pain_tag::band, 2}});
  a.change(set, {{set_tag::reps, 9}});
  a.take_back(set);
  a.end_pain(pain, 1);
  a.write(1000, {});
  const Fold once = kit::fold_of(a.ops());
  for (const ChainedOp& op : a.ops()) {
    Fold twice = once;
    twice.add(op);
    CHECK(twice == once);
    CHECK(twice.write_state() == once.write_state());
  }
}

TEST_CASE("a change may arrive before the set it changes, and a take-back too") {
  Device a = device('a');
  const auto set = a.begin(kind::set, {{set_tag::reps, 8}});
  a.change(set, {{set_tag::reps, 9}});
  a.take_back(set);

  Fold fold(kScope);
  fold.add(a.ops()[2]);
  CHECK(fold.of_kind(kind::set).empty());
  fold.add(a.ops()[1]);
  CHECK(fold.of_kind(kind::set).empty());
  REQUIRE(fold.find(set) != nullptr);
  CHECK_FALSE(fold.find(set)->created);
  CHECK(values(fold, set, set_tag::reps) == "9");
  fold.add(a.ops()[0]);
  CHECK(values(fold, set, set_tag::reps) == "9");  // the 8 was covered before it came
  CHECK(fold.find(set)->taken_back());
  CHECK(fold == a.fold());
}

TEST_CASE("a change covers only the fields it writes") {
  Device a = device('a');
  const auto set = a.begin(kind::set, {{set_tag::reps, 8}, {set_tag::load, 22}, {set_tag::rir, 2}});
  a.change(set, {{set_tag::reps, 9}});
  CHECK(values(a.fold(), set, set_tag::reps) == "9");
  CHECK(values(a.fold(), set, set_tag::load) == "22");
  CHECK(values(a.fold(), set, set_tag::rir) == "2");
}

TEST_CASE("a contradiction stays until somebody who saw both decides") {
  Device a = device('a');
  const auto plan = a.begin(kind::prescription, {{ops::prescription_tag::reps, 8}});
  Device b = beside(a, 'b');
  a.change(plan, {{ops::prescription_tag::reps, 6}});
  b.change(plan, {{ops::prescription_tag::reps, 10}});
  a.take_in(b.ops());
  CHECK(values(a.fold(), plan, ops::prescription_tag::reps) == "10|6");
  CHECK(a.fold().find(plan)->field(ops::prescription_tag::reps).in_conflict());
  b.change(plan, {{ops::prescription_tag::reps, 12}});  // b has not seen the 6
  a.take_in(b.ops());
  CHECK(values(a.fold(), plan, ops::prescription_tag::reps) == "12|6");
  a.change(plan, {{ops::prescription_tag::reps, 6}});
  CHECK(values(a.fold(), plan, ops::prescription_tag::reps) == "6");
  b.take_in(a.ops());
  CHECK(values(b.fold(), plan, ops::prescription_tag::reps) == "6");
}

TEST_CASE("the same contradiction decided differently by two is a contradiction again") {
  Device a = device('a');
  const auto plan = a.begin(kind::prescription, {{ops::prescription_tag::reps, 8}});
  Device b = beside(a, 'b');
  a.change(plan, {{ops::prescription_tag::reps, 6}});
  b.change(plan, {{ops::prescription_tag::reps, 10}});
  a.take_in(b.ops());
  b.take_in(a.ops());
  a.change(plan, {{ops::prescription_tag::reps, 6}});
  b.change(plan, {{ops::prescription_tag::reps, 10}});
  a.take_in(b.ops());
  CHECK(values(a.fold(), plan, ops::prescription_tag::reps) == "10|6");
}

TEST_CASE("two who wrote the same value do not contradict each other, yet both are covered by the next") {
  Device a = device('a');
  const auto plan = a.begin(kind::prescription, {{ops::prescription_tag::reps, 8}});
  Device b = beside(a, 'b');
  a.change(plan, {{ops::prescription_tag::reps, 6}});
  b.change(plan, {{ops::prescription_tag::reps, 6}});
  a.take_in(b.ops());
  CHECK(values(a.fold(), plan, ops::prescription_tag::reps) == "6");
  CHECK(a.fold().find(plan)->field(ops::prescription_tag::reps).values.size() == 3);
  a.change(plan, {{ops::prescription_tag::reps, 7}});
  CHECK(values(a.fold(), plan, ops::prescription_tag::reps) == "7");
}

TEST_CASE("one record named by two writers is one value, however each writes the reference") {
  Device a = device('a');
  const auto session = a.begin(kind::session, {});
  const auto plan = a.begin(kind::prescription, {});
  Device b = beside(a, 'b');
  for (Device* by : {&a, &b})
    by->write(kind::change, {target(*by, session), ops::refs_field(ops::session_tag::prescription, {plan}, by->inc())});
  a.take_in(b.ops());
  CHECK(a.fold().find(session)->field(ops::session_tag::prescription).values.size() == 2);
  CHECK(a.fold().find(session)->visible(ops::session_tag::prescription).size() == 1);

  // Equal bytes that mean different records: each "own op 1".
  Device c = device('c'), d = device('d');
  const auto plan_c = c.begin(kind::prescription, {}), plan_d = d.begin(kind::prescription, {});
  const auto record = c.begin(kind::session, {});
  d.take_in(c.ops());
  model::OpKey named_c = plan_c, named_d = plan_d;
  named_c.hash = named_d.hash = {};
  c.write(kind::change, {target(c, record), ops::refs_field(ops::session_tag::prescription, {named_c}, c.inc())});
  d.write(kind::change, {target(d, record), ops::refs_field(ops::session_tag::prescription, {named_d}, d.inc())});
  c.take_in(d.ops());
  CHECK(c.fold().find(record)->visible(ops::session_tag::prescription).size() == 2);
}

TEST_CASE("clocks decide nothing: a device fifty years ahead does not win, one behind does not lose") {
  const std::int64_t fifty_years = std::int64_t{50} * 366 * 86'400'000;
  for (std::int64_t wrong : {fifty_years, -fifty_years}) {
    Device a = device('a');
    const auto plan = a.begin(kind::prescription, {{ops::prescription_tag::reps, 8}});
    Device b = beside(a, 'b');
    b.clock().set_wrong_by(wrong);
    b.change(plan, {{ops::prescription_tag::reps, 10}});
    a.take_in(b.ops());
    a.change(plan, {{ops::prescription_tag::reps, 6}});
    CHECK(values(a.fold(), plan, ops::prescription_tag::reps) == "6");
  }
}

TEST_CASE("entries are drawn in the order in which they could be known, then by writer") {
  Device a = device('a');
  const auto first = a.begin(kind::set, {{set_tag::reps, 1}});
  Device b = beside(a, 'b');
  const auto second_b = b.begin(kind::set, {{set_tag::reps, 2}});
  const auto second_a = a.begin(kind::set, {{set_tag::reps, 2}});
  a.take_in(b.ops());
  const auto third = a.begin(kind::set, {{set_tag::reps, 3}});
  CHECK(a.fold().of_kind(kind::set) == std::vector<model::RecordId>{first, second_a, second_b, third});
  CHECK(a.fold().of_kind(kind::pain).empty());
}

TEST_CASE("a pain report stays through take-back and change, and shows how it ended") {
  Device a = device('a');
  const auto pain = a.begin(kind::pain, {{ops::pain_tag::band, 3}});
  a.take_back(pain);
  CHECK_FALSE(a.fold().find(pain)->taken_back());
  CHECK_FALSE(a.fold().find(pain)->revived());
  CHECK(a.fold().of_kind(kind::pain).size() == 1);
  const auto ended = a.end_pain(pain, 2);
  CHECK(a.fold().find(pain)->acts->endings.at(ended).how == 2);
  CHECK(a.fold().of_kind(kind::pain).size() == 1);
}

TEST_CASE("a set taken back by one who had not seen everything comes back, marked") {
  Device a = device('a');
  const auto set = a.begin(kind::set, {{set_tag::reps, 8}});
  Device b = beside(a, 'b');
  a.take_back(set);
  b.change(set, {{set_tag::load, 24}});
  a.take_in(b.ops());
  CHECK(a.fold().find(set)->revived());
  CHECK_FALSE(a.fold().find(set)->taken_back());
  a.take_back(set);  // now seen
  CHECK(a.fold().find(set)->taken_back());
  CHECK_FALSE(a.fold().find(set)->revived());
}

TEST_CASE("take-backs add up: what two saw between them is gone") {
  Device a = device('a');
  const auto set = a.begin(kind::set, {{set_tag::reps, 8}});
  Device b = beside(a, 'b');
  a.change(set, {{set_tag::reps, 9}});
  a.take_back(set);
  b.change(set, {{set_tag::reps, 10}});
  b.take_back(set);
  a.take_in(b.ops());
  CHECK(a.fold().find(set)->taken_back());
}

TEST_CASE("kinds of a newer version are counted, kept out of sight, and change the digest") {
  Device a = device('a');
  a.begin(kind::set, {{set_tag::reps, 8}});
  const auto before = a.fold().digest();
  const auto newer = a.write(1000, {}), critical = a.write(1001, {});
  CHECK(a.fold().not_understood() == std::set<model::OpKey>{newer, critical});
  CHECK(a.fold().records().size() == 1);
  CHECK_FALSE(a.fold().digest() == before);
}

TEST_CASE("fields of a newer version are kept like any other") {
  Device a = device('a');
  const auto set = a.write(kind::set, {ops::unsigned_field(set_tag::reps, 8), ops::unsigned_field(99, 5)});
  Device b = beside(a, 'b');
  CHECK(values(b.fold(), set, 99) == "5");
  a.write(kind::change, {target(a, set), ops::refs_field(ops::tag::saw, {set}, a.inc()), ops::unsigned_field(99, 6)});
  CHECK(values(a.fold(), set, 99) == "6");
}

TEST_CASE("a known field in a foreign wire is kept, and simply not read") {
  Device a = device('a');
  const auto set = a.write(kind::set, {ops::text_field(set_tag::reps, "eight"), ops::Field{set_tag::rir, static_cast<ops::Wire>(77), model::Bytes{1, 2}}});
  const ops::Record& record = *a.fold().find(set);
  CHECK(record.visible(set_tag::reps).size() == 1);
  CHECK(record.visible(set_tag::rir).front().wire == static_cast<ops::Wire>(77));
  const model::Athlete athlete = ops::read_athlete(a.fold());
  REQUIRE(athlete.sessions.size() == 1);
  CHECK(athlete.sessions.front().sets.front().reps.empty());
}

TEST_CASE("a change, take-back or ending without exactly one readable target is not understood") {
  Device a = device('a');
  const auto set = a.begin(kind::set, {{set_tag::reps, 8}});
  for (std::uint32_t kind : {kind::change, kind::take_back, kind::pain_end}) {
    const std::size_t before = a.fold().not_understood().size();
    a.write(kind, {});
    a.write(kind, {ops::unsigned_field(ops::tag::target, 1)});
    a.write(kind, {ops::refs_field(ops::tag::target, {}, a.inc())});
    a.write(kind, {ops::refs_field(ops::tag::target, {set, set}, a.inc())});
    CHECK(a.fold().not_understood().size() == before + 4);
  }
  CHECK(a.fold().records().size() == 1);
  CHECK_FALSE(a.fold().find(set)->taken_back());
}

TEST_CASE("each reference of a change counts under each of its fields: 8 times 512 cover, one more covers nothing") {
  for (const std::uint64_t refs : {std::uint64_t{512}, std::uint64_t{513}}) {
    Device a = device('a');
    const auto set = a.begin(kind::set, {{set_tag::reps, 8}});
    std::vector<model::OpKey> saw{set};
    while (saw.size() < refs) saw.push_back({a.inc(), 1'000'000 + saw.size(), {}});
    std::vector<ops::Field> fields{target(a, set), ops::refs_field(ops::tag::saw, saw, a.inc()), ops::unsigned_field(set_tag::reps, 9)};
    for (std::uint32_t tag = 90; tag < 97; ++tag) fields.push_back(ops::unsigned_field(tag, 1));
    a.write(kind::change, fields);
    CHECK(a.fold().find(set)->visible(set_tag::reps).size() == (refs == 512 ? 1 : 2));
  }
}

TEST_CASE("what cannot be read as `saw` covers nothing") {
  Device a = device('a');
  const auto set = a.begin(kind::set, {{set_tag::reps, 8}});
  a.write(kind::change, {target(a, set), ops::text_field(ops::tag::saw, "all"), ops::unsigned_field(set_tag::reps, 9)});
  CHECK(values(a.fold(), set, set_tag::reps) == "9|8");
  a.write(kind::take_back, {target(a, set), ops::unsigned_field(ops::tag::saw, 1)});
  CHECK_FALSE(a.fold().find(set)->taken_back());
}

TEST_CASE("an ending that does not say how is kept as not said") {
  Device a = device('a');
  const auto pain = a.begin(kind::pain, {{ops::pain_tag::band, 3}});
  const auto ended = a.write(kind::pain_end, {target(a, pain)});
  CHECK(a.fold().find(pain)->acts->endings.at(ended).how == 0);
}

TEST_CASE("claims no calendar can show are not repeated") {
  Device a = device('a');
  kit::FixedRandom random(1);
  ops::Pen pen(kit::stream_named('s', 'z'), 0, ops::genesis(kit::stream_named('s', 'z')));
  const auto write = [&](std::int64_t local_ms, std::int32_t offset) {
    return pen.write(kind::set, {}, {1, {local_ms, offset, 5}}, 0, random);
  };
  std::vector<ChainedOp> ops{write(std::numeric_limits<std::int64_t>::max(), std::numeric_limits<std::int32_t>::min()),
                             write(std::numeric_limits<std::int64_t>::min(), 1441), write(-86'400'000, -1440)};
  a.take_in(ops);
  CHECK(a.fold().find(ops[0].key())->created->claimed == model::ClaimedTime{0, 0, 5});
  CHECK(a.fold().find(ops[1].key())->created->claimed == model::ClaimedTime{0, 0, 5});
  CHECK(a.fold().find(ops[2].key())->created->claimed == model::ClaimedTime{-86'400'000, -1440, 5});
}

TEST_CASE("three ops forged to share one short hash give one state in every order, however often they come") {
  const Device a = [] {
    Device made = device('a');
    made.begin(kind::set, {{set_tag::reps, 8}, {set_tag::load, 22}});
    return made;
  }();
  const auto forged = [&](std::uint64_t lam, std::vector<std::pair<std::uint32_t, std::uint64_t>> fields) {
    ChainedOp op = a.ops().front();
    op.op.lam = lam;
    std::erase_if(op.op.fields, [](const ops::Field& field) { return field.tag >= ops::tag::own; });
    for (const auto& [tag, value] : fields) op.op.fields.push_back(ops::unsigned_field(tag, value));
    return op;
  };
  kit::Dice dice(44);
  for (int round = 0; round < 400; ++round) {
    std::vector<ChainedOp> ops;
    for (int i = 0; i < 3; ++i) {
      std::vector<std::pair<std::uint32_t, std::uint64_t>> fields;
      for (const std::uint32_t tag : {set_tag::reps, set_tag::load, set_tag::rir})
        if (dice.between(0, 2) > 0) fields.emplace_back(tag, static_cast<std::uint64_t>(dice.between(1, 2)));
      ops.push_back(forged(5 + static_cast<std::uint64_t>(dice.between(0, 1)), fields));
    }
    ops.push_back(ops[static_cast<std::size_t>(dice.between(0, 2))]);
    const ops::Fold one = kit::fold_of(ops);
    for (int order = 0; order < 6; ++order) {
      dice.shuffle(ops);
      REQUIRE(kit::fold_of(ops) == one);
      REQUIRE(kit::fold_of(ops).write_state() == one.write_state());
    }
    REQUIRE(*Fold::read_state(one.write_state()) == one);
  }
}

TEST_CASE("two ops forged to share one short hash give one state in either order") {
  Device a = device('a');
  const auto set = a.begin(kind::set, {{set_tag::reps, 8}});
  const auto pain = a.begin(kind::pain, {{ops::pain_tag::band, 1}});
  a.change(set, {{set_tag::reps, 9}, {set_tag::load, 22}});
  a.take_back(set);
  a.end_pain(pain, 1);
  for (std::size_t i = 0; i < a.ops().size(); ++i) {
    const ChainedOp& op = a.ops()[i];
    for (const ChainedOp& other : a.ops()) {
      ChainedOp forged = other;
      forged.seq = op.seq;
      forged.hash = op.hash;
      forged.hash.bytes[31] ^= 1U;
      forged.op.lam += 1;
      REQUIRE(forged.key() == op.key());
      std::vector<ChainedOp> one = a.ops(), two = a.ops();
      one.push_back(forged);
      two.insert(two.begin(), forged);
      REQUIRE(kit::fold_of(one) == kit::fold_of(two));
      REQUIRE(kit::fold_of(one).write_state() == kit::fold_of(two).write_state());
      REQUIRE(*Fold::read_state(kit::fold_of(one).write_state()) == kit::fold_of(one));
    }
  }
}
