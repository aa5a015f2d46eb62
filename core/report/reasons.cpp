#include "report/reasons.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <optional>
#include <utility>

#include "model/ladder.h"
#include "model/units.h"
#include "report/words.h"

namespace slipway::report {

namespace {

using rules::Reason;

// Rows whose sentence is always the same, or takes its facts in one order. 5.7, 6.1 and VP5 are cuts by those parts.
struct RowText {
  std::string_view row;
  const char* text_id;
  std::array<std::string_view, 3> facts;  // names of arguments, in the order of {0}, {1} …
};
constexpr auto kRows = std::to_array<RowText>({
    {"G02", "reason.ill", {}},
    {"G08", "reason.day_between", {}},
    {"G09", "reason.two_days_between", {}},
    {"G11", "reason.floor_list", {}},
    {"R03", "reason.pain_a_little", {}},
    {"R04", "reason.fresh_start", {}},
    {"R05", "reason.days_off", {"days"}},
    {"R06", "reason.days_off", {"days"}},
    {"R07", "reason.days_off", {"days"}},
    {"R08", "reason.week_off", {}},
    {"R09", "reason.sore_too_long", {}},
    {"R10", "reason.sore_long", {"days"}},
    {"R11", "reason.below_range", {"reps"}},
    {"R12", "reason.one_hard_day", {}},
    {"R13", "reason.limit_of_age", {}},
    {"R17", "reason.heaviest_here", {}},
    {"R19", "reason.once_more", {}},
    {"R21", "reason.first_time", {}},
    {"R22", "reason.add_a_rep", {}},
    {"R23", "reason.is_back", {"exercise"}},
    {"R24", "reason.ramp_step", {"step", "of"}},
    {"R25", "reason.very_sore", {}},
    {"R26", "reason.form_first", {}},
    {"M03", "reason.one_step", {}},
    {"M09", "reason.same_dose", {"sessions"}},
    {"5.7", "reason.limit_cuts", {}},
    {"6.1", "reason.not_here", {}},
    {"VP5", "reason.sorest", {}},
});

constexpr auto kMilestones = std::to_array<std::pair<std::string_view, const char*>>({
    {"pull_up_ready", "reason.milestone_pull_up"},
    {"pull_up_lowering", "reason.milestone_lowering"},
    {"ten_pull_ups", "reason.milestone_ten_pull_ups"},
    {"ten_push_ups", "reason.milestone_ten_push_ups"},
    {"hands_down", "reason.milestone_hands_down"},
    {"goblet_standard", "reason.milestone_goblet"},
});
constexpr auto kSmaller = std::to_array<std::pair<std::string_view, const char*>>({
    {"reps", "reason.by_reps"},
    {"set", "reason.by_a_set"},
    {"slow", "reason.by_slow_lowering"},
    {"pause", "reason.by_a_pause"},
    {"pause_top", "reason.by_a_pause_top"},
});
// In the order of the bits of model::joint.
constexpr auto kJoints = std::to_array<std::pair<std::uint32_t, const char*>>({
    {model::joint::shoulder, "reason.part_shoulder"},
    {model::joint::elbow, "reason.part_elbow"},
    {model::joint::wrist, "reason.part_wrist"},
    {model::joint::spine, "reason.part_back"},
    {model::joint::hip, "reason.part_hip"},
    {model::joint::knee, "reason.part_knee"},
    {model::joint::ankle, "reason.part_ankle"},
});

template <class Table>
std::optional<std::string> word_in(const Table& table, std::string_view key) {
  for (const auto& [known, text_id] : table)
    if (known == key) return say(text_id);
  return std::nullopt;
}

class Telling {
 public:
  Telling(const Reason& reason, const Speaking& speaking) : reason_(reason), speaking_(speaking) {}

  std::string sentence() const {
    if (what() == "range" && (reason_.row == "R15" || reason_.row == "R16" || reason_.row == "R17" || reason_.row == "R18")) return say("reason.range_back");
    for (const RowText& row : kRows)
      if (row.row == reason_.row) return say(row.text_id, facts(row.facts));
    if (reason_.row == "G01") return text("flag").empty() ? say("reason.general_flag") : say("reason.general_flag_named", {part_word(text("flag"), 0)});
    if (reason_.row == "R01") return stop();
    if (reason_.row == "R02") return swap();
    if (reason_.row == "R14") return milestone();
    if (reason_.row == "R15") return load_up();
    if (reason_.row == "R16") return big_step();
    if (reason_.row == "R18") return next();
    if (reason_.row == "R20") return all_reps();
    if (reason_.row == "R27") return phase();
    if (reason_.row == "R28") return say("reason.back_to_form", {note()});
    if (reason_.row == "M10") return say("reason.reps_fell", {fact("reserve")});
    return {};
  }

 private:
  bool has(std::string_view name) const { return find_argument(reason_, name) != nullptr; }

  std::string load(std::string_view name) const {
    const rules::Argument* found = find_argument(reason_, name);
    if (found == nullptr) return {};
    const std::int64_t g = std::abs(found->number);
    return speaking_.load ? speaking_.load(g) : model::to_text(model::kilograms_from_grams(g));
  }

  std::string fact(std::string_view name) const {
    const rules::Argument* found = find_argument(reason_, name);
    if (found == nullptr) return {};
    if (name == "exercise" || name == "substitute") return exercise(found->text);
    return found->text.empty() ? std::to_string(found->number) : found->text;
  }

