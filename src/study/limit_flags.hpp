#pragma once

#include "ohmdrag/component/shaft_network.hpp"
#include "study/sections.hpp"

/// How far a contact is from what bounds its use: each limit with its value, margin and basis.
namespace ohmdrag::study {

/// A contact of the nominal variant at one operating point.
struct ContactAtPoint {
  const Nominal& nominal;
  std::size_t part;
  const component::ShaftSystem& system;
  const component::ShaftState& state;
  std::size_t contact;  ///< on that shaft
  const component::ContactState& now() const { return state.contacts[contact]; }
};

std::vector<Flag> limit_flags(const ContactAtPoint& here);

/// What its design says: contact kept at run-out and speed, heat of a current, pressure on a lip.
std::vector<Flag> design_flags(const ContactAtPoint& here);

}  // namespace ohmdrag::study
