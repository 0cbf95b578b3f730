#include <fmt/format.h>

#include <cmath>

#include "study/explain_parts.hpp"
#include "study/unit_samples.hpp"

namespace ohmdrag::study {
namespace {

/// The speeds of the shafts out of that of the point.
void explain_speeds(const Nominal& nominal, const OperatingPoint& point,
                    const std::vector<AngularVelocity>& speeds, const std::string& tail,
                    Chain& chain) {
  const auto ratios = nominal.model.ratios(point, nominal.draw);
  for (std::size_t s = 0; s < speeds.size(); ++s) {
    const std::string& id = nominal.world->shafts[s].id;
    const std::string symbol = fmt::format("w_{}{}", symbol_of(id), tail);
    const double w = std::abs(speeds[s].value());
    if (point.road_speed) {
      chain.given("v", nominal.draw(*point.road_speed).value(), "m/s", "road speed",
                  {"operating_point." + point.id + ".road_speed"});
      chain.taken("U", nominal.model.gearing[s].rolling_circumference.value(), "m",
                  "rolling circumference", "code of the tyre");
      const std::string ratio =
          chain.taken(fmt::format("i_{}{}", symbol_of(id), tail), ratios[s], "",
                      "turns of the shaft per turn of the wheel", "shaft." + id + ".ratio");
      chain.step(symbol, fmt::format("2*pi*v/U*{}", ratio), w, "rad/s", "speed of the shaft",
                 "definition");
    } else if (point.shaft == id) {
      chain.given(symbol, w, "rad/s", "speed of the shaft",
                  {"operating_point." + point.id + ".shaft_speed"});
    }
  }
}

}  // namespace

std::string explain_point(const Ensemble& ensemble, std::size_t v, std::size_t p,
                          const std::string& tail, Chain& chain) {
  const Nominal nominal(ensemble, v);
  const OperatingPoint& point = nominal.world->points[p];
  const auto speeds = nominal.model.speeds(point, nominal.draw);
  const auto torques = nominal.model.torques(point, nominal.draw);
  const energy::DriveUnit unit = unit_at(point, *nominal.world, nominal.variant, nominal.draw);
  const energy::Running now{speeds, torques, nominal.model.dry,
                            nominal.draw(point.oil_temperature)};
  explain_speeds(nominal, point, speeds, tail, chain);
  return explain_watts({nominal.model, nominal.variant, unit, now}, tail, chain);
}

}  // namespace ohmdrag::study
