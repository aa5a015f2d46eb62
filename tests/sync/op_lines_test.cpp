#include "sync/op_lines.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <set>
#include <string>

#include "kit/bundle_kit.h"
#include "kit/history.h"
#include "ops/registry.h"
#include "sync/zip.h"

using namespace slipway;

namespace {

std::string lines_of(const std::vector<ops::ChainedOp>& all, std::uint64_t more = 0) {
  std::map<model::ScopeId, std::vector<ops::ChainedOp>> by_athlete;
  ops::Held held;
  for (const ops::ChainedOp& op : all) by_athlete[op.stream.scope].push_back(op), held.add(op);
  std::string text = sync::op_lines_head({}, kit::inc_named('c'), held.op_count() + more);
  for (auto& [scope, ops] : by_athlete) text += sync::op_lines_of(std::move(ops));
  return text;
}

model::Result<sync::ReadBundle> read(std::string_view text, const sync::Limits& limits = {}) {
  return sync::read_entries(model::as_bytes(text), "coach.jsonl", limits);
}

std::string verdict(std::string_view text, const sync::Limits& limits = {}) { return kit::verdict(read(text, limits)); }

model::Hash32 digest(const std::vector<ops::ChainedOp>& all) { return kit::held_of(all).digest(); }

std::string with(std::string text, std::string_view from, std::string_view to) {
  const std::size_t at = text.find(from);
  REQUIRE_MESSAGE(at != std::string::npos, from);
  return text.replace(at, from.size(), to);
}

std::string nth_line(const std::string& text, int nth) {
  std::size_t at = 0;
  for (int line = 1; line < nth; ++line) at = text.find('\n', at) + 1;
  return text.substr(at, text.find('\n', at) - at);
}

const std::vector<ops::ChainedOp>& week() {
  static const auto kWeek = kit::read_of(kit::reference_files()[1].bytes).ops;
  return kWeek;
}

}  // namespace

TEST_CASE("ops as lines come back as the same set, to the bit: forks, gaps and kinds of a newer version too") {
  for (const auto& reference : kit::reference_files()) {
    const auto bundle = kit::read_of(reference.bytes);
    const auto back = read(lines_of(bundle.ops));
    REQUIRE_MESSAGE(back.ok(), verdict(lines_of(bundle.ops)));
    CHECK(digest(back->ops) == digest(bundle.ops));
    CHECK(back->bundle.chunks == bundle.bundle.chunks);
    CHECK(back->bundle.scopes == bundle.bundle.scopes);
  }
}

TEST_CASE("random histories come back as the same set") {
  std::uint64_t ops = 0;
  for (std::uint64_t seed = 1; seed <= 150; ++seed) {
    kit::History history(seed);
    history.run();
    for (std::size_t place = 0; place < history.places(); ++place) {
      const auto& held = history.device(place).ops();
      const auto back = read(lines_of(held));
      REQUIRE_MESSAGE(back.ok(), "seed " << seed << ": " << verdict(lines_of(held)));
      CHECK(digest(back->ops) == digest(held));
      ops += held.size();
    }
  }
  CHECK(ops > 3000);
}

TEST_CASE("the order of an athlete's ops is the file's own: the same set, the same text") {
  auto turned = week();
  std::reverse(turned.begin(), turned.end());
  CHECK(lines_of(turned) == lines_of(week()));
}

