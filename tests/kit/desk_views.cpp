#include "kit/desk_views.h"

#include <iterator>

#include <imgui.h>

namespace slipway::kit {

using namespace screens;

namespace {

NeedRow need(std::string order, Icon icon, std::string name, std::string sentence, std::string rule, std::string key) {
  NeedRow row;
  row.spoken = order + " of 6. " + name + ". " + sentence + " Rule " + rule + ".";
  row.order = std::move(order);
  row.icon = icon;
  row.name = std::move(name);
  row.sentence = std::move(sentence);
  row.rule = std::move(rule);
  row.key_spoken = key + ": " + row.name;
  row.key_words = std::move(key);
  return row;
}

SquadRow swimmer(std::string name, std::string seen, std::string_view days, std::vector<RungCell> rungs) {
  SquadRow row;
  row.spoken = name + ". Last seen " + seen + ".";
  row.name = std::move(name);
  row.last_seen = std::move(seen);
  for (const char day : days) row.days.push_back({day == 'w' || day == 'b', day == 'l' || day == 'b', day == 'm'});
  row.rungs = std::move(rungs);
  return row;
}

FormPart part(FormKind kind, std::uint32_t id, std::string label, std::string value = {}) {
  FormPart one;
  one.kind = kind;
  one.id = id;
  one.label = std::move(label);
  one.value = std::move(value);
  return one;
}

FormPart row(Setting setting, Icon icon, std::string label, std::string detail, std::string value) {
  FormPart one = part(FormKind::row, number_of(setting), std::move(label), std::move(value));
  one.icon = icon;
  one.detail = std::move(detail);
  return one;
}

FormPart choices(FormKind kind, std::uint32_t id, std::string label, const std::vector<std::string>& words, std::size_t chosen) {
  FormPart one = part(kind, id, std::move(label));
  for (std::size_t i = 0; i < words.size(); ++i) one.choices.push_back({.label = words[i], .chosen = i == chosen});
  return one;
}

FormPart keys(std::uint32_t id, std::vector<FormChoice> all) {
  FormPart one = part(FormKind::keys, id, "");
  one.choices = std::move(all);
  return one;
}

constexpr std::size_t kNone = 99;  // nothing chosen

Decision squat_decision() {
  Decision decision;
  decision.title = "Goblet squat: 20 to 22 kg, 8 reps";
  decision.sentence = "12, 12, 12 with 2 in reserve on Mon 11 and Thu 14 Jan. Dumbbells go by 2 kg: +10 %.";
  decision.rule = "R15";
  decision.sign_off_words = "Sign off";
  decision.overrule_words = "Overrule";
  decision.why_words = "Why";
  decision.spoken = "goblet squat, 20 to 22 kilograms, 8 reps";
  return decision;
}

SwimmerView juno() {
  SwimmerView view;
  view.name = "Juno";
  view.line = "16 years · general, week 4 of 6";
  view.back_words = "Back to the squad";
  view.decisions_title = "Next session";
  Decision pull;
  pull.icon = Icon::pain;
  pull.urgent = true;
  pull.title = "Pull-up: stopped";
  pull.sentence = "Shoulder hurts, 3 to 5, on two days running.";
  pull.rule = "R01";
  pull.why = {"Tue 12 Jan: shoulder, 3 to 5, during pull-up.", "Thu 14 Jan: shoulder, 4."};
  pull.overruled = "Overruled by the coach on Thu 14 Jan: band row instead.";
  pull.overrule_words = "Overrule";
  pull.why_words = "Fold the reasons";
  pull.spoken = "pull-up, stopped";
  view.decisions = {squat_decision(), pull};
  view.sign_offs_title = "Technique signed off";
  SignOffRow squat;
  squat.movement = "Goblet squat";
  squat.state = "SOUND since Mon 3 Nov, till Mon 26 Jan. LOADED waits for a second day.";
  squat.icon = Icon::signoff;
  squat.sound_words = "SOUND again";
  squat.loaded_words = "LOADED";
  squat.withdraw_words = "Withdraw";
  squat.spoken = "Goblet squat, SOUND since Monday 3 November.";
  SignOffRow push;
  push.movement = "Push-up";
  push.state = "not signed off";
  push.sound_words = "SOUND";
  push.spoken = "Push-up, not signed off.";
  view.sign_offs = {squat, push};
  view.clearance_line = "Stopped since Thu 14 Jan: shoulder.";
  view.clearance_words = "Note a clearance";
  view.sections = {{"Last words", {{"Thu 14 Jan", "Effort 5, 46 min. No pain. Sore legs, 1 day."}}},
                   {"Overruled", {{"Mon 4 Jan", "Lowering one week more. \"Elbows.\""}}},
                   {"Last sessions", {{"Thu 14 Jan", "Dryland A, 15 sets as written."}, {"Mon 11 Jan", "Dryland A, 14 sets, 1 left out."}}}};
  view.keys = {{.label = "Open the session", .icon = Icon::session}, {.label = "Facts", .icon = Icon::setup}};
  return view;
}

LogLine changed_line() {
  LogLine line;
  line.label = "A2 pull-up, round 3";
  line.value = "10 × thin band";
  line.was = "12";
  line.mark = Icon::changed;
  line.history = {{"10 × thin band", "by Wren, claimed Tue 12 Jan 08:02", false}, {"12 × thin band", "by Wren, claimed Mon 11 Jan 17:31", true}};
  line.change_words = "Change";
  line.change_spoken = "Change A2 pull-up, round 3";
  line.take_back_words = "Take back";
  line.take_back_spoken = "Take back A2 pull-up, round 3";
  line.spoken = "A2 pull-up, round 3: did 10, was 12, thin band, changed, kept";
  return line;
}

LogEntry entry(Icon icon, Ground ground, std::string title, std::string line) {
  LogEntry one;
  one.icon = icon;
  one.ground = ground;
  one.spoken = title + ". " + line + ".";
  one.title = std::move(title);
  one.line = std::move(line);
  return one;
}

WrittenLine written(std::string title, bool in_use, std::string when, std::string load, std::string use) {
  WrittenLine line;
  line.title = std::move(title);
  line.in_use = in_use;
  line.facts = {{"Written by", in_use ? "the coach, on the tablet" : "the coach, at the desk", true, "differs: written by"},
                {"When, as claimed", std::move(when), true, "differs: when"},
                {"Move", "Goblet squat", false},
                {"Load", std::move(load), true, "differs: load"},
                {"Had seen", "bundle 31", false}};
  line.use_words = std::move(use);
  return line;
}

}  // namespace

SquadView squad() {
  SquadView view;
  view.title = "Squad";
  view.needs_title = "Who needs the coach";
  view.needs_line = "6 of 12, most urgent first";
  view.needs = {need("1", Icon::pain, "Moth", "Shoulder hurts, 3 to 5, on two days running [Tue, Thu]. Pull-up and push-up stop.", "R01", "See them today"),
                need("2", Icon::conflict, "Odd", "Pull-up written twice for Mon 18 Jan: 8 × thin band, 6 × middle band. Lower one in use.", "2 writers", "Choose"),
                need("3", Icon::held, "Tam", "Push-up below 8 reps in two sessions. Step back to hands on 30 cm.", "R11", "Agree or overrule"),
                need("4", Icon::growth, "Pip", "Grew 2.1 cm in 90 days: growing fast. Technique first, steps at most 5 %.", "M05", "Read"),
                need("5", Icon::signoff, "Juno", "Ready for 22 kg: 12, 12, 12 twice with 2 in reserve. Waits for your sign-off.", "R15", "Sign off"),
                need("6", Icon::missing, "Łucja Żółkiewska", "Nothing since Sat 9 Jan; two sessions were due. Bundle 14 is missing.", "log", "Ask for it")};
  view.needs[0].urgent = true;
  view.board_title = "Squad board";
  view.board_line = "12 athletes · week of Mon 11 Jan";
  view.heads = {"Athlete", "Last seen", "Mon to Sun", "Squat", "Pull", "Push"};
  view.rows = {swimmer("Moth", "today 17:24", "bwbwb..", {{"goblet 16"}, {"stopped", true}, {"stopped", true}}),
               swimmer("Tam", "today 17:26", "bw.wb..", {{"goblet 14"}, {"band mid"}, {"step, back"}}),
               swimmer("Juno", "today 17:25", "bwbwbw.", {{"goblet 20"}, {"lowering"}, {"floor"}}),
               swimmer("Łucja Żółkiewska", "Sat 9 Jan", "wwmmmmm", {{"slow"}, {"body"}, {"–"}})};
  view.rows[0].icon = Icon::pain;
  view.rows[0].urgent = true;
  view.rows[1].icon = Icon::held;
  view.add_words = "Add a swimmer";
  view.choose_words = "Press a swimmer's row to see their page.";
  return view;
}

SquadView squad_with_swimmer() {
  SquadView view = squad();
  view.rows[2].open = true;
  view.swimmer = {juno()};
  return view;
}

SquadView squad_overruling() {
  SquadView view = squad_with_swimmer();
  AskPanel ask;
  ask.title = "Goblet squat: what instead?";
  ask.parts = {choices(FormKind::choices, 0, "In place of 22 kg, 8 reps", {"Stay at 20 kg", "24 kg", "Leave it out"}, 0),
               part(FormKind::field, 1, "Why, in a few words")};
  ask.parts[1].detail = "The swimmer and the guardian can read this.";
  ask.keep_words = "Keep this";
  ask.leave_words = "Leave as written";
  view.swimmer[0].ask = {ask};
  return view;
}

LogbookView logbook() {
  LogbookView view;
  view.title = "Logbook";
  view.line = "Wren · week of Mon 11 Jan";
  view.kept_words = "kept 19:10";
  view.keys = {{"Log a swim", Icon::swim}, {"Log other", Icon::plus}};
  LogEntry monday = entry(Icon::land, Ground::land, "Dryland A", "15 sets, 44 min, effort 5");
  monday.mark = Icon::changed;
  monday.open = true;
  monday.note = "Started 17:04, 44 minutes, effort 5, hard.";
  LogLine kept = changed_line();
  kept.label = "A1 goblet squat, round 1";
  kept.value = "10 × 22 kg, 2 in reserve";
  kept.was.clear();
  kept.history.clear();
  kept.mark = Icon::kept;
  kept.change_spoken = "Change A1 goblet squat, round 1";
  kept.take_back_spoken = "Take back A1 goblet squat, round 1";
  monday.lines = {kept, changed_line()};
  view.days = {{"Thu 14 Jan", {entry(Icon::land, Ground::land, "Dryland A", "15 sets, 46 min, effort 5"),
                               entry(Icon::pain, Ground::pain, "Shoulder hurts, 3 to 5", "during Pull-up, round 1")}},
               {"Wed 13 Jan", {entry(Icon::swim, Ground::water, "Sea, 1 800 m", "42:10 · water 11.5 °C · effort 6")}},
               {"Tue 12 Jan", {entry(Icon::sore, Ground::plain, "Sore legs", "since Tue, 2 days")}},
               {"Mon 11 Jan", {monday}}};
  view.more_words = "Show older days";
  return view;
}

ExchangeView exchange_in_full() {
  ExchangeView view = exchange_with_results();
  view.drop_title = "Drop bundles here";
  view.drop_words = "any name; it looks at the bytes";
  view.sum = "8 files read: 5 new, 1 already here, 2 refused.";
  view.last_out = "last: Sun 10 Jan";
  FileResult choose;
  choose.file_name = "odd-tablet.slip";
  choose.word = "you choose";
  choose.sentence = "1 line contradicts what you wrote.";
  choose.spoken = "odd-tablet.slip. You choose. 1 line contradicts what you wrote.";
  choose.you_choose = true;
  view.results.push_back(choose);
  WrittenTwice twice;
  twice.title = "One line, written twice";
  twice.line = "Odd · goblet squat · Mon 18 Jan · neither writer had seen the other's line";
  twice.lines = {written("Line A", false, "Mon 11 Jan 20:10", "22 kg", "Use line A, 22 kg"),
                 written("Line B: in use till you choose", true, "Tue 12 Jan 17:05", "20 kg", "Use line B, 20 kg")};
  twice.other_label = "Or another value, kg";
  twice.other_words = "Use this value";
  twice.other_refused = "A load is 0 to 300 kg.";
  twice.meanwhile = "Until then 20 kg counts, the lower load. Both lines stay in the record.";
  view.written_twice = {twice};
  view.missing_title = "What is missing";
  view.missing = {{"Sol", "bundle 14, about Sun 10 Jan."}, {"Łucja Żółkiewska", "nothing since Tue 5 Jan. Two sessions were due."}};
  view.sealed_line = "What you hand over is sealed for Heron: nobody else can open it.";
  view.open_words = "Hand over open";
  screens::FormPart asks;
  asks.kind = screens::FormKind::caution;
  asks.id = 10;
  asks.label = "A file waits for your yes";
  asks.detail = "week.slip: from an unknown device 3f2a, 14 new, 0 already here.";
  screens::FormPart word;
  word.kind = screens::FormKind::field;
  word.id = 1;
  word.label = "Passphrase";
  screens::FormPart keys;
  keys.kind = screens::FormKind::keys;
  keys.id = 10;
  keys.choices = {{.label = "Take in", .spoken = "Take in week.slip"}, {.label = "Leave it", .spoken = "Leave week.slip"}};
  view.waiting = {word, asks, keys};
  return view;
}

SetupView setup_list() {
  SetupView view;
  view.title = "Setup";
  view.line = "This phone keeps 3.1 MB; the browser may still clear it.";
  view.parts = {choices(FormKind::choices, number_of(Setting::display), "Display", {"daylight", "night", "by clock"}, 0),
                choices(FormKind::choices, number_of(Setting::text_size), "Text size", {"100 %", "125 %", "150 %", "200 %"}, 0),
                row(Setting::device, Icon::squad, "Who uses this device", "swimmer, shared tablet or coach", "coach"),
                row(Setting::kit, Icon::land, "Kit", "dumbbells by 2 kg, bands, bar", "gym"),
                row(Setting::units, Icon::testing, "Units", "kg, m, °C", ""),
                row(Setting::sound, Icon::rest, "Rest sound", "beep and buzz at 0:00", "on"),
                row(Setting::about, Icon::why, "About", "licences, sources, version", "")};
  FormPart leave = keys(number_of(Setting::leave_demo), {{.label = "Leave the made-up squad", .icon = Icon::close}});
  view.parts.push_back(leave);
  return view;
}

SetupView setup_kit() {
  SetupView view;
  view.title = "Kit";
  view.line = "What can be put together where you train.";
  view.back_words = "Back to Setup";
  FormPart loads = part(FormKind::removable, number_of(Setting::loads), "Loads, kg: press one to take it out");
  for (const char* load : {"4", "6", "8", "10", "12", "14", "16", "18", "20", "22.5", "24"})
    loads.choices.push_back({.label = load, .spoken = std::string("Take out ") + load + " kilograms"});
  FormPart add = part(FormKind::field, number_of(Setting::add_load), "Add a load, kg", "1,0,0");
  add.number = true;
  add.refused = "A load is 0.5 to 300 kg.";
  FormPart bands = choices(FormKind::ticks, number_of(Setting::bands), "Bands", {"thin", "light", "middle", "strong", "thick"}, 0);
  FormPart equipment = choices(FormKind::ticks, number_of(Setting::equipment), "What else is there",
                               {"pull-up bar", "box of 30 cm", "box of 60 cm", "a partner or a strap that holds the feet"}, 3);
  view.parts = {loads,
                add,
                keys(number_of(Setting::add_load_key), {{.label = "Add this load", .icon = Icon::plus}}),
                choices(FormKind::choices, number_of(Setting::preset), "Or a rack as it is often found",
                        {"light dumbbells, 1 to 10", "gym dumbbells, 2.5 to 50 by 2.5", "kettlebells, close steps", "pound dumbbells, 5 to 100 lb"}, kNone),
                bands,
                equipment};
  return view;
}

SetupView setup_facts() {
  SetupView view;
  view.title = "Wren";
  view.line = "The coach and your guardian can read this.";
  view.back_words = "Back to Setup";
  FormPart born = part(FormKind::field, number_of(Setting::born), "Year of birth", "1895");
  born.number = true;
  born.refused = "A year from 1920 to this one.";
  FormPart mass = part(FormKind::field, number_of(Setting::mass), "Body mass, kg, at most twice a year", "64");
  mass.number = true;
  FormPart private_words = part(FormKind::words, number_of(Setting::said), "");
  private_words.detail = "Body mass stays with you and the coach.";
  view.parts = {part(FormKind::heading, number_of(Setting::said), "Facts"),
                part(FormKind::field, number_of(Setting::name), "Name or nickname", "Wren"),
                born,
                choices(FormKind::choices, number_of(Setting::group), "Group", {"learning", "general", "sprint", "open water"}, 1),
                choices(FormKind::ticks, number_of(Setting::limits), "Leave out for now", {"nothing overhead", "no jumps", "no hanging"}, 1),
                mass,
                private_words};
  return view;
}

StartView first_run_in_full() {
  StartView view = first_run();
  view.ramp_words = "from land into water";
  const auto question = [](StartPart id, std::string words, std::size_t chosen) {
    FormPart one = choices(FormKind::question, number_of(id), std::move(words), {"No", "Yes"}, chosen);
    for (FormChoice& choice : one.choices) choice.spoken = choice.label;
    return one;
  };
  FormPart doctor = part(FormKind::caution, number_of(StartPart::said), "One yes: talk to a doctor first.");
  doctor.detail = "You can look round meanwhile.";
  view.questions = {question(StartPart::heart, "Ever told of a heart problem, high blood pressure, asthma, fits, or a bone, joint or back problem?", 0),
                    question(StartPart::breath, "Chest pain, faintness, unusual breathlessness?", kNone),
                    question(StartPart::body, "Pregnant, lately gave birth, an operation, or regular medicine?", kNone),
                    question(StartPart::over_50, "Over 50 and new to strength work?", 1),
                    doctor,
                    part(FormKind::words, number_of(StartPart::said), "Your answers stay on this device."),
                    choices(FormKind::question, number_of(StartPart::under_18), "Under 18?", {"No", "Yes"}, 1),
                    choices(FormKind::choices, number_of(StartPart::with_you), "Who is with you?", {"coach", "parent or guardian", "nobody"}, 1)};
  FormPart born = part(FormKind::field, number_of(StartPart::born), "Year of birth");
  born.number = true;
  view.facts = {born, choices(FormKind::choices, number_of(StartPart::device), "Who uses this device?", {"one swimmer", "a shared tablet", "the coach"}, 0)};
  FormPart emergency = part(FormKind::caution, number_of(StartPart::said), "Chest pain, fainting, a head knock, sudden numbness or weakness: stop now and call for help.");
  view.last = {keys(number_of(StartPart::help), {{.label = "Help now", .icon = Icon::caution, .urgent = true}}), emergency};
  return view;
}

AppView coach_with(decltype(AppView::page) page, Place here) {
  AppView view;
  view.bar_name = "Places";
  view.more_words = "All places";
  view.bar = {{Place::session, "Session"}, {Place::squad, "Squad"}, {Place::logbook, "Logbook"}, {Place::exchange, "Exchange"}, {Place::setup, "Setup"}};
  for (PlaceKey& place : view.bar) place.current = place.place == here;
  view.bar[3].count = "2";
  view.bar[3].count_spoken = "2 to choose";
  view.page = std::move(page);
  return view;
}

AppView all_places() {
  AppView view = coach_with(ready_session(), Place::session);
  MoreSheet sheet;
  sheet.title = "All places";
  sheet.close_words = "Close";
  sheet.hand_over_words = "Hand over";
  sheet.hand_over_detail = "3 sessions since Sun 10 Jan";
  sheet.places = {{Place::exchange, "Exchange", false, "bundles in and out, what waits", "2"}, {Place::squad, "Squad", false, "for the coach"},
                  {Place::setup, "Setup", false, "kit, display, who uses this device"}};
  view.more = {sheet};
  view.more_always = true;
  return view;
}

void strike_f6() {
  ImGuiIO& io = ImGui::GetIO();
  io.AddKeyEvent(ImGuiKey_F6, true);
  io.AddKeyEvent(ImGuiKey_F6, false);
}

namespace {

// 24 letters in one word, which no line can break at a space; some that B612 lacks.
constexpr const char* kLongName = "Wolkenbruchmöwenschwärme";
constexpr const char* kForeignName = "Ğłęźśćőűšžřěďťňůąęłńśźżć";
constexpr const char* kLongestName = "Łucja Żółkiewska of the harbour wall and the long low reef by";  // 60

SquadView squad_of_long_names() {
  SquadView view = squad_with_swimmer();
  const char* names[] = {kLongName, kForeignName, kLongestName};
  for (std::size_t i = 0; i < std::size(names); ++i) {
    view.needs[i].name = names[i];
    view.rows[i].name = names[i];
  }
  view.swimmer[0].name = kForeignName;
  return view;
}

LogbookView logbook_asking() {  // a set added afterwards, refused, and the days another session may be of
  LogbookView view = logbook();
  view.line = kLongName;
  FormPart reps = part(FormKind::field, 1, "Reps", "101");
  reps.refused = "Reps must be a whole number from 0 to 100.";
  FormPart load = part(FormKind::field, 2, "Load, kg", "501");
  load.refused = "A load must be from 0 to 500 kg; this was 501. Nothing was stored.";
  view.days[3].entries[0].note = "Started 17:04, not finished, stood on Sun 12 Mar 2062, the swimmer, moved by the coach, claimed Tue 12 Jan 08:02";
  view.days[3].entries[0].parts = {choices(FormKind::choices, 0, "A set of Mon 11 Jan", {"Goblet squat", "Band-assisted pull-up", "Push-up with hands raised", "Side plank"}, 1), reps, load,
                                   choices(FormKind::choices, 3, "In reserve: how many more good ones?", {"0", "1", "2", "3", "4+"}, kNone),
                                   choices(FormKind::choices, 4, "How hard was the whole session?", {"0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "10"}, 6),
                                   keys(5, {{.label = "Keep this set"}, {.label = "Leave"}}),
                                   keys(6, {{.label = "Add a set", .icon = Icon::plus}, {.label = "Another day", .icon = Icon::pencil}, {.label = "How hard was it?"}})};
  view.ask = {choices(FormKind::choices, 7, "On which day was it?", {"Wed 13 Jan", "Tue 12 Jan", "Sun 10 Jan", "Sat 9 Jan", "Fri 8 Jan", "Thu 31 Dec 2025"}, kNone),
              part(FormKind::field, 8, "Or type a day, year-month-day"), keys(9, {{.label = "Use this day"}, {.label = "Leave"}})};
  return view;
}

SetupView setup_of_long_names() {
  SetupView view = setup_facts();
  view.title = std::string("Facts of ") + kLongName;
  view.parts.push_back(choices(FormKind::choices, number_of(Setting::who), "Which athlete is on the board now", {kLongName, kForeignName, kLongestName, "Ny"}, 1));
  view.parts.push_back(row(Setting::facts, Icon::programme, "Facts", "name, year of birth, days, limits", kForeignName));
  return view;
}

}  // namespace

std::vector<NamedPage> desk_pages() {
  SquadView quiet = squad();
  quiet.needs.clear();
  quiet.needs_none = "Nobody needs you today.";
  quiet.rows.clear();
  quiet.board_none = "No swimmer yet. Take in a bundle, or add one.";
  LogbookView empty = logbook();
  empty.days.clear();
  empty.keys.clear();
  empty.none_words = "Nothing logged yet.";
  AppView start;
  start.page = first_run_in_full();
  return {{"squad", coach_with(squad(), Place::squad)},
          {"squad, a swimmer", coach_with(squad_with_swimmer(), Place::squad)},
          {"squad, overruling", coach_with(squad_overruling(), Place::squad)},
          {"squad, quiet", coach_with(quiet, Place::squad)},
          {"logbook", coach_with(logbook(), Place::logbook)},
          {"logbook, empty", coach_with(empty, Place::logbook)},
          {"squad, long names", coach_with(squad_of_long_names(), Place::squad)},
          {"logbook, asking", coach_with(logbook_asking(), Place::logbook)},
          {"setup, long names", coach_with(setup_of_long_names(), Place::setup)},
          {"exchange in full", coach_with(exchange_in_full(), Place::exchange)},
          {"setup", coach_with(setup_list(), Place::setup)},
          {"setup, kit", coach_with(setup_kit(), Place::setup)},
          {"setup, facts", coach_with(setup_facts(), Place::setup)},
          {"all places", all_places()},
          {"first run in full", start}};
}

}  // namespace slipway::kit
