#include "study/limit_flags.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "ohmdrag/contact/element_design.hpp"
#include "ohmdrag/contact/flash_temperature.hpp"
#include "ohmdrag/material/seal_limits.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/study/element_parts.hpp"

namespace ohmdrag::study {
namespace {

/// One limit in words. Within it, it is news too: how far away it is.
struct Limit {
  std::string code;
  std::string what;
  std::string unit;
  std::string difference_unit;
  bool upper = true;
};

Flag limit_flag(const Limit& limit, double value, double bound, Basis basis) {
  const double margin = limit.upper ? bound - value : value - bound;
  const std::string side =
      limit.upper ? (margin >= 0.0 ? "below" : "ABOVE") : (margin >= 0.0 ? "above" : "BELOW");
  return {
      limit.code,
      fmt::format("{} {} {}: {} {} {} the limit of {} {} ({})", limit.what, print_number(value, 3),
                  limit.unit, print_number(std::abs(margin), 2), limit.difference_unit, side,
                  print_number(bound, 3), limit.unit, to_word(basis)),
      margin >= 0.0};
}

void temperature_flags(const ContactAtPoint& here, const ElementLimits& limits,
                       std::vector<Flag>& flags) {
  const double contact = in_celsius(here.now().contact);
  const auto upper = [&](const char* code, const std::string& what, double value,
                         const std::optional<Uncertain<Temperature>>& bound) {
    if (bound)
      flags.push_back(
          limit_flag({code, what, "°C", "K"}, value, in_celsius(bound->nominal()), bound->basis));
  };
  upper("temperature-limit", "contact at", contact, limits.temperature);
  if (!limits.of_material) return;
  const SealLimits& material = *limits.of_material;
  upper("continuous-temperature", limits.material + ", continuous: contact at", contact,
        material.continuous_high);
  upper("short-term-temperature", limits.material + ", for minutes: contact at", contact,
        material.short_term);
  upper("sump-temperature", limits.material + ", oil around it: at",
        in_celsius(here.state.surroundings.oil), material.sump_high);
  if (material.continuous_low)
    flags.push_back(limit_flag(
        {"cold-temperature", limits.material + ", cold: contact at", "°C", "K", /*upper=*/false},
        contact, in_celsius(material.continuous_low->nominal()), material.continuous_low->basis));
}

void speed_flags(const ContactAtPoint& here, const ElementLimits& limits,
                 std::vector<Flag>& flags) {
  const double u = std::abs(rim_speed(here.state.speed, 0.5 * here.system.diameter).value());
  const auto surface = [&](const char* code, const std::string& what, double bound, Basis basis) {
    flags.push_back(limit_flag({code, what, "m/s", "m/s"}, u, bound, basis));
  };
  if (limits.surface_speed)
    surface("speed-limit", "surface speed", limits.surface_speed->nominal().value(),
            limits.surface_speed->basis);
  if (limits.of_material && limits.of_material->surface_speed)
    surface("material-speed", limits.material + ": surface speed",
            limits.of_material->surface_speed->nominal().value(),
            limits.of_material->surface_speed->basis);
  if (limits.speed_chart) {
    const LipSpeedChart& entry = *limits.speed_chart;
    const material::LipSpeedChart chart{entry.small_diameter.nominal(), entry.small_speed.nominal(),
                                        entry.large_diameter.nominal(), entry.large_speed.nominal(),
                                        entry.beyond.nominal()};
    surface("speed-chart", "conventional lips of this diameter: surface speed",
            material::chart_surface_speed(chart, here.system.diameter).value(), entry.beyond.basis);
  }
  if (limits.rotational_speed)
    flags.push_back(limit_flag(
        {"rotational-speed", "speed", "1/min", "1/min"}, std::abs(in_rpm(here.state.speed)),
        in_rpm(limits.rotational_speed->nominal()), limits.rotational_speed->basis));
}

/// Mean pressure of the contact: on the section of a brush, else on the band.
std::optional<Pressure> mean_pressure(const ContactAtPoint& here, const Element& element) {
  const component::ShaftContact& contact = here.system.contacts[here.contact];
  const double share = component::force_share(contact, here.state.surroundings);
  if (const auto* brush = std::get_if<BrushElement>(&element.form))
    return brush->section
               ? std::optional<Pressure>(share * contact.load / brush->section->nominal())
               : std::nullopt;
  return share * contact.line_force / contact.contact_width;
}

void pressure_speed_flag(const ContactAtPoint& here, const Element& element,
                         std::vector<Flag>& flags) {
  const auto& bound = element.limits.pressure_speed;
  const auto pressure = mean_pressure(here, element);
  if (!bound || !pressure) return;
  constexpr double in_MPa_m_s = 1e-6;
  const PressureSpeed now =
      material::pressure_speed(*pressure, rim_speed(here.state.speed, 0.5 * here.system.diameter));
  flags.push_back(limit_flag({"pressure-speed", "pressure times speed", "MPa m/s", "MPa m/s"},
                             now.value() * in_MPa_m_s, bound->nominal().value() * in_MPa_m_s,
                             bound->basis));
}

/// Hottest asperities over the bulk: friction of one spot shared by shaft and contact.
TemperatureDifference flash_of(const ContactAtPoint& here, const FlashEntry& flash) {
  const Speed u = rim_speed(here.state.speed, 0.5 * here.system.diameter);
  const auto flux = contact::friction_flux(here.now().friction, flash.spot_pressure.nominal(), u);
  const PartInfo& info = here.nominal.variant.parts[here.part];
  const Shaft& shaft = here.nominal.world->shafts[info.shaft];
  const contact::FlashBody steel{shaft.conductivity.nominal(), shaft.density.nominal(),
                                 shaft.specific_heat.nominal()};
  const contact::FlashBody body{flash.conductivity.nominal(), flash.density.nominal(),
                                flash.specific_heat.nominal()};
  const auto rise = [&](const contact::FlashBody& of, Speed over) {
    return contact::spot_rise(contact::SpotProfile::uniform, flux, flash.spot_radius.nominal(), of,
                              over)
        .highest;
  };
  return contact::shared_flash(rise(steel, u), rise(body, Speed{})).highest;
}

void graphite_flag(const ContactAtPoint& here, const Element& element, std::vector<Flag>& flags) {
  if (!element.limits.graphite) return;
  const GraphiteTransition& entry = *element.limits.graphite;
  const TemperatureDifference flash =
      element.flash ? flash_of(here, *element.flash) : TemperatureDifference{};
  const auto verdict = material::graphite_verdict({entry.begin.nominal(), entry.end.nominal()},
                                                  here.now().contact, flash);
  const char* words[] = {"its water vapour still lubricates",
                         "IN the transition: friction and wear may jump",
                         "BEYOND the transition: friction and wear have jumped"};
  flags.push_back(
      {"graphite-transition",
       fmt::format("asperities at {} °C, {} K of it flash{}; graphite transition {} to {} °C ({}): "
                   "{}",
                   print_number(in_celsius(here.now().contact + flash), 3),
                   print_number(flash.value(), 2),
                   element.flash ? "" : " (no asperities are described)",
                   print_number(in_celsius(entry.begin.nominal()), 3),
                   print_number(in_celsius(entry.end.nominal()), 3), to_word(entry.begin.basis),
                   words[static_cast<std::size_t>(verdict.state)])});
}

void width_flag(const ContactAtPoint& here, const Element& element, std::vector<Flag>& flags) {
  const Variant& variant = *here.nominal.entry;
  const std::string& id = here.nominal.variant.parts[here.part].id;
  const auto& available = id == "seal" && variant.seal ? variant.seal->available_width
                          : id == "grounding" && variant.grounding
                              ? variant.grounding->available_width
                              : std::nullopt;
  if (!available || !element.limits.installation_width) return;
  constexpr double in_mm = 1e3;
  flags.push_back(limit_flag({"installation-width", "needs a width of", "mm", "mm"},
                             element.limits.installation_width->nominal().value() * in_mm,
                             available->nominal().value() * in_mm, available->basis));
}

void pressure_flag(const ContactAtPoint& here, const Element& element, std::vector<Flag>& flags) {
  const Variant& variant = *here.nominal.entry;
  if (here.nominal.variant.parts[here.part].id != "seal" || !variant.seal->over_pressure ||
      !element.limits.speed_chart)
    return;
  const LipSpeedChart& chart = *element.limits.speed_chart;
  const auto& bound = here.system.diameter <= chart.large_diameter.nominal()
                          ? chart.pressure_up_to_large_diameter
                          : chart.pressure_beyond;
  constexpr double in_kPa = 1e-3;
  flags.push_back(limit_flag({"lip-pressure", "pressure over the lip", "kPa", "kPa"},
                             variant.seal->over_pressure->nominal().value() * in_kPa,
                             bound.nominal().value() * in_kPa, bound.basis));
}

AngularVelocity top_speed(const ContactAtPoint& here) {
  const std::size_t s = here.nominal.variant.parts[here.part].shaft;
  AngularVelocity top{};
  for (const OperatingPoint& point : here.nominal.world->points) {
    const AngularVelocity n = here.nominal.model.speeds(point, here.nominal.draw)[s];
    top = std::max(top, n < AngularVelocity{} ? -n : n);
  }
  return top;
}

/// Whether fibres stay on a shaft that runs out, over a turn and up to the fastest point.
void fibre_flags(const ContactAtPoint& here, const FibreEntry& entry, std::vector<Flag>& flags) {
  const Variant& variant = *here.nominal.entry;
  const PartInfo& info = here.nominal.variant.parts[here.part];
  const Shaft& shaft = here.nominal.world->shafts[info.shaft];
  const Length interference = info.id == "grounding" && variant.grounding->interference
                                  ? variant.grounding->interference->nominal()
                                  : entry.interference.nominal();
  if (!shaft.run_out) {
    flags.push_back({"run-out-missing",
                     "no run-out of the shaft is given, so it is not known whether the fibres keep "
                     "contact over a turn"});
    return;
  }
  const contact::RunOut run_out{shaft.run_out->nominal(), Length{},
                                entry.dynamic_stiffening.nominal()};
  const component::ShaftContact& contact = here.system.contacts[here.contact];
  const auto least = contact::least_line_force(contact.line_force, interference, run_out);
  constexpr double in_N_per_mm = 1e-3, in_mm = 1e3;
  flags.push_back({"least-force-of-a-turn",
                   fmt::format("least line force over a turn {} N/mm of {} at a run-out of {} mm{}",
                               print_number(least.least.value() * in_N_per_mm, 3),
                               print_number(contact.line_force.value() * in_N_per_mm, 3),
                               print_number(shaft.run_out->nominal().value() * in_mm, 2),
                               least.opens_each_turn ? ": the contact OPENS once a turn" : "")});
  if (!entry.lean_deg) return;
  const contact::Fibre fibre{entry.diameter.nominal(), entry.free_length.nominal(),
                             entry.young_modulus.nominal(), entry.density.nominal()};
  const AngularVelocity top = top_speed(here);
  const auto needed = contact::least_interference(fibre, run_out, top);
  flags.push_back(
      {"fibres-follow",
       needed.follows
           ? fmt::format("to follow the shaft up to {} 1/min the fibres need an interference of {} "
                         "mm; they have {} mm{}",
                         print_number(in_rpm(top), 3),
                         print_number(needed.interference.value() * in_mm, 2),
                         print_number(interference.value() * in_mm, 2),
                         interference >= needed.interference ? "" : ": TOO LITTLE")
           : fmt::format("at {} 1/min no interference keeps the fibres on the shaft: it pushes "
                         "them near their own frequency of {} 1/min",
                         print_number(in_rpm(top), 3),
                         print_number(in_rpm(contact::fibre_frequency(fibre)), 3))});
  for (const auto& flag : needed.flags) flags.push_back(in_words(flag, "top speed"));
}

}  // namespace

std::vector<Flag> limit_flags(const ContactAtPoint& here) {
  const Element& element = *here.nominal.variant.parts[here.part].element;
  std::vector<Flag> flags;
  temperature_flags(here, element.limits, flags);
  speed_flags(here, element.limits, flags);
  pressure_speed_flag(here, element, flags);
  graphite_flag(here, element, flags);
  width_flag(here, element, flags);
  pressure_flag(here, element, flags);
  return flags;
}

std::vector<Flag> design_flags(const ContactAtPoint& here) {
  const Element& element = *here.nominal.variant.parts[here.part].element;
  std::vector<Flag> flags;
  if (const FibreEntry* fibres = fibres_of(element)) fibre_flags(here, *fibres, flags);
  const Power heat = here.system.contacts[here.contact].current_heat;
  if (heat > Power{})
    flags.push_back(
        {"current-heat", fmt::format("the current heats the contact by {} W, which is in its "
                                     "temperature and not in the watts of the shaft",
                                     print_number(heat.value(), 2))});
  return flags;
}

}  // namespace ohmdrag::study
