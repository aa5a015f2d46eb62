#include "ops/registry.h"

#include <array>

namespace slipway::ops {

namespace {

constexpr auto kKinds = std::to_array<KindInfo>({
    {kind::athlete, "athlete", Merge::register_mv, "a swimmer, once a scope"},
    {kind::kit, "kit", Merge::register_mv, "loads that exist where the swimmer trains"},
    {kind::prescription, "prescription", Merge::register_mv, "one line of the plan: what is written"},
    {kind::session, "session", Merge::fact, "a training session was begun"},
    {kind::set, "set", Merge::fact, "a set was done or left out"},
    {kind::pain, "pain", Merge::add_only, "a pain report: never hidden, only resolved or withdrawn"},
    {kind::change, "change", Merge::covers, "new values for fields of the target record"},
    {kind::take_back, "take_back", Merge::covers, "the target was entered by mistake"},
    {kind::pain_end, "pain_end", Merge::add_only, "the target pain is resolved or withdrawn"},
});

constexpr auto kFields = std::to_array<FieldInfo>({
    {0, tag::nonce, "nonce", Wire::bytes, "", "8 random bytes, in the first op after each opening"},
    {0, tag::author, "author", Wire::unsigned_int, "", "1 swimmer, 2 coach, 3 adult helper"},
    {0, tag::claimed_local_ms, "claimed_local_ms", Wire::signed_int, "ms", "civil local time since 1970, as the device claims"},
    {0, tag::utc_offset_min, "utc_offset_min", Wire::signed_int, "min", "east of UTC, as the device claims"},
    {0, tag::since_start_min, "since_start_min", Wire::unsigned_int, "min", "monotonic, since the app started"},
    {0, tag::target, "target", Wire::refs, "", "the record acted on"},
    {0, tag::saw, "saw", Wire::refs, "", "the ops that this one covers"},
    {kind::athlete, athlete_tag::name, "name", Wire::text, "", "as typed"},
    {kind::athlete, athlete_tag::birth_year, "birth_year", Wire::unsigned_int, "year", "the year only"},
    {kind::kit, kit_tag::name, "name", Wire::text, "", "as typed"},
    {kind::kit, kit_tag::loads, "loads", Wire::unsigned_list, "quantity", "(zigzag value, decimals, unit) a load"},
    {kind::prescription, prescription_tag::exercise, "exercise", Wire::text, "", "rung of a ladder"},
    {kind::prescription, prescription_tag::sets, "sets", Wire::unsigned_int, "sets", "rounds written"},
    {kind::prescription, prescription_tag::reps, "reps", Wire::unsigned_int, "reps", "a set"},
    {kind::prescription, prescription_tag::load, "load", Wire::unsigned_list, "quantity", "(zigzag value, decimals, unit)"},
    {kind::prescription, prescription_tag::rir, "rir", Wire::unsigned_int, "reps", "in reserve, 4 means 4 or more"},
    {kind::prescription, prescription_tag::rest_ms, "rest_ms", Wire::unsigned_int, "ms", "least rest between sets"},
    {kind::session, session_tag::training_day, "training_day", Wire::signed_int, "days", "civil day since 1970-01-01"},
    {kind::session, session_tag::title, "title", Wire::text, "", "as typed"},
    {kind::session, session_tag::prescription, "prescription", Wire::refs, "", "what the session was written from"},
    {kind::set, set_tag::session, "session", Wire::refs, "", "the session it belongs to"},
    {kind::set, set_tag::exercise, "exercise", Wire::text, "", "rung of a ladder"},
    {kind::set, set_tag::round, "round", Wire::unsigned_int, "rounds", "from 1"},
    {kind::set, set_tag::reps, "reps", Wire::unsigned_int, "reps", "done"},
    {kind::set, set_tag::load, "load", Wire::unsigned_list, "quantity", "(zigzag value, decimals, unit)"},
    {kind::set, set_tag::rir, "rir", Wire::unsigned_int, "reps", "in reserve, 4 means 4 or more"},
    {kind::set, set_tag::written_reps, "written_reps", Wire::unsigned_int, "reps", "what was written when it was done"},
    {kind::set, set_tag::written_load, "written_load", Wire::unsigned_list, "quantity", "what was written when it was done"},
    {kind::set, set_tag::left_out, "left_out", Wire::unsigned_int, "", "1: left out"},
    {kind::pain, pain_tag::region, "region", Wire::text, "", "where it hurts"},
    {kind::pain, pain_tag::band, "band", Wire::unsigned_int, "", "1: 1 to 2, 2: 3 to 5, 3: 6 to 10"},
    {kind::pain, pain_tag::side, "side", Wire::unsigned_int, "", "1 left, 2 right, 3 both"},
    {kind::pain, pain_tag::amount, "amount", Wire::unsigned_int, "", "0 to 10, if said"},
    {kind::pain_end, pain_end_tag::how, "how", Wire::unsigned_int, "", "1 resolved, 2 withdrawn"},
    {kind::pain_end, pain_end_tag::note, "note", Wire::text, "", "as typed"},
});

}  // namespace

std::span<const KindInfo> kinds() { return kKinds; }
std::span<const FieldInfo> fields() { return kFields; }

const KindInfo* find_kind(std::uint32_t kind) {
  for (const KindInfo& info : kKinds)
    if (info.kind == kind) return &info;
  return nullptr;
}

const FieldInfo* find_field(std::uint32_t kind, std::uint32_t tag) {
  const std::uint32_t owner = tag < tag::own ? 0 : kind;
  for (const FieldInfo& info : kFields)
    if (info.kind == owner && info.tag == tag) return &info;
  return nullptr;
}

}  // namespace slipway::ops
