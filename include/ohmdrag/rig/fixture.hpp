#pragma once

#include <complex>
#include <optional>
#include <string>
#include <vector>

#include "ohmdrag/rig/impedance_sweep.hpp"

/// What leads and clips of a rig add to an impedance, and how it is taken off again.
namespace ohmdrag::rig {

/// How series and parallel part of a fixture follow each other.
enum class FixtureForm {
  series_first,  ///< seen from the instrument: leads, then what lies across the specimen
  symmetric,     ///< a two-port that is the same from both ends
};

/// What the instrument shows at one frequency without a specimen, ohm.
struct FixtureImpedance {
  std::optional<std::complex<double>> short_ohm;  ///< specimen replaced by a short piece of metal
  std::optional<std::complex<double>> open_ohm;   ///< specimen taken out
  std::optional<std::complex<double>> load_ohm;   ///< specimen replaced by a known standard
  std::complex<double> standard_ohm = 0.0;        ///< what the standard is
};

/// The specimen out of what was measured with its fixture.
///
///     series first     Z = (Z_m - Z_s)/(1 - (Z_m - Z_s) Y_o),  Y_o = 1/(Z_o - Z_s)
///     symmetric        Z = (Z_s - Z_m) Z_o/(Z_m - Z_o)
///     with a load      Z = Z_std (Z_s - Z_m)(Z_sm - Z_o)/((Z_m - Z_o)(Z_s - Z_sm))
///
/// Limits    short alone: Z_m - Z_s; open alone: 1/(1/Z_m - 1/Z_o); neither: Z_m. A load, which
///           needs both others, makes up for any linear fixture, and for the gain of the
///           instrument.
/// Validity  leads and clips lie as they lay without the specimen.
/// Source    the three forms: an instrument maker's handbook of impedance measurement, section 4.3
///           and appendices B and C.
/// \throws std::invalid_argument for a load without open and short
std::complex<double> without_fixture(std::complex<double> measured_ohm,
                                     const FixtureImpedance& fixture, FixtureForm form);

/// Logs of a fixture; empty ones were not measured.
struct Fixture {
  Sweep short_circuit, open, load;
  std::complex<double> standard_ohm = 0.0;
  FixtureForm form = FixtureForm::series_first;

  bool measured() const { return !short_circuit.empty() || !open.empty(); }
};

/// A short above this share of the specimen, and a specimen above this share of the open, are
/// warned of. Source: the handbook of without_fixture.
inline constexpr double rule_of_hundred = 0.01;
/// Tenfold, at half of the frequencies, the specimen is lost in its fixture and refused; common
/// practice, no source.
inline constexpr double lost_in_fixture = 10.0;
/// What the inductance of leads and clips changes by from short to specimen, 95 %, where nobody
/// states it; common practice, no source.
inline constexpr double changed_leads_nH = 5.0;

struct Compensated {
  Sweep sweep;
  std::vector<std::string> warnings;
};

/// A sweep without its fixture, in the order of measurement.
/// \throws std::invalid_argument, in words: fixture logs that do not cover the sweep, open and
///         short swapped, a specimen that is lost in its fixture, a load without open and short.
Compensated compensated(const Sweep& measured, const Fixture& fixture);

}  // namespace ohmdrag::rig
