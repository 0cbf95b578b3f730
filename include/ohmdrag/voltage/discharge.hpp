#pragma once

#include <span>

#include "ohmdrag/quantity/quantities.hpp"
#include "ohmdrag/voltage/edge_response.hpp"

/// How often it strikes, with how much energy and current.
namespace ohmdrag::voltage {

/// W/m2 of contact area.
using DoseRate = Quantity<decltype(si::power() / si::area())>;

/// Voltage at which a discharge happens: min(|v|, V_th).
///
/// Source    derived: the film gives way as soon as the rising voltage reaches its threshold.
/// \throws std::invalid_argument if the threshold is negative.
Voltage discharge_voltage(Voltage voltage, Voltage threshold);

/// Energy of one discharge, W = C V^2 / 2.
///
/// \param capacitance  C_T of the shaft (the winding is at ground through C_wf)
/// \throws std::invalid_argument if C is not positive.
Energy discharge_energy(Capacitance capacitance, Voltage voltage);

/// The loop that a discharge closes.
struct DischargeLoop {
  Inductance inductance;    ///< L > 0
  Resistance resistance;    ///< R >= 0
  Capacitance capacitance;  ///< C > 0
};

/// Peak current of a capacitor that discharges through L and R in series.
///
///     under-damped   i = V/(w_d L) exp(-a t*) sin(w_d t*),   t* = atan(w_d/a)/w_d
///     critical       i = V/(L a) exp(-1)
///     over-damped    i = V/(s L) exp(-a t*) sinh(s t*),      t* = atanh(s/a)/s
///     a = R/2L, w_d^2 = 1/LC - a^2, s^2 = a^2 - 1/LC
///
/// Limits    V sqrt(C/L) for R = 0; V/R for R -> infinity.
/// Accuracy  the loop is known to a factor of three either way.
/// Source    derived: circuit theory.
/// \throws std::invalid_argument if L or C is not positive or R negative.
Current peak_discharge_current(Voltage voltage, const DischargeLoop& loop);

/// Peak current over the Hertzian area of all loaded contacts at the inner ring. Apparent: an arc
/// uses one spot.
///
/// Source    definition: Weicker, SPEEDAM 2022 (abstract read).
/// \throws std::invalid_argument if the area is not positive.
CurrentDensity apparent_current_density(Current current, Area area);

/// Common-mode edges a second by the number of legs that switch together; none counted twice:
/// one_leg + 2 two_legs + 3 three_legs = 6 f_sw.
struct EdgeRates {
  Frequency one_leg;
  Frequency two_legs;
  Frequency three_legs;
  Frequency total() const { return one_leg + two_legs + three_legs; }
};

/// How the six leg edges of a carrier period fall together.
///
///     pairs a half-period  N2 = (6/pi) asin(min(1, 4 t_r f_sw / (sqrt(3) M)))
///
/// Two edges meet if they are less than a rise time apart. Where the pairs need more edges than
/// there are (N2 > 1.5), and below M = 0.02, all three legs switch together: 2 f_sw edges.
///
/// Validity  sine-triangle or symmetric space-vector modulation; dead time shifts the meetings, it
///           does not remove them.
/// Source    derived: share of the fundamental period in which two of three sines differ by less
///           than a rise time.
/// \throws std::invalid_argument if f_sw or the rise is not positive or M outside 0 to 2/sqrt(3).
EdgeRates edge_rates(Frequency carrier, double modulation, Time rise);

/// What is left of the edges at standstill while the gates are blocked for a share of the time:
/// blocked gates make none.
///
/// Limits    the rates themselves for a share of 0, none for 1.
/// Source    derived.
/// \param blocked_share  of the time at standstill, 0 to 1
/// \throws std::invalid_argument for a share outside 0 to 1.
EdgeRates rates_at_standstill(const EdgeRates& rates, double blocked_share);

/// Edges of one kind.
struct EdgeClass {
  Frequency rate;
  Stress stress;  ///< peak and duration of this kind of edge
};

struct DischargeLaw {
  Voltage threshold;        ///< static
  Time t0;                  ///< credit for short pulses
  double width;             ///< of edge_probability
  Capacitance capacitance;  ///< discharged
  Area area;                ///< of the struck contacts
};

struct DischargeRates {
  Frequency rate;               ///< discharges a second
  Power power;                  ///< rate * energy
  DoseRate dose_rate;           ///< power over area
  double probability_per_edge;  ///< rate / edges
  Voltage strongest;            ///< highest discharge voltage with any probability; 0: none
};

/// Discharges a second over the kinds of edges.
///
///     N = sum rate_k p_k,   P = sum rate_k p_k C V_k^2 / 2,   V_k = min(|v|_k, V_th)
///
/// The credit for short pulses moves the probability, not the energy: with or without a path the
/// voltage passes the threshold within the same rise, so both discharges are priced at the static
/// threshold. Less voltage then never means more energy.
///
/// Each edge discharges at most once: with its own peak or, at the same edge, with the voltage held
/// between edges, whichever is the more probable.
///
/// Validity  film ratio > 1; a conducting bearing has no discharge: do not call.
/// Source    derived, with the assumed forms of threshold.hpp.
/// \throws std::invalid_argument for undefined law or classes.
DischargeRates discharge_rates(std::span<const EdgeClass> classes, const Stress& held,
                               const DischargeLaw& law);

}  // namespace ohmdrag::voltage
