#include <algorithm>
#include <iostream>
#include <map>

#include "answers.h"
#include "commands.h"
#include "ops/held.h"
#include "ops/registry.h"
#include "ops/views.h"
#include "report/words.h"
#include "taking_in.h"
#include "whole_files.h"

namespace slipway::native {

namespace {

using model::ErrorKind;

bool by_drawing_order(const ops::ChainedOp& a, const ops::ChainedOp& b) {
  return a.op.lam != b.op.lam ? a.op.lam < b.op.lam : a.key() < b.key();
}

std::uint64_t count_sets(const std::vector<ops::ChainedOp>& ops) {
  return static_cast<std::uint64_t>(std::count_if(ops.begin(), ops.end(), [](const ops::ChainedOp& op) { return op.op.kind == ops::kind::set; }));
}

model::Result<app::Book::HandOver> asked_hand_over(Desk& desk) {
  const Request& asked = desk.request();
  const auto scopes = asked_athletes(desk);
  if (!scopes) return scopes.error();
  app::Book::HandOver out{.athletes = *scopes, .libraries = asked.libraries, .coach_notes = asked.coach_notes};
  if (asked.peer.empty()) return out;
  const auto peers = desk.book().peers();
  if (!peers) return peers.error();
  std::vector<model::DeviceId> found;
  for (const app::Book::PeerKnown& peer : *peers)
    if (peer.device.hex().starts_with(asked.peer)) found.push_back(peer.device);
  if (found.empty()) return model::error(ErrorKind::not_found, "cli.peer_unknown", {asked.peer});
  if (found.size() > 1) return model::error(ErrorKind::invalid, "cli.peer_ambiguous", {asked.peer, std::to_string(found.size())});
  out.to = found.front();
  return out;
}

model::Result<app::OutSeal> asked_seal(const Request& asked) {
  using For = app::OutSeal::For;
  auto passphrase = asked_passphrase(asked);
  if (!passphrase) return passphrase.error();
  app::OutSeal how{.whom = asked.open ? For::open : asked.for_coach ? For::coach : For::usual, .passphrase = std::move(*passphrase)};
  if (!how.passphrase.empty()) how.whom = For::passphrase;
  return how;
}

// A bundle ends with the hash that names it.
model::Hash32 hash_in(model::ByteView file) { return model::Hash32::from(file.last(model::Hash32{}.bytes.size())); }

// What a store that held just this file would show.
class FoldedFile {
 public:
  explicit FoldedFile(const sync::ReadBundle& bundle) {
    for (const model::ScopeId& scope : bundle.bundle.scopes) folds_.emplace(scope, ops::Fold(scope));
    for (const ops::ChainedOp& op : bundle.ops) {
      folds_.at(op.stream.scope).add(op);  // read_bundle lets no other scope in
      held_.add(op);
    }
    for (const auto& [scope, fold] : folds_)
      if (ops::scope_is(fold) == model::ScopeIs::athlete) read_sets(ops::read_athlete(fold));
  }
  const std::vector<Person>& people() const { return people_; }
  const LookedSet* find(const ops::ChainedOp& op) const {
    const auto found = sets_.find({op.stream.scope, op.key()});
    return found == sets_.end() ? nullptr : &found->second;
  }
  app::Digests digests() const {
    std::vector<const ops::Fold*> views;
    for (const auto& [scope, fold] : folds_) views.push_back(&fold);
    return {held_.digest(), ops::digest_of_views(views)};
  }

 private:
  void read_sets(const model::Athlete& athlete) {
    const std::string name = athlete.name.value_or("");
    people_.push_back({athlete.scope, name});
    for (const model::Session& session : athlete.sessions) {
      const model::Day* day = session.training_day.first();
      for (const model::SetDone& set : session.sets)
        sets_[{athlete.scope, set.id}] = {name, day == nullptr ? std::nullopt : std::optional(*day), set, false};
    }
    for (const model::SetDone& set : athlete.taken_back) sets_[{athlete.scope, set.id}] = {name, std::nullopt, set, true};
  }

