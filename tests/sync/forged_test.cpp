// Past the checks: files whose hashes are right and whose content is not. Here only the
// decoder stands between the bytes and the store.
#include <cstdlib>

#include <doctest/doctest.h>

#include "kit/bundle_kit.h"
#include "kit/rows.h"
#include "ops/op.h"
#include "sync/bundle_v0.h"
#include "sync/carried_ops.h"
#include "sync/tables.h"

using namespace slipway;

namespace {

model::Result<sync::ReadBundle> read(model::ByteView file) { return sync::read_bundle(file, "forged.slip"); }

// An accepted file is one that this program would write: nothing hides in it.
bool accepted_as_ours(model::ByteView file, const model::Result<sync::ReadBundle>& got) {
  if (!got) return false;
  const auto again = sync::write_bundle(got->bundle, {}, got->packing);
  CHECK(again);
  if (got->bundle.major == sync::kMajor && got->bundle.minor == sync::kMinor) CHECK(model::equal(*again, file));
  return true;
}

constexpr std::uint64_t kLies[] = {0,           1,           127,          128,         0xFFFF,          1ULL << 31,
                                   1ULL << 32,  (1ULL << 32) + 3, 1ULL << 40, 1ULL << 63, ~std::uint64_t{0} - 1, ~std::uint64_t{0}};

// Section bytes built number by number.
class Section {
 public:
  Section& number(std::uint64_t value) {
    ops::put_varint(bytes_, value);
    return *this;
  }
  Section& raw(model::ByteView bytes) {
    model::append(bytes_, bytes);
    return *this;
  }
  const model::Bytes& bytes() const { return bytes_; }

 private:
  model::Bytes bytes_;
};

std::string verdict_with(const model::Bytes& file, std::uint64_t type, const model::Bytes& section) {
  sync::FramePlan plan = kit::taken_apart(file);
  for (auto& part : plan.sections)
    if (part.type == type) part.raw = section;
  return kit::verdict(read(sync::write_frame(plan)));
}

// Bytes from the last row's check to the end of the sections.
std::size_t whole_sections(const model::Bytes& file) {
  const sync::FramePlan plan = kit::taken_apart(file);
  std::size_t length = 8 + plan.header.size();
  for (const auto& part : plan.sections) length += part.raw.size();
  return length;
}

std::string head(const std::string& verdict) { return verdict.substr(0, verdict.find("|forged.slip")); }

}  // namespace

TEST_CASE("a changed byte under true checks is refused, or is a bundle in its own right") {
  for (const auto& reference : kit::reference_files()) {
    CAPTURE(reference.name);
    kit::Verdicts verdicts;
    std::uint64_t whole = 0, reached = 0;
    for (std::size_t at = 8; at < reference.bytes.size() - 32; ++at)
      for (const int flip : {1, 0x80, 0xFF}) {
        model::Bytes mutant = reference.bytes;
        mutant[at] = static_cast<std::uint8_t>(mutant[at] ^ flip);
        mutant = kit::sealed_again(std::move(mutant));
        const auto got = read(mutant);
        whole += accepted_as_ours(mutant, got) ? 1U : 0U;
        reached += got || (got.error().text != "bundle.hash" && got.error().text != "bundle.chain") ? 1U : 0U;
        verdicts.add(kit::verdict(got));
      }
    CHECK(whole > 0);                        // a device id may be anything
    CHECK(reached > verdicts.count() * 4 / 5);
    CHECK(read(reference.bytes));
    verdicts.print("sealed." + reference.name);
  }
}

