// The keys of this device: local values of the store, never ops, never in a bundle.
//
// The key it signs with is made at first need and belongs to one incarnation: a device that
// was restored or copied makes a new one and is met as a stranger again. A coach's key opens
// what swimmers seal to it; its secret is wrapped by a passphrase, or kept as it is where the
// coach chose so (then whoever copies the storage of this device can open those files too).
// Known are the devices whose entries were once taken in (trust on first use).
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "host/random.h"
#include "model/ids.h"
#include "model/result.h"
#include "store/store.h"
#include "sync/bundle.h"
#include "sync/keys.h"
#include "sync/squad_file.h"

namespace slipway::app {

struct CoachKey {
  std::string name;         // as typed; stands in the squad file
  sync::RecipientKey open;
  bool wrapped = true;      // a passphrase is asked for once an opening
  bool usable = false;      // its secret is at hand now
};

// What is known of who made a bundle.
struct Sender {
  enum class State : std::uint8_t {
    not_signed,
    unknown,    // signed, by a device that was never met
    other_key,  // the device is known, by another key: restored, or somebody else
    known,
    own,
  };
  State state = State::not_signed;
  model::DeviceId device;
  std::string digits;  // of its key, to compare; empty: not signed
};

class DeviceKeys {
 public:
  DeviceKeys(store::Store& store, host::Random& random) : store_(store), random_(random) {}

  // Nothing, if it is not there yet and the store cannot keep one: then bundles go out unsigned.
  std::optional<sync::SigningKey> signing_key();

  // The coach this device seals to.
  std::optional<sync::Squad> squad();
  // Errors: unconfirmed (squad.other, args: file name, the coach till now, the new one, digits of the new key), if it
  // replaces another and nobody said yes; of the store.
  model::Result<sync::Squad> join(model::ByteView squad_file, const std::string& file_name, bool confirmed);
  model::Result<model::Done> leave_squad();

  std::optional<CoachKey> coach();
  // An empty passphrase: kept as it is. Errors: invalid (key.there_already without `replace`, squad.name, those of
  // sync::wrap); of the store.
  model::Result<model::Done> make_coach_key(const std::string& name, const std::string& passphrase, bool replace, const sync::PassphraseCost& cost = {});
  // From the lines of the recovery sheet. Errors: as make_coach_key and sync::read_recovery.
  model::Result<model::Done> recover_coach_key(std::string_view lines, const std::string& name, const std::string& passphrase, bool replace,
                                               const sync::PassphraseCost& cost = {});
  // For as long as the store is open. Errors: not_found (key.no_coach_key), sealed (key.passphrase_wrong).
  model::Result<model::Done> unlock_coach_key(const std::string& passphrase);
  void lock_coach_key() { secret_.reset(); }
  // Errors: not_found (key.no_coach_key), sealed (key.locked).
  model::Result<std::vector<std::string>> recovery_lines();
  model::Result<model::Bytes> squad_file();

  // What can be opened here and now.
  sync::Keyring keyring(const std::string& passphrase);

  // Once keys are in use, a stranger's bundle waits for a yes.
  bool in_use() { return coach().has_value() || squad().has_value(); }
  Sender sender_of(const sync::ReadBundle& bundle);
  // From now on known. What the store refuses is asked again the next time.
  void meet(const sync::ReadBundle& bundle);
  struct Known {
    model::DeviceId device;
    sync::SignerKey key;
  };
  std::vector<Known> known();

 private:
  std::optional<model::Bytes> local(std::string_view name);
  model::Result<model::Done> keep_coach_key(const sync::SealingKey& key, const std::string& name, const std::string& passphrase, bool replace,
                                            const sync::PassphraseCost& cost);
  void meet(const model::DeviceId& device, const sync::SignerKey& key);

  store::Store& store_;
  host::Random& random_;
  std::optional<sync::SealingKey> secret_;  // of the coach, unwrapped
};

}  // namespace slipway::app
