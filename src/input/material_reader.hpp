#pragma once

#include "input/reader.hpp"
#include "ohmdrag/study/materials.hpp"

/// The tables of data/seal_materials.toml, data/fits.toml and data/cleanliness.toml, and a case's
/// own entries of the same sections.
///
/// `base` as in element_reader.hpp: the entry of the catalogue under what a case overrides, whose
/// values stand in for "unknown". Every reader complains into the context about what is missing,
/// unknown, out of range or out of order, and returns something no later step trips over.
namespace ohmdrag::input {

study::SealLimits read_seal_limits(ReadContext& context, const Node& entry,
                                   const Node* base = nullptr);
study::Relaxation read_relaxation(ReadContext& context, const Node& entry,
                                  const Node* base = nullptr);
study::ModulusCurve read_modulus(ReadContext& context, const Node& entry,
                                 const Node* base = nullptr);
study::LipForm read_lip_form(ReadContext& context, const Node& entry, const Node* base = nullptr);
study::Wear read_wear(ReadContext& context, const Node& entry, const Node* base = nullptr);
study::CleanlinessClass read_cleanliness_class(ReadContext& context, const Node& entry,
                                               const Node* base = nullptr);
study::Fit read_fit(ReadContext& context, const Node& entry, const Node* base = nullptr);
study::GraphiteTransition read_graphite_transition(ReadContext& context, const Node& entry,
                                                   const Node* base = nullptr);
study::LipSpeedChart read_lip_speed_chart(ReadContext& context, const Node& entry,
                                          const Node* base = nullptr);

}  // namespace ohmdrag::input
