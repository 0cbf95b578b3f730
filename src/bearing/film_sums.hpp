#pragma once

#include <span>

#include "ohmdrag/bearing/film.hpp"
#include "ohmdrag/numerics/lane_width.hpp"

/// What the contacts of a bearing add up to, eight rolling elements side by side. SI throughout.
namespace ohmdrag::bearing {

/// The contact of a rolling element and one ring under 1 N.
struct UnitContact {
  double area_m2;
  double central_m;  ///< at eta u = 1 Pa m
};

/// By which powers they follow the load.
struct LoadPowers {
  double area, central;
};

/// The oil between them.
struct ContactOil {
  double permittivity;
  double capacitance_factor;
  Dielectric dielectric;
};

struct FilmSums {
  double area_inner_m2 = 0.0;
  double capacitance_F = 0.0;  ///< both films of an element in series, the elements in parallel
  double worst_N = 0.0;
  double unloaded = 0.0;
};

/// The same bits at every width of vector.
///
/// \param loads_N  of all elements; those without load have 0
FilmSums film_sums(std::span<const double> loads_N, const UnitContact& inner,
                   const UnitContact& outer, const LoadPowers& powers, const ContactOil& oil,
                   numerics::LaneWidth width);

}  // namespace ohmdrag::bearing
