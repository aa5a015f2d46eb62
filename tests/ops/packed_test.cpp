// Runs of a stream packed as a store keeps them: every byte comes back, and nothing else gets out.
#include "ops/packed.h"

#include <algorithm>

#include <doctest/doctest.h>

#include "kit/club.h"
#include "kit/history.h"
#include "kit/ops_kit.h"
#include "ops/op_coder.h"

using namespace slipway;
using ops::ChainedOp;

namespace {

void all_back(const std::vector<ChainedOp>& run, const std::vector<model::IncarnationId>& beside) {
  const ops::PackedRun packed = ops::pack(run, beside);
  const auto back = ops::unpack(packed);
  REQUIRE(back);
  REQUIRE(back->size() == run.size());
  for (std::size_t i = 0; i < run.size(); ++i) {
    REQUIRE((*back)[i].bytes == run[i].bytes);
    REQUIRE((*back)[i].hash == run[i].hash);
    REQUIRE((*back)[i].before == run[i].before);
    REQUIRE((*back)[i].seq == run[i].seq);
    REQUIRE((*back)[i].op == run[i].op);
  }
}

}  // namespace

TEST_CASE("any part of any stream comes back from its packed run, whoever was known beside it") {
  for (std::uint64_t seed = 1; seed <= 30; ++seed) {
    CAPTURE(seed);
    auto streams = kit::three_streams(seed, 10);
    std::erase_if(streams, [](const auto& stream) { return stream.empty(); });
    std::vector<model::IncarnationId> everybody;
    for (const auto& stream : streams) everybody.push_back(stream.front().stream.inc);
    kit::Dice dice(seed);
    for (const auto& stream : streams) {
      all_back(stream, everybody);
      const std::size_t first = dice.below(stream.size()), count = 1 + dice.below(stream.size() - first);
      all_back({stream.begin() + static_cast<std::ptrdiff_t>(first), stream.begin() + static_cast<std::ptrdiff_t>(first + count)}, {});
    }
  }
}

TEST_CASE("a packed run in which anything was changed does not come out, and its place is named") {
  kit::Club club;
  kit::ClubPens pens(0);
  pens.write(club.next());
  const std::vector<ChainedOp> stream(pens.ops(0).begin(), pens.ops(0).begin() + 60);
  const ops::PackedRun whole = ops::pack(stream, {});
  REQUIRE(ops::unpack(whole));
  for (std::size_t at = 0; at < whole.bytes.size(); ++at) {
    ops::PackedRun changed = whole;
    changed.bytes[at] = static_cast<std::uint8_t>(changed.bytes[at] ^ 1);
    const auto back = ops::unpack(changed);
    REQUIRE_FALSE(back);
    REQUIRE(back.error().args.size() >= 2);
  }
  const auto refused = [&](auto change) {
    ops::PackedRun changed = whole;
    change(changed);
    const auto back = ops::unpack(changed);
    return !back && (back.error().kind == model::ErrorKind::damaged || back.error().kind == model::ErrorKind::too_large);
  };
  CHECK(refused([](ops::PackedRun& run) { run.after.bytes[0] ^= 1; }));
  CHECK(refused([](ops::PackedRun& run) { run.before.bytes[0] ^= 1; }));
  CHECK(refused([](ops::PackedRun& run) { run.first_seq += 1; }));
  CHECK(refused([](ops::PackedRun& run) { run.last_seq -= 1; }));
  CHECK(refused([](ops::PackedRun& run) { run.last_seq += 1; }));
  CHECK(refused([](ops::PackedRun& run) { run.last_seq = ops::kCounterCeiling - 1; }));
  CHECK(refused([](ops::PackedRun& run) { run.op_bytes -= 1; }));
  CHECK(refused([](ops::PackedRun& run) { run.op_bytes += 1; }));
  CHECK(refused([](ops::PackedRun& run) { run.beside.clear(); }));
  CHECK(refused([](ops::PackedRun& run) { run.stream.scope.bytes[3] ^= 1; }));
  CHECK(refused([](ops::PackedRun& run) { run.bytes.clear(); }));
}

TEST_CASE("of any bytes that read as ops, the reader knows whether the writer would have written them") {
  std::uint64_t own_form = 0, other_form = 0;
  for (std::uint64_t seed = 1; seed <= 16; ++seed) {
    CAPTURE(seed);
    auto streams = kit::three_streams(seed, 12);
    std::erase_if(streams, [](const auto& stream) { return stream.empty(); });
    kit::Dice dice(seed);
    std::vector<ChainedOp> run = streams[dice.below(streams.size())];
    if (run.size() > 6) run.resize(6);
    std::vector<model::IncarnationId> beside;
    for (const auto& stream : streams) beside.push_back(stream.front().stream.inc);
    const ops::PackedRun packed = ops::pack(run, beside);
    std::vector<ops::StreamId> known;
    for (const model::IncarnationId& inc : packed.beside) known.push_back({run.front().stream.scope, inc});
    const auto own = static_cast<std::size_t>(std::lower_bound(known.begin(), known.end(), run.front().stream) - known.begin());
    for (int i = 0; i < 250; ++i) {
      model::Bytes bytes = packed.bytes;
      if (i > 0) bytes[dice.below(bytes.size())] ^= static_cast<std::uint8_t>(1U << dice.below(8));
      if (i % 7 == 3) bytes.resize(1 + dice.below(bytes.size()));
      if (i % 7 == 4) bytes.push_back(static_cast<std::uint8_t>(dice.below(3)));
      ops::RangeReader reader(bytes);
      ops::OpCoder<ops::RangeReader> coder(reader, known);
      coder.begin(own, 1);
      std::vector<ChainedOp> ops;
      model::Hash32 before = run.front().before;
      bool readable = true;
      for (std::uint64_t seq = 1; readable && seq <= run.size(); ++seq) {
        ChainedOp op{run.front().stream, seq, before, {}, {}, {}};
        coder.code(nullptr, op.bytes);
        auto read = ops::read_op(op.bytes);
        readable = read && ops::refs_fit(*read, op.stream.inc);
        if (!readable) break;
        op.op = std::move(*read);
        op.hash = before = ops::chain(before, op.bytes);
        coder.stands(op.hash);
        ops.push_back(std::move(op));
      }
      if (!readable) continue;
      const bool same = ops::pack(ops, beside).bytes == bytes;
      REQUIRE(same == reader.ends_here());
      (same ? own_form : other_form) += 1;
    }
  }
  MESSAGE(own_form << " in the writer's form, " << other_form << " in another");
  CHECK(own_form > 20);
  CHECK(other_form > 20);
}
