// The ladders, against the tables of handbook 5.1, 5.7 and 6.4a, typed from there and not from our table.
#include <doctest/doctest.h>

#include <map>
#include <set>
#include <sstream>

#include "model/assets.h"
#include "model/ladder.h"

using namespace slipway::model;

namespace {

std::vector<std::string> words(const std::string& text) {
  std::istringstream in(text);
  std::vector<std::string> out;
  for (std::string word; in >> word;) out.push_back(word);
  return out;
}

std::set<std::string> ids_of(const std::string& text) {
  const auto list = words(text);
  return {list.begin(), list.end()};
}

template <class Wanted>
std::set<std::string> rungs_that(Wanted wanted) {
  std::set<std::string> out;
  for (const Rung& rung : rungs())
    if (wanted(rung)) out.insert(rung.id);
  return out;
}

const Rung& rung(const std::string& id) {
  const Rung* found = find_rung(id);
  REQUIRE_MESSAGE(found != nullptr, id);
  return *found;
}

// The lines of 5.1: an arrow there is a step to the right here.
const std::vector<std::string> kLines{
    "SQ1 SQ2 SQ3 SQ4 SQ5 SQ6 SQ7 SQ8", "HG1 HG2 HG3 HG4 HG5", "HG6 HG7", "LU1 LU2 LU3 LU5 LU6 LU7", "VP1 VP2 VP3 VP4 VP5 VP6 VP7",
    "HP1 HP2 HP3 HP5", "PU1 PU2 PU3 PU4 PU5 PU6 PU7", "TR2 TR3 TR8", "TR4 TR5", "TR1 TR7 TR11",
    "PU3k PU4", "PU3b PU4",  // 6.4a: what the two alternatives lead to
};

}  // namespace

TEST_CASE("every exercise of the handbook is here once, in the order of its ladder") {
  const std::string all =
      "SQ1 SQ2 SQ3 SQ4 SQ5 SQ6 SQ7 SQ8 SQ9 HG1 HG2 HG3 HG4 HG5 HG6 HG7 LU1 LU2 LU3 LU4 LU5 LU6 LU7 "
      "VP1 VP2 VP3 VP4 VP4m VP5 VP6 VP7 VP8 VPx HP1 HP2 HP3 HP4 HP5 HP6 "
      "PU1 PU2 PU3 PU3k PU3b PU4 PU5 PU6 PU7 PU8 PU9 TR1 TR2 TR3 TR4 TR5 TR6 TR7 TR8 TR9 TR10 TR11 SC1 SC2 SC3 SC4 SC5 SC6 SC7 SC8";
  std::vector<std::string> held;
  for (const Rung& one : rungs()) held.push_back(one.id);
  CHECK(held == words(all));
}

TEST_CASE("every line is walked from its first rung to its last and no further") {
  std::set<std::string> on_a_line;
  for (const std::string& text : kLines) {
    const auto line = words(text);
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
      CAPTURE(line[i]);
      CHECK(rung(line[i]).next == line[i + 1]);
      on_a_line.insert(line[i]);
    }
  }
  // Where nothing follows: the last of a line, what stands beside one, and what stands alone.
  CHECK(rungs_that([&](const Rung& one) { return !one.next.empty(); }) == on_a_line);
}

TEST_CASE("easier undoes next, and where it does not the handbook says so") {
  // 5.1: backwards VP5 is left out; backwards from beside a line; HG6 is the kettlebell's way on from HG3.
  const std::map<std::string, std::string> said{{"VP6", "VP4"}, {"VP8", "VP6"}, {"VP4m", "VP3"}, {"PU8", "PU4"},  {"PU3b", "PU3"},
                                                {"PU3k", "PU2"}, {"LU4", "LU2"}, {"HP4", "HP3"}, {"HP6", "HP3"}, {"HG6", "HG3"}};
  std::map<std::string, std::string> easier = said;
  for (const std::string& text : kLines) {
    const auto line = words(text);
    if (line.front() == "PU3k" || line.front() == "PU3b") continue;  // they lead to PU4, PU4 goes back to PU3
    for (std::size_t i = 1; i < line.size(); ++i) easier.emplace(line[i], line[i - 1]);
  }
  for (const Rung& one : rungs()) {
    CAPTURE(one.id);
    CHECK(one.easier == (easier.count(one.id) != 0 ? easier.at(one.id) : ""));
  }
}

