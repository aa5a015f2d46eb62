// What the rules decide, as JSON: row ids, the dose in grams and reps, and the reason as a sentence.
#include "answers.h"
#include "json_situation.h"
#include "report/reasons.h"
#include "rules/decide.h"

namespace slipway::native::json {

namespace {

const char* word(rules::Whether whether) {
  switch (whether) {
    case rules::Whether::stop: return "stop";
    case rules::Whether::skip: return "skip";
    case rules::Whether::normal: break;
  }
  return "normal";
}

const char* word(rules::When when) {
  switch (when) {
    case rules::When::today: return "today";
    case rules::When::move: return "move";
    case rules::When::ask: break;
  }
  return "ask";
}

const char* word(rules::Action action) {
  switch (action) {
    case rules::Action::train: return "train";
    case rules::Action::stop: return "stop";
    case rules::Action::leave_out: break;
  }
  return "leave_out";
}

const char* word(rules::Step step) {
  switch (step) {
    case rules::Step::usable: return "usable";
    case rules::Step::big: return "big";
    case rules::Step::none: return "none";
    case rules::Step::not_applicable: break;
  }
  return "not_applicable";
}

const char* word(rules::Ask ask) {
  switch (ask) {
    case rules::Ask::reserve_again: return "reserve_again";
    case rules::Ask::reserve_of_last: return "reserve_of_last";
    case rules::Ask::settled: return "settled";
    case rules::Ask::sign_off: return "sign_off";
    case rules::Ask::looked_alike: return "looked_alike";
    case rules::Ask::test_set: return "test_set";
    case rules::Ask::lower_load: return "lower_load";
    case rules::Ask::keep_or_change: return "keep_or_change";
    case rules::Ask::birth_year: return "birth_year";
    case rules::Ask::entry_sets: break;
  }
  return "entry_sets";
}

const char* word(rules::Format format) {
  switch (format) {
    case rules::Format::circuit: return "circuit";
    case rules::Format::spread: return "spread";
    case rules::Format::straight: break;
  }
  return "straight";
}

Json or_null(const std::string& text) { return text.empty() ? Json() : Json(text); }
template <class T>
Json or_null(const std::optional<T>& value) {
  return value ? Json(*value) : Json();
}
Json or_null(const rules::Tempo& tempo) {
  if (tempo.usual()) return nullptr;
  return std::to_string(tempo.down) + "-" + std::to_string(tempo.bottom) + "-" + std::to_string(tempo.up) + "-" + std::to_string(tempo.top);
}
Json step_word(const std::optional<rules::RampStep>& step) {
  return step ? Json(std::string(1, static_cast<char>('a' + static_cast<int>(*step) - 1))) : Json();
}

Json dose_of(const rules::Dose& dose) {
  Json reps = Json::array(), up_to = Json::array();
  for (const rules::SetTarget& target : dose.targets) {
    reps.push_back(target.reps);
    up_to.push_back(target.up_to);
  }
  return {{"exercise", dose.exercise}, {"load_g", or_null(dose.load_g)}, {"sets", dose.sets()},       {"reps", reps},
          {"reps_up_to", up_to},       {"reps_low", dose.lo},            {"reps_high", dose.hi},      {"rir", dose.rir},
          {"ask_rir", dose.ask_rir},   {"tempo", or_null(dose.tempo)},   {"band", or_null(dose.band)}, {"first_set_band", or_null(dose.first_set_band)},
          {"grip", or_null(dose.grip)}, {"rest_s", dose.rest_s},         {"format", word(dose.format)}};
}

Json standing_of(const rules::StandingDose& dose) {
  return {{"exercise", dose.exercise}, {"load_g", or_null(dose.load_g)}, {"sets", dose.sets},        {"reps_low", dose.lo},
          {"reps_high", dose.hi},      {"tgt_rir", dose.tgt_rir},        {"tempo", or_null(dose.tempo)}, {"band", or_null(dose.band)},
          {"first_set_band", or_null(dose.first_set_band)}, {"grip", or_null(dose.grip)}, {"format", word(dose.format)}};
}

Json counters_of(const rules::Counters& counters) {
  return {{"hits", counters.hits},           {"misses", counters.misses},       {"counted", counters.counted},
          {"gap_days", or_null(counters.gap)}, {"pgap_days", or_null(counters.pgap)}, {"gap_class", counters.gap_class},
          {"bridged", counters.bridged},     {"ramp_done", step_word(counters.ramp_done)}, {"pain", counters.pain},
          {"sore_days", counters.sore_days}, {"sore_today", counters.sore_today}, {"form_closed", counters.form_closed}};
}

Json said(const rules::Reason& reason) {
  Json one{{"row", reason.row}, {"reason", or_null(report::sentence(reason))}};
  if (!reason.overruled.empty()) one["overruled"] = reason.overruled;
  return one;
}

Json rows_of(const std::vector<rules::Reason>& reasons) {
  Json all = Json::array();
  for (const rules::Reason& reason : reasons) all.push_back(said(reason));
  return all;
}

Json row_ids(const std::vector<rules::Reason>& reasons) {
  Json all = Json::array();
  for (const rules::Reason& reason : reasons) all.push_back(reason.row);
  return all;
}

void put_exercise(Json& out, const rules::SessionDecision& session, const rules::ExerciseDecision& one) {
  out["row"] = one.row.row;
  out["action"] = word(one.action);
  out["dose"] = one.action == rules::Action::train ? dose_of(one.dose) : Json();
  out["reason"] = or_null(report::sentence(session, &one));
  out["increase"] = one.increase;
  out["passing"] = one.passing;
  out["modifiers"] = rows_of(one.modifiers);
  out["step"] = word(one.step);
  out["step_load_g"] = or_null(one.step_load_g);
  out["reps_to_earn"] = or_null(one.reps_to_earn);
  out["ramp_step"] = step_word(one.ramp_step);
  Json asks = Json::array();
  for (const rules::Ask ask : one.asks) asks.push_back(word(ask));
  out["asks"] = asks;
  out["coach_rows"] = row_ids(one.coach_rows);
  out["counters"] = counters_of(one.counters);
  out["standing"] = standing_of(one.standing);
  if (!one.row.overruled.empty()) out["overruled"] = one.row.overruled;
}

void put_nothing(Json& out, const rules::SessionDecision& session) {
  out["row"] = nullptr;
  out["action"] = "leave_out";
  out["dose"] = nullptr;
  out["reason"] = or_null(report::sentence(session, nullptr));
}

Json answer_of(const rules::SessionDecision& session, bool one_exercise) {
  Json out{{"gate", session.gate.row}, {"whether", word(session.whether)}, {"when", session.when_row.row.empty() ? Json() : Json(session.when_row.row)},
           {"when_answer", word(session.when)}};
  out["gate_reason"] = or_null(report::sentence(session.gate));
  out["when_reason"] = or_null(report::sentence(session.when_row));
  out["filters"] = rows_of(session.filters);
  out["session_coach_rows"] = row_ids(session.coach_rows);
  out["flagged"] = session.flagged.size();
  if (one_exercise) {
    if (session.exercises.empty()) put_nothing(out, session);
    else put_exercise(out, session, session.exercises.front());
    return out;
  }
  if (session.exercises.empty()) put_nothing(out, session);
  out["exercises"] = Json::array();
  for (const rules::ExerciseDecision& one : session.exercises) {
    Json answer{{"exercise", one.line}};
    put_exercise(answer, session, one);
    out["exercises"].push_back(answer);
  }
  return out;
}

}  // namespace

model::Result<std::string> decided(std::string_view input) {
  const auto read = parse(input);
  if (!read) return read.error();
  const auto question = read_question(*read);
  if (!question) return question.error();
  const rules::SessionDecision session = rules::decide(question->situation);
  return answer_of(session, question->one_exercise).dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace slipway::native::json
