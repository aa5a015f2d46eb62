#include "screens/swimmer_page.h"

#include <algorithm>
#include <cmath>

#include "screens/parts.h"

namespace slipway::screens {

namespace {

using namespace metrics;

constexpr float kSpace = 12, kPad = 12;

struct PageDrawing {
  Ui& ui;
  const SwimmerView& view;
  std::vector<SquadIntent>& out;
  std::vector<AskAnswer>& answered;
  float x, width;

  struct Asked {
    std::string_view key;
    std::string_view words;
    Icon icon;
    SquadIntent intent;
    bool main = false;
  };
  // Keys about one thing: each is spoken with what it is about.
  float keys(std::initializer_list<Asked> asked, const std::string& about, float y) const {
    std::vector<std::string> names;
    names.reserve(asked.size());
    std::vector<RowKey> row;
    std::vector<const Asked*> shown;
    for (const Asked& one : asked) {
      if (one.words.empty()) continue;
      names.push_back(std::string(one.words) + ": " + about);
      shown.push_back(&one);
      row.push_back({one.key, {.words = one.words, .spoken = names.back(), .kind = one.main ? KeyKind::main : KeyKind::plain, .icon = one.icon, .step = Step::say,
                               .main_of_page = one.main}});
    }
    const RowAnswer answer = key_row(ui, row, x, y, row.size() == 1 ? lone_key_width(ui, row[0].face, width) : width);
    if (answer.pressed) out.push_back(shown[*answer.pressed]->intent);
    return row.empty() ? 0 : answer.height + kGap;
  }

  float title(std::string_view key, const std::string& words, float y) const {
    return words.empty() ? 0 : section_head(ui, key, {.title = words}, x, y, width) + kGap;
  }

  float ask(AskAt at, std::uint32_t index, float y) const {
    if (view.ask.empty() || view.ask[0].at != at || view.ask[0].index != index) return 0;
    const AskPanel& panel = view.ask[0];
    const float inner_x = x + kPad;
    const float inner = width - 2 * kPad;
    const auto inside = [&](bool& keep, bool& leave, std::vector<FormAnswer>& answers) {
      float used = kPad + ui.heading("title", panel.title, {Step::cue, Token::ink, true}, inner_x, y + kPad, inner) + kGap;
      used += draw_form(ui, panel.parts, inner_x, y + used, inner, answers) + kSpace;
      const RowKey row[] = {{"keep", {.words = panel.keep_words, .kind = KeyKind::main, .icon = Icon::kept, .main_of_page = true}},
                            {"leave", {.words = panel.leave_words}}};
      const RowAnswer answer = key_row(ui, row, inner_x, y + used, inner);
      if (answer.pressed) (*answer.pressed == 0 ? keep : leave) = true;
      return used + answer.height + kPad;
    };
    bool keep = false;
    bool leave = ui.escape_pressed();
    std::vector<FormAnswer> answers;
    const auto path = ui.in("ask");
    const float height = ui.measure([&] { return inside(keep, leave, answers); });
    const auto sheet = ui.sheet("panel", {.role = model::Role::group, .name = panel.title, .rect = {x, y, width, height}});
    ui.edge({x, y, width, height}, Token::ink, kPanelEdge, kPanelCorner);
    inside(keep, leave, answers);
    for (FormAnswer& answer : answers) answered.push_back({std::move(answer)});
    if (keep) out.push_back(KeepAsk{});
    else if (leave) out.push_back(LeaveAsk{});
    return height + kSpace;
  }

  float panel(const Decision& decision, float y) const {
    const Token ink = decision.urgent ? Token::mag : Token::ink;
    const float icon = std::round(kIcon * ui.text_scale());
    const float words_x = x + kPad + icon + kGap;
    const float words_width = x + width - kPad - words_x;
    const auto words = [&](float top) {
      float used = ui.heading("title", decision.title, {Step::cue, ink, true}, words_x, top, words_width);
      const std::string reason = decision.rule.empty() ? decision.sentence : decision.sentence + " " + decision.rule;
      used += ui.text("reason", reason, {Step::read, ink}, words_x, top + used, words_width);
      if (!decision.why.empty()) used += 4 + draw_paragraphs(ui, "why", decision.why, {Step::read, ink}, words_x, top + used + 4, words_width);
      if (!decision.overruled.empty()) used += 4 + ui.text("overruled", decision.overruled, {Step::read, ink, true}, words_x, top + used + 4, words_width);
      return used;
    };
    const float height = ui.measure([&] { return words(y); }) + 2 * kPad;
    ui.fill({x, y, width, height}, decision.urgent ? Token::mag_tint : Token::land, kPanelCorner);
    ui.edge({x, y, width, height}, ink, kEdge, kPanelCorner);
    ui.icon(decision.icon, x + kPad, y + kPad + std::floor((ui.line(Step::cue) - icon) / 2), icon, ink);
    words(y + kPad);
    return height + kGap;
  }

