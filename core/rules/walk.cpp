#include "rules/walk.h"

#include <algorithm>

#include "rules/limits.h"
#include "rules/loads.h"
#include "rules/settings.h"

namespace slipway::rules {

namespace {

bool word_is_here(std::string_view word, const std::vector<std::string>& equipment) {
  return std::find(equipment.begin(), equipment.end(), word) != equipment.end();
}

bool one_of_is_here(std::string_view words, const std::vector<std::string>& equipment) {
  for (;;) {
    const auto slash = words.find('/');
    if (word_is_here(words.substr(0, slash), equipment)) return true;
    if (slash == std::string_view::npos) return false;
    words.remove_prefix(slash + 1);
  }
}

std::size_t band_index(const std::string& band, const Kit& kit) {
  return static_cast<std::size_t>(std::find(kit.bands.begin(), kit.bands.end(), band) - kit.bands.begin());
}

bool needs_band(const model::Rung& rung) { return rung.kind == model::ExerciseKind::band_helps; }

// The rung below, before asking whether it is possible here.
std::optional<Place> rung_below(const Place& from, const Kit& kit) {
  const model::Rung* rung = model::find_rung(from.exercise);
  if (!rung) return {};
  if (needs_band(*rung))
    if (std::string thicker = thicker_band(from.band, kit); !thicker.empty()) return Place{from.exercise, thicker};
  const model::Rung* below = model::find_rung(rung->easier);
  if (below && below->id == "VP5") below = model::find_rung("VP4");
  if (!below) return {};
  return Place{below->id, needs_band(*below) ? thinnest_band(kit) : std::string{}};
}

}  // namespace

bool possible_here(const model::Rung& rung, const Kit& kit) {
  if (!kit.equipment) return true;
  return std::all_of(rung.equipment.begin(), rung.equipment.end(),
                     [&](const std::string& words) { return one_of_is_here(words, *kit.equipment); });
}

std::string thinner_band(const std::string& band, const Kit& kit) {
  const std::size_t at = band_index(band, kit);
  return at + 1 < kit.bands.size() ? kit.bands[at + 1] : std::string{};
}

std::string thicker_band(const std::string& band, const Kit& kit) {
  const std::size_t at = band_index(band, kit);
  return at > 0 && at < kit.bands.size() ? kit.bands[at - 1] : std::string{};
}

std::string thinnest_band(const Kit& kit) { return kit.bands.empty() ? std::string{} : kit.bands.back(); }
std::string thickest_band(const Kit& kit) { return kit.bands.empty() ? std::string{} : kit.bands.front(); }

std::optional<Place> easier_place(const Place& from, const SessionSituation& situation) {
  std::optional<Place> place = from;
  for (int walked = 0; walked < 40; ++walked) {
    place = rung_below(*place, situation.kit);
    if (!place) return {};
    const model::Rung* rung = model::find_rung(place->exercise);
    if (!possible_here(*rung, situation.kit) || !exercise_allowed(*rung, situation, true)) continue;
    const auto loads = available_loads(*rung, situation.kit);
    if (rung->loaded && loads && loads->empty()) continue;
    return place;
  }
  return {};
}

std::optional<Place> easier_by(const Place& from, std::uint32_t rungs, const SessionSituation& situation, std::uint32_t* missing) {
  Place place = from;
  *missing = 0;
  for (std::uint32_t i = 0; i < rungs; ++i) {
    const auto easier = easier_place(place, situation);
    if (!easier) {
      *missing = rungs - i;
      break;
    }
    place = *easier;
  }
  if (place == from) return {};
  return place;
}

std::optional<std::int64_t> own_last_load(const Record& record, const model::Rung& rung, std::optional<std::int64_t> most_g) {
  const SessionSituation& situation = *record.situation;
  std::optional<std::int64_t> load;
  for (auto it = record.order.rbegin(); it != record.order.rend() && !load; ++it)
    for (const ExerciseDone& done : record.session(*it).exercises)
      if (done.exercise == rung.id && completed(done) && !load)
        for (const WorkSet& set : work_sets(done))
          if (set.load_g && (!load || *set.load_g < *load)) load = set.load_g;
  if (!load) load = first_load(rung, situation);
  if (load && most_g && *load > *most_g) load = *most_g;
  const LoadLimit limit = load_limit(rung, situation, true);
  if (!load || !limit.allowed) return {};
  if (limit.most_g && *load > *limit.most_g) load = *limit.most_g;
  if (load_is_here(rung, *load, situation.kit)) return load;
  return largest_at_most(rung, *load, situation.kit);
}

void keep_in_age_range(StandingDose& dose, const SessionSituation& situation) {
  const model::Rung* rung = model::find_rung(dose.exercise);
  const AgeRow& row = age_row(situation.athlete);
  if (!rung || !is_youth(situation.athlete)) return;
  dose.sets = std::min(dose.sets, row.sets_most);
  if (rung->is_hold() || rung->kind == model::ExerciseKind::jump) return;
  // A rung whose own default is lower (pull-ups, slow lowering) keeps it: nobody can do reps he does not have.
  const std::uint32_t least = std::min(row.reps_least, rung->lo);
  dose.lo = std::clamp(dose.lo, least, row.reps_most);
  dose.hi = std::max(dose.hi, dose.lo);
}

std::optional<StandingDose> on_rung(const Record& record, const Place& place, const StandingDose& start, std::optional<std::int64_t> most_g) {
  const model::Rung* rung = model::find_rung(place.exercise);
  const model::Rung* old = model::find_rung(start.exercise);
  if (!rung) return {};
  StandingDose dose = start;
  dose.exercise = rung->id;
  dose.band = place.band;
  dose.first_set_band.clear();
  dose.tempo = {};
  dose.load_g.reset();
  if (!old || old->is_hold() != rung->is_hold() || old->lo != rung->lo || old->hi != rung->hi) {
    dose.lo = rung->lo;
    dose.hi = rung->hi;
  }
  if (rung->pattern != model::Pattern::vertical_pull) dose.grip.clear();
  if (rung->loaded) {
    dose.load_g = own_last_load(record, *rung, most_g);
    if (!dose.load_g) return {};
  }
  keep_in_age_range(dose, *record.situation);
  return dose;
}

}  // namespace slipway::rules
