// The Exchange place, thin: hand the bundle over, take one in, read what it brought.
#pragma once

#include <string>
#include <variant>
#include <vector>

namespace slipway::screens {

class Ui;

struct FileResult {       // one row per file taken in this visit, newest first
  std::string file_name;
  std::string word;       // "new", "already here", "refused"
  std::string sentence;   // counts, or which place is wrong and what helps
  bool refused = false;
  std::string spoken;
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
  std::vector<std::string> contradictions;   // one sentence each
};
struct HandOverFile {};
struct HandOverText {};
struct TakeInFile {};
using ExchangeIntent = std::variant<HandOverFile, HandOverText, TakeInFile>;
std::vector<ExchangeIntent> draw_exchange_screen(Ui& ui, const ExchangeView& view);

}  // namespace slipway::screens
