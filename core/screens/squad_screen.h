// The Squad place (03a), for the coach: who needs a look, the board of all, one swimmer's page.
//
// Wide pages show the list and the swimmer's page beside each other, narrow ones show the
// page alone with a key back. Nothing here ranks one swimmer against another.
#pragma once

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "screens/form.h"

namespace slipway::screens {

struct NeedRow {
  std::string order;             // "1"
  Icon icon = Icon::caution;
  bool urgent = false;           // magenta ground, edge and ink
  std::string name;
  std::string sentence;
  std::string rule;              // "R01"
  std::string key_words, key_spoken = {};
  std::string spoken;            // "1 of 6. Moth, pain. Shoulder hurts … Rule R01."
};

struct DayBox {                  // Mon to Sun: water above, land below
  bool water = false, land = false;
  bool missing = false;          // was due and nothing came
};
struct RungCell {
  std::string words;             // "goblet 20", "stopped", "–"
  bool stopped = false;
};
struct SquadRow {
  std::string name;
  Icon icon = Icon::none;        // why they stand in the list above
  bool urgent = false;
  std::string last_seen;
  std::vector<DayBox> days;      // seven
  std::vector<RungCell> rungs;   // squat, pull, push
  bool open = false;             // their page is shown
  std::string spoken;
};

struct Decision {                // of the next session, one movement
  Icon icon = Icon::signoff;
  bool urgent = false;           // magenta panel: stopped, swapped after pain
  std::string title;             // "Goblet squat: 20 to 22 kg, 8 reps"
  std::string sentence;
  std::string rule;
  std::vector<std::string> why = {};   // the entries and rules behind it; shown while open
  std::string overruled = {};          // "Overruled by the coach: stay at 20 kg."
  std::string sign_off_words = {}, overrule_words = {}, why_words = {};  // empty hides a key
  std::string spoken;            // said before each of its keys: "Goblet squat: 20 to 22 kilograms …"
};

struct SignOffRow {
  std::string movement;
  std::string state;             // "SOUND, Mon 3 Nov, till 26 Jan"
  Icon icon = Icon::none;        // signoff (waits), kept (valid), off (withdrawn or ended)
  std::string sound_words = {}, loaded_words = {}, withdraw_words = {};  // empty hides a key
  std::string spoken;            // "Goblet squat, signed off SOUND …": said before each of its keys
};

struct PageLine {
  std::string label;             // "Thu 14 Jan"
  std::string words;
};
struct PageSection {
  std::string title;             // "Last words", "Overruled", "Last sessions"
  std::vector<PageLine> lines;
};

// A question asked in place: overrule, withdraw, clearance. Only one is open at a time.
enum class AskAt : std::uint8_t { decision, sign_off, clearance, note };
struct AskPanel {
  AskAt at = AskAt::decision;
  std::uint32_t index = 0;       // which decision or sign-off row it stands under
  std::string title;
  std::vector<FormPart> parts;   // choices, the note
  std::string keep_words, leave_words;
};

struct SwimmerView {
  std::string name;
  std::string line;              // "16, week 4 of 6"
  std::string back_words;        // narrow pages
  std::string decisions_title;   // "Next session"
  std::vector<Decision> decisions = {};
  std::string decisions_none = {};
  std::string sign_offs_title = {};
  std::vector<SignOffRow> sign_offs = {};
  std::string clearance_line = {}, clearance_words = {};  // "Stopped since …"; key "Note a clearance"
  std::vector<PageSection> sections = {};
  std::vector<AskPanel> ask = {};                         // zero or one
  std::vector<FormChoice> keys = {};                      // at the foot: "Facts", "Open the session" …
};

struct SquadView {
  std::string title;             // "Squad"
  std::string needs_title, needs_line, needs_none;
  std::vector<NeedRow> needs = {};
  std::string board_title, board_line, board_none;
  std::vector<std::string> heads;     // athlete, last seen, Mon to Sun, then one a rung
  std::vector<SquadRow> rows = {};
  std::string add_words = {};         // "Add a swimmer"; empty hides
  std::vector<SwimmerView> swimmer = {};  // zero or one: whose page is open
  std::string choose_words = {};      // wide and nobody open
};

struct PressNeed { std::uint32_t need = 0; };     // its key
struct OpenSwimmer { std::uint32_t row = 0; };
struct AddSwimmer {};
struct CloseSwimmer {};
struct SignOffDecision { std::uint32_t decision = 0; };
struct OverruleDecision { std::uint32_t decision = 0; };
struct WhyDecision { std::uint32_t decision = 0; };
struct SignOff { std::uint32_t row = 0; bool loaded = false; };
struct WithdrawSignOff { std::uint32_t row = 0; };
struct NoteClearance {};
struct KeepAsk {};
struct LeaveAsk {};
struct PressSwimmerKey { std::uint32_t key = 0; };
using SquadIntent = std::variant<PressNeed, OpenSwimmer, AddSwimmer, CloseSwimmer, SignOffDecision, OverruleDecision, WhyDecision, SignOff,
                                 WithdrawSignOff, NoteClearance, KeepAsk, LeaveAsk, PressSwimmerKey>;
struct AskAnswer { FormAnswer part; };            // to a part of the open question; holds text, so it stands apart: the rest copy as bytes
std::vector<SquadIntent> draw_squad_screen(Ui& ui, const SquadView& view, std::vector<AskAnswer>& answers);
bool squad_stands_beside(const Ui& ui);  // the list and the swimmer's page are both shown

}  // namespace slipway::screens
