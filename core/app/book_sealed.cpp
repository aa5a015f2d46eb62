// Profiles that a passphrase seals at rest.
//   lock := form (varint 1), athlete's scope (16), length of the name (varint), name, sync::wrap of the profile's secret
// The notes that coaches hold about the athlete carry the same lock, without the name.
#include <algorithm>

#include "app/book_scope.h"
#include "app/book_values.h"
#include "app/local_names.h"
#include "app/profile_seals.h"
#include "ops/op.h"
#include "report/words.h"
#include "sync/at_rest.h"

namespace slipway::app {

namespace {

constexpr std::uint64_t kLockForm = 1;

class ProfileSeal : public store::RowSeal {
 public:
  ProfileSeal(const sync::Secret32& secret, host::Random& random) : key_(secret), random_(random) {}
  model::Bytes seal(model::ByteView row, model::ByteView place) override { return key_.seal(row, place, random_); }
  std::optional<model::Bytes> open(model::ByteView sealed, model::ByteView place) override { return key_.open(sealed, place); }
  model::Hash32 mark(const model::Hash32& hash) override { return key_.mark(hash); }

 private:
  sync::ProfileKey key_;
  host::Random& random_;
};

struct Lock {
  model::ScopeId athlete;
  std::string name;
  model::Bytes wrapped;
};

model::Bytes lock_bytes(const Lock& lock) {
  model::Bytes out;
  ops::put_varint(out, kLockForm);
  model::append(out, lock.athlete.view());
  ops::put_varint(out, lock.name.size());
  model::append(out, model::as_bytes(lock.name));
  model::append(out, lock.wrapped);
  return out;
}

std::optional<Lock> read_lock(model::ByteView bytes) {
  constexpr std::size_t kScopeBytes = sizeof(model::ScopeId);
  std::size_t at = 0;
  std::uint64_t form = 0, length = 0;
  if (!ops::get_varint(bytes, at, form) || form != kLockForm || bytes.size() - at < kScopeBytes) return std::nullopt;
  Lock lock;
  lock.athlete = model::ScopeId::from(bytes.subspan(at, kScopeBytes));
  at += kScopeBytes;
  if (!ops::get_varint(bytes, at, length) || length > bytes.size() - at) return std::nullopt;
  lock.name = model::as_text(bytes.subspan(at, static_cast<std::size_t>(length)));
  const model::ByteView rest = bytes.subspan(at + static_cast<std::size_t>(length));
  lock.wrapped.assign(rest.begin(), rest.end());
  return lock;
}

model::Error not_sealed(const model::ScopeId& scope) { return model::error(model::ErrorKind::not_found, "profile.not_sealed", {scope.hex().substr(0, 8)}); }

}  // namespace

model::Result<std::uint64_t> open_seals(store::Store& store, const std::string& passphrase, host::Random& random) {
  std::uint64_t opened = 0;
  for (const store::SealedScope& one : store.sealed()) {
    const auto lock = read_lock(one.lock);
    if (one.open || !lock) continue;
    const auto secret = sync::unwrap(lock->wrapped, passphrase, sync::Wrapped::profile);
    if (!secret && secret.error().kind != model::ErrorKind::sealed) return secret.error();
    if (!secret) continue;
    if (const auto done = store.open_sealed(one.scope, std::make_shared<ProfileSeal>(*secret, random)); !done) return done.error();
    ++opened;
  }
  return opened;
}

std::vector<std::string> shut_names(store::Store& store) {
  std::vector<std::string> names;
  for (const store::SealedScope& one : store.sealed()) {
    const auto lock = read_lock(one.lock);
    if (!one.open && (!lock || lock->athlete == one.scope)) names.push_back(lock && !lock->name.empty() ? lock->name : one.scope.hex().substr(0, 8));
  }
  return names;
}

std::vector<Book::SealedProfile> Book::sealed_profiles() {
  std::vector<SealedProfile> out;
  for (const store::SealedScope& one : store_->sealed()) {
    const auto lock = read_lock(one.lock);
    if (lock && !(lock->athlete == one.scope)) continue;  // a coach's notes about somebody
    const std::string name = lock ? lock->name : "";
    out.push_back({one.scope, name.empty() ? one.scope.hex().substr(0, 8) : name, one.open});
  }
  return out;
}

std::optional<Book::SealedProfile> Book::sealed_profile(const model::ScopeId& scope) {
  for (SealedProfile& one : sealed_profiles())
    if (one.scope == scope) return std::move(one);
  return std::nullopt;
}

// The athlete's scope last: cut short before it, the profile counts as what it was.
std::vector<model::ScopeId> Book::sealed_with(const model::ScopeId& athlete) {
  std::vector<model::ScopeId> out;
  for (const store::SealedScope& one : store_->sealed()) {
    const auto lock = read_lock(one.lock);
    if (lock && lock->athlete == athlete && !(one.scope == athlete)) out.push_back(one.scope);
  }
  if (sealed_profile(athlete)) out.push_back(athlete);
  return out;
}

model::Result<model::Done> Book::seal_profile(const model::ScopeId& id, const std::string& passphrase, const sync::PassphraseCost& cost) {
  const auto found = open_scope(id);
  if (!found) return found.error();
  if ((*found)->what() != model::ScopeIs::athlete) return model::error(model::ErrorKind::not_found, "athlete.unknown", {id.hex().substr(0, 8)});
  if (sealed_profile(id)) return model::error(model::ErrorKind::invalid, "profile.sealed_already", {athlete(id).name.value_or("")});
  if (!waiting_.empty() || !saving_.empty()) return model::error(model::ErrorKind::io, "profile.waits");
  const sync::Secret32 secret = sync::make_profile_secret(outside_.random);
  auto wrapped = sync::wrap(secret, passphrase, cost, sync::Wrapped::profile, outside_.random);
  if (!wrapped) return wrapped.error();
  const auto by = std::make_shared<ProfileSeal>(secret, outside_.random);
  const Lock lock{id, athlete(id).name.value_or(""), std::move(*wrapped)};
  set_local(kDraftName, {});
  // The athlete first: cut short after it, seal_new_notes() goes on when the profile is opened.
  const auto sealed = store_->seal(id, lock_bytes(lock), by);
  if (const auto now_sealed = sealed_profile(id); now_sealed && now_sealed->open) open_profiles_[id] = by;  // though an error may have been answered
  seal_late_pains(id);
  if (!sealed) return sealed.error();
  if (const auto done = seal_new_notes(); !done) return done.error();
  note_saving(store_->ticket(), {});
  (void)store_->compact();  // what was freed is overwritten already; this only gives the room back
  return model::Done{};
}

// Notes about a sealed athlete that came or were begun since: sealed like the rest of them.
model::Result<model::Done> Book::seal_new_notes() {
  if (open_profiles_.empty()) return model::Done{};
  for (const auto& [id, scope] : scopes_) {
    if (scope->what() != model::ScopeIs::coach_notes) continue;
    const auto by = open_profiles_.find(scope->notes_of_coaches().athlete);
    if (by == open_profiles_.end()) continue;
    std::optional<Lock> lock;
    bool sealed = false;
    for (const store::SealedScope& one : store_->sealed()) {
      if (one.scope == by->first) lock = read_lock(one.lock);
      sealed = sealed || one.scope == id;
    }
    if (sealed || !lock) continue;
    lock->name.clear();
    if (const auto done = store_->seal(id, lock_bytes(*lock), by->second); !done) return done.error();
  }
  return model::Done{};
}

model::Result<model::Done> Book::open_profile(const model::ScopeId& id, const std::string& passphrase) {
  std::optional<Lock> lock;
  for (const store::SealedScope& one : store_->sealed()) {
    if (!(one.scope == id)) continue;
    if (one.open) return model::Done{};
    lock = read_lock(one.lock);
  }
  if (!lock) return not_sealed(id);
  const auto secret = sync::unwrap(lock->wrapped, passphrase, sync::Wrapped::profile);
  if (!secret) return secret.error();
  const auto by = std::make_shared<ProfileSeal>(*secret, outside_.random);
  const auto all = sealed_with(id);
  model::Result<model::Done> done = model::Done{};
  for (const model::ScopeId& scope : all) {
    if (done) done = store_->open_sealed(scope, by);
    if (done) done = read_scope(scope, Trust::derived);
  }
  if (!done) {  // half of them is nobody's profile
    for (const model::ScopeId& scope : all) {
      forget_scope(scope);
      store_->shut_sealed(scope);
    }
    return done;
  }
  open_profiles_[id] = by;
  read_sealed_late_pains(id);
  turned_ += 1;
  if (opening().read_only) return done;
  return seal_new_notes();
}

model::Result<model::Done> Book::shut_profile(const model::ScopeId& id) {
  const auto known = sealed_profile(id);
  if (!known) return not_sealed(id);
  if (!known->open) return model::Done{};
  if (!waiting_.empty() || !saving_.empty()) return model::error(model::ErrorKind::io, "profile.waits");
  if (!opening().read_only)
    if (const auto done = seal_new_notes(); !done) return done.error();
  for (const model::ScopeId& scope : sealed_with(id)) {
    forget_scope(scope);
    store_->shut_sealed(scope);
  }
  open_profiles_.erase(id);
  late_of_sealed_.erase(id);
  return model::Done{};
}

model::Result<model::Done> Book::unseal_profile(const model::ScopeId& id) {
  if (const auto may = writable(); !may) return may.error();
  const auto known = sealed_profile(id);
  if (!known) return not_sealed(id);
  if (!known->open) return model::error(model::ErrorKind::sealed, "profile.shut", {known->name});
  if (!waiting_.empty() || !saving_.empty()) return model::error(model::ErrorKind::io, "profile.waits");
  for (const model::ScopeId& scope : sealed_with(id))
    if (const auto done = store_->unseal(scope); !done) return done.error();
  unseal_late_pains(id);
  note_saving(store_->ticket(), {});
  open_profiles_.erase(id);
  return model::Done{};
}

model::Result<model::Done> Book::drop_profile(const model::ScopeId& id, std::string_view typed) {
  if (const auto may = writable(); !may) return may.error();
  const auto known = sealed_profile(id);
  if (!known) return not_sealed(id);
  if (typed.empty() || typed != known->name) return model::error(model::ErrorKind::invalid, "profile.other_name");
  // First a new incarnation: what the old one wrote may come back in part, and nothing may be written after a part.
  if (const auto anew = begin_anew(); !anew) return anew.error();
  clear_local_values(id);
  for (const model::ScopeId& scope : sealed_with(id)) {
    if (const auto done = store_->drop_sealed(scope); !done) return done.error();
    forget_scope(scope);
  }
  open_profiles_.erase(id);
  note_saving(store_->ticket(), {});
  (void)store_->compact();
  return model::Done{};
}

std::optional<model::Error> Book::refuse_shut(const sync::ReadBundle& read, const std::string& file_name) {
  std::vector<model::ScopeId> about = read.bundle.scopes;
  for (const ops::ChainedOp& op : read.ops) {  // notes of another coach, the first that come
    const ops::Field* athlete = op.op.kind == ops::kind::coach_notes ? op.op.find(ops::coach_notes_tag::athlete) : nullptr;
    if (athlete != nullptr && athlete->payload.size() == sizeof(model::ScopeId::bytes)) about.push_back(model::ScopeId::from(athlete->payload));
  }
  for (const store::SealedScope& one : store_->sealed()) {
    if (one.open || std::find(about.begin(), about.end(), one.scope) == about.end()) continue;
    const auto lock = read_lock(one.lock);
    const auto whose = lock ? sealed_profile(lock->athlete) : std::nullopt;
    return model::error(model::ErrorKind::sealed, "profile.shut_file", {file_name, whose ? whose->name : report::say("who.nameless")});
  }
  return std::nullopt;
}

}  // namespace slipway::app
