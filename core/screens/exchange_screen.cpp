#include "screens/exchange_screen.h"

#include <algorithm>
#include <cmath>

#include "screens/form.h"
#include "screens/parts.h"

namespace slipway::screens {

namespace {

using namespace metrics;

constexpr float kSpace = 12;
constexpr float kRowLeast = 58;
constexpr float kWide = 1024 / kTouch;  // from here the contradictions stand in a column of their own
constexpr float kRightMost = 612;
constexpr float kDropZone = 84;
constexpr float kChooseBar = 7;
constexpr float kPointer = 14;        // before a line that differs
constexpr float kColumnLeast = 200;   // of line A beside line B

// Files that are here, but not taken in before a person has said something; for whom the next bundle is.
float draw_parts(Ui& ui, std::string_view key, const std::vector<FormPart>& parts, float x, float y, float width, std::vector<ExchangeAnswer>& answers) {
  if (parts.empty()) return 0;
  const auto path = ui.in(key);
  std::vector<FormAnswer> given;
  const float height = draw_form(ui, parts, x, y, width, given);
  for (FormAnswer& one : given) answers.push_back({one.id, one.choice, std::move(one.text)});
  return height + kMargin;
}

// What goes out: the main key, the same as text, when it was last.
float draw_out(Ui& ui, const ExchangeView& view, float x, float y, float width, std::vector<ExchangeIntent>& out,
               std::vector<ExchangeAnswer>& answers) {
  const float start = y;
  y += draw_parts(ui, "out", view.out, x, y, width, answers);
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
  add("open", view.open_words, Icon::off, HandOverOpen{});
  if (view.drop_title.empty()) add("take-in", view.take_in_words, Icon::down, TakeInFile{});
  const RowAnswer row = key_row(ui, keys, x, y, width);
  if (row.pressed) out.push_back(intents[*row.pressed]);
  y += row.height;
  if (!view.sealed_line.empty()) y += 4 + ui.text("sealed", view.sealed_line, {Step::read, Token::ink}, x, y + 4, width);
  if (!view.last_out.empty()) y += 4 + ui.text("last-out", view.last_out, {Step::read, view.last_out_is_old ? Token::mag : Token::ink2}, x, y + 4, width);
  return y - start;
}

// Where files fall on a desktop; the key is there for every other hand.
float draw_drop_zone(Ui& ui, const ExchangeView& view, float x, float y, float width, std::vector<ExchangeIntent>& out) {
  if (view.drop_title.empty()) return 0;
  const KeyFace face{.words = view.take_in_words, .icon = Icon::file, .step = Step::say};
  const float key_width = std::min(width - 2 * kSpace, ui.key_width(face) + kMargin);
  const float title_width = ui.width_of(view.drop_title, {Step::cue, Token::ink, true});
  const bool beside = title_width + key_width + 3 * kMargin <= width;
  const float words_width = width - 2 * kMargin - (beside ? key_width + kMargin : 0);
  const auto words = [&](float top) {
    const float title = ui.text("drop-title", view.drop_title, {Step::cue, Token::ink, true}, x + kMargin, top, words_width);
    return title + ui.text("drop-words", view.drop_words, {Step::read, Token::ink}, x + kMargin, top + title, words_width);
  };
  const float words_height = ui.measure([&] { return words(0); });
  const float key_height = ui.key_height(face, key_width, kKey);
  const float height = beside ? std::max(kDropZone, std::max(words_height, key_height) + 2 * kSpace) : words_height + key_height + 2 * kSpace + kGap;
  const Box zone{x, y, width, height};
  ui.fill(zone, Token::sea);
  ui.dashed_edge(zone, Token::ink);
  words(beside ? y + std::floor((height - words_height) / 2) : y + kSpace);
  const float key_x = beside ? x + width - kMargin - key_width : x + kMargin;
  const float key_y = beside ? y + std::floor((height - key_height) / 2) : y + kSpace + words_height + kGap;
  if (ui.key("take-in", face, {key_x, key_y, std::min(key_width, x + width - kSpace - key_x), key_height})) out.push_back(TakeInFile{});
  return height + kSpace;
}

// Mark, file name and result word, under them what came of it.
float draw_result(Ui& ui, const FileResult& result, float x, float y, float width) {
  const Token ink = result.refused || result.you_choose ? Token::mag : Token::ink;
  const Pen name{Step::read, Token::ink, true};
  const Pen word{Step::read, ink, true, Align::right};
  const float icon = std::round(kIcon * ui.text_scale());
  const float icon_x = x + (result.you_choose ? kSpace : 0);
  const float words_x = icon_x + icon + kSpace;
  const float words_width = x + width - words_x;
  const float word_width = ui.width_of(result.word, word) + 1;
  const bool beside = ui.width_of(result.file_name, name) + kMargin + word_width <= words_width;
  const auto words = [&] {
    float height = kGap;
    const float name_height = ui.write(result.file_name, name, words_x, y + height, words_width);
    if (beside) ui.write(result.word, word, words_x, y + height, words_width);
    height += name_height;
    if (!beside) height += ui.write(result.word, {Step::read, ink, true}, words_x, y + height, words_width);
    return height + ui.write(result.sentence, {Step::read, result.refused ? Token::mag : Token::ink2}, words_x, y + height, words_width) + kGap;
  };
  const float height = std::max(kRowLeast, ui.measure(words));
  if (result.you_choose) {
    ui.fill({x, y, width, height}, Token::land);
    ui.fill({x, y, kChooseBar, height}, Token::ink);
  }
  words();
  const Icon mark = result.icon != Icon::none ? result.icon : result.you_choose ? Icon::conflict : result.refused ? Icon::caution : Icon::kept;
  ui.icon(mark, icon_x, y + kGap, icon, ink);
  ui.rule(x, y + height, x + width, y + height, Token::line, 1);
  return height;
}

float draw_results(Ui& ui, const ExchangeView& view, float x, float y, float width) {
  if (view.results.empty()) return 0;
  const float start = y;
  y += section_head(ui, "results-title", {.title = view.results_title, .right = view.sum}, x, y, width);
  const auto list = ui.group("results", model::Role::list, view.results_title);
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
  y += section_head(ui, "contradictions-title", {.title = view.contradictions_title, .ink = Token::mag, .icon = Icon::conflict}, x, y, width);
  const auto list = ui.group("contradictions", model::Role::list, view.contradictions_title);
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

struct TwiceDrawing {
  Ui& ui;
  const WrittenTwice& twice;
  std::uint32_t number;
  std::vector<ExchangeIntent>& out;
  std::vector<SetOtherValue>& typed;
  float inner = 0;  // width of one line's words

  float fact(const LineFact& fact, float x, float y) const {
    const float indent = fact.differs ? kPointer : 0;
    const float label = ui.write(fact.label, {Step::fine, Token::ink2}, x + indent, y + 3, inner - indent);
    return 6 + label + ui.write(fact.value, {Step::say, Token::ink, fact.differs}, x + indent, y + 3 + label, inner - indent);
  }
  float fact_height(const WrittenLine& line, std::size_t at) const {
    return at < line.facts.size() ? ui.measure([&] { return fact(line.facts[at], 0, 0); }) : 0;
  }
  float head_height(const WrittenLine& line) const { return ui.size_of(line.title, {Step::say, Token::ink, true}, inner).height + 2 * kGap; }

  // One of the lines, its rows as high as those of the line beside it.
  float column(std::size_t at, float head, std::span<const float> heights, float x, float y, float width) const {
    const WrittenLine& line = twice.lines[at];
    const auto own = ui.in("line", at);
    const auto group = ui.group("column", model::Role::group, line.title);
    const float start = y;
    if (line.in_use) ui.fill({x, y, width, head}, Token::ink, kPanelCorner);
    ui.text("title", line.title, {Step::say, line.in_use ? Token::paper : Token::ink, true}, x + kSpace, y + kGap, inner);
    y += head;
    ui.rule(x, y, x + width, y, Token::ink, kEdge);
    y += 4;
    for (std::size_t i = 0; i < line.facts.size(); ++i) {
      const LineFact& one = line.facts[i];
      const Box box{x + 6, y, width - 12, heights[i]};
      if (one.differs) {
        ui.fill(box, Token::land);
        ui.icon(Icon::next, x + kGap + 1, y + std::floor((heights[i] - kPointer) / 2), kPointer, Token::ink);
      }
      fact(one, x + kSpace, y);
      const auto path = ui.in("fact", i);
      ui.spoken("words", one.spoken.empty() ? one.label + ": " + one.value : one.spoken, box);
      y += heights[i] + 2;
    }
    y += 4;
    ui.edge({x, start, width, y - start}, Token::ink, line.in_use ? kPanelEdge : kEdge, kBoardCorner);
    return y - start;
  }

  float lines(float x, float y, float width) {
    const float start = y;
    const bool beside = twice.lines.size() == 2 && (width - kMargin) / 2 >= kColumnLeast * ui.text_scale();
    const float each = beside ? std::floor((width - kMargin) / 2) : width;
    inner = each - 2 * kSpace;
    for (std::size_t first = 0; first < twice.lines.size(); first += beside ? 2 : 1) {
      const std::size_t last = std::min(first + (beside ? 2 : 1), twice.lines.size());
      std::vector<float> heights;
      float head = 0;
      KeyFace face{.words = {}, .step = Step::say};
      float key = 0;
      for (std::size_t at = first; at < last; ++at) {
        const WrittenLine& line = twice.lines[at];
        head = std::max(head, head_height(line));
        heights.resize(std::max(heights.size(), line.facts.size()));
        for (std::size_t i = 0; i < heights.size(); ++i) heights[i] = std::max(heights[i], fact_height(line, i));
        face.words = line.use_words;
        if (!line.use_words.empty()) key = std::max(key, ui.key_height(face, each, kKey));
      }
      float height = 0;
      for (std::size_t at = first; at < last; ++at)
        height = std::max(height, column(at, head, heights, x + static_cast<float>(at - first) * (each + kMargin), y, each));
      y += height + kGap;
      for (std::size_t at = first; at < last && key > 0; ++at) {
        face.words = twice.lines[at].use_words;
        const auto path = ui.in("use", at);
        if (ui.key("key", face, {x + static_cast<float>(at - first) * (each + kMargin), y, each, key})) out.push_back(UseLine{number, static_cast<std::uint32_t>(at)});
      }
      y += key + kSpace;
    }
    return y - start;
  }

  float other(float x, float y, float width) const {
    if (twice.other_label.empty()) return 0;
    const float start = y;
    std::vector<FormAnswer> answers;
    const FormPart parts[] = {{.kind = FormKind::field, .id = 0, .label = twice.other_label, .value = twice.other, .refused = twice.other_refused, .number = true},
                              {.kind = FormKind::keys, .id = 1, .choices = {{.label = twice.other_words, .icon = Icon::pencil}}}};
    y += draw_form(ui, parts, x, y, width, answers);
    for (FormAnswer& answer : answers) {
      if (answer.id == 0) typed.push_back({number, std::move(answer.text)});
      else out.push_back(UseOtherValue{number});
    }
    return y + kSpace - start;
  }

  float draw(float x, float y, float width) {
    const auto path = ui.in("twice", number);
    const float start = y;
    y += section_head(ui, "title", {.title = twice.title, .ink = Token::mag, .icon = Icon::conflict, .step = Step::mark}, x, y, width) + 4;
    y += ui.text("line", twice.line, {Step::read, Token::ink2}, x, y, width) + kGap;
    y += lines(x, y, width);
    y += other(x, y, width);
    y += ui.text("meanwhile", twice.meanwhile, {Step::read, Token::ink}, x, y, width) + kSpace;
    return y - start;
  }
};

float draw_missing(Ui& ui, const ExchangeView& view, float x, float y, float width) {
  if (view.missing.empty()) return 0;
  const float start = y;
  y += draw_rope(ui, x, y, width);
  y += section_head(ui, "missing-title", {.title = view.missing_title}, x, y, width) + kGap;
  for (std::size_t i = 0; i < view.missing.size(); ++i) {
    const MissingLine& line = view.missing[i];
    const auto path = ui.in("missing", i);
    const float height = draw_labelled(ui, line.who, line.words, Icon::missing, x, y, width);
    ui.spoken("words", line.who + ": " + line.words, {x, y, width, height});
    y += height + kGap;
  }
  return y - start;
}

// What asks for a decision, then what is only said.
float draw_open_ends(Ui& ui, const ExchangeView& view, float x, float y, float width, std::vector<ExchangeIntent>& out, std::vector<SetOtherValue>& typed) {
  if (view.written_twice.empty() && view.contradictions.empty() && view.missing.empty()) return 0;
  const std::string& name = !view.written_twice.empty() ? view.written_twice[0].title : !view.contradictions.empty() ? view.contradictions_title : view.missing_title;
  const auto region = ui.group("open-ends", model::Role::region, name);
  const float start = y;
  for (std::uint32_t i = 0; i < view.written_twice.size(); ++i) y += TwiceDrawing{ui, view.written_twice[i], i, out, typed}.draw(x, y, width) + kSpace;
  const float lines = draw_contradictions(ui, view, x, y, width);
  y += lines + (lines > 0 ? kSpace : 0);
  return y + draw_missing(ui, view, x, y, width) - start;
}

}  // namespace

std::vector<ExchangeIntent> draw_exchange_screen(Ui& ui, const ExchangeView& view, std::vector<SetOtherValue>& typed,
                                                 std::vector<ExchangeAnswer>& answers) {
  std::vector<ExchangeIntent> out;
  const Box room = ui.room();
  const Box column = reading_column(ui, room);
  const float margin = page_margin(ui, room);
  const bool open_ends = !view.contradictions.empty() || !view.written_twice.empty() || !view.missing.empty();
  const bool wide = ui.touch_units(room.width) >= kWide && open_ends;
  float y = room.y + kMargin;
  const float top = y;
  const float x = column.x;
  const float width = wide ? std::min(column.width, std::floor((room.width - 4 * margin - kPost) / 2)) : column.width;
  y += ui.heading("title", view.title, {Step::key, Token::ink, true}, x, y, width) + 4;
  if (!wide) {  // a phone is there to hand over
    y += ui.text("line", view.line, {Step::say, Token::ink2}, x, y, width) + kSpace;
    y += draw_out(ui, view, x, y, width, out, answers) + kMargin;
  }
  y += draw_parts(ui, "waiting", view.waiting, x, y, width, answers);
  y += draw_drop_zone(ui, view, x, y, width, out);
  const float results = draw_results(ui, view, x, y, width);
  y += results + (results > 0 ? kMargin : 0);
  if (!wide) {
    draw_open_ends(ui, view, x, y, width, out, typed);
    return out;
  }
  y += draw_rope(ui, x, y, width);
  y += ui.text("line", view.line, {Step::say, Token::ink2}, x, y, width) + kSpace;
  y += draw_out(ui, view, x, y, width, out, answers);
  const float post_x = x + width + margin;
  const float right_x = post_x + kPost + margin;
  const float right = draw_open_ends(ui, view, right_x, top, std::min(kRightMost, room.x + room.width - margin - right_x), out, typed);
  ui.fill({post_x, 0, kPanelEdge, std::max({y, top + right, room.y + room.height}) + kMargin}, Token::ink);
  return out;
}

}  // namespace slipway::screens
