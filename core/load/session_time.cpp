#include "load/session_time.h"

namespace slipway::load {

namespace {

using model::ErrorKind;
using model::Pattern;

// Generous: a plan beyond these is a slip of the finger, and within them no sum can overflow.
constexpr std::int64_t kDayMs = 86'400'000;
constexpr std::uint32_t kRepsMost = 1000, kRoundsMost = 100;
constexpr std::size_t kListMost = 100;

bool time_fits(std::int64_t ms) { return ms >= 0 && ms <= kDayMs; }
std::int64_t work_ms(const Work& work) { return std::int64_t{work.reps} * work.rep_ms * std::int64_t{work.sides}; }

model::Result<model::Done> checked(const Block& block) {
  if (block.work.empty() || block.rounds == 0) return model::error(ErrorKind::invalid, "load.plan_empty");
  bool fits = block.rounds <= kRoundsMost && block.work.size() <= kListMost && time_fits(block.between_exercises_ms) && time_fits(block.between_rounds_ms);
  for (const Work& work : block.work)
    fits = fits && work.reps >= 1 && work.reps <= kRepsMost && (work.sides == 1 || work.sides == 2) && time_fits(work.rep_ms) &&
           work.rep_ms > 0 && time_fits(work.set_up_ms) && time_fits(work.least_rest_ms);
  if (!fits) return model::error(ErrorKind::invalid, "load.plan_range");
  return model::Done{};
}

// Where in its round a set begins (after the set-up) and ends.
struct Span {
  std::int64_t begins = 0, ends = 0;
};
std::vector<Span> spans(const Block& block) {
  std::vector<Span> out;
  std::int64_t at = 0;
  for (const Work& work : block.work) {
    at += work.set_up_ms;
    out.push_back({at, at + work_ms(work)});
    at = out.back().ends + block.between_exercises_ms;
  }
  return out;
}

RestSays judged(std::int64_t rest_ms, std::int64_t least_ms) {
  if (rest_ms < least_ms) return RestSays::too_short;
  return rest_ms > kRestLongMs ? RestSays::long_enough_to_cut : RestSays::fine;
}

bool pair_of(const model::Rung& one, const model::Rung& other, Pattern pattern, std::string_view id) {
  return (one.pattern == pattern && other.id == id) || (other.pattern == pattern && one.id == id);
}
bool pair_of(const model::Rung& one, const model::Rung& other, Pattern first, Pattern second) {
  return (one.pattern == first && other.pattern == second) || (one.pattern == second && other.pattern == first);
}

}  // namespace

bool same_muscles(const model::Rung& one, const model::Rung& other) {
  return one.pattern == other.pattern || pair_of(one, other, Pattern::vertical_pull, Pattern::horizontal_pull) ||
         pair_of(one, other, Pattern::vertical_pull, "TR11") || pair_of(one, other, Pattern::push, "TR8") ||
         pair_of(one, other, Pattern::squat, Pattern::lunge) || pair_of(one, other, Pattern::hinge, "SQ8");
}

std::int64_t round_ms(const Block& block) {
  std::int64_t sum = block.work.empty() ? 0 : static_cast<std::int64_t>(block.work.size() - 1) * block.between_exercises_ms;
  for (const Work& work : block.work) sum += work_ms(work) + work.set_up_ms;
  return sum;
}

model::Result<SessionTime> session_time(const SessionPlan& plan) {
  if (plan.blocks.empty()) return model::error(ErrorKind::invalid, "load.plan_empty");
  if (plan.blocks.size() > kListMost || !time_fits(plan.warm_up_ms) || !time_fits(plan.cool_down_ms) || !time_fits(plan.change_ms))
    return model::error(ErrorKind::invalid, "load.plan_range");
  std::int64_t ms = plan.warm_up_ms + plan.cool_down_ms + static_cast<std::int64_t>(plan.blocks.size() - 1) * plan.change_ms;
  for (const Block& block : plan.blocks) {
    if (const auto fine = checked(block); !fine) return fine.error();
    ms += std::int64_t{block.rounds} * round_ms(block) + std::int64_t{block.rounds - 1} * block.between_rounds_ms;
  }
  const Length length = ms < kSessionLeastMs ? Length::below : ms > kSessionMostMs ? Length::above : Length::fine;
  return SessionTime{.ms = ms, .length = length};
}

model::Result<std::vector<Rest>> rests_of(const Block& block) {
  if (const auto fine = checked(block); !fine) return fine.error();
  std::vector<const model::Rung*> rungs;
  for (const Work& work : block.work) {
    rungs.push_back(model::find_rung(work.exercise));
    if (rungs.back() == nullptr) return model::error(ErrorKind::invalid, "load.plan_exercise", {work.exercise});
  }
  const std::vector<Span> at = spans(block);
  const std::int64_t cycle = round_ms(block) + block.between_rounds_ms;
  std::vector<Rest> out;
  for (std::size_t i = 0; i < block.work.size(); ++i) {
    std::optional<std::int64_t> rest;
    for (std::size_t j = 0; j < i; ++j)  // earlier in this round: the latest one counts
      if (same_muscles(*rungs[i], *rungs[j])) rest = at[i].begins - at[j].ends;
    if (!rest && block.rounds > 1)
      for (std::size_t j = i; j < block.work.size(); ++j)  // in the round before: itself, or whoever came later
        if (j == i || same_muscles(*rungs[i], *rungs[j])) rest = at[i].begins + cycle - at[j].ends;
    out.push_back({rest, rest ? judged(*rest, block.work[i].least_rest_ms) : RestSays::fine});
  }
  return out;
}

}  // namespace slipway::load
