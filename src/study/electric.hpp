#pragma once

#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "ohmdrag/life/electrical_life.hpp"
#include "ohmdrag/numerics/lane_rows.hpp"
#include "ohmdrag/voltage/discharge.hpp"
#include "ohmdrag/voltage/discharge_path.hpp"
#include "ohmdrag/voltage/verdict.hpp"
#include "study/model.hpp"
#include "study/samples.hpp"
#include "study/stress_grid.hpp"

namespace ohmdrag::study {

struct StrikeColumns;
class OilColumns;
struct NodeCourse;

/// The shaft at one speed, oil temperature and torque.
struct ElectricState {
  std::vector<bearing::FilmState> films;      ///< per bearing of the shaft
  std::vector<voltage::DischargePath> paths;  ///< these bearings, then the other ways to the frame
  std::vector<std::size_t> places;            ///< of the paths in DutySample::bearings
  std::optional<std::size_t> struck;  ///< path with the lowest threshold; none if one conducts
  bool conducting = false;            ///< a path ties the shaft to the frame
  bool turning = false;
  AngularVelocity speed{};
  double modulation = 0.0;
  int verdict_legs = 1;  ///< that switch together in the edge that a verdict takes
  voltage::ShaftNode node;
  ShaftStresses stresses;

  /// What a verdict takes as the edge.
  voltage::Stress verdict_edge() const;
};

/// Shaft voltage and discharges of one variant in one draw, with the grounding element at an age;
/// at the end of its service unless another is asked for: what must still hold then.
class ElectricModel {
 public:
  /// Refers to model and variant, which must outlive it.
  /// \param source  of this world and draw, where several variants share it
  ElectricModel(const WorldModel& model, const VariantModel& variant, const Draw& draw,
                Age age = Age::end, std::shared_ptr<const SourceInDraw> source = nullptr);
  ElectricModel(const ElectricModel&) = delete;
  ElectricModel& operator=(const ElectricModel&) = delete;

  ElectricState state(AngularVelocity speed, Temperature oil, Torque torque) const;

  /// The figures of an operating point.
  ElectricSample at(const OperatingPoint& point, const Draw& draw) const;

  /// Adds a stretch to the discharges of the paths; `scratch` is kept from stretch to stretch.
  void accumulate(const energy::Stretch& stretch, Temperature oil, ElectricState& scratch,
                  std::vector<BearingSample>& paths) const;
  /// The same of a whole duty, out of columns and the powers of the oil: to rounding, but for the
  /// oil between the nodes of its table.
  /// \param oil_K  at the start of each stretch, in blocks; what fills the last one counts for
  /// nothing \param nodes  those found before along the same columns: taken where oil and bearings
  /// are the
  ///               same, else replaced; null: nothing is kept
  void accumulate(std::span<const energy::Stretch> stretches, const StrikeColumns& columns,
                  const OilColumns& oil, const numerics::LaneRows& oil_K,
                  std::vector<BearingSample>& paths, NodeCourse* nodes = nullptr) const;

  // The nominal case shows more than the ensemble.
  voltage::MaybePath path(AngularVelocity speed) const { return grid_.path(speed); }
  const SourceModel& source() const { return source_; }
  /// At which its stresses are solved ahead.
  const StressSpeeds& speeds() const { return *shared_source_->speeds; }
  /// The stresses of a state without the interpolation of a duty.
  ShaftStresses solved(const ElectricState& state) const {
    return grid_.solved(state.node, state.speed);
  }
  std::size_t shaft() const { return shaft_; }
  voltage::VerdictInput verdict_input(const ElectricState& state, Time t0) const;
  /// Volts on the shaft over the middle of the threshold there.
  double stress_of(const ElectricState& state, const voltage::DischargePath& path) const;

 private:
  friend class StrikeCourse;

  void update(ElectricState& state, AngularVelocity speed, Temperature oil, Torque torque) const;
  /// Without its stresses.
  void place(ElectricState& state, AngularVelocity speed, Temperature oil, Torque torque) const;
  void add_bearings(ElectricState& state, Temperature oil, Torque torque) const;
  void add_other_paths(ElectricState& state, Temperature oil, Torque torque) const;
  voltage::DischargeRates rates(const ElectricState& state) const;
  voltage::DischargeRates rates(const ElectricState& state, const voltage::EdgeRates& edges) const;
  void add_discharges(const ElectricState& state, const voltage::DischargeRates& discharges,
                      double dt_s, BearingSample& struck) const;
  Current peak_current(const ElectricState& state, Voltage at_shaft) const;
  Current through_contact(const ElectricState& state) const;
  void describe_discharge(const ElectricState& state, ElectricSample& sample) const;

  const WorldModel* model_;
  std::size_t shaft_;
  std::vector<std::size_t> bearings_;  ///< on the shaft, as indices into the case
  std::vector<std::size_t> others_;    ///< likewise
  std::shared_ptr<const SourceInDraw> shared_source_;
  const SourceModel& source_;
  Capacitance winding_rotor_, rotor_frame_;
  StressGrid grid_;
  Time t0_;
  double edge_width_, fallen_;
  Inductance loop_inductance_;
  Resistance loop_resistance_, metallic_contact_;
  std::optional<life::CurrentDensityLaw> density_law_;
};

}  // namespace ohmdrag::study
