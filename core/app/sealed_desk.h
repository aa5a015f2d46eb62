// In place of every other page while the profile that was chosen is sealed by a passphrase and shut: it is opened here,
// somebody else is chosen, or, its passphrase lost, it is removed from this device.
#pragma once

#include <optional>
#include <string>

#include "app/who.h"
#include "screens/setup_screen.h"

namespace slipway::app {

// A profile that stays open on a shared tablet without a touch for so long is shut; longer than any rest between sets (kMaxRestSeconds) [our judgement].
inline constexpr std::uint64_t kShutAfterMs = 900'000;

class SealedDesk {
 public:
  void ask(const model::ScopeId& scope);
  void leave();
  bool asks(Desk& desk) const;

  screens::SetupView view(Desk& desk);
  void act(Desk& desk, const screens::SetupIntent& intent);

 private:
  void lost_parts(Desk& desk, const std::string& name, screens::SetupView& view);
  void open(Desk& desk);
  void remove(Desk& desk);
  std::vector<Person> others(Desk& desk) const;
  void choose(Desk& desk, std::size_t choice);

  std::optional<model::ScopeId> scope_;
  std::string passphrase_, refused_, typed_, typed_refused_, pin_, pin_refused_;
  bool lost_ = false;
};

// How many sealed and shut no file that leaves this device can hold; empty: none.
std::string left_out_words(Desk& desk);

}  // namespace slipway::app
