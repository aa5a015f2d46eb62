// One op of each kind, its bytes written by hand from the comment at the head of op.h.
// A released program has read these bytes: they never change.
#pragma once

#include <string_view>
#include <vector>

#include "kit/ops_kit.h"
#include "ops/op.h"
#include "ops/registry.h"
#include "ops/views.h"

namespace slipway::golden {

struct GoldenOp {
  std::string_view name;
  std::string_view bytes;  // for kit::typed_bytes
  ops::Op op;
};

inline std::vector<GoldenOp> golden_ops() {
  namespace kind = ops::kind;
  const model::IncarnationId a = kit::stream_named('s', 'a').inc;
  const auto key = [](char inc, std::uint64_t seq, std::uint8_t hash) {
    model::OpKey out{kit::stream_named('s', inc).inc, seq, {}};
    out.hash.bytes.fill(hash);
    return out;
  };
  const model::Quantity load{225, 1, model::Unit::kg};
  const model::Bytes nonce = kit::typed_bytes("0102030405060708");
  return {
      {"athlete",
       "01 02 02                       // lam 1, athlete, two fields\n"
       "10 02 05 4e69786965            // name: text, five bytes\n"
       "11 00 02 d60f                  // birth year: unsigned, 2006",
       {1, kind::athlete, {ops::text_field(16, "Nixie"), ops::unsigned_field(17, 2006)}}},
      {"kit",
       "02 04 02\n"
       "10 02 04 486f6d65              // name\n"
       "11 04 07 100001 c2030101       // loads: list; 8 kg is (16, 0, 1), 22.5 kg is (450, 1, 1)",
       {2, kind::kit, {ops::text_field(16, "Home"), ops::quantities_field(17, {{8, 0, model::Unit::kg}, load})}}},
      {"prescription",
       "03 06 06\n"
       "10 02 03 535134                // exercise SQ4\n"
       "11 00 01 03  12 00 01 08       // sets, reps\n"
       "13 04 04 c2030101              // load\n"
       "14 00 01 02                    // in reserve\n"
       "15 00 03 c0a907                // rest: 120,000 ms",
       {3,
        kind::prescription,
        {ops::text_field(16, "SQ4"), ops::unsigned_field(17, 3), ops::unsigned_field(18, 8), ops::quantity_field(19, load),
         ops::unsigned_field(20, 2), ops::unsigned_field(21, 120'000)}}},
      {"session",
       "04 08 03\n"
       "10 01 03 c4c002                // training day: signed, 20,514 days\n"
       "11 02 03 4d6f6e                // title\n"
       "12 05 0a 00 03 1111111111111111  // prescription: own op 3",
       {4,
        kind::session,
        {ops::signed_field(16, 20'514), ops::text_field(17, "Mon"), ops::refs_field(18, {key('a', 3, 0x11)}, a)}}},
      {"set",
       "05 0a 0d                       // lam 5, set, thirteen fields\n"
       "01 03 08 0102030405060708      // nonce\n"
       "02 00 01 01  03 01 01 01  04 01 01 78  05 00 01 07  // swimmer, -1 ms, 60 min east, 7 min\n"
       "10 05 0a 00 04 2222222222222222  // session: own op 4\n"
       "11 02 03 535134  12 00 01 01   // SQ4, round 1\n"
       "13 00 01 08  14 04 04 c2030101  15 00 01 02  // reps, load, in reserve\n"
       "16 00 01 08  17 04 04 c2030101               // as it was written",
       {5,
        kind::set,
        {ops::bytes_field(1, nonce), ops::unsigned_field(2, 1), ops::signed_field(3, -1), ops::signed_field(4, 60),
         ops::unsigned_field(5, 7), ops::refs_field(16, {key('a', 4, 0x22)}, a), ops::text_field(17, "SQ4"),
         ops::unsigned_field(18, 1), ops::unsigned_field(19, 8), ops::quantity_field(20, load), ops::unsigned_field(21, 2),
         ops::unsigned_field(22, 8), ops::quantity_field(23, load)}}},
      {"pain",
       "06 0c 04\n"
       "10 02 08 73686f756c646572      // region\n"
       "11 00 01 02  12 00 01 01  13 00 01 04  // band, side, amount",
       {6,
        kind::pain,
        {ops::text_field(16, "shoulder"), ops::unsigned_field(17, 2), ops::unsigned_field(18, 1), ops::unsigned_field(19, 4)}}},
      {"change",
       "07 0e 03\n"
       "06 05 0a 00 05 3333333333333333  // target: own op 5\n"
       "07 05 24 00 05 3333333333333333 01 62626262626262626262626262626262 09 4444444444444444  // saw two\n"
       "13 00 01 09                    // reps",
       {7,
        kind::change,
        {ops::refs_field(6, {key('a', 5, 0x33)}, a), ops::refs_field(7, {key('a', 5, 0x33), key('b', 9, 0x44)}, a),
         ops::unsigned_field(19, 9)}}},
      {"take_back",
       "08 10 02\n"
       "06 05 0a 00 05 3333333333333333\n"
       "07 05 0a 00 05 3333333333333333",
       {8, kind::take_back, {ops::refs_field(6, {key('a', 5, 0x33)}, a), ops::refs_field(7, {key('a', 5, 0x33)}, a)}}},
      {"pain_end",
       "09 12 03\n"
       "06 05 0a 00 06 5555555555555555\n"
       "10 00 01 01  11 02 02 6f6b     // resolved, a note",
       {9, kind::pain_end, {ops::refs_field(6, {key('a', 6, 0x55)}, a), ops::unsigned_field(16, 1), ops::text_field(17, "ok")}}},
  };
}

}  // namespace slipway::golden
