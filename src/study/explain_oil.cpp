#include "study/explain_oil.hpp"

#include <fmt/format.h>

namespace ohmdrag::study {
namespace {

constexpr auto walther = "C. Walther (1931), as quoted; constant of the entry";
constexpr auto expansion_source = "ASTM D1250, group of lubricating oils";

}  // namespace

ExplainedOil explain_oil(const material::LubricantProperties& oil, const Lubricant& entry,
                         Temperature temperature, const std::string& theta, const std::string& tail,
                         const std::string& where, Chain& chain) {
  const std::string key = "lubricant." + entry.id + '.';
  const auto nu_at = [&](double degC) {
    return 1e6 * material::kinematic_viscosity(oil, from_celsius(degC)).value();
  };
  chain.given("nu40", nu_at(40.0), "mm2/s", "viscosity of the oil at 40 degC",
              {key + "viscosity_40"});
  chain.given("nu100", nu_at(100.0), "mm2/s", "viscosity of the oil at 100 degC",
              {key + "viscosity_100"});
  chain.given("c_nu", oil.viscosity.constant(), "mm2/s", "constant of Walther's law",
              {key + "viscosity_constant"});
  chain.worked("Z40", "lg(lg(nu40 + c_nu))", "", "double logarithm at 40 degC", walther);
  chain.worked("Z100", "lg(lg(nu100 + c_nu))", "", "double logarithm at 100 degC", walther);
  chain.worked("B_nu", "(Z40 - Z100)/(lg(373.15) - lg(313.15))", "", "slope of Walther's law",
               walther);
  ExplainedOil out;
  out.kinematic = chain.step(
      "nu" + tail, fmt::format("10^(10^(Z40 - B_nu*(lg({} + 273.15) - lg(313.15)))) - c_nu", theta),
      1e6 * material::kinematic_viscosity(oil, temperature).value(), "mm2/s", "viscosity " + where,
      walther, "-30 to 150 degC and 2 mm2/s and more");
  chain.given("rho15", oil.density_15.value(), "kg/m3", "density of the oil at 15 degC",
              {key + "density_15"});
  out.expansion = chain.worked("a_rho" + tail, fmt::format("0.6278/rho15*({} - 15)", theta), "",
                               "expansion of the oil since 15 degC", expansion_source);
  out.density =
      chain.step("rho" + tail, fmt::format("rho15*exp(-{0}*(1 + 0.8*{0}))", out.expansion),
                 material::oil_density(oil.density_15, temperature).value(), "kg/m3",
                 "density " + where, expansion_source);
  out.dynamic = chain.step("eta" + tail, fmt::format("1e-6*{}*{}", out.kinematic, out.density),
                           material::dynamic_viscosity(oil, temperature).value(), "Pa*s",
                           "dynamic viscosity " + where, "definition");
  return out;
}

}  // namespace ohmdrag::study