TEST_CASE("every number of the frame replaced by a lie is refused, and sealed only another minor is read") {
  auto files = kit::reference_files();
  sync::FramePlan newer = kit::taken_apart(files.front().bytes);  // here the frame is not compared as a whole
  newer.minor = sync::kMinor + 1;
  files.push_back({"newer", sync::write_frame(newer)});
  for (const auto& reference : files) {
    // Positions of the varints between magic and header: seven, then four a section.
    kit::Verdicts verdicts;
    std::size_t at = 8;
    for (std::size_t nth = 0; nth < 7 + 3 * 4; ++nth) {
      if (nth > 7 && (nth - 7) % 4 == 0) at += 8;  // over the check of a row
      std::uint64_t value = 0;
      const std::size_t begin = at;
      REQUIRE(ops::get_varint(reference.bytes, at, value));
      for (const std::uint64_t lie : kLies) {
        if (lie == value) continue;
        model::Bytes mutant(reference.bytes.begin(), reference.bytes.begin() + static_cast<std::ptrdiff_t>(begin));
        ops::put_varint(mutant, lie);
        mutant.insert(mutant.end(), reference.bytes.begin() + static_cast<std::ptrdiff_t>(at), reference.bytes.end());
        const auto plain = read(mutant);
        CHECK(!plain);
        verdicts.add(kit::verdict(plain));
        const auto sealed = read(kit::sealed_again(mutant));
        // As wide as the one it replaces, and readable by us; 0 as major makes a draft of it.
        const bool other_minor = (nth == 0 && lie == 0) || (nth == 1 && lie < 128) || (nth == 2 && lie == sync::kMinor && reference.name == "newer");
        CHECK(static_cast<bool>(sealed) == other_minor);
        verdicts.add(kit::verdict(sealed));
      }
    }
    CHECK(at == reference.bytes.size() - 32 - whole_sections(reference.bytes));
    verdicts.print("lengths." + reference.name);
  }
}

TEST_CASE("a size that no file can hold is refused whatever its width") {
  const model::Bytes file = kit::reference_files()[0].bytes;
  kit::Verdicts verdicts;
  const auto refuse = [&](std::uint64_t type, const Section& section) {
    const std::string line = verdict_with(file, type, section.bytes());
    CHECK((head(line) == "damaged bundle.section" || head(line) == "damaged bundle.chain"));
    verdicts.add(line);
  };
  const model::DeviceId device;
  const auto inc = kit::inc_named('s');
  const auto scope = kit::scope_named('A');
  for (const std::uint64_t lie : kLies) {
    refuse(sync::section::manifest, Section().raw(device.view()).number(7).number(lie));
    refuse(sync::section::manifest, Section().raw(device.view()).number(7).number(lie).raw(inc.view()).number(0).number(0).number(0));
    refuse(sync::section::manifest, Section().raw(device.view()).number(7).number(1).raw(inc.view()).number(lie).number(lie));
    refuse(sync::section::manifest,
           Section().raw(device.view()).number(7).number(1).raw(inc.view()).number(0).number(1).raw(scope.view()).number(lie).number(lie).number(lie));
    refuse(sync::section::ranges, Section().number(lie).number(lie));
    refuse(sync::section::ranges, Section().number(1).number(0).number(0).number(lie).number(lie).number(lie).number(1));
    refuse(sync::section::ranges, Section().number(1).number(0).number(0).number(1).number(lie).number(lie).number(lie));
    refuse(sync::section::ranges, Section().number(1).number(0).number(0).number(1).number(0).number(lie).number(0));
    refuse(sync::section::ranges, Section().number(1).number(0).number(0).number(2).number(1).number(0).number(lie).number(lie).number(1));
    refuse(sync::section::ranges, Section().number(1).number(lie).number(lie).number(1).number(0).number(2).number(0));
    refuse(sync::section::ops, Section().number(lie).number(0).number(lie));
    refuse(sync::section::ops, Section().number(1).number(0));
    refuse(sync::section::ops, Section().number(1).number(0).number(1).number(lie).number(lie).number(3).number(7));
    refuse(sync::section::ops, Section().number(1).number(0).number(1).number(4).number(lie).number(lie));
    refuse(sync::section::ops, Section().number(1).number(lie).number(lie).raw(model::Hash32{}.view()).number(lie).number(lie));
  }
  verdicts.print("sizes");
  CHECK(read(file));
}

