// Every field of the record that two people wrote without seeing each other, and the verb
// that settles it. The safer value is the one the rules ask about (sync-and-storage 6).
#include <algorithm>
#include <charconv>

#include "app/exchange_desk.h"
#include "app/situation.h"
#include "report/words.h"

namespace slipway::app {

using report::number;
using report::say;

namespace {

using Applied = model::Result<model::Done>;

enum class Safer : std::uint8_t { first, fewer, more };

template <class T>
struct Field {
  const model::Versions<T>& versions;
  std::string words;
  std::string (*text)(const T&);
  Safer safer = Safer::first;
  bool (*less)(const T&, const T&) = nullptr;
  std::optional<T> (*read)(const std::string&, model::Unit) = nullptr;
};

std::string text_of_number(const std::uint64_t& value) { return number(value); }
std::string text_of_word(const std::string& value) { return value.empty() ? say("exchange.nothing") : value; }
std::string text_of_exercise(const std::string& value) { return capital(movement_name(value)); }
std::string text_of_load(const model::Quantity& value) { return model::to_text(value); }
std::string text_of_rest(const std::uint64_t& ms) { return say("desk.seconds", {number(ms / 1000)}); }
std::string text_of_day(const std::uint64_t& day) { return say(day == 2 ? "logbook.dryland_b" : "logbook.dryland_a"); }
std::string text_of_civil_day(const model::Day& day) { return model::weekday_date(day); }
std::string text_of_format(const std::uint64_t& format) {
  return say(format == 3 ? "exchange.format_spread" : format == 2 ? "exchange.format_circuit" : "exchange.format_straight");
}
std::string text_of_tempo(const std::vector<std::uint64_t>& tempo) {
  std::string out;
  for (const std::uint64_t part : tempo) out += (out.empty() ? "" : "-") + number(part);
  return out;
}
std::string text_of_programme(const model::Programme& programme) {
  std::string out = phase_word(programme.phase);
  const auto add = [&out](std::string words) { out += ", " + std::move(words); };
  if (programme.starts) add(say("exchange.programme_from", {model::weekday_date(*programme.starts)}));
  if (programme.weeks > 0) add(count_words(programme.weeks, "exchange.programme_week", "exchange.programme_weeks"));
  if (programme.days_a_week > 0) add(count_words(programme.days_a_week, "exchange.programme_day", "exchange.programme_days"));
  if (programme.rest_between_exercises_ms) add(say("exchange.programme_between_exercises", {number(*programme.rest_between_exercises_ms / 1000)}));
  if (programme.rest_between_rounds_ms) add(say("exchange.programme_between_rounds", {number(*programme.rest_between_rounds_ms / 1000)}));
  return out;
}
std::string text_of_finish(const model::Finish& finish) {
  return say("swimmer.word_effort", {number(effort_of(finish)), number(finish.minutes.value_or(0))});
}

bool less_number(const std::uint64_t& a, const std::uint64_t& b) { return a < b; }
bool less_load(const model::Quantity& a, const model::Quantity& b) { return model::grams(a) < model::grams(b); }

std::optional<std::uint64_t> read_number(const std::string& text, model::Unit) {
  std::uint64_t value = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
  if (text.empty() || read.ec != std::errc{} || read.ptr != text.data() + text.size()) return std::nullopt;
  return value;
}
std::optional<std::uint64_t> read_seconds(const std::string& text, model::Unit unit) {
  constexpr std::uint64_t kMost = 100'000;
  const auto seconds = read_number(text, unit);
  return seconds && *seconds < kMost ? std::optional(*seconds * 1000) : std::nullopt;
}
std::optional<model::Quantity> read_load(const std::string& text, model::Unit unit) {
  const auto read = model::read_quantity(text, unit);
  return read ? std::optional(*read) : std::nullopt;
}
std::optional<std::string> read_word(const std::string& text, model::Unit) { return text.empty() ? std::nullopt : std::optional(text); }

class Finding {
 public:
  Finding(Book& book, const model::ScopeId& scope, model::Unit unit)
      : scope_(scope), unit_(unit), athlete_(book.athlete(scope)), who_(athlete_.name.value_or("")) {}

  std::vector<TwiceWritten> all(const std::vector<Book::NoteShown>& notes) {
    facts();
    for (const model::Prescription& line : athlete_.prescriptions) plan_line(line);
    for (const model::Session& session : athlete_.sessions) {
      day(session);
      finish(session);
      for (const model::SetDone& set : session.sets) set_done(session, set);
    }
    for (const Book::NoteShown& one : notes) note(one.note);
    for (const model::CameBack& back : athlete_.came_back) came_back(back);
    return std::move(out_);
  }

