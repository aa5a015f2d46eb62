#include "app/demo.h"

#include <algorithm>
#include <array>

#include "app/book.h"
#include "app/day_plan.h"
#include "model/assets.h"
#include "model/table.h"
#include "store/forgetting_files.h"

namespace slipway::app {

namespace {

constexpr std::int64_t kDayMs = 86'400'000;
constexpr std::int32_t kDays = 42;            // six weeks of history
constexpr std::int32_t kGoneDays = 13;        // who stopped coming, last came about so long ago
constexpr std::int64_t kEveningMs = (17 * 60 + 30) * 60'000;  // 17:30, and the next swimmer a few minutes later
constexpr std::int64_t kBetweenSwimmersMs = 7 * 60'000;
constexpr std::int64_t kSetMs = 105'000;      // a set and its rest in a circuit
constexpr std::int32_t kUtcOffsetMin = 60;

// splitmix64, as in the speed page's generator.
class DemoRandom : public host::Random {
 public:
  explicit DemoRandom(std::uint64_t seed) : state_(seed) {}
  std::uint64_t next() {
    state_ += 0x9E3779B97F4A7C15ULL;
    std::uint64_t z = state_;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
    return z ^ (z >> 31);
  }
  std::uint64_t below(std::uint64_t n) { return next() % n; }
  void fill(std::span<std::uint8_t> out) override {
    for (std::uint8_t& byte : out) byte = static_cast<std::uint8_t>(next());
  }

 private:
  std::uint64_t state_;
};

class DemoClock : public host::Clock {
 public:
  model::ClaimedTime now() override { return {local_ms, kUtcOffsetMin, 0}; }
  std::uint64_t monotonic_ms() override { return 0; }
  std::int64_t local_ms = 0;
};

struct Swimmer {
  std::string name, group, kit, story;
  std::uint64_t age = 0, mass_kg = 0, ability = 0;
  bool youth() const { return age < static_cast<std::uint64_t>(model::kAdultAge); }
  bool tells(std::string_view word) const { return story == word; }
};

std::vector<Swimmer> swimmers() {
  std::vector<Swimmer> out;
  const auto table = model::read_table(model::asset("demo.table"));
  if (!table) return out;
  const auto whole = [&](std::size_t row, std::string_view column) {
    return static_cast<std::uint64_t>(std::stoull(table->cell(row, column)));
  };
  for (std::size_t row = 0; row < table->rows.size(); ++row)
    out.push_back({table->cell(row, "name"), table->cell(row, "group"), table->cell(row, "kit"), table->cell(row, "story"), whole(row, "age"),
                   whole(row, "mass_kg"), whole(row, "ability")});
  return out;
}

KitEntry kit_of(const Swimmer& who) {
  const auto kilograms = [](std::initializer_list<std::int64_t> all) {
    std::vector<model::Quantity> loads;
    for (const std::int64_t kg : all) loads.push_back({kg, 0, model::Unit::kg});
    return loads;
  };
  KitEntry kit;
  kit.name = who.kit;
  kit.bands = std::vector<std::string>{"thick", "medium", "thin"};
  kit.equipment = std::vector<std::string>{"dumbbell", "kettlebell", "bar", "low_bar", "band", "bench", "box", "step", "stick", "mat", "wall"};
  if (who.kit == "light") {
    kit.loads = kilograms({1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12});
  } else if (who.kit == "home") {
    kit.loads = kilograms({8, 12, 16});
    kit.bands = std::vector<std::string>{"medium"};
    kit.equipment = std::vector<std::string>{"kettlebell", "band", "bench", "step", "mat", "wall"};
  } else {
    kit.loads = kilograms({2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24, 26, 28, 30, 32, 34, 36, 38, 40});
  }
  return kit;
}

// One squad's history, written through the same verbs as anybody's.
class Story {
 public:
  Story(Book& book, DemoClock& clock, DemoRandom& random, model::Day today) : book_(book), clock_(clock), random_(random), today_(today) {}

  void tell(const Swimmer& who, std::size_t place) {
    who_ = &who;
    place_ = place;
    at(today_.since_1970 - kDays, 0);
    NewAthlete athlete;
    athlete.name = who.name;
    athlete.birth_year = static_cast<std::uint64_t>(std::stoll(model::iso(today_).substr(0, 4))) - who.age - 1;
    athlete.group = who.group;
    athlete.kit = kit_of(who);
    const auto made = book_.add_athlete(athlete, Author::coach);
    if (!must(made)) return;
    scope_ = *made;
    model::BodyMass mass;
    mass.mass = {static_cast<std::int64_t>(who.youth() ? who.mass_kg / 5 * 5 : who.mass_kg), 0, model::Unit::kg};
    mass.coarse = who.youth();
    mass.day = day_;
    must(book_.note_body_mass(scope_, mass, who.youth() ? Author::coach : Author::swimmer));
    if (who.youth()) consent();
    train();
    after();
  }

  const std::optional<model::Error>& wrong() const { return wrong_; }  // the first refusal: a mistake of this story

