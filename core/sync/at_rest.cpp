#include "sync/at_rest.h"

#include <sodium.h>

#include <string_view>

namespace slipway::sync {

namespace {

constexpr std::size_t kNonceBytes = crypto_aead_xchacha20poly1305_ietf_NPUBBYTES, kMacBytes = crypto_aead_xchacha20poly1305_ietf_ABYTES;
static_assert(kNonceBytes == 24 && kMacBytes == 16);

Secret32 key_for(std::string_view purpose, const Secret32& secret) {
  Secret32 key;
  const model::ByteView said = model::as_bytes(purpose);
  crypto_generichash(key.bytes.data(), key.bytes.size(), said.data(), said.size(), secret.bytes.data(), secret.bytes.size());
  return key;
}

}  // namespace

ProfileKey::ProfileKey(const Secret32& secret) : rows_(key_for("slipway profile rows", secret)), marks_(key_for("slipway profile marks", secret)) {}

ProfileKey::~ProfileKey() {
  sodium_memzero(rows_.bytes.data(), rows_.bytes.size());
  sodium_memzero(marks_.bytes.data(), marks_.bytes.size());
}

model::Bytes ProfileKey::seal(model::ByteView row, model::ByteView place, host::Random& random) const {
  model::Bytes out(kNonceBytes + row.size() + kMacBytes);
  random.fill(std::span(out).first(kNonceBytes));
  crypto_aead_xchacha20poly1305_ietf_encrypt(out.data() + kNonceBytes, nullptr, row.data(), row.size(), place.data(), place.size(), nullptr, out.data(),
                                             rows_.bytes.data());
  return out;
}

std::optional<model::Bytes> ProfileKey::open(model::ByteView sealed, model::ByteView place) const {
  if (sealed.size() < kNonceBytes + kMacBytes) return std::nullopt;
  const model::ByteView nonce = sealed.first(kNonceBytes), box = sealed.subspan(kNonceBytes);
  model::Bytes row(box.size() - kMacBytes);
  const int opened = crypto_aead_xchacha20poly1305_ietf_decrypt(row.data(), nullptr, nullptr, box.data(), box.size(), place.data(), place.size(),
                                                                nonce.data(), rows_.bytes.data());
  return opened == 0 ? std::optional(std::move(row)) : std::nullopt;
}

model::Hash32 ProfileKey::mark(const model::Hash32& hash) const {
  model::Hash32 mark;
  crypto_generichash(mark.bytes.data(), mark.bytes.size(), hash.bytes.data(), hash.bytes.size(), marks_.bytes.data(), marks_.bytes.size());
  return mark;
}

Secret32 make_profile_secret(host::Random& random) {
  Secret32 secret;
  random.fill(secret.bytes);
  return secret;
}

}  // namespace slipway::sync
