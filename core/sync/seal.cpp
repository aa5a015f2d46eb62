#include "sync/seal.h"

#include <sodium.h>

#include <algorithm>
#include <array>

#include "ops/chain.h"
#include "ops/op.h"
#include "sync/no_memory.h"

namespace slipway::sync {

namespace {

constexpr std::uint64_t kSealedBoxStanza = 1, kPassphraseStanza = 2;
constexpr std::uint64_t kMostStanzaBytes = 1024;
constexpr std::size_t kMacBytes = 32, kNonceBytes = 24, kSealedBoxBytes = 80;
constexpr std::size_t kStreamHeaderBytes = crypto_secretstream_xchacha20poly1305_HEADERBYTES;
constexpr std::size_t kChunkBytes = 64 * 1024, kChunkMore = crypto_secretstream_xchacha20poly1305_ABYTES;
static_assert(kStreamHeaderBytes == 24 && kChunkMore == 17 && kSealedBoxBytes == crypto_box_SEALBYTES + 32);

using FileKey = Secret32;

Secret32 key_for(std::string_view purpose, const FileKey& file_key) {
  Secret32 key;
  const model::ByteView said = model::as_bytes(purpose);
  crypto_generichash(key.bytes.data(), key.bytes.size(), said.data(), said.size(), file_key.bytes.data(), file_key.bytes.size());
  return key;
}

model::Hash32 mac_of(const FileKey& file_key, const std::array<std::uint64_t, 4>& numbers, model::ByteView stanzas) {
  model::Bytes said;
  for (const std::uint64_t number : numbers) ops::put_varint(said, number);
  model::append(said, stanzas);
  const Secret32 key = key_for("slipway seal header", file_key);
  model::Hash32 mac;
  crypto_generichash(mac.bytes.data(), mac.bytes.size(), said.data(), said.size(), key.bytes.data(), key.bytes.size());
  return mac;
}

// As libsodium's crypto_box_seal, with the one-time key drawn from our own source; crypto_box_seal_open opens it.
model::Bytes sealed_box(const FileKey& file_key, const RecipientKey& to, host::Random& random) {
  const SealingKey once = make_sealing_key(random);
  model::Bytes both(once.open.bytes.begin(), once.open.bytes.end());
  model::append(both, to.view());
  std::array<std::uint8_t, kNonceBytes> nonce{};
  crypto_generichash(nonce.data(), nonce.size(), both.data(), both.size(), nullptr, 0);
  model::Bytes out(kSealedBoxBytes);
  std::copy(once.open.bytes.begin(), once.open.bytes.end(), out.begin());
  const int boxed = crypto_box_easy(out.data() + once.open.bytes.size(), file_key.bytes.data(), file_key.bytes.size(), nonce.data(),
                                    to.bytes.data(), once.secret.bytes.data());
  if (boxed != 0) out.clear();  // a key of small order: nobody's
  return out;
}

void put_stanza(model::Bytes& stanzas, std::uint64_t type, model::ByteView bytes) {
  ops::put_varint(stanzas, type);
  ops::put_varint(stanzas, bytes.size());
  model::append(stanzas, bytes);
}

// A stream begins the same on both sides, so the reading side's start serves to begin one with a header of our own drawing.
void begin_stream(crypto_secretstream_xchacha20poly1305_state& stream, model::ByteView header, const FileKey& file_key) {
  const Secret32 key = key_for("slipway seal content", file_key);
  crypto_secretstream_xchacha20poly1305_init_pull(&stream, header.data(), key.bytes.data());
}

model::Bytes sealed_content(model::ByteView content, const FileKey& file_key, host::Random& random) {
  model::Bytes out(kStreamHeaderBytes);
  random.fill(out);
  crypto_secretstream_xchacha20poly1305_state stream;
  begin_stream(stream, out, file_key);
  out.reserve(content.size() + (content.size() / kChunkBytes + 1) * kChunkMore + kStreamHeaderBytes);
  for (std::size_t at = 0; at < content.size();) {
    const model::ByteView chunk = content.subspan(at, std::min(kChunkBytes, content.size() - at));
    at += chunk.size();
    const std::uint8_t tag = at == content.size() ? crypto_secretstream_xchacha20poly1305_TAG_FINAL : crypto_secretstream_xchacha20poly1305_TAG_MESSAGE;
    const std::size_t begins = out.size();
    out.resize(begins + chunk.size() + kChunkMore);
    crypto_secretstream_xchacha20poly1305_push(&stream, out.data() + begins, nullptr, chunk.data(), chunk.size(), nullptr, 0, tag);
  }
  sodium_memzero(&stream, sizeof stream);
  return out;
}

model::Result<model::Bytes> seal_now(model::ByteView bundle, const SealPlan& plan, host::Random& random, const Limits& limits) {
  if (bundle.empty() || plan.to.size() > kMostRecipients || plan.to.empty() == plan.passphrase.empty())
    return model::error(model::ErrorKind::invalid, "key.recipients", {std::to_string(kMostRecipients)});
  FileKey file_key;
  random.fill(file_key.bytes);
  std::vector<RecipientKey> to = plan.to;
  std::sort(to.begin(), to.end());
  to.erase(std::unique(to.begin(), to.end()), to.end());

  model::Bytes stanzas;
  ops::put_varint(stanzas, plan.passphrase.empty() ? to.size() : 1);
  for (const RecipientKey& key : to) {
    const model::Bytes box = sealed_box(file_key, key, random);
    if (box.empty()) return model::error(model::ErrorKind::invalid, "key.not_a_key");
    put_stanza(stanzas, kSealedBoxStanza, box);
  }
  if (!plan.passphrase.empty()) {
    const auto wrapped = wrap(file_key, plan.passphrase, plan.cost, Wrapped::file_key, random);
    if (!wrapped) return wrapped.error();
    put_stanza(stanzas, kPassphraseStanza, *wrapped);
  }

  FramePlan frame;
  frame.flags = flag::sealed;
  frame.header = stanzas;
  model::append(frame.header, mac_of(file_key, {frame.major, frame.minor, frame.min_reader, frame.flags}, stanzas).view());
  frame.sections.push_back({section::sealed, sealed_content(bundle, file_key, random)});
  sodium_memzero(file_key.bytes.data(), file_key.bytes.size());
  model::Bytes file = write_frame(frame);
  if (file.size() > limits.file_bytes) return model::error(model::ErrorKind::too_large, "bundle.too_large_to_make", {std::to_string(limits.file_bytes)});
  return file;
}

class Opener {
 public:
  Opener(const Frame& frame, const Door& door, const Keyring& keyring, const Limits& limits)
      : frame_(frame), door_(door), keyring_(keyring), limits_(limits) {}

