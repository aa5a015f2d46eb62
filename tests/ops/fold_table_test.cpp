// The merge table, every cell: what one did, what another did who had or had not seen it,
// and what both show afterwards, whatever the order in which it arrives.
#include <algorithm>
#include <numeric>
#include <string>

#include <doctest/doctest.h>

#include "kit/ops_kit.h"
#include "ops/registry.h"
#include "ops/views.h"

using namespace slipway;
using kit::Device;
using ops::ChainedOp;

namespace {

enum class Did { nothing, write, remove, end };

struct Column {  // what the second one did, having seen the first or not
  Did did;
  bool saw;
};

struct Kind {
  const char* name;
  std::uint32_t kind, tag;
  bool taken_back_before;  // both start from a record that somebody has taken back
};

const Kind kRegister{"register", ops::kind::prescription, ops::prescription_tag::reps, false};
const Kind kFact{"fact", ops::kind::set, ops::set_tag::reps, false};
const Kind kTakeBack{"take-back", ops::kind::set, ops::set_tag::reps, true};
const Kind kPain{"pain", ops::kind::pain, ops::pain_tag::amount, false};

void act(Device& device, const Kind& kind, const model::RecordId& record, Did did, std::int64_t value) {
  switch (did) {
    case Did::nothing: break;
    case Did::write: device.change(record, {{kind.tag, value}}); break;
    case Did::remove: device.take_back(record); break;
    case Did::end: device.end_pain(record, 1); break;
  }
}

std::string shown(const ops::Fold& fold, const Kind& kind, const model::RecordId& id) {
  const ops::Record& record = *fold.find(id);
  std::string text = record.taken_back() ? "taken back " : record.revived() ? "revived " : "stands ";
  const auto visible = record.visible(kind.tag);
  for (std::size_t i = 0; i < visible.size(); ++i) text += (i > 0 ? "|" : "") + std::to_string(kit::value_of(kind.tag, visible[i]));
  return text + (record.acts->endings.empty() ? "" : ", ended");
}

// Every order of arrival, each op twice, and every part of the set is a state of its own.
void check_all_orders(const std::vector<ChainedOp>& ops, const ops::Fold& expected) {
  std::vector<std::size_t> order(ops.size());
  std::iota(order.begin(), order.end(), 0);
  do {
    ops::Fold fold(expected.scope());
    for (std::size_t i : order) fold.add(ops[i]);
    for (std::size_t i : order) fold.add(ops[i]);
    REQUIRE(fold == expected);
    REQUIRE(fold.write_state() == expected.write_state());
  } while (std::next_permutation(order.begin(), order.end()));
  for (std::size_t part = 0; part < (std::size_t{1} << ops.size()); ++part) {
    ops::Fold some(expected.scope());
    for (std::size_t i = 0; i < ops.size(); ++i)
      if ((part >> i) & 1U) some.add(ops[i]);
    REQUIRE(*ops::Fold::read_state(some.write_state()) == some);
    for (const ChainedOp& op : ops) some.add(op);
    REQUIRE(some == expected);
  }
}

std::string cell(const Kind& kind, Did first, const Column& second) {
  Device a(kit::stream_named('s', 'a'), 1), b(kit::stream_named('s', 'b'), 2);
  const model::RecordId record = a.begin(kind.kind, {{kind.tag, 8}});
  if (kind.taken_back_before) a.take_back(record);
  b.take_in(a.ops());
  act(a, kind, record, first, 9);
  if (second.saw) b.take_in(a.ops());
  act(b, kind, record, second.did, 10);
  a.take_in(b.ops());
  b.take_in(a.ops());
  REQUIRE(a.fold().digest() == b.fold().digest());
  check_all_orders(b.ops(), a.fold());
  return shown(a.fold(), kind, record);
}

struct Row {
  Did first;
  std::vector<std::string> cells;
};

void check_table(const Kind& kind, const std::vector<Column>& columns, const std::vector<Row>& rows) {
  for (const Row& row : rows) {
    REQUIRE(row.cells.size() == columns.size());
    for (std::size_t i = 0; i < columns.size(); ++i) {
      CAPTURE(kind.name);
      CAPTURE(static_cast<int>(row.first));
      CAPTURE(i);
      CHECK(cell(kind, row.first, columns[i]) == row.cells[i]);
    }
  }
}

const std::vector<Column> kColumns{
    {Did::nothing, true}, {Did::write, true}, {Did::write, false}, {Did::remove, true}, {Did::remove, false},
};

}  // namespace

