// Private to op_lines: the fields of one op as JSON and back.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>

#include "model/json.h"
#include "ops/op.h"
#include "ops/registry.h"

namespace slipway::sync {

// Kinds of the records of one athlete: what the own tags of a `change` mean hangs on its target.
using RecordKinds = std::map<model::OpKey, std::uint32_t>;

// Writes the object "fields" of an op written by `home`.
void write_fields(model::JsonWriter& out, const ops::Op& op, const model::IncarnationId& home, const RecordKinds& kinds);

// Puts the fields into `op`, whose kind is known, in rising order of tag. The name that cannot be read, or nothing.
std::optional<std::string> read_fields(const model::JsonValue& fields, const model::IncarnationId& home, ops::Op& op);

void write_units(model::JsonWriter& out);  // an object: name -> unit, of every field that has one

}  // namespace slipway::sync
