#include "app/exchange_desk.h"

#include <algorithm>

#include "app/overloaded.h"
#include "report/words.h"

namespace slipway::app {

using report::number;
using report::say;

namespace {

constexpr std::size_t kDeviceSigns = 4;

std::string letter(std::size_t line) { return std::string(1, static_cast<char>('A' + std::min<std::size_t>(line, 25))); }

std::string device_words(const model::Writer& by) {
  return say("exchange.writer_on", {report::author_word(by.author), by.op.inc.hex().substr(0, kDeviceSigns)});
}

// One fact of every line, marked where they are not all the same.
void add_fact(std::vector<screens::WrittenLine>& lines, const std::string& label, const std::vector<std::string>& values) {
  const bool differs = std::any_of(values.begin(), values.end(), [&](const std::string& value) { return value != values.front(); });
  for (std::size_t i = 0; i < lines.size(); ++i) {
    screens::LineFact fact{label, values[i], differs, {}};
    if (differs) fact.spoken = say("exchange.differs", {label, values[i]});
    lines[i].facts.push_back(std::move(fact));
  }
}

}  // namespace

void ExchangeDesk::read(Desk& desk) {
  const Key now{desk.book.revision(), shown_scopes(desk), desk.settings.unit, desk.settings.is_coach()};
  if (read_for_ && *read_for_ == now) return;
  read_for_ = now;
  twice_.clear();
  for (const model::ScopeId& scope : std::get<1>(now))
    for (TwiceWritten& twice : written_twice(desk.book, scope, desk.settings.unit, desk.settings.is_coach())) {
      twice.key = scope.hex() + "/" + twice.key;
      twice.who = name_apart(desk, scope);
      twice_.push_back(std::move(twice));
    }
}

std::size_t ExchangeDesk::waiting(Desk& desk) {
  read(desk);
  return twice_.size();
}

screens::WrittenTwice ExchangeDesk::shown(Desk& desk, const TwiceWritten& twice) {
  screens::WrittenTwice out;
  out.title = say(twice.came_back ? "exchange.back_title" : "exchange.twice_title");
  out.line = twice.came_back ? say("exchange.back_of", {twice.who, twice.what}) : say("exchange.twice_line", {twice.who, twice.what, twice.field});
  std::vector<std::string> writers, moments, seen, values;
  for (std::size_t i = 0; i < twice.lines.size(); ++i) {
    const TwiceWritten::Line& line = twice.lines[i];
    screens::WrittenLine shown_line;
    shown_line.in_use = twice.in_use.empty() && i == twice.safer;
    shown_line.title = say(shown_line.in_use ? "exchange.line_in_use" : "exchange.line_title", {letter(i)});
    if (desk.may_write())
      shown_line.use_words = twice.came_back ? say(i == 0 ? "exchange.back_keep" : "exchange.back_take") : say("exchange.use_line", {letter(i), line.value});
    out.lines.push_back(std::move(shown_line));
    writers.push_back(device_words(line.by));
    moments.push_back(moment_words(line.by.claimed, desk.today));
    seen.push_back(say("exchange.seen", {number(line.by.lam == 0 ? 0 : line.by.lam - 1)}));
    values.push_back(line.value);
  }
  add_fact(out.lines, say("exchange.written_by"), writers);
  add_fact(out.lines, say("exchange.when"), moments);
  add_fact(out.lines, capital(twice.field), values);
  add_fact(out.lines, say("exchange.had_seen"), seen);
  if (twice.other && desk.may_write()) {
    const Draft& draft = drafts_[twice.key];
    out.other_label = say("exchange.other_label", {twice.field});
    out.other = draft.text;
    out.other_refused = draft.refused;
    out.other_words = say("exchange.other_use");
  }
  out.meanwhile = twice.came_back ? say("exchange.back_meanwhile") : say("exchange.meanwhile", {twice.in_use.empty() ? twice.lines[twice.safer].value : twice.in_use});
  return out;
}

void ExchangeDesk::add_missing(Desk& desk, screens::ExchangeView& view) {
  const auto scopes = shown_scopes(desk);
  for (const MissingStretch& gap : desk.book.missing()) {
    if (std::find(scopes.begin(), scopes.end(), gap.scope) == scopes.end()) continue;
    const std::string entries = count_words(gap.last - gap.first + 1, "exchange.entry_one", "exchange.entry_many");
    const std::string device = gap.inc.hex().substr(0, kDeviceSigns);
    view.missing.push_back({name_apart(desk, gap.scope),
                            gap.after ? say("exchange.missing_after", {entries, device, model::weekday_date(model::day_of(*gap.after))}) : say("exchange.missing_some", {entries, device})});
  }
  if (!view.missing.empty()) view.missing_title = say("exchange.missing_title");
}

screens::ExchangeView ExchangeDesk::view(Desk& desk, const std::vector<screens::FileResult>& results) {
  read(desk);
  screens::ExchangeView view;
  std::uint64_t sets = 0, sessions = 0;
  for (const model::ScopeId& scope : shown_scopes(desk))
    for (const model::Session& session : desk.book.athlete(scope).sessions) {
      sets += session.sets.size();
      sessions += session.sets.empty() ? 0 : 1;
    }
  view.title = say("exchange.title");
  view.line = sets == 0 ? say("exchange.line_none")
                        : say("exchange.line", {count_words(sets, "exchange.set_one", "exchange.set_many"), count_words(sessions, "exchange.session_one", "exchange.session_many")});
  going_out.add_parts(desk, view.out);
  const bool said_for_whom = going_out.asked(desk).has_value();
  if (!going_out.asks(desk)) view.hand_over_words = say("exchange.hand_over");
  if (said_for_whom) view.as_text_words = say("exchange.as_text");
  view.take_in_words = say("exchange.take_in");
  if (const auto squad = desk.book.keys().squad(); squad && said_for_whom && !desk.book.keys().coach()) {
    view.sealed_line = say("exchange.sealed_for", {squad->coach});
    view.open_words = say("exchange.hand_over_open");
  }
  view.results_title = say("exchange.results");
  view.results = results;
  view.drop_title = say("exchange.drop");
  view.drop_words = say("exchange.drop_words");
  view.last_out = say("exchange.last_out", {desk.handed_over.empty() ? say("about.copy_never") : desk.handed_over});
  if (const auto days = desk.book.days_without_copy(); days && !desk.demo && *days >= Book::kCopyIsOld) {
    view.last_out += " · " + say("exchange.no_copy", {number(static_cast<std::uint64_t>(*days))});
    view.last_out_is_old = true;
  }
  if (!results.empty()) {
    std::uint64_t refused = 0, known = 0;
    for (const screens::FileResult& result : results) {
      refused += result.refused ? 1 : 0;
      known += !result.refused && (result.word == say("exchange.known") || result.word == say("exchange.left_out")) ? 1 : 0;
    }
    view.sum = say("exchange.sum", {count_words(results.size(), "exchange.file_one", "exchange.file_many"), number(results.size() - refused - known), number(known), number(refused)});
  }
  view.contradictions_title = say("exchange.contradictions");
  for (const TwiceWritten& twice : twice_) view.written_twice.push_back(shown(desk, twice));
  for (const model::ScopeId& scope : shown_scopes(desk)) {
    const std::string name = name_apart(desk, scope);
    for (const Book::LatePain& late : desk.book.late_pains(scope))
      view.contradictions.push_back(say("exchange.late_pain", {name, late.region, model::weekday_date(late.day)}));
    for (const model::IncarnationId& device : desk.book.forks(scope))
      view.contradictions.push_back(say("exchange.fork", {name, device.hex().substr(0, kDeviceSigns)}));
  }
  add_missing(desk, view);
  return view;
}

void ExchangeDesk::act(Desk& desk, const screens::SetOtherValue& typed) {
  read(desk);
  if (typed.contradiction >= twice_.size()) return;
  drafts_[twice_[typed.contradiction].key] = {typed.text, ""};
}

void ExchangeDesk::act(Desk& desk, const screens::ExchangeIntent& intent) {
  if (!desk.may_write()) return;
  read(desk);
  std::visit(Overloaded{
                 [&](const screens::UseLine& press) {
                   if (press.contradiction >= twice_.size()) return;
                   const TwiceWritten twice = twice_[press.contradiction];
                   if (press.line >= twice.lines.size()) return;
                   if (told(desk, twice.use(desk.book, desk.author(), press.line), say("exchange.said_chosen", {twice.field, twice.lines[press.line].value}))) drafts_.erase(twice.key);
                 },
                 [&](const screens::UseOtherValue& press) {
                   if (press.contradiction >= twice_.size()) return;
                   const TwiceWritten twice = twice_[press.contradiction];
                   if (!twice.other) return;
                   Draft& draft = drafts_[twice.key];
                   const auto done = twice.other(desk.book, desk.author(), draft.text);
                   if (told(desk, done, say("exchange.said_chosen", {twice.field, draft.text}))) drafts_.erase(twice.key);
                   else draft.refused = say(done.error());
                 },
                 [](const auto&) {}},
             intent);
}

void ExchangeDesk::leave() { drafts_.clear(); }

}  // namespace slipway::app
