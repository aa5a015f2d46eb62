#include "model/ladder.h"

#include <array>
#include <cassert>
#include <charconv>
#include <utility>

#include "model/assets.h"
#include "model/table.h"

namespace slipway::model {

namespace {

constexpr auto kPatterns = std::to_array<std::pair<std::string_view, Pattern>>({
    {"squat", Pattern::squat},
    {"hinge", Pattern::hinge},
    {"lunge", Pattern::lunge},
    {"vertical_pull", Pattern::vertical_pull},
    {"horizontal_pull", Pattern::horizontal_pull},
    {"push", Pattern::push},
    {"trunk", Pattern::trunk},
    {"shoulder_care", Pattern::shoulder_care},
});

constexpr auto kKinds = std::to_array<std::pair<std::string_view, ExerciseKind>>({
    {"loaded", ExerciseKind::loaded},
    {"body_weight", ExerciseKind::body_weight},
    {"band_helps", ExerciseKind::band_helps},
    {"band_resists", ExerciseKind::band_resists},
    {"hold", ExerciseKind::hold},
    {"jump", ExerciseKind::jump},
});

constexpr auto kJoints = std::to_array<std::pair<std::string_view, std::uint32_t>>({
    {"Sh", joint::shoulder},
    {"El", joint::elbow},
    {"Wr", joint::wrist},
    {"Sp", joint::spine},
    {"Hi", joint::hip},
    {"Kn", joint::knee},
    {"An", joint::ankle},
});

// The table is embedded by the build: a word outside its vocabulary is a bug, found by the first test that runs.
template <class Words>
auto meaning(const Words& words, std::string_view word) {
  for (const auto& [known, value] : words)
    if (known == word) return value;
  assert(false && "a word of assets/ladders.table that nobody knows");
  return words.front().second;
}

template <class Words, class Value>
std::string_view word_of(const Words& words, Value value) {
  for (const auto& [word, known] : words)
    if (known == value) return word;
  return {};
}

std::uint32_t whole(std::string_view text) {
  std::uint32_t value = 0;
  [[maybe_unused]] const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
  assert(read.ec == std::errc{} && read.ptr == text.data() + text.size());
  return value;
}

bool either(std::string_view text, std::string_view yes, [[maybe_unused]] std::string_view no) {
  assert(text == yes || text == no);
  return text == yes;
}

std::string unless_dash(const std::string& text) { return text == "-" ? std::string{} : text; }

std::vector<std::string> words(std::string_view text) {
  std::vector<std::string> out;
  while (!text.empty()) {
    const std::size_t end = text.find(' ');
    if (end != 0) out.emplace_back(text.substr(0, end));
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  }
  return out;
}

Rung read_rung(const Table& table, std::size_t row) {
  const auto cell = [&](std::string_view column) -> const std::string& { return table.cell(row, column); };
  const std::string& load = cell("load");
  assert(load == "none" || load == "one" || load == "hand");
  Rung rung;
  rung.id = cell("id");
  rung.pattern = meaning(kPatterns, cell("pattern"));
  rung.kind = meaning(kKinds, cell("kind"));
  rung.name = cell("name");
  rung.short_name = cell("short");
  rung.cue = cell("cue");
  rung.caution = unless_dash(cell("caution"));
  rung.loaded = load != "none";
  rung.in_hands = load == "hand";
  rung.one_sided = either(cell("each"), "side", "both");
  rung.on_floor_list = either(cell("alone"), "yes", "no");
  for (const std::string& word : words(cell("uses"))) rung.joints |= meaning(kJoints, word);
  rung.equipment = words(unless_dash(cell("needs")));
  rung.next = unless_dash(cell("next"));
  rung.easier = unless_dash(cell("easier"));
  rung.sets = whole(cell("sets"));
  rung.lo = whole(cell("lo"));
  rung.hi = whole(cell("hi"));
  rung.rest_s = whole(cell("rest_s"));
  rung.rep_ms = whole(cell("rep_ms"));
  rung.fraction_hundredths = whole(cell("fraction"));
  return rung;
}

std::vector<Rung> read_rungs() {
  const auto table = read_table(asset("ladders.table"));
  assert(table.ok());
  std::vector<Rung> out;
  if (!table) return out;
  for (std::size_t row = 0; row < table->rows.size(); ++row) out.push_back(read_rung(*table, row));
  return out;
}

}  // namespace

const std::vector<Rung>& rungs() {
  static const std::vector<Rung> kRungs = read_rungs();
  return kRungs;
}

const Rung* find_rung(std::string_view id) {
  for (const Rung& rung : rungs())
    if (rung.id == id) return &rung;
  return nullptr;
}

std::string_view to_text(Pattern pattern) { return word_of(kPatterns, pattern); }
std::string_view to_text(ExerciseKind kind) { return word_of(kKinds, kind); }

}  // namespace slipway::model
