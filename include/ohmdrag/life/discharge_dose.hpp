#pragma once

#include <optional>
#include <span>

#include "ohmdrag/quantity/quantities.hpp"
#include "ohmdrag/voltage/discharge.hpp"
#include "ohmdrag/voltage/verdict.hpp"

/// What a duty adds up to before any law of damage.
namespace ohmdrag::life {

/// One step of driving.
struct DoseStep {
  Time duration;  ///< >= 0
  voltage::Verdict verdict = voltage::Verdict::none;
  Frequency rate;               ///< discharges a second
  Power power;                  ///< in discharges
  voltage::DoseRate dose_rate;  ///< of the struck contacts
};

struct DischargeDose {
  Time time;      ///< driving
  Time striking;  ///< with a verdict other than none
  Time expected;  ///< with the verdict expected
  double discharges = 0.0;
  Energy energy;
  EnergyPerArea dose;

  double striking_share() const;  ///< of driving time; 0 without time
  double expected_share() const;
  Frequency mean_rate() const;
  voltage::DoseRate mean_dose_rate() const;
};

/// Sums the steps: N = sum rate dt, W = sum power dt, D = sum dose_rate dt.
///
/// Source    derived: definitions.
/// \throws std::invalid_argument if a duration or rate is negative.
DischargeDose accumulate(std::span<const DoseStep> steps);
void add(DischargeDose& sum, const DoseStep& step);

/// Dose of the baseline over dose of the variant in the same time; nothing if the variant has none
/// ("no discharge in the model", not infinity).
///
/// \throws std::invalid_argument if either covers no time.
std::optional<double> dose_factor(const DischargeDose& baseline, const DischargeDose& variant);

}  // namespace ohmdrag::life
