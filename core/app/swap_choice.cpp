#include "app/swap_choice.h"

#include <algorithm>
#include <string_view>

namespace slipway::app {

namespace {

constexpr std::size_t kOffersMost = 5;  // as many keys as stand on a phone beside the question
// With no bar a pull is a row: the body under a table edge or low branch, or a band [handbook 5.2].
constexpr std::string_view kInsteadOfHanging[] = {"HP3", "HP2", "HP1"};

std::vector<const model::Rung*> candidates(const model::Athlete& athlete, const DayPlan& plan, const PlanRow& row) {
  std::vector<const model::Rung*> out;
  const auto add = [&](const model::Rung* rung) {
    const bool on_board = std::any_of(plan.rows.begin(), plan.rows.end(), [&](const PlanRow& one) { return one.rung == rung; });
    if (rung != nullptr && !on_board && std::find(out.begin(), out.end(), rung) == out.end()) out.push_back(rung);
  };
  for (const model::Prescription& line : athlete.prescriptions)
    if (line.id == row.line) add(model::find_rung(line.exercise.value_or("")));
  const model::Rung* rung = model::find_rung(row.rung->easier);
  add(rung);
  if (row.rung->pattern == model::Pattern::vertical_pull)
    for (const std::string_view instead : kInsteadOfHanging) add(model::find_rung(instead));
  for (; rung != nullptr && out.size() < kOffersMost; rung = model::find_rung(rung->easier)) add(rung);
  return out;
}

bool uses_band(const model::Rung& rung) { return rung.kind == model::ExerciseKind::band_helps || rung.kind == model::ExerciseKind::band_resists; }

}  // namespace

std::vector<SwapOffer> swap_offers(const model::Athlete& athlete, const DayPlan& plan, const PlanRow& row) {
  std::vector<SwapOffer> out;
  if (!row.trains() || plan.finished) return out;
  for (std::uint64_t round = 1; round <= kMaxRounds; ++round)
    if (set_of(plan, row, round) != nullptr) return out;
  const auto lines = lines_of(athlete, plan.programme_day);
  const auto at = static_cast<std::size_t>(std::find_if(lines.begin(), lines.end(), [&](const model::Prescription* line) { return line->id == row.line; }) - lines.begin());
  if (at >= plan.situation.lines.size()) return out;
  for (const model::Rung* rung : candidates(athlete, plan, row)) {
    rules::SessionSituation asked = plan.situation;
    rules::StandingDose& standing = asked.lines[at].standing;
    const bool own = standing.exercise == rung->id;
    if (!own) {
      rules::StandingDose other;
      other.exercise = rung->id;
      other.sets = standing.sets;
      other.lo = rung->lo;
      other.hi = rung->hi;
      other.tgt_rir = standing.tgt_rir;
      if (uses_band(*rung) && !asked.kit.bands.empty()) other.band = asked.kit.bands.front();
      standing = other;
      asked.lines[at].start.reset();
    }
    const rules::SessionDecision gates = rules::decide(asked);
    if (at >= gates.exercises.size()) return {};
    const rules::ExerciseDecision& decision = gates.exercises[at];
    if (decision.action == rules::Action::train && decision.dose.exercise == rung->id) out.push_back({rung, gates, decision});
  }
  return out;
}

model::Result<model::RecordId> swap_row(Book& book, const model::ScopeId& scope, const model::RecordId& session, const PlanRow& row, const SwapOffer& offer,
                                        Author author) {
  model::Swap swap;
  swap.session = session;
  swap.from = row.rung->id;
  swap.to = offer.rung->id;
  const auto kept = book.swap(scope, swap, author);
  if (!kept) return kept;
  PlanRow now = row;
  now.rung = offer.rung;
  now.decision = offer.decision;
  now.swapped_from.clear();
  if (const auto noted = book.note_decisions(scope, {decision_of(book.athlete(scope), session, offer.gates, now)}, author); !noted) return noted.error();
  return kept;
}

}  // namespace slipway::app
