// The lists of an athlete: kits, plan, sessions, what was said of the body, what adults said, what was shown.
#include "app/day_plan.h"
#include "app/decision_words.h"
#include "app/desk.h"
#include "app/situation.h"
#include "json_parts.h"
#include "report/reasons.h"

namespace slipway::native::json {

namespace {

Json or_null(const std::string& word) { return word.empty() ? Json() : Json(word); }

const char* word(model::FlagGroup group) {
  switch (group) {
    case model::FlagGroup::general: return "general";
    case model::FlagGroup::local: return "local";
    case model::FlagGroup::emergency: break;
  }
  return "emergency";
}
const char* word(model::SignOffLevel level) {
  switch (level) {
    case model::SignOffLevel::sound: return "sound";
    case model::SignOffLevel::loaded: return "loaded";
    case model::SignOffLevel::withdrawn: return "withdrawn";
    case model::SignOffLevel::none: break;
  }
  return "none";
}
const char* word(model::AdultRole role) {
  switch (role) {
    case model::AdultRole::coach: return "coach";
    case model::AdultRole::assistant: return "assistant";
    case model::AdultRole::guardian: return "guardian";
    case model::AdultRole::unsaid: break;
  }
  return "unsaid";
}
const char* word(model::ClearanceRole role) {
  switch (role) {
    case model::ClearanceRole::coach: return "coach";
    case model::ClearanceRole::guardian: return "guardian";
    case model::ClearanceRole::self: break;
  }
  return "self";
}
const char* word(model::ConsentThing thing) {
  switch (thing) {
    case model::ConsentThing::pain_and_soreness: return "pain_and_soreness";
    case model::ConsentThing::body_measures: return "body_measures";
    case model::ConsentThing::wellness: return "wellness";
    case model::ConsentThing::training_log: break;
  }
  return "training_log";
}
const char* word(model::ConsentBy by) { return by == model::ConsentBy::guardian ? "guardian" : by == model::ConsentBy::young_person ? "young_person" : "unsaid"; }
const char* word(model::IllnessState state) {
  switch (state) {
    case model::IllnessState::well: return "well";
    case model::IllnessState::head_cold: return "head_cold";
    case model::IllnessState::fever_or_below_neck: break;
  }
  return "below_neck";
}
const char* word(model::ShortReason reason) {
  switch (reason) {
    case model::ShortReason::no_time: return "no_time";
    case model::ShortReason::kit_busy: return "kit_busy";
    case model::ShortReason::too_hard: return "too_hard";
    case model::ShortReason::pain: return "pain";
    case model::ShortReason::other: break;
  }
  return "other";
}

// What counts right now: while a field is written twice, the safer value.
Json counting(const model::Athlete& athlete, const model::Prescription& plan) {
  const rules::StandingDose dose = app::prescribed_dose(plan);
  const auto load = dose.load_g ? std::optional<model::Quantity>(app::load_as_here(athlete, *dose.load_g)) : std::nullopt;
  return {{"exercise", dose.exercise}, {"sets", dose.sets}, {"reps", dose.lo}, {"load", of(load)}, {"rir", dose.tgt_rir}};
}

Json of_flag(const std::optional<bool>& value) { return value ? Json(*value) : Json(); }

Json finish(const model::Session& session) {
  Json all = Json::array();
  for (const auto& version : session.finish.all) {
    const model::Finish& said = version.value;
    all.push_back({{"effort_tenths", of(said.effort_tenths)},
                   {"minutes", of(said.minutes)},
                   {"short_reason", said.short_reason ? Json(word(*said.short_reason)) : Json()},
                   {"by", of(version.by)}});
  }
  return all;
}

Json decision(const model::Athlete& athlete, const model::Decision& shown) {
  return {{"entry", model::to_text(shown.id)},
          {"session", model::to_text(shown.session)},
          {"exercise", shown.exercise},
          {"row", shown.row},
          {"gate", or_null(shown.gate)},
          {"when", or_null(shown.when)},
          {"reason", or_null(app::reason_shown(athlete, shown))},
          {"reps", shown.reps},
          {"load", of(shown.load)},
          {"band", or_null(shown.band)},
          {"rir", of(shown.rir)},
          {"modifiers", shown.modifiers},
          {"passing", shown.passing},
          {"instead_of", or_null(shown.swapped_from)},
          {"by", of(shown.by)}};
}

template <class T, class DayOf, class Make>
Json since(const std::vector<T>& all, const std::optional<model::Day>& day, DayOf day_of, Make make) {
  Json out = Json::array();
  for (const T& one : all)
    if (!day || !(day_of(one) < *day)) out.push_back(make(one));
  return out;
}

model::Day claimed_day(const model::Writer& by) { return model::day_of(by.claimed); }

}  // namespace

Json plans(const model::Athlete& athlete) {
  Json all = Json::array();
  for (const model::Prescription& plan : athlete.prescriptions) {
    Json one = of(plan);
    one["reps_high"] = of(plan.reps_high);
    one["band"] = of(plan.band);
    one["programme_day"] = of(plan.programme_day);
    one["block"] = of(plan.block);
    one["place"] = of(plan.place);
    one["counts"] = counting(athlete, plan);
    all.push_back(std::move(one));
  }
  return all;
}

Json kits(const model::Athlete& athlete) {
  Json all = Json::array();
  for (const model::Kit& kit : athlete.kits) {
    Json loads = Json::array();
    for (const model::Quantity& load : kit.loads) loads.push_back(of(load));
    all.push_back({{"entry", model::to_text(kit.id)}, {"name", kit.name}, {"loads", loads}, {"bands", kit.bands}, {"equipment", kit.equipment}});
  }
  return all;
}

Json sessions(const model::Athlete& athlete, const std::optional<model::Day>& day) {
  return since(athlete.sessions, day, app::day_of_session, [](const model::Session& session) {
    Json sets = Json::array();
    for (const model::SetDone& set : session.sets) sets.push_back(of(set));
    return Json{{"entry", model::to_text(session.id)}, {"day", of(session.training_day)}, {"programme_day", of(session.programme_day)},
                {"sets", sets},                        {"finish", finish(session)},       {"by", of(session.by)}};
  });
}

void put_facts(Json& out, const model::Athlete& athlete, const std::optional<model::Day>& day) {
  const auto by_day = [](const auto& fact) { return fact.day; };
  const auto by_claim = [](const auto& fact) { return claimed_day(fact.by); };
  out["decisions"] = since(athlete.decisions, day, by_claim, [&athlete](const model::Decision& shown) { return decision(athlete, shown); });
  out["pains"] = since(athlete.pains, day, by_claim, [](const model::Pain& pain) {
    return Json{{"entry", model::to_text(pain.id)}, {"region", pain.region}, {"band", pain.band}, {"amount", of(pain.amount)}, {"side", of(pain.side)},
                {"exercise", or_null(pain.exercise)}, {"settled", of_flag(pain.settled)}, {"resolved", pain.resolved}, {"withdrawn", pain.withdrawn},
                {"by", of(pain.by)}};
  });
  out["soreness"] = since(athlete.soreness, day, by_day, [](const model::Soreness& sore) {
    return Json{{"entry", model::to_text(sore.id)}, {"region", sore.region}, {"level", sore.level}, {"days", sore.days}, {"day", of(sore.day)}, {"by", of(sore.by)}};
  });
  out["checks"] = since(athlete.checks, day, by_day, [](const model::Check& check) { return Json{{"entry", model::to_text(check.id)}, {"day", of(check.day)}, {"by", of(check.by)}}; });
  out["red_flags"] = since(athlete.red_flags, day, by_day, [&athlete](const model::RedFlag& flag) {
    return Json{{"entry", model::to_text(flag.id)}, {"flag", flag.flag}, {"group", word(flag.group)}, {"day", of(flag.day)},
                {"cleared", model::is_cleared(athlete, flag.id)}, {"by", of(flag.by)}};
  });
  out["clearances"] = since(athlete.clearances, day, by_day, [](const model::Clearance& clearance) {
    return Json{{"entry", model::to_text(clearance.id)}, {"part", clearance.covers}, {"role", word(clearance.role)}, {"clinician_allowed", clearance.clinician_allowed},
                {"note", or_null(clearance.note)}, {"day", of(clearance.day)}, {"withdrawn", clearance.withdrawn}, {"by", of(clearance.by)}};
  });
  out["sign_offs"] = since(athlete.sign_offs, day, by_day, [](const model::SignOff& seen) {
    return Json{{"entry", model::to_text(seen.id)}, {"exercise", seen.exercise}, {"level", word(seen.level)}, {"load", of(seen.load)}, {"reps", of(seen.reps)},
                {"note", or_null(seen.note)}, {"role", word(seen.role)}, {"day", of(seen.day)}, {"by", of(seen.by)}};
  });
  out["tick_ins"] = since(athlete.tick_ins, day, by_day, [](const model::TickIn& tick) {
    return Json{{"entry", model::to_text(tick.id)}, {"session", model::to_text(tick.session)}, {"role", word(tick.role)}, {"second_adult", tick.second_adult},
                {"day", of(tick.day)}, {"withdrawn", tick.withdrawn}, {"by", of(tick.by)}};
  });
  out["consents"] = since(athlete.consents, day, by_day, [](const model::Consent& consent) {
    return Json{{"entry", model::to_text(consent.id)}, {"thing", word(consent.thing)}, {"given", consent.given}, {"from", word(consent.from)}, {"day", of(consent.day)},
                {"by", of(consent.by)}};
  });
  out["body_masses"] = since(athlete.body_masses, day, by_day, [](const model::BodyMass& mass) {
    return Json{{"entry", model::to_text(mass.id)}, {"mass", of(mass.mass)}, {"day", of(mass.day)}, {"by", of(mass.by)}};
  });
  out["illnesses"] = since(athlete.illnesses, day, by_day, [](const model::Illness& ill) {
    return Json{{"entry", model::to_text(ill.id)}, {"state", word(ill.state)}, {"day", of(ill.day)}, {"by", of(ill.by)}};
  });
  out["overrulings"] = since(athlete.overrules, day, by_day, [](const model::Overrule& overrule) {
    return Json{{"entry", model::to_text(overrule.id)}, {"row", overrule.row}, {"exercise", or_null(overrule.exercise)}, {"choice", or_null(overrule.choice)},
                {"sets", of(overrule.sets)}, {"reps", of(overrule.reps)}, {"load", of(overrule.load)}, {"note", or_null(overrule.note)}, {"day", of(overrule.day)},
                {"by", of(overrule.by)}};
  });
  out["swaps"] = since(athlete.swaps, day, by_claim, [](const model::Swap& swap) {
    return Json{{"entry", model::to_text(swap.id)}, {"session", model::to_text(swap.session)}, {"from", swap.from}, {"to", swap.to}, {"by", of(swap.by)}};
  });
}

}  // namespace slipway::native::json
