#include "places.h"

#include <cstdlib>
#include <string_view>

#include "model/bytes.h"
#include "whole_files.h"

namespace slipway::native {

namespace {

std::string variable(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? "" : value;
}

// The specification asks for absolute paths and to leave others out.
std::string base(const char* name, std::string_view below_home) {
  const std::string named = variable(name);
  if (named.starts_with('/')) return named;
  const std::string home = variable("HOME");
  return home.empty() ? "" : home + std::string(below_home);
}

std::string ours(const std::string& folder) { return folder.empty() ? "" : folder + "/slipway"; }

// A line XDG_DOWNLOAD_DIR="$HOME/Downloads" of user-dirs.dirs.
std::string named_downloads() {
  const std::string config = base("XDG_CONFIG_HOME", "/.config");
  const auto bytes = config.empty() ? model::Result<model::Bytes>(model::Error{}) : read_whole(config + "/user-dirs.dirs");
  if (!bytes) return "";
  const std::string text(model::as_text(*bytes));
  constexpr std::string_view kKey = "XDG_DOWNLOAD_DIR=\"";
  const std::size_t at = text.find(kKey);
  if (at == std::string::npos || (at > 0 && text[at - 1] != '\n')) return "";
  const std::size_t from = at + kKey.size();
  const std::size_t to = text.find('"', from);
  if (to == std::string::npos) return "";
  std::string folder = text.substr(from, to - from);
  constexpr std::string_view kHome = "$HOME";
  if (folder.starts_with(kHome)) folder = variable("HOME") + folder.substr(kHome.size());
  return folder;
}

}  // namespace

std::string data_folder() { return ours(base("XDG_DATA_HOME", "/.local/share")); }
std::string state_folder() { return ours(base("XDG_STATE_HOME", "/.local/state")); }

std::optional<std::string> downloads_folder() {
  for (const std::string& folder : {named_downloads(), variable("HOME") + "/Downloads"})
    if (folder.starts_with('/') && is_folder(folder)) return folder;
  return std::nullopt;
}

}  // namespace slipway::native
