// The Logbook place (05a): days with their entries, newest first. An entry opens in place;
// a line that was changed shows who wrote what and when, the old value struck.
#pragma once

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "screens/form.h"
#include "screens/icons.h"

namespace slipway::screens {

class Ui;

enum class Ground : std::uint8_t { plain, land, water, pain };

struct LogVersion {            // newest first; the last is the first entry
  std::string value;           // "10 × 22 kg, 2 in reserve"
  std::string by;              // "by Wren, claimed Tue 12 Jan 08:02"
  bool struck = false;         // no longer in use
};
struct LogLine {               // what can be changed by itself: one set, one report
  std::string label;           // "A2 round 3"
  std::string value;           // "10 × 22 kg"
  std::string was = {};        // "12": struck beside the value; empty if never changed
  Icon mark = Icon::kept;      // kept, changed, wet, left_out
  std::vector<LogVersion> history = {};  // empty: never changed
  std::string change_words = {}, change_spoken = {};        // empty hides the key
  std::string take_back_words = {}, take_back_spoken = {};
  std::string spoken;
};
struct LogEntry {
  Icon icon = Icon::land;
  Ground ground = Ground::land;
  std::string title;           // "Dryland A"
  std::string line;            // "15 sets, 46 min, effort 5"
  Icon mark = Icon::kept;
  std::string spoken;          // "Dryland A. 15 sets, 46 minutes, effort 5. Kept."
  bool open = false;
  std::string note = {};       // shown open, above the lines
  std::vector<LogLine> lines = {};  // shown only while open
  std::vector<FormPart> parts = {};  // below them: what may be put right about the whole
};
struct LogDay {
  std::string date;            // "Thu 14 Jan"
  std::vector<LogEntry> entries;
};
struct LogKey {
  std::string words;
  Icon icon = Icon::plus;
};
struct LogbookView {
  std::string title;
  std::string line;            // "Wren, week of Mon 11 Jan"
  Icon kept_icon = Icon::kept;
  std::string kept_words = {};
  std::vector<LogKey> keys = {};  // at most two, only what works; the first is the main key
  std::vector<FormPart> ask = {};  // below the keys: a session of another day
  std::vector<LogDay> days = {};
  std::string none_words = {};    // said when there are no days
  std::string more_words = {};    // "Show older days"; empty hides the key
};

struct PressLogKey { std::uint32_t key = 0; };
struct OpenEntry { std::uint32_t day = 0, entry = 0; };  // places in the view; opens, or folds the open one
struct ChangeLine { std::uint32_t day = 0, entry = 0, line = 0; };
struct TakeBackLine { std::uint32_t day = 0, entry = 0, line = 0; };
struct ShowMoreDays {};
struct LogAnswer { FormAnswer part; };   // to a part of `ask` or of the open entry; holds text, so it stands apart: the rest copy as bytes
using LogbookIntent = std::variant<PressLogKey, OpenEntry, ChangeLine, TakeBackLine, ShowMoreDays>;
std::vector<LogbookIntent> draw_logbook_screen(Ui& ui, const LogbookView& view, std::vector<LogAnswer>& answers);

}  // namespace slipway::screens