TEST_CASE("a count is looked at whole: with 2^32 added it is refused where it stands, though its low half is true") {
  const model::Bytes file = kit::reference_files()[0].bytes;
  const auto manifest = [](std::uint64_t incs, std::uint64_t scopes, std::uint64_t streams) {
    return Section().raw(kit::inc_named('S').view()).number(7).number(incs).raw(kit::inc_named('s').view()).number(0).number(scopes).raw(kit::scope_named('A').view())
        .number(streams).number(0).number(0).bytes();
  };
  const auto ranges = [](std::uint64_t holdings, std::uint64_t spans) { return Section().number(holdings).number(0).number(0).number(spans).number(0).number(3).number(1).bytes(); };
  CHECK(verdict_with(file, sync::section::manifest, manifest(1, 1, 1)) == "read 4");  // as they are
  CHECK(verdict_with(file, sync::section::ranges, ranges(1, 1)) == "read 4");
  constexpr std::uint64_t kMore = (1ULL << 32) + 1;
  for (const model::Bytes& lie : {manifest(kMore, 1, 1), manifest(1, kMore, 1), manifest(1, 1, kMore)})
    CHECK(head(verdict_with(file, sync::section::manifest, lie)) == "damaged bundle.section");
  for (const model::Bytes& lie : {ranges(kMore, 1), ranges(1, kMore)}) CHECK(head(verdict_with(file, sync::section::ranges, lie)) == "damaged bundle.section");
}

TEST_CASE("more rows or entries than any squad has are refused as too large") {
  const model::Bytes file = kit::reference_files()[0].bytes;
  Section rows;  // one holding with a span too many
  rows.number(1).number(0).number(0).number(sync::v0::kElementBudget);
  for (std::uint64_t i = 0; i < sync::v0::kElementBudget; ++i) rows.number(1).number(0);
  rows.number(0);
  CHECK(verdict_with(file, sync::section::ranges, rows.bytes()) == "too_large bundle.too_large|forged.slip|ranges|65536");
  sync::FramePlan plan = kit::taken_apart(file);
  plan.header.clear();
  ops::put_varint(plan.header, (1U << 21) + 1);
  CHECK(kit::verdict(read(sync::write_frame(plan))) == "too_large bundle.too_large|forged.slip|ops|2097152");
}

TEST_CASE("a file made of nothing but holes is refused before it can keep us busy") {
  const model::Bytes file = kit::reference_files()[0].bytes;
  Section holes;
  holes.number(1).number(0).number(0).number(sync::v0::kPiecesAStream + 1);
  for (std::uint64_t i = 0; i <= sync::v0::kPiecesAStream; ++i) holes.number(1).number(0);
  holes.number(0);
  CHECK(verdict_with(file, sync::section::ranges, holes.bytes()) == "too_large bundle.too_large|forged.slip|ranges|4096");

  kit::Log swimmer('A', 's');
  swimmer.session();
  std::vector<ops::ChainedOp> every_second;
  for (std::uint64_t i = 0; i <= sync::v0::kPiecesAStream; ++i) {
    swimmer.set(8);
    swimmer.set(8);
    every_second.push_back(swimmer.ops().back());
  }
  sync::Bundle bundle = kit::bundle_of({}, 's');
  bundle.scopes = {kit::scope_named('A')};
  bundle.chunks = kit::chunks_of(every_second);
  CHECK(sync::write_bundle(bundle).error() == model::error(model::ErrorKind::too_large, "bundle.too_large_to_make", {"4096"}));
  const std::vector<ops::Chunk> too_many = bundle.chunks;
  bundle.chunks.pop_back();
  const model::Bytes most = kit::file_of(bundle);
  CHECK(kit::verdict(read(most)) == "read 4096");
  sync::FramePlan plan = kit::taken_apart(most);
  plan.header.clear();
  ops::put_varint(plan.header, too_many.size());
  plan.sections[2].raw = sync::write_ops(too_many, {too_many.front().stream});
  CHECK(kit::verdict(read(sync::write_frame(plan))) == "too_large bundle.too_large|forged.slip|ops/4097|4096");

  bundle.chunks.clear();
  for (std::uint64_t i = 0; i <= sync::v0::kPiecesAStream; ++i) bundle.holdings[{kit::scope_named('A'), kit::inc_named('s')}].ranges.add(2 * i + 2, 2 * i + 2);
  CHECK(!sync::write_bundle(bundle));
}

