// The bytes of one op, field by field, as op.h describes them.
#include "ops/op.h"

#include <limits>
#include <string>
#include <utility>

#include <doctest/doctest.h>

#include "kit/ops_kit.h"
#include "ops/registry.h"
#include "ops/views.h"

using namespace slipway;
using kit::typed_bytes;
using model::Bytes;
using ops::Op;
using ops::Wire;

namespace {

const model::IncarnationId kHome = kit::stream_named('s', 'a').inc;
const model::IncarnationId kOther = kit::stream_named('s', 'b').inc;

model::OpKey key(const model::IncarnationId& inc, std::uint64_t seq, std::uint8_t hash) {
  model::OpKey out{inc, seq, {}};
  out.hash.bytes.fill(hash);
  return out;
}

bool round_trip(const Op& op) {
  const auto read = ops::read_op(ops::write_op(op));
  return read && *read == op;
}

}  // namespace

TEST_CASE("varints are the shortest form, and come back") {
  const std::pair<std::uint64_t, std::string> known[] = {{0, "00"},
                                                         {1, "01"},
                                                         {127, "7f"},
                                                         {128, "8001"},
                                                         {300, "ac02"},
                                                         {16'383, "ff7f"},
                                                         {16'384, "808001"},
                                                         {std::uint64_t{1} << 32, "8080808010"},
                                                         {std::uint64_t{1} << 63, "80808080808080808001"},
                                                         {std::numeric_limits<std::uint64_t>::max(), "ffffffffffffffffff01"}};
  for (const auto& [value, hex] : known) {
    Bytes out;
    ops::put_varint(out, value);
    CHECK(model::hex(out) == hex);
    std::size_t at = 0;
    std::uint64_t back = 0;
    REQUIRE(ops::get_varint(out, at, back));
    CHECK(back == value);
    CHECK(at == out.size());
  }
}

TEST_CASE("a varint that is cut, too long or too large is no varint, and nothing is consumed") {
  for (const std::string hex : {"", "80", "ff", "8000", "808000", "ff00", "ffffffffffffffffff02", "ffffffffffffffffff7f",
                          "ffffffffffffffffffff01", "808080808080808080808001", "8080808080808080808000"}) {
    CAPTURE(hex);
    const Bytes bytes = typed_bytes(hex);
    std::size_t at = 0;
    std::uint64_t value = 7;
    CHECK_FALSE(ops::get_varint(bytes, at, value));
    CHECK(at == 0);
    CHECK(value == 7);
  }
}

TEST_CASE("signed numbers fold into unsigned ones and back, to both ends") {
  static_assert(ops::zigzag(0) == 0 && ops::zigzag(-1) == 1 && ops::zigzag(1) == 2 && ops::zigzag(-2) == 3);
  for (std::int64_t value : {std::int64_t{0}, std::int64_t{-1}, std::int64_t{20'514}, std::numeric_limits<std::int64_t>::min(),
                             std::numeric_limits<std::int64_t>::max()})
    CHECK(ops::unzigzag(ops::zigzag(value)) == value);
}

TEST_CASE("a reference to an own op is short, to any other carries its incarnation") {
  Bytes own, foreign;
  ops::put_ref(own, key(kHome, 5, 0x33), kHome);
  ops::put_ref(foreign, key(kOther, 300, 0x44), kHome);
  CHECK(own == typed_bytes("00 05 3333333333333333"));
  CHECK(foreign == typed_bytes("01 62626262626262626262626262626262 ac02 4444444444444444"));
  std::size_t at = 0;
  model::OpKey back;
  REQUIRE(ops::get_ref(own, at, kHome, back));
  CHECK(back == key(kHome, 5, 0x33));
  at = 0;
  REQUIRE(ops::get_ref(foreign, at, kHome, back));
  CHECK(back == key(kOther, 300, 0x44));
}

TEST_CASE("a reference in a form nobody writes is refused") {
  for (const std::string hex : {"",
                          "00",
                          "00 05",
                          "00 05 33333333333333",                                            // seven bytes of hash
                          "00 00 3333333333333333",                                          // seqs begin at 1
                          "00 8500 3333333333333333",                                        // a longer form of 5
                          "00 808080808020 3333333333333333",                                // seq 2^40
                          "01 6161616161616161616161616161 05 3333333333333333",             // fourteen bytes of incarnation
                          "01 61616161616161616161616161616161 05 3333333333333333",         // the short form is due
                          "02 05 3333333333333333"}) {
    CAPTURE(hex);
    std::size_t at = 0;
    model::OpKey back;
    CHECK_FALSE(ops::get_ref(typed_bytes(hex), at, kHome, back));
    CHECK(at == 0);
  }
}

TEST_CASE("typed fields read back what was written, and nothing from another wire") {
  CHECK(ops::read_unsigned(ops::unsigned_field(16, 300)) == 300);
  CHECK(ops::read_signed(ops::signed_field(16, -300)) == -300);
  CHECK(ops::read_text(ops::text_field(16, "Nixie")) == "Nixie");
  CHECK(ops::read_list(ops::list_field(16, {1, 300, 0})) == std::vector<std::uint64_t>{1, 300, 0});
  const std::vector<model::OpKey> keys{key(kHome, 5, 1), key(kOther, 6, 2)};
  CHECK(ops::read_refs(ops::refs_field(16, keys, kHome), kHome) == keys);
  CHECK_FALSE(ops::read_unsigned(ops::signed_field(16, 3)));
  CHECK_FALSE(ops::read_signed(ops::unsigned_field(16, 3)));
  CHECK_FALSE(ops::read_text(ops::bytes_field(16, {})));
  CHECK_FALSE(ops::read_list(ops::unsigned_field(16, 3)));
  CHECK_FALSE(ops::read_refs(ops::bytes_field(16, {}), kHome));
  CHECK_FALSE(ops::read_unsigned({16, Wire::unsigned_int, typed_bytes("01 02")}));
  CHECK_FALSE(ops::read_unsigned({16, Wire::unsigned_int, {}}));
  CHECK_FALSE(ops::read_list({16, Wire::unsigned_list, typed_bytes("01 80")}));
  CHECK_FALSE(ops::read_refs({16, Wire::refs, typed_bytes("00 05")}, kHome));
}

TEST_CASE("every op that is written reads back the same") {
  CHECK(round_trip({0, 0, {}}));
  CHECK(round_trip({ops::kCounterCeiling - 1, 0xFFFFFFFF, {}}));
  CHECK(round_trip({1, ops::kind::set, {ops::unsigned_field(ops::set_tag::reps, 8), ops::text_field(30, "")}}));
  kit::Dice dice(11);
  for (int i = 0; i < 300; ++i) {
    Op op{dice.next() % ops::kCounterCeiling, static_cast<std::uint32_t>(dice.below(2000)), {}};
    std::uint32_t tag = 0;
    for (std::size_t left = dice.below(6); left > 0; --left) {
      tag += 1 + static_cast<std::uint32_t>(dice.below(200));
      switch (dice.below(6)) {
        case 0: op.fields.push_back(ops::unsigned_field(tag, dice.next() >> dice.below(64))); break;
        case 1: op.fields.push_back(ops::signed_field(tag, static_cast<std::int64_t>(dice.next()))); break;
        case 2: op.fields.push_back(ops::text_field(tag, std::string(dice.below(200), 'x'))); break;
        case 3: op.fields.push_back(ops::list_field(tag, {dice.next(), 0, dice.below(200)})); break;
        case 4: op.fields.push_back(ops::refs_field(tag, {key(kHome, 1 + dice.below(999), 3), key(kOther, 7, 4)}, kHome)); break;
        default: op.fields.push_back({tag, static_cast<Wire>(6 + dice.below(250)), typed_bytes("00 ff 80")}); break;
      }
    }
    REQUIRE(round_trip(op));
  }
}

TEST_CASE("fields may be given in any order and are written in rising order of tag") {
  const Op mixed{1, ops::kind::set, {ops::unsigned_field(19, 8), ops::unsigned_field(2, 1), ops::unsigned_field(18, 3)}};
  CHECK(ops::write_op(mixed) == typed_bytes("01 0a 03 02 00 01 01 12 00 01 03 13 00 01 08"));
}

TEST_CASE("kinds, tags and wires of a newer version are kept byte for byte") {
  const Bytes bytes = typed_bytes("05 e907 02  10 09 03 00ff80  ffffffff0f 06 00");
  const auto op = ops::read_op(bytes);
  REQUIRE(op);
  CHECK(op->kind == 1001);
  CHECK(ops::is_critical(op->kind));
  CHECK(op->find(0xFFFFFFFF) != nullptr);
  CHECK(op->find(17) == nullptr);
  CHECK(ops::write_op(*op) == bytes);
}
