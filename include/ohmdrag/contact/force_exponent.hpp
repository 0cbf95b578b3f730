#pragma once

#include <string>

#include "ohmdrag/contact/electrical.hpp"
#include "ohmdrag/quantity/quantities.hpp"

/// Is it the force that sets the resistance of a contact?
namespace ohmdrag::contact {

/// Local exponent of a dry contact over its force, -d ln R / d ln F.
///
///     [q R_b x^(-q) + m_eff R_c x^(-m_eff)] / [R_b x^(-q) + R_c x^(-m_eff)],   see DryResistance
///
/// Sign: not negative; 1: half the force doubles the resistance.
///
/// Validity  as ring_resistance() and brush_resistance(), whose flags are not repeated here.
/// Limits    q = m = 0: 0. Force -> 0: m_eff. Force -> infinity: q (with a bulk).
/// Source    derived.
/// \throws std::invalid_argument as ring_resistance() and brush_resistance().
double force_exponent(const DryResistance& law, LineForce line_force);
double force_exponent(const DryResistance& law, Force force);

/// Below this local exponent, force is said not to set the resistance: twice the force then takes
/// less than 7 % of it. Chooses words and moves no number.
inline constexpr double least_force_exponent = 0.1;

/// What force does to the impedance: how much of it twice the force leaves, or that force does not
/// set it.
/// \throws std::invalid_argument for a negative exponent.
std::string force_effect_in_words(double exponent);

}  // namespace ohmdrag::contact
