#pragma once

#include <algorithm>
#include <array>
#include <boost/container/small_vector.hpp>
#include <cmath>
#include <limits>
#include <vector>

#include "ohmdrag/quantity/distribution.hpp"
#include "study/contact_life.hpp"

/// What one draw of one variant yields, as plain numbers in the units of the findings.
namespace ohmdrag::study {

/// Pulse-duration credits t0 that stand side by side in every verdict.
inline constexpr std::array credit_us{0.0, 0.1, 0.3, 1.0};
/// The credit of the headline.
inline constexpr std::size_t headline_credit = 2;

/// A short list inside its sample, on the heap only where it is longer than most: an ensemble holds
/// a hundred thousand of them, and making and dropping each by itself takes a while.
template <std::size_t Most>
using ShortList = boost::container::small_vector<double, Most>;
using ByPart = ShortList<6>;
using ByFrequency = ShortList<12>;
using ByBand = ShortList<4>;

inline constexpr double not_a_figure = std::numeric_limits<double>::quiet_NaN();

struct PartSample {
  double torque_Nm = 0.0;
  double own_W = 0.0;
  double net_W = 0.0;
  double contact_degC = not_a_figure;
  double aged_W = 0.0;       ///< at the end of service
  double into_sump_W = 0.0;  ///< what its own heat adds to the oil
};

/// A contact over its service, by age or at its end.
struct ContactSample {
  std::array<double, ages.size()> line_force_N_m{};
  std::array<double, ages.size()> width_m{};
  double wear_m = 0.0;
  double groove_m = not_a_figure;
  double debris_kg_per_s = not_a_figure;
  double worn_out_s = not_a_figure;  ///< running time until the wear length is used
};

struct ElectricSample {
  double ratio = 0.0;
  double edge_step_V = 0.0;
  double peak_V = 0.0;          ///< one leg; of more legs as many times that
  double verdict_edge_V = 0.0;  ///< the legs that the verdict counts
  double held_V = 0.0;
  double threshold_V = not_a_figure;  ///< of the shaft, where something can be struck
  double fallen_threshold_V = not_a_figure;
  double film_um = not_a_figure;  ///< of the bearing struck, else of the thinnest film
  double film_ratio = not_a_figure;
  double probability_per_edge = 0.0;
  double dose_rate = 0.0;  ///< W/m2; zero where no area is known
  double discharge_rate_per_s = 0.0;
  double discharge_W = 0.0;             ///< of all discharges
  double discharge_J = not_a_figure;    ///< of one, in the mean
  double discharge_A = 0.0;             ///< highest
  double density_A_mm2 = not_a_figure;  ///< of the highest
  double dwell_s = 0.0;                 ///< of the verdict's edge above the threshold
  double conducting_A = not_a_figure;   ///< at an edge through metal that touches
  ByBand reduction_dB;                  ///< least in each band of the case
};

struct PointSample {
  std::vector<PartSample> parts;
  double total_W = 0.0;
  double idle_into_sump_W = 0.0;  ///< through the shafts without any friction
  /// Of the running contact, by age, over the frequencies of the findings; empty without grounding,
  /// infinite where no path is left.
  std::array<ByFrequency, ages.size()> impedance_ohm;
  ElectricSample electric;
};

struct PhaseSample {
  double time_s = 0.0;
  double distance_m = 0.0;
  ByPart shaft_J;    ///< per part
  ByPart battery_J;  ///< per part; driven duties
};

/// A small constant loss at one shaft over one duty.
struct ShaftWorth {
  /// What a loss of one unit takes: at the shaft, and at the battery in a driven duty.
  struct Energy {
    double shaft_J = 0.0;
    double battery_J = 0.0;
  };
  Energy of_watt;  ///< one watt all the time the shaft turns
  Energy of_Nm;    ///< one newton metre all the way
};

/// Discharges and fatigue of one bearing over one duty; of another way to the frame without
/// fatigue.
struct BearingSample {
  double striking_s = 0.0;
  double expected_s = 0.0;
  double conducting_s = 0.0;
  std::array<double, credit_us.size()> striking_by_credit_s{};
  double discharges = 0.0;
  double energy_J = 0.0;
  double dose_J_m2 = 0.0;
  double undosed = 0.0;          ///< discharges where no contact area is known
  double damage = 0.0;           ///< share of the basic rating life
  double modified_damage = 0.0;  ///< share of the modified rating life
  double turning_s = 0.0;
  double kappa_s = 0.0;               ///< viscosity ratio times turning time
  double thin_s = 0.0;                ///< turning with a viscosity ratio below the method's
  double thin_modified_damage = 0.0;  ///< of modified_damage, what falls into thin_s
  double overloaded_s = 0.0;          ///< turning under more than half the dynamic rating
  double electrical_damage = 0.0;     ///< under the current-density law, share of its life
};

/// The sums of a BearingSample, for whoever adds or averages them all; beside those by credit.
inline constexpr std::array bearing_sums{&BearingSample::striking_s,
                                         &BearingSample::expected_s,
                                         &BearingSample::conducting_s,
                                         &BearingSample::discharges,
                                         &BearingSample::energy_J,
                                         &BearingSample::dose_J_m2,
                                         &BearingSample::undosed,
                                         &BearingSample::damage,
                                         &BearingSample::modified_damage,
                                         &BearingSample::turning_s,
                                         &BearingSample::kappa_s,
                                         &BearingSample::thin_s,
                                         &BearingSample::thin_modified_damage,
                                         &BearingSample::overloaded_s,
                                         &BearingSample::electrical_damage};

struct DutySample {
  std::vector<PhaseSample> phases;
  double end_oil_degC = 0.0;
  double baseline_Wh_per_km = 0.0;  ///< consumption of the vehicle as it stands
  std::vector<BearingSample> bearings;
  std::vector<ShaftWorth> worth;  ///< per shaft

