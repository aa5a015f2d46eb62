#include "screens/logbook_screen.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "screens/parts.h"

namespace slipway::screens {

namespace {

using namespace metrics;

constexpr float kSpace = 12, kPad = 10;

Token ground_of(Ground ground) {
  switch (ground) {
    case Ground::land: return Token::land;
    case Ground::water: return Token::sea;
    case Ground::pain: return Token::mag_tint;
    case Ground::plain: break;
  }
  return Token::paper;
}

struct LineAt {
  std::uint32_t day = 0, entry = 0, line = 0;
};

float draw_history(Ui& ui, const LogLine& line, float x, float y, float width) {
  const float start = y;
  for (std::size_t i = 0; i < line.history.size(); ++i) {
    const LogVersion& version = line.history[i];
    const Pen pen{Step::read, version.struck ? Token::ink2 : Token::ink, !version.struck};
    const auto path = ui.in("version", i);
    const float height = ui.text("value", version.value, pen, x, y, width);
    if (version.struck && height <= ui.line(Step::read)) ui.strike({x, y, std::min(width, ui.width_of(version.value, pen)), height}, Token::ink2);
    y += height;
    y += ui.text("by", version.by, {Step::read, Token::ink2}, x, y, width) + 4;
  }
  return y - start;
}

float draw_line(Ui& ui, const LogLine& line, LineAt at, float x, float y, float width, std::vector<LogbookIntent>& out) {
  const auto path = ui.in("line", at.line);
  const float start = y;
  const float mark = std::round(18 * ui.text_scale());
  const float words_x = x + mark + kGap;
  const float words_width = width - mark - kGap;
  ui.icon(line.mark, x, y + std::floor((ui.line(Step::say) - mark) / 2), mark, line.mark == Icon::wet ? Token::mag : Token::ink);
  float height = ui.write(line.label, {Step::read, Token::ink2}, words_x, y, words_width);
  float value_x = words_x;
  if (!line.was.empty()) {
    const Pen was{Step::say, Token::ink2};
    const float was_width = std::min(words_width / 2, ui.width_of(line.was, was) + 1);
    const float was_height = ui.write(line.was, was, words_x, y + height, was_width);
    if (was_height <= ui.line(Step::say)) ui.strike({words_x, y + height, was_width, was_height}, Token::ink);
    value_x += was_width + kSpace;
  }
  height += ui.write(line.value, {Step::say, Token::ink, true}, value_x, y + height, x + width - value_x);
  ui.spoken("words", line.spoken, {x, y, width, height});
  y += height + 4;
  y += draw_history(ui, line, words_x, y, words_width);
  std::vector<RowKey> keys;
  std::vector<LogbookIntent> intents;
  const auto add = [&](std::string_view key, const std::string& words, const std::string& spoken, Icon icon, LogbookIntent intent) {
    if (words.empty()) return;
    keys.push_back({key, {.words = words, .spoken = spoken, .icon = icon, .step = Step::say}});
    intents.push_back(std::move(intent));
  };
  add("change", line.change_words, line.change_spoken, Icon::pencil, ChangeLine{at.day, at.entry, at.line});
  add("take-back", line.take_back_words, line.take_back_spoken, Icon::undo, TakeBackLine{at.day, at.entry, at.line});
  const RowAnswer row = key_row(ui, keys, x, y, width);
  if (row.pressed) out.push_back(intents[*row.pressed]);
  y += row.height + (keys.empty() ? 0 : kGap);
  ui.rule(x, y, x + width, y, Token::hair, 1);
  return y + kGap - start;
}

struct Wanted {
  std::vector<LogbookIntent> intents = {};
  std::vector<FormAnswer> answers = {};
};

// What stands open under its entry, in an edge of ink.
float draw_open(Ui& ui, const LogEntry& entry, LineAt at, float x, float y, float width, Wanted& out) {
  const float inner_x = x + kPad;
  const float inner = width - 2 * kPad;
  const auto inside = [&](Wanted& wanted) {
    float used = kPad;
    if (!entry.note.empty()) used += ui.text("note", entry.note, {Step::read, Token::ink}, inner_x, y + used, inner) + kGap;
    for (at.line = 0; at.line < entry.lines.size(); ++at.line) used += draw_line(ui, entry.lines[at.line], at, inner_x, y + used, inner, wanted.intents);
    if (!entry.parts.empty()) used += draw_form(ui, entry.parts, inner_x, y + used, inner, wanted.answers) + kPad;
    return used + 2;
  };
  const float height = ui.measure([&] {
    Wanted none;
    return inside(none);
  });
  ui.edge({x, y, width, height}, Token::ink, kEdge, kPanelCorner);
  inside(out);
  return height;
}

float draw_day(Ui& ui, const LogDay& day, std::uint32_t number, float x, float y, float width, Wanted& out) {
  const auto path = ui.in("day", number);
  const float start = y;
  const Pen date{Step::read, Token::ink, true};
  y += ui.heading("date", day.date, date, x, y, width);
  const float rule_x = x + ui.width_of(day.date, date) + kGap;
  const float rule_y = std::floor(start + ui.line(Step::read) / 2);
  if (rule_x < x + width) ui.rule(rule_x, rule_y, x + width, rule_y, Token::line, 1);
  y += 4;
  for (std::uint32_t i = 0; i < day.entries.size(); ++i) {
    const LogEntry& entry = day.entries[i];
    const auto own = ui.in("entry", i);
    const RowAnswer row = list_row(ui, "open", {.icon = entry.icon, .title = entry.title, .line = entry.line, .spoken = entry.spoken, .mark = entry.mark,
                                                .end = entry.open ? Icon::down : Icon::right, .ink = entry.ground == Ground::pain ? Token::mag : Token::ink,
                                                .ground = ground_of(entry.ground), .boxed = true, .open = entry.open, .least = kKey}, x, y, width);
    if (row.pressed) out.intents.push_back(OpenEntry{number, i});
    y += row.height + 6;
    if (entry.open) y += draw_open(ui, entry, {number, i, 0}, x, y, width, out) + 6;
  }
  return y - start;
}

}  // namespace

std::vector<LogbookIntent> draw_logbook_screen(Ui& ui, const LogbookView& view, std::vector<LogAnswer>& answers) {
  Wanted out;
  const Box room = ui.room();
  const Box column = reading_column(ui, room);
  float y = room.y + kMargin;
  y += draw_place_head(ui, {.title = view.title, .line = view.line, .kept = view.kept_words, .kept_icon = view.kept_icon}, column.x, y, column.width) + kSpace;
  std::vector<RowKey> keys;
  constexpr std::array<std::string_view, 2> kPaths{"first", "second"};
  for (std::size_t i = 0; i < std::min(view.keys.size(), kPaths.size()); ++i)
    keys.push_back({kPaths[i], {.words = view.keys[i].words, .kind = i == 0 ? KeyKind::main : KeyKind::plain, .icon = view.keys[i].icon, .main_of_page = i == 0}});
  const RowAnswer row = key_row(ui, keys, column.x, y, column.width);
  if (row.pressed) out.intents.push_back(PressLogKey{static_cast<std::uint32_t>(*row.pressed)});
  if (!keys.empty()) y += row.height + kSpace;
  if (!view.ask.empty()) {
    const auto path = ui.in("ask", 0);
    y += draw_form(ui, view.ask, column.x, y, column.width, out.answers) + kSpace;
  }
  if (view.days.empty() && !view.none_words.empty()) y += ui.text("none", view.none_words, {Step::say, Token::ink2}, column.x, y, column.width);
  for (std::uint32_t i = 0; i < view.days.size(); ++i) y += draw_day(ui, view.days[i], i, column.x, y, column.width, out) + kGap;
  if (!view.more_words.empty()) {
    const KeyFace face{.words = view.more_words, .icon = Icon::down, .step = Step::say};
    if (ui.key("more", face, {column.x, y, column.width, ui.key_height(face, column.width, kKey)})) out.intents.push_back(ShowMoreDays{});
  }
  for (FormAnswer& part : out.answers) answers.push_back({std::move(part)});
  return std::move(out.intents);
}

}  // namespace slipway::screens
