#include "ohmdrag/life/electrical_life.hpp"

#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

#include "ohmdrag/life/miner.hpp"

namespace ohmdrag::life {

namespace {

constexpr std::string_view dose_blind_spot =
    "The dose law is blind to the peak current of a discharge and rests on one observation.";
constexpr std::string_view density_blind_spot =
    "The current-density law is blind to how often it strikes: fewer discharges at the same "
    "threshold leave its hours unchanged.";
constexpr std::string_view relative_blind_spot =
    "The relative law sees nothing but the dose factor; baseline life and exponent are the "
    "user's.";

const Time endless = Time::from_value(std::numeric_limits<double>::infinity());

}  // namespace

LawLife life_by_dose(Time observed_life, voltage::DoseRate observed, voltage::DoseRate variant) {
  if (!(observed_life > Time{} && observed > voltage::DoseRate{} && variant >= voltage::DoseRate{}))
    throw std::invalid_argument(
        "dose law: observed life and dose rate must be positive, the dose rate not negative");
  LawLife out{.life = std::nullopt, .blind_spot = dose_blind_spot};
  if (variant > voltage::DoseRate{}) out.life = observed_life * double(observed / variant);
  return out;
}

std::optional<Time> life_at_density(const CurrentDensityLaw& law, CurrentDensity density) {
  if (!(law.constant > Time{} && law.decades_per_A_mm2 > 0.0 && law.floor > CurrentDensity{}))
    throw std::invalid_argument("current-density law: its constants must be positive");
  if (!(density >= CurrentDensity{}))
    throw std::invalid_argument("current-density law: the density must not be negative");
  if (density < law.floor) return std::nullopt;
  const double density_A_mm2 = 1e-6 * density.value();
  return law.constant * std::pow(10.0, -law.decades_per_A_mm2 * density_A_mm2);
}

LawLife life_by_current_density(const CurrentDensityLaw& law, std::span<const DensityStep> steps) {
  std::vector<LifeStep> consuming;
  consuming.reserve(steps.size() + 1);
  double share = 0.0;
  for (const DensityStep& step : steps) {
    share += step.share;
    if (const auto life = life_at_density(law, step.density); life && step.share > 0.0)
      consuming.push_back({.share = step.share, .life = *life});
  }
  constexpr double rounding = 1e-9;
  if (!(share <= 1.0 + rounding))
    throw std::invalid_argument("current-density law: the shares exceed the whole time");
  LawLife out{.life = std::nullopt, .blind_spot = density_blind_spot};
  if (consuming.empty()) return out;
  double striking = 0.0;
  for (const LifeStep& step : consuming) striking += step.share;
  consuming.push_back({.share = std::max(0.0, 1.0 - striking), .life = endless});
  out.life = miner_life(consuming);
  return out;
}

LawLife life_by_dose_factor(Time baseline, std::optional<double> dose_factor, double power) {
  if (!(baseline > Time{} && power > 0.0 && (!dose_factor || *dose_factor > 0.0)))
    throw std::invalid_argument(
        "relative law: baseline life, dose factor and exponent must be positive");
  LawLife out{.life = std::nullopt, .blind_spot = relative_blind_spot};
  if (dose_factor) out.life = baseline * std::pow(*dose_factor, power);
  return out;
}

}  // namespace ohmdrag::life
