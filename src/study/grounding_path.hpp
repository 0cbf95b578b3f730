#pragma once

#include <vector>

#include "ohmdrag/study/case.hpp"
#include "ohmdrag/study/draws.hpp"
#include "study/contact_life.hpp"
#include "study/model.hpp"

/// How well the grounding contact conducts over its service, and the way from it to the housing.
namespace ohmdrag::study {

/// One draw of an element's law of resistance.
contact::DryResistance resistance_law(const ElementResistance& entry, const Draw& draw);
contact::RunningResistance running_law(const ElementResistance::Running& entry, const Draw& draw);

/// A grounding contact as the path sees it.
struct GroundingContact {
  const ContactLife* life = nullptr;  ///< none: the resistance is stated
  Length diameter;
  double hot_share = 1.0;   ///< of the force at 20 degC, on the side it stands on
  double load_share = 1.0;  ///< carried by solid contact: below 1 in oil
  double oil_permittivity = 1.0;
};

/// The paths to the housing; what is to be said of their law or measurement goes to `notes`.
PathsOverService paths_of(const Grounding& grounding, const GroundingContact& here,
                          const Draw& draw, GroundingNotes& notes);

/// Gives a variant its way to the housing, after every contact stands in its place: how much of a
/// wetted contact oil carries depends on the others' heat.
void fit_grounding_path(const WorldModel& model, const Grounding& grounding, const Draw& draw,
                        const ServiceHistory& history, VariantModel& into);

}  // namespace ohmdrag::study
