#pragma once

#include "input/reader.hpp"
#include "ohmdrag/study/contact_parts.hpp"

/// The parts of a [contact.<id>]: each out of the contact's own table, which may hold more. `base`
/// as in element_reader.hpp.
namespace ohmdrag::input {

/// `friction_law` and its parameters; without the word the usual law of the kind.
study::FrictionEntry read_friction(TableReader& table, const Node* base, std::string_view usual);
/// [service]: by its `form` a lip, else a pad. Nothing without the table.
study::ContactService read_contact_service(ReadContext& context, TableReader& table,
                                           const Node* base);
std::optional<study::FibreEntry> read_fibres(TableReader& table, const Node* base);
std::optional<study::OilEntry> read_oil(TableReader& table, const Node* base);
std::optional<study::FlashEntry> read_flash(TableReader& table, const Node* base);
study::ElementLimits read_limits(ReadContext& context, TableReader& table);

}  // namespace ohmdrag::input
