// What is said once about body and permissions, and which of it counts. Everything here
// is a function of the set of ops; where two devices disagree the more careful counts.
#include <tuple>

#include "ops/read_values.h"
#include "ops/registry.h"
#include "ops/views.h"

namespace slipway::ops {

namespace {

model::Day day_or_claimed(const std::optional<model::Day>& day, const Record& record) {
  return day ? *day : model::day_of(writer_of(*record.created).claimed);
}

std::optional<std::uint64_t> standing_number(const Record& record, std::uint32_t tag) {
  return first_value<std::uint64_t>(record, tag, to_unsigned);
}
std::optional<std::uint64_t> own_number(const Record& record, std::uint32_t tag) {
  return own_value<std::uint64_t>(record, tag, to_unsigned);
}
std::string standing_word(const Record& record, std::uint32_t tag) { return first_value<std::string>(record, tag, to_string).value_or(""); }
std::string own_word(const Record& record, std::uint32_t tag) { return own_value<std::string>(record, tag, to_string).value_or(""); }
model::Day standing_day(const Record& record, std::uint32_t tag) {
  return day_or_claimed(first_value<model::Day>(record, tag, to_day), record);
}
model::Day own_day(const Record& record, std::uint32_t tag) { return day_or_claimed(own_value<model::Day>(record, tag, to_day), record); }

template <class Enum>
Enum read_enum(std::optional<std::uint64_t> number, Enum last, Enum otherwise) {
  if (!number || *number > static_cast<std::uint64_t>(last)) return otherwise;
  return static_cast<Enum>(*number);
}

// A report may be written higher, never lower: all that was ever said counts.
std::optional<std::uint64_t> highest(const Record& record, std::uint32_t tag) {
  std::optional<std::uint64_t> most;
  const Register field = record.field(tag);
  for (const auto& [key, written] : field.values) {
    const auto value = to_unsigned(Field{tag, written.wire, written.payload});
    if (value && (!most || *value > *most)) most = value;
  }
  return most;
}

std::optional<bool> read_settled(const Record& record) {
  const Marks said = marks(record, pain_tag::settled);
  if (said.any_no) return false;
  return said.any_yes ? std::optional<bool>(true) : std::nullopt;
}

model::Pain read_pain(const model::RecordId& id, const Record& record) {
  model::Pain pain;
  pain.id = id;
  pain.region = own_word(record, pain_tag::region);  // nobody says it of another part later: a stop would be out of reach
  pain.band = highest(record, pain_tag::band).value_or(0);
  pain.amount = highest(record, pain_tag::amount);
  pain.side = standing_number(record, pain_tag::side);
  pain.exercise = own_word(record, pain_tag::exercise);
  pain.session = first_ref(record, pain_tag::session);
  pain.settled = read_settled(record);
  pain.in_swim = own_mark(record, pain_tag::in_swim);
  pain.by = writer_of(*record.created);
  for (const auto& [key, ending] : record.acts->endings) {
    if (ending.how == 1) pain.resolved = true;
    if (ending.how == 2 && ending.by.author == record.created->author) pain.withdrawn = true;  // anybody else's: it stands
  }
  return pain;
}

std::optional<model::Soreness> read_soreness(const model::RecordId& id, const Record& record) {
  return model::Soreness{.id = id,
                         .region = standing_word(record, soreness_tag::region),
                         .level = standing_number(record, soreness_tag::level).value_or(0),
                         .days = standing_number(record, soreness_tag::days).value_or(1),
                         .day = standing_day(record, soreness_tag::training_day),
                         .session = first_ref(record, soreness_tag::session),
                         .by = writer_of(*record.created)};
}

std::optional<model::Check> read_check(const model::RecordId& id, const Record& record) {
  return model::Check{.id = id,
                      .day = standing_day(record, check_tag::training_day),
                      .session = first_ref(record, check_tag::session),
                      .by = writer_of(*record.created)};
}

std::optional<model::RedFlag> read_red_flag(const model::RecordId& id, const Record& record) {
  using model::FlagGroup;
  const FlagGroup group = read_enum(own_number(record, red_flag_tag::group), FlagGroup::local, FlagGroup::emergency);
  return model::RedFlag{.id = id,
                        .flag = own_word(record, red_flag_tag::flag),
                        .group = group == FlagGroup{} ? FlagGroup::emergency : group,
                        .region = own_word(record, red_flag_tag::region),
                        .day = own_day(record, red_flag_tag::training_day),
                        .by = writer_of(*record.created)};
}

std::optional<model::Clearance> read_clearance(const model::RecordId& id, const Record& record) {
  using model::ClearanceRole;
  const ClearanceRole role = read_enum(own_number(record, clearance_tag::role), ClearanceRole::guardian, ClearanceRole::self);
  return model::Clearance{.id = id,
                          .covers = own_word(record, clearance_tag::covers),
                          .note = own_word(record, clearance_tag::note),
                          .role = role == ClearanceRole{} ? ClearanceRole::self : role,
                          .day = own_day(record, clearance_tag::day),
                          .reports = own_refs(record, clearance_tag::reports),
                          .clinician_allowed = own_mark(record, clearance_tag::clinician_allowed),
                          .withdrawn = !record.acts->take_backs.empty(),
                          .by = writer_of(*record.created)};
}

std::optional<model::SignOff> read_sign_off(const model::RecordId& id, const Record& record) {
  return model::SignOff{
      .id = id,
      .exercise = own_word(record, sign_off_tag::exercise),
      .level = read_enum(own_number(record, sign_off_tag::level), model::SignOffLevel::withdrawn, model::SignOffLevel::none),
      .load = own_value<model::Quantity>(record, sign_off_tag::load, to_quantity),
      .reps = own_number(record, sign_off_tag::reps),
      .note = own_word(record, sign_off_tag::note),
      .day = own_day(record, sign_off_tag::day),
      .role = read_enum(own_number(record, sign_off_tag::role), model::AdultRole::guardian, model::AdultRole::unsaid),
      .by = writer_of(*record.created)};
}

std::optional<model::TickIn> read_tick_in(const model::RecordId& id, const Record& record) {
  const auto session = own_refs(record, tick_in_tag::session);
  if (session.size() != 1) return std::nullopt;  // valid for one session, or for none
  return model::TickIn{.id = id,
                       .session = session.front(),
                       .role = read_enum(own_number(record, tick_in_tag::role), model::AdultRole::guardian, model::AdultRole::unsaid),
                       .second_adult = own_mark(record, tick_in_tag::second_adult),
                       .day = own_day(record, tick_in_tag::training_day),
                       .withdrawn = !record.acts->take_backs.empty(),
                       .by = writer_of(*record.created)};
}

std::optional<model::Consent> read_consent(const model::RecordId& id, const Record& record) {
  const auto thing = own_number(record, consent_tag::thing);
  if (!thing || *thing < 1 || *thing > static_cast<std::uint64_t>(model::ConsentThing::wellness)) return std::nullopt;
  return model::Consent{.id = id,
                        .thing = static_cast<model::ConsentThing>(*thing),
                        .given = own_mark(record, consent_tag::given),
                        .from = read_enum(own_number(record, consent_tag::by), model::ConsentBy::young_person, model::ConsentBy::unsaid),
                        .day = own_day(record, consent_tag::day),
                        .by = writer_of(*record.created)};
}

std::optional<model::BodyMass> read_body_mass(const model::RecordId& id, const Record& record) {
  const auto mass = first_value<model::Quantity>(record, body_mass_tag::mass, to_quantity);
  if (!mass || (mass->unit != model::Unit::kg && mass->unit != model::Unit::lb)) return std::nullopt;
  return model::BodyMass{.id = id,
                         .mass = *mass,
                         .day = standing_day(record, body_mass_tag::day),
                         .coarse = marks(record, body_mass_tag::coarse).any_yes,
                         .by = writer_of(*record.created)};
}

std::optional<model::Illness> read_illness(const model::RecordId& id, const Record& record) {
  using model::IllnessState;
  return model::Illness{.id = id,
                        .state = read_enum(standing_number(record, illness_tag::state), IllnessState::fever_or_below_neck,
                                           IllnessState::fever_or_below_neck),
                        .day = standing_day(record, illness_tag::day),
                        .ended_local_ms = first_value<std::int64_t>(record, illness_tag::ended_local_ms, to_signed_ms),
                        .by = writer_of(*record.created)};
}

// Withdrawn before none before sound before loaded; of two equal the one seen earlier, which ends earlier.
int rank(model::SignOffLevel level) {
  switch (level) {
    case model::SignOffLevel::withdrawn: return 0;
    case model::SignOffLevel::none: return 1;
    case model::SignOffLevel::sound: return 2;
    case model::SignOffLevel::loaded: return 3;
  }
  return 0;
}
bool more_careful(const model::SignOff& a, const model::SignOff& b) {
  return std::make_pair(rank(a.level), a.day.since_1970) < std::make_pair(rank(b.level), b.day.since_1970);
}
bool more_careful(const model::Consent& a, const model::Consent& b) {
  return std::make_pair(a.given, a.day.since_1970) < std::make_pair(b.given, b.day.since_1970);
}

// One of each thing: the most careful of those that stand.
template <class Noun, class Same>
std::vector<Noun> counting(const std::vector<Told<Noun>>& all, Same same) {
  std::vector<Noun> out;
  for (Noun& noun : standing(all, same)) {
    const auto other = std::find_if(out.begin(), out.end(), [&](const Noun& one) { return same(one, noun); });
    if (other == out.end()) {
      out.push_back(std::move(noun));
    } else if (more_careful(noun, *other)) {
      *other = std::move(noun);
    }
  }
  return out;
}

template <class Noun>
void sort_by_day(std::vector<Noun>& all) {
  std::stable_sort(all.begin(), all.end(), [](const Noun& a, const Noun& b) { return a.day < b.day; });
}

bool same_exercise(const model::SignOff& a, const model::SignOff& b) { return a.exercise == b.exercise; }
bool same_thing(const model::Consent& a, const model::Consent& b) { return a.thing == b.thing; }

}  // namespace

std::vector<model::RecordId> standing_sign_offs(const Fold& fold, std::string_view exercise) {
  std::vector<model::RecordId> ids;
  for (const model::SignOff& one : standing(told<model::SignOff>(fold, kind::sign_off, read_sign_off), same_exercise))
    if (one.exercise == exercise) ids.push_back(one.id);
  return ids;
}

std::vector<model::RecordId> standing_consents(const Fold& fold, model::ConsentThing thing) {
  std::vector<model::RecordId> ids;
  for (const model::Consent& one : standing(told<model::Consent>(fold, kind::consent, read_consent), same_thing))
    if (one.thing == thing) ids.push_back(one.id);
  return ids;
}

void read_facts(const Fold& fold, model::Athlete& athlete) {
  const auto same_day = [](const auto& a, const auto& b) { return a.day == b.day; };
  for (const auto& id : fold.of_kind(kind::pain)) athlete.pains.push_back(read_pain(id, *fold.find(id)));
  athlete.soreness = standing(told<model::Soreness>(fold, kind::soreness, read_soreness), [](const auto& a, const auto& b) {
    return a.day == b.day && a.region == b.region;
  });
  athlete.checks = nouns_of(told<model::Check>(fold, kind::check, read_check));
  athlete.red_flags = nouns_of(told<model::RedFlag>(fold, kind::red_flag, read_red_flag));
  athlete.clearances = nouns_of(told<model::Clearance>(fold, kind::clearance, read_clearance));
  athlete.tick_ins = nouns_of(told<model::TickIn>(fold, kind::tick_in, read_tick_in));

  const auto sign_offs = told<model::SignOff>(fold, kind::sign_off, read_sign_off);
  athlete.counting_sign_offs = counting(sign_offs, same_exercise);
  athlete.sign_offs = nouns_of(sign_offs);
  const auto consents = told<model::Consent>(fold, kind::consent, read_consent);
  athlete.counting_consents = counting(consents, same_thing);
  athlete.consents = nouns_of(consents);

  athlete.body_masses = standing(told<model::BodyMass>(fold, kind::body_mass, read_body_mass), same_day);
  sort_by_day(athlete.body_masses);
  athlete.illnesses = standing(told<model::Illness>(fold, kind::illness, read_illness), same_day);
  sort_by_day(athlete.illnesses);
}

}  // namespace slipway::ops
