// Ops with what can be foretold left out: all of them come back, byte for byte, and nothing else gets in.
#include "sync/codec1.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <limits>

#include "kit/bundle_kit.h"
#include "kit/club.h"
#include "ops/registry.h"

using namespace slipway;

namespace {

model::Result<sync::ReadBundle> read(model::ByteView file) { return sync::read_bundle(file, "packed.slip"); }

model::Bytes packed(const sync::Bundle& bundle) { return kit::file_of(bundle, sync::Packing::packed); }

bool is_packed(model::ByteView file) { return kit::read_of(file).packing == sync::Packing::packed; }

// Both ways of storing say the same.
void same_ops_back(const std::vector<ops::ChainedOp>& all) {
  const sync::Bundle bundle = kit::bundle_of(all, 's');
  const sync::ReadBundle from_plain = kit::read_of(kit::file_of(bundle)), from_packed = kit::read_of(packed(bundle));
  CHECK(from_packed.packing == sync::Packing::packed);
  REQUIRE(from_packed.ops.size() == from_plain.ops.size());
  for (std::size_t i = 0; i < from_plain.ops.size(); ++i) {
    REQUIRE(from_packed.ops[i].bytes == from_plain.ops[i].bytes);
    REQUIRE(from_packed.ops[i].hash == from_plain.ops[i].hash);
    REQUIRE(from_packed.ops[i].seq == from_plain.ops[i].seq);
  }
  CHECK(from_packed.bundle == from_plain.bundle);
}

// Any op that a pen could be made to write: all wires, those of a later version too.
class AnyOps {
 public:
  explicit AnyOps(std::uint64_t seed) : dice_(seed) {}

  std::vector<ops::ChainedOp> stream(char scope, char inc, std::size_t count) {
    const ops::StreamId id{kit::scope_named(scope), kit::inc_named(inc)};
    std::vector<ops::ChainedOp> all;
    model::Hash32 before = ops::genesis(id);
    for (std::uint64_t seq = 1; seq <= count; ++seq) {
      const ops::Op op = any(id.inc);
      ops::ChainedOp chained{id, seq, before, {}, ops::write_op(op), *ops::read_op(ops::write_op(op))};
      chained.hash = before = ops::chain(before, chained.bytes);
      written_.push_back(chained.key());
      all.push_back(std::move(chained));
    }
    return all;
  }