 private:
  template <class T, class Apply>
  void add(const std::string& record, const std::string& what, const Field<T>& field, Apply apply) {
    if (!field.versions.contradiction()) return;
    TwiceWritten twice;
    twice.key = record + "/" + field.words;
    twice.who = who_;
    twice.what = what;
    twice.field = field.words;
    std::vector<T> values;
    for (const auto& version : field.versions.all) {
      twice.lines.push_back({field.text(version.value), version.by});
      values.push_back(version.value);
    }
    if (field.safer != Safer::first && field.less != nullptr)
      for (std::size_t i = 1; i < values.size(); ++i) {
        const T& best = values[twice.safer];
        if (field.safer == Safer::fewer ? field.less(values[i], best) : field.less(best, values[i])) twice.safer = i;
      }
    twice.use = [values, apply](Book& book, Author author, std::size_t line) -> Applied {
      if (line >= values.size()) return model::error(model::ErrorKind::not_found, "exchange.no_line");
      return apply(book, author, values[line]);
    };
    if (field.read != nullptr) {
      const auto read = field.read;
      const model::Unit unit = unit_;
      twice.other = [read, unit, apply](Book& book, Author author, const std::string& typed) -> Applied {
        const auto value = read(typed, unit);
        if (!value) return model::error(model::ErrorKind::invalid, "exchange.unreadable", {typed});
        return apply(book, author, *value);
      };
    }
    out_.push_back(std::move(twice));
  }

  template <class T>
  auto to_athlete(std::optional<T> AthleteChange::*where) const {
    return [scope = scope_, where](Book& book, Author author, const T& value) {
      AthleteChange change;
      change.*where = value;
      return book.set_athlete(scope, change, author);
    };
  }
  template <class T>
  auto to_plan(const model::RecordId& line, std::optional<T> PlanLineEntry::*where) const {
    return [scope = scope_, line, where](Book& book, Author author, const T& value) {
      PlanLineEntry change;
      change.*where = value;
      return book.change_plan_line(scope, line, change, author);
    };
  }
  template <class T>
  auto to_set(const model::RecordId& set, std::optional<T> SetChange::*where) const {
    return [scope = scope_, set, where](Book& book, Author author, const T& value) {
      SetChange change;
      change.*where = value;
      return book.change_set(scope, set, change, author);
    };
  }

  void facts() {
    const std::string what = say("exchange.what_facts");
    add<std::string>("athlete", what, {athlete_.name, say("field.name"), text_of_word, Safer::first, nullptr, read_word}, to_athlete(&AthleteChange::name));
    // The later year is the younger, for whom the tighter limits hold.
    add<std::uint64_t>("athlete", what, {athlete_.birth_year, say("exchange.field_born"), text_of_number, Safer::more, less_number, read_number},
                       to_athlete(&AthleteChange::birth_year));
    add<std::uint64_t>("athlete", what, {athlete_.birth_month, say("field.birth_month"), text_of_number, Safer::more, less_number, read_number},
                       to_athlete(&AthleteChange::birth_month));
    add<std::string>("athlete", what, {athlete_.group, say("field.group"), text_of_word}, to_athlete(&AthleteChange::group));
    add<model::Programme>("programme", what, {athlete_.programme, say("field.programme"), text_of_programme},
                          [scope = scope_](Book& book, Author author, const model::Programme& value) -> Applied {
                            const auto kept = book.set_programme(scope, value, author);
                            if (!kept) return kept.error();
                            return model::Done{};
                          });
    if (const auto in_use = programme_in_use(athlete_); in_use && athlete_.programme.contradiction()) {
      TwiceWritten& twice = out_.back();
      twice.in_use = text_of_programme(*in_use);
      for (std::size_t i = 0; i < twice.lines.size(); ++i)
        if (twice.lines[i].value == twice.in_use) twice.safer = i;
      if (twice.lines[twice.safer].value == twice.in_use) twice.in_use.clear();
    }
  }

  void plan_line(const model::Prescription& line) {
    using Plan = PlanLineEntry;
    const std::string id = model::to_text(line.id);
    std::string what = capital(movement_name(line.exercise.value_or("")));
    if (!line.programme_day.empty()) what = say("exchange.what_line", {what, text_of_day(*line.programme_day.first())});
    const auto whole = [&](const model::Versions<std::uint64_t>& versions, std::string words, Safer safer, std::optional<std::uint64_t> Plan::*where) {
      add<std::uint64_t>(id, what, {versions, std::move(words), text_of_number, safer, less_number, read_number}, to_plan(line.id, where));
    };
    add<std::string>(id, what, {line.exercise, say("field.exercise"), text_of_exercise}, to_plan(line.id, &Plan::exercise));
    whole(line.sets, say("field.sets"), Safer::fewer, &Plan::sets);
    whole(line.reps, say("field.reps"), Safer::fewer, &Plan::reps);
    whole(line.reps_high, say("field.reps_high"), Safer::fewer, &Plan::reps_high);
    add<model::Quantity>(id, what, {line.load, say("field.load"), text_of_load, Safer::fewer, less_load, read_load}, to_plan(line.id, &Plan::load));
    whole(line.rir, say("field.rir"), Safer::more, &Plan::rir);
    add<std::uint64_t>(id, what, {line.rest_ms, say("field.rest_ms"), text_of_rest, Safer::more, less_number, read_seconds}, to_plan(line.id, &Plan::rest_ms));
    add<std::uint64_t>(id, what, {line.programme_day, say("field.programme_day"), text_of_day}, to_plan(line.id, &Plan::programme_day));
    whole(line.block, say("field.block"), Safer::first, &Plan::block);
    whole(line.place, say("field.place"), Safer::first, &Plan::place);
    add<std::uint64_t>(id, what, {line.format, say("field.format"), text_of_format}, [scope = scope_, record = line.id](Book& book, Author author, const std::uint64_t& value) {
      PlanLineEntry change;
      change.format = static_cast<model::Format>(value);
      return book.change_plan_line(scope, record, change, author);
    });
    add<std::vector<std::uint64_t>>(id, what, {line.tempo, say("field.tempo"), text_of_tempo}, to_plan(line.id, &Plan::tempo));
    add<std::string>(id, what, {line.band, say("field.band"), text_of_word}, to_plan(line.id, &Plan::band));
    add<std::string>(id, what, {line.grip, say("field.grip"), text_of_word}, to_plan(line.id, &Plan::grip));
  }

