#include "store/holdings_bytes.h"

namespace slipway::store {

model::Bytes write_holdings(const ops::Holdings& holdings) {
  model::Bytes out;
  ops::put_varint(out, holdings.size());
  for (const auto& [stream, holding] : holdings) {
    model::append(out, stream.scope.view());
    model::append(out, stream.inc.view());
    model::append(out, holding.prefix_hash.view());
    out.push_back(holding.forked ? 1 : 0);
    ops::put_varint(out, holding.ranges.spans().size());
    for (const ops::Range& span : holding.ranges.spans()) {
      ops::put_varint(out, span.first);
      ops::put_varint(out, span.last);
    }
  }
  return out;
}

std::optional<ops::Holdings> read_holdings(model::ByteView bytes) {
  constexpr std::size_t kFixedBytes = 16 + 16 + 32 + 1;
  ops::Holdings holdings;
  std::size_t at = 0;
  std::uint64_t streams = 0;
  if (!ops::get_varint(bytes, at, streams)) return std::nullopt;
  for (; streams > 0; --streams) {
    if (bytes.size() - at < kFixedBytes) return std::nullopt;
    const ops::StreamId stream{model::ScopeId::from(bytes.subspan(at, 16)), model::IncarnationId::from(bytes.subspan(at + 16, 16))};
    ops::Holding holding;
    holding.prefix_hash = model::Hash32::from(bytes.subspan(at + 32, 32));
    holding.forked = bytes[at + 64] != 0;
    at += kFixedBytes;
    std::uint64_t spans = 0, first = 0, last = 0;
    if (!ops::get_varint(bytes, at, spans)) return std::nullopt;
    for (; spans > 0; --spans) {
      if (!ops::get_varint(bytes, at, first) || !ops::get_varint(bytes, at, last)) return std::nullopt;
      holding.ranges.add(first, last);
    }
    holdings[stream] = holding;
  }
  if (at != bytes.size()) return std::nullopt;
  return holdings;
}

}  // namespace slipway::store
