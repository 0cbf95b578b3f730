#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "ohmdrag/quantity/print.hpp"
#include "study/sections.hpp"

namespace ohmdrag::study {
namespace {

struct MeasureWords {
  std::string quantity;
  std::string unit;
  double unit_size;  ///< SI of one unit
  double offset = 0.0;
};

MeasureWords words_of(Measure measure) {
  switch (measure) {
    case Measure::impedance_magnitude:
      return {"impedance-magnitude", "ohm", 1.0};
    case Measure::net_power:
      return {"net-power", "W", 1.0};
    case Measure::contact_temperature:
      return {"contact-temperature", "degC", 1.0, kelvin_at_zero_celsius};
    case Measure::edge_peak:
      return {"edge-peak", "V", 1.0};
    case Measure::held_voltage:
      return {"held-voltage", "V", 1.0};
    case Measure::striking_time_share:
      return {"striking-time-share", "1", 1.0};
    case Measure::dose_factor:
      return {"dose-factor", "1", 1.0};
    case Measure::battery_energy_per_distance:
      return {"battery-energy-per-distance", "Wh/km", 3.6};
    case Measure::modified_life:
      return {"modified-life", "h", 3600.0};
    case Measure::mechanical_life:
      break;
  }
  return {"mechanical-life", "h", 3600.0};
}

/// The value as the requirement's unit has it.
double in_unit(const MeasureWords& words, double si) {
  return (si - words.offset) / words.unit_size;
}

/// Points that the requirement speaks of: the named one, else all.
std::vector<std::size_t> points_of(const Case& world, const std::string& id) {
  std::vector<std::size_t> result;
  for (std::size_t p = 0; p < world.points.size(); ++p)
    if (id.empty() || world.points[p].id == id) result.push_back(p);
  return result;
}

/// Largest |Z| at the requirement's frequencies: a band by its two ends (a series R-L path rises
/// with frequency), or without any the switching frequency and 1 MHz.
double worst_impedance(const Ensemble& ensemble, const Requirement& requirement,
                       const ByFrequency& impedance) {
  std::vector<Frequency> at = requirement.band;
  if (at.empty()) {
    if (ensemble.question->inverter)
      at.push_back(ensemble.question->inverter->switching_frequency.nominal());
    at.push_back(Frequency::from_value(1e6));
  }
  double worst = 0.0;
  for (const Frequency& f : at) {
    const auto place = std::find(ensemble.frequencies.begin(), ensemble.frequencies.end(), f);
    worst =
        std::max(worst, impedance[static_cast<std::size_t>(place - ensemble.frequencies.begin())]);
  }
  return worst;
}

double worst_over_points(const Case& world, const VariantSample& sample, const std::string& id,
                         double ElectricSample::*member) {
  double worst = 0.0;
  for (const std::size_t p : points_of(world, id))
    worst = std::max(worst, sample.points[p].electric.*member);
  return worst;
}

/// Of the bearings over the service mix, s; infinite where none takes any damage.
double shortest_life(const Ensemble& ensemble, const VariantSample& sample, const Case& world,
                     double BearingSample::*damage) {
  const ServiceMix mix = service_mix(*ensemble.question);
  double most = 0.0;
  for (std::size_t b = 0; b < world.bearings.size(); ++b)
    most = std::max(most, service_mean(mix, sample, b).per_second.*damage);
  return most > 0.0 ? 1.0 / most : std::numeric_limits<double>::infinity();
}

std::optional<double> when(bool there, double value) {
  return there ? std::optional(value) : std::nullopt;
}

std::string place_in_words(const Requirement& requirement) {
  std::string text = requirement.point.empty() ? "" : requirement.point;
  if (!requirement.band.empty()) {
    text += text.empty() ? "" : ", ";
    text += print_quantity(requirement.band.front().value(), Dimension::frequency);
    if (requirement.band.size() > 1)
      text += " to " + print_quantity(requirement.band.back().value(), Dimension::frequency);
  }
  if (requirement.end_of_service) text += std::string(text.empty() ? "" : ", ") + "end of service";
  return text;
}

}  // namespace

bool holds(const Requirement& requirement, double value) {
  if (requirement.max && !(value <= requirement.max->mid())) return false;
  return !(requirement.min && !(value >= requirement.min->mid()));
}

std::string in_words(const Requirement& requirement) {
  const MeasureWords words = words_of(requirement.measure);
  const bool most = requirement.max.has_value();
  const std::string place = place_in_words(requirement);
  return fmt::format(
      "{} {} {} {}{}", words.quantity, most ? "at most" : "at least",
      print_number(in_unit(words, (most ? *requirement.max : *requirement.min).mid()), 4),
      words.unit == "1" ? "" : words.unit, place.empty() ? "" : ", " + place);
}

std::optional<double> requirement_value(const Ensemble& ensemble, const Requirement& requirement,
                                        std::size_t v, std::size_t draw) {
  return requirement_value(ensemble, requirement, v, ensemble.samples[v][draw],
                           ensemble.samples[ensemble.baseline][draw]);
}

std::optional<double> requirement_value(const Ensemble& ensemble, const Requirement& requirement,
                                        std::size_t v, const VariantSample& sample,
                                        const VariantSample& base) {
  const Case& world = ensemble.world(v);
  const Sections& sections = ensemble.sections;
  switch (requirement.measure) {
    case Measure::impedance_magnitude: {
      const auto worst_of = [&](const auto& by_age) {
        const auto& impedance = requirement.end_of_service ? by_age.back() : by_age.front();
        return impedance.empty() ? std::numeric_limits<double>::infinity()
                                 : worst_impedance(ensemble, requirement, impedance);
      };
      if (world.points.empty()) return worst_of(sample.impedance_ohm);
      double worst = 0.0;
      for (const std::size_t p : points_of(world, requirement.point))
        worst = std::max(worst, worst_of(sample.points[p].impedance_ohm));
      return worst;
    }
    case Measure::net_power: {
      double worst = -std::numeric_limits<double>::infinity();
      for (const std::size_t p : points_of(world, requirement.point))
        worst = std::max(worst, total_W(sample, p) - total_W(base, p));
      return when(!world.points.empty(), worst);
    }
    case Measure::contact_temperature: {
      double worst = not_a_figure;
      for (const std::size_t p : points_of(world, requirement.point))
        for (const PartSample& part : sample.points[p].parts)
          worst = std::fmax(worst, part.contact_degC);
      if (std::isnan(worst)) return std::nullopt;
      return worst + kelvin_at_zero_celsius;
    }
    case Measure::edge_peak:
      if (!has_electrics(world) || !sections.voltage) return std::nullopt;
      return when(!world.points.empty(), worst_over_points(world, sample, requirement.point,
                                                           &ElectricSample::verdict_edge_V));
    case Measure::held_voltage:
      if (!has_electrics(world) || !sections.voltage) return std::nullopt;
      return when(!world.points.empty(),
                  worst_over_points(world, sample, requirement.point, &ElectricSample::held_V));
    case Measure::striking_time_share:
      if (!strikes_can_be_counted(world) || !sections.life) return std::nullopt;
      return service_sum(service_mix(*ensemble.question), sample).striking_s;
    case Measure::dose_factor: {
      if (!strikes_can_be_counted(world) || !sections.life) return std::nullopt;
      const ServiceMix mix = service_mix(*ensemble.question);
      return dose_factor(service_sum(mix, base), service_sum(mix, sample));
    }
    case Measure::battery_energy_per_distance: {
      if (!world.vehicle || !sections.energy) return std::nullopt;
      double worst = -std::numeric_limits<double>::infinity();
      for (std::size_t d = 0; d < world.duties.size(); ++d)
        if (world.duties[d].is_driven() &&
            (requirement.point.empty() || requirement.point == world.duties[d].id ||
             requirement.point == world.duties[d].family))
          worst = std::max(worst,
                           battery_Wh_per_km(sample.duties[d]) - battery_Wh_per_km(base.duties[d]));
      return when(std::isfinite(worst), worst * 3.6);
    }
    case Measure::mechanical_life:
      if (!sections.life || world.bearings.empty() || world.duties.empty()) return std::nullopt;
      return shortest_life(ensemble, sample, world, &BearingSample::damage);
    case Measure::modified_life:
      if (!sections.life || world.bearings.empty() || world.duties.empty() ||
          !world.sump.cleanliness)
        return std::nullopt;
      return shortest_life(ensemble, sample, world, &BearingSample::modified_damage);
  }
  return std::nullopt;
}

void fill_requirements(const Ensemble& ensemble, std::size_t v, VariantFindings& findings) {
  for (const Requirement& requirement : ensemble.question->requirements) {
    const MeasureWords words = words_of(requirement.measure);
    RequirementRow row;
    row.id = requirement.id;
    row.quantity = words.quantity;
    row.unit = words.unit;
    row.at = place_in_words(requirement);
    row.is_max = requirement.max.has_value();
    row.limit = in_unit(words, (row.is_max ? *requirement.max : *requirement.min).mid());

    std::vector<double> values;
    int met = 0, asked = 0;
    for (std::size_t i = 0; i < ensemble.samples[v].size(); ++i)
      if (const auto value = requirement_value(ensemble, requirement, v, i)) {
        ++asked;
        met += holds(requirement, *value) ? 1 : 0;
        values.push_back(in_unit(words, *value));
      }
    if (asked == 0) {
      row.not_applicable = ensemble.sections.trade ? "the case does not describe what it needs"
                                                   : "this command does not compute it; use trade";
      findings.requirements.push_back(std::move(row));
      continue;
    }
    row.value = interval_of(std::move(values));
    row.probability = double(met) / double(asked);
    row.met = row.probability >= requirement.share_of_parts;
    if (!ensemble.parts.empty()) {
      row.parts = ensemble.parts[v][findings.requirements.size()];
      if (row.parts)
        row.met = row.parts->way != ShareOfParts::Way::none &&
                  row.parts->share_at_confidence >= requirement.share_of_parts;
    }
    row.margin = row.is_max ? row.limit - row.value.high : row.value.low - row.limit;
    if (requirement.measure == Measure::impedance_magnitude && std::isinf(row.value.mid))
      row.at +=
          std::string(row.at.empty() ? "" : ", ") +
          (ensemble.samples[v].front().impedance_ohm.front().empty() ? "no grounding: infinite"
                                                                     : "open: infinite");
    findings.requirements.push_back(std::move(row));
  }
}

}  // namespace ohmdrag::study
