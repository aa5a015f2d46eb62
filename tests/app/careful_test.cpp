// Where the record says two things about a body, the rules are asked about the graver; and no number of a file makes a board endless.
#include "app/day_plan.h"
#include "app/dose_text.h"
#include "book_kit.h"
#include "ops/registry.h"

using namespace slipway;
using namespace slipway::kit;

namespace {

app::DayPlan plan_at(SquadDevice& device, const model::Athlete& athlete) {
  return app::plan_day(athlete, {.today = model::day_of(device.clock.now()), .now_ms = device.clock.now().local_ms, .kit = {}, .train_now = {}, .programme_day = 1});
}

// A doctor's word, as a coach enters it, about one report.
void clear(Squad& squad, const std::string& covers, const model::RecordId& report) {
  model::Clearance clearance;
  clearance.covers = covers;
  clearance.note = "seen at noon";
  clearance.role = model::ClearanceRole::coach;
  clearance.day = squad.today();
  clearance.clinician_allowed = true;
  clearance.reports = {report};
  REQUIRE(squad.book().note_clearance(squad.who, clearance, Author::coach).ok());
}

}  // namespace

TEST_CASE("a warning sign after a clearance of the same day stops again, and one from elsewhere is not freed by it") {
  Squad squad;
  const auto stops = [&] { return plan_at(squad.phone, squad.athlete()).decision.whether == rules::Whether::stop; };
  const auto warn = [&](app::Book& book) {
    const auto noted = book.note_red_flag(squad.who, {.id = {}, .flag = "chest_pain", .group = model::FlagGroup::emergency, .region = {}, .day = squad.today()}, Author::swimmer);
    REQUIRE(noted.ok());
    return *noted;
  };
  SquadDevice tablet(7);
  carry(squad.book(), tablet.book());
  const auto first = warn(squad.book());
  CHECK(stops());
  squad.phone.clock.tick(3'600'000);
  clear(squad, "general", first);
  CHECK_FALSE(stops());
  squad.phone.clock.tick(3'600'000);
  const auto second = warn(squad.book());
  CHECK(stops());
  clear(squad, "general", second);
  CHECK_FALSE(stops());
  warn(tablet.book());  // of the same day, and nobody who cleared knew of it
  carry(tablet.book(), squad.book());
  CHECK(stops());
}

TEST_CASE("a firm pain that the clearance was not given for goes on counting") {
  Squad squad;
  const auto hurt = [&](std::uint64_t amount) {
    model::Pain pain;
    pain.region = "shoulder";
    pain.amount = amount;
    const auto noted = squad.book().note_pain(squad.who, pain, Author::swimmer);
    REQUIRE(noted.ok());
    return *noted;
  };
  const auto pulls = [&] {
    for (const app::PlanRow& row : plan_at(squad.phone, squad.athlete()).rows)
      if (row.rung->pattern == model::Pattern::vertical_pull || row.rung->pattern == model::Pattern::horizontal_pull || row.rung->pattern == model::Pattern::push)
        if (row.decision.action != rules::Action::stop && row.because().row.row != "R01") return true;
    return false;
  };
  const bool before = pulls();
  REQUIRE(before);
  const auto first = hurt(7), second = hurt(8);
  REQUIRE_FALSE(pulls());
  squad.phone.clock.tick(3'600'000);
  clear(squad, "shoulder", first);
  CHECK_FALSE(pulls());
  clear(squad, "shoulder", second);
  CHECK(pulls());
}

TEST_CASE("of two answers on illness of one day, written apart, the graver counts, whichever was written last") {
  for (const bool graver_last : {false, true}) {
    Squad squad;
    SquadDevice tablet(7);
    carry(squad.book(), tablet.book());
    const auto say_it = [&](app::Book& book, model::IllnessState state) {
      model::Illness fact;
      fact.state = state;
      fact.day = squad.today();
      REQUIRE(book.note_illness(squad.who, fact, Author::swimmer).ok());
    };
    say_it(squad.book(), graver_last ? model::IllnessState::well : model::IllnessState::fever_or_below_neck);
    tablet.clock.tick(3'600'000);
    say_it(tablet.book(), graver_last ? model::IllnessState::fever_or_below_neck : model::IllnessState::well);
    carry(tablet.book(), squad.book());
    squad.phone.clock.tick(30 * 3'600'000);
    CHECK(plan_at(squad.phone, squad.athlete()).decision.gate.row == "G02");
  }
}

TEST_CASE("the thinner band of a first set is still the first set's once the session has begun") {  // 6.4a
  Squad squad;
  model::Athlete athlete = squad.athlete();
  REQUIRE_FALSE(athlete.prescriptions.empty());
  rules::StandingDose standing;
  standing.exercise = "VP4";
  standing.sets = 3;
  standing.lo = 8;
  standing.hi = 12;
  standing.band = "thick";
  standing.first_set_band = "thin";
  model::Decision decision;
  decision.session = squad.session;
  decision.prescription = athlete.prescriptions.front().id;
  decision.exercise = "VP4";
  decision.row = "R22";
  decision.reps = {8, 8, 8};
  decision.band = "thick";
  decision.standing = app::dose_text(standing);
  athlete.decisions = {decision};
  const auto first_of = [&] {
    for (const app::PlanRow& row : plan_at(squad.phone, athlete).rows)
      if (row.recorded) return app::written_set(athlete, row, 1).band + ", then " + app::written_set(athlete, row, 2).band;
    return std::string("no row");
  };
  CHECK(first_of() == "thin, then thick");
  athlete.decisions[0].passing = true;
  CHECK(first_of() == "thick, then thick");
}

TEST_CASE("a day that moves as a whole is not on record as having cut a dose") {  // 6.2b: a youth's move has no fallback
  Squad squad;
  const auto plan = plan_at(squad.phone, squad.athlete());
  REQUIRE_FALSE(plan.rows.empty());
  rules::SessionDecision gates = plan.decision;
  gates.when = rules::When::move;
  gates.when_row.row = "G08";
  for (const bool fallback : {false, true}) {
    gates.fallback = fallback;
    CHECK(app::decision_of(squad.athlete(), squad.session, gates, plan.rows[0]).when == (fallback ? "G08" : ""));
  }
}

TEST_CASE("a line that asks for a million sets asks for no more than can be written here") {
  Squad squad;
  model::Athlete athlete = squad.athlete();
  REQUIRE_FALSE(athlete.prescriptions.empty());
  for (model::Prescription& line : athlete.prescriptions)
    for (auto& sets : line.sets.all) sets.value = 1'000'000;
  const auto plan = plan_at(squad.phone, athlete);
  for (const app::PlanRow& row : plan.rows) CHECK(row.sets() <= app::kMaxSets);
}
