#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "ohmdrag/quantity/print.hpp"
#include "study/ensemble.hpp"
#include "study/rig_comparison.hpp"
#include "study/service_history.hpp"

namespace ohmdrag::study {
namespace {

const rig::ShownIn per_minute{"1/min", from_rpm(1.0).value()}, metres_per_second{"m/s"},
    celsius{"°C", 1.0, kelvin_at_zero_celsius}, hours{"h", 3600.0};

/// Ageing that is within this share of the service's counts as matched; common practice, no source.
constexpr double as_good_as_matched = 0.1;

const Variant& variant_of(const Case& question, const std::string& id) {
  return *std::ranges::find(question.variants, id, &Variant::id);
}

std::string number(double value) { return print_number(value, 3); }

/// One speed of the programme.
struct Row {
  AngularVelocity speed;
  RigPoint point;
  rig::Acceleration of;
  rig::RigHours hours;
};

Row row_at(AngularVelocity speed, const RigPair& pair, const rig::ServiceDose& dose,
           TemperatureDifference activation) {
  Row row{speed, pair.at(speed), {}, {}};
  row.of = rig::acceleration(dose,
                             {Speed::from_value(row.point.sliding_m_s),
                              Temperature::from_value(row.point.rig_K), pair.pressure_on_rig()},
                             activation);
  row.hours = rig::rig_hours(dose, row.of);
  return row;
}

std::vector<rig::RunCell> cells_of(const Row& row) {
  return {row.speed.value(),
          row.point.sliding_m_s,
          row.point.rig_K,
          row.of.distance,
          row.of.pressure_velocity,
          row.of.ageing,
          row.hours.for_distance.value(),
          row.hours.for_ageing.value(),
          row.hours.ageing_at_distance};
}

std::string ageing_in_words(const Row& row, const rig::ServiceDose& dose,
                            TemperatureDifference activation) {
  const double share = row.hours.ageing_at_distance;
  std::string wanted = "no temperature of the contact does both";
  try {
    wanted = fmt::format("a contact at {} °C would do both",
                         print_number(in_celsius(rig::temperature_of_equal_ageing(
                                          dose, row.hours.for_distance, activation)),
                                      3));
  } catch (const std::invalid_argument&) {
    // Said as it stands.
  }
  if (share > 1.0 + as_good_as_matched)
    return fmt::format(
        "By then it has aged {} times as much as in the service: force lost and films grown are "
        "overrated. Cool the enclosure; {}.",
        number(share), wanted);
  if (share < 1.0 - as_good_as_matched)
    return fmt::format(
        "By then it has aged {} of what the service does, so relaxation and films are underrated. "
        "Warm the enclosure; {}.",
        number(share), wanted);
  return "By then it has aged as in the service.";
}

}  // namespace

std::optional<rig::ServiceDose> service_dose(const RigComparison& run, const RigPair& middle) {
  Case question = *run.question;
  if (run.duty) question.service.mix = {{*run.duty, 1.0}};
  const Variant& variant = variant_of(question, run.variant);
  Case world = world_of(question, variant);
  if (run.duty) world.service.mix = question.service.mix;
  const ServiceHistory history = service_history(question, world, variant);
  const contact::History* whole = history.of(run.contact);
  if (!whole || !(whole->age.value() > 0.0 && whole->way.value() > 0.0) ||
      !(middle.pressure().value() > 0.0))
    return std::nullopt;
  return rig::ServiceDose{.hours = whole->age,
                          .way = whole->way,
                          .ageing = whole->temperature,
                          .pressure = middle.pressure()};
}

void add_programme(rig::RunFindings& out, const RigComparison& run, const RigPair& middle) {
  const auto dose = service_dose(run, middle);
  if (!dose) {
    out.notes.emplace_back(
        "No programme: the case does not say how long the service is, or the contact has no "
        "[service] that says what ages it.");
    return;
  }
  const TemperatureDifference activation =
      activation_of(*contact_element(variant_of(*run.question, run.variant), run.contact));
  out.conditions.emplace_back(
      "Service",
      fmt::format(
          "{}: {} h and {} km of way at the contact, {} m/s in the mean, ages as at {} °C",
          run.duty ? "all of duty " + *run.duty : std::string("as the case mixes its duties"),
          number(dose->hours.value() / 3600.0), number(dose->way.value() / 1000.0),
          number(dose->mean_speed().value()), print_number(in_celsius(dose->ageing), 3)));

  const Speed equal = rig::speed_of_equal_pressure_velocity(*dose, middle.pressure_on_rig());
  const Row matched = row_at(turning_speed(equal, middle.rig_radius()), middle, *dose, activation);
  rig::RunTable table{"programme",
                      "Programme of the rig, first the speed of the service's mean p·v",
                      {{"speed_rad_per_s", "rig speed", per_minute},
                       {"sliding_m_per_s", "sliding", metres_per_second},
                       {"contact_K", "contact", celsius},
                       {"distance_acceleration", "way, times"},
                       {"pressure_velocity_acceleration", "p·v, times"},
                       {"ageing_acceleration", "ageing, times"},
                       {"for_distance_s", "for the way", hours},
                       {"for_ageing_s", "for the ageing", hours},
                       {"ageing_at_distance", "ageing when the way is done"}},
                      {cells_of(matched)}};
  for (const AngularVelocity& speed : run.rig.speeds)
    table.rows.push_back(cells_of(row_at(speed, middle, *dose, activation)));
  out.tables.push_back(std::move(table));
  out.figures.push_back(rig::plain_figure("programme_speed_rad_per_s", "programme, speed",
                                          per_minute, matched.speed.value()));
  out.figures.push_back(rig::plain_figure("programme_time_s", "programme, time", hours,
                                          matched.hours.for_distance.value()));
  out.quality.emplace_back(
      "Programme",
      fmt::format("{:.0f} 1/min for {} h slides the way of the service at its mean p·v. {}",
                  in_rpm(matched.speed), number(matched.hours.for_distance.value() / 3600.0),
                  ageing_in_words(matched, *dose, activation)));
  out.notes.emplace_back(
      "Way and p·v are matched at once at that one speed; a faster run does the way sooner and "
      "raises p·v by as much, which may be another regime of wear. Ageing follows the temperature "
      "of the contact alone and is matched by that of the enclosure, not by the speed.");
  out.notes.emplace_back(
      "A steady speed has none of the starts, stops, cold oil, dirt and humidity of the service.");
}

}  // namespace ohmdrag::study
