#pragma once

#include <vector>

#include "study/model.hpp"
#include "study/samples.hpp"

/// What the contacts of a variant are in one draw: their impedance and what service leaves of them.
namespace ohmdrag::study {

/// The resting path at every age; nothing where no resistance is known.
void sample_path(const VariantModel& variant, const std::vector<Frequency>& frequencies,
                 VariantSample& sample);
/// The same of the contact as it runs at a point, whose parts are there already.
void sample_path(const WorldModel& model, const VariantModel& variant, const OperatingPoint& point,
                 const std::vector<Frequency>& frequencies, const Draw& draw, PointSample& sample);

/// In the order of the variant's contacts.
std::vector<ContactSample> contact_samples(const VariantModel& variant);

}  // namespace ohmdrag::study
