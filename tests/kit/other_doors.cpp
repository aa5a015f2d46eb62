// The promises of the doors beside the bundle's own: open forms, and seals.
#include <algorithm>
#include <map>

#include "kit/bundle_door.h"
#include "kit/seal_kit.h"
#include "model/json.h"
#include "ops/held.h"
#include "sync/op_lines.h"

namespace slipway::kit {

std::string broken_open_form(model::ByteView file) {
  (void)model::read_json(model::as_text(file));
  const auto read = sync::read_entries(file, "fuzz");
  if (!read) return "";
  std::map<model::ScopeId, std::vector<ops::ChainedOp>> by_athlete;
  ops::Held held, again;
  for (const ops::ChainedOp& op : read->ops) {
    held.add(op);
    by_athlete[op.stream.scope].push_back(op);
  }
  std::string text = sync::op_lines_head({}, {}, held.op_count());
  for (auto& [scope, ops] : by_athlete) text += sync::op_lines_of(std::move(ops));
  const auto back = sync::read_entries(model::as_bytes(text), "again");
  if (!back) return "written as lines, it is refused for " + back.error().text;
  for (const ops::ChainedOp& op : back->ops) again.add(op);
  return again.digest() == held.digest() ? "" : "written as lines, another set comes back";
}

namespace {

constexpr std::uint8_t kWhole = 0, kFromPassphrase = 1;
constexpr std::size_t kMostStanzas = 20;  // more than a seal may have

std::vector<Stanza> stanzas_of(model::ByteView input) {  // type, length, bytes; as many as there are
  std::vector<Stanza> stanzas;
  while (input.size() >= 2 && stanzas.size() < kMostStanzas) {
    const std::size_t length = std::min<std::size_t>(input[1], input.size() - 2);
    const model::ByteView bytes = input.subspan(2, length);
    stanzas.push_back({input[0], model::Bytes(bytes.begin(), bytes.end())});
    input = input.subspan(2 + length);
  }
  return stanzas;
}

}  // namespace

std::string broken_seal(model::ByteView input) {
  static const sync::Keyring both{{sealing_key_named('c')}, kFilePassphrase};
  static const model::Bytes to_key = sealed_to("c"), by_passphrase = sealed_by_passphrase();
  static const std::vector<ops::ChainedOp> sealed = sync::read_bundle(to_key, "sealed", {}, both)->ops;
  if (input.empty()) return "";
  const model::ByteView rest = input.subspan(1);
  model::Bytes file(rest.begin(), rest.end());
  if (input[0] != kWhole) {
    SealParts parts = seal_apart(input[0] == kFromPassphrase ? by_passphrase : to_key);
    std::vector<Stanza> stanzas = stanzas_of(rest);
    if (input[0] != kFromPassphrase) stanzas.insert(stanzas.end(), parts.stanzas.begin(), parts.stanzas.end());
    parts.stanzas = std::move(stanzas);
    file = seal_together(parts);
  }
  const auto read = sync::read_bundle(file, "sealed", {}, both);
  if (!read || read->envelope == sync::Envelope::How::open) return "";
  const bool same = std::equal(read->ops.begin(), read->ops.end(), sealed.begin(), sealed.end(),
                               [](const ops::ChainedOp& a, const ops::ChainedOp& b) { return a.hash == b.hash; });
  return same ? "" : "something opened that was never sealed";
}

}  // namespace slipway::kit
