#pragma once

#include "input/reader.hpp"
#include "ohmdrag/study/case.hpp"
#include "ohmdrag/study/elements.hpp"

namespace ohmdrag::input {

// `base` is the entry of the catalogue under what a case overrides: its values stand in for
// "unknown". nullptr: nothing is overridden.

study::Lubricant read_lubricant(ReadContext& context, const Node& entry, const Node* base);
/// A [contact.<id>] or a [rule.<id>].
study::Element read_element(ReadContext& context, const Node& entry, const Node* base);
/// The members of a bearing type out of a table that may hold more.
study::BearingType read_bearing_members(TableReader& table, const Node* base);
study::BearingType read_bearing_type(ReadContext& context, const Node& entry, const Node* base);
/// Stated power at a speed, out of a table that may hold more.
study::StatedElement read_stated(TableReader& table, const Node* base);
study::DischargeConstants read_discharge(ReadContext& context, const Node* own,
                                         const Node& defaults);
void read_current_density(TableReader& table, const Node* defaults, study::DamageLaw& law);

}  // namespace ohmdrag::input