TEST_CASE("merge table: one field of the plan") {
  check_table(kRegister, kColumns,
              //               nothing         wrote, seen   wrote, unseen   removed, seen    removed, unseen
              {{Did::nothing, {"stands 8",     "stands 10",  "stands 10",    "taken back 8",  "taken back 8"}},
               {Did::write,   {"stands 9",     "stands 10",  "stands 10|9",  "taken back 9",  "revived 9"}},
               {Did::remove,  {"taken back 8", "revived 10", "revived 10",   "taken back 8",  "taken back 8"}}});
}

TEST_CASE("merge table: a set that was done and its corrections") {
  check_table(kFact, kColumns,
              {{Did::nothing, {"stands 8",     "stands 10",  "stands 10",    "taken back 8",  "taken back 8"}},
               {Did::write,   {"stands 9",     "stands 10",  "stands 10|9",  "taken back 9",  "revived 9"}},
               {Did::remove,  {"taken back 8", "revived 10", "revived 10",   "taken back 8",  "taken back 8"}}});
}

TEST_CASE("merge table: a set that had been taken back before") {
  check_table(kTakeBack, kColumns,
              {{Did::nothing, {"taken back 8", "revived 10", "revived 10",   "taken back 8",  "taken back 8"}},
               {Did::write,   {"revived 9",    "revived 10", "revived 10|9", "taken back 9",  "revived 9"}},
               {Did::remove,  {"taken back 8", "revived 10", "revived 10",   "taken back 8",  "taken back 8"}}});
}

TEST_CASE("merge table: pain is never hidden, only ended") {
  std::vector<Column> columns = kColumns;
  columns.push_back({Did::end, true});
  columns.push_back({Did::end, false});
  check_table(kPain, columns,
              {{Did::nothing, {"stands 8", "stands 10", "stands 10", "stands 8", "stands 8", "stands 8, ended", "stands 8, ended"}},
               {Did::write, {"stands 9", "stands 10", "stands 10|9", "stands 9", "stands 9", "stands 9, ended", "stands 9, ended"}},
               {Did::remove, {"stands 8", "stands 10", "stands 10", "stands 8", "stands 8", "stands 8, ended", "stands 8, ended"}},
               {Did::end,
                {"stands 8, ended", "stands 10, ended", "stands 10, ended", "stands 8, ended", "stands 8, ended", "stands 8, ended",
                 "stands 8, ended"}}});
}

// ---- words of a list: what two people did with one word -------------------------------------------------

namespace {

enum class Word : std::uint8_t { nothing, add, remove };

void act_on_word(Device& device, Word did) {
  const auto word = [&device] {
    for (const auto& [text, records] : ops::standing_words(device.fold(), "1"))
      if (text == "7") return records;
    return std::vector<model::RecordId>{};
  };
  if (did == Word::add) device.begin(ops::kind::member, {{ops::member_tag::list, 1}, {ops::member_tag::word, 7}});
  if (did == Word::remove)
    for (const model::RecordId& id : word()) device.take_back(id);
}

// Both know a list that has the word; then each acts, the second having seen the first or not.
std::string word_after(Word first, Word second, bool saw) {
  Device a(kit::stream_named('s', 'a'), 1), b(kit::stream_named('s', 'b'), 2);
  act_on_word(a, Word::add);
  b.take_in(a.ops());
  act_on_word(a, first);
  if (saw) b.take_in(a.ops());
  act_on_word(b, second);
  a.take_in(b.ops());
  b.take_in(a.ops());
  REQUIRE(a.fold().digest() == b.fold().digest());
  check_all_orders(b.ops(), a.fold());
  return ops::standing_words(a.fold(), "1").empty() ? "out" : "in";
}

}  // namespace

