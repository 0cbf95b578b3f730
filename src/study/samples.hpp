#pragma once

#include <array>
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
  double peak_V = 0.0;  ///< one leg
  double peak_two_V = 0.0;
  double peak_three_V = 0.0;
  double verdict_edge_V = 0.0;  ///< the legs that the verdict counts
  double held_V = 0.0;
  double threshold_V = 0.0;
  double film_um = 0.0;
  double film_ratio = 0.0;
  double probability_per_edge = 0.0;
  double dose_rate = 0.0;  ///< W/m2
};

struct PointSample {
  std::vector<PartSample> parts;
  double total_W = 0.0;
  double idle_into_sump_W = 0.0;  ///< through the shafts without any friction
  ElectricSample electric;
};

struct PhaseSample {
  double time_s = 0.0;
  double distance_m = 0.0;
  std::vector<double> shaft_J;    ///< per part
  std::vector<double> battery_J;  ///< per part; driven duties
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

/// Discharges and fatigue of one bearing over one duty.
struct BearingSample {
  double striking_s = 0.0;
  double expected_s = 0.0;
  double conducting_s = 0.0;
  std::array<double, credit_us.size()> striking_by_credit_s{};
  double discharges = 0.0;
  double energy_J = 0.0;
  double dose_J_m2 = 0.0;
  double damage = 0.0;             ///< share of the basic rating life
  double electrical_damage = 0.0;  ///< under the current-density law, share of its life
};

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
  /// By age, over the frequencies of the findings; empty where no path is left.
  std::array<std::vector<double>, ages.size()> impedance_ohm;
  std::array<double, ages.size()> resistance_ohm{};  ///< of the path; infinite where it is open
  std::vector<ContactSample> contacts;               ///< in the order of VariantModel::lives
};

/// 2.5 %, 50 % and 97.5 % points of a sample (linear between order statistics; infinities stay
/// infinite, figures that do not exist are left out).
Interval interval_of(std::vector<double> values);

/// Interval of a figure over the samples of a variant.
template <class Figure>
Interval reduce(const std::vector<VariantSample>& samples, const Figure& figure) {
  std::vector<double> values;
  values.reserve(samples.size());
  for (const VariantSample& sample : samples) values.push_back(figure(sample));
  return interval_of(std::move(values));
}

/// The same for a figure of two variants, draw by draw: what they share cancels.
template <class Figure>
Interval reduce(const std::vector<VariantSample>& a, const std::vector<VariantSample>& b,
                const Figure& figure) {
  std::vector<double> values;
  values.reserve(a.size());
  for (std::size_t i = 0; i < a.size(); ++i) values.push_back(figure(a[i], b[i]));
  return interval_of(std::move(values));
}

}  // namespace ohmdrag::study
