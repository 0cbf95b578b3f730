#pragma once

#include <optional>
#include <string>

#include "ohmdrag/component/gas_face_seal.hpp"
#include "ohmdrag/component/published_rule.hpp"
#include "ohmdrag/component/shaft_network.hpp"
#include "ohmdrag/component/stated_loss.hpp"
#include "ohmdrag/contact/element_design.hpp"
#include "ohmdrag/study/case.hpp"
#include "ohmdrag/study/draws.hpp"
#include "study/model.hpp"

/// One draw of an element: the structs that the contact, component and voltage rooms take.
namespace ohmdrag::study {

// New contacts without their force, which settle() gives them.
component::ShaftContact lip_contact(const LipElement& lip, Length diameter, const Draw& draw);
component::ShaftContact ring_contact(const RingElement& ring, Length diameter, const Draw& draw);
component::ShaftContact brush_contact(const BrushElement& brush, const Draw& draw);
contact::FrictionLaw law_of(const FrictionEntry& law, Length contact_width, const Draw& draw);
component::PublishedRule rule_of(const RuleElement& rule, const Draw& draw);
component::GasFaceSeal face_seal_of(const FaceSealElement& faces, const Draw& draw);
component::StatedLoss stated_of(const StatedElement& stated, const Draw& draw);

/// Force of a ring or brush at 20 degC and nominal diameter: what the variant says, else what its
/// fibres give at their interference, else the element's own.
Pressing pressing_of(const Grounding& grounding, Length diameter, const Draw& draw);
/// The same for an element that stands alone.
Pressing pressing_of(const Element& element, Length diameter, const Draw& draw);

/// Design of a ring of fibres, or of a brush as line force over the circumference.
contact::FibreRing fibre_ring_of(const FibreEntry& fibres, Length width, Length diameter,
                                 const Draw& draw);
contact::FibreBrush fibre_brush_of(const FibreEntry& fibres, const Draw& draw);

/// "lip-seal", "dry-ring", …
std::string kind_of(const Element& element);
/// The weakest basis of an element's numbers.
Basis basis_of(const Element& element);

}  // namespace ohmdrag::study
