#include "app/late_form.h"

#include <algorithm>
#include <charconv>
#include <iterator>

#include "app/day_plan.h"
#include "report/words.h"

namespace slipway::app {

using report::number;
using report::say;
using screens::FormKind;
using screens::FormPart;

namespace {

enum class Part : std::uint32_t { verbs, recent_day, typed_day, day_key, exercise, reps, load, band, reserve, set_key, effort, minutes, finish_key };

constexpr std::int32_t kRecentDays = 7;  // offered by name; any other is typed
constexpr std::size_t kLeaveKey = 1;     // after the key that keeps
constexpr const char* kEffort[] = {"effort.r0", "effort.r1", "effort.r2", "effort.r3", "effort.r4", "effort.r5",
                                   "effort.r6", "effort.r7", "effort.r8", "effort.r9", "effort.r10"};

FormPart part(FormKind kind, Part id, std::string label) {
  FormPart out;
  out.kind = kind;
  out.id = screens::number_of(id);
  out.label = std::move(label);
  return out;
}

FormPart field(Part id, std::string label, std::string value, std::string refused, bool a_number) {
  FormPart out = part(FormKind::field, id, std::move(label));
  out.value = std::move(value);
  out.refused = std::move(refused);
  out.number = a_number;
  return out;
}

FormPart keys(Part id, std::string keep) {
  FormPart out = part(FormKind::keys, id, "");
  out.choices = {{.label = std::move(keep)}, {.label = say("late.leave")}};
  return out;
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

std::optional<std::uint64_t> whole(std::string_view text) {
  text = trimmed(text);
  std::uint64_t value = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
  if (text.empty() || read.ec != std::errc{} || read.ptr != text.data() + text.size()) return std::nullopt;
  return value;
}

// Days without a session, newest first. `today` too where a session may have been today.
std::vector<model::Day> free_days(const model::Athlete& athlete, model::Day today, bool with_today) {
  std::vector<model::Day> out;
  for (std::int32_t back = with_today ? 0 : 1; back <= kRecentDays; ++back)
    if (const model::Day day{today.since_1970 - back}; model::session_on(athlete, day) == nullptr) out.push_back(day);
  return out;
}

// What was done in it already, then what the plan writes for it, then the rest of the plan.
std::vector<std::string> exercises_of(const model::Athlete& athlete, const model::Session* session, model::Day day) {
  std::vector<std::string> out;
  const auto add = [&out](const std::string& exercise) {
    if (model::find_rung(exercise) != nullptr && std::find(out.begin(), out.end(), exercise) == out.end()) out.push_back(exercise);
  };
  if (session != nullptr)
    for (const model::SetDone& set : session->sets) add(set.exercise);
  const std::uint64_t programme_day = session != nullptr && session->programme_day ? *session->programme_day : next_programme_day(athlete, day);
  for (const model::Prescription* line : lines_of(athlete, programme_day)) add(line->exercise.value_or(""));
  for (const model::Prescription* line : lines_of(athlete, 0)) add(line->exercise.value_or(""));
  return out;
}

const model::Session* find(Desk& desk, const std::optional<model::RecordId>& session) {
  return session ? model::find_session(desk.book.athlete(*desk.here), *session) : nullptr;
}

std::string band_planned(const model::Athlete& athlete, const std::string& exercise) {
  for (const model::Prescription& line : athlete.prescriptions)
    if (line.exercise.value_or("") == exercise && !line.band.value_or("").empty()) return line.band.value_or("");
  return {};
}

const std::vector<std::string>& bands_here(const model::Athlete& athlete) {
  static const std::vector<std::string> kNone;
  return athlete.kits.empty() ? kNone : athlete.kits.front().bands;
}

}  // namespace

// ---- what is shown ------------------------------------------------------------------------------------------

bool LateForm::may_log(const Desk& desk) {
  return desk.here && desk.may_write() && model::may_keep(desk.book.athlete(*desk.here), model::ConsentThing::training_log, desk.today);
}

std::vector<FormPart> LateForm::parts_of(Desk& desk, const model::Session& session) {
  std::vector<FormPart> parts;
  if (!may_log(desk)) return parts;
  if (asks_ != Asks::nothing && session_ && *session_ == session.id) {
    add_asked(desk, parts);
    return parts;
  }
  FormPart verbs = part(FormKind::keys, Part::verbs, "");
  verbs.choices = {{.label = say("late.add_set"), .icon = screens::Icon::plus}, {.label = say("late.move"), .icon = screens::Icon::pencil}};
  if (session.finish.empty()) verbs.choices.push_back({.label = say("late.finish")});
  parts.push_back(std::move(verbs));
  return parts;
}

std::vector<FormPart> LateForm::parts_above(Desk& desk) {
  std::vector<FormPart> parts;
  if (is_above_the_days() && may_log(desk)) add_asked(desk, parts);
  return parts;
}

void LateForm::add_asked(Desk& desk, std::vector<FormPart>& parts) {
  switch (asks_) {
    case Asks::fresh_day:
    case Asks::moved_day: add_days(desk, parts); break;
    case Asks::set: add_set(desk, parts); break;
    case Asks::finish: add_finish(parts); break;
    case Asks::nothing: break;
  }
}

void LateForm::add_days(Desk& desk, std::vector<FormPart>& parts) {
  const bool moves = asks_ == Asks::moved_day;
  FormPart recent = part(FormKind::choices, Part::recent_day, say("late.which_day"));
  for (const model::Day day : free_days(desk.book.athlete(*desk.here), desk.today, moves)) recent.choices.push_back({.label = day_words(day, desk.today)});
  if (!recent.choices.empty()) parts.push_back(std::move(recent));
  parts.push_back(field(Part::typed_day, say("late.typed_day"), typed_day_, day_refused_, false));
  parts.push_back(keys(Part::day_key, say(moves ? "late.move_key" : "late.day_key")));
}

void LateForm::add_set(Desk& desk, std::vector<FormPart>& parts) {
  const model::Athlete& athlete = desk.book.athlete(*desk.here);
  FormPart exercise = part(FormKind::choices, Part::exercise, say("late.set_of", {day_words(day_, desk.today)}));
  for (const std::string& one : exercises_of(athlete, find(desk, session_), day_)) exercise.choices.push_back({.label = capital(movement_name(one)), .chosen = one == exercise_});
  if (exercise.choices.empty()) exercise.refused = say("late.no_plan");
  const bool none = exercise.choices.empty();
  if (none) exercise.kind = FormKind::words;
  if (none) exercise.detail = exercise.refused;
  parts.push_back(std::move(exercise));
  const model::Rung* rung = model::find_rung(exercise_);
  if (none || rung == nullptr) return;
  parts.push_back(field(Part::reps, say(rung->is_hold() ? "change.seconds" : "change.reps"), reps_, reps_refused_, true));
  if (rung->loaded) parts.push_back(field(Part::load, say(desk.settings.unit == model::Unit::lb ? "late.load_lb" : "late.load_kg"), load_, load_refused_, true));
  if (!band_planned(athlete, exercise_).empty()) {
    FormPart band = part(FormKind::choices, Part::band, say("change.band"));
    for (const std::string& one : bands_here(athlete)) band.choices.push_back({.label = one, .spoken = say("desk.band", {one}), .chosen = one == band_});
    if (!band.choices.empty()) parts.push_back(std::move(band));
  }
  if (!rung->is_hold()) {  // never prefilled [handbook 6.7]
    FormPart reserve = part(FormKind::choices, Part::reserve, say("change.reserve"));
    for (std::uint64_t rir = 0; rir <= kMaxRir; ++rir)
      reserve.choices.push_back({.label = number(rir) + (rir == kMaxRir ? "+" : ""), .spoken = say("change.reserve_spoken", {number(rir)}), .chosen = reserve_ == rir});
    parts.push_back(std::move(reserve));
  }
  parts.push_back(keys(Part::set_key, say("late.set_key")));
}

void LateForm::add_finish(std::vector<FormPart>& parts) {
  FormPart effort = part(FormKind::choices, Part::effort, say("finish.question"));
  for (std::uint64_t rating = 0; rating < std::size(kEffort); ++rating)
    effort.choices.push_back({.label = number(rating), .spoken = say("finish.row_spoken", {number(rating), say(kEffort[rating])}), .chosen = effort_ == rating});
  if (effort_) effort.detail = say(kEffort[*effort_]);
  effort.refused = effort_refused_;
  parts.push_back(std::move(effort));
  parts.push_back(field(Part::minutes, say("finish.minutes"), minutes_, minutes_refused_, true));
  parts.push_back(keys(Part::finish_key, say("late.finish_key")));
}

// ---- what is answered -------------------------------------------------------------------------------------------

void LateForm::begin(Asks asks, const std::optional<model::RecordId>& session) {
  *this = {};
  asks_ = asks;
  session_ = session;
}

void LateForm::ask_another_day(const Desk& desk) {
  const bool open = is_above_the_days();
  begin(Asks::fresh_day, std::nullopt);
  if (open || !may_log(desk)) fold();
}

void LateForm::begin_set(Desk& desk) {
  asks_ = Asks::set;
  const model::Session* session = find(desk, session_);
  if (session != nullptr) day_ = day_of_session(*session);
  choose_exercise(desk, 0);
}

void LateForm::choose_exercise(Desk& desk, std::size_t choice) {
  const model::Athlete& athlete = desk.book.athlete(*desk.here);
  const model::Session* session = find(desk, session_);
  const auto all = exercises_of(athlete, session, day_);
  if (choice >= all.size()) return;
  exercise_ = all[choice];
  reps_.clear();
  load_.clear();
  reserve_.reset();
  reps_refused_.clear();
  load_refused_.clear();
  band_ = band_planned(athlete, exercise_);
  if (session == nullptr) return;
  for (const model::SetDone& set : session->sets)  // the load of the set before is the likely one
    if (set.exercise == exercise_ && !set.load.empty()) load_ = set.load.first()->unit == desk.settings.unit ? model::number_text(*set.load.first()) : model::to_text(*set.load.first());
}

void LateForm::take_day(Desk& desk, model::Day day) {
  if (asks_ == Asks::moved_day) {
    const auto moved = desk.book.move_session(*desk.here, *session_, day, desk.author());
    if (told(desk, moved, say("late.said_moved", {model::weekday_date(day)}))) fold();
    else day_refused_ = say(moved.error());
    return;
  }
  if (const model::Session* there = model::session_on(desk.book.athlete(*desk.here), day)) session_ = there->id;
  day_ = day;
  begin_set(desk);
}

void LateForm::read_day(Desk& desk) {
  const auto day = model::read_day(trimmed(typed_day_));
  if (!day || desk.today < *day) {
    day_refused_ = say("late.day_refused", {model::iso(model::Day{desk.today.since_1970 - 1})});
    desk.announce(true, day_refused_);
    return;
  }
  take_day(desk, *day);
}

std::optional<model::RecordId> LateForm::keep_set(Desk& desk) {
  const model::Rung* rung = model::find_rung(exercise_);
  if (rung == nullptr) return std::nullopt;
  const auto refuse = [&desk](std::string& beside, std::string words) {
    beside = std::move(words);
    desk.announce(true, beside);
    return std::nullopt;
  };
  const model::Athlete& athlete = desk.book.athlete(*desk.here);
  SetEntry entry;
  entry.exercise = exercise_;
  const std::uint64_t most = rung->is_hold() ? kMaxHoldSeconds : kMaxReps;
  const auto reps = whole(reps_);
  if (!reps || *reps > most) return refuse(reps_refused_, say(rung->is_hold() ? "late.seconds_refused" : "change.reps_refused", {number(most)}));
  entry.reps = *reps;
  if (rung->loaded && !trimmed(load_).empty()) {
    const auto load = model::read_quantity(load_, desk.settings.unit);
    const bool mass = load && (load->unit == model::Unit::kg || load->unit == model::Unit::lb);
    if (!mass || model::grams(*load) < 0 || model::grams(*load) > kMaxLoadGrams) return refuse(load_refused_, say("value.load", {std::string(trimmed(load_))}));
    entry.load = *load;
  }
  if (std::find(bands_here(athlete).begin(), bands_here(athlete).end(), band_) != bands_here(athlete).end()) entry.band = band_;
  entry.rir = reserve_;
  if (const model::Session* session = find(desk, session_))
    for (const model::SetDone& set : session->sets)
      if (set.exercise == exercise_ && !set.warm_up && set.round >= entry.round) entry.round = set.round + 1;
  if (!session_) {
    const auto begun = desk.book.begin_session(*desk.here, day_, next_programme_day(athlete, day_), std::nullopt, desk.author());
    if (!begun) return refuse(reps_refused_, say(begun.error()));
    session_ = *begun;
  }
  entry.session = session_;
  const auto kept = desk.book.log_set(*desk.here, entry, day_, desk.author());
  if (!kept) return refuse(reps_refused_, say(kept.error()));
  desk.announce(false, say("late.said_set", {capital(rung->name), number(entry.round), model::weekday_date(day_)}));
  reps_.clear();
  reserve_.reset();
  return session_;
}

void LateForm::keep_finish(Desk& desk) {
  effort_refused_ = effort_ ? "" : capital(say("finish.choose"));
  const auto minutes = whole(minutes_);
  minutes_refused_ = minutes && *minutes >= 1 && *minutes <= kMaxMinutes ? "" : say("finish.minutes_refused");
  if (!effort_refused_.empty() || !minutes_refused_.empty()) {
    desk.announce(true, effort_refused_.empty() ? minutes_refused_ : effort_refused_);
    return;
  }
  constexpr std::uint64_t kTenths = 10;
  model::Finish finish;
  finish.effort_tenths = *effort_ * kTenths;
  finish.minutes = minutes;
  if (told(desk, desk.book.finish_session(*desk.here, *session_, finish, desk.author()), say("finish.said", {number(*effort_), number(*minutes)}))) fold();
}

std::optional<model::RecordId> LateForm::act(Desk& desk, const std::optional<model::RecordId>& open, const screens::FormAnswer& given) {
  if (!may_log(desk)) return std::nullopt;
  const auto leaves = [&] {
    if (given.choice == kLeaveKey) fold();
    return given.choice == kLeaveKey;
  };
  const Part which = static_cast<Part>(given.id);
  if (which == Part::verbs) {
    const model::Session* session = find(desk, open);
    if (session == nullptr) return std::nullopt;
    begin(given.choice == 0 ? Asks::set : given.choice == 1 ? Asks::moved_day : Asks::finish, open);
    if (asks_ == Asks::set) begin_set(desk);
    return std::nullopt;
  }
  switch (which) {
    case Part::recent_day:
      if (const auto days = free_days(desk.book.athlete(*desk.here), desk.today, asks_ == Asks::moved_day); given.choice < days.size()) take_day(desk, days[given.choice]);
      break;
    case Part::typed_day:
      typed_day_ = given.text;
      day_refused_.clear();
      break;
    case Part::day_key:
      if (!leaves()) read_day(desk);
      break;
    case Part::exercise: choose_exercise(desk, given.choice); break;
    case Part::reps:
      reps_ = given.text;
      reps_refused_.clear();
      break;
    case Part::load:
      load_ = given.text;
      load_refused_.clear();
      break;
    case Part::band:
      if (const auto& bands = bands_here(desk.book.athlete(*desk.here)); given.choice < bands.size()) band_ = bands[given.choice];
      break;
    case Part::reserve:
      if (given.choice <= kMaxRir) reserve_ = given.choice;
      break;
    case Part::set_key:
      if (!leaves()) return keep_set(desk);
      break;
    case Part::effort:
      if (given.choice < std::size(kEffort)) effort_ = given.choice;
      effort_refused_.clear();
      break;
    case Part::minutes:
      minutes_ = given.text;
      minutes_refused_.clear();
      break;
    case Part::finish_key:
      if (!leaves()) keep_finish(desk);
      break;
    case Part::verbs: break;
  }
  // A day with a session that is here already: that one is shown.
  return asks_ == Asks::set && session_ && !(open && *open == *session_) ? session_ : std::nullopt;
}

}  // namespace slipway::app
