#pragma once

#include <vector>

#include "ohmdrag/study/case.hpp"
#include "ohmdrag/study/draws.hpp"
#include "ohmdrag/voltage/discharge.hpp"
#include "ohmdrag/voltage/held_voltage.hpp"
#include "ohmdrag/voltage/inverter_source.hpp"

/// The inverter of a case in one draw.
namespace ohmdrag::study {

class SourceModel {
 public:
  SourceModel(const Inverter& inverter, const Draw& draw);

  /// Modulation index at a shaft speed, linear between the rows of the case.
  double modulation(AngularVelocity speed) const;
  /// Beyond it the modulation stays as it is.
  AngularVelocity last_speed() const { return inverter_->modulation_at.back(); }
  /// Speeds between which the modulation is linear and on one side of all_legs_below; rising, zero
  /// and `top` among them.
  std::vector<AngularVelocity> bends(AngularVelocity top) const;

  voltage::Carrier carrier(double modulation) const;
  /// Legs whose edge a verdict takes; an edge of a measured record is taken as it is.
  int verdict_legs(double modulation) const;
  /// Edges a second, by legs that switch together; fewer at rest, where gates may be blocked. Those
  /// of a measured record all count as of one leg.
  voltage::EdgeRates rates(AngularVelocity speed) const;

  /// One carrier period at a place in the fundamental period; the record where one was measured.
  voltage::Waveform waveform(double modulation, double angle_rad) const;

  const voltage::InverterSource& source() const { return source_; }
  Voltage dc_link() const { return source_.dc_link; }
  /// The edges of a measured record; none where the source is modelled.
  const std::vector<voltage::FoundEdge>& measured_edges() const { return measured_edges_; }
  /// The shortest ramp.
  Time fastest() const;
  /// Frequency of the ringing, or one that stands for it.
  Frequency oscillation() const;

 private:
  const Inverter* inverter_;
  voltage::InverterSource source_;
  double blocked_at_standstill_;
  std::vector<voltage::FoundEdge> measured_edges_;
};

}  // namespace ohmdrag::study
