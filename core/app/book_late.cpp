// What came too late, and what stands twice at one place: for the coach's eyes.
#include <algorithm>
#include <utility>

#include "app/book_scope.h"
#include "app/local_names.h"
#include "ops/registry.h"

namespace slipway::app {

namespace {


// What the coach wrote last in the plan: by the moment claimed, and by its count in the scope.
struct PlanWord {
  std::int64_t claimed_ms = 0;
  std::uint64_t lam = 0;
};

PlanWord last_plan_word(const ops::Fold& fold) {
  PlanWord last;
  for (const auto& [id, record] : fold.records()) {
    if (record.kind != ops::kind::prescription && record.kind != ops::kind::programme && record.kind != ops::kind::overrule) continue;
    record.each_writer([&last](const ops::Stamp& by) {
      if (by.author != static_cast<std::uint64_t>(Author::coach)) return;
      last.claimed_ms = std::max(last.claimed_ms, by.claimed.local_ms);
      last.lam = std::max(last.lam, by.lam);
    });
  }
  return last;
}

struct Noted {
  model::ScopeId scope;
  model::RecordId pain;
  std::uint64_t lam = 0;  // of the scope when it arrived: a later word in the plan knew of it
};

// Lines "scope pain lam"; what cannot be read is not there.
std::vector<Noted> read_noted(std::string_view text) {
  std::vector<Noted> out;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    const std::string_view line = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    const std::size_t first = line.find(' '), second = line.rfind(' ');
    if (first == std::string_view::npos || second <= first) continue;
    Noted one;
    model::Bytes scope;
    if (!model::read_hex(line.substr(0, first), scope) || scope.size() != one.scope.bytes.size()) continue;
    if (!model::read_op_key(line.substr(first + 1, second - first - 1), one.pain)) continue;
    one.scope = model::ScopeId::from(scope);
    bool digits = second + 1 < line.size();
    for (const char sign : line.substr(second + 1)) {
      digits = digits && sign >= '0' && sign <= '9';
      one.lam = digits ? one.lam * 10 + static_cast<std::uint64_t>(sign - '0') : 0;
    }
    if (digits) out.push_back(one);
  }
  return out;
}

}  // namespace

void Book::note_late_pains(const std::vector<ops::ChainedOp>& fresh) {
  std::string lines;
  for (const ops::ChainedOp& op : fresh) {
    if (op.op.kind != ops::kind::pain) continue;
    rest_folds();
    const ops::Fold& fold = scope_of(op.stream.scope).fold();
    const ops::Record* record = fold.find(op.key());
    if (record == nullptr || !record->created) continue;
    // Earlier by either measure: the clocks may be wrong, and a writer who had seen the plan counts on from it.
    const PlanWord plan = last_plan_word(fold);
    if (plan.claimed_ms <= record->created->claimed.local_ms && plan.lam <= record->created->lam) continue;
    lines += op.stream.scope.hex() + " " + model::to_text(op.key()) + " " + std::to_string(fold.lam()) + "\n";
  }
  if (lines.empty()) return;
  const auto before = local(kLatePains);
  const std::string all = (before ? std::string(model::as_text(*before)) : std::string()) + lines;
  set_local(kLatePains, model::as_bytes(all));
  for (const auto& [scope, by] : open_profiles_) seal_late_pains(scope);
}

std::vector<Book::LatePain> Book::late_pains(const model::ScopeId& scope_id) {
  std::vector<LatePain> out;
  const auto noted = local(kLatePains);
  const auto found = scopes_.find(scope_id);
  if (found == scopes_.end()) return out;
  std::vector<Noted> of_this_one = read_noted(noted ? model::as_text(*noted) : std::string_view());
  if (const auto sealed = late_of_sealed_.find(scope_id); sealed != late_of_sealed_.end())
    for (const Noted& one : read_noted(sealed->second)) of_this_one.push_back(one);
  std::erase_if(of_this_one, [&](const Noted& one) { return !(one.scope == scope_id); });
  if (of_this_one.empty()) return out;
  const std::uint64_t planned = found->second->peek(last_plan_word).lam;
  const model::Athlete& who = athlete(scope_id);
  for (const Noted& one : of_this_one) {
    if (planned > one.lam) continue;
    for (const model::Pain& pain : who.pains)
      if (pain.id == one.pain && !pain.resolved && !pain.withdrawn && !model::is_cleared(who, pain.id))
        out.push_back({pain.id, pain.region, model::day_of(pain.by.claimed)});
  }
  return out;
}

namespace {

std::string sealed_name(const model::ScopeId& scope) { return std::string(kLatePains) + "." + scope.hex(); }

// The lines about one scope, and all others.
std::pair<std::string, std::string> parted(std::string_view text, const model::ScopeId& scope) {
  std::pair<std::string, std::string> out;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    (text.starts_with(scope.hex()) ? out.first : out.second) += std::string(text.substr(0, end)) + "\n";
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return out;
}

}  // namespace

// That somebody hurt, and a hash of it, stands nowhere in the clear.
void Book::seal_late_pains(const model::ScopeId& scope) {
  const auto noted = local(kLatePains);
  const auto by = open_profiles_.find(scope);
  if (!noted || by == open_profiles_.end()) return;
  const auto [about, others] = parted(model::as_text(*noted), scope);
  if (about.empty()) return;
  std::string& all = late_of_sealed_[scope];
  all += about;
  if (set_local(sealed_name(scope), by->second->seal(model::as_bytes(all), model::as_bytes(sealed_name(scope))))) set_local(kLatePains, model::as_bytes(others));
}

void Book::unseal_late_pains(const model::ScopeId& scope) {
  const auto about = late_of_sealed_.find(scope);
  if (about == late_of_sealed_.end()) return;
  const auto noted = local(kLatePains);
  const std::string all = (noted ? std::string(model::as_text(*noted)) : std::string()) + about->second;
  if (set_local(kLatePains, model::as_bytes(all))) set_local(sealed_name(scope), {});
  late_of_sealed_.erase(about);
}

void Book::read_sealed_late_pains(const model::ScopeId& scope) {
  const auto sealed = local(sealed_name(scope));
  const auto by = open_profiles_.find(scope);
  if (!sealed || sealed->empty() || by == open_profiles_.end()) return;
  if (const auto text = by->second->open(*sealed, model::as_bytes(sealed_name(scope)))) late_of_sealed_[scope] = std::string(model::as_text(*text));
}

std::vector<model::IncarnationId> Book::forks(const model::ScopeId& scope_id) const {
  std::vector<model::IncarnationId> out;
  for (const auto& [stream, holding] : held_.holdings(scope_id))
    if (holding.forked) out.push_back(stream.inc);
  return out;
}

}  // namespace slipway::app
