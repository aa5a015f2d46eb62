#include "sync/squad_file.h"

#include "ops/chain.h"
#include "ops/op.h"
#include "sync/armour.h"
#include "sync/container.h"
#include "sync/door.h"
#include "sync/no_memory.h"

namespace slipway::sync {

namespace {

constexpr std::string_view kContext = "slipway squad 0";
constexpr std::size_t kSignatureBytes = 64;
constexpr std::size_t kMostSquadFileBytes = 2048;  // as text, with room; a longer file is not even hashed

model::Hash32 message_of(model::ByteView unsigned_part) {
  model::Bytes said(kContext.begin(), kContext.end());
  model::append(said, unsigned_part);
  return ops::blake2b(said);
}

bool is_name(std::string_view name) { return !name.empty() && name.size() <= kMostSquadNameBytes && model::is_utf8(name); }

model::Result<model::Bytes> bare(model::ByteView file, const Door& door) {
  if (is_armoured(file)) return take_off_armour(file, door, {});
  return model::Bytes(file.begin(), file.end());
}

model::Result<Squad> read_now(model::ByteView file, const Door& door) {
  const auto bytes = bare(file, door);
  if (!bytes) return bytes.error();
  const auto frame = read_frame(*bytes, door, {});
  if (!frame) return frame.error();
  const Frame::Section* section = frame->find(section::squad);
  if (section == nullptr) return door.no(model::ErrorKind::foreign, "squad.not_one", "table", frame->header_at);
  Cursor cursor(section->raw);
  const auto broken = [&] { return door.damaged("bundle.section", section_name(section::squad), section->at + cursor.at()); };
  Squad squad;
  std::uint64_t length = 0;
  model::ByteView bytes_of;
  if (!cursor.number(length) || !cursor.take(length, bytes_of) || !is_name(model::as_text(bytes_of))) return broken();
  squad.coach = std::string(model::as_text(bytes_of));
  if (!cursor.take(squad.seal_to.bytes.size(), bytes_of)) return broken();
  squad.seal_to = RecipientKey::from(bytes_of);
  if (!cursor.take(squad.device.bytes.size(), bytes_of)) return broken();
  squad.device = model::DeviceId::from(bytes_of);
  if (!cursor.take(squad.signer.bytes.size(), bytes_of)) return broken();
  squad.signer = SignerKey::from(bytes_of);
  const model::ByteView unsigned_part = section->raw.first(cursor.at());
  if (!cursor.take(kSignatureBytes, bytes_of) || cursor.left() != 0 || !frame->header.empty()) return broken();
  if (!signature_holds(squad.signer, message_of(unsigned_part).view(), SignatureBytes::from(bytes_of)))
    return door.damaged("bundle.signature", section_name(section::squad), section->at);
  return squad;
}

}  // namespace

model::Result<model::Bytes> write_squad(const Squad& squad, const SigningKey& key) {
  if (!is_name(squad.coach)) return model::error(model::ErrorKind::invalid, "squad.name", {std::to_string(kMostSquadNameBytes)});
  model::Bytes raw;
  ops::put_varint(raw, squad.coach.size());
  model::append(raw, model::as_bytes(squad.coach));
  model::append(raw, squad.seal_to.view());
  model::append(raw, squad.device.view());
  model::append(raw, key.open.view());
  const SignatureBytes signature = sign(key, message_of(raw).view());
  model::append(raw, signature.view());
  FramePlan frame;
  frame.sections.push_back({section::squad, std::move(raw)});
  return write_frame(frame);
}

bool is_squad_file(model::ByteView file) {
  if (file.size() > kMostSquadFileBytes) return false;
  const auto is_one = or_no_memory<bool>([&]() -> model::Result<bool> {
    const Door door{""};
    const auto bytes = bare(file, door);
    if (!bytes) return bytes.error();
    const auto frame = read_frame(*bytes, door, {});
    return frame && frame->find(section::squad) != nullptr;
  });
  return is_one && *is_one;
}

model::Result<Squad> read_squad(model::ByteView file, const std::string& file_name) {
  return or_no_memory<Squad>([&] { return read_now(file, Door{file_name}); });
}

}  // namespace slipway::sync
