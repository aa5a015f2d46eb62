#include "sync/signature.h"

#include <algorithm>

#include "ops/chain.h"
#include "ops/op.h"
#include "sync/door.h"

namespace slipway::sync {

namespace {

constexpr std::string_view kContext = "slipway signature 0";

model::Bytes envelope_bytes(const Envelope& envelope) {
  model::Bytes out;
  ops::put_varint(out, static_cast<std::uint64_t>(envelope.how));
  ops::put_varint(out, envelope.to.size());
  for (const RecipientKey& key : envelope.to) model::append(out, key.view());
  return out;
}

model::Hash32 message_of(const Envelope& envelope, const std::vector<FramePlan::Section>& sections) {
  model::Bytes said(kContext.begin(), kContext.end());
  model::append(said, envelope_bytes(envelope));
  for (const FramePlan::Section& section : sections) {
    if (section.type != section::manifest && section.type != section::ranges && section.type != section::ops) continue;
    ops::put_varint(said, section.type);
    model::append(said, ops::blake2b(section.raw).view());
  }
  return ops::blake2b(said);
}

}  // namespace

model::Bytes write_signature(const SigningKey& key, const Envelope& envelope, const std::vector<FramePlan::Section>& signed_sections) {
  Envelope sorted = envelope;
  std::sort(sorted.to.begin(), sorted.to.end());
  model::Bytes out = envelope_bytes(sorted);
  model::append(out, key.open.view());
  model::append(out, sign(key, message_of(sorted, signed_sections).view()).view());
  return out;
}

std::optional<ReadSignature> read_signature(model::ByteView section) {
  Cursor cursor(section);
  ReadSignature read;
  std::uint64_t how = 0, count = 0;
  if (!cursor.number(how) || how > static_cast<std::uint64_t>(Envelope::How::by_passphrase) || !cursor.number(count) || count > kMostRecipients)
    return std::nullopt;
  read.said.envelope.how = static_cast<Envelope::How>(how);
  if ((read.said.envelope.how == Envelope::How::to_keys) != (count > 0)) return std::nullopt;
  model::ByteView bytes;
  for (std::uint64_t i = 0; i < count; ++i) {
    if (!cursor.take(32, bytes)) return std::nullopt;
    const RecipientKey key = RecipientKey::from(bytes);
    if (!read.said.envelope.to.empty() && !(read.said.envelope.to.back() < key)) return std::nullopt;
    read.said.envelope.to.push_back(key);
  }
  if (!cursor.take(32, bytes)) return std::nullopt;
  read.said.signer = SignerKey::from(bytes);
  if (!cursor.take(64, bytes) || cursor.left() != 0) return std::nullopt;
  read.bytes = SignatureBytes::from(bytes);
  return read;
}

bool holds(const ReadSignature& signature, const std::vector<FramePlan::Section>& signed_sections) {
  return signature_holds(signature.said.signer, message_of(signature.said.envelope, signed_sections).view(), signature.bytes);
}

}  // namespace slipway::sync
