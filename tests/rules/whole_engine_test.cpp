// Whatever the situation: no crash, inside the limits, only loads that are here, the same
// answer again, and the same answer in any order of the input.
#include <doctest/doctest.h>

#include <algorithm>

#include "kit/rules_kit.h"
#include "rules/limits.h"
#include "rules/loads.h"
#include "rules/walk.h"

using namespace slipway;
using namespace slipway::kit;
using namespace slipway::rules;

namespace {

constexpr int kSituations = 1500;

struct Dice {
  std::uint64_t state;
  std::uint32_t below(std::uint32_t n) {
    state = state * 6364136223846793005ULL + 1442695040888963407ULL;
    return static_cast<std::uint32_t>((state >> 33) % n);
  }
  bool once_in(std::uint32_t n) { return below(n) == 0; }
};

const std::string& any_exercise(Dice& dice) { return model::rungs()[dice.below(static_cast<std::uint32_t>(model::rungs().size()))].id; }

void add_body(SessionSituation& s, Dice& dice) {
  for (std::uint32_t i = dice.below(4); i > 0; --i) {
    PainReport report;
    report.id = "p" + std::to_string(i);
    report.day = day(static_cast<std::int32_t>(dice.below(30)) - 1);
    report.at_ms = dice.below(1000);
    report.at = static_cast<PainAt>(dice.below(4));
    if (dice.once_in(2)) report.exercise = any_exercise(dice);
    report.joints = dice.once_in(2) ? 1U << dice.below(7) : 0;
    report.amount = dice.below(dice.once_in(3) ? 11 : 4);
    if (dice.once_in(2)) report.settled = dice.once_in(3) ? false : true;
    s.pains.push_back(report);
  }
  for (std::uint32_t i = dice.below(12); i > 0; --i)
    s.soreness.push_back({day(static_cast<std::int32_t>(dice.below(14))), static_cast<model::Pattern>(dice.below(8)), dice.below(4)});
  for (std::uint32_t i = dice.below(4); i > 0; --i)
    signed_off(s, any_exercise(dice), static_cast<SignOffLevel>(dice.below(4)), static_cast<std::int32_t>(dice.below(100)));
  if (dice.once_in(4)) {
    Clearance note;
    note.day = day(static_cast<std::int32_t>(dice.below(10)));
    note.joints = 127;
    note.clinician_allowed = dice.once_in(2);
    note.by = static_cast<ClearedBy>(dice.below(3));
    s.clearances.push_back(note);
  }
  if (dice.once_in(20)) s.red_flags.push_back({"f", "flag", day(1), !dice.once_in(3), 1U << dice.below(7)});
  if (dice.once_in(20)) s.illnesses.push_back({"i", day(2), dice.once_in(2), {}});
}

StandingDose any_dose(Dice& dice, const std::string& exercise, const Kit& kit) {
  auto out = dose(exercise, {}, 1 + dice.below(5), 1 + dice.below(12), 12 + dice.below(12), dice.below(5));
  if (model::find_rung(exercise)->loaded && !dice.once_in(8)) out.load_g = 1000 * (1 + dice.below(40));
  if (!kit.bands.empty()) out.band = kit.bands[dice.below(static_cast<std::uint32_t>(kit.bands.size()))];
  return out;
}

void add_history(SessionSituation& s, Dice& dice) {
  const char* rows[] = {"R22", "R15", "R05", "R06", "R07", "R24", "R10", "R02", "R08", "R11", "R28", "R14", "R23", "G11"};
  for (std::uint32_t i = dice.below(12); i > 0; --i) {
    const StandingDose& standing = s.lines[dice.below(static_cast<std::uint32_t>(s.lines.size()))].standing;
    std::vector<std::uint32_t> reps;
    for (std::uint32_t set = dice.below(6); set > 0; --set) reps.push_back(dice.below(25));
    auto& session = did_other(s, static_cast<std::int32_t>(dice.below(dice.once_in(3) ? 120 : 20)) - 1,
                              dice.once_in(4) ? any_exercise(dice) : standing.exercise, standing.load_g, reps, dice.below(5));
    session.adult_ticked_in = !dice.once_in(6);
    auto& done = first(session);
    if (dice.once_in(5)) done.test = true;
    if (!done.sets.empty() && dice.once_in(5)) done.sets[0].form_broke = true;
    if (dice.once_in(2)) continue;
    done.written = Written{};
    done.written->standing = standing;
    done.written->rows = {"G13", rows[dice.below(14)]};
    done.written->passing = dice.once_in(3);
    if (done.exercise != standing.exercise) done.written->stands_for = standing.exercise;
  }
}

SessionSituation any_situation(Dice& dice) {
  SessionSituation s = adult();
  const auto age = static_cast<std::int32_t>(7 + dice.below(60));
  s.athlete.age_low = age;
  s.athlete.age_high = age + 1;
  if (dice.once_in(15)) s.athlete.age_low.reset();
  if (!dice.once_in(3)) weighs(s, 1000 * (25 + dice.below(70)));
  s.athlete.has_coach = !dice.once_in(4);
  s.adult_ticked_in = !dice.once_in(3);
  std::vector<std::int64_t> here;
  for (std::uint32_t i = dice.below(12); i > 0; --i) here.push_back(500 * (1 + dice.below(80)));
  s.kit.loads_g = here;
  if (dice.once_in(2)) s.kit.bands = {"thick", "middle", "thin"};
  if (dice.once_in(3)) s.kit.equipment = std::vector<std::string>{"bar", "band", "bench", "dumbbell", "wall", "mat"};
  s.phase.kind = static_cast<PhaseKind>(dice.below(4));
  if (dice.once_in(4)) s.phase.week = dice.below(6);
  for (std::uint32_t i = 1 + dice.below(4); i > 0; --i) plan(s, any_dose(dice, any_exercise(dice), s.kit));
  add_history(s, dice);
  add_body(s, dice);
  return s;
}

// A decision in words that do not name places in the input.
std::string told(const SessionDecision& decision) {
  std::string out = decision.gate.row + decision.when_row.row;
  for (const Reason& filter : decision.filters) out += filter.row;
  for (const ExerciseDecision& e : decision.exercises) {
    out += '|' + e.line + e.row.row + std::to_string(static_cast<int>(e.action)) + e.dose.exercise + std::to_string(e.dose.load_g.value_or(-1)) +
           e.dose.band + e.standing.exercise + std::to_string(e.standing.load_g.value_or(-1)) + (e.passing ? "p" : "s");
    for (const SetTarget& target : e.dose.targets) out += ',' + std::to_string(target.reps) + '-' + std::to_string(target.up_to);
    for (const Argument& argument : e.row.args) out += argument.name + argument.text + std::to_string(argument.number);
    for (const Reason& modifier : e.modifiers) out += modifier.row;
    for (const Reason& coach : e.coach_rows) out += coach.row;
    for (const Ask ask : e.asks) out += std::to_string(static_cast<int>(ask));
  }
  return out;
}

template <class List>
void shuffle(List& list, Dice& dice) {
  for (std::size_t i = list.size(); i > 1; --i) std::swap(list[i - 1], list[dice.below(static_cast<std::uint32_t>(i))]);
}

void check_dose(const SessionSituation& s, const ExerciseDecision& e) {
  if (e.action != Action::train) return;
  const model::Rung* rung = model::find_rung(e.dose.exercise);
  REQUIRE(rung != nullptr);
  CHECK(e.dose.sets() >= 1);
  CHECK(e.dose.sets() <= 99);
  for (const SetTarget& target : e.dose.targets) CHECK(target.reps <= target.up_to);
  CHECK(possible_here(*rung, s.kit));
  if (e.dose.load_g) CHECK(load_is_here(*rung, *e.dose.load_g, s.kit));
  if (!is_youth(s.athlete)) return;
  CHECK(e.dose.sets() <= age_row(s.athlete).sets_most);
  CHECK(e.dose.rir >= 1);
  const LoadLimit limit = load_limit(*rung, s, true);
  CHECK(limit.allowed);
  if (limit.most_g && e.dose.load_g) CHECK(*e.dose.load_g <= *limit.most_g);
  if (!s.adult_ticked_in) {
    CHECK_FALSE(e.increase);
    CHECK_FALSE(e.dose.load_g);
    CHECK((rung->on_floor_list || rung->id == "SC1" || rung->id == "SC2"));
  }
}

}  // namespace

TEST_CASE("Any situation is answered inside the limits and with loads that are here") {
  Dice dice{20'251'125};
  for (int i = 0; i < kSituations; ++i) {
    CAPTURE(i);
    const auto s = any_situation(dice);
    const auto d = decide(s);
    CHECK(d.exercises.size() == (d.whether == Whether::normal ? s.lines.size() : 0));
    for (const ExerciseDecision& e : d.exercises) check_dose(s, e);
    CHECK(told(d) == told(decide(s)));
  }
}

TEST_CASE("The order in which entries arrived changes nothing") {
  Dice dice{4'711};
  for (int i = 0; i < kSituations; ++i) {
    CAPTURE(i);
    auto s = any_situation(dice);
    for (std::size_t k = 0; k < s.sign_offs.size(); ++k) s.sign_offs[k].id = "s" + std::to_string(k);
    const std::string before = told(decide(s));
    shuffle(s.history, dice);
    shuffle(s.pains, dice);
    shuffle(s.soreness, dice);
    shuffle(s.sign_offs, dice);
    CHECK(told(decide(s)) == before);
  }
}
