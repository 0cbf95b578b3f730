#include "study/grounding_path.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "ohmdrag/contact/force_exponent.hpp"
#include "ohmdrag/contact/wet_contact.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/study/element_parts.hpp"
#include "ohmdrag/voltage/path_geometry.hpp"

namespace ohmdrag::study {
namespace {

/// The resistance as it is stated, of an element whose force is not modelled.
contact::ResistanceResult reference_resistance(const contact::DryResistance& law) {
  return {law.bulk + law.film, {}};
}

Inductance path_inductance(const Grounding& grounding, const Draw& draw) {
  if (const auto* strap = std::get_if<Strap>(&grounding.path))
    return voltage::strap_inductance(strap->length, strap->width, strap->thickness);
  if (const auto* wire = std::get_if<Wire>(&grounding.path))
    return voltage::wire_inductance(wire->length, wire->diameter);
  if (const auto* stated = std::get_if<StatedPath>(&grounding.path))
    return draw(stated->inductance);
  return {};
}

/// The oil that carries part of a ring: a capacitor beside its solid contact.
std::optional<Capacitance> oil_beside(const RingElement* ring, const GroundingContact& here,
                                      Age age, const Draw& draw) {
  if (!ring || !ring->oil || !here.life || !(here.load_share < 1.0)) return std::nullopt;
  return contact::oil_capacitance(here.load_share, here.diameter, here.life->of(age).width,
                                  draw(ring->oil->oil_thickness), here.oil_permittivity);
}

void flag_measured(const voltage::MeasuredPath& fit, std::vector<Flag>& flags) {
  for (const auto& flag : fit.flags) flags.push_back(in_words(flag, "grounding"));
  const auto in = [](double value, Dimension dimension) {
    return print_quantity(value, dimension, 3);
  };
  flags.push_back(
      {"impedance-measured",
       fmt::format("Impedance as measured from {} to {}, met within {} dB and {} degrees; beyond "
                   "that range it is an extrapolation. Its resistances age as a stated one does, "
                   "its inductance and capacitances stay. Measured at rest or at another level it "
                   "may differ.",
                   in(fit.from.value(), Dimension::frequency),
                   in(fit.to.value(), Dimension::frequency), print_number(fit.misfit.largest_dB, 2),
                   print_number(fit.misfit.largest_deg, 2))});
}

Temperature hottest_oil(const WorldModel& model, const Draw& draw) {
  Temperature hottest = draw(model.world->sump.ambient);
  for (const OperatingPoint& point : model.world->points)
    hottest = std::max(hottest, draw(point.oil_temperature));
  return hottest;
}

/// Of the operating points; 1 for a dry contact.
double least_load_share(const WorldModel& model, const energy::DriveUnit& unit, std::size_t s,
                        std::size_t contact, const Draw& draw) {
  const component::ShaftSystem& system = unit.shafts[s];
  const auto* film = std::get_if<contact::MixedFilm>(&system.contacts[contact].law);
  double least = 1.0;
  if (!film) return least;
  for (const OperatingPoint& point : model.world->points) {
    const auto state = component::solve(system, model.speeds(point, draw)[s],
                                        {draw(point.oil_temperature), model.dry[s]});
    least = std::min(
        least, contact::solid_load_share(*film, component::duty(system, state, contact)->contact));
  }
  return least;
}

/// Whether anything says how well the element conducts.
bool has_resistance(const Grounding& grounding) {
  return grounding.resistance || grounding.impedance || resistance_of(grounding.element);
}

/// Local exponent of the new contact's resistance over its force; none without law or force.
std::optional<double> force_exponent_of(const Grounding& grounding, const GroundingContact& here,
                                        const Draw& draw) {
  const ElementResistance* entry = resistance_of(grounding.element);
  if (!entry || !here.life || grounding.resistance || grounding.impedance) return std::nullopt;
  const LineForce pressed_on = here.load_share * here.hot_share * here.life->line_force(Age::begin);
  if (!(pressed_on.value() > 0.0)) return std::nullopt;
  const contact::DryResistance law = resistance_law(*entry, draw);
  return std::holds_alternative<BrushElement>(grounding.element.form)
             ? contact::force_exponent(law, contact::radial_load(pressed_on, here.diameter))
             : contact::force_exponent(law, pressed_on);
}

}  // namespace

contact::DryResistance resistance_law(const ElementResistance& entry, const Draw& draw) {
  return {.bulk = draw(entry.bulk),
          .film = draw(entry.film),
          .at_line_force = draw(entry.at_line_force),
          .at_force = draw(entry.at_force),
          .at_diameter = draw(entry.at_diameter),
          .count_exponent = draw(entry.count_exponent),
          .film_exponent = draw(entry.film_exponent)};
}

contact::RunningResistance running_law(const ElementResistance::Running& entry, const Draw& draw) {
  return {draw(entry.temperature_coefficient), draw(entry.speed_scale), draw(entry.speed_exponent)};
}

PathsOverService paths_of(const Grounding& grounding, const GroundingContact& here,
                          const Draw& draw, GroundingNotes& notes) {
  const ElementResistance* entry = resistance_of(grounding.element);
  const bool brush = std::holds_alternative<BrushElement>(grounding.element.form);
  if (!has_resistance(grounding)) return {};
  const auto* ring = std::get_if<RingElement>(&grounding.element.form);
  const double residual_oil = ring && ring->oil ? draw(ring->oil->residual_oil) : 1.0;

  // By the law at a line force of 20 degC; nothing where no force is left. What has lost more than
  // nine tenths of it is taken as open: no law reaches that far.
  constexpr double least_share_left = 0.1;
  const LineForce fresh = here.life ? here.life->line_force(Age::begin) : LineForce{};
  const auto by_law = [&](LineForce cold) -> std::optional<contact::ResistanceResult> {
    const contact::DryResistance law = resistance_law(*entry, draw);
    if (!here.life) return reference_resistance(law);
    const LineForce pressed_on = here.load_share * here.hot_share * cold;
    if (!(pressed_on.value() > 0.0) || cold < least_share_left * fresh) return std::nullopt;
    auto result =
        brush ? contact::brush_resistance(law, contact::radial_load(pressed_on, here.diameter))
              : contact::ring_resistance(law, pressed_on, here.diameter);
    result.value = residual_oil * result.value;
    return result;
  };

  const Inductance inductance = path_inductance(grounding, draw);
  const double growth = entry ? draw(entry->end_of_service_factor) : 1.0;
  std::optional<Resistance> new_by_law;
  if (grounding.impedance) notes.measured = &grounding.impedance->fit;
  PathsOverService paths;
  for (const Age age : ages) {
    const LineForce force = here.life ? here.life->line_force(age) : LineForce{};
    const auto law = entry ? by_law(force) : std::nullopt;
    if (entry && !law) continue;
    if (age == Age::begin && law) {
      new_by_law = law->value;
      notes.ranges = law->flags;
    }
    const double grown = std::pow(growth, share_of_service(age));
    // What is stated or measured is the new contact; it changes as the law does.
    const bool follows_law = law && new_by_law && (grounding.resistance || grounding.impedance);
    const double aged = follows_law ? grown * (law->value / *new_by_law).value() : grown;
    voltage::GroundingPath path{};
    if (grounding.impedance) {
      // Inductance and capacitances are those of the measurement at every age.
      path = voltage::with_resistances(
          voltage::with_impedance(grounding.impedance->fit.path, draw(grounding.impedance->factor)),
          aged);
      path.inductance += inductance;
    } else {
      path.inductance = inductance;
      const Resistance now =
          aged * (grounding.resistance ? draw(*grounding.resistance) : law->value);
      if (const auto oil = oil_beside(ring, here, age, draw))
        path.films.push_back({now, *oil});
      else
        path.resistance = now;
    }
    if (grounding.film)
      path.films.push_back({draw(grounding.film->resistance), draw(grounding.film->capacitance)});
    if (grounding.parallel_capacitance) path.across = draw(*grounding.parallel_capacitance);
    paths[static_cast<std::size_t>(age)] = path;
  }
  return paths;
}

voltage::MaybePath VariantModel::path_at(Age age, AngularVelocity speed,
                                         const std::optional<Temperature>& contact) const {
  const voltage::MaybePath& resting = path[static_cast<std::size_t>(age)];
  if (!resting || !running) return resting;
  const double factor = contact::running_factor(running->law, contact.value_or(running->usual),
                                                rim_speed(speed, 0.5 * running->diameter));
  return voltage::with_resistances(*resting, factor);
}

void fit_grounding_path(const WorldModel& model, const Grounding& grounding, const Draw& draw,
                        const ServiceHistory& all, VariantModel& into) {
  const std::size_t s = model.shaft_index(grounding.shaft);
  const auto& coupling = model.world->coupling;
  if (coupling && model.shaft_index(coupling->shaft) != s) {
    // Between the shafts lie gear mesh and bearings: no path that this model knows.
    into.grounding_notes.on_another_shaft = true;
    return;
  }
  GroundingContact here{.life = nullptr, .diameter = model.diameter[s]};
  const auto living = std::ranges::find(into.lives, "grounding", &LivingContact::id);
  if (living != into.lives.end()) {
    here.life = &living->life;
    const auto& contacts = into.unit.shafts[s].contacts;
    const auto contact = std::ranges::find(contacts, "grounding", &component::ShaftContact::id);
    // The force is least where the side it stands on is hottest.
    const Temperature hottest = hottest_oil(model, draw);
    here.hot_share = component::force_share(*contact, {hottest, model.dry[s]});
    here.load_share = least_load_share(model, into.unit, s,
                                       static_cast<std::size_t>(contact - contacts.begin()), draw);
    here.oil_permittivity = model.oil.permittivity;
  }
  into.grounded = has_resistance(grounding);
  into.path = paths_of(grounding, here, draw, into.grounding_notes);
  into.force_exponent = force_exponent_of(grounding, here, draw);
  // Who states a resistance or a measured impedance states that of the running contact.
  const ElementResistance* entry = resistance_of(grounding.element);
  if (entry && entry->running && !grounding.resistance && !grounding.impedance) {
    const contact::History* history = all.of("grounding");
    into.running = RunningContact{running_law(*entry->running, draw), model.diameter[s],
                                  history ? history->temperature : from_celsius(20.0)};
  }
  const auto* ring = std::get_if<RingElement>(&grounding.element.form);
  if (ring && ring->oil) into.grounding_notes.least_solid_share = here.load_share;
}

std::vector<Flag> in_words(const GroundingNotes& notes) {
  std::vector<Flag> flags;
  if (notes.on_another_shaft)
    flags.push_back({"grounds-another-shaft",
                     "stands on another shaft than the one the winding couples to: it grounds "
                     "nothing in this model"});
  if (notes.measured) flag_measured(*notes.measured, flags);
  for (const auto& flag : notes.ranges) flags.push_back(in_words(flag, "grounding"));
  if (notes.least_solid_share)
    flags.push_back(
        {"oil-wetted",
         fmt::format("Contact resistance not guaranteed when oil is present. At the worst "
                     "operating point solid contact carries {} of the force; the path is taken "
                     "there.",
                     print_number(100.0 * *notes.least_solid_share, 2) + " %")});
  return flags;
}

}  // namespace ohmdrag::study
