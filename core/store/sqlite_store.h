// Private to the store: Store over one Database. Every change is one transaction of change().
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "store/database.h"
#include "store/store.h"

namespace slipway::store {

// The two tables of named values.
enum class Values : std::uint8_t { meta, local };

class SqliteStore : public Store {
 public:
  SqliteStore(host::Files& files, host::Random& random);

  model::Result<model::Done> start(bool had_file, const OpenTokens& tokens);

  const Opening& opening() const override { return opening_; }
  model::Result<model::Done> mint_incarnation() override;
  Ticket append(std::span<const ops::Chunk> chunks, std::string_view local_name, model::ByteView local_value) override;
  Ticket ticket(std::uint64_t batch) override;
  Ticket ticket() override { return ticket(files_.lasting().handed); }
  Ticket hand_again() override;
  void keep_ballast() override;
  bool nearly_full() const override { return nearly_full_; }
  model::Result<model::Done> take_in(std::span<const ops::Chunk> chunks, const ImportLine& line, std::span<const Peer> peers,
                                     std::span<const ops::PackedRun> runs) override;
  model::Result<std::vector<model::ScopeId>> scopes() override;
  model::Result<std::vector<ops::Chunk>> chunks(const model::ScopeId& scope) override;
  model::Result<std::vector<ops::Chunk>> chunks_from(const ops::StreamId& stream, std::uint64_t first_seq) override;
  model::Result<ops::Holdings> holdings(const model::ScopeId& scope) override;
  model::Result<std::optional<ops::PackedRun>> whole_run(const ops::StreamId& stream) override;
  model::Result<std::uint64_t> fold_chunks(const model::ScopeId& scope) override;
  model::Result<std::optional<Derived>> derived(const model::ScopeId& scope) override;
  model::Result<model::Done> save_derived(const model::ScopeId& scope, const Derived& derived) override;
  model::Result<std::optional<SetColumns>> set_columns(const model::ScopeId& scope) override;
  model::Result<model::Done> save_set_columns(const model::ScopeId& scope, const SetColumns& columns) override;
  model::Result<model::Done> drop_derived() override;
  model::Result<std::optional<model::Bytes>> local(std::string_view name) override;
  model::Result<model::Done> set_local(std::string_view name, model::ByteView value) override;
  model::Result<std::uint64_t> next_export_counter() override;
  model::Result<std::vector<ImportLine>> import_log() override;
  model::Result<std::vector<Peer>> peers(const model::ScopeId& scope) override;
  model::Result<model::Done> set_peer(const Peer& peer) override;
  model::Result<std::vector<Erased>> erased() override;
  model::Result<model::Done> erase(const Erased& erased) override;
  model::Result<model::Done> compact() override;
  model::Result<model::Done> derived_rebuilt() override;
  std::vector<SealedScope> sealed() override;
  model::Result<model::Done> seal(const model::ScopeId& scope, model::ByteView lock, std::shared_ptr<RowSeal> by) override;
  model::Result<model::Done> open_sealed(const model::ScopeId& scope, std::shared_ptr<RowSeal> by) override;
  void shut_sealed(const model::ScopeId& scope) override;
  model::Result<model::Done> unseal(const model::ScopeId& scope) override;
  model::Result<model::Done> drop_sealed(const model::ScopeId& scope) override;
  bool has_copy() override;
  model::Result<model::Done> drop_copy() override;
  model::Result<std::vector<model::Error>> quick_check() override;
  model::Result<model::Bytes> handed_copy(std::span<const model::ScopeId> scopes) override;
  model::Result<Integrity> check() override;

 private:
  // What an append wrote, and the local value that stood there before it.
  struct Written {
    std::vector<ops::Chunk> chunks;  // without their bytes: the key is enough
    std::string local_name;          // empty: none
    model::Bytes local_value;
    std::optional<model::Bytes> local_before;
  };

  template <class Steps>  // () -> bool; false: database_.error() says why
  model::Result<model::Done> change(Steps steps);

  model::Result<model::Done> settings();
  model::Result<model::Done> look_only();
  model::Result<model::Done> migrate();
  model::Result<model::Done> note_rebuild();
  model::Result<model::Done> identify(bool had_file, bool empty, const OpenTokens& tokens);
  std::optional<model::Error> refuse_writing() const;

