// What the coach does on a swimmer's page: sign off, overrule, withdraw, note a clearance.
#include <algorithm>
#include <charconv>

#include "app/overloaded.h"
#include "app/swimmer_desk.h"
#include "report/words.h"
#include "rules/decide.h"

namespace slipway::app {

using report::number;
using report::say;
using screens::AskAt;
using screens::FormKind;
using screens::FormPart;

namespace {

enum class AskPart : std::uint32_t { choice, word, sets, reps, load, note };
constexpr std::uint32_t kLighterPercent = 10;
constexpr std::size_t kForCoaches = 0;  // who reads a note: nobody else, unless it is said

FormPart part(FormKind kind, AskPart id, std::string label) {
  FormPart out;
  out.kind = kind;
  out.id = screens::number_of(id);
  out.label = std::move(label);
  return out;
}

FormPart typed(AskPart id, std::string label, std::string value, bool a_number) {
  FormPart out = part(FormKind::field, id, std::move(label));
  out.value = std::move(value);
  out.number = a_number;
  return out;
}

std::optional<std::uint64_t> whole(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  std::uint64_t value = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
  if (text.empty() || read.ec != std::errc{} || read.ptr != text.data() + text.size()) return std::nullopt;
  return value;
}

// As it would be typed: the unit only where it is not the usual one here.
std::string typed_load(const model::Quantity& load, model::Unit usual) {
  const std::string typed_number = model::number_text(load);
  if (load.unit == usual) return typed_number;
  return typed_number + (load.unit == model::Unit::lb ? " lb" : " kg");
}

struct Span {
  std::uint64_t low = 0, high = 0;
};
// "8", "8-12", "8–12".
std::optional<Span> reps_range(std::string_view text) {
  constexpr std::string_view kDash = "\xE2\x80\x93";
  std::size_t at = text.find('-'), width = 1;
  if (at == std::string_view::npos) {
    at = text.find(kDash);
    width = kDash.size();
  }
  if (at == std::string_view::npos) {
    const auto one = whole(text);
    return one ? std::optional<Span>({*one, *one}) : std::nullopt;
  }
  const auto low = whole(text.substr(0, at)), high = whole(text.substr(at + width));
  return low && high ? std::optional<Span>({*low, *high}) : std::nullopt;
}

const char* word_of(Instead choice) {
  switch (choice) {
    case Instead::hold: return "hold";
    case Instead::lighter: return "lighter";
    case Instead::own: return "own";
    default: return "as_planned";
  }
}

// 10 % down as the kit allows; nothing: no such load here.
std::optional<std::int64_t> lighter_load(const rules::StandingDose& standing, const rules::Kit& kit) {
  if (!standing.load_g || *standing.load_g <= 0 || !kit.loads_g) return std::nullopt;
  return rules::load_cut(*standing.load_g, kLighterPercent, *kit.loads_g);
}

// A clearance as the form asks for it; the second word allows training again.
constexpr std::size_t kSeen = 0, kAllowed = 1, kNotSaid = 2;

}  // namespace

bool sign_off_now(Desk& desk, const model::ScopeId& scope, const std::string& exercise, model::SignOffLevel level) {
  model::SignOff seen;
  seen.exercise = exercise;
  seen.level = level;
  seen.day = desk.today;
  seen.role = model::AdultRole::coach;
  return told(desk, desk.book.sign_off(scope, seen, desk.author()),
              say("swimmer.said_signed", {movement_name(exercise), say(level == model::SignOffLevel::loaded ? "swimmer.loaded" : "swimmer.sound")}));
}

std::vector<Instead> SwimmerDesk::choices_of(Desk& desk, std::size_t decision) {
  const DayPlan& now = plan(desk);
  const PlanRow* row = row_at(desk, decision);
  model::Overrule asked;  // what nobody may overrule here has no choices
  asked.row = row_overruled(desk, decision);
  asked.day = now.today;
  asked.note = say("swimmer.no_note");
  if (row != nullptr) asked.exercise = row->decision.line.empty() ? standing_of(desk, *row).exercise : row->decision.line;
  if (!desk.book.may_overrule(*scope_, asked, desk.author())) return {};
  if (row == nullptr) return now.decision.whether == rules::Whether::stop ? std::vector<Instead>{} : std::vector<Instead>{Instead::as_planned};
  if (row->recorded) return {};  // shown when the session was opened: it stays as it was shown
  if (!row->trains() || !row->swapped_from.empty()) return {Instead::as_planned};
  if (row->decision.increase) return {Instead::hold, Instead::lighter, Instead::own};
  if (row->decision.row.row == "R22" || row->decision.row.row == "R21") return {Instead::lighter, Instead::own};
  return {Instead::lighter, Instead::as_planned, Instead::own};
}

std::string SwimmerDesk::choice_words(Desk& desk, std::size_t decision, Instead choice) {
  const PlanRow* row = row_at(desk, decision);
  if (choice == Instead::hold) return say("swimmer.choose_hold");
  if (choice == Instead::own) return say("swimmer.choose_own");
  if (choice == Instead::as_planned) return say(row == nullptr ? "swimmer.choose_today" : "swimmer.choose_as_planned");
  const rules::StandingDose standing = standing_of(desk, *row);
  if (const auto load = lighter_load(standing, plan(desk).situation.kit))
    return say("swimmer.choose_lighter", {model::to_text(load_as_here(desk.book.athlete(*scope_), *load))});
  return say("swimmer.choose_fewer", {number(std::max<std::uint64_t>(1, standing.sets - 1))});
}

screens::AskPanel SwimmerDesk::ask_panel(Desk& desk) {
  screens::AskPanel panel;
  panel.at = ask_->at;
  panel.index = static_cast<std::uint32_t>(ask_->index);
  panel.keep_words = say("swimmer.keep");
  panel.leave_words = say("swimmer.leave");
  FormPart note = typed(AskPart::note, say("swimmer.note_label"), ask_->note, false);
  note.detail = say("swimmer.note_detail");
  if (ask_->at == AskAt::sign_off) {
    const auto all = exercises(desk);
    panel.title = say("swimmer.withdraw_title", {ask_->index < all.size() ? movement_name(all[ask_->index]) : ""});
    note.refused = ask_->refused;
    panel.parts.push_back(std::move(note));
    return panel;
  }
  FormPart choice = part(FormKind::choices, AskPart::choice, "");
  if (ask_->at == AskAt::note) {
    panel.title = say("swimmer.write_note");
    note.label = say("swimmer.note_text");
    note.detail = say(ask_->choice == kForCoaches ? "swimmer.note_for_coaches" : "swimmer.note_detail");
    note.refused = ask_->refused;
    choice.label = say("swimmer.note_who");
    choice.choices = {{.label = say("swimmer.note_coaches"), .chosen = ask_->choice == kForCoaches}, {.label = say("swimmer.note_both"), .chosen = ask_->choice != kForCoaches}};
    panel.parts = {std::move(note), std::move(choice)};
    return panel;
  }
  choice.refused = ask_->refused;
  if (ask_->at == AskAt::clearance) {
    panel.title = say("swimmer.clearance_title");
    choice.label = say("swimmer.clearance_of");
    for (const Reported& one : reported(desk)) choice.choices.push_back({.label = one.covers == "general" ? say("swimmer.general") : capital(region_words(one.covers)), .chosen = choice.choices.size() == ask_->choice});
    FormPart word = part(FormKind::choices, AskPart::word, say("swimmer.clearance_word"));
    word.choices = {{.label = say("swimmer.clearance_seen"), .chosen = ask_->word == kSeen}, {.label = say("swimmer.clearance_allowed"), .chosen = ask_->word == kAllowed}};
    panel.parts = {std::move(choice), std::move(word), std::move(note)};
    return panel;
  }
  const PlanRow* row = row_at(desk, ask_->index);
  panel.title = say("swimmer.instead_title", {row == nullptr ? say("swimmer.whole_session") : capital(row->rung->name)});
  const auto choices = choices_of(desk, ask_->index);
  choice.label = say("swimmer.instead_of", {row_overruled(desk, ask_->index)});
  for (std::size_t i = 0; i < choices.size(); ++i) choice.choices.push_back({.label = choice_words(desk, ask_->index, choices[i]), .chosen = i == ask_->choice});
  panel.parts.push_back(std::move(choice));
  if (ask_->choice < choices.size() && choices[ask_->choice] == Instead::own) {
    panel.parts.push_back(typed(AskPart::sets, say("swimmer.own_sets"), ask_->sets, true));
    panel.parts.push_back(typed(AskPart::reps, say("swimmer.own_reps"), ask_->reps, false));
    if (const model::Rung* rung = model::find_rung(standing_of(desk, *row).exercise); rung != nullptr && rung->loaded)
      panel.parts.push_back(typed(AskPart::load, say(desk.settings.unit == model::Unit::lb ? "swimmer.own_load_lb" : "swimmer.own_load_kg"), ask_->load, true));
  }
  panel.parts.push_back(std::move(note));
  return panel;
}

void SwimmerDesk::act(Desk& desk, const screens::AskAnswer& given) {
  if (!ask_ || !desk.settings.is_coach()) return;
  const screens::FormAnswer& answer = given.part;
  ask_->refused.clear();
  switch (static_cast<AskPart>(answer.id)) {
    case AskPart::choice: ask_->choice = answer.choice; break;
    case AskPart::word: ask_->word = answer.choice; break;
    case AskPart::sets: ask_->sets = answer.text; break;
    case AskPart::reps: ask_->reps = answer.text; break;
    case AskPart::load: ask_->load = answer.text; break;
    case AskPart::note: ask_->note = answer.text; break;
  }
}

void SwimmerDesk::ask_clearance(Desk& desk) {
  if (!reported(desk).empty()) ask_ = Ask{.at = AskAt::clearance, .word = kNotSaid};  // nobody's word is put into a mouth
}

void SwimmerDesk::keep_overruling(Desk& desk) {
  const auto choices = choices_of(desk, ask_->index);
  if (ask_->choice >= choices.size()) return;
  const Instead choice = choices[ask_->choice];
  const PlanRow* row = row_at(desk, ask_->index);
  model::Overrule overrule;
  overrule.day = plan(desk).today;
  overrule.row = row_overruled(desk, ask_->index);
  overrule.note = ask_->note.find_first_not_of(' ') == std::string::npos ? say("swimmer.no_note") : ask_->note;  // asked, never forced
  overrule.choice = word_of(choice);
  PlanLineEntry change;
  bool changes = false;
  if (row != nullptr) {
    const model::Athlete& athlete = desk.book.athlete(*scope_);
    const rules::StandingDose standing = standing_of(desk, *row);
    overrule.exercise = row->decision.line.empty() ? standing.exercise : row->decision.line;
    // The coach writes a line whole: where the log has moved the rung, that rung is meant.
    if (choice == Instead::lighter || choice == Instead::own) {
      changes = true;
      change.exercise = standing.exercise;
      change.sets = standing.sets;
      change.reps = standing.lo;
      change.reps_high = standing.hi;
      if (standing.load_g) change.load = load_as_here(athlete, *standing.load_g);
    }
    if (choice == Instead::lighter) {
      if (const auto load = lighter_load(standing, plan(desk).situation.kit)) change.load = load_as_here(athlete, *load);
      else change.sets = std::max<std::uint64_t>(1, standing.sets - 1);
    }
    if (choice == Instead::own) {
      const auto sets = whole(ask_->sets);
      const auto reps = reps_range(ask_->reps);
      if (!sets || !reps) {
        ask_->refused = say("swimmer.own_refused");
        return;
      }
      change.sets = *sets;
      change.reps = reps->low;
      change.reps_high = reps->high;
      if (change.load || !ask_->load.empty()) {
        const auto load = model::read_quantity(ask_->load, desk.settings.unit);
        if (!load) {
          ask_->refused = say(load.error());
          return;
        }
        change.load = *load;
      }
    }
    overrule.sets = change.sets;
    overrule.reps = change.reps;
    overrule.reps_high = change.reps_high;
    overrule.load = change.load;
  }
  const std::optional<model::RecordId> line = row == nullptr ? std::nullopt : std::optional(row->line);
  // The overruling first: a row that nobody may overrule moves no line of the plan either.
  const auto may = desk.book.overrule(*scope_, overrule, desk.author());
  if (!may) {
    ask_->refused = say(may.error());
    desk.announce(true, ask_->refused);
    return;
  }
  if (changes) {
    const auto written = desk.book.change_plan_line(*scope_, *line, change, desk.author());
    if (!written) {
      ask_->refused = say(written.error());
      desk.announce(true, ask_->refused);
      return;
    }
  }
  ask_.reset();
  desk.announce(false, say("swimmer.said_overruled"));
}

void SwimmerDesk::keep_withdrawal(Desk& desk) {
  const auto all = exercises(desk);
  if (ask_->index >= all.size()) return;
  const auto done = desk.book.withdraw_sign_off(*scope_, all[ask_->index], ask_->note, desk.today, model::AdultRole::coach, desk.author());
  if (told(desk, done, say("swimmer.said_withdrawn", {movement_name(all[ask_->index])}))) ask_.reset();
  else ask_->refused = say(done.error());
}

void SwimmerDesk::keep_clearance(Desk& desk) {
  const auto parts = reported(desk);
  if (ask_->choice >= parts.size()) return;
  if (ask_->word != kSeen && ask_->word != kAllowed) {
    ask_->refused = say("swimmer.clearance_what");
    desk.announce(true, ask_->refused);
    return;
  }
  const Reported& part_cleared = parts[ask_->choice];
  model::Clearance clearance;
  clearance.covers = part_cleared.covers;
  clearance.note = ask_->note;
  clearance.role = model::ClearanceRole::coach;
  clearance.day = desk.today;
  clearance.reports = part_cleared.reports;
  clearance.clinician_allowed = ask_->word == kAllowed;
  const auto done = desk.book.note_clearance(*scope_, clearance, desk.author());
  if (told(desk, done, say("swimmer.said_cleared"))) ask_.reset();
  else ask_->refused = say(done.error());
}

void SwimmerDesk::keep_note(Desk& desk) {
  const auto done = desk.book.add_note(*scope_, {.text = ask_->note, .about = {}, .day = desk.today, .coach_only = ask_->choice == kForCoaches}, desk.author());
  if (told(desk, done, say("swimmer.said_note"))) ask_.reset();
  else ask_->refused = say(done.error());
}

void SwimmerDesk::keep(Desk& desk) {
  if (!ask_) return;
  switch (ask_->at) {
    case AskAt::decision: keep_overruling(desk); break;
    case AskAt::sign_off: keep_withdrawal(desk); break;
    case AskAt::clearance: keep_clearance(desk); break;
    case AskAt::note: keep_note(desk); break;
  }
}

void SwimmerDesk::act(Desk& desk, const screens::SquadIntent& intent) {
  if (!scope_) return;
  const bool may = desk.settings.is_coach() && desk.may_write();
  std::visit(Overloaded{
                 [&](const screens::SignOffDecision& press) {
                   const PlanRow* row = row_at(desk, press.decision);
                   if (!may || row == nullptr) return;
                   const std::string exercise = standing_of(desk, *row).exercise;
                   sign_off_now(desk, *scope_, exercise, level_to_sign(desk.book.athlete(*scope_), exercise, desk.today));
                 },
                 [&](const screens::OverruleDecision& press) {
                   if (!may || choices_of(desk, press.decision).empty()) return;
                   ask_ = Ask{.at = AskAt::decision, .index = press.decision};
                   if (const PlanRow* row = row_at(desk, press.decision)) {
                     const rules::StandingDose standing = standing_of(desk, *row);
                     ask_->sets = number(standing.sets);
                     ask_->reps = standing.lo == standing.hi ? number(standing.lo) : say("swimmer.range", {number(standing.lo), number(standing.hi)});
                     if (standing.load_g) ask_->load = typed_load(load_as_here(desk.book.athlete(*scope_), *standing.load_g), desk.settings.unit);
                   }
                 },
                 [&](const screens::WhyDecision& press) {
                   const auto open_at = std::find(why_open_.begin(), why_open_.end(), press.decision);
                   if (open_at == why_open_.end()) why_open_.push_back(press.decision);
                   else why_open_.erase(open_at);
                 },
                 [&](const screens::SignOff& press) {
                   const auto all = exercises(desk);
                   if (may && press.row < all.size()) sign_off_now(desk, *scope_, all[press.row], press.loaded ? model::SignOffLevel::loaded : model::SignOffLevel::sound);
                 },
                 [&](const screens::WithdrawSignOff& press) {
                   if (may && press.row < exercises(desk).size()) ask_ = Ask{.at = AskAt::sign_off, .index = press.row};
                 },
                 [&](const screens::NoteClearance&) { if (may) ask_clearance(desk); },
                 [&](const screens::KeepAsk&) { if (may) keep(desk); },
                 [&](const screens::LeaveAsk&) { ask_.reset(); },
                 [&](const screens::PressSwimmerKey& press) {
                   if (press.key == 0) {
                     desk.be_here(*scope_);
                     desk.go(screens::Place::session);
                   } else if (press.key == 1) {
                     desk.open_facts(*scope_);
                     desk.go(screens::Place::setup);
                   } else if (press.key == 2 && may) {
                     ask_ = Ask{.at = AskAt::note};
                   }
                 },
                 [](const auto&) {}},
             intent);
}

}  // namespace slipway::app
