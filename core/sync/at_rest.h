// The key of a profile that is sealed at rest (sync-and-storage 10.1): one secret, wrapped by the profile's passphrase,
// and what is made of it. A row is an XChaCha20-Poly1305 box with its nonce before it; its place in the store is bound
// in, so that rows cannot change places. A hash that has to stand in the clear stands as a keyed one.
#pragma once

#include <optional>

#include "host/random.h"
#include "model/bytes.h"
#include "model/ids.h"
#include "sync/keys.h"

namespace slipway::sync {

class ProfileKey {
 public:
  explicit ProfileKey(const Secret32& secret);
  ~ProfileKey();
  ProfileKey(const ProfileKey&) = delete;
  ProfileKey& operator=(const ProfileKey&) = delete;

  model::Bytes seal(model::ByteView row, model::ByteView place, host::Random& random) const;
  std::optional<model::Bytes> open(model::ByteView sealed, model::ByteView place) const;  // nothing: not by this key, or not for this place
  model::Hash32 mark(const model::Hash32& hash) const;

 private:
  Secret32 rows_, marks_;
};

Secret32 make_profile_secret(host::Random& random);

}  // namespace slipway::sync
