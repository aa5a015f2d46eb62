#include "ops/pen.h"

#include <algorithm>

#include "ops/registry.h"

namespace slipway::ops {

Pen::Pen(const StreamId& stream, std::uint64_t last_seq, const model::Hash32& last_hash)
    : stream_(stream), last_seq_(last_seq), last_hash_(last_hash) {}

Field Pen::nonce(host::Random& random) {
  std::uint8_t nonce[8];
  random.fill(nonce);
  nonce_written_ = true;
  return bytes_field(tag::nonce, nonce);
}

ChainedOp Pen::chained(const Op& op) {
  ChainedOp chained{stream_, last_seq_ + 1, last_hash_, {}, write_op(op), {}};
  chained.op = std::move(*read_op(chained.bytes));  // fields in the order of the bytes
  chained.hash = chain(chained.before, chained.bytes);
  last_seq_ = chained.seq;
  last_hash_ = chained.hash;
  return chained;
}

ChainedOp Pen::write(std::uint32_t kind, std::vector<Field> own_fields, const Signature& signature, std::uint64_t lam_held,
                     host::Random& random) {
  // A forged entry at the ceiling must not stop anybody from writing; lam only orders drawing.
  Op op{std::min(lam_held + 1, kCounterCeiling - 1), kind, std::move(own_fields)};
  if (!nonce_written_) op.fields.push_back(nonce(random));
  op.fields.push_back(unsigned_field(tag::author, signature.author));
  op.fields.push_back(signed_field(tag::claimed_local_ms, signature.claimed.local_ms));
  op.fields.push_back(signed_field(tag::utc_offset_min, signature.claimed.utc_offset_min));
  op.fields.push_back(unsigned_field(tag::since_start_min, signature.claimed.since_start_min));
  return chained(op);
}

ChainedOp Pen::write_bare(std::uint32_t kind, std::vector<Field> fields, host::Random& random) {
  fields.push_back(nonce(random));
  return chained({1, kind, std::move(fields)});
}

}  // namespace slipway::ops
