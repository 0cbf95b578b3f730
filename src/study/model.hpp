#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ohmdrag/bearing/film.hpp"
#include "ohmdrag/contact/electrical.hpp"
#include "ohmdrag/duty/battery.hpp"
#include "ohmdrag/duty/trace.hpp"
#include "ohmdrag/energy/march.hpp"
#include "ohmdrag/study/case.hpp"
#include "ohmdrag/study/draws.hpp"
#include "ohmdrag/study/findings.hpp"
#include "ohmdrag/voltage/path.hpp"
#include "study/contact_life.hpp"
#include "study/fatigue.hpp"
#include "study/other_path.hpp"

/// One draw of a case turned into the structs of the physics rooms.
namespace ohmdrag::study {

material::LubricantProperties lubricant_of(const Lubricant& entry, const Draw& draw);

/// A bearing on the electrified shaft: its films over torque.
struct BearingModel {
  std::size_t shaft = 0;
  energy::LoadCurve loads;
  Force dynamic_rating, static_rating;
  double static_factor = 0.0;
  bool roller = false;
  bearing::PalmgrenConstants friction;
  std::optional<Capacitance> stated_capacitance;
  /// Film models at the torques of the load curve and three between each two; one for a constant
  /// load, none for rollers without a length, whose films are not modelled.
  std::vector<Torque> film_torque;
  std::vector<bearing::FilmModel> films;
  std::string_view id;
  double rolling_elements = 0.0;
  Capacitance unloaded_element, rings;   ///< beside the films
  std::optional<Capacitance> in_series;  ///< insulating coat
  struct Ceramic {
    Capacitance whole, element;
  };
  std::optional<Ceramic> ceramic;  ///< rolling elements

  /// Between two neighbouring film models. Beyond the rows the end row holds, as for the loads
  /// themselves; the budget flags it.
  struct FilmPlace {
    std::size_t first;
    double share;  ///< of the next one; 0 where there is only one
  };
  FilmPlace film_place(Torque torque) const;
  /// Films between the two neighbouring models.
  /// \param permittivity_share  material::permittivity_share() of the oil
  bearing::FilmState film(AngularVelocity speed, DynamicViscosity eta, double heating_factor,
                          Torque torque, double permittivity_share = 1.0) const;
  /// Speed that draws oil into the contacts; only where there are films.
  Speed entrainment(AngularVelocity speed) const { return films.front().entrainment(speed); }
  /// The way through this bearing with its films in a state.
  voltage::DischargePath path(const bearing::FilmState& film, const FilmStrength& strength) const;
  Force equivalent_load(Torque torque) const;
};

/// Films of bearings are most of the work of a world; watts at a point ask for none.
enum class Films { prepared, left_out };

struct WorldModel;
/// \param model  with shafts and oil
BearingModel bearing_model(const WorldModel& model, const Bearing& entry, const Draw& draw,
                           Films films = Films::prepared);

/// What all variants of one world have in common in one draw.
struct WorldModel {
  WorldModel(const Case& world, const Draw& draw, Films films = Films::prepared);

  const Case* world;
  material::LubricantProperties oil;
  std::vector<double> ratio;     ///< per shaft, in the first gear; 1 unless the case says otherwise
  std::vector<Length> diameter;  ///< per shaft, as made
  std::vector<Length> deviation;         ///< of these from their nominal diameters
  std::vector<Temperature> dry;          ///< per shaft
  std::vector<energy::Gearing> gearing;  ///< per shaft; with a vehicle only
  std::optional<duty::VehicleData> vehicle;
  std::optional<duty::BatteryPath> path;
  duty::SumpNode sump;
  std::optional<duty::AirStream> air;
  Power other_heat;
  std::vector<BearingModel> bearings;  ///< in the order of the case
  std::vector<OtherPath> other_paths;  ///< in the order of the case; empty without an inverter
  FilmStrength strength;

  std::size_t shaft_index(const std::string& id) const;
  /// Shaft turns per wheel turn in the gear of the point's road speed, reached from below.
  std::vector<double> ratios(const OperatingPoint& point, const Draw& draw) const;
  /// Shaft speeds at a road speed or at a speed of one shaft.
  std::vector<AngularVelocity> speeds(const OperatingPoint& point, const Draw& draw) const;
  std::vector<Torque> torques(const OperatingPoint& point, const Draw& draw) const;
};

/// A duty of the world, ready to march.
struct DutyModel {
  std::vector<duty::Step> steps;  ///< driven duties
  std::vector<energy::Stretch> stretches;
  std::vector<std::string> phases;
  energy::SumpDuty sump;
  bool driven = false;
  std::vector<double> fatigue;  ///< share of the basic rating life, per bearing
};
DutyModel duty_model(const WorldModel& model, const Duty& duty, const Draw& draw);
/// The same without its fatigue.
DutyModel duty_way(const WorldModel& model, const Duty& duty, const Draw& draw);
energy::SumpDuty sump_duty(const WorldModel& model, const Duty& duty, const Draw& draw);

/// The path to the housing by age; none without a resistance, or where nothing presses any more.
using PathsOverService = std::array<std::optional<voltage::GroundingPath>, ages.size()>;

/// What running does to the resistance of the grounding contact.
struct RunningContact {
  contact::RunningResistance law;
  Length diameter;
  Temperature usual;  ///< of the contact over its service
};

/// What the budget says of a part.
struct PartInfo {
  std::string id;
  std::string kind;
  std::string title;
  std::size_t shaft = 0;
  Basis basis = Basis::assumed;
  const Element* element = nullptr;  ///< null for bearings
};

/// What is to be said of a grounding contact, before anyone puts it into words.
struct GroundingNotes {
  bool on_another_shaft = false;  ///< than the one the winding couples to
  const voltage::MeasuredPath* measured = nullptr;
  std::vector<numerics::RangeFlag> ranges;  ///< of the resistance law, new
  std::optional<double> least_solid_share;  ///< of the force, where oil wets the contact
};
std::vector<Flag> in_words(const GroundingNotes& notes);

/// A contact of a variant over its service.
struct LivingContact {
  std::string id;
  std::size_t shaft = 0;
  ContactLife life;
};

/// One variant in one draw.
struct VariantModel {
  /// \param history  what its contacts go through; none: nothing ages
  VariantModel(const WorldModel& model, const Variant& variant, const Draw& draw,
               const ServiceHistory& history);

  energy::DriveUnit unit;       ///< of new contacts
  std::vector<PartInfo> parts;  ///< in the order of the unit
  std::vector<LivingContact> lives;
  bool grounded = false;  ///< a resistance is known of a contact on the shaft that matters
  PathsOverService path;  ///< of the resting contact at 20 degC
  std::optional<RunningContact> running;
  std::optional<double> force_exponent;  ///< of the grounding's resistance; with a law alone
  GroundingNotes grounding_notes;
  OilFatigue fatigue;  ///< of the bearings

  /// The path at a speed of its shaft.
  /// \param contact  temperature of the contact; none: its usual one
  voltage::MaybePath path_at(Age age, AngularVelocity speed,
                             const std::optional<Temperature>& contact = {}) const;

  /// The unit with its contacts at an age.
  energy::DriveUnit unit_at(Age age) const;
};

/// A flag in the words of the report.
Flag in_words(const numerics::RangeFlag& flag, const std::string& where);

}  // namespace ohmdrag::study
