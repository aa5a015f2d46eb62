#include "screens/start_screen.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "screens/parts.h"

namespace slipway::screens {

namespace {

using namespace metrics;

constexpr float kRampHeight = 52;
constexpr float kRampKnee = 0.38F, kWaterFrom = 0.69F;  // parts of the width [drawing 05e]
constexpr float kFieldHeight = 56, kStartKey = 72;
constexpr float kSpace = 12;
constexpr float kNoticeIcon = 90;

// The ramp: land into water, from edge to edge.
float draw_ramp(Ui& ui, std::string_view words, float words_x, float y, float width) {
  const float knee = std::round(width * kRampKnee);
  const float shore = std::round(width * kWaterFrom);
  const float foot = y + kRampHeight;
  const float slope = (kRampHeight - 1) / (width - knee);
  const float water = std::round(y + 1 + (shore - knee) * slope);
  ui.fill({0, y, knee, kRampHeight}, Token::land);
  ui.polygon(std::array<GridPoint, 3>{{{knee, y + 1}, {width - 5, foot - 1}, {knee, foot}}}, Token::land);  // its soft tip stays on the page
  ui.polygon(std::array<GridPoint, 3>{{{shore, water}, {width, water}, {width, foot}}}, Token::sea2);
  ui.rule(0, y + 1, knee, y + 1, Token::ink, 2);
  ui.rule(knee, y + 1, width, foot, Token::ink, 3);
  std::vector<GridPoint> swell;
  constexpr float kStep = 3, kWave = 24, kHeight = 3, kTwoPi = 6.2831853F;  // one vertex each 3 px, phase fixed
  for (float x = shore; x < width; x += kStep) swell.push_back({x, water + kHeight * std::sin((x - shore) / kWave * kTwoPi)});
  ui.polyline(swell, Token::ink, 2);
  ui.rule(0, foot, width, foot, Token::ink, 3);
  const Pen pen{Step::say, Token::ink, true};
  // On the land, as long as they stay above the water.
  const float words_width = ui.width_of(words, pen) + 1;
  if (words_x + words_width <= (knee + shore) / 2) ui.write_in(words, pen, {words_x, y, words_width, kRampHeight});
  return kRampHeight;
}

float draw_name(Ui& ui, const StartView& view, float x, float y, float width, std::vector<StartIntent>& out) {
  const float start = y;
  y += ui.write(view.name_label, {Step::read, Token::ink2}, x, y, width) + 2;
  const float height = std::max(kFieldHeight, ui.line(Step::mark) + 20);
  if (auto name = ui.text_field("name", {view.name_label, view.name, view.name_refused}, {x, y, width, height})) out.push_back(SetDraftName{*name});
  y += height;
  if (!view.name_refused.empty()) y += 3 + ui.text("refused", view.name_refused, {Step::read, Token::mag, true}, x, y + 3, width);
  return y - start;
}

float draw_start_keys(Ui& ui, const StartView& view, float x, float y, float width, std::vector<StartIntent>& out) {
  const float start = y;
  if (!view.start_words.empty()) {
    const KeyFace face{.words = view.start_words, .kind = KeyKind::main, .icon = Icon::kept, .step = Step::move, .main_of_page = true};
    const float height = ui.key_height(face, width, kStartKey);
    if (ui.key("start", face, {x, y, width, height})) out.push_back(Start{});
    y += height + kGap + 2;
  }
  const auto plain = [&](std::string_view key, const std::string& words, Icon icon, StartIntent intent) {
    if (words.empty()) return;
    const KeyFace face{.words = words, .icon = icon, .step = Step::say};
    const float height = ui.key_height(face, width, kKey);
    if (ui.key(key, face, {x, y, width, height})) out.push_back(std::move(intent));
    y += height + kGap;
  };
  plain("take-in", view.take_in_words, Icon::exchange, AskForBundle{});
  plain("look", view.demo_words, Icon::squad, LookAround{});
  return y - start;
}

float draw_parts(Ui& ui, std::string_view key, const std::vector<FormPart>& parts, float x, float y, float width, std::vector<StartIntent>& out) {
  if (parts.empty()) return 0;
  const auto path = ui.in(key);
  std::vector<FormAnswer> answers;
  const float height = draw_form(ui, parts, x, y, width, answers);
  for (FormAnswer& answer : answers) out.push_back(StartAnswer{static_cast<StartPart>(answer.id), answer.choice, std::move(answer.text)});
  return height + kSpace + 4;
}

}  // namespace

std::vector<StartIntent> draw_start_screen(Ui& ui, const StartView& view) {
  std::vector<StartIntent> out;
  const Box room = ui.room();
  const Box column = reading_column(ui, room);
  float y = room.y + kMargin;
  y += ui.heading("title", view.title, {Step::read_out, Token::ink, true}, column.x, y, column.width) + kGap;
  y += draw_ramp(ui, view.ramp_words, column.x, y, ui.ground().width) + kSpace;
  y += draw_paragraphs(ui, "paragraph", view.paragraphs, {Step::say, Token::ink}, column.x, y, column.width) + kSpace + 4;
  y += draw_parts(ui, "questions", view.questions, column.x, y, column.width, out);
  y += draw_name(ui, view, column.x, y, column.width, out) + kSpace + 4;
  y += draw_parts(ui, "facts", view.facts, column.x, y, column.width, out);
  y += draw_start_keys(ui, view, column.x, y, column.width, out) + kGap;
  draw_parts(ui, "last", view.last, column.x, y, column.width, out);
  return out;
}

std::vector<PressKey> draw_notice_screen(Ui& ui, const NoticeView& view) {
  std::vector<PressKey> out;
  const Box room = ui.room();
  const Box column = reading_column(ui, room);
  const float width = column.width;
  const float x = std::floor(room.x + (room.width - width) / 2);
  const Token ink = view.trouble ? Token::mag : Token::ink;
  float y = room.y + kSpace * 2;
  const float icon = std::round(kNoticeIcon * std::min(1.0F, room.height / 600));
  ui.icon(view.trouble ? Icon::caution : Icon::lanes, std::floor(x + (width - icon) / 2), y, icon, ink);
  y += icon + kSpace;
  const float inside = view.trouble ? kSpace : 0;  // the panel's padding
  const auto words = [&] {
    float height = inside;
    height += ui.heading("title", view.title, {Step::move, ink, true, Align::centre}, x + inside, y + height, width - 2 * inside) + kSpace;
    return height + draw_paragraphs(ui, "paragraph", view.paragraphs, {Step::say, ink}, x + inside, y + height, width - 2 * inside) + inside;
  };
  if (view.trouble) {
    const Box panel{x, y, width, ui.measure(words)};
    ui.fill(panel, Token::mag_tint, kPanelCorner);
    ui.edge(panel, Token::mag, kPanelEdge, kPanelCorner);
  }
  y += words() + kSpace * 2;
  for (std::uint32_t i = 0; i < view.keys.size(); ++i) {
    const NoticeKey& key = view.keys[i];
    const KeyFace face{.words = key.words,
                       .kind = key.main ? KeyKind::main : KeyKind::plain,
                       .step = key.main ? Step::move : Step::cue,
                       .main_of_page = key.main};
    const float height = ui.key_height(face, width, key.main ? kStartKey : kKey);
    const auto path = ui.in("key", i);
    if (ui.key("press", face, {x, y, width, height})) out.push_back(PressKey{i});
    y += height + kGap + 2;
  }
  return out;
}

}  // namespace slipway::screens
