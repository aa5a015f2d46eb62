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
    {1, "erase"}, {2, "athlete"}, {4, "kit"}, {6, "prescription"}, {8, "session"}, {10, "set"},
    {12, "pain"}, {14, "change"}, {16, "take_back"}, {18, "pain_end"},
    {20, "programme"}, {22, "soreness"}, {24, "check"}, {26, "red_flag"}, {28, "clearance"}, {30, "sign_off"}, {32, "tick_in"},
    {34, "consent"}, {36, "body_mass"}, {38, "finish"}, {40, "decision"}, {42, "overrule"}, {44, "illness"}, {46, "race"},
    {48, "key_swim"}, {50, "swap"}, {52, "note"}, {54, "member"}, {56, "preference"}, {58, "library"}, {60, "coach_notes"},
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
    {k::erase, ops::erase_tag::reason, 16, "reason", Wire::unsigned_int},
    {k::athlete, ops::athlete_tag::name, 16, "name", Wire::text},
    {k::athlete, ops::athlete_tag::birth_year, 17, "birth_year", Wire::unsigned_int},
    {k::athlete, ops::athlete_tag::birth_month, 18, "birth_month", Wire::unsigned_int},
    {k::athlete, ops::athlete_tag::group, 19, "group", Wire::text},
    {k::athlete, ops::athlete_tag::limitations, 20, "limitations", Wire::text},
    {k::athlete, ops::athlete_tag::training_days, 21, "training_days", Wire::unsigned_int},
    {k::athlete, ops::athlete_tag::sign_off_gate, 22, "sign_off_gate", Wire::unsigned_int},
    {k::kit, ops::kit_tag::name, 16, "name", Wire::text},
    {k::kit, ops::kit_tag::loads, 17, "loads", Wire::unsigned_list},
    {k::kit, ops::kit_tag::bands, 18, "bands", Wire::text},
    {k::kit, ops::kit_tag::equipment, 19, "equipment", Wire::text},
    {k::prescription, ops::prescription_tag::exercise, 16, "exercise", Wire::text},
    {k::prescription, ops::prescription_tag::sets, 17, "sets", Wire::unsigned_int},
    {k::prescription, ops::prescription_tag::reps, 18, "reps", Wire::unsigned_int},
    {k::prescription, ops::prescription_tag::load, 19, "load", Wire::unsigned_list},
    {k::prescription, ops::prescription_tag::rir, 20, "rir", Wire::unsigned_int},
    {k::prescription, ops::prescription_tag::rest_ms, 21, "rest_ms", Wire::unsigned_int},
    {k::prescription, ops::prescription_tag::reps_high, 22, "reps_high", Wire::unsigned_int},
    {k::prescription, ops::prescription_tag::programme_day, 23, "programme_day", Wire::unsigned_int},
    {k::prescription, ops::prescription_tag::place, 24, "place", Wire::unsigned_int},
    {k::prescription, ops::prescription_tag::block, 25, "block", Wire::unsigned_int},
    {k::prescription, ops::prescription_tag::format, 26, "format", Wire::unsigned_int},
    {k::prescription, ops::prescription_tag::tempo, 27, "tempo", Wire::unsigned_list},
    {k::prescription, ops::prescription_tag::band, 28, "band", Wire::text},
    {k::prescription, ops::prescription_tag::grip, 29, "grip", Wire::text},
    {k::prescription, ops::prescription_tag::position, 30, "position", Wire::bytes},
    {k::session, ops::session_tag::training_day, 16, "training_day", Wire::signed_int},
    {k::session, ops::session_tag::title, 17, "title", Wire::text},
    {k::session, ops::session_tag::prescription, 18, "prescription", Wire::refs},
    {k::session, ops::session_tag::programme_day, 19, "programme_day", Wire::unsigned_int},
    {k::session, ops::session_tag::kit, 20, "kit", Wire::refs},
    {k::set, ops::set_tag::session, 16, "session", Wire::refs},
    {k::set, ops::set_tag::exercise, 17, "exercise", Wire::text},
    {k::set, ops::set_tag::round, 18, "round", Wire::unsigned_int},
    {k::set, ops::set_tag::reps, 19, "reps", Wire::unsigned_int},
    {k::set, ops::set_tag::load, 20, "load", Wire::unsigned_list},
    {k::set, ops::set_tag::rir, 21, "rir", Wire::unsigned_int},
    {k::set, ops::set_tag::written_reps, 22, "written_reps", Wire::unsigned_int},
    {k::set, ops::set_tag::written_load, 23, "written_load", Wire::unsigned_list},
    {k::set, ops::set_tag::left_out, 24, "left_out", Wire::unsigned_int},
    {k::set, ops::set_tag::side, 25, "side", Wire::unsigned_int},
    {k::set, ops::set_tag::warm_up, 26, "warm_up", Wire::unsigned_int},
    {k::set, ops::set_tag::form_broke, 27, "form_broke", Wire::unsigned_int},
    {k::set, ops::set_tag::band, 28, "band", Wire::text},
    {k::set, ops::set_tag::grip, 29, "grip", Wire::text},
    {k::set, ops::set_tag::two_more, 30, "two_more", Wire::unsigned_int},
    {k::set, ops::set_tag::rest_ms, 31, "rest_ms", Wire::unsigned_int},
    {k::set, ops::set_tag::note, 32, "note", Wire::text},
    {k::pain, ops::pain_tag::region, 16, "region", Wire::text},
    {k::pain, ops::pain_tag::band, 17, "band", Wire::unsigned_int},
    {k::pain, ops::pain_tag::side, 18, "side", Wire::unsigned_int},
    {k::pain, ops::pain_tag::amount, 19, "amount", Wire::unsigned_int},
    {k::pain, ops::pain_tag::exercise, 20, "exercise", Wire::text},
    {k::pain, ops::pain_tag::session, 21, "session", Wire::refs},
    {k::pain, ops::pain_tag::settled, 22, "settled", Wire::unsigned_int},
    {k::pain, ops::pain_tag::in_swim, 23, "in_swim", Wire::unsigned_int},
    {k::pain_end, ops::pain_end_tag::how, 16, "how", Wire::unsigned_int},
    {k::pain_end, ops::pain_end_tag::note, 17, "note", Wire::text},
    {k::programme, ops::programme_tag::phase, 16, "phase", Wire::text},
    {k::programme, ops::programme_tag::starts, 17, "starts", Wire::signed_int},
    {k::programme, ops::programme_tag::weeks, 18, "weeks", Wire::unsigned_int},
    {k::programme, ops::programme_tag::days_a_week, 19, "days_a_week", Wire::unsigned_int},
    {k::programme, ops::programme_tag::rest_between_exercises_ms, 20, "rest_between_exercises_ms", Wire::unsigned_int},
    {k::programme, ops::programme_tag::rest_between_rounds_ms, 21, "rest_between_rounds_ms", Wire::unsigned_int},
    {k::soreness, ops::soreness_tag::region, 16, "region", Wire::text},
    {k::soreness, ops::soreness_tag::level, 17, "level", Wire::unsigned_int},
    {k::soreness, ops::soreness_tag::days, 18, "days", Wire::unsigned_int},
    {k::soreness, ops::soreness_tag::training_day, 19, "training_day", Wire::signed_int},
    {k::soreness, ops::soreness_tag::session, 20, "session", Wire::refs},
    {k::check, ops::check_tag::training_day, 16, "training_day", Wire::signed_int},
    {k::check, ops::check_tag::session, 17, "session", Wire::refs},
    {k::red_flag, ops::red_flag_tag::flag, 16, "flag", Wire::text},
    {k::red_flag, ops::red_flag_tag::group, 17, "group", Wire::unsigned_int},
    {k::red_flag, ops::red_flag_tag::region, 18, "region", Wire::text},
    {k::red_flag, ops::red_flag_tag::training_day, 19, "training_day", Wire::signed_int},
    {k::clearance, ops::clearance_tag::covers, 16, "covers", Wire::text},
    {k::clearance, ops::clearance_tag::note, 17, "note", Wire::text},
    {k::clearance, ops::clearance_tag::role, 18, "role", Wire::unsigned_int},
    {k::clearance, ops::clearance_tag::day, 19, "day", Wire::signed_int},
    {k::clearance, ops::clearance_tag::reports, 20, "reports", Wire::refs},
    {k::clearance, ops::clearance_tag::clinician_allowed, 21, "clinician_allowed", Wire::unsigned_int},
    {k::sign_off, ops::sign_off_tag::exercise, 16, "exercise", Wire::text},
    {k::sign_off, ops::sign_off_tag::level, 17, "level", Wire::unsigned_int},
    {k::sign_off, ops::sign_off_tag::load, 18, "load", Wire::unsigned_list},
    {k::sign_off, ops::sign_off_tag::reps, 19, "reps", Wire::unsigned_int},
    {k::sign_off, ops::sign_off_tag::note, 20, "note", Wire::text},
    {k::sign_off, ops::sign_off_tag::day, 21, "day", Wire::signed_int},
    {k::sign_off, ops::sign_off_tag::role, 22, "role", Wire::unsigned_int},
    {k::tick_in, ops::tick_in_tag::session, 16, "session", Wire::refs},
    {k::tick_in, ops::tick_in_tag::role, 17, "role", Wire::unsigned_int},
    {k::tick_in, ops::tick_in_tag::second_adult, 18, "second_adult", Wire::unsigned_int},
    {k::tick_in, ops::tick_in_tag::training_day, 19, "training_day", Wire::signed_int},
    {k::consent, ops::consent_tag::thing, 16, "thing", Wire::unsigned_int},
    {k::consent, ops::consent_tag::given, 17, "given", Wire::unsigned_int},
    {k::consent, ops::consent_tag::by, 18, "by", Wire::unsigned_int},
    {k::consent, ops::consent_tag::day, 19, "day", Wire::signed_int},
    {k::body_mass, ops::body_mass_tag::mass, 16, "mass", Wire::unsigned_list},
    {k::body_mass, ops::body_mass_tag::day, 17, "day", Wire::signed_int},
    {k::body_mass, ops::body_mass_tag::coarse, 18, "coarse", Wire::unsigned_int},
    {k::finish, ops::finish_tag::session, 16, "session", Wire::refs},
    {k::finish, ops::finish_tag::effort_tenths, 17, "effort_tenths", Wire::unsigned_int},
    {k::finish, ops::finish_tag::minutes, 18, "minutes", Wire::unsigned_int},
    {k::finish, ops::finish_tag::short_reason, 19, "short_reason", Wire::unsigned_int},
    {k::decision, ops::decision_tag::session, 16, "session", Wire::refs},
    {k::decision, ops::decision_tag::exercise, 17, "exercise", Wire::text},
    {k::decision, ops::decision_tag::row, 18, "row", Wire::text},
    {k::decision, ops::decision_tag::gate, 19, "gate", Wire::text},
    {k::decision, ops::decision_tag::when, 20, "when", Wire::text},
    {k::decision, ops::decision_tag::sets, 21, "sets", Wire::unsigned_int},
    {k::decision, ops::decision_tag::reps, 22, "reps", Wire::unsigned_list},
    {k::decision, ops::decision_tag::load, 23, "load", Wire::unsigned_list},
    {k::decision, ops::decision_tag::rir, 24, "rir", Wire::unsigned_int},
    {k::decision, ops::decision_tag::reps_low, 25, "reps_low", Wire::unsigned_int},
    {k::decision, ops::decision_tag::reps_high, 26, "reps_high", Wire::unsigned_int},
    {k::decision, ops::decision_tag::passing, 27, "passing", Wire::unsigned_int},
    {k::decision, ops::decision_tag::band, 28, "band", Wire::text},
    {k::decision, ops::decision_tag::grip, 29, "grip", Wire::text},
    {k::decision, ops::decision_tag::tempo, 30, "tempo", Wire::unsigned_list},
    {k::decision, ops::decision_tag::modifiers, 31, "modifiers", Wire::text},
    {k::decision, ops::decision_tag::args, 32, "args", Wire::text},
    {k::decision, ops::decision_tag::prescription, 33, "prescription", Wire::refs},
    {k::decision, ops::decision_tag::swapped_from, 34, "swapped_from", Wire::text},
    {k::decision, ops::decision_tag::rest_ms, 35, "rest_ms", Wire::unsigned_int},
    {k::decision, ops::decision_tag::standing, 36, "standing", Wire::text},
    {k::decision, ops::decision_tag::start, 37, "start", Wire::text},
    {k::decision, ops::decision_tag::ramp_step, 38, "ramp_step", Wire::unsigned_int},
    {k::decision, ops::decision_tag::by_coach, 39, "by_coach", Wire::unsigned_int},
    {k::decision, ops::decision_tag::cut_by_gate, 40, "cut_by_gate", Wire::unsigned_int},
    {k::decision, ops::decision_tag::reps_up_to, 41, "reps_up_to", Wire::unsigned_list},
    {k::overrule, ops::overrule_tag::exercise, 16, "exercise", Wire::text},
    {k::overrule, ops::overrule_tag::training_day, 17, "training_day", Wire::signed_int},
    {k::overrule, ops::overrule_tag::row, 18, "row", Wire::text},
    {k::overrule, ops::overrule_tag::note, 19, "note", Wire::text},
    {k::overrule, ops::overrule_tag::sets, 20, "sets", Wire::unsigned_int},
    {k::overrule, ops::overrule_tag::reps, 21, "reps", Wire::unsigned_int},
    {k::overrule, ops::overrule_tag::load, 22, "load", Wire::unsigned_list},
    {k::overrule, ops::overrule_tag::reps_high, 23, "reps_high", Wire::unsigned_int},
    {k::overrule, ops::overrule_tag::choice, 24, "choice", Wire::text},
    {k::illness, ops::illness_tag::state, 16, "state", Wire::unsigned_int},
    {k::illness, ops::illness_tag::day, 17, "day", Wire::signed_int},
    {k::illness, ops::illness_tag::ended_local_ms, 18, "ended_local_ms", Wire::signed_int},
    {k::race, ops::race_tag::name, 16, "name", Wire::text},
    {k::race, ops::race_tag::first_day, 17, "first_day", Wire::signed_int},
    {k::race, ops::race_tag::last_day, 18, "last_day", Wire::signed_int},
    {k::race, ops::race_tag::priority, 19, "priority", Wire::unsigned_int},
    {k::key_swim, ops::key_swim_tag::start_local_ms, 16, "start_local_ms", Wire::signed_int},
    {k::swap, ops::swap_tag::session, 16, "session", Wire::refs},
    {k::swap, ops::swap_tag::from, 17, "from", Wire::text},
    {k::swap, ops::swap_tag::to, 18, "to", Wire::text},
    {k::swap, ops::swap_tag::pain, 19, "pain", Wire::refs},
    {k::note, ops::note_tag::text, 16, "text", Wire::text},
    {k::note, ops::note_tag::about, 17, "about", Wire::refs},
    {k::note, ops::note_tag::day, 18, "day", Wire::signed_int},
    {k::member, ops::member_tag::list, 16, "list", Wire::text},
    {k::member, ops::member_tag::word, 17, "word", Wire::text},
    {k::preference, ops::preference_tag::name, 16, "name", Wire::text},
    {k::preference, ops::preference_tag::value, 17, "value", Wire::text},
    {k::library, ops::library_tag::name, 16, "name", Wire::text},
    {k::coach_notes, ops::coach_notes_tag::athlete, 16, "athlete", Wire::bytes},
};

}  // namespace

