// First run and the states in which the app cannot log: one title, plain words, keys.
#pragma once

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "screens/form.h"

namespace slipway::screens {

class Ui;

// First run (05e): cautions, the questions of health, who is here, then start, take in or look around.
// The `id` of a part that asks something.
enum class StartPart : std::uint32_t {
  heart, breath, body, over_50,   // questions: choice 0 is No, 1 is Yes; kept on the device only
  under_18, with_you,             // choices
  born, group, device,            // field, field, choices
  help,                           // key: Help now, the words of emergency
  said,                           // words and cautions, nothing to answer
};
struct StartView {
  std::string title;
  std::vector<std::string> paragraphs;   // cautions first
  std::string name_label;
  std::string name;                      // draft
  std::string name_refused;              // message beside the field
  std::string start_words, take_in_words, demo_words;  // empty hides a key
  std::string ramp_words = {};           // "from land into water", on the ramp
  std::vector<FormPart> questions = {};  // before the name: health, the panel on any yes, under 18
  std::vector<FormPart> facts = {};      // after the name: year of birth, who uses this device
  std::vector<FormPart> last = {};       // after the keys: Help now and its words
};
struct SetDraftName { std::string name; };
struct Start {};
struct AskForBundle {};
struct LookAround {};
struct StartAnswer { StartPart part = StartPart::heart; std::uint32_t choice = 0; std::string text = {}; };
using StartIntent = std::variant<SetDraftName, Start, AskForBundle, LookAround, StartAnswer>;
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
