#include "json_situation.h"

#include <algorithm>
#include <cstdio>

#include "model/ladder.h"
#include "rules/decide.h"
#include "rules/substitute.h"

namespace slipway::native::json {

namespace {

using rules::SessionSituation;

constexpr std::int64_t kMassMostG = 1'000'000, kBodyMassMostG = 400'000, kDayMs = 86'400'000, kHourMs = 3'600'000;
constexpr std::int64_t kNoonMs = 12 * kHourMs;
constexpr std::int32_t kDaysMost = 4000, kAdultYears = 30;
constexpr std::int64_t kHoursUntilG04 = 24;  // from then on the way back from an illness is a row of its own

// Fields that rows would use which are not built yet. Accepting them would mean a decision that leaves them out.
constexpr auto kNotBuilt = std::to_array<std::pair<std::string_view, const char*>>({
    {"race_days", "G05, G06, G07"},
    {"race_priority", "G05, G06, G07"},
    {"race_ended_yesterday", "G14"},
    {"deload", "G12"},
    {"key_swim_hours", "G10"},
    {"cold_swim_minutes", "G15"},
    {"swim_rating", "M13"},
    {"wellness_z", "M04"},
    {"maturity_offset_years", "M05"},
    {"growth_mm_per_year", "M05"},
    {"programme_weeks", "M06"},
    {"grip_days", "M01, M02"},
    {"limitations", "M11"},
});

constexpr auto kPhases = std::to_array<std::pair<std::string_view, rules::PhaseKind>>({
    {"learn", rules::PhaseKind::learn},
    {"general", rules::PhaseKind::general},
    {"strength", rules::PhaseKind::strength},
    {"power", rules::PhaseKind::power},
});
constexpr auto kTrainNow = std::to_array<std::pair<std::string_view, rules::TrainNow>>({
    {"no", rules::TrainNow::no},
    {"swimmer", rules::TrainNow::swimmer},
    {"coach", rules::TrainNow::coach},
});
constexpr auto kFormats = std::to_array<std::pair<std::string_view, rules::Format>>({
    {"straight", rules::Format::straight},
    {"circuit", rules::Format::circuit},
    {"spread", rules::Format::spread},
});
constexpr auto kLevels = std::to_array<std::pair<std::string_view, rules::SignOffLevel>>({
    {"withdrawn", rules::SignOffLevel::withdrawn},
    {"none", rules::SignOffLevel::none},
    {"sound", rules::SignOffLevel::sound},
    {"loaded", rules::SignOffLevel::loaded},
});
constexpr auto kClearedBy = std::to_array<std::pair<std::string_view, rules::ClearedBy>>({
    {"athlete", rules::ClearedBy::athlete},
    {"coach", rules::ClearedBy::coach},
    {"guardian", rules::ClearedBy::guardian},
});
constexpr auto kPainAt = std::to_array<std::pair<std::string_view, rules::PainAt>>({
    {"session", rules::PainAt::session},
    {"swim", rules::PainAt::swim},
    {"check", rules::PainAt::check},
    {"daily", rules::PainAt::daily},
});
constexpr auto kPatterns = std::to_array<std::pair<std::string_view, model::Pattern>>({
    {"squat", model::Pattern::squat},
    {"hinge", model::Pattern::hinge},
    {"lunge", model::Pattern::lunge},
    {"vertical_pull", model::Pattern::vertical_pull},
    {"horizontal_pull", model::Pattern::horizontal_pull},
    {"push", model::Pattern::push},
    {"trunk", model::Pattern::trunk},
    {"shoulder_care", model::Pattern::shoulder_care},
});
constexpr auto kIllness = std::to_array<std::pair<std::string_view, bool>>({{"below_neck", true}, {"head_cold", false}});
constexpr auto kJoints = std::to_array<std::pair<std::string_view, std::uint32_t>>({
    {"shoulder", model::joint::shoulder},
    {"elbow", model::joint::elbow},
    {"wrist", model::joint::wrist},
    {"spine", model::joint::spine},
    {"hip", model::joint::hip},
    {"knee", model::joint::knee},
    {"ankle", model::joint::ankle},
});

std::string exercise_id(Fields& in, std::string_view name) {
  const std::string id = in.need_text(name);
  if (!id.empty() && model::find_rung(id) == nullptr) in.refuse("ask.exercise", name, {id});
  return id;
}

rules::Tempo read_tempo(Fields& in) {
  const auto said = in.text("tempo");
  rules::Tempo tempo;
  if (!said) return tempo;
  std::string text = *said;
  for (char& sign : text)
    if (sign == 'X' || sign == 'x') sign = '1';  // fast counts as 1 s [1.6]
  int end = 0;
  const int read = std::sscanf(text.c_str(), "%2u-%2u-%2u-%2u%n", &tempo.down, &tempo.bottom, &tempo.up, &tempo.top, &end);
  const bool fits = read == 4 && static_cast<std::size_t>(end) == text.size() && std::max({tempo.down, tempo.bottom, tempo.up, tempo.top}) <= 60;
  if (!fits || tempo.usual()) in.refuse("ask.tempo", "tempo");
  return tempo;
}

// ---- the athlete and the place --------------------------------------------------------------------------

void read_athlete(Fields& in, const HistoryWish& wish, SessionSituation& out) {
  rules::Athlete& athlete = out.athlete;
  const auto years = in.whole("age_years", 3, 110);
  const auto year = in.whole("birth_year", 1900, 2100), month = in.whole("birth_month", 1, 12);
  if (years && year) in.refuse("ask.both", "age_years", {"birth_year"});
  if (year && !wish.today_said) in.refuse("ask.needs_today", "birth_year");
  athlete.age_low = athlete.age_high = static_cast<std::int32_t>(years.value_or(kAdultYears));
  if (year) {
    const auto ages = rules::ages_on(wish.today, static_cast<std::int32_t>(*year), month ? std::optional(static_cast<std::uint32_t>(*month)) : std::nullopt);
    athlete.age_low = ages.low;
    athlete.age_high = ages.high;
  }
  const auto mass = in.whole("body_mass_g", 1, kBodyMassMostG);
  const bool coarse = in.yes_no("body_mass_coarse").value_or(false);
  if (mass) athlete.body_masses.push_back({.day = wish.today, .g = *mass, .coarse = coarse});
  athlete.has_coach = in.yes_no("has_coach").value_or(true);
  athlete.gate_on = in.yes_no("form_gate").value_or(false);
  if (const auto days = in.whole("days_a_week", 1, 7)) athlete.days_a_week = static_cast<std::uint32_t>(*days);
  athlete.ticks = in.texts("ticks");
}

void read_kit(Fields& in, rules::Kit& kit) {
  if (in.has("kit_loads_g")) kit.loads_g = in.wholes("kit_loads_g", 1, kMassMostG);
  if (in.has("kit_plates_g")) kit.plates_g = in.wholes("kit_plates_g", 1, kMassMostG);
  if (in.has("kit_stack_g")) kit.stack_g = in.wholes("kit_stack_g", 1, kMassMostG);
  kit.bands = in.texts("bands");
  if (in.has("equipment")) kit.equipment = in.texts("equipment");
}

// ---- the body -------------------------------------------------------------------------------------------

rules::PainReport read_report(Fields in, const HistoryWish& wish) {
  rules::PainReport out;
  out.at = in.choice("at", kPainAt).value_or(rules::PainAt::session);
  out.day = read_day_of(in, wish, wish.today);
  out.at_ms = midnight_ms(out.day) + read_clock_ms(in, "time").value_or(kNoonMs);
  if (in.has("exercise")) out.exercise = exercise_id(in, "exercise");
  out.region = read_region(in, "region");
  out.joints = read_joints(in).value_or(0);
  out.amount = static_cast<std::uint32_t>(in.need_whole("amount", 0, 10));
  out.settled = in.yes_no("settled");
  in.close();
  return out;
}

// Short forms: pain at this exercise in its last session, and pain in today's check.
void read_pain(Fields& in, const HistoryWish& wish, SessionSituation& out) {
  const auto last = in.whole("pain", 0, 10);
  const auto settled = in.yes_no("pain_settled");
  const auto today = in.whole("pain_today", 0, 10);
  const std::string region = read_region(in, "pain_region");
  for (Fields& one : in.objects("pains")) out.pains.push_back(read_report(one, wish));
  if (out.lines.empty()) return;
  const std::string& exercise = out.lines.front().standing.exercise;
  if (last && out.history.empty()) return in.refuse("ask.history", "pain");
  if (last) {
    const rules::SessionFact* newest = nullptr;
    for (const rules::SessionFact& session : out.history)
      if (std::any_of(session.exercises.begin(), session.exercises.end(), [&](const auto& done) { return done.exercise == exercise; }))
        if (newest == nullptr || !(session.day < newest->day)) newest = &session;
    if (newest == nullptr) return in.refuse("ask.history", "pain");
    out.pains.push_back({.id = "pain", .day = newest->day, .at_ms = newest->start_ms, .session_id = newest->id, .exercise = exercise,
                         .region = region, .amount = static_cast<std::uint32_t>(*last), .settled = settled});
  }
  if (today && *today > 0) {
    const std::uint32_t joints = region.empty() ? model::find_rung(exercise)->joints : 0;
    out.pains.push_back({.id = "pain_today", .day = wish.today, .at_ms = out.now_ms, .at = rules::PainAt::check, .session_id = "", .exercise = "", .joints = joints,
                         .region = region, .amount = static_cast<std::uint32_t>(*today), .settled = {}});
  }
}

void read_soreness(Fields& in, const HistoryWish& wish, SessionSituation& out) {
  const auto days = in.whole("sore_days", 0, 60);
  const auto level = in.whole("sore_today", 0, 3);
  const bool sore = days.value_or(level.value_or(0) >= 2 ? 1 : 0) > 0;
  if (days && level && sore != (*level >= 2)) in.refuse("ask.sore", "sore_days");
  const std::int64_t count = sore ? days.value_or(1) : level ? 1 : 0;
  for (const rules::PlanLine& line : out.lines) {
    const model::Rung* rung = model::find_rung(line.standing.exercise);
    for (std::int64_t ago = 0; rung != nullptr && ago < count; ++ago)
      out.soreness.push_back({.day = {wish.today.since_1970 - static_cast<std::int32_t>(ago)}, .pattern = rung->pattern,
                              .level = static_cast<std::uint32_t>(ago == 0 ? level.value_or(2) : 2)});
  }
  for (Fields& one : in.objects("soreness")) {
    rules::SorenessAnswer answer;
    answer.day = read_day_of(one, wish, wish.today);
    if (!one.has("pattern")) one.refuse("ask.missing", "pattern");
    answer.pattern = one.choice("pattern", kPatterns).value_or(model::Pattern::squat);
    answer.level = static_cast<std::uint32_t>(one.need_whole("level", 0, 3));
    one.close();
    out.soreness.push_back(answer);
  }
}

void read_flags(Fields& in, const HistoryWish& wish, SessionSituation& out) {
  for (Fields& one : in.objects("red_flags")) {
    rules::RedFlag flag;
    flag.word = one.need_text("flag");
    flag.day = read_day_of(one, wish, wish.today);
    flag.local = one.yes_no("local").value_or(false);
    flag.joints = read_joints(one).value_or(0);
    if (flag.local && flag.joints == 0) one.refuse("ask.missing", "joints");
    one.close();
    out.red_flags.push_back(flag);
  }
  for (Fields& one : in.objects("clearances")) {
    rules::Clearance clearance;
    clearance.day = read_day_of(one, wish, wish.today);
    clearance.by = one.choice("by", kClearedBy).value_or(rules::ClearedBy::athlete);
    clearance.clinician_allowed = one.yes_no("clinician_allowed").value_or(false);
    clearance.general = one.yes_no("general").value_or(false);
    clearance.joints = read_joints(one).value_or(0);
    one.close();
    out.clearances.push_back(clearance);
  }
}

void read_illness(Fields& in, const HistoryWish& wish, SessionSituation& out) {
  const auto below = in.choice("illness", kIllness);
  const std::int64_t days = in.whole("illness_days", 1, 365).value_or(1);
  const auto ended = in.number("illness_ended_hours", 0, 24.0 * 365);
  if (!below) {
    for (const char* name : {"illness_days", "illness_ended_hours"})
      if (in.has(name)) in.refuse("ask.missing", "illness");
    return;
  }
  if (!*below) return in.refuse("ask.not_built", "illness", {"G03"});
  if (ended && *ended >= static_cast<double>(kHoursUntilG04)) return in.refuse("ask.not_built", "illness_ended_hours", {"G04"});
  rules::Illness illness{.id = "illness", .first_day = {wish.today.since_1970 - static_cast<std::int32_t>(days)}, .below_neck = true, .ended_ms = {}};
  if (ended) illness.ended_ms = out.now_ms - static_cast<std::int64_t>(*ended * static_cast<double>(kHourMs));
  out.illnesses.push_back(illness);
}

void read_form(Fields& in, const HistoryWish& wish, SessionSituation& out) {
  for (Fields& one : in.objects("sign_offs")) {
    rules::SignOff fact;
    fact.exercise = exercise_id(one, "exercise");
    if (!one.has("level")) one.refuse("ask.missing", "level");
    fact.level = one.choice("level", kLevels).value_or(rules::SignOffLevel::sound);
    fact.day = read_day_of(one, wish, wish.today);
    fact.load_g = one.whole("load_g", 1, kMassMostG);
    one.close();
    out.sign_offs.push_back(fact);
  }
  for (Fields& one : in.objects("overrules")) {
    rules::Overruling overruling;
    overruling.row = one.need_text("row");
    if (one.has("exercise")) overruling.exercise = exercise_id(one, "exercise");
    one.close();
    out.overrulings.push_back(overruling);
  }
}

// ---- the plan -------------------------------------------------------------------------------------------

rules::PlanLine read_line(Fields& in, const HistoryWish& wish) {
  rules::PlanLine line;
  rules::StandingDose usual;  // as the vectors of 6.6 say
  usual.exercise = exercise_id(in, "exercise");
  usual.sets = 3;
  usual.lo = 8;
  usual.hi = 12;
  line.standing = read_dose(in, usual);
  if (auto start = in.object("start")) {
    line.start = read_dose(*start, line.standing);
    start->close();
  }
  if (in.has("since") && !wish.today_said) in.refuse("ask.needs_today", "since");
  line.since = in.day("since");
  line.by_coach = in.yes_no("by_coach").value_or(false);
  return line;
}

void refuse_not_built(Fields& in) {
  for (const auto& [name, rows] : kNotBuilt)
    if (in.has(name)) in.refuse("ask.not_built", name, {rows});
}

void read_lines(Fields& in, const HistoryWish& wish, Question& out) {
  out.one_exercise = in.has("exercise");
  if (out.one_exercise == in.has("exercises")) return in.take(model::error(model::ErrorKind::invalid, "ask.lines"));
  if (out.one_exercise) out.situation.lines.push_back(read_line(in, wish));
  for (Fields& one : in.objects("exercises")) {
    out.situation.lines.push_back(read_line(one, wish));
    one.close();
  }
}

// So that "unknown field" can name what is known also where a list of exercises is given.
void know_line_fields(Fields& in) {
  for (const char* name : {"exercise", "load_g", "sets", "reps_low", "reps_high", "tgt_rir", "band", "first_set_band", "grip", "tempo", "format", "start", "since",
                           "by_coach", "exercises"})
    if (in.has(name) && in.has("exercises") && std::string_view(name) != "exercises") in.refuse("ask.both", name, {"exercises"});
}

}  // namespace

std::int64_t midnight_ms(model::Day day) { return std::int64_t{day.since_1970} * kDayMs; }

std::optional<std::int64_t> read_clock_ms(Fields& in, std::string_view name) {
  const auto said = in.text(name);
  if (!said) return std::nullopt;
  unsigned hours = 99, minutes = 99;
  int end = 0;
  const bool read = said->size() == 5 && std::sscanf(said->c_str(), "%2u:%2u%n", &hours, &minutes, &end) == 2 && end == 5;
  if (read && hours < 24 && minutes < 60) return (std::int64_t{hours} * 60 + minutes) * 60'000;
  in.refuse("ask.clock", name);
  return std::nullopt;
}

model::Day read_day_of(Fields& in, const HistoryWish& wish, model::Day if_missing) {
  const auto date = in.day("date");
  const auto ago = in.whole("days_ago", -kDaysMost, kDaysMost);
  if (date && ago) in.refuse("ask.both", "date", {"days_ago"});
  if (date && !wish.today_said) in.refuse("ask.needs_today", "date");
  if (date) return *date;
  return ago ? model::Day{wish.today.since_1970 - static_cast<std::int32_t>(*ago)} : if_missing;
}

std::string read_region(Fields& in, std::string_view name) {
  const std::string region = in.text(name).value_or("");
  if (!region.empty() && rules::region_joints(region) == 0) in.refuse("ask.region", name, {region});
  return region;
}

std::optional<std::uint32_t> read_joints(Fields& in) {
  if (!in.has("joints")) return std::nullopt;
  std::uint32_t bits = 0;
  std::string all;
  for (const auto& [word, bit] : kJoints) all += (all.empty() ? "" : ", ") + std::string(word);
  for (const std::string& said : in.texts("joints")) {
    const auto found = std::find_if(kJoints.begin(), kJoints.end(), [&](const auto& known) { return known.first == said; });
    if (found == kJoints.end()) in.refuse("ask.joint", "joints", {said, all});
    else bits |= found->second;
  }
  return bits;
}

rules::StandingDose read_dose(Fields& in, const rules::StandingDose& otherwise) {
  rules::StandingDose out = otherwise;
  const model::Rung* rung = model::find_rung(out.exercise);
  if (const auto load = in.whole("load_g", 0, kMassMostG)) out.load_g = *load > 0 ? load : std::nullopt;
  if (rung != nullptr && !rung->loaded && out.load_g) in.refuse("ask.no_load", "load_g", {out.exercise});
  out.sets = static_cast<std::uint32_t>(in.whole("sets", 1, 20).value_or(out.sets));
  const auto low = in.whole("reps_low", 1, 600), high = in.whole("reps_high", 1, 600);
  if (low) out.lo = static_cast<std::uint32_t>(*low);
  if (high) out.hi = static_cast<std::uint32_t>(*high);
  if ((low || high) && in.fine() && out.hi < out.lo) in.refuse("ask.range", "reps_high", {std::to_string(out.lo), "600"});
  out.tgt_rir = static_cast<std::uint32_t>(in.whole("tgt_rir", 0, 4).value_or(out.tgt_rir));
  out.band = in.text("band").value_or(out.band);
  out.first_set_band = in.text("first_set_band").value_or(out.first_set_band);
  out.grip = in.text("grip").value_or(out.grip);
  if (const rules::Tempo tempo = read_tempo(in); !tempo.usual()) out.tempo = tempo;
  out.format = in.choice("format", kFormats).value_or(out.format);
  return out;
}

model::Result<Question> read_question(const Json& asked) {
  std::optional<model::Error> trouble;
  Fields in(asked, "", trouble);
  Question out;
  SessionSituation& situation = out.situation;
  HistoryWish wish;
  wish.today_said = in.has("today");
  wish.today = in.day("today").value_or(model::Day{20'514});  // any day does where none is named; this one is a Monday
  wish.gap_days = static_cast<std::int32_t>(in.whole("gap_days", 0, kDaysMost).value_or(3));
  situation.today = wish.today;
  situation.now_ms = midnight_ms(wish.today) + read_clock_ms(in, "time").value_or(kNoonMs);
  if (in.has("first_day") && !wish.today_said) in.refuse("ask.needs_today", "first_day");
  situation.first_day = in.day("first_day");
  refuse_not_built(in);
  read_lines(in, wish, out);
  know_line_fields(in);
  read_athlete(in, wish, situation);
  read_kit(in, situation.kit);
  situation.phase.kind = in.choice("phase", kPhases).value_or(rules::PhaseKind::general);
  if (const auto week = in.whole("phase_week", 1, 20)) situation.phase.week = static_cast<std::uint32_t>(*week);
  situation.adult_ticked_in = in.yes_no("adult_present").value_or(true);
  situation.train_now = in.choice("train_now", kTrainNow).value_or(rules::TrainNow::no);
  read_history(in, wish, situation);
  read_pain(in, wish, situation);
  read_soreness(in, wish, situation);
  read_flags(in, wish, situation);
  read_illness(in, wish, situation);
  read_form(in, wish, situation);
  in.close();
  if (trouble) return *trouble;
  return out;
}

}  // namespace slipway::native::json