  static std::string exercise(const std::string& id) {
    const model::Rung* rung = model::find_rung(id);
    return rung == nullptr ? id : rung->name;
  }

  std::vector<std::string> facts(const std::array<std::string_view, 3>& names) const {
    std::vector<std::string> out;
    for (std::string_view name : names)
      if (!name.empty()) out.push_back(fact(name));
    return out;
  }

  // An argument that is a word: empty where it was left empty, never its number.
  std::string text(std::string_view name) const {
    const rules::Argument* found = find_argument(reason_, name);
    return found == nullptr ? std::string() : found->text;
  }
  std::string note() const {
    const std::string words = speaking_.note ? speaking_.note(text("note")) : std::string();
    return words.empty() ? say("reason.form_word") : words;
  }
  std::string what() const { return text("what"); }

  std::string stop() const {
    const rules::Argument* joints = find_argument(reason_, "joints");
    const std::string part = part_word(text("region"), joints == nullptr ? 0 : static_cast<std::uint32_t>(joints->number));
    if (fact("amount") == "0" || !has("amount")) return part.empty() ? say("reason.stop_flag") : say("reason.stop_flag_part", {part});
    return part.empty() ? say("reason.stop", {fact("amount")}) : say("reason.stop_part", {fact("amount"), part});
  }

  std::string swap() const {
    if (text("substitute").empty()) return say("reason.swap_none", {fact("exercise"), fact("amount")});
    return say("reason.swap", {fact("exercise"), fact("amount"), fact("substitute")});
  }

  std::string milestone() const {
    const std::string which = word_in(kMilestones, text("milestone")).value_or(text("milestone"));
    return has("exercise") ? say("reason.milestone_next", {which, fact("exercise")}) : say("reason.milestone", {which});
  }

  std::string big_step() const {
    if (what() == "load") return helps() ? load_up() : say("reason.earned", {load("step_g")});
    if (const auto smaller = word_in(kSmaller, what())) return say("reason.big_step", {fact("percent"), *smaller});
    if (has("exercise")) return say("reason.big_step_rung", {fact("percent"), fact("exercise")});
    return say("reason.big_step_stay", {fact("percent")});
  }

  // Of a move that is helped by its load a step up is less of it.
  bool helps() const {
    const rules::Argument* step = find_argument(reason_, "step_g");
    return step != nullptr && step->number < 0;
  }
  std::string load_up() const { return say(helps() ? "reason.help_down" : "reason.load_up", {fact("reserve"), load("step_g")}); }

  std::string next() const {
    if (what() == "load") return load_up();
    if (has("exercise")) return say("reason.ready", {fact("exercise")});
    if (what() == "band") return say("reason.ready", {!text("band").empty() ? say("reason.band", {text("band")}) : say("reason.next_band")});
    if (what() == "test") return say("reason.ready", {say("reason.a_test")});
    if (const auto smaller = word_in(kSmaller, what())) return say("reason.ready", {*smaller});
    return say("reason.top_of_line");
  }

  std::string all_reps() const {
    const bool asks = has("up_to") && fact("up_to") != fact("reps");
    return asks ? say("reason.all_reps_ask") : say("reason.all_reps", {fact("reserve")});
  }

  std::string phase() const {
    const std::string range = say("reason.range", {fact("lo"), fact("hi")});
    if (!has("load_g")) return say("reason.phase_body", {range});
    if (!has("old_load_g") || !has("old_reps")) return say("reason.phase", {range, load("load_g")});
    return say("reason.phase_from", {range, load("load_g"), load("old_load_g"), fact("old_reps")});
  }

  const Reason& reason_;
  const Speaking& speaking_;
};

}  // namespace

std::string part_word(std::string_view region, std::uint32_t joints) {
  // The substitution table's words for what the pain page calls shoulder and knee [5.2].
  std::string out(region == "front_shoulder" ? "shoulder" : region == "front_knee" ? "knee" : region);
  for (char& sign : out)
    if (sign == '_') sign = ' ';
  if (!out.empty() || joints == 0) return out;
  for (const auto& [bit, text_id] : kJoints)
    if (bit == joints) return say(text_id);
  return {};
}

std::string sentence(const Reason& reason, const Speaking& speaking) {
  return capital(Telling(reason, speaking).sentence());  // it may begin with a movement
}

const Reason& told(const rules::ExerciseDecision& exercise) {
  if (exercise.action != rules::Action::leave_out) return exercise.row;
  const auto acted = std::find_if(exercise.modifiers.rbegin(), exercise.modifiers.rend(), [](const Reason& modifier) { return modifier.row != "M08"; });
  return acted == exercise.modifiers.rend() ? exercise.row : *acted;  // M08 only marks what R02 did
}

std::string sentence(const rules::ExerciseDecision& exercise, const Speaking& speaking) {
  const Reason& reason = told(exercise);
  return &reason != &exercise.row && reason.row == "6.1" ? say("reason.nothing_here") : sentence(reason, speaking);
}

std::string sentence(const rules::SessionDecision& session, const rules::ExerciseDecision* exercise, const Speaking& speaking) {
  if (session.whether != rules::Whether::normal || exercise == nullptr) return sentence(session.gate, speaking);
  return sentence(*exercise, speaking);
}

}  // namespace slipway::report
