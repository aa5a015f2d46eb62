#include "load/tonnage.h"

#include "load/body_weight.h"

namespace slipway::load {

namespace {

bool carries_the_body(const model::Rung& rung) {
  return rung.id == "VP4m" || rung.id == "VP5" || rung.id == "VP6" || rung.id == "VP7" || rung.id == "VP8";
}

std::optional<std::int64_t> per_rep(const model::Rung& rung, const Lifted& lifted) {
  const std::int64_t load = lifted.load_g.value_or(0);
  if (load < 0) return std::nullopt;
  if (carries_the_body(rung)) {
    if (!lifted.body_mass_g) return std::nullopt;
    const bool helps = rung.id == "VP4m";
    const auto total = pull_up_total({.body_mass_g = *lifted.body_mass_g, .added_g = helps ? 0 : load, .assist_g = helps ? load : 0});
    return total ? std::optional(*total * 100) : std::nullopt;
  }
  if (rung.fraction_hundredths > 0) {
    if (!lifted.body_mass_g) return std::nullopt;
    return rung.fraction_hundredths * (*lifted.body_mass_g + load);
  }
  if (!rung.loaded || load <= 0) return std::nullopt;
  const bool two_implements = rung.in_hands && rung.id != "HP4";
  return load * (two_implements ? 200 : 100);
}

}  // namespace

std::optional<std::int64_t> tonnage_hundredths_g(const model::Rung& rung, const Lifted& lifted) {
  if (rung.is_hold()) return std::nullopt;
  const auto each = per_rep(rung, lifted);
  if (!each) return std::nullopt;
  return *each * std::int64_t{lifted.reps} * std::int64_t{lifted.sides};
}

}  // namespace slipway::load
