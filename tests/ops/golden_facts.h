// Golden ops of the kinds that came with the first app, as in golden_ops.h: bytes by hand, for ever.
#pragma once

#include "ops/golden_ops.h"

namespace slipway::golden {

inline std::vector<GoldenOp> golden_fact_ops() {
  namespace kind = ops::kind;
  const model::IncarnationId a = kit::stream_named('s', 'a').inc;
  const auto key = [](char inc, std::uint64_t seq, std::uint8_t hash) {
    model::OpKey out{kit::stream_named('s', inc).inc, seq, {}};
    out.hash.bytes.fill(hash);
    return out;
  };
  const model::Quantity load{225, 1, model::Unit::kg};
  return {
      {"programme",
       "0a 14 06   // learn from day 20,514, 4 weeks of 2 days; 15 s and 90 s of rest\n"
       "10 02 05 6c6561726e\n"
       "11 01 03 c4c002\n"
       "12 00 01 04\n"
       "13 00 01 02\n"
       "14 00 02 9875\n"
       "15 00 03 90bf05",
       {10, kind::programme, {ops::text_field(16, "learn"), ops::signed_field(17, 20'514), ops::unsigned_field(18, 4),
        ops::unsigned_field(19, 2), ops::unsigned_field(20, 15'000), ops::unsigned_field(21, 90'000)}}},
      {"soreness",
       "0b 16 05   // hips and thighs, clear, two days in a row\n"
       "10 02 0b 686970735f746869676873\n"
       "11 00 01 02\n"
       "12 00 01 02\n"
       "13 01 03 c4c002\n"
       "14 05 0a 00042222222222222222",
       {11, kind::soreness, {ops::text_field(16, "hips_thighs"), ops::unsigned_field(17, 2), ops::unsigned_field(18, 2),
        ops::signed_field(19, 20'514), ops::refs_field(20, {key('a', 4, 0x22)}, a)}}},
      {"check",
       "0c 18 02   // in own op 4\n"
       "10 01 03 c4c002\n"
       "11 05 0a 00042222222222222222",
       {12, kind::check, {ops::signed_field(16, 20'514), ops::refs_field(17, {key('a', 4, 0x22)}, a)}}},
      {"red_flag",
       "0d 1a 04   // local, the knee\n"
       "10 02 05 6c6f636b73\n"
       "11 00 01 03\n"
       "12 02 04 6b6e6565\n"
       "13 01 03 c4c002",
       {13, kind::red_flag, {ops::text_field(16, "locks"), ops::unsigned_field(17, 3), ops::text_field(18, "knee"),
        ops::signed_field(19, 20'514)}}},
      {"clearance",
       "0e 1c 05   // by the coach, for own op 6 and an op of another\n"
       "10 02 04 6b6e6565\n"
       "11 02 02 6f6b\n"
       "12 00 01 02\n"
       "13 01 03 d0c002\n"
       "14 05 24 000655555555555555550162626262626262626262626262626262094444444444444444",
       {14, kind::clearance, {ops::text_field(16, "knee"), ops::text_field(17, "ok"), ops::unsigned_field(18, 2),
        ops::signed_field(19, 20'520), ops::refs_field(20, {key('a', 6, 0x55), key('b', 9, 0x44)}, a)}}},
      {"sign_off",
       "0f 1e 08   // saw an earlier one; loaded, 22.5 kg, 5 reps, by the coach\n"
       "07 05 1a 0162626262626262626262626262626262094444444444444444\n"
       "10 02 03 535134\n"
       "11 00 01 02\n"
       "12 04 04 c2030101\n"
       "13 00 01 05\n"
       "14 02 02 6f6b\n"
       "15 01 03 c4c002\n"
       "16 00 01 01",
       {15, kind::sign_off, {ops::refs_field(7, {key('b', 9, 0x44)}, a), ops::text_field(16, "SQ4"), ops::unsigned_field(17, 2),
        ops::quantity_field(18, load), ops::unsigned_field(19, 5), ops::text_field(20, "ok"), ops::signed_field(21, 20'514),
        ops::unsigned_field(22, 1)}}},
      {"tick_in",
       "10 20 04   // an assistant, a second adult near\n"
       "10 05 0a 00042222222222222222\n"
       "11 00 01 02\n"
       "12 00 01 01\n"
       "13 01 03 c4c002",
       {16, kind::tick_in, {ops::refs_field(16, {key('a', 4, 0x22)}, a), ops::unsigned_field(17, 2), ops::unsigned_field(18, 1),
        ops::signed_field(19, 20'514)}}},
      {"consent",
       "11 22 04   // pain and soreness: no, by the guardian\n"
       "10 00 01 02\n"
       "11 00 01 00\n"
       "12 00 01 01\n"
       "13 01 03 c4c002",
       {17, kind::consent, {ops::unsigned_field(16, 2), ops::unsigned_field(17, 0), ops::unsigned_field(18, 1),
        ops::signed_field(19, 20'514)}}},
      {"body_mass",
       "12 24 03   // 22.5 kg, coarse\n"
       "10 04 04 c2030101\n"
       "11 01 03 c4c002\n"
       "12 00 01 01",
       {18, kind::body_mass, {ops::quantity_field(16, load), ops::signed_field(17, 20'514), ops::unsigned_field(18, 1)}}},
      {"finish",
       "13 26 04   // effort 6.5, 45 min, no time\n"
       "10 05 0a 00042222222222222222\n"
       "11 00 01 41\n"
       "12 00 01 2d\n"
       "13 00 01 01",
       {19, kind::finish, {ops::refs_field(16, {key('a', 4, 0x22)}, a), ops::unsigned_field(17, 65), ops::unsigned_field(18, 45),
        ops::unsigned_field(19, 1)}}},
      {"decision",
       "14 28 14   // three sets of SQ4 by R22, one rep more in the first\n"
       "10 05 0a 00042222222222222222\n"
       "11 02 03 535134\n"
       "12 02 03 523232\n"
       "13 02 03 473133\n"
       "14 02 03 473039\n"
       "15 00 01 03\n"
       "16 04 03 090808\n"
       "17 04 04 c2030101\n"
       "18 00 01 02\n"
       "19 00 01 08\n"
       "1a 00 01 0c\n"
       "1b 00 01 01\n"
       "1c 02 04 7468696e\n"
       "1d 02 07 6e65757472616c\n"
       "1e 04 04 03010100\n"
       "1f 02 07 4d3038204d3130\n"
       "20 02 05 3230353134\n"
       "21 05 0a 00031111111111111111\n"
       "22 02 03 535135\n"
       "23 00 03 c0a907",
       {20, kind::decision, {ops::refs_field(16, {key('a', 4, 0x22)}, a), ops::text_field(17, "SQ4"), ops::text_field(18, "R22"),
        ops::text_field(19, "G13"), ops::text_field(20, "G09"), ops::unsigned_field(21, 3), ops::list_field(22, {9, 8, 8}),
        ops::quantity_field(23, load), ops::unsigned_field(24, 2), ops::unsigned_field(25, 8), ops::unsigned_field(26, 12),
        ops::unsigned_field(27, 1), ops::text_field(28, "thin"), ops::text_field(29, "neutral"), ops::list_field(30, {3, 1, 1, 0}),
        ops::text_field(31, "M08 M10"), ops::text_field(32, "20514"), ops::refs_field(33, {key('a', 3, 0x11)}, a),
        ops::text_field(34, "SQ5"), ops::unsigned_field(35, 120'000)}}},
      {"overrule",
       "15 2a 09   // R10 of SQ4: two sets of 6 to 8\n"
       "10 02 03 535134\n"
       "11 01 03 c4c002\n"
       "12 02 03 523130\n"
       "13 02 02 6f6b\n"
       "14 00 01 02\n"
       "15 00 01 06\n"
       "16 04 04 c2030101\n"
       "17 00 01 08\n"
       "18 02 04 646f7365",
       {21, kind::overrule, {ops::text_field(16, "SQ4"), ops::signed_field(17, 20'514), ops::text_field(18, "R10"),
        ops::text_field(19, "ok"), ops::unsigned_field(20, 2), ops::unsigned_field(21, 6), ops::quantity_field(22, load),
        ops::unsigned_field(23, 8), ops::text_field(24, "dose")}}},
      {"illness",
       "16 2c 03   // a head cold that ended the moment before 1970\n"
       "10 00 01 01\n"
       "11 01 03 c4c002\n"
       "12 01 01 01",
       {22, kind::illness, {ops::unsigned_field(16, 1), ops::signed_field(17, 20'514), ops::signed_field(18, -1)}}},
      {"race",
       "17 2e 04   // two days, B\n"
       "10 02 04 4d656574\n"
       "11 01 03 d0c002\n"
       "12 01 03 d2c002\n"
       "13 00 01 02",
       {23, kind::race, {ops::text_field(16, "Meet"), ops::signed_field(17, 20'520), ops::signed_field(18, 20'521),
        ops::unsigned_field(19, 2)}}},
      {"key_swim",
       "18 30 01   // 6 o'clock in the evening before 1970\n"
       "10 01 04 ffdbcc14",
       {24, kind::key_swim, {ops::signed_field(16, -21'600'000)}}},
      {"swap",
       "19 32 04   // for own op 6\n"
       "10 05 0a 00042222222222222222\n"
       "11 02 03 535134\n"
       "12 02 03 535132\n"
       "13 05 0a 00065555555555555555",
       {25, kind::swap, {ops::refs_field(16, {key('a', 4, 0x22)}, a), ops::text_field(17, "SQ4"), ops::text_field(18, "SQ2"),
        ops::refs_field(19, {key('a', 6, 0x55)}, a)}}},
      {"note",
       "1a 34 03   // about own op 4\n"
       "10 02 02 6f6b\n"
       "11 05 0a 00 04 2222222222222222\n"
       "12 01 03 c4c002",
       {26, kind::note, {ops::text_field(16, "ok"), ops::refs_field(17, {key('a', 4, 0x22)}, a), ops::signed_field(18, 20'514)}}},
      {"member",
       "1b 36 02\n"
       "10 02 0b 6c696d69746174696f6e73\n"
       "11 02 05 6865617274",
       {27, kind::member, {ops::text_field(16, "limitations"), ops::text_field(17, "heart")}}},
      {"preference",
       "1c 38 02\n"
       "10 02 04 756e6974\n"
       "11 02 02 6c62",
       {28, kind::preference, {ops::text_field(16, "unit"), ops::text_field(17, "lb")}}},
      {"library",
       "1d 3a 01\n"
       "10 02 04 506c616e",
       {29, kind::library, {ops::text_field(16, "Plan")}}},
      {"coach_notes",
       "1e 3c 01\n"
       "10 03 10 73737373737373737373737373737373",
       {30, kind::coach_notes, {ops::bytes_field(16, kit::stream_named('s', 'a').scope.view())}}},
      {"erase",
       "01 01 02   // by nobody, at no time: the nonce and a reason\n"
       "01 03 08 0102030405060708\n"
       "10 00 01 02",
       {1, kind::erase, {ops::bytes_field(1, model::Bytes{1, 2, 3, 4, 5, 6, 7, 8}), ops::unsigned_field(16, 2)}}},
  };
}

inline std::vector<GoldenOp> all_golden_ops() {
  std::vector<GoldenOp> all = golden_ops();
  for (GoldenOp& one : golden_fact_ops()) all.push_back(std::move(one));
  return all;
}

}  // namespace slipway::golden
