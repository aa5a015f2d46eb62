#include <algorithm>
#include <iterator>

#include <doctest/doctest.h>

#include "fuzz/bundle_corpus.h"
#include "fuzz/entries_corpus.h"
#include "fuzz/packed_ops_corpus.h"
#include "fuzz/sealed_corpus.h"
#include "kit/bundle_door.h"
#include "kit/bundle_kit.h"

using namespace slipway;

namespace {

template <class Corpus, class Check>
void for_each_input(const Corpus& corpus, const Check& check) {
  for (const std::string_view row : corpus) {
    model::Bytes input;
    REQUIRE(model::read_hex(row, input));
    CAPTURE(row.substr(0, 200));
    check(input);
  }
}

}  // namespace

TEST_CASE("everything the fuzzer has found keeps the promises of the door, on every build alike") {
  kit::Verdicts verdicts;
  for_each_input(fuzz::kBundleCorpus, [&](const model::Bytes& input) {
    CHECK(kit::broken_promise(input) == "");
    verdicts.add(kit::verdict(sync::read_bundle(input, "corpus")));
    verdicts.add(kit::verdict(sync::read_bundle(kit::sealed_again(input), "corpus")));
  });
  verdicts.print("corpus");
  CHECK(verdicts.count() == 2 * std::size(fuzz::kBundleCorpus));
}

TEST_CASE("everything the fuzzer has found in packed ops comes out the same again") {
  for_each_input(fuzz::kPackedOpsCorpus, [](const model::Bytes& input) { CHECK(kit::broken_unpacking(input) == ""); });
}

TEST_CASE("everything kept for the doors of open forms and seals keeps their promises") {
  for_each_input(fuzz::kEntriesCorpus, [](const model::Bytes& input) { CHECK(kit::broken_open_form(input) == ""); });
  for_each_input(fuzz::kSealedCorpus, [](const model::Bytes& input) { CHECK(kit::broken_seal(input) == ""); });
}

TEST_CASE("good files keep the promises of the door") {
  for (const auto packing : {sync::Packing::plain, sync::Packing::packed})
    for (const auto& reference : kit::reference_files(packing)) CHECK(kit::broken_promise(reference.bytes) == "");
}
