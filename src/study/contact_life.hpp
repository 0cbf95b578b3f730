#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "ohmdrag/component/shaft_network.hpp"
#include "ohmdrag/contact/service.hpp"
#include "ohmdrag/study/draws.hpp"
#include "ohmdrag/study/elements.hpp"

/// One contact over its service: what it is when new, in the middle and at the end.
namespace ohmdrag::study {

enum class Age { begin, middle, end };
inline constexpr std::array ages{Age::begin, Age::middle, Age::end};
/// Share of the service that has gone by.
constexpr double share_of_service(Age age) { return 0.5 * static_cast<double>(age); }

/// What each contact of a variant goes through until the end of its service.
struct ServiceHistory {
  struct Entry {
    std::string id;
    contact::History whole;
  };
  std::vector<Entry> contacts;

  const contact::History* of(const std::string& id) const;
};

/// The shaft under a contact.
struct ShaftSeat {
  Length diameter;
  Length deviation;  ///< of this shaft from its nominal diameter
};

struct ContactLife {
  std::array<contact::Aged, ages.size()> at;  ///< in the order of `ages`
  LineForce pressing;                         ///< of a fluid, at every age
  std::optional<contact::ModulusTable> modulus;
  std::optional<Density> density;           ///< of the debris
  std::optional<contact::History> history;  ///< none: nothing ages, all ages are alike
  std::vector<numerics::RangeFlag> flags;   ///< of the end of service and of the fit

  const contact::Aged& of(Age age) const { return at[static_cast<std::size_t>(age)]; }
  /// At 20 degC; not below zero: a lip that a pressure lifts carries nothing.
  LineForce line_force(Age age) const;
  /// Share of the force that goes with the modulus.
  std::optional<component::Softening> softening(Age age) const;
};

/// \param line_force    of the new lip at 20 degC and nominal diameter
/// \param over_pressure oil side over air side
ContactLife lip_life(const LipElement& lip, LineForce line_force, const ShaftSeat& shaft,
                     Pressure over_pressure, const contact::History* history, const Draw& draw);
/// Force of a ring or brush, and the deflection of its fibres if it follows from them.
struct Pressing {
  Force load;
  std::optional<Length> deflection;
};

/// \param body  temperature of the side the ring stands on, which softens it
ContactLife ring_life(const RingElement& ring, const Pressing& pressing, const ShaftSeat& shaft,
                      Temperature body, const contact::History* history, const Draw& draw);
/// Its wear is that of its section; without one the force stays.
ContactLife brush_life(const BrushElement& brush, const Pressing& pressing, const ShaftSeat& shaft,
                       const contact::History* history, const Draw& draw);

/// Puts force and width of an age into a contact that was built for another. The way of the heat
/// into the body stays that of the new band: it carries 1 to 2 % of a lip's heat, and a band four
/// times as wide would move the watts by about 0.1 %.
void settle(component::ShaftContact& contact, const ContactLife& life, Age age, Length diameter);

}  // namespace ohmdrag::study
