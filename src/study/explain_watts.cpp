#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "ohmdrag/contact/friction.hpp"
#include "study/explain_heat.hpp"
#include "study/explain_oil.hpp"
#include "study/explain_parts.hpp"

namespace ohmdrag::study {
namespace {

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
        symbols_{shaft, running.model.world->shafts[shaft].id, tail, {}, {}},
        tail_(tail),
        chain_(chain) {
    const double w = running.now.speed[shaft].value();
    omega_ = symbols_.omega =
        chain_.taken(fmt::format("w{}", symbols_.own()), std::abs(w), "rad/s", "speed of the shaft",
                     "speed of the place and ratio of the shaft");
    diameter_ = symbols_.diameter =
        chain_.given(fmt::format("d{}", symbols_.own()), system_.diameter.value(), "m",
                     "diameter as made", {"shaft." + symbols_.id + ".diameter"});
    speed_ = chain_.step(
        fmt::format("u{}", symbols_.own()), fmt::format("{}*{}/2", omega_, diameter_),
        std::abs(w) * system_.diameter.value() / 2.0, "m/s", "surface speed", "definition");
  }

  void explain() {
    heat_ = explain_heat(running_, symbols_.index, symbols_, network_, chain_);
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
    const std::string eta = explain_oil(system_.lubricant, running_.model.world->sump.lubricant,
                                        theta, theta_[i], name("", i), "at the contact", chain_)
                                .dynamic;
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

  void temperature(std::size_t i) {
    std::string expression = heat_.idle[i];
    double value = chain_.value(expression);
    for (std::size_t j = 0; j < system_.contacts.size(); ++j) {
      expression += fmt::format(" + {}*{}", heat_.rise[i][j], name("P", j));
      value += network_.resistance(i, j).value() * state_.contacts[j].power.value();
    }
    chain_.step(name(theta_[i].empty() ? "theta" : "theta_again", i), expression, value, "degC",
                theta_[i].empty() ? "mean temperature of the contact" : "the root again",
                "derived: superposition in a linear heat flow");
  }

  const component::ShaftSystem& system_;
  component::Surroundings around_;
  component::ThermalNetwork network_;
  component::ShaftState state_;
  const ExplainedRunning& running_;
  ExplainedShaft symbols_;
  std::string tail_;
  Chain& chain_;
  ExplainedHeat heat_;
  std::string omega_, diameter_, speed_;
  std::string line_force_;          ///< of the contact in hand, warm
  std::vector<std::string> theta_;  ///< by contact; empty of dry ones
};

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

}  // namespace ohmdrag::study
