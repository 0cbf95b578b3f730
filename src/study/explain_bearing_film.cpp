#include <fmt/format.h>

#include <cmath>

#include "ohmdrag/bearing/hertz.hpp"
#include "study/explain_oil.hpp"
#include "study/explain_shaft_voltage.hpp"
#include "study/most_loaded_element.hpp"

namespace ohmdrag::study {
namespace {

constexpr auto hamrock = "B. J. Hamrock, D. Dowson (1977), point contacts, minimum film";
constexpr auto dowson = "D. Dowson (1968), line contacts, minimum film";
constexpr double um = 1e-6;

class FilmChain {
 public:
  FilmChain(const ExplainedVoltage& now, std::size_t place, Chain& chain)
      : now_(now),
        model_(now.nominal.model.bearings[place]),
        entry_(now.nominal.world->bearings[place]),
        chain_(chain) {}

  void explain(const bearing::FilmState& film) {
    oil();
    geometry();
    heating();
    const BearingModel::FilmPlace place = model_.film_place(now_.torque);
    std::string thickness = at_torque(place.first, "");
    if (place.share > 0.0) {
      chain_.taken("between", place.share, "", "of the way to the next torque",
                   "torques of the case, each step in four");
      thickness = fmt::format("(1 - between)*{} + between*{}", thickness,
                              at_torque(place.first + 1, "_next"));
    }
    chain_.step("h_min", fmt::format("1e6*({})", thickness), film.minimum_inner.value() / um, "um",
                "least film at the inner ring of " + entry_.id, "linear between two torques",
                "flooded, +-30 %");
    const DischargeConstants& constants = now_.nominal.world->discharge;
    chain_.given("sigma", now_.nominal.draw(constants.roughness).value() / um, "um",
                 "combined roughness", {constants.roughness.key});
    chain_.step("film_ratio", "h_min/sigma", film.film_ratio, "", "film over combined roughness",
                "definition");
  }

 private:
  void oil() {
    const material::LubricantProperties& oil = now_.nominal.model.oil;
    const Lubricant& entry = now_.nominal.world->sump.lubricant;
    chain_.taken("theta_oil", in_celsius(now_.oil), "degC", "oil in the sump",
                 "the place, or the course of the duty");
    const ExplainedOil at =
        explain_oil(oil, entry, now_.oil, "theta_oil", "_sump", "of the oil in the sump", chain_);
    chain_.worked(
        "tau",
        fmt::format("({0} + c_nu)/{0}*ln({0} + c_nu)*B_nu/(theta_oil + 273.15)", at.kinematic),
        "1/K", "share of its viscosity that it loses a kelvin", "derived: slope of Walther's law");
    chain_.given("k_oil", oil.conductivity.value(), "W/(m*K)", "conductivity of the oil",
                 {"lubricant." + entry.id + ".conductivity"});
    chain_.given("alpha_p", oil.pressure_viscosity.value(), "1/Pa",
                 "pressure-viscosity coefficient",
                 {"lubricant." + entry.id + ".pressure_viscosity"});
    eta_ = at.dynamic;
  }

  template <class N>
  void given(const std::string& symbol, const N& number, double value, const std::string& unit,
             const std::string& meaning) {
    chain_.given(symbol, value, unit, meaning, {number.key});
  }

