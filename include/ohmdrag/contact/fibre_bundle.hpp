#pragma once

#include <vector>

#include "ohmdrag/contact/holm.hpp"
#include "ohmdrag/numerics/range_flag.hpp"
#include "ohmdrag/quantity/quantities.hpp"

/// Many conductive fibres side by side: how much of their resistance is fibre, spot and film.
namespace ohmdrag::contact {

/// One fibre that carries current from its root to a tip on the shaft.
struct ConductingFibre {
  Length diameter;       ///< d > 0
  Length length;         ///< l > 0, that the current runs through
  Resistivity fibre;     ///< rho_f > 0
  Resistivity shaft;     ///< rho_s >= 0
  FilmResistivity film;  ///< sigma_f >= 0, on the tip and below it
  SpotLaw tip;           ///< one spot a fibre
};

struct BundleResistance {
  Resistance bulk;          ///< of the fibres themselves
  Resistance constriction;  ///< of the spots
  Resistance film;
  std::vector<numerics::RangeFlag> flags;
  Resistance total() const { return bulk + constriction + film; }
};

/// Resistance of N equal fibres that share a force.
///
///     R = (1/N) [4 rho_f l/(pi d^2) + (rho_f + rho_s)/(4a) + sigma_f/(pi a^2)],   a at F/N
///
/// A part that goes with the force on one fibre as f^(-m) makes N fibres R ~ F^(-m) N^(m - 1):
/// plastic spots (m = 1/2) F^(-1/2) N^(-1/2), plastic film (m = 1) F^(-1) whatever N is, the fibres
/// themselves 1/N whatever F is. With a count that grows as N ~ F^q this is DryResistance: bulk
/// F^(-q), spots or film F^-[m + q (1 - m)].
///
/// Sign: never falls as force or count falls.
///
/// Validity  equal fibres, one spot each, all in contact, small signal. A spot wider than its fibre
///           is flagged.
/// Limits    N = 1: one fibre. F -> infinity: the fibres themselves.
/// Accuracy  of the fibres 20 %; of films decades: see holm_resistance().
/// Source    derived: equal conductors in parallel, parts as in holm_resistance().
/// \param touching  N >= 1, fibres in contact
/// \throws std::invalid_argument as holm_resistance(), and for members outside the ranges they
/// name.
BundleResistance bundle_resistance(const ConductingFibre& fibre, double touching, Force force);

}  // namespace ohmdrag::contact
