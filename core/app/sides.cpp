#include "app/sides.h"

#include "app/session_board.h"
#include "report/words.h"

namespace slipway::app {

using report::say;

std::optional<model::Side> RoundDone::missing() const {
  if (!half()) return std::nullopt;
  return left == nullptr ? model::Side::left : model::Side::right;
}

RoundDone round_of(const DayPlan& plan, std::string_view exercise, std::uint64_t round) {
  RoundDone out;
  if (plan.session == nullptr) return out;
  for (const model::SetDone& set : plan.session->sets) {
    if (set.round != round || set.warm_up || set.exercise != exercise) continue;
    const model::SetDone*& slot = !set.side ? out.both : *set.side == model::Side::left ? out.left : out.right;
    if (slot == nullptr) slot = &set;
  }
  return out;
}

WrittenSet written_now(const model::Athlete& athlete, const DayPlan& plan, const PlanRow& row, std::uint64_t round) {
  WrittenSet written = written_set(athlete, row, round);
  const RoundDone done = round_of(plan, row.rung->id, round);
  if (!done.half() || done.entered()->left_out) return written;
  const model::SetDone& first = *done.entered();
  written.reps = written.up_to = first.reps.value_or(written.reps);
  if (!first.load.empty()) written.load = *first.load.first();
  if (!first.band.empty()) written.band = first.band;
  return written;
}

bool mends_warm_up(const model::Athlete& athlete, const SetDraft& draft) {
  if (!draft.mends) return false;
  for (const model::Session& session : athlete.sessions)
    for (const model::SetDone& set : session.sets)
      if (set.id == *draft.mends) return set.warm_up;
  return false;
}

std::vector<std::optional<model::Side>> offered_sides(const DayPlan& plan, const SetDraft& draft) {
  const RoundDone done = round_of(plan, draft.exercise, draft.round);
  const bool one_by_one = done.by_side() || (!draft.mends && done.entered() != nullptr);
  if (one_by_one) return {model::Side::left, model::Side::right};
  return {std::nullopt, model::Side::left, model::Side::right};
}

void take_over(SetDraft& draft, const model::SetDone& set) {
  draft.mends = set.id;
  draft.reps = static_cast<std::int64_t>(set.reps.value_or(static_cast<std::uint64_t>(draft.reps)));
  draft.reps_refused.clear();
  if (!set.load.empty()) draft.load = *set.load.first();
  if (!set.band.empty()) draft.band = set.band;
  draft.rir = set.rir.empty() ? std::nullopt : std::optional(*set.rir.first());
  draft.side = set.side;
  draft.form_broke = set.form_broke;
  draft.around = draft.load;
}

void choose_side(const DayPlan& plan, SetDraft& draft, std::size_t choice) {
  const auto offered = offered_sides(plan, draft);
  if (choice >= offered.size() || offered[choice] == draft.side) return;
  const std::optional<model::Side> wanted = offered[choice];
  const RoundDone done = round_of(plan, draft.exercise, draft.round);
  const model::SetDone* there = !wanted || done.both != nullptr ? nullptr : *wanted == model::Side::left ? done.left : done.right;
  if (there != nullptr) {
    take_over(draft, *there);
    return;
  }
  if (draft.mends && draft.side && wanted) {  // the side nobody entered yet
    draft.mends.reset();
    draft.rir.reset();
    draft.form_broke = false;
  }
  draft.side = wanted;
}

model::Side other_side(model::Side side) { return side == model::Side::left ? model::Side::right : model::Side::left; }

std::string side_words(const DayPlan& plan, const PlanRow& row, std::uint64_t round) {
  if (!row.rung->one_sided) return {};
  const auto missing = round_of(plan, row.rung->id, round).missing();
  if (!missing) return say("dose.each_side");
  return say(*missing == model::Side::left ? "dose.left_side" : "dose.right_side");
}

std::string with_side(const std::string& dose, const std::string& side) { return side.empty() ? dose : say("dose.sided", {dose, side}); }

}  // namespace slipway::app
