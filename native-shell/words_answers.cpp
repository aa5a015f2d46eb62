#include <algorithm>
#include <array>
#include <string_view>
#include <utility>

#include "answers.h"
#include "app/key_words.h"
#include "app/desk.h"
#include "app/situation.h"
#include "app/contradictions.h"
#include "model/ladder.h"
#include "report/words.h"
#include "store/store.h"

namespace slipway::native {

using report::number;
using report::say;

std::string short_id(const model::ScopeId& id) { return id.hex().substr(0, 8); }
std::string short_entry(const model::RecordId& entry) { return entry.hash.hex().substr(0, 8); }

namespace words {

std::string refusal(const model::Error& why) {
  // The screens have a key for it, the command line an option.
  static constexpr auto kRemedies = std::to_array<std::pair<std::string_view, const char*>>({
      {"key.there_already", "cli.remedy_replace_key"},
      {"key.locked", "cli.remedy_passphrase"},
      {"bundle.sealed_locked", "cli.remedy_passphrase"},
      {"bundle.sealed_passphrase", "cli.remedy_passphrase"},
      {"bundle.not_signed", "cli.remedy_stranger"},
      {"bundle.unknown_device", "cli.remedy_stranger"},
      {"bundle.other_key", "cli.remedy_stranger"},
      {"squad.other", "cli.remedy_stranger"},
      {"profile.shut", "cli.remedy_profile"},
      {"profile.shut_file", "cli.remedy_profile"},
      {"value.clearance_clinician", "cli.remedy_clinician"},
      {"value.clearance_youth", "cli.remedy_clearer"},
  });
  if (why.kind == model::ErrorKind::damaged && why.text == "cli.store_trouble") return say("cli.remedy", {say(why), say("cli.remedy_damaged")});
  for (const auto& [error, remedy] : kRemedies)
    if (why.text == error) return say("cli.remedy", {say(why), say(remedy)});
  return say(why);
}

namespace {

std::string text_of(const std::string& word) { return word; }
std::string text_of(std::uint64_t value) { return number(value); }
std::string text_of(const model::Quantity& load) { return model::to_text(load); }
std::string text_of(model::Day day) { return model::iso(day); }

std::string text_of(const std::vector<std::uint64_t>& values) {
  std::string out;
  for (const std::uint64_t value : values) out += (out.empty() ? "" : "-") + number(value);
  return out;
}
std::string text_of(const model::Finish& said) {
  return say("dose.and", {say("cli.report_minutes", {said.minutes ? number(*said.minutes) : "?"}), say("cli.report_effort", {said.effort_tenths ? number(app::effort_of(said)) : "?"})});
}
std::string text_of(const model::Programme& programme) { return programme.phase; }

std::string line(const std::string& words) { return words + "\n"; }

std::string name_of(const model::Athlete& athlete) { return athlete.name.value_or(""); }

std::string mark_of(const model::SetDone& set) {
  if (set.left_out) return say("cli.mark_left_out");
  if (set.contradiction()) return say("cli.mark_contradiction");
  if (set.corrected) return say("cli.mark_corrected");
  return set.as_written() ? say("cli.mark_as_written") : say("cli.mark_other");
}

std::string set_line(const model::SetDone& set) {
  std::string dose = app::set_words(set.exercise, set.reps.value_or(0), set.load.empty() ? std::nullopt : std::optional(*set.load.first()), set.band);
  if (set.side) dose = say(*set.side == model::Side::left ? "cli.set_left" : "cli.set_right", {dose});
  if (!set.rir.empty()) dose = say("cli.set_reserve", {dose, number(*set.rir.first())});
  if (set.form_broke) dose = say("logbook.value_form", {dose});
  return say("cli.set_line", {number(set.round), set.exercise, dose, mark_of(set), model::iso(set.by.claimed),
                              report::author_word(set.by.author), short_entry(set.id)});
}

template <class T>
std::string versions_text(const model::Versions<T>& versions) {
  std::string all;
  for (const auto& version : versions.all) {
    const std::string one = say("cli.contradiction_value", {text_of(version.value), report::author_word(version.by.author),
                                                            version.by.op.inc.hex().substr(0, 8), model::iso(version.by.claimed)});
    all = all.empty() ? one : say("cli.contradiction_or", {all, one});
  }
  return all;
}

std::string field_words(std::string_view field) {
  if (field == "birth_year") return say("cli.field_birth_year");
  if (field == "day") return say("cli.field_day");
  return say("field." + std::string(field));
}

// "load of goblet squat, session A", "reps of set 3f2a91c0".
std::string of_whom(const model::Athlete& athlete, std::string_view of, const model::RecordId& record, const std::string& field) {
  if (of == "set") return say("cli.contradiction_of_set", {field, short_entry(record)});
  for (const model::Prescription& plan : athlete.prescriptions)
    if (of == "plan" && plan.id == record) {
      const std::uint64_t day = plan.programme_day.value_or(0);
      return say("cli.contradiction_of_line", {field, app::movement_name(plan.exercise.value_or("")), say(day == 2 ? "cli.plan_b" : day == 1 ? "cli.plan_a" : "cli.plan_each")});
    }
  return field;
}

std::string contradiction_lines(const model::Athlete& athlete) {
  std::string all;
  app::each_contradiction(athlete, [&](const char* of, const model::RecordId& record, const char* field, const auto& versions) {
    const std::string what = of_whom(athlete, of, record, field_words(field));
    all += line(say("cli.contradiction_line", {what, versions_text(versions)}));
  });
  return all;
}

std::string people_text(const std::vector<Person>& who) {
  std::string all;
  for (const Person& person : who) all += (all.empty() ? "" : ", ") + person.name;
  return all;
}

}  // namespace

std::vector<std::string> plan_lines(const model::Athlete& athlete) {
  if (athlete.prescriptions.empty()) return {say("plan.none", {name_of(athlete)})};
  std::vector<std::string> all;
  for (const model::Prescription& plan : athlete.prescriptions) {
    const rules::StandingDose dose = app::prescribed_dose(plan);
    const model::Rung* rung = model::find_rung(dose.exercise);
    const auto load = dose.load_g ? std::optional(app::load_as_here(athlete, *dose.load_g)) : std::nullopt;
    const std::uint64_t day = plan.programme_day.value_or(0);
    bool twice = false;
    app::each_contradiction(athlete, [&](const char*, const model::RecordId& record, const char*, const auto&) { twice = twice || record == plan.id; });
    const std::string written = say("cli.plan_line", {dose.exercise, rung == nullptr ? "" : rung->name, number(dose.sets), app::set_words(dose.exercise, dose.lo, load, dose.band),
                                      number(dose.tgt_rir), number(plan.rest_ms.value_or(0) / 1000), say(day == 2 ? "cli.plan_b" : day == 1 ? "cli.plan_a" : "cli.plan_each")});
    all.push_back(twice ? say("cli.plan_twice", {written}) : written);
  }
  return all;
}

std::string added(const Person& who) { return line(say("cli.said_added", {who.name, short_id(who.id)})); }
std::string demo(const std::vector<Person>& who) { return line(say("cli.said_demo", {people_text(who)})); }

std::string listed(const std::vector<const model::Athlete*>& athletes) {
  std::string all = athletes.empty() ? line(say("athlete.none")) : "";
  for (const model::Athlete* athlete : athletes) {
    std::uint64_t sets = 0;
    for (const model::Session& session : athlete->sessions) sets += session.sets.size();
    const std::uint64_t twice = app::contradictions_of(*athlete);
    const std::string one = say("cli.athlete_line", {short_id(athlete->scope), name_of(*athlete), app::count_words(athlete->sessions.size(), "cli.sessions_one", "cli.sessions_many"),
                                                     app::count_words(sets, "cli.sets_one", "cli.sets_many")});
    all += line(twice == 0 ? one : say("cli.athlete_twice", {one, number(twice)}));
  }
  return all;
}

std::string athlete(const model::Athlete& athlete) {
  std::string all = line(say("cli.athlete_head", {name_of(athlete), short_id(athlete.scope)}));
  if (!athlete.birth_year.empty()) all += line(say("cli.athlete_born", {number(*athlete.birth_year.first())}));
  for (const std::string& one : plan_lines(athlete)) all += line(one);
  for (const model::Session& session : athlete.sessions) {
    all += line(say("cli.session_head", {session.training_day.empty() ? "" : model::iso(*session.training_day.first())}));
    for (const model::SetDone& set : session.sets) all += line(set_line(set));
  }
  if (!athlete.taken_back.empty()) all += line(say("cli.athlete_taken_back"));
  for (const model::SetDone& set : athlete.taken_back) all += line(set_line(set));
  for (const model::Pain& pain : athlete.pains)
    all += line(say(pain.resolved || pain.withdrawn ? "cli.pain_ended" : "cli.pain_line",
                    {pain_place(pain), app::band_words(pain.band), model::iso(pain.by.claimed), report::author_word(pain.by.author)}));
  const std::string twice = contradiction_lines(athlete);
  if (!twice.empty()) all += line(say("cli.athlete_contradictions")) + twice;
  if (athlete.not_understood > 0) all += line(say("exchange.sentence_unknown", {app::counted_entries(athlete.not_understood)}));
  return all;
}

std::string kept(const Kept& kept) {
  if (kept.taken_back) return line(say("cli.said_taken_back", {short_entry(kept.entry), kept.who.name}));
  return line(say("cli.said_kept", {kept.who.name, model::iso(kept.day)})) + line(set_line(kept.set));
}

std::string plan(const model::Athlete& athlete) {
  const std::string twice = contradiction_lines(athlete);
  std::string all;
  for (const std::string& one : plan_lines(athlete)) all += line(one);
  return twice.empty() ? all : all + line(say("cli.athlete_contradictions")) + twice;
}

std::string plan_set(const PlanSet& set, const model::Athlete& athlete) {
  return line(say("cli.said_plan_set", {set.who.name, set.field})) + plan(athlete);
}

std::string made(const Made& made) {
  std::string all = line(say("cli.said_made", {made.file, app::counted_entries(made.ops), app::counted_sets(made.sets), people_text(made.athletes), number(made.bytes)}));
  if (!made.coach.empty()) all += line(say("cli.said_sealed_for", {made.coach}));
  if (made.envelope == sync::Envelope::How::by_passphrase) all += line(say("cli.said_sealed_passphrase"));
  return all;
}

std::string keys(const KeysShown& shown) {
  std::string all = shown.digits.empty() ? line(say("cli.key_no_device", {shown.device.substr(0, 8)})) : line(say("cli.key_device", {shown.device.substr(0, 8), shown.digits}));
  if (shown.coach) {
    all += line(say("cli.key_coach", {shown.coach->name, sync::compare_digits(shown.coach->open.view())}));
    all += line(say(shown.coach->wrapped ? "cli.key_wrapped" : "cli.key_unwrapped"));
  }
  all += shown.squad ? line(say("cli.key_squad_of", {shown.squad->coach, sync::compare_digits(shown.squad->seal_to.view())})) : "";
  for (const app::DeviceKeys::Known& one : shown.known) all += line(say("cli.key_known", {one.device.hex().substr(0, 8), sync::compare_digits(one.key.view())}));
  return all;
}

std::string profiles(const std::vector<app::Book::SealedProfile>& all) {
  if (all.empty()) return line(say("cli.profile_none"));
  std::string out;
  for (const app::Book::SealedProfile& one : all) out += line(say(one.open ? "cli.profile_open" : "cli.profile_shut", {one.name, short_id(one.scope)}));
  return out;
}

std::string merged_file(const MergedFile& file) {
  if (!file.taken) return line(say("cli.merge_refused", {file.file, refusal(file.why)}));
  const app::TakenIn& taken = *file.taken;
  if (taken.squad) return line(say("cli.merge_taken", {file.file, app::joined_words(*taken.squad)}));
  std::string what = taken.fresh > 0 ? say("exchange.sentence_new", {number(taken.fresh), number(taken.known)})
                                     : say("exchange.sentence_known", {app::counted_entries(taken.known)});
  const auto add = [&what](const std::string& more) { what += " " + more; };
  if (taken.not_understood > 0) add(say("exchange.sentence_unknown", {app::counted_entries(taken.not_understood)}));
  if (taken.forks > 0) add(say("exchange.sentence_fork"));
  if (taken.dropped > 0) add(say("exchange.of_erased", {app::counted_entries(taken.dropped)}));
  if (taken.own_past) add(say("exchange.sentence_own_past"));
  std::string missing;
  for (const std::string& span : taken.missing) missing += (missing.empty() ? "" : ", ") + span;
  if (!missing.empty()) add(say("exchange.sentence_missing", {missing}));
  if (const std::string from = app::sender_words(taken); !from.empty()) add(from);
  return line(say("cli.merge_taken", {file.file, what}));
}

std::string merged(const Merged& merged) {
  return merged.contradictions == 0 ? "" : line(say("cli.merge_twice", {number(merged.contradictions)}));
}

std::string looked(const Looked& looked) {
  const sync::Bundle& bundle = looked.bundle.bundle;
  std::string all = line(say("cli.look_head", {looked.file, number(bundle.major) + "." + number(bundle.minor), number(looked.bytes),
                                               app::counted_entries(looked.ops.size()), app::counted_sets(looked.sets.size())}));
  all += line(say("cli.look_from", {bundle.device.hex().substr(0, 8), number(bundle.export_counter), people_text(looked.athletes)}));
  for (const LookedSet& one : looked.sets)
    all += line(one.taken_back ? say("cli.mark_taken_back", {set_line(one.set)}) : set_line(one.set));
  return all;
}

std::string checked(const Checked& checked) {
  std::string all;
  for (const model::Error& finding : checked.report.findings) all += line(say(finding));
  all += line(say(checked.report.findings.empty() ? "cli.check_sound" : "cli.check_findings",
                  {app::counted_entries(checked.report.ops), number(checked.report.chunks), number(checked.report.findings.size())}));
  all += line(say("cli.check_ops", {checked.report.digests.ops.hex()}));
  all += line(say("cli.check_views", {checked.report.digests.views.hex()}));
  if (checked.contradictions > 0) all += line(say("cli.merge_twice", {number(checked.contradictions)}));
  all += missing_lines(checked.missing);
  if (checked.last_report) all += line(say("cli.check_report")) + *checked.last_report;
  return all;
}

}  // namespace words
}  // namespace slipway::native
