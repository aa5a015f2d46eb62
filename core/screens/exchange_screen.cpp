#include "screens/exchange_screen.h"

#include <algorithm>
#include <cmath>

#include "screens/parts.h"

namespace slipway::screens {

namespace {

using namespace metrics;

constexpr float kSpace = 12;
constexpr float kRowLeast = 58;
constexpr float kWide = 1024 / kTouch;  // from here the contradictions stand in a column of their own
constexpr float kRightMost = 612;

float draw_exchange_keys(Ui& ui, const ExchangeView& view, float x, float y, float width, std::vector<ExchangeIntent>& out) {
  const float start = y;
  if (!view.hand_over_words.empty()) {
    const KeyFace face{.words = view.hand_over_words, .kind = KeyKind::main, .icon = Icon::exchange, .step = Step::move, .main_of_page = true};
    const float height = ui.key_height(face, width, 72);
    if (ui.key("hand-over", face, {x, y, width, height})) out.push_back(HandOverFile{});
    y += height + kGap + 2;
  }
  std::vector<RowKey> keys;
  std::vector<ExchangeIntent> intents;
  const auto add = [&](std::string_view key, const std::string& words, Icon icon, ExchangeIntent intent) {
    if (words.empty()) return;
    keys.push_back({key, {.words = words, .icon = icon, .step = Step::say}});
    intents.push_back(std::move(intent));
  };
  add("as-text", view.as_text_words, Icon::file, HandOverText{});
  add("take-in", view.take_in_words, Icon::down, TakeInFile{});
  const RowAnswer row = key_row(ui, keys, x, y, width);
  if (row.pressed) out.push_back(intents[*row.pressed]);
  return y + row.height - start;
}

// Mark, file name and result word, under them what came of it.
float draw_result(Ui& ui, const FileResult& result, float x, float y, float width) {
  const Token ink = result.refused ? Token::mag : Token::ink;
  const Pen name{Step::read, Token::ink, true};
  const Pen word{Step::read, ink, true, Align::right};
  const float icon = std::round(kIcon * ui.text_scale());
  const float words_x = x + icon + kSpace;
  const float words_width = x + width - words_x;
  const float word_width = ui.width_of(result.word, word) + 1;
  const bool beside = ui.width_of(result.file_name, name) + kMargin + word_width <= words_width;
  float height = kGap;
  const float name_height = ui.write(result.file_name, name, words_x, y + height, words_width);
  if (beside) ui.write(result.word, word, words_x, y + height, words_width);
  height += name_height;
  if (!beside) height += ui.write(result.word, {Step::read, ink, true}, words_x, y + height, words_width);
  height += ui.write(result.sentence, {Step::read, result.refused ? Token::mag : Token::ink2}, words_x, y + height, words_width) + kGap;
  height = std::max(kRowLeast, height);
  ui.icon(result.refused ? Icon::caution : Icon::kept, x, y + kGap, icon, ink);
  ui.rule(x, y + height, x + width, y + height, Token::line, 1);
  return height;
}

float draw_results(Ui& ui, const ExchangeView& view, float x, float y, float width) {
  if (view.results.empty()) return 0;
  const float start = y;
  y += ui.heading("results-title", view.results_title, {Step::cue, Token::ink, true}, x, y, width) + 4;
  ui.rule(x, y, x + width, y, Token::ink, kEdge);
  const auto list = ui.group("results", {.role = model::Role::list, .name = view.results_title});
  for (std::size_t i = 0; i < view.results.size(); ++i) {
    const FileResult& result = view.results[i];
    const float height = draw_result(ui, result, x, y, width);
    const auto path = ui.in("row", i);
    ui.node("result", {.role = model::Role::listitem,
                       .name = result.spoken,
                       .position = static_cast<std::uint32_t>(i + 1),
                       .set_size = static_cast<std::uint32_t>(view.results.size()),
                       .rect = {x, y, width, height}});
    y += height;
  }
  return y - start;
}

float draw_contradictions(Ui& ui, const ExchangeView& view, float x, float y, float width) {
  if (view.contradictions.empty()) return 0;
  const float start = y;
  const float icon = std::round(kIcon * ui.text_scale());
  ui.icon(Icon::conflict, x, y + std::floor((ui.line(Step::cue) - icon) / 2), icon, Token::mag);
  y += ui.heading("contradictions-title", view.contradictions_title, {Step::cue, Token::mag, true}, x + icon + kGap, y, width - icon - kGap) + 4;
  ui.rule(x, y, x + width, y, Token::mag, kEdge);
  const auto list = ui.group("contradictions", {.role = model::Role::list, .name = view.contradictions_title});
  for (std::size_t i = 0; i < view.contradictions.size(); ++i) {
    const float words = ui.write(view.contradictions[i], {Step::say, Token::ink}, x, y + kGap, width);
    const float height = words + 2 * kGap;
    const auto path = ui.in("row", i);
    ui.node("line", {.role = model::Role::listitem,
                     .name = view.contradictions[i],
                     .position = static_cast<std::uint32_t>(i + 1),
                     .set_size = static_cast<std::uint32_t>(view.contradictions.size()),
                     .rect = {x, y, width, height}});
    ui.rule(x, y + height, x + width, y + height, Token::line, 1);
    y += height;
  }
  return y - start;
}

}  // namespace

std::vector<ExchangeIntent> draw_exchange_screen(Ui& ui, const ExchangeView& view) {
  std::vector<ExchangeIntent> out;
  const Box room = ui.room();
  const Box column = reading_column(ui, room);
  const float margin = page_margin(ui, room);
  const bool wide = ui.touch_units(room.width) >= kWide && !view.contradictions.empty();
  float y = room.y + kMargin;
  const float top = y;
  const float left_width = wide ? std::min(column.width, std::floor((room.width - 4 * margin - kPost) / 2)) : column.width;
  y += ui.heading("title", view.title, {Step::key, Token::ink, true}, column.x, y, left_width) + 4;
  y += ui.text("line", view.line, {Step::say, Token::ink2}, column.x, y, left_width) + kSpace;
  y += draw_exchange_keys(ui, view, column.x, y, left_width, out) + kSpace * 2;
  y += draw_results(ui, view, column.x, y, left_width) + kSpace * 2;
  if (wide) {
    const float post_x = column.x + left_width + margin;
    const float right_x = post_x + kPost + margin;
    ui.fill({post_x, top, kPost, std::max(y, room.y + room.height - margin) - top}, Token::ink);
    draw_contradictions(ui, view, right_x, top, std::min(kRightMost, room.x + room.width - margin - right_x));
  } else {
    draw_contradictions(ui, view, column.x, y, left_width);
  }
  return out;
}

}  // namespace slipway::screens
