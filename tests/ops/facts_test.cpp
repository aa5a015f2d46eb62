// Which facts about body and permissions count, case by case (handbook 6.8, 7.1).
#include <doctest/doctest.h>

#include <limits>

#include "kit/ops_kit.h"
#include "ops/registry.h"
#include "ops/views.h"

using namespace slipway;
using kit::Device;
using model::SignOffLevel;

namespace {

namespace kind = ops::kind;
namespace sign_off_tag = ops::sign_off_tag;

struct Pair {
  Device coach{kit::stream_named('s', 'a'), 1}, assistant{kit::stream_named('s', 'b'), 2};

  void meet() {
    coach.take_in(assistant.ops());
    assistant.take_in(coach.ops());
  }
  model::Athlete athlete() {
    meet();
    REQUIRE(coach.fold() == assistant.fold());
    return ops::read_athlete(coach.fold());
  }
};

model::OpKey saw_form(Device& by, SignOffLevel level, std::int64_t day, const std::vector<model::OpKey>& saw = {}) {
  return by.begin(kind::sign_off, {{sign_off_tag::exercise, 1}, {sign_off_tag::level, static_cast<std::int64_t>(level)}, {sign_off_tag::day, day}},
                  saw);
}

SignOffLevel level_of(Pair& two) {
  const model::Athlete athlete = two.athlete();
  REQUIRE(athlete.counting_sign_offs.size() == 1);
  return athlete.counting_sign_offs.front().level;
}

}  // namespace

TEST_CASE("of two sign-offs written apart the more careful counts: withdrawn, none, sound, loaded") {
  const SignOffLevel careful[] = {SignOffLevel::withdrawn, SignOffLevel::none, SignOffLevel::sound, SignOffLevel::loaded};
  for (std::size_t a = 0; a < 4; ++a)
    for (std::size_t b = 0; b < 4; ++b) {
      CAPTURE(a);
      CAPTURE(b);
      Pair two;
      saw_form(two.coach, careful[a], 5);
      saw_form(two.assistant, careful[b], 4);
      CHECK(level_of(two) == careful[std::min(a, b)]);
      CHECK(two.athlete().sign_offs.size() == 2);  // both stay on record
    }
}

TEST_CASE("a sign-off written in knowledge of a withdrawal counts; one that did not see it does not") {
  Pair two;
  const model::OpKey withdrawn = saw_form(two.coach, SignOffLevel::withdrawn, 1);
  two.meet();
  const model::OpKey again = saw_form(two.assistant, SignOffLevel::sound, 9, {withdrawn});
  CHECK(level_of(two) == SignOffLevel::sound);
  saw_form(two.coach, SignOffLevel::withdrawn, 10, {withdrawn});  // beside the last one
  CHECK(level_of(two) == SignOffLevel::withdrawn);
  (void)again;
}

TEST_CASE("a sign-off hides one that has not arrived yet, and no sign-off of another exercise") {
  Device coach(kit::stream_named('s', 'a'), 1);
  const model::OpKey squat = saw_form(coach, SignOffLevel::withdrawn, 1);
  const model::OpKey later = saw_form(coach, SignOffLevel::loaded, 2, {squat});
  coach.begin(kind::sign_off, {{sign_off_tag::exercise, 2}, {sign_off_tag::level, 1}, {sign_off_tag::day, 3}}, {later});
  ops::Fold late(coach.stream().scope);
  for (std::size_t i = coach.ops().size(); i > 0; --i) {
    late.add(coach.ops()[i - 1]);
    const model::Athlete athlete = ops::read_athlete(late);
    if (const auto* one = model::counting_sign_off(athlete, "1")) CHECK(one->level == SignOffLevel::loaded);
    REQUIRE(model::counting_sign_off(athlete, "2") != nullptr);
    CHECK(model::counting_sign_off(athlete, "2")->level == SignOffLevel::sound);
  }
  REQUIRE(model::counting_sign_off(ops::read_athlete(late), "1") != nullptr);
}

