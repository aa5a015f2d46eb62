// Erasing an athlete for good, and the marks by which devices ask each other to.
//
// A mark is one op alone in a stream of its own, under an incarnation made for it: it tells neither who, nor when,
// nor how much there was. One from elsewhere asks, and deletes nothing. Where keys are in use, and a device brings it that
// is known by its key and has written about that athlete, they are out of sight at once: what the device of their own shows
// is not touched by that. What was erased is dropped at the door, whoever brings it, and counted.
#include <algorithm>
#include <charconv>
#include <chrono>
#include <string_view>

#include "app/book.h"
#include "app/book_scope.h"
#include "app/local_names.h"
#include "app/settings.h"
#include "ops/registry.h"
#include "ops/views.h"

namespace slipway::app {

namespace {

using ops::ChainedOp;

std::optional<EraseReason> reason_of(std::uint64_t code) {
  if (code < static_cast<std::uint64_t>(EraseReason::asked) || code > static_cast<std::uint64_t>(EraseReason::mistake)) return std::nullopt;
  return static_cast<EraseReason>(code);
}
std::optional<EraseReason> reason_of(const ChainedOp& mark) {
  const ops::Field* field = mark.op.find(ops::erase_tag::reason);
  return reason_of(field == nullptr ? 0 : ops::read_unsigned(*field).value_or(0));
}

// "key rest" lines of a local value.
std::vector<std::pair<std::string, std::string>> read_lines(const std::optional<model::Bytes>& value) {
  std::vector<std::pair<std::string, std::string>> lines;
  std::string_view text = value ? model::as_text(*value) : std::string_view();
  while (!text.empty()) {
    const std::string_view line = text.substr(0, text.find('\n'));
    const std::size_t space = line.find(' ');
    if (space != std::string_view::npos) lines.emplace_back(line.substr(0, space), line.substr(space + 1));
    text.remove_prefix(std::min(line.size() + 1, text.size()));
  }
  return lines;
}

model::Day newest_claim(const ops::Fold& fold) {
  model::Day newest{std::numeric_limits<std::int32_t>::min()};
  const auto claimed = [&newest](const ops::Stamp& stamp) { newest = std::max(newest, model::day_of(stamp.claimed)); };
  for (const auto& [id, record] : fold.records()) {
    if (record.created) claimed(*record.created);
    record.each_writer(claimed);
  }
  return newest;
}

model::Day months_before(model::Day day, int months) {
  using namespace std::chrono;
  year_month_day date{local_days{days{day.since_1970}}};
  date -= std::chrono::months{months};
  if (!date.ok()) date = date.year() / date.month() / last;
  return {static_cast<std::int32_t>(local_days{date}.time_since_epoch().count())};
}

}  // namespace

model::Result<model::Done> Book::erase(const model::ScopeId& id, std::string_view typed, EraseReason reason) {
  const auto found = open_scope(id);
  if (!found) return found.error();
  if (typed.empty() || typed != typed_to_erase(id)) return model::error(model::ErrorKind::invalid, "erase.other_name");
  // The notes first: cut short, the athlete is still there to be erased once more.
  std::vector<model::ScopeId> all;
  for (const auto& [other, scope] : scopes_)
    if (scope->what() == model::ScopeIs::coach_notes && scope->notes_of_coaches().athlete == id) all.push_back(other);
  all.push_back(id);
  for (const model::ScopeId& scope : all)
    if (const auto erased = erase_scope(scope, reason); !erased) return erased.error();
  (void)store_->compact();  // it is gone, and its bytes are overwritten: room is not worth a refusal
  return model::Done{};
}

std::string Book::typed_to_erase(const model::ScopeId& id) {
  constexpr std::size_t kSigns = 8;
  std::string name = athlete(id).name.value_or("");
  return name.empty() ? id.hex().substr(0, kSigns) : name;
}

model::Result<model::Done> Book::erase_scope(const model::ScopeId& id, EraseReason reason) {
  Scope& scope = scope_of(id);
  const bool confirms = !scope.erase_marks.empty();
  std::optional<ChainedOp> mark;
  if (confirms) {
    mark = scope.erase_marks.front();
  } else {
    ops::StreamId stream{id, {}};
    outside_.random.fill(stream.inc.bytes);
    ops::Pen pen(stream, 0, ops::genesis(stream));
    mark = pen.write_bare(ops::kind::erase, {ops::unsigned_field(ops::erase_tag::reason, static_cast<std::uint64_t>(reason))}, outside_.random);
  }
  clear_local_values(id);  // first: cut short here, an athlete has lost a draft and nothing else
  const auto reason_kept = static_cast<std::uint64_t>(confirms ? reason_of(*mark).value_or(reason) : reason);
  if (const auto erased = store_->erase({id, reason_kept, ops::make_chunks({*mark}).front()}); !erased) return erased;
  note_saving(store_->ticket(), {});
  forget_scope(id);
  open_profiles_.erase(id);
  return model::Done{};
}

void Book::forget_scope(const model::ScopeId& id) {
  turned_ += held_.op_count(id) + 1;
  held_.forget(id);
  scopes_.erase(id);
  waiting_keys_.clear();
  const auto forget = [&](std::vector<ChainedOp>& ops) {
    ops.erase(std::remove_if(ops.begin(), ops.end(), [&](const ChainedOp& op) { return op.stream.scope == id; }), ops.end());
    for (const ChainedOp& op : ops) waiting_keys_.insert(op.key());
  };
  forget(waiting_);
  for (Saving& saving : saving_) forget(saving.ops);
}

void Book::clear_local_values(const model::ScopeId& id) {
  if (const auto here = local(kHereName); here && model::equal(*here, id.view())) {
    set_local(kHereName, {});
    Settings::forget_person(*this);
  }
  set_local(kDraftName, {});
  set_local(std::string(kPinName) + id.hex(), {});
  set_local(std::string(kHealthName) + id.hex(), {});
  if (const std::string sealed = std::string(kLatePains) + "." + id.hex(); local(sealed)) set_local(sealed, {});
  late_of_sealed_.erase(id);
  for (const std::string_view name : {kLatePains, kMarksSeenName, kMarksHideName, kMarksShownName}) {
    std::string kept;
    const auto before = local(name);
    for (const auto& [scope, rest] : read_lines(before))
      if (scope != id.hex()) kept += scope + " " + rest + "\n";
    if (before && kept.size() != before->size()) set_local(name, model::as_bytes(kept));
  }
  auto out = handed_out();
  const std::size_t streams = out.size();
  for (auto at = out.begin(); at != out.end();) at = at->first.scope == id ? out.erase(at) : std::next(at);
  if (out.size() != streams) keep_handed_out(out);
}

std::vector<EraseRequest> Book::erase_requests() {
  std::vector<EraseRequest> requests;
  if (std::none_of(scopes_.begin(), scopes_.end(), [](const auto& one) { return !one.second->erase_marks.empty(); })) return requests;  // asked in every frame
  const auto seen = read_lines(local(kMarksSeenName));
  const auto hiding = read_lines(local(kMarksHideName));
  std::string lines;
  bool fresh = false;
  for (const auto& [id, scope] : scopes_) {
    if (scope->erase_marks.empty() || scope->only_marks() || scope->what() != model::ScopeIs::athlete) continue;
    const ChainedOp& mark = scope->erase_marks.front();
    EraseRequest request{.scope = id, .mark = mark.key(), .reason = reason_of(mark)};
    const auto line = std::find_if(seen.begin(), seen.end(), [&, key = id.hex()](const auto& one) { return one.first == key; });
    const auto day = line == seen.end() ? model::Result<model::Day>(model::day_of(now())) : model::read_day(line->second);
    if (day) request.asked_since = *day;
    fresh = fresh || line == seen.end();
    if (day) lines += id.hex() + " " + model::iso(*day) + "\n";
    request.hides = std::any_of(hiding.begin(), hiding.end(), [key = id.hex()](const auto& one) { return one.first == key; });
    requests.push_back(request);
  }
  if (fresh && !opening().read_only) set_local(kMarksSeenName, model::as_bytes(lines));
  return requests;
}

std::vector<model::ScopeId> Book::hidden() {
  std::vector<model::ScopeId> out;
  const auto hiding = read_lines(local(kMarksHideName));
  for (const auto& [scope, device] : hiding) {
    model::Bytes bytes;
    if (!model::read_hex(scope, bytes) || bytes.size() != sizeof(model::ScopeId::bytes)) continue;
    const auto found = scopes_.find(model::ScopeId::from(bytes));
    if (found != scopes_.end() && !found->second->only_marks()) out.push_back(found->first);
  }
  return out;
}

model::Result<model::Done> Book::show_again(const model::ScopeId& id) {
  std::string kept;
  for (const auto& [scope, device] : read_lines(local(kMarksHideName)))
    if (scope != id.hex()) kept += scope + " " + device + "\n";
  const auto shown = local(kMarksShownName);
  std::string all(shown ? model::as_text(*shown) : std::string_view());
  if (all.find(id.hex()) == std::string::npos) all += id.hex() + " again\n";  // the same mark comes with every bundle
  if (!set_local(kMarksHideName, model::as_bytes(kept)) || !set_local(kMarksShownName, model::as_bytes(all)))
    return model::error(model::ErrorKind::io, "setup.not_kept");
  return model::Done{};
}

// Before the fresh ops are held: what the sender has written about the athlete is what is here already. A mark that is known
// counts as well: it may have come first from somebody whose word does not hide.
void Book::note_marks(const sync::ReadBundle& read, const Sender& sender) {
  if (sender.state != Sender::State::known || !keys_.in_use()) return;
  const auto shown = read_lines(local(kMarksShownName));
  for (const ChainedOp& op : read.ops) {
    if (op.op.kind != ops::kind::erase || !held_.has_stream({op.stream.scope, read.bundle.created_by})) continue;
    if (std::any_of(shown.begin(), shown.end(), [key = op.stream.scope.hex()](const auto& one) { return one.first == key; })) continue;
    const auto kept = local(kMarksHideName);
    const std::string before(kept ? model::as_text(*kept) : std::string_view());
    const std::string line = op.stream.scope.hex() + " " + sender.device.hex() + "\n";
    if (before.find(op.stream.scope.hex()) == std::string::npos) set_local(kMarksHideName, model::as_bytes(before + line));
  }
}

model::Result<model::Done> Book::keep_erased_of(Book& other) {
  const auto theirs = other.store_->erased();
  const auto ours = store_->erased();
  if (!theirs || !ours) return !theirs ? theirs.error() : ours.error();
  for (const store::Erased& row : *theirs) {
    const auto here = scopes_.find(row.scope);
    if (here != scopes_.end() && !here->second->only_marks()) continue;  // the mark asks a person
    if (std::any_of(ours->begin(), ours->end(), [&](const store::Erased& known) { return known.scope == row.scope; })) continue;
    if (const auto kept = store_->erase(row); !kept) return kept;
    note_saving(store_->ticket(), {});
    forget_scope(row.scope);
  }
  return model::Done{};
}

std::vector<ErasedAthlete> Book::erased() {
  std::vector<ErasedAthlete> out;
  const auto rows = store_->erased();
  if (!rows) return out;
  const auto confirmed = read_lines(local(kMarksConfirmedName));
  for (const store::Erased& row : *rows) {
    ErasedAthlete gone{.scope = row.scope, .reason = reason_of(row.reason)};
    for (const auto& [scope, device] : confirmed) {
      model::Bytes bytes;
      if (scope == row.scope.hex() && model::read_hex(device, bytes)) gone.confirmed_by.push_back(model::DeviceId::from(bytes));
    }
    out.push_back(std::move(gone));
  }
  return out;
}

std::vector<model::ScopeId> Book::long_without_entry() {
  std::vector<model::ScopeId> out;
  const model::Day limit = months_before(model::day_of(now()), kRetentionMonths);
  for (const model::ScopeId& id : scopes()) {
    Scope& scope = *scopes_.at(id);
    if (!scope.newest_claim) scope.newest_claim = scope.peek(newest_claim);
    if (*scope.newest_claim < limit) out.push_back(id);
  }
  return out;
}

// A device that has erased them too says so by what it holds of them: the mark, and nothing else.
bool Book::confirms_erasing(const sync::ReadBundle& read, const model::ScopeId& scope) {
  std::uint64_t holds = 0;
  for (const auto& [stream, holding] : read.bundle.holdings) holds += stream.scope == scope ? holding.ranges.count() : 0;
  const bool mark = std::any_of(read.ops.begin(), read.ops.end(), [&](const ChainedOp& op) { return op.stream.scope == scope && op.op.kind == ops::kind::erase; });
  return holds == 1 && mark && !(read.bundle.device == opening().device);
}

void Book::note_confirmation(const model::DeviceId& device, const model::ScopeId& scope) {
  const std::string line = scope.hex() + " " + device.hex() + "\n";
  const auto kept = local(kMarksConfirmedName);
  std::string all(kept ? model::as_text(*kept) : std::string_view());
  if (all.find(line) == std::string::npos) set_local(kMarksConfirmedName, model::as_bytes(all + line));
}

model::Result<std::uint64_t> Book::drop_erased(sync::ReadBundle& read, std::vector<model::ScopeId>& confirmed) {
  const auto erased = store_->erased();
  if (!erased) return erased.error();
  std::vector<model::ScopeId> all;
  for (const store::Erased& gone : *erased) all.push_back(gone.scope);
  // Another coach's notes about one of them. Only those that are not here: nobody's word erases what is.
  for (const ChainedOp& op : read.ops) {
    const ops::Field* about = op.op.kind == ops::kind::coach_notes ? op.op.find(ops::coach_notes_tag::athlete) : nullptr;
    if (about == nullptr || about->payload.size() != sizeof(model::ScopeId::bytes) || held_.op_count(op.stream.scope) > 0) continue;
    const auto who = model::ScopeId::from(about->payload);
    if (std::any_of(erased->begin(), erased->end(), [&](const store::Erased& gone) { return gone.scope == who; })) all.push_back(op.stream.scope);
  }
  std::uint64_t dropped = 0;
  for (const model::ScopeId& gone : all) {
    const auto scope = std::find(read.bundle.scopes.begin(), read.bundle.scopes.end(), gone);
    if (scope == read.bundle.scopes.end()) continue;
    if (confirms_erasing(read, gone)) confirmed.push_back(gone);
    read.bundle.scopes.erase(scope);
    const auto of_them = [&](const auto& one) { return one.stream.scope == gone; };
    dropped += static_cast<std::uint64_t>(
        std::count_if(read.ops.begin(), read.ops.end(), [&](const ChainedOp& op) { return of_them(op) && op.op.kind != ops::kind::erase; }));
    read.ops.erase(std::remove_if(read.ops.begin(), read.ops.end(), of_them), read.ops.end());
    read.bundle.chunks.erase(std::remove_if(read.bundle.chunks.begin(), read.bundle.chunks.end(), of_them), read.bundle.chunks.end());
    for (auto at = read.bundle.holdings.begin(); at != read.bundle.holdings.end();)
      at = at->first.scope == gone ? read.bundle.holdings.erase(at) : std::next(at);
  }
  return dropped;
}

}  // namespace slipway::app
