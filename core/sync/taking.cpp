// What taking a bundle in would mean.
#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "ops/registry.h"
#include "sync/bundle.h"
#include "sync/door.h"
#include "sync/no_memory.h"

namespace slipway::sync {

namespace {

using ops::ChainedOp;
using ops::Ranges;
using ops::StreamId;

// The set held here as it will be: what is held, and all ops of the bundle.
class After {
 public:
  After(const ReadBundle& read, const ops::Held& held) : held_(held) {
    in_bundle_.reserve(read.ops.size());
    for (const ChainedOp& op : read.ops) in_bundle_.push_back(&op);
    const auto earlier = [](const ChainedOp* a, const ChainedOp* b) { return place_of(*a) < place_of(*b); };
    in_file_order_ = std::is_sorted(in_bundle_.begin(), in_bundle_.end(), earlier);
    if (!in_file_order_) std::sort(in_bundle_.begin(), in_bundle_.end(), earlier);
    for (const model::ScopeId& scope : read.bundle.scopes)
      for (const auto& [stream, holding] : held.holdings(scope)) ranges_[stream] = holding.ranges;
    for (const ops::Chunk& chunk : read.bundle.chunks) ranges_[chunk.stream].add(chunk.first_seq, chunk.last_seq);
  }

  // Most files are one writer's log: then the op in front says that nothing else stands at either place.
  bool plainly_joined(const ChainedOp& op, std::size_t place, const std::vector<ChainedOp>& all) const {
    const bool alone_after = place + 1 == all.size() || !(all[place + 1].seq == op.seq && all[place + 1].stream == op.stream);
    return in_file_order_ && place > 0 && all[place - 1].seq + 1 == op.seq && all[place - 1].hash == op.before && all[place - 1].stream == op.stream &&
           alone_after && !held_here(op.stream);
  }

  bool held_here(const StreamId& stream) const {  // anything of it
    if (!(asked_ && *asked_ == stream)) {
      asked_ = stream;
      asked_held_ = held_.has_stream(stream);
    }
    return asked_held_;
  }

  bool contains(const StreamId& stream, std::uint64_t seq, const model::Hash32& hash) const {
    if (held_.contains(stream, seq, hash)) return true;
    const auto at = first_at(stream, seq, hash);
    return at != in_bundle_.end() && place_of(**at) == std::tie(stream, seq, hash);
  }
  // Another op than this one stands at the place.
  bool another_at(const StreamId& stream, std::uint64_t seq, const model::Hash32& hash) const {
    if (held_.forks(stream, seq, hash)) return true;
    for (auto at = first_at(stream, seq, model::Hash32{}); at != in_bundle_.end(); ++at) {
      if (!((*at)->stream == stream) || (*at)->seq != seq) return false;
      if (!((*at)->hash == hash)) return true;
    }
    return false;
  }
  const Ranges& ranges(const StreamId& stream) { return ranges_[stream]; }

 private:
  using Ops = std::vector<const ChainedOp*>;
  static std::tuple<const StreamId&, const std::uint64_t&, const model::Hash32&> place_of(const ChainedOp& op) {
    return {op.stream, op.seq, op.hash};
  }
  Ops::const_iterator first_at(const StreamId& stream, std::uint64_t seq, const model::Hash32& hash) const {
    return std::lower_bound(in_bundle_.begin(), in_bundle_.end(), std::tie(stream, seq, hash),
                            [](const ChainedOp* op, const auto& wanted) { return place_of(*op) < wanted; });
  }

  const ops::Held& held_;
  Ops in_bundle_;
  bool in_file_order_ = false;
  mutable std::optional<StreamId> asked_;
  mutable bool asked_held_ = false;
  std::map<StreamId, Ranges> ranges_;
};

class Planner {
 public:
  Planner(const ReadBundle& read, const ops::Held& held, const model::IncarnationId& own)
      : read_(read), held_(held), own_(own), after_(read, held) {}

  model::Result<Taking> plan(const Door& door) {
    for (std::size_t i = 0; i < read_.ops.size(); ++i) take(i);
    for (const std::size_t fresh : fresh_)
      if (!after_.plainly_joined(read_.ops[fresh], fresh, read_.ops)) look_for_branches(read_.ops[fresh]);
    for (const auto& [stream, holding] : read_.bundle.holdings) look_at_head(stream, holding);
    for (const auto& [stream, ranges] : read_.lost) {
      streams_.insert(stream);
      announced_[stream].add(ranges);
    }
    name_gaps();
    if (const auto sane = check_counters(door); !sane) return sane.error();
    taking_.forks.assign(forks_.begin(), forks_.end());
    return std::move(taking_);
  }

  const std::vector<std::size_t>& fresh() const { return fresh_; }  // places in the bundle's ops

