// Ops as lines of JSON: the open form, for people and programs that are not ours.
//
//   head := {"slipway":"ops","form":1,"device":hex,"incarnation":hex,"ops":count,"units":{name:unit}, lost?}
//   lost := "lost":[{"athlete":hex,"incarnation":hex,"first":n,"last":n}]   of a damaged store: known to be, could not be read
//   line := {"athlete":hex,"incarnation":hex,"seq":n,"before":hex,"hash":hex,"lam":n,"kind":name,"fields":{name:value}}
//
// One line an op, in the order (athlete, incarnation, seq, hash). "before" is left out where it is the hash of
// the line above, or where seq is 1. Names are those of ops/registry.h; in a `change` they carry
// the kind of its target, "set.reps". Values by wire: a number; text; base64 of bytes; a list of numbers; references
// "incarnation:seq:hash"; a quantity as {"value","decimals","unit"}, several as a list.
//
// Nothing is lost: a kind that the registry lacks stands as its number; a field that it lacks, or whose payload
// another writer put down in a form of their own, as its tag with {"wire":n,"base64":text}.
//
// Reading is a door like the one for bundles: limits first, every line within a budget, and each op is composed
// anew and must have the hash its line says. So whoever edits a line gets it refused, and what is read is
// the same set of ops, bit for bit. All or nothing.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "model/bytes.h"
#include "model/result.h"
#include "ops/chain.h"
#include "sync/bundle.h"
#include "sync/door.h"

namespace slipway::sync {

inline constexpr std::uint64_t kOpLinesForm = 1;
inline constexpr std::string_view kOpLinesName = "ops.jsonl";  // in the zip of an export
inline constexpr std::string_view kZippedBundleName = "entries.slip";  // in a backup

// Lines of text, each ending in a line feed: the head, and all ops of one athlete, in whatever order they come.
std::string op_lines_head(const model::DeviceId& device, const model::IncarnationId& inc, std::uint64_t ops, const Stretches& lost = {});
std::string op_lines_of(std::vector<ops::ChainedOp> athlete);

bool is_op_lines(model::ByteView file);
// Errors: damaged (args: file name, line from 1, what), newer_version, too_large.
model::Result<ReadBundle> read_op_lines(model::ByteView file, const Door& door, const Limits& limits);

}  // namespace slipway::sync