TEST_CASE("a number has one form: padded varints are refused") {
  const model::Bytes file = kit::reference_files()[0].bytes;
  const sync::FramePlan plan = kit::taken_apart(file);
  // The export counter 7 stands behind the 16 bytes of the device id.
  model::Bytes manifest = plan.sections[0].raw;
  REQUIRE(manifest[16] == 7);
  manifest[16] = 0x87;
  manifest.insert(manifest.begin() + 17, 0x00);
  CHECK(head(verdict_with(file, sync::section::manifest, manifest)) == "damaged bundle.section");
}

TEST_CASE("tables that say the same in another form are refused as not canonical") {
  const model::Bytes file = kit::reference_files()[2].bytes;  // two athletes, three writers
  sync::Bundle bundle;
  const auto plan = kit::taken_apart(file);
  const auto with_ids_swapped = [&](std::size_t first, std::size_t second) {
    model::Bytes manifest = plan.sections[0].raw;
    for (std::size_t i = 0; i < 16; ++i) std::swap(manifest[first + i], manifest[second + i]);
    return head(verdict_with(file, sync::section::manifest, manifest));
  };
  // device, counter, "3", c s t, created_by, "2", A B
  CHECK(with_ids_swapped(18, 34) != "read 12");
  CHECK(with_ids_swapped(68, 84) == "damaged bundle.not_canonical");
  model::Bytes unused_inc = plan.sections[0].raw;
  unused_inc[17] = 4;
  unused_inc.insert(unused_inc.begin() + 66, 16, 'u');
  CHECK(head(verdict_with(file, sync::section::manifest, unused_inc)) == "damaged bundle.not_canonical");
}

TEST_CASE("chunks in another cut or order than the format's are refused") {
  const auto file = kit::reference_files()[1].bytes;
  const sync::Bundle bundle = kit::read_of(file).bundle;
  const auto all = kit::read_of(file).ops;
  const std::vector<ops::StreamId> streams{bundle.chunks.front().stream};
  auto chunks = kit::chunks_of(all, 20);
  CHECK(head(verdict_with(file, sync::section::ops, sync::write_ops(chunks, streams))) == "damaged bundle.not_canonical");
  std::swap(chunks[0], chunks[1]);
  CHECK(head(verdict_with(file, sync::section::ops, sync::write_ops(chunks, streams))) == "damaged bundle.not_canonical");
  CHECK(head(verdict_with(file, sync::section::ops, sync::write_ops(kit::chunks_of(all), streams))) == "read 35");
}

