// The regions of the Session place: the hand under the board, and the panels that may
// stand in its place or take the page.
#pragma once

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "screens/parts.h"
#include "screens/session_screen.h"
#include "screens/ui.h"

namespace slipway::screens {

using SessionIntents = std::vector<SessionIntent>;

struct Strip {  // where a region is drawn: its height is what it needs
  float x = 0, y = 0, width = 0;
};

// Large text on a narrow page: the board keeps the row in hand, the reason two words.
bool folds_for_text(const Ui& ui, float width);

// --- in the hand; each draws at the strip and returns the height used -----------------------------
float draw_next_set(Ui& ui, const SessionView& view, bool tight, const Strip& at, SessionIntents& out);
float draw_rest(Ui& ui, const RestView& rest, const NextSet& next, bool tight, const Strip& at);
float draw_change(Ui& ui, const ChangePanel& panel, bool tight, const Strip& at, SessionIntents& out);
float draw_swap(Ui& ui, const SwapPanel& panel, const Strip& at, SessionIntents& out);
float draw_why(Ui& ui, const WhyPanel& panel, const Strip& at, SessionIntents& out);
float draw_states(Ui& ui, const SessionView& view, const Strip& at, SessionIntents& out);   // states, adult, check
float draw_coming(Ui& ui, const ComingPanel& panel, const Strip& at);

// Which of the keys: a phone on its side has room for two under its board.
enum class KeysShown : std::uint8_t { all, under_hand, under_board };
float draw_session_keys(Ui& ui, const SessionView& view, KeysShown shown, const Strip& at, SessionIntents& out);

// --- for a page of their own -----------------------------------------------------------------------
float draw_pain(Ui& ui, const PainPanel& panel, const Strip& at, SessionIntents& out);
float draw_sore(Ui& ui, const SorePanel& panel, const Strip& at, SessionIntents& out);
float draw_stop(Ui& ui, const StopPanel& panel, const Strip& at, SessionIntents& out);
float draw_finish(Ui& ui, const FinishPanel& panel, const Strip& at, SessionIntents& out);

// --- pieces -----------------------------------------------------------------------------------------
// A row of keys and what each asks for; keys without words are not there.
class IntentKeys {
 public:
  void add(std::string_view key, const KeyFace& face, SessionIntent intent);
  bool empty() const { return keys_.empty(); }
  float draw(Ui& ui, const Strip& at, SessionIntents& out, float least = metrics::kKey,
             bool mirrored = false) const;

 private:
  std::vector<RowKey> keys_;
  SessionIntents intents_;
};

// A label and under it a row of choices; the label is the group's name, so it has no node of its own.
struct Choosing {
  float height = 0;
  std::optional<std::uint32_t> chosen;
};
Choosing draw_choosing(Ui& ui, std::string_view key, const std::string& label, const std::vector<LoadChoice>& choices, const Strip& at,
                       float least = metrics::kChoice);

// A tick box with its words, one target.
struct Ticking {
  float height = 0;
  bool pressed = false;
};
Ticking draw_tick(Ui& ui, std::string_view key, std::string_view words, std::string_view spoken, bool ticked, const Strip& at);

// What was refused, beside its field; nothing for no words.
float draw_refusal(Ui& ui, std::string_view words, const Strip& at);

// A picture and a question beside it, help under both.
float draw_question(Ui& ui, Icon icon, Token token, const std::string& title, const std::string& help, const Strip& at);

// What was just kept. `pressed`: its extras are asked for.
struct Noting {
  float height = 0;
  bool pressed = false;
};
Noting draw_kept_note(Ui& ui, const KeptNote& note, bool urgent, const Strip& at);

// Rows by columns of squares that are kept at once: teeth for pain, swells for soreness.
struct SquareGrid {
  std::string_view key;
  const std::string& spoken;
  std::span<const SquareHead> heads;
  std::span<const SquareRow> rows;
  bool teeth = false;
};
struct SquareAnswer {
  float height = 0;
  bool pressed = false;
  std::uint32_t row = 0, column = 0;
};
SquareAnswer draw_squares(Ui& ui, const SquareGrid& grid, const Strip& at);

// Still water: from the line `y` down to the foot of the box, with a waterline of small waves.
void draw_water(Ui& ui, const Box& box, float y, Token token);
void draw_waterline(Ui& ui, float x, float y, float width);

// The sign between two figures, drawn so that it keeps its distance at every size.
void draw_times(Ui& ui, float x, float baseline, float size);
// What the letters of a figure leave free above them in their line.
float air_above(const Ui& ui, Step step);

}  // namespace slipway::screens
