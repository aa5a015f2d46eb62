// An adult who trains without a coach: what stays stopped, and the word that frees it [handbook 2.7].
#include <doctest/doctest.h>

#include <algorithm>

#include "app/day_plan.h"
#include "app/local_names.h"
#include "app/settings.h"
#include "kit/device.h"
#include "report/words.h"
#include "setup_hand.h"

using namespace slipway;
using report::say;
using screens::Place;

namespace {

constexpr std::int64_t kDayMs = 86'400'000;

struct Alone {
  explicit Alone(std::uint64_t born = 1990) {
    const auto made = device.book().add_athlete({.name = "Wren", .birth_year = born}, app::Author::swimmer);
    REQUIRE(made.ok());
    wren = *made;
    app::Settings settings;
    settings.user_said = settings.started = true;
    REQUIRE(settings.write(device.book()));
    REQUIRE(device.book().set_local(app::kHereName, wren.view()));
    device.close_book();
    device.open_app();
  }
  app::Book& book() { return *device.app.book(); }
  void act(const screens::SessionIntent& intent) {
    hand.go(Place::session);
    device.app.act(screens::Intent{intent});
  }
  model::RecordId hurt(std::uint64_t amount) {
    model::Pain pain;
    pain.region = "shoulder";
    pain.amount = amount;
    const auto noted = book().note_pain(wren, pain, app::Author::swimmer);
    REQUIRE(noted.ok());
    return *noted;
  }
  screens::PainPanel panel() {
    act(screens::OpenPain{});
    const auto page = std::get<screens::SessionView>(device.app.view().page);
    REQUIRE(page.pain.size() == 1);
    return page.pain[0];
  }
  void answer(std::uint32_t choice) {
    device.clock.tick(app::kDeafMs);
    act(screens::AnswerAsked{panel().asked.at(0).about, choice});
  }
  std::vector<std::string> words_of(std::size_t question) {
    std::vector<std::string> out;
    const auto shown = panel();
    for (const auto& choice : shown.asked.at(question).choices) out.push_back(choice.label);
    return out;
  }
  bool stopped() {
    const auto now = device.clock.now();
    const app::DayPlan plan = app::plan_day(book().athlete(wren), {.today = model::day_of(now), .now_ms = now.local_ms, .kit = {}, .train_now = {}, .programme_day = {}});
    return std::any_of(plan.rows.begin(), plan.rows.end(), [](const app::PlanRow& row) { return row.because().row.row == "R01"; });
  }

  kit::SquadDevice device{1};
  kit::SetupHand hand{device.app};
  model::ScopeId wren;
};

}  // namespace

TEST_CASE("pain that did not settle stays stopped till the adult says that somebody has seen it") {
  Alone alone;
  alone.hurt(4);
  CHECK(alone.panel().asked.empty());  // its next morning is still to come
  alone.device.clock.tick(kDayMs);
  REQUIRE(alone.panel().asked.size() == 1);
  CHECK(alone.words_of(0) == std::vector<std::string>{say("pain.settled_yes"), say("pain.settled_no")});
  alone.answer(1);
  CHECK(alone.stopped());
  REQUIRE(alone.panel().asked.size() == 1);
  CHECK(alone.words_of(0) == std::vector<std::string>{say("pain.seen"), say("pain.allowed")});
  alone.answer(0);
  CHECK_FALSE(alone.stopped());
  CHECK(alone.panel().asked.empty());
  const auto& clearances = alone.book().athlete(alone.wren).clearances;
  REQUIRE(clearances.size() == 1);
  CHECK(clearances[0].role == model::ClearanceRole::self);
  CHECK_FALSE(clearances[0].clinician_allowed);
}

TEST_CASE("pain said on a day without training is over once its next morning was normal") {
  Alone alone;
  alone.hurt(4);
  CHECK(alone.stopped());
  alone.device.clock.tick(kDayMs);
  CHECK(alone.stopped());
  alone.answer(0);
  CHECK_FALSE(alone.stopped());
  CHECK(alone.panel().asked.empty());
}

TEST_CASE("of pain of 6 and more only the word that training is allowed frees, also of one that is resolved") {
  for (const bool resolved : {false, true}) {
    Alone alone;
    const auto pain = alone.hurt(7);
    alone.device.clock.tick(kDayMs);
    if (resolved) REQUIRE(alone.book().end_pain(alone.wren, pain, app::Book::PainEnd::resolved, "", app::Author::swimmer).ok());
    else alone.answer(0);
    CHECK(alone.stopped());
    REQUIRE(alone.panel().asked.size() == 1);
    CHECK(alone.words_of(0) == std::vector<std::string>{say("pain.allowed")});
    alone.answer(0);
    CHECK_FALSE(alone.stopped());
    CHECK(alone.book().athlete(alone.wren).clearances.at(0).clinician_allowed);
  }
}

TEST_CASE("a second tap does not answer the question that moved up, and an answer is for what it was given for") {
  Alone alone;
  alone.hurt(7);
  alone.device.clock.tick(kDayMs);
  const std::string settled = alone.panel().asked.at(0).about;
  alone.answer(0);
  const std::string word = alone.panel().asked.at(0).about;
  CHECK(word != settled);
  alone.act(screens::AnswerAsked{word, 0});  // at once: deaf
  CHECK(alone.stopped());
  alone.device.clock.tick(app::kDeafMs);
  alone.act(screens::AnswerAsked{settled, 0});  // asked no longer
  CHECK(alone.stopped());
  alone.answer(0);
  CHECK_FALSE(alone.stopped());
}

TEST_CASE("what hurt a little in the same session is not asked about as stopped") {
  Alone alone;
  alone.hurt(7);
  model::Pain little;
  little.region = "elbow";
  little.amount = 1;
  REQUIRE(alone.book().note_pain(alone.wren, little, app::Author::swimmer).ok());
  alone.device.clock.tick(kDayMs);
  alone.answer(0);
  const auto asked = alone.panel().asked;
  REQUIRE(asked.size() == 1);
  CHECK(asked[0].label.find("houlder") != std::string::npos);
}

TEST_CASE("a youth is not asked for a word that is not theirs to give") {
  Alone alone(2012);
  for (const auto thing : {model::ConsentThing::training_log, model::ConsentThing::pain_and_soreness}) {
    model::Consent consent{.id = {}, .thing = thing, .given = true, .from = model::ConsentBy::guardian, .day = model::day_of(alone.device.clock.now())};
    REQUIRE(alone.book().give_consent(alone.wren, consent, app::Author::helper).ok());
  }
  const auto pain = alone.hurt(7);
  alone.device.clock.tick(kDayMs);
  REQUIRE(alone.book().settle_pain(alone.wren, pain, true, app::Author::swimmer).ok());
  CHECK(alone.stopped());
  CHECK(alone.panel().asked.empty());
}