TEST_CASE("nobody writes over a sign-off, a red flag or a consent, and nobody takes one back") {
  Pair two;
  const model::OpKey form = saw_form(two.coach, SignOffLevel::withdrawn, 1);
  const model::OpKey flag = two.coach.begin(kind::red_flag, {{ops::red_flag_tag::group, 1}, {ops::red_flag_tag::training_day, 4}});
  const model::OpKey consent = two.coach.begin(kind::consent, {{ops::consent_tag::thing, 2}, {ops::consent_tag::given, 0}});
  two.meet();
  two.assistant.change(form, {{sign_off_tag::level, 2}});
  two.assistant.change(flag, {{ops::red_flag_tag::group, 3}});
  two.assistant.change(consent, {{ops::consent_tag::given, 1}});
  for (const model::OpKey& key : {form, flag, consent}) two.assistant.take_back(key);
  const model::Athlete athlete = two.athlete();
  REQUIRE(athlete.counting_sign_offs.size() == 1);
  CHECK(athlete.counting_sign_offs[0].level == SignOffLevel::withdrawn);
  REQUIRE(athlete.red_flags.size() == 1);
  CHECK(athlete.red_flags[0].group == model::FlagGroup::emergency);
  CHECK(model::consent_for(athlete, model::ConsentThing::pain_and_soreness) == false);
}

TEST_CASE("what cannot be read is read the careful way") {
  Device newer(kit::stream_named('s', 'a'), 1);
  newer.begin(kind::sign_off, {{sign_off_tag::exercise, 1}, {sign_off_tag::level, 9}});
  newer.begin(kind::red_flag, {{ops::red_flag_tag::group, 9}});
  newer.begin(kind::consent, {{ops::consent_tag::thing, 1}, {ops::consent_tag::given, 7}});
  newer.begin(kind::consent, {{ops::consent_tag::thing, 9}, {ops::consent_tag::given, 1}});
  newer.begin(kind::illness, {{ops::illness_tag::state, 9}});
  newer.begin(kind::race, {{ops::race_tag::first_day, 10}, {ops::race_tag::last_day, 8}, {ops::race_tag::priority, 9}});
  const model::Athlete athlete = ops::read_athlete(newer.fold());
  CHECK(athlete.counting_sign_offs.at(0).level == SignOffLevel::none);
  CHECK(athlete.red_flags.at(0).group == model::FlagGroup::emergency);
  CHECK(athlete.consents.size() == 1);
  CHECK(model::consent_for(athlete, model::ConsentThing::training_log) == false);
  CHECK(athlete.illnesses.at(0).state == model::IllnessState::fever_or_below_neck);
  CHECK(athlete.races.at(0).last_day == model::Day{10});
  CHECK(athlete.races.at(0).priority == 1);
}

TEST_CASE("a tick-in and a clearance that anybody took back count no more, and stay on record") {
  Pair two;
  const model::OpKey session = two.coach.begin(kind::session, {{ops::session_tag::training_day, 5}});
  const model::OpKey flag = two.coach.begin(kind::red_flag, {{ops::red_flag_tag::group, 3}});
  const model::OpKey tick = two.coach.begin(kind::tick_in, {{ops::tick_in_tag::role, 1}}, {},
                                            {ops::refs_field(ops::tick_in_tag::session, {session}, two.coach.inc())});
  const model::OpKey clearance = two.coach.begin(kind::clearance, {{ops::clearance_tag::role, 2}, {ops::clearance_tag::clinician_allowed, 1}}, {},
                                                 {ops::refs_field(ops::clearance_tag::reports, {flag}, two.coach.inc())});
  CHECK(model::adult_ticked_in(two.athlete(), session));
  CHECK(model::is_cleared(two.athlete(), flag));
  two.assistant.take_back(tick);
  two.assistant.take_back(clearance);
  two.coach.change(tick, {{ops::tick_in_tag::role, 3}});  // written apart: would bring a set back, but no permission
  const model::Athlete athlete = two.athlete();
  CHECK_FALSE(model::adult_ticked_in(athlete, session));
  CHECK_FALSE(model::is_cleared(athlete, flag));
  CHECK(athlete.tick_ins.size() == 1);
  CHECK(athlete.clearances.size() == 1);
  CHECK(athlete.red_flags.size() == 1);
}

TEST_CASE("a pain can be written higher, never lower; settled only if nobody says otherwise") {
  Pair two;
  const model::OpKey pain = two.coach.begin(kind::pain, {{ops::pain_tag::band, 2}, {ops::pain_tag::amount, 5}});
  two.meet();
  two.assistant.change(pain, {{ops::pain_tag::band, 1}, {ops::pain_tag::amount, 1}});
  CHECK(two.athlete().pains.at(0).worst() == 5);
  two.coach.change(pain, {{ops::pain_tag::amount, 7}});
  CHECK(two.athlete().pains.at(0).worst() == 7);
  CHECK_FALSE(two.athlete().pains.at(0).settled.has_value());
  two.coach.change_unseen(pain, {{ops::pain_tag::settled, 1}});
  CHECK(two.athlete().pains.at(0).settled == true);
  two.assistant.change_unseen(pain, {{ops::pain_tag::settled, 0}});
  CHECK(two.athlete().pains.at(0).settled == false);
}

