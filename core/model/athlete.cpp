#include "model/athlete.h"

#include <algorithm>
#include <chrono>

namespace slipway::model {

namespace {

constexpr std::uint64_t kBandTop[] = {0, 2, 5, 10};  // upper end of a pain band

std::chrono::year_month_day civil(Day day) {
  return std::chrono::year_month_day{std::chrono::local_days{std::chrono::days{day.since_1970}}};
}

// In the month of birth itself both ages are possible.
Ages ages_of(std::uint64_t year, std::optional<std::uint64_t> month, Day day) {
  const auto date = civil(day);
  const std::int32_t had = static_cast<std::int32_t>(static_cast<int>(date.year()) - static_cast<std::int64_t>(year));
  if (!month) return {had - 1, had};
  const auto now = static_cast<std::uint64_t>(static_cast<unsigned>(date.month()));
  return {*month < now ? had : had - 1, *month <= now ? had : had - 1};
}

}  // namespace

std::uint64_t Pain::worst() const {
  if (amount) return *amount;
  return band < 4 ? kBandTop[band] : kBandTop[3];
}

bool Kit::has(std::string_view word) const { return std::find(equipment.begin(), equipment.end(), word) != equipment.end(); }

bool SetDone::as_written() const {
  if (left_out || !written_reps || reps.empty()) return false;
  if (*reps.first() != *written_reps) return false;
  if (!written_load) return load.empty();
  return !load.empty() && grams(*load.first()) == grams(*written_load);
}

std::optional<Ages> ages_on(const Athlete& athlete, Day day) {
  std::optional<Ages> widest;
  for (const auto& year : athlete.birth_year.all) {
    std::vector<std::optional<std::uint64_t>> months;
    for (const auto& month : athlete.birth_month.all) months.push_back(month.value);
    if (months.empty()) months.push_back(std::nullopt);
    for (const auto& month : months) {
      const Ages ages = ages_of(year.value, month, day);
      if (!widest) widest = ages;
      widest->lowest = std::min(widest->lowest, ages.lowest);
      widest->highest = std::max(widest->highest, ages.highest);
    }
  }
  return widest;
}

bool is_youth(const Athlete& athlete, Day day) {
  const auto ages = ages_on(athlete, day);
  return !ages || ages->lowest < kAdultAge;
}

const BodyMass* body_mass_on(const Athlete& athlete, Day day) {
  const BodyMass* last = nullptr;
  for (const BodyMass& entry : athlete.body_masses)
    if (!(day < entry.day)) last = &entry;  // they stand by day
  if (last != nullptr && day.since_1970 - last->day.since_1970 > kBodyMassDays) return nullptr;
  return last;
}

const SignOff* counting_sign_off(const Athlete& athlete, std::string_view exercise) {
  for (const SignOff& sign_off : athlete.counting_sign_offs)
    if (sign_off.exercise == exercise) return &sign_off;
  return nullptr;
}

std::optional<bool> consent_for(const Athlete& athlete, ConsentThing thing) {
  for (const Consent& consent : athlete.counting_consents)
    if (consent.thing == thing) return consent.given;
  return std::nullopt;
}

bool asks_consent(const Athlete& athlete, Day day) {
  if (const auto ages = ages_on(athlete, day)) return ages->lowest < kAdultAge;
  return athlete.group.value_or("") == "youth";
}

bool is_consent_due(const Athlete& athlete, ConsentThing thing, Day day) {
  for (const Consent& consent : athlete.counting_consents)
    if (consent.thing == thing) return day.since_1970 - consent.day.since_1970 >= kConsentDays;
  return true;
}

bool may_keep(const Athlete& athlete, ConsentThing thing, Day day) {
  if (!asks_consent(athlete, day)) return true;
  return !is_consent_due(athlete, thing, day) && consent_for(athlete, thing).value_or(false);
}

const Illness* illness_on(const Athlete& athlete, Day day) {
  const Illness* last = nullptr;
  for (const Illness& entry : athlete.illnesses) {  // they stand by day; of one day the gravest counts
    if (day < entry.day) break;
    if (last == nullptr || last->day < entry.day || last->state < entry.state) last = &entry;
  }
  return last;
}

bool adult_ticked_in(const Athlete& athlete, const RecordId& session) {
  return std::any_of(athlete.tick_ins.begin(), athlete.tick_ins.end(),
                     [&](const TickIn& tick) { return tick.session == session && tick.role != AdultRole::unsaid && !tick.withdrawn; });
}

namespace {

// "Seen by a doctor or physiotherapist" frees an adult of a local sign and of pain below 6; all else needs the word that
// training is allowed [handbook 2.7].
bool seen_is_enough(const Athlete& athlete, const Clearance& clearance, const RecordId& report) {
  if (is_youth(athlete, clearance.day)) return false;
  for (const Pain& pain : athlete.pains)
    if (pain.id == report) return pain.worst() < kFirmPain;
  for (const RedFlag& flag : athlete.red_flags)
    if (flag.id == report) return flag.group == FlagGroup::local;
  return false;
}

}  // namespace

bool is_cleared(const Athlete& athlete, const RecordId& report) {
  return std::any_of(athlete.clearances.begin(), athlete.clearances.end(), [&](const Clearance& clearance) {
    if (std::find(clearance.reports.begin(), clearance.reports.end(), report) == clearance.reports.end()) return false;
    if (clearance.withdrawn || (clearance.role == ClearanceRole::self && is_youth(athlete, clearance.day))) return false;
    return clearance.clinician_allowed || seen_is_enough(athlete, clearance, report);
  });
}

const Session* session_on(const Athlete& athlete, Day day) {
  const Session* found = nullptr;
  for (const Session& session : athlete.sessions)
    if (!session.training_day.empty() && *session.training_day.first() == day) found = &session;
  return found;
}

const Session* find_session(const Athlete& athlete, const RecordId& id) {
  for (const Session& session : athlete.sessions)
    if (session.id == id) return &session;
  return nullptr;
}

}  // namespace slipway::model
