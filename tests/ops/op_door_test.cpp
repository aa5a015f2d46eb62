// The door for one op: what write_op could not have written does not come in, and says
// what is wrong and where.
#include <string>

#include <doctest/doctest.h>

#include "ops/golden_facts.h"

using namespace slipway;
using kit::typed_bytes;
using model::Bytes;
using model::ErrorKind;

namespace {

std::string verdict(model::ByteView bytes) {
  const auto op = ops::read_op(bytes);
  if (op) return "read";
  std::string text = op.error().kind == ErrorKind::damaged ? "damaged" : op.error().kind == ErrorKind::too_large ? "too large" : "?";
  for (const std::string& arg : op.error().args) text += " " + arg;
  return text;
}

// Refused with a name, or exactly what the writer would write.
bool sound(model::ByteView bytes) {
  const auto op = ops::read_op(bytes);
  if (op) return model::equal(ops::write_op(*op), bytes);
  const bool named = op.error().text == "op.damaged" || op.error().text == "op.too_large";
  return named && op.error().args.size() == 2;
}

Bytes op_with_field(std::string_view field) {
  Bytes bytes = typed_bytes("01 0a 01");
  model::append(bytes, typed_bytes(field));
  return bytes;
}

}  // namespace

TEST_CASE("golden ops: one of each kind, byte for byte") {
  const auto all = golden::all_golden_ops();
  CHECK(all.size() == ops::kinds().size());
  for (const auto& golden : all) {
    CAPTURE(golden.name);
    const Bytes bytes = typed_bytes(golden.bytes);
    CHECK(model::hex(ops::write_op(golden.op)) == model::hex(bytes));
    const auto read = ops::read_op(bytes);
    REQUIRE(read);
    CHECK(*read == golden.op);
    CHECK(ops::find_kind(read->kind)->name == golden.name);
  }
}

