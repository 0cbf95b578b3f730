#pragma once

#include <optional>
#include <variant>
#include <vector>

#include "ohmdrag/numerics/range_flag.hpp"
#include "ohmdrag/quantity/quantities.hpp"

/// Contact spots one by one, in ohm from resistivity, hardness and film: where a resistance comes
/// from before somebody has measured it.
namespace ohmdrag::contact {

using Resistivity = Quantity<decltype(si::resistance() * si::length())>;
/// Of a film, across its thickness: resistance times area.
using FilmResistivity = Quantity<decltype(si::resistance() * si::area())>;

/// A spot that yields until its mean pressure carries the force.
struct PlasticSpot {
  Pressure hardness;  ///< H > 0, of the softer body
  double load_share;  ///< eta in (0, 1], mean pressure over hardness; 1: wholly plastic
};
/// A smooth sphere on a flat.
struct ElasticSpot {
  Length sphere_radius;      ///< r > 0
  Pressure reduced_modulus;  ///< E' = 2/[(1 - nu1^2)/E1 + (1 - nu2^2)/E2] > 0
};
using SpotLaw = std::variant<PlasticSpot, ElasticSpot>;

/// Radius of a circular spot.
///
///     plastic   pi a^2 eta H = F
///     elastic   a = [3 F r / (2 E')]^(1/3)
///
/// Validity  a far below the size of the bodies.
/// Limits    F -> 0: 0.
/// Source    plastic: P. G. Slade (ed.), Electrical Contacts, as quoted in a forum answer; elastic:
///           Hertz, as on the page of formulas of a data book on electrical contacts.
/// \throws std::invalid_argument for members outside the ranges they name or a force that is not
///         positive.
Length spot_radius(const SpotLaw& spot, Force force);

/// Equal spots that share the force.
struct HolmContact {
  Resistivity first;     ///< rho_1 >= 0, of one body
  Resistivity second;    ///< rho_2 >= 0, of the other
  FilmResistivity film;  ///< sigma_f >= 0
  SpotLaw spot;
  double spots;                          ///< n >= 1
  std::optional<Length> cluster_radius;  ///< A_r > 0; none: the spots do not feel each other
};

struct SpotResistance {
  Resistance constriction;  ///< of the spots
  Resistance cluster;       ///< of the circle that holds them
  Resistance film;
  std::vector<numerics::RangeFlag> flags;
  Resistance total() const { return constriction + cluster + film; }
};

/// Contact resistance of n spots under a force.
///
///     R = (rho_1 + rho_2)/(4 n a) + (rho_1 + rho_2)/(4 A_r) + sigma_f/(pi a^2 n),  a at F/n
///
/// One spot between like bodies: rho/(2a) + sigma_f/(pi a^2). Over force, at a fixed number of
/// spots: constriction F^(-1/2) plastic, F^(-1/3) elastic; film F^(-1) plastic, F^(-2/3) elastic.
///
/// Sign: never falls as force falls.
///
/// Validity  clean metal below the film, small signal, spots far below the skin depth. Spots that
///           would cover more than their cluster are flagged.
/// Limits    n = 1 without a cluster: one spot. A_r -> infinity: no cluster term. Plastic film:
///           eta H sigma_f / F, whatever n is.
/// Accuracy  a factor 2 for clean metal; films are known to decades: clean or tunnelling 1e-12 to
///           1e-11 Ohm m2, thin oxide 1e-10 to 1e-8, insulating above 1e-6 (all from memory).
/// Source    constriction of one spot, of two metals and of n spots: the page of formulas named
///           above. Cluster term: J. A. Greenwood, 1966, and R. Holm, Electric Contacts (1967),
///           from memory. Film: Holm, from memory.
/// \throws std::invalid_argument as spot_radius(), and for members outside the ranges they name.
SpotResistance holm_resistance(const HolmContact& contact, Force force);

/// Constriction of a contact that its own current has warmed over that of the cold one.
///
///     1 + (2/3) alpha (T_max - T_0)
///
/// Validity  metals, below softening: a softened spot grows and its resistance falls.
/// Limits    T_max = T_0: 1.
/// Source    P. G. Slade, IEEE Holm Conference 2014 (first page).
/// \param alpha  of the resistivity, at T_0
/// \throws std::invalid_argument if T_max lies below T_0 or nothing is left.
double hot_constriction_factor(PerTemperature alpha, Temperature hottest, Temperature body);

/// Hottest point of a contact between like metals by the voltage across it.
///
///     T_max^2 = T_0^2 + V^2/(4 L),   L = (pi^2/3) (k/e)^2 = 2.443e-8 V2/K2
///
/// Sign: that of the voltage does not matter.
///
/// Validity  heat leaves as the current comes, through metal (law of Wiedemann and Franz); no heat
///           of friction. Not for carbon.
/// Limits    V = 0: T_0. High V: 1/(2 sqrt L) = 3199 K a volt.
/// Accuracy  10 % of the rise at softening and melting.
/// Source    R. Holm, Electric Contacts (1967), from memory; slope as on the page of formulas named
///           above (3200 K a volt). L derived from CODATA 2018.
/// \throws std::invalid_argument for a body that is not above absolute zero or undefined voltage.
Temperature hottest_of_contact(Voltage drop, Temperature body);

/// The voltage that warms it so far: the inverse.
/// \throws std::invalid_argument likewise, or if T_max lies below T_0.
Voltage drop_for_hottest(Temperature hottest, Temperature body);

/// Voltage that punctures an insulating film, E_bd s. Above it the contact is no longer ohmic.
///
/// Accuracy  E_bd about 1e8 V/m, a factor 3 either way (from memory).
/// \throws std::invalid_argument if one of them is not positive.
Voltage puncture_voltage(ElectricField breakdown, Length thickness);

}  // namespace ohmdrag::contact
