// Setup's page where consent for somebody under 18 is recorded: who says it, and yes or no for
// each of four things [handbook 7.1].
#include <algorithm>
#include <iterator>

#include "app/fact_words.h"
#include "app/setup_desk.h"
#include "app/setup_parts.h"
#include "report/words.h"

namespace slipway::app {

using report::say;
using screens::FormKind;
using screens::FormPart;
using screens::Setting;
using screens::SetupView;

namespace {

// Parts of this page alone; numbered after those of the screens and of the facts page.
constexpr Setting kFrom{1100}, kKeep{1101}, kThing{1110};
constexpr model::ConsentThing kThings[] = {model::ConsentThing::training_log, model::ConsentThing::pain_and_soreness, model::ConsentThing::body_measures,
                                           model::ConsentThing::wellness};
constexpr std::int32_t kOwnWordAge = 16;

bool may_say_it(const model::Athlete& athlete, model::Day today) {
  const auto ages = model::ages_on(athlete, today);
  return ages && ages->lowest >= kOwnWordAge;
}

}  // namespace

void SetupDesk::open_consent(Desk& desk) {
  if (!desk.here) return;
  open(Setting::consent);
  consent_ = Consents{};
  for (const model::Consent& said : desk.book.athlete(*desk.here).counting_consents)
    consent_->answers[static_cast<std::size_t>(said.thing) - 1] = said.given ? Answer::yes : Answer::no;
}

std::string SetupDesk::consent_line(const model::Athlete& athlete, model::Day today) {
  for (const model::Consent& said : athlete.counting_consents)
    if (said.thing == model::ConsentThing::training_log && !model::is_consent_due(athlete, said.thing, today))
      return say(said.given ? "consent.given_on" : "consent.refused_on", {model::weekday_date(said.day)});
  return say("consent.not_yet");
}

void SetupDesk::consent_page(Desk& desk, SetupView& view) {
  const model::Athlete& athlete = desk.book.athlete(*desk.here);
  if (!consent_) open_consent(desk);
  view.title = say("consent.title", {athlete.name.value_or("")});
  view.line = say("consent.help");
  std::vector<std::string> who{say("consent.guardian")};
  if (may_say_it(athlete, desk.today)) who.push_back(say("consent.young_person"));
  view.parts.push_back(choices_part(kFrom, say("consent.from"), who, consent_->from ? static_cast<std::size_t>(*consent_->from) - 1 : std::string::npos));
  for (std::size_t i = 0; i < std::size(kThings); ++i) {
    FormPart asked = setup_part(FormKind::question, Setting{static_cast<std::uint32_t>(kThing) + static_cast<std::uint32_t>(i)}, capital(thing_words(kThings[i])));
    asked.choices = {{.label = say("start.no"), .chosen = consent_->answers[i] == Answer::no}, {.label = say("start.yes"), .chosen = consent_->answers[i] == Answer::yes}};
    view.parts.push_back(std::move(asked));
  }
  if (!consent_->refused.empty()) {
    FormPart refused = setup_part(FormKind::caution, Setting::said, consent_->refused);
    refused.icon = screens::Icon::caution;
    view.parts.push_back(std::move(refused));
  }
  if (desk.may_write()) view.parts.push_back(keys_part(kKeep, {{.label = say("consent.keep")}}, true));
}

void SetupDesk::keep_consent(Desk& desk) {
  Consents& now = *consent_;
  const bool all = std::none_of(std::begin(now.answers), std::end(now.answers), [](Answer answer) { return answer == Answer::open; });
  if (!now.from || !all) {
    now.refused = say("consent.answer_all");
    desk.announce(true, now.refused);
    return;
  }
  for (std::size_t i = 0; i < std::size(kThings); ++i) {
    model::Consent said;
    said.thing = kThings[i];
    said.given = now.answers[i] == Answer::yes;
    said.from = *now.from;
    said.day = desk.today;
    if (const auto kept = desk.book.give_consent(*desk.here, said, desk.author()); !kept) {
      now.refused = say(kept.error());
      desk.announce(true, now.refused);
      return;
    }
  }
  desk.announce(false, say("consent.said_kept"));
  leave();
  desk.go(screens::Place::session);
}

void SetupDesk::answer_consent(Desk& desk, const screens::SetupAnswer& given) {
  if (!desk.here || !consent_ || !desk.may_write()) return;
  consent_->refused.clear();
  const std::size_t thing = static_cast<std::uint32_t>(given.setting) - static_cast<std::uint32_t>(kThing);
  if (given.setting == kKeep) keep_consent(desk);
  else if (given.setting == kFrom) consent_->from = given.choice == 1 ? model::ConsentBy::young_person : model::ConsentBy::guardian;
  else if (thing < std::size(kThings)) consent_->answers[thing] = given.choice == 1 ? Answer::yes : Answer::no;
}

}  // namespace slipway::app