  float decisions(float y) const {
    const float start = y;
    y += title("decisions", view.decisions_title, y);
    if (view.decisions.empty() && !view.decisions_none.empty()) y += ui.text("none", view.decisions_none, {Step::read, Token::ink2}, x, y, width) + kGap;
    const auto signs = [](const Decision& one) { return !one.sign_off_words.empty(); };
    const auto main = static_cast<std::size_t>(std::find_if(view.decisions.begin(), view.decisions.end(), signs) - view.decisions.begin());
    for (std::uint32_t i = 0; i < view.decisions.size(); ++i) {
      const Decision& decision = view.decisions[i];
      const auto path = ui.in("decision", i);
      y += panel(decision, y);
      y += keys({{"sign", decision.sign_off_words, Icon::signoff, SignOffDecision{i}, i == main && view.ask.empty()},
                 {"overrule", decision.overrule_words, Icon::pencil, OverruleDecision{i}},
                 {"why", decision.why_words, Icon::why, WhyDecision{i}}},
                decision.spoken, y);
      y += ask(AskAt::decision, i, y) + 4;
    }
    return y - start;
  }

  float clearance(float y) const {
    const float start = y;
    const auto path = ui.in("clearance");
    if (!view.clearance_line.empty()) y += ui.text("line", view.clearance_line, {Step::read, Token::mag, true}, x, y, width) + kGap;
    y += keys({{"note", view.clearance_words, Icon::pencil, NoteClearance{}}}, view.name, y);
    y += ask(AskAt::clearance, 0, y);
    return y - start;
  }

  float sign_offs(float y) const {
    if (view.sign_offs.empty()) return 0;
    const float start = y;
    y += title("sign-offs", view.sign_offs_title, y);
    for (std::uint32_t i = 0; i < view.sign_offs.size(); ++i) {
      const SignOffRow& row = view.sign_offs[i];
      const auto path = ui.in("sign-off", i);
      const float height = draw_labelled(ui, row.movement, row.state, row.icon, x, y, width);
      ui.spoken("words", row.spoken, {x, y, width, height});
      y += height + 4;
      y += keys({{"sound", row.sound_words, Icon::kept, SignOff{i, false}},
                 {"loaded", row.loaded_words, Icon::kept, SignOff{i, true}},
                 {"withdraw", row.withdraw_words, Icon::off, WithdrawSignOff{i}}},
                row.movement, y);
      y += ask(AskAt::sign_off, i, y);
      ui.rule(x, y, x + width, y, Token::hair, 1);
      y += kGap;
    }
    return y - start;
  }

  float section(const PageSection& section, float y) const {
    const float start = y;
    y += title("title", section.title, y);
    for (std::size_t i = 0; i < section.lines.size(); ++i) {
      const PageLine& line = section.lines[i];
      const auto path = ui.in("line", i);
      const float height = draw_labelled(ui, line.label, line.words, Icon::none, x, y, width);
      ui.spoken("words", line.label.empty() ? line.words : line.label + ": " + line.words, {x, y, width, height});
      y += height + 6;
    }
    return y + kGap - start;
  }

  float foot_keys(float y) const {
    if (view.keys.empty()) return 0;
    std::vector<FormAnswer> answers;
    const float height = draw_form_part(ui, {.kind = FormKind::keys, .choices = view.keys}, 0, x, y, width, answers);
    for (const FormAnswer& answer : answers) out.push_back(PressSwimmerKey{answer.choice});
    return height;
  }
};

}  // namespace

float draw_swimmer_page(Ui& ui, const SwimmerView& view, bool with_back, float x, float y, float width, std::vector<SquadIntent>& out,
                        std::vector<AskAnswer>& answers) {
  const auto region = ui.group("swimmer", model::Role::region, view.name);
  const PageDrawing drawing{ui, view, out, answers, x, width};
  const float start = y;
  if (with_back) {
    bool back = false;
    y += draw_back(ui, view.back_words, x, y, width, back) + kGap;
    if (back || (ui.escape_pressed() && view.ask.empty())) out.push_back(CloseSwimmer{});
  }
  y += ui.heading("name", view.name, {Step::key, Token::ink, true}, x, y, width);
  y += ui.text("line", view.line, {Step::read, Token::ink2}, x, y, width) + kSpace;
  y += drawing.decisions(y);
  y += drawing.clearance(y);
  y += drawing.sign_offs(y);
  if (!view.sections.empty()) y += draw_rope(ui, x, y, width) + kGap;
  for (std::size_t i = 0; i < view.sections.size(); ++i) {
    const auto path = ui.in("section", i);
    y += drawing.section(view.sections[i], y);
  }
  y += drawing.ask(AskAt::note, 0, y);
  y += drawing.foot_keys(y);
  return y - start;
}

}  // namespace slipway::screens
