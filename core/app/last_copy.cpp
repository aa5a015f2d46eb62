// How long this device's entries have had no copy elsewhere (sync-and-storage 9).
#include <algorithm>

#include "app/book_scope.h"
#include "app/local_names.h"

namespace slipway::app {

namespace {

constexpr std::string_view kCopiedDayName = "handed.over.day";

}  // namespace

void Book::note_copied(const HandOver& asked) {
  copied_before_.reset();
  for (const SealedProfile& one : sealed_profiles())
    if (!one.open) return;  // it left somebody out
  const auto out = scopes_of(asked);
  for (const auto& [id, scope] : scopes_)
    if (!scope->only_marks() && !std::binary_search(out.begin(), out.end(), id)) return;
  copied_before_ = local(kCopiedDayName).value_or(model::Bytes{});
  set_local(kCopiedDayName, model::as_bytes(model::iso(model::day_of(now()))));
}

void Book::not_copied() {
  if (copied_before_) set_local(kCopiedDayName, *copied_before_);
  if (handed_out_before_) set_local(kHandedOutName, *handed_out_before_);
  copy_has_left();
}

void Book::copy_has_left() {
  copied_before_.reset();
  handed_out_before_.reset();
}

std::optional<std::int32_t> Book::days_without_copy() {
  const model::Day today = model::day_of(now());
  std::optional<model::Day> since;
  if (const auto noted = local(kCopiedDayName)) {
    if (const auto day = model::read_day(model::as_text(*noted))) since = *day;
  }
  for (const model::ScopeId& scope : since ? std::vector<model::ScopeId>{} : scopes())
    for (const model::Session& session : athlete(scope).sessions)
      if (const auto& day = session.training_day.first(); day && !session.sets.empty() && (!since || *day < *since)) since = *day;
  if (!since) return std::nullopt;
  return std::max(0, today.since_1970 - since->since_1970);
}

}  // namespace slipway::app
