#include "input/ranges.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "ohmdrag/quantity/print.hpp"

namespace ohmdrag::input {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

struct Row {
  std::string_view name;
  Dimension dimension;
  PhysicalRange range;
};

constexpr PhysicalRange any{-infinity, infinity, false};
constexpr PhysicalRange positive{0.0, infinity, true};
constexpr PhysicalRange not_negative{0.0, infinity, false};
constexpr PhysicalRange share{0.0, 1.0, false};
constexpr PhysicalRange efficiency{0.0, 1.0, true};
constexpr PhysicalRange up_to(double high) { return {0.0, high, true}; }

// Definitions (a share, an efficiency, an exponent) or what a machine part can be by any measure.
constexpr std::array rows{
    // lengths
    Row{"diameter", Dimension::length, up_to(2.0)},
    Row{"stack", Dimension::length, up_to(5.0)},
    Row{"gap", Dimension::length, up_to(0.1)},
    Row{"bore", Dimension::length, up_to(2.0)},
    Row{"run_out", Dimension::length, {0.0, 0.1, false}},
    Row{"over_pressure", Dimension::pressure, any},
    Row{"running_time", Dimension::time, not_negative},
    Row{"position", Dimension::length, {0.0, 10.0, false}},
    Row{"contact_width", Dimension::length, up_to(1.0)},
    Row{"roughness", Dimension::length, up_to(1e-3)},
    Row{"clearance", Dimension::length, {0.0, 1e-3, false}},
    Row{"above", Dimension::length, {0.0, 2.0, false}},
    Row{"up_to", Dimension::length, up_to(2.0)},
    Row{"lower_deviation", Dimension::length, {-0.01, 0.01, false}},
    Row{"upper_deviation", Dimension::length, {-0.01, 0.01, false}},
    Row{"radial_interference", Dimension::length, up_to(0.1)},
    Row{"new_width", Dimension::length, {0.0, 0.1, false}},
    Row{"pressure_length", Dimension::length, {0.0, 0.1, false}},
    Row{"normal_module", Dimension::length, up_to(0.2)},
    Row{"face_width", Dimension::length, up_to(2.0)},
    // ratios
    Row{"ratio", Dimension::ratio, up_to(1000.0)},
    Row{"rolling", Dimension::ratio, share},
    Row{"exponent", Dimension::ratio, {0.0, 2.0, false}},
    Row{"rotating_mass_factor", Dimension::ratio, {1.0, 2.0, false}},
    Row{"mean_efficiency", Dimension::ratio, efficiency},
    Row{"gear_efficiency", Dimension::ratio, efficiency},
    Row{"recuperation_efficiency", Dimension::ratio, share},
    Row{"recuperation_share", Dimension::ratio, share},
    Row{"load_independent_share", Dimension::ratio, share},
    Row{"wetted_factor", Dimension::ratio, share},
    Row{"blocked_at_standstill", Dimension::ratio, share},
    Row{"carter_factor", Dimension::ratio, {1.0, 10.0, false}},
    Row{"estimate", Dimension::ratio, up_to(10.0)},
    Row{"share_of_step", Dimension::ratio, {0.0, 10.0, false}},
    Row{"quality", Dimension::ratio, positive},
    Row{"poisson", Dimension::ratio, {0.0, 0.5, false}},
    Row{"fallen_threshold", Dimension::ratio, efficiency},
    Row{"fatigue_slope", Dimension::ratio, up_to(10.0)},
    Row{"erosion_slope", Dimension::ratio, up_to(10.0)},
    Row{"edge_width", Dimension::ratio, positive},
    Row{"film_factor", Dimension::ratio, up_to(10.0)},
    Row{"capacitance_factor", Dimension::ratio, {1.0, 100.0, false}},
    Row{"line_capacitance_factor", Dimension::ratio, {1.0, 100.0, false}},
    Row{"permittivity", Dimension::ratio, {1.0, 1000.0, false}},
    Row{"relative_permittivity", Dimension::ratio, {1.0, 1000.0, false}},
    Row{"viscosity_constant", Dimension::ratio, {0.0, 1.0, false}},
    Row{"friction", Dimension::ratio, up_to(5.0)},
    Row{"boundary_friction", Dimension::ratio, up_to(5.0)},
    Row{"film_coefficient", Dimension::ratio, not_negative},
    Row{"load_share_exponent", Dimension::ratio, positive},
    Row{"transition_duty", Dimension::ratio, positive},
    Row{"count_exponent", Dimension::ratio, share},
    Row{"film_exponent", Dimension::ratio, share},
    Row{"end_of_service_factor", Dimension::ratio, positive},
    Row{"torque_exponent", Dimension::ratio, {-3.0, 3.0, false}},
    Row{"rolling_elements", Dimension::ratio, {3.0, 1000.0, false}},
    Row{"conformity", Dimension::ratio, {0.5, 1.0, true}},
    Row{"coefficient", Dimension::ratio, positive},
    Row{"pressure_angle_deg", Dimension::ratio, up_to(44.0)},
    Row{"helix_angle_deg", Dimension::ratio, {-44.0, 44.0, false}},
    Row{"oil_factor", Dimension::ratio, up_to(10.0)},
    Row{"axial_factor", Dimension::ratio, up_to(100.0)},
    Row{"flange_factor", Dimension::ratio, {0.0, 1.0, false}},
    Row{"per_decade", Dimension::ratio, share},
    Row{"stretch", Dimension::ratio, efficiency},
    Row{"packing", Dimension::ratio, efficiency},
    Row{"share_in_contact", Dimension::ratio, efficiency},
    Row{"lean_deg", Dimension::ratio, up_to(90.0)},
    Row{"residual_oil", Dimension::ratio, {1.0, infinity, false}},
    Row{"dynamic_stiffening", Dimension::ratio, {1.0, 10.0, false}},
    Row{"spring_share", Dimension::ratio, share},
    Row{"spring_set", Dimension::ratio, share},
    Row{"air_angle_deg", Dimension::ratio, up_to(89.0)},
    Row{"oil_angle_deg", Dimension::ratio, up_to(89.0)},
    Row{"years", Dimension::ratio, up_to(1000.0)},
    Row{"share_of_parts", Dimension::ratio, {0.0, 1.0, true}},
    Row{"reliability", Dimension::ratio, {0.9, 0.9995, false}},
    Row{"factor", Dimension::ratio, up_to(10.0)},
    Row{"confidence", Dimension::ratio, share},
    Row{"power", Dimension::ratio, {0.0, 100.0, false}},
    // signed by convention: coast torque, falling road-load coefficient, heat drawn off
    Row{"torque", Dimension::torque, any},
    Row{"f0", Dimension::force, any},
    Row{"f1", Dimension::road_load_linear, any},
    Row{"f2", Dimension::road_load_quadratic, any},
    Row{"a", Dimension::force, any},
    Row{"b", Dimension::road_load_linear, any},
    Row{"c", Dimension::road_load_quadratic, any},
    Row{"other_heat", Dimension::power, any},
    Row{"temperature_coefficient", Dimension::per_temperature, any},
    Row{"free_rise", Dimension::temperature_difference, positive},
    Row{"activation_temperature", Dimension::temperature_difference, not_negative},
    // may be nothing
    Row{"wear_rate", Dimension::wear_rate, not_negative},
    Row{"auxiliary_power", Dimension::power, not_negative},
    Row{"radial", Dimension::force, not_negative},
    Row{"axial", Dimension::force, not_negative},
    Row{"pulse_credit", Dimension::time, not_negative},
    Row{"road_speed", Dimension::speed, {0.0, 200.0, false}},
    Row{"film", Dimension::resistance, not_negative},
    Row{"bulk", Dimension::resistance, not_negative},
    Row{"loop_resistance", Dimension::resistance, not_negative},
    Row{"inductance", Dimension::inductance, not_negative},
    Row{"pressure_viscosity", Dimension::per_pressure, positive},
    Row{"winding_rotor", Dimension::capacitance, positive},
    Row{"unloaded_ball", Dimension::capacitance, not_negative},
    Row{"rings", Dimension::capacitance, not_negative},
};

PhysicalRange by_dimension(Dimension dimension) {
  switch (dimension) {
    case Dimension::temperature:
      return {0.0, 3000.0, true};  // the hot end is the melting of any machine part
    case Dimension::temperature_difference:
      return any;
    case Dimension::rotational_speed:
      return {-5e4, 5e4, false};  // about 480 000 1/min either way
    case Dimension::ratio:
    case Dimension::power:
      return not_negative;
    default:
      return positive;
  }
}

}  // namespace

bool PhysicalRange::admits(double si_value) const {
  return std::isfinite(si_value) && si_value <= high &&
         (low_excluded ? si_value > low : si_value >= low);
}

std::string PhysicalRange::in_words(Dimension dimension) const {
  const auto end = [dimension](double value) { return print_quantity(value, dimension); };
  if (std::isfinite(low) && std::isfinite(high))
    return low_excluded ? fmt::format("{} (excluded) to {}", end(low), end(high))
                        : fmt::format("{} to {}", end(low), end(high));
  if (std::isfinite(low))
    return fmt::format("{} {}", low_excluded ? "above" : "at least", end(low));
  return fmt::format("at most {}", end(high));
}

PhysicalRange physical_range(std::string_view key, Dimension dimension) {
  const std::string_view last = key.substr(key.rfind('.') + 1);
  for (const Row& row : rows)
    if (row.name == last && row.dimension == dimension) return row.range;
  return by_dimension(dimension);
}

}  // namespace ohmdrag::input