TEST_CASE("in a newer minor too, sections have one order and one content, and nothing stands between") {
  const sync::FramePlan ours = kit::taken_apart(kit::reference_files()[1].bytes);
  const auto newer = [&](const auto& change) {
    sync::FramePlan plan = ours;
    plan.minor = sync::kMinor + 1;
    plan.sections.push_back({8, {1, 2, 3}});
    plan.sections.push_back({10, {}});
    change(plan);
    return sync::write_frame(plan);
  };
  const auto nothing = [](sync::FramePlan&) {};
  CHECK(read(newer(nothing)));
  CHECK(!read(newer([](auto& plan) { std::swap(plan.sections[3], plan.sections[4]); })));
  CHECK(!read(newer([](auto& plan) { std::swap(plan.sections[0], plan.sections[2]); })));
  CHECK(!read(newer([](auto& plan) { plan.sections[4].type = 8; })));
  CHECK(!read(newer([](auto& plan) { plan.sections.insert(plan.sections.begin(), plan.sections[0]); })));
  const auto all = kit::read_of(newer(nothing)).ops;
  const auto other_cut = sync::write_ops(kit::chunks_of(all, 20), {all.front().stream});
  CHECK(head(kit::verdict(read(newer([&](auto& plan) { plan.sections[2].raw = other_cut; })))) == "damaged bundle.not_canonical");
  // A byte between the last section and the hash: the length is made true, which may not change its width.
  model::Bytes stuffed = newer(nothing);
  stuffed.insert(stuffed.end() - 32, 0);
  std::size_t at = 12;
  std::uint64_t length = 0;
  REQUIRE(ops::get_varint(stuffed, at, length));
  model::Bytes longer;
  ops::put_varint(longer, length + 1);
  REQUIRE(longer.size() == at - 12);
  std::copy(longer.begin(), longer.end(), stuffed.begin() + 12);
  CHECK(head(kit::verdict(read(kit::whole_hash_again(stuffed)))) == "damaged bundle.section");
}

TEST_CASE("what a sender claims to hold must be possible") {
  const model::Bytes file = kit::reference_files()[0].bytes;
  const auto with_spans = [&](const Section& spans) {
    return verdict_with(file, sync::section::ranges, Section().number(1).number(0).number(0).raw(spans.bytes()).number(0).bytes());
  };
  constexpr std::uint64_t kCeiling = ops::kCounterCeiling;
  CHECK(with_spans(Section().number(1).number(1).number(5)) == "read 4");  // 2..7
  CHECK(with_spans(Section().number(1).number(1).number(kCeiling - 3)) == "read 4");  // to the last place there can be
  CHECK(head(with_spans(Section().number(1).number(1).number(kCeiling - 2))) == "damaged bundle.section");
  CHECK(head(with_spans(Section().number(1).number(kCeiling - 1).number(0))) == "damaged bundle.section");
  CHECK(with_spans(Section().number(1).number(kCeiling - 2).number(0)) == "read 4");
  CHECK(head(with_spans(Section().number(2).number(1).number(kCeiling - 3).number(0).number(0))) == "damaged bundle.section");
  CHECK(head(with_spans(Section().number(2).number(1).number(0).number(0).number(0))) == "damaged bundle.section");  // they touch
  CHECK(head(with_spans(Section().number(1).number(2 * kCeiling).number(0))) == "damaged bundle.section");
  CHECK(head(with_spans(Section().number(1).number(0).number(3))) == "damaged bundle.chain");  // 1..4, and no head said

  const auto with_ranges = [&](const Section& ranges) { return head(verdict_with(file, sync::section::ranges, ranges.bytes())); };
  const auto is = [](std::uint64_t branches, std::uint64_t head_form) {
    return Section().number(1).number(0).number(branches).number(1).number(0).number(3).number(head_form);
  };
  CHECK(with_ranges(is(0, 1)) == "read 4");
  CHECK(with_ranges(is(2, 1)) == "damaged bundle.section");  // neither one branch nor forked
  CHECK(with_ranges(is(0, 3)) == "damaged bundle.section");
  CHECK(with_ranges(is(256, 1)) == "damaged bundle.section");
  CHECK(with_ranges(is(0, 257)) == "damaged bundle.section");
  CHECK(with_ranges(Section().number(2).number(0).number(0).number(0).number(0).number(0).number(0).number(0).number(0)) ==
        "damaged bundle.section");  // one stream twice
}

