// Bundles out and in.
#include <algorithm>

#include "app/archive.h"
#include "app/book.h"
#include "app/book_scope.h"
#include "app/local_names.h"
#include "ops/registry.h"
#include "ops/views.h"
#include "report/words.h"

namespace slipway::app {

namespace {

std::string span_text(const sync::Gap& gap) {
  return std::to_string(gap.range.first) + "–" + std::to_string(gap.range.last) + " (" + gap.stream.inc.hex().substr(0, 8) + ")";
}

std::uint64_t ops_in(const std::vector<ops::Chunk>& chunks) {
  std::uint64_t count = 0;
  for (const ops::Chunk& chunk : chunks) count += chunk.last_seq - chunk.first_seq + 1;
  return count;
}

sync::PeerWord word_of(const store::Peer& peer) { return {peer.inc, peer.export_counter, peer.holds}; }

// The kind of the record that an op writes to: its own, or its target's.
std::uint32_t record_kind(const ops::ChainedOp& op, const ops::Fold& fold) {
  if (op.op.kind != ops::kind::change) return op.op.kind;
  const ops::Field* field = op.op.find(ops::tag::target);
  const auto target = field == nullptr ? std::nullopt : ops::read_refs(*field, op.stream.inc);
  const ops::Record* record = target && target->size() == 1 ? fold.find(target->front()) : nullptr;
  return record == nullptr ? op.op.kind : record->kind;
}

constexpr std::size_t kDeviceSigns = 4;

// "Juno, Odd and 3 more".
std::string names_of(const std::vector<std::string>& names) {
  constexpr std::size_t kNamed = 3;
  std::string out;
  for (std::size_t i = 0; i < std::min(kNamed, names.size()); ++i) out += (i == 0 ? "" : ", ") + names[i];
  return names.size() <= kNamed ? out : report::say("bundle.and_more", {out, report::number(names.size() - kNamed)});
}

// A stranger's bundle, where keys are in use: what a person is asked.
model::Error stranger(const std::string& file_name, const Sender& sender, std::uint64_t fresh, std::uint64_t known) {
  std::vector<std::string> args{file_name, std::to_string(fresh), std::to_string(known)};
  if (sender.state == Sender::State::not_signed) return model::error(model::ErrorKind::unconfirmed, "bundle.not_signed", std::move(args));
  args.push_back(sender.device.hex().substr(0, kDeviceSigns));
  args.push_back(sender.digits);
  const char* text = sender.state == Sender::State::other_key ? "bundle.other_key" : "bundle.unknown_device";
  return model::error(model::ErrorKind::unconfirmed, text, std::move(args));
}

bool is_stranger(const Sender& sender) { return sender.state != Sender::State::known && sender.state != Sender::State::own; }

}  // namespace

std::vector<model::ScopeId> Book::scopes_of(const HandOver& asked) const {
  std::vector<model::ScopeId> out = asked.athletes.empty() ? scopes() : asked.athletes;
  if (asked.athletes.empty())
    for (const auto& [id, scope] : scopes_)
      if (scope->only_marks()) out.push_back(id);
  if (asked.libraries)
    for (const model::ScopeId& id : libraries()) out.push_back(id);
  if (asked.coach_notes)
    for (const model::ScopeId& id : coach_notes()) {
      const model::ScopeId about = scopes_.at(id)->notes_of_coaches().athlete;
      if (asked.athletes.empty() || std::find(asked.athletes.begin(), asked.athletes.end(), about) != asked.athletes.end()) out.push_back(id);
    }
  std::sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

model::Result<std::vector<ops::Chunk>> Book::chunks_of_scope(const model::ScopeId& id) {
  auto chunks = store_->chunks(id);
  if (!chunks) return chunks.error();
  std::vector<ops::ChainedOp> waiting;
  for (const ops::ChainedOp& op : waiting_)
    if (op.stream.scope == id) waiting.push_back(op);
  for (ops::Chunk& chunk : chunks_of(waiting)) chunks->push_back(std::move(chunk));
  return std::move(*chunks);
}

model::Result<std::vector<ops::Chunk>> Book::going_out(const model::ScopeId& id, const std::optional<model::DeviceId>& to) {
  auto chunks = chunks_of_scope(id);
  if (!chunks || !to) return chunks;
  const auto peers = store_->peers(id);
  if (!peers) return peers.error();
  for (const store::Peer& peer : *peers)
    if (peer.device == *to) return sync::lacking(*chunks, held_, peer.holds);
  return chunks;
}

// ---- what has left this device --------------------------------------------------------------------------

std::map<ops::StreamId, ops::Ranges> Book::handed_out() {
  std::map<ops::StreamId, ops::Ranges> out;
  const auto bytes = local(kHandedOutName);
  if (!bytes) return out;
  std::size_t at = 0;
  const auto fixed = [&](auto& id) {
    if (id.bytes.size() > bytes->size() - at) return false;
    id = std::decay_t<decltype(id)>::from(model::ByteView(*bytes).subspan(at, id.bytes.size()));
    at += id.bytes.size();
    return true;
  };
  ops::StreamId stream;
  while (at < bytes->size() && fixed(stream.scope) && fixed(stream.inc)) {
    std::uint64_t spans = 0, first = 0, last = 0;
    if (!ops::get_varint(*bytes, at, spans)) break;
    for (; spans > 0 && ops::get_varint(*bytes, at, first) && ops::get_varint(*bytes, at, last); --spans)
      if (first >= 1 && first <= last && last < ops::kCounterCeiling) out[stream].add(first, last);
  }
  return out;
}

void Book::note_handed_out(const std::vector<ops::Chunk>& chunks) {
  auto all = handed_out();
  handed_out_before_ = local(kHandedOutName).value_or(model::Bytes{});
  for (const ops::Chunk& chunk : chunks) all[chunk.stream].add(chunk.first_seq, chunk.last_seq);
  keep_handed_out(all);
}

void Book::keep_handed_out(const std::map<ops::StreamId, ops::Ranges>& all) {
  model::Bytes bytes;
  for (const auto& [stream, ranges] : all) {
    model::append(bytes, stream.scope.view());
    model::append(bytes, stream.inc.view());
    ops::put_varint(bytes, ranges.spans().size());
    for (const ops::Range& span : ranges.spans()) {
      ops::put_varint(bytes, span.first);
      ops::put_varint(bytes, span.last);
    }
  }
  set_local(kHandedOutName, bytes);  // refused, the texts are shown once more: no harm
}

model::Result<Book::GoesOut> Book::preview(const HandOver& asked) {
  GoesOut out;
  const auto before = handed_out();
  const auto all_libraries = libraries();
  const auto all_notes = coach_notes();
  for (const model::ScopeId& id : scopes_of(asked)) {
    rest_folds();
    const auto whole = chunks_of_scope(id);
    if (!whole) return whole.error();
    const auto chunks = going_out(id, asked.to);
    if (!chunks) return chunks.error();
    if (std::binary_search(all_libraries.begin(), all_libraries.end(), id)) ++out.libraries;
    else if (std::binary_search(all_notes.begin(), all_notes.end(), id)) ++out.coach_notes;
    else out.athletes.push_back(id);
    out.entries += ops_in(*chunks);
    out.held_there += ops_in(*whole) - ops_in(*chunks);
    const auto found = scopes_.find(id);
    for (const ops::Chunk& chunk : *chunks) {
      const auto read = ops::read_chunk(chunk);
      if (!read) return read.error();
      const auto gone = before.find(chunk.stream);
      for (const ops::ChainedOp& op : *read) {
        out.sets += op.op.kind == ops::kind::set ? 1 : 0;
        if (gone != before.end() && gone->second.contains(op.seq)) continue;
        const ops::Field* said_author = op.op.find(ops::tag::author);
        const std::uint64_t author = said_author == nullptr ? 0 : ops::read_unsigned(*said_author).value_or(0);
        const std::uint32_t kind = found == scopes_.end() ? op.op.kind : record_kind(op, found->second->fold());
        for (const ops::Field& field : op.op.fields)
          if (const auto text = ops::read_text(field); text && !text->empty() && ops::is_free_text(kind, field.tag))
            out.first_time.push_back({id, std::string(ops::find_kind(kind)->name), std::string(ops::find_field(kind, field.tag)->name), std::string(*text),
                                      author});
      }
    }
  }
  return out;
}

model::Result<sync::Bundle> Book::bundle_of(const HandOver& asked) {
  const auto erased = store_->erased();
  if (!erased) return erased.error();
  sync::Bundle bundle;
  bundle.device = opening().device;
  bundle.created_by = opening().inc;
  bundle.scopes = scopes_of(asked);
  // A full or read-only store must still be able to hand over: then the counter stays what it was.
  const auto counter = store_->next_export_counter();
  bundle.export_counter = counter ? *counter : 0;
  for (const model::ScopeId& scope : bundle.scopes) {
    const ops::Holdings holdings = held_.holdings(scope);
    bundle.holdings.insert(holdings.begin(), holdings.end());
    auto chunks = going_out(scope, asked.to);
    if (!chunks) return chunks.error();
    for (ops::Chunk& chunk : *chunks) bundle.chunks.push_back(std::move(chunk));
  }
  for (const store::Erased& gone : *erased) {  // all that this device holds of them
    const bool wanted = asked.athletes.empty() || std::find(asked.athletes.begin(), asked.athletes.end(), gone.scope) != asked.athletes.end();
    if (!wanted) continue;
    const auto mark = ops::read_chunk(gone.marker);
    if (!mark) return mark.error();
    ops::Held alone;
    alone.add(mark->front());
    const ops::Holdings holdings = alone.holdings();
    bundle.scopes.push_back(gone.scope);
    bundle.holdings.insert(holdings.begin(), holdings.end());
    bundle.chunks.push_back(gone.marker);
  }
  return bundle;
}

model::Result<std::vector<Book::PeerKnown>> Book::peers() {
  std::map<model::DeviceId, PeerKnown> known;
  for (const auto& [id, scope] : scopes_) {
    const auto peers = store_->peers(id);
    if (!peers) return peers.error();
    for (const store::Peer& peer : *peers) {
      const auto chunks = going_out(id, peer.device);
      if (!chunks) return chunks.error();
      PeerKnown& one = known[peer.device];
      one.device = peer.device;
      one.claimed = std::max(one.claimed, peer.claimed);
      one.export_counter = std::max(one.export_counter, peer.export_counter);
      one.lacks += ops_in(*chunks);
    }
  }
  std::vector<PeerKnown> out;
  for (auto& [device, one] : known) out.push_back(std::move(one));
  return out;
}

// What the sender says of each scope that the bundle is about, where that tells more than what it said before.
model::Result<std::vector<store::Peer>> Book::peers_said(const sync::Bundle& bundle) {
  std::vector<store::Peer> out;
  if (bundle.device == opening().device && bundle.created_by == opening().inc) return out;  // a file of our own
  for (const model::ScopeId& scope : bundle.scopes) {
    sync::PeerWord said{bundle.created_by, bundle.export_counter, {}};
    for (const auto& [stream, holding] : bundle.holdings)
      if (stream.scope == scope) said.holds.emplace(stream, holding);
    const auto peers = store_->peers(scope);
    if (!peers) return peers.error();
    std::optional<sync::PeerWord> known;
    for (const store::Peer& peer : *peers)
      if (peer.device == bundle.device) known = word_of(peer);
    sync::PeerWord counts = sync::newer_word(known, said, scope);
    if (known && counts == *known) continue;
    out.push_back({bundle.device, scope, counts.inc, counts.export_counter, model::iso(now()), std::move(counts.holds)});
  }
  return out;
}

model::Result<Book::Packed> Book::packed(const sync::Bundle& bundle, const OutSeal& how) {
  Packed out{.open = {}, .envelope = {}, .passphrase = {}, .cost = how.cost};
  const auto squad = keys_.squad();
  if (how.whom == OutSeal::For::coach && !squad) return model::error(model::ErrorKind::not_found, "key.no_squad");
  // A coach who was paired with another one still hands out what swimmers can read.
  if (how.whom == OutSeal::For::coach || (how.whom == OutSeal::For::usual && squad && !keys_.coach())) {
    out.envelope = {sync::Envelope::How::to_keys, {squad->seal_to}};
  } else if (how.whom == OutSeal::For::passphrase) {
    out.envelope.how = sync::Envelope::How::by_passphrase;
    out.passphrase = how.passphrase;
  }
  const auto key = keys_.signing_key();
  const auto signing = key ? std::optional(sync::Signing{*key, out.envelope}) : std::nullopt;
  auto file = sync::write_bundle(bundle, {}, sync::Packing::packed, signing ? &*signing : nullptr);
  if (!file) return file.error();
  out.open = std::move(*file);
  return out;
}

model::Result<model::Bytes> Book::sealed(Packed packed) {
  if (packed.envelope.how == sync::Envelope::How::open) return std::move(packed.open);
  return sync::seal(packed.open, {.to = packed.envelope.to, .passphrase = packed.passphrase, .cost = packed.cost}, outside_.random);
}

model::Result<model::Bytes> Book::seal_file(model::ByteView file, const std::string& passphrase, const sync::PassphraseCost& cost) {
  return sync::seal(file, {.to = {}, .passphrase = passphrase, .cost = cost}, outside_.random);
}

model::Result<model::Bytes> Book::make_bundle(const HandOver& asked, const OutSeal& how) {
  const auto bundle = bundle_of(asked);
  if (!bundle) return bundle.error();
  auto open = packed(*bundle, how);
  if (!open) return open.error();
  auto file = sealed(std::move(*open));
  if (file) note_handed_out(bundle->chunks);
  return file;
}

model::Result<OutBundle> Book::make_proven_bundle(const HandOver& asked, const OutSeal& how, const std::string& file_name) {
  const auto bundle = bundle_of(asked);
  if (!bundle) return bundle.error();
  auto open = packed(*bundle, how);
  if (!open) return open.error();
  auto proven = sync::read_inside(open->open, file_name, open->envelope);
  if (!proven) return proven.error();
  OutBundle out{.file = {}, .inside = std::move(*proven)};
  if (open->envelope.how == sync::Envelope::How::to_keys) out.sealed_for = keys_.squad();
  auto file = sealed(std::move(*open));
  if (!file) return file.error();
  note_handed_out(bundle->chunks);
  out.file = std::move(*file);
  return out;
}

model::Result<sync::ReadBundle> Book::read_bundle(const std::string& file_name, model::ByteView file, const std::string& passphrase) {
  auto read = sync::read_bundle(file, file_name, {}, keys_.keyring(passphrase));
  if (read || read.error().text != "bundle.sealed_other") return read;
  const auto coach = keys_.coach();
  if (!coach || coach->usable) return read;
  if (passphrase.empty()) return model::error(model::ErrorKind::sealed, "bundle.sealed_locked", {file_name});
  if (const auto opened = keys_.unlock_coach_key(passphrase); !opened) return model::error(opened.error().kind, "bundle.sealed_wrong", {file_name});
  return sync::read_bundle(file, file_name, {}, keys_.keyring(passphrase));
}

model::Result<Archive> Book::export_everything(std::vector<model::ScopeId> scopes) { return make_archive(*store_, waiting_, std::move(scopes)); }

// Athletes of whom nothing is here, where somebody is: their names, as those who added them wrote them.
std::vector<std::string> Book::others_in(const std::vector<ops::ChainedOp>& fresh) const {
  std::map<model::ScopeId, std::string> names;
  std::set<model::ScopeId> no_athletes;
  if (scopes().empty()) return {};
  for (const ops::ChainedOp& op : fresh) {
    const model::ScopeId& scope = op.stream.scope;
    const auto here = scopes_.find(scope);
    if (op.op.kind == ops::kind::erase || (here != scopes_.end() && !here->second->only_marks())) continue;
    if (op.op.kind == ops::kind::library || op.op.kind == ops::kind::coach_notes) no_athletes.insert(scope);
    std::string& name = names[scope];
    const ops::Field* said = op.op.kind == ops::kind::athlete ? op.op.find(ops::athlete_tag::name) : nullptr;
    if (const auto text = said == nullptr ? std::nullopt : ops::read_text(*said)) name = std::string(*text);
  }
  std::vector<std::string> out;
  for (const auto& [scope, name] : names)
    if (no_athletes.count(scope) == 0) out.push_back(name.empty() ? report::say("who.nameless") : name);
  return out;
}

model::Result<TakenIn> Book::take_in(const std::string& file_name, model::ByteView file, const TakeInWish& wish) {
  if (const auto may = writable(); !may) return may.error();
  if (sync::is_squad_file(file)) {
    auto joined = keys_.join(file, file_name, wish.confirmed);
    if (!joined) return joined.error();
    return TakenIn{.file_name = file_name, .file_hash = ops::blake2b(file), .missing = {}, .squad = std::move(*joined)};
  }
  const bool open_form = sync::is_open_form(file);
  auto read = open_form ? sync::read_entries(file, file_name) : read_bundle(file_name, file, wish.passphrase);
  if (!read) return read.error();
  if (auto shut = refuse_shut(*read, file_name)) return *shut;
  std::vector<model::ScopeId> confirmed;
  const auto dropped = drop_erased(*read, confirmed);
  if (!dropped) return dropped.error();
  auto plan = sync::plan_taking(*read, held_, opening().inc, file_name);
  if (!plan) return plan.error();
  const Sender sender = keys_.sender_of(*read);
  if (!plan->fresh.empty() && is_stranger(sender) && keys_.in_use() && !wish.confirmed) return stranger(file_name, sender, plan->fresh.size(), plan->known);
  if (wish.ones_own)
    if (const std::string names = names_of(others_in(plan->fresh)); !names.empty()) return model::error(model::ErrorKind::unconfirmed, "bundle.others", {file_name, names});
  if (!plan->fresh.empty() && nearly_full()) return model::error(model::ErrorKind::full, "store.nearly_full", {file_name});

  TakenIn report{.file_name = file_name,
                 .file_hash = read->file_hash,
                 .fresh = plan->fresh.size(),
                 .known = plan->known,
                 .not_understood = plan->not_understood,
                 .fresh_sets = static_cast<std::uint64_t>(std::count_if(plan->fresh.begin(), plan->fresh.end(),
                                                                        [](const ops::ChainedOp& op) { return op.op.kind == ops::kind::set; })),
                 .forks = plan->forks.size(),
                 .missing = {},
                 .own_past = plan->own_past,
                 .sender = sender,
                 .envelope = read->envelope,
                 .dropped = *dropped};
  for (const sync::Gap& gap : plan->missing) report.missing.push_back(span_text(gap));

  // Where keys are in use nobody may say for another device what it holds: that would keep entries from it.
  const bool believed = !keys_.in_use() || !is_stranger(sender) || wish.confirmed;
  const auto said = believed ? peers_said(read->bundle) : model::Result<std::vector<store::Peer>>(std::vector<store::Peer>());
  if (!said) return said.error();
  const store::ImportLine line{read->file_hash, file_name, model::iso(now()), report.fresh, report.known, report.not_understood, report.forks};
  // All of it is new, and much: it stays packed as it came.
  const bool as_it_came = read->run && plan->fresh.size() == read->ops.size() && read->ops.size() >= store::kLeastPackedOps &&
                          read->run->last_seq - read->run->first_seq + 1 == read->ops.size();
  const bool own_fork = std::any_of(plan->forks.begin(), plan->forks.end(),
                                    [this](const ops::StreamId& stream) { return stream.inc == opening().inc; });
  // Going on under the old writer id would give two ops one place (sync-and-storage 3). First: cut short between the two, a new
  // id is begun for nothing, and no entry goes on under the old one.
  if (report.own_past || own_fork)
    if (const auto anew = begin_anew(); !anew) return anew.error();
  const auto taken = as_it_came ? store_->take_in({}, line, *said, {&*read->run, 1}) : store_->take_in(chunks_of(plan->fresh), line, *said);
  if (!taken) return taken.error();
  note_saving(store_->ticket(), {});
  view_due_ = true;
  note_marks(*read, sender);
  for (const model::ScopeId& scope : confirmed)
    if (believed) note_confirmation(read->bundle.device, scope);
  const model::ScopeId* last = nullptr;
  for (const ops::ChainedOp& op : plan->fresh) {
    if (last != nullptr && !(*last == op.stream.scope)) rest_folds();  // a whole squad may be in one file
    last = &op.stream.scope;
    scope_of(op.stream.scope).add(op);
    held_.add(op);
  }
  note_late_pains(plan->fresh);
  rest_folds();
  if (const auto done = seal_new_notes(); !done) trouble_ = done.error();  // what came is in; tidy() tries it again
  if (!plan->fresh.empty()) keys_.meet(*read);
  return report;
}

model::Result<model::Done> Book::begin_anew() {
  const auto minted = store_->mint_incarnation();
  if (minted)
    for (auto& [id, scope] : scopes_) scope->pen.reset();
  return minted;
}

}  // namespace slipway::app