TEST_CASE("a walk down any line ends, and never leaves its pattern") {
  for (const Rung& one : rungs()) {
    CAPTURE(one.id);
    int steps = 0;
    for (const Rung* at = &one; at != nullptr; at = at->easier.empty() ? nullptr : &rung(at->easier)) {
      CHECK(at->pattern == one.pattern);
      REQUIRE(++steps < 10);
    }
  }
}

TEST_CASE("a youth without an adult has exactly the floor list") {
  CHECK(rungs_that([](const Rung& one) { return one.on_floor_list; }) ==
        ids_of("SQ1 SQ2 SQ3 HG1 HG2 HG3 LU1 LU2 LU3 LU4 PU1 PU2 PU3 PU4 PU9 TR1 TR2 TR3 TR4 TR5 TR6 TR7 TR10 SC4 SC5 SC6"));
  for (const Rung& one : rungs()) {  // 5.7: nothing that hangs, jumps, is loaded or is tied to a door
    if (!one.on_floor_list) continue;
    CAPTURE(one.id);
    CHECK_FALSE(one.loaded);
    CHECK(one.kind != ExerciseKind::jump);
    for (const std::string& word : one.equipment) {
      CHECK(word != "bar");
      CHECK(word != "band");
    }
  }
}

TEST_CASE("kinds are those of the table of kinds") {
  const auto of = [](ExerciseKind kind) { return rungs_that([kind](const Rung& one) { return one.kind == kind; }); };
  CHECK(of(ExerciseKind::loaded) == ids_of("SQ4 SQ5 SQ6 SQ7 SQ8 HG4 HG5 HG6 HG7 LU6 LU7 HP4 HP6 VP8 VPx PU8 VP4m"));
  CHECK(of(ExerciseKind::body_weight) == ids_of("SQ1 SQ2 SQ3 HG1 HG2 HG3 LU2 LU3 LU4 LU5 VP2 VP3 VP5 VP6 VP7 HP2 HP3 HP5 PU1 PU2 PU3 "
                                                "PU4 PU5 PU6 PU7 PU3k PU9 TR1 TR6 TR8 TR11 SC4 SC5 SC6"));
  CHECK(of(ExerciseKind::band_helps) == ids_of("VP4 PU3b"));
  CHECK(of(ExerciseKind::band_resists) == ids_of("HP1 SC1 SC2 SC3 SC7 TR9"));
  CHECK(of(ExerciseKind::hold) == ids_of("VP1 LU1 TR2 TR3 TR4 TR5 TR7 TR10 SC8"));  // SC8 is in no row of 6.4a: a position that is held
  CHECK(of(ExerciseKind::jump) == ids_of("SQ9"));
  CHECK(rungs_that([](const Rung& one) { return one.loaded; }) == of(ExerciseKind::loaded));
}

TEST_CASE("patterns follow the ladders, and the push-up plus is shoulder care") {
  const std::map<std::string, Pattern> ladders{{"SQ", Pattern::squat}, {"HG", Pattern::hinge}, {"LU", Pattern::lunge}, {"VP", Pattern::vertical_pull},
                                               {"HP", Pattern::horizontal_pull}, {"PU", Pattern::push}, {"TR", Pattern::trunk},
                                               {"SC", Pattern::shoulder_care}};
  for (const Rung& one : rungs()) {
    CAPTURE(one.id);
    CHECK(one.pattern == (one.id == "PU9" ? Pattern::shoulder_care : ladders.at(one.id.substr(0, 2))));
  }
  CHECK(to_text(Pattern::vertical_pull) == "vertical_pull");
  CHECK(to_text(ExerciseKind::band_helps) == "band_helps");
}

