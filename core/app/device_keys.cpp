#include "app/device_keys.h"

#include <algorithm>

#include "app/local_names.h"

namespace slipway::app {

namespace {

constexpr std::string_view kSigningName = "own.signing_key", kCoachName = kCoachKeyName, kKnownName = kKnownDevicesName;
constexpr std::size_t kKeyBytes = 32, kIdBytes = 16, kKnownRow = kIdBytes + kKeyBytes;

// kept how (1), public key (32), length of the secret as kept (1), the secret, the name.
struct KeptCoachKey {
  bool wrapped = true;
  sync::RecipientKey open;
  model::Bytes secret;
  std::string name;

  model::Bytes write() const {
    model::Bytes out{static_cast<std::uint8_t>(wrapped ? 1 : 0)};
    model::append(out, open.view());
    out.push_back(static_cast<std::uint8_t>(secret.size()));
    model::append(out, secret);
    model::append(out, model::as_bytes(name));
    return out;
  }
  static std::optional<KeptCoachKey> read(model::ByteView bytes) {
    constexpr std::size_t kHead = 1 + kKeyBytes + 1;
    if (bytes.size() < kHead) return std::nullopt;
    KeptCoachKey kept;
    kept.wrapped = bytes[0] == 1;
    kept.open = sync::RecipientKey::from(bytes.subspan(1, kKeyBytes));
    const std::size_t length = bytes[kHead - 1];
    if (bytes.size() < kHead + length || (!kept.wrapped && length != kKeyBytes)) return std::nullopt;
    kept.secret.assign(bytes.begin() + kHead, bytes.begin() + static_cast<std::ptrdiff_t>(kHead + length));
    kept.name = std::string(model::as_text(bytes.subspan(kHead + length)));
    return kept;
  }
};
static_assert(sync::kMostWrappedBytes < 256);

std::optional<KeptCoachKey> kept_key(const std::optional<model::Bytes>& bytes) {
  if (!bytes || bytes->empty()) return std::nullopt;
  return KeptCoachKey::read(*bytes);
}

model::Error no_coach_key() { return model::error(model::ErrorKind::not_found, "key.no_coach_key"); }

}  // namespace

std::optional<model::Bytes> DeviceKeys::local(std::string_view name) {
  auto value = store_.local(name);
  return value ? *value : std::nullopt;
}

std::optional<sync::SigningKey> DeviceKeys::signing_key() {
  const model::IncarnationId& inc = store_.opening().inc;
  if (const auto kept = local(kSigningName); kept && kept->size() == kKeyBytes + kIdBytes)
    if (model::equal(model::ByteView(*kept).subspan(kKeyBytes), inc.view()))
      return sync::signing_key_of(sync::SigningSeed::from(model::ByteView(*kept).first(kKeyBytes)));
  if (store_.opening().read_only) return std::nullopt;
  const sync::SigningKey made = sync::make_signing_key(random_);
  model::Bytes value(made.secret.bytes.begin(), made.secret.bytes.end());
  model::append(value, inc.view());
  if (!store_.set_local(kSigningName, value)) return std::nullopt;
  return made;
}

// ---- the coach this device seals to --------------------------------------------------------------------

std::optional<sync::Squad> DeviceKeys::squad() {
  const auto kept = local(kSquadName);
  if (!kept || kept->empty()) return std::nullopt;
  const auto squad = sync::read_squad(*kept, std::string(kSquadName));
  return squad ? std::optional(*squad) : std::nullopt;
}

model::Result<sync::Squad> DeviceKeys::join(model::ByteView squad_file, const std::string& file_name, bool confirmed) {
  auto joined = sync::read_squad(squad_file, file_name);
  if (!joined) return joined.error();
  const auto before = squad();
  if (before && !(before->seal_to == joined->seal_to) && !confirmed)
    return model::error(model::ErrorKind::unconfirmed, "squad.other", {file_name, before->coach, joined->coach, sync::compare_digits(joined->seal_to.view())});
  if (const auto kept = store_.set_local(kSquadName, squad_file); !kept) return kept.error();
  meet(joined->device, joined->signer);
  return joined;
}

model::Result<model::Done> DeviceKeys::leave_squad() { return store_.set_local(kSquadName, {}); }

// ---- the coach's own key -------------------------------------------------------------------------------

std::optional<CoachKey> DeviceKeys::coach() {
  const auto kept = kept_key(local(kCoachName));
  if (!kept) return std::nullopt;
  return CoachKey{kept->name, kept->open, kept->wrapped, !kept->wrapped || (secret_ && secret_->open == kept->open)};
}

model::Result<model::Done> DeviceKeys::keep_coach_key(const sync::SealingKey& key, const std::string& name, const std::string& passphrase, bool replace,
                                                      const sync::PassphraseCost& cost) {
  if (coach() && !replace) return model::error(model::ErrorKind::invalid, "key.there_already");
  if (name.empty() || name.size() > sync::kMostSquadNameBytes || !model::is_utf8(name))
    return model::error(model::ErrorKind::invalid, "squad.name", {std::to_string(sync::kMostSquadNameBytes)});
  KeptCoachKey kept{!passphrase.empty(), key.open, {key.secret.bytes.begin(), key.secret.bytes.end()}, name};
  if (kept.wrapped) {
    auto wrapped = sync::wrap(sync::Secret32::from(key.secret.view()), passphrase, cost, sync::Wrapped::coach_key, random_);
    if (!wrapped) return wrapped.error();
    kept.secret = std::move(*wrapped);
  }
  if (const auto done = store_.set_local(kCoachName, kept.write()); !done) return done.error();
  secret_ = key;
  return model::Done{};
}

model::Result<model::Done> DeviceKeys::make_coach_key(const std::string& name, const std::string& passphrase, bool replace, const sync::PassphraseCost& cost) {
  return keep_coach_key(sync::make_sealing_key(random_), name, passphrase, replace, cost);
}

model::Result<model::Done> DeviceKeys::recover_coach_key(std::string_view lines, const std::string& name, const std::string& passphrase, bool replace,
                                                         const sync::PassphraseCost& cost) {
  const auto secret = sync::read_recovery(lines);
  if (!secret) return secret.error();
  return keep_coach_key(sync::sealing_key_of(*secret), name, passphrase, replace, cost);
}

model::Result<model::Done> DeviceKeys::unlock_coach_key(const std::string& passphrase) {
  const auto kept = kept_key(local(kCoachName));
  if (!kept) return no_coach_key();
  if (!kept->wrapped) return model::Done{};
  const auto secret = sync::unwrap(kept->secret, passphrase, sync::Wrapped::coach_key);
  if (!secret) return secret.error();
  secret_ = sync::sealing_key_of(sync::RecipientSecret::from(secret->view()));
  return model::Done{};
}

model::Result<std::vector<std::string>> DeviceKeys::recovery_lines() {
  if (!coach()) return no_coach_key();
  const sync::Keyring ring = keyring({});
  if (ring.keys.empty()) return model::error(model::ErrorKind::sealed, "key.locked");
  return sync::recovery_lines(ring.keys.front().secret);
}

model::Result<model::Bytes> DeviceKeys::squad_file() {
  const auto mine = coach();
  if (!mine) return no_coach_key();
  const auto key = signing_key();
  if (!key) return model::error(model::ErrorKind::newer_version, "store.read_only", {std::string(store::kDatabaseName)});
  return sync::write_squad({mine->name, mine->open, store_.opening().device, key->open}, *key);
}

sync::Keyring DeviceKeys::keyring(const std::string& passphrase) {
  sync::Keyring ring{{}, passphrase};
  if (const auto kept = kept_key(local(kCoachName))) {
    if (!kept->wrapped) ring.keys.push_back(sync::sealing_key_of(sync::RecipientSecret::from(kept->secret)));
    else if (secret_ && secret_->open == kept->open) ring.keys.push_back(*secret_);
  }
  return ring;
}

// ---- devices that were met -----------------------------------------------------------------------------

std::vector<DeviceKeys::Known> DeviceKeys::known() {
  std::vector<Known> all;
  const auto kept = local(kKnownName);
  if (!kept) return all;
  for (std::size_t at = 0; at + kKnownRow <= kept->size(); at += kKnownRow) {
    const model::ByteView row = model::ByteView(*kept).subspan(at, kKnownRow);
    all.push_back({model::DeviceId::from(row.first(kIdBytes)), sync::SignerKey::from(row.subspan(kIdBytes))});
  }
  return all;
}

Sender DeviceKeys::sender_of(const sync::ReadBundle& bundle) {
  Sender sender{.state = Sender::State::not_signed, .device = bundle.bundle.device, .digits = {}};
  if (!bundle.signature) return sender;
  const sync::SignerKey& signer = bundle.signature->signer;
  sender.digits = sync::compare_digits(signer.view());
  sender.state = Sender::State::unknown;
  for (const Known& one : known())
    if (one.device == sender.device) {
      sender.state = one.key == signer ? Sender::State::known : Sender::State::other_key;
      if (sender.state == Sender::State::known) break;
    }
  if (const auto own = signing_key(); own && own->open == signer) sender.state = Sender::State::own;
  return sender;
}

void DeviceKeys::meet(const sync::ReadBundle& bundle) {
  if (bundle.signature) meet(bundle.bundle.device, bundle.signature->signer);
}

void DeviceKeys::meet(const model::DeviceId& device, const sync::SignerKey& key) {
  model::Bytes rows;
  for (const Known& one : known()) {
    if (one.device == device && one.key == key) return;
    model::append(rows, one.device.view());
    model::append(rows, one.key.view());
  }
  model::append(rows, device.view());
  model::append(rows, key.view());
  static_cast<void>(store_.set_local(kKnownName, rows));
}

}  // namespace slipway::app
