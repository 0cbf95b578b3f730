#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "ohmdrag/rig/run_findings.hpp"
#include "ohmdrag/study/case.hpp"

/// A contact on a rig against the same contact in an application, by one thermal model.
namespace ohmdrag::study {

/// One wear point of the rig: a contact of the application's variant, at a place of its own.
struct RigElement {
  std::string id;
  std::string of;              ///< "seal", "grounding" or an extra of the variant
  Uncertain<Length> position;  ///< from the end that oil or spindle holds
  std::optional<Uncertain<LineForce>> line_force;  ///< none: as in the application
};

/// The rig. Its shaft begins where oil or a spindle holds its temperature and ends free.
struct RigSetUp {
  Uncertain<Length> diameter;
  std::optional<Uncertain<Length>> bore;
  Uncertain<Length> length;
  std::optional<Uncertain<Length>> wet_until;  ///< reach of the oil along the shaft; none: dry
  Uncertain<Temperature> held;                 ///< of the oil, or of the spindle without one
  /// Air shut in with the contacts.
  struct Enclosure {
    Uncertain<Temperature> room;
    Uncertain<ThermalConductance> conductance;
    std::optional<Uncertain<Power>> other_heat;
  };
  std::optional<Uncertain<Temperature>> air;  ///< measured; exactly one of the two
  std::optional<Enclosure> enclosure;
  std::vector<RigElement> elements;
  std::vector<AngularVelocity> speeds;  ///< rising
};

/// What is compared, as it was read.
struct RigComparison {
  rig::RunFindings head;  ///< what the run is; the comparison fills the rest
  std::shared_ptr<const Case> question;
  std::string variant;
  std::string contact;         ///< whose reading on the rig is to hold for the application
  Uncertain<Temperature> oil;  ///< in the application
  std::string oil_from;        ///< in words
  std::optional<std::string>
      duty;  ///< that the service is made of; none: of all, as the case mixes
  RigSetUp rig;
};

/// Compares.
///
/// Both sides turn at the same sliding speed, with new contacts, each in its own surroundings; the
/// rig's hottest element of the contact stands for the rig. Intervals are 95 % of 100 draws of the
/// case, with its seed; what rig and application share is drawn once.
///
/// Reading  R_rig/R of the application: force and diameter by the law of the element, temperature
///          by its coefficient; the speed is the same. A film that grows is told by its direction
///          alone: no constants of one are in a case.
/// Programme  rig::acceleration of each mechanism against the service of the case.
///
/// \throws std::invalid_argument, in words, for a contact that the variant or the rig does not
///         have, a lip in oil on a dry rig, elements beside the shaft, or where a contact runs
///         away.
rig::RunFindings fit_run(const RigComparison& run);

}  // namespace ohmdrag::study
