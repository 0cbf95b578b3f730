#include <algorithm>
#include <array>
#include <numbers>
#include <stdexcept>
#include <utility>

#include "ohmdrag/quantity/dimension.hpp"

namespace ohmdrag {
namespace {

// Exact by definition: inch, mile, pound (international yard and pound, 1959) and the standard
// acceleration of free fall in the pound-force; see NIST SP 811 (2008), appendix B.
constexpr double inch = 0.0254;
constexpr double mile = 1609.344;
constexpr double pound = 0.45359237;
constexpr double pound_force = pound * 9.80665;
constexpr double hour = 3600.0;
constexpr double day = 24.0 * hour;
constexpr double year = 365.0 * day;  // 8760 h, the year of running-hour bookkeeping
constexpr double kmh = 1.0 / 3.6;
constexpr double mph = mile / hour;
constexpr double rpm = std::numbers::pi / 30.0;
constexpr double fahrenheit = 5.0 / 9.0;

/// A unit that results are printed in, from this size (SI) up.
constexpr UnitSpelling shown(std::string_view text, double factor, double from = 0.0,
                             double offset = 0.0) {
  return {text, factor, offset, from};
}

constexpr std::array ratio{shown("1", 1), UnitSpelling{"%", 0.01}};
constexpr std::array length{shown("m", 1, 1),         shown("mm", 1e-3, 1e-4),
                            shown("um", 1e-6, 1e-8),  shown("nm", 1e-9),
                            UnitSpelling{"cm", 0.01}, shown("km", 1e3, 1e3),
                            UnitSpelling{"in", inch}, UnitSpelling{"mi", mile}};
constexpr std::array area{shown("m^2", 1, 0.01), shown("mm^2", 1e-6), UnitSpelling{"cm^2", 1e-4},
                          UnitSpelling{"um^2", 1e-12}};
constexpr std::array time{shown("s", 1, 1),       shown("ms", 1e-3, 1e-3), shown("us", 1e-6, 1e-6),
                          shown("ns", 1e-9),      UnitSpelling{"min", 60}, shown("h", hour, hour),
                          UnitSpelling{"d", day}, UnitSpelling{"a", year}};
constexpr std::array frequency{shown("Hz", 1), shown("kHz", 1e3, 1e3), shown("MHz", 1e6, 1e6),
                               shown("GHz", 1e9, 1e9), UnitSpelling{"1/s", 1}};
// 1/s beside rpm counts turns, as 1/min does: ISO 80000-3, rotational frequency.
constexpr std::array rotational_speed{UnitSpelling{"rad/s", 1}, shown("rpm", rpm),
                                      UnitSpelling{"1/s", 60 * rpm}};
constexpr std::array speed{shown("m/s", 1), UnitSpelling{"km/h", kmh}, UnitSpelling{"mph", mph}};
constexpr std::array mass{shown("kg", 1, 1), shown("g", 1e-3), UnitSpelling{"t", 1e3},
                          UnitSpelling{"lb", pound}};
constexpr std::array density{shown("kg/m^3", 1), UnitSpelling{"g/cm^3", 1e3}};
constexpr std::array force{shown("N", 1, 0.1), shown("kN", 1e3, 1e4), shown("mN", 1e-3),
                           UnitSpelling{"lbf", pound_force}};
constexpr std::array torque{shown("N*m", 1, 0.1), shown("mN*m", 1e-3), UnitSpelling{"N*mm", 1e-3},
                            shown("kN*m", 1e3, 1e4)};
constexpr std::array energy{shown("J", 1, 1),
                            shown("kJ", 1e3, 1e3),
                            UnitSpelling{"MJ", 1e6},
                            UnitSpelling{"Wh", hour},
                            shown("kWh", 1e3 * hour, 1e3 * hour),
                            shown("mJ", 1e-3, 1e-3),
                            shown("uJ", 1e-6, 1e-6),
                            shown("nJ", 1e-9)};
constexpr std::array power{shown("W", 1, 0.1), shown("kW", 1e3, 1e3), shown("mW", 1e-3),
                           shown("MW", 1e6, 1e6)};
constexpr std::array pressure{shown("Pa", 1),           shown("kPa", 1e3, 1e3),
                              shown("MPa", 1e6, 1e6),   shown("GPa", 1e9, 1e9),
                              UnitSpelling{"bar", 1e5}, UnitSpelling{"mbar", 100}};
constexpr std::array line_force{shown("N/m", 1), shown("N/mm", 1e3, 10), UnitSpelling{"N/cm", 100}};
constexpr std::array dynamic_viscosity{shown("Pa*s", 1, 1), shown("mPa*s", 1e-3),
                                       UnitSpelling{"cP", 1e-3}};
constexpr std::array kinematic_viscosity{UnitSpelling{"m^2/s", 1}, shown("mm^2/s", 1e-6),
                                         UnitSpelling{"cSt", 1e-6}};
constexpr std::array energy_per_distance{UnitSpelling{"J/m", 1}, shown("Wh/km", 3.6),
                                         UnitSpelling{"kWh/100km", 36}};
constexpr std::array road_load_linear{UnitSpelling{"N/(m/s)", 1}, shown("N/(km/h)", 3.6),
                                      UnitSpelling{"lbf/mph", pound_force / mph}};
constexpr std::array road_load_quadratic{UnitSpelling{"N/(m/s)^2", 1},
                                         shown("N/(km/h)^2", 3.6 * 3.6),
                                         UnitSpelling{"lbf/mph^2", pound_force / (mph * mph)}};
constexpr std::array temperature{
    UnitSpelling{"K", 1}, shown("degC", 1, 0, kelvin_at_zero_celsius),
    UnitSpelling{"degF", fahrenheit, kelvin_at_zero_celsius - 32 * fahrenheit}};
constexpr std::array temperature_difference{shown("K", 1)};
constexpr std::array thermal_conductivity{shown("W/(m*K)", 1)};
constexpr std::array thermal_conductance{shown("W/K", 1)};
constexpr std::array thermal_resistance{shown("K/W", 1)};
constexpr std::array heat_transfer_coefficient{shown("W/(m^2*K)", 1)};
constexpr std::array heat_capacity{shown("J/K", 1), shown("kJ/K", 1e3, 1e3)};
constexpr std::array specific_heat{shown("J/(kg*K)", 1), UnitSpelling{"kJ/(kg*K)", 1e3}};
constexpr std::array voltage{shown("V", 1, 0.1), shown("kV", 1e3, 1e4), shown("mV", 1e-3)};
constexpr std::array current{shown("A", 1, 0.1), shown("mA", 1e-3)};
constexpr std::array resistance{shown("ohm", 1, 0.1), shown("mohm", 1e-3), shown("kohm", 1e3, 1e3),
                                shown("Mohm", 1e6, 1e6)};
constexpr std::array inductance{shown("H", 1, 1), shown("uH", 1e-6, 1e-6), shown("nH", 1e-9),
                                shown("mH", 1e-3, 1e-3)};
constexpr std::array capacitance{shown("F", 1, 1), shown("pF", 1e-12), shown("nF", 1e-9, 1e-9),
                                 shown("uF", 1e-6, 1e-6)};
constexpr std::array electric_field{shown("V/m", 1), shown("V/um", 1e6, 1e4),
                                    UnitSpelling{"kV/mm", 1e6}};
constexpr std::array resistivity{shown("ohm*m", 1)};
constexpr std::array current_density{UnitSpelling{"A/m^2", 1}, shown("A/mm^2", 1e6)};
constexpr std::array energy_per_area{UnitSpelling{"J/m^2", 1}, shown("J/mm^2", 1e6)};
constexpr std::array wear_rate{UnitSpelling{"m^2/N", 1}, shown("mm^3/(N*m)", 1e-9)};
constexpr std::array per_pressure{UnitSpelling{"1/Pa", 1}, shown("1/GPa", 1e-9)};
constexpr std::array per_temperature{shown("1/K", 1), UnitSpelling{"%/K", 0.01}};
constexpr std::array moment_of_inertia{shown("kg*m^2", 1)};
constexpr std::array pressure_speed{UnitSpelling{"Pa*m/s", 1}, shown("MPa*m/s", 1e6)};

constexpr std::array table{
    DimensionRow{Dimension::ratio, "ratio", "a ratio", ratio},
    DimensionRow{Dimension::length, "length", "a length", length},
    DimensionRow{Dimension::area, "area", "an area", area},
    DimensionRow{Dimension::time, "time", "a time", time},
    DimensionRow{Dimension::frequency, "frequency", "a frequency", frequency},
    DimensionRow{Dimension::rotational_speed, "rotational speed", "a rotational speed",
                 rotational_speed},
    DimensionRow{Dimension::speed, "speed", "a speed", speed},
    DimensionRow{Dimension::mass, "mass", "a mass", mass},
    DimensionRow{Dimension::density, "density", "a density", density},
    DimensionRow{Dimension::force, "force", "a force", force},
    DimensionRow{Dimension::torque, "torque", "a torque", torque},
    DimensionRow{Dimension::energy, "energy", "an energy", energy},
    DimensionRow{Dimension::power, "power", "a power", power},
    DimensionRow{Dimension::pressure, "pressure", "a pressure", pressure},
    DimensionRow{Dimension::line_force, "force per length", "a force per length", line_force},
    DimensionRow{Dimension::dynamic_viscosity, "dynamic viscosity", "a dynamic viscosity",
                 dynamic_viscosity},
    DimensionRow{Dimension::kinematic_viscosity, "kinematic viscosity", "a kinematic viscosity",
                 kinematic_viscosity},
    DimensionRow{Dimension::energy_per_distance, "energy per distance", "an energy per distance",
                 energy_per_distance},
    DimensionRow{Dimension::road_load_linear, "force per speed", "a force per speed",
                 road_load_linear},
    DimensionRow{Dimension::road_load_quadratic, "force per speed squared",
                 "a force per speed squared", road_load_quadratic},
    DimensionRow{Dimension::temperature, "temperature", "a temperature", temperature},
    DimensionRow{Dimension::temperature_difference, "temperature difference",
                 "a temperature difference", temperature_difference},
    DimensionRow{Dimension::thermal_conductivity, "thermal conductivity", "a thermal conductivity",
                 thermal_conductivity},
    DimensionRow{Dimension::thermal_conductance, "thermal conductance", "a thermal conductance",
                 thermal_conductance},
    DimensionRow{Dimension::thermal_resistance, "thermal resistance", "a thermal resistance",
                 thermal_resistance},
    DimensionRow{Dimension::heat_transfer_coefficient, "heat transfer coefficient",
                 "a heat transfer coefficient", heat_transfer_coefficient},
    DimensionRow{Dimension::heat_capacity, "heat capacity", "a heat capacity", heat_capacity},
    DimensionRow{Dimension::specific_heat, "specific heat capacity", "a specific heat capacity",
                 specific_heat},
    DimensionRow{Dimension::voltage, "voltage", "a voltage", voltage},
    DimensionRow{Dimension::current, "current", "a current", current},
    DimensionRow{Dimension::resistance, "resistance", "a resistance", resistance},
    DimensionRow{Dimension::inductance, "inductance", "an inductance", inductance},
    DimensionRow{Dimension::capacitance, "capacitance", "a capacitance", capacitance},
    DimensionRow{Dimension::electric_field, "electric field strength", "an electric field strength",
                 electric_field},
    DimensionRow{Dimension::resistivity, "resistivity", "a resistivity", resistivity},
    DimensionRow{Dimension::current_density, "current density", "a current density",
                 current_density},
    DimensionRow{Dimension::energy_per_area, "energy per area", "an energy per area",
                 energy_per_area},
    DimensionRow{Dimension::wear_rate, "wear rate", "a wear rate", wear_rate},
    DimensionRow{Dimension::per_pressure, "pressure coefficient", "a pressure coefficient",
                 per_pressure},
    DimensionRow{Dimension::per_temperature, "temperature coefficient", "a temperature coefficient",
                 per_temperature},
    DimensionRow{Dimension::moment_of_inertia, "moment of inertia", "a moment of inertia",
                 moment_of_inertia},
    DimensionRow{Dimension::pressure_speed, "pressure times speed", "a pressure times speed",
                 pressure_speed},
};

constexpr bool rows_stand_in_the_order_of_the_enumerators() {
  for (std::size_t i = 0; i < table.size(); ++i)
    if (static_cast<std::size_t>(table[i].dimension) != i) return false;
  return table.size() == static_cast<std::size_t>(Dimension::pressure_speed) + 1;
}
static_assert(rows_stand_in_the_order_of_the_enumerators());

using Replacement = std::pair<std::string_view, std::string_view>;

// Signs beyond ASCII, by their UTF-8 bytes.
constexpr std::array signs{
    Replacement{"\u00b5", "u"},    // micro sign
    Replacement{"\u03bc", "u"},    // Greek mu
    Replacement{"\u2126", "ohm"},  // ohm sign
    Replacement{"\u03a9", "ohm"},  // Greek Omega
    Replacement{"\u2103", "degC"}, Replacement{"\u2109", "degF"}, Replacement{"\u00b0", "deg"},
    Replacement{"\u00b7", "*"},    Replacement{"\u22c5", "*"},    Replacement{"\u2219", "*"},
    Replacement{"\u00d7", "*"},    Replacement{"\u00b9", "1"},    Replacement{"\u00b2", "2"},
    Replacement{"\u00b3", "3"},    Replacement{"\u207b", "-"},    Replacement{"\u2212", "-"},
    Replacement{"\u00a0", " "},  // no-break space
    Replacement{"\u2009", " "},  // thin space
    Replacement{"\u202f", " "},  // narrow no-break space
    Replacement{"\t", " "},
};

// Words that stand for a spelling of the table.
constexpr std::array words{
    Replacement{"Ohm", "ohm"},   Replacement{"mOhm", "mohm"}, Replacement{"kOhm", "kohm"},
    Replacement{"MOhm", "Mohm"}, Replacement{"Nm", "N*m"},    Replacement{"mNm", "mN*m"},
    Replacement{"Nmm", "N*mm"},  Replacement{"kNm", "kN*m"},
};

// Whole spellings.
constexpr std::array wholes{
    Replacement{"1/min", "rpm"},   Replacement{"min^-1", "rpm"},   Replacement{"r/min", "rpm"},
    Replacement{"rev/min", "rpm"}, Replacement{"s^-1", "1/s"},     Replacement{"K^-1", "1/K"},
    Replacement{"Pa^-1", "1/Pa"},  Replacement{"GPa^-1", "1/GPa"},
};

template <std::size_t n>
std::string_view replaced(std::string_view text, const std::array<Replacement, n>& list) {
  const auto hit = std::ranges::find(list, text, &Replacement::first);
  return hit == list.end() ? text : hit->second;
}

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_operator(char c) { return c == '*' || c == '/' || c == '^' || c == '(' || c == ')'; }

std::string in_ascii(std::string_view typed) {
  std::string out;
  while (!typed.empty()) {
    const auto sign = std::ranges::find_if(
        signs, [&](const Replacement& s) { return typed.starts_with(s.first); });
    if (sign == signs.end()) {
      out += typed.front();
      typed.remove_prefix(1);
    } else {
      out += sign->second;
      typed.remove_prefix(sign->first.size());
    }
  }
  return out;
}

/// Blanks at the ends, at operators, in "deg C" and in "100 km" mean nothing; between two units
/// they multiply.
std::string without_blanks(std::string_view text) {
  std::string out;
  bool blank = false;
  for (const char c : text) {
    if (c == ' ') {
      blank = true;
      continue;
    }
    const bool meaningless = out.empty() || is_operator(out.back()) || is_operator(c) ||
                             is_digit(out.back()) || out.ends_with("deg");
    if (blank && !meaningless) out += '*';
    blank = false;
    out += c;
  }
  return out;
}

/// m2 -> m^2, min-1 -> min^-1, m^2K -> m^2*K.
std::string with_written_powers(std::string_view text) {
  std::string out;
  bool in_power = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    const char before = i == 0 ? ' ' : text[i - 1];
    const bool after_unit = is_letter(before) || before == ')';
    const bool minus_power = c == '-' && i + 1 < text.size() && is_digit(text[i + 1]);
    if (after_unit && (is_digit(c) || minus_power)) {
      out += '^';
      in_power = true;
    } else if (c == '^') {
      in_power = true;
    } else if (in_power && is_letter(c)) {
      out += '*';
      in_power = false;
    } else if (!is_digit(c) && c != '-') {
      in_power = false;
    }
    out += c;
  }
  return out;
}

std::string with_known_words(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    const auto end = std::ranges::find_if_not(text, is_letter);
    const std::string_view word(text.begin(), end);
    out += replaced(word, words);
    text.remove_prefix(word.size());
    if (text.empty()) break;
    out += text.front();
    text.remove_prefix(1);
  }
  return out;
}

const UnitSpelling* spelling_in(const DimensionRow& row, std::string_view canonical) {
  const auto hit = std::ranges::find(row.units, canonical, &UnitSpelling::text);
  return hit == row.units.end() ? nullptr : &*hit;
}

}  // namespace

std::span<const DimensionRow> dimension_table() { return table; }

const DimensionRow& row_of(Dimension dimension) {
  return table.at(static_cast<std::size_t>(dimension));
}

std::string canonical_unit(std::string_view typed) {
  const std::string text = with_known_words(with_written_powers(without_blanks(in_ascii(typed))));
  return std::string(replaced(text, wholes));
}

const UnitSpelling* find_unit(Dimension dimension, std::string_view typed) {
  return spelling_in(row_of(dimension), canonical_unit(typed));
}

std::vector<Dimension> dimensions_of_unit(std::string_view typed) {
  const std::string canonical = canonical_unit(typed);
  std::vector<Dimension> found;
  for (const DimensionRow& row : table)
    if (spelling_in(row, canonical)) found.push_back(row.dimension);
  return found;
}

}  // namespace ohmdrag
