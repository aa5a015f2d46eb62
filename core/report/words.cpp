#include "report/words.h"

#include <cassert>
#include <map>

#include "model/assets.h"
#include "model/table.h"

namespace slipway::report {

namespace {

using Texts = std::map<std::string, std::string, std::less<>>;

Texts read_texts() {
  const auto table = model::read_table(model::asset("texts.table"));
  assert(table.ok());  // embedded by the build: a broken table is a bug
  Texts texts;
  if (!table) return texts;
  for (std::size_t row = 0; row < table->rows.size(); ++row) texts[table->cell(row, "id")] = table->cell(row, "text");
  return texts;
}

const Texts& texts() {
  static const Texts kTexts = read_texts();
  return kTexts;
}

std::string filled(std::string_view text, const std::vector<std::string>& args) {
  std::string out;
  for (std::size_t at = 0; at < text.size(); ++at) {
    const bool slot = text[at] == '{' && at + 2 < text.size() && text[at + 2] == '}' && text[at + 1] >= '0' && text[at + 1] <= '9';
    if (!slot) {
      out.push_back(text[at]);
      continue;
    }
    const auto index = static_cast<std::size_t>(text[at + 1] - '0');
    if (index < args.size()) out += args[index];
    at += 2;
  }
  return out;
}

}  // namespace

std::string say(std::string_view text_id, const std::vector<std::string>& args) {
  const auto found = texts().find(text_id);
  if (found != texts().end()) return filled(found->second, args);
  std::string out = "[" + std::string(text_id);
  for (const std::string& arg : args) out += " " + arg;
  return out + "]";
}

std::string say(const model::Error& error) { return say(error.text, error.args); }

std::vector<std::string> text_lines(const std::string& about, const std::vector<std::string>& args) {
  std::vector<std::string> lines;
  while (true) {
    const auto found = texts().find(about + "." + std::to_string(lines.size() + 1));
    if (found == texts().end()) return lines;
    lines.push_back(filled(found->second, args));
  }
}

std::vector<std::string> text_ids() {
  std::vector<std::string> ids;
  for (const auto& [id, text] : texts()) ids.push_back(id);
  return ids;
}

std::string author_word(std::uint64_t author) {
  switch (author) {
    case 1: return say("author.swimmer");
    case 2: return say("author.coach");
    case 3: return say("author.helper");
    default: return say("author.unknown");
  }
}

std::string number(std::uint64_t value) { return std::to_string(value); }

std::string capital(std::string words) {
  if (!words.empty() && words[0] >= 'a' && words[0] <= 'z') words[0] = static_cast<char>(words[0] - 'a' + 'A');
  return words;
}

std::string dose(std::uint64_t reps, const model::Quantity* load) {
  return load == nullptr ? number(reps) : say("dose.load", {number(reps), model::to_text(*load)});
}

std::string spoken_load(const model::Quantity& load) {
  return say(load.unit == model::Unit::lb ? "spoken.pounds" : "spoken.kilograms", {model::number_text(load)});
}

}  // namespace slipway::report
