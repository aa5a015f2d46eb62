// Folding small chunks of a scope together: fewer rows, the same ops, the same hashes.
#include <map>

#include "store/sqlite_store.h"

namespace slipway::store {

namespace {

std::uint64_t op_count(const ops::Chunk& chunk) { return chunk.last_seq - chunk.first_seq + 1; }

bool fits(const ops::Chunk& so_far, const ops::Chunk& next) {
  return op_count(so_far) + op_count(next) <= ops::kMaxChunkOps && so_far.bytes.size() + next.bytes.size() <= ops::kFoldedChunkBytes;
}

// The bytes of a chunk are its ops back to back, so joining is laying them end to end.
void join(ops::Chunk& so_far, const ops::Chunk& next) {
  so_far.last_seq = next.last_seq;
  so_far.after = next.after;
  model::append(so_far.bytes, next.bytes);
}

struct Group {
  std::vector<ops::Chunk> rows;
  ops::Chunk joined;
};

// Rows that continue each other, as many as one chunk may hold. The hash at an end names stream, place and
// everything before, so the branches of a fork can never be joined.
std::vector<Group> group(std::vector<ops::Chunk> rows) {
  std::vector<Group> groups;
  std::map<model::Hash32, std::size_t> group_that_ends_in;
  for (ops::Chunk& row : rows) {
    if (!ops::read_chunk(row)) continue;  // a damaged row stays as it is, for check() and for salvage
    const auto found = group_that_ends_in.find(row.before);
    std::size_t place = groups.size();
    if (found != group_that_ends_in.end() && fits(groups[found->second].joined, row)) {
      place = found->second;
      group_that_ends_in.erase(found);
      join(groups[place].joined, row);
    } else {
      groups.push_back({{}, row});
    }
    group_that_ends_in[row.after] = place;
    groups[place].rows.push_back(std::move(row));
  }
  return groups;
}

}  // namespace

// Writes, reads back, proves and compares; false: something was not as it should be, and nothing of it lasts.
bool SqliteStore::fold_rows(const std::vector<ops::Chunk>& rows, const ops::Chunk& joined, std::uint64_t& saved,
                            std::optional<model::Error>& unequal) {
  saved += rows.size() - (chunk_held(joined) ? 0 : 1);
  for (const ops::Chunk& row : rows)
    if (!drop_chunk(row)) return false;
  if (!put_chunk(joined)) return false;
  const auto written = chunk(joined);
  if (!written) return false;
  if (*written == joined && ops::read_chunk(*written)) return true;
  unequal = model::error(model::ErrorKind::damaged, "store.damaged", {std::string(kDatabaseName), std::to_string(joined.first_seq)});
  return false;
}

model::Result<std::uint64_t> SqliteStore::fold_chunks(const model::ScopeId& scope) {
  if (auto shut = refuse_shut(scope)) return *shut;
  std::uint64_t saved = 0;
  std::optional<model::Error> unequal;
  const auto folded = change([&] {
    auto rows = chunks_with_room(scope);
    if (!rows) return false;
    for (const Group& one : group(std::move(*rows)))
      if (one.rows.size() > 1 && !fold_rows(one.rows, one.joined, saved, unequal)) return false;
    return pack_chunks(scope, saved, unequal);
  });
  if (unequal) return *unequal;
  if (!folded) return folded.error();
  return saved;
}

}  // namespace slipway::store
