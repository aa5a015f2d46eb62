// The Exchange place (03b): bundles in and out, what came of each, what is written twice, what is missing.
#pragma once

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "screens/form.h"
#include "screens/icons.h"

namespace slipway::screens {

class Ui;

struct FileResult {       // one row per file taken in this visit, newest first
  std::string file_name;
  std::string word;       // "new", "already here", "refused"
  std::string sentence;   // counts, or which place is wrong and what helps
  bool refused = false;
  std::string spoken;
  Icon icon = Icon::none;  // none: a tick, or the caution sign if refused
  bool you_choose = false; // it brought a line written twice: buff, a bar at the left, magenta word
};

// Two lines that nobody could have written knowing the other [product: contradictions].
struct LineFact {
  std::string label;       // "Written by", "When, as claimed", "Had seen", "Load"
  std::string value;
  bool differs = false;    // buff with a pointer
  std::string spoken = {}; // "differs: load, 22 kg"; empty: label and value
};
struct WrittenLine {
  std::string title;       // "Line A"
  bool in_use = false;     // the safer one, till somebody chooses: dark head
  std::vector<LineFact> facts;
  std::string use_words;   // "Use line A, 22 kg"; empty hides the key
};
struct WrittenTwice {
  std::string title;       // "One line, written twice"
  std::string line;        // "Odd, pull-up, Mon 18 Jan. Neither writer had seen the other's line."
  std::vector<WrittenLine> lines;   // A, B, seldom more
  std::string other_label = {};     // "Or another value, kg"; empty hides the field
  std::string other = {};           // draft
  std::string other_refused = {};
  std::string other_words = {};     // "Use this value"
  std::string meanwhile;   // "Until then 20 kg counts, the lower load. Both lines stay in the record."
};
struct MissingLine {
  std::string who;
  std::string words;       // "bundle 14, about Sun 10 Jan"
};
struct ExchangeView {
  std::string title;
  std::string line;             // what would go out: "5 sets, 1 session"
  std::string hand_over_words;  // main key; empty hides
  std::string as_text_words;    // "As text"
  std::string take_in_words;
  std::string results_title;
  std::vector<FileResult> results;
  std::string contradictions_title;
  std::vector<std::string> contradictions;   // one sentence each, where nothing is to be chosen
  std::string drop_title = {};               // "Drop bundles here": the zone with the take-in key in it; empty: the key alone
  std::string drop_words = {};               // "any name; it looks at the bytes"
  std::string sum = {};                      // "8 files read: 5 new, 1 already here, 2 refused."
  std::string last_out = {};                 // "last: Sun 10 Jan"
  bool last_out_is_old = false;              // with a sign, in magenta
  std::vector<WrittenTwice> written_twice = {};
  std::string missing_title = {};
  std::vector<MissingLine> missing = {};
  std::string sealed_line = {};              // "Sealed for Heron: nobody else can open it."; empty: open
  std::string open_words = {};               // "Hand over open": for other eyes than the coach's; empty hides
  std::vector<FormPart> waiting = {};        // files that wait for a passphrase or a yes
  std::vector<FormPart> out = {};            // before the main key: for whom, and what goes out for the first time
};
struct HandOverFile {};
struct HandOverText {};
struct HandOverOpen {};
struct TakeInFile {};
struct UseLine { std::uint32_t contradiction = 0, line = 0; };
struct UseOtherValue { std::uint32_t contradiction = 0; };
using ExchangeIntent = std::variant<HandOverFile, HandOverText, TakeInFile, UseLine, UseOtherValue, HandOverOpen>;
struct SetOtherValue { std::uint32_t contradiction = 0; std::string text = {}; };  // holds text, so it stands apart: the rest copy as bytes
struct ExchangeAnswer {    // to a part of `waiting` or `out`
  std::uint32_t part = 0, choice = 0;
  std::string text = {};
};
std::vector<ExchangeIntent> draw_exchange_screen(Ui& ui, const ExchangeView& view, std::vector<SetOtherValue>& typed,
                                                 std::vector<ExchangeAnswer>& answers);

}  // namespace slipway::screens
