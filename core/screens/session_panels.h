// What the Session place shows beside the board and the next set: rest, pain, soreness,
// finish, a stop, and the states in which there is nothing to log. Views only: every word
// arrives ready, every press goes back as an intent of session_screen.h.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "screens/icons.h"

namespace slipway::screens {

enum class CellState : std::uint8_t {
  not_done, next, keeping, kept, changed, left_out, not_kept,
  held,          // anchor: a rule keeps the dose as it was
  swapped,       // teeth: in place of another, because something hurts
  crossed_out,   // struck: pain took the rest of it out
  waits_sign_off // tick over lines
};

struct LoadChoice {
  std::string label;        // "22"
  std::string spoken;       // "22 kilograms"
  bool chosen = false;
};

struct RestView {           // 01b, 01i; drawn anew once a second by whoever ticks
  std::string title;        // "Rest, at least 1:00"
  std::string clock;        // "0:37", or "Go"
  std::string under;        // "to go", or "rested 1:12"
  std::string note;         // "sounds at 0:00", or "4:00 is plenty"
  std::string spoken;       // "37 seconds to go, at least 1 minute"
  std::string then_place;   // "Then A2, round 2 of 3"
  std::string then_dose;    // "12 × thin band"
  std::int64_t left_s = 0;  // water in the staff; 0: dry
  std::int64_t least_s = 60;
  bool go = false;          // the least rest is over: pointer, main key filled again
};

struct WhyPanel {           // the whole reason
  std::string title;        // "Why this: goblet squat, 10 × 22 kg"
  std::string sentence;
  std::vector<std::string> entries;  // what it came from, one line each
  std::string rule;         // "Rule R22"
  std::string close_words;
};

struct StateKey {
  std::string words;
  std::string detail = {};
  std::string spoken = {};  // empty: the words
};
// A state with a sentence and keys: nothing to log, a rule that says not today, something
// missing. Without a next set the first key is the main key of the page.
struct StatePanel {
  std::string title;
  std::vector<std::string> words = {};
  std::string rule = {};        // "G08", small, at the right
  std::vector<StateKey> keys = {};
  Icon icon = Icon::none;
  bool urgent = false;          // magenta: no session
  bool quiet = false;           // one bordered panel above the next set, its keys plain
};

struct CheckPanel {             // before the session
  std::string title;            // "Before you start"
  std::string words;            // "Does anything hurt, is anything sore?"
  std::string fine_words;       // "Nothing hurts, not sore"; empty hides
  std::string fine_spoken = {};
};
struct AdultPanel {             // youth: who is in the room
  std::string words;            // "Under 18: train with a qualified adult in the room."
  std::string key_words = {};   // "An adult is in the room"; empty hides
  std::string key_detail = {};  // "Without one: the floor version"
  std::vector<LoadChoice> roles = {};  // coach, assistant, guardian, once the key was pressed
};

struct AskedQuestion {          // "Shoulder on Mon 11 Jan: back to normal the next morning?"
  std::string about;            // the report or part it asks about: what an answer is for, also when another question has taken its place
  std::string label;
  std::vector<LoadChoice> choices;
};
struct KeptNote {               // what was just kept, and what it changes
  std::string title;            // "Kept: shoulder hurts, 3 to 5."
  std::string body = {};
  std::string more_words = {};  // "Side? Number?": a press opens the extras; empty: no more to say
  std::string more_spoken = {};
  bool not_kept = false;        // a drop in place of the tick
};

struct SquareHead {
  std::string words;            // "hurts", "2"
  std::string detail = {};      // "3–5", "days"
};
struct Square {
  std::string spoken;           // "Shoulder, hurts, 3 to 5"
  std::string amount;           // "3–5": stands in it once it is kept
  CellState state = CellState::not_done;  // not_done, keeping, kept or not_kept
};
struct SquareRow {
  std::string words;            // "Shoulder"
  std::vector<Square> squares;
};

struct PainPanel {              // 01d
  std::string title, help;
  std::string grid_spoken;      // "Where and how much"
  std::vector<SquareHead> heads;      // three bands
  std::vector<SquareRow> rows;        // parts
  std::string stop_words;             // "Chest pain, faint, head knock, numb"; empty hides
  std::vector<KeptNote> kept = {};    // zero or one
  std::string side_label = {};        // the extras, once they are open
  std::vector<LoadChoice> sides = {};
  std::string number_label = {};
  std::vector<LoadChoice> numbers = {};
  std::vector<AskedQuestion> asked = {};  // of reports of earlier days
  std::string back_words = {};        // "Take back"; empty hides
  std::string close_words;            // "To the session"
};

struct SorePanel {              // 01h
  std::string title, help;
  std::string grid_spoken;
  std::vector<SquareHead> heads;      // five spans
  std::vector<SquareRow> rows;        // patterns
  std::vector<KeptNote> kept = {};
  std::string days_label = {};        // "Since how many days?"; empty hides the stepper
  std::string days_spoken = {}, fewer_words = {}, more_words = {}, days_refused = {};
  std::int64_t days = 0, days_low = 1, days_high = 99;
  std::string hinders_words = {};     // "It hinders movement"; empty hides
  bool hinders = false;
  std::string back_words = {};
  std::string close_words;
};

struct FlagRow {                // a red flag, kept at once
  std::string words;
  std::string spoken = {};
  bool ticked = false;
};
struct StopPanel {
  std::string title;            // "Stop now"
  std::vector<std::string> words;     // what to do
  std::string number_label = {}, number = {};  // "Emergency number", "112": a local setting
  std::string flags_label = {};
  std::vector<FlagRow> flags = {};
  std::string back_words = {};  // "Take back"
  std::string close_words;      // "To the session"
};

struct EffortRow {
  std::string figure;           // "5"
  std::string words;            // "hard", or empty
  std::string spoken;           // "5, hard"; "6, between hard and very hard"
  bool chosen = false;
};
struct FinishPanel {            // 01f
  std::string question;
  std::string scale_spoken;     // empty: the question
  std::vector<EffortRow> rows;  // 0 to 10, in order
  std::string chosen_words;     // "chosen"
  std::string minutes_label, minutes_note, minutes_spoken, fewer_words, more_words, minutes_refused = {};
  std::int64_t minutes = 0, minutes_low = 1, minutes_high = 600;
  std::string short_label = {};            // asked once, if the session was short
  std::vector<LoadChoice> short_reasons = {};
  std::string finish_words;     // "Finish: effort 5, 46 min"
  std::string finish_detail = {};
  bool ready = false;           // effort was chosen; else the key waits and `finish_detail` says for what
  std::string leave_words = {}; // "Back to the session"
};

struct ComingRow {              // the next session, one movement
  std::string movement;         // "Goblet squat"
  std::string dose;             // "3 × 10 × 22 kg"
  std::string why;              // one sentence
  std::string rule = {};        // "R22"
  std::string spoken;
  CellState state = CellState::not_done;   // held, swapped, crossed_out, waits_sign_off: its mark
};
struct ComingPanel {            // what comes next and why
  std::string title;            // "Next: Fri 27 Nov, Dryland B"
  std::vector<ComingRow> rows;
};

}  // namespace slipway::screens
