#include "app/profile_lock.h"

#include <algorithm>

#include "app/local_names.h"

namespace slipway::app {

namespace {

constexpr std::string_view kWrongName = "own.pin_wrong";

std::string name_of(const std::optional<model::ScopeId>& scope) { return scope ? std::string(kPinName) + scope->hex() : std::string(kTabletPinName); }

bool is_pin(const std::string& digits) {
  const bool all = std::all_of(digits.begin(), digits.end(), [](char sign) { return sign >= '0' && sign <= '9'; });
  return all && digits.size() >= kLeastPinDigits && digits.size() <= kMostPinDigits;
}

// The same digits in two places wrap to nothing alike, and a PIN is long enough to be a passphrase by its form.
std::string passphrase_of(const std::optional<model::ScopeId>& scope, const std::string& digits) { return name_of(scope) + " " + digits; }

std::uint64_t wait_after(std::uint64_t wrong) {
  if (wrong <= kFreeWrongPins) return 0;
  std::uint64_t wait = kFirstPinWaitMs;
  for (std::uint64_t more = kFreeWrongPins + 1; more < wrong && wait < kMostPinWaitMs; ++more) wait *= 2;
  return std::min(wait, kMostPinWaitMs);
}

}  // namespace

bool ProfileLock::has_pin(Book& book, const std::optional<model::ScopeId>& scope) {
  const auto kept = book.local(name_of(scope));
  return kept && !kept->empty();
}

bool ProfileLock::is_locked(Book& book, const model::ScopeId& scope) {
  if (!has_pin(book, scope)) return false;
  return !opened_by_tablet() && !(opened_ && opened_->scope == scope);
}

bool ProfileLock::is_tablet_locked(Book& book) { return has_pin(book, std::nullopt) && !opened_by_tablet(); }

model::Result<model::Done> ProfileLock::set_pin(Book& book, const std::optional<model::ScopeId>& scope, const std::string& digits) {
  if (!digits.empty() && !is_pin(digits))
    return model::error(model::ErrorKind::invalid, "pin.form", {std::to_string(kLeastPinDigits), std::to_string(kMostPinDigits)});
  if (scope && !has_pin(book, std::nullopt)) return model::error(model::ErrorKind::invalid, "pin.tablet_first");
  if (scope ? is_locked(book, *scope) : is_tablet_locked(book)) return model::error(model::ErrorKind::invalid, "pin.own_first");
  model::Bytes value;
  if (!digits.empty()) {
    auto wrapped = sync::wrap(sync::Secret32{}, passphrase_of(scope, digits), cost_, sync::Wrapped::pin, random_);
    if (!wrapped) return wrapped.error();
    value = std::move(*wrapped);
  }
  if (!book.set_local(name_of(scope), value)) return model::error(model::ErrorKind::io, "setup.not_kept");
  if (!digits.empty() && !opened_) opened_ = Opened{scope};  // whoever sets it knows it
  touch();
  return model::Done{};
}

bool ProfileLock::fits(Book& book, const std::optional<model::ScopeId>& scope, const std::string& digits) {
  const auto kept = book.local(name_of(scope));
  return kept && !kept->empty() && sync::unwrap(*kept, passphrase_of(scope, digits), sync::Wrapped::pin).ok();
}

std::uint64_t ProfileLock::wrong_pins(Book& book) {
  const auto kept = book.local(kWrongName);
  return kept && kept->size() == 1 ? kept->front() : 0;
}

std::uint64_t ProfileLock::wait_ms(Book& book) {
  const std::uint64_t now = clock_.monotonic_ms();
  // A restart forgets how long was waited already, not how often it was wrong.
  if (!looks_again_ms_) looks_again_ms_ = now + wait_after(wrong_pins(book));
  return *looks_again_ms_ > now ? *looks_again_ms_ - now : 0;
}

model::Result<model::Done> ProfileLock::give_pin(Book& book, const model::ScopeId& scope, const std::string& digits) {
  constexpr std::uint64_t kMsASecond = 1000;
  if (const std::uint64_t wait = wait_ms(book); wait > 0)
    return model::error(model::ErrorKind::invalid, "pin.wait", {std::to_string((wait + kMsASecond - 1) / kMsASecond)});
  const std::uint64_t wrong = wrong_pins(book);
  const bool own = is_pin(digits) && fits(book, scope, digits);
  const bool tablet = !own && is_pin(digits) && fits(book, std::nullopt, digits);
  touch();
  if (!own && !tablet) {
    const auto more = static_cast<std::uint8_t>(std::min<std::uint64_t>(wrong + 1, 255));
    book.set_local(kWrongName, model::ByteView(&more, 1));
    looks_again_ms_ = clock_.monotonic_ms() + wait_after(more);
    return model::error(model::ErrorKind::invalid, "pin.wrong");
  }
  if (wrong > 0) book.set_local(kWrongName, {});
  looks_again_ms_ = 0;
  opened_ = Opened{own ? std::optional(scope) : std::nullopt};
  return model::Done{};
}

bool ProfileLock::tick() {
  if (!opened_ || clock_.monotonic_ms() < locks_at_ms()) return false;
  opened_.reset();
  return true;
}

}  // namespace slipway::app
