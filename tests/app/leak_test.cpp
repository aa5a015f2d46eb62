// Row 16 of the table of tests: what one athlete's bundle carries of anybody else is looked for in its raw bytes.
#include <doctest/doctest.h>

#include <algorithm>
#include <bitset>
#include <cstring>
#include <map>
#include <set>
#include <string>
#include <unordered_set>

#include "book_kit.h"
#include "kit/bundle_kit.h"
#include "kit/rows.h"
#include "sync/bundle.h"

using namespace slipway;
using kit::Author;
using kit::entry_of;

namespace {

// Ids, hashes and records all travel as at least their first eight bytes.
using Eight = std::uint64_t;
Eight first_eight(model::ByteView bytes) {
  Eight eight = 0;
  std::memcpy(&eight, bytes.data(), sizeof(eight));
  return eight;
}

bool holds_any(model::ByteView raw, const std::unordered_set<Eight>& foreign) {
  std::bitset<65536> beginnings;  // most places are nobody's by their first two bytes
  for (const Eight eight : foreign) beginnings.set(eight & 0xFFFF);
  for (std::size_t at = 0; at + sizeof(Eight) <= raw.size(); ++at) {
    const Eight eight = first_eight(raw.subspan(at));
    if (beginnings.test(eight & 0xFFFF) && foreign.count(eight) != 0) return true;
  }
  return false;
}

bool holds_text(model::ByteView raw, const std::string& text) {
  return std::search(raw.begin(), raw.end(), text.begin(), text.end()) != raw.end();
}

// Everything packed is unpacked: the bytes that a reader of the file can come by.
model::Bytes raw_bytes(const model::Bytes& file) {
  const auto read = sync::read_bundle(file, "out.slip");
  REQUIRE(read.ok());
  auto plain = sync::write_bundle(read->bundle, {}, sync::Packing::plain);
  REQUIRE(plain.ok());
  return *plain;
}

struct Someone {
  model::ScopeId scope;
  std::vector<std::string> texts;  // typed by or about them, found nowhere else
  std::unordered_set<Eight> marks;  // their scope and records
};

// A squad on a coach's and a tablet's store: who wrote where is drawn.
class DrawnSquad {
 public:
  explicit DrawnSquad(std::uint64_t seed) : dice_(seed), coach(seed * 2), tablet(seed * 2 + 1) {
    const std::uint64_t count = 2 + dice_.below(3);
    for (std::uint64_t i = 0; i < count; ++i) add_someone(i);
    library_ = *coach.book().add_library("Library qxlib", Author::coach);
    kit::carry(coach.book(), tablet.book());
    for (Someone& one : all)
      if (dice_.below(2) == 0) log_some(tablet.book(), one);
    kit::carry(tablet.book(), coach.book());
    for (const model::ScopeId& notes : coach.book().coach_notes()) apart_.insert(first_eight(notes.view()));
    apart_.insert(first_eight(library_.view()));
    note_marks();
  }

  // What must not stand in a bundle of this one that this book has made.
  std::unordered_set<Eight> foreign_to(const Someone& own, app::Book& maker) {
    std::unordered_set<Eight> foreign = apart_;
    for (const Someone& one : all)
      if (&one != &own) foreign.insert(one.marks.begin(), one.marks.end());
    for (const app::Book* book : {&coach.book(), &tablet.book()}) {
      const model::IncarnationId inc = book->opening().inc;
      if (writers_[own.scope.hex()].count(inc.hex()) == 0 && !(inc == maker.opening().inc)) foreign.insert(first_eight(inc.view()));
    }
    return foreign;
  }

 private:
  void add_someone(std::uint64_t nth) {
    Someone one;
    const std::string sign = "qx" + std::to_string(nth) + "z";
    one.texts = {"Swimmer " + sign, "said " + sign, "only coaches " + sign, "spot " + sign};
    const auto made = coach.book().add_athlete({.name = one.texts[0], .birth_year = 1990}, Author::coach);
    REQUIRE(made.ok());
    one.scope = *made;
    REQUIRE(coach.book().add_note(one.scope, {.text = one.texts[1]}, Author::coach).ok());
    if (dice_.below(2) == 0) {
      REQUIRE(coach.book().add_note(one.scope, {.text = one.texts[2], .coach_only = true}, Author::coach).ok());
    }
    REQUIRE(coach.book().add_note(one.scope, {.text = one.texts[3]}, Author::swimmer).ok());
    if (dice_.below(2) == 0) {
      REQUIRE(coach.book().note_pain(one.scope, "shoulder", 1, Author::swimmer).ok());
    }
    log_some(coach.book(), one);
    all.push_back(std::move(one));
  }

  void log_some(app::Book& book, const Someone& one) {
    for (std::uint64_t sets = 1 + dice_.below(3); sets > 0; --sets)
      REQUIRE(book.log_set(one.scope, entry_of("SQ4", 3 + dice_.below(8)), model::day_of(book.now()), Author::swimmer).ok());
  }

  void note_marks() {
    const auto whole = sync::read_bundle(*coach.book().make_bundle({.libraries = true, .coach_notes = true}), "all.slip");
    REQUIRE(whole.ok());
    for (const ops::ChainedOp& op : whole->ops) {
      writers_[op.stream.scope.hex()].insert(op.stream.inc.hex());
      const auto owner = std::find_if(all.begin(), all.end(), [&](const Someone& one) { return one.scope == op.stream.scope; });
      (owner == all.end() ? apart_ : owner->marks).insert(first_eight(op.hash.view()));
    }
    for (Someone& one : all) one.marks.insert(first_eight(one.scope.view()));
  }

  kit::SameRandom dice_;
  std::map<std::string, std::set<std::string>> writers_;
  std::unordered_set<Eight> apart_;  // the library and what only coaches hold
  model::ScopeId library_;

 public:
  kit::SquadDevice coach, tablet;
  std::vector<Someone> all;
};

}  // namespace

TEST_CASE("one athlete's bundle carries nobody else: no id, no record, no name, no word, no writer who never wrote there") {
  const std::uint64_t squads = kit::times(kit::kWasm ? 50 : 1'000, 20'000);
  std::uint64_t bundles = 0, findings = 0, own_found = 0;
  for (std::uint64_t seed = 1; seed <= squads; ++seed) {
    CAPTURE(seed);
    DrawnSquad squad(seed);
    for (app::Book* maker : {&squad.coach.book(), &squad.tablet.book()}) {
      for (const Someone& one : squad.all) {
        const auto file = maker->make_bundle({.athletes = {one.scope}});
        REQUIRE(file.ok());
        const model::Bytes raw = raw_bytes(*file);
        bundles += 1;
        findings += holds_any(raw, squad.foreign_to(one, *maker)) ? 1 : 0;
        findings += holds_text(raw, "qxlib") || holds_text(raw, one.texts[2]) ? 1 : 0;
        for (const Someone& other : squad.all)
          for (const std::string& text : other.texts)
            if (&other != &one) findings += holds_text(raw, text) ? 1 : 0;
        // The test of the test: the same search finds what belongs there.
        own_found += holds_any(raw, {first_eight(one.scope.view())}) && holds_text(raw, one.texts[0]) ? 1 : 0;
      }
    }
  }
  kit::row(16, squads, "squads, " + std::to_string(bundles) + " bundles of one athlete, " + std::to_string(findings) + " findings");
  CHECK(findings == 0);
  CHECK(own_found == bundles);
}
