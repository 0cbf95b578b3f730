#pragma once

#include <span>
#include <vector>

#include "ohmdrag/numerics/range_flag.hpp"
#include "ohmdrag/quantity/quantities.hpp"
#include "ohmdrag/voltage/path.hpp"

/// A measured impedance as a path that edges and carriers can be sent through.
namespace ohmdrag::voltage {

/// A row of an impedance table.
struct ImpedanceRow {
  Frequency frequency;   ///< > 0
  Resistance magnitude;  ///< > 0
  double phase_deg;      ///< -180 to 180; +90: an inductance
};

/// How far the path lies from the table.
struct ImpedanceMisfit {
  double largest_dB = 0.0;   ///< of the magnitude, without sign
  double rms_dB = 0.0;       ///< of the magnitude
  double largest_deg = 0.0;  ///< of the phase, without sign
  double rms_deg = 0.0;
  Frequency worst_at;  ///< where the complex misfit is largest
};

struct MeasuredPath {
  GroundingPath path;
  ImpedanceMisfit misfit;
  Frequency from, to;                      ///< of the table: beyond it the path is an extrapolation
  std::vector<numerics::RangeFlag> flags;  ///< "not a passive impedance" above 1 dB or 7 degrees
};

/// The passive path that comes nearest to a measured impedance: resistance, inductance and films
/// with non-negative members and time constants on a logarithmic grid that closes in on those in
/// use, by non-negative least squares on (Z - Z_measured)/|Z_measured|. Where the table turns from
/// inductive to capacitive, the capacitance across is searched as well. Films that make less than
/// 0.1 % of |Z| everywhere are left out; at most eight remain.
///
/// Validity  a linear contact that does not drift during the sweep. The misfit is the check: a
///           causal, passive impedance of this kind (inductance in series, capacitance across, no
///           other resonance) can be met, so what cannot be met is drift, a level that changes, a
///           fixture, or a resonance of its own. It stands for a Kramers-Kronig test.
/// Accuracy  as the misfit says, within the table; below and above it nothing is known.
/// Source    C. L. Lawson, R. J. Hanson, Solving Least Squares Problems, 1974, algorithm NNLS (from
///           memory); measurement models of RC elements for consistency: P. Agarwal, M. E. Orazem,
///           L. H. Garcia-Rubio, J. Electrochem. Soc. 139 (1992) 1917 (from memory).
/// \throws std::invalid_argument for fewer than three rows, a row outside the stated ranges,
///         frequencies that do not rise, or a misfit above 6 dB or 60 degrees.
MeasuredPath measured_path(std::span<const ImpedanceRow> table);

/// The path at another size of all its impedance: Z times the factor at every frequency.
/// \throws std::invalid_argument if the factor is not positive.
GroundingPath with_impedance(const GroundingPath& path, double factor);

}  // namespace ohmdrag::voltage
