#include "study/explain_film_coefficient.hpp"

#include <fmt/format.h>

#include "ohmdrag/contact/convection.hpp"
#include "study/explain_oil.hpp"

namespace ohmdrag::study {
namespace {

constexpr auto turning = "K. M. Becker (1963), form as quoted";
constexpr auto free_convection =
    "S. W. Churchill, H. H. S. Chu (1975), horizontal cylinder, from memory";

/// Symbols of a fluid: mm2/s, none, 1/K, W/(m K).
struct ExplainedFluid {
  std::string viscosity, prandtl, expansion, conductivity;
};

ExplainedFluid oil_of(const ExplainedSide& side, Chain& chain) {
  const material::LubricantProperties& oil = side.system.lubricant;
  const Lubricant& entry = side.running.model.world->sump.lubricant;
  const std::string tail = "_sump" + side.shaft.tail, key = "lubricant." + entry.id + '.';
  const ExplainedOil at = explain_oil(oil, entry, side.running.now.oil, side.theta, tail,
                                      "of the oil in the sump", chain);
  chain.given("k_oil", oil.conductivity.value(), "W/(m*K)", "conductivity of the oil",
              {key + "conductivity"});
  chain.given("c_oil", oil.specific_heat.value(), "J/(kg*K)", "specific heat of the oil",
              {key + "specific_heat"});
  return {at.kinematic,
          chain.worked("Pr" + tail, fmt::format("1e-6*{}*{}*c_oil/k_oil", at.kinematic, at.density),
                       "", "Prandtl number of the oil", "definition"),
          chain.worked("beta" + tail, fmt::format("0.6278/rho15*(1 + 1.6*{})", at.expansion), "1/K",
                       "volume expansion of the oil", "the same law of density"),
          "k_oil"};
}

ExplainedFluid air_of(const ExplainedSide& side, Chain& chain) {
  const std::string tail = "_air" + side.shaft.own();
  const contact::FluidState air = contact::air_state(side.running.now.dry[side.shaft.index]);
  constexpr auto source = "properties of dry air at 101 325 Pa";
  return {chain.taken("nu" + tail, 1e6 * air.viscosity.value(), "mm2/s", "viscosity of the air",
                      source),
          chain.taken("Pr" + tail, air.prandtl, "", "Prandtl number of the air", source),
          chain.worked("beta" + tail, fmt::format("1/({} + 273.15)", side.theta), "1/K",
                       "volume expansion of the air", "ideal gas"),
          chain.taken("k" + tail, air.conductivity.value(), "W/(m*K)", "conductivity of the air",
                      source)};
}

}  // namespace

std::string explain_film_coefficient(const ExplainedSide& side, HeatTransferCoefficient film,
                                     Chain& chain) {
  const std::string where = side.wet ? "oil" : "air";
  const std::string tail = '_' + where + side.shaft.own(), key = "shaft." + side.shaft.id + '.';
  const contact::Convection& law = side.wet ? side.system.oil_side : side.system.dry_side;
  if (std::holds_alternative<contact::FixedFilm>(law))
    return chain.given("h" + tail, film.value(), "W/(m2*K)", "film coefficient in " + where,
                       {key + "film"});
  const auto& cylinder = std::get<contact::TurningCylinder>(law);
  const ExplainedFluid fluid = side.wet ? oil_of(side, chain) : air_of(side, chain);
  chain.worked(
      "Re" + tail,
      fmt::format("{}*{}^2/(2e-6*{})", side.shaft.omega, side.shaft.diameter, fluid.viscosity), "",
      "Reynolds number of the turning shaft", "definition");
  chain.worked("Nu_rot" + tail, fmt::format("0.133*Re{}^(2/3)*{}^(1/3)", tail, fluid.prandtl), "",
               "Nusselt number of turning", turning, "Re up to 4.3e5, Pr 0.7 to 670");
  chain.given("rise_free" + side.shaft.own(), cylinder.free_rise.value(), "K",
              "surface over fluid, for free convection alone", {key + "free_rise"});
  chain.worked("Ra" + tail,
               fmt::format("9.80665*{}*rise_free{}*{}^3*{}/(1e-6*{})^2", fluid.expansion,
                           side.shaft.own(), side.shaft.diameter, fluid.prandtl, fluid.viscosity),
               "", "Rayleigh number", "definition");
  chain.worked(
      "Nu_free" + tail,
      fmt::format("(0.6 + 0.387*Ra{}^(1/6)/(1 + (0.559/{})^(9/16))^(8/27))^2", tail, fluid.prandtl),
      "", "Nusselt number of free convection", free_convection, "Ra up to 1e12");
  chain.given("psi" + tail, cylinder.wetted_factor, "", "share of the surface that gives off heat",
              {side.wet ? key + "wetted_factor" : std::string("in air all of it")});
  return chain.step("h" + tail,
                    fmt::format("psi{0}*(Nu_free{0}^3 + Nu_rot{0}^3)^(1/3)*{1}/{2}", tail,
                                fluid.conductivity, side.shaft.diameter),
                    film.value(), "W/(m2*K)", "film coefficient in " + where,
                    "derived: cubes of both limits added");
}

}  // namespace ohmdrag::study
