// The Session place: the gym whiteboard and under it the one set that is next.
//
// The view arrives worded and rounded; drawing decides nothing. What a person asked
// for comes back as intents. Drawn to the whiteboard, pen tray and hand regions of
// the screens design (01a to 01j, 05c states). Of the panels that may stand in place of
// the next set at most one is open; if several are, the first of stop, pain, sore,
// finish, swap, change, why is shown.
#pragma once

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "screens/session_panels.h"
#include "screens/theme.h"

namespace slipway::screens {

class Ui;

struct BoardCell {
  CellState state = CellState::not_done;
  std::string figure;   // reps, "10"
  std::string written;  // of a changed cell: what was written, to be struck; empty draws the sign alone
  std::string spoken;   // "A1 goblet squat, round 1: 10 at 22 kilograms, as written, kept"
  std::uint32_t round = 1;
  bool may_change = false;  // a press opens it for mending
};
struct BoardRow {
  std::string code;     // "A1"
  std::string name;     // "Squat"
  std::string dose;     // "22 kg"
  std::string spoken;   // "A1, goblet squat, 22 kilograms"
  bool contradiction = false;  // a field of its prescription is written twice
  std::vector<BoardCell> cells;
};
struct FootRow {        // another block of this session, folded to a line
  std::string words;    // "B trunk and shoulder, 2 rounds: later"
  std::string spoken = {};   // empty: the words
  bool up = false;      // arrow up: it stands before the one shown
};
struct Board {
  std::string spoken;
  std::vector<std::string> round_names;  // "round 1" …
  std::vector<BoardRow> rows;
  std::vector<FootRow> foot = {};        // pressed: OpenBlock with its place here
  std::uint32_t in_hand = 0;             // the row that stays where the board is folded
  // Large text and low pages fold the board to the row in hand; this line opens it (OpenBoard). Empty: never folded.
  std::string folded_words = {};         // "A2, A3, B: show board"
  std::string fold_words = {};           // "Fold the board", while it is open there
  bool open = false;                     // it was opened
};

struct MainKey {
  std::string words;    // "Log as written"
  std::string detail;   // "10 × 22 kg"; of two: "2 or more left"
  std::string spoken;   // "Log as written, 10 at 22 kilograms, 2 or more left in reserve"
};
struct NextSet {
  std::string place;        // "Next: A1, round 2 of 3"
  std::string movement;     // "Goblet squat"
  std::string reserve;      // "leave 2 in reserve"
  std::string reps;         // "10"
  std::string load;         // "22 kg"
  std::string cue;
  std::string why;          // one sentence; empty hides the row
  std::string spoken_group; // "Next: A1 goblet squat, round 2 of 3. 10 reps at 22 kilograms. Leave 2 in reserve."
  std::string log_words;    // "Log as written"
  std::string log_dose;     // "10 × 22 kg"
  std::string log_spoken;   // "Log as written, 10 at 22 kilograms"
  bool just_logged = false; // for 700 ms: outlined, says `just_words`, deaf
  std::string just_words;   // "Kept" or "Keeping"
  bool extra = false;       // a round nobody wrote: the key is outlined, so that it does not invite
  bool will_wait = false;   // storage in trouble: outlined with a drop, "will wait, not yet kept"
  std::string wait_words;
  std::vector<MainKey> keys = {};  // last set of a main exercise: two, the reserve inside the tap; empty: log_words alone
  std::string badge = {};          // "swapped in", "held", "waits for sign-off": a plate beside the movement
  CellState badge_state = CellState::not_done;
  std::string why_short = {};      // "Why this": all that stays at large text; a press on the row asks OpenWhy
  bool why_urgent = false;         // magenta
  std::string warm_up_words = {};  // "Warm-up: 6 × 12 kg"; empty hides the quiet key
  std::string warm_up_spoken = {};
  std::string skip_words = {};     // "No warm-up": beside it
  std::uint32_t row = 0, round = 0;  // what Change opens; round 0: the cell of the board that is next
};

struct ChangePanel {        // 01c
  std::string title;        // "A1, round 2: what was done"
  std::string written;      // "Written: 10 × 22 kg, 2 in reserve"
  std::string reps_label;
  std::string reps_spoken;  // accessible name "Reps"
  std::string fewer_words, more_words;  // accessible names of the two keys: "Fewer reps", "More reps"
  std::int64_t reps = 0, reps_low = 0, reps_high = 100;
  std::string reps_refused; // message beside the field, empty if fine
  std::string load_label;
  std::vector<LoadChoice> loads;      // kilograms, or bands by name
  std::string reserve_label;
  std::vector<LoadChoice> reserves;   // "0" … "4+"; empty where it is not asked
  std::string keep_words;   // "Log 9 × 22 kg"
  std::string keep_detail;  // "1 in reserve"
  std::string leave_words;  // "Leave as written"
  std::string left_out_words;
  std::string take_back_words;  // shown when mending a kept set; empty hides the key
  std::string side_label = {};
  std::vector<LoadChoice> sides = {}; // one-sided moves only
  std::string form_words = {};        // "Form broke"; empty hides the tick
  bool form_broke = false;
  std::string swap_words = {};        // "Another exercise"; empty hides the key
};

struct SwapChoice {
  std::string words;        // "Band row"
  std::string detail = {};  // "8 × thick band"
  std::string spoken = {};
};
struct SwapPanel {          // "Another exercise"
  std::string title, words;
  std::vector<SwapChoice> choices;
  std::string leave_words;
};

struct TroublePanel {       // 05c: not kept, storage not kept
  bool drop = true;         // drop icon, else broken lines
  std::string title;
  std::string body;
  std::string retry_words;  // empty hides the key
  std::string hand_over_words = {};
  std::string leave_words = {};  // the made-up squad: one low line with the way out
};

struct SessionView {
  Hand hand = {};           // how the device is held
  std::string title;        // "Dryland A"
  std::string day_line;     // "Wren · Wed 25 Nov"
  std::string kept_words;   // "kept 18:42", "keeping", "2 sets not kept", "nothing yet"
  CellState kept_state = CellState::not_done;  // which mark stands before the words
  std::vector<TroublePanel> troubles;
  Board board;
  std::vector<NextSet> next;          // zero or one
  std::vector<ChangePanel> change;    // zero or one: in place of `next`
  std::string done_words;             // all rounds done: one sentence, in place of `next`
  std::string change_words;           // "Change"
  std::string back_words;             // "A1 back"; empty hides the key
  std::string hand_over_words;        // "Hand over"
  std::string pain_words = {}, sore_words = {};  // "Pain", "Sore"; empty hides the key
  std::string finish_words = {};      // "Finish": the main key once nothing is next, a plain one before
  std::vector<RestView> rest = {};    // zero or one: over the words of `next`
  std::vector<CheckPanel> check = {}; // zero or one; with `next` a quiet panel, without it the main key
  std::vector<AdultPanel> adult = {}; // zero or one
  std::vector<StatePanel> states = {};
  std::vector<SwapPanel> swap = {};
  std::vector<WhyPanel> why = {};
  std::vector<PainPanel> pain = {};
  std::vector<SorePanel> sore = {};
  std::vector<StopPanel> stop = {};
  std::vector<FinishPanel> finish = {};
  std::vector<ComingPanel> coming = {};  // with `done_words`: what comes next and why
};

struct LogAsWritten { std::uint32_t choice = 0; };        // which of NextSet::keys
struct LogWarmUp {};
struct SkipWarmUp {};
struct OpenChange { std::uint32_t row = 0, round = 0; };  // 1-based round; row in the board
struct OpenBlock { std::uint32_t foot = 0; };             // place in Board::foot
struct OpenBoard { bool open = true; };                   // folded by large text
struct OpenWhy {};
struct CloseWhy {};
struct TakeBack {};                                       // the last kept entry
struct SetDraftReps { std::int64_t reps = 0; };           // below 0: no whole number
struct ChooseDraftLoad { std::uint32_t choice = 0; };
struct ChooseDraftReserve { std::uint32_t choice = 0; };
struct ChooseDraftSide { std::uint32_t choice = 0; };
struct SetDraftFormBroke { bool broke = false; };
struct OpenSwap {};
struct ChooseSwap { std::uint32_t choice = 0; };
struct CloseSwap {};
struct KeepChange {};
struct LeaveAsWritten {};
struct MarkLeftOut {};
struct TakeBackThis {};
struct TryAgain {};
struct HandOver {};
struct LeaveMadeUp {};
struct NothingHurts {};                                   // the one-tap check
struct TickAdult { std::uint32_t role = 0; };             // place in AdultPanel::roles; the key itself: 0
struct PressState { std::uint32_t state = 0, key = 0; };  // places in SessionView::states and its keys
struct OpenPain {};
struct ChoosePain { std::uint32_t row = 0, band = 0; };
struct OpenPainMore {};                                   // side and exact number
struct ChoosePainSide { std::uint32_t choice = 0; };
struct ChoosePainNumber { std::uint32_t choice = 0; };
struct AnswerAsked { std::string about; std::uint32_t choice = 0; };
struct TakeBackPain {};
struct ClosePain {};
struct OpenSore {};
struct ChooseSore { std::uint32_t row = 0, span = 0; };
struct SetSoreDays { std::int64_t days = 0; };            // below 0: no whole number
struct SetSoreHinders { bool hinders = false; };
struct TakeBackSore {};
struct CloseSore {};
struct OpenStop {};
struct TickFlag { std::uint32_t flag = 0; bool ticked = true; };
struct TakeBackStop {};
struct CloseStop {};
struct OpenFinish {};
struct ChooseEffort { std::uint32_t effort = 0; };        // place in FinishPanel::rows
struct SetMinutes { std::int64_t minutes = 0; };          // below 0: no whole number
struct ChooseShortReason { std::uint32_t choice = 0; };
struct KeepFinish {};
struct LeaveFinish {};

using SessionIntent =
    std::variant<LogAsWritten, OpenChange, TakeBack, SetDraftReps, ChooseDraftLoad, ChooseDraftReserve, KeepChange, LeaveAsWritten, MarkLeftOut,
                 TakeBackThis, TryAgain, HandOver, LeaveMadeUp, LogWarmUp, SkipWarmUp, OpenBlock, OpenBoard, OpenWhy, CloseWhy, ChooseDraftSide, SetDraftFormBroke,
                 OpenSwap, ChooseSwap, CloseSwap, NothingHurts, TickAdult, PressState, OpenPain, ChoosePain, OpenPainMore, ChoosePainSide,
                 ChoosePainNumber, AnswerAsked, TakeBackPain, ClosePain, OpenSore, ChooseSore, SetSoreDays, SetSoreHinders, TakeBackSore, CloseSore,
                 OpenStop, TickFlag, TakeBackStop, CloseStop, OpenFinish, ChooseEffort, SetMinutes, ChooseShortReason, KeepFinish, LeaveFinish>;

std::vector<SessionIntent> draw_session_screen(Ui& ui, const SessionView& view);

}  // namespace slipway::screens
