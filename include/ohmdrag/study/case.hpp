#pragma once

#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "ohmdrag/duty/cycle.hpp"
#include "ohmdrag/duty/trip_log.hpp"
#include "ohmdrag/study/elements.hpp"
#include "ohmdrag/voltage/common_mode.hpp"
#include "ohmdrag/voltage/measured_path.hpp"
#include "ohmdrag/voltage/measured_waveform.hpp"

/// One question, complete: what the input room hands over and what a test may build by hand.
namespace ohmdrag::study {

/// Where the case came from; goes into the report.
struct Provenance {
  std::string file;
  std::string sha256;
  struct Include {
    std::string file;
    std::string sha256;
  };
  std::vector<Include> includes;
  std::vector<std::string> changes;  ///< each --set, as typed
};

struct Service {
  std::optional<Uncertain<Length>> distance;
  std::optional<Uncertain<double>> years;
  std::optional<Uncertain<Time>> hours;  ///< running; for cases without duties
  std::map<std::string, double> mix;     ///< duty id -> share of service; sums to 1
  double reliability = 0.9;              ///< survival that the modified rating life is stated for
};

struct Vehicle {
  Uncertain<Mass> test_mass;
  Uncertain<double> rotating_mass_factor;
  Uncertain<Force> f0;
  Uncertain<RoadLoadLinear> f1;
  Uncertain<RoadLoadQuadratic> f2;
  /// Road load of a vehicle without a coast-down.
  struct ByMass {
    Uncertain<double> rolling;
    Uncertain<Area> drag_area;
    Uncertain<Density> air_density;
  };
  std::optional<ByMass> by_mass;  ///< in place of f0, f1 and f2
  std::string tyre;
  Length rolling_circumference;  ///< of the tyre code
  std::optional<Uncertain<Energy>> usable_battery;
  std::optional<Uncertain<Power>> auxiliary_power;
  Uncertain<double> mean_efficiency;
  Uncertain<double> load_independent_share;
  Uncertain<double> recuperation_efficiency;
  Uncertain<double> recuperation_share;  ///< of the braking, the rest goes to the pads
  Uncertain<double> gear_efficiency;     ///< between wheel-side shafts and the rotor
};

struct Sump {
  Lubricant lubricant;
  Uncertain<HeatCapacity> heat_capacity;
  Uncertain<ThermalConductance> conductance;
  Uncertain<Temperature> ambient;
  Uncertain<Power> other_heat;
  /// What the air stream of the moving vehicle adds to the conductance.
  struct AirStream {
    Uncertain<ThermalConductance> added;
    Uncertain<Speed> at;
    Uncertain<double> exponent;
  };
  std::optional<AirStream> air;
  std::optional<OilCleanliness> cleanliness;  ///< none: no modified rating life
};

struct Shaft {
  std::string id;
  Uncertain<double> ratio;  ///< shaft turns per wheel turn, in the first gear; 1 without a vehicle
  /// A further gear of a box that shifts by road speed.
  struct Gear {
    Uncertain<double> ratio;
    Uncertain<Speed> shift_up;  ///< from the gear below
    Speed hysteresis;           ///< the shift down lies this far below
  };
  std::vector<Gear> higher_gears;
  Uncertain<Length> diameter;
  std::optional<Uncertain<Length>> bore;  ///< of a hollow shaft
  std::string fit;
  std::optional<Uncertain<Length>> deviation;  ///< of the diameter, within the fit
  std::optional<Uncertain<Length>> run_out;
  Uncertain<ThermalConductivity> conductivity;
  Uncertain<Density> density;
  Uncertain<SpecificHeat> specific_heat;
  std::optional<Uncertain<Length>> oil_side_length;  ///< seal to the isothermal end; none: infinite
  std::optional<Uncertain<Length>> dry_side_length;  ///< seal to the free end; none: infinite
  std::optional<Uncertain<Temperature>> dry_side_temperature;  ///< none: ambient, flagged
  Uncertain<double> wetted_factor;  ///< oil convection: 1 flooded, 0.3 splash
  /// Shaft over fluid, for free convection alone: it goes with the fourth root of the rise, and the
  /// true one would make the heat network non-linear.
  Uncertain<TemperatureDifference> free_rise;
};

struct Inverter {
  Uncertain<Voltage> dc_link;
  Uncertain<Frequency> switching_frequency;
  Uncertain<Time> rise_time;  ///< 0-100 %, linear
  bool rise_time_given_10_90 = true;
  std::optional<Uncertain<Time>> fall_time;  ///< 0-100 %; none: as the rise
  voltage::ModulationKind modulation = voltage::ModulationKind::sine_triangle;
  Uncertain<double> blocked_at_standstill;  ///< share of the time without edges
  std::string shaft;                        ///< the shaft whose speed sets the modulation
  std::vector<AngularVelocity> modulation_at;
  std::vector<double> modulation_index;
  bool modulation_assumed = false;
  struct Ringing {
    Uncertain<Frequency> frequency;
    Uncertain<double> share_of_step;
    Uncertain<double> quality;
  };
  std::optional<Ringing> ringing;
  std::optional<voltage::MeasuredWaveform> waveform;  ///< of the common mode, from a file
};

struct Coupling {
  std::string shaft;
  Uncertain<Capacitance> winding_rotor;
  Uncertain<Capacitance> rotor_frame;
  std::string size{};  ///< of data/machines.toml: stands in for what is not stated; empty: none
};

/// Constants of film, threshold and discharge; data/defaults.toml unless the case says otherwise.
struct DischargeConstants {
  Uncertain<ElectricField> breakdown_field;
  Uncertain<Voltage> fixed_threshold;  ///< used only where no film can be computed
  Uncertain<double> fallen_threshold;  ///< factor after a first discharge
  Uncertain<Time> pulse_credit;        ///< t0 of V_th(t); 0 is the conservative answer
  Uncertain<double> edge_width;        ///< 0.7 of the probability per edge
  Uncertain<Length> roughness;         ///< combined, for the film ratio
  Uncertain<double> film_factor;
  Uncertain<double> capacitance_factor;       ///< of balls
  Uncertain<double> line_capacitance_factor;  ///< of rollers and gear teeth
  Uncertain<Capacitance> unloaded_ball;       ///< from ring to ring through one without load
  Uncertain<Capacitance> rings;               ///< of the rings against each other
  Uncertain<Inductance> loop_inductance;
  Uncertain<Resistance> loop_resistance;
  Uncertain<Resistance> metallic_contact;  ///< of a bearing without a film
  Uncertain<double> fatigue_slope;         ///< Weibull slope of the rating life
  Uncertain<double> erosion_slope;         ///< Weibull slope of life under discharges
};

/// An insulating coat on the seat of a ring.
struct Coating {
  Uncertain<Length> coating;  ///< its thickness
  Uncertain<double> relative_permittivity;
  Uncertain<Length> seat_diameter;
  Uncertain<Length> seat_width;
};
/// An insulated ring by its capacitance.
struct StatedInsulation {
  Uncertain<Capacitance> capacitance;
};
/// Ceramic rolling elements between steel rings.
struct CeramicElements {
  Uncertain<Capacitance> capacitance;          ///< of the whole bearing
  Uncertain<Capacitance> element_capacitance;  ///< through one rolling element
};

struct Bearing {
  std::string id;
  std::string shaft;
  BearingType type;
  Uncertain<Pressure> young_modulus;
  Uncertain<double> poisson;
  /// Loads over shaft torque (drive positive), linear between; a single row means constant.
  std::vector<Torque> load_torque;
  std::vector<Uncertain<Force>> radial;
  std::vector<Uncertain<Force>> axial;
  std::optional<Uncertain<Capacitance>> capacitance;  ///< overrides the film's
  std::variant<std::monostate, Coating, StatedInsulation, CeramicElements> insulation;
};

/// A way from a shaft to the frame beside the bearings of the case.
struct PathToFrame {
  std::string id;
  std::string shaft;
  enum class Kind { driven_machine, stated, gear_mesh };
  Kind kind = Kind::stated;
  std::optional<Uncertain<Capacitance>> capacitance;  ///< all but gear meshes
  std::optional<Uncertain<Voltage>> threshold;        ///< all but gear meshes
  std::optional<GearElement> gear;                    ///< gear meshes: of the [[gear]] they name
  std::optional<Uncertain<Length>> roughness;         ///< gear meshes: combined, of run-in flanks
  std::optional<Uncertain<Pressure>> young_modulus;   ///< gear meshes: of both gears
  std::optional<Uncertain<double>> poisson;           ///< gear meshes
  std::optional<Uncertain<Capacitance>> behind;  ///< in series, up to the frame; none: the frame
};

struct OperatingPoint {
  std::string id;
  std::optional<Uncertain<Speed>> road_speed;  ///< exactly one of the two
  std::optional<Uncertain<AngularVelocity>> shaft_speed;
  std::string shaft;  ///< of shaft_speed
  Uncertain<Temperature> oil_temperature;
  std::optional<Uncertain<Torque>> torque;      ///< none: from the road load, or zero
  std::optional<Uncertain<Time>> running_time;  ///< of the contacts since new; none: run in
};

/// contact::RunningIn; data/defaults.toml unless the case says otherwise.
struct RunningIn {
  Uncertain<double> excess;
  Uncertain<Time> time;
};

/// A step of a stepped load profile, or a bin of a histogram.
struct LoadStep {
  std::string id;        ///< names its phase
  Uncertain<Time> time;  ///< of one profile; of a bin its share of an hour
  Uncertain<AngularVelocity> shaft_speed;
  std::optional<Uncertain<Torque>> torque;
  std::optional<Uncertain<Temperature>> oil_temperature;  ///< held here; none: as the duty says
};

/// A measured trip, read when it is needed and not kept: there may be thousands.
struct TripFile {
  std::string id;                    ///< the name of its file
  std::function<duty::Trip()> read;  ///< throws duty::TripError for a log that is refused
};

struct Duty {
  std::string id;
  std::string title;
  std::string family;  ///< the id as written, shared by all its start temperatures
  /// Driving: cycles one after another. Empty for a machine.
  std::vector<duty::Cycle> cycles;
  /// Rest of the warm vehicle before one of the cycles; its auxiliaries rest too.
  struct Soak {
    std::size_t before_cycle = 0;
    Uncertain<Time> time;
  };
  std::vector<Soak> soaks;  ///< in their order
  /// Driving as measured, in place of cycles: each trip begins at the start temperature, unless its
  /// log holds that of the sump. Shaft speed and torque of a log are those of `shaft`.
  std::vector<TripFile> trips;
  /// Machine: a profile that repeats, or bins without memory. Empty for constant running.
  std::vector<LoadStep> load_steps;
  int profile_repeats = 1;  ///< how often the profile runs from one start
  /// Constant running of a machine.
  std::optional<Uncertain<AngularVelocity>> shaft_speed;
  std::string shaft;
  std::optional<Uncertain<Torque>> torque;
  std::optional<Uncertain<Time>> hours_per_year;
  /// Exactly one: warm-up from here, or the oil held at a temperature. None where the load steps
  /// or the logs of the trips hold theirs.
  std::optional<Uncertain<Temperature>> start_temperature;
  std::optional<Uncertain<Temperature>> oil_temperature;

