// Files that are read or written whole: bundles, the open token, pictures of the window.
#pragma once

#include <cstdint>
#include <string>

#include "model/bytes.h"
#include "model/result.h"

namespace slipway::native {

// Room for the largest bundle as printable text, which is longer than its bytes.
inline constexpr std::uint64_t kMostReadBytes = 256ULL << 20;

// Reads pipes too. Errors: not_found, io (unreadable, or a folder), too_large.
model::Result<model::Bytes> read_whole(const std::string& path);

enum class IfThere : std::uint8_t { refuse, replace };

// Written beside its place, synced, renamed, and the folder synced: at any moment the place
// holds the whole old file or the whole new one. Readable by its owner only.
// Errors: invalid (a file is there already), io (unwritable), full, no_permission.
model::Result<model::Done> write_whole(const std::string& path, model::ByteView bytes, IfThere if_there);

// Makes a folder and those above it, for its owner only. Errors: as write_whole.
model::Result<model::Done> make_folder(const std::string& path);

bool is_folder(const std::string& path);
bool is_missing(const std::string& path);             // false too where one may not look
std::string file_name_of(const std::string& path);    // "a/b.slip" -> "b.slip"
std::string folder_of(const std::string& path);       // "a/b.slip" -> "a", "b.slip" -> "."
std::string absolute(const std::string& path);        // without links; the path itself if it is not there

}  // namespace slipway::native
