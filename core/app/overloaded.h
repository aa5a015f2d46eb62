// One call for each kind of a variant, for std::visit.
#pragma once

namespace slipway::app {

template <class... Cases>
struct Overloaded : Cases... {
  using Cases::operator()...;
};
template <class... Cases>
Overloaded(Cases...) -> Overloaded<Cases...>;

}  // namespace slipway::app
