#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "ohmdrag/study/element_parts.hpp"
#include "study/explain_parts.hpp"
#include "study/grounding_path.hpp"

namespace ohmdrag::study {
namespace {

/// |Z| of a series path; of one with films it is taken.
void magnitude(const voltage::GroundingPath& path, Chain& chain) {
  const double f = 1e6, ohm = std::abs(voltage::impedance_ohm(path, Frequency::from_value(f)));
  if (!path.films.empty() || path.across != Capacitance{}) {
    chain.taken("impedance_at_1_MHz_ohm", ohm, "ohm", "magnitude of the path at 1 MHz",
                "path with films or a capacitance beside it");
    return;
  }
  chain.taken("L_path", path.inductance.value() / 1e-9, "nH", "inductance of the connection",
              "its geometry, or as stated");
  chain.step("impedance_at_1_MHz_ohm", "sqrt(R_run^2 + (2*pi*1e6*L_path*1e-9)^2)", ohm, "ohm",
             "magnitude at 1 MHz", "resistance and inductance in series");
}

/// Resistance of the new contact at its end of service by its law; its symbol.
std::string by_law(const Nominal& nominal, const Grounding& grounding,
                   const ElementResistance& entry, const LivingContact& living, double at_rest_ohm,
                   Chain& chain) {
  const contact::DryResistance law = resistance_law(entry, nominal.draw);
  const std::string key = "contact." + grounding.element.id + ".resistance.";
  const bool brush = std::holds_alternative<BrushElement>(grounding.element.form);
  const double d = nominal.model.diameter[living.shaft].value();
  const double end =
      living.life.line_force(Age::end).value() * (brush ? std::numbers::pi * d : 1.0);
  chain.taken("F_end", end, brush ? "N" : "N/m", "force at the end of its service, at 20 degC",
              "relaxation and wear over the service");
  const double reference = brush ? law.at_force.value() : law.at_line_force.value();
  chain.given("F_ref", reference, brush ? "N" : "N/m", "force at which the resistance is stated",
              {key + (brush ? "at_force" : "at_line_force")});
  const double q = law.count_exponent, m = law.film_exponent,
               growth = nominal.draw(entry.end_of_service_factor);
  const double parallel = brush ? 1.0 : law.at_diameter.value() / d;
  const double bulk = law.bulk.value(), film = law.film.value(), m_eff = m + q * (1.0 - m);
  chain.given("q", q, "", "exponent of the number of contacts", {key + "count_exponent"});
  chain.given("m", m, "", "exponent of a spot", {key + "film_exponent"});
  chain.step("m_eff", "m + q*(1 - m)", m_eff, "", "exponent of all spots together",
             "more contacts, each at less force");
  chain.given("R_b", bulk, "ohm", "of the fibres at the reference", {key + "bulk"});
  chain.given("R_c", film, "ohm", "of spots and films at the reference", {key + "film"});
  chain.given("growth", growth, "", "rise over the service at equal force",
              {key + "end_of_service_factor"});
  // Softened by its warm side: what is left of the force there follows from the law backwards.
  const auto resistance = [&](double x) {
    return growth * (bulk * std::pow(x, -q) + film * std::pow(x, -m_eff)) * parallel;
  };
  const double x = end / reference;
  if (std::abs(resistance(x) - at_rest_ohm) > 1e-9 * at_rest_ohm)
    return chain.taken("R_rest", at_rest_ohm, "ohm", "resting contact at the end of its service",
                       "law of the contact at its force on a warm body or under oil");
  chain.step("x", "F_end/F_ref", x, "", "force over the reference", "definition",
             "a third to three times");
  std::string expression = "growth*(R_b*x^(-q) + R_c*x^(-m_eff))";
  if (!brush) {
    chain.given("d_ref", law.at_diameter.value(), "m", "diameter of the statement",
                {key + "at_diameter"});
    chain.taken("d", d, "m", "diameter of the shaft as made", "the case");
    expression += "*d_ref/d";
  }
  return chain.step("R_rest", expression, at_rest_ohm, "ohm",
                    "resting contact at the end of its service",
                    "derived: fibres in series with spots, shared among contacts");
}

}  // namespace

void explain_impedance(const Ensemble& ensemble, std::size_t v, std::size_t p, Chain& chain) {
  const Nominal nominal(ensemble, v);
  const auto& rest = nominal.variant.path[static_cast<std::size_t>(Age::end)];
  if (!rest) throw std::invalid_argument("no path is left at the end of the service: it is open");
  const Grounding& grounding = *nominal.entry->grounding;
  const OperatingPoint& point = nominal.world->points[p];
  const auto part = std::ranges::find(nominal.variant.parts, "grounding", &PartInfo::id);
  const AngularVelocity speed = nominal.model.speeds(point, nominal.draw)[part->shaft];
  const PartSample& sample = ensemble.samples[v].front().points[p].parts[static_cast<std::size_t>(
      part - nominal.variant.parts.begin())];
  const auto contact = std::isnan(sample.contact_degC)
                           ? std::nullopt
                           : std::optional(from_celsius(sample.contact_degC));
  const auto running = nominal.variant.path_at(Age::end, speed, contact);
  const double at_rest_ohm = rest->resistance.value();
  const ElementResistance* entry = resistance_of(grounding.element);
  const auto living = std::ranges::find(nominal.variant.lives, "grounding", &LivingContact::id);
  std::string resting;
  if (entry && !grounding.resistance && !grounding.impedance && rest->films.empty() &&
      living != nominal.variant.lives.end())
    resting = by_law(nominal, grounding, *entry, *living, at_rest_ohm, chain);
  else
    resting = chain.taken("R_rest", at_rest_ohm, "ohm", "contact at the end of its service",
                          "as stated or measured, aged as the law of the contact");
  const auto& law = nominal.variant.running;
  if (law) {
    const std::string key = "contact." + grounding.element.id + ".resistance.running.";
    const double u = std::abs(rim_speed(speed, 0.5 * law->diameter).value());
    chain.given("alpha", law->law.per_kelvin.value(), "1/K", "of the resistance over temperature",
                {key + "temperature_coefficient"});
    chain.taken("theta", in_celsius(contact.value_or(law->usual)), "degC",
                "temperature of the contact",
                fmt::format("explain total_W:{}@{}", nominal.entry->id, point.id));
    chain.taken("u", u, "m/s", "surface speed", "speed of the place, ratio and diameter");
    chain.given("u_R", law->law.speed_scale.value(), "m/s", "scale of the speed",
                {key + "speed_scale"});
    chain.given("n_u", law->law.speed_exponent, "", "exponent of the speed",
                {key + "speed_exponent"});
    const std::string rise = law->law.speed_exponent == 0.0 ? "1" : "(1 + (u/u_R)^n_u)";
    chain.step("R_run", fmt::format("{}*(1 + alpha*(theta - 20))*{}", resting, rise),
               running->resistance.value(), "ohm", "running contact",
               "linear law of a resistor; trend over speed assumed");
  } else {
    chain.step("R_run", resting, running->resistance.value(), "ohm", "running contact",
               "running does nothing to it");
  }
  magnitude(*running, chain);
}

}  // namespace ohmdrag::study
