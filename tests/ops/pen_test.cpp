#include "ops/pen.h"

#include <doctest/doctest.h>

#include "kit/ops_kit.h"
#include "ops/registry.h"

using namespace slipway;
using ops::Pen;

namespace {

const ops::StreamId kStream = kit::stream_named('s', 'a');
const ops::Signature kCoach{2, {1'772'474'400'000, 60, 7}};

}  // namespace

TEST_CASE("each op follows the one before: seq, hash and a count above what is held") {
  kit::FixedRandom random(1);
  Pen pen(kStream, 0, ops::genesis(kStream));
  const auto first = pen.write(ops::kind::session, {}, kCoach, 0, random);
  const auto second = pen.write(ops::kind::session, {}, kCoach, 41, random);
  CHECK(first.seq == 1);
  CHECK(first.before == ops::genesis(kStream));
  CHECK(first.op.lam == 1);
  CHECK(second.seq == 2);
  CHECK(second.before == first.hash);
  CHECK(second.op.lam == 42);
  CHECK(second.hash == ops::chain(first.hash, second.bytes));
  CHECK(pen.last_seq() == 2);
  CHECK(*ops::read_op(second.bytes) == second.op);
}

TEST_CASE("an op says who wrote it and what their clock claims") {
  kit::FixedRandom random(1);
  Pen pen(kStream, 0, ops::genesis(kStream));
  const auto op = pen.write(ops::kind::set, {ops::unsigned_field(ops::set_tag::reps, 8)}, kCoach, 0, random).op;
  CHECK(ops::read_unsigned(*op.find(ops::tag::author)) == 2);
  CHECK(ops::read_signed(*op.find(ops::tag::claimed_local_ms)) == 1'772'474'400'000);
  CHECK(ops::read_signed(*op.find(ops::tag::utc_offset_min)) == 60);
  CHECK(ops::read_unsigned(*op.find(ops::tag::since_start_min)) == 7);
  CHECK(ops::read_unsigned(*op.find(ops::set_tag::reps)) == 8);
}

TEST_CASE("the first op after each opening carries a nonce, so that clones writing the same stay two") {
  kit::FixedRandom one(1), two(2);
  Pen pen(kStream, 0, ops::genesis(kStream)), clone = pen;
  const auto first = pen.write(ops::kind::session, {}, kCoach, 0, one);
  const auto twin = clone.write(ops::kind::session, {}, kCoach, 0, two);
  REQUIRE(first.op.find(ops::tag::nonce) != nullptr);
  CHECK(first.op.find(ops::tag::nonce)->payload.size() == 8);
  CHECK(first.seq == twin.seq);
  CHECK_FALSE(first.hash == twin.hash);

  const auto next = pen.write(ops::kind::session, {}, kCoach, 1, one);
  const auto next_twin = clone.write(ops::kind::session, {}, kCoach, 1, two);
  CHECK(next.op.find(ops::tag::nonce) == nullptr);
  CHECK(next.bytes == next_twin.bytes);
  CHECK_FALSE(next.hash == next_twin.hash);  // the chain carries the nonce on
}

TEST_CASE("an ordinary set is hashed as one block") {
  kit::FixedRandom random(1);
  Pen pen(kStream, 99'999, ops::genesis(kStream));
  pen.write(ops::kind::session, {}, kCoach, 99'999, random);
  const model::OpKey session{kStream.inc, 100'000, {}};
  const auto set = pen.write(ops::kind::set,
                             {ops::refs_field(ops::set_tag::session, {session}, kStream.inc), ops::text_field(ops::set_tag::exercise, "SQ4"),
                              ops::unsigned_field(ops::set_tag::round, 3), ops::unsigned_field(ops::set_tag::reps, 8),
                              ops::list_field(ops::set_tag::load, {450, 1, 1}), ops::unsigned_field(ops::set_tag::rir, 2),
                              ops::unsigned_field(ops::set_tag::written_reps, 8),
                              ops::list_field(ops::set_tag::written_load, {450, 1, 1})},
                             kCoach, 999'999, random);
  CHECK(sizeof(set.before.bytes) + set.bytes.size() <= 128);  // 32 bytes of hash and the op
}

TEST_CASE("a forged count at the ceiling stops nobody from writing") {
  kit::FixedRandom random(1);
  Pen pen(kStream, 0, ops::genesis(kStream));
  const auto op = pen.write(ops::kind::session, {}, kCoach, ops::kCounterCeiling - 1, random);
  CHECK(op.op.lam == ops::kCounterCeiling - 1);
  CHECK(ops::read_op(op.bytes));
}

TEST_CASE("a bare op says neither who nor when, and betrays no count") {
  kit::FixedRandom random(1);
  Pen pen(kStream, 0, ops::genesis(kStream));
  const auto mark = pen.write_bare(ops::kind::erase, {ops::unsigned_field(ops::erase_tag::reason, 2)}, random);
  CHECK(mark.op.lam == 1);
  REQUIRE(mark.op.fields.size() == 2);
  CHECK(mark.op.find(ops::tag::nonce) != nullptr);
  CHECK(mark.op.find(ops::erase_tag::reason) != nullptr);
  CHECK(mark.hash == ops::chain(ops::genesis(kStream), mark.bytes));
}
