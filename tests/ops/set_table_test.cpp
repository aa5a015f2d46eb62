// Sets in columns: the same as the fold says, whatever the history, and as bytes small, whole or nothing.
#include "ops/set_table.h"

#include <algorithm>
#include <string>

#include <doctest/doctest.h>

#include "kit/club.h"
#include "kit/history.h"
#include "kit/ops_kit.h"
#include "ops/registry.h"
#include "ops/views.h"

using namespace slipway;
using ops::ChainedOp;
using ops::SetTable;

namespace {

using Ops = std::vector<ChainedOp>;

// ---- what the fold says, in words; read here once more, by the registers alone

std::string key_text(const model::IncarnationId& inc, std::uint64_t seq) { return inc.hex().substr(0, 6) + ":" + std::to_string(seq); }

std::vector<std::string> standing(const ops::Record& record, std::uint32_t tag) {
  std::vector<std::string> all;
  for (const ops::Written& written : record.visible(tag)) {
    const ops::Field field{tag, written.wire, written.payload};
    std::string text;
    if (tag == ops::set_tag::exercise) {
      const auto word = ops::read_text(field);
      if (!word) continue;
      text = std::string(*word);
    } else if (tag == ops::set_tag::load) {
      const auto list = ops::read_list(field);
      if (!list || list->size() != 3 || (*list)[1] > 3 || (*list)[2] < 1 || (*list)[2] > 6) continue;
      text = std::to_string(model::grams({ops::unzigzag((*list)[0]), static_cast<std::uint8_t>((*list)[1]), static_cast<model::Unit>((*list)[2])}));
    } else {
      const auto number = ops::read_unsigned(field);
      if (!number) continue;
      text = std::to_string(*number);
    }
    all.push_back(text + "@" + std::to_string(written.by.claimed.local_ms));
  }
  return all;
}

std::string first_of(const std::vector<std::string>& values) {
  return values.empty() ? "-" : values.front().substr(0, values.front().rfind('@'));
}

constexpr std::uint32_t kTags[] = {ops::set_tag::exercise, ops::set_tag::reps, ops::set_tag::load, ops::set_tag::rir, ops::set_tag::rest_ms};

std::string row_of(const ops::Fold& fold, const model::RecordId& id, const ops::Record& record) {
  std::string text = key_text(id.inc, id.seq);
  text += record.taken_back() ? " gone" : "";
  text += record.touched_by().size() > 1 || !record.acts->take_backs.empty() ? " edited" : "";
  std::string session = "-";
  for (const ops::Written& written : record.visible(ops::set_tag::session)) {
    const auto keys = ops::read_refs(ops::Field{0, written.wire, written.payload}, written.by.key.inc);
    if (!keys || keys->size() != 1) continue;
    const ops::Record* of = fold.find(keys->front());
    if (!of || !of->created || of->kind != ops::kind::session) break;
    session = key_text(keys->front().inc, keys->front().seq) + (of->taken_back() ? " gone" : "");
    if (const auto visible = of->visible(ops::session_tag::training_day); !visible.empty())
      if (const auto day = ops::read_signed(ops::Field{0, visible.front().wire, visible.front().payload})) session += " day " + std::to_string(*day);
    break;
  }
  text += " | " + session;
  std::string others;
  for (const std::uint32_t tag : kTags) {
    const auto values = standing(record, tag);
    text += " | " + first_of(values);
    if (values.size() > 1)
      for (const std::string& value : values) others += " " + std::to_string(tag) + "=" + value;
  }
  return text + " | " + std::to_string(record.created->claimed.local_ms) + others;
}

std::vector<std::string> rows_of(const ops::Fold& fold) {
  std::vector<std::string> rows;
  for (const auto& [id, record] : fold.records())
    if (record.created && record.kind == ops::kind::set) rows.push_back(row_of(fold, id, record));
  return rows;
}

std::vector<std::string> rows_of(const SetTable& table) {
  std::vector<std::string> rows;
  std::size_t other = 0;
  const auto number = [](bool there, auto value) { return there ? std::to_string(value) : std::string("-"); };
  for (std::size_t i = 0; i < table.size(); ++i) {
    const unsigned flags = table.flags[i];
    std::string text = key_text(table.incs[table.inc[i]], table.seq[i]);
    text += (flags & SetTable::taken_back) != 0 ? " gone" : "";
    text += (flags & SetTable::edited) != 0 ? " edited" : "";
    std::string session = "-";
    if (table.session[i] != 0) {
      const SetTable::Session& of = table.sessions[table.session[i] - 1];
      session = key_text(table.incs[of.inc], of.seq) + (of.here ? "" : " gone") + (of.day ? " day " + std::to_string(of.day->since_1970) : "");
    }
    text += " | " + session + " | " + (table.exercise[i] == 0 ? "-" : table.exercises[table.exercise[i] - 1]);
    text += " | " + number((flags & SetTable::has_reps) != 0, table.reps[i]) + " | " + number((flags & SetTable::has_load) != 0, table.load_g[i]);
    text += " | " + number((flags & SetTable::has_rir) != 0, table.rir[i]) + " | " + number((flags & SetTable::has_rest) != 0, table.rest_ms[i]);
    text += " | " + std::to_string(table.done_ms[i]);
    const std::size_t first_other = other;
    for (; other < table.others.size() && table.others[other].row == i; ++other) {
      const SetTable::Other& one = table.others[other];
      const std::string value = one.tag == ops::set_tag::load       ? std::to_string(ops::unzigzag(one.value))
                                : one.tag == ops::set_tag::exercise ? table.exercises[static_cast<std::size_t>(one.value) - 1]
                                                                    : std::to_string(one.value);
      text += " " + std::to_string(one.tag) + "=" + value + "@" + std::to_string(one.claimed_ms);
    }
    CHECK(((flags & SetTable::contradictory) != 0) == (other > first_other));
    rows.push_back(text);
  }
  CHECK(other == table.others.size());
  return rows;
}

std::vector<std::string> sorted(std::vector<std::string> rows) {
  std::sort(rows.begin(), rows.end());
  return rows;
}

Ops joined(const std::vector<Ops>& parts) {
  Ops all;
  for (const Ops& part : parts) all.insert(all.end(), part.begin(), part.end());
  return all;
}

void same_as_the_fold(const Ops& ops) {
  const SetTable table = SetTable::of(ops);
  REQUIRE(rows_of(table) == rows_of(kit::fold_of(ops)));
  const auto back = SetTable::read(table.write());
  REQUIRE(back);
  REQUIRE(*back == table);
}

}  // namespace

