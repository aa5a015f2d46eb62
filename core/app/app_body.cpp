// Pain, soreness and red flags: kept at the first press, said back, never in the way of logging.
#include <algorithm>

#include "app/app_inside.h"
#include "report/words.h"

namespace slipway::app {

using report::number;
using report::say;

namespace {

struct Band {
  const char* head;
  const char* range;
  const char* spoken;
};
constexpr Band kBands[] = {{"pain.little", "pain.little_range", "pain.little_spoken"},
                           {"pain.hurts", "pain.hurts_range", "pain.hurts_spoken"},
                           {"pain.lot", "pain.lot_range", "pain.lot_spoken"}};
constexpr const char* kPartWords[] = {"part.shoulder", "part.elbow", "part.wrist", "part.neck", "part.low_back", "part.hip_groin", "part.knee", "part.ankle"};
constexpr std::uint64_t kBandLow[] = {0, 1, 3, 6}, kBandHigh[] = {0, 2, 5, 10};

struct SoreRegion {
  const char* region;
  const char* words;
};
constexpr SoreRegion kSoreRegions[] = {{"hips_thighs", "sore.legs"}, {"shoulders_back", "sore.pulling"}, {"chest_arms", "sore.pushing"}, {"trunk", "sore.trunk"}};
struct Span {
  const char* words;
  const char* detail;
  const char* spoken;
  std::uint64_t days;  // in a row with today: since yesterday are two; 3–4 counts as 4, 5+ asks since when
};
constexpr Span kSpans[] = {{"sore.today", nullptr, "sore.today_spoken", 1},
                           {"sore.one", "sore.one_detail", "sore.one_spoken", 2},
                           {"sore.two", "sore.two_detail", "sore.two_spoken", 3},
                           {"sore.three", "sore.three_detail", "sore.three_spoken", 4},
                           {"sore.five", "sore.five_detail", "sore.five_spoken", 5}};
constexpr std::size_t kLastSpan = 4;
constexpr std::uint64_t kHurts = 3;  // from here a report can stop [2.6]
constexpr std::uint64_t kSoreLevel = 2, kHinders = 3;  // clear; hinders movement [1.12]

std::string part_words(std::string_view region) {
  for (std::size_t i = 0; i < pain_parts().size(); ++i)
    if (pain_parts()[i].region == region) return say(kPartWords[i]);
  return std::string(region);
}

const model::Pain* find_pain(const model::Athlete& athlete, const model::RecordId& id) {
  for (const model::Pain& pain : athlete.pains)
    if (pain.id == id) return &pain;
  return nullptr;
}

const model::Soreness* find_soreness(const model::Athlete& athlete, const model::RecordId& id) {
  for (const model::Soreness& sore : athlete.soreness)
    if (sore.id == id) return &sore;
  return nullptr;
}

bool of_today(const model::Writer& by, model::Day today) { return model::day_of(by.claimed) == today; }

screens::CellState square_state(Book& book, const model::RecordId& id) {
  return book.waits(id) ? screens::CellState::not_kept : screens::CellState::kept;
}

std::string lower(std::string words) {
  if (!words.empty() && words[0] >= 'A' && words[0] <= 'Z') words[0] = static_cast<char>(words[0] - 'A' + 'a');
  return words;
}

// A report of the last days whose next morning nobody told of: asked once, the newest of each part.
std::vector<const model::Pain*> unsettled(const model::Athlete& athlete, model::Day today) {
  constexpr std::int32_t kAskedFor = 7;  // older reports no longer count [6.1]
  std::vector<const model::Pain*> out;
  for (const model::Pain& pain : athlete.pains) {
    const std::int32_t ago = today.since_1970 - model::day_of(pain.by.claimed).since_1970;
    if (pain.withdrawn || pain.resolved || pain.settled || pain.band < 2 || ago < 1 || ago > kAskedFor) continue;
    out.push_back(&pain);
  }
  return out;
}

// What keeps an exercise stopped now and only a word frees: of earlier days, and its next morning told of or long past.
// An adult may note that word alone [2.7].
struct StoppedPart {
  std::string region;
  std::vector<model::RecordId> reports;
  model::Day since;
  bool seen_is_enough = true;  // below 6, and of this part alone
};

const std::string kWordAbout = "word of ";

std::vector<StoppedPart> stopped_parts(const model::Athlete& athlete, const DayPlan& plan, model::Day today) {
  std::vector<StoppedPart> out;
  if (model::is_youth(athlete, today) || !(plan.today == today)) return out;  // a late entry has another day in hand
  const auto stops = [&plan](const model::RecordId& id) {
    const std::string text = model::to_text(id);
    for (const rules::ExerciseDecision& exercise : plan.decision.exercises)
      for (const rules::Evidence& evidence : exercise.row.row == "R01" ? exercise.row.evidence : std::vector<rules::Evidence>{}) {
        if (evidence.of == rules::EvidenceOf::pain && plan.situation.pains[evidence.index].id == text) return true;
        if (evidence.of == rules::EvidenceOf::red_flag && plan.situation.red_flags[evidence.index].id == text) return true;
      }
    return false;
  };
  const auto add = [&out](const std::string& region, const model::RecordId& report, model::Day day, bool seen_is_enough) {
    auto part = std::find_if(out.begin(), out.end(), [&](const StoppedPart& one) { return one.region == region; });
    if (part == out.end()) part = out.insert(out.end(), StoppedPart{region, {}, day, true});
    part->reports.push_back(report);
    part->since = std::min(part->since, day);
    part->seen_is_enough = part->seen_is_enough && seen_is_enough;
  };
  const auto asked = unsettled(athlete, today);
  for (const model::Pain& pain : athlete.pains) {
    const model::Day day = model::day_of(pain.by.claimed);
    const bool to_be_settled = std::find(asked.begin(), asked.end(), &pain) != asked.end();
    if (day < today && pain.worst() >= kHurts && !to_be_settled && stops(pain.id)) add(pain.region, pain.id, day, pain.worst() < model::kFirmPain);
  }
  for (const model::RedFlag& flag : athlete.red_flags)
    if (flag.day < today && stops(flag.id)) add(flag.region, flag.id, flag.day, true);
  return out;
}

}  // namespace

void App::Inside::act_pain(Book& book, const screens::ChoosePain& choose) {
  if (choose.row >= pain_parts().size() || choose.band > 2) return;
  model::Pain entry;
  entry.region = pain_parts()[choose.row].region;
  entry.band = choose.band + 1;
  if (const model::Session* session = model::session_on(book.athlete(*here), today())) entry.session = session->id;
  const auto noted = book.note_pain(*here, entry, author());
  if (!noted) {
    announce(true, say(noted.error()));
    return;
  }
  pain_kept = *noted;
  pain_more = false;
  say_kept(book, say("pain.said", {lower(part_words(entry.region)), say(kBands[choose.band].spoken)}));
}

void App::Inside::detail_pain(Book& book, std::optional<std::uint64_t> amount, std::optional<std::uint64_t> side) {
  if (!pain_kept) return;
  const auto done = book.detail_pain(*here, *pain_kept, amount, side, author());
  if (!done) announce(true, say(done.error()));
}

void App::Inside::answer_asked(Book& book, const std::string& about, std::uint32_t choice) {
  if (is_locked(book)) return;
  for (const model::Pain* pain : unsettled(book.athlete(*here), today()))
    if (model::to_text(pain->id) == about && choice <= 1) {
      const auto done = book.settle_pain(*here, pain->id, choice == 0, author());
      if (!done) announce(true, say(done.error()));
      return;
    }
  note_own_clearance(book, about, choice);
}

void App::Inside::note_own_clearance(Book& book, const std::string& about, std::uint32_t choice) {
  const auto parts = stopped_parts(book.athlete(*here), plan_of(book), today());
  const auto part = std::find_if(parts.begin(), parts.end(), [&](const StoppedPart& one) { return about == kWordAbout + one.region; });
  if (part == parts.end()) return;
  model::Clearance clearance;
  clearance.covers = part->region;
  clearance.reports = part->reports;
  clearance.role = author() == Author::coach ? model::ClearanceRole::coach : model::ClearanceRole::self;
  clearance.day = today();
  clearance.clinician_allowed = choice == 1 || !part->seen_is_enough;
  const auto noted = book.note_clearance(*here, clearance, author());
  if (!noted) announce(true, say(noted.error()));
  else say_kept(book, say("pain.said_cleared", {lower(part_words(clearance.covers))}));
}

void App::Inside::take_back_pain(Book& book) {
  if (!pain_kept) return;
  const auto done = book.end_pain(*here, *pain_kept, Book::PainEnd::withdrawn, "", author());
  if (!done) {
    announce(true, say(done.error()));
    return;
  }
  pain_kept.reset();
  announce(false, say("pain.said_back"));
}

screens::PainPanel App::Inside::pain_panel(Book& book) {
  const model::Athlete& athlete = book.athlete(*here);
  screens::PainPanel view;
  view.title = say("pain.title");
  view.help = say("pain.help");
  view.grid_spoken = say("pain.grid");
  for (const Band& band : kBands) view.heads.push_back({say(band.head), say(band.range)});
  for (std::size_t i = 0; i < pain_parts().size(); ++i) {
    screens::SquareRow row{say(kPartWords[i]), {}};
    for (std::size_t band = 0; band < 3; ++band) {
      screens::Square square{say("pain.square", {row.words, say(kBands[band].spoken)}), say(kBands[band].range)};
      for (const model::Pain& pain : athlete.pains)
        if (pain.region == pain_parts()[i].region && pain.band == band + 1 && !pain.withdrawn && of_today(pain.by, today()))
          square.state = square_state(book, pain.id);
      row.squares.push_back(std::move(square));
    }
    view.rows.push_back(std::move(row));
  }
  view.stop_words = say("pain.stop");
  view.close_words = say("pain.close");
  if (const model::Pain* pain = pain_kept ? find_pain(athlete, *pain_kept) : nullptr) {
    const std::size_t band = static_cast<std::size_t>(std::min<std::uint64_t>(std::max<std::uint64_t>(pain->band, 1), 3));
    const char* effect = band == 1 ? "pain.effect_little" : band == 2 ? "pain.effect_hurts" : "pain.effect_lot";
    view.kept.push_back({.title = say(book.waits(pain->id) ? "pain.not_kept" : "pain.kept",
                                       {lower(part_words(pain->region)), say(kBands[band - 1].spoken)}),
                          .body = say(effect),
                          .more_words = pain_more ? "" : say("pain.more"),
                          .not_kept = book.waits(pain->id)});
    view.back_words = say("pain.back");
    if (pain_more) {
      view.side_label = say("pain.side");
      const std::uint64_t side = pain->side.value_or(0);
      view.sides = {{say("pain.left"), say("pain.left"), side == 1}, {say("pain.right"), say("pain.right"), side == 2}, {say("pain.both"), say("pain.both"), side == 3}};
      view.number_label = say("pain.number");
      for (std::uint64_t amount = kBandLow[band]; amount <= kBandHigh[band]; ++amount)
        view.numbers.push_back({number(amount), number(amount), pain->amount == amount});
    }
  }
  // Of earlier days nothing is told before the PIN; not answered counts as no.
  for (const model::Pain* pain : is_locked(book) ? std::vector<const model::Pain*>{} : unsettled(athlete, today())) {
    screens::AskedQuestion question;
    question.about = model::to_text(pain->id);
    question.label = say("pain.settled", {part_words(pain->region), model::weekday_date(model::day_of(pain->by.claimed))});
    question.choices = {{say("pain.settled_yes"), say("pain.settled_yes"), false}, {say("pain.settled_no"), say("pain.settled_no"), false}};
    view.asked.push_back(std::move(question));
  }
  for (const StoppedPart& part : is_locked(book) ? std::vector<StoppedPart>{} : stopped_parts(athlete, plan_of(book), today())) {
    screens::AskedQuestion question;
    question.about = kWordAbout + part.region;
    question.label = say("pain.stopped", {part_words(part.region), model::weekday_date(part.since)});
    if (part.seen_is_enough) question.choices.push_back({say("pain.seen"), say("pain.seen"), false});
    question.choices.push_back({say("pain.allowed"), say("pain.allowed"), false});
    view.asked.push_back(std::move(question));
  }
  return view;
}

void App::Inside::choose_pain_number(Book& book, std::uint32_t choice) {
  const model::Pain* pain = pain_kept ? find_pain(book.athlete(*here), *pain_kept) : nullptr;
  if (pain == nullptr || pain->band < 1 || pain->band > 3) return;
  const std::uint64_t amount = kBandLow[pain->band] + choice;
  if (amount <= kBandHigh[pain->band]) detail_pain(book, amount, std::nullopt);
}

// ---- soreness -------------------------------------------------------------------------------------------

void App::Inside::keep_soreness(Book& book, model::Soreness answer) {
  answer.day = today();
  const std::string region = answer.region;
  const auto noted = book.note_soreness(*here, {std::move(answer)}, author());
  sore_kept.reset();
  if (!noted) {
    announce(true, say(noted.error()));
    return;
  }
  for (const model::Soreness& sore : book.athlete(*here).soreness)
    if (sore.region == region && sore.day == today()) sore_kept = sore.id;
}

void App::Inside::act_sore(Book& book, const screens::ChooseSore& choose) {
  if (choose.row >= std::size(kSoreRegions) || choose.span > kLastSpan) return;
  model::Soreness answer;
  answer.region = kSoreRegions[choose.row].region;
  answer.level = kSoreLevel;
  answer.days = kSpans[choose.span].days;
  sore_days_refused = false;
  keep_soreness(book, std::move(answer));
  if (sore_kept) say_kept(book, say("sore.said", {lower(say(kSoreRegions[choose.row].words)), say(kSpans[choose.span].spoken)}));
}

void App::Inside::detail_sore(Book& book, std::optional<std::uint64_t> days, std::optional<bool> hinders) {
  const model::Soreness* sore = sore_kept ? find_soreness(book.athlete(*here), *sore_kept) : nullptr;
  if (sore == nullptr) return;
  model::Soreness answer = *sore;
  if (hinders) answer.level = *hinders ? kHinders : kSoreLevel;
  if (days) answer.days = *days;
  keep_soreness(book, std::move(answer));
}

void App::Inside::take_back_sore(Book& book) {
  if (!sore_kept) return;
  const auto back = book.take_back(*here, *sore_kept, author());
  if (!back) {
    announce(true, say(back.error()));
    return;
  }
  sore_kept.reset();
  announce(false, say("sore.said_back"));
}

screens::SorePanel App::Inside::sore_panel(Book& book) {
  const model::Athlete& athlete = book.athlete(*here);
  screens::SorePanel view;
  view.title = say("sore.title");
  view.help = say("sore.help");
  view.grid_spoken = say("sore.grid");
  for (const Span& span : kSpans) view.heads.push_back({say(span.words), span.detail == nullptr ? "" : say(span.detail)});
  for (const SoreRegion& region : kSoreRegions) {
    screens::SquareRow row{say(region.words), {}};
    for (std::size_t i = 0; i < std::size(kSpans); ++i) {
      screens::Square square{say("sore.square", {row.words, say(kSpans[i].spoken)}), say(kSpans[i].words)};
      for (const model::Soreness& sore : athlete.soreness) {
        const bool here_span = i == kLastSpan ? sore.days >= kSpans[i].days : sore.days == kSpans[i].days;
        if (sore.region == region.region && sore.day == today() && here_span) square.state = square_state(book, sore.id);
      }
      row.squares.push_back(std::move(square));
    }
    view.rows.push_back(std::move(row));
  }
  view.close_words = say("sore.close");
  if (const model::Soreness* sore = sore_kept ? find_soreness(athlete, *sore_kept) : nullptr) {
    std::string words = sore->region;
    for (const SoreRegion& region : kSoreRegions)
      if (sore->region == region.region) words = lower(say(region.words));
    const std::uint64_t days = sore->days;
    const char* effect = days > 7 ? "sore.effect_week" : days > 4 ? "sore.effect_long" : sore->level == kHinders ? "sore.effect_hinders" : "sore.effect_usual";
    std::string since = say("sore.days_many", {number(days)});
    for (const Span& span : kSpans)
      if (span.days == days && span.days < kSpans[kLastSpan].days) since = say(span.spoken);
    view.kept.push_back({.title = say(book.waits(sore->id) ? "sore.not_kept" : "sore.kept", {words, since}),
                          .body = say(effect),
                          .not_kept = book.waits(sore->id)});
    view.back_words = say("sore.back");
    view.hinders_words = say("sore.hinders");
    view.hinders = sore->level == kHinders;
    if (days >= kSpans[kLastSpan].days) {
      view.days_label = view.days_spoken = say("sore.days_label");
      view.fewer_words = say("sore.fewer");
      view.more_words = say("sore.more");
      view.days = static_cast<std::int64_t>(days);
      view.days_low = static_cast<std::int64_t>(kSpans[kLastSpan].days);
      view.days_high = 60;
      view.days_refused = sore_days_refused ? say("sore.days_refused") : "";
    }
  }
  return view;
}

// ---- red flags --------------------------------------------------------------------------------------------

void App::Inside::tick_flag(Book& book, const screens::TickFlag& tick) {
  if (tick.flag >= known_flags().size() || !tick.ticked) return;  // a report is never taken away, only cleared
  const FlagWord& flag = known_flags()[tick.flag];
  model::RedFlag entry;
  entry.flag = std::string(flag.flag);
  entry.group = flag.group;
  entry.day = today();
  const auto noted = book.note_red_flag(*here, entry, author());
  if (!noted) {
    announce(true, say(noted.error()));
    return;
  }
  say_kept(book, say("stop.said", {say(flag.words)}));
}

screens::StopPanel App::Inside::stop_panel(Book& book) {
  const model::Athlete& athlete = book.athlete(*here);
  screens::StopPanel view;
  view.title = say("stop.title");
  view.words = {say("stop.what"), say("stop.who")};
  view.number_label = say("stop.number_label");
  view.number = settings.emergency_number;
  view.flags_label = say("stop.flags");
  for (const FlagWord& flag : known_flags()) {
    screens::FlagRow row{say(flag.words)};
    for (const model::RedFlag& noted : athlete.red_flags)
      if (noted.flag == flag.flag && !model::is_cleared(athlete, noted.id)) row.ticked = true;
    view.flags.push_back(std::move(row));
  }
  view.close_words = say("stop.close");
  return view;
}

}  // namespace slipway::app
