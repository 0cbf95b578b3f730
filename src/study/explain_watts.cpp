#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "ohmdrag/contact/friction.hpp"
#include "ohmdrag/material/density.hpp"
#include "study/explain_parts.hpp"
#include "study/unit_samples.hpp"

namespace ohmdrag::study {
namespace {

constexpr auto walther = "C. Walther (1931), as quoted; constant of the entry";
constexpr auto mixed_film =
    "mixed film of a lip: load share exp[-(G/Gc)^m], film friction after G^(1/3)";

/// One shaft with its contacts.
class ShaftChain {
 public:
  ShaftChain(const ExplainedRunning& running, std::size_t shaft, const std::string& tail,
             Chain& chain)
      : system_(running.unit.shafts[shaft]),
        around_{running.now.oil, running.now.dry[shaft]},
        network_(system_, running.now.speed[shaft], around_),
        state_(component::solve(network_, system_, running.now.speed[shaft], around_)),
        running_(running),
        shaft_id_(running.model.world->shafts[shaft].id),
        tail_(tail),
        of_shaft_('_' + symbol_of(shaft_id_) + tail),
        chain_(chain) {
    const double w = running.now.speed[shaft].value();
    omega_ = chain_.taken("w" + of_shaft_, std::abs(w), "rad/s", "speed of the shaft",
                          "speed of the place and ratio of the shaft");
    diameter_ = chain_.given("d" + of_shaft_, system_.diameter.value(), "m", "diameter as made",
                             {"shaft." + shaft_id_ + ".diameter"});
    speed_ = chain_.step("u" + of_shaft_, fmt::format("{}*{}/2", omega_, diameter_),
                         std::abs(w) * system_.diameter.value() / 2.0, "m/s", "surface speed",
                         "definition");
  }

  void explain() {
    for (std::size_t i = 0; i < system_.contacts.size(); ++i) {
      const bool film = std::holds_alternative<contact::MixedFilm>(system_.contacts[i].law);
      if (film)
        theta_.push_back(chain_.solved(
            name("theta", i), in_celsius(state_.contacts[i].contact), "degC",
            "mean temperature of the contact, at which friction and heat agree",
            "root of theta = theta_idle + sum of R*P; the line theta_again shows that it holds"));
      else
        theta_.push_back({});
      friction(i);
    }
    for (std::size_t i = 0; i < system_.contacts.size(); ++i) temperature(i);
  }

 private:
  std::string name(const std::string& what, std::size_t i) const {
    return what + '_' + symbol_of(system_.contacts[i].id) + tail_;
  }

  static std::string force_in_words(const component::ShaftContact& contact) {
    return contact.softening ? "force of the part, on the shaft as its fit leaves it"
                             : "force of the part over its circumference, on the shaft as made";
  }

  /// Key of a number of the element that makes this contact.
  std::string key(std::size_t i, const std::string& member) const {
    for (const PartInfo& part : running_.variant.parts)
      if (part.id == system_.contacts[i].id && part.element)
        return "contact." + part.element->id + '.' + member;
    return member;
  }

  void friction(std::size_t i) {
    const component::ShaftContact& contact = system_.contacts[i];
    const component::ContactState& state = state_.contacts[i];
    const double share = component::force_share(contact, around_);
    const std::string cold_line =
        chain_.taken(name("Fl20", i), contact.line_force.value(), "N/m",
                     "radial force per length at 20 degC, new", force_in_words(contact));
    const double around = std::numbers::pi * system_.diameter.value();
    const std::string cold = chain_.step(
        name("F20", i), fmt::format("{}*pi*{}", cold_line, diameter_),
        contact.line_force.value() * around, "N", "radial force at 20 degC, new", "definition");
    std::string force = cold;
    line_force_ = cold_line;
    if (contact.softening) {
      const double e = contact.softening->elastic_share;
      const std::string elastic =
          chain_.taken(name("e", i), e, "", "share of the force that goes with the modulus",
                       "spring or not: " + key(i, "service"));
      const std::string modulus =
          chain_.taken(name("E_ratio", i), e > 0.0 ? (share - 1.0 + e) / e : 1.0, "",
                       "modulus there over that at 20 degC", "table of the material");
      const auto warm = [&](const std::string& symbol, const std::string& from, double value,
                            const char* unit, const char* meaning) {
        return chain_.step(symbol,
                           fmt::format("{}*(1 - {} + {}*{})", from, elastic, elastic, modulus),
                           value, unit, meaning, "derived: spring and elastic share in parallel");
      };
      force = warm(name("F", i), cold, share * contact.line_force.value() * around, "N",
                   "radial force, warm");
      line_force_ = warm(name("Fl", i), cold_line, share * contact.line_force.value(), "N/m",
                         "radial force per length, warm");
    }
    std::string mu;
    if (const auto* film = std::get_if<contact::MixedFilm>(&contact.law))
      mu = film_friction(i, *film, share);
    else if (const auto* ptfe = std::get_if<contact::PtfeContact>(&contact.law); ptfe)
      mu = chain_.taken(name("mu", i), state.friction, "", "friction",
                        "dry filled PTFE over pressure and speed");
    else
      mu = chain_.given(name("mu", i), state.friction, "", "dry friction", {key(i, "friction")});
    const std::string torque =
        chain_.step(name("T", i), fmt::format("{}*{}*{}/2", mu, force, diameter_),
                    std::abs(state.torque.value()), "N*m", "friction torque", "definition");
    chain_.step(name("P", i), fmt::format("{}*{}", torque, omega_), state.power.value(), "W",
                "own watts", "definition");
  }

