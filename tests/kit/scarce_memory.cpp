#include "kit/scarce_memory.h"

#include <cstdlib>
#include <new>

namespace slipway::kit {

namespace {

std::uint64_t left_before_failure = 0;  // 0: plenty
bool fails_for_good = false;
bool has_failed = false;

bool refuse() {
  if (left_before_failure == 0) return false;
  if (left_before_failure > 1) {
    --left_before_failure;
    return false;
  }
  has_failed = true;
  if (!fails_for_good) left_before_failure = 0;
  return true;
}

}  // namespace

ScarceMemory::ScarceMemory(std::uint64_t nth, From from) {
  has_failed = false;
  fails_for_good = from == From::for_good;
  left_before_failure = nth;
}
ScarceMemory::~ScarceMemory() { left_before_failure = 0; }
bool ScarceMemory::ran_out() const { return has_failed; }

void* allocate(std::size_t size) {
  if (refuse()) throw std::bad_alloc();
  void* memory = std::malloc(size == 0 ? 1 : size);
  if (memory == nullptr) throw std::bad_alloc();
  return memory;
}

}  // namespace slipway::kit

void* operator new(std::size_t size) { return slipway::kit::allocate(size); }
void* operator new[](std::size_t size) { return slipway::kit::allocate(size); }
// As std::stable_sort asks for its spare room: nothing is an answer.
void* operator new(std::size_t size, const std::nothrow_t&) noexcept { return slipway::kit::refuse() ? nullptr : std::malloc(size == 0 ? 1 : size); }
void operator delete(void* memory, const std::nothrow_t&) noexcept { std::free(memory); }
void operator delete(void* memory) noexcept { std::free(memory); }
void operator delete[](void* memory) noexcept { std::free(memory); }
void operator delete(void* memory, std::size_t) noexcept { std::free(memory); }
void operator delete[](void* memory, std::size_t) noexcept { std::free(memory); }