  model::Result<Unsealed> open() {
    using Step = model::Result<model::Done> (Opener::*)();
    for (const Step step : {&Opener::read_header, &Opener::find_file_key, &Opener::check_header, &Opener::open_content})
      if (auto done = (this->*step)(); !done) return done.error();
    return std::move(out_);
  }

 private:
  struct Stanza {
    std::uint64_t type = 0;
    model::ByteView bytes;
  };

  model::Result<model::Done> read_header() {
    Cursor cursor(frame_.header);
    const auto broken = [&] { return door_.damaged("bundle.section", "header", frame_.header_at + cursor.at()); };
    std::uint64_t count = 0;
    if (!cursor.number(count) || count == 0) return broken();
    if (count > kMostRecipients) return door_.too_large("header", kMostRecipients);
    for (std::uint64_t i = 0; i < count; ++i) {
      Stanza stanza;
      std::uint64_t length = 0;
      if (!cursor.number(stanza.type) || !cursor.number(length) || length > kMostStanzaBytes || !cursor.take(length, stanza.bytes)) return broken();
      if (stanza.type == kSealedBoxStanza && length != kSealedBoxBytes) return broken();
      if (stanza.type == kPassphraseStanza && count != 1) return broken();  // never mixed: it would let anybody who knows it add keys
      stanzas_.push_back(stanza);
    }
    stanza_bytes_ = frame_.header.first(cursor.at());
    if (!cursor.take(kMacBytes, mac_) || cursor.left() != 0) return broken();
    return model::Done{};
  }

  model::Result<model::Done> find_file_key() {
    if (stanzas_.front().type == kPassphraseStanza) return by_passphrase(stanzas_.front());
    for (const Stanza& stanza : stanzas_)
      if (stanza.type == kSealedBoxStanza)
        for (const SealingKey& key : keyring_.keys)
          if (crypto_box_seal_open(file_key_.bytes.data(), stanza.bytes.data(), stanza.bytes.size(), key.open.bytes.data(), key.secret.bytes.data()) == 0) {
            out_.how = Envelope::How::to_keys;
            out_.opened_by = key.open;
            return model::Done{};
          }
    return door_.no(model::ErrorKind::sealed, "bundle.sealed_other", "header", frame_.header_at);
  }

