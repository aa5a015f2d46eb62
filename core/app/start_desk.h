// First run: the cautions, the questions of health, who is here, who uses this device. The
// answers stay on the device; a yes says "a doctor first" and keeps nobody from looking round.
#pragma once

#include <string>

#include "app/desk.h"
#include "screens/start_screen.h"

namespace slipway::app {

class StartDesk {
 public:
  // Nobody is here yet and nobody has started a coach's empty desk.
  bool needed(const Desk& desk) const {
    return somebody_else_ || (desk.book.scopes().empty() && !desk.settings.started && desk.book.sealed_profiles().empty());
  }
  // A file brought several athletes and nobody has said which of them logs here: no one's board is shown before that.
  static bool who_is_open(const Desk& desk) {
    return !desk.here && !desk.settings.is_coach() && !(desk.book.scopes().empty() && desk.book.sealed_profiles().empty());
  }
  static screens::NoticeView who(Desk& desk);
  void say_who(Desk& desk, std::uint32_t key);

  screens::StartView view(Desk& desk);
  void act(Desk& desk, const screens::StartIntent& intent);

 private:
  void answer(Desk& desk, const screens::StartAnswer& given);
  void start(Desk& desk);

  std::string name_, name_refused_, born_, born_refused_, group_;
  Answer under_18_ = Answer::open;
  std::optional<std::uint32_t> with_you_;
  bool help_ = false, somebody_else_ = false;
};

}  // namespace slipway::app
