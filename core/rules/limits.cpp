#include "rules/limits.h"

#include <array>
#include <string_view>

#include "rules/loads.h"
#include "rules/settings.h"
#include "rules/sign_off.h"

namespace slipway::rules {

namespace {

constexpr std::int32_t kUnknownAge = 10;  // nobody said: the limits of 10-13, the safe side
constexpr std::int64_t kNotAllowed = -1, kNoLimit = -2;
constexpr std::int64_t kNoMass10G = 6'000, kNoMass10LoadedG = 10'000, kNoMass14G = 16'000;  // in the hands [1.3]

// 5.7. 18 and over: "as prescribed"; 50 and over: what the coach prescribes stays too.
constexpr std::array<AgeRow, 6> kAgeRows{{{0, 2, 2, 8, 15},
                                          {10, 2, 3, 8, 15},
                                          {14, 3, 3, 6, 15},
                                          {16, 3, 4, 6, 15},
                                          {18, 3, 99, 1, 999},
                                          {50, 2, 99, 1, 999}}};

enum class Band { ten, fourteen };
struct LimitRow {
  Band age;
  std::string_view exercises;               // ids between spaces
  std::int64_t percent, loaded_percent;     // of body mass, both hands together (HP: a hand)
};

// 5.7, column "load limits". What is named nowhere has no limit of its own.
constexpr std::array<LimitRow, 10> kLimitRows{{
    {Band::ten, " SQ4 SQ5 HG4 HG6 ", 25, 50},
    {Band::ten, " SQ6 SQ7 HG5 LU6 LU7 ", 15, 25},
    {Band::ten, " HP4 HP6 ", 10, 15},
    {Band::ten, " SQ8 HG7 VP8 PU8 ", kNotAllowed, kNotAllowed},
    {Band::fourteen, " SQ4 SQ5 ", 50, 50},
    {Band::fourteen, " HG4 HG6 ", 50, 75},
    {Band::fourteen, " SQ6 SQ7 HG5 LU6 LU7 ", 30, 30},
    {Band::fourteen, " HP4 HP6 ", 25, 25},
    {Band::fourteen, " SQ8 ", kNotAllowed, 50},
    {Band::fourteen, " VP8 PU8 ", kNotAllowed, 10},
}};

bool names(std::string_view list, const std::string& id) {
  return list.find(" " + id + " ") != std::string_view::npos;
}

std::int64_t percent_of(Band age, const std::string& id, bool loaded) {
  if (age == Band::fourteen && id == "HG7") return kNotAllowed;  // from 16 years [5]
  for (const LimitRow& row : kLimitRows)
    if (row.age == age && names(row.exercises, id)) return loaded ? row.loaded_percent : row.percent;
  return kNoLimit;
}

std::int64_t limit_without_mass(Band age, bool loaded) {
  if (age == Band::fourteen) return kNoMass14G;
  return loaded ? kNoMass10LoadedG : kNoMass10G;
}

bool ticked(const Athlete& athlete, const std::string& id) {
  for (const auto& tick : athlete.ticks)
    if (tick == id) return true;
  return false;
}

// LOADED of the exercise itself, or, for what nobody can do before, of the rung it comes from.
bool loaded_for(const std::string& id, const SessionSituation& situation, bool in_use) {
  if (has_loaded(id, situation, in_use)) return true;
  for (const auto& [heavy, from] : {std::pair{"VP8", "VP6"}, {"PU8", "PU4"}, {"SQ8", "SQ7"}, {"HG7", "HG6"}})
    if (id == heavy && has_loaded(from, situation, in_use)) return true;
  return false;
}

}  // namespace

bool is_youth(const Athlete& athlete) { return limit_age(athlete) < kAdultAge; }
bool is_masters(const Athlete& athlete) { return athlete.age_high.value_or(0) >= kMastersAge; }
std::int32_t limit_age(const Athlete& athlete) { return athlete.age_low.value_or(kUnknownAge); }

const AgeRow& age_row(const Athlete& athlete) {
  const std::int32_t age = is_masters(athlete) ? kMastersAge : limit_age(athlete);
  const AgeRow* found = &kAgeRows.front();
  for (const AgeRow& row : kAgeRows)
    if (age >= row.from_age && (row.from_age < kMastersAge || is_masters(athlete))) found = &row;
  return *found;
}

LoadLimit load_limit(const model::Rung& rung, const SessionSituation& situation, bool in_use) {
  const std::int32_t age = limit_age(situation.athlete);
  if (!rung.loaded || rung.id == "VP4m") return {};  // assistance takes weight away
  if (age >= kAdultAge) return {};
  if (age < 10) return {false, {}};                  // no added load under 10
  if (rung.id == "SQ8" && !ticked(situation.athlete, "SQ8")) return {false, {}};  // 5.1
  if (age >= kLoadAge) return {rung.id != "HG7" || loaded_for("HG7", situation, in_use), {}};
  const Band band = age >= kLoadedAge ? Band::fourteen : Band::ten;
  const bool loaded = loaded_for(rung.id, situation, in_use);
  const std::int64_t percent = percent_of(band, rung.id, loaded);
  if (percent == kNotAllowed) return {false, {}};
  if (percent == kNoLimit) return {};
  const std::int64_t hands = limit_mass(rung, 1);
  const BodyMass* mass = body_mass_on(situation.athlete, situation.today);
  if (mass) return {true, mass->g * percent / 100 / hands};
  if (rung.id == "VP8" || rung.id == "PU8") return {false, {}};
  return {true, limit_without_mass(band, loaded) / hands};
}

bool load_allowed(const model::Rung& rung, std::int64_t load_g, const SessionSituation& situation) {
  const LoadLimit limit = load_limit(rung, situation, false);
  return limit.allowed && (!limit.most_g || load_g <= *limit.most_g);
}

bool exercise_allowed(const model::Rung& rung, const SessionSituation& situation, bool in_use) {
  return load_limit(rung, situation, in_use).allowed;
}

}  // namespace slipway::rules