  model::Result<model::Done> by_passphrase(const Stanza& stanza) {
    if (keyring_.passphrase.empty() && is_wrapped(stanza.bytes)) return door_.no(model::ErrorKind::sealed, "bundle.sealed_passphrase", "header", frame_.header_at);
    const auto unwrapped = unwrap(stanza.bytes, keyring_.passphrase, Wrapped::file_key);
    if (!unwrapped) {
      const model::Error& why = unwrapped.error();
      if (why.text == "key.passphrase_wrong") return door_.no(model::ErrorKind::sealed, "bundle.sealed_wrong", "header", frame_.header_at);
      if (why.text == "key.cost") return door_.too_large("passphrase", kMostCostKib);
      if (why.text == "key.wrapped") return door_.damaged("bundle.section", "header", frame_.header_at);
      return why;
    }
    file_key_ = *unwrapped;
    out_.how = Envelope::How::by_passphrase;
    return model::Done{};
  }

  model::Result<model::Done> check_header() {
    const model::Hash32 mac = mac_of(file_key_, {frame_.major, frame_.minor, frame_.min_reader, frame_.flags}, stanza_bytes_);
    if (sodium_memcmp(mac.bytes.data(), mac_.data(), kMacBytes) != 0)
      return door_.damaged("bundle.seal", "header", frame_.header_at + stanza_bytes_.size());
    return model::Done{};
  }

  model::Result<model::Done> open_content() {
    const Frame::Section& section = *frame_.find(section::sealed);
    Cursor cursor(section.raw);
    const auto broken = [&] { return door_.damaged("bundle.seal", "sealed", section.at + cursor.at()); };
    model::ByteView header;
    if (!cursor.take(kStreamHeaderBytes, header)) return broken();
    if (cursor.left() > limits_.file_bytes + limits_.file_bytes / 1024) return door_.too_large("sealed", limits_.file_bytes);
    crypto_secretstream_xchacha20poly1305_state stream;
    begin_stream(stream, header, file_key_);
    sodium_memzero(file_key_.bytes.data(), file_key_.bytes.size());
    out_.bundle.reserve(section.raw.size());
    bool final = false;
    while (!final) {
      const std::uint64_t length = std::min<std::uint64_t>(cursor.left(), kChunkBytes + kChunkMore);
      if (length <= kChunkMore) return broken();  // cut, or a chunk that says nothing
      model::ByteView chunk;
      Cursor before = cursor;
      cursor.take(length, chunk);
      const std::size_t begins = out_.bundle.size();
      out_.bundle.resize(begins + chunk.size() - kChunkMore);
      std::uint8_t tag = 0;
      const bool whole = crypto_secretstream_xchacha20poly1305_pull(&stream, out_.bundle.data() + begins, nullptr, &tag, chunk.data(), chunk.size(), nullptr, 0) == 0;
      final = tag == crypto_secretstream_xchacha20poly1305_TAG_FINAL;
      const bool in_place = final ? cursor.left() == 0 : tag == crypto_secretstream_xchacha20poly1305_TAG_MESSAGE && cursor.left() != 0;
      if (!whole || !in_place) {
        cursor = before;
        return broken();
      }
    }
    sodium_memzero(&stream, sizeof stream);
    return model::Done{};
  }

  const Frame& frame_;
  const Door& door_;
  const Keyring& keyring_;
  const Limits& limits_;
  std::vector<Stanza> stanzas_;
  model::ByteView stanza_bytes_, mac_;
  FileKey file_key_;
  Unsealed out_;
};

}  // namespace

model::Result<model::Bytes> seal(model::ByteView bundle, const SealPlan& plan, host::Random& random, const Limits& limits) {
  return or_no_memory<model::Bytes>([&] { return seal_now(bundle, plan, random, limits); });
}

model::Result<Unsealed> unseal(const Frame& frame, const Door& door, const Keyring& keyring, const Limits& limits) {
  return Opener(frame, door, keyring, limits).open();
}

}  // namespace slipway::sync
