// The verbs of the book: what they keep, what they refuse, and who may.
#include <doctest/doctest.h>

#include <functional>

#include "kit/device.h"
#include "model/ladder.h"

using namespace slipway;
using app::Author;

namespace {

constexpr model::Quantity kEightKg{8, 0, model::Unit::kg};

struct Squad {
  explicit Squad(std::uint64_t born = 1990) {
    const auto made = phone.book().add_athlete({.name = "Wren", .birth_year = born}, Author::coach);
    REQUIRE(made.ok());
    who = *made;
    const auto begun = book().begin_session(who, today(), 1, {}, Author::swimmer);
    REQUIRE(begun.ok());
    session = *begun;
  }
  app::Book& book() { return phone.book(); }
  const model::Athlete& athlete() { return book().athlete(who); }
  model::Day today() { return model::day_of(phone.clock.now()); }

  kit::SquadDevice phone{1};
  model::ScopeId who;
  model::RecordId session;
};

app::SetEntry entry_of(std::string exercise, std::uint64_t reps) {
  app::SetEntry entry;
  entry.exercise = std::move(exercise);
  entry.reps = reps;
  return entry;
}

template <class T>
std::string refused(const model::Result<T>& result) {
  return result.ok() ? "kept" : result.error().text;
}

// Sends everything of one device to the other.
void carry(app::Book& from, app::Book& to) {
  const auto bundle = from.make_bundle({});
  REQUIRE(bundle.ok());
  REQUIRE(to.take_in("a.slip", *bundle).ok());
}

const model::Prescription* line_of(const model::Athlete& athlete, std::string_view exercise, std::uint64_t day) {
  for (const model::Prescription& line : athlete.prescriptions)
    if (line.exercise.value_or("") == exercise && line.programme_day.value_or(0) == day) return &line;
  return nullptr;
}

std::string plan_of(const app::NewAthlete& who) {
  kit::SquadDevice phone(3);
  const auto made = phone.book().add_athlete(who, Author::coach);
  REQUIRE(made.ok());
  std::string text;
  for (const model::Prescription& line : phone.book().athlete(*made).prescriptions)
    text += (text.empty() ? "" : " ") + line.exercise.value_or("?") + (line.load.empty() ? "" : "@" + model::number_text(*line.load.first()));
  return text;
}

}  // namespace

TEST_CASE("somebody new begins with two sessions of five, by age and kit") {
  CHECK(plan_of({.name = "Wren", .birth_year = 1990}) == "SQ4@8 VP4 PU3 TR3 SC1 SQ6@8 HP3 PU4 TR5 SC3");
  CHECK(plan_of({.name = "Moth", .birth_year = 2012}) == "SQ4@4 VP4 PU3 TR3 SC1 LU2 HP3 PU4 TR5 SC3");  // youth: lower
  CHECK(plan_of({.name = "Pip", .birth_year = 2018}) == "SQ3 VP4 PU3 TR3 SC1 LU2 HP3 PU4 TR5 SC3");     // under 10: no load
  app::KitEntry bare;
  bare.loads = std::vector<model::Quantity>{};
  bare.equipment = std::vector<std::string>{};
  CHECK(plan_of({.name = "Juno", .birth_year = 1990, .kit = bare}) == "SQ3 PU4 TR3 SC5 LU2 PU4 TR5 SC5");
  app::KitEntry no_bar = bare;
  no_bar.loads = std::vector<model::Quantity>{{10, 0, model::Unit::kg}};
  no_bar.bands = std::vector<std::string>{"red", "blue"};
  no_bar.equipment = std::vector<std::string>{"dumbbell", "wall"};
  CHECK(plan_of({.name = "Juno", .birth_year = 1990, .kit = no_bar}) == "SQ3 HP1 PU1 TR3 SC1 LU2 HP1 PU4 TR5 SC3");  // 10 kg: too much to begin
}