 private:
  void take(std::size_t place) {
    const ChainedOp& op = read_.ops[place];
    if (after_.held_here(op.stream) && held_.contains(op.stream, op.seq, op.hash)) {
      ++taking_.known;
      return;
    }
    if (!counted_ || !(last_ == op.stream)) {
      last_ = op.stream;
      counted_ = &fresh_in_scope_[op.stream.scope];
      streams_.insert(op.stream);
    }
    ++*counted_;
    if (op.stream.inc == own_) taking_.own_past = true;
    if (!ops::is_known(op.op)) ++taking_.not_understood;
    fresh_.push_back(place);
  }

  void look_for_branches(const ChainedOp& op) {
    if (after_.another_at(op.stream, op.seq, op.hash)) forks_.insert(op.stream);
    // It may also stand on a branch whose earlier ops are elsewhere: their place is taken here.
    if (op.seq > 1) needs(op.stream, op.seq - 1, op.before);
  }

  void look_at_head(const StreamId& stream, const ops::Holding& holding) {
    streams_.insert(stream);
    announced_[stream] = holding.ranges;
    if (stream.inc == own_ && !holding.ranges.without(held_ranges(stream)).empty()) taking_.own_past = true;
    if (const std::uint64_t end = holding.ranges.prefix_end(); end != 0) needs(stream, end, holding.prefix_hash);
  }

  // The op that must stand at a place; if another does, the stream has forked and this one is missing.
  void needs(const StreamId& stream, std::uint64_t seq, const model::Hash32& hash) {
    if (after_.contains(stream, seq, hash) || !after_.another_at(stream, seq, hash)) return;
    forks_.insert(stream);
    missing_branches_[stream].add(seq, seq);
  }

  Ranges held_ranges(const StreamId& stream) const {
    const auto holdings = held_.holdings(stream.scope);
    const auto found = holdings.find(stream);
    return found == holdings.end() ? Ranges{} : found->second.ranges;
  }

  void name_gaps() {
    for (const StreamId& stream : streams_) {
      Ranges wanted = announced_[stream];
      const Ranges& here = after_.ranges(stream);
      if (here.top() != 0) wanted.add(1, here.top());  // the chain needs everything below
      Ranges gaps = wanted.without(here);
      gaps.add(missing_branches_[stream]);
      for (const ops::Range& range : gaps.spans()) taking_.missing.push_back({stream, range});
      missing_in_scope_[stream.scope] += gaps.count();
    }
  }

  // In one scope an honest lam is at most the number of ops that its writer can have seen,
  // and one (sync-and-storage 2). A tripwire: the announced part is the sender's own word.
  model::Result<model::Done> check_counters(const Door& door) {
    std::map<model::ScopeId, std::uint64_t> highest_lam;
    for (const auto& [scope, fresh] : fresh_in_scope_) highest_lam[scope] = held_.op_count(scope) + fresh + missing_in_scope_[scope] + 1;
    const StreamId* of = nullptr;
    std::uint64_t highest = 0;
    for (const std::size_t fresh : fresh_) {
      const ChainedOp& op = read_.ops[fresh];
      if (!of || !(*of == op.stream)) highest = highest_lam[op.stream.scope];
      of = &op.stream;
      if (op.op.lam > highest)
        return model::error(model::ErrorKind::damaged, "bundle.lam",
                            {std::string(door.file_name), op.stream.inc.hex().substr(0, 8) + ":" + std::to_string(op.seq),
                             std::to_string(op.op.lam), std::to_string(highest)});
    }
    return model::Done{};
  }

  const ReadBundle& read_;
  const ops::Held& held_;
  const model::IncarnationId& own_;
  After after_;
  Taking taking_;
  std::vector<std::size_t> fresh_;
  std::set<StreamId> streams_, forks_;
  StreamId last_;  // whose scope is counted in
  std::uint64_t* counted_ = nullptr;
  std::map<StreamId, Ranges> announced_, missing_branches_;
  std::map<model::ScopeId, std::uint64_t> missing_in_scope_, fresh_in_scope_;
};

}  // namespace

model::Result<Taking> plan_taking(const ReadBundle& bundle, const ops::Held& held, const model::IncarnationId& own,
                                  const std::string& file_name) {
  return or_no_memory<Taking>([&] {
    Planner planner(bundle, held, own);
    auto taking = planner.plan(Door{file_name});
    if (taking)
      for (const std::size_t fresh : planner.fresh()) taking->fresh.push_back(bundle.ops[fresh]);
    return taking;
  });
}

model::Result<Taking> plan_taking(ReadBundle&& bundle, const ops::Held& held, const model::IncarnationId& own,
                                  const std::string& file_name) {
  return or_no_memory<Taking>([&] {
    Planner planner(bundle, held, own);
    auto taking = planner.plan(Door{file_name});
    if (taking)
      for (const std::size_t fresh : planner.fresh()) taking->fresh.push_back(std::move(bundle.ops[fresh]));
    return taking;
  });
}

}  // namespace slipway::sync
