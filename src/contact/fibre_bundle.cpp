#include "ohmdrag/contact/fibre_bundle.hpp"

#include <numbers>
#include <stdexcept>

namespace ohmdrag::contact {

BundleResistance bundle_resistance(const ConductingFibre& fibre, double touching, Force force) {
  if (!(fibre.diameter.value() > 0.0 && fibre.length.value() > 0.0 && fibre.fibre.value() > 0.0))
    throw std::invalid_argument(
        "fibre bundle: diameter, length and resistivity of the fibre must be positive");
  if (!(touching >= 1.0))
    throw std::invalid_argument("fibre bundle: at least one fibre must touch");
  const SpotResistance tips = holm_resistance({.first = fibre.fibre,
                                               .second = fibre.shaft,
                                               .film = fibre.film,
                                               .spot = fibre.tip,
                                               .spots = touching,
                                               .cluster_radius = {}},
                                              force);
  const Area section = 0.25 * std::numbers::pi * fibre.diameter * fibre.diameter;
  BundleResistance result{.bulk = fibre.fibre * fibre.length / (touching * section),
                          .constriction = tips.constriction,
                          .film = tips.film,
                          .flags = tips.flags};
  const Length spot = 2.0 * spot_radius(fibre.tip, force / touching);
  if (const auto flag =
          numerics::flag_outside("resistance of a fibre bundle", "width of a spot over its fibre",
                                 (spot / fibre.diameter).value(), 0.0, 1.0))
    result.flags.push_back(*flag);
  return result;
}

}  // namespace ohmdrag::contact