TEST_CASE("merge table: a word in a list, where adding wins over a removal that did not know of it") {
  const std::vector<std::pair<Word, bool>> columns{
      {Word::nothing, true}, {Word::add, true}, {Word::add, false}, {Word::remove, true}, {Word::remove, false}};
  const auto row = [&](Word first) {
    std::vector<std::string> cells;
    for (const auto& [second, saw] : columns) cells.push_back(word_after(first, second, saw));
    return cells;
  };
  //                                                     nothing  add, seen  add, unseen  removed, seen  removed, unseen
  CHECK(row(Word::nothing) == std::vector<std::string>{"in", "in", "in", "out", "out"});
  CHECK(row(Word::add)     == std::vector<std::string>{"in",  "in", "in", "out", "in"});
  CHECK(row(Word::remove)  == std::vector<std::string>{"out", "in", "in", "out", "out"});
}

// ---- small preferences ----------------------------------------------------------------------------------

namespace {

std::string preferred(Did first, const Column& second) {
  Device a(kit::stream_named('s', 'a'), 1), b(kit::stream_named('s', 'b'), 2);
  const auto say = [](Device& device, std::int64_t value) {
    return device.begin(ops::kind::preference, {{ops::preference_tag::name, 1}, {ops::preference_tag::value, value}});
  };
  const model::RecordId record = say(a, 8);
  b.take_in(a.ops());
  const auto act_on = [&](Device& device, Did did, std::int64_t value) {
    if (did == Did::write) say(device, value);
    if (did == Did::remove) device.take_back(record);
  };
  act_on(a, first, 9);
  if (second.saw) b.take_in(a.ops());
  act_on(b, second.did, 10);
  a.take_in(b.ops());
  b.take_in(a.ops());
  check_all_orders(b.ops(), a.fold());
  const auto all = ops::read_athlete(a.fold()).preferences;
  REQUIRE(all.size() <= 1);
  return all.empty() ? "none" : all.front().value;
}

}  // namespace

TEST_CASE("merge table: a small preference picks one by itself, the same everywhere") {
  const auto row = [&](Did first) {
    std::vector<std::string> cells;
    for (const Column& second : kColumns) cells.push_back(preferred(first, second));
    return cells;
  };
  //                                                      nothing  wrote, seen  wrote, unseen  removed, seen  removed, unseen
  CHECK(row(Did::nothing) == std::vector<std::string>{"8",    "10", "10", "none", "none"});
  CHECK(row(Did::write)   == std::vector<std::string>{"9",    "10", "10", "9",    "9"});  // unseen: equal counts, the higher writer
  CHECK(row(Did::remove)  == std::vector<std::string>{"none", "10", "10", "none", "none"});
}

// ---- answering "edited while you deleted it" --------------------------------------------------------------

TEST_CASE("a record that came back is flagged until somebody who saw the removal says keep it, or removes it again") {
  Device a(kit::stream_named('s', 'a'), 1), b(kit::stream_named('s', 'b'), 2);
  const model::RecordId record = a.begin(ops::kind::prescription, {{kRegister.tag, 8}});
  b.take_in(a.ops());
  a.take_back(record);
  b.change(record, {{kRegister.tag, 9}});
  a.take_in(b.ops());
  REQUIRE(shown(a.fold(), kRegister, record) == "revived 9");
  b.take_in(a.ops());

  a.keep_it(record);
  CHECK(shown(a.fold(), kRegister, record) == "stands 9");
  SUBCASE("removed again by somebody who had not seen the answer: flagged anew") {
    b.take_back(record);
    CHECK(shown(b.fold(), kRegister, record) == "taken back 9");
    a.take_in(b.ops());
    b.take_in(a.ops());
    CHECK(shown(a.fold(), kRegister, record) == "revived 9");
  }
  SUBCASE("removed again in knowledge of it: gone") {
    b.take_in(a.ops());
    b.take_back(record);
    a.take_in(b.ops());
    CHECK(shown(a.fold(), kRegister, record) == "taken back 9");
  }
  b.take_in(a.ops());
  check_all_orders(b.ops(), a.fold());
}
