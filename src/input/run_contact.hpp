#pragma once

#include <optional>
#include <string>

#include "input/run_reading.hpp"
#include "ohmdrag/contact/ptfe_friction.hpp"
#include "ohmdrag/input/catalogue.hpp"

/// What runs with a contact on a rig say of it, as friction and force runs say it alike.
namespace ohmdrag::input {

/// The contact that `contact = "…"` names, an entry of the catalogue or a new one.
struct RunContact {
  std::string id;
  std::optional<study::Element> entry;  ///< none: not in the catalogue
};
RunContact contact_of_run(RunReading& reading, const Catalogue& catalogue);

/// Its width, and its law where that is one of dry PTFE or a mixed film, at their middle values.
std::optional<Length> contact_width_of(const RunContact& contact);
std::optional<contact::PtfeFriction> ptfe_of(const study::Element& element);
std::optional<double> load_share_exponent_of(const study::Element& element);

/// `elements`, 1 where it is not stated.
int elements_of_run(RunReading& reading);

}  // namespace ohmdrag::input
