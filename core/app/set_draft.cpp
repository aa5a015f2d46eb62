// The half-entered set as a local value; a form it cannot read is no draft.
#include "app/book.h"
#include "app/session_board.h"
#include "ops/op.h"

namespace slipway::app {

namespace {

constexpr std::uint64_t kForm = 2;  // of these bytes

void put_text(model::Bytes& out, const std::string& text) {
  ops::put_varint(out, text.size());
  out.insert(out.end(), text.begin(), text.end());
}

bool get_text(model::ByteView bytes, std::size_t& at, std::string& text) {
  std::uint64_t size = 0;
  if (!ops::get_varint(bytes, at, size) || size > bytes.size() - at) return false;
  text.assign(bytes.begin() + static_cast<std::ptrdiff_t>(at), bytes.begin() + static_cast<std::ptrdiff_t>(at + size));
  at += static_cast<std::size_t>(size);
  return true;
}

}  // namespace

model::Bytes SetDraft::write() const {
  model::Bytes out;
  ops::put_varint(out, kForm);
  ops::put_varint(out, ops::zigzag(day.since_1970));
  put_text(out, exercise);
  ops::put_varint(out, round);
  ops::put_varint(out, ops::zigzag(reps));
  ops::put_varint(out, rir ? *rir + 1 : 0);
  put_text(out, band);
  ops::put_varint(out, side ? static_cast<std::uint64_t>(*side) : 0);
  ops::put_varint(out, form_broke ? 1 : 0);
  ops::put_varint(out, load ? 1 : 0);
  if (load) {
    ops::put_varint(out, ops::zigzag(load->value));
    ops::put_varint(out, load->decimals);
    ops::put_varint(out, static_cast<std::uint64_t>(load->unit));
  }
  if (mends) ops::put_ref(out, *mends, model::IncarnationId{});
  return out;
}

std::optional<SetDraft> SetDraft::read(model::ByteView bytes) {
  std::size_t at = 0;
  std::uint64_t form = 0, day = 0, reps = 0, rir = 0, side = 0, broke = 0, has_load = 0;
  SetDraft draft;
  if (!ops::get_varint(bytes, at, form) || form != kForm || !ops::get_varint(bytes, at, day) || !get_text(bytes, at, draft.exercise) ||
      !ops::get_varint(bytes, at, draft.round) || !ops::get_varint(bytes, at, reps) || !ops::get_varint(bytes, at, rir) ||
      !get_text(bytes, at, draft.band) || !ops::get_varint(bytes, at, side) || !ops::get_varint(bytes, at, broke) ||
      !ops::get_varint(bytes, at, has_load))
    return std::nullopt;
  draft.day.since_1970 = static_cast<std::int32_t>(ops::unzigzag(day));
  draft.reps = ops::unzigzag(reps);
  if (rir > 0) draft.rir = rir - 1;
  if (side == 1 || side == 2) draft.side = static_cast<model::Side>(side);
  draft.form_broke = broke == 1;
  if (draft.round < 1 || draft.round > kMaxRounds || draft.reps < 0 || draft.reps > static_cast<std::int64_t>(kMaxHoldSeconds) || rir > kMaxRir + 1)
    return std::nullopt;
  if (has_load != 0) {
    std::uint64_t value = 0, decimals = 0, unit = 0;
    if (!ops::get_varint(bytes, at, value) || !ops::get_varint(bytes, at, decimals) || !ops::get_varint(bytes, at, unit)) return std::nullopt;
    if (decimals > 3 || unit < 1 || unit > 2) return std::nullopt;
    draft.load = model::Quantity{ops::unzigzag(value), static_cast<std::uint8_t>(decimals), static_cast<model::Unit>(unit)};
    draft.around = draft.load;
  }
  if (at < bytes.size()) {
    model::OpKey mends;
    if (!ops::get_ref(bytes, at, model::IncarnationId{}, mends) || at != bytes.size()) return std::nullopt;
    draft.mends = mends;
  }
  return draft;
}

}  // namespace slipway::app
