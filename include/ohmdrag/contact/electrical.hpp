#pragma once

#include <vector>

#include "ohmdrag/numerics/range_flag.hpp"
#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::contact {

/// Resistance of a dry conductive contact over its force: fibres in series with contact spots and
/// films, both shared among a number of contacts that grows with force.
///
///     R = [R_b x^(-q) + R_c x^(-m_eff)] d_ref/d,   m_eff = m + q (1 - m)
///     x = F'/F'_ref for rings;   x = F/F_ref and no d_ref/d for brushes
///
/// Sign: never falls as force falls.
///
/// Validity  within a factor 3 of the reference force, clean and dry, small signal, begin of
///           service; flagged beyond.
/// Limits    q = m = 0: force does not set the resistance. q = 0: the power law R_c x^(-m).
///           Rings act in parallel along the circumference: R ~ 1/d at equal line force.
/// Accuracy  a law to be fitted; without a fitted run no better than a factor 3.
/// Source    derived; exponent of a single spot between 1/2 (elastic or one asperity) and 1:
///           R. Holm, Electric Contacts (1967), from memory.
struct DryResistance {
  Resistance bulk;          ///< R_b >= 0 at the reference
  Resistance film;          ///< R_c >= 0 at the reference; one of the two positive
  LineForce at_line_force;  ///< F'_ref > 0, rings only
  Force at_force;           ///< F_ref > 0, brushes only
  Length at_diameter;       ///< d_ref > 0, rings only
  double count_exponent;    ///< q in [0, 1]
  double film_exponent;     ///< m in [0, 1]
};

struct ResistanceResult {
  Resistance value;
  std::vector<numerics::RangeFlag> flags;
};

/// A ring or lip. \throws std::invalid_argument for members outside the ranges they name, or a
/// line force or diameter that is not positive.
ResistanceResult ring_resistance(const DryResistance& law, LineForce line_force, Length diameter);

/// A brush. Throws likewise.
ResistanceResult brush_resistance(const DryResistance& law, Force force);

/// What running does to the resistance of a dry contact: it warms, and it bounces.
struct RunningResistance {
  PerTemperature per_kelvin;  ///< alpha_R; carbon falls (-0.0007 1/K), metal rises (+0.004 1/K)
  Speed speed_scale;          ///< u_R > 0, about 30 m/s
  double speed_exponent;      ///< n_u >= 0; 0: no rise with speed
};

/// Resistance of the running over that of the resting contact at 20 degC.
///
///     [1 + alpha_R (T - 20 degC)] [1 + (|u|/u_R)^n_u],   the second factor 1 for n_u = 0
///
/// Validity  T up to some hundred K above 20 degC; a first factor that is not positive is refused.
/// Limits    20 degC at rest: 1.
/// Accuracy  of the speed the trend alone: sliding contacts rise with it.
/// Source    temperature: linear law of a resistor. Speed: trend after Sensors 2025, 25, 5939; form
///           and u_R assumed. Coefficients of carbon and metal from memory.
/// \throws std::invalid_argument for members outside the ranges they name.
double running_factor(const RunningResistance& law, Temperature contact, Speed surface_speed);

}  // namespace ohmdrag::contact
