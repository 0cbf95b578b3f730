#pragma once

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <regex>
#include <string>
#include <utility>
#include <vector>

#include "ohmdrag/study/evaluate.hpp"
#include "study/sample_case.hpp"
#include "support/near.hpp"

/// One invented shaft at 6000 1/min for 1000 h and contacts whose every number is certain, so that
/// one sample says it all.
namespace ohmdrag::test {

/// 1 mm3/(N m) = 1e-9 m2/N.
constexpr WearRate mm3_per_Nm(double k) { return WearRate::from_value(1e-9 * k); }

/// Half a turn is pi/2 d: 45 mm at 100 turns a second slide 14.137 m/s, 50 894 km in 1000 h.
inline constexpr double way_m = 3.14159265358979 * 0.045 * 100.0 * 3.6e6;
inline constexpr double surface_m_s = 3.14159265358979 * 0.045 * 100.0;

inline study::Case machine() {
  using namespace literals;
  study::Case c = sample_case();
  c.service = {};
  c.service.hours = known(1000.0_h);
  c.samples = 1;
  c.sump.lubricant.viscosity_40 = known(25.0_mm2_s);
  c.shafts[0].density = known(7850.0_kg_m3);
  c.shafts[0].specific_heat = known(SpecificHeat::from_value(470.0));
  c.running_in = {known(0.3), known(5.0_h)};
  c.inverter.reset();
  c.coupling.reset();
  c.bearings.clear();
  c.duties.clear();
  c.variants.clear();
  return c;
}

inline study::ModulusCurve curve(const std::vector<std::pair<double, double>>& degC_and_ratio) {
  study::ModulusCurve result;
  for (const auto& [degC, ratio] : degC_and_ratio)
    result.points.push_back({known(from_celsius(degC)), known(ratio)});
  return result;
}

inline study::WearEntry wear(double k, std::optional<double> shaft = {}, double kg_m3 = 1700.0) {
  study::WearEntry entry{{known(mm3_per_Nm(k))}, {}, known(Density::from_value(kg_m3))};
  if (shaft) entry.shaft = study::Wear{known(mm3_per_Nm(*shaft))};
  return entry;
}

/// Half spring, half rubber, 0.6 mm of interference.
inline study::LipService wedge() {
  using namespace literals;
  study::LipService lip;
  lip.form = {known(0.5),  known(0.05), known(100.0_h), known(0.6_mm),
              known(25.0), known(45.0), known(0.15_mm), known(1.5_mm)};
  lip.relaxation = {known(0.05),       known(60.0_s),    known(30000.0_h),
                    known(125.0_degC), known(10825.0_K), known(0.6)};
  lip.modulus = curve({{20.0, 1.0}, {100.0, 0.6}});
  lip.wear = wear(1e-8, 5e-10, 1900.0);
  return lip;
}

/// A lip of 0.08 N/mm whose friction is 0.2 at every temperature.
inline study::LipElement lip_of(study::ContactService service) {
  using namespace literals;
  study::LipElement lip;
  lip.line_force = known(0.08_N_mm);
  lip.contact_width = known(0.15_mm);
  lip.law = study::ConstantFrictionEntry{known(0.2)};
  lip.body_conductivity = known(0.25_W_mK);
  lip.body_reach = known(1.0_mm);
  lip.service = std::move(service);
  return lip;
}

/// 15 N/m on 4 mm, behind 3 mm of deflection; 8 and 22 ohm at 10 N/m on 40 mm.
inline study::RingElement ring_of(study::ContactService service) {
  using namespace literals;
  study::RingElement ring;
  ring.line_force = known(0.015_N_mm);
  ring.contact_width = known(4.0_mm);
  ring.law = study::ConstantFrictionEntry{known(0.2)};
  ring.body_conductivity = known(0.2_W_mK);
  ring.body_reach = known(8.0_mm);
  ring.resistance = {known(8.0_ohm), known(22.0_ohm), known(0.010_N_mm), {},
                     known(40.0_mm), known(0.5),      known(0.75),       known(2.0)};
  ring.service = std::move(service);
  return ring;
}

/// Resistance of ring_of() by hand, at a line force in N/m.
inline double ring_ohm(double newton_per_m, double diameter_m) {
  const double x = newton_per_m / 10.0;
  return (8.0 * std::pow(x, -0.5) + 22.0 * std::pow(x, -0.875)) * 0.040 / diameter_m;
}

inline study::PadService felt() {
  using namespace literals;
  study::PadService pad;
  pad.wear = wear(3e-6, 5e-10);
  pad.deflection = known(3.0_mm);
  return pad;
}

/// 0.75 N on 25 mm2, 1 V of drop.
inline study::BrushElement brush_of(study::ContactService service) {
  using namespace literals;
  study::BrushElement brush;
  brush.force = known(0.75_N);
  brush.contact_width = known(5.0_mm);
  brush.law = study::ConstantFrictionEntry{known(0.2)};
  brush.holder = known(ThermalResistance::from_value(30.0));
  brush.section = known(Area::from_value(25e-6));
  brush.contact_drop = known(1.0_V);
  brush.resistance = {known(0.5_ohm), known(60.0_ohm), {},        known(0.75_N), {},
                      known(0.5),     known(0.75),     known(2.0)};
  brush.service = std::move(service);
  return brush;
}

inline study::PadService behind_a_spring(Length wear_length) {
  study::PadService pad;
  pad.wear = wear(2e-6, 5e-10);
  pad.wear_length = known(wear_length);
  return pad;
}

template <class Form>
study::Element element_of(Form form) {
  study::Element element;
  element.id = element.title = "invented";
  element.form = std::move(form);
  return element;
}

template <class Form>
study::Seal seal_with(Form form) {
  using namespace literals;
  study::Seal seal;
  seal.element = element_of(std::move(form));
  seal.shaft = "rotor";
  seal.position = known(12.0_mm);
  return seal;
}

template <class Form>
study::Grounding grounding_with(Form form) {
  using namespace literals;
  study::Grounding grounding;
  grounding.element = element_of(std::move(form));
  grounding.shaft = "rotor";
  grounding.position = known(16.0_mm);
  grounding.path = study::StatedPath{known(10.0_nH)};
  return grounding;
}

inline study::Case with(std::optional<study::Seal> seal, std::optional<study::Grounding> grounding,
                        std::vector<study::ExtraDrag> extras = {}) {
  study::Case c = machine();
  study::Variant variant;
  variant.id = variant.title = c.baseline;
  variant.seal = std::move(seal);
  variant.grounding = std::move(grounding);
  variant.extras = std::move(extras);
  c.variants = {std::move(variant)};
  return c;
}

inline study::VariantFindings answer(const study::Case& question) {
  return study::evaluate(question, {.budget = true}).variants.at(0);
}

inline const study::BudgetRow& watts(const study::VariantFindings& findings,
                                     const std::string& component, std::size_t occurrence = 0) {
  for (const study::BudgetRow& row : findings.budget)
    if (row.component == component && occurrence-- == 0) return row;
  FAIL("no watts of " << component);
  return findings.budget.front();
}

inline const study::ServiceRow& life(const study::VariantFindings& findings,
                                     const std::string& component) {
  const auto found = std::ranges::find(findings.service, component, &study::ServiceRow::component);
  if (found == findings.service.end()) FAIL("no service of " << component);
  return *found;
}

/// Text of a flag; empty if there is none.
inline std::string flag(const std::vector<study::Flag>& flags, const std::string& code) {
  const auto found = std::ranges::find(flags, code, &study::Flag::code);
  return found == flags.end() ? std::string{} : found->text;
}

inline std::vector<double> numbers_in(const std::string& text) {
  static const std::regex number{R"((?:^|[^\w.])(-?\d+(?:\.\d+)?(?:e[-+]?\d+)?))"};
  std::vector<double> found;
  for (std::sregex_iterator it(text.begin(), text.end(), number), end; it != end; ++it)
    found.push_back(std::stod((*it)[1]));
  return found;
}

}  // namespace ohmdrag::test
