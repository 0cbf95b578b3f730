#pragma once

#include <span>
#include <vector>

#include "ohmdrag/component/shaft_network.hpp"
#include "ohmdrag/energy/march.hpp"

namespace ohmdrag::study {

/// Temperatures of the contacts of a shaft along a duty that has been marched.
///
/// Method    component::solve() of every stretch at its own oil, numerics::lanes of them side by
///           side.
/// Validity  as solve(); stretches without a dry side of their own.
/// Accuracy  of the shaft as component::WideShaft, of the oil as it is given.
/// Source    derived: contacts settle within a stretch and have no memory but the oil.
///
/// \param shaft  which of the speeds of a stretch is that of `system`
/// \param oil_K  at the start of each stretch
/// \param dry    air at the dry side
/// \return       [contact][stretch] K; of a stretch that is parked or over which the shaft stands
///               the temperature of the oil
/// \throws std::domain_error "thermally unstable" as solve()
std::vector<std::vector<double>> contact_course_K(const component::ShaftSystem& system,
                                                  std::size_t shaft,
                                                  std::span<const energy::Stretch> duty,
                                                  std::span<const double> oil_K, Temperature dry);

}  // namespace ohmdrag::study
