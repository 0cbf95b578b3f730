#pragma once

#include <optional>

#include "ohmdrag/numerics/range_flag.hpp"
#include "ohmdrag/quantity/quantities.hpp"

/// How much hotter than the bodies around it a small spot gets while it slides: asperities, and
/// brushes that cover a part of the circumference. A lip or ring touches all of it, is no moving
/// source, and has band_resistance() instead.
namespace ohmdrag::contact {

/// Heat per contact area.
using HeatFlux = Quantity<decltype(si::power() / si::area())>;

/// What a body opposes to a flash of heat.
struct FlashBody {
  ThermalConductivity conductivity;  ///< k > 0
  Density density;                   ///< > 0
  SpecificHeat specific_heat;        ///< > 0
};

/// Diffusivity k / (rho c) in SI. \throws std::invalid_argument unless all are positive.
double diffusivity_m2_s(const FlashBody& body);

/// q = mu p u: all friction of a spot per area of it.
/// \throws std::invalid_argument for a negative friction or pressure.
HeatFlux friction_flux(double friction, Pressure pressure, Speed sliding);

/// Rise over the body's own temperature, all heat given to this body.
struct FlashRise {
  TemperatureDifference highest;
  TemperatureDifference mean;  ///< over the spot
};

enum class SpotProfile {
  uniform,   ///< plastic contact
  parabolic  ///< sqrt(1 - r^2/a^2): elastic contact; q is the mean of the spot
};

/// A circular spot of radius a that moves over a body at u; u = 0 for the body that carries it.
///
///     Pe = u a / (2 kappa)
///     dT = C q a / (k sqrt[pi (B + Pe)])
///     uniform     highest C 2,    B 1.273     mean C 1.22,  B 0.6575
///     parabolic   highest C 2.32, B 1.234     mean C 1.464, B 0.874
///
/// Validity  every Pe; steady; a far below the size of the body.
/// Limits    Pe -> 0: the steady disc, q a/k (1, 8/(3 pi); 3 pi/8, 9 pi/32).
///           Pe -> infinity: heat flows straight down under each line of the spot.
///           u -> 0: no rise, since q -> 0.
/// Accuracy  at both limits within 1 % of the exact solution, but for the parabolic mean, which is
///           15 % too high for a fast spot. Real surfaces have spots of every size: a single size
///           may be far off (B. N. J. Persson, M. H. Mueser, arXiv 2603.29547).
/// Source    X. Tian, F. E. Kennedy, J. Tribology 116 (1994) 167, coefficients from memory and
///           checked against both limits; after H. Blok (1937) and J. C. Jaeger (1942).
/// \throws std::invalid_argument unless radius and body are positive and the flux is not negative.
FlashRise spot_rise(SpotProfile profile, HeatFlux flux, Length radius, const FlashBody& body,
                    Speed over_body);

/// A uniform band of half-width l in the direction of motion and endless across it.
///
///     Pe_b = u l / kappa
///     highest 1.596 q l / (k sqrt Pe_b) = (2 q/k) sqrt(kappa t/pi),  t = 2 l/u;   mean 2/3 of it
///
/// Validity  Pe_b >= 10; see outside_flash_band().
/// Limits    u -> infinity at fixed q: falls as u^(-1/2).
/// Accuracy  exact as Pe_b grows; too high below the range.
/// Source    J. C. Jaeger (1942), from memory; the second form is the half-space under a constant
///           flux, H. S. Carslaw, J. C. Jaeger, Conduction of Heat in Solids, section 2.9.
/// \throws std::invalid_argument unless half-width, body and |u| are positive and the flux is not
///         negative.
FlashRise band_rise(HeatFlux flux, Length half_width, const FlashBody& body, Speed over_body);

/// The flag of Pe_b below 10.
std::optional<numerics::RangeFlag> outside_flash_band(Length half_width, const FlashBody& body,
                                                      Speed over_body);

/// Two bodies share the heat so that both reach the same highest temperature.
struct SharedFlash {
  TemperatureDifference highest;
  double into_first;  ///< share of the heat, 0 to 1; 0.5 without heat
};

/// Partition by equal maximum, from the rise that each body would have with all the heat.
///
///     dT = 1 / (1/dT_1 + 1/dT_2),   share of body 1 = dT / dT_1
///
/// Validity  both bodies at the same temperature away from the spot.
/// Limits    a body that does not conduct takes nothing: dT = that of the other.
/// Source    H. Blok (1937), from memory.
/// \throws std::invalid_argument for a negative rise, or one of the two zero alone.
SharedFlash shared_flash(TemperatureDifference first_alone, TemperatureDifference second_alone);

}  // namespace ohmdrag::contact