TEST_CASE("of any history the columns say what the fold says, on every part of the log") {
  std::uint64_t rows = 0, gone = 0, contradictions = 0;
  for (std::uint64_t seed = 1; seed <= 150; ++seed) {
    CAPTURE(seed);
    kit::History history(seed);
    history.run();
    for (std::size_t place = 0; place < history.places(); ++place) same_as_the_fold(history.device(place).ops());
    history.exchange_all();
    same_as_the_fold(history.device(0).ops());
    const SetTable table = SetTable::of(history.device(0).ops());
    rows += table.size();
    for (const std::uint16_t flags : table.flags) {
      gone += (flags & SetTable::taken_back) != 0 ? 1 : 0;
      contradictions += (flags & SetTable::contradictory) != 0 ? 1 : 0;
    }
  }
  MESSAGE(rows << " rows, " << gone << " taken back, " << contradictions << " contradictory");
  CHECK(gone > 0);
  CHECK(contradictions > 0);
}

TEST_CASE("the columns are a function of the set of ops: in any order, twice over, the same bytes") {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    CAPTURE(seed);
    Ops all = joined(kit::three_streams(seed, 12));
    const model::Bytes bytes = SetTable::of(all).write();
    kit::Dice dice(seed);
    dice.shuffle(all);
    Ops twice = joined({all, all});
    CHECK(SetTable::of(twice).write() == bytes);
    if (seed == 7) kit::print_digest("set_table.bytes", ops::blake2b(bytes));
  }
}