TEST_CASE("joints are those of the column Joints") {
  using namespace joint;
  const auto wants = [](const std::string& ids, std::uint32_t bits) {
    for (const std::string& id : words(ids)) CHECK_MESSAGE(rung(id).joints == bits, id);
  };
  wants("SQ1 SQ6 SQ7 LU1 LU2 LU3 LU4 LU5 LU6 LU7 HG5", hip | knee);
  wants("SQ2 SQ3 SQ9", hip | knee | ankle);
  wants("SQ4 SQ5 SQ8", hip | knee | ankle | spine);
  wants("HG1 HG2", hip);
  wants("HG3 HG4 HG6 HG7", hip | spine);
  wants("VP1 VP3 VP4 VP4m VP5 VP6 VP7 VP8 VPx HP1 HP2 HP3 HP4 HP5 HP6", shoulder | elbow);
  wants("VP2 PU9 SC1 SC2 SC3 SC4 SC5 SC6 SC7 SC8", shoulder);
  wants("PU1 PU2 PU3 PU3k PU3b PU4 PU5 PU6 PU7 PU8", shoulder | elbow | wrist);
  wants("TR1 TR2 TR3 TR4 TR5 TR6 TR7 TR9 TR10", spine);
  wants("TR8 TR11", spine | shoulder);
}

TEST_CASE("doses lie inside the ranges of the handbook, rests at their lower end") {
  struct Dose {
    std::string ids;
    std::uint32_t sets_from, sets_to, lo, hi, rest_s;
  };
  const std::vector<Dose> table{
      {"SQ1 SQ2 SQ3 SQ4 SQ5 SQ6 SQ7 SQ8", 3, 3, 8, 15, 120}, {"SQ9", 3, 3, 3, 6, 120},
      {"HG1 HG2 HG3 HG4 HG5 HG6 HG7", 3, 3, 8, 12, 120},     {"LU2 LU3 LU4 LU5 LU6 LU7", 2, 3, 6, 10, 60},
      {"VP1", 2, 3, 10, 30, 120},                            {"VP2 VP7 VP8 VPx", 2, 3, 8, 15, 120},
      {"VP3 VP4 VP4m VP6", 2, 5, 3, 8, 120},                 {"VP5", 1, 3, 3, 5, 120},
      {"HP1 HP2 HP3 HP4 HP5 HP6", 2, 3, 8, 15, 60},          {"PU1 PU2 PU3 PU3k PU3b PU4 PU5 PU6 PU7 PU8", 2, 4, 8, 15, 120},
      {"TR2 TR3 TR4 TR5 TR7 TR10", 2, 3, 20, 60, 30},        {"TR1 TR6 TR8 TR9 TR11", 2, 3, 6, 12, 30},
      {"PU9 SC1 SC2 SC3 SC4 SC5 SC6 SC7 SC8", 1, 3, 10, 20, 30}};
  std::set<std::string> seen{"LU1"};  // a hold in a table of reps: the handbook gives it no seconds
  for (const Dose& dose : table)
    for (const std::string& id : words(dose.ids)) {
      CAPTURE(id);
      const Rung& one = rung(id);
      CHECK((one.sets >= dose.sets_from && one.sets <= dose.sets_to));
      CHECK(one.lo == dose.lo);
      CHECK(one.hi == dose.hi);
      CHECK(one.rest_s == dose.rest_s);
      seen.insert(id);
    }
  CHECK(seen == rungs_that([](const Rung&) { return true; }));
}