  bool is_driven() const { return !cycles.empty() || !trips.empty(); }
};

enum class Measure {
  impedance_magnitude,
  net_power,
  contact_temperature,
  edge_peak,
  held_voltage,
  striking_time_share,
  dose_factor,
  battery_energy_per_distance,
  mechanical_life,
  modified_life,
};

struct Requirement {
  std::string id;
  Measure measure = Measure::impedance_magnitude;
  std::optional<Uncertain<double>> max;  ///< SI of the measure's dimension
  std::optional<Uncertain<double>> min;
  std::vector<Frequency> band;  ///< impedance: two ends, or one frequency; empty: f_sw and 1 MHz
  std::string point;            ///< operating point or duty id; empty: the worst
  bool end_of_service = false;
  double share_of_parts = 0.95;
  double confidence = 0.0;  ///< 0: not asked for
};

struct Allocation {
  std::string component;  ///< "grounding", "seal", or the id of a bearing, gear or other drag
  std::string point;      ///< its watts there, or
  std::string duty;       ///< its mean watts over the whole duty; exactly one of the two
  Uncertain<Power> max;
  std::string maturity;
};

/// What all components of a variant together may take.
struct Target {
  std::string point;  ///< exactly one of the two, as in Allocation
  std::string duty;
  Uncertain<Power> max;
  double share_of_parts = 0.95;
};

/// How a total is shared out to the components.
enum class SplitBy {
  present,       ///< in proportion to the middle of what each takes
  equal_margin,  ///< every component's high end gets the same relative margin
};

/// A total to be turned into allocations.
struct Split {
  std::string point;  ///< exactly one of the two, as in Allocation
  std::string duty;
  Uncertain<Power> total;
  SplitBy by = SplitBy::present;
};

enum class LawKind { dose, current_density, relative };

struct DamageLaw {
  LawKind kind = LawKind::dose;
  // dose
  std::string observed;
  std::optional<Uncertain<Time>> after;
  std::string in_variant;
  // current_density: data/laws.toml
  Uncertain<double> life_constant_h;
  Uncertain<double> exponent_per_A_mm2;
  Uncertain<double> floor_A_mm2;
  // relative
  std::optional<Uncertain<Time>> baseline_life;
  Uncertain<double> power;
};

struct Prices {
  std::string currency;
  std::optional<double> energy_per_kWh;
  std::optional<double> bearing_event;
  std::map<std::string, double> element;  ///< variant id -> cost of the element
  double charging_efficiency = 1.0;       ///< plug to battery
};

/// The connection from the contact to the housing.
struct Strap {
  Length length, width, thickness;
};
struct Wire {
  Length length, diameter;
};
struct StatedPath {
  Uncertain<Inductance> inductance;
};
struct NoPath {};  ///< "none": contact straight on the housing, inductance zero, warned about

struct Seal {
  Element element;
  std::string shaft;
  Uncertain<Length> position;
  std::optional<Uncertain<LineForce>> line_force;  ///< overrides the element's
  /// Fluid over the lip, oil side over air side; negative if the air side is higher.
  std::optional<Uncertain<Pressure>> over_pressure;
  std::optional<Uncertain<Length>> available_width;  ///< for the installation, along the shaft
  std::optional<Uncertain<Time>> replaced_every;     ///< running hours; none: once for the service
};

struct Grounding {
  Element element;
  std::string shaft;
  Uncertain<Length> position;
  std::optional<Uncertain<LineForce>> line_force;
  std::optional<Uncertain<Force>> total_radial_force;  ///< rings and brushes
  std::optional<Uncertain<Force>> split_shaft_reading;
  std::optional<Uncertain<Length>> interference;    ///< of fibres: the force follows
  std::optional<Uncertain<Resistance>> resistance;  ///< overrides the element's law
  /// An insulating film in series with the contact.
  struct ContactFilm {
    Uncertain<Resistance> resistance;
    Uncertain<Capacitance> capacitance;
  };
  std::optional<ContactFilm> film;
  std::optional<Uncertain<Capacitance>> parallel_capacitance;  ///< from shaft to frame
  /// The impedance of contact and whatever was measured with it, in place of every resistance,
  /// film and capacitance; the path's inductance adds.
  struct MeasuredImpedance {
    voltage::MeasuredPath fit;
    Uncertain<double> factor;  ///< 1 with the spread of the measurement, on the whole impedance
  };
  std::optional<MeasuredImpedance> impedance;
  std::optional<Uncertain<Current>> current;  ///< mean magnitude through the contact: heats it
  std::optional<Uncertain<Length>> available_width;
  std::optional<Uncertain<Time>> replaced_every;
  std::variant<NoPath, Strap, Wire, StatedPath> path;
  bool debris_reaches_oil = false;  ///< what wears off it makes the oil of the bearings dirtier
};

/// Any other drag: stated, measured or by a published rule, and the gears that the case gives to
/// every variant.
struct ExtraDrag {
  std::string id;
  Element element;
  std::string shaft;
  /// A contact stands somewhere: a dust lip, a second ring that grounds nothing.
  std::optional<Uncertain<Length>> position;
  std::optional<Uncertain<LineForce>> line_force;
};

struct Case;

struct Variant {
  std::string id;
  std::string title;
  std::optional<Seal> seal;
  std::optional<Grounding> grounding;
  std::vector<ExtraDrag> extras;
  /// The case as this variant's `change` alters it; none: the case itself.
  std::shared_ptr<const Case> world;
};

/// A stretch of the spectrum that the report names; no limit goes with it.
struct NamedBand {
  std::string name;
  Frequency from;
  Frequency to;
};

/// What somebody published about a range of apparent current density; stands beside a figure and
/// judges nothing.
struct DensityBand {
  CurrentDensity from;  ///< 0: everything up to `up_to`
  CurrentDensity up_to;
  std::string statement;
  Basis basis = Basis::assumed;
  std::string source;
};

/// What the trade takes a number to be where nobody has stated it.
struct TradeRange {
  Distribution range;
  std::string source;
};

/// What the user can show for the claim ladder.
struct Evidence {
  bool impedance_measured = false;  ///< derived by input: every grounding resistance is `measured`
  bool field_events = false;        ///< `[evidence] events = "…"`
  std::string events;
};

struct Case {
  std::string title;
  std::string question;
  bool invented = false;  ///< shipped scenarios say so
  std::string baseline;
  unsigned long long seed = 1;
  int samples = 0;  ///< 0: the command's default
  Provenance provenance;

  Service service;
  std::optional<Vehicle> vehicle;
  Sump sump;
  std::vector<Shaft> shafts;
  std::optional<Inverter> inverter;
  std::optional<Coupling> coupling;
  DischargeConstants discharge;
  RunningIn running_in;
  std::optional<Uncertain<Power>> rated_power;  ///< of the machine: says what is out of scope
  std::vector<Bearing> bearings;
  std::vector<PathToFrame> paths_to_frame;
  std::vector<OperatingPoint> points;
  std::vector<Duty> duties;
  std::vector<Requirement> requirements;
  std::vector<Allocation> allocations;
  std::vector<Target> targets;
  std::vector<Split> splits;
  std::vector<DamageLaw> laws;
  std::optional<Prices> prices;
  std::vector<NamedBand> bands;            ///< data/bands.toml
  std::vector<DensityBand> density_bands;  ///< data/current_density.toml
  Evidence evidence;
  std::vector<Variant> variants;
  std::vector<std::string> warnings;  ///< found while reading, for the cautions
  /// By the keys of those numbers of the case that have one; data/trade_ranges.toml.
  std::map<std::string, TradeRange> trade_ranges;
};

}  // namespace ohmdrag::study