 private:
  template <class T>
  bool must(const model::Result<T>& done) {
    if (!done && !wrong_) wrong_ = done.error();
    return done.ok();
  }

  void at(std::int32_t day, std::int64_t ms) {
    day_ = {day};
    clock_.local_ms = day * kDayMs + kEveningMs + static_cast<std::int64_t>(place_) * kBetweenSwimmersMs + ms;
  }

  void consent() {
    for (const auto thing : {model::ConsentThing::training_log, model::ConsentThing::pain_and_soreness, model::ConsentThing::body_measures}) {
      model::Consent consent;
      consent.thing = thing;
      consent.given = true;
      consent.from = model::ConsentBy::guardian;
      consent.day = day_;
      must(book_.give_consent(scope_, consent, Author::coach));
    }
  }

  void train() {
    // Two days a week, three and four days apart; who came three days ago is due today.
    const std::int32_t last = today_.since_1970 - (who_->tells("gone") ? kGoneDays : 3 - static_cast<std::int32_t>(place_ % 2));
    std::vector<std::int32_t> days;
    for (std::int32_t day = last, step = 4; day > today_.since_1970 - kDays; day -= step, step = 7 - step) days.insert(days.begin(), day);
    for (std::size_t i = 0; i < days.size(); ++i) session(days[i], i, days.size() - 1 - i);
  }

