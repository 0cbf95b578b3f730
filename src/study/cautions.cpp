#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <string>
#include <variant>

#include "ohmdrag/quantity/print.hpp"
#include "study/other_path.hpp"
#include "study/sections.hpp"

namespace ohmdrag::study {
namespace {

/// Ways through the bearings of the electrified shaft that nothing insulates.
std::ptrdiff_t uninsulated_bearings(const Case& world) {
  return std::ranges::count_if(world.bearings, [&](const Bearing& bearing) {
    return bearing.shaft == world.coupling->shaft &&
           std::holds_alternative<std::monostate>(bearing.insulation);
  });
}

/// Whether a variant grounds one end while current can return through a bearing.
bool far_bearing_is_open(const Case& question, const Variant& variant) {
  const Case& world = variant.world ? *variant.world : question;
  return variant.grounding && world.coupling && variant.grounding->shaft == world.coupling->shaft &&
         uninsulated_bearings(world) > 0;
}

/// Circulating over common-mode current, at most: A. Muetze, A. Binder, IEEE Trans. Ind. Electron.
/// 54(2), 2007, 932 (abstract). Printed; it moves no figure.
constexpr double largest_circulating_share = 0.35;

std::string circulating_current_in_words(const Case& question) {
  std::vector<std::string> reasons;
  for (const Variant& variant : question.variants)
    for (std::string& reason : circulating_current_reasons(question, variant))
      if (std::ranges::find(reasons, reason) == reasons.end()) reasons.push_back(std::move(reason));
  if (reasons.empty())
    return "Circulating bearing current is not modelled; in machines below about 100 kW it is "
           "small as a rule.";
  return fmt::format(
      "Circulating bearing current is not modelled. Look at it by other means: {}. In theory it "
      "reaches up to about {} of the common-mode current (Muetze and Binder, IEEE Trans. Ind. "
      "Electron. 54(2), 2007, abstract).",
      fmt::join(reasons, ", and "), print_number(largest_circulating_share, 2));
}

}  // namespace

/// Current that circulates through shaft, both bearings and frame grows with the machine: from
/// about 100 kW, from memory.
bool machine_is_large(const Case& question) {
  constexpr double large_W = 1e5;
  return question.rated_power && question.rated_power->mid() > large_W;
}

std::vector<std::string> circulating_current_reasons(const Case& question, const Variant& variant) {
  std::vector<std::string> reasons;
  if (!question.rated_power)
    reasons.emplace_back(
        "the power of the machine is not stated (machine.rated_power; it grows with the machine "
        "and counts above about 100 kW)");
  else if (machine_is_large(question))
    reasons.emplace_back("the machine is above about 100 kW");
  if (far_bearing_is_open(question, variant))
    reasons.emplace_back(
        "one grounding contact can raise it where a bearing of the shaft is not insulated");
  return reasons;
}

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
    list.push_back(circulating_current_in_words(question));
    if (question.inverter &&
        dielectric_of(question.sump.lubricant) == bearing::Dielectric::as_stated)
      list.emplace_back(
          "The permittivity of the oil is that of a polar liquid: its rise under pressure is left "
          "out of the films' capacitance.");
    list.emplace_back(
        "Reduction of shaft-to-housing voltage in the model, not of emission; it can be negative "
        "near the path resonance. No class or limit is claimed.");
    list.emplace_back("Resistance law is assumed until a run with this contact is fitted.");
  }
  if ((sections.energy || sections.trade) && question.vehicle)
    list.emplace_back(
        "Published road loads contain the drag of the seals that were fitted: absolute watts are "
        "\"of which\", never on top; only differences to the baseline add to consumption.");
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