  double time_s() const {
    double sum = 0.0;
    for (const auto& phase : phases) sum += phase.time_s;
    return sum;
  }
  double distance_m() const {
    double sum = 0.0;
    for (const auto& phase : phases) sum += phase.distance_m;
    return sum;
  }
};

struct VariantSample {
  std::vector<PointSample> points;
  std::vector<DutySample> duties;
  /// Of the resting contact, as at the points; for cases without any.
  std::array<ByFrequency, ages.size()> impedance_ohm;
  std::array<double, ages.size()> resistance_ohm{};  ///< at rest; infinite where it is open
  std::vector<ContactSample> contacts;               ///< in the order of VariantModel::lives
};

/// The highest over the operating points; 0 without any.
inline double highest_over_points(const VariantSample& sample, double ElectricSample::*member) {
  double highest = 0.0;
  for (const PointSample& point : sample.points)
    highest = std::max(highest, point.electric.*member);
  return highest;
}

/// 2.5 %, 50 % and 97.5 % points of a sample (linear between order statistics, the nearer one where
/// one of them is infinite; figures that do not exist are left out).
Interval interval_of(std::vector<double> values);

/// Interval of a figure over the draws of a variant: its samples, or what was made of each.
template <class Sample, class Figure>
Interval reduce(const std::vector<Sample>& samples, const Figure& figure) {
  std::vector<double> values;
  values.reserve(samples.size());
  for (const Sample& sample : samples) values.push_back(figure(sample));
  return interval_of(std::move(values));
}

/// The same for a figure of two variants, draw by draw: what they share cancels.
template <class Sample, class Figure>
Interval reduce(const std::vector<Sample>& a, const std::vector<Sample>& b, const Figure& figure) {
  std::vector<double> values;
  values.reserve(a.size());
  for (std::size_t i = 0; i < a.size(); ++i) values.push_back(figure(a[i], b[i]));
  return interval_of(std::move(values));
}

}  // namespace ohmdrag::study
