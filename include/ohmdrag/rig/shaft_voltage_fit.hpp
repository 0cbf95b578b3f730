#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "ohmdrag/quantity/quantities.hpp"
#include "ohmdrag/rig/breakdown_fit.hpp"
#include "ohmdrag/rig/count_interval.hpp"
#include "ohmdrag/rig/estimate.hpp"

/// What an oscilloscope saw of a shaft, to parameters of the coupling and of the films.
namespace ohmdrag::rig {

/// Samples at equal distances; a gap of several of them begins another sweep of the instrument.
struct ShaftRecord {
  std::vector<Time> time;            ///< strictly rising
  std::vector<Voltage> shaft;        ///< to the housing
  std::vector<Voltage> common_mode;  ///< of the winding, to the housing; empty: not recorded
};

struct ShaftVoltageRun {
  ShaftRecord open;                     ///< without a grounding contact
  std::optional<ShaftRecord> grounded;  ///< with one, otherwise alike
  std::optional<Voltage> dc_link;       ///< stands in for a common mode that was not recorded
  /// Legs that switch together at the smallest edge, where the link stands in: 1 is a third of it,
  /// 3 the whole.
  int legs = 1;
  /// Half width of the 95 % interval of what both channels' gains, or gain and link, may be off.
  double gain_uncertainty = 0.0;
  std::optional<Frequency> bandwidth;            ///< of probe and instrument together
  std::optional<Capacitance> probe_capacitance;  ///< of probe and lead on the shaft
  struct Total {
    Capacitance value, half_width;  ///< 95 %
  };
  std::optional<Total> total_capacitance;  ///< of the shaft against all else, without the probe
};

/// A sudden fall of the shaft's voltage.
struct Collapse {
  Time at;
  Voltage voltage;  ///< just before, signed
  Time dwell;       ///< since the edge before it began; not a number without one in the sweep
  Evidence evidence = Evidence::broke_at;
  Voltage stood;  ///< highest since that edge
};

/// What one record shows.
struct RecordView {
  std::size_t samples = 0, sweeps = 0;
  Time duration;    ///< of the sweeps together
  Time interval;    ///< between samples
  Voltage noise;    ///< standard deviation of a sample
  Voltage largest;  ///< |v|
  Voltage rms;
  std::size_t edges = 0;
  Voltage step;  ///< median of the shaft's steps, magnitude
  Voltage held;  ///< median magnitude of what stands between two edges
  Voltage peak;  ///< median of the largest magnitude that follows an edge
  /// From 10 to 90 %, median; none where no edge can be told.
  std::optional<Time> rise;
  bool collapses_judged = false;  ///< false: not told from edges or from a contact, see the notes
  Voltage smallest_collapse;      ///< that would have been seen
  std::vector<Collapse> collapses;
  std::vector<Trial> trials;   ///< edges that strain a film, and what each says
  std::size_t idle_edges = 0;  ///< that the shaft does not follow: its bearings conduct
  std::optional<CountInterval> rate_per_s;
  std::optional<CountInterval> struck_share;  ///< of the trials
};

/// Ringing after the edges, share * step * exp(-damping t) sin(2 pi f t) from the end of the ramp.
struct RingingFit {
  Estimate<Frequency> frequency;
  Estimate<Frequency> damping;  ///< of the amplitude, 1/s
  Estimate<double> quality;     ///< pi f/damping
  Estimate<double> share;       ///< amplitude over the step
  std::size_t edges = 0;
};

/// What the films held without a collapse: a share of the edges at least holds a voltage at least,
/// with 95 % confidence.
struct HeldVoltage {
  Voltage voltage;
  double share = 0.0;
  std::size_t edges = 0;  ///< that stood as much
};

struct ShaftVoltageFit {
  RecordView open;
  std::optional<RecordView> grounded;
  // None: the run does not tell it, and a note says why.
  std::optional<Estimate<double>> coupling;       ///< as measured, the probe on the shaft
  std::optional<Estimate<double>> coupling_free;  ///< without the probe
  std::optional<Estimate<Capacitance>> winding_rotor;
  std::size_t coupling_outliers = 0;
  std::optional<RingingFit> ringing;
  std::optional<BreakdownFit> weibull, log_normal;
  std::optional<HeldVoltage> held;  ///< of a record without a collapse
  /// The likelier of both.
  const BreakdownFit* breakdown() const;
  std::vector<std::string> notes;
  std::vector<std::string> warnings;
};

/// Fewer samples are refused; common practice, no source.
inline constexpr std::size_t fewest_record_samples = 200;
/// Fewer edges tell no coupling; common practice, no source.
inline constexpr std::size_t fewest_edges = 6;
/// A collapse leaves no more than this share of what stood; common practice, no source.
inline constexpr double most_left = 0.25;

/// Coupling ratio, ringing and breakdown voltages out of records of the shaft.
///
/// Edges     changes by a seventh of the common mode's range (8 noises at least) no slower than a
///           third of the steepest; those within six ramps of each other, ringing included, are
///           one. Levels are means over the later half of the time between two edges.
/// Collapse  |v| falls by 8 noises and a twelfth of the range, to a quarter or less (and 5 noises),
///           either where the common mode, times the ratio of both, does not step with it, or,
///           where that was not recorded, at least twice as fast as the edges rise.
/// Coupling  shaft step over common-mode step by least squares with Huber's loss, edges beside a
///           collapse left out; neighbours share a level, so their products count in the
///           variance. With the link alone: the steps are whole multiples of one unit.
/// Ringing   one damped sinusoid, scaled by the step, through the samples after many edges;
///           intervals by leaving out a tenth of the edges at a time.
/// Films     fit_breakdown over the edges that lift |v| or turn its sign: a collapse while |v|
/// still
///           reaches new heights tells the voltage, one as the edge begins or after its peak an
///           upper bound, an edge without one the highest voltage that stood.
/// Validity  charge leaks off the shaft slowly against the time between edges; one film decides.
/// Limits    no collapse: what was held is a lower bound by the success run, share = 0.05^(1/n),
/// the
///           rate an upper one, no value.
/// Accuracy  intervals cover 95 % for independent noise (tested); gains of probes come on top.
/// Source    edge and collapse: assumed rules; bearing voltage ratio as voltage::coupling;
///           jackknife: R. G. Miller, Biometrika 61 (1974) 1-15 (from memory).
///
/// \throws std::invalid_argument, in words, for a run that nothing should be fitted to: too few
///         samples, time that runs back, one value all the time, a saturated instrument, channels
///         swapped or one of them inverted, a unit that is off.
ShaftVoltageFit fit_shaft_voltage(const ShaftVoltageRun& run);

}  // namespace ohmdrag::rig
