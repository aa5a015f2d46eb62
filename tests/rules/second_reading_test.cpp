// What a second reading of the rows found: who is stopped for how long, and what was done against what was due.
#include <doctest/doctest.h>

#include "kit/rules_kit.h"
#include "model/ladder.h"
#include "rules/sign_off.h"

using namespace slipway;
using namespace slipway::kit;
using namespace slipway::rules;

namespace {

constexpr std::uint32_t kLeg = model::joint::knee | model::joint::hip | model::joint::ankle | model::joint::spine;

SessionSituation squats(std::int64_t load_g = 20 * kg) {
  auto s = adult();
  s.kit.loads_g = loads(2 * kg, 40 * kg, 2 * kg);
  plan(s, dose("SQ4", load_g));
  return s;
}

Clearance word_for(const std::string& report, std::int32_t days_ago) {
  Clearance note;
  note.day = day(days_ago);
  note.at_ms = 1;  // of a clock far behind
  note.clinician_allowed = true;
  note.joints = kLeg;
  note.reports = {{report}};
  return note;
}

}  // namespace

TEST_CASE("A clearance that names a report counts, whatever date the two clocks gave them") {  // 2.7
  auto s = squats();
  did(s, 9, {10, 10, 10});
  auto& pain = hurt(s, 2, 7);
  pain.at = PainAt::check;
  pain.session_id.clear();
  CHECK(row(s) == "R01");
  s.clearances = {word_for(s.pains[0].id, 3)};  // where the coach is it was still the day before
  CHECK(row(s) == "R23");
  s.clearances[0].reports = {{"another"}};
  CHECK(row(s) == "R01");
  s.clearances[0].reports.reset();  // of its part and up to its day: the report came later
  CHECK(row(s) == "R01");

  for (const bool local : {false, true}) {
    auto t = squats();
    did(t, 9, {10, 10, 10});
    RedFlag flag;
    flag.id = "flag";
    flag.local = local;
    flag.joints = local ? model::joint::knee : 0;
    flag.day = day(1);
    t.red_flags.push_back(flag);
    t.clearances = {word_for("flag", 2)};
    t.clearances[0].general = !local;
    CHECK(decide(t).whether == Whether::normal);
    CHECK(row(t) == (local ? "R23" : "R22"));
  }
}

TEST_CASE("Pain said before a session stops that day; once its next morning was normal it is as any other") {  // 6.1
  auto s = squats();
  did(s, 3, {10, 10, 10});
  auto& check = hurt(s, 1, 4, {});
  check.at = PainAt::check;
  check.exercise.clear();
  check.session_id.clear();
  check.region = "knee";
  CHECK(row(s) == "R01");
  CHECK(asks(decided(s), Ask::settled));
  s.pains[0].settled = false;
  CHECK(row(s) == "R01");
  s.pains[0].settled = true;
  CHECK(row(s) == "R03");  // the rest of that joint
  s.athlete.age_low = s.athlete.age_high = 15;  // a youth's waits for the word of a clinician
  s.athlete.gate_on = false;
  CHECK(row(s) == "R01");
  s.athlete.age_low = s.athlete.age_high = 30;
  s.pains[0].day = day(8);
  CHECK(row(s) == "R22");
  s.pains[0].day = day(4);  // a session since, and nothing was said
  CHECK(row(s) == "R22");
  s.pains[0].day = day(0);
  CHECK(row(s) == "R01");
}