  /// Viscosity at the contact, duty, load share, friction.
  std::string film_friction(std::size_t i, const contact::MixedFilm& film, double force_share) {
    const component::ShaftContact& contact = system_.contacts[i];
    const Temperature theta = state_.contacts[i].contact;
    const std::string eta = viscosity(i, theta);
    const double line = force_share * contact.line_force.value();
    const double u = chain_.value(speed_);
    const double G = chain_.value(eta) * u / line;
    const std::string duty =
        chain_.step(name("G", i), fmt::format("{}*{}/{}", eta, speed_, line_force_), G, "",
                    "duty parameter", mixed_film, "3e-5 to 2e-3");
    const std::string transition =
        chain_.given(name("Gc", i), film.transition_duty, "", "duty at which the film takes over",
                     {key(i, "transition_duty")});
    const std::string exponent = chain_.given(name("m", i), film.load_share_exponent, "",
                                              "exponent", {key(i, "load_share_exponent")});
    const auto point = contact::mixed_film_point(film, G);
    const double S = std::exp(-std::pow(G / film.transition_duty, film.load_share_exponent));
    const std::string share =
        chain_.step(name("S", i), fmt::format("exp(-({}/{})^{})", duty, transition, exponent), S,
                    "", "share of the force on solid contact", mixed_film);
    const std::string phi = chain_.given(name("phi", i), film.film_coefficient, "",
                                         "film coefficient", {key(i, "film_coefficient")});
    const std::string width = chain_.taken(name("b", i), film.contact_width.value(), "m",
                                           "width of the contact", key(i, "contact_width"));
    const std::string f_h = chain_.step(
        name("f", i),
        fmt::format("{}*({}*{}/{})^(1/3)", phi, duty, width, contact::film_reference_width.value()),
        point.film_friction, "", "friction of the film", mixed_film);
    const std::string mu_b = chain_.given(name("mu_b", i), film.boundary_friction, "",
                                          "friction without a film", {key(i, "boundary_friction")});
    return chain_.step(name("mu", i), fmt::format("{}*{} + (1 - {})*{}", mu_b, share, share, f_h),
                       point.friction, "", "friction", mixed_film);
  }

  /// Dynamic viscosity, Pa s.
  std::string viscosity(std::size_t i, Temperature theta) {
    const material::LubricantProperties& oil = system_.lubricant;
    const Lubricant& entry = running_.model.world->sump.lubricant;
    const std::string key_of_oil = "lubricant." + entry.id + '.';
    const auto nu_at = [&](double degC) {
      return 1e6 * material::kinematic_viscosity(oil, from_celsius(degC)).value();
    };
    const auto lg_lg = [&](double nu) {
      return std::log10(std::log10(nu + oil.viscosity.constant()));
    };
    const double nu40 = nu_at(40.0), nu100 = nu_at(100.0), degC = in_celsius(theta);
    const std::string at_40 = chain_.given("nu40", nu40, "mm2/s", "viscosity of the oil at 40 degC",
                                           {key_of_oil + "viscosity_40"});
    const std::string at_100 =
        chain_.given("nu100", nu100, "mm2/s", "viscosity of the oil at 100 degC",
                     {key_of_oil + "viscosity_100"});
    const std::string constant =
        chain_.given("c_nu", oil.viscosity.constant(), "mm2/s", "constant of Walther's law",
                     {key_of_oil + "viscosity_constant"});
    const double z40 = lg_lg(nu40), z100 = lg_lg(nu100);
    const std::string Z40 = chain_.step("Z40", fmt::format("lg(lg({} + {}))", at_40, constant), z40,
                                        "", "double logarithm at 40 degC", walther);
    const std::string Z100 = chain_.step("Z100", fmt::format("lg(lg({} + {}))", at_100, constant),
                                         z100, "", "double logarithm at 100 degC", walther);
    const double b = (z40 - z100) / (std::log10(373.15) - std::log10(313.15));
    const std::string slope =
        chain_.step("B_nu", fmt::format("({} - {})/(lg(373.15) - lg(313.15))", Z40, Z100), b, "",
                    "slope of Walther's law", walther);
    const double nu = 1e6 * material::kinematic_viscosity(oil, theta).value();
    const std::string kinematic = chain_.step(
        name("nu", i),
        fmt::format("10^(10^({} - {}*(lg({} + 273.15) - lg(313.15)))) - {}", Z40, slope, theta_[i],
                    constant),
        nu, "mm2/s", "viscosity at the contact", walther, "-30 to 150 degC and 2 mm2/s and more");
    const std::string rho15 =
        chain_.given("rho15", oil.density_15.value(), "kg/m3", "density of the oil at 15 degC",
                     {key_of_oil + "density_15"});
    const double alpha = 0.6278 / oil.density_15.value() * (degC - 15.0);
    const std::string expansion = chain_.step(
        name("a_rho", i), fmt::format("0.6278/{}*({} - 15)", rho15, theta_[i]), alpha, "",
        "expansion of the oil since 15 degC", "ASTM D1250, group of lubricating oils");
    const double rho = material::oil_density(oil.density_15, theta).value();
    const std::string density = chain_.step(
        name("rho", i), fmt::format("{}*exp(-{}*(1 + 0.8*{}))", rho15, expansion, expansion), rho,
        "kg/m3", "density at the contact", "ASTM D1250, group of lubricating oils");
    return chain_.step(name("eta", i), fmt::format("1e-6*{}*{}", kinematic, density),
                       1e-6 * nu * rho, "Pa*s", "dynamic viscosity at the contact", "definition");
  }

