// The sides of a one-sided exercise [handbook 5.11, 6.1]. One tap as written says both. Entered one
// by one, a round is done once both are there and counts as its lower side; the other side is
// offered what the first one did, not more, with the same load.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/day_plan.h"

namespace slipway::app {

struct SetDraft;

struct RoundDone {
  const model::SetDone *both = nullptr, *left = nullptr, *right = nullptr;  // warm-up sets are not asked for

  const model::SetDone* entered() const { return both != nullptr ? both : left != nullptr ? left : right; }
  bool whole() const { return both != nullptr || (left != nullptr && right != nullptr); }
  bool half() const { return entered() != nullptr && !whole(); }
  bool by_side() const { return both == nullptr && left != nullptr && right != nullptr; }
  std::optional<model::Side> missing() const;  // of a half done round
};
RoundDone round_of(const DayPlan& plan, std::string_view exercise, std::uint64_t round);

// What is written for what is still to do of a round: of a half done one, what the first side did.
WrittenSet written_now(const model::Athlete& athlete, const DayPlan& plan, const PlanRow& row, std::uint64_t round);

bool mends_warm_up(const model::Athlete& athlete, const SetDraft& draft);  // which has no sides to choose
// The sides that Change offers, in its order; nothing: both.
std::vector<std::optional<model::Side>> offered_sides(const DayPlan& plan, const SetDraft& draft);
// A side that is there is mended; one that is not is entered beside it.
void choose_side(const DayPlan& plan, SetDraft& draft, std::size_t choice);
// The draft of a set that was entered.
void take_over(SetDraft& draft, const model::SetDone& set);

model::Side other_side(model::Side side);
// "each side", "left side", "right side"; nothing for a move of both sides at once.
std::string side_words(const DayPlan& plan, const PlanRow& row, std::uint64_t round);
std::string with_side(const std::string& dose, const std::string& side);  // "12 × 8 kg each side"

}  // namespace slipway::app
