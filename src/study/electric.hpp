#pragma once

#include <array>
#include <optional>
#include <vector>

#include "ohmdrag/life/electrical_life.hpp"
#include "ohmdrag/voltage/bands.hpp"
#include "ohmdrag/voltage/discharge.hpp"
#include "ohmdrag/voltage/held_voltage.hpp"
#include "ohmdrag/voltage/verdict.hpp"
#include "study/model.hpp"
#include "study/samples.hpp"

namespace ohmdrag::study {

/// What stands on the shaft for one node capacitance and modulation.
struct ShaftStresses {
  std::array<voltage::Stress, 3> edge;  ///< 1, 2, 3 legs switching together
  voltage::Stress held;                 ///< after a discharge: what a verdict uses
};

/// The shaft at one speed, oil temperature and torque.
struct ElectricState {
  std::vector<bearing::FilmState> films;  ///< per bearing of the shaft
  std::optional<std::size_t> struck;  ///< bearing with the lowest threshold; none if one conducts
  bool conducting = false;
  bool turning = false;
  double modulation = 0.0;
  voltage::ShaftNode node;
  ShaftStresses stresses;
};

/// Shaft voltage and discharges of one variant in one draw, with the grounding element at the end
/// of its service: what must still hold then.
class ElectricModel {
 public:
  ElectricModel(const WorldModel& model, const VariantModel& variant, const Draw& draw);

  ElectricState state(AngularVelocity speed, Temperature oil, Torque torque) const;

  /// The figures of an operating point.
  ElectricSample at(const OperatingPoint& point, const Draw& draw) const;

  /// Adds a stretch to the discharges of the bearings; `scratch` is kept from stretch to stretch.
  void accumulate(const energy::Stretch& stretch, Temperature oil, ElectricState& scratch,
                  std::vector<BearingSample>& bearings) const;

  // The nominal case shows more than the ensemble.
  const voltage::MaybePath& path() const { return path_; }
  voltage::Carrier carrier(double modulation) const;
  Time rise() const { return rise_; }
  std::size_t shaft() const { return shaft_; }
  voltage::VerdictInput verdict_input(const ElectricState& state, Time t0) const;
  /// Bearings on the electrified shaft, as indices into the case.
  const std::vector<std::size_t>& bearings() const { return bearings_; }

 private:
  void update(ElectricState& state, AngularVelocity speed, Temperature oil, Torque torque) const;
  double modulation(AngularVelocity speed) const;
  ShaftStresses stresses(const voltage::ShaftNode& node, double modulation) const;
  ShaftStresses solved_stresses(const voltage::ShaftNode& node, double modulation) const;
  voltage::DischargeLaw law(const ElectricState& state) const;
  voltage::DischargeRates rates(const ElectricState& state) const;
  Voltage threshold(const ElectricState& state, ElectricField breakdown) const;

  const WorldModel* model_;
  std::size_t shaft_;
  std::vector<std::size_t> bearings_;
  Voltage dc_link_;
  Frequency carrier_;
  Time rise_;
  Capacitance winding_rotor_, rotor_frame_;
  voltage::MaybePath path_;
  ElectricField breakdown_;
  voltage::BreakdownBand breakdown_band_;
  voltage::ThresholdBand fixed_threshold_;
  Time t0_;
  double edge_width_, fallen_;
  voltage::DischargeLoop loop_;
  std::optional<life::CurrentDensityLaw> density_law_;

  /// Stresses solved ahead on a grid of node capacitance (logarithmic) and modulation; a duty asks
  /// for thousands of points between. Interpolation is within 1 % of the solution.
  struct Grid {
    std::vector<double> log_capacitance;
    std::vector<double> modulation;
    std::vector<ShaftStresses> at;  ///< [capacitance][modulation]
  };
  Grid grid_;
};

}  // namespace ohmdrag::study
