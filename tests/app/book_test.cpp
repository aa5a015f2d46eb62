// The verbs of the book: what they keep, what they refuse, and who may.
#include "book_kit.h"
#include "kit/bundle_kit.h"
#include "ops/registry.h"

using namespace slipway;
using namespace slipway::kit;

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

TEST_CASE("a session on a wrong day is moved; what it was stays, and a day that is taken is refused") {
  Squad squad;
  const model::Day was = squad.today();
  const model::Day right{was.since_1970 - 3}, taken{was.since_1970 - 1};
  REQUIRE(squad.book().begin_session(squad.who, taken, 2, {}, Author::swimmer).ok());
  CHECK(refused(squad.book().move_session(squad.who, squad.session, taken, Author::coach)) == "session.day_taken");
  CHECK(refused(squad.book().move_session(squad.who, model::RecordId{}, right, Author::coach)) == "record.unknown");
  REQUIRE(squad.book().move_session(squad.who, squad.session, right, Author::coach).ok());
  const model::Session* moved = model::session_on(squad.athlete(), right);
  REQUIRE(moved != nullptr);
  CHECK(moved->id == squad.session);
  CHECK(model::session_on(squad.athlete(), was) == nullptr);
  CHECK(squad.book().move_session(squad.who, squad.session, right, Author::coach).ok());
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

TEST_CASE("a draft ends with its change also where nothing of the set differs") {
  Squad squad;
  const auto set = squad.book().log_set(squad.who, entry_of("SQ4", 8), squad.today(), Author::swimmer);
  REQUIRE(set.ok());
  REQUIRE(squad.book().set_local("draft.set", model::as_bytes("half")));
  const app::LocalValue done{"draft.set", {}};
  REQUIRE(squad.book().change_set(squad.who, *set, {}, Author::swimmer, &done).ok());
  CHECK(squad.book().local("draft.set")->empty());
}

TEST_CASE("a set goes to the session that is named, also where a day has two, and to none that is not there") {
  Squad squad;
  kit::SquadDevice tablet(9);
  const auto bundle = squad.book().make_bundle({});
  REQUIRE(bundle.ok());
  kit::SquadDevice phone(10);
  REQUIRE(phone.book().take_in("a.slip", *bundle).ok());
  REQUIRE(tablet.book().take_in("a.slip", *bundle).ok());
  const model::Day day{squad.today().since_1970 + 1};
  const auto one = phone.book().begin_session(squad.who, day, 1, {}, Author::swimmer);
  const auto two = tablet.book().begin_session(squad.who, day, 1, {}, Author::swimmer);
  REQUIRE(one.ok());
  REQUIRE(two.ok());
  kit::carry(tablet.book(), phone.book());
  for (const auto& session : {*one, *two}) {
    app::SetEntry entry = entry_of("SQ4", 8);
    entry.session = session;
    REQUIRE(phone.book().log_set(squad.who, entry, day, Author::swimmer).ok());
  }
  for (const auto& session : {*one, *two}) CHECK(model::find_session(phone.book().athlete(squad.who), session)->sets.size() == 1);
  app::SetEntry nowhere = entry_of("SQ4", 8);
  nowhere.session = model::RecordId{};
  CHECK(refused(phone.book().log_set(squad.who, nowhere, day, Author::swimmer)) != "kept");
}

TEST_CASE("a set that a forged file changed two thousand times is changed, and taken back, by people all the same") {
  Squad squad;
  const auto set = squad.book().log_set(squad.who, entry_of("SQ4", 8), squad.today(), Author::swimmer);
  REQUIRE(set.ok());
  const ops::StreamId stranger{squad.who, inc_named('f')};
  ops::Pen pen(stranger, 0, ops::genesis(stranger));
  SameRandom random(3);
  std::vector<ops::ChainedOp> forged;
  for (std::uint64_t i = 0; i < 2000; ++i)  // none knows of another, so all values stand beside each other
    forged.push_back(pen.write(ops::kind::change, {ops::refs_field(ops::tag::target, {*set}, stranger.inc), ops::unsigned_field(ops::set_tag::reps, i % 50 + 1)},
                               {static_cast<std::uint64_t>(Author::coach), squad.phone.clock.now()}, 1, random));
  sync::Bundle bundle;
  bundle.device.bytes.fill(9);
  bundle.created_by = stranger.inc;
  bundle.scopes = {squad.who};
  bundle.chunks = ops::make_chunks(forged);
  bundle.holdings = held_of(forged).holdings();
  const auto taken = squad.book().take_in("forged.slip", *sync::write_bundle(bundle));
  REQUIRE(taken.ok());
  const auto sets = [&] { return model::find_session(squad.athlete(), squad.session)->sets; };
  REQUIRE(sets().size() == 1);

  app::SetChange change;
  change.reps = 7;
  for (int presses = 0; presses < 5; ++presses) REQUIRE(squad.book().change_set(squad.who, *set, change, Author::swimmer).ok());
  CHECK(sets().front().reps.value_or(0) == 7);
  CHECK_FALSE(sets().front().reps.contradiction());
  for (int presses = 0; presses < 5; ++presses) REQUIRE(squad.book().take_back(squad.who, *set, Author::swimmer).ok());
  CHECK(sets().empty());
}
