// The Session place: the gym whiteboard and under it the one set that is next.
//
// The view arrives worded and rounded; drawing decides nothing. What a person asked
// for comes back as intents. Drawn to the whiteboard, pen tray and hand regions of
// the screens design (01a ready, 01c change, 05c states).
#pragma once

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

namespace slipway::screens {

class Ui;

enum class CellState : std::uint8_t { not_done, next, keeping, kept, changed, left_out, not_kept };

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
struct Board {
  std::string spoken;
  std::vector<std::string> round_names;  // "round 1" …
  std::vector<BoardRow> rows;
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
};

struct LoadChoice {
  std::string label;        // "22"
  std::string spoken;       // "22 kilograms"
  bool chosen = false;
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
  std::vector<LoadChoice> loads;
  std::string reserve_label;
  std::vector<LoadChoice> reserves;   // "0" … "4+"
  std::string keep_words;   // "Log 9 × 22 kg"
  std::string keep_detail;  // "1 in reserve"
  std::string leave_words;  // "Leave as written"
  std::string left_out_words;
  std::string take_back_words;  // shown when mending a kept set; empty hides the key
};

struct TroublePanel {       // 05c: not kept, storage not kept
  bool drop = true;         // drop icon, else broken lines
  std::string title;
  std::string body;
  std::string retry_words;  // empty hides the key
  std::string hand_over_words;
};

struct SessionView {
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
};

struct LogAsWritten {};
struct OpenChange { std::uint32_t row = 0, round = 0; };  // 1-based round; row in the board
struct TakeBack {};                                       // the last kept entry
struct SetDraftReps { std::int64_t reps = 0; };
struct ChooseDraftLoad { std::uint32_t choice = 0; };
struct ChooseDraftReserve { std::uint32_t choice = 0; };
struct KeepChange {};
struct LeaveAsWritten {};
struct MarkLeftOut {};
struct TakeBackThis {};
struct TryAgain {};
struct HandOver {};

using SessionIntent = std::variant<LogAsWritten, OpenChange, TakeBack, SetDraftReps, ChooseDraftLoad, ChooseDraftReserve,
                                   KeepChange, LeaveAsWritten, MarkLeftOut, TakeBackThis, TryAgain, HandOver>;

std::vector<SessionIntent> draw_session_screen(Ui& ui, const SessionView& view);

}  // namespace slipway::screens
