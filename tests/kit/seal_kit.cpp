#include "kit/seal_kit.h"

#include <cstdio>
#include <cstdlib>

#include "ops/op.h"
#include "sync/container.h"
#include "sync/door.h"

namespace slipway::kit {

namespace {

template <class T>
T sure(model::Result<T> result, const char* what) {
  if (!result) {
    std::fprintf(stderr, "%s: %s\n", what, result.error().text.c_str());
    std::abort();
  }
  return std::move(*result);
}

model::Bytes sealed(const sync::SealPlan& plan, sync::Envelope::How how) {
  SameRandom random(77);
  return sure(sync::seal(signed_bundle({how, plan.to}), plan, random), "seal");
}

}  // namespace

sync::SealingKey sealing_key_named(char letter) {
  SameRandom random(static_cast<std::uint64_t>(letter));
  return sync::make_sealing_key(random);
}

sync::SigningKey signing_key_named(char letter) {
  SameRandom random(static_cast<std::uint64_t>(letter) + 1000);
  return sync::make_signing_key(random);
}

model::Bytes signed_bundle(const sync::Envelope& envelope, char signer) {
  Log three('A', 's');
  three.session();
  for (const std::uint64_t reps : {8, 8, 7}) three.set(reps);
  const sync::Signing signing{signing_key_named(signer), envelope};
  return sure(sync::write_bundle(bundle_of(three.ops(), 's'), {}, sync::Packing::plain, &signing), "write_bundle");
}

model::Bytes sealed_to(const std::string& coaches) {
  sync::SealPlan plan;
  for (const char coach : coaches) plan.to.push_back(sealing_key_named(coach).open);
  return sealed(plan, sync::Envelope::How::to_keys);
}

model::Bytes sealed_by_passphrase() { return sealed({.to = {}, .passphrase = kFilePassphrase, .cost = kCheapCost}, sync::Envelope::How::by_passphrase); }

SealParts seal_apart(model::ByteView file) {
  const auto frame = sure(sync::read_frame(file, sync::Door{"kit.slip"}, {}), "read_frame");
  SealParts parts;
  parts.minor = frame.minor;
  sync::Cursor cursor(frame.header);
  std::uint64_t count = 0;
  cursor.number(count);
  for (std::uint64_t i = 0; i < count; ++i) {
    Stanza stanza;
    std::uint64_t length = 0;
    model::ByteView bytes;
    cursor.number(stanza.type);
    cursor.number(length);
    cursor.take(length, bytes);
    stanza.bytes.assign(bytes.begin(), bytes.end());
    parts.stanzas.push_back(std::move(stanza));
  }
  const model::ByteView mac = frame.header.subspan(cursor.at());
  parts.mac.assign(mac.begin(), mac.end());
  const model::ByteView content = frame.find(sync::section::sealed)->raw;
  parts.content.assign(content.begin(), content.end());
  return parts;
}

model::Bytes seal_together(const SealParts& parts) {
  sync::FramePlan plan;
  plan.minor = parts.minor;
  plan.flags = sync::flag::sealed;
  ops::put_varint(plan.header, parts.stanzas.size());
  for (const Stanza& stanza : parts.stanzas) {
    ops::put_varint(plan.header, stanza.type);
    ops::put_varint(plan.header, stanza.bytes.size());
    model::append(plan.header, stanza.bytes);
  }
  model::append(plan.header, parts.mac);
  plan.sections.push_back({sync::section::sealed, parts.content});
  return sync::write_frame(plan);
}

}  // namespace slipway::kit
