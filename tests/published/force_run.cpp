// Exponents that contact theory and a published brush have, told again by the fit of a run over
// force. Spots: R. Holm, Electric Contacts, 1967 (from memory), as in contact/holm.hpp. Brush: the
// abstract of "Sliding electrical contact properties of highly oriented copper fiber brush", which
// prints 55 mOhm at 1 N and 18 mOhm at 8 N; it was read.
#include <catch2/catch.hpp>
#include <cmath>

#include "ohmdrag/contact/holm.hpp"
#include "ohmdrag/rig/force_fit.hpp"

using namespace ohmdrag;

namespace {

rig::ForceFit fit_of(const std::vector<std::pair<double, double>>& newtons_and_ohms) {
  rig::ForceRun run;
  for (const auto& [force, ohm] : newtons_and_ohms) {
    rig::ForcePoint point;
    point.force = force;
    point.impedance = Resistance::from_value(ohm);
    run.points.push_back(point);
  }
  return rig::fit_force(run);
}

double exponent_of(const contact::HolmContact& contact) {
  std::vector<std::pair<double, double>> readings;
  for (const double force : {1.0, 1.5, 2.0, 3.0, 4.5, 6.0})
    readings.emplace_back(
        force, contact::holm_resistance(contact, Force::from_value(force)).total().value());
  return -fit_of(readings).impedance->exponent.value;
}

}  // namespace

TEST_CASE("a run over force tells Holm's exponents", "[published][formula]") {
  const contact::PlasticSpot plastic{Pressure::from_value(1e9), 1.0};
  const contact::ElasticSpot elastic{Length::from_value(5e-3), Pressure::from_value(1e11)};
  const auto metal = contact::Resistivity::from_value(1e-7);
  const contact::Resistivity none{};
  const contact::FilmResistivity clean{}, film = contact::FilmResistivity::from_value(1e-9);
  CHECK(exponent_of({metal, metal, clean, plastic, 1.0, {}}) == Approx(0.5));
  CHECK(exponent_of({metal, metal, clean, elastic, 1.0, {}}) == Approx(1.0 / 3.0));
  CHECK(exponent_of({none, none, film, plastic, 1.0, {}}) == Approx(1.0));
  CHECK(exponent_of({none, none, film, elastic, 1.0, {}}) == Approx(2.0 / 3.0));
}

TEST_CASE("a run over force tells the exponent of a copper fibre brush", "[published][formula]") {
  const auto fit =
      fit_of({{1.0, 0.055}, {1.0, 0.055}, {1.0, 0.055}, {8.0, 0.018}, {8.0, 0.018}, {8.0, 0.018}});
  CHECK(-fit.impedance->exponent.value == Approx(std::log(55.0 / 18.0) / std::log(8.0)));
  // A plastic spot, 1/2, is within what two digits of 18 and 55 leave.
  CHECK(-fit.impedance->exponent.value == Approx(0.5).margin(0.04));
}