TEST_CASE("with any one byte changed an op is refused by name, or it is another op in canonical form") {
  std::uint64_t tried = 0, refused = 0;
  Bytes verdicts;
  for (const auto& golden : golden::all_golden_ops()) {
    CAPTURE(golden.name);
    Bytes bytes = typed_bytes(golden.bytes);
    for (std::size_t at = 0; at < bytes.size(); ++at) {
      CAPTURE(at);
      for (int change = 1; change < 256; ++change) {
        bytes[at] = static_cast<std::uint8_t>(bytes[at] ^ change);
        REQUIRE(sound(bytes));
        const std::string said = verdict(bytes);
        model::append(verdicts, model::as_bytes(said));
        ++tried;
        refused += said == "read" ? 0 : 1;
        bytes[at] = static_cast<std::uint8_t>(bytes[at] ^ change);
      }
    }
    REQUIRE(ops::read_op(bytes));  // the untouched one still comes in
  }
  CHECK(tried > 80'000);
  CHECK(refused > tried / 4);
  kit::print_digest("door_bytes", ops::blake2b(verdicts));
}

TEST_CASE("an op cut at any byte, or with anything behind its end, is refused") {
  for (const auto& golden : golden::all_golden_ops()) {
    CAPTURE(golden.name);
    Bytes bytes = typed_bytes(golden.bytes);
    for (std::size_t length = 0; length < bytes.size(); ++length) {
      CAPTURE(length);
      const model::ByteView cut(bytes.data(), length);
      REQUIRE_FALSE(ops::read_op(cut));
      REQUIRE(sound(cut));
    }
    const std::string end = std::to_string(bytes.size());
    bytes.push_back(0);
    CHECK(verdict(bytes) == "damaged end " + end);
  }
}

TEST_CASE("random bytes are refused or canonical") {
  kit::Dice dice(5);
  for (int i = 0; i < 20'000; ++i) {
    Bytes bytes(dice.below(40));
    for (std::uint8_t& byte : bytes) byte = static_cast<std::uint8_t>(dice.one_in(2) ? dice.below(20) : dice.below(256));
    REQUIRE(sound(bytes));
  }
}

TEST_CASE("what the door says, and where") {
  struct Known {
    std::string hex, said;
  };
  const Known all[] = {
      {"", "damaged lam 0"},
      {"8100 0a 00", "damaged lam 0"},                 // a longer form of 1
      {"808080808020 0a 00", "damaged lam 0"},         // 2^40
      {"01", "damaged kind 1"},
      {"01 8a00 00", "damaged kind 1"},
      {"01 8080808010 00", "damaged kind 1"},          // 2^32
      {"01 0a", "damaged count 2"},
      {"01 0a 8100", "damaged count 2"},
      {"01 0a 8102", "too large fields 257"},
      {"01 0a ffffffffffffffffff01", "too large fields 18446744073709551615"},
      {"01 0a 01", "damaged tag 3"},
      {"01 0a 01 9000 00 01 08", "damaged tag 3"},
      {"01 0a 01 8080808010 00 01 08", "damaged tag 3"},  // 2^32
      {"01 0a 02 13 00 01 08 12 00 01 08", "damaged order of tags 7"},
      {"01 0a 02 13 00 01 08 13 00 01 08", "damaged order of tags 7"},
      {"01 0a 01 13", "damaged wire 4"},
      {"01 0a 01 13 00", "damaged length 5"},
      {"01 0a 01 13 00 8100 08", "damaged length 5"},
      {"01 0a 01 13 00 02 08", "damaged payload 6"},   // one byte too few
      {"01 0a 01 13 00 01 88", "damaged payload 6"},   // a varint without end
      {"01 0a 01 13 00 02 8800", "damaged payload 6"},
      {"01 0a 01 13 00 02 0808", "damaged payload 6"},  // two numbers in the place of one
      {"01 0a 01 13 01 00", "damaged payload 6"},
      {"01 0a 01 14 04 02 0188", "damaged payload 6"},
      {"01 0a 01 10 05 02 0001", "damaged payload 6"},
      {"01 0a 00 00", "damaged end 3"},
  };
  for (const Known& known : all) {
    CAPTURE(known.hex);
    CHECK(verdict(typed_bytes(known.hex)) == known.said);
  }
}

TEST_CASE("text must be well-formed UTF-8 without NUL") {
  CHECK(verdict(op_with_field("11 02 04 53c3bc64")) == "read");              // with an umlaut
  CHECK(verdict(op_with_field("11 02 00")) == "read");
  for (const std::string field : {"11 02 01 00", "11 02 01 80", "11 02 01 ff", "11 02 02 c0af", "11 02 03 eda080", "11 02 04 f4908080", "11 02 01 c3"}) {
    CAPTURE(field);
    CHECK(verdict(op_with_field(field)) == "damaged payload 6");
  }
}

TEST_CASE("limits hold exactly, and a length no memory could hold is refused at once") {
  ops::Op most{1, ops::kind::set, {}};
  for (std::uint32_t tag = 16; tag < 16 + ops::kMaxFields; ++tag) most.fields.push_back(ops::unsigned_field(tag, 1));
  CHECK(verdict(ops::write_op(most)) == "read");
  most.fields.push_back(ops::unsigned_field(9, 1));
  CHECK(verdict(ops::write_op(most)) == "too large fields 257");

  ops::Op longest{1, ops::kind::set, {ops::bytes_field(30, Bytes(ops::kMaxFieldBytes))}};
  CHECK(verdict(ops::write_op(longest)) == "read");
  longest.fields[0].payload = Bytes(ops::kMaxFieldBytes + 1);
  CHECK(verdict(ops::write_op(longest)) == "too large field 16385");

  ops::Op fullest{1, ops::kind::set, {}};
  for (std::uint32_t tag = 30; tag < 34; ++tag) fullest.fields.push_back(ops::bytes_field(tag, Bytes(ops::kMaxFieldBytes - 16)));
  fullest.fields.push_back(ops::bytes_field(34, Bytes(ops::kMaxOpBytes - ops::write_op(fullest).size() - 3)));
  CHECK(ops::write_op(fullest).size() == ops::kMaxOpBytes);
  CHECK(verdict(ops::write_op(fullest)) == "read");
  Bytes over = ops::write_op(fullest);
  over.push_back(0);
  CHECK(verdict(over) == "too large op 65537");

  // 2^32 + 3, 2^63, 2^64 - 1: sizes that a 32-bit build must not narrow before it looks.
  CHECK(verdict(op_with_field("13 03 8380808010 0808")) == "too large field 4294967299");
  CHECK(verdict(op_with_field("13 03 80808080808080808001 0808")) == "too large field 9223372036854775808");
  CHECK(verdict(op_with_field("13 03 ffffffffffffffffff01 0808")) == "too large field 18446744073709551615");
}
