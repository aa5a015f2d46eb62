// The tables of an archive: what stands now, one line a session, set and pain report. Columns are described in
// FORMAT.txt; a column is never renamed, new ones come last.
#include "app/archive.h"
#include "report/csv.h"
#include "report/words.h"

namespace slipway::app {

namespace {

using report::csv_row;

std::string text_of(std::uint64_t value) { return std::to_string(value); }
std::string text_of(const model::Quantity& value) { return model::number_text(value) + " " + (value.unit == model::Unit::lb ? "lb" : "kg"); }
std::string text_of(model::Day day) { return model::iso(day); }
std::string text_of(const model::Finish& finish) {
  return (finish.effort_tenths ? text_of(*finish.effort_tenths) : "") + "/" + (finish.minutes ? text_of(*finish.minutes) : "");
}

template <class T>
std::string or_nothing(const std::optional<T>& value) {
  return value ? text_of(*value) : std::string();
}
template <class T>
std::string first_of(const model::Versions<T>& versions) {
  return versions.empty() ? std::string() : text_of(*versions.first());
}
std::string yes_or_nothing(bool truth) { return truth ? "yes" : ""; }

// The values that stand beside the first one, where nobody has chosen: "reps 9; load 24 kg".
class Others {
 public:
  template <class T>
  Others& add(const char* field, const model::Versions<T>& versions) {
    for (std::size_t i = 1; i < versions.all.size(); ++i) all_ += (all_.empty() ? "" : "; ") + std::string(field) + " " + text_of(versions.all[i].value);
    return *this;
  }
  const std::string& all() const { return all_; }

 private:
  std::string all_;
};

std::string id_of(const model::RecordId& id) { return id.seq == 0 ? std::string() : model::to_text(id); }
std::string name_of(const model::Athlete& athlete) { return athlete.name.value_or(""); }
std::string unit_of(const model::Quantity* load) { return load == nullptr ? "" : load->unit == model::Unit::lb ? "lb" : "kg"; }
std::string typed(const model::Quantity* load) { return load == nullptr ? std::string() : model::number_text(*load); }
std::string grams(const model::Quantity* load) { return load == nullptr ? std::string() : std::to_string(model::grams(*load)); }

std::string side_of(const std::optional<model::Side>& side) { return !side ? "" : *side == model::Side::left ? "left" : "right"; }
std::string pain_side(const std::optional<std::uint64_t>& side) {
  return side == 1 ? "left" : side == 2 ? "right" : side == 3 ? "both" : "";
}

std::string short_word(const std::optional<model::ShortReason>& reason) {
  if (!reason) return "";
  switch (*reason) {
    case model::ShortReason::no_time: return "no_time";
    case model::ShortReason::kit_busy: return "kit_busy";
    case model::ShortReason::too_hard: return "too_hard";
    case model::ShortReason::pain: return "pain";
    case model::ShortReason::other: return "other";
  }
  return "";
}

std::string set_row(const model::Athlete& athlete, const model::SetDone& set, bool taken_back) {
  const model::Session* session = model::find_session(athlete, set.session);
  const model::Quantity* written = set.written_load ? &*set.written_load : nullptr;
  return csv_row({athlete.scope.hex(), name_of(athlete), session == nullptr ? std::string() : first_of(session->training_day), id_of(set.session), id_of(set.id),
                  set.exercise, text_of(set.round), first_of(set.reps), typed(set.load.first()), unit_of(set.load.first()), grams(set.load.first()),
                  first_of(set.rir), or_nothing(set.written_reps), typed(written), unit_of(written), side_of(set.side), set.band, set.grip,
                  yes_or_nothing(set.warm_up), yes_or_nothing(set.form_broke), yes_or_nothing(set.two_more), yes_or_nothing(set.left_out),
                  yes_or_nothing(set.corrected), yes_or_nothing(set.revived), yes_or_nothing(taken_back), model::iso(set.by.claimed),
                  report::author_word(set.by.author), set.by.op.inc.hex(), Others().add("reps", set.reps).add("load", set.load).add("rir", set.rir).all()});
}

}  // namespace

std::string sessions_head() {
  return csv_row({"athlete", "name", "session", "day", "programme_day", "title", "begun", "author", "device", "sets", "minutes", "effort_tenths", "short_reason",
                  "finished", "other_values"});
}

std::string sessions_rows(const model::Athlete& athlete) {
  std::string rows;
  for (const model::Session& session : athlete.sessions) {
    const model::Finish* finish = session.finish.first();
    rows += csv_row({athlete.scope.hex(), name_of(athlete), id_of(session.id), first_of(session.training_day), or_nothing(session.programme_day), session.title,
                     model::iso(session.by.claimed), report::author_word(session.by.author), session.by.op.inc.hex(), text_of(session.sets.size()),
                     finish == nullptr ? std::string() : or_nothing(finish->minutes), finish == nullptr ? std::string() : or_nothing(finish->effort_tenths),
                     finish == nullptr ? std::string() : short_word(finish->short_reason), yes_or_nothing(finish != nullptr),
                     Others().add("day", session.training_day).add("effort_tenths/minutes", session.finish).all()});
  }
  return rows;
}

std::string sets_head() {
  return csv_row({"athlete", "name", "day", "session", "set", "exercise", "round", "reps", "load", "unit", "load_g", "rir", "written_reps", "written_load",
                  "written_unit", "side", "band", "grip", "warm_up", "form_broke", "two_more", "left_out", "corrected", "revived", "taken_back", "done", "author",
                  "device", "other_values"});
}

std::string sets_rows(const model::Athlete& athlete) {
  std::string rows;
  for (const model::Session& session : athlete.sessions)
    for (const model::SetDone& set : session.sets) rows += set_row(athlete, set, false);
  for (const model::SetDone& set : athlete.taken_back) rows += set_row(athlete, set, true);
  return rows;
}

std::string pain_head() {
  return csv_row({"athlete", "name", "report", "region", "band", "amount", "side", "exercise", "session", "settled", "in_swim", "resolved", "withdrawn", "reported",
                  "author", "device"});
}

std::string pain_rows(const model::Athlete& athlete) {
  std::string rows;
  for (const model::Pain& pain : athlete.pains)
    rows += csv_row({athlete.scope.hex(), name_of(athlete), id_of(pain.id), pain.region, text_of(pain.band), or_nothing(pain.amount), pain_side(pain.side),
                     pain.exercise, pain.session ? id_of(*pain.session) : std::string(), !pain.settled ? "" : *pain.settled ? "yes" : "no",
                     yes_or_nothing(pain.in_swim), yes_or_nothing(pain.resolved), yes_or_nothing(pain.withdrawn), model::iso(pain.by.claimed),
                     report::author_word(pain.by.author), pain.by.op.inc.hex()});
  return rows;
}

}  // namespace slipway::app
