#include "kit/history.h"

#include <algorithm>
#include <set>

#include "ops/registry.h"
#include "ops/views.h"

namespace slipway::kit {

namespace {

namespace kind = ops::kind;

constexpr std::int64_t kYearMs = std::int64_t{366} * 86'400'000;
constexpr std::size_t kMostPlaces = 6;

// The name that settles the order of two deeds with one count: incarnation, seq, hash.
std::string drawing_name(const model::OpKey& key) {
  std::string name(model::as_text(key.inc.view()));
  for (int shift = 56; shift >= 0; shift -= 8) name.push_back(static_cast<char>((key.seq >> shift) & 0xFFU));
  return name + std::string(model::as_text(key.hash.view()));
}

// Fields of a record that anybody may try to write over: of kinds that are never edited too.
const std::vector<std::uint32_t>& changeable(std::uint32_t record_kind) {
  static const std::map<std::uint32_t, std::vector<std::uint32_t>> tags{
      {kind::prescription, {ops::prescription_tag::sets, ops::prescription_tag::reps, ops::prescription_tag::load, ops::prescription_tag::rir}},
      {kind::session, {ops::session_tag::training_day, ops::session_tag::title}},
      {kind::set, {ops::set_tag::reps, ops::set_tag::load, ops::set_tag::rir, ops::set_tag::form_broke}},
      {kind::pain, {ops::pain_tag::band, ops::pain_tag::amount, ops::pain_tag::settled}},
      {kind::programme, {ops::programme_tag::weeks, ops::programme_tag::days_a_week}},
      {kind::soreness, {ops::soreness_tag::level}},
      {kind::red_flag, {ops::red_flag_tag::group}},
      {kind::clearance, {ops::clearance_tag::role}},
      {kind::sign_off, {ops::sign_off_tag::level, ops::sign_off_tag::day}},
      {kind::tick_in, {ops::tick_in_tag::role}},
      {kind::consent, {ops::consent_tag::given, ops::consent_tag::day}},
      {kind::member, {ops::member_tag::word}},
      {kind::preference, {ops::preference_tag::value}},
      {kind::note, {ops::note_tag::text}},
  };
  return tags.at(record_kind);
}

Values some_values(Dice& dice, std::uint32_t record_kind) {
  std::vector<std::uint32_t> tags = changeable(record_kind);
  dice.shuffle(tags);
  tags.resize(1 + dice.below(tags.size()));
  Values values;
  for (std::uint32_t tag : tags) values.emplace_back(tag, dice.between(1, 4));  // few, so that equal values meet
  return values;
}

std::string line(const model::RecordId& id, const ops::Record& record, const std::map<model::OpKey, int>& numbers) {
  std::string text = std::to_string(record.kind) + " #" + std::to_string(numbers.at(id));
  text += record.taken_back() ? " taken back" : record.revived() ? " revived" : " stands";
  for (const std::uint32_t tag : record.tags()) {
    const std::vector<ops::Written> visible = record.visible(tag);
    if (!visible.empty() && visible.front().wire == ops::Wire::refs) continue;  // where it belongs is no value
    text += " " + std::to_string(tag) + "=";
    for (std::size_t i = 0; i < visible.size(); ++i) text += (i > 0 ? "|" : "") + std::to_string(value_of(tag, visible[i]));
  }
  std::set<std::uint64_t> hows;
  for (const auto& [key, ending] : record.acts->endings) hows.insert(ending.how);
  std::string endings;
  for (std::uint64_t how : hows) endings += (endings.empty() ? " ended=" : ",") + std::to_string(how);
  return text + endings + "\n";
}

// How often each act comes up, of the sum of all.
constexpr std::array<std::size_t, kActs> kWeights{
    4, 16, 8, 4, 3, 8, 5, 6, 4, 3, 3, 8, 4, 3,  // begin_session … write_note
    14, 6, 10, 5, 6, 3,                         // change … write_unknown
    12, 16, 3, 3, 3, 2, 1, 4, 2,  // make_letter … start_again
};

Act some_act(Dice& dice) {
  std::size_t sum = 0;
  for (std::size_t weight : kWeights) sum += weight;
  std::size_t left = dice.below(sum);
  std::size_t act = 0;
  while (left >= kWeights[act]) left -= kWeights[act++];
  return static_cast<Act>(act);
}

}  // namespace

History::History(std::uint64_t seed) : dice_(seed) {
  const std::size_t count = 2 + dice_.below(kMostPlaces - 1);
  for (std::size_t i = 0; i < count; ++i) {
    const ops::StreamId stream{stream_named('s', 'x').scope, fresh_inc()};
    places_.push_back({Device(stream, dice_.next()), {}, {}});
    turn_clock(places_.back());
  }
}

model::IncarnationId History::fresh_inc() {
  model::IncarnationId inc;
  FixedRandom(dice_.next()).fill(inc.bytes);
  return inc;
}

void History::run() {
  const std::size_t steps = 5 + dice_.below(76);
  for (std::size_t i = 0; i < steps; ++i) step();
}

void History::step() {
  const Act chosen = some_act(dice_);
  if (act(chosen, places_[dice_.below(places_.size())])) ++times_[static_cast<std::size_t>(chosen)];
}

bool History::act(Act act, Place& at) {
  switch (act) {
    case Act::begin_session: begin(at, kind::session, {{ops::session_tag::training_day, dice_.between(-2, 2)}}); return true;
    case Act::log_set: begin(at, kind::set, {{ops::set_tag::round, 1}, {ops::set_tag::reps, dice_.between(1, 4)}, {ops::set_tag::load, 22}}); return true;
    case Act::report_pain: begin(at, kind::pain, {{ops::pain_tag::band, dice_.between(1, 3)}}); return true;
    case Act::write_plan: begin(at, kind::prescription, some_values(dice_, kind::prescription)); return true;
    case Act::raise_flag:
      begin(at, kind::red_flag, {{ops::red_flag_tag::flag, 1}, {ops::red_flag_tag::group, dice_.between(1, 3)}});
      return true;
    case Act::sign_off:
      say(at, kind::sign_off, {{ops::sign_off_tag::exercise, dice_.between(1, 2)}, {ops::sign_off_tag::level, dice_.between(0, 3)},
                               {ops::sign_off_tag::day, dice_.between(1, 3)}}, 1);
      return true;
    case Act::consent:
      say(at, kind::consent, {{ops::consent_tag::thing, dice_.between(1, 2)}, {ops::consent_tag::given, dice_.between(0, 1)},
                              {ops::consent_tag::day, dice_.between(1, 3)}}, 1);
      return true;
    case Act::say_sore:
      say(at, kind::soreness, {{ops::soreness_tag::region, dice_.between(1, 2)}, {ops::soreness_tag::training_day, dice_.between(1, 2)},
                               {ops::soreness_tag::level, dice_.between(0, 3)}}, 2);
      return true;
    case Act::tick_in:
      return belonging(at, kind::tick_in, ops::tick_in_tag::session, kind::session, {{ops::tick_in_tag::role, dice_.between(1, 3)}});
    case Act::clear:
      return belonging(at, kind::clearance, ops::clearance_tag::reports, kind::red_flag, {{ops::clearance_tag::role, dice_.between(1, 3)}});
    case Act::set_programme: say(at, kind::programme, {{ops::programme_tag::weeks, dice_.between(1, 4)}}, 0); return true;
    case Act::add_word:
      begin(at, kind::member, {{ops::member_tag::list, 1}, {ops::member_tag::word, dice_.between(1, 3)}});
      return true;
    case Act::prefer:
      begin(at, kind::preference, {{ops::preference_tag::name, dice_.between(1, 2)}, {ops::preference_tag::value, dice_.between(1, 4)}});
      return true;
    case Act::write_note: begin(at, kind::note, {{ops::note_tag::text, dice_.between(1, 4)}}); return true;
    case Act::keep_it: return keep_it(at);
    case Act::change: return change(at, true);
    case Act::change_unseen: return change(at, false);
    case Act::take_back: return take_back(at);
    case Act::end_pain: return end_pain(at);
    case Act::write_unknown: write_unknown(at); return true;
    case Act::make_letter: make_letter(at); return true;
    case Act::read_letter: return read_letter(at);
    case Act::lose_letter:
      if (letters_.empty()) return false;
      letters_.erase(letters_.begin() + static_cast<std::ptrdiff_t>(dice_.below(letters_.size())));
      return true;
    case Act::back_up: at.backup = Backup{at.device, at.hand}; return true;
    case Act::restore: return restore(at);
    case Act::clone: return clone(at);
    case Act::wipe: wipe(at); return true;
    case Act::turn_clock: turn_clock(at); return true;
    case Act::start_again: at.device.reopen(dice_.next()); return true;
  }
  return false;
}

void History::keep(Place& at, const model::OpKey& key, Deed deed) {
  deed.count = 1 + model_.highest_count(at.hand);
  deed.name = drawing_name(key);
  const int number = model_.add(std::move(deed));
  keys_.push_back(key);
  numbers_[key] = number;
  at.hand.insert(number);
}

void History::begin(Place& at, std::uint32_t record_kind, const Values& values) {
  const model::OpKey key = at.device.begin(record_kind, values);
  keep(at, key, {.what = Deed::What::begin, .kind = record_kind, .says = {values.begin(), values.end()}});
}

void History::say(Place& at, std::uint32_t record_kind, const Values& values, std::size_t about) {
  const std::map<std::uint32_t, std::int64_t> same{values.begin(), values.begin() + static_cast<std::ptrdiff_t>(about)};
  std::set<int> seen;
  if (!dice_.one_in(3)) seen = model_.facts_seen(at.hand, record_kind, same);
  std::vector<model::OpKey> replaced;
  for (int number : seen) replaced.push_back(record_id(number));
  const model::OpKey key = at.device.begin(record_kind, values, replaced);
  keep(at, key, {.what = Deed::What::begin, .kind = record_kind, .says = {values.begin(), values.end()}, .saw = seen});
}

bool History::belonging(Place& at, std::uint32_t record_kind, std::uint32_t ref_tag, std::uint32_t to_kind, const Values& values) {
  const std::optional<int> to = some_record(at, to_kind);
  if (!to) return false;
  const model::OpKey key = at.device.begin(record_kind, values, {}, {ops::refs_field(ref_tag, {record_id(*to)}, at.device.inc())});
  keep(at, key, {.what = Deed::What::begin, .kind = record_kind, .says = {values.begin(), values.end()}});
  return true;
}

std::optional<int> History::some_record(const Place& at, std::uint32_t record_kind) {
  std::vector<int> all;
  for (int number : at.hand) {
    const Deed& deed = model_.deed(number);
    if (deed.what == Deed::What::begin && (record_kind == 0 || deed.kind == record_kind)) all.push_back(number);
  }
  if (all.empty()) return std::nullopt;
  // Mostly the latest ones: people correct what they have just done, and so do conflicts arise.
  const std::size_t reach = std::min<std::size_t>(all.size(), dice_.one_in(4) ? all.size() : 3);
  return all[all.size() - 1 - dice_.below(reach)];
}

bool History::change(Place& at, bool seen) {
  const std::optional<int> record = some_record(at, 0);
  if (!record) return false;
  const Values values = some_values(dice_, model_.deed(*record).kind);
  Deed deed{.what = Deed::What::change, .record = *record, .says = {values.begin(), values.end()}};
  if (seen)
    for (const auto& [tag, value] : values) deed.saw.merge(model_.writers_seen(at.hand, *record, tag));
  const model::RecordId id = record_id(*record);
  keep(at, seen ? at.device.change(id, values) : at.device.change_unseen(id, values), std::move(deed));
  return true;
}

bool History::take_back(Place& at) {
  const std::optional<int> record = some_record(at, 0);  // pain too: it must not matter
  if (!record) return false;
  Deed deed{.what = Deed::What::take_back, .record = *record, .saw = model_.touches_seen(at.hand, *record)};
  keep(at, at.device.take_back(record_id(*record)), std::move(deed));
  return true;
}

bool History::keep_it(Place& at) {
  std::vector<int> answerable;
  for (int number : at.hand)
    if (model_.deed(number).what == Deed::What::take_back) answerable.push_back(model_.deed(number).record);
  std::vector<int> here;
  for (int record : answerable)
    if (at.hand.count(record) != 0) here.push_back(record);
  if (here.empty()) return false;
  const int record = here[dice_.below(here.size())];
  keep(at, at.device.keep_it(record_id(record)),
       Deed{.what = Deed::What::change, .record = record, .saw = model_.take_backs_seen(at.hand, record)});
  return true;
}

bool History::end_pain(Place& at) {
  const std::optional<int> record = some_record(at, kind::pain);
  if (!record) return false;
  const std::uint64_t how = 1 + dice_.below(2);
  keep(at, at.device.end_pain(record_id(*record), how), {.what = Deed::What::end_pain, .record = *record, .how = how});
  return true;
}

void History::write_unknown(Place& at) {
  const std::uint32_t newer_kind = 1000 + static_cast<std::uint32_t>(dice_.below(2));  // 1001 is critical
  keep(at, at.device.write(newer_kind, {ops::unsigned_field(40, dice_.below(9))}), {.what = Deed::What::unknown});
}

// The whole log, or a part: some ops left out at random, as a list of ranges would.
void History::make_letter(const Place& at) {
  Letter letter;
  const bool whole = dice_.one_in(2);
  const std::size_t rare = 2 + dice_.below(4);
  for (const ops::ChainedOp& op : at.device.ops())
    if (whole || !dice_.one_in(rare)) letter.push_back(op);
  if (!letter.empty()) letters_.push_back(through_the_door(std::move(letter)));
}

// Read once or twice, backwards or shuffled, by anybody, soon or late; it stays under way
// for others.
bool History::read_letter(Place& at) {
  if (letters_.empty()) return false;
  Letter letter = dice_.pick(letters_);
  if (dice_.one_in(3)) std::reverse(letter.begin(), letter.end());
  if (dice_.one_in(3)) dice_.shuffle(letter);
  take_in(at, letter);
  if (dice_.one_in(4)) take_in(at, letter);
  return true;
}

void History::take_in(Place& at, const Letter& letter) {
  bool met_itself = false;
  for (const ops::ChainedOp& op : letter) {
    const bool known = at.hand.count(numbers_.at(op.key())) != 0;
    met_itself = met_itself || (!known && op.stream.inc == at.device.inc());
    at.hand.insert(numbers_.at(op.key()));
  }
  at.device.take_in(letter);
  // Own ops it did not hold: the device was set back. Half of them notice; the others go on
  // and fork, which must do no harm either.
  if (met_itself && dice_.one_in(2)) become_another(at);
}

bool History::restore(Place& at) {
  if (!at.backup) return false;
  const Backup backup = *at.backup;
  at.device = backup.device;
  at.hand = backup.hand;
  if (dice_.one_in(3)) {
    become_another(at);
  } else {
    at.device.reopen(dice_.next());  // nobody noticed
  }
  return true;
}

bool History::clone(const Place& at) {
  if (places_.size() == kMostPlaces) return false;
  Place twin = at;
  twin.device.reopen(dice_.next());
  places_.push_back(std::move(twin));
  return true;
}

void History::become_another(Place& at) {
  const model::IncarnationId inc = fresh_inc();  // drawn first: the order of arguments is nobody's promise
  at.device.become(inc, dice_.next());
}

void History::wipe(Place& at) {
  const ops::StreamId stream{at.device.stream().scope, fresh_inc()};
  at = Place{Device(stream, dice_.next()), {}, {}};
}

void History::turn_clock(Place& at) { at.device.clock().set_wrong_by(dice_.between(-50 * kYearMs, 50 * kYearMs)); }

void History::exchange_all() {
  for (const Letter& letter : letters_) take_in(places_[dice_.below(places_.size())], letter);
  for (int round = 0; round < 2; ++round)
    for (const Place& from : places_) {
      const Letter whole = through_the_door(from.device.ops());
      for (Place& to : places_)
        if (&to != &from) take_in(to, whole);
    }
}

std::string History::view(std::size_t place) const {
  const ops::Fold& fold = places_[place].device.fold();
  std::string text;
  for (std::uint32_t one : {kind::athlete, kind::kit, kind::prescription, kind::session, kind::set, kind::pain, kind::programme, kind::soreness,
                            kind::red_flag, kind::clearance, kind::sign_off, kind::tick_in, kind::consent, kind::note, kind::member, kind::preference})
    for (const model::RecordId& id : fold.of_kind(one)) text += line(id, *fold.find(id), numbers_);
  return text + "unknown " + std::to_string(fold.not_understood().size()) + "\n";
}

std::string History::expected(std::size_t place) const { return model_.view(places_[place].hand); }

std::string History::expected_counting(std::size_t place) const { return model_.counting(places_[place].hand); }

std::string History::counting(std::size_t place) const {
  const model::Athlete athlete = ops::read_athlete(places_[place].device.fold());
  const auto name = [&](const model::RecordId& id) { return " #" + std::to_string(numbers_.at(id)); };
  const auto day = [](model::Day on) { return std::to_string(on.since_1970); };
  std::string text;
  for (const char* exercise : {"1", "2"})
    if (const model::SignOff* one = model::counting_sign_off(athlete, exercise))
      text += std::string("form ") + exercise + ": " + std::to_string(static_cast<int>(one->level)) + " on " + day(one->day) + "\n";
  for (const model::ConsentThing thing : {model::ConsentThing::training_log, model::ConsentThing::pain_and_soreness})
    for (const model::Consent& one : athlete.counting_consents)
      if (one.thing == thing)
        text += "may " + std::to_string(static_cast<int>(thing)) + ": " + (one.given ? "1" : "0") + " on " + day(one.day) + "\n";
  for (const char* region : {"1", "2"})
    for (std::int32_t on : {1, 2}) {
      std::string answers;
      for (const model::Soreness& one : athlete.soreness)
        if (one.region == region && one.day == model::Day{on}) answers += name(one.id) + "=" + std::to_string(one.level);
      if (!answers.empty()) text += std::string("sore ") + region + " on " + std::to_string(on) + ":" + answers + "\n";
    }
  for (const model::TickIn& one : athlete.tick_ins) text += "ticked" + name(one.id) + (one.withdrawn ? " withdrawn\n" : "\n");
  for (const model::RedFlag& one : athlete.red_flags) text += "flag" + name(one.id) + "=" + std::to_string(static_cast<int>(one.group)) + "\n";
  for (const model::Clearance& one : athlete.clearances) text += "cleared" + name(one.id) + (one.withdrawn ? " withdrawn\n" : "\n");
  for (const auto& [word, records] : ops::standing_words(places_[place].device.fold(), "1")) text += "word " + word + "\n";
  for (const model::Preference& one : athlete.preferences) text += "prefers " + one.name + "=" + one.value + "\n";
  if (!athlete.programme.empty()) text += "programme";
  for (const auto& one : athlete.programme.all) text += name(one.value.id);
  return text + "\n";
}

Toll History::toll() const {
  Toll toll;
  toll.acknowledged = model_.size();
  OpModel::Hand left;
  for (const Place& place : places_) left.insert(place.hand.begin(), place.hand.end());
  toll.gone = toll.acknowledged - left.size();
  for (const Place& place : places_) {
    std::set<model::OpKey> keys;
    for (const ops::ChainedOp& op : place.device.ops()) {
      if (numbers_.count(op.key()) == 0) ++toll.unexpected;
      if (!keys.insert(op.key()).second) ++toll.duplicated;
    }
    if (place.device.held().op_count() != keys.size()) ++toll.duplicated;
    std::set<model::OpKey> shown;
    const model::Athlete athlete = ops::read_athlete(place.device.fold());
    for (const model::Pain& pain : athlete.pains) shown.insert(pain.id);
    for (const model::RedFlag& flag : athlete.red_flags) shown.insert(flag.id);
    for (int number : left) {
      const model::OpKey& key = keys_[static_cast<std::size_t>(number)];
      if (keys.count(key) == 0) ++toll.lost;
      const Deed& deed = model_.deed(number);
      const bool report = deed.what == Deed::What::begin && (deed.kind == kind::pain || deed.kind == kind::red_flag);
      if (report && shown.count(key) == 0) ++toll.pain_hidden;
    }
  }
  return toll;
}

std::vector<std::vector<ops::ChainedOp>> three_streams(std::uint64_t seed, std::size_t rounds) {
  Dice dice(seed);
  std::vector<Device> devices;
  for (char name : {'a', 'b', 'c'}) devices.emplace_back(stream_named('s', name), dice.next());
  std::vector<model::RecordId> records{devices[0].begin(kind::prescription, {{ops::prescription_tag::reps, 8}}),
                                       devices[0].begin(kind::pain, {{ops::pain_tag::band, 2}})};
  for (Device& device : devices) device.take_in(devices[0].ops());
  for (std::size_t i = 0; i < rounds; ++i) {
    Device& device = devices[dice.below(3)];
    const model::RecordId record = dice.pick(records);
    const ops::Record* found = device.fold().find(record);
    const bool here = found != nullptr && found->created.has_value();
    switch (dice.below(7)) {
      case 0: records.push_back(device.begin(kind::set, {{ops::set_tag::reps, dice.between(1, 4)}})); break;
      case 6: {  // a sign-off that names another record, here or not, or a red flag
        const std::vector<model::OpKey> replaced = dice.one_in(2) ? std::vector<model::OpKey>{record} : std::vector<model::OpKey>{};
        if (dice.one_in(3)) {
          records.push_back(device.begin(kind::red_flag, {{ops::red_flag_tag::group, dice.between(1, 3)}}));
        } else {
          records.push_back(device.begin(kind::sign_off, {{ops::sign_off_tag::exercise, 1}, {ops::sign_off_tag::level, dice.between(1, 3)}}, replaced));
        }
        break;
      }
      case 1:
      case 2:
        if (here) device.change(record, some_values(dice, found->kind));
        break;
      case 3:
        if (here) device.take_back(record);
        break;
      case 4:
        if (here && found->kind == kind::pain) device.end_pain(record, 1 + dice.below(2));
        break;
      default: device.take_in(devices[dice.below(3)].ops()); break;
    }
  }
  std::vector<std::vector<ops::ChainedOp>> streams(3);
  for (std::size_t i = 0; i < 3; ++i)
    for (const ops::ChainedOp& op : devices[i].ops())
      if (op.stream == devices[i].stream()) streams[i].push_back(op);
  return streams;
}

}  // namespace slipway::kit