TEST_CASE("Nothing that hurts is given for what cannot be done here or alone") {  // 6.1, R01
  struct Given {
    const char* line;
    std::uint32_t joint;
    bool alone;
    std::vector<std::string> equipment;
  };
  for (const Given& given : {Given{"SQ6", model::joint::ankle, true, {"dumbbell"}}, Given{"SQ6", model::joint::ankle, false, {}},
                             Given{"HG5", model::joint::spine, false, {}}}) {
    const std::string line = given.line;
    CAPTURE(line);
    auto s = youth(15, 60 * kg);
    s.adult_ticked_in = !given.alone;
    s.kit.equipment = given.equipment;
    const model::Rung* rung = model::find_rung(given.line);
    plan(s, dose(given.line, rung->loaded ? std::optional(10 * kg) : std::nullopt));
    did(s, 3, {10, 10, 10});
    auto& pain = hurt(s, 3, 7);
    pain.exercise.clear();
    pain.joints = given.joint;
    for (const auto& exercise : decide(s).exercises) {
      if (exercise.action != Action::train) continue;
      const model::Rung* shown = model::find_rung(exercise.dose.exercise);
      REQUIRE(shown != nullptr);
      CHECK((shown->joints & given.joint) == 0);
    }
  }
}

TEST_CASE("Without a bar a body row stands in, where nothing forbids it and a youth has been seen doing it") {  // 5.2, 6.8
  const auto with_low_bar = [](SessionSituation s) {
    s.kit.equipment = {{"low_bar"}};
    plan(s, dose("VP2"));
    did(s, 3, {10, 10, 10});
    return s;
  };
  auto grown = with_low_bar(adult());
  CHECK(decided(grown).dose.exercise == "HP3");
  auto& pain = hurt(grown, 2, 7);
  pain.at = PainAt::swim;
  pain.exercise.clear();
  pain.session_id.clear();
  pain.joints = model::joint::elbow;  // which the scapular pull does not load, and the row does
  CHECK(decided(grown).action == Action::leave_out);

  auto young = with_low_bar(youth(15, 60 * kg));
  CHECK(decided(young).action == Action::leave_out);
  signed_off(young, "HP3", SignOffLevel::sound, 2);
  CHECK(decided(young).dose.exercise == "HP3");
}

TEST_CASE("A cut by rungs does not land on one that hurts: it keeps the rung and takes the reps") {  // 6.1 "Cut"
  auto s = adult();
  plan(s, dose("VP2"));
  did(s, 40, {10, 10, 10});
  REQUIRE(decided(s).dose.exercise == "VP1");  // a hang, which loads the elbow as well
  auto& pain = hurt(s, 5, 7);
  pain.at = PainAt::swim;
  pain.exercise.clear();
  pain.session_id.clear();
  pain.joints = model::joint::elbow;
  CHECK(decided(s).action == Action::train);
  CHECK(decided(s).dose.exercise == "VP2");
  CHECK(reps_of(decided(s).dose).front() < 10);
}

TEST_CASE("A step back for form that was cut for the day is still to come") {  // R28
  auto s = youth(15, 60 * kg);
  s.kit.loads_g = loads(1 * kg, 40 * kg, 1 * kg);
  plan(s, dose("SQ4", 12 * kg));
  did(s, 9, {12, 12, 12}, 3);
  signed_off(s, "SQ4", SignOffLevel::withdrawn, 8);
  CHECK(row(s) == "R28");
  auto& cut = first(did(s, 3, {8, 8}));
  cut.written = Written{};
  cut.written->standing = dose("SQ4", 12 * kg);
  cut.written->rows = {"G09", "R28"};
  cut.written->passing = true;
  CHECK(row(s) == "R28");
  cut.written->passing = false;
  CHECK(row(s) != "R28");
}