TEST_CASE("a set stands in words: names of the registry, a load with its unit") {
  const std::string text = lines_of(week());
  const std::string line = nth_line(text, 3);
  CHECK(line.find(R"("kind":"set")") != std::string::npos);
  CHECK(line.find(R"("load":{"value":22,"decimals":0,"unit":"kg"})") != std::string::npos);
  CHECK(line.find(R"("exercise":"SQ)") != std::string::npos);
  CHECK(line.find("base64") == std::string::npos);
  CHECK(nth_line(text, 1).find(R"("set.exercise":)") == std::string::npos);
  CHECK(nth_line(text, 1).find(R"("prescription.rest_ms":"ms")") != std::string::npos);
}

TEST_CASE("every field of the registry has an open form, and gives its payload back") {
  std::size_t fields = 0;
  for (const ops::FieldInfo& info : ops::fields()) {
    if (info.kind == 0) continue;
    kit::Log log('A', 's');
    ops::Field field{info.tag, info.wire, {}};
    switch (info.wire) {
      case ops::Wire::unsigned_int: field = ops::unsigned_field(info.tag, ~std::uint64_t{0}); break;
      case ops::Wire::signed_int: field = ops::signed_field(info.tag, -1); break;
      case ops::Wire::text: field = ops::text_field(info.tag, "=\"\\\n\tŁ 🏊"); break;
      case ops::Wire::bytes: field = ops::bytes_field(info.tag, model::as_bytes("\xff\x01")); break;
      case ops::Wire::unsigned_list: field = ops::list_field(info.tag, {ops::zigzag(-225), 1, 2}); break;
      case ops::Wire::refs: field = ops::refs_field(info.tag, {{kit::inc_named('s'), 7, {}}, {kit::inc_named('t'), 9, {}}}, kit::inc_named('s')); break;
    }
    log.write(info.kind, {field});
    const std::string text = lines_of(log.ops());
    CHECK_MESSAGE(text.find("\"wire\"") == std::string::npos, info.name);
    const auto back = read(text);
    REQUIRE_MESSAGE(back.ok(), verdict(text));
    CHECK(digest(back->ops) == digest(log.ops()));
    fields += 1;
  }
  CHECK(fields > 100);
}

TEST_CASE("names tell fields apart: no own field has the name of a common one, and none is a number or has a dot") {
  std::set<std::pair<std::uint32_t, std::string_view>> seen;
  for (const ops::FieldInfo& info : ops::fields()) {
    CHECK_MESSAGE(seen.insert({info.kind, info.name}).second, info.name);
    CHECK_MESSAGE((info.kind == 0 || seen.count({0, info.name}) == 0), info.name);
    CHECK(info.name.find_first_of(".0123456789") == std::string_view::npos);
  }
}

TEST_CASE("payloads that are not of the registry's type, and fields it lacks, are carried as they are") {
  kit::Log log('A', 's');
  log.write(ops::kind::set, {ops::text_field(ops::set_tag::reps, "many"), ops::bytes_field(ops::set_tag::exercise, model::as_bytes("\xff")),
                             ops::list_field(ops::set_tag::load, {4, 9, 1}),
                             ops::list_field(ops::set_tag::written_load, {4, 1}), ops::unsigned_field(4000, 7), ops::Field{4001, static_cast<ops::Wire>(77), model::Bytes{1, 2}}});
  log.write(ops::kind::change, {ops::refs_field(ops::tag::target, {{kit::inc_named('z'), 3, {}}}, kit::inc_named('s')), ops::unsigned_field(19, 8)});
  const std::string text = lines_of(log.ops());
  CHECK(text.find(R"("19":{"wire":2,"base64":"bWFueQ=="})") != std::string::npos);
  const auto back = read(text);
  REQUIRE_MESSAGE(back.ok(), verdict(text));
  CHECK(digest(back->ops) == digest(log.ops()));
}

TEST_CASE("whatever in a line is changed is refused, by file and line") {
  const std::string text = lines_of(week());
  CHECK(verdict(with(text, R"("reps":8)", R"("reps":9)")) == "damaged lines.hash|coach.jsonl|3|" + std::string(nth_line(text, 3).substr(nth_line(text, 3).find("\"hash\":\"") + 8, 64)));
  for (const auto& change : std::initializer_list<std::pair<std::string_view, std::string_view>>{
           {R"("lam":2)", R"("lam":3)"}, {R"("kind":"set")", R"("kind":"pain")"}, {R"("seq":2)", R"("seq":3)"}, {R"("kind":"set")", R"("kind":10001)"},
           {R"("kind":"set")", R"("kind":"sets")"}, {R"("unit":"kg")", R"("unit":"lb")"}, {R"("unit":"kg")", R"("unit":"stone")"}, {R"("decimals":0)", R"("decimals":1)"},
           {R"("author":)", R"("writer":)"}, {R"("lam":2)", R"("lam":1099511627776)"}, {R"("athlete":"41)", R"("athlete":"42)"}})
    CHECK_MESSAGE(verdict(with(text, change.first, change.second)).starts_with("damaged lines."), change.second);
}

TEST_CASE("lines that are lost, doubled, out of place or broken are refused") {
  const std::string text = lines_of(week());
  const std::string third = nth_line(text, 3) + "\n";
  CHECK(verdict(text) == "read " + std::to_string(week().size()));
  CHECK(verdict(with(text, third, "")).starts_with("damaged lines.broken|coach.jsonl|3|before"));
  CHECK(verdict(text.substr(0, text.rfind('\n', text.size() - 2) + 1)).starts_with("damaged lines.count"));
  CHECK(verdict(text + third).starts_with("damaged lines.broken"));
  CHECK(verdict(text + "{}\n").starts_with("damaged lines.broken|coach.jsonl|" + std::to_string(week().size() + 2)));
  CHECK(verdict(text.substr(0, text.size() - 9)).starts_with("damaged lines.sign"));
  CHECK(verdict(with(text, R"("form":1)", R"("form":2)")) == "newer_version bundle.newer|coach.jsonl|2.0");
  CHECK(verdict(nth_line(text, 1).substr(0, 40)).starts_with("damaged lines.sign|coach.jsonl|1"));
}

TEST_CASE("line ends of any system and blank lines do no harm") {
  const std::string text = lines_of(week());
  std::string other;
  for (const char sign : text) other += sign == '\n' ? std::string("\r\n\r\n") : std::string(1, sign);
  CHECK(verdict(other) == verdict(text));
}

TEST_CASE("limits hold before anything is kept") {
  const std::string text = lines_of(week());
  sync::Limits few;
  few.ops = week().size() - 1;
  CHECK(verdict(text, few).starts_with("too_large"));
  few = {};
  few.raw_bytes = text.size() - 1;
  CHECK(verdict(text, few).starts_with("too_large"));
  CHECK(verdict(sync::op_lines_head({}, {}, 1) + std::string((1 << 20) + 1, ' ') + "{}").starts_with("too_large"));
  CHECK(verdict(sync::op_lines_head({}, {}, 1) + "{\"athlete\":" + std::string(100'000, '[')).starts_with("too_large"));
}

TEST_CASE("every byte of a file changed is refused or means the same") {
  const std::string text = lines_of(kit::read_of(kit::reference_files()[0].bytes).ops);
  const auto whole = read(text);
  REQUIRE(whole.ok());
  std::uint64_t refused = 0, same = 0;
  for (std::size_t at = nth_line(text, 1).size(); at < text.size(); ++at)
    for (const int value : {0, 9, 10, 32, 34, 44, 48, 49, 58, 65, 92, 93, 97, 125, 255}) {
      std::string changed = text;
      changed[at] = static_cast<char>(value);
      const auto back = read(changed);
      if (!back) ++refused;
      else if (digest(back->ops) == digest(whole->ops)) ++same;
    }
  CHECK(refused + same == (text.size() - nth_line(text, 1).size()) * 15);
  CHECK(refused > same);
}

TEST_CASE("the zip of an export brings its ops.jsonl, and other zips are refused by name") {
  const std::string text = lines_of(week());
  sync::ZipWriter zip;
  zip.begin("FORMAT.txt");
  zip.add(model::as_bytes("words"));
  zip.begin(std::string(sync::kOpLinesName));
  zip.add(model::as_bytes(text));
  const auto whole = zip.finish();
  REQUIRE(whole.ok());
  const auto back = sync::read_entries(*whole, "all.zip");
  REQUIRE(back.ok());
  CHECK(digest(back->ops) == digest(week()));
  sync::ZipWriter empty;
  empty.begin("a.txt");
  CHECK(kit::verdict(sync::read_entries(*empty.finish(), "all.zip")) == "not_found zip.no_part|all.zip|ops.jsonl");
  sync::Limits small;
  small.raw_bytes = text.size() - 1;
  CHECK(kit::verdict(sync::read_entries(*whole, "all.zip", small)).starts_with("too_large"));
}
