// Who needs the coach, the board, and what the coach does about it.
#include "app/squad_desk.h"

#include <algorithm>

#include "app/logbook_desk.h"
#include "desk_kit.h"
#include "report/words.h"

using namespace slipway;
using report::say;

namespace {

struct Coach : kit::DeskDevice {
  explicit Coach(std::uint64_t seed) : DeskDevice(seed) { settings.user = app::DeviceUser::coach; }
  app::SquadDesk squad;

  screens::SquadView view() {
    auto now = desk();
    return squad.view(now);
  }
  void act(const screens::SquadIntent& intent) {
    auto now = desk();
    squad.act(now, intent);
  }
  void answer(std::uint32_t id, std::uint32_t choice, const std::string& text = {}) {
    auto now = desk();
    squad.act(now, screens::AskAnswer{{id, choice, text}});
  }
  screens::SwimmerView page(const model::ScopeId& who) {
    auto now = desk();
    squad.open(now, who);
    return squad.view(now).swimmer.at(0);
  }
  // A dose of the plan's first line done as it is written, at the top of its range, in a session of today.
  void done_at_the_top(const model::ScopeId& who, std::int64_t load_kg) {
    REQUIRE(book().begin_session(who, today(), 1, std::nullopt, app::Author::swimmer).ok());
    for (std::uint64_t round = 1; round <= 3; ++round) {
      log(who, round, 12, load_kg);
      device.clock.tick(180'000);
    }
  }
  // A swimmer whose only line is a goblet squat, 3 sets of 8 to 12 with 16 kg.
  model::ScopeId squatter(const std::string& name, std::uint64_t born = 1990) {
    const auto who = add(name, born);
    std::vector<model::RecordId> lines;
    for (const auto& line : book().athlete(who).prescriptions) lines.push_back(line.id);
    for (const auto& line : lines) REQUIRE(book().take_back(who, line, app::Author::coach).ok());
    app::PlanLineEntry line;
    line.exercise = "SQ4";
    line.sets = 3;
    line.reps = 8;
    line.reps_high = 12;
    line.load = kit::kilograms(16);
    line.rir = 2;
    REQUIRE(book().add_plan_line(who, line, app::Author::coach).ok());
    app::KitEntry kit;
    kit.loads = std::vector<model::Quantity>{kit::kilograms(12), kit::kilograms(14), kit::kilograms(16), kit::kilograms(17), kit::kilograms(18)};
    kit.equipment = std::vector<std::string>{"dumbbell", "kettlebell"};
    REQUIRE(book().set_kit(who, book().athlete(who).kits.front().id, kit, app::Author::coach).ok());
    return who;
  }
  // Two sessions at the top of the range, and the day of the next one.
  model::ScopeId ready_for_more(const std::string& name, std::uint64_t born = 1990) {
    const auto who = squatter(name, born);
    next_day();
    done_at_the_top(who, 16);
    next_day(4);  // two a week, a day between
    done_at_the_top(who, 16);
    next_day(4);
    return who;
  }
};

std::size_t place_of(const screens::SquadView& view, const std::string& name) {
  for (std::size_t i = 0; i < view.needs.size(); ++i)
    if (view.needs[i].name == name) return i;
  return 99;
}

}  // namespace

TEST_CASE("the most urgent comes first: red flag, then pain that stops, then what is written twice, then who is away") {
  Coach coach(31);
  const auto away = coach.add("Away");
  const auto twice = coach.add("Twice");
  const auto hurt = coach.squatter("Hurt");
  const auto flagged = coach.add("Flag");
  app::AthleteChange days;
  days.training_days = std::vector<bool>(7, true);
  REQUIRE(coach.book().set_athlete(away, days, app::Author::coach).ok());
  kit::DeskDevice tablet(32);
  tablet.take_from(coach);
  const auto line = coach.book().athlete(twice).prescriptions.front().id;
  app::PlanLineEntry three, four;
  three.sets = 3;
  four.sets = 4;
  REQUIRE(coach.book().change_plan_line(twice, line, three, app::Author::coach).ok());
  REQUIRE(tablet.book().change_plan_line(twice, line, four, app::Author::coach).ok());
  coach.take_from(tablet);
  coach.next_day(12);
  model::Pain pain;
  pain.region = "knee";
  pain.amount = 7;
  pain.exercise = "SQ4";
  REQUIRE(coach.book().note_pain(hurt, pain, app::Author::swimmer).ok());
  model::RedFlag flag;
  flag.flag = "fainting";
  flag.day = coach.today();
  REQUIRE(coach.book().note_red_flag(flagged, flag, app::Author::swimmer).ok());
  const auto view = coach.view();
  CHECK(place_of(view, "Flag") == 0);
  CHECK(view.needs.at(0).rule == "W01");
  CHECK(view.needs.at(0).urgent);
  CHECK(place_of(view, "Hurt") == 1);
  CHECK(view.needs.at(1).rule == "W02");
  CHECK(place_of(view, "Twice") == 2);
  CHECK(view.needs.at(2).rule == say("squad.rule_twice"));
  CHECK(place_of(view, "Away") < view.needs.size());
  CHECK(place_of(view, "Away") > place_of(view, "Twice"));
  for (std::size_t i = 0; i < view.needs.size(); ++i) CHECK(view.needs[i].order == std::to_string(i + 1));
}

TEST_CASE("one pain that stops several movements is told once, with how many it stops") {
  Coach coach(34);
  const auto hurt = coach.add("Hurt");
  coach.next_day(1);
  model::Pain pain;
  pain.region = "shoulder";
  pain.amount = 7;
  REQUIRE(coach.book().note_pain(hurt, pain, app::Author::swimmer).ok());
  const auto needs = app::who_needs_the_coach(coach.book(), {hurt}, {coach.today(), coach.book().now().local_ms});
  REQUIRE(needs.size() == 1);
  CHECK(needs[0].wants() == app::Wants::clearance);
  std::size_t stops = 0;
  for (const app::NeedFact& fact : needs[0].facts) stops += fact.row == "W02" ? 1 : 0;
  CHECK(stops == 1);
  CHECK(needs[0].facts[0].exercises.size() > 1);
  CHECK_MESSAGE(needs[0].facts[0].sentence.find(" and ") != std::string::npos, needs[0].facts[0].sentence);
}

TEST_CASE("each athlete has one line, the rest is folded behind it and stands on their page") {
  Coach coach(33);
  const auto hurt = coach.squatter("Hurt");
  coach.next_day(12);
  model::Pain pain;
  pain.region = "knee";
  pain.amount = 7;
  pain.exercise = "SQ4";
  REQUIRE(coach.book().note_pain(hurt, pain, app::Author::swimmer).ok());
  model::RedFlag flag;
  flag.flag = "fainting";
  flag.day = coach.today();
  REQUIRE(coach.book().note_red_flag(hurt, flag, app::Author::swimmer).ok());
  REQUIRE(coach.view().needs.size() == 1);
  const auto page = coach.page(hurt);
  REQUIRE_FALSE(page.sections.empty());
  CHECK(page.sections[0].title == say("swimmer.also"));
  CHECK_FALSE(page.clearance_words.empty());
}

TEST_CASE("the place is the coach's: no other device shows names, loads or pain there") {
  Coach coach(34);
  const auto hurt = coach.add("Hurt");
  REQUIRE(coach.book().note_pain(hurt, "knee", 3, app::Author::swimmer).ok());
  for (const app::DeviceUser user : {app::DeviceUser::swimmer, app::DeviceUser::shared}) {
    coach.settings.user = user;
    CHECK(coach.view().rows.empty());
    CHECK(coach.view().needs.empty());
    coach.act(screens::OpenSwimmer{0});
    CHECK(coach.view().swimmer.empty());
  }
}

TEST_CASE("a clearance is noted from the list in place, for what was reported, and the report stays") {
  Coach coach(35);
  const auto flagged = coach.add("Flag");
  model::RedFlag flag;
  flag.flag = "fainting";
  flag.day = coach.today();
  REQUIRE(coach.book().note_red_flag(flagged, flag, app::Author::swimmer).ok());
  coach.act(screens::PressNeed{0});
  REQUIRE(coach.view().swimmer.at(0).ask.size() == 1);
  CHECK(coach.view().swimmer.at(0).ask[0].at == screens::AskAt::clearance);
  CHECK(coach.view().swimmer.at(0).line == "35 or 36 years · general, week 1 of 8");
  CHECK(coach.view().swimmer.at(0).decisions.at(0).urgent);
  coach.answer(1, 1);  // a clinician has allowed training
  coach.act(screens::KeepAsk{});
  CHECK(coach.refused.empty());
  const model::Athlete& athlete = coach.book().athlete(flagged);
  REQUIRE(athlete.clearances.size() == 1);
  CHECK(athlete.clearances[0].clinician_allowed);
  CHECK(athlete.red_flags.size() == 1);
  CHECK(model::is_cleared(athlete, athlete.red_flags[0].id));
  CHECK(coach.view().needs.empty());
}

TEST_CASE("pain of 6 that is called resolved still waits for a clinician's word, and the coach can note it") {
  Coach coach(38);
  const auto wren = coach.squatter("Wren");
  model::Pain pain;
  pain.region = "knee";
  pain.amount = 7;
  const auto noted = coach.book().note_pain(wren, pain, app::Author::swimmer);
  REQUIRE(noted.ok());
  REQUIRE(coach.book().end_pain(wren, *noted, app::Book::PainEnd::resolved, "", app::Author::swimmer).ok());
  CHECK_FALSE(coach.page(wren).clearance_words.empty());
  coach.act(screens::NoteClearance{});
  coach.answer(1, 1);
  coach.act(screens::KeepAsk{});
  CHECK(coach.refused.empty());
  CHECK(model::is_cleared(coach.book().athlete(wren), *noted));
  CHECK(coach.page(wren).clearance_words.empty());
}

TEST_CASE("the coach signs off and withdraws; both stay on record") {
  Coach coach(36);
  const auto wren = coach.squatter("Wren");
  REQUIRE(coach.page(wren).sign_offs.size() == 1);
  CHECK(coach.page(wren).sign_offs[0].loaded_words.empty());  // LOADED only after SOUND on another day
  coach.act(screens::SignOff{0, false});
  CHECK(model::counting_sign_off(coach.book().athlete(wren), "SQ4")->level == model::SignOffLevel::sound);
  coach.next_day();
  CHECK(coach.page(wren).sign_offs[0].loaded_words == say("swimmer.loaded"));
  coach.act(screens::SignOff{0, true});
  coach.next_day();
  CHECK(coach.page(wren).sign_offs[0].sound_words.empty());  // it would take LOADED away
  CHECK(coach.page(wren).sign_offs[0].loaded_words == say("swimmer.loaded_again"));
  coach.act(screens::WithdrawSignOff{0});
  coach.answer(5, 0, "heels lift");
  coach.act(screens::KeepAsk{});
  CHECK(model::counting_sign_off(coach.book().athlete(wren), "SQ4")->level == model::SignOffLevel::withdrawn);
  CHECK(coach.book().athlete(wren).sign_offs.size() == 3);
}

TEST_CASE("a youth who trained with load alone is told first thing; after the talk one press ticks in, and it is on record as afterwards") {
  Coach coach(43);
  const auto moth = coach.squatter("Moth", 2010);
  coach.next_day(2);
  const model::Day then = coach.today();
  app::SetEntry entry;
  entry.exercise = "SQ4";
  entry.reps = 8;
  entry.load = model::Quantity{8, 0, model::Unit::kg};
  REQUIRE(coach.book().log_set(moth, entry, then, app::Author::swimmer).ok());
  coach.next_day(1);
  const auto view = coach.view();
  REQUIRE_FALSE(view.needs.empty());
  CHECK(view.needs[0].rule == "W03");
  CHECK(view.needs[0].key_words == say("squad.key_tick_in"));
  coach.act(screens::PressNeed{0});
  REQUIRE(coach.book().athlete(moth).tick_ins.size() == 1);
  const model::TickIn& tick = coach.book().athlete(moth).tick_ins[0];
  CHECK(tick.day == then);
  CHECK(model::day_of(tick.by.claimed) == coach.today());
  for (const auto& need : coach.view().needs) CHECK(need.rule != "W03");
}

TEST_CASE("a youth whose reps are there waits for the coach, who signs off from the list in one press") {
  Coach coach(37);
  const auto moth = coach.squatter("Moth", 2010);
  for (int session = 0; session < 2; ++session) {
    coach.next_day(3);
    const auto begun = coach.book().begin_session(moth, coach.today(), 1, std::nullopt, app::Author::swimmer);
    REQUIRE(begun.ok());
    model::TickIn tick;
    tick.session = *begun;
    tick.role = model::AdultRole::coach;
    tick.day = coach.today();
    REQUIRE(coach.book().tick_in(moth, tick, app::Author::coach).ok());
    coach.done_at_the_top(moth, 16);
  }
  coach.next_day(3);
  const auto view = coach.view();
  REQUIRE(view.needs.size() == 1);
  REQUIRE(view.needs[0].rule == "W07");
  CHECK(view.needs[0].sentence.find(say("squad.w07_waits")) != std::string::npos);
  REQUIRE(view.needs[0].key_words == say("squad.key_sign_off"));
  coach.act(screens::PressNeed{0});
  const model::SignOff* signed_off = model::counting_sign_off(coach.book().athlete(moth), "SQ4");
  REQUIRE(signed_off != nullptr);
  CHECK(signed_off->level == model::SignOffLevel::sound);
  CHECK(signed_off->role == model::AdultRole::coach);
  CHECK(coach.view().needs.empty());
}

TEST_CASE("a step up that the coach overrules stays on record, and the next decision stays at the load") {
  Coach coach(38);
  const auto wren = coach.ready_for_more("Wren");
  const auto before = coach.page(wren);
  REQUIRE(before.decisions.size() == 1);
  CHECK(before.decisions[0].rule == "R15");
  CHECK(before.decisions[0].title.find("17") != std::string::npos);
  coach.act(screens::OverruleDecision{0});
  REQUIRE(coach.view().swimmer.at(0).ask.size() == 1);
  coach.act(screens::KeepAsk{});  // the first choice, as last time; the note is not forced
  CHECK(coach.refused.empty());
  REQUIRE(coach.book().athlete(wren).overrules.size() == 1);
  CHECK(coach.book().athlete(wren).overrules[0].row == "R15");
  CHECK(coach.book().athlete(wren).overrules[0].choice == "hold");
  const auto after = coach.page(wren);
  CHECK(after.decisions[0].rule != "R15");
  CHECK(after.decisions[0].title.find("16") != std::string::npos);
  CHECK_FALSE(after.decisions[0].overruled.empty());
}

TEST_CASE("the coach's own dose is a line of the plan: the next decision gives it as it is written") {
  Coach coach(39);
  const auto wren = coach.ready_for_more("Wren");
  coach.page(wren);
  coach.act(screens::OverruleDecision{0});
  coach.answer(0, 2);  // my own dose
  coach.answer(2, 0, "two");
  coach.act(screens::KeepAsk{});
  CHECK(coach.book().athlete(wren).overrules.empty());  // refused beside the choices, nothing stored
  CHECK_FALSE(coach.view().swimmer.at(0).ask.at(0).parts.at(0).refused.empty());
  coach.answer(2, 0, "2");
  coach.answer(3, 0, "6-9");
  coach.answer(4, 0, "14");
  coach.answer(5, 0, "Meet on Saturday");
  coach.act(screens::KeepAsk{});
  CHECK(coach.refused.empty());
  const auto& line = coach.book().athlete(wren).prescriptions.front();
  CHECK(line.sets.value_or(0) == 2);
  CHECK(line.reps.value_or(0) == 6);
  CHECK(line.high() == 9);
  CHECK(model::grams(*line.load.first()) == 14'000);
  CHECK(coach.book().athlete(wren).overrules.at(0).note == "Meet on Saturday");
  const auto title = coach.page(wren).decisions.at(0).title;
  CHECK(title.find("14") != std::string::npos);
  CHECK(title.find("2 \xC3\x97 6") != std::string::npos);
}

TEST_CASE("a stop at pain of 6 or more is overruled by nobody: no key offers it, and an overruling is refused") {
  Coach coach(40);
  const auto hurt = coach.squatter("Hurt");
  model::Pain pain;
  pain.region = "knee";
  pain.amount = 7;
  pain.exercise = "SQ4";
  REQUIRE(coach.book().note_pain(hurt, pain, app::Author::swimmer).ok());
  const auto page = coach.page(hurt);
  REQUIRE(page.decisions.size() == 1);
  REQUIRE(page.decisions[0].rule == "R01");
  CHECK(page.decisions[0].overrule_words.empty());
  coach.act(screens::OverruleDecision{0});
  coach.act(screens::KeepAsk{});
  model::Overrule overrule;
  overrule.row = "R01";
  overrule.exercise = "SQ4";
  overrule.note = "It looks fine";
  overrule.day = coach.today();
  CHECK_FALSE(coach.book().overrule(hurt, overrule, app::Author::coach).ok());
  CHECK(coach.book().athlete(hurt).overrules.empty());
}

TEST_CASE("the board tells trained days from days that were due and stayed empty") {
  Coach coach(41);
  const auto wren = coach.squatter("Wren");
  app::AthleteChange days;
  days.training_days = std::vector<bool>{true, false, true, false, true, false, false};
  REQUIRE(coach.book().set_athlete(wren, days, app::Author::coach).ok());
  coach.log(wren, 1, 10, 16);  // Monday
  coach.next_day(3);           // Thursday; Wednesday stayed empty, Friday is still to come
  const auto view = coach.view();
  REQUIRE(view.rows.size() == 1);
  const auto& week = view.rows[0].days;
  REQUIRE(week.size() == 7);
  CHECK(week[0].land);
  CHECK_FALSE(week[0].missing);
  CHECK(week[2].missing);
  CHECK_FALSE(week[1].missing);
  CHECK_FALSE(week[4].missing);
  REQUIRE(view.rows[0].rungs.size() == 3);
  CHECK(view.rows[0].rungs[0].words.find("16") != std::string::npos);
  CHECK(view.rows[0].rungs[1].words == say("squad.none"));
}

TEST_CASE("keys of the page lead on: the session of that swimmer, and their facts") {
  Coach coach(42);
  coach.add("Wren");
  const auto moth = coach.add("Moth");
  coach.page(moth);
  coach.act(screens::PressSwimmerKey{0});
  CHECK(coach.here == moth);
  CHECK(coach.went.back() == screens::Place::session);
  coach.act(screens::PressSwimmerKey{1});
  CHECK(coach.facts_asked.back() == moth);
  coach.act(screens::AddSwimmer{});
  CHECK_FALSE(coach.facts_asked.back().has_value());
  CHECK(coach.went.back() == screens::Place::setup);
}

TEST_CASE("a coach's note is for coaches alone, unless it is said: then the swimmer reads it in the logbook") {
  Coach coach(61);
  const auto wren = coach.add("Wren");
  const auto write = [&](const std::string& text, std::uint32_t who_reads) {
    coach.page(wren);
    coach.act(screens::PressSwimmerKey{2});
    const auto panel = coach.view().swimmer.at(0).ask.at(0);
    REQUIRE(panel.at == screens::AskAt::note);
    CHECK(panel.parts.at(1).choices.at(0).chosen);  // coaches only, before anybody chose
    coach.answer(panel.parts[0].id, 0, text);
    coach.answer(panel.parts[1].id, who_reads);
    coach.act(screens::KeepAsk{});
  };
  write("", 0);
  CHECK_FALSE(coach.view().swimmer.at(0).ask.at(0).parts.at(0).refused.empty());  // an empty one is none
  coach.act(screens::LeaveAsk{});
  write("Talk to the parents about sleep", 0);
  coach.device.clock.tick(1000);
  write("Slow lowering, please", 1);
  CHECK(coach.view().swimmer.at(0).ask.empty());
  REQUIRE(coach.book().notes(wren).size() == 2);
  const auto page = coach.page(wren);
  const auto notes = std::find_if(page.sections.begin(), page.sections.end(), [](const auto& section) { return section.title == say("swimmer.notes"); });
  REQUIRE(notes != page.sections.end());
  CHECK(notes->lines.at(0).words == "Slow lowering, please");
  CHECK(notes->lines.at(1).label.find(say("swimmer.note_coaches")) != std::string::npos);

  kit::DeskDevice phone(62);
  const auto bundle = coach.book().make_bundle({.athletes = {wren}});
  REQUIRE(bundle.ok());
  REQUIRE(phone.book().take_in("wren.slip", *bundle).ok());
  phone.here = wren;
  app::LogbookDesk logbook;
  auto desk = phone.desk();
  std::string all;
  for (const auto& day : logbook.view(desk).days)
    for (const auto& entry : day.entries) all += entry.title + ": " + entry.line + "\n";
  CHECK(all.find("Note: Slow lowering, please") != std::string::npos);
  CHECK(all.find("parents") == std::string::npos);
}
