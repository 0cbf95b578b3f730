#pragma once

#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "ohmdrag/rig/endurance_fit.hpp"

/// Invented endurance runs, straight from the laws as they are written down.
namespace ohmdrag::test {

struct EnduranceTruth {
  rig::GrowthLaw law = rig::GrowthLaw::power;
  int specimens = 6;
  double level_ohm = 20.0;
  double strength = 0.3;           ///< p, c or phi of the middle part
  double time_h = 20.0;            ///< tau
  double level_scatter = 0.25;     ///< deviation of ln Z_0
  double strength_scatter = 0.15;  ///< deviation over the strength
  double noise = 0.03;             ///< deviation of ln Z
  double following = 0.0;          ///< correlation of the noise, one reading to the next
  double hours = 1000.0;
  int readings = 30;
};

struct EndurancePart {
  double level_ohm, strength;
};

inline double impedance_of(const EnduranceTruth& truth, const EndurancePart& part, double t_h) {
  const double x = t_h / truth.time_h;
  switch (truth.law) {
    case rig::GrowthLaw::none:
      return part.level_ohm;
    case rig::GrowthLaw::power:
      return part.level_ohm * std::pow(1.0 + x, part.strength);
    case rig::GrowthLaw::logarithmic:
      return part.level_ohm * (1.0 + part.strength * std::log(1.0 + x));
    case rig::GrowthLaw::saturating:
      return part.level_ohm / (1.0 - part.strength * (1.0 - std::exp(-x)));
  }
  return 0.0;
}

/// The middle part.
inline double middle_of(const EnduranceTruth& truth, double t_h) {
  return impedance_of(truth, {truth.level_ohm, truth.strength}, t_h);
}

class EnduranceRig {
 public:
  EnduranceRig(const EnduranceTruth& truth, unsigned seed) : truth_(truth), random_(seed) {}

  EndurancePart part() {
    const double level = truth_.level_ohm * std::exp(truth_.level_scatter * normal_(random_));
    return {level, truth_.strength * (1.0 + truth_.strength_scatter * normal_(random_))};
  }

  /// Readings more often in the first hours than later.
  rig::EnduranceRun run() {
    rig::EnduranceRun run;
    for (int i = 0; i < truth_.specimens; ++i) {
      const EndurancePart here = part();
      rig::EnduranceSpecimen specimen;
      specimen.name = std::string(1, static_cast<char>('A' + i));
      double error = truth_.noise * normal_(random_);
      for (int j = 0; j < truth_.readings; ++j) {
        const double t_h = truth_.hours * std::pow(j / (truth_.readings - 1.0), 2.0);
        specimen.time.push_back(Time::from_value(3600.0 * t_h));
        specimen.impedance.push_back(
            Resistance::from_value(impedance_of(truth_, here, t_h) * std::exp(error)));
        const double fresh = std::sqrt(1.0 - truth_.following * truth_.following);
        error = truth_.following * error + fresh * truth_.noise * normal_(random_);
      }
      run.specimens.push_back(std::move(specimen));
    }
    return run;
  }

 private:
  EnduranceTruth truth_;
  std::mt19937_64 random_;
  std::normal_distribution<double> normal_;
};

inline rig::EnduranceRun endurance_run(const EnduranceTruth& truth, unsigned seed) {
  return EnduranceRig(truth, seed).run();
}

}  // namespace ohmdrag::test
