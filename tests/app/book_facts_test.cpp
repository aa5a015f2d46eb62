// The book's facts about a body and what an adult answers for: kept, never taken back, the more careful one counts.
#include "book_kit.h"
#include "kit/bundle_kit.h"
#include "ops/registry.h"

using namespace slipway;
using namespace slipway::kit;

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

TEST_CASE("only who reported a pain takes it back as a slip; what somebody else's device says of it does not hide it") {
  kit::Squad squad;
  const auto pain = squad.book().note_pain(squad.who, "shoulder", 2, Author::swimmer);
  REQUIRE(pain.ok());
  CHECK(kit::refused(squad.book().end_pain(squad.who, *pain, app::Book::PainEnd::withdrawn, "", Author::coach)) == "value.pain_writer");
  CHECK_FALSE(squad.athlete().pains.front().withdrawn);
  // From a version that did not refuse it, in a bundle.
  ops::Pen pen({squad.who, kit::inc_named('f')}, 0, ops::genesis({squad.who, kit::inc_named('f')}));
  kit::SameRandom random(5);
  const auto ended = pen.write(ops::kind::pain_end, {ops::refs_field(ops::tag::target, {*pain}, kit::inc_named('f')), ops::unsigned_field(ops::pain_end_tag::how, 2)},
                               {2, squad.book().now()}, 0, random);
  CHECK(refused(squad.book().take_in("coach.slip", kit::file_of(kit::bundle_of({ended}, 'f')))) == "kept");
  CHECK_FALSE(squad.athlete().pains.front().withdrawn);
  REQUIRE(squad.book().end_pain(squad.who, *pain, app::Book::PainEnd::withdrawn, "", Author::swimmer).ok());
  CHECK(squad.athlete().pains.front().withdrawn);
}

TEST_CASE("what a newer version has done to a record so that this one must not act on it is shown and never changed here") {
  kit::Squad squad;
  const auto first = squad.book().log_set(squad.who, kit::entry_of("SQ4", 8), squad.today(), Author::swimmer);
  const auto second = squad.book().log_set(squad.who, kit::entry_of("SQ4", 7), squad.today(), Author::swimmer);
  REQUIRE((first.ok() && second.ok()));
  ops::Pen pen({squad.who, kit::inc_named('n')}, 0, ops::genesis({squad.who, kit::inc_named('n')}));
  kit::SameRandom random(5);
  constexpr std::uint32_t kCritical = 1001, kOther = 1000;
  const auto on = [&](std::uint32_t kind, const model::RecordId& record) {
    return pen.write(kind, {ops::refs_field(ops::tag::target, {record}, kit::inc_named('n'))}, {2, squad.book().now()}, 0, random);
  };
  REQUIRE(squad.book().start_programme(squad.who, Author::coach).ok());
  const model::RecordId line = squad.athlete().prescriptions.front().id;
  const auto critical = on(kCritical, *first), other = on(kOther, *second), of_the_plan = on(kCritical, line);
  REQUIRE(refused(squad.book().take_in("newer.slip", kit::file_of(kit::bundle_of({critical, other, of_the_plan}, 'n')))) == "kept");
  const auto other_swimmer = squad.book().add_athlete({.name = "Odd", .birth_year = 1990}, Author::coach);
  REQUIRE(other_swimmer.ok());
  REQUIRE(squad.book().start_programme(*other_swimmer, Author::coach).ok());
  const auto lines = squad.athlete().prescriptions.size();
  CHECK(kit::refused(squad.book().change_plan_line(squad.who, line, {.reps = 9}, Author::coach)) == "record.unknown");
  CHECK(kit::refused(squad.book().move_plan_line(squad.who, line, std::nullopt, Author::coach)) == "record.unknown");
  CHECK(kit::refused(squad.book().copy_plan(*other_swimmer, squad.who, true, Author::coach)) == "record.unknown");
  CHECK(squad.athlete().prescriptions.size() == lines);
  for (int start = 0; start < 2; ++start) {
    CHECK(squad.athlete().sessions.front().sets.size() == 2);
    CHECK(kit::refused(squad.book().take_back(squad.who, *first, Author::swimmer)) == "record.unknown");
    CHECK(squad.athlete().sessions.front().sets.size() == 2);
    squad.phone.close_book();
  }
  CHECK(squad.book().take_back(squad.who, *second, Author::swimmer).ok());
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
    if (youth) CHECK(refused(squad.book().note_clearance(squad.who, clearance, Author::helper)) == "value.clearance_clinician");
    clearance.clinician_allowed = youth;  // of an adult "seen" is enough for a local sign [handbook 2.7]
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
  squad.phone.clock.tick(8 * 86'400'000);  // it does not grow old
  CHECK(overruled(squad) == "value.row_stands");
  model::Clearance clearance{.id = {}, .covers = "knee", .note = "", .role = model::ClearanceRole::coach, .day = squad.today(), .reports = {*report}};
  CHECK(refused(squad.book().note_clearance(squad.who, clearance, Author::coach)) == "value.clearance_clinician");  // 6 and more: seen is not allowed [handbook 2.7]
  CHECK(overruled(squad) == "value.row_stands");
  clearance.clinician_allowed = true;
  REQUIRE(squad.book().note_clearance(squad.who, clearance, Author::coach).ok());
  CHECK(overruled(squad) == "kept");
  pain.exercise = "PU4";  // shares no joint with the squat
  pain.region = "wrist";
  REQUIRE(squad.book().note_pain(squad.who, pain, Author::swimmer).ok());
  pain.exercise.clear();  // nor does the part by itself
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