  void temperature(std::size_t i) {
    std::string expression = chain_.taken(name("theta_idle", i), in_celsius(network_.idle(i)),
                                          "degC", "the contact without any friction",
                                          "heat network of the shaft: fins between "
                                          "and beyond the contacts, at this speed");
    double value = chain_.value(expression);
    for (std::size_t j = 0; j < system_.contacts.size(); ++j) {
      const double R = network_.resistance(i, j).value();
      const std::string rise =
          chain_.taken(fmt::format("R_{}_{}{}", symbol_of(system_.contacts[i].id),
                                   symbol_of(system_.contacts[j].id), tail_),
                       R, "K/W", "rise of the first per watt in the second",
                       "heat network of the shaft, superposition");
      expression += fmt::format(" + {}*{}", rise, name("P", j));
      value += R * state_.contacts[j].power.value();
    }
    chain_.step(name(theta_[i].empty() ? "theta" : "theta_again", i), expression, value, "degC",
                theta_[i].empty() ? "mean temperature of the contact" : "the root again",
                "derived: superposition in a linear heat network");
  }

  const component::ShaftSystem& system_;
  component::Surroundings around_;
  component::ThermalNetwork network_;
  component::ShaftState state_;
  const ExplainedRunning& running_;
  std::string shaft_id_, tail_, of_shaft_;
  Chain& chain_;
  std::string omega_, diameter_, speed_;
  std::string line_force_;          ///< of the contact in hand, warm
  std::vector<std::string> theta_;  ///< by contact; empty of dry ones
};

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

std::string loss_in_words(const energy::Part& part) {
  if (std::holds_alternative<energy::BearingPart>(part.form))
    return "bearing friction after Palmgren, at this speed, load and oil";
  if (std::holds_alternative<energy::RulePart>(part.form)) return "published loss rule";
  if (std::holds_alternative<energy::StatedPart>(part.form)) return "stated in the case";
  if (std::holds_alternative<energy::MeasuredPart>(part.form)) return "table of measured torque";
  if (std::holds_alternative<energy::GearPart>(part.form)) return "gear mesh, context only";
  return "gas face seal at its film";
}

}  // namespace

std::string watts_symbol(const std::string& part, const std::string& tail) {
  return "P_" + symbol_of(part) + tail;
}

std::string explain_watts(const ExplainedRunning& running, const std::string& tail, Chain& chain) {
  for (std::size_t s = 0; s < running.unit.shafts.size(); ++s)
    if (!running.unit.shafts[s].contacts.empty()) ShaftChain(running, s, tail, chain).explain();
  const auto losses = energy::losses_at(running.unit, running.now);
  std::vector<std::string> terms;
  double total = 0.0;
  for (std::size_t p = 0; p < losses.size(); ++p) {
    const energy::Part& part = running.unit.parts[p];
    const std::string symbol = watts_symbol(part.id, tail);
    if (!std::holds_alternative<energy::ContactPart>(part.form))
      chain.taken(symbol, losses[p].power.value(), "W", "own watts of " + part.id,
                  loss_in_words(part));
    terms.push_back(symbol);
    total += losses[p].power.value();
  }
  return chain.sum("P_all" + tail, terms, total, "W", "own watts of all parts");
}

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