  void session(std::int32_t day, std::size_t number, std::size_t to_come) {
    at(day, 0);
    const auto begun = book_.begin_session(scope_, day_, next_programme_day(book_.athlete(scope_), day_), {}, Author::swimmer);
    if (!must(begun)) return;
    if (who_->youth()) {
      model::TickIn tick;
      tick.session = *begun;
      tick.role = model::AdultRole::coach;
      tick.second_adult = true;
      tick.day = day_;
      must(book_.tick_in(scope_, tick, Author::coach));
    }
    must(book_.note_check(scope_, day_, *begun, Author::swimmer));
    must(begin_day(book_, scope_, day_, {}, rules::TrainNow::no, Author::swimmer));
    const DayPlan plan = plan_day(book_.athlete(scope_), {.today = day_, .now_ms = clock_.local_ms, .kit = {}, .train_now = {}, .programme_day = {}});
    std::vector<std::pair<std::size_t, std::uint64_t>> sets;  // row and round, in their order; the plan's session lives until the next verb
    for (std::size_t from = 0; from < plan.rows.size();) {
      const std::uint64_t block = plan.rows[from].block;
      std::size_t end = from;
      while (end < plan.rows.size() && plan.rows[end].block == block) ++end;
      for (std::uint64_t round = 1; round <= rounds_of(plan, block); ++round)
        for (std::size_t i = from; i < end; ++i)
          if (plan.rows[i].trains() && round <= plan.rows[i].sets()) sets.emplace_back(i, round);
      from = end;
    }
    const model::Athlete before = book_.athlete(scope_);  // for the kit's own loads
    std::int64_t ms = 0;
    for (const auto& [row, round] : sets) {
      ms += kSetMs;
      at(day, ms);
      set(before, plan.rows[row], round, to_come);
    }
    at(day, ms + kSetMs);
    pain(*begun, to_come, plan.programme_day == 1 ? squat_of(plan) : "");
    model::Finish finish;
    finish.effort_tenths = 10 * (4 + random_.below(3));
    finish.minutes = static_cast<std::uint64_t>(ms / 60'000 + 8);
    must(book_.finish_session(scope_, *begun, finish, Author::swimmer));
    if (who_->youth() && !who_->tells("unsigned") && number == 1) sign_off(plan);
  }

  void set(const model::Athlete& athlete, const PlanRow& row, std::uint64_t round, std::size_t to_come) {
    const WrittenSet written = written_set(athlete, row, round);
    SetEntry entry;
    entry.exercise = row.rung->id;
    entry.round = round;
    entry.reps = std::max(written.reps, written.up_to);
    entry.load = entry.written_load = written.load;
    entry.written_reps = written.reps;
    entry.band = written.band;
    const std::uint64_t fewer = row.rung->is_hold() ? 5 : 1 + random_.below(2);
    if (random_.below(100) >= who_->ability && entry.reps > fewer + 2) entry.reps -= fewer;
    const bool push = row.rung->pattern == model::Pattern::push, squat = row.rung->pattern == model::Pattern::squat;
    if (who_->tells("misses") && push && to_come < 4 && row.decision.dose.lo > 2) entry.reps = row.decision.dose.lo - 2;
    if (who_->tells("heavier") && squat && to_come < 2 && written.load)
      for (const model::Quantity& load : athlete.kits.front().loads)
        if (model::grams(load) > model::grams(*written.load)) {
          entry.load = load;
          break;
        }
    const bool last = round == row.sets();
    if (last && row.decision.dose.ask_rir && !row.rung->is_hold()) entry.rir = row.decision.dose.rir == 0 ? 0 : row.decision.dose.rir - (random_.below(5) == 0 ? 1 : 0);
    if (last && who_->youth() && !row.decision.dose.ask_rir) entry.two_more = random_.below(4) != 0;
    must(book_.log_set(scope_, entry, day_, Author::swimmer));
  }

  static std::string squat_of(const DayPlan& plan) {
    for (const PlanRow& row : plan.rows)
      if (row.trains() && row.rung->pattern == model::Pattern::squat) return row.rung->id;
    return {};
  }

  void pain(const model::RecordId& session, std::size_t to_come, const std::string& squat) {
    model::Pain pain;
    pain.session = session;
    if (who_->tells("shoulder_twice") && to_come < 2) {
      pain.region = "shoulder";
      pain.band = 2;
      pain.amount = 4;
      pain.side = 2;
    } else if (who_->tells("grumble") && to_come < 6 && !squat.empty()) {  // three in a row of the same move
      pain.region = "knee";
      pain.exercise = squat;
      pain.band = 1;
    } else {
      return;
    }
    must(book_.note_pain(scope_, pain, Author::swimmer));
  }

  // The coach looks at what was trained, from beside the mat.
  void sign_off(const DayPlan& plan) {
    for (const PlanRow& row : plan.rows) {
      if (row.block != 1) continue;
      model::SignOff seen;
      seen.exercise = row.rung->id;
      seen.level = model::SignOffLevel::sound;
      seen.reps = 8;
      seen.day = day_;
      seen.role = model::AdultRole::coach;
      must(book_.sign_off(scope_, seen, Author::coach));
    }
  }

  // What happened since the last session.
  void after() {
    at(today_.since_1970 - 1, 0);
    if (who_->tells("warning")) {
      model::RedFlag flag;
      flag.flag = "breathless";
      flag.group = model::FlagGroup::emergency;
      flag.day = day_;
      must(book_.note_red_flag(scope_, flag, Author::swimmer));
    }
    if (who_->tells("sore_long")) {
      model::Soreness sore;
      sore.region = "hips_thighs";
      sore.level = 2;
      sore.days = 6;
      sore.day = day_;
      must(book_.note_soreness(scope_, {sore}, Author::swimmer));
    }
  }

  Book& book_;
  DemoClock& clock_;
  DemoRandom& random_;
  model::Day today_, day_;
  const Swimmer* who_ = nullptr;
  std::size_t place_ = 0;
  model::ScopeId scope_;
  std::optional<model::Error> wrong_;
};

// One load of one swimmer, written on two devices that had not met.
model::Result<model::Done> write_twice(Book& coach, DemoClock& clock, DemoRandom& random, std::string_view name) {
  const auto scope = coach.find_athlete(name);
  if (!scope) return scope.error();
  const auto bundle = coach.make_bundle({.athletes = {*scope}});
  if (!bundle) return bundle.error();
  store::ForgettingFiles files;
  store::OpenTokens tokens;
  random.fill(tokens.fresh.bytes);
  const auto tablet = Book::open({files, clock, random}, tokens);
  if (!tablet) return tablet.error();
  if (const auto taken = (*tablet)->take_in("tablet", *bundle); !taken) return taken.error();
  const auto& lines = coach.athlete(*scope).prescriptions;
  const auto loaded = std::find_if(lines.begin(), lines.end(), [](const model::Prescription& line) { return !line.load.empty(); });
  if (loaded == lines.end()) return model::error(model::ErrorKind::not_found, "plan.none", {std::string(name)});
  const model::RecordId line = loaded->id;
  PlanLineEntry load;
  load.load = model::Quantity{10, 0, model::Unit::kg};
  if (const auto done = coach.change_plan_line(*scope, line, load, Author::coach); !done) return done;
  load.load = model::Quantity{12, 0, model::Unit::kg};
  if (const auto done = (*tablet)->change_plan_line(*scope, line, load, Author::helper); !done) return done;
  const auto back = (*tablet)->make_bundle({.athletes = {*scope}});
  if (!back) return back.error();
  if (const auto taken = coach.take_in("tablet", *back); !taken) return taken.error();
  return model::Done{};
}

}  // namespace

model::Result<model::Bytes> demo_bundle(std::uint64_t seed, model::Day today) {
  // Everything chosen at random follows from seed and day, ids too, so that two demos never fork.
  DemoRandom random(seed ^ (static_cast<std::uint64_t>(today.since_1970) * 0x9E3779B97F4A7C15ULL));
  DemoClock clock;
  clock.local_ms = (today.since_1970 - kDays) * kDayMs;
  store::ForgettingFiles files;
  store::OpenTokens tokens;
  random.fill(tokens.fresh.bytes);
  auto book = Book::open({files, clock, random}, tokens);
  if (!book) return book.error();
  Story story(**book, clock, random, today);
  const std::vector<Swimmer> all = swimmers();
  for (std::size_t place = 0; place < all.size(); ++place) story.tell(all[place], place);
  if (story.wrong()) return *story.wrong();
  for (const Swimmer& who : all)
    if (who.tells("written_twice"))
      if (const auto done = write_twice(**book, clock, random, who.name); !done) return done.error();
  return (*book)->make_bundle({});
}

}  // namespace slipway::app
