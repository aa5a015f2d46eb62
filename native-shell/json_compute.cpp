// The computations by name: which fields each reads, and what it answers. Grams, seconds and reps, as the names say.
#include <algorithm>
#include <cmath>
#include <functional>

#include "answers.h"
#include "json_fields.h"
#include "json_parts.h"
#include "load/body_weight.h"
#include "load/effort.h"
#include "load/exact.h"
#include "load/session_time.h"
#include "load/tonnage.h"
#include "report/words.h"
#include "rules/decide.h"

namespace slipway::native::json {

namespace {

using model::ErrorKind;
using Answer = model::Result<Json>;

constexpr std::int64_t kMassMostG = 1'000'000, kRepsMost = 1000, kSecondsMost = 86'400, kSetsMost = 100;
constexpr double kMs = 1000;

Json word(load::Shown shown) { return shown == load::Shown::plain ? "plain" : shown == load::Shown::rough ? "rough" : "hidden"; }

// ---- 1.1, 1.2 ----

load::SetResult set_of(Fields& in) {
  load::SetResult set;
  set.load = static_cast<double>(in.need_whole("load_g", 1, kMassMostG));
  set.reps = static_cast<std::uint32_t>(in.need_whole("reps", 1, kRepsMost));
  set.rir_halves = in.rir_halves("rir");
  return set;
}

Answer e1rm(Fields& in, load::Formula formula) {
  const load::SetResult set = set_of(in);
  in.close();
  if (!in.fine()) return Json();
  const auto found = load::estimate(formula, set);
  if (!found) return found.error();
  return Json{{"formula", load::name(formula)}, {"e1rm_g", found->e1rm}, {"reps_to_failure", found->reps_to_failure}, {"shown", word(found->shown)}};
}

Answer e1rm_all(Fields& in) {
  const load::SetResult set = set_of(in);
  in.close();
  if (!in.fine()) return Json();
  Json out = Json::object();
  std::optional<load::Shown> shown;
  for (const load::Formula formula : load::kFormulas) {
    const auto found = load::estimate(formula, set);
    out[std::string(load::name(formula)) + "_g"] = found ? Json(found->e1rm) : Json();  // null: no answer there
    if (found) shown = found->shown;
  }
  out["shown"] = shown ? word(*shown) : Json();
  return out;
}

Answer percent_1rm(Fields& in) {
  const double reps = in.number("reps", 0, kRepsMost).value_or(0);
  if (!in.has("reps")) in.refuse("ask.missing", "reps");
  const auto rir = in.rir_halves("rir");
  in.close();
  if (!in.fine()) return Json();
  const auto percent = load::percent_of_1rm(reps + rir.value_or(0) / 2.0);
  if (!percent) return percent.error();
  return Json{{"percent", *percent}};
}

// ---- 1.3 ----

load::PullUp pull_up_of(Fields& in) {
  load::PullUp out;
  out.body_mass_g = in.need_whole("body_mass_g", 1, load::kBodyMassMostG);
  out.added_g = in.whole("added_g", 0, load::kBodyMassMostG).value_or(0);
  out.assist_g = in.whole("assist_g", 0, load::kBodyMassMostG).value_or(0);
  return out;
}

Answer pull_up_total(Fields& in) {
  const load::PullUp pull_up = pull_up_of(in);
  in.close();
  if (!in.fine()) return Json();
  const auto total = load::pull_up_total(pull_up);
  if (!total) return total.error();
  return Json{{"total_g", *total}};
}

load::Formula formula_of(Fields& in) {
  const auto said = in.text("formula");
  const auto found = load::find_formula(said.value_or("epley"));
  std::string all;
  for (const load::Formula one : load::kFormulas) all += (all.empty() ? "" : ", ") + std::string(load::name(one));
  if (!found) in.refuse("ask.choice", "formula", {all});
  return found.value_or(load::Formula::epley);
}

Answer pull_up_e1rm(Fields& in) {
  const load::Formula formula = formula_of(in);
  const load::PullUp pull_up = pull_up_of(in);
  const auto reps = static_cast<std::uint32_t>(in.need_whole("reps", 1, kRepsMost));
  const auto rir = in.rir_halves("rir");
  in.close();
  if (!in.fine()) return Json();
  const auto found = load::pull_up_estimate(formula, pull_up, reps, rir);
  if (!found) return found.error();
  return Json{{"formula", load::name(formula)},
              {"total_g", *load::pull_up_total(pull_up)},
              {"e1rm_total_g", found->total.e1rm},
              {"e1rm_added_g", found->unassisted ? Json(found->added_g) : Json()},
              {"assist_needed_g", found->assist_needed_g},
              {"unassisted", found->unassisted},
              {"shown", word(found->total.shown)}};
}

Answer push_up_load(Fields& in) {
  static constexpr auto kRaised = std::to_array<std::pair<std::string_view, load::Raised>>(
      {{"hands", load::Raised::hands}, {"feet", load::Raised::feet}, {"knees", load::Raised::knees_on_floor}});
  const std::int64_t mass = in.need_whole("body_mass_g", 1, load::kBodyMassMostG);
  const auto raised = in.choice("raised", kRaised).value_or(load::Raised::hands);
  const double height = in.number("height_cm", 0, kRepsMost).value_or(0);
  const std::int64_t added = in.whole("added_g", 0, load::kBodyMassMostG).value_or(0);
  in.close();
  if (!in.fine()) return Json();
  const auto share = load::push_up_share(raised, height);
  if (!share) return share.error();
  const auto load_g = load::push_up_load_g(share->fraction, mass, added);
  if (!load_g) return load_g.error();
  return Json{{"load_g", *load_g}, {"fraction", share->fraction}, {"estimated", share->estimated}};
}

struct Jump {
  std::int64_t from_g = 0, to_g = 0;
  std::uint32_t reps = 0;
};
Jump jump_of(Fields& in) {
  Jump out{in.need_whole("from_g", 1, kMassMostG), in.need_whole("to_g", 1, kMassMostG), static_cast<std::uint32_t>(in.need_whole("reps", 1, kRepsMost))};
  if (in.fine() && out.to_g <= out.from_g) in.refuse("ask.heavier", "to_g", {in.path("from_g")});
  in.close();
  return out;
}

Answer reps_to_earn(Fields& in) {
  const Jump jump = jump_of(in);
  if (!in.fine()) return Json();
  return Json{{"reps", rules::reps_to_earn(jump.from_g, jump.to_g, jump.reps)}};
}

Answer expected_reps(Fields& in) {
  const Jump jump = jump_of(in);
  if (!in.fine()) return Json();
  const auto reps = rules::reps_expected(jump.from_g, jump.to_g, jump.reps);
  return Json{{"reps", reps ? Json(*reps) : Json()}, {"exact_reps", load::expected_reps(jump.from_g, jump.to_g, jump.reps)}};
}

Json word(rules::Step step) {
  switch (step) {
    case rules::Step::usable: return "usable";
    case rules::Step::big: return "big";
    case rules::Step::none: return "none";
    case rules::Step::not_applicable: break;
  }
  return "not_applicable";
}

Json or_null(const std::optional<std::int64_t>& value) { return value ? Json(*value) : Json(); }

Answer load_step(Fields& in) {
  const std::int64_t from = in.need_whole("load_g", 1, kMassMostG);
  const auto loads = in.wholes("kit_loads_g", 1, kMassMostG);
  in.close();
  if (!in.fine()) return Json();
  const auto found = rules::load_step(from, loads);
  return Json{{"step", word(found.step)}, {"load_g", or_null(found.load_g)}};
}

Answer load_cut(Fields& in) {
  const std::int64_t from = in.need_whole("load_g", 1, kMassMostG);
  const std::int64_t percent = in.need_whole("percent", 10, 30);
  if (in.fine() && percent % 10 != 0) in.refuse("ask.choice", "percent", {"10, 20, 30"});
  const auto loads = in.wholes("kit_loads_g", 1, kMassMostG);
  in.close();
  if (!in.fine()) return Json();
  return Json{{"load_g", or_null(rules::load_cut(from, static_cast<std::uint32_t>(percent), loads))}};
}

// ---- 1.4, 2.1 ----

Answer set_rpe(Fields& in) {
  if (!in.has("rir")) in.refuse("ask.missing", "rir");
  const auto rir = in.rir_halves("rir");
  in.close();
  if (!in.fine()) return Json();
  const auto halves = load::set_rpe_halves(*rir);
  return Json{{"rpe", halves ? Json(*halves / 2.0) : Json()}};
}

Answer session_load(Fields& in) {
  for (const char* name : {"rating", "minutes"})
    if (!in.has(name)) in.refuse("ask.missing", name);
  const double rating = in.number("rating", 0, 10).value_or(0), minutes = in.number("minutes", 1, 600).value_or(1);
  in.close();
  if (!in.fine()) return Json();
  const auto found = load::session_load_au(rating, minutes);
  if (!found) return found.error();
  return Json{{"load_au", *found}};
}

// ---- 1.7 ----

std::int64_t ms(Fields& in, std::string_view name, std::int64_t if_missing_ms) {
  const auto seconds = in.number(name, 0, kSecondsMost);
  return seconds ? static_cast<std::int64_t>(std::llround(*seconds * kMs)) : if_missing_ms;
}

load::Work work_of(Fields in) {
  load::Work out;
  out.exercise = in.need_text("exercise");
  const model::Rung* rung = model::find_rung(out.exercise);
  if (rung == nullptr) in.refuse("ask.exercise", "exercise", {out.exercise});
  const auto reps = in.whole("reps", 1, kRepsMost);
  const bool held = in.has("hold_s");
  if (!held && !reps) in.refuse("ask.missing", "reps");
  out.reps = held ? 1 : static_cast<std::uint32_t>(reps.value_or(1));
  out.rep_ms = held ? ms(in, "hold_s", 0) : ms(in, "rep_s", rung != nullptr ? rung->rep_ms : 0);
  out.sides = static_cast<std::uint32_t>(in.whole("sides", 1, 2).value_or(rung != nullptr && rung->one_sided ? 2 : 1));
  out.least_rest_ms = ms(in, "least_rest_s", rung != nullptr ? rung->rest_s * 1000 : 0);
  out.set_up_ms = ms(in, "set_up_s", load::kSetUpMs);
  in.close();
  return out;
}

load::Block block_of(Fields& in) {
  load::Block out;
  out.rounds = static_cast<std::uint32_t>(in.need_whole("rounds", 1, kSetsMost));
  out.between_exercises_ms = ms(in, "between_exercises_s", 0);
  out.between_rounds_ms = ms(in, "between_rounds_s", 0);
  for (Fields& one : in.objects("exercises")) out.work.push_back(work_of(one));
  in.close();
  return out;
}

Json seconds(std::int64_t value_ms) { return value_ms % 1000 == 0 ? Json(value_ms / 1000) : Json(static_cast<double>(value_ms) / kMs); }

Answer session_time(Fields& in) {
  load::SessionPlan plan;
  plan.warm_up_ms = ms(in, "warm_up_s", 0);
  plan.cool_down_ms = ms(in, "cool_down_s", 0);
  plan.change_ms = ms(in, "change_s", load::kChangeMs);
  for (Fields& one : in.objects("blocks")) plan.blocks.push_back(block_of(one));
  in.close();
  if (!in.fine()) return Json();
  const auto found = load::session_time(plan);
  if (!found) return found.error();
  const char* length = found->length == load::Length::below ? "below" : found->length == load::Length::above ? "above" : "fine";
  return Json{{"time_s", seconds(found->ms)}, {"time_min", rounded(static_cast<double>(found->ms) / kMs / 60, 1)}, {"length", length}};
}

Answer rest_check(Fields& in) {
  const load::Block block = block_of(in);
  if (!in.fine()) return Json();
  const auto found = load::rests_of(block);
  if (!found) return found.error();
  Json rests = Json::array();
  for (std::size_t i = 0; i < found->size(); ++i) {
    const load::Rest& rest = (*found)[i];
    const char* says = rest.says == load::RestSays::fine ? "fine" : rest.says == load::RestSays::too_short ? "too_short" : "may_be_shorter";
    rests.push_back({{"exercise", block.work[i].exercise}, {"rest_s", rest.ms ? seconds(*rest.ms) : Json()},
                     {"least_rest_s", seconds(block.work[i].least_rest_ms)}, {"says", says}});
  }
  return Json{{"round_s", seconds(load::round_ms(block))}, {"rests", rests}};
}

// ---- 2.3, 0.4 ----

Answer tonnage(Fields& in) {
  const std::string id = in.need_text("exercise");
  const model::Rung* rung = model::find_rung(id);
  if (rung == nullptr) in.refuse("ask.exercise", "exercise", {id});
  const std::int64_t sets = in.whole("sets", 1, kSetsMost).value_or(1);
  load::Lifted lifted;
  lifted.reps = static_cast<std::uint32_t>(in.need_whole("reps", 1, kRepsMost));
  lifted.load_g = in.whole("load_g", 1, kMassMostG);
  lifted.body_mass_g = in.whole("body_mass_g", 1, load::kBodyMassMostG);
  lifted.sides = static_cast<std::uint32_t>(in.whole("sides", 1, 2).value_or(rung != nullptr && rung->one_sided ? 2 : 1));
  in.close();
  if (!in.fine()) return Json();
  const auto found = load::tonnage_hundredths_g(*rung, lifted);
  return Json{{"tonnage_g", found ? Json(static_cast<double>(*found * sets) / 100) : Json()}, {"counts", found.has_value()}};
}

Answer quantity(Fields& in) {
  const std::string typed = in.need_text("text");
  in.close();
  if (!in.fine()) return Json();
  const auto read = model::read_quantity(typed, model::Unit::kg);
  const bool mass = read && (read->unit == model::Unit::kg || read->unit == model::Unit::lb);
  if (!mass) return model::error(ErrorKind::invalid, "ask.quantity", {typed});
  return Json{{"typed", model::number_text(*read)}, {"unit", read->unit == model::Unit::lb ? "lb" : "kg"},
              {"exact_g", load::exact_grams(*read)}, {"load_g", model::grams(*read)}};
}

Answer days_between(Fields& in) {
  const model::Day from = in.need_day("from"), to = in.need_day("to");
  in.close();
  if (!in.fine()) return Json();
  return Json{{"days", load::days_between(from, to)}};
}

struct Computation {
  std::string_view name;
  std::function<Answer(Fields&)> run;
};

const std::vector<Computation>& computations() {
  static const std::vector<Computation> kAll = [] {
    std::vector<Computation> all;
    for (const load::Formula formula : load::kFormulas)
      all.push_back({load::name(formula), [formula](Fields& in) { return e1rm(in, formula); }});
    for (const auto& [name, run] : std::initializer_list<std::pair<std::string_view, Answer (*)(Fields&)>>{
             {"e1rm_all", e1rm_all}, {"percent_1rm", percent_1rm}, {"pull_up_total", pull_up_total}, {"pull_up_e1rm", pull_up_e1rm},
             {"push_up_load", push_up_load}, {"reps_to_earn", reps_to_earn}, {"expected_reps", expected_reps}, {"load_step", load_step},
             {"load_cut", load_cut}, {"set_rpe", set_rpe}, {"session_load", session_load}, {"session_time", session_time},
             {"rest_check", rest_check}, {"tonnage", tonnage}, {"quantity", quantity}, {"days_between", days_between}})
      all.push_back({name, run});
    return all;
  }();
  return kAll;
}

model::Error no_such(const std::string& name) {
  std::string all;
  for (const Computation& one : computations()) all += (all.empty() ? "" : ", ") + std::string(one.name);
  return model::error(ErrorKind::invalid, "ask.no_formula", {name, all});
}

}  // namespace

model::Result<std::string> computed(const std::string& name, std::string_view input) {
  auto read = parse(input);
  if (!read) return read.error();
  std::string wanted = name;
  if (wanted.empty() && read->is_object() && read->contains("compute") && (*read)["compute"].is_string()) {
    wanted = (*read)["compute"].get<std::string>();
    read->erase("compute");
  }
  if (wanted.empty()) return model::error(ErrorKind::invalid, "ask.missing", {"compute"});
  const auto found = std::find_if(computations().begin(), computations().end(), [&](const Computation& one) { return one.name == wanted; });
  if (found == computations().end()) return no_such(wanted);
  std::optional<model::Error> trouble;
  Fields in(*read, "", trouble);
  const Answer answer = found->run(in);
  if (trouble) return *trouble;
  if (!answer) return answer.error();
  return answer->dump();
}

std::string failed_line(const model::Error& why, std::uint64_t line) {
  return Json{{"line", line}, {"error", of(why)}}.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace slipway::native::json
