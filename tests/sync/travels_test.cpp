#include "sync/travels.h"

#include <list>
#include <map>
#include <memory>
#include <string>

#include <doctest/doctest.h>

#include "sync/bundle_v0.h"

using namespace slipway;
using sync::may_travel;

namespace {

struct Plain {
  using Travels = void;
};
struct Unsaid {};
struct Virtual {
  using Travels = void;
  virtual ~Virtual() = default;
};
enum class Signed : int { one };

}  // namespace

TEST_CASE("only plain things travel: numbers, enums, ids, structs and rows of them") {
  static_assert(may_travel<std::uint64_t>() && may_travel<std::uint8_t>() && may_travel<sync::v0::Head>());
  static_assert(may_travel<model::ScopeId>() && may_travel<std::vector<model::Hash32>>());
  static_assert(may_travel<Plain>() && may_travel<std::vector<Plain>>());
  static_assert(may_travel<sync::v0::Manifest>() && may_travel<sync::v0::Ranges>());
  static_assert(!may_travel<bool>() && !may_travel<float>() && !may_travel<double>());
  static_assert(!may_travel<int>() && !may_travel<std::int64_t>() && !may_travel<char>() && !may_travel<Signed>());
  static_assert(!may_travel<Plain*>() && !may_travel<std::shared_ptr<Plain>>() && !may_travel<std::unique_ptr<Plain>>());
  static_assert(!may_travel<std::map<int, int>>() && !may_travel<std::list<Plain>>() && !may_travel<std::vector<bool>>());
  static_assert(!may_travel<std::vector<double>>() && !may_travel<std::vector<std::vector<float>>>());
  static_assert(!may_travel<Unsaid>() && !may_travel<Virtual>() && !may_travel<std::string>());
  CHECK(may_travel<sync::v0::Holding>());
}
