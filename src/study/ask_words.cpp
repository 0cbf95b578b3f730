#include "study/ask_words.hpp"

#include <algorithm>
#include <array>

namespace ohmdrag::study {
namespace {

struct Row {
  std::string_view begin, end;  ///< of the key
  AskWords words;
};

constexpr std::string_view machine_supplier =
    "machine supplier; or an LCR meter on the machine, switched off, discharged and secured by a "
    "qualified person";
constexpr std::string_view element_supplier = "drawing or data sheet of the element's supplier";
constexpr std::string_view bearing_supplier = "bearing supplier: drawing or data sheet";
constexpr std::string_view oil_supplier = "data sheet of the oil's supplier";
constexpr std::string_view inverter_supplier =
    "inverter supplier; or a record of the common-mode voltage at the machine's terminals";
constexpr std::string_view force_run = "a force run on the rig (ohmdrag new force-run)";
constexpr std::string_view friction_run = "a friction run on the rig (ohmdrag new friction-run)";
constexpr std::string_view impedance_run =
    "an impedance run on the rig (ohmdrag new impedance-run)";
constexpr std::string_view endurance_run =
    "an endurance run on the rig (ohmdrag new endurance-run)";
constexpr std::string_view voltage_run =
    "a shaft-voltage run on the rig (ohmdrag new shaft-voltage-run)";
constexpr std::string_view warm_up_run =
    "a warm-up run of the unit (ohmdrag new warm-up-run), or its thermal model";

/// The first that fits holds.
constexpr std::array rows{
    Row{"coupling.",
        "winding_rotor",
        {"the capacitance between winding and rotor", machine_supplier}},
    Row{"coupling.", "rotor_frame", {"the capacitance between rotor and frame", machine_supplier}},
    Row{"machine", "", {"this capacitance or power of the machine", machine_supplier}},
    Row{"discharge.",
        "roughness",
        {"the combined roughness of rolling elements and race",
         "bearing supplier; or a profile of ring and rolling elements"}},
    Row{"discharge.",
        "breakdown_field",
        {"the electric field at which the oil film breaks down", voltage_run}},
    Row{"discharge.", "fixed_threshold", {"the voltage at which discharges begin", voltage_run}},
    Row{"discharge.",
        "fallen_threshold",
        {"how far the threshold falls after a first discharge", voltage_run}},
    Row{"discharge.",
        "pulse_credit",
        {"how long a pulse must last to break a film down", voltage_run}},
    Row{"discharge.",
        "loop_inductance",
        {"the inductance of the loop through which a film discharges", voltage_run}},
    Row{"discharge.",
        "loop_resistance",
        {"the resistance of the loop through which a film discharges", voltage_run}},
    Row{"discharge.",
        "film_factor",
        {"how much of the computed film thickness is there",
         "bearing supplier; or the capacitance of the turning bearing, measured over speed"}},
    Row{"discharge.",
        "capacitance_factor",
        {"the capacitance of a bearing over that of its flattened contacts",
         "the capacitance of the turning bearing, measured over speed"}},
    Row{"discharge.", "", {"this constant of the bearing's discharges", voltage_run}},
    Row{"contact.", "friction", {"the dry friction of this contact", friction_run}},
    Row{"contact.", "film_coefficient", {"the film friction of this lip", friction_run}},
    Row{"contact.", "boundary_friction", {"the friction of this lip without a film", friction_run}},
    Row{"contact.",
        "transition_duty",
        {"at which duty this lip leaves its boundary friction", friction_run}},
    Row{"contact.",
        "load_share_exponent",
        {"how steeply this lip leaves its boundary friction", friction_run}},
    Row{"contact.",
        "end_of_service_factor",
        {"by how much the resistance of this contact has grown at the end of its service",
         endurance_run}},
    Row{"contact.", "resistance.bulk", {"the resistance of the fibres themselves", impedance_run}},
    Row{"contact.",
        "resistance.film",
        {"the resistance of the touching spots and their film", impedance_run}},
    Row{"contact.",
        "count_exponent",
        {"how the number of touching fibres follows the force", impedance_run}},
    Row{"contact.",
        "film_exponent",
        {"how the resistance of the spots follows the force", impedance_run}},
    Row{"contact.",
        "temperature_coefficient",
        {"how the resistance of this contact follows its temperature", impedance_run}},
    Row{"contact.",
        "speed_scale",
        {"how the resistance of this contact follows the speed", impedance_run}},
    Row{"contact.",
        "speed_exponent",
        {"how the resistance of this contact follows the speed", impedance_run}},
    Row{"contact.", "line_force", {"the radial force of this contact per length", force_run}},
    Row{"contact.", ".force", {"the radial force of this contact", force_run}},
    Row{"variant.", "line_force", {"the radial force of this contact per length", force_run}},
    Row{"variant.", "total_radial_force", {"the whole radial force of this contact", force_run}},
    Row{"variant.", "split_shaft_reading", {"the reading of the split shaft", force_run}},
    Row{"variant.", "resistance", {"the resistance of this contact", impedance_run}},
    Row{"variant.",
        "position",
        {"the place of this part on the shaft", "assembly drawing of the unit"}},
    Row{"variant.", "", {"this value of the part", element_supplier}},
    Row{"contact.", "wear_length", {"how far this contact may wear", element_supplier}},
    Row{"contact.", "deflection", {"how far this contact is deflected when new", element_supplier}},
    Row{"contact.", "contact_width", {"the width of the contact", element_supplier}},
    Row{"contact.", "", {"this value of the element", element_supplier}},
    Row{"wear.", "wear_rate", {"the wear rate of this pair", endurance_run}},
    Row{"relaxation.",
        "",
        {"how the force of this material falls over time",
         "supplier of the seal: stress relaxation of the compound in this oil"}},
    Row{"lip_form.", "", {"this dimension or share of the lip", element_supplier}},
    Row{"modulus_over_temperature.",
        "",
        {"the modulus of the material over temperature", "supplier of the material"}},
    Row{"lubricant.", "viscosity_40", {"the viscosity of the oil at 40 °C", oil_supplier}},
    Row{"lubricant.", "viscosity_100", {"the viscosity of the oil at 100 °C", oil_supplier}},
    Row{"lubricant.",
        "pressure_viscosity",
        {"the pressure–viscosity coefficient of the oil", oil_supplier}},
    Row{"lubricant.", "permittivity", {"the relative permittivity of the oil", oil_supplier}},
    Row{"lubricant.", "density_15", {"the density of the oil at 15 °C", oil_supplier}},
    Row{"lubricant.", "", {"this property of the oil", oil_supplier}},
    Row{"oil_cleanliness.",
        "",
        {"how clean the oil stays", "particle count of oil from service (ISO 4406 code)"}},
    Row{"cleanliness.",
        "",
        {"how clean the oil stays", "particle count of oil from service (ISO 4406 code)"}},
    Row{"bearing_type.",
        "clearance",
        {"the operating clearance of the bearing", "bearing supplier, with the fits of the seats"}},
    Row{"bearing_type.",
        "torque_factor",
        {"the viscous friction factor of the bearing", bearing_supplier}},
    Row{"bearing_type.", "", {"this value of the bearing", bearing_supplier}},
    Row{"bearing.", "", {"this load or value of the bearing", "load calculation of the unit"}},
    Row{"steel.", "", {"this property of the shaft's steel", "certificate of the material"}},
    Row{"inverter.", "", {"this value of the inverter", inverter_supplier}},
    Row{"operating_point.",
        "oil_temperature",
        {"the oil temperature at this operating point", warm_up_run}},
    Row{"operating_point.", "", {"this value of the operating point", "the customer"}},
    Row{"duty.", "temperature", {"the oil temperature of this duty", warm_up_run}},
    Row{"duty.", "", {"this value of the duty", "the customer; a record of the use"}},
    Row{"sump.", "", {"this value of the oil sump", warm_up_run}},
    Row{"shaft.",
        "dry_side_temperature",
        {"the temperature on the dry side of the seal", warm_up_run}},
    Row{"shaft", "", {"this dimension or value of the shaft", "shaft drawing"}},
    Row{"vehicle", "", {"this value of the vehicle", "vehicle maker"}},
    Row{"service.", "", {"how long and how far the unit serves", "the customer"}},
    Row{"gear", "", {"this value of the gear", "gear drawing"}},
};

constexpr AskWords anything{"this value", "whoever stated it; a measurement or a drawing decides"};

}  // namespace

AskWords ask_words(std::string_view key) {
  const auto found = std::ranges::find_if(
      rows, [&](const Row& row) { return key.starts_with(row.begin) && key.ends_with(row.end); });
  return found == rows.end() ? anything : found->words;
}

bool is_decision(std::string_view key) {
  constexpr std::array decided{std::string_view("requirement."), std::string_view("allocation."),
                               std::string_view("target."),      std::string_view("split."),
                               std::string_view("price"),        std::string_view("damage.")};
  return std::ranges::any_of(decided,
                             [&](std::string_view begin) { return key.starts_with(begin); });
}

}  // namespace ohmdrag::study
