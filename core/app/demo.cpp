#include "app/demo.h"

#include "host/random.h"
#include "model/assets.h"
#include "model/table.h"
#include "ops/pen.h"
#include "ops/registry.h"
#include "ops/views.h"

namespace slipway::app {

namespace {

constexpr std::int64_t kDayMs = 86'400'000;
constexpr std::int32_t kDaysShown = 14;       // two weeks of history
constexpr std::int32_t kDaysBetween = 3;      // two or three sessions a week [handbook 1.9]
constexpr std::int64_t kStartMs = 18 * 3'600'000 + 5 * 60'000;  // 18:05
constexpr std::int64_t kSetMs = 3 * 60'000;   // a set and its rest

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

// Ids are a hash of seed, day and place, so that two demos never fork.
template <class Id>
Id demo_id(std::uint64_t seed, model::Day today, std::string_view what, std::size_t which) {
  const std::string words = "slipway demo " + std::to_string(seed) + " " + std::to_string(today.since_1970) + " " + std::string(what) + " " +
                            std::to_string(which);
  return Id::from(model::ByteView(ops::blake2b(model::as_bytes(words)).bytes.data(), 16));
}

struct Swimmer {
  std::string name;
  std::uint64_t birth_year, load_kg, reps, sets;
};

std::vector<Swimmer> swimmers() {
  std::vector<Swimmer> out;
  const auto table = model::read_table(model::asset("demo.table"));
  if (!table) return out;
  const auto whole = [&](std::size_t row, std::string_view column) {
    return static_cast<std::uint64_t>(std::stoull(table->cell(row, column)));
  };
  for (std::size_t row = 0; row < table->rows.size(); ++row)
    out.push_back({table->cell(row, "name"), whole(row, "birth_year"), whole(row, "load_kg"), whole(row, "reps"), whole(row, "sets")});
  return out;
}

class Story {  // writes one swimmer's stream
 public:
  Story(const ops::StreamId& stream, DemoRandom& random) : pen_(stream, 0, ops::genesis(stream)), random_(random) {}

  model::OpKey write(std::uint32_t kind, std::vector<ops::Field> fields, std::uint64_t author, std::int64_t local_ms) {
    const ops::Signature signature{author, {local_ms, 60, 0}};
    ops_.push_back(pen_.write(kind, std::move(fields), signature, ops_.size(), random_));
    return ops_.back().key();
  }
  const model::IncarnationId& home() const { return pen_.stream().inc; }
  std::vector<ops::Chunk> chunks() const { return ops::make_chunks(ops_); }

 private:
  ops::Pen pen_;
  DemoRandom& random_;
  std::vector<ops::ChainedOp> ops_;
};

void write_plan(Story& story, const Swimmer& who, std::int64_t local_ms) {
  namespace plan = ops::prescription_tag;
  story.write(ops::kind::athlete, {ops::text_field(ops::athlete_tag::name, who.name), ops::unsigned_field(ops::athlete_tag::birth_year, who.birth_year)},
              2, local_ms);
  std::vector<model::Quantity> loads;
  for (std::int64_t kg : {4, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24, 26, 28}) loads.push_back({kg, 0, model::Unit::kg});
  story.write(ops::kind::kit, {ops::quantities_field(ops::kit_tag::loads, loads)}, 2, local_ms);
  story.write(ops::kind::prescription,
              {ops::text_field(plan::exercise, "SQ4"), ops::unsigned_field(plan::sets, who.sets), ops::unsigned_field(plan::reps, who.reps),
               ops::quantity_field(plan::load, {static_cast<std::int64_t>(who.load_kg), 0, model::Unit::kg}), ops::unsigned_field(plan::rir, 2),
               ops::unsigned_field(plan::rest_ms, 120'000)},
              2, local_ms);
}

void write_session(Story& story, const Swimmer& who, std::int32_t day, DemoRandom& random) {
  const std::int64_t start = day * kDayMs + kStartMs;
  const model::OpKey session = story.write(ops::kind::session, {ops::signed_field(ops::session_tag::training_day, day)}, 1, start);
  const model::Quantity load{static_cast<std::int64_t>(who.load_kg), 0, model::Unit::kg};
  for (std::uint64_t round = 1; round <= who.sets; ++round) {
    const std::uint64_t fewer = round == who.sets ? random.below(3) : 0;  // the last set is the hard one
    std::vector<ops::Field> fields{ops::refs_field(ops::set_tag::session, {session}, story.home()),
                                   ops::text_field(ops::set_tag::exercise, "SQ4"),
                                   ops::unsigned_field(ops::set_tag::round, round),
                                   ops::unsigned_field(ops::set_tag::reps, who.reps - fewer),
                                   ops::quantity_field(ops::set_tag::load, load),
                                   ops::unsigned_field(ops::set_tag::written_reps, who.reps),
                                   ops::quantity_field(ops::set_tag::written_load, load)};
    if (round == who.sets) fields.push_back(ops::unsigned_field(ops::set_tag::rir, 1 + random.below(3)));
    story.write(ops::kind::set, std::move(fields), 1, start + static_cast<std::int64_t>(round) * kSetMs);
  }
}

}  // namespace

std::vector<ops::Chunk> demo_chunks(std::uint64_t seed, model::Day today) {
  std::vector<ops::Chunk> chunks;
  DemoRandom random(seed);
  const auto inc = demo_id<model::IncarnationId>(seed, today, "writer", 0);
  const std::vector<Swimmer> all = swimmers();
  for (std::size_t i = 0; i < all.size(); ++i) {
    Story story({demo_id<model::ScopeId>(seed, today, "swimmer", i), inc}, random);
    const std::int32_t first_day = today.since_1970 - kDaysShown;
    write_plan(story, all[i], first_day * kDayMs + kStartMs);
    for (std::int32_t day = first_day + 1; day < today.since_1970; day += kDaysBetween) write_session(story, all[i], day, random);
    for (ops::Chunk& chunk : story.chunks()) chunks.push_back(std::move(chunk));
  }
  return chunks;
}

}  // namespace slipway::app
