#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "ohmdrag/rig/fixture.hpp"
#include "ohmdrag/rig/run_findings.hpp"
#include "ohmdrag/rig/sweep_fit.hpp"

namespace ohmdrag::rig {

/// Which contacts the current went through.
enum class SweepContacts {
  one,
  pair,         ///< two alike in series over the shaft
  three_pairs,  ///< three, in series two at a time
};

/// Sweeps of contacts on a rig, as measured.
struct SweepRun {
  SweepContacts contacts = SweepContacts::one;
  std::vector<Sweep> sweeps;  ///< one; of three pairs AB, BC, CA
  Fixture fixture;
  /// How far leads and clips may have changed their inductance since the short, 95 %; none:
  /// changed_leads_nH where the short was measured, else nothing is known of it.
  std::optional<Inductance> changed_leads;
  std::optional<Resistance> reference;  ///< of an instrument that measured a reflection
  double standard_error = 0.0;          ///< of the load of the fixture, over its size
  bool running = false;                 ///< the shaft turned
  std::optional<Voltage> level;
  struct OtherLevel {
    Sweep sweep;  ///< as the first of `sweeps`
    Voltage level;
  };
  std::optional<OtherLevel> other = {};
  std::string variant = {};    ///< of the case that takes the figures; empty: none
  bool path_included = false;  ///< the loop held the connection to the housing as well
};

/// Resistance at one level over that at another.
struct LevelChange {
  double ratio = 1.0;   ///< at the higher level over that at the lower
  double factor = 1.0;  ///< the 95 % interval is ratio/factor to ratio*factor
  bool depends = false;
};
/// A smaller change of resistance with the level is not warned of; common practice, no source.
inline constexpr double least_level_change = 0.05;

struct SweepRunFit {
  Sweep sweep;                      ///< of one contact, or the mean of several; without fixture
  SweepFit fit;                     ///< of that
  std::vector<SweepFit> specimens;  ///< A, B, C of three pairs, of the model of `fit` or less
  std::optional<SweepRepeats> repeats;
  KramersKronigCheck check;
  std::optional<LevelChange> level;
  /// Of three contacts: 95 % of such contacts lie within this factor of `fit`.
  std::optional<double> scatter_factor;
  std::vector<std::string> notes, warnings;  ///< those of the fits too
};

/// Elements of one contact from what a rig measured.
///
/// Method    fixture off (without_fixture), pairs to one contact (series_pair.hpp), fit_sweep; what
///           adds to the intervals: a drift between passes, as anything between the two ends; leads
///           that changed, to the inductance.
/// Validity  as fit_sweep, without_fixture and resolved_pairs.
/// Limits    of a pair the mean of both is told, whatever their shares.
/// Accuracy  the noise of the logs of a fixture is not in the intervals: take them with more
///           averaging than the sweep.
/// Source    as these; derived.
/// \throws std::invalid_argument, in words, as these, and for a contact of three that comes out
///         with a negative resistance
SweepRunFit fit_sweep_run(const SweepRun& run);

/// The findings of an impedance sweep.
/// \param head  what the run is
RunFindings sweep_findings(RunFindings head, const SweepRun& run, const SweepRunFit& fit);

}  // namespace ohmdrag::rig
