// What somebody new begins with: a kit, and a programme of two sessions in turn, A and B,
// by age and kit (handbook 5.1, 5.6, 5.8). The coach writes over it.
#include <algorithm>

#include "app/book_values.h"
#include "model/ladder.h"
#include "ops/registry.h"
#include "ops/views.h"

namespace slipway::app {

namespace {

namespace plan_tag = ops::prescription_tag;

// A first load without a body mass: 8 kg or less, a youth's 4 kg or less [5.8].
constexpr std::int64_t kFirstLoadGrams = 8'000, kYouthFirstLoadGrams = 4'000;
constexpr std::int32_t kLoadFromAge = 10, kShortRangeFromAge = 14, kHigherReserveFromAge = 50;  // [5.7]
// 3 sets of 8 to 12 as in 5.6; reserve of the general phase, more for youth, for 50 and over [5.4] and
// in shoulder care [5.1].
constexpr std::uint64_t kMainSets = 3, kMainLow = 8, kMainHigh = 12, kRir = 2, kCarefulRir = 3;
// Rests of a circuit as in the worked example of 1.7.
constexpr std::uint64_t kRestBetweenExercisesMs = 60'000, kRestBetweenRoundsMs = 120'000;
constexpr std::uint64_t kWeeks = 8, kDaysAWeek = 2;  // of the general phase [5.4, 5.7]
// Kettlebells in close steps [1.3: implements commonly found], in kilograms.
constexpr std::int64_t kKitLoadsKg[] = {4, 6, 8, 10, 12, 14, 16, 18, 20, 24, 28, 32};

bool one_is_here(const KitEntry& kit, const std::string& need) {
  const auto has = [&](std::string_view word) {
    if (word == "band" && kit.bands && !kit.bands->empty()) return true;
    return kit.equipment && std::find(kit.equipment->begin(), kit.equipment->end(), word) != kit.equipment->end();
  };
  std::size_t at = 0;
  while (at <= need.size()) {
    const std::size_t end = std::min(need.find('/', at), need.size());
    if (has(std::string_view(need).substr(at, end - at))) return true;
    at = end + 1;
  }
  return false;
}

// A list that nobody made rules nothing out.
bool possible(const KitEntry& kit, std::string_view exercise) {
  const model::Rung* rung = model::find_rung(exercise);
  if (rung == nullptr) return false;
  if (!kit.equipment) return true;
  return std::all_of(rung->equipment.begin(), rung->equipment.end(), [&](const std::string& need) { return one_is_here(kit, need); });
}

// The heaviest here that is light enough to begin with.
std::optional<model::Quantity> first_load(const KitEntry& kit, std::int64_t at_most_g) {
  std::optional<model::Quantity> best;
  for (const model::Quantity& load : kit.loads.value_or(std::vector<model::Quantity>{}))
    if (model::grams(load) > 0 && model::grams(load) <= at_most_g && (!best || model::grams(load) > model::grams(*best))) best = load;
  return best;
}

class Start {
 public:
  Start(const KitEntry& kit, const std::optional<model::Ages>& ages) : kit_(kit), ages_(ages) {
    const bool child = ages && ages->lowest < kLoadFromAge;
    // Without a year of birth as for an adult: the limits of 5.7 cut it when the session is drawn.
    if (!child) load_ = first_load(kit, youth() ? kYouthFirstLoadGrams : kFirstLoadGrams);
  }

  std::vector<PlanLineEntry> lines() {
    day_ = 1;
    squat_of_a();
    main({"VP4", "HP3", "HP2", "HP1"}, 2);
    main({"PU3", "PU2", "PU1", "PU4"}, 3);
    beside("TR3", 1);
    care({"SC1", "SC4", "SC5"}, 2);
    day_ = 2;
    legs_of_b();
    main({"HP3", "HP2", "HP1"}, 2);
    main({"PU4"}, 3);
    beside("TR5", 1);
    care({"SC3", "SC5"}, 2);
    return std::move(lines_);
  }

 private:
  bool youth() const { return ages_ && ages_->lowest < model::kAdultAge; }
  bool adult() const { return ages_ && ages_->lowest >= model::kAdultAge; }
  std::uint64_t reserve() const { return youth() || (ages_ && ages_->highest >= kHigherReserveFromAge) ? kCarefulRir : kRir; }

  PlanLineEntry& add(std::string_view exercise, std::uint64_t block, std::uint64_t place) {
    const model::Rung& rung = *model::find_rung(exercise);
    PlanLineEntry line;
    line.exercise = rung.id;
    line.sets = rung.sets;
    line.reps = rung.lo;
    line.reps_high = rung.hi;
    line.rest_ms = std::uint64_t{rung.rest_s} * 1000;
    line.programme_day = day_;
    line.block = block;
    line.place = place;
    line.format = model::Format::circuit;
    if (kit_.bands && !kit_.bands->empty() && std::find(rung.equipment.begin(), rung.equipment.end(), "band") != rung.equipment.end())
      line.band = rung.kind == model::ExerciseKind::band_helps ? kit_.bands->front() : kit_.bands->back();  // most help, least resistance
    lines_.push_back(std::move(line));
    return lines_.back();
  }
  void add_main(std::string_view exercise, std::uint64_t place) {
    PlanLineEntry& line = add(exercise, 1, place);
    line.sets = kMainSets;
    line.reps = kMainLow;
    line.reps_high = kMainHigh;
    line.rir = reserve();
    if (model::find_rung(exercise)->loaded) line.load = load_;
  }
  // The first that can be done here; none, and the line is left out [5.2].
  void main(std::initializer_list<std::string_view> wanted, std::uint64_t place) {
    for (std::string_view exercise : wanted)
      if (possible(kit_, exercise)) return add_main(exercise, place);
  }
  void squat_of_a() { add_main(load_ && possible(kit_, "SQ4") ? "SQ4" : "SQ3", 1); }
  void legs_of_b() {
    if (adult() && load_ && possible(kit_, "SQ6")) return add_main("SQ6", 1);
    add_main("LU2", 1);
    const model::Rung& rung = *model::find_rung("LU2");
    lines_.back().reps_high = rung.hi;
    if (!ages_ || ages_->lowest >= kShortRangeFromAge) lines_.back().reps = rung.lo;  // below 14 never under 8 [5.7]
  }
  void beside(std::string_view exercise, std::uint64_t place) { add(exercise, 2, place); }
  void care(std::initializer_list<std::string_view> wanted, std::uint64_t place) {
    for (std::string_view exercise : wanted)
      if (possible(kit_, exercise)) {
        add(exercise, 2, place).rir = kCarefulRir;
        return;
      }
  }