TEST_CASE("a rep takes its usual time: squats and push-ups 3 s, pull-ups 4 s, a second of a hold 1 s") {
  for (const std::string& id : words("SQ1 SQ2 SQ3 SQ4 SQ6 SQ7 SQ8 PU1 PU2 PU3 PU4 PU6 PU7 PU8")) CHECK_MESSAGE(rung(id).rep_ms == 3000, id);
  for (const std::string& id : words("VP3 VP4 VP4m VP6 VP8 VPx")) CHECK_MESSAGE(rung(id).rep_ms == 4000, id);
  CHECK(rung("PU5").rep_ms == 5000);  // 3 down, 1 pause, 1 up
  for (const Rung& one : rungs()) {
    CAPTURE(one.id);
    CHECK(one.is_hold() == (one.rep_ms == 1000));
    CHECK(one.rep_ms % 1000 == 0);
    CHECK(one.rep_ms >= 1000);
    CHECK(one.rep_ms <= 60'000);
  }
}

TEST_CASE("push-up fractions are the measured six, and nothing is made up") {
  const std::map<std::string, std::uint32_t> measured{{"PU2", 41}, {"PU3k", 49}, {"PU3", 55}, {"PU4", 64}, {"PU5", 64},
                                                      {"PU6", 70}, {"PU7", 74},  {"PU8", 64}, {"PU9", 64}};
  for (const Rung& one : rungs()) CHECK_MESSAGE(one.fraction_hundredths == (measured.count(one.id) != 0 ? measured.at(one.id) : 0), one.id);
}

TEST_CASE("sides and hands: who does each side, and which loads are written for one hand") {
  CHECK(rungs_that([](const Rung& one) { return one.one_sided; }) ==
        ids_of("SQ6 SQ7 HG2 HG5 LU1 LU2 LU3 LU4 LU5 LU6 LU7 HP4 TR1 TR4 TR5 TR6 TR8 TR9 SC1 SC7 SC8"));
  CHECK(rungs_that([](const Rung& one) { return one.in_hands; }) == ids_of("SQ8 HG4 LU6 LU7 HP4 HP6"));
  for (const Rung& one : rungs()) CHECK_MESSAGE((!one.in_hands || one.loaded), one.id);
}

TEST_CASE("equipment words are those the head of the table explains") {
  const std::set<std::string> vocabulary = ids_of("bar low_bar bench box step band dumbbell kettlebell barbell plate vest belt machine mat stick rail rack wall space");
  const std::string_view asset_text = asset("ladders.table");
  const std::string head(asset_text.substr(0, asset_text.find("\nid | ")));
  for (const std::string& word : vocabulary) CHECK_MESSAGE(head.find(word) != std::string::npos, word);
  std::set<std::string> used;
  for (const Rung& one : rungs())
    for (const std::string& needed : one.equipment) {
      std::istringstream either(needed);
      for (std::string word; std::getline(either, word, '/');) {
        CHECK_MESSAGE(vocabulary.count(word) == 1, one.id << " needs " << word);
        used.insert(word);
      }
    }
  CHECK(used == vocabulary);
  CHECK(rung("SQ4").equipment == std::vector<std::string>{"dumbbell/kettlebell"});
  CHECK(rung("SQ7").equipment == std::vector<std::string>{"dumbbell/kettlebell", "bench"});
  CHECK(rung("VP6").equipment == std::vector<std::string>{"bar"});
  CHECK(rungs_that([](const Rung& one) { return one.equipment.empty(); }) ==
        ids_of("SQ3 SQ9 LU2 LU3 LU4 PU4 PU5 PU9 TR1 TR2 TR3 TR4 TR5 TR6 TR7 TR8 TR10 SC5 SC6"));
}

TEST_CASE("what a swimmer reads fits its place and does not shout") {
  for (const Rung& one : rungs()) {
    CAPTURE(one.id);
    CHECK_FALSE(one.name.empty());
    CHECK_FALSE(one.short_name.empty());
    CHECK(one.short_name.size() <= 11);
    CHECK_FALSE(one.cue.empty());
    for (const std::string& text : {one.name, one.cue, one.caution}) CHECK(text.find('!') == std::string::npos);
    CHECK(one.cue.back() == '.');
    CHECK((one.caution.empty() || one.caution.back() == '.'));
  }
}
