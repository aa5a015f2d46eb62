#include "kit/session_views.h"

namespace slipway::kit {

using namespace screens;

namespace {

struct RowWords {
  std::string code, name, dose, spoken;   // spoken: "A1 goblet squat"
};

BoardCell board_cell(CellState state, const std::string& figure, std::uint32_t round, const RowWords& row) {
  BoardCell cell;
  cell.state = state;
  cell.figure = figure;
  cell.round = round;
  cell.may_change = state != CellState::not_done && state != CellState::crossed_out;
  const std::string place = row.spoken + ", round " + std::to_string(round) + ": ";
  switch (state) {
    case CellState::kept: cell.spoken = place + figure + ", as written, kept"; break;
    case CellState::next: cell.spoken = place + "written " + figure + ", next"; break;
    case CellState::held: cell.spoken = place + "held by a rule: one hard day, try the same again"; break;
    case CellState::swapped: cell.spoken = place + figure + ", in place of pull-up, because shoulder hurts, 3 to 5"; break;
    case CellState::crossed_out: cell.spoken = place + "crossed out, because shoulder hurts"; break;
    case CellState::waits_sign_off: cell.spoken = place + figure + ", waits for sign-off"; break;
    default: cell.spoken = place + "written " + figure + ", not done"; break;
  }
  return cell;
}

BoardRow board_row(const RowWords& words, const std::vector<std::pair<CellState, std::string>>& cells) {
  BoardRow row;
  row.code = words.code;
  row.name = words.name;
  row.dose = words.dose;
  row.spoken = words.spoken + ", " + words.dose;
  for (const auto& [state, figure] : cells) row.cells.push_back(board_cell(state, figure, static_cast<std::uint32_t>(row.cells.size() + 1), words));
  return row;
}

const RowWords kSquat{"A1", "Squat", "22 kg", "A1 goblet squat"};
const RowWords kPull{"A2", "Pull-up", "thin band", "A2 pull-up with band"};
const RowWords kPush{"A3", "Push-up", "floor", "A3 push-up"};

constexpr auto kKept = CellState::kept;
constexpr auto kNext = CellState::next;
constexpr auto kOpen = CellState::not_done;

Board circuit_board() {
  Board board;
  board.spoken = "Whiteboard, Dryland A. 3 movements, 3 rounds.";
  board.round_names = {"round 1", "round 2", "round 3"};
  board.rows = {board_row(kSquat, {{kKept, "10"}, {kNext, "10"}, {kOpen, "9"}}), board_row(kPull, {{kKept, "12"}, {kOpen, "12"}, {kOpen, "12"}}),
                board_row(kPush, {{kKept, "8"}, {kOpen, "8"}, {kOpen, "8"}})};
  board.foot = {{"B trunk and shoulder, 2 rounds: later", "Show block B, trunk and shoulder, 2 rounds, later"}};
  board.folded_words = "A2, A3, B: show board";
  board.fold_words = "Fold the board";
  return board;
}

NextSet squat_next() {
  NextSet next = ready_session().next.front();
  next.why = "Why this: 9, 9, 8 on Monday, inside 8 to 12. Add a rep where you can.";
  next.why_short = "Why this";
  return next;
}

NextSet pull_next() {
  NextSet next;
  next.place = "Next: A2, round 2 of 3";
  next.movement = "Pull-up with band";
  next.reserve = "leave 2 in reserve";
  next.reps = "12";
  next.load = "thin band";
  next.cue = "Shoulders down first, chin over the bar.";
  next.why = "Why this: 11, 11, 10 on Monday, inside 8 to 12.";
  next.why_short = "Why this";
  next.spoken_group = "Next: A2 pull-up with band, round 2 of 3. 12 reps with the thin band. Leave 2 in reserve.";
  next.log_words = "Log as written";
  next.log_dose = "A2, 12 × thin band";
  next.log_spoken = "Log as written, 12 with the thin band";
  return next;
}

std::vector<SquareRow> squares(const std::vector<std::string>& rows, const std::vector<std::string>& spoken) {
  std::vector<SquareRow> made;
  for (const std::string& words : rows) {
    SquareRow row{words, {}};
    for (const std::string& band : spoken) row.squares.push_back({words + ", " + band, {}, CellState::not_done});
    made.push_back(row);
  }
  return made;
}

SessionView with_panel() {
  SessionView view = circuit_session();
  view.next.clear();
  view.change_words.clear();
  return view;
}

}  // namespace

SessionView circuit_session() {
  SessionView view;
  view.title = "Dryland A";
  view.day_line = "Wren · Thu 14 Jan · general, week 5 of 6";
  view.kept_words = "kept 18:42";
  view.kept_state = CellState::kept;
  view.board = circuit_board();
  view.next = {squat_next()};
  view.change_words = "Change";
  view.pain_words = "Pain";
  view.sore_words = "Sore";
  return view;
}

SessionView resting_session() {
  SessionView view = circuit_session();
  view.board.rows[0].cells[1] = board_cell(kKept, "10", 2, kSquat);
  view.board.rows[1].cells[1] = board_cell(kNext, "12", 2, kPull);
  view.board.in_hand = 1;
  view.next = {pull_next()};
  view.back_words = "A1 back";
  RestView rest;
  rest.title = "Rest, at least 1:00";
  rest.clock = "0:37";
  rest.under = "to go";
  rest.note = "sounds at 0:00";
  rest.spoken = "37 seconds to go, at least 1 minute";
  rest.then_place = "Then A2, round 2 of 3";
  rest.then_dose = "12 × thin band";
  rest.left_s = 37;
  view.rest = {rest};
  return view;
}

SessionView rested_session() {
  SessionView view = resting_session();
  RestView& rest = view.rest.front();
  rest.clock = "Go";
  rest.under = "rested 1:12";
  rest.note = "4:00 is plenty";
  rest.spoken = "Rested 1 minute 12 seconds, at least 1 minute";
  rest.left_s = 0;
  rest.go = true;
  return view;
}

SessionView last_set_session() {
  SessionView view = circuit_session();
  view.board.rows[0].cells[1] = board_cell(kKept, "10", 2, kSquat);
  view.board.rows[0].cells[2] = board_cell(kNext, "9", 3, kSquat);
  NextSet& next = view.next.front();
  next.place = "Next: A1, round 3 of 3, the last";
  next.reps = "9";
  next.keys = {{"Log as written", "2 or more left", "Log as written, 9 at 22 kilograms, 2 or more left"},
               {"Log as written", "0–1 left", "Log as written, 9 at 22 kilograms, 0 to 1 left"}};
  return view;
}

SessionView warming_up_session() {
  SessionView view = circuit_session();
  view.board.rows[0].cells[0] = board_cell(kNext, "10", 1, kSquat);
  view.board.rows[0].cells[1] = board_cell(kOpen, "10", 2, kSquat);
  view.next.front().warm_up_words = "Warm-up: 6 × 12 kg";
  view.next.front().warm_up_spoken = "Log the warm-up set, 6 at 12 kilograms";
  view.next.front().skip_words = "No warm-up";
  return view;
}

SessionView swapped_session() {
  SessionView view = circuit_session();
  const RowWords row{"A2", "Row", "thick band", "A2 band row"};
  BoardCell changed = board_cell(CellState::changed, "9", 2, kSquat);
  changed.written = "10";
  changed.spoken = "A1 goblet squat, round 2: did 9, written 10, 1 in reserve, changed, kept";
  view.board.rows[0].cells[1] = changed;
  view.board.rows[0].cells[2] = board_cell(CellState::held, "9", 3, kSquat);
  view.board.rows[1] = board_row(row, {{kKept, "12"}, {kNext, "8"}, {CellState::swapped, "8"}});
  view.board.rows[2].cells[1] = board_cell(CellState::crossed_out, "8", 2, kPush);
  view.board.rows[2].cells[2] = board_cell(CellState::waits_sign_off, "8", 3, kPush);
  view.board.in_hand = 1;
  NextSet next = pull_next();
  next.movement = "Band row";
  next.badge = "swapped in";
  next.badge_state = CellState::swapped;
  next.reserve.clear();
  next.reps = "8";
  next.load = "thick band";
  next.cue = "Blade first, then elbow.";
  next.why = "Why this: shoulder hurts, 3 to 5. Your coach reads it in the next bundle.";
  next.why_urgent = true;
  next.spoken_group = "Next: A2 band row, in place of pull-up, round 2 of 3. 8 reps with the thick band.";
  next.log_dose = "8 × thick band";
  next.log_spoken = "Log as written, 8 with the thick band";
  view.next = {next};
  return view;
}

SessionView reason_session() {
  SessionView view = with_panel();
  view.why = {{"Why this: goblet squat, 10 × 22 kg", "Inside 8 to 12: add a rep where you can.",
               {"Mon 11 Jan: 9, 9, 8 at 22 kg, 2 in reserve", "Thu 7 Jan: 9, 8, 8 at 22 kg, 3 in reserve"},
               "Rule R22", "To the session"}};
  return view;
}

SessionView changing_circuit() {
  SessionView view = circuit_session();
  ChangePanel panel = changing_session().change.front();
  panel.side_label = "Side: which one are these reps of?";
  panel.sides = {{"left", "left side"}, {"both", "both sides", true}, {"right", "right side"}};
  panel.form_words = "Form broke: the reps up to the last good one";
  panel.swap_words = "Another exercise";
  panel.take_back_words = "Take back";
  view.next.clear();
  view.change_words.clear();
  view.change = {panel};
  return view;
}

SessionView swapping_session() {
  SessionView view = with_panel();
  view.swap = {{"Another exercise for A2", "Pull-up with band can't be done here today.",
                {{"Band row", "8 × thick band", "Band row, 8 with the thick band"},
                 {"Row under the bar, knees bent", "8", "Row under the bar, knees bent, 8"},
                 {"Leave the pull out", {}, {}}},
                "Leave as written"}};
  return view;
}

SessionView pain_session() {
  SessionView view = with_panel();
  PainPanel panel;
  panel.title = "Where does it hurt, how much?";
  panel.help = "Sharp, in a joint, on one side, or at night. For dull, both sides: use Sore.";
  panel.grid_spoken = "Where it hurts and how much";
  panel.heads = {{"a little", "1–2"}, {"hurts", "3–5"}, {"a lot", "6–10"}};
  panel.rows = squares({"Shoulder", "Elbow", "Wrist", "Neck", "Low back", "Hip, groin", "Knee", "Ankle"},
                       {"a little, 1 to 2", "hurts, 3 to 5", "a lot, 6 to 10"});
  panel.rows[0].squares[1].state = CellState::kept;
  panel.rows[0].squares[1].amount = "3–5";
  panel.stop_words = "Chest pain, faint, head knock, numb";
  panel.kept = {{"Kept: shoulder hurts, 3 to 5.", "Pull and push change now.", "Side? Number?", {}, false}};
  panel.back_words = "Take back";
  panel.close_words = "To the session";
  view.pain = {panel};
  return view;
}

SessionView pain_asked_session() {
  SessionView view = pain_session();
  PainPanel& panel = view.pain.front();
  panel.rows[1].squares[0].state = CellState::not_kept;
  panel.rows[1].squares[0].amount = "1–2";
  panel.kept.front().more_words.clear();
  panel.side_label = "Side";
  panel.sides = {{"left", "left"}, {"right", "right", true}, {"both", "both sides"}};
  panel.kept.front().title = "Kept: shoulder hurts a lot, 6 to 10.";
  std::swap(panel.rows[0].squares[1], panel.rows[0].squares[2]);
  panel.rows[0].squares[1].spoken.swap(panel.rows[0].squares[2].spoken);
  panel.rows[0].squares[2].amount = "6–10";
  panel.number_label = "Number";  // of the band that was kept; this one has the most
  for (int number = 6; number <= 10; ++number) panel.numbers.push_back({std::to_string(number), std::to_string(number), number == 7});
  panel.asked = {{"report", "Shoulder on Mon 11 Jan: back to normal the next morning?", {{"Yes", "Yes, settled"}, {"No", "No, not settled"}}}};
  return view;
}

SessionView stopped_session() {
  SessionView view = with_panel();
  StopPanel panel;
  panel.title = "Stop now";
  panel.words = {"Chest pain, fainting, a head knock, sudden numbness or weakness: stop now and call for help.", "Tell an adult near you."};
  panel.number_label = "Emergency number";
  panel.number = "112";
  panel.flags_label = "Something else? It is kept at once.";
  panel.flags = {{"Weight loss without a cause", {}, false}, {"Night sweats, or night pain without a cause", {}, true}, {"Back pain with leg signs", {}, false}};
  panel.back_words = "Take back";
  panel.close_words = "To the session";
  view.stop = {panel};
  return view;
}

SessionView sore_session() {
  SessionView view = with_panel();
  SorePanel panel;
  panel.title = "What is sore, since when?";
  panel.help = "Dull, both sides, in the muscle. Sharp or in a joint: use Pain.";
  panel.grid_spoken = "What is sore and since when";
  panel.heads = {{"today", {}}, {"1", "day"}, {"2", "days"}, {"3–4", "days"}, {"5+", "days"}};
  panel.rows = squares({"Legs", "Pulling", "Pushing", "Trunk"}, {"today", "1 day", "2 days", "3 to 4 days", "5 days and more"});
  panel.rows[0].squares[4].state = CellState::kept;
  panel.rows[0].squares[4].amount = "5+";
  panel.kept = {{"Kept: legs sore, 5 days and more.", "Longer than usual. The same dose today, a slow warm-up.", {}, {}, false}};
  panel.days_label = "Since how many days?";
  panel.days_spoken = "Days sore";
  panel.fewer_words = "Fewer days";
  panel.more_words = "More days";
  panel.days = 5;
  panel.days_low = 5;
  panel.hinders_words = "It hinders movement";
  panel.back_words = "Take back";
  panel.close_words = "To the session";
  view.sore = {panel};
  return view;
}

SessionView checking_session() {
  SessionView view = with_panel();
  view.check = {{"Before you start", "Does anything hurt, is anything sore?", "Nothing hurts, not sore", {}}};
  view.adult = {{"Under 18: train with a qualified adult in the room.", "An adult is in the room", "without one: the floor version", {}}};
  return view;
}

SessionView check_beside_session() {
  SessionView view = circuit_session();
  view.check = {{{}, "Does anything hurt, is anything sore?", "Nothing hurts, not sore", {}}};
  view.adult = {{{}, "Who is in the room?", {}, {{"coach", "coach"}, {"helper", "assistant"}, {"parent", "guardian"}}}};
  return view;
}

SessionView finish_session() {
  SessionView view = with_panel();
  view.title = "Finish";
  view.day_line = "Wren · Dryland A · Thu 14 Jan";
  view.kept_words = "15 sets kept";
  FinishPanel panel;
  panel.question = "How hard was the whole session?";
  const std::vector<std::string> words{"rest", "very, very easy", "easy", "moderate", "somewhat hard", "hard", "", "very hard", "", "", "maximal"};
  for (std::size_t i = 0; i < words.size(); ++i)
    panel.rows.push_back({std::to_string(i), words[i], std::to_string(i) + (words[i].empty() ? ", between" : ", " + words[i]), i == 5});
  panel.chosen_words = "chosen";
  panel.minutes_label = "Minutes";
  panel.minutes_note = "by the clock";
  panel.minutes_spoken = "Minutes";
  panel.fewer_words = "Fewer minutes";
  panel.more_words = "More minutes";
  panel.minutes = 46;
  panel.finish_words = "Finish: effort 5, 46 min";
  panel.ready = true;
  view.finish = {panel};
  return view;
}

SessionView short_finish_session() {
  SessionView view = finish_session();
  FinishPanel& panel = view.finish.front();
  panel.rows[5].chosen = false;
  panel.ready = false;
  panel.finish_words = "Finish";
  panel.finish_detail = "choose how hard it was";
  panel.minutes = 146;
  panel.minutes_refused = "Minutes must be a whole number from 1 to 600.";
  panel.short_label = "Shorter than written: why?";
  panel.short_reasons = {{"no time", "no time"}, {"tired", "tired"}, {"pain", "pain"}, {"no kit", "kit missing"}, {"other", "other"}};
  panel.leave_words = "Back to the session";
  return view;
}

SessionView all_done_session() {
  SessionView view = with_panel();
  for (BoardRow& row : view.board.rows)
    for (BoardCell& cell : row.cells) cell.state = kKept;
  view.board.foot.front().up = true;
  view.done_words = "All rounds are done.";
  view.back_words = "A3 back";
  view.finish_words = "Finish";
  view.hand_over_words = "Hand over";
  return view;
}

SessionView coming_session() {
  SessionView view = all_done_session();
  view.done_words = "Kept: effort 5, 46 min.";
  view.finish_words.clear();
  view.back_words.clear();
  view.pain_words.clear();
  view.sore_words.clear();
  view.coming = {{"Next: Mon 18 Jan, Dryland B",
                  {{"Goblet squat", "3 × 11 × 22 kg", "All sets inside 8 to 12: add a rep where you can.", "R22", {}, kOpen},
                   {"Band row", "3 × 8 × thick band", "Shoulder hurts, 3 to 5: pull-up stays out till it settled.", "R02", {}, CellState::swapped},
                   {"Push-up, hands on a step of 30 cm", "3 × 10", "Held: one hard day, try the same again.", "R20", {}, CellState::held},
                   {"Hip hinge with kettlebell", "2 × 8 × 16 kg", "Waits for the coach's sign-off.", "R26", {}, CellState::waits_sign_off}}}};
  return view;
}

SessionView empty_session() {
  SessionView view;
  view.title = "Session";
  view.day_line = "Wren · Thu 14 Jan";
  view.kept_words = "nothing yet";
  view.kept_state = CellState::left_out;
  StatePanel clean;
  clean.title = "The board is clean.";
  clean.words = {"No programme here yet. Take one in from your coach, or start the learning weeks: two short sessions, body weight and band."};
  clean.keys = {{"Take in a bundle", {}, {}}, {"Start the learning weeks", {}, {}}};
  view.states = {clean};
  return view;
}

SessionView refused_session() {
  SessionView view = with_panel();
  StatePanel stop;
  stop.title = "No session today";
  stop.words = {"You reported chest pain. Stop training and get medical advice.", "Emergency number: 112."};
  stop.rule = "G01";
  stop.keys = {{"What to do", {}, {}}, {"Note a clearance", {}, {}}};
  stop.icon = Icon::caution;
  stop.urgent = true;
  view.states = {stop};
  view.sore_words.clear();
  return view;
}

SessionView moved_session() {
  SessionView view = with_panel();
  StatePanel ask;
  ask.title = "48 hours between sessions is better.";
  ask.words = {"The last one was yesterday at 18:40."};
  ask.rule = "G09";
  ask.keys = {{"Train now", "one set less, no increase", "Train now, one set less, no increase"}, {"Move to Sat 16 Jan", {}, {}}};
  view.states = {ask};
  return view;
}

SessionView lacking_session() {
  SessionView view = circuit_session();
  StatePanel lacking;
  lacking.title = "Body mass is missing";
  lacking.words = {"Without it the first load of a new movement can't be worked out."};
  lacking.keys = {{"Enter body mass", {}, {}}};
  lacking.quiet = true;
  view.states = {lacking};
  return view;
}

SessionView in_gloves(SessionView view, bool left) {
  view.hand = {left, true};
  return view;
}

std::vector<NamedPage> session_pages() {
  SessionView opened = circuit_session();
  opened.board.open = true;
  SessionView kept = last_set_session();
  kept.next.front().just_logged = true;
  kept.next.front().just_words = "Kept";
  return {{"circuit", app_with(circuit_session())},        {"rest", app_with(resting_session())},          {"rest over", app_with(rested_session())},
          {"last set", app_with(last_set_session())},      {"last set kept", app_with(kept)},              {"warm-up", app_with(warming_up_session())},
          {"swapped", app_with(swapped_session())},        {"reason", app_with(reason_session())},         {"change of a circuit", app_with(changing_circuit())},
          {"swap", app_with(swapping_session())},          {"pain", app_with(pain_session())},             {"pain asked", app_with(pain_asked_session())},
          {"stop", app_with(stopped_session())},           {"sore", app_with(sore_session())},             {"check", app_with(checking_session())},
          {"check beside", app_with(check_beside_session())}, {"finish", app_with(finish_session())},      {"short finish", app_with(short_finish_session())},
          {"all done", app_with(all_done_session())},      {"coming", app_with(coming_session())},         {"clean board", app_with(empty_session())},
          {"no session", app_with(refused_session())},     {"move or train", app_with(moved_session())},   {"mass missing", app_with(lacking_session())},
          {"board opened", app_with(opened)},              {"gloves", app_with(in_gloves(circuit_session()))}, {"last set in gloves", app_with(in_gloves(last_set_session()))},
          {"change in gloves", app_with(in_gloves(changing_circuit()))}, {"left hand in gloves", app_with(in_gloves(resting_session(), true))}};
}

}  // namespace slipway::kit