  std::map<model::ScopeId, ops::Fold> folds_;
  std::map<std::pair<model::ScopeId, model::RecordId>, LookedSet> sets_;
  std::vector<Person> people_;
  ops::Held held_;
};

// What is sealed to a coach's key is opened with the one of the store.
model::Result<sync::ReadBundle> read_for_looking(Desk& desk, const std::string& path, model::ByteView bytes) {
  const auto passphrase = asked_passphrase(desk.request());
  if (!passphrase) return passphrase.error();
  auto bundle = sync::read_bundle(bytes, path, {}, {{}, *passphrase});
  if (bundle || bundle.error().text != "bundle.sealed_other") return bundle;
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return bundle;
  return desk.book().read_bundle(path, bytes, *passphrase);
}

model::Result<Looked> look_at(Desk& desk, const std::string& path) {
  const auto bytes = read_whole(path);
  if (!bytes) return bytes.error();
  auto bundle = read_for_looking(desk, path, *bytes);
  if (!bundle) return bundle.error();
  const FoldedFile folded(*bundle);
  Looked looked{.file = path, .bytes = bytes->size(), .bundle = std::move(*bundle), .athletes = folded.people(), .ops = {}, .sets = {}, .digests = folded.digests()};
  looked.ops = looked.bundle.ops;
  std::sort(looked.ops.begin(), looked.ops.end(), by_drawing_order);
  for (const ops::ChainedOp& op : looked.ops)
    if (op.op.kind == ops::kind::set)
      if (const LookedSet* set = folded.find(op)) looked.sets.push_back(*set);
  return looked;
}

}  // namespace

model::Result<std::vector<model::ScopeId>> asked_athletes(Desk& desk) {
  std::vector<model::ScopeId> scopes;
  for (const std::string& who : desk.request().athletes) {
    const auto found = desk.book().find_athlete(who);
    if (!found) return found.error();
    scopes.push_back(*found);
  }
  return scopes;
}

int run_bundle_preview(Desk& desk) {
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto asked = asked_hand_over(desk);
  if (!asked) return desk.refuse(asked.error());
  const auto out = desk.book().preview(*asked);
  if (!out) return desk.refuse(out.error());
  Preview preview{*out, {}};
  for (const model::ScopeId& scope : out->athletes) preview.athletes.push_back({scope, desk.book().athlete(scope).name.value_or("")});
  return desk.answer(json::preview(preview), words::preview(preview));
}

int run_bundle_peers(Desk& desk) {
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto peers = desk.book().peers();
  if (!peers) return desk.refuse(peers.error());
  return desk.answer(json::peers(*peers), words::peers(*peers));
}

int run_bundle_taken(Desk& desk) {
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto taken = desk.book().taken_in();
  if (!taken) return desk.refuse(taken.error());
  return desk.answer(json::taken_in(*taken), words::taken_in(*taken));
}

int run_bundle_make(Desk& desk) {
  const Request& asked = desk.request();
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto hand_over = asked_hand_over(desk);
  if (!hand_over) return desk.refuse(hand_over.error());
  const bool has_library = hand_over->libraries && !desk.book().libraries().empty();
  if (desk.book().scopes().empty() && desk.book().erased().empty() && !has_library) return desk.refuse(nobody_here(desk.book()));
  const auto how = asked_seal(asked);
  if (!how) return desk.refuse(how.error());
  const auto bundle = desk.book().make_proven_bundle(*hand_over, *how, asked.out);
  if (!bundle) return desk.refuse(bundle.error());
  const std::string armoured = asked.text ? sync::armour(bundle->file) : "";
  const model::ByteView out = asked.text ? model::as_bytes(armoured) : model::ByteView(bundle->file);
  const auto written = desk.write_out(asked.out, out, asked.replace ? IfThere::replace : IfThere::refuse);
  if (!written) {
    desk.book().not_copied();  // its texts have not left
    return desk.refuse(written.error());
  }
  Made made{.file = asked.out, .bytes = out.size(), .text = asked.text, .hash = hash_in(bundle->file).hex(), .athletes = {},
            .ops = bundle->inside.ops.size(), .sets = count_sets(bundle->inside.ops), .envelope = bundle->inside.envelope,
            .coach = bundle->sealed_for ? bundle->sealed_for->coach : ""};
  const auto& inside = bundle->inside.bundle.scopes;
  for (const model::ScopeId& scope : desk.book().scopes())
    if (std::binary_search(inside.begin(), inside.end(), scope)) made.athletes.push_back({scope, desk.book().athlete(scope).name.value_or("")});
  return desk.answer(json::made(made), words::made(made));
}

int run_bundle_look(Desk& desk) {
  const auto looked = look_at(desk, desk.request().files.front());
  if (!looked) return desk.refuse(looked.error());
  return desk.answer(json::looked(*looked), words::looked(*looked));
}

int run_bundle_merge(Desk& desk) {
  const Request& asked = desk.request();
  if (const auto opened = desk.open(IfNoStore::begin_one); !opened) return desk.refuse(opened.error());
  Merged merged;
  const auto wish = asked_wish(asked);
  if (!wish) return desk.refuse(wish.error());
  for (const std::string& path : asked.files) {
    merged.files.push_back(take_file(desk.book(), path, *wish));
    // Each line as soon as its file is done: a long row of files shows how far it is.
    if (!asked.json) std::cout << words::merged_file(merged.files.back()) << std::flush;
  }
  return answer_taken(desk, std::move(merged));
}

}  // namespace slipway::native