TEST_CASE("the first programme says circuit, places, range, rests, and the thick band to pull") {
  Squad squad;
  const model::Athlete& athlete = squad.athlete();
  const model::Prescription* pull = line_of(athlete, "VP4", 1);
  REQUIRE(pull != nullptr);
  CHECK(pull->band.value_or("") == "thick");
  CHECK(line_of(athlete, "SC1", 1)->band.value_or("") == "thin");
  CHECK(pull->reps.value_or(0) == 8);
  CHECK(pull->high() == 12);
  CHECK(pull->format.value_or(0) == static_cast<std::uint64_t>(model::Format::circuit));
  CHECK(pull->block.value_or(0) == 1);
  CHECK(pull->place.value_or(0) == 2);
  REQUIRE(athlete.programme.first() != nullptr);
  CHECK(athlete.programme.first()->phase == "general");
  CHECK(athlete.programme.first()->rest_between_rounds_ms == 120'000);
  for (const model::Prescription& line : athlete.prescriptions) CHECK(model::find_rung(line.exercise.value_or("")) != nullptr);
}

TEST_CASE("masters and youth begin with more in reserve") {
  for (const auto& [year, rir] : {std::pair{1990U, 2U}, {1960U, 3U}, {2012U, 3U}}) {
    Squad squad(year);
    CHECK(squad.athlete().prescriptions.front().rir.value_or(0) == rir);
  }
}

TEST_CASE("one session a training day: begun again it is the same one, and learns what it is of") {
  Squad squad;
  CHECK(*squad.book().begin_session(squad.who, squad.today(), 2, {}, Author::swimmer) == squad.session);
  CHECK(squad.athlete().sessions.size() == 1);
  CHECK(squad.athlete().sessions[0].programme_day == 1);  // what was said first stands
  const model::Day tomorrow{squad.today().since_1970 + 1};
  REQUIRE(squad.book().log_set(squad.who, entry_of("SQ4", 8), tomorrow, Author::swimmer).ok());
  const model::RecordId kit = squad.athlete().kits.at(0).id;
  const auto again = squad.book().begin_session(squad.who, tomorrow, 2, kit, Author::swimmer);
  REQUIRE(again.ok());
  const model::Session* second = model::find_session(squad.athlete(), *again);
  REQUIRE(second != nullptr);
  CHECK(second->sets.size() == 1);
  CHECK(second->programme_day == 2);
  CHECK(second->kit == kit);
  CHECK(refused(squad.book().begin_session(squad.who, tomorrow, 3, {}, Author::swimmer)) == "value.programme_day");
}

TEST_CASE("a set keeps side, warm-up, form, band and grip, and each can be changed") {
  Squad squad;
  app::SetEntry entry = entry_of("VP4", 5);
  entry.side = model::Side::right;
  entry.warm_up = entry.form_broke = entry.two_more = true;
  entry.band = "thick";
  entry.grip = "neutral";
  const auto id = squad.book().log_set(squad.who, entry, squad.today(), Author::swimmer);
  REQUIRE(id.ok());
  const auto done = [&]() -> const model::SetDone& { return squad.athlete().sessions.at(0).sets.at(0); };
  CHECK(done().side == model::Side::right);
  CHECK(done().warm_up);
  CHECK(done().form_broke);
  CHECK(done().two_more);
  CHECK(done().band == "thick");
  CHECK(done().grip == "neutral");
  app::SetChange change{};
  change.warm_up = change.form_broke = change.two_more = false;
  change.band = "thin";
  change.grip = "";
  REQUIRE(squad.book().change_set(squad.who, *id, change, Author::swimmer).ok());
  squad.phone.close_book();  // read again from the files
  CHECK_FALSE(done().warm_up);
  CHECK_FALSE(done().form_broke);
  CHECK_FALSE(done().two_more);
  CHECK(done().band == "thin");
  CHECK(done().grip.empty());
  change.grip = "wide";
  CHECK(refused(squad.book().change_set(squad.who, *id, change, Author::swimmer)) == "value.grip");
}

TEST_CASE("a hold is counted in seconds, up to ten minutes; reps only to a hundred") {
  Squad squad;
  const auto log = [&](const char* exercise, std::uint64_t reps) {
    return refused(squad.book().log_set(squad.who, entry_of(exercise, reps), squad.today(), Author::swimmer));
  };
  CHECK(log("TR3", 600) == "kept");
  CHECK(log("TR3", 601) == "value.hold");
  CHECK(log("SQ3", 100) == "kept");
  CHECK(log("SQ3", 101) == "value.reps");
}

TEST_CASE("plan lines are added, changed and taken away; the range never stands on its head") {
  Squad squad;
  app::PlanLineEntry line;
  CHECK(refused(squad.book().add_plan_line(squad.who, line, Author::coach)) == "value.exercise");
  line.exercise = "HG1";
  line.sets = 3;
  line.reps = 8;
  line.reps_high = 7;
  CHECK(refused(squad.book().add_plan_line(squad.who, line, Author::coach)) == "value.range");
  line.reps_high = 12;
  line.tempo = std::vector<std::uint64_t>{3, 0, 1, 0};
  const auto id = squad.book().add_plan_line(squad.who, line, Author::coach);
  REQUIRE(id.ok());
  const auto last = [&]() -> const model::Prescription& { return squad.athlete().prescriptions.back(); };
  CHECK(last().high() == 12);
  CHECK(last().tempo.first()->at(0) == 3);
  REQUIRE(squad.book().change_plan_line(squad.who, *id, {.reps = 15}, Author::coach).ok());
  CHECK(last().high() == 15);  // pushed along
  CHECK(refused(squad.book().change_plan_line(squad.who, *id, {.reps_high = 14}, Author::coach)) == "value.range");
  CHECK(refused(squad.book().change_plan_line(squad.who, *id, {.tempo = std::vector<std::uint64_t>{0, 0, 0, 0}}, Author::coach)) ==
        "value.tempo");
  const std::size_t lines = squad.athlete().prescriptions.size();
  REQUIRE(squad.book().take_back(squad.who, *id, Author::coach).ok());
  CHECK(squad.athlete().prescriptions.size() == lines - 1);
  CHECK(refused(squad.book().change_plan_line(squad.who, *id, {.reps = 9}, Author::coach)) == "record.unknown");
}

TEST_CASE("a new programme replaces the one it was written in knowledge of; two written apart both show") {
  Squad squad;
  kit::SquadDevice desk(2);
  carry(squad.book(), desk.book());
  model::Programme strength;
  strength.phase = "strength";
  strength.weeks = 6;
  REQUIRE(squad.book().set_programme(squad.who, strength, Author::coach).ok());
  CHECK(squad.athlete().programme.all.size() == 1);
  CHECK(squad.athlete().programme.first()->phase == "strength");
  strength.phase = "power";
  REQUIRE(desk.book().set_programme(squad.who, strength, Author::coach).ok());
  carry(desk.book(), squad.book());
  CHECK(squad.athlete().programme.contradiction());
  REQUIRE(squad.book().set_programme(squad.who, strength, Author::coach).ok());
  CHECK_FALSE(squad.athlete().programme.contradiction());
  strength.phase = "bulk";
  CHECK(refused(squad.book().set_programme(squad.who, strength, Author::coach)) == "value.phase");
}

TEST_CASE("facts about the person and the kit are kept, and only those that are given change") {
  Squad squad;
  app::AthleteChange change;
  change.birth_month = 7;
  change.limitations = std::vector<std::string>{"loose_joints", "heart"};
  change.training_days = std::vector<bool>{true, false, false, true, false, false, false};
  change.sign_off_gate = true;
  change.group = "masters";
  REQUIRE(squad.book().set_athlete(squad.who, change, Author::coach).ok());
  CHECK(squad.athlete().name.value_or("") == "Wren");
  CHECK(squad.athlete().birth_month.value_or(0) == 7);
  CHECK(squad.athlete().limitations.size() == 2);
  CHECK(squad.athlete().training_days.at(3));
  CHECK_FALSE(squad.athlete().training_days.at(4));
  CHECK(squad.athlete().sign_off_gate);
  CHECK(refused(squad.book().set_athlete(squad.who, {.birth_month = 13}, Author::coach)) == "value.birth_month");
  CHECK(refused(squad.book().set_athlete(squad.who, {.training_days = std::vector<bool>(6)}, Author::coach)) == "value.training_days");
  CHECK(refused(squad.book().set_athlete(squad.who, {.limitations = std::vector<std::string>{"two words"}}, Author::coach)) == "value.word");

  app::KitEntry travel;
  travel.name = "Camp";
  travel.loads = std::vector<model::Quantity>{{20, 0, model::Unit::lb}, {4, 0, model::Unit::kg}};
  const auto kit = squad.book().set_kit(squad.who, {}, travel, Author::coach);
  REQUIRE(kit.ok());
  REQUIRE(squad.athlete().kits.size() == 2);
  CHECK(squad.athlete().kits[1].loads.front() == model::Quantity{4, 0, model::Unit::kg});  // rising by mass
  CHECK_FALSE(squad.athlete().kits[1].lists_equipment);
  REQUIRE(squad.book().set_kit(squad.who, *kit, {.equipment = std::vector<std::string>{}}, Author::coach).ok());
  CHECK(squad.athlete().kits[1].lists_equipment);
  CHECK(squad.athlete().kits[1].name == "Camp");
  CHECK(refused(squad.book().set_kit(squad.who, *kit, {.equipment = std::vector<std::string>{"trampoline"}}, Author::coach)) ==
        "value.equipment");
}

TEST_CASE("a session is finished with effort, minutes and why it was short, and again if it was said wrong") {
  Squad squad;
  model::Finish finish;
  finish.effort_tenths = 65;
  finish.minutes = 45;
  finish.short_reason = model::ShortReason::too_hard;
  REQUIRE(squad.book().finish_session(squad.who, squad.session, finish, Author::swimmer).ok());
  finish.minutes = 50;
  REQUIRE(squad.book().finish_session(squad.who, squad.session, finish, Author::swimmer).ok());
  const auto& said = squad.athlete().sessions.at(0).finish;
  REQUIRE(said.all.size() == 1);
  CHECK(said.first()->minutes == 50);
  CHECK(said.first()->effort_tenths == 65);
  CHECK(said.first()->short_reason == model::ShortReason::too_hard);
  for (std::uint64_t minutes : {0U, 601U}) {
    finish.minutes = minutes;
    CHECK(refused(squad.book().finish_session(squad.who, squad.session, finish, Author::swimmer)) == "value.minutes");
  }
  finish.minutes = 600;
  finish.effort_tenths = 101;
  CHECK(refused(squad.book().finish_session(squad.who, squad.session, finish, Author::swimmer)) == "value.effort");
  CHECK(refused(squad.book().finish_session(squad.who, squad.athlete().kits[0].id, {}, Author::swimmer)) == "record.unknown");
}

TEST_CASE("the decisions shown are on record, word for word") {
  Squad squad;
  model::Decision decision;
  decision.session = squad.session;
  decision.exercise = "SQ4";
  decision.row = "R15";
  decision.gate = "G13";
  decision.sets = 3;
  decision.reps = {9, 8, 8};
  decision.load = kEightKg;
  decision.reps_low = 8;
  decision.reps_high = 12;
  decision.modifiers = {"M08", "M10"};
  decision.args = {"12 kg", "two words"};
  model::Decision other = decision;
  other.exercise = "XX1";
  const auto before = squad.book().digests().ops;
  CHECK(refused(squad.book().note_decisions(squad.who, {decision, other}, Author::swimmer)) == "value.exercise");
  CHECK(squad.book().digests().ops == before);  // all or nothing
  REQUIRE(squad.book().note_decisions(squad.who, {decision}, Author::swimmer).ok());
  const model::Decision& read = squad.athlete().decisions.at(0);
  CHECK(read.reps == decision.reps);
  CHECK(read.modifiers == decision.modifiers);
  CHECK(read.args == decision.args);
  CHECK(read.load == decision.load);
  CHECK_FALSE(read.passing);
  CHECK(read.session == squad.session);
}

TEST_CASE("pain keeps where, how much and when; it is settled or ended, never taken back") {
  Squad squad;
  model::Pain pain;
  pain.region = "front shoulder";
  pain.amount = 4;
  pain.exercise = "VP4";
  pain.session = squad.session;
  const auto id = squad.book().note_pain(squad.who, pain, Author::swimmer);
  REQUIRE(id.ok());
  CHECK(squad.athlete().pains[0].band == 2);
  CHECK(squad.athlete().pains[0].exercise == "VP4");
  CHECK_FALSE(squad.athlete().pains[0].settled.has_value());
  REQUIRE(squad.book().settle_pain(squad.who, *id, true, Author::swimmer).ok());
  CHECK(squad.athlete().pains[0].settled == true);
  CHECK(refused(squad.book().take_back(squad.who, *id, Author::swimmer)) == "record.unknown");
  REQUIRE(squad.book().end_pain(squad.who, *id, app::Book::PainEnd::resolved, "gone", Author::swimmer).ok());
  CHECK(squad.athlete().pains.size() == 1);
  CHECK(squad.athlete().pains[0].resolved);
  for (const auto& [amount, band] : {std::pair{0U, 0U}, {1U, 1U}, {2U, 1U}, {3U, 2U}, {5U, 2U}, {6U, 3U}, {10U, 3U}}) {
    pain.amount = amount;
    REQUIRE(squad.book().note_pain(squad.who, pain, Author::swimmer).ok());
    CHECK(squad.athlete().pains.back().band == band);
  }
  pain.amount = 11;
  CHECK(refused(squad.book().note_pain(squad.who, pain, Author::swimmer)) == "value.pain");
}

TEST_CASE("soreness answers come together and replace the day's earlier ones") {
  Squad squad;
  model::Soreness legs{.id = {}, .region = "hips_thighs", .level = 2, .days = 2, .day = squad.today()};
  model::Soreness trunk{.id = {}, .region = "trunk", .level = 0, .days = 0, .day = squad.today()};
  REQUIRE(squad.book().note_soreness(squad.who, {legs, trunk}, Author::swimmer).ok());
  legs.level = 3;
  REQUIRE(squad.book().note_soreness(squad.who, {legs}, Author::swimmer).ok());
  CHECK(squad.athlete().soreness.size() == 2);
  for (const model::Soreness& one : squad.athlete().soreness) CHECK(one.level == (one.region == "trunk" ? 0 : 3));
  legs.level = 4;
  CHECK(refused(squad.book().note_soreness(squad.who, {trunk, legs}, Author::swimmer)) == "value.soreness");
  legs.region = "ears";
  CHECK(refused(squad.book().note_soreness(squad.who, {legs}, Author::swimmer)) == "value.sore_region");
  REQUIRE(squad.book().note_check(squad.who, squad.today(), squad.session, Author::swimmer).ok());
  CHECK(squad.athlete().checks.at(0).day == squad.today());
}

TEST_CASE("a red flag stays; a clearance is for the reports it names, and a youth's is not the youth's to give") {
  for (const bool youth : {false, true}) {
    CAPTURE(youth);
    Squad squad(youth ? 2012 : 1990);
    model::RedFlag flag{.id = {}, .flag = "locks", .group = model::FlagGroup::local, .region = "knee", .day = squad.today()};
    const auto raised = squad.book().note_red_flag(squad.who, flag, Author::swimmer);
    REQUIRE(raised.ok());
    CHECK(refused(squad.book().take_back(squad.who, *raised, Author::coach)) == "record.unknown");
    flag.region = "";
    CHECK(refused(squad.book().note_red_flag(squad.who, flag, Author::swimmer)) == "value.name");
    model::Clearance clearance{.id = {}, .covers = "knee", .note = "seen", .role = model::ClearanceRole::self, .day = squad.today(), .reports = {}};
    if (!youth) CHECK(refused(squad.book().note_clearance(squad.who, clearance, Author::swimmer)) == "value.clearance_of_nothing");
    clearance.reports = {*raised};
    CHECK(refused(squad.book().note_clearance(squad.who, clearance, Author::swimmer)) == (youth ? "value.clearance_youth" : "kept"));
    CHECK(model::is_cleared(squad.athlete(), *raised) == !youth);
    clearance.role = model::ClearanceRole::guardian;
    CHECK(refused(squad.book().note_clearance(squad.who, clearance, Author::swimmer)) == (youth ? "value.clearance_youth" : "kept"));
    const auto given = squad.book().note_clearance(squad.who, clearance, Author::helper);
    REQUIRE(given.ok());
    CHECK(model::is_cleared(squad.athlete(), *raised));
    CHECK(squad.athlete().red_flags.size() == 1);
    REQUIRE(squad.book().take_back(squad.who, *given, Author::coach).ok());
    if (youth) CHECK_FALSE(model::is_cleared(squad.athlete(), *raised));
  }
}

TEST_CASE("a sign-off is never the swimmer's; withdrawing it is one more fact, and apart the withdrawal counts") {
  Squad squad;
  kit::SquadDevice desk(2);
  carry(squad.book(), desk.book());
  model::SignOff seen{.id = {}, .exercise = "SQ4", .level = model::SignOffLevel::sound, .day = squad.today(), .role = model::AdultRole::coach};
  CHECK(refused(squad.book().sign_off(squad.who, seen, Author::swimmer)) == "value.adult_only");
  const auto first = squad.book().sign_off(squad.who, seen, Author::coach);
  REQUIRE(first.ok());
  CHECK(model::counting_sign_off(squad.athlete(), "SQ4")->level == model::SignOffLevel::sound);
  CHECK(refused(squad.book().take_back(squad.who, *first, Author::coach)) == "record.unknown");
  REQUIRE(desk.book().withdraw_sign_off(squad.who, "SQ4", "heels", squad.today(), model::AdultRole::assistant, Author::helper).ok());
  carry(desk.book(), squad.book());
  CHECK(model::counting_sign_off(squad.athlete(), "SQ4")->level == model::SignOffLevel::withdrawn);
  seen.level = model::SignOffLevel::loaded;
  REQUIRE(squad.book().sign_off(squad.who, seen, Author::coach).ok());  // saw both
  CHECK(model::counting_sign_off(squad.athlete(), "SQ4")->level == model::SignOffLevel::loaded);
  CHECK(squad.athlete().sign_offs.size() == 3);
  CHECK(refused(squad.book().withdraw_sign_off(squad.who, "SQ4", "", squad.today(), model::AdultRole::coach, Author::swimmer)) ==
        "value.adult_only");
  seen.level = model::SignOffLevel::withdrawn;
  CHECK(refused(squad.book().sign_off(squad.who, seen, Author::coach)) == "value.sign_off_level");
  seen.level = model::SignOffLevel::sound;
  seen.role = model::AdultRole::unsaid;
  CHECK(refused(squad.book().sign_off(squad.who, seen, Author::coach)) == "value.role");
}

TEST_CASE("consent: from sixteen the young person may say yes too, a no is anybody's, and apart the no counts") {
  for (const auto& [year, said] : {std::pair{2010U, "value.consent_age"}, {2009U, "kept"}}) {  // 15 and 16 at the least, in 2026
    Squad squad(year);
    REQUIRE(model::iso(squad.today()).substr(0, 4) == "2026");
    model::Consent consent{.id = {}, .thing = model::ConsentThing::wellness, .given = true, .from = model::ConsentBy::young_person, .day = squad.today()};
    CHECK(refused(squad.book().give_consent(squad.who, consent, Author::swimmer)) == said);
  }
  Squad squad(2012);
  kit::SquadDevice desk(2);
  carry(squad.book(), desk.book());
  model::Consent consent{.id = {}, .thing = model::ConsentThing::body_measures, .given = true, .from = model::ConsentBy::guardian, .day = squad.today()};
  REQUIRE(squad.book().give_consent(squad.who, consent, Author::helper).ok());
  CHECK(model::consent_for(squad.athlete(), consent.thing) == true);
  consent.given = false;
  consent.from = model::ConsentBy::young_person;
  REQUIRE(desk.book().give_consent(squad.who, consent, Author::swimmer).ok());
  carry(desk.book(), squad.book());
  CHECK(model::consent_for(squad.athlete(), consent.thing) == false);
  CHECK_FALSE(model::consent_for(squad.athlete(), model::ConsentThing::wellness).has_value());
}

TEST_CASE("an adult ticks in for a session of this record, and can take the tick back") {
  Squad squad(2012);
  model::TickIn tick{.id = {}, .session = squad.session, .role = model::AdultRole::assistant, .second_adult = true, .day = squad.today()};
  CHECK_FALSE(model::adult_ticked_in(squad.athlete(), squad.session));
  const auto ticked = squad.book().tick_in(squad.who, tick, Author::helper);
  REQUIRE(ticked.ok());
  CHECK(model::adult_ticked_in(squad.athlete(), squad.session));
  CHECK(squad.athlete().tick_ins.at(0).second_adult);
  REQUIRE(squad.book().take_back(squad.who, *ticked, Author::helper).ok());
  CHECK_FALSE(model::adult_ticked_in(squad.athlete(), squad.session));
  tick.session = *ticked;
  CHECK(refused(squad.book().tick_in(squad.who, tick, Author::helper)) == "record.unknown");
}

TEST_CASE("body mass, illness, races, key swims and swaps are kept; said again for a day, the new one counts") {
  Squad squad;
  const auto mass = [&](std::int64_t kg, model::Unit unit) {
    return refused(squad.book().note_body_mass(squad.who, {.id = {}, .mass = {kg, 0, unit}, .day = squad.today()}, Author::coach));
  };
  CHECK(mass(14, model::Unit::kg) == "value.body_mass");
  CHECK(mass(15, model::Unit::kg) == "kept");
  CHECK(mass(300, model::Unit::kg) == "kept");
  CHECK(mass(301, model::Unit::kg) == "value.body_mass");
  CHECK(mass(60, model::Unit::cm) == "value.body_mass");
  CHECK(mass(INT64_MAX, model::Unit::lb) == "value.body_mass");
  CHECK(mass(150, model::Unit::lb) == "kept");
  CHECK(squad.athlete().body_masses.size() == 1);
  CHECK(model::body_mass_on(squad.athlete(), squad.today())->mass.unit == model::Unit::lb);

  REQUIRE(squad.book().note_illness(squad.who, {.id = {}, .state = model::IllnessState::head_cold, .day = squad.today()}, Author::swimmer).ok());
  REQUIRE(squad.book().note_illness(squad.who, {.id = {}, .state = model::IllnessState::well, .day = squad.today()}, Author::swimmer).ok());
  CHECK(model::illness_on(squad.athlete(), squad.today())->state == model::IllnessState::well);

  model::Race race{.id = {}, .name = "Meet", .first_day = {20'600}, .last_day = {20'601}, .priority = 2};
  REQUIRE(squad.book().add_race(squad.who, race, Author::coach).ok());
  race.first_day = {20'550};
  race.last_day = {20'549};
  CHECK(refused(squad.book().add_race(squad.who, race, Author::coach)) == "value.race_days");
  race.last_day = {20'550};
  const auto early = squad.book().add_race(squad.who, race, Author::coach);
  REQUIRE(early.ok());
  REQUIRE(squad.athlete().races.size() == 2);
  CHECK(squad.athlete().races[0].first_day == model::Day{20'550});
  REQUIRE(squad.book().take_back(squad.who, *early, Author::coach).ok());
  CHECK(squad.athlete().races.size() == 1);

  REQUIRE(squad.book().add_key_swim(squad.who, squad.phone.clock.now().local_ms, Author::coach).ok());
  CHECK(squad.athlete().key_swims.size() == 1);
  REQUIRE(squad.book().swap(squad.who, {.id = {}, .session = squad.session, .from = "SQ4", .to = "SQ2"}, Author::swimmer).ok());
  CHECK(squad.athlete().swaps.at(0).to == "SQ2");
  CHECK(refused(squad.book().swap(squad.who, {.id = {}, .session = squad.session, .from = "SQ4", .to = "?"}, Author::swimmer)) ==
        "value.exercise");
}

TEST_CASE("who may overrule which row") {
  const auto said = [](Squad& squad, const char* row, Author author, const char* note = "seen") {
    model::Overrule overrule{.id = {}, .exercise = "SQ4", .day = squad.today(), .row = row, .note = note};
    return refused(squad.book().overrule(squad.who, overrule, author));
  };
  Squad adult, youth(2012);
  for (const char* row : {"G01", "G02", "G11"}) CHECK(said(adult, row, Author::coach) == "value.row_stands");
  for (const char* row : {"G08", "G09", "G10", "G12"}) {
    CHECK(said(adult, row, Author::swimmer, "") == "kept");  // "train now" needs no note
    CHECK(said(youth, row, Author::swimmer) == "value.coach_only");
    CHECK(said(youth, row, Author::coach) == "kept");
  }
  CHECK(said(adult, "R10", Author::swimmer) == "value.coach_only");
  CHECK(said(adult, "R10", Author::helper) == "value.coach_only");
  CHECK(said(adult, "R10", Author::coach, " ") == "value.note_missing");
  CHECK(said(adult, "R10", Author::coach) == "kept");
  CHECK(said(adult, "x10", Author::coach) == "value.row");
  CHECK(said(youth, "R01", Author::coach) == "value.row_stands");
  CHECK(adult.athlete().overrules.size() == 5);
}

TEST_CASE("a stop for pain of six or more, or for a local red flag, is nobody's to overrule till it is cleared") {
  const auto overruled = [](Squad& squad) {
    model::Overrule overrule{.id = {}, .exercise = "SQ4", .day = squad.today(), .row = "R01", .note = "seen"};
    return refused(squad.book().overrule(squad.who, overrule, Author::coach));
  };
  Squad squad;
  model::Pain pain;
  pain.region = "knee";
  pain.exercise = "SQ4";
  pain.amount = 5;
  REQUIRE(squad.book().note_pain(squad.who, pain, Author::swimmer).ok());
  CHECK(overruled(squad) == "kept");
  pain.amount = 6;
  const auto report = squad.book().note_pain(squad.who, pain, Author::swimmer);
  REQUIRE(report.ok());
  CHECK(overruled(squad) == "value.row_stands");
  model::Clearance clearance{.id = {}, .covers = "knee", .note = "", .role = model::ClearanceRole::coach, .day = squad.today(), .reports = {*report}};
  REQUIRE(squad.book().note_clearance(squad.who, clearance, Author::coach).ok());
  CHECK(overruled(squad) == "kept");
  pain.exercise = "PU4";  // shares no joint with the squat
  pain.region = "wrist";
  REQUIRE(squad.book().note_pain(squad.who, pain, Author::swimmer).ok());
  CHECK(overruled(squad) == "kept");
  REQUIRE(squad.book()
              .note_red_flag(squad.who, {.id = {}, .flag = "locks", .group = model::FlagGroup::local, .region = "knee", .day = squad.today()},
                             Author::swimmer)
              .ok());
  CHECK(overruled(squad) == "value.row_stands");
}

TEST_CASE("under eighteen no overruling makes sets of fewer than five") {
  Squad youth(2012), adult;
  model::Overrule overrule{.id = {}, .exercise = "SQ4", .day = adult.today(), .row = "R10", .note = "seen"};
  overrule.reps = 4;
  overrule.reps_high = 6;
  CHECK(refused(adult.book().overrule(adult.who, overrule, Author::coach)) == "kept");
  CHECK(refused(youth.book().overrule(youth.who, overrule, Author::coach)) == "value.youth_reps");
  overrule.reps = 5;
  CHECK(refused(youth.book().overrule(youth.who, overrule, Author::coach)) == "kept");
}

TEST_CASE("whatever is refused leaves no trace, and every refusal has its words") {
  Squad squad;
  const auto before = squad.book().digests().ops;
  const model::Day never{2'000'000};
  std::vector<model::Error> errors;
  const auto note = [&](const auto& result) {
    REQUIRE_FALSE(result.ok());
    errors.push_back(result.error());
  };
  note(squad.book().begin_session(squad.who, never, {}, {}, Author::swimmer));
  note(squad.book().note_check(squad.who, never, {}, Author::swimmer));
  note(squad.book().add_key_swim(squad.who, std::int64_t{1} << 60, Author::swimmer));
  note(squad.book().set_kit(squad.who, {}, {.bands = std::vector<std::string>{"two words"}}, Author::coach));
  note(squad.book().set_kit(squad.who, {}, {.loads = std::vector<model::Quantity>(201, kEightKg)}, Author::coach));
  note(squad.book().note_check(model::ScopeId{}, squad.today(), {}, Author::swimmer));
  note(squad.book().note_pain(squad.who, "", 2, Author::swimmer));
  note(squad.book().end_pain(squad.who, squad.session, app::Book::PainEnd::resolved, "", Author::swimmer));
  CHECK(squad.book().digests().ops == before);
  for (const model::Error& error : errors) {
    CAPTURE(error.text);
    CHECK(report::say(error).find(error.text) == std::string::npos);  // words, not the id
  }
}
