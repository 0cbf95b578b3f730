#include <algorithm>

#include "study/sections.hpp"

namespace ohmdrag::study {

std::vector<std::string> cautions(const Case& question, const Sections& sections) {
  std::vector<std::string> list;
  if (question.invented)
    list.emplace_back("Invented scenario: no vehicle, machine or element of these names exists.");
  list.emplace_back(
      "High voltage, rotating shafts and hot parts can kill. Measuring and fitting are for "
      "qualified, authorised persons; local safety rules and codes come first. Capacitors of the "
      "link stay charged after switch-off, and a permanent-magnet machine makes voltage whenever "
      "its shaft turns.");
  list.emplace_back(
      "A reading of the shaft near zero does not make it safe to touch: the contact can open at "
      "any "
      "time.");
  list.emplace_back(
      "Says nothing about leakage. A ground shaft with lead, or oil past the lip, can wet a dry "
      "contact and open it.");
  if (sections.voltage || sections.life || sections.trade) {
    list.emplace_back(
        "Circulating bearing current (machines above about 100 kW, or an un-insulated far bearing) "
        "is not modelled; one grounding contact can raise it.");
    list.emplace_back(
        "Reduction of shaft-to-housing voltage in the model, not of emission; it can be negative "
        "near the path resonance. No class or limit is claimed.");
    list.emplace_back("Resistance law is assumed until a run with this contact is fitted.");
  }
  if ((sections.energy || sections.trade) && question.vehicle)
    list.emplace_back(
        "Published road loads contain the drag of the seals that were fitted: absolute watts are "
        "\"of which\", never on top; only differences to the baseline add to consumption.");
  if (question.inverter && question.inverter->ringing)
    list.emplace_back(
        "Read but not yet used in figures: the height and quality of the ringing. Edge peaks are "
        "those "
        "of the bare ramp and come out low where the oscillation is strong.");
  if (std::any_of(question.shafts.begin(), question.shafts.end(),
                  [](const Shaft& shaft) { return shaft.run_out.has_value(); }))
    list.emplace_back(
        "The run-out of the shaft judges whether fibres keep contact; it moves no other figure.");
  list.insert(list.end(), question.warnings.begin(), question.warnings.end());
  list.emplace_back(
      "An estimate for trade studies; it replaces no risk assessment, no interference test and no "
      "bearing-life test.");
  return list;
}

}  // namespace ohmdrag::study
