// From the record to the question of the rules: what the log, the plan and the body say
// about one athlete, as rules::SessionSituation. Pure; decides nothing.
//
// Where a field of the plan is written twice and nobody picked yet, the safer value is
// asked about: fewer sets, fewer reps, the lighter load, more in reserve; of a programme each part of its own
// (sync-and-storage 6).
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "model/athlete.h"
#include "rules/decide.h"

namespace slipway::app {

struct AskedAbout {
  model::Day today;
  std::int64_t now_ms = 0;                     // claimed local ms
  std::uint64_t programme_day = 0;             // 1 A, 2 B; 0: every line of the plan
  std::optional<model::RecordId> kit;          // the one at hand; nothing: the first
  rules::TrainNow train_now = rules::TrainNow::no;
  bool adult_expected = false;                 // not ticked in yet, but planned so
};

rules::SessionSituation situation_of(const model::Athlete& athlete, const AskedAbout& asked);

// The plan's lines of a programme day, by block and place; their order is that of
// SessionSituation::lines. Lines of no known exercise are left out.
std::vector<const model::Prescription*> lines_of(const model::Athlete& athlete, std::uint64_t programme_day);
// What counts of it: written twice, the earlier phase, the later start, fewer weeks and days a week, the longer rests.
std::optional<model::Programme> programme_in_use(const model::Athlete& athlete);
// What a line prescribes, as the coach wrote it.
rules::StandingDose prescribed_dose(const model::Prescription& line);

// The joints (model::joint bits) and the word of rules 5.2 for a body part of the pain page.
struct PainPart {
  std::string_view region;     // as stored: "shoulder"
  std::uint32_t joints = 0;
  std::string_view rule_word;  // as the substitution table names it: "front_shoulder"
};
const std::vector<PainPart>& pain_parts();     // in the order of the page
const PainPart* find_pain_part(std::string_view region);
// The soreness page's rows: region as stored, and the patterns it means [1.12].
std::vector<model::Pattern> patterns_of_region(std::string_view region);

}  // namespace slipway::app
