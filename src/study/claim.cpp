#include <fmt/format.h>

#include <array>

#include "ohmdrag/quantity/print.hpp"
#include "study/sections.hpp"

namespace ohmdrag::study {
namespace {

bool impedance_is_measured(const Variant& variant) {
  if (!variant.grounding) return false;
  const Grounding& grounding = *variant.grounding;
  if (grounding.resistance) return grounding.resistance->basis == Basis::measured;
  if (const auto* ring = std::get_if<RingElement>(&grounding.element.form))
    return weakest(ring->resistance.film.basis, ring->resistance.bulk.basis) == Basis::measured;
  if (const auto* brush = std::get_if<BrushElement>(&grounding.element.form))
    return weakest(brush->resistance.film.basis, brush->resistance.bulk.basis) == Basis::measured;
  return false;
}

constexpr std::array rungs{
    "watts and heat",
    "impedance, measured",
    "shaft voltage left, computed",
    "discharges less often, threshold stated",
    "less discharge energy and dose",
    "fewer early bearing events, by the user's field or test data",
    "hours, under the law that the case names",
};

constexpr std::array next_needs{
    "a measured impedance of this element (basis \"measured\" on its resistance)",
    "the inverter and the coupling of the machine",
    "bearings with loads, so that films and thresholds can be stated",
    "a duty over which discharges add up",
    "field or test data of bearing events ([evidence] events)",
    "a damage law of the user's ([damage] law)",
    "nothing: this is the last rung",
};

}  // namespace

Claim claim(const Case& question, const Variant& chosen, const Sections& sections) {
  const Case& world = chosen.world ? *chosen.world : question;
  // Each rung stands on those below it: a voltage computed from an assumed resistance is shown,
  // but not claimed.
  const std::array reached{
      true,
      impedance_is_measured(chosen),
      has_electrics(world) && sections.voltage,
      !world.bearings.empty(),
      sections.life && !world.duties.empty(),
      question.evidence.field_events,
      !question.laws.empty(),
  };
  std::size_t rung = 0;
  while (rung + 1 < reached.size() && reached[rung + 1]) ++rung;

  Claim result;
  result.rung = static_cast<int>(rung) + 1;
  result.missing = next_needs[rung];
  if (rung == 0 && !chosen.grounding)
    result.missing =
        "a variant with a grounding element whose impedance was measured; this one has no "
        "grounding element";
  result.sentence = std::string("This study can claim ") + rungs[rung] + ".";
  if (rung >= 3) {
    // Weak and strong bearings, 5 and 95 %.
    const UncertainNumber& field = world.discharge.breakdown_field;
    constexpr double per_micrometre = 1e-6;
    result.sentence += fmt::format(
        " The threshold is a field of {} to {} V/µm on the computed film, {}.",
        print_number(per_micrometre * field.spread.quantile(0.05), 2),
        print_number(per_micrometre * field.spread.quantile(0.95), 2), to_word(field.basis));
  }
  if (rung < 4)
    result.sentence +=
        " Everything beyond is computed from numbers that nobody has measured here: shown for "
        "judgement, not claimed.";
  return result;
}

}  // namespace ohmdrag::study