TEST_CASE("what lies above a watermark is laid on top, or the table says that it cannot") {
  std::uint64_t laid = 0, refused = 0;
  for (std::uint64_t seed = 1; seed <= 120; ++seed) {
    CAPTURE(seed);
    const std::vector<Ops> streams = kit::three_streams(seed, 4 + seed % 9);
    kit::Dice dice(seed);
    Ops below, above;
    const bool near_the_end = dice.one_in(2);
    for (const Ops& stream : streams) {
      const std::size_t left = near_the_end ? dice.below(std::min<std::size_t>(stream.size(), 4) + 1) : dice.below(stream.size() + 1);
      const auto cut = stream.end() - static_cast<std::ptrdiff_t>(left);
      below.insert(below.end(), stream.begin(), cut);
      above.insert(above.end(), cut, stream.end());
    }
    const SetTable before = SetTable::of(below);
    auto table = *SetTable::read(before.write());
    const bool fits = table.add(above);
    (fits ? laid : refused) += 1;
    if (fits) {
      REQUIRE(sorted(rows_of(table)) == sorted(rows_of(SetTable::of(joined({below, above})))));
    } else {
      REQUIRE(table == before);
    }
  }
  MESSAGE(laid << " laid on top, " << refused << " refused");
  CHECK(laid > 10);
  CHECK(refused > 10);
}

TEST_CASE("a set that goes on in the session of the table is laid on top; a change of a set in it, and a session that was awaited, are not") {
  kit::Device phone(kit::stream_named('w', 'p'), 1);
  const auto session = phone.begin(ops::kind::session, {{ops::session_tag::training_day, 20'000}});
  const auto in_session = ops::refs_field(ops::set_tag::session, {session}, phone.inc());
  const auto first = phone.begin(ops::kind::set, {{ops::set_tag::reps, 5}}, {}, {in_session});
  const Ops two = phone.ops();
  phone.begin(ops::kind::set, {{ops::set_tag::reps, 6}}, {}, {in_session});
  const Ops three = phone.ops();
  phone.change(first, {{ops::set_tag::reps, 7}});
  const Ops four = phone.ops();

  auto table = SetTable::of(two);
  REQUIRE(table.add({three.back()}));
  CHECK(rows_of(table) == rows_of(SetTable::of(three)));
  table = SetTable::of(three);
  CHECK_FALSE(table.add({four.back()}));
  auto without_session = SetTable::of({two.back()});
  CHECK(without_session.awaited == std::vector{session});
  CHECK_FALSE(without_session.add({two.front()}));
  auto without_set = SetTable::of({two.front(), four.back()});
  CHECK(without_set.awaited == std::vector{first});
  CHECK_FALSE(without_set.add({two.back()}));
}

TEST_CASE("columns with any byte changed, or cut short, are nothing") {
  const model::Bytes bytes = SetTable::of(joined(kit::three_streams(3, 8))).write();
  for (std::size_t at = 0; at < bytes.size(); ++at) {
    model::Bytes changed = bytes;
    changed[at] = static_cast<std::uint8_t>(changed[at] ^ 0x10);
    REQUIRE_FALSE(SetTable::read(changed));
    REQUIRE_FALSE(SetTable::read(model::ByteView(bytes).first(at)));
  }
}

TEST_CASE("columns under a true check read within their bounds, whatever they say") {
  kit::Dice dice(5);
  const model::Bytes bytes = SetTable::of(joined(kit::three_streams(5, 8))).write();
  std::uint64_t read = 0;
  for (int i = 0; i < 20'000; ++i) {
    model::Bytes changed = bytes;
    for (std::size_t flips = 1 + dice.below(3); flips > 0; --flips) changed[8 + dice.below(changed.size() - 8)] = static_cast<std::uint8_t>(dice.next());
    const model::Hash32 check = ops::blake2b(model::ByteView(changed).subspan(8));
    std::copy_n(check.bytes.begin(), 8, changed.begin());
    const auto table = SetTable::read(changed);
    if (!table) continue;
    ++read;
    for (std::size_t row = 0; row < table->size(); ++row) {
      REQUIRE(table->session[row] <= table->sessions.size());
      REQUIRE(table->exercise[row] <= table->exercises.size());
      REQUIRE(table->inc[row] < table->incs.size());
    }
  }
  CHECK(read > 0);
}

TEST_CASE("four seasons of one swimmer: the query's exact answer, in six bytes a set") {
  kit::Club club;
  const kit::ClubAthlete athlete = club.next();
  kit::ClubPens pens(0);
  pens.write(athlete);
  const Ops all = joined({pens.ops(0), pens.ops(1), pens.ops(2)});
  const SetTable table = SetTable::of(all);
  REQUIRE(table.size() == athlete.sets.size());
  CHECK(rows_of(table) == rows_of(kit::fold_of(all)));
  const std::size_t bytes = table.write().size();
  MESSAGE(bytes << " bytes, " << table.size() << " sets");
  CHECK(bytes < 6 * table.size());
}
