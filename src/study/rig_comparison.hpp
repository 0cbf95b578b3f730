#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ohmdrag/rig/rig_bench.hpp"
#include "ohmdrag/rig/rig_programme.hpp"
#include "ohmdrag/study/rig_comparison_run.hpp"
#include "study/model.hpp"

namespace ohmdrag::study {

/// The rig as a case of one shaft, so that it is drawn and built as any other.
struct RigWorld {
  Case world;
  Variant variant;
};
/// \throws std::invalid_argument, in words, as fit_run.
RigWorld rig_world(const RigComparison& run, const Case& world, const Variant& variant);

/// The element of a contact of a variant; nullptr if it has no such contact.
const Element* contact_element(const Variant& variant, const std::string& contact);

/// One speed in one draw, rig and application.
struct RigPoint {
  double sliding_m_s = 0.0;
  double rig_K = 0.0;  ///< hottest element of the contact
  double application_K = 0.0;
  double air_K = 0.0;                    ///< of the rig
  std::optional<double> by_temperature;  ///< R_rig/R, each alone
  std::optional<double> by_force_and_diameter;
  rig::RigState state;  ///< of the rig
};

/// Rig and application in one draw.
class RigPair {
 public:
  RigPair(const RigComparison& run, const Case& world, const Variant& variant,
          const RigWorld& on_rig, const Draw& draw);

  RigPoint at(AngularVelocity rig_speed) const;
  /// Mean pressure of the contact, on the rig or in the application.
  Pressure pressure_on_rig() const;
  Pressure pressure() const;
  Length rig_radius() const { return 0.5 * bench_.shaft.diameter; }

 private:
  const component::ShaftContact& rig_contact() const;
  const component::ShaftContact& contact() const { return application_.contacts[contact_]; }
  double force_factor(const RigPoint& point) const;

  const Element* element_;
  std::vector<std::size_t> of_contact_;  ///< elements of the rig
  rig::RigBench bench_;
  component::ShaftSystem application_;
  std::size_t contact_ = 0;
  component::Surroundings around_;
  std::optional<contact::DryResistance> law_;
  std::optional<contact::RunningResistance> running_;
};

/// What the contact goes through in its service; none: nobody says how long that is, or the contact
/// has no law of its ageing.
std::optional<rig::ServiceDose> service_dose(const RigComparison& run, const RigPair& middle);

/// The table of a programme and its words.
void add_programme(rig::RunFindings& out, const RigComparison& run, const RigPair& middle);

}  // namespace ohmdrag::study
