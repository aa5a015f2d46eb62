// One swimmer's page of the Squad place: what comes next and why, what the coach may do about
// it, sign-offs, clearance, and what was said last.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/day_plan.h"
#include "app/decision_words.h"
#include "app/desk.h"
#include "screens/squad_screen.h"

namespace slipway::app {

// What the coach puts in place of a decision; the word is stored with the overruling.
enum class Instead : std::uint8_t { hold, lighter, as_planned, own };

class SwimmerDesk {
 public:
  void open(const model::ScopeId& scope);
  void close();
  const std::optional<model::ScopeId>& scope() const { return scope_; }

  // `also`: what else holds in the coach's list, most urgent first.
  screens::SwimmerView view(Desk& desk, const std::vector<std::string>& also);
  void act(Desk& desk, const screens::SquadIntent& intent);
  void act(Desk& desk, const screens::AskAnswer& given);
  void ask_clearance(Desk& desk);

 private:
  struct Ask {
    screens::AskAt at = screens::AskAt::decision;
    std::size_t index = 0;
    std::size_t choice = 0, word = 0;
    std::string sets = {}, reps = {}, load = {}, note = {}, refused = {};
  };
  // A part, or "general", with what was reported about it and not cleared.
  struct Reported {
    std::string covers;
    std::vector<model::RecordId> reports;
    model::Day since;
  };

  const DayPlan& plan(Desk& desk);
  bool session_decides(Desk& desk);  // the first decision shown is about the whole session
  const PlanRow* row_at(Desk& desk, std::size_t decision);
  rules::StandingDose standing_of(Desk& desk, const PlanRow& row);
  std::string row_overruled(Desk& desk, std::size_t decision);
  std::vector<Instead> choices_of(Desk& desk, std::size_t decision);
  std::string choice_words(Desk& desk, std::size_t decision, Instead choice);
  std::vector<std::string> exercises(Desk& desk);
  std::vector<Reported> reported(Desk& desk);

  screens::Decision session_decision(Desk& desk);
  screens::Decision row_decision(Desk& desk, std::size_t decision, const PlanRow& row);
  void add_sign_offs(Desk& desk, screens::SwimmerView& view);
  void add_clearance(Desk& desk, screens::SwimmerView& view);
  void add_sections(Desk& desk, const std::vector<std::string>& also, screens::SwimmerView& view);
  screens::AskPanel ask_panel(Desk& desk);

  void keep(Desk& desk);
  void keep_overruling(Desk& desk);
  void keep_withdrawal(Desk& desk);
  void keep_clearance(Desk& desk);
  void keep_note(Desk& desk);

  std::optional<model::ScopeId> scope_;
  std::optional<DayPlan> plan_;
  std::pair<std::uint64_t, model::Day> planned_for_{};
  std::vector<std::size_t> why_open_;
  std::optional<Ask> ask_;
};

// LOADED where a load is held and SOUND was given on an earlier day, else SOUND.
model::SignOffLevel level_to_sign(const model::Athlete& athlete, std::string_view exercise, model::Day today);
bool sign_off_now(Desk& desk, const model::ScopeId& scope, const std::string& exercise, model::SignOffLevel level);

}  // namespace slipway::app
