// Format 0, frozen: the structs of the cereal-coded sections and the numbers of the ops
// section, as they stand in files. Draft until the sync work closes the format; from
// then on never edited, only read and lifted to today's sync::Bundle.
//
// Tables are sorted and hold each id once; everything else names ids by their place in
// them, so that a week of one swimmer carries each id a single time.
#pragma once

#include <cstdint>
#include <vector>

#include "model/ids.h"
#include "ops/chain.h"
#include "ops/ranges.h"

namespace slipway::sync::v0 {

// The cut of a chunk is part of the format: equal op sets must give equal bytes.
inline constexpr std::size_t kChunkOps = 64;
inline constexpr std::size_t kChunkBytes = 16 * 1024;  // a longer single op stands alone

// Rows of all vectors of one section together; 40 athletes over five years need a few thousand.
inline constexpr std::uint64_t kElementBudget = 1U << 16;
// Pieces of one stream with holes or branches between: each is a bundle that was lost. More
// are a file made to keep us busy.
inline constexpr std::uint64_t kPiecesAStream = 4096;

struct Stream {
  using Travels = void;
  std::uint64_t scope = 0;  // place in Manifest::scopes
  std::uint64_t inc = 0;    // place in Manifest::incarnations

  template <class Archive>
  void serialize(Archive& archive) {
    archive(scope, inc);
  }
};

struct Manifest {
  using Travels = void;
  model::DeviceId device;
  std::uint64_t export_counter = 0;
  std::vector<model::IncarnationId> incarnations;
  std::uint64_t created_by = 0;  // place in incarnations
  std::vector<model::ScopeId> scopes;
  std::vector<Stream> streams;  // of the ranges and ops sections

  template <class Archive>
  void serialize(Archive& archive) {
    archive(device, export_counter, incarnations, created_by, scopes, streams);
  }
};

struct Span {
  using Travels = void;
  std::uint64_t skipped = 0;  // seqs missing since the last span, or since 1
  std::uint64_t more = 0;     // length - 1

  template <class Archive>
  void serialize(Archive& archive) {
    archive(skipped, more);
  }
};

// Where the head hash of the contiguous prefix is found.
enum class Head : std::uint8_t {
  genesis,  // the prefix is empty
  in_ops,   // the ops section ends or passes there: the hash is proven, not repeated
  written,
};
constexpr std::uint64_t count_of(Head) { return 3; }

enum class Branches : std::uint8_t { one, forked };
constexpr std::uint64_t count_of(Branches) { return 2; }

struct Holding {
  using Travels = void;
  std::uint64_t stream = 0;  // place in Manifest::streams
  Branches branches = Branches::one;
  std::vector<Span> spans;
  Head head = Head::genesis;
  model::Hash32 written_head;

  template <class Archive>
  void serialize(Archive& archive) {
    archive(stream, branches, spans, head);
    if (head == Head::written) archive(written_head);
  }
};

struct Ranges {
  using Travels = void;
  std::vector<Holding> holdings;

  template <class Archive>
  void serialize(Archive& archive) {
    archive(holdings);
  }
};

}  // namespace slipway::sync::v0
