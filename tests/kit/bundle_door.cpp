#include "kit/bundle_door.h"

#include "kit/bundle_kit.h"
#include "sync/armour.h"
#include "sync/codec1.h"
#include "ops/op_coder.h"

namespace slipway::kit {

namespace {

// Taking the same file twice: all new, then all known.
std::string broken_taking(const sync::ReadBundle& read) {
  const auto own = kit::inc_named('f');
  const auto first = sync::plan_taking(read, {}, own, "fuzz.slip");
  if (!first) return first.error().text == "bundle.lam" ? "" : "taking refused for " + first.error().text;
  if (first->fresh.size() != read.ops.size() || first->known != 0) return "not all entries are new to an empty store";
  const auto second = sync::plan_taking(read, kit::held_of(first->fresh), own, "fuzz.slip");
  if (!second) return "the second taking is refused";
  if (!second->fresh.empty() || second->known != read.ops.size()) return "the second taking says something is new";
  return "";
}

std::string broken_reading(model::ByteView file) {
  const auto read = sync::read_bundle(file, "fuzz.slip");
  if (!read) return read.error().text.substr(0, 7) == "bundle." ? "" : "a refusal without a text of the door";
  const auto again = sync::write_bundle(read->bundle, {}, read->packing);
  if (!again) return "accepted, and cannot be written";
  if (read->bundle.major == sync::kMajor && read->bundle.minor == sync::kMinor && !sync::is_armoured(file) && !model::equal(*again, file)) return "accepted, and not canonical";
  const auto second = sync::read_bundle(*again, "fuzz.slip");
  if (!second || !(second->bundle.chunks == read->bundle.chunks)) return "written again, it reads as something else";
  return broken_taking(*read);
}

}  // namespace

std::string broken_promise(model::ByteView file) {
  if (std::string broken = broken_reading(file); !broken.empty()) return broken;
  return broken_reading(kit::sealed_again(model::Bytes(file.begin(), file.end())));
}

namespace {

std::vector<ops::ChainedOp> ops_in(model::ByteView packed, const std::vector<ops::StreamId>& streams) {
  constexpr std::size_t kAtMost = 60;
  ops::RangeReader reader(packed);
  ops::OpCoder<ops::RangeReader> coder(reader, streams);
  std::vector<ops::ChainedOp> all;
  model::Hash32 before = ops::genesis(streams.front());
  coder.begin(0, 1);
  while (all.size() < kAtMost) {
    ops::ChainedOp op{streams.front(), all.size() + 1, before, {}, {}, {}};
    coder.code(nullptr, op.bytes);
    auto read = ops::read_op(op.bytes);
    if (reader.failed() || !read || !ops::refs_fit(*read, op.stream.inc)) break;
    op.op = std::move(*read);
    op.hash = before = ops::chain(before, op.bytes);
    coder.stands(op.hash);
    all.push_back(std::move(op));
  }
  return all;
}

}  // namespace

std::string broken_unpacking(model::ByteView packed) {
  const std::vector<ops::StreamId> streams{{scope_named('A'), inc_named('s')}, {scope_named('A'), inc_named('t')}};
  const std::vector<ops::ChainedOp> first = ops_in(packed, streams);
  if (first.empty()) return "";
  const model::Bytes again = sync::pack_ops(sync::carry(first), streams);
  const auto second =
      sync::unpack_ops(again, 0, std::uint64_t{first.size()} * ops::kMaxOpBytes, streams, first.size(), sync::Door{"fuzz.slip"});
  if (!second) return "packed again, it is refused for " + second.error().text;
  if (!second->in_its_form) return "packed by the writer, the reader finds it in another form";
  for (std::size_t i = 0; i < first.size(); ++i)
    if (second->ops[i].bytes != first[i].bytes) return "packed again, another op comes out";
  return "";
}

}  // namespace slipway::kit
