#pragma once

#include <cstddef>

#include "ohmdrag/material/oil_kernel.hpp"
#include "ohmdrag/numerics/lane_math.hpp"

namespace ohmdrag::component {

/// sqrt(h) out of h^3: it is all that the fins ask for.
[[gnu::always_inline]] inline double root_of_film(double cube) {
  return numerics::LaneMath::exp((1.0 / 6.0) * numerics::LaneMath::log(cube));
}

/// The oil of a lane out of rows that follow each other.
[[gnu::always_inline]] inline material::OilConstants oil_at(const double* const* oil,
                                                            std::size_t i) {
  return {oil[0][i], oil[1][i], oil[2][i], oil[3][i], oil[4][i], oil[5][i]};
}

}  // namespace ohmdrag::component
