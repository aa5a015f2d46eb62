// The sentence of each row, against the column Reason text of handbook 6.2 to 6.4 (without its exclamation marks).
#include <doctest/doctest.h>

#include "report/reasons.h"
#include "report/words.h"

using namespace slipway;
using report::sentence;

namespace {

rules::Argument number(const char* name, std::int64_t value) { return {name, value, ""}; }
rules::Argument word(const char* name, const char* text) { return {name, 0, text}; }
std::string said(const char* row, std::vector<rules::Argument> args = {}) {
  rules::Reason reason;
  reason.row = row;
  reason.args = std::move(args);
  return sentence(reason);
}

}  // namespace

TEST_CASE("gates say the sentence of the handbook") {
  CHECK(said("G01", {word("flag", "chest_pain")}) == "You reported chest pain. Stop training and get medical advice.");
  CHECK(said("G01") == "You reported a warning sign. Stop training and get medical advice.");
  CHECK(said("G02") == "Rest while you are ill. Training waits.");
  CHECK(said("G08") == "Muscles need a day between.");
  CHECK(said("G09") == "48 hours between sessions is better.");
  CHECK(said("G11") == "No coach here today: floor version.");
}

TEST_CASE("a stop names the pain, and the part where one part is meant") {
  CHECK(said("R01", {number("amount", 7), word("region", "low_back")}) == "Pain 7/10 in the low back. Stop this and see a clinician.");
  CHECK(said("R01", {number("amount", 7), word("region", ""), number("joints", model::joint::knee)}) == "Pain 7/10 in the knee. Stop this and see a clinician.");
  CHECK(said("R01", {number("amount", 7), word("region", ""), number("joints", model::joint::knee | model::joint::hip)}) ==
        "Pain 7/10. Stop this and see a clinician.");
  CHECK(said("R01", {number("amount", 0), number("joints", model::joint::ankle)}) ==
        "A warning sign in the ankle was reported. Stop this and see a clinician.");
}

TEST_CASE("a swap names what hurt and what is done instead, or that nothing is") {
  CHECK(said("R02", {word("exercise", "SQ4"), number("amount", 4), word("substitute", "SQ2")}) == "Goblet squat hurt (4/10): we use body-weight squat to box.");
  CHECK(said("R02", {word("exercise", "SQ4"), number("amount", 4), word("substitute", "")}) == "Goblet squat hurt (4/10): left out today. Tell the coach.");
}

TEST_CASE("what is left out tells what left it out, not the mark that nothing of it counts") {
  rules::ExerciseDecision out;
  out.action = rules::Action::leave_out;
  out.row.row = "R02";
  out.modifiers.push_back(rules::Reason{"M08", {}, {}, {}});
  CHECK(report::told(out).row == "R02");
  out.modifiers.insert(out.modifiers.begin(), rules::Reason{"6.1", {}, {}, {}});
  CHECK(report::told(out).row == "6.1");
}

TEST_CASE("breaks, cuts and holds say the sentence of the handbook") {
  CHECK(said("R04") == "Twelve weeks off: we start fresh.");
  for (const char* row : {"R05", "R06", "R07"}) CHECK(said(row, {number("days", 30)}) == "30 days off: start light, it comes back quickly.");
  CHECK(said("R08") == "A week off costs nothing: same as last time.");
  CHECK(said("R09") == "Soreness over a week is not normal.");
  CHECK(said("R10", {number("days", 5)}) == "Still sore after 5 days: less this time.");
  CHECK(said("R11", {number("reps", 8)}) == "Below 8 reps twice: step back to build up.");
  CHECK(said("R12") == "One hard day: try the same again.");
  CHECK(said("R03") == "A little pain: same dose, watch it.");
  CHECK(said("R23", {word("exercise", "VP6")}) == "Pull-up is back: lighter first.");
  CHECK(said("R24", {number("step", 2), number("of", 4)}) == "On the way back: step 2 of 4.");
  CHECK(said("R25") == "Very sore today: fewer sets, move well.");
  CHECK(said("R28") == "Form first: lighter until it looks right.");
  rules::Reason withdrawn;
  withdrawn.row = "R28";
  withdrawn.args = {word("note", "an id")};
  const auto note = [](const std::string& id) { return std::string(id == "an id" ? "Heels come up" : ""); };
  CHECK(sentence(withdrawn, {.note = note}) == "Heels come up: lighter until it looks right.");
}