TEST_CASE("every kind has its number, once, and only the mark of an erasure is critical") {
  CHECK(ops::kinds().size() == kKinds.size());
  std::set<std::uint32_t> numbers;
  std::set<std::string_view> names;
  for (const ops::KindInfo& info : ops::kinds()) {
    CAPTURE(info.kind);
    CHECK(numbers.insert(info.kind).second);
    CHECK(names.insert(info.name).second);
    CHECK(ops::is_critical(info.kind) == (info.kind == k::erase));
    CHECK_FALSE(info.meaning.empty());
  }
  for (const auto& kind : kKinds) {
    REQUIRE(ops::find_kind(kind.first) != nullptr);
    CHECK(ops::find_kind(kind.first)->name == kind.second);
  }
  CHECK(std::set<std::uint32_t>{k::erase, k::athlete, k::kit, k::prescription, k::session, k::set, k::pain, k::change, k::take_back, k::pain_end,
                                k::programme, k::soreness, k::check, k::red_flag, k::clearance, k::sign_off, k::tick_in, k::consent,
                                k::body_mass, k::finish, k::decision, k::overrule, k::illness, k::race, k::key_swim, k::swap, k::note, k::member,
                                k::preference, k::library, k::coach_notes} == numbers);
  CHECK(ops::find_kind(3) == nullptr);
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

TEST_CASE("every kind makes a record of its own, but for those that act on one or on the whole scope") {
  for (const ops::KindInfo& info : ops::kinds())
    CHECK(ops::creates_record(info.kind) == (info.kind != k::change && info.kind != k::take_back && info.kind != k::pain_end &&
                                             info.kind != k::erase));
  CHECK_FALSE(ops::creates_record(1000));
  CHECK_FALSE(ops::creates_record(0));
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
  CHECK(merge(k::red_flag) == Merge::add_only);
  for (std::uint32_t kind : {k::clearance, k::sign_off, k::tick_in, k::consent}) CHECK(merge(kind) == Merge::careful);
  for (std::uint32_t kind : {k::programme, k::soreness, k::check, k::body_mass, k::finish, k::decision, k::overrule, k::illness, k::race,
                             k::key_swim, k::swap})
    CHECK(merge(kind) == Merge::fact);
  CHECK(merge(k::note) == Merge::register_mv);
  CHECK(merge(k::library) == Merge::register_mv);
  CHECK(merge(k::coach_notes) == Merge::register_mv);
  CHECK(merge(k::member) == Merge::add_wins);
  CHECK(merge(k::preference) == Merge::auto_pick);
  CHECK(merge(k::change) == Merge::covers);
  CHECK(merge(k::take_back) == Merge::covers);
}
