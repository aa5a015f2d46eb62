// The registry is the promise to every file ever written: numbers are never used twice
// and never change. The lists below are a second copy on purpose.
#include "ops/registry.h"

#include <set>
#include <string>
#include <utility>
#include <vector>

#include <doctest/doctest.h>

using namespace slipway;
using ops::Wire;

namespace {

struct Number {
  std::uint32_t kind, tag, written;
  std::string name;
  Wire wire;
};

const std::vector<std::pair<std::uint32_t, std::string>> kKinds{
    {2, "athlete"}, {4, "kit"}, {6, "prescription"}, {8, "session"}, {10, "set"},
    {12, "pain"}, {14, "change"}, {16, "take_back"}, {18, "pain_end"},
};

namespace k = ops::kind;
namespace t = ops::tag;

const std::vector<Number> kFields{
    {0, t::nonce, 1, "nonce", Wire::bytes},
    {0, t::author, 2, "author", Wire::unsigned_int},
    {0, t::claimed_local_ms, 3, "claimed_local_ms", Wire::signed_int},
    {0, t::utc_offset_min, 4, "utc_offset_min", Wire::signed_int},
    {0, t::since_start_min, 5, "since_start_min", Wire::unsigned_int},
    {0, t::target, 6, "target", Wire::refs},
    {0, t::saw, 7, "saw", Wire::refs},
    {k::athlete, ops::athlete_tag::name, 16, "name", Wire::text},
    {k::athlete, ops::athlete_tag::birth_year, 17, "birth_year", Wire::unsigned_int},
    {k::kit, ops::kit_tag::name, 16, "name", Wire::text},
    {k::kit, ops::kit_tag::loads, 17, "loads", Wire::unsigned_list},
    {k::prescription, ops::prescription_tag::exercise, 16, "exercise", Wire::text},
    {k::prescription, ops::prescription_tag::sets, 17, "sets", Wire::unsigned_int},
    {k::prescription, ops::prescription_tag::reps, 18, "reps", Wire::unsigned_int},
    {k::prescription, ops::prescription_tag::load, 19, "load", Wire::unsigned_list},
    {k::prescription, ops::prescription_tag::rir, 20, "rir", Wire::unsigned_int},
    {k::prescription, ops::prescription_tag::rest_ms, 21, "rest_ms", Wire::unsigned_int},
    {k::session, ops::session_tag::training_day, 16, "training_day", Wire::signed_int},
    {k::session, ops::session_tag::title, 17, "title", Wire::text},
    {k::session, ops::session_tag::prescription, 18, "prescription", Wire::refs},
    {k::set, ops::set_tag::session, 16, "session", Wire::refs},
    {k::set, ops::set_tag::exercise, 17, "exercise", Wire::text},
    {k::set, ops::set_tag::round, 18, "round", Wire::unsigned_int},
    {k::set, ops::set_tag::reps, 19, "reps", Wire::unsigned_int},
    {k::set, ops::set_tag::load, 20, "load", Wire::unsigned_list},
    {k::set, ops::set_tag::rir, 21, "rir", Wire::unsigned_int},
    {k::set, ops::set_tag::written_reps, 22, "written_reps", Wire::unsigned_int},
    {k::set, ops::set_tag::written_load, 23, "written_load", Wire::unsigned_list},
    {k::set, ops::set_tag::left_out, 24, "left_out", Wire::unsigned_int},
    {k::pain, ops::pain_tag::region, 16, "region", Wire::text},
    {k::pain, ops::pain_tag::band, 17, "band", Wire::unsigned_int},
    {k::pain, ops::pain_tag::side, 18, "side", Wire::unsigned_int},
    {k::pain, ops::pain_tag::amount, 19, "amount", Wire::unsigned_int},
    {k::pain_end, ops::pain_end_tag::how, 16, "how", Wire::unsigned_int},
    {k::pain_end, ops::pain_end_tag::note, 17, "note", Wire::text},
};

}  // namespace

TEST_CASE("every kind has its number, once, and today's kinds are not critical") {
  CHECK(ops::kinds().size() == kKinds.size());
  std::set<std::uint32_t> numbers;
  std::set<std::string_view> names;
  for (const ops::KindInfo& info : ops::kinds()) {
    CAPTURE(info.kind);
    CHECK(numbers.insert(info.kind).second);
    CHECK(names.insert(info.name).second);
    CHECK_FALSE(ops::is_critical(info.kind));
    CHECK_FALSE(info.meaning.empty());
  }
  for (const auto& kind : kKinds) {
    REQUIRE(ops::find_kind(kind.first) != nullptr);
    CHECK(ops::find_kind(kind.first)->name == kind.second);
  }
  CHECK(std::set<std::uint32_t>{k::athlete, k::kit, k::prescription, k::session, k::set, k::pain, k::change, k::take_back, k::pain_end} ==
        numbers);
  CHECK(ops::find_kind(1) == nullptr);
  CHECK(ops::find_kind(1000) == nullptr);
}

TEST_CASE("every field has its number, name and wire, and none is missing or left over") {
  CHECK(ops::fields().size() == kFields.size());
  for (const Number& number : kFields) {
    CAPTURE(number.name);
    CHECK(number.tag == number.written);
    const ops::FieldInfo* info = ops::find_field(number.kind, number.tag);
    REQUIRE(info != nullptr);
    CHECK(info->name == number.name);
    CHECK(info->wire == number.wire);
    CHECK(info->kind == number.kind);
  }
  CHECK(ops::find_field(k::set, 99) == nullptr);
  CHECK(ops::find_field(1000, 16) == nullptr);
}

TEST_CASE("tags and names are used once a kind; own fields begin at sixteen, common ones stay below") {
  std::set<std::pair<std::uint32_t, std::uint32_t>> tags;
  std::set<std::pair<std::uint32_t, std::string_view>> names;
  for (const ops::FieldInfo& info : ops::fields()) {
    CAPTURE(info.name);
    CHECK(tags.insert({info.kind, info.tag}).second);
    CHECK(names.insert({info.kind, info.name}).second);
    CHECK(names.count({0, info.name}) == (info.kind == 0 ? 1 : 0));  // JSON puts both beside each other
    CHECK((info.tag >= t::own) == (info.kind != 0));
    CHECK(info.tag > 0);
    CHECK((info.kind == 0 || ops::find_kind(info.kind) != nullptr));
    CHECK_FALSE(info.meaning.empty());
  }
}

TEST_CASE("common fields are found under any kind") {
  for (const ops::KindInfo& info : ops::kinds()) CHECK(ops::find_field(info.kind, t::author)->name == "author");
  CHECK(ops::find_field(1000, t::nonce)->name == "nonce");
}

TEST_CASE("how each kind merges is said once") {
  using ops::Merge;
  const auto merge = [](std::uint32_t kind) { return ops::find_kind(kind)->merge; };
  CHECK(merge(k::set) == Merge::fact);
  CHECK(merge(k::session) == Merge::fact);
  CHECK(merge(k::prescription) == Merge::register_mv);
  CHECK(merge(k::athlete) == Merge::register_mv);
  CHECK(merge(k::kit) == Merge::register_mv);
  CHECK(merge(k::pain) == Merge::add_only);
  CHECK(merge(k::pain_end) == Merge::add_only);
  CHECK(merge(k::change) == Merge::covers);
  CHECK(merge(k::take_back) == Merge::covers);
}
