// The present standing dose from what was prescribed and what was first done (handbook 6.1).
#include <algorithm>

#include "rules/decide.h"
#include "rules/record.h"

namespace slipway::rules {

namespace {

SessionSituation bare(const std::vector<SessionFact>& history, const std::vector<PainReport>& pains, const Athlete& athlete, Day today) {
  SessionSituation out;
  out.today = today;
  out.athlete = athlete;
  out.history = history;
  out.pains = pains;
  return out;
}

// The doses that were done from one prescription on, until the next one.
struct Walk {
  PlanLine line;
  const Record& record;

  bool concerns(const ExerciseDone& done) const {
    if (!completed(done) || is_passing(done) || done.test) return false;
    const std::string& exercise = line.standing.exercise;
    if (done.exercise == exercise) return true;
    return done.written && done.written->stands_for == exercise && done.written->standing.exercise == done.exercise;
  }

  void take(const SessionFact& session) {
    for (const ExerciseDone& done : session.exercises) {
      if (!concerns(done)) continue;
      if (done.written && !done.written->standing.exercise.empty() && !(done.written->standing == line.standing)) {
        line.standing = done.written->standing;
        line.start = done.written->start.exercise.empty() ? std::optional(line.standing) : done.written->start;
        line.by_coach = done.written->by_coach;
      }
    }
  }

  // A load the athlete chose or went up to takes effect with its own session.
  void choose(const Record& until) {
    const StandingDose chosen = with_chosen_load(until, line.standing, line.since);
    if (chosen == line.standing) return;
    if (line.start) line.start->load_g = chosen.load_g;
    line.standing = chosen;
    line.by_coach = false;
  }
};

}  // namespace

PlanLine present_line(const std::vector<Prescribed>& prescribed, const std::vector<SessionFact>& history, const std::vector<PainReport>& pains,
                      const Athlete& athlete, Day today) {
  std::vector<Prescribed> rising = prescribed;
  std::erase_if(rising, [&](const Prescribed& dose) { return today < dose.since; });
  if (rising.empty() && !prescribed.empty()) rising.push_back(prescribed.front());  // nothing holds yet: the first to come
  std::stable_sort(rising.begin(), rising.end(), [](const Prescribed& a, const Prescribed& b) { return a.since < b.since; });
  const SessionSituation situation = bare(history, pains, athlete, today);
  const Record record = read_record(situation);
  Walk walk{{}, record};
  for (std::size_t i = 0; i < rising.size(); ++i) {
    // Written again as it stands: no change, the counters go on.
    if (i == 0 || !(rising[i].dose == walk.line.standing)) {
      walk.line = PlanLine{rising[i].dose, rising[i].dose, rising[i].since, rising[i].by_coach};
    }
    for (std::uint32_t index : record.order) {
      const SessionFact& session = record.session(index);
      const bool before = session.day < rising[i].since;
      const bool after = i + 1 < rising.size() && !(session.day < rising[i + 1].since);
      if (before || after) continue;
      walk.take(session);
      Record until = record;
      until.order.erase(std::find(until.order.begin(), until.order.end(), index) + 1, until.order.end());
      walk.choose(until);
    }
  }
  return walk.line;
}

Ages ages_on(Day day, std::int32_t birth_year, std::optional<std::uint32_t> birth_month) {
  const std::string text = model::iso(day);  // "2026-11-25"
  const auto digits = [&](std::size_t from, std::size_t count) {
    std::int32_t value = 0;
    for (std::size_t i = from; i < from + count && i < text.size(); ++i) value = value * 10 + (text[i] - '0');
    return value;
  };
  const std::int32_t years = digits(0, 4) - birth_year;
  if (!birth_month) return {years - 1, years};  // 0.4: the lowest and the highest age the year allows
  const std::int32_t month = digits(5, 2), born = static_cast<std::int32_t>(*birth_month);
  if (month == born) return {years - 1, years};  // in that month itself the lower, from 50 on the higher
  const std::int32_t exact = month > born ? years : years - 1;
  return {exact, exact};
}

}  // namespace slipway::rules
