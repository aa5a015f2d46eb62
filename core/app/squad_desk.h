// The Squad place, for the coach: who needs a look (handbook 6.9), the board of the week, and
// one swimmer's page. Nobody but the coach's device shows it.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/desk.h"
#include "app/needs.h"
#include "app/swimmer_desk.h"
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
  struct Line {  // of the board
    model::ScopeId scope;
    screens::SquadRow row;
  };

  void read(Desk& desk);  // what the record says, once for each state of it
  Line board_line(Desk& desk, const model::ScopeId& scope);
  screens::NeedRow need_row(Desk& desk, std::size_t index);
  void press_need(Desk& desk, std::size_t index);
  void tick_in_afterwards(Desk& desk, const Need& need);
  void open_page(Desk& desk, const model::ScopeId& scope);

  std::optional<std::pair<std::uint64_t, model::Day>> read_for_;
  std::size_t read_athletes_ = 0;
  std::vector<Need> needs_;
  std::vector<Line> lines_;
  SwimmerDesk page_;
};

}  // namespace slipway::app
