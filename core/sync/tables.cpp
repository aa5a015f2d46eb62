#include "sync/tables.h"

#include <algorithm>

#include "sync/archive.h"
#include "sync/bundle_v0.h"

namespace slipway::sync {

using ops::StreamId;

namespace {

// The place of an id in a sorted table that holds it.
template <class Id>
std::uint64_t place_in(const std::vector<Id>& table, const Id& id) {
  return static_cast<std::uint64_t>(std::lower_bound(table.begin(), table.end(), id) - table.begin());
}

template <class Id>
bool strictly_rising(const std::vector<Id>& table) {
  return std::adjacent_find(table.begin(), table.end(), [](const Id& a, const Id& b) { return !(a < b); }) == table.end();
}

template <class Struct>
model::Bytes encode(const Struct& value) {
  SlipOut out;
  out(value);
  return std::move(out).bytes();
}

template <class Struct>
model::Result<Struct> decode(model::ByteView section, std::string_view place, std::uint64_t at, const Door& door) {
  Struct value;
  SlipIn in(section, v0::kElementBudget);
  in(value);
  if (in.over_budget()) return door.too_large(place, v0::kElementBudget);
  if (!in.finished()) return door.damaged("bundle.section", place, at + in.at());
  return value;
}

}  // namespace

model::Bytes write_manifest(const Bundle& bundle, const std::vector<StreamId>& streams) {
  v0::Manifest manifest;
  manifest.device = bundle.device;
  manifest.export_counter = bundle.export_counter;
  manifest.scopes = bundle.scopes;
  manifest.incarnations.push_back(bundle.created_by);
  for (const StreamId& stream : streams) manifest.incarnations.push_back(stream.inc);
  auto& incarnations = manifest.incarnations;
  std::sort(incarnations.begin(), incarnations.end());
  incarnations.erase(std::unique(incarnations.begin(), incarnations.end()), incarnations.end());
  manifest.created_by = place_in(incarnations, bundle.created_by);
  for (const StreamId& stream : streams)
    manifest.streams.push_back({.scope = place_in(bundle.scopes, stream.scope), .inc = place_in(incarnations, stream.inc)});
  return encode(manifest);
}

model::Result<std::vector<StreamId>> read_manifest(model::ByteView section, std::uint64_t at, const Door& door,
                                                   Bundle& bundle) {
  auto manifest = decode<v0::Manifest>(section, "manifest", at, door);
  if (!manifest) return manifest.error();
  const auto& incarnations = manifest->incarnations;
  std::vector<StreamId> streams;
  for (const v0::Stream& stream : manifest->streams) {
    if (stream.scope >= manifest->scopes.size() || stream.inc >= incarnations.size())
      return door.damaged("bundle.section", "manifest", at);
    streams.push_back({manifest->scopes[static_cast<std::size_t>(stream.scope)],
                       incarnations[static_cast<std::size_t>(stream.inc)]});
  }
  if (manifest->created_by >= incarnations.size()) return door.damaged("bundle.section", "manifest", at);
  if (!strictly_rising(manifest->scopes) || !strictly_rising(streams))
    return door.damaged("bundle.not_canonical", "manifest", at);
  bundle.device = manifest->device;
  bundle.export_counter = manifest->export_counter;
  bundle.created_by = incarnations[static_cast<std::size_t>(manifest->created_by)];
  bundle.scopes = std::move(manifest->scopes);
  return streams;
}

namespace {

std::vector<v0::Span> lower_spans(const ops::Ranges& ranges) {
  std::vector<v0::Span> spans;
  std::uint64_t next = 1;
  for (const ops::Range& range : ranges.spans()) {
    spans.push_back({.skipped = range.first - next, .more = range.last - range.first});
    next = range.last + 1;
  }
  return spans;
}

// False: spans that touch, or reach beyond where a seq can be.
bool lift_spans(const std::vector<v0::Span>& spans, ops::Ranges& ranges) {
  std::uint64_t next = 1;
  for (const v0::Span& span : spans) {
    if (span.skipped >= ops::kCounterCeiling - next) return false;
    const std::uint64_t first = next + span.skipped;
    if (span.more >= ops::kCounterCeiling - first) return false;
    if (span.skipped == 0 && next != 1) return false;
    ranges.add(first, first + span.more);
    next = first + span.more + 1;
  }
  return true;
}

// The head is left to the ops section where that proves it beyond doubt.
v0::Head head_form(const StreamId& stream, const ops::Holding& holding, const CarriedOps& carried) {
  const std::uint64_t prefix_end = holding.ranges.prefix_end();
  if (prefix_end == 0) return v0::Head::genesis;
  if (holding.forked) return v0::Head::written;
  const auto here = carried.hashes_at(stream, prefix_end);
  return here.size() == 1 && here.front() == holding.prefix_hash ? v0::Head::in_ops : v0::Head::written;
}

}  // namespace

model::Bytes write_ranges(const ops::Holdings& holdings, const std::vector<StreamId>& streams, const CarriedOps& carried) {
  v0::Ranges ranges;
  for (const auto& [stream, holding] : holdings)
    ranges.holdings.push_back({.stream = place_in(streams, stream),
                               .branches = holding.forked ? v0::Branches::forked : v0::Branches::one,
                               .spans = lower_spans(holding.ranges),
                               .head = head_form(stream, holding, carried),
                               .written_head = holding.prefix_hash});
  return encode(ranges);
}

namespace {

// What a holding's head form says, held against the ops of this file. Nothing: it says
// a head that cannot be.
std::optional<model::Hash32> lift_head(const v0::Holding& row, const StreamId& stream, std::uint64_t prefix_end,
                                       const CarriedOps& carried) {
  if ((row.head == v0::Head::genesis) != (prefix_end == 0)) return std::nullopt;
  if (row.head == v0::Head::genesis) return ops::genesis(stream);
  const auto here = carried.hashes_at(stream, prefix_end);
  if (row.head == v0::Head::in_ops) return here.size() == 1 ? std::optional(here.front()) : std::nullopt;
  const bool contradicted = row.branches == v0::Branches::one && !here.empty() &&
                            std::find(here.begin(), here.end(), row.written_head) == here.end();
  return contradicted ? std::nullopt : std::optional(row.written_head);
}

}  // namespace

model::Result<ops::Holdings> read_ranges(model::ByteView section, std::uint64_t at, const Door& door,
                                         const std::vector<StreamId>& streams, const CarriedOps& carried) {
  const auto ranges = decode<v0::Ranges>(section, "ranges", at, door);
  if (!ranges) return ranges.error();
  ops::Holdings holdings;
  std::uint64_t next_stream = 0;
  for (const v0::Holding& row : ranges->holdings) {
    if (row.stream < next_stream || row.stream >= streams.size()) return door.damaged("bundle.section", "ranges", at);
    next_stream = row.stream + 1;
    const StreamId& stream = streams[static_cast<std::size_t>(row.stream)];
    ops::Holding holding{.ranges = {}, .prefix_hash = {}, .forked = row.branches == v0::Branches::forked};
    if (row.spans.size() > v0::kPiecesAStream) return door.too_large("ranges", v0::kPiecesAStream);
    if (!lift_spans(row.spans, holding.ranges)) return door.damaged("bundle.section", "ranges", at);
    const auto head = lift_head(row, stream, holding.ranges.prefix_end(), carried);
    if (!head) return door.damaged("bundle.chain", "ranges", at);
    holding.prefix_hash = *head;
    holdings.emplace(stream, std::move(holding));
  }
  return holdings;
}

}  // namespace slipway::sync
