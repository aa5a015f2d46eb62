#include "kit/club.h"

#include <algorithm>
#include <map>
#include <tuple>

#include "model/units.h"
#include "ops/pen.h"
#include "ops/registry.h"
#include "ops/views.h"

namespace slipway::kit {

namespace {

constexpr std::uint64_t kSeasons = 4, kWeeks = 44, kDays = 3, kExercises = 24;
constexpr std::int64_t kFirstMs = 1'662'336'000'000, kDayMs = 86'400'000, kHourMs = 3'600'000;

const std::array<std::string, kExercises> kNames = {"SQ1", "SQ2", "SQ3", "SQ4", "HI1", "HI2", "HI3", "HI4", "PU1", "PU2", "PU3", "PU4",
                                                    "RO1", "RO2", "RO3", "RO4", "PR1", "PR2", "PR3", "PR4", "CO1", "CO2", "CO3", "CO4"};
constexpr std::array<std::string_view, 32> kWords = {"felt",   "heavy",  "light", "left",  "right",  "shoulder", "knee", "fine",
                                                     "slow",   "fast",   "good",  "tired", "early",  "late",     "grip", "form",
                                                     "depth",  "pause",  "tempo", "again", "more",   "less",     "hard", "smooth",
                                                     "steady", "breath", "warm",  "cold",  "better", "worse",    "next", "time"};

std::int64_t ms(std::uint64_t value) { return static_cast<std::int64_t>(value); }

std::uint64_t draw_value(Dice& dice, ClubField field) {
  switch (field) {
    case ClubField::reps:
      return 3 + dice.below(10);
    case ClubField::load:
      return 10'000 + 2'500 * dice.below(40);
    case ClubField::rir:
      break;
  }
  return dice.below(5);
}

void draw_edits(Dice& dice, ClubAthlete& athlete, std::uint64_t device, std::size_t set, std::int64_t done_ms) {
  const std::uint64_t x = dice.below(400);
  if (x < 8) {
    ClubEdit edit{set, (device + 1 + dice.below(2)) % kClubDevices, static_cast<ClubField>(dice.below(3)), 0, 0};
    edit.value = draw_value(dice, edit.field);
    edit.at_ms = done_ms + kHourMs + ms(dice.next() % kDayMs);
    athlete.edits.push_back(edit);
    if (dice.below(2) == 1) {
      ClubEdit first{set, device, static_cast<ClubField>(dice.below(3)), 0, 0};
      first.value = draw_value(dice, first.field);
      first.at_ms = done_ms + kHourMs + ms(dice.next() % kDayMs);
      athlete.edits.push_back(first);
      ++athlete.pairs_at_once;
    }
  } else if (x < 10) {
    const std::uint64_t other = (device + 1 + dice.below(2)) % kClubDevices;
    athlete.removals.push_back({set, other, done_ms + kHourMs + ms(dice.next() % kDayMs)});
  }
}

// `everyday`: ten sets on the first device, whatever was drawn.
void draw_session(Dice& dice, ClubAthlete& athlete, std::uint64_t season, std::uint64_t week, std::uint64_t day, bool everyday) {
  const std::uint64_t a = athlete.number;
  const std::uint64_t drawn_device = dice.below(3), drawn_sets = 8 + dice.below(5);
  const std::uint64_t device = everyday ? 0 : drawn_device, n = everyday ? 10 : drawn_sets;
  std::uint64_t exercises[3];
  for (std::uint64_t& exercise : exercises) exercise = dice.below(kExercises);
  const std::uint64_t hour = 16 + dice.below(3), minute = dice.below(60);
  std::int64_t t = kFirstMs + ms(season * 52 + week) * 7 * kDayMs + ms(day) * 2 * kDayMs + ms(hour) * kHourMs + ms(minute) * 60'000;
  const std::uint64_t id = ((a * kSeasons + season) * kWeeks + week) * kDays + day;
  athlete.sessions.push_back({id, season * 52 + week, device, t});
  for (std::uint64_t k = 0; k < n; ++k) {
    ClubSet set;
    set.record = id * 16 + k;
    set.session = athlete.sessions.size() - 1;
    set.number = k + 1;
    set.exercise = exercises[k * 3 / n];
    set.reps = 3 + dice.below(10);
    set.load_g = 10'000 + set.exercise * 2'500 + (a % 10) * 2'500 + season * 2'500 + dice.below(5) * 2'500;
    if (dice.below(20) == 0) set.load_g += 500 * dice.below(5);
    set.rir = dice.below(5);
    set.rest_s = 60 + 15 * dice.below(9);
    if (dice.below(50) == 0)
      for (std::uint64_t left = 3 + dice.below(4); left > 0; --left) {
        if (!set.note.empty()) set.note += ' ';
        set.note += kWords[dice.below(kWords.size())];
      }
    t += ms(30 + set.rest_s) * 1000 + ms(dice.below(15'000));
    set.done_ms = t;
    athlete.sets.push_back(set);
    draw_edits(dice, athlete, device, athlete.sets.size() - 1, t);
  }
}

}  // namespace

const std::string& club_exercise(std::uint64_t exercise) { return kNames[static_cast<std::size_t>(exercise)]; }

ClubAthlete Club::next() {
  ClubAthlete athlete;
  athlete.number = athlete_++;
  for (std::uint64_t season = 0; season < kSeasons; ++season)
    for (std::uint64_t week = 0; week < kWeeks; ++week)
      for (std::uint64_t day = 0; day < kDays; ++day) draw_session(dice_, athlete, season, week, day, false);
  return athlete;
}

ClubAthlete club_week() {
  Dice dice(0x536C697077617931ULL ^ 0xDA11);
  ClubAthlete athlete;
  for (std::uint64_t day = 0; day < kDays; ++day) draw_session(dice, athlete, kSeasons - 1, kWeeks, day, true);
  athlete.edits.clear();
  athlete.removals.clear();
  athlete.pairs_at_once = 0;
  return athlete;
}

void ClubAnswer::add(const ClubAthlete& athlete) {
  std::vector<ClubSet> sets = athlete.sets;
  std::map<std::pair<std::size_t, ClubField>, std::int64_t> newest;
  for (const ClubEdit& edit : athlete.edits) {
    std::int64_t& at = newest[{edit.set, edit.field}];
    if (at > edit.at_ms) continue;
    at = edit.at_ms;
    ClubSet& set = sets[edit.set];
    (edit.field == ClubField::reps ? set.reps : edit.field == ClubField::load ? set.load_g : set.rir) = edit.value;
  }
  std::vector<bool> gone(sets.size());
  for (const ClubRemoval& removal : athlete.removals) gone[removal.set] = true;
  std::map<std::pair<std::uint64_t, std::uint64_t>, std::uint64_t> best_of;
  for (std::size_t i = 0; i < sets.size(); ++i) {
    if (gone[i]) continue;
    std::uint64_t& top = best_of[{sets[i].exercise, athlete.sessions[sets[i].session].week}];
    top = std::max(top, sets[i].load_g * (30 + sets[i].reps));
    grams += sets[i].load_g * sets[i].reps;
  }
  groups += best_of.size();
  for (const auto& [group, top] : best_of) best += top;
}

namespace {

template <class Id>
Id id_drawn(Dice& dice) {
  Id id;
  for (std::uint8_t& byte : id.bytes) byte = static_cast<std::uint8_t>(dice.next() >> 56);
  return id;
}

struct Event {  // in the order in which a device writes
  std::int64_t at_ms = 0;
  enum What : std::uint8_t { session, set, edit, removal } what = session;
  std::size_t place = 0;
};

}  // namespace

ClubPens::ClubPens(std::uint64_t athlete) : random_(0x70656E73 + athlete) {
  Dice dice(0x69647300 + athlete);
  scope_ = id_drawn<model::ScopeId>(dice);
  for (std::size_t device = 0; device < kClubDevices; ++device) {
    streams_[device] = {scope_, id_drawn<model::IncarnationId>(dice)};
    last_hash_[device] = ops::genesis(streams_[device]);
    pens_.emplace_back(streams_[device], 0, last_hash_[device]);
  }
}

const ops::ChainedOp& ClubPens::put(std::uint64_t device, std::uint32_t kind, std::vector<ops::Field> fields, std::int64_t at_ms) {
  const auto d = static_cast<std::size_t>(device);
  if (last_seq_[d] == 0 || at_ms - written_ms_[d] > 3 * kHourMs) {
    pens_[d] = ops::Pen(streams_[d], last_seq_[d], last_hash_[d]);
    opened_ms_[d] = at_ms;
    ++openings_;
  }
  written_ms_[d] = at_ms;
  const ops::Signature signature{1, {at_ms, 60, static_cast<std::uint64_t>((at_ms - opened_ms_[d]) / 60'000)}};
  ops_[d].push_back(pens_[d].write(kind, std::move(fields), signature, lam_, random_));
  const ops::ChainedOp& written = ops_[d].back();
  lam_ = written.op.lam;
  last_seq_[d] = written.seq;
  last_hash_[d] = written.hash;
  return written;
}

void ClubPens::write(const ClubAthlete& athlete) {
  std::vector<Event> events;
  for (std::size_t i = 0; i < athlete.sessions.size(); ++i) events.push_back({athlete.sessions[i].start_ms, Event::session, i});
  for (std::size_t i = 0; i < athlete.sets.size(); ++i) events.push_back({athlete.sets[i].done_ms, Event::set, i});
  for (std::size_t i = 0; i < athlete.edits.size(); ++i) events.push_back({athlete.edits[i].at_ms, Event::edit, i});
  for (std::size_t i = 0; i < athlete.removals.size(); ++i) events.push_back({athlete.removals[i].at_ms, Event::removal, i});
  std::stable_sort(events.begin(), events.end(), [](const Event& a, const Event& b) { return a.at_ms < b.at_ms; });

  std::vector<model::OpKey> session_keys(athlete.sessions.size()), set_keys(athlete.sets.size());
  std::map<std::pair<std::size_t, std::uint64_t>, std::uint64_t> rounds;
  const auto acting_on = [&](std::size_t set, std::uint64_t device) {
    const model::IncarnationId& home = streams_[static_cast<std::size_t>(device)].inc;
    return std::vector<ops::Field>{ops::refs_field(ops::tag::target, {set_keys[set]}, home),
                                   ops::refs_field(ops::tag::saw, {set_keys[set]}, home)};
  };
  const auto load = [](std::uint64_t grams) { return ops::quantity_field(ops::set_tag::load, model::kilograms_from_grams(ms(grams))); };
  for (const Event& event : events) switch (event.what) {
      case Event::session: {
        const ClubSession& session = athlete.sessions[event.place];
        session_keys[event.place] =
            put(session.device, ops::kind::session, {ops::signed_field(ops::session_tag::training_day, event.at_ms / kDayMs)}, event.at_ms)
                .key();
        break;
      }
      case Event::set: {
        namespace tag = ops::set_tag;
        const ClubSet& set = athlete.sets[event.place];
        const std::uint64_t device = athlete.sessions[set.session].device;
        std::vector<ops::Field> fields{
            ops::refs_field(tag::session, {session_keys[set.session]}, streams_[static_cast<std::size_t>(device)].inc),
            ops::text_field(tag::exercise, club_exercise(set.exercise)),
            ops::unsigned_field(tag::round, ++rounds[{set.session, set.exercise}]),
            ops::unsigned_field(tag::reps, set.reps),
            load(set.load_g),
            ops::unsigned_field(tag::rir, set.rir),
            ops::unsigned_field(tag::rest_ms, set.rest_s * 1000)};
        if (!set.note.empty()) fields.push_back(ops::text_field(tag::note, set.note));
        set_keys[event.place] = put(device, ops::kind::set, std::move(fields), event.at_ms).key();
        break;
      }
      case Event::edit: {
        const ClubEdit& edit = athlete.edits[event.place];
        std::vector<ops::Field> fields = acting_on(edit.set, edit.device);
        switch (edit.field) {
          case ClubField::reps:
            fields.push_back(ops::unsigned_field(ops::set_tag::reps, edit.value));
            break;
          case ClubField::load:
            fields.push_back(load(edit.value));
            break;
          case ClubField::rir:
            fields.push_back(ops::unsigned_field(ops::set_tag::rir, edit.value));
            break;
        }
        put(edit.device, ops::kind::change, std::move(fields), event.at_ms);
        break;
      }
      case Event::removal: {
        const ClubRemoval& removal = athlete.removals[event.place];
        put(removal.device, ops::kind::take_back, acting_on(removal.set, removal.device), event.at_ms);
        break;
      }
    }
}

}  // namespace slipway::kit
