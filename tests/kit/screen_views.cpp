// The views of the screen tests, worded as the app words them.
#include "kit/screen_kit.h"
#include "kit/session_views.h"

namespace slipway::kit {

using namespace screens;

namespace {

BoardCell cell(CellState state, std::string figure, std::uint32_t round, std::string spoken, bool may_change) {
  BoardCell cell;
  cell.state = state;
  cell.figure = std::move(figure);
  cell.round = round;
  cell.spoken = "A1 goblet squat, round " + std::to_string(round) + ": " + spoken;
  cell.may_change = may_change;
  return cell;
}

Board squat_board() {
  BoardRow row;
  row.code = "A1";
  row.name = "Squat";
  row.dose = "22 kg";
  row.spoken = "A1, goblet squat, 22 kilograms";
  row.cells = {cell(CellState::kept, "10", 1, "10 at 22 kilograms, as written, kept", true),
               cell(CellState::next, "10", 2, "written 10 at 22 kilograms, next", true),
               cell(CellState::not_done, "9", 3, "written 9 at 22 kilograms, not done", false)};
  Board board;
  board.spoken = "Whiteboard, Dryland A. 1 movement, 3 rounds.";
  board.round_names = {"round 1", "round 2", "round 3"};
  board.rows = {row};
  return board;
}

NextSet squat_next() {
  NextSet next;
  next.place = "Next: A1, round 2 of 3";
  next.movement = "Goblet squat";
  next.reserve = "leave 2 in reserve";
  next.reps = "10";
  next.load = "22 kg";
  next.cue = "Weight at the breastbone, elbows inside the knees.";
  next.why = "Why this: written by the coach on Mon 23 Nov.";
  next.spoken_group = "Next: A1 goblet squat, round 2 of 3. 10 reps at 22 kilograms. Leave 2 in reserve.";
  next.log_words = "Log as written";
  next.log_dose = "10 × 22 kg";
  next.log_spoken = "Log as written, 10 at 22 kilograms";
  return next;
}

}  // namespace

SessionView ready_session() {
  SessionView view;
  view.title = "Dryland A";
  view.day_line = "Wren · Wed 25 Nov";
  view.kept_words = "kept 18:42";
  view.kept_state = CellState::kept;
  view.board = squat_board();
  view.next = {squat_next()};
  view.change_words = "Change";
  view.back_words = "A1 back";
  view.hand_over_words = "Hand over";
  return view;
}

SessionView changing_session() {
  SessionView view = ready_session();
  view.next.clear();
  view.change_words.clear();
  view.back_words.clear();
  ChangePanel panel;
  panel.title = "A1, round 2: what was done";
  panel.written = "Written: 10 × 22 kg, 2 in reserve";
  panel.reps_label = panel.reps_spoken = "Reps";
  panel.fewer_words = "Fewer reps";
  panel.more_words = "More reps";
  panel.reps = 9;
  panel.load_label = "Load: your kit's own steps, kg";
  for (const int load : {18, 20, 22, 24, 26}) panel.loads.push_back({std::to_string(load), std::to_string(load) + " kilograms", load == 22});
  panel.reserve_label = "In reserve: how many more good ones?";
  for (const char* reserve : {"0", "1", "2", "3", "4+"}) panel.reserves.push_back({reserve, std::string(reserve) + " in reserve", *reserve == '1'});
  panel.keep_words = "Log 9 × 22 kg";
  panel.keep_detail = "1 in reserve";
  panel.leave_words = "Leave as written";
  panel.left_out_words = "Left out";
  view.change = {panel};
  return view;
}

SessionView troubled_session() {
  SessionView view = ready_session();
  view.kept_words = "1 set not kept";
  view.kept_state = CellState::not_kept;
  view.board.rows[0].cells[0].state = CellState::not_kept;
  view.next[0].will_wait = true;
  view.next[0].wait_words = "will wait, not yet kept";
  TroublePanel full;
  full.title = "Not kept: the storage is full";
  full.body = "1 set is only in memory. It shows a drop, not a tick, till it is kept. Free some space, then try again.";
  full.retry_words = "Try again";
  full.hand_over_words = "Hand over by file";
  TroublePanel forgets;
  forgets.drop = false;
  forgets.title = "This window forgets";
  forgets.body = "A private window, or storage turned off. Sets live till you close it.";
  TroublePanel made_up;
  made_up.drop = false;
  made_up.title = "Made-up squad";
  made_up.body = "Nothing here is kept.";
  made_up.leave_words = "Leave";
  view.troubles = {full, forgets, made_up};
  return view;
}

ExchangeView exchange_with_results() {
  ExchangeView view;
  view.title = "Exchange";
  view.line = "A bundle holds 5 sets, 2 sessions.";
  view.hand_over_words = "Hand over";
  view.as_text_words = "Hand over as text";
  view.take_in_words = "Take in a bundle";
  view.results_title = "Taken in this visit";
  FileResult taken;
  taken.file_name = "moth.slip";
  taken.word = "new";
  taken.sentence = "12 new, 3 already here.";
  taken.spoken = "moth.slip: new. 12 new, 3 already here.";
  FileResult refused;
  refused.file_name = "pip-from-the-poolside-tablet-2026-11-25-0c71f2.slip";
  refused.word = "refused";
  refused.sentence = "Damaged at byte 8192. Nothing was changed. Ask for it again.";
  refused.spoken = "pip: refused. Damaged at byte 8192.";
  refused.refused = true;
  view.results = {taken, refused};
  view.contradictions_title = "Written twice";
  view.contradictions = {"Odd, load: 22 kg by the swimmer, or 24 kg by the coach."};
  return view;
}

StartView first_run() {
  StartView view;
  view.title = "Slipway";
  view.paragraphs = {"Write down each set, also with no signal.", "Stop at pain that is sharp, in a joint or on one side."};
  view.name_label = "Name or nickname on this device";
  view.start_words = "Start";
  view.take_in_words = "Take in a bundle";
  view.demo_words = "Look around with a made-up squad";
  return view;
}

NoticeView open_elsewhere() {
  NoticeView view;
  view.title = "Open in another window";
  view.paragraphs = {"Only one window may write, so that nothing is written twice."};
  view.keys = {{"Take over here", true}, {"Only look", false}};
  return view;
}

AboutView about() {
  AboutView view;
  view.title = "About";
  view.paragraphs = {"Slipway carries what a swimmer builds in the gym into the water.", "It never replaces a doctor or a qualified adult in the room."};
  return view;
}

AppView app_with(decltype(AppView::page) page) {
  AppView view;
  view.bar_name = "Places";
  view.bar = {{Place::session, "Session", true}, {Place::exchange, "Exchange", false}, {Place::about, "About", false}};
  view.page = std::move(page);
  return view;
}

std::vector<NamedPage> every_page() {
  SessionView mending = changing_session();
  mending.change[0].take_back_words = "Take back";
  mending.change[0].reps_refused = "Reps must be a whole number from 0 to 100.";
  SessionView many = ready_session();
  for (std::uint32_t round = 4; round <= 9; ++round) {
    many.board.round_names.push_back("round " + std::to_string(round));
    many.board.rows[0].cells.push_back(cell(CellState::kept, "10", round, "10, kept", true));
  }
  AppView start;
  start.page = first_run();
  AppView notice;
  notice.page = open_elsewhere();
  std::vector<NamedPage> pages{{"ready", app_with(ready_session())},       {"change", app_with(changing_session())}, {"mending", app_with(mending)},
          {"trouble", app_with(troubled_session())},  {"nine rounds", app_with(many)},          {"exchange", app_with(exchange_with_results())},
          {"about", app_with(about())},               {"first run", start},                     {"elsewhere", notice}};
  for (NamedPage& page : session_pages()) pages.push_back(std::move(page));
  return pages;
}

std::vector<PageSize> agreed_sizes() { return {{390, 844}, {844, 390}, {1024, 768}, {1440, 900}}; }

}  // namespace slipway::kit