TEST_CASE("A heavier load chosen while it hurt does not become the standing one, said at the exercise or of its joint") {  // 6.1
  for (const bool at_it : {true, false}) {
    auto s = squats();
    auto& session = did(s, 3, {10, 10, 10});
    for (SetFact& set : first(session).sets) set.load_g = 24 * kg;
    const std::vector<Prescribed> prescribed{{dose("SQ4", 20 * kg), day(30), true}};
    CHECK(present_line(prescribed, s.history, s.pains, s.athlete, s.today).standing.load_g == 24 * kg);
    auto& pain = hurt(s, 3, 2);
    if (!at_it) {
      pain.exercise.clear();
      pain.joints = model::joint::knee;
    }
    s.lines[0] = present_line(prescribed, s.history, s.pains, s.athlete, s.today);
    CHECK(s.lines[0].standing.load_g == 20 * kg);
    CHECK(row(s) == "R03");
    s.pains[0].joints = model::joint::wrist;
    s.pains[0].exercise.clear();
    CHECK(present_line(prescribed, s.history, s.pains, s.athlete, s.today).standing.load_g == 24 * kg);
  }
}

TEST_CASE("Increases that were held, and tops with nowhere to go, end no sign-off") {  // 6.8 "two increases"
  const auto after = [](const std::vector<std::string>& rows, bool changes, bool slower = false) {
    auto s = youth(15, 60 * kg);
    s.kit.loads_g = loads(1 * kg, 40 * kg, 1 * kg);
    plan(s, dose("SQ4", 12 * kg));
    did(s, 7, {12, 12, 12}, 3);
    did(s, 3, {12, 12, 12}, 3);
    signed_off(s, "SQ4", SignOffLevel::sound, 30);
    for (const std::int32_t ago : {26, 20, 14}) {
      auto& done = first(did(s, ago, {8, 8, 8}));
      done.written = Written{};
      done.written->standing = dose("SQ4", changes && ago != 26 ? (ago == 20 ? 10 * kg : 11 * kg) : 9 * kg);
      if (slower) done.written->standing.tempo = {ago == 26 ? 2U : ago == 20 ? 3U : 4U, 0, 1, 0};
      done.written->rows = ago == 26 ? std::vector<std::string>{"G13", "R22"} : rows;
    }
    return row(s);
  };
  CHECK(after({"G13", "R15"}, true) == "R26");
  CHECK(after({"G13", "R15", "M03"}, true) == "R15");
  CHECK(after({"G13", "G09", "R15"}, true) == "R15");
  CHECK(after({"G13", "R17"}, false) == "R15");
  CHECK(after({"G13", "R13"}, false) == "R15");  // more reps are no increase
  CHECK(after({"G13", "R13"}, false, true) == "R26");  // a slower lowering is [6.1]
}

TEST_CASE("A milestone whose step was held comes again") {  // 6.5
  auto s = adult();
  weighs(s, 60 * kg);
  s.kit.loads_g = loads(2 * kg, 40 * kg, 2 * kg);
  plan(s, dose("SQ4", 28 * kg, 3, 8, 25));
  auto& test = did_other(s, 9, "SQ4", 30 * kg, {25}, kNotSaid);
  first(test).test = true;
  CHECK(row(s) == "R14");
  auto& held = first(did(s, 3, {20, 20, 20}));
  held.written = Written{};
  held.written->standing = s.lines[0].standing;
  held.written->rows = {"G13", "R14", "M03"};
  CHECK(row(s) == "R14");
  held.written->rows = {"G13", "R14"};
  CHECK(row(s) != "R14");
}

TEST_CASE("A sign-off that was given after the pain of its day is not ended by it") {  // 6.8 "after R01 or R02"
  auto s = youth(15, 60 * kg);
  s.kit.loads_g = loads(1 * kg, 40 * kg, 1 * kg);
  plan(s, dose("SQ4", 12 * kg));
  did(s, 10, {10, 10, 10}, 2);
  hurt(s, 10, 3);
  did(s, 7, {12, 12, 12}, 3);
  did(s, 3, {12, 12, 12}, 3);
  signed_off(s, "SQ4", SignOffLevel::sound, 10);
  s.sign_offs[0].at_ms = s.pains[0].at_ms + 1;
  CHECK(form_of("SQ4", s).open());
  s.sign_offs[0].at_ms = s.pains[0].at_ms - 1;
  CHECK_FALSE(form_of("SQ4", s).open());
}