  void finish(const model::Session& session) {
    add<model::Finish>(model::to_text(session.id), say("exchange.what_session", {model::weekday_date(day_of_session(session))}),
                       {session.finish, say("field.finish"), text_of_finish},
                       [scope = scope_, record = session.id](Book& book, Author author, const model::Finish& value) -> Applied {
                         const auto kept = book.finish_session(scope, record, value, author);
                         if (!kept) return kept.error();
                         return model::Done{};
                       });
  }

  void day(const model::Session& session) {
    add<model::Day>(model::to_text(session.id), say("exchange.what_session", {model::weekday_date(day_of_session(session))}),
                    {session.training_day, say("field.training_day"), text_of_civil_day},
                    [scope = scope_, record = session.id](Book& book, Author author, const model::Day& value) {
                      return book.move_session(scope, record, value, author);
                    });
  }

  void note(const model::Note& note) {
    add<std::string>(model::to_text(note.id), say("exchange.what_note", {model::weekday_date(model::day_of(note.by.claimed))}),
                     {note.text, say("field.note"), text_of_word, Safer::first, nullptr, read_word},
                     [scope = scope_, record = note.id](Book& book, Author author, const std::string& value) {
                       return book.change_note(scope, record, value, author);
                     });
  }

  // Changed by one, taken away by another: line A keeps it, line B takes it away in knowledge of both.
  void came_back(const model::CameBack& back) {
    TwiceWritten twice;
    twice.key = "back/" + model::to_text(back.id);
    twice.came_back = true;
    twice.who = who_;
    twice.what = what_came_back(back);
    twice.field = say("exchange.back_field");
    twice.lines = {{say("exchange.back_changed"), back.changed}, {say("exchange.back_taken"), back.taken_away}};
    twice.use = [scope = scope_, id = back.id](Book& book, Author author, std::size_t line) {
      return line == 0 ? book.keep_it(scope, id, author) : book.take_back(scope, id, author);
    };
    out_.push_back(std::move(twice));
  }

  std::string what_came_back(const model::CameBack& back) const {
    for (const model::Prescription& line : athlete_.prescriptions)
      if (line.id == back.id) return say("exchange.back_line", {capital(movement_name(line.exercise.value_or("")))});
    for (const model::Session& session : athlete_.sessions) {
      if (session.id == back.id) return say("exchange.what_session", {model::weekday_date(day_of_session(session))});
      for (const model::SetDone& set : session.sets)
        if (set.id == back.id)
          return say("exchange.what_set", {capital(movement_name(set.exercise)), number(set.round), model::weekday_date(day_of_session(session))});
    }
    for (const model::Note& one : athlete_.notes)
      if (one.id == back.id) return say("exchange.what_note", {model::weekday_date(model::day_of(one.by.claimed))});
    return say("exchange.back_entry", {model::weekday_date(model::day_of(back.changed.claimed))});
  }

  void set_done(const model::Session& session, const model::SetDone& set) {
    const std::string id = model::to_text(set.id);
    const std::string what = say("exchange.what_set", {capital(movement_name(set.exercise)), number(set.round), model::weekday_date(day_of_session(session))});
    add<std::uint64_t>(id, what, {set.reps, say("field.reps"), text_of_number, Safer::fewer, less_number, read_number}, to_set(set.id, &SetChange::reps));
    add<model::Quantity>(id, what, {set.load, say("field.load"), text_of_load, Safer::fewer, less_load, read_load}, to_set(set.id, &SetChange::load));
    add<std::uint64_t>(id, what, {set.rir, say("field.rir"), text_of_number, Safer::fewer, less_number, read_number}, to_set(set.id, &SetChange::rir));
  }

  model::ScopeId scope_;
  model::Unit unit_;
  const model::Athlete& athlete_;
  std::string who_;
  std::vector<TwiceWritten> out_;
};

}  // namespace

std::vector<TwiceWritten> written_twice(Book& book, const model::ScopeId& scope, model::Unit unit, bool for_coach) {
  auto notes = book.notes(scope);
  if (!for_coach) std::erase_if(notes, [](const Book::NoteShown& one) { return one.coach_only; });
  return Finding(book, scope, unit).all(notes);
}

}  // namespace slipway::app
