// The lock of a profile on the shared tablet: a PIN of 4 to 6 digits before history, numbers of
// earlier sessions, hand-over and settings. Logging today's session needs none.
//
// It keeps a team-mate from looking or logging in the wrong profile; it does not protect from
// anybody who copies the storage (sync-and-storage 10.1). The tablet has a PIN of its own, the
// adult's: it opens every profile, takes a swimmer's PIN away, and stands before what the tablet
// is used for. Opened, it locks again after two minutes without a touch, at the end of a session
// and for another swimmer. Wrong PINs cost time, kept over a restart; nothing is ever wiped.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "app/book.h"
#include "host/clock.h"
#include "host/random.h"

namespace slipway::app {

inline constexpr std::size_t kLeastPinDigits = 4, kMostPinDigits = 6;
inline constexpr std::uint64_t kLockAfterMs = 120'000;  // without a touch
// The third wrong PIN in a row costs 5 s, each further one twice as much, up to 5 minutes [our judgement].
inline constexpr std::uint64_t kFreeWrongPins = 2, kFirstPinWaitMs = 5'000, kMostPinWaitMs = 300'000;

class ProfileLock {
 public:
  ProfileLock(host::Clock& clock, host::Random& random, const sync::PassphraseCost& cost = {}) : clock_(clock), random_(random), cost_(cost) {}

  // Without a scope: the tablet's own.
  bool has_pin(Book& book, const std::optional<model::ScopeId>& scope);
  // No digits: it is taken away. Errors: invalid (pin.form; pin.tablet_first: a swimmer's PIN needs the tablet's; pin.own_first: not opened
  // by the PIN that it replaces, or by the tablet's); of the store.
  model::Result<model::Done> set_pin(Book& book, const std::optional<model::ScopeId>& scope, const std::string& digits);
  // Errors: invalid (pin.wrong; pin.wait, args: seconds that are left).
  model::Result<model::Done> give_pin(Book& book, const model::ScopeId& scope, const std::string& digits);

  bool is_locked(Book& book, const model::ScopeId& scope);
  bool is_tablet_locked(Book& book);  // before what the tablet is used for
  std::uint64_t wait_ms(Book& book);  // till the next PIN is looked at

  void touch() { touched_ms_ = clock_.monotonic_ms(); }
  void lock() { opened_.reset(); }
  void forget() {  // another store is opened
    opened_.reset();
    looks_again_ms_.reset();
  }
  // Locks if nobody has touched it for so long; true: it has just locked.
  bool tick();
  std::uint64_t locks_at_ms() const { return opened_ ? touched_ms_ + kLockAfterMs : 0; }  // monotonic; 0: it is locked

 private:
  struct Opened {
    std::optional<model::ScopeId> scope;  // nothing: by the tablet's PIN
  };
  bool opened_by_tablet() const { return opened_ && !opened_->scope; }
  bool fits(Book& book, const std::optional<model::ScopeId>& scope, const std::string& digits);
  std::uint64_t wrong_pins(Book& book);

  host::Clock& clock_;
  host::Random& random_;
  sync::PassphraseCost cost_;
  std::optional<Opened> opened_;
  std::uint64_t touched_ms_ = 0;
  std::optional<std::uint64_t> looks_again_ms_;  // nothing: not asked since the store was opened
};

}  // namespace slipway::app
