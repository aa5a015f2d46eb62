// libFuzzer target for the header of sealed files: stanzas, passphrase costs, MAC; with the key and the passphrase at
// hand, so that everything behind the first look is reached. What opens must be what was sealed.
#include <algorithm>
#include <cstdio>
#include <cstdlib>

#include "kit/seal_kit.h"

using namespace slipway;

namespace {

constexpr std::uint8_t kWhole = 0, kFromPassphrase = 1;  // of the first byte; others: stanzas in front of a key's

const sync::Keyring& keyring() {
  static const sync::Keyring both{{kit::sealing_key_named('c')}, kit::kFilePassphrase};
  return both;
}

// type, length, bytes; as many as there are.
std::vector<kit::Stanza> stanzas_of(model::ByteView input) {
  std::vector<kit::Stanza> stanzas;
  while (input.size() >= 2 && stanzas.size() < 20) {
    const std::size_t length = std::min<std::size_t>(input[1], input.size() - 2);
    stanzas.push_back({input[0], model::Bytes(input.begin() + 2, input.begin() + 2 + static_cast<std::ptrdiff_t>(length))});
    input = input.subspan(2 + length);
  }
  return stanzas;
}

bool same_bundle(const sync::ReadBundle& read, const sync::ReadBundle& sealed) {
  const auto one = sync::write_bundle(read.bundle), other = sync::write_bundle(sealed.bundle);
  return one.ok() && other.ok() && *one == *other;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const model::Bytes to_key = kit::sealed_to("c"), by_passphrase = kit::sealed_by_passphrase();
  static const sync::ReadBundle whole = *sync::read_bundle(to_key, "sealed", {}, keyring());
  if (size == 0) return 0;
  const model::ByteView rest(data + 1, size - 1);
  model::Bytes file(rest.begin(), rest.end());
  if (data[0] != kWhole) {
    kit::SealParts parts = kit::seal_apart(data[0] == kFromPassphrase ? by_passphrase : to_key);
    std::vector<kit::Stanza> stanzas = stanzas_of(rest);
    if (data[0] != kFromPassphrase) stanzas.insert(stanzas.end(), parts.stanzas.begin(), parts.stanzas.end());
    parts.stanzas = std::move(stanzas);
    file = kit::seal_together(parts);
  }
  const auto read = sync::read_bundle(file, "sealed", {}, keyring());
  if (!read || read->envelope == sync::Envelope::How::open || same_bundle(*read, whole)) return 0;
  std::fprintf(stderr, "broken promise: something opened that was never sealed\n");
  std::abort();
}