TEST_CASE("a frame that ends inside its own numbers is refused, however it is sealed") {
  // Magic, then as many numbers as there are; the length is made true, the hash too.
  kit::Verdicts verdicts;
  const model::Bytes whole = kit::reference_files()[0].bytes;
  const auto sealed = [&](std::size_t numbers_end) {
    model::Bytes file(whole.begin(), whole.begin() + static_cast<std::ptrdiff_t>(numbers_end));
    const std::size_t length_at = 12;
    file.insert(file.end(), 32, 0);
    model::Bytes length;
    ops::put_varint(length, file.size());
    if (file.size() < 128) length = {static_cast<std::uint8_t>(file.size())};
    file.erase(file.begin() + length_at, file.begin() + length_at + 2);
    file.insert(file.begin() + length_at, length.begin(), length.end());
    if (length.size() == 1) --file[length_at];
    return kit::whole_hash_again(file);
  };
  for (std::size_t end = 14; end < 60; ++end) {
    const auto got = read(sealed(end));
    CAPTURE(end);
    REQUIRE(!got);
    CHECK(got.error().text == "bundle.section");
    verdicts.add(kit::verdict(got));
  }
  verdicts.print("short_frames");

  // Nothing but a head and no room for a hash.
  for (std::uint8_t length = 13; length < 45; ++length) {
    model::Bytes file(whole.begin(), whole.begin() + 12);
    file.push_back(length);
    file.resize(length, 0xFF);
    CHECK(read(file).error().text == "bundle.section");
  }
}

TEST_CASE("the number of entries in the clear must be true") {
  sync::FramePlan plan = kit::taken_apart(kit::reference_files()[1].bytes);
  for (const std::uint64_t said : {0U, 34U, 36U}) {
    plan.header.clear();
    ops::put_varint(plan.header, said);
    CHECK(head(kit::verdict(read(sync::write_frame(plan)))) == "damaged bundle.section");
  }
}

TEST_CASE("damage in one chunk is named by that chunk, its checks apart") {
  kit::Log swimmer('A', 's');
  swimmer.session();
  for (int i = 0; i < 150; ++i) swimmer.set(8);
  sync::FramePlan plan = kit::taken_apart(kit::file_of(kit::bundle_of(swimmer.ops(), 's')));
  const sync::Bundle bundle = kit::read_of(kit::file_of(kit::bundle_of(swimmer.ops(), 's'))).bundle;
  REQUIRE(bundle.chunks.size() == 3);
  const std::size_t second = plan.sections[2].raw.size() / 2;
  plan.sections[2].raw[second] ^= 4;
  const auto got = read(sync::write_frame(plan));
  REQUIRE(!got);
  CHECK(got.error().text == "bundle.chain");
  CHECK(got.error().args[1] == "ops/2");
}

TEST_CASE("a forged entry with a true chain is refused if no writer could have made it") {
  const auto file = kit::reference_files()[0].bytes;
  const sync::ReadBundle good = kit::read_of(file);
  ops::Chunk chunk = good.bundle.chunks.front();
  const std::vector<ops::StreamId> streams{chunk.stream};
  const auto forged = [&](const model::Bytes& op) {
    ops::Chunk with = chunk;
    ops::put_varint(with.bytes, op.size());
    model::append(with.bytes, op);
    ++with.last_seq;
    with.after = ops::chain(chunk.after, op);
    sync::FramePlan plan = kit::taken_apart(file);
    plan.header = {5};
    plan.sections[2].raw = sync::write_ops({with}, streams);
    sync::Bundle around = good.bundle;  // announce it, so that only the entry itself can be wrong
    around.holdings.at(chunk.stream).ranges.add(5, 5);
    around.holdings.at(chunk.stream).prefix_hash = with.after;
    plan.sections[1].raw = {1, 0, 0, 1, 0, 4, 1};
    return head(kit::verdict(read(sync::write_frame(plan))));
  };
  CHECK(forged({5, 8, 0}) == "read 5");                             // lam 5, a session without fields
  CHECK(forged({}) == "damaged bundle.entry");
  CHECK(forged({5, 8}) == "damaged bundle.entry");                  // cut
  CHECK(forged({5, 8, 0, 0}) == "damaged bundle.entry");            // something behind
  CHECK(forged({0x85, 0x00, 8, 0}) == "damaged bundle.entry");      // padded
  CHECK(forged({5, 8, 2, 2, 0, 1, 1, 2, 0, 1, 1}) == "damaged bundle.entry");  // a field twice
}