  bool let_ballast_go();  // false: there is none

  // Between what the rest of the store speaks of and what stands in the rows (sealed.cpp). Of a scope that is not
  // sealed both are the same.
  struct Rest {
    model::Bytes lock;
    std::shared_ptr<RowSeal> by;  // nothing: it is shut
  };
  model::Result<model::Done> read_sealed();
  model::Result<model::Done> settle_doubt() { return in_doubt_ ? read_sealed() : model::Result<model::Done>(model::Done{}); }
  bool is_sealed(const model::ScopeId& scope) const { return sealed_.count(scope) > 0; }
  RowSeal* seal_of(const model::ScopeId& scope) const;  // missing: it is not sealed, or shut
  std::string_view table_of(const model::ScopeId& scope) const { return is_sealed(scope) ? "sealed_chunk" : "chunk"; }
  std::optional<model::Error> refuse_shut(const model::ScopeId& scope) const;
  std::optional<model::Error> refuse_shut(std::span<const ops::Chunk> chunks, std::span<const Peer> peers, std::span<const ops::PackedRun> runs) const;
  ops::Chunk key_at_rest(const ops::Chunk& chunk) const;  // its hashes as they stand in the row
  model::Bytes at_rest(const ops::Chunk& chunk) const;
  ops::Chunk from_rest(ops::Chunk row) const;             // one that does not open has no bytes, and proves nothing
  model::Bytes at_rest(const Peer& peer) const;
  std::optional<model::Bytes> from_rest(const model::DeviceId& device, const model::ScopeId& scope, model::Bytes holds) const;
  model::Result<model::Done> rewrite(const model::ScopeId& scope, const Rest* after);
  bool clear_rows(const model::ScopeId& scope);

  bool put_peer(const Peer& peer);
  bool put_chunk(const ops::Chunk& chunk);
  bool has_packed() const;  // the table is there
  bool put_run(const ops::PackedRun& run);
  model::Result<std::vector<ops::PackedRun>> runs_of(const model::ScopeId& scope, const ops::StreamId* stream, std::uint64_t first_seq);
  bool pack_chunks(const model::ScopeId& scope, std::uint64_t& saved, std::optional<model::Error>& unequal);
  bool pack_rows(const std::vector<ops::Chunk>& rows, const std::vector<model::IncarnationId>& beside, std::optional<model::Error>& unequal);
  bool drop_chunk(const ops::Chunk& chunk);
  bool chunk_held(const ops::Chunk& chunk);
  std::optional<model::Error> refuse_gap(const ops::Chunk& chunk);
  std::optional<model::Error> write_all(std::span<const ops::Chunk> chunks, Written& written);
  bool take_out(const Written& refused);
  bool take_out_refused();
  model::Result<std::vector<ops::Chunk>> read_chunks(Statement& rows);
  model::Result<ops::Chunk> chunk(const ops::Chunk& key);
  model::Result<std::vector<ops::Chunk>> chunks_with_room(const model::ScopeId& scope);
  bool fold_rows(const std::vector<ops::Chunk>& rows, const ops::Chunk& joined, std::uint64_t& saved,
                 std::optional<model::Error>& unequal);

  bool put_value(Values table, std::string_view name, model::ByteView value);
  bool drop_local(std::string_view name);
  model::Result<std::optional<model::Bytes>> value(Values table, std::string_view name);

  host::Files& files_;
  host::Random& random_;
  Database database_;
  Opening opening_;
  // Appends whose COMMIT was refused and that could not be looked after at once: oldest first.
  std::vector<Written> refused_;
  std::map<model::ScopeId, Rest> sealed_;
  std::optional<std::pair<model::ScopeId, Rest>> in_doubt_;  // a sealing that was refused, and nobody could look yet whether it stands
  bool nearly_full_ = false;
};

template <class Steps>
model::Result<model::Done> SqliteStore::change(Steps steps) {
  if (auto refused = refuse_writing()) return *refused;
  if (const auto sure = settle_doubt(); !sure) return sure.error();
  Transaction transaction(database_);
  if (!transaction.begun() || !take_out_refused() || !steps() || !transaction.keep()) return database_.error();
  refused_.clear();
  return model::Done{};
}

}  // namespace slipway::store
