#pragma once

#include <optional>
#include <string>

#include "ohmdrag/component/gas_face_seal.hpp"
#include "ohmdrag/component/published_rule.hpp"
#include "ohmdrag/component/shaft_network.hpp"
#include "ohmdrag/component/stated_loss.hpp"
#include "ohmdrag/study/case.hpp"
#include "ohmdrag/study/draws.hpp"
#include "ohmdrag/voltage/path.hpp"
#include "study/model.hpp"

/// One draw of an element: the structs that the contact, component and voltage rooms take.
namespace ohmdrag::study {

component::ShaftContact lip_contact(const LipElement& lip, LineForce line_force, Length diameter,
                                    const Draw& draw);
component::ShaftContact ring_contact(const RingElement& ring, Force load, Length diameter,
                                     const Draw& draw);
component::ShaftContact brush_contact(const BrushElement& brush, Force load, Length diameter,
                                      const Draw& draw);
component::PublishedRule rule_of(const RuleElement& rule, const Draw& draw);
component::GasFaceSeal face_seal_of(const FaceSealElement& faces, const Draw& draw);
component::StatedLoss stated_of(const StatedElement& stated, const Draw& draw);

/// Total radial force of a ring or brush: what the variant says, else the element's own.
Force pressing_force(const Grounding& grounding, Length diameter, const Draw& draw);

/// The path to the housing at the begin and at the end of service; none without a resistance.
struct PathOverService {
  std::optional<voltage::GroundingPath> begin;
  std::optional<voltage::GroundingPath> end;
  std::vector<Flag> flags;
};
PathOverService path_of(const Grounding& grounding, Force load, Length diameter, const Draw& draw);

/// "lip-seal", "dry-ring", …
std::string kind_of(const Element& element);
/// The weakest basis of an element's numbers.
Basis basis_of(const Element& element);

}  // namespace ohmdrag::study
