// First run and the states in which the app cannot log: one title, plain words, keys.
#pragma once

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

namespace slipway::screens {

class Ui;

// First run (05e, thin): caution text, a name field, start, take in a bundle, look around.
struct StartView {
  std::string title;
  std::vector<std::string> paragraphs;   // cautions first
  std::string name_label;
  std::string name;                      // draft
  std::string name_refused;              // message beside the field
  std::string start_words, take_in_words, demo_words;  // empty hides a key
};
struct SetDraftName { std::string name; };
struct Start {};
struct AskForBundle {};
struct LookAround {};
using StartIntent = std::variant<SetDraftName, Start, AskForBundle, LookAround>;
std::vector<StartIntent> draw_start_screen(Ui& ui, const StartView& view);

// Open in another window, a newer store, storage that will not open (05c).
struct NoticeKey {
  std::string words;
  bool main = false;
};
struct NoticeView {
  std::string title;
  std::vector<std::string> paragraphs;
  std::vector<NoticeKey> keys;
  bool trouble = false;   // magenta panel instead of plain
};
struct PressKey { std::uint32_t key = 0; };
std::vector<PressKey> draw_notice_screen(Ui& ui, const NoticeView& view);

}  // namespace slipway::screens