TEST_CASE("steps up say what goes up, in the reader's own units") {
  const std::vector<rules::Argument> step{word("what", "load"), number("reserve", 2), number("step_g", 2500), number("percent", 13)};
  CHECK(said("R15", step) == "Top of the range twice with 2 in reserve: +2.5\xC2\xA0kg.");
  rules::Reason up;
  up.row = "R15";
  up.args = step;
  CHECK(sentence(up, {.load = [](std::int64_t g) { return std::to_string(g) + " g"; }}) == "Top of the range twice with 2 in reserve: +2500 g.");
  CHECK(said("R16", step) == "You earned the big step: +2.5\xC2\xA0kg.");
  CHECK(said("R16", {word("what", "reps"), number("percent", 20)}) == "Next weight is 20 % heavier: earn it with more reps first.");
  CHECK(said("R16", {word("what", "set"), number("percent", 20)}) == "Next weight is 20 % heavier: earn it with one more set first.");
  CHECK(said("R16", {word("what", "slow"), number("percent", 20)}) == "Next weight is 20 % heavier: earn it with slow lowering first.");
  CHECK(said("R16", {word("what", "pause"), number("percent", 20)}) == "Next weight is 20 % heavier: earn it with a pause at the bottom first.");
  CHECK(said("R16", {word("what", "rung"), number("percent", 33), word("exercise", "SQ6")}) == "Next weight is 33 % heavier: split squat, goblet instead.");
  CHECK(said("R16", {word("what", "pause_top"), number("percent", 20)}) == "Next weight is 20 % heavier: earn it with a pause at the top first.");
  CHECK(said("R17") == "Heaviest weight here: more control instead.");
  CHECK(said("R15", {word("what", "load"), number("reserve", 2), number("step_g", -5000)}) == "Top of the range twice with 2 in reserve: 5\xC2\xA0kg less help.");
  CHECK(said("R18", {word("what", "load"), number("reserve", 2), number("step_g", 2500)}) == "Top of the range twice with 2 in reserve: +2.5\xC2\xA0kg.");
  for (const char* row : {"R15", "R16", "R17", "R18"})
    CHECK(said(row, {word("what", "range"), number("reserve", 2)}) == "Well done twice: back to the sets and reps from before, same weight.");
  CHECK(said("R18", {word("what", "rung"), word("exercise", "PU5")}) == "Ready for floor push-up, 3 s down, 1 s pause.");
  CHECK(said("R18", {word("what", "band"), word("band", "thin")}) == "Ready for the band \"thin\".");
  CHECK(said("R18", {word("what", "reps")}) == "Ready for more reps.");
  CHECK(said("R18") == "Top of this line: keep it well done.");
  CHECK(said("R14", {word("milestone", "ten_pull_ups"), word("exercise", "VP8")}) == "Ten full pull-ups, twice. Next: weighted pull-up.");
  CHECK(said("R13") == "Limit for your age reached: better, not heavier.");
}

TEST_CASE("confirming, asking and beginning say the sentence of the handbook") {
  CHECK(said("R19") == "Great: do it once more to go up.");
  CHECK(said("R20", {number("reps", 12), number("up_to", 14), number("reserve", 2)}) ==
        "All reps done. Say how many were left, or do two more in the last set, then up.");
  CHECK(said("R20", {number("reps", 12), number("up_to", 12), number("reserve", 2)}) == "All reps done. Keep 2 in reserve, then up.");
  CHECK(said("R26") == "Reps are there. An adult looks at your form, then up.");
  CHECK(said("R21") == "First time: easy, learn the move.");
  CHECK(said("R22") == "Add a rep where you can.");
  CHECK(said("R27", {number("lo", 5), number("hi", 8), number("load_g", 22'000), number("old_load_g", 20'000), number("old_reps", 15)}) ==
        "New phase: 5\xE2\x80\x93" "8 reps at 22\xC2\xA0kg, from your 20\xC2\xA0kg \xC3\x97 15.");
  CHECK(said("R27", {number("lo", 5), number("hi", 8)}) == "New phase: 5\xE2\x80\x93" "8 reps.");
  CHECK(said("M03") == "One step at a time.");
  CHECK(said("M09", {number("sessions", 8)}) == "Same dose 8 times: time for a look.");
  CHECK(said("M10", {number("reserve", 3)}) == "You wrote 3 left, but the reps fell. How many really?");
}

TEST_CASE("rows without words of their own say nothing, and a stopped session says its gate") {
  for (const char* row : {"G13", "TODAY", "M08", "W02", ""}) CHECK(said(row).empty());
  rules::SessionDecision session;
  session.whether = rules::Whether::skip;
  session.gate.row = "G02";
  rules::ExerciseDecision exercise;
  exercise.row.row = "R22";
  CHECK(sentence(session, &exercise) == "Rest while you are ill. Training waits.");
  session.whether = rules::Whether::normal;
  CHECK(sentence(session, &exercise) == "Add a rep where you can.");
}