TEST_CASE("soreness said again for a day replaces the answer; said apart, both stand") {
  Pair two;
  const auto said = [](Device& by, std::int64_t level, const std::vector<model::OpKey>& saw = {}) {
    return by.begin(kind::soreness, {{ops::soreness_tag::region, 1}, {ops::soreness_tag::training_day, 4}, {ops::soreness_tag::level, level}}, saw);
  };
  const model::OpKey first = said(two.coach, 1);
  said(two.coach, 3, {first});
  CHECK(two.athlete().soreness.size() == 1);
  CHECK(two.athlete().soreness[0].level == 3);
  said(two.assistant, 2, {first});
  CHECK(two.athlete().soreness.size() == 2);
}

TEST_CASE("a programme taken back lets the one before it count again") {
  Device coach(kit::stream_named('s', 'a'), 1);
  const model::OpKey first = coach.begin(kind::programme, {{ops::programme_tag::weeks, 4}});
  const model::OpKey second = coach.begin(kind::programme, {{ops::programme_tag::weeks, 8}}, {first});
  CHECK(ops::read_athlete(coach.fold()).programme.first()->weeks == 8);
  CHECK_FALSE(ops::read_athlete(coach.fold()).programme.contradiction());
  coach.take_back(second);
  CHECK(ops::read_athlete(coach.fold()).programme.first()->weeks == 4);
}

TEST_CASE("a finish whose session has not arrived is not out of sight") {
  Device phone(kit::stream_named('s', 'a'), 1);
  const model::OpKey session = phone.begin(kind::session, {{ops::session_tag::training_day, 5}});
  phone.begin(kind::finish, {{ops::finish_tag::minutes, 45}}, {}, {ops::refs_field(ops::finish_tag::session, {session}, phone.inc())});
  ops::Fold part(phone.stream().scope);
  part.add(phone.ops()[1]);
  const model::Athlete alone = ops::read_athlete(part);
  REQUIRE(alone.sessions.size() == 1);
  CHECK(alone.sessions[0].finish.first()->minutes == 45);
  part.add(phone.ops()[0]);
  const model::Athlete whole = ops::read_athlete(part);
  REQUIRE(whole.sessions.size() == 1);
  CHECK(*whole.sessions[0].training_day.first() == model::Day{5});
}

TEST_CASE("of two readings of one limitation list all words count; of form broke yes, of two more no") {
  Pair two;
  const model::OpKey who = two.coach.write(kind::athlete, {ops::text_field(ops::athlete_tag::name, "Wren")});
  const model::OpKey set = two.coach.begin(kind::set, {{ops::set_tag::reps, 8}});
  two.meet();
  const auto limits = [&](Device& by, std::string_view words) {
    by.write(kind::change, {ops::refs_field(ops::tag::target, {who}, by.inc()), ops::text_field(ops::athlete_tag::limitations, words)});
  };
  limits(two.coach, "heart");
  limits(two.assistant, "loose_joints heart");
  two.coach.change(set, {{ops::set_tag::form_broke, 1}, {ops::set_tag::two_more, 1}});
  two.assistant.change(set, {{ops::set_tag::form_broke, 0}, {ops::set_tag::two_more, 0}});
  const model::Athlete athlete = two.athlete();
  CHECK(athlete.limitations.size() == 2);
  const model::SetDone& done = athlete.sessions.at(0).sets.at(0);
  CHECK(done.form_broke);
  CHECK_FALSE(done.two_more);
}

TEST_CASE("a load beyond any that can be typed is no load, and goes on travelling as it is") {
  Device phone(kit::stream_named('s', 'a'), 1);
  const auto loads = [&phone](std::int64_t value) {
    const auto set = phone.begin(kind::set, {{ops::set_tag::reps, 8}}, {}, {ops::list_field(ops::set_tag::load, {ops::zigzag(value), 0, 4})});
    const model::Athlete athlete = ops::read_athlete(phone.fold());
    for (const model::Session& session : athlete.sessions)
      for (const model::SetDone& one : session.sets)
        if (one.id == set) return one.load.all.size();
    FAIL("no set");
    return std::size_t{9};
  };
  CHECK(loads(1'000'000'000) == 1);
  for (const std::int64_t value : {std::int64_t{1'000'000'001}, std::int64_t{-1'000'000'001}, std::int64_t{1} << 60, std::numeric_limits<std::int64_t>::min()}) CHECK(loads(value) == 0);
  CHECK(kit::through_the_door(phone.ops()).size() == phone.ops().size());
}
