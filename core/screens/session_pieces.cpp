// Pieces that several panels of the Session place are made of.
#include <algorithm>
#include <cmath>

#include "screens/session_parts.h"

namespace slipway::screens {

namespace {

using namespace metrics;

constexpr float kLabelGap = 2;
constexpr float kFoldFrom = 1.5F;
constexpr float kTickBox = 26;
constexpr float kNotePadding = 10, kNoteIcon = 20;
constexpr float kWaveStep = 3, kWaveLength = 21, kWaveHeight = 2.6F;  // [screens design 6]
constexpr float kTwoPi = 6.2831853F;

float wave(float along) { return -kWaveHeight * std::sin(along / kWaveLength * kTwoPi); }

}  // namespace

bool folds_for_text(const Ui& ui, float width) { return ui.text_scale() >= kFoldFrom && ui.touch_units(width) < 360 / kTouch; }

void IntentKeys::add(std::string_view key, const KeyFace& face, SessionIntent intent) {
  if (face.words.empty()) return;
  keys_.push_back({key, face});
  intents_.push_back(std::move(intent));
}

float IntentKeys::draw(Ui& ui, const Strip& at, SessionIntents& out, float least, bool mirrored) const {
  const RowAnswer row = key_row(ui, keys_, at.x, at.y, at.width, ui.hand().gloves ? std::max(least, kGloveKey) : least, mirrored);
  if (row.pressed) out.push_back(intents_[*row.pressed]);
  return row.height;
}

Choosing draw_choosing(Ui& ui, std::string_view key, const std::string& label, const std::vector<LoadChoice>& choices, const Strip& at,
                       float least) {
  Choosing choosing;
  if (choices.empty()) return choosing;
  std::vector<ChoiceFace> faces;
  // Keyed by what it stands for: when the row moves on, the focus stays on the same load.
  for (const LoadChoice& choice : choices) faces.push_back({choice.label, choice.spoken, choice.chosen, choice.label});
  const float label_height = ui.write(label, {Step::read, Token::ink2}, at.x, at.y, at.width) + kLabelGap;
  const float row = ui.choices_height(faces, at.width, least);
  choosing.chosen = ui.choices(key, label, faces, {at.x, at.y + label_height, at.width, row}, least);
  choosing.height = label_height + row;
  return choosing;
}

Ticking draw_tick(Ui& ui, std::string_view key, std::string_view words, std::string_view spoken, bool ticked, const Strip& at) {
  const float box = std::round(kTickBox * std::min(ui.text_scale(), 1.5F));
  const Pen pen{Step::say, Token::ink, ticked};
  const float words_x = at.x + box + kNotePadding;
  const float words_width = at.width - box - kNotePadding;
  const float words_height = ui.size_of(words, {Step::say, Token::ink, true}, words_width).height;
  Ticking ticking{std::max(kTouch, words_height + kGap), false};
  const Box row{at.x, at.y, at.width, ticking.height};
  const CellAnswer answer = ui.cell(key, {.role = model::Role::checkbox,
                                          .answers = model::Answers::press,
                                          .name = std::string(spoken.empty() ? words : spoken),
                                          .checked = ticked,
                                          .rect = row});
  const Box square{at.x, at.y + std::floor((ticking.height - box) / 2), box, box};
  ui.fill(square, ticked || answer.down ? Token::land : Token::paper, kBoardCorner);
  ui.edge(square, ticked ? Token::ink : Token::line, ticked ? kPanelEdge : kEdge, kBoardCorner);
  if (ticked) ui.icon(Icon::kept, square.x + 3, square.y + 3, box - 6, Token::ink);
  ui.write_in(words, pen, {words_x, at.y, words_width, ticking.height});
  ticking.pressed = answer.pressed;
  return ticking;
}

float draw_refusal(Ui& ui, std::string_view words, const Strip& at) {
  if (words.empty()) return 0;
  const float icon = ui.line(Step::read) - 2;
  ui.icon(Icon::caution, at.x, at.y + 3, icon, Token::mag);
  return 3 + ui.text("refused", words, {Step::read, Token::mag, true}, at.x + icon + kGap, at.y + 3, at.width - icon - kGap);
}

float draw_question(Ui& ui, Icon icon, Token token, const std::string& title, const std::string& help, const Strip& at) {
  const Pen pen{Step::mark, Token::ink, true};
  const float size = icon == Icon::none ? 0 : std::round(30 * std::min(ui.text_scale(), 1.5F));
  const float indent = size > 0 ? size + kGap : 0;
  const float words = ui.heading("title", title, pen, at.x + indent, at.y + 2, at.width - indent) + 2;
  ui.icon(icon, at.x, at.y + std::floor((std::min(words, ui.line(Step::mark) + 4) - size) / 2), size, token);
  float height = std::max(words, size) + 2;
  if (!help.empty()) height += ui.text("help", help, {Step::read, Token::ink2}, at.x, at.y + height, at.width);
  return height;
}

Noting draw_kept_note(Ui& ui, const KeptNote& note, bool urgent, const Strip& at) {
  const Token ink = urgent ? Token::mag : Token::ink;
  const bool opens = !note.more_words.empty();
  const float scale = std::min(ui.text_scale(), 1.5F);
  const float icon = std::round(kNoteIcon * scale);
  const float arrow = opens ? std::round(14 * scale) : 0;
  const float inner = at.width - 2 * kNotePadding - (opens ? arrow + kGap : 0);
  const float title_x = at.x + kNotePadding + icon + 6;
  const float title_width = inner - icon - 6;
  const Pen title{Step::say, ink, true};
  const Pen body{Step::read, urgent ? Token::mag : Token::ink2};
  const std::string words = note.body.empty() || !opens ? note.body + note.more_words : note.body + " " + note.more_words;
  const float title_height = ui.size_of(note.title, title, title_width).height;
  const float body_height = words.empty() ? 0 : ui.size_of(words, body, inner).height;
  Noting noting{std::max(52.0F, title_height + body_height + 10), false};
  const Box box{at.x, at.y, at.width, noting.height};
  const std::string spoken = words.empty() ? note.title : note.title + " " + words;
  bool down = false;
  if (opens) {
    const CellAnswer answer = ui.cell(
        "more", {.role = model::Role::button, .answers = model::Answers::press, .name = note.more_spoken.empty() ? spoken : note.more_spoken, .rect = box});
    noting.pressed = answer.pressed;
    down = answer.down;
  } else {
    ui.node("kept-note", {.role = model::Role::text, .name = spoken, .rect = box});
  }
  ui.fill(box, down ? Token::land : urgent ? Token::mag_tint : Token::paper, kPanelCorner);
  ui.edge(box, ink, kEdge, kPanelCorner);
  const float top = at.y + std::floor((noting.height - title_height - body_height) / 2);
  ui.icon(note.not_kept ? Icon::wet : Icon::kept, at.x + kNotePadding, top + std::floor((ui.line(Step::say) - icon) / 2), icon, ink);
  ui.write(note.title, title, title_x, top, title_width);
  if (!words.empty()) ui.write(words, body, at.x + kNotePadding, top + title_height, inner);
  if (opens) ui.icon(Icon::right, at.x + at.width - kNotePadding - arrow, at.y + std::floor((noting.height - arrow) / 2), arrow, ink);
  return noting;
}

void draw_waterline(Ui& ui, float x, float y, float width) {
  std::vector<GridPoint> points;
  for (float along = 0; along < width; along += kWaveStep) points.push_back({x + along, y + wave(along)});
  points.push_back({x + width, y + wave(width)});
  ui.polyline(points, Token::ink, 2);
}

void draw_water(Ui& ui, const Box& box, float y, Token token) {
  const float foot = box.y + box.height;
  const float even = std::min(y + kWaveHeight, foot);
  if (foot > even) ui.fill({box.x, even, box.width, foot - even}, token);
  for (float along = 0; along < box.width; along += kWaveStep) {  // the crests, in upright strips
    const float width = std::min(kWaveStep, box.width - along);
    const float top = y + wave(along + width / 2);
    if (top < even) ui.fill({box.x + along, top, width, even - top}, token);
  }
}

}  // namespace slipway::screens
