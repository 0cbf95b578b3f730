#pragma once

#include <cstddef>

/// Which quantity stands in which row of a block of shafts.
namespace ohmdrag::component {

namespace shaft_row {
enum : std::size_t {
  diameter,            // m
  half_diameter,       // m
  fin,                 // conductance of the endless fin over sqrt(h)
  per_m,               // decay over sqrt(h)
  oil_end,             // m, from the first node to the held end
  dry_end,             // m, from the last node to the free end
  log_k,               // of material::OilConstants, and so on
  walther_b,           //
  constant,            //
  density,             //
  alpha,               //
  log_eta_factor,      //
  prandtl_per_nu_rho,  // c/k of the oil
  oil_rise,            // K, of the free convection
  oil_cube_scale,      // (psi k/d)^3 of a turning cylinder, h^3 of a stated film
  count
};
}

namespace dry_row {
enum : std::size_t {
  dry,      // K
  at_rest,  // h^3 at rest
  turning,  // what omega^2 adds to it
  count
};
}

namespace contact_row {
enum : std::size_t {
  into_shaft,     // share of the power that enters the shaft
  body,           // W/K
  shaft,          // W/K
  per_both,       // 1 / (body + shaft), K/W
  current,        // W
  load,           // N at 20 degC
  elastic_share,  //
  law,            // from here on by law:
  // film      boundary friction, film factor, ln transition, exponent, ln(d/2 / F')
  // constant  friction
  // ptfe      slow, middle, fast, filled factor, least pressure Pa, F'/b Pa
  count = law + 6
};
}

}  // namespace ohmdrag::component
