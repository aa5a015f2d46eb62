#include "rules/substitute.h"

#include <algorithm>
#include <array>

#include "rules/limits.h"
#include "rules/loads.h"
#include "rules/settings.h"
#include "rules/sign_off.h"
#include "rules/walk.h"

namespace slipway::rules {

namespace {

struct PartRow {
  std::string_view regions;    // words between spaces
  std::uint32_t joints;
  std::string_view take_out;   // ids between spaces
  std::string_view put_in;     // in the order of the page
  std::string_view grip_out;   // grip that is taken out
};

// 5.2, second table, in its order; ids stand for the words there ("wide grips", "underhand VP" by grip_out).
constexpr std::array<PartRow, 7> kParts{{
    {" front_shoulder shoulder top_of_shoulder shoulders ", model::joint::shoulder, " PU6 PU7 PU8 TR8 VP5 ",
     " PU3 PU2 VP4 VP3 HP2 HP1 SC1 SC4 ", "wide"},
    {" elbow elbows inner_elbow outer_elbow ", model::joint::elbow, " VP8 ", " VP4 VP3 HP3 HP2 HP1 ", "underhand"},
    {" wrist wrists hand ", model::joint::wrist, " PU1 PU2 PU3 PU3k PU3b PU4 PU5 PU6 PU7 PU8 ", " TR3 TR2 ", ""},
    {" low_back back lower_back spine ", model::joint::spine, " HG4 HG5 HG6 HG7 SQ8 TR7 TR11 ", " SQ2 HG1 TR1 TR6 ", ""},
    {" knee knees front_of_knee front_knee ", model::joint::knee, " SQ5 SQ6 SQ7 SQ8 SQ9 LU3 LU7 ", " SQ2 HG1 HG2 HG3 HG4 LU5 ", ""},
    {" groin hip hips ", model::joint::hip, " LU4 SQ5 SQ6 SQ7 SQ8 ", " HG1 SQ2 LU2 ", ""},
    {" ankle ankles heel shin foot ", model::joint::ankle, " SQ9 LU1 LU2 LU3 LU4 LU5 LU6 LU7 ", " HG1 SQ1 ", ""},
}};

bool names(std::string_view list, std::string_view id) {
  std::string wanted(" ");
  wanted += id;
  wanted += ' ';
  return list.find(wanted) != std::string_view::npos;
}

const PartRow* row_of(std::string_view region, std::uint32_t joints) {
  for (const PartRow& row : kParts)
    if (!region.empty() && names(row.regions, region)) return &row;
  for (const PartRow& row : kParts)
    if ((row.joints & joints) != 0) return &row;
  return nullptr;
}

// What may stand for another pattern: a row for a pull-up, a plank for a push-up, but no push for a pull.
bool related(model::Pattern from, model::Pattern to) {
  using model::Pattern;
  const auto leg = [](Pattern p) { return p == Pattern::squat || p == Pattern::hinge || p == Pattern::lunge; };
  const auto pull = [](Pattern p) { return p == Pattern::vertical_pull || p == Pattern::horizontal_pull; };
  if (leg(from) || leg(to)) return leg(from) == leg(to) || from == Pattern::trunk;
  if (pull(from)) return pull(to) || to == Pattern::shoulder_care;
  if (from == Pattern::push) return to == Pattern::trunk || to == Pattern::shoulder_care;
  return true;
}

struct Chooser {
  const Record& record;
  const model::Rung& rung;

  bool fits(const model::Rung& other) const {
    const SessionSituation& situation = *record.situation;
    if (other.id == rung.id || !possible_here(other, situation.kit) || !exercise_allowed(other, situation, true)) return false;
    if (is_youth(situation.athlete) && !other.on_floor_list && !form_of(other.id, situation).open()) return false;
    if (other.loaded && !own_last_load(record, other, {})) return false;
    return bears(record, other);
  }

  bool planned(const std::string& id) const {
    const auto& lines = record.situation->lines;
    return std::any_of(lines.begin(), lines.end(), [&](const PlanLine& line) { return line.standing.exercise == id; });
  }

  std::optional<std::string> from_row(const PartRow& row, bool same_pattern) const {
    std::string_view list = row.put_in;
    while (list.size() > 1) {
      list.remove_prefix(1);
      const auto end = list.find(' ');
      const model::Rung* other = model::find_rung(list.substr(0, end));
      list.remove_prefix(end);
      if (!other || (other->pattern == rung.pattern) != same_pattern) continue;
      if (!same_pattern && !related(rung.pattern, other->pattern)) continue;
      if (same_pattern && harder_on_line(other->id, rung.id)) continue;
      if (fits(*other) && (same_pattern || !planned(other->id))) return other->id;
    }
    return {};
  }

  // Same pattern, nearest lower rung that the equipment and the body allow.
  std::optional<std::string> lower_rung(const PartRow* row, const std::string& grip) const {
    Place place{rung.id, {}};
    for (int walked = 0; walked < 20; ++walked) {
      const auto easier = easier_place(place, *record.situation);
      if (!easier) return {};
      place = *easier;
      if (place.exercise == rung.id) continue;
      const bool out = row && taken_out({}, row->joints, place.exercise, grip);
      if (!out && fits(*model::find_rung(place.exercise))) return place.exercise;
    }
    return {};
  }
};

}  // namespace

std::uint32_t region_joints(std::string_view region) {
  for (const PartRow& row : kParts)
    if (!region.empty() && names(row.regions, region)) return row.joints;
  return 0;
}

bool taken_out(std::string_view region, std::uint32_t joints, const std::string& exercise, const std::string& grip) {
  const PartRow* row = row_of(region, joints);
  if (!row) return true;  // a part that no row of 5.2 knows: the safe side
  return names(row->take_out, exercise) || (!grip.empty() && grip == row->grip_out);
}

std::optional<std::string> substitute_for(const Record& record, const model::Rung& rung, const Body& body) {
  const PartRow* row = row_of(body.region, body.joints);
  const Chooser chooser{record, rung};
  if (row)
    if (auto found = chooser.from_row(*row, true)) return found;
  if (auto found = chooser.lower_rung(row, {})) return found;
  if (row) return chooser.from_row(*row, false);
  return {};
}

}  // namespace slipway::rules