TEST_CASE("a chunk holds the entries it says, no more and no fewer") {
  const auto file = kit::reference_files()[0].bytes;
  const ops::Chunk chunk = kit::read_of(file).bundle.chunks.front();
  const std::vector<ops::StreamId> streams{chunk.stream};
  for (const std::uint64_t said : {3U, 5U}) {
    ops::Chunk other = chunk;
    other.last_seq = said;
    sync::FramePlan plan = kit::taken_apart(file);
    plan.header = {static_cast<std::uint8_t>(said)};
    plan.sections[2].raw = sync::write_ops({other}, streams);
    CHECK(head(kit::verdict(read(sync::write_frame(plan)))) == "damaged bundle.section");
  }
}

TEST_CASE("a head that the entries of the same file contradict is refused") {
  kit::Log swimmer('A', 's');
  swimmer.session();
  swimmer.set(8);
  sync::Bundle bundle = kit::bundle_of(swimmer.ops(), 's');
  bundle.holdings.begin()->second.prefix_hash.bytes[5] ^= 1;
  const auto got = read(kit::file_of(bundle));
  REQUIRE(!got);
  CHECK(got.error().text == "bundle.chain");
  CHECK(got.error().args[1] == "ranges");
}

TEST_CASE("bytes at random, and good files changed at random, never get in unnoticed") {
  // About a second natively; the seed is fixed, so that a failure comes again.
  constexpr std::uint64_t kSeed = 20261125, kRounds = 12'000;
  const std::uint64_t rounds = kit::times(kRounds, 100 * kRounds);
  kit::SameRandom random(kSeed);
  const auto files = kit::reference_files();
  kit::Verdicts verdicts;
  for (std::uint64_t round = 0; round < rounds; ++round) {
    model::Bytes mutant = files[random.below(files.size())].bytes;
    for (std::uint64_t edits = 1 + random.below(3); edits > 0; --edits) {
      const std::size_t at = random.below(mutant.size());
      const std::size_t length = std::min<std::size_t>(1 + random.below(40), mutant.size() - at);
      const auto begin = mutant.begin() + static_cast<std::ptrdiff_t>(at);
      switch (random.below(5)) {
        case 0: mutant[at] = static_cast<std::uint8_t>(random.next()); break;
        case 1: random.fill({mutant.data() + at, length}); break;
        case 2: mutant.erase(begin, begin + static_cast<std::ptrdiff_t>(std::min(length, mutant.size() - 1))); break;
        case 3: {
          const model::Bytes copy(begin, begin + static_cast<std::ptrdiff_t>(length));
          const auto to = static_cast<std::ptrdiff_t>(random.below(mutant.size()));
          mutant.insert(mutant.begin() + to, copy.begin(), copy.end());
          break;
        }
        default: {
          model::Bytes number;
          ops::put_varint(number, kLies[random.below(std::size(kLies))]);
          mutant.insert(begin, number.begin(), number.end());
        }
      }
    }
    const auto plain = read(mutant);
    accepted_as_ours(mutant, plain);
    verdicts.add(kit::verdict(plain));
    mutant = kit::sealed_again(std::move(mutant));
    const auto sealed = read(mutant);
    accepted_as_ours(mutant, sealed);
    verdicts.add(kit::verdict(sealed));
  }
  CHECK(verdicts.count() == 2 * rounds);
  verdicts.print("random");
}
