// The Squad place, for the coach: who needs a look (handbook 6.9), the board of the week, and
// one swimmer's page. Nobody but the coach's device shows it.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/desk.h"
#include "app/swimmer_desk.h"
#include "rules/coach_list.h"
#include "screens/squad_screen.h"

namespace slipway::app {

class SquadDesk {
 public:
  screens::SquadView view(Desk& desk);
  void act(Desk& desk, const screens::SquadIntent& intent);
  void act(Desk& desk, const screens::AskAnswer& given) { page_.act(desk, given); }
  void leave();  // another place is shown: questions half asked are let go

  void open(Desk& desk, const model::ScopeId& scope) { open_page(desk, scope); }
  std::size_t waiting(Desk& desk);  // rows of the list: for the count at the place's key

 private:
  enum class NeedKey : std::uint8_t { look, clearance, sign_off, choose, ask_for_it };
  struct Fact {  // one row that holds for an athlete, worded
    std::string row;          // "W02"; "" for what the record itself says
    std::int32_t rank = 0;    // by the order of the page, times ten
    model::Day since;
    std::string sentence;
    std::string exercise;
    bool open_form = false;   // a sign-off is waited for
  };
  struct Need {
    model::ScopeId scope;
    std::vector<Fact> facts;  // most urgent first
    NeedKey key = NeedKey::look;
  };
  struct Line {  // of the board
    model::ScopeId scope;
    screens::SquadRow row;
  };

  void read(Desk& desk);  // what the record says, once for each state of it
  void add_facts_of_the_record(Desk& desk, const model::ScopeId& scope, std::vector<Fact>& facts);
  Line board_line(Desk& desk, const model::ScopeId& scope);
  screens::NeedRow need_row(Desk& desk, std::size_t index);
  void press_need(Desk& desk, std::size_t index);
  void open_page(Desk& desk, const model::ScopeId& scope);

  std::optional<std::pair<std::uint64_t, model::Day>> read_for_;
  std::size_t read_athletes_ = 0;
  std::vector<Need> needs_;
  std::vector<Line> lines_;
  SwimmerDesk page_;
};

// What the coach's list is asked about one athlete.
rules::CoachSituation coach_situation(Desk& desk, const model::ScopeId& scope);
// A row of the coach's list as a sentence.
std::string coach_sentence(const rules::CoachFact& fact, const model::Athlete& athlete, model::Day today);
std::uint64_t contradictions_of(const model::Athlete& athlete);

}  // namespace slipway::app
