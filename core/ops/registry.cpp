#include "ops/registry.h"

#include <algorithm>
#include <array>

namespace slipway::ops {

namespace {

constexpr std::string_view kAsTyped = "as typed";

constexpr auto kKinds = std::to_array<KindInfo>({
    {kind::erase, "erase", Merge::erasure, "this athlete is to be erased wherever a person confirms it; says nothing else"},
    {kind::athlete, "athlete", Merge::register_mv, "a swimmer, once a scope"},
    {kind::kit, "kit", Merge::register_mv, "loads that exist where the swimmer trains"},
    {kind::prescription, "prescription", Merge::register_mv, "one line of the plan: what is written"},
    {kind::session, "session", Merge::fact, "a training session was begun"},
    {kind::set, "set", Merge::fact, "a set was done or left out"},
    {kind::pain, "pain", Merge::add_only, "a pain report: never hidden, only resolved or withdrawn"},
    {kind::change, "change", Merge::covers, "new values for fields of the target record"},
    {kind::take_back, "take_back", Merge::covers, "the target was entered by mistake"},
    {kind::pain_end, "pain_end", Merge::add_only, "the target pain is resolved or withdrawn"},
    {kind::programme, "programme", Merge::fact, "phase and weeks of the plan; the newest that nobody replaced counts"},
    {kind::soreness, "soreness", Merge::fact, "how sore a region is on a day"},
    {kind::check, "check", Merge::fact, "nothing hurts, not sore"},
    {kind::red_flag, "red_flag", Merge::add_only, "a sign to stop and refer: never taken back, only cleared"},
    {kind::clearance, "clearance", Merge::careful, "the reports it names count no more; they stay; taken back it does not count"},
    {kind::sign_off, "sign_off", Merge::careful, "form was seen; withdrawn before none before sound before loaded"},
    {kind::tick_in, "tick_in", Merge::careful, "a qualified adult is here; taken back it does not count"},
    {kind::consent, "consent", Merge::careful, "may this be recorded; no before yes"},
    {kind::body_mass, "body_mass", Merge::fact, "body mass on a day"},
    {kind::finish, "finish", Merge::fact, "the session is over: effort and minutes"},
    {kind::decision, "decision", Merge::fact, "the dose shown when the session was opened"},
    {kind::overrule, "overrule", Merge::fact, "the coach decided otherwise than a row"},
    {kind::illness, "illness", Merge::fact, "ill or well again, from this day on"},
    {kind::race, "race", Merge::fact, "a race of one or more days"},
    {kind::key_swim, "key_swim", Merge::fact, "a key swim set is planned"},
    {kind::swap, "swap", Merge::fact, "another exercise was taken in its place"},
    {kind::note, "note", Merge::register_mv, "a coach's comment or a swimmer's note; concurrent versions of the text are both shown"},
    {kind::member, "member", Merge::add_wins, "a word in one of the scope's lists of words"},
    {kind::preference, "preference", Merge::auto_pick, "how somebody likes it shown"},
    {kind::library, "library", Merge::register_mv, "a plan library, once a scope: lines to be copied from, nobody's own"},
    {kind::coach_notes, "coach_notes", Merge::register_mv, "once a scope: its notes are about the athlete of another scope, for coaches only"},
});

constexpr auto kFields = std::to_array<FieldInfo>({
    {0, tag::nonce, "nonce", Wire::bytes, "", "8 random bytes, in the first op after each opening"},
    {0, tag::author, "author", Wire::unsigned_int, "", "1 swimmer, 2 coach, 3 adult helper"},
    {0, tag::claimed_local_ms, "claimed_local_ms", Wire::signed_int, "ms", "civil local time since 1970, as the device claims"},
    {0, tag::utc_offset_min, "utc_offset_min", Wire::signed_int, "min", "east of UTC, as the device claims"},
    {0, tag::since_start_min, "since_start_min", Wire::unsigned_int, "min", "monotonic, since the app started"},
    {0, tag::target, "target", Wire::refs, "", "the record acted on"},
    {0, tag::saw, "saw", Wire::refs, "", "the ops that this one covers"},
    {kind::erase, erase_tag::reason, "reason", Wire::unsigned_int, "", "1 asked for, 2 left, 3 long without an entry, 4 entered by mistake"},
    {kind::athlete, athlete_tag::name, "name", Wire::text, "", kAsTyped},
    {kind::athlete, athlete_tag::birth_year, "birth_year", Wire::unsigned_int, "year", "the year only"},
    {kind::athlete, athlete_tag::birth_month, "birth_month", Wire::unsigned_int, "month", "1 to 12, where it was given"},
    {kind::athlete, athlete_tag::group, "group", Wire::text, "", "a word"},
    {kind::athlete, athlete_tag::limitations, "limitations", Wire::text, "", "words, one space between"},
    {kind::athlete, athlete_tag::training_days, "training_days", Wire::unsigned_int, "", "bits, Monday is the first"},
    {kind::athlete, athlete_tag::sign_off_gate, "sign_off_gate", Wire::unsigned_int, "", "1: on; for adults"},
    {kind::kit, kit_tag::name, "name", Wire::text, "", kAsTyped},
    {kind::kit, kit_tag::loads, "loads", Wire::unsigned_list, "quantity", "(zigzag value, decimals, unit) a load"},
    {kind::kit, kit_tag::bands, "bands", Wire::text, "", "words, one space between, thickest first"},
    {kind::kit, kit_tag::equipment, "equipment", Wire::text, "", "words, one space between"},
    {kind::prescription, prescription_tag::exercise, "exercise", Wire::text, "", "rung of a ladder"},
    {kind::prescription, prescription_tag::sets, "sets", Wire::unsigned_int, "sets", "rounds written"},
    {kind::prescription, prescription_tag::reps, "reps", Wire::unsigned_int, "reps", "a set"},
    {kind::prescription, prescription_tag::load, "load", Wire::unsigned_list, "quantity", "(zigzag value, decimals, unit)"},
    {kind::prescription, prescription_tag::rir, "rir", Wire::unsigned_int, "reps", "in reserve, 4 means 4 or more"},
    {kind::prescription, prescription_tag::rest_ms, "rest_ms", Wire::unsigned_int, "ms", "least rest between sets"},
    {kind::prescription, prescription_tag::reps_high, "reps_high", Wire::unsigned_int, "reps", "upper end; missing: as reps"},
    {kind::prescription, prescription_tag::programme_day, "programme_day", Wire::unsigned_int, "", "1 A, 2 B"},
    {kind::prescription, prescription_tag::place, "place", Wire::unsigned_int, "", "order in its block, from 1"},
    {kind::prescription, prescription_tag::block, "block", Wire::unsigned_int, "", "from 1"},
    {kind::prescription, prescription_tag::format, "format", Wire::unsigned_int, "", "1 straight, 2 circuit, 3 spread"},
    {kind::prescription, prescription_tag::tempo, "tempo", Wire::unsigned_list, "s", "four times"},
    {kind::prescription, prescription_tag::band, "band", Wire::text, "", "a word of the kit"},
    {kind::prescription, prescription_tag::grip, "grip", Wire::text, "", "overhand, neutral or underhand"},
    {kind::prescription, prescription_tag::position, "position", Wire::bytes, "", "order in its block, between any two there is a third; before place"},
    {kind::session, session_tag::training_day, "training_day", Wire::signed_int, "days", "civil day since 1970-01-01"},
    {kind::session, session_tag::title, "title", Wire::text, "", kAsTyped},
    {kind::session, session_tag::prescription, "prescription", Wire::refs, "", "what the session was written from"},
    {kind::session, session_tag::programme_day, "programme_day", Wire::unsigned_int, "", "1 A, 2 B"},
    {kind::session, session_tag::kit, "kit", Wire::refs, "", "the kit it is done with"},
    {kind::set, set_tag::session, "session", Wire::refs, "", "the session it belongs to"},
    {kind::set, set_tag::exercise, "exercise", Wire::text, "", "rung of a ladder"},
    {kind::set, set_tag::round, "round", Wire::unsigned_int, "rounds", "from 1"},
    {kind::set, set_tag::reps, "reps", Wire::unsigned_int, "reps", "done"},
    {kind::set, set_tag::load, "load", Wire::unsigned_list, "quantity", "(zigzag value, decimals, unit)"},
    {kind::set, set_tag::rir, "rir", Wire::unsigned_int, "reps", "in reserve, 4 means 4 or more"},
    {kind::set, set_tag::written_reps, "written_reps", Wire::unsigned_int, "reps", "what was written when it was done"},
    {kind::set, set_tag::written_load, "written_load", Wire::unsigned_list, "quantity", "what was written when it was done"},
    {kind::set, set_tag::left_out, "left_out", Wire::unsigned_int, "", "1: left out"},
    {kind::set, set_tag::side, "side", Wire::unsigned_int, "", "1 left, 2 right, 3 both"},
    {kind::set, set_tag::warm_up, "warm_up", Wire::unsigned_int, "", "1: a warm-up set, never counted"},
    {kind::set, set_tag::form_broke, "form_broke", Wire::unsigned_int, "", "1: reps are those until the last good one"},
    {kind::set, set_tag::band, "band", Wire::text, "", "a word of the kit"},
    {kind::set, set_tag::grip, "grip", Wire::text, "", "overhand, neutral or underhand"},
    {kind::set, set_tag::two_more, "two_more", Wire::unsigned_int, "", "1: an adult saw that two more were there"},
    {kind::set, set_tag::rest_ms, "rest_ms", Wire::unsigned_int, "ms", "rest taken before it"},
    {kind::set, set_tag::note, "note", Wire::text, "", "as typed"},
    {kind::pain, pain_tag::region, "region", Wire::text, "", "where it hurts"},
    {kind::pain, pain_tag::band, "band", Wire::unsigned_int, "", "1: 1 to 2, 2: 3 to 5, 3: 6 to 10"},
    {kind::pain, pain_tag::side, "side", Wire::unsigned_int, "", "1 left, 2 right, 3 both"},
    {kind::pain, pain_tag::amount, "amount", Wire::unsigned_int, "", "0 to 10, if said"},
    {kind::pain, pain_tag::exercise, "exercise", Wire::text, "", "rung of a ladder, if it hurt there"},
    {kind::pain, pain_tag::session, "session", Wire::refs, "", "the session it was said in"},
    {kind::pain, pain_tag::settled, "settled", Wire::unsigned_int, "", "1: normal next morning, 0: not"},
    {kind::pain, pain_tag::in_swim, "in_swim", Wire::unsigned_int, "", "1: in the water"},
    {kind::pain_end, pain_end_tag::how, "how", Wire::unsigned_int, "", "1 resolved, 2 withdrawn"},
    {kind::pain_end, pain_end_tag::note, "note", Wire::text, "", kAsTyped},
    {kind::programme, programme_tag::phase, "phase", Wire::text, "", "learn, general, strength, power, taper, race or break"},
    {kind::programme, programme_tag::starts, "starts", Wire::signed_int, "days", "first day"},
    {kind::programme, programme_tag::weeks, "weeks", Wire::unsigned_int, "weeks", "planned length"},
    {kind::programme, programme_tag::days_a_week, "days_a_week", Wire::unsigned_int, "days", "dryland"},
    {kind::programme, programme_tag::rest_between_exercises_ms, "rest_between_exercises_ms", Wire::unsigned_int, "ms", "in a circuit"},
    {kind::programme, programme_tag::rest_between_rounds_ms, "rest_between_rounds_ms", Wire::unsigned_int, "ms", "in a circuit"},
    {kind::soreness, soreness_tag::region, "region", Wire::text, "", "shoulders_back, chest_arms, trunk, hips_thighs or calves"},
    {kind::soreness, soreness_tag::level, "level", Wire::unsigned_int, "", "0 none, 1 a little, 2 clear, 3 hinders movement"},
    {kind::soreness, soreness_tag::days, "days", Wire::unsigned_int, "days", "in a row up to this one"},
    {kind::soreness, soreness_tag::training_day, "training_day", Wire::signed_int, "days", "the day it is about"},
    {kind::soreness, soreness_tag::session, "session", Wire::refs, "", "the session it was said in"},
    {kind::check, check_tag::training_day, "training_day", Wire::signed_int, "days", "the day it is about"},
    {kind::check, check_tag::session, "session", Wire::refs, "", "the session it was said in"},
    {kind::red_flag, red_flag_tag::flag, "flag", Wire::text, "", "a word"},
    {kind::red_flag, red_flag_tag::group, "group", Wire::unsigned_int, "", "1 emergency, 2 general, 3 local"},
    {kind::red_flag, red_flag_tag::region, "region", Wire::text, "", "of a local one"},
    {kind::red_flag, red_flag_tag::training_day, "training_day", Wire::signed_int, "days", "the day it was said"},
    {kind::clearance, clearance_tag::covers, "covers", Wire::text, "", "a region, or general"},
    {kind::clearance, clearance_tag::note, "note", Wire::text, "", kAsTyped},
    {kind::clearance, clearance_tag::role, "role", Wire::unsigned_int, "", "1 self, 2 coach, 3 guardian"},
    {kind::clearance, clearance_tag::day, "day", Wire::signed_int, "days", "given on"},
    {kind::clearance, clearance_tag::reports, "reports", Wire::refs, "", "the pains and red flags it is for"},
    {kind::clearance, clearance_tag::clinician_allowed, "clinician_allowed", Wire::unsigned_int, "", "1: a clinician has allowed training"},
    {kind::sign_off, sign_off_tag::exercise, "exercise", Wire::text, "", "rung of a ladder"},
    {kind::sign_off, sign_off_tag::level, "level", Wire::unsigned_int, "", "1 sound, 2 loaded, 3 withdrawn"},
    {kind::sign_off, sign_off_tag::load, "load", Wire::unsigned_list, "quantity", "(zigzag value, decimals, unit)"},
    {kind::sign_off, sign_off_tag::reps, "reps", Wire::unsigned_int, "reps", "seen"},
    {kind::sign_off, sign_off_tag::note, "note", Wire::text, "", kAsTyped},
    {kind::sign_off, sign_off_tag::day, "day", Wire::signed_int, "days", "seen on"},
    {kind::sign_off, sign_off_tag::role, "role", Wire::unsigned_int, "", "1 coach, 2 assistant, 3 guardian"},
    {kind::tick_in, tick_in_tag::session, "session", Wire::refs, "", "the session it is valid for"},
    {kind::tick_in, tick_in_tag::role, "role", Wire::unsigned_int, "", "1 coach, 2 assistant, 3 guardian"},
    {kind::tick_in, tick_in_tag::second_adult, "second_adult", Wire::unsigned_int, "", "1: in sight or earshot"},
    {kind::tick_in, tick_in_tag::training_day, "training_day", Wire::signed_int, "days", "of that session"},
    {kind::consent, consent_tag::thing, "thing", Wire::unsigned_int, "", "1 training log, 2 pain and soreness, 3 body measures, 4 wellness"},
    {kind::consent, consent_tag::given, "given", Wire::unsigned_int, "", "0 no, 1 yes"},
    {kind::consent, consent_tag::by, "by", Wire::unsigned_int, "", "1 guardian, 2 young person"},
    {kind::consent, consent_tag::day, "day", Wire::signed_int, "days", "said on"},
    {kind::body_mass, body_mass_tag::mass, "mass", Wire::unsigned_list, "quantity", "(zigzag value, decimals, unit)"},
    {kind::body_mass, body_mass_tag::day, "day", Wire::signed_int, "days", "measured on"},
    {kind::body_mass, body_mass_tag::coarse, "coarse", Wire::unsigned_int, "", "1: the multiple of 5 kg at or below it"},
    {kind::finish, finish_tag::session, "session", Wire::refs, "", "the session that is over"},
    {kind::finish, finish_tag::effort_tenths, "effort_tenths", Wire::unsigned_int, "tenths", "0 to 100"},
    {kind::finish, finish_tag::minutes, "minutes", Wire::unsigned_int, "min", "1 to 600"},
    {kind::finish, finish_tag::short_reason, "short_reason", Wire::unsigned_int, "", "1 no time, 2 kit busy, 3 too hard, 4 pain, 5 other"},
    {kind::decision, decision_tag::session, "session", Wire::refs, "", "the session that was opened"},
    {kind::decision, decision_tag::exercise, "exercise", Wire::text, "", "rung of a ladder"},
    {kind::decision, decision_tag::row, "row", Wire::text, "", "row of the dose"},
    {kind::decision, decision_tag::gate, "gate", Wire::text, "", "row of the session gate"},
    {kind::decision, decision_tag::when, "when", Wire::text, "", "row of the day, if one matched"},
    {kind::decision, decision_tag::sets, "sets", Wire::unsigned_int, "sets", "to do"},
    {kind::decision, decision_tag::reps, "reps", Wire::unsigned_list, "reps", "of each set"},
    {kind::decision, decision_tag::load, "load", Wire::unsigned_list, "quantity", "(zigzag value, decimals, unit)"},
    {kind::decision, decision_tag::rir, "rir", Wire::unsigned_int, "reps", "in reserve, 4 means 4 or more"},
    {kind::decision, decision_tag::reps_low, "reps_low", Wire::unsigned_int, "reps", "lower end of the range"},
    {kind::decision, decision_tag::reps_high, "reps_high", Wire::unsigned_int, "reps", "upper end of the range"},
    {kind::decision, decision_tag::passing, "passing", Wire::unsigned_int, "", "1: for this session only, not counted"},
    {kind::decision, decision_tag::band, "band", Wire::text, "", "a word of the kit"},
    {kind::decision, decision_tag::grip, "grip", Wire::text, "", "overhand, neutral or underhand"},
    {kind::decision, decision_tag::tempo, "tempo", Wire::unsigned_list, "s", "four times"},
    {kind::decision, decision_tag::modifiers, "modifiers", Wire::text, "", "rows, one space between"},
    {kind::decision, decision_tag::args, "args", Wire::text, "", "facts for the reason, one a line"},
    {kind::decision, decision_tag::prescription, "prescription", Wire::refs, "", "the line it came from"},
    {kind::decision, decision_tag::swapped_from, "swapped_from", Wire::text, "", "rung that it stands in for"},
    {kind::decision, decision_tag::rest_ms, "rest_ms", Wire::unsigned_int, "ms", "least rest between sets"},
    {kind::decision, decision_tag::standing, "standing", Wire::text, "", "the standing dose once this was done, as one text"},
    {kind::decision, decision_tag::start, "start", Wire::text, "", "the dose that \"as at the start\" means, as one text"},
    {kind::decision, decision_tag::ramp_step, "ramp_step", Wire::unsigned_int, "", "1 to 4: step a to d of the way back"},
    {kind::decision, decision_tag::by_coach, "by_coach", Wire::unsigned_int, "", "1: the coach's own dose, or the row was overruled"},
    {kind::decision, decision_tag::cut_by_gate, "cut_by_gate", Wire::unsigned_int, "", "1: a gate cut the step of the way back further"},
    {kind::decision, decision_tag::reps_up_to, "reps_up_to", Wire::unsigned_list, "reps", "upper end where a set is written as a range"},
    {kind::overrule, overrule_tag::exercise, "exercise", Wire::text, "", "rung of a ladder; missing: the whole session"},
    {kind::overrule, overrule_tag::training_day, "training_day", Wire::signed_int, "days", "the day it is for"},
    {kind::overrule, overrule_tag::row, "row", Wire::text, "", "the row overruled"},
    {kind::overrule, overrule_tag::note, "note", Wire::text, "", kAsTyped},
    {kind::overrule, overrule_tag::sets, "sets", Wire::unsigned_int, "sets", "instead"},
    {kind::overrule, overrule_tag::reps, "reps", Wire::unsigned_int, "reps", "instead, lower end"},
    {kind::overrule, overrule_tag::load, "load", Wire::unsigned_list, "quantity", "(zigzag value, decimals, unit)"},
    {kind::overrule, overrule_tag::reps_high, "reps_high", Wire::unsigned_int, "reps", "instead, upper end"},
    {kind::overrule, overrule_tag::choice, "choice", Wire::text, "", "a word"},
    {kind::illness, illness_tag::state, "state", Wire::unsigned_int, "", "0 well, 1 head cold only, 2 fever or below the neck"},
    {kind::illness, illness_tag::day, "day", Wire::signed_int, "days", "from this day on"},
    {kind::illness, illness_tag::ended_local_ms, "ended_local_ms", Wire::signed_int, "ms", "when the signs ended, civil local time since 1970"},
    {kind::race, race_tag::name, "name", Wire::text, "", kAsTyped},
    {kind::race, race_tag::first_day, "first_day", Wire::signed_int, "days", "of the meet"},
    {kind::race, race_tag::last_day, "last_day", Wire::signed_int, "days", "of the meet"},
    {kind::race, race_tag::priority, "priority", Wire::unsigned_int, "", "1 A, 2 B, 3 C"},
    {kind::key_swim, key_swim_tag::start_local_ms, "start_local_ms", Wire::signed_int, "ms", "civil local time since 1970"},
    {kind::swap, swap_tag::session, "session", Wire::refs, "", "the session it was done in"},
    {kind::swap, swap_tag::from, "from", Wire::text, "", "rung that was planned"},
    {kind::swap, swap_tag::to, "to", Wire::text, "", "rung done in its place"},
    {kind::swap, swap_tag::pain, "pain", Wire::refs, "", "the report that led to it"},
    {kind::note, note_tag::text, "text", Wire::text, "", kAsTyped},
    {kind::note, note_tag::about, "about", Wire::refs, "", "the session or set it is about, of this scope"},
    {kind::note, note_tag::day, "day", Wire::signed_int, "days", "the day it is about"},
    {kind::member, member_tag::list, "list", Wire::text, "", "limitations"},
    {kind::member, member_tag::word, "word", Wire::text, "", "a word"},
    {kind::preference, preference_tag::name, "name", Wire::text, "", "unit"},
    {kind::preference, preference_tag::value, "value", Wire::text, "", "a word"},
    {kind::library, library_tag::name, "name", Wire::text, "", kAsTyped},
    {kind::coach_notes, coach_notes_tag::athlete, "athlete", Wire::bytes, "", "scope of the athlete, 16 bytes"},
});

using Bits = std::uint64_t;  // of tags, or of kinds; one look a field, however many entries a bundle has
constexpr std::uint32_t kMostBits = 64;

constexpr auto kTagsOf = [] {
  std::array<Bits, kMostBits> tags{};
  for (const FieldInfo& info : kFields) tags[info.kind] |= Bits{1} << info.tag;
  for (const KindInfo& info : kKinds) tags[info.kind] |= tags[0];  // the common ones: no kind that is known has none
  for (const FieldInfo& info : kFields) tags[kind::change] |= Bits{1} << info.tag;
  return tags;
}();

}  // namespace

bool creates_record(std::uint32_t kind) {
  return find_kind(kind) != nullptr && kind != kind::change && kind != kind::take_back && kind != kind::pain_end &&
         kind != kind::erase;
}

bool is_free_text(std::uint32_t kind, std::uint32_t tag) {
  const FieldInfo* info = find_field(kind, tag);
  return info != nullptr && info->wire == Wire::text && info->meaning == kAsTyped;
}

std::span<const KindInfo> kinds() { return kKinds; }
std::span<const FieldInfo> fields() { return kFields; }

const KindInfo* find_kind(std::uint32_t kind) {
  for (const KindInfo& info : kKinds)
    if (info.kind == kind) return &info;
  return nullptr;
}

bool is_known(const Op& op) {
  const Bits tags = op.kind < kMostBits ? kTagsOf[op.kind] : 0;
  return tags != 0 && op.kind != 0 && std::all_of(op.fields.begin(), op.fields.end(), [tags](const Field& field) {
    return field.tag < kMostBits && (tags >> field.tag & 1) != 0;
  });
}

const FieldInfo* find_field(std::uint32_t kind, std::uint32_t tag) {
  const std::uint32_t owner = tag < tag::own ? 0 : kind;
  for (const FieldInfo& info : kFields)
    if (info.kind == owner && info.tag == tag) return &info;
  return nullptr;
}

}  // namespace slipway::ops
