// What was done instead of what was written [drawing 01c].
#include <algorithm>

#include "screens/parts.h"
#include "screens/session_parts.h"

namespace slipway::screens {

namespace {

using namespace metrics;

constexpr float kLabelGap = 2;
constexpr float kFieldSpace = 12;

std::vector<ChoiceFace> faces_of(const std::vector<LoadChoice>& choices) {
  std::vector<ChoiceFace> faces;
  // Keyed by what it stands for: when the row moves on, the focus stays on the same load.
  for (const LoadChoice& choice : choices) faces.push_back({choice.label, choice.spoken, choice.chosen, choice.label});
  return faces;
}

// A label and under it a row of choices; the label is the group's name, so it has no node of its own.
struct Choosing {
  float height = 0;
  std::optional<std::uint32_t> chosen;
};

Choosing draw_choosing(Ui& ui, std::string_view key, const std::string& label, const std::vector<LoadChoice>& choices, float x, float y, float width) {
  Choosing choosing;
  if (choices.empty()) return choosing;
  const auto faces = faces_of(choices);
  const float label_height = ui.write(label, {Step::read, Token::ink2}, x, y, width) + kLabelGap;
  const float row = ui.choices_height(faces, width);
  choosing.chosen = ui.choices(key, label, faces, {x, y + label_height, width, row});
  choosing.height = label_height + row;
  return choosing;
}

float draw_refused(Ui& ui, const std::string& words, float x, float y, float width) {
  if (words.empty()) return 0;
  const float icon = ui.line(Step::read) - 2;
  ui.icon(Icon::caution, x, y + 3, icon, Token::mag);
  return 3 + ui.text("refused", words, {Step::read, Token::mag, true}, x + icon + kGap, y + 3, width - icon - kGap);
}

float draw_reps(Ui& ui, const ChangePanel& panel, float x, float y, float width, std::vector<SessionIntent>& out) {
  const float label = ui.write(panel.reps_label, {Step::read, Token::ink2}, x, y, width) + kLabelGap;
  const float height = std::max(kStepper, ui.line(Step::dial) + 16);
  const auto reps = ui.stepper("reps",
                               {.spoken = panel.reps_spoken,
                                .fewer = panel.fewer_words,
                                .more = panel.more_words,
                                .refused = panel.reps_refused,
                                .now = panel.reps,
                                .low = panel.reps_low,
                                .high = panel.reps_high},
                               {x, y + label, width, height});
  if (reps) out.push_back(SetDraftReps{*reps});
  return label + height + draw_refused(ui, panel.reps_refused, x, y + label + height, width);
}

float draw_leaving_keys(Ui& ui, const ChangePanel& panel, float x, float y, float width, std::vector<SessionIntent>& out) {
  std::vector<RowKey> keys;
  std::vector<SessionIntent> intents;
  const auto add = [&](std::string_view key, const std::string& words, Icon icon, SessionIntent intent) {
    if (words.empty()) return;
    keys.push_back({key, {.words = words, .icon = icon, .step = Step::say}});
    intents.push_back(std::move(intent));
  };
  add("leave", panel.leave_words, Icon::close, LeaveAsWritten{});
  add("left-out", panel.left_out_words, Icon::left_out, MarkLeftOut{});
  add("take-back", panel.take_back_words, Icon::undo, TakeBackThis{});
  const RowAnswer row = key_row(ui, keys, x, y, width);
  if (row.pressed) out.push_back(intents[*row.pressed]);
  return row.height;
}

}  // namespace

float draw_change(Ui& ui, const SessionView& view, bool tight, float x, float y, float width, std::vector<SessionIntent>& out) {
  const ChangePanel& panel = view.change.front();
  const float start = y;
  const float space = tight ? kGap : kFieldSpace;
  const auto sheet = ui.sheet("change", {.role = model::Role::group, .name = panel.title});
  y += ui.heading("title", panel.title, {Step::mark, Token::ink, true}, x, y, width);
  y += ui.text("written", panel.written, {Step::read, Token::ink2}, x, y, width) + space;
  y += draw_reps(ui, panel, x, y, width, out) + space;
  const Choosing load = draw_choosing(ui, "load", panel.load_label, panel.loads, x, y, width);
  if (load.chosen) out.push_back(ChooseDraftLoad{*load.chosen});
  y += load.height > 0 ? load.height + space : 0;
  const Choosing reserve = draw_choosing(ui, "reserve", panel.reserve_label, panel.reserves, x, y, width);
  if (reserve.chosen) out.push_back(ChooseDraftReserve{*reserve.chosen});
  y += reserve.height > 0 ? reserve.height + space + 4 : 0;

  const KeyFace keep{.words = panel.keep_words,
                     .detail = panel.keep_detail,
                     .kind = KeyKind::main,
                     .icon = Icon::kept,
                     .step = tight ? Step::move : Step::key,
                     .main_of_page = true};
  const float height = ui.key_height(keep, width, tight ? kMainKeyTight : kMainKey);
  if (ui.key("keep", keep, {x, y, width, height})) out.push_back(KeepChange{});
  y += height + 12;
  y += draw_leaving_keys(ui, panel, x, y, width, out);
  return y - start;
}

}  // namespace slipway::screens