  const KitEntry& kit_;
  std::optional<model::Ages> ages_;
  std::optional<model::Quantity> load_;
  std::uint64_t day_ = 1;
  std::vector<PlanLineEntry> lines_;
};

}  // namespace

KitEntry common_kit() {
  std::vector<model::Quantity> loads;
  for (std::int64_t kg : kKitLoadsKg) loads.push_back({kg, 0, model::Unit::kg});
  KitEntry kit;
  kit.loads = std::move(loads);
  kit.bands = std::vector<std::string>{"thick", "medium", "thin"};
  kit.equipment = std::vector<std::string>{"kettlebell", "bar", "low_bar", "band", "bench", "box", "step", "stick", "mat", "wall"};
  return kit;
}

std::vector<PlanLineEntry> starting_lines(const KitEntry& kit, const std::optional<model::Ages>& ages) { return Start(kit, ages).lines(); }

model::Programme starting_programme(model::Day today) {
  model::Programme programme;
  programme.phase = "general";
  programme.starts = today;
  programme.weeks = kWeeks;
  programme.days_a_week = kDaysAWeek;
  programme.rest_between_exercises_ms = kRestBetweenExercisesMs;
  programme.rest_between_rounds_ms = kRestBetweenRoundsMs;
  return programme;
}

std::vector<ops::Field> plan_line_fields(const PlanLineEntry& line, const model::IncarnationId& home) {
  const auto format = line.format ? std::optional<std::uint64_t>(static_cast<std::uint64_t>(*line.format)) : std::nullopt;
  return Fields(home)
      .said(plan_tag::exercise, line.exercise)
      .whole(plan_tag::sets, line.sets)
      .whole(plan_tag::reps, line.reps)
      .load(plan_tag::load, line.load)
      .whole(plan_tag::rir, line.rir)
      .whole(plan_tag::rest_ms, line.rest_ms)
      .whole(plan_tag::reps_high, line.reps_high)
      .whole(plan_tag::programme_day, line.programme_day)
      .whole(plan_tag::place, line.place)
      .whole(plan_tag::block, line.block)
      .whole(plan_tag::format, format)
      .list(plan_tag::tempo, line.tempo)
      .said(plan_tag::band, line.band)
      .said(plan_tag::grip, line.grip)
      .take();
}

std::vector<ops::Field> kit_fields(const KitEntry& kit, const model::IncarnationId& home) {
  Fields fields(home);
  fields.said(ops::kit_tag::name, kit.name);
  if (kit.bands) fields.said(ops::kit_tag::bands, joined(*kit.bands));
  if (kit.equipment) fields.said(ops::kit_tag::equipment, joined(*kit.equipment));
  std::vector<ops::Field> all = fields.take();
  if (kit.loads) {
    std::vector<model::Quantity> rising = *kit.loads;
    std::stable_sort(rising.begin(), rising.end(), [](const auto& a, const auto& b) { return model::grams(a) < model::grams(b); });
    all.push_back(ops::quantities_field(ops::kit_tag::loads, rising));
  }
  return all;
}

std::vector<ops::Field> programme_fields(const model::Programme& programme, const model::IncarnationId& home) {
  namespace at = ops::programme_tag;
  const auto given = [](std::uint64_t number) { return number != 0 ? std::optional<std::uint64_t>(number) : std::nullopt; };
  Fields fields(home);
  fields.text(at::phase, programme.phase).whole(at::weeks, given(programme.weeks)).whole(at::days_a_week, given(programme.days_a_week));
  if (programme.starts) fields.day(at::starts, *programme.starts);
  return fields.whole(at::rest_between_exercises_ms, programme.rest_between_exercises_ms)
      .whole(at::rest_between_rounds_ms, programme.rest_between_rounds_ms)
      .take();
}

model::Result<model::Done> Book::start_programme(const model::ScopeId& scope_id, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  const model::Athlete& who = athlete(scope_id);
  const auto ages = model::ages_on(who, model::day_of(now()));
  KitEntry kit = common_kit();
  if (who.kits.empty()) {
    write(**scope, ops::kind::kit, kit_fields(kit, opening().inc), author);
  } else {
    kit.loads = who.kits.front().loads;
    kit.bands = who.kits.front().bands;
    kit.equipment = who.kits.front().equipment;
  }
  write(**scope, ops::kind::programme, programme_fields(starting_programme(model::day_of(now())), opening().inc), author);
  for (const PlanLineEntry& line : starting_lines(kit, ages))
    write(**scope, ops::kind::prescription, plan_line_fields(line, opening().inc), author);
  settle(nullptr);
  return model::Done{};
}

}  // namespace slipway::app
