#include "study/contact_samples.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <limits>
#include <numbers>

namespace ohmdrag::study {
namespace {

/// Over the frequencies; infinite where no path is left.
ByFrequency impedance_ohm(const std::optional<voltage::GroundingPath>& path,
                          const std::vector<Frequency>& frequencies) {
  ByFrequency result;
  result.reserve(frequencies.size());
  for (const Frequency& f : frequencies)
    result.push_back(path ? voltage::impedance_magnitude(*path, f).value()
                          : std::numeric_limits<double>::infinity());
  return result;
}

}  // namespace

void sample_path(const VariantModel& variant, const std::vector<Frequency>& frequencies,
                 VariantSample& sample) {
  if (!variant.grounded) return;
  for (std::size_t a = 0; a < ages.size(); ++a) {
    const auto& path = variant.path[a];
    sample.impedance_ohm[a] = impedance_ohm(path, frequencies);
    sample.resistance_ohm[a] =
        path ? voltage::direct_resistance(*path).value() : std::numeric_limits<double>::infinity();
  }
}

void sample_path(const WorldModel& model, const VariantModel& variant, const OperatingPoint& point,
                 const std::vector<Frequency>& frequencies, const Draw& draw, PointSample& sample) {
  if (!variant.grounded) return;
  const auto part = std::ranges::find(variant.parts, "grounding", &PartInfo::id);
  const double degC =
      sample.parts[static_cast<std::size_t>(part - variant.parts.begin())].contact_degC;
  const auto contact = std::isnan(degC) ? std::nullopt : std::optional(from_celsius(degC));
  const AngularVelocity speed = model.speeds(point, draw)[part->shaft];
  for (const Age age : ages)
    sample.impedance_ohm[static_cast<std::size_t>(age)] =
        impedance_ohm(variant.path_at(age, speed, contact), frequencies);
}

std::vector<ContactSample> contact_samples(const VariantModel& variant) {
  std::vector<ContactSample> result;
  result.reserve(variant.lives.size());
  for (const LivingContact& living : variant.lives) {
    ContactSample sample;
    for (const Age age : ages) {
      const auto a = static_cast<std::size_t>(age);
      sample.line_force_N_m[a] = living.life.line_force(age).value();
      sample.width_m[a] = living.life.of(age).width.value();
    }
    const contact::Aged& end = living.life.of(Age::end);
    sample.wear_m = end.wear.value();
    if (end.groove) sample.groove_m = end.groove->value();
    if (end.length_used && living.life.history)
      sample.worn_out_s = living.life.history->age.value() / *end.length_used;
    if (living.life.density && living.life.history) {
      const Length around = std::numbers::pi * variant.unit.shafts[living.shaft].diameter;
      sample.debris_kg_per_s =
          (*living.life.density * end.worn * around / living.life.history->age).value();
    }
    result.push_back(sample);
  }
  return result;
}

}  // namespace ohmdrag::study
