#include "app/fact_words.h"
#include "app/overloaded.h"
#include "app/logbook_desk.h"

#include <algorithm>

#include "report/words.h"

namespace slipway::app {

using report::number;
using report::say;
using screens::Ground;
using screens::Icon;
using screens::LogEntry;
using screens::LogLine;
using screens::LogVersion;

namespace {

std::string joined_by_comma(const std::vector<std::string>& parts) {
  std::string out;
  for (const std::string& part : parts)
    if (!part.empty()) out += (out.empty() ? "" : ", ") + part;
  return out;
}

std::string by_words(const model::Writer& by, model::Day today) { return say("logbook.by", {writer_words(by), moment_words(by.claimed, today)}); }

std::optional<model::Quantity> first_load(const model::SetDone& set) {
  return set.load.empty() ? std::nullopt : std::optional<model::Quantity>(*set.load.first());
}

std::string value_words(std::string_view exercise, std::uint64_t reps, const std::optional<model::Quantity>& load, std::string_view band,
                        const std::optional<std::uint64_t>& rir) {
  const std::string dose = set_words(exercise, reps, load, band);
  return rir ? say("logbook.value_reserve", {dose, number(*rir)}) : dose;
}

// Each writing as the set stood after it: a change says only what it changed.
std::vector<LogVersion> history_of(const model::SetDone& set, const std::vector<SetVersion>& versions, model::Day today) {
  std::vector<LogVersion> out;
  std::optional<std::uint64_t> reps, rir;
  std::optional<model::Quantity> load;
  bool left_out = false;
  for (const SetVersion& version : versions) {
    if (version.reps) reps = version.reps;
    if (version.load) load = version.load;
    if (version.rir) rir = version.rir;
    if (version.left_out) left_out = *version.left_out;
    std::string value = version.takes_back ? say("logbook.taken_back") : left_out ? say("logbook.left_out") : value_words(set.exercise, reps.value_or(0), load, set.band, rir);
    out.push_back({std::move(value), by_words(version.by, today), !version.stands});
  }
  std::reverse(out.begin(), out.end());
  return out;
}

std::string title_of(const model::Session& session) {
  if (!session.title.empty()) return session.title;
  const std::uint64_t day = session.programme_day.value_or(0);
  return say(day == 2 ? "logbook.dryland_b" : day == 1 ? "logbook.dryland_a" : "logbook.dryland");
}

std::string finish_words(const model::Finish& finish) {
  std::vector<std::string> parts;
  if (finish.minutes) parts.push_back(say("logbook.minutes", {number(*finish.minutes)}));
  if (finish.effort_tenths) parts.push_back(say("logbook.effort", {number(effort_of(finish))}));
  return joined_by_comma(parts);
}

std::string spoken_of(const LogEntry& entry) {
  std::string title = entry.title;
  while (!title.empty() && title.back() == '.') title.pop_back();  // the sentence gets its own
  return entry.line.empty() ? say("logbook.spoken_title", {title}) : say("logbook.spoken", {title, entry.line});
}

}  // namespace

void LogbookDesk::add(Entry entry) {
  entry.shown.open = is_open(entry.record);
  if (!entry.shown.open) entry.shown.lines.clear();
  if (entry.shown.spoken.empty()) entry.shown.spoken = spoken_of(entry.shown);
  entries_.push_back(std::move(entry));
}

// ---- sessions -----------------------------------------------------------------------------------------------

void LogbookDesk::add_set_line(Desk& desk, const model::SetDone& set, bool taken_back, Entry& entry) {
  LogLine line;
  line.label = say(set.warm_up ? "logbook.set_warm_up" : "logbook.set_label", {capital(movement_name(set.exercise)), number(set.round)});
  const std::optional<std::uint64_t> rir = set.rir.empty() ? std::nullopt : std::optional(*set.rir.first());
  const std::string value = value_words(set.exercise, set.reps.value_or(0), first_load(set), set.band, rir);
  const auto versions = desk.book.set_history(*desk.here, set.id);
  if (versions.size() > 1) line.history = history_of(set, versions, desk.today);
  line.value = set.left_out ? say("logbook.left_out") : set.contradiction() ? say("logbook.value_twice", {value}) : value;
  if (set.form_broke) line.value = say("logbook.value_form", {line.value});
  line.mark = desk.book.waits(set.id) ? Icon::wet : set.left_out ? Icon::left_out : set.corrected ? Icon::changed : Icon::kept;
  if (taken_back) {
    line.was = value;
    line.value = say("logbook.taken_back");
    line.mark = Icon::left_out;
  } else if (!versions.empty() && set.corrected && !set.left_out) {
    const SetVersion& first = versions.front();
    const std::string was = value_words(set.exercise, first.reps.value_or(0), first.load, set.band, first.rir);
    if (was != value) line.was = was;
  }
  line.spoken = line.was.empty() ? say("logbook.line_spoken", {line.label, line.value}) : say("logbook.line_spoken_was", {line.label, line.value, line.was});
  if (!taken_back && desk.may_write()) {
    if (desk.change_set) {
      line.change_words = say("logbook.change");
      line.change_spoken = say("logbook.change_spoken", {line.label});
    }
    line.take_back_words = say("logbook.take_back");
    line.take_back_spoken = say("logbook.take_back_spoken", {line.label});
  }
  entry.shown.lines.push_back(std::move(line));
  entry.rows.push_back({taken_back ? What::nothing : What::set, set.id});
}

void LogbookDesk::add_session_lines(Desk& desk, const model::Athlete& athlete, const model::Session& session, Entry& entry) {
  std::vector<std::string> order;
  for (const model::SetDone& set : session.sets)
    if (std::find(order.begin(), order.end(), set.exercise) == order.end()) order.push_back(set.exercise);
  for (const model::SetDone& set : athlete.taken_back)
    if (set.session == session.id && std::find(order.begin(), order.end(), set.exercise) == order.end()) order.push_back(set.exercise);
  for (const std::string& exercise : order) {
    for (const model::SetDone& set : session.sets)
      if (set.exercise == exercise) add_set_line(desk, set, false, entry);
    for (const model::SetDone& set : athlete.taken_back)
      if (set.session == session.id && set.exercise == exercise) add_set_line(desk, set, true, entry);
  }
}

void LogbookDesk::add_sessions(Desk& desk, const model::Athlete& athlete) {
  for (const model::Session& session : athlete.sessions) {
    const bool back = std::any_of(athlete.taken_back.begin(), athlete.taken_back.end(), [&](const model::SetDone& set) { return set.session == session.id; });
    if (session.sets.empty() && !back && session.finish.empty()) continue;
    Entry entry;
    entry.at_ms = session.by.claimed.local_ms;
    entry.record = session.id;
    entry.day = day_of_session(session);
    entry.shown.icon = Icon::land;
    entry.shown.ground = Ground::land;
    entry.shown.title = title_of(session);
    const auto done = static_cast<std::uint64_t>(std::count_if(session.sets.begin(), session.sets.end(), [](const model::SetDone& set) { return !set.left_out; }));
    const bool ahead = desk.today < entry.day;  // a clock that was wrong: outside every count till it is put right [handbook 6.7]
    entry.shown.line = joined_by_comma({ahead ? say("logbook.date_wrong") : "", count_words(done, "exchange.set_one", "exchange.set_many"), session.finish.empty() ? "" : finish_words(*session.finish.first())});
    const bool waits = std::any_of(session.sets.begin(), session.sets.end(), [&](const model::SetDone& set) { return desk.book.waits(set.id); });
    const bool changed = back || std::any_of(session.sets.begin(), session.sets.end(), [](const model::SetDone& set) { return set.corrected; });
    entry.shown.mark = waits ? Icon::wet : changed ? Icon::changed : Icon::kept;
    if (is_open(session.id)) {
      std::vector<std::string> note{say("logbook.started", {model::clock(session.by.claimed)})};
      if (!session.finish.empty()) {
        note.push_back(finish_words(*session.finish.first()));
        if (session.finish.first()->short_reason) note.push_back(short_words(*session.finish.first()->short_reason));
      } else {
        note.push_back(say("logbook.not_finished"));
      }
      const auto days = desk.book.day_history(*desk.here, session.id);
      for (const DayVersion& version : days)
        if (!version.stands) note.push_back(say("logbook.stood_on", {model::weekday_date(version.day), writer_words(version.by)}));
      if (days.size() > 1) note.push_back(say("logbook.moved_by", {by_words(days.back().by, desk.today)}));
      entry.shown.note = joined_by_comma(note);
      entry.shown.parts = late_.parts_of(desk, session);
      add_session_lines(desk, athlete, session, entry);
    }
    add(std::move(entry));
  }
}

// ---- the body -------------------------------------------------------------------------------------------------

void LogbookDesk::add_body(Desk& desk, const model::Athlete& athlete) {
  const bool may = desk.may_write();
  for (const model::Pain& pain : athlete.pains) {
    Entry entry{pain.by.claimed.local_ms, pain.id, model::day_of(pain.by.claimed), {}, {}};
    if (pain.session)
      if (const model::Session* session = model::find_session(athlete, *pain.session)) entry.day = day_of_session(*session);
    entry.shown.icon = Icon::pain;
    entry.shown.ground = Ground::pain;
    const std::string what = say("logbook.pain", {capital(region_words(pain.region)), band_words(pain.band)});
    std::vector<std::string> parts;
    if (!pain.exercise.empty()) parts.push_back(say("logbook.during", {movement_name(pain.exercise)}));
    if (pain.in_swim) parts.push_back(say("logbook.in_swim"));
    if (pain.side) parts.push_back(side_words(pain));
    if (pain.amount) parts.push_back(say("logbook.amount", {number(*pain.amount)}));
    if (pain.settled) parts.push_back(say(*pain.settled ? "logbook.settled" : "logbook.not_settled"));
    if (model::is_cleared(athlete, pain.id)) parts.push_back(say("logbook.cleared"));
    const bool over = pain.withdrawn || pain.resolved;
    LogLine line;
    line.label = capital(region_words(pain.region));
    line.value = over ? say(pain.withdrawn ? "logbook.withdrawn" : "logbook.resolved") : band_words(pain.band);
    line.was = over ? band_words(pain.band) : "";
    line.mark = desk.book.waits(pain.id) ? Icon::wet : over ? Icon::left_out : Icon::kept;
    line.spoken = over ? say("logbook.line_spoken_was", {line.label, line.value, line.was}) : say("logbook.line_spoken", {line.label, line.value});
    if (over) line.history = {{line.value, "", false}, {line.was, by_words(pain.by, desk.today), true}};
    entry.shown.title = what;
    if (over) parts.push_back(line.value);
    entry.shown.line = joined_by_comma(parts);
    entry.shown.mark = line.mark;
    if (!over && may) {
      line.change_words = say("logbook.resolve");
      line.change_spoken = say("logbook.resolve_spoken", {line.label});
      if (pain.by.author == static_cast<std::uint64_t>(desk.author())) {  // a slip is known to who made it
        line.take_back_words = say("logbook.withdraw");
        line.take_back_spoken = say("logbook.withdraw_spoken", {line.label});
      }
    }
    entry.shown.note = by_words(pain.by, desk.today);
    entry.shown.lines.push_back(std::move(line));
    entry.rows.push_back({over ? What::nothing : What::pain, pain.id});
    add(std::move(entry));
  }
  const auto one_line = [&](Entry& entry, What what, std::string label, std::string value) {
    LogLine line;
    line.label = std::move(label);
    line.value = std::move(value);
    line.mark = desk.book.waits(entry.record) ? Icon::wet : Icon::kept;
    line.spoken = say("logbook.line_spoken", {line.label, line.value});
    if (what != What::nothing && may) {
      line.take_back_words = say("logbook.take_back");
      line.take_back_spoken = say("logbook.take_back_spoken", {line.label});
    }
    entry.shown.mark = line.mark;
    entry.shown.lines.push_back(std::move(line));
    entry.rows.push_back({what, entry.record});
  };
  for (const model::Soreness& sore : athlete.soreness) {
    if (sore.level == 0) continue;
    Entry entry{sore.by.claimed.local_ms, sore.id, sore.day, {}, {}};
    entry.shown.icon = Icon::sore;
    entry.shown.ground = Ground::plain;
    entry.shown.title = say("logbook.sore", {sore_words(sore.region)});
    entry.shown.line = joined_by_comma({sore_since(sore), sore.level >= 3 ? say("logbook.hinders") : ""});
    entry.shown.note = by_words(sore.by, desk.today);
    one_line(entry, What::soreness, capital(sore_words(sore.region)), entry.shown.line);
    add(std::move(entry));
  }
  for (const model::Check& check : athlete.checks) {
    Entry entry{check.by.claimed.local_ms, check.id, check.day, {}, {}};
    entry.shown.icon = Icon::kept;
    entry.shown.ground = Ground::plain;
    entry.shown.title = say("swimmer.word_fine");
    entry.shown.note = by_words(check.by, desk.today);
    one_line(entry, What::check, say("logbook.check"), say("swimmer.word_fine"));
    add(std::move(entry));
  }
  for (const model::RedFlag& flag : athlete.red_flags) {
    Entry entry{flag.by.claimed.local_ms, flag.id, flag.day, {}, {}};
    entry.shown.icon = Icon::caution;
    entry.shown.ground = Ground::pain;
    entry.shown.title = say("logbook.flag", {flag_words(flag.flag)});
    const bool cleared = model::is_cleared(athlete, flag.id);
    entry.shown.line = joined_by_comma({flag.region.empty() ? "" : region_words(flag.region), say(cleared ? "logbook.cleared" : "logbook.not_cleared")});
    entry.shown.note = by_words(flag.by, desk.today);
    one_line(entry, What::nothing, capital(flag_words(flag.flag)), say(cleared ? "logbook.cleared" : "logbook.not_cleared"));
    add(std::move(entry));
  }
  for (const model::Illness& illness : athlete.illnesses) {
    Entry entry{illness.by.claimed.local_ms, illness.id, illness.day, {}, {}};
    entry.shown.icon = Icon::held;
    entry.shown.ground = Ground::plain;
    entry.shown.title = say(illness.state == model::IllnessState::well ? "logbook.well" : illness.state == model::IllnessState::head_cold ? "logbook.cold" : "logbook.ill");
    entry.shown.note = by_words(illness.by, desk.today);
    one_line(entry, What::nothing, say("logbook.health"), entry.shown.title);
    add(std::move(entry));
  }
}

// ---- what adults said -----------------------------------------------------------------------------------------------

void LogbookDesk::add_adults(Desk& desk, const model::Athlete& athlete) {
  const bool may = desk.may_write();
  const auto entry_of = [&](const model::Writer& by, const model::RecordId& record, model::Day day, Icon icon, std::string title, std::string words, What what, bool struck) {
    Entry entry{by.claimed.local_ms, record, day, {}, {}};
    entry.shown.icon = icon;
    entry.shown.ground = Ground::plain;
    entry.shown.title = std::move(title);
    entry.shown.line = struck ? say("logbook.taken_back") : words;
    entry.shown.note = by_words(by, desk.today);
    LogLine line;
    line.label = entry.shown.title;
    line.value = struck ? say("logbook.taken_back") : words;
    if (struck) line.was = words.empty() ? entry.shown.title : words;
    line.mark = desk.book.waits(record) ? Icon::wet : struck ? Icon::left_out : Icon::kept;
    line.spoken = struck ? say("logbook.line_spoken_was", {line.label, line.value, line.was}) : say("logbook.line_spoken", {line.label, line.value});
    if (!struck && what != What::nothing && may) {
      line.take_back_words = say("logbook.take_back");
      line.take_back_spoken = say("logbook.take_back_spoken", {line.label});
    }
    entry.shown.mark = line.mark;
    entry.shown.lines.push_back(std::move(line));
    entry.rows.push_back({struck ? What::nothing : what, record});
    add(std::move(entry));
  };
  for (const model::Clearance& clearance : athlete.clearances)
    entry_of(clearance.by, clearance.id, clearance.day, Icon::signoff,
             say("logbook.clearance", {clearance.covers == "general" ? say("swimmer.general") : region_words(clearance.covers)}),
             joined_by_comma({say(clearance.clinician_allowed ? "swimmer.clearance_allowed" : "swimmer.clearance_seen"), clearance.note}), What::clearance, clearance.withdrawn);
  for (const model::TickIn& tick : athlete.tick_ins)
    entry_of(tick.by, tick.id, tick.day, Icon::coach, say("logbook.tick_in"), joined_by_comma({adult_words(tick.role), tick.second_adult ? say("logbook.second_adult") : ""}),
             What::tick_in, tick.withdrawn);
  for (const model::SignOff& sign_off : athlete.sign_offs) {
    const char* level = sign_off.level == model::SignOffLevel::loaded ? "swimmer.loaded" : sign_off.level == model::SignOffLevel::sound ? "swimmer.sound" : "logbook.sign_off_withdrawn";
    entry_of(sign_off.by, sign_off.id, sign_off.day, Icon::signoff, say("logbook.sign_off", {movement_name(sign_off.exercise)}), joined_by_comma({say(level), sign_off.note}), What::nothing,
             false);
  }
  for (const model::Note& note : athlete.notes)  // coaches' own notes are not among them
    if (const std::string text = wordings_of(note); !text.empty())
      entry_of(note.by, note.id, note.day.value_or(model::day_of(note.by.claimed)), Icon::pencil, say("logbook.note"), text, What::nothing, false);
  for (const model::Overrule& overrule : athlete.overrules)
    entry_of(overrule.by, overrule.id, overrule.day, Icon::coach,
             say("logbook.overruled", {overrule.exercise.empty() ? say("swimmer.whole_session") : movement_name(overrule.exercise)}), joined_by_comma({overrule.row, overrule.note}),
             What::nothing, false);
}

// ---- the whole --------------------------------------------------------------------------------------------------------

void LogbookDesk::build(Desk& desk) {
  entries_.clear();
  places_.clear();
  older_ = false;
  view_ = {};
  view_.title = say("logbook.title");
  view_.none_words = say("logbook.none");
  if (!desk.here) return;
  const model::Athlete& athlete = desk.book.athlete(*desk.here);
  view_.line = athlete.name.value_or("");
  view_.keys = {{say("logbook.open_session"), Icon::session}};
  if (LateForm::may_log(desk)) view_.keys.push_back({say("logbook.log_late"), Icon::plus});
  view_.ask = late_.parts_above(desk);
  add_sessions(desk, athlete);
  add_body(desk, athlete);
  add_adults(desk, athlete);
  std::stable_sort(entries_.begin(), entries_.end(), [](const Entry& a, const Entry& b) { return !(a.day == b.day) ? b.day < a.day : a.at_ms > b.at_ms; });
  std::optional<model::Day> last;
  std::int32_t days = 0;
  for (std::size_t i = 0; i < entries_.size(); ++i) {
    const Entry& entry = entries_[i];
    if (!last || !(*last == entry.day)) {
      if (days == days_) {
        older_ = true;
        break;
      }
      ++days;
      last = entry.day;
      view_.days.push_back({day_words(entry.day, desk.today), {}});
      places_.emplace_back();
    }
    view_.days.back().entries.push_back(entry.shown);
    places_.back().push_back(i);
  }
  if (older_) view_.more_words = say("logbook.more");
  if (desk.book.waiting() > 0) {
    view_.kept_icon = Icon::wet;
    view_.kept_words = say("logbook.not_kept");
  }
}

const screens::LogbookView& LogbookDesk::view(Desk& desk) {
  const Key key{desk.book.revision(), desk.book.waiting(), desk.today.since_1970, days_, open_, desk.here, answers_};
  if (!built_for_ || !(*built_for_ == key)) {
    build(desk);
    built_for_ = key;
  }
  return view_;
}

const LogbookDesk::Row* LogbookDesk::row_at(std::uint32_t day, std::uint32_t entry, std::uint32_t line) const {
  if (day >= places_.size() || entry >= places_[day].size()) return nullptr;
  const Entry& found = entries_[places_[day][entry]];
  return found.shown.open && line < found.rows.size() ? &found.rows[line] : nullptr;
}

void LogbookDesk::act(Desk& desk, const screens::LogAnswer& given) {
  ++answers_;
  if (const auto shown = late_.act(desk, open_, given.part)) open_ = shown;
}

void LogbookDesk::act(Desk& desk, const screens::LogbookIntent& intent) {
  view(desk);  // the places are those of what is shown
  ++answers_;
  std::visit(Overloaded{
                 [&](const screens::PressLogKey& press) {
                   if (press.key == 0) desk.go(screens::Place::session);
                   if (press.key == 1) late_.ask_another_day(desk);
                 },
                 [&](const screens::OpenEntry& press) {
                   if (press.day >= places_.size() || press.entry >= places_[press.day].size()) return;
                   const model::RecordId record = entries_[places_[press.day][press.entry]].record;
                   late_.fold();
                   if (is_open(record)) open_.reset();
                   else open_ = record;
                 },
                 [&](const screens::ChangeLine& press) {
                   const Row* row = row_at(press.day, press.entry, press.line);
                   if (row == nullptr || !desk.may_write()) return;
                   const Row about = *row;
                   if (about.what == What::set && desk.change_set) desk.change_set(about.record);
                   if (about.what == What::pain)
                     told(desk, desk.book.end_pain(*desk.here, about.record, Book::PainEnd::resolved, "", desk.author()), say("logbook.said_resolved"));
                 },
                 [&](const screens::TakeBackLine& press) {
                   const Row* row = row_at(press.day, press.entry, press.line);
                   if (row == nullptr || row->what == What::nothing || !desk.may_write()) return;
                   const Row about = *row;
                   if (about.what == What::pain)
                     told(desk, desk.book.end_pain(*desk.here, about.record, Book::PainEnd::withdrawn, "", desk.author()), say("logbook.said_withdrawn"));
                   else
                     told(desk, desk.book.take_back(*desk.here, about.record, desk.author()), say("logbook.said_back"));
                 },
                 [&](const screens::ShowMoreDays&) { days_ += kLogbookDays; }},
             intent);
}

void LogbookDesk::leave() {
  open_.reset();
  late_.fold();
  ++answers_;
  days_ = kLogbookDays;
}

}  // namespace slipway::app
