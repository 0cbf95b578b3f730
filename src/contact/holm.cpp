#include "ohmdrag/contact/holm.hpp"

#include <cmath>
#include <numbers>
#include <stdexcept>

namespace ohmdrag::contact {

namespace {

constexpr double pi = std::numbers::pi;

// CODATA 2018, both exact: Boltzmann constant over elementary charge, V/K.
constexpr double boltzmann_V_K = 1.380649e-23 / 1.602176634e-19;
constexpr double lorenz_V2_K2 = pi * pi / 3.0 * boltzmann_V_K * boltzmann_V_K;

void require(bool met, const char* what) {
  if (!met) throw std::invalid_argument(what);
}

double radius_m(const PlasticSpot& spot, double force_N) {
  require(spot.hardness.value() > 0.0 && spot.load_share > 0.0 && spot.load_share <= 1.0,
          "contact spot: hardness must be positive and the load share above 0 and at most 1");
  return std::sqrt(force_N / (pi * spot.load_share * spot.hardness.value()));
}

double radius_m(const ElasticSpot& spot, double force_N) {
  require(spot.sphere_radius.value() > 0.0 && spot.reduced_modulus.value() > 0.0,
          "contact spot: radius and modulus of the sphere must be positive");
  return std::cbrt(1.5 * force_N * spot.sphere_radius.value() / spot.reduced_modulus.value());
}

}  // namespace

Length spot_radius(const SpotLaw& spot, Force force) {
  require(force.value() > 0.0, "contact spot: the force must be positive");
  return Length::from_value(
      std::visit([&](const auto& law) { return radius_m(law, force.value()); }, spot));
}

SpotResistance holm_resistance(const HolmContact& contact, Force force) {
  require(
      contact.first.value() >= 0.0 && contact.second.value() >= 0.0 && contact.film.value() >= 0.0,
      "contact spots: resistivities must not be negative");
  require(contact.spots >= 1.0, "contact spots: at least one spot");
  require(!contact.cluster_radius || contact.cluster_radius->value() > 0.0,
          "contact spots: the radius of the cluster must be positive");
  const double n = contact.spots;
  const Length a = spot_radius(contact.spot, force / n);
  const Resistivity both = contact.first + contact.second;
  SpotResistance result{.constriction = both / (4.0 * n * a),
                        .cluster = {},
                        .film = contact.film / (pi * n * a * a),
                        .flags = {}};
  if (contact.cluster_radius) {
    result.cluster = both / (4.0 * *contact.cluster_radius);
    const double cover = n * std::pow((a / *contact.cluster_radius).value(), 2);
    if (const auto flag = numerics::flag_outside(
            "resistance of contact spots", "share of the cluster under spots", cover, 0.0, 1.0))
      result.flags.push_back(*flag);
  }
  return result;
}

double hot_constriction_factor(PerTemperature alpha, Temperature hottest, Temperature body) {
  require(hottest >= body, "hot contact: its hottest point cannot be colder than the bodies");
  const double factor = 1.0 + 2.0 / 3.0 * double(alpha * (hottest - body));
  require(factor > 0.0, "hot contact: no resistance is left at this temperature");
  return factor;
}

Temperature hottest_of_contact(Voltage drop, Temperature body) {
  require(body.value() > 0.0 && std::isfinite(drop.value()),
          "hot contact: needs a voltage and a body above absolute zero");
  return Temperature::from_value(
      std::hypot(body.value(), drop.value() / (2.0 * std::sqrt(lorenz_V2_K2))));
}

Voltage drop_for_hottest(Temperature hottest, Temperature body) {
  require(body.value() > 0.0 && hottest >= body,
          "hot contact: its hottest point cannot be colder than the bodies");
  const double sum_K = hottest.value() + body.value();
  return Voltage::from_value(2.0 *
                             std::sqrt(lorenz_V2_K2 * sum_K * (hottest.value() - body.value())));
}

Voltage puncture_voltage(ElectricField breakdown, Length thickness) {
  require(breakdown.value() > 0.0 && thickness.value() > 0.0,
          "film: breakdown field and thickness must be positive");
  return breakdown * thickness;
}

}  // namespace ohmdrag::contact
