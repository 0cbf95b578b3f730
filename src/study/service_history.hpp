#pragma once

#include "study/model.hpp"

namespace ohmdrag::study {

/// What the contacts of a variant go through until the end of its service: hours, way slid and the
/// temperature that ages them.
///
/// Taken from the nominal case with new contacts and used in every draw: what age does to a contact
/// is known within factors, its way within per cents.
///
/// With duties: each as often as the service's mix, distance, hours or years say. Without: the
/// service's hours, shared equally among the operating points that turn. Empty if no contact has a
/// law of its service, or nothing says how long the service is.
///
/// Accuracy  of duties but measured trips that of the oil of energy::QuickMarch: temperatures
/// within
///           1e-3 K of the march, hours and ways to rounding.
ServiceHistory service_history(const Case& question, const Case& world, const Variant& variant);

/// Of every variant of a case, in parallel but for those whose duties are read from files: these
/// come one after the other, with one file in memory at a time.
/// \throws what the first of the variants throws that cannot be marched.
std::vector<ServiceHistory> service_histories(const Case& question);

/// Activation temperature E_a/R_g of what ages a contact: of its lip, else that of rubbers.
TemperatureDifference activation_of(const Element& element);

}  // namespace ohmdrag::study
