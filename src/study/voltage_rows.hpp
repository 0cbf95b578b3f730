#pragma once

#include <string>
#include <vector>

#include "study/electric.hpp"
#include "study/sections.hpp"

/// What the rows of an operating point's shaft voltage are made of.
namespace ohmdrag::study {

/// The figures of one point over the draws of a variant.
class PointFigures {
 public:
  PointFigures(const std::vector<VariantSample>& samples, std::size_t point)
      : samples_(&samples), point_(point) {}

  Interval of(double ElectricSample::*member, double factor = 1.0) const;
  Interval reduction_dB(std::size_t band) const;
  /// A row with all that comes from the draws alone.
  VoltageRow row() const;

 private:
  const std::vector<VariantSample>* samples_;
  std::size_t point_;
};

/// Every way from the shaft to the frame at a state of the nominal case.
std::vector<PathRow> path_rows(const ElectricModel& electric, const ElectricState& now);
/// Where it discharges and why there.
std::string paths_in_words(const ElectricModel& electric, const ElectricState& now);

/// What a discharge of the struck path is; only where one is struck.
DischargeRow discharge_row(const ElectricModel& electric, const ElectricState& now,
                           const PointFigures& figures, const OperatingPoint& point,
                           const Nominal& nominal);

/// Spectrum and course in time of the nominal case.
void add_detail(const ElectricModel& electric, const ElectricState& now, VoltageRow& row);

}  // namespace ohmdrag::study
