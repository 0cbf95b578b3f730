#pragma once

#include <boost/container/small_vector.hpp>
#include <cstddef>
#include <optional>

#include "ohmdrag/component/shaft_network.hpp"

namespace ohmdrag::component {

/// Where a shaft's heat flow has its nodes: every contact and, in its place among them, the seal,
/// where oil ends and air begins.
struct ShaftNodes {
  boost::container::small_vector<double, 5> position_m;
  boost::container::small_vector<std::size_t, 4> of_contact;
  std::size_t seal = 0;

  bool wet(std::size_t rod) const { return rod < seal; }  // from node `rod` to the next
};

inline ShaftNodes shaft_nodes(const ShaftSystem& system) {
  constexpr double same_place_m = 1e-9;  // far below any width of a contact
  ShaftNodes nodes;
  const auto node_at = [&](double position_m) {
    if (nodes.position_m.empty() || position_m - nodes.position_m.back() > same_place_m)
      nodes.position_m.push_back(position_m);
    return nodes.position_m.size() - 1;
  };
  const double seal_m = system.wet_until.value();
  std::optional<std::size_t> seal;
  for (const ShaftContact& c : system.contacts) {
    if (!seal && c.position.value() > seal_m) seal = node_at(seal_m);
    nodes.of_contact.push_back(node_at(c.position.value()));
  }
  nodes.seal = seal ? *seal : node_at(seal_m);
  return nodes;
}

}  // namespace ohmdrag::component
