// What comes next, the coach's list and one athlete's whole report, as JSON.
#include "app/decision_words.h"
#include "app/desk.h"
#include "json_parts.h"

namespace slipway::native::json {

namespace {

Json or_null(const std::string& word) { return word.empty() ? Json() : Json(word); }

Json reason(const model::Athlete& athlete, const rules::Reason& why) {
  return {{"row", or_null(why.row)}, {"reason", or_null(report::sentence(why, app::speaking_of(athlete)))}};
}

Json reasons(const model::Athlete& athlete, const std::vector<rules::Reason>& all) {
  Json out = Json::array();
  for (const rules::Reason& one : all) out.push_back(reason(athlete, one));
  return out;
}

Json row(const Coming& coming, const app::PlanRow& row) {
  const rules::Dose& dose = row.decision.dose;
  Json reps = Json::array(), up_to = Json::array();
  for (const rules::SetTarget& target : dose.targets) {
    reps.push_back(target.reps);
    up_to.push_back(target.up_to);
  }
  const auto load = dose.load_g ? std::optional(app::load_as_here(*coming.athlete, *dose.load_g)) : std::nullopt;
  Json out{{"code", row.code},
           {"exercise", row.rung->id},
           {"name", row.rung->name},
           {"trains", row.trains()},
           {"sets", row.trains() ? dose.sets() : 0},
           {"reps", reps},
           {"reps_up_to", up_to},
           {"load", of(load)},
           {"band", or_null(dose.band)},
           {"first_set_band", or_null(dose.first_set_band)},
           {"grip", or_null(dose.grip)},
           {"tempo_s", dose.tempo.usual() ? Json() : Json({dose.tempo.down, dose.tempo.bottom, dose.tempo.up, dose.tempo.top})},
           {"tempo", or_null(app::tempo_words(dose))},
           {"rir", dose.ask_rir ? Json(dose.rir) : Json()},
           {"rest_s", dose.rest_s},
           {"instead_of", or_null(row.swapped_from)},
           {"already_shown", row.recorded}};
  out["row"] = or_null(report::told(row.because()).row);
  out["reason"] = or_null(report::sentence(row.because(), app::speaking_of(*coming.athlete)));
  out["modifiers"] = reasons(*coming.athlete, row.because().modifiers);
  out["because_of"] = app::entries_behind(coming.plan, report::told(row.because()), row.decision.line, coming.plan.today);
  return out;
}

const char* word(const app::DayPlan& plan) {
  switch (plan.decision.whether) {
    case rules::Whether::stop: return "stop";
    case rules::Whether::skip: return "skip";
    case rules::Whether::normal: break;
  }
  return plan.decision.when == rules::When::today ? "train" : plan.decision.when == rules::When::move ? "move" : "ask";
}

Json coming_of(const Coming& coming) {
  const app::DayPlan& plan = coming.plan;
  Json rows = Json::array();
  if (plan.may_train())
    for (const app::PlanRow& one : plan.rows) rows.push_back(row(coming, one));
  const rules::Reason& why = plan.may_train() ? plan.decision.when_row : plan.decision.gate;
  return {{"day", of(plan.today)},
          {"may_log", !said_no(*coming.athlete, model::ConsentThing::training_log, plan.today)},
          {"session", plan.programme_day == 2 ? "B" : "A"},
          {"begun", plan.session != nullptr},
          {"finished", plan.finished},
          {"answer", word(plan)},
          {"why", reason(*coming.athlete, why)},
          {"rows", rows}};
}

}  // namespace

Json needs(const std::vector<app::NeedFact>& facts) {
  Json out = Json::array();
  for (const app::NeedFact& fact : facts)
    out.push_back({{"row", or_null(fact.row)}, {"since", of(fact.since)}, {"exercises", fact.exercises}, {"sentence", fact.sentence}});
  return out;
}

std::string noted(const NotedFact& fact) {
  return text({{"athlete", of(fact.who)}, {"what", fact.what}, {"entry", model::to_text(fact.entry)}, {"day", of(fact.day)}, {"kept", true}});
}

std::string coming(const Coming& coming) {
  Json out{{"athlete", of(coming.who)}};
  out.update(coming_of(coming));
  return text(out);
}

std::string squad(const SquadList& list) {
  Json lines = Json::array();
  for (const SquadList::Line& line : list.lines) lines.push_back({{"athlete", of(line.who)}, {"facts", needs(line.facts)}});
  return text({{"day", of(list.day)}, {"athletes", list.athletes}, {"needs_the_coach", lines}, {"sealed", list.sealed}});
}

std::string report(const Report& report) {
  const model::Athlete& athlete = *report.coming.athlete;
  Json missing = Json::array();
  for (const app::MissingStretch& gap : report.missing)
    missing.push_back({{"incarnation", gap.inc.hex()}, {"first", gap.first}, {"last", gap.last}});
  Json out{{"athlete", of(report.coming.who)},
           {"day", of(report.day)},
           {"since", report.since ? of(*report.since) : Json()},
           {"birth_year", of(athlete.birth_year)},
           {"group", of(athlete.group)},
           {"limitations", athlete.limitations},
           {"training_days", athlete.training_days},
           {"needs_the_coach", needs(report.needs)},
           {"next", athlete.prescriptions.empty() ? Json() : coming_of(report.coming)},
           {"plan", plans(athlete)},
           {"kits", kits(athlete)},
           {"sessions", sessions(athlete, report.since)}};
  put_facts(out, athlete, report.since);
  out["contradictions"] = contradictions(athlete);
  out["missing"] = missing;
  out["not_understood"] = athlete.not_understood;
  return text(out);
}

}  // namespace slipway::native::json