 private:
  std::uint64_t number() {
    switch (dice_.below(6)) {
      case 0:
        return 0;
      case 1:
        return dice_.below(12);
      case 2:
        return dice_.next();
      case 3:
        return std::numeric_limits<std::uint64_t>::max() - dice_.below(2);
      case 4:
        return std::uint64_t{1} << dice_.below(64);
      default:
        return dice_.below(100'000);
    }
  }
  model::Bytes bytes(std::size_t at_most) {
    model::Bytes all(dice_.below(at_most + 1));
    for (std::uint8_t& byte : all) byte = static_cast<std::uint8_t>(dice_.one_in(2) ? 0 : dice_.next());
    return all;
  }
  std::string text() {
    static const std::vector<std::string> kWords{"", " ", "a", "SQ4", "fünf", "日本", "longer than most words are"};
    std::string all;
    for (std::size_t left = dice_.below(5); left > 0; --left) {
      all += dice_.one_in(4) ? std::to_string(dice_.next() % 1'000) : dice_.pick(kWords);
      if (dice_.one_in(2)) all += ' ';
    }
    return all;
  }
  model::OpKey key(const model::IncarnationId& home) {
    if (!written_.empty() && !dice_.one_in(3))
      return written_[written_.size() - 1 - dice_.below(std::min<std::size_t>(written_.size(), 40))];
    model::OpKey key{
        dice_.one_in(2) ? home : kit::inc_named(static_cast<char>('a' + dice_.below(8))), 1 + number() % (ops::kCounterCeiling - 1), {}};
    for (std::uint8_t& byte : key.hash.bytes) byte = static_cast<std::uint8_t>(dice_.next());
    return key;
  }
  ops::Field field(std::uint32_t tag, const model::IncarnationId& home) {
    std::vector<std::uint64_t> list(dice_.below(6));
    for (std::uint64_t& value : list) value = number();
    std::vector<model::OpKey> keys;
    for (std::size_t left = dice_.below(4); left > 0; --left) keys.push_back(key(home));
    switch (dice_.below(7)) {
      case 0:
        return ops::unsigned_field(tag, number());
      case 1:
        return ops::signed_field(tag, ops::unzigzag(number()));
      case 2:
        return ops::text_field(tag, text());
      case 3:
        return ops::bytes_field(tag, bytes(12));
      case 4:
        return ops::list_field(tag, list);
      case 5:
        return ops::refs_field(tag, keys, home);
      default:
        return {tag, static_cast<ops::Wire>(6 + dice_.below(250)), bytes(20)};
    }
  }
  ops::Op any(const model::IncarnationId& home) {
    ops::Op op{number() % ops::kCounterCeiling, 0, {}};
    op.kind = static_cast<std::uint32_t>(dice_.one_in(8) ? number() : 2 * dice_.below(40));
    std::uint32_t tag = 0;
    for (std::size_t left = dice_.below(9); left > 0; --left) {
      op.fields.push_back(field(tag, home));
      tag += 1 + static_cast<std::uint32_t>(dice_.one_in(9) ? dice_.next() % (1U << 26) : dice_.below(6));
    }
    return op;
  }

  kit::Dice dice_;
  std::vector<model::OpKey> written_;
};

std::string verdict_with(const sync::FramePlan& whole, const model::Bytes& stored, std::uint64_t raw) {
  sync::FramePlan plan = whole;
  plan.sections[2].packed = stored;
  plan.sections[2].raw_length = raw;
  return kit::verdict(read(sync::write_frame(plan)));
}

std::string head(const std::string& verdict) { return verdict.substr(0, verdict.find('|')); }

}  // namespace

TEST_CASE("every entry of a swimmer's four seasons comes back, in a tenth of the bytes") {
  kit::Club club;
  const kit::ClubAthlete athlete = club.next();
  kit::ClubPens pens(0);
  pens.write(athlete);
  std::size_t plain_bytes = 0, packed_bytes = 0;
  for (std::uint64_t device = 0; device < kit::kClubDevices; ++device) {
    same_ops_back(pens.ops(device));
    plain_bytes += kit::file_of(kit::bundle_of(pens.ops(device), 's')).size();
    packed_bytes += packed(kit::bundle_of(pens.ops(device), 's')).size();
  }
  same_ops_back(kit::together({pens.ops(0), pens.ops(1), pens.ops(2)}));
  MESSAGE("three bundles of one swimmer: " << plain_bytes << " bytes plain, " << packed_bytes << " packed");
  CHECK(packed_bytes < plain_bytes / 10);
  CHECK(packed_bytes * kit::kClubAthletes < 2'360'000);
}

TEST_CASE("a week of one swimmer, held by three devices, travels in 640 bytes") {
  kit::Club club;
  kit::ClubPens pens(0);
  pens.write(club.next());
  const auto before = kit::together({pens.ops(0), pens.ops(1), pens.ops(2)});
  const std::size_t held = pens.ops(0).size();
  pens.write(kit::club_week());
  const std::vector<ops::ChainedOp> fresh(pens.ops(0).begin() + static_cast<std::ptrdiff_t>(held), pens.ops(0).end());
  REQUIRE(fresh.size() == 33);
  const model::Bytes file = packed(kit::bundle_of(fresh, 's', before));
  MESSAGE("a week, 30 sets: " << file.size() << " bytes");
  CHECK(file.size() <= 640);
  CHECK(is_packed(file));
}

TEST_CASE("entries of any shape come back byte for byte, those that no version has ever written too") {
  kit::Verdicts verdicts;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    AnyOps any(seed);
    auto all = kit::together({any.stream('A', 'a', seed * 3), any.stream('A', 'b', 20), any.stream('B', 'a', 5)});
    same_ops_back(all);
    // A lost bundle and a branch: pieces that stand on hashes from elsewhere.
    const ops::ChainedOp stem = all[1];
    std::erase_if(all, [&](const ops::ChainedOp& op) { return op.seq % 7 == 0; });
    kit::Log clone('A', 'a');
    clone.set(seed);
    clone.set(3);
    same_ops_back(kit::together({all, clone.ops()}));
    verdicts.add(kit::held_of(kit::read_of(packed(kit::bundle_of(all, 's'))).ops).digest().hex());
    verdicts.add(model::hex(packed(kit::bundle_of(all, 's'))));
  }
  verdicts.print("codec1.any");
}

TEST_CASE("equal entries give equal packed bytes however they were stored or listed") {
  const auto all = kit::read_of(kit::reference_files()[2].bytes).ops;
  const model::Bytes reference = packed(kit::bundle_of(all, 's'));
  CHECK(is_packed(reference));
  for (const std::size_t at_most : {1U, 2U, 7U}) {
    sync::Bundle bundle = kit::bundle_of(all, 's');
    bundle.chunks = kit::chunks_of(all, at_most);
    std::reverse(bundle.chunks.begin(), bundle.chunks.end());
    CHECK(packed(bundle) == reference);
  }
}

TEST_CASE("what would not gain, or unpack too far, is stored plain") {
  CHECK(!is_packed(packed(kit::bundle_of({}, 's'))));
  kit::Log zeros('A', 's');
  for (int i = 0; i < 120; ++i) zeros.write(998, {ops::bytes_field(16, model::Bytes(ops::kMaxFieldBytes))});
  const model::Bytes file = packed(kit::bundle_of(zeros.ops(), 's'));
  CHECK(!is_packed(file));
  CHECK(kit::read_of(file).ops.size() == 120);
}

TEST_CASE("a packed bundle with any one byte changed is refused; under true checks it is refused or a bundle in its own right") {
  for (const auto& reference : kit::reference_files(sync::Packing::packed)) {
    CAPTURE(reference.name);
    REQUIRE(is_packed(reference.bytes));
    kit::Verdicts verdicts;
    std::uint64_t own_right = 0, wrongly_read = 0;
    for (std::size_t at = 0; at < reference.bytes.size(); ++at)
      for (const int flip : {1, 2, 0x80, 0xFF}) {
        model::Bytes mutant = reference.bytes;
        mutant[at] = static_cast<std::uint8_t>(mutant[at] ^ flip);
        wrongly_read += read(mutant) ? 1U : 0U;
        mutant = kit::sealed_again(std::move(mutant));
        const auto got = read(mutant);
        verdicts.add(kit::verdict(got));
        if (!got) continue;
        ++own_right;
        if (got->bundle.major == sync::kMajor && got->bundle.minor == sync::kMinor) CHECK(kit::file_of(got->bundle, got->packing) == mutant);
      }
    CHECK(wrongly_read == 0);
    CHECK(own_right > 0);  // a device id may be anything
    verdicts.print("codec1.sealed." + reference.name);
  }
}

TEST_CASE("packed ops cut short, or with something behind, are refused") {
  const sync::FramePlan whole = kit::taken_apart(kit::reference_files(sync::Packing::packed)[1].bytes);
  const sync::FramePlan::Section& entries = whole.sections[2];
  REQUIRE(verdict_with(whole, entries.packed, entries.raw_length) == "read 35");
  for (std::size_t length = 0; length < entries.packed.size(); ++length) {
    const model::Bytes cut(entries.packed.begin(), entries.packed.begin() + static_cast<std::ptrdiff_t>(length));
    CHECK(head(verdict_with(whole, cut, entries.raw_length)).substr(0, 5) != "read ");
  }
  for (const std::uint8_t more : {0, 1, 255}) {
    model::Bytes longer = entries.packed;
    longer.push_back(more);
    CHECK(head(verdict_with(whole, longer, entries.raw_length)).substr(0, 8) == "damaged ");
  }
}

TEST_CASE("the length that ops unpack to must be true, and is a bound") {
  const sync::FramePlan whole = kit::taken_apart(kit::reference_files(sync::Packing::packed)[1].bytes);
  const model::Bytes& stored = whole.sections[2].packed;
  const std::uint64_t raw = whole.sections[2].raw_length;
  CHECK(head(verdict_with(whole, stored, raw - 1)) == "damaged bundle.not_canonical");
  CHECK(head(verdict_with(whole, stored, raw + 1)) == "damaged bundle.not_canonical");
  CHECK(head(verdict_with(whole, stored, raw / 2)) == "damaged bundle.section");
  CHECK(head(verdict_with(whole, stored, 0)) == "damaged bundle.section");
  // A few bytes that claim to become a great many are not even begun.
  CHECK(head(verdict_with(whole, stored, sync::kMostUnpackedAnyway + 257 * (stored.size() + 1))) == "too_large bundle.too_large");
  sync::Limits small;
  small.raw_bytes = 1'000;
  CHECK(kit::verdict(sync::read_bundle(sync::write_frame(whole), "packed.slip", small)).substr(0, 9) == "too_large");
}

TEST_CASE("packed bytes at random end in a refusal, whatever they claim") {
  const sync::FramePlan whole = kit::taken_apart(kit::reference_files(sync::Packing::packed)[1].bytes);
  constexpr std::uint64_t kSeed = 20261126;
  kit::SameRandom random(kSeed);
  kit::Verdicts verdicts;
  for (int round = 0; round < 3'000; ++round) {
    sync::FramePlan plan = whole;
    const std::uint64_t claimed = 1 + (round % 2 != 0 ? random.below(40) : random.below(1U << 21));
    plan.header.clear();
    ops::put_varint(plan.header, claimed);
    model::Bytes stored{1, 0, 1};
    ops::put_varint(stored, claimed);
    for (int i = 0; i < 8; ++i) stored.push_back(0);
    model::Bytes noise(random.below(300));
    random.fill(noise);
    if (round % 3 == 0) std::fill(noise.begin(), noise.end(), static_cast<std::uint8_t>(random.below(256)));
    model::append(stored, noise);
    plan.sections[2].packed = stored;
    plan.sections[2].raw_length = 60'000;
    const auto got = read(sync::write_frame(plan));
    CHECK(!got);
    verdicts.add(kit::verdict(got));
  }
  verdicts.print("codec1.noise");
}

TEST_CASE("only the section of ops may be packed, and only in this way") {
  sync::FramePlan plan = kit::taken_apart(kit::reference_files(sync::Packing::packed)[0].bytes);
  plan.sections[2].codec = 2;
  CHECK(head(kit::verdict(read(sync::write_frame(plan)))) == "newer_version bundle.newer");
  plan.sections[2].codec = 1;
  CHECK(read(sync::write_frame(plan)));
  plan.sections[0].codec = 1;
  plan.sections[0].packed = plan.sections[0].raw;
  plan.sections[0].raw_length = plan.sections[0].raw.size();
  CHECK(head(kit::verdict(read(sync::write_frame(plan)))) == "newer_version bundle.newer");
}

TEST_CASE("one value said twice has one form: a longer way to the same ops is refused") {
  // The same ops as two pieces instead of one: each proves itself, and yet no writer would say it so.
  const auto ops = kit::read_of(kit::reference_files()[0].bytes).ops;
  sync::CarriedOps carried = sync::carry(ops);
  const std::vector<ops::StreamId> streams{ops.front().stream};
  const sync::FramePlan whole = kit::taken_apart(kit::reference_files(sync::Packing::packed)[0].bytes);
  CHECK(verdict_with(whole, sync::pack_ops(carried, streams), whole.sections[2].raw_length) == "read 4");
  sync::CarriedOps apart = carried;
  apart.chunks = kit::chunks_of(ops, 2);
  std::swap(apart.chunks[0], apart.chunks[1]);
  std::rotate(apart.ops.begin(), apart.ops.begin() + 2, apart.ops.end());
  CHECK(head(verdict_with(whole, sync::pack_ops(apart, streams), whole.sections[2].raw_length)) == "damaged bundle.not_canonical");
}
