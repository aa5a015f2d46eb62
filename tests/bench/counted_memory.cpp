#include "bench/counted_memory.h"

#include <sqlite3.h>

#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <new>

namespace {

std::size_t held = 0, highest = 0, at_begin = 0;

}  // namespace

#ifdef SLIPWAY_COUNT_MEMORY
namespace {

constexpr std::size_t kHead = 16;  // keeps what follows aligned; holds the size

void* take(std::size_t size) {
  auto* head = static_cast<std::uint8_t*>(std::malloc(size + kHead));
  if (head == nullptr) return nullptr;
  *reinterpret_cast<std::size_t*>(head) = size;
  held += size;
  highest = std::max(highest, held);
  return head + kHead;
}
std::size_t size_of(void* bytes) { return *reinterpret_cast<std::size_t*>(static_cast<std::uint8_t*>(bytes) - kHead); }
void give_back(void* bytes) {
  if (bytes == nullptr) return;
  held -= size_of(bytes);
  std::free(static_cast<std::uint8_t*>(bytes) - kHead);
}

void* sqlite_take(int size) { return take(static_cast<std::size_t>(size)); }
void* sqlite_resize(void* bytes, int size) {
  void* more = take(static_cast<std::size_t>(size));
  if (more == nullptr) return nullptr;
  std::copy_n(static_cast<std::uint8_t*>(bytes), std::min(size_of(bytes), static_cast<std::size_t>(size)), static_cast<std::uint8_t*>(more));
  give_back(bytes);
  return more;
}
int sqlite_size(void* bytes) { return static_cast<int>(size_of(bytes)); }
int sqlite_rounded(int size) { return (size + 7) & ~7; }
int sqlite_begin(void*) { return SQLITE_OK; }
void sqlite_end(void*) {}

}  // namespace

void* operator new(std::size_t size) {
  if (void* bytes = take(size)) return bytes;
  std::abort();
}
void operator delete(void* bytes) noexcept { give_back(bytes); }
void operator delete(void* bytes, std::size_t) noexcept { give_back(bytes); }

void slipway::bench::count_sqlite() {
  static const sqlite3_mem_methods methods{sqlite_take, give_back, sqlite_resize, sqlite_size, sqlite_rounded, sqlite_begin, sqlite_end, nullptr};
  sqlite3_config(SQLITE_CONFIG_MALLOC, &methods);
}
#else
void slipway::bench::count_sqlite() {}
#endif

namespace slipway::bench {

void begin_peak() { at_begin = highest = held; }
double peak_mib() { return static_cast<double>(highest - at_begin) / (1 << 20); }

}  // namespace slipway::bench