  void geometry() {
    const Draw& draw = now_.nominal.draw;
    const BearingType& type = entry_.type;
    chain_.taken("w", std::abs(now_.state.speed.value()), "rad/s", "speed of the shaft",
                 "the place, or the duty");
    given("D_w", type.element_diameter, draw(type.element_diameter).value(), "m",
          "diameter of a rolling element");
    given("d_m", type.pitch_diameter, draw(type.pitch_diameter).value(), "m", "pitch diameter");
    std::string across = "D_w/d_m";
    if (model_.roller && type.axial_factor) {
      given("Y_t", *type.axial_factor, draw(*type.axial_factor), "", "axial factor");
      across += "/sqrt(1 + (0.4/Y_t)^2)";  // cosine of the contact angle
    }
    chain_.worked("gamma", across, "", "diameter ratio across the contact", "definition");
    chain_.worked("u_roll", "w*d_m/4*(1 - gamma^2)", "m/s", "speed that draws the oil in",
                  "rolling without slip");
    chain_.worked("R_x", "D_w/2*(1 - gamma)", "m", "radius of rolling at the inner ring",
                  "definition");
    given("E_y", entry_.young_modulus, draw(entry_.young_modulus).value(), "Pa",
          "modulus of the steel");
    given("nu_p", entry_.poisson, draw(entry_.poisson), "", "Poisson's ratio");
    chain_.worked("E_r", "E_y/(1 - nu_p^2)", "Pa", "reduced modulus", "two bodies alike");
    if (model_.roller) {
      given("l_w", *type.roller_length, draw(*type.roller_length).value(), "m",
            "length of a roller");
      return;
    }
    given("f_c", type.conformity, draw(type.conformity), "",
          "radius of the groove over diameter of the ball");
    chain_.worked("R_ratio", "f_c*D_w/(2*f_c - 1)/R_x", "", "radius across over radius of rolling",
                  "definition");
    chain_.taken("k_e", bearing::ellipticity(chain_.value("R_ratio")).ratio, "",
                 "ellipticity of the contact", "complete elliptic integrals at that ratio");
  }

  void heating() {
    const DischargeConstants& constants = now_.nominal.world->discharge;
    given("film_factor", constants.film_factor, now_.nominal.draw(constants.film_factor), "",
          "share of the flooded film");
    chain_.worked("L_heat", fmt::format("{}*u_roll^2*tau/k_oil", eta_), "",
                  "loading of the inlet by its own shear", "definition");
    chain_.worked("phi_T", "3.94/(3.94 + L_heat^0.62)", "", "share of the film that is left warm",
                  "L. E. Murch, W. R. D. Wilson (1975); constants from memory");
    chain_.worked("U", fmt::format("{}*u_roll/(E_r*R_x)", eta_), "", "group of the speed",
                  "definition");
    chain_.worked("G_m", "alpha_p*E_r", "", "group of the material", "definition");
  }

  /// The least film at one of the torques for which films are prepared, m.
  std::string at_torque(std::size_t i, const std::string& tail) {
    const Torque torque = model_.film_torque[i];
    const std::string load = chain_.taken(
        "Q" + tail, most_loaded_element(model_, entry_, now_.nominal.draw, torque).value(), "N",
        fmt::format("most loaded rolling element at {:.6g} N m", torque.value()),
        model_.roller ? "shares after cos^(10/9), statics"
                      : "Hertz contacts of all balls and statics");
    if (model_.roller) {
      chain_.worked("W" + tail, fmt::format("{}/(E_r*R_x*l_w)", load), "", "group of the load",
                    "definition");
      return chain_.worked(
          "h" + tail, fmt::format("2.65*R_x*U^0.7*G_m^0.54*W{}^(-0.13)*film_factor*phi_T", tail),
          "m", "least film of that element", dowson);
    }
    chain_.worked("W" + tail, fmt::format("{}/(E_r*R_x^2)", load), "", "group of the load",
                  "definition");
    return chain_.worked(
        "h" + tail,
        fmt::format("3.63*R_x*U^0.68*G_m^0.49*W{}^(-0.073)*(1 - exp(-0.68*k_e))*film_factor*phi_T",
                    tail),
        "m", "least film of that element", hamrock);
  }

  const ExplainedVoltage& now_;
  const BearingModel& model_;
  const Bearing& entry_;
  Chain& chain_;
  std::string eta_;
};

}  // namespace

void explain_bearing_film(const ExplainedVoltage& now, std::size_t place,
                          const bearing::FilmState& film, Chain& chain) {
  FilmChain(now, place, chain).explain(film);
}

}  // namespace ohmdrag::study
