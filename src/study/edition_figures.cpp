#include "study/edition_figures.hpp"

#include <algorithm>
#include <limits>

#include "ohmdrag/study/visit.hpp"

namespace ohmdrag::study {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr Interval nothing{nan, nan, nan};

bool is_among(const std::vector<UncertainNumber>& sealed, const UncertainNumber& number) {
  return std::ranges::find(sealed, number.key, &UncertainNumber::key) != sealed.end();
}
template <class N>
bool is_among(const std::vector<UncertainNumber>& sealed, const std::optional<N>& number) {
  return number && is_among(sealed, *number);
}

bool any_among(const std::vector<UncertainNumber>& sealed, const Element& element) {
  bool any = false;
  for_each_number(element,
                  [&](const UncertainNumber& number) { any = any || is_among(sealed, number); });
  return any;
}

class Echoes {
 public:
  Echoes(const Case& question, const std::vector<UncertainNumber>& sealed, Findings& findings)
      : question_(question), sealed_(sealed), findings_(findings) {}

  void take_out() {
    requirements();
    allocations();
    totals();
    points();
    service();
    ways_to_the_frame();
    courses();
    for (std::size_t v = 0; v < findings_.variants.size(); ++v) contacts(v);
  }

 private:
  template <class N>
  bool is_sealed(const N& number) const {
    return is_among(sealed_, number);
  }

  void requirements() {
    for (const Requirement& asked : question_.requirements) {
      if (!is_sealed(asked.max) && !is_sealed(asked.min)) continue;
      for (VariantFindings& variant : findings_.variants)
        for (RequirementRow& row : variant.requirements)
          if (row.id == asked.id) row.limit = row.margin = nan;
    }
  }

  void allocations() {
    for (const Allocation& given : question_.allocations) {
      if (!is_sealed(given.max)) continue;
      for (VariantFindings& variant : findings_.variants) {
        for (BudgetRow& row : variant.budget)
          if (row.component == given.component && row.point == given.point) {
            row.allocation_W.reset();
            row.margin_W.reset();
          }
        for (AccountRow& row : variant.account) {
          if (row.point != given.point || row.duty != given.duty) continue;
          row.allocated_W = nan;
          row.reserve_W.reset();
          for (AccountPart& part : row.parts)
            if (part.component == given.component) {
              part.allocation_W.reset();
              part.margin_W.reset();
            }
        }
      }
    }
  }

  void totals() {
    for (VariantFindings& variant : findings_.variants) {
      for (const Target& target : question_.targets)
        for (AccountRow& row : variant.account)
          if (is_sealed(target.max) && row.point == target.point && row.duty == target.duty) {
            row.target_W.reset();
            row.reserve_W.reset();
            row.margin_W.reset();
          }
      for (const Split& split : question_.splits)
        for (SplitRow& row : variant.split)
          if (is_sealed(split.total) && row.point == split.point && row.duty == split.duty) {
            row.total_W = nan;
            for (SplitPart& part : row.parts) part.max_W = nan;
          }
    }
  }

  /// A course begins at the temperature that its duty states; its times are those of the duty.
  void courses() {
    const bool any = std::ranges::any_of(
        sealed_, [](const UncertainNumber& number) { return number.key.starts_with("duty."); });
    if (!any) return;
    for (VariantFindings& variant : findings_.variants) variant.courses.clear();
  }

  /// The speed of a point shows in the speeds of all its shafts.
  void points() {
    for (const OperatingPoint& point : question_.points) {
      const bool speed = is_sealed(point.road_speed) || is_sealed(point.shaft_speed);
      const bool oil = is_sealed(point.oil_temperature);
      for (VariantFindings& variant : findings_.variants) {
        if (SpeedWatts* curve = variant.watts_over_speed ? &*variant.watts_over_speed : nullptr) {
          if (speed) curve->rows.clear();  // their ends are at the fastest point
          if (oil && curve->point == point.id) curve->oil_degC = nan;
        }
        for (BudgetRow& row : variant.budget)
          if (speed && row.point == point.id) row.shaft_speed_rpm = row.surface_speed_mps = nan;
        for (VoltageRow& row : variant.voltage) {
          if (row.point != point.id) continue;
          if (speed) row.shaft_speed_rpm = row.modulation_index = nan;
          if (oil) row.oil_degC = nan;
        }
      }
    }
    // A shaft's ratio or diameter lies between its speed and that of its surface.
    for (const Shaft& shaft : question_.shafts) {
      const bool any_gear = std::ranges::any_of(
          shaft.higher_gears, [&](const Shaft::Gear& gear) { return is_sealed(gear.ratio); });
      if (!any_gear && !is_sealed(shaft.ratio) && !is_sealed(shaft.diameter)) continue;
      for (VariantFindings& variant : findings_.variants)
        for (BudgetRow& row : variant.budget)
          if (row.shaft == shaft.id) row.shaft_speed_rpm = row.surface_speed_mps = nan;
      for (VariantFindings& variant : findings_.variants)
        if (variant.watts_over_speed)
          std::erase_if(variant.watts_over_speed->rows,
                        [&](const SpeedWattsRow& row) { return row.shaft == shaft.id; });
    }
  }

  /// Distance and hours follow from each other where the duties are known.
  void service() {
    if (!is_sealed(question_.service.distance) && !is_sealed(question_.service.years) &&
        !is_sealed(question_.service.hours))
      return;
    const auto take_out_of = [](auto& row) {
      row.service_hours.reset();
      row.service_distance_km.reset();
    };
    for (VariantFindings& variant : findings_.variants) {
      for (LifeRow& row : variant.life) take_out_of(row);
      if (variant.life_system) take_out_of(*variant.life_system);
      for (ServiceRow& row : variant.service) {
        row.hours.reset();
        row.way_km.reset();
      }
      if (!variant.years) continue;
      variant.years->service_distance_km.reset();
      for (YearsAge& row : variant.years->ages) row.hours.reset();
      for (Protection* lost : {&variant.years->by_striking, &variant.years->by_dose}) {
        lost->after_h.reset();
        lost->after_km.reset();
        lost->after_years.reset();
      }
      variant.years->sentence = "Not in this edition: it would tell the length of the service.";
      // Dose over dose rate, or kilowatt hours over watts, would be the hours.
      variant.years->steps.clear();
    }
    for (WorthRow& row : findings_.watt_worth) {
      row.battery_kWh_over_service.reset();
      row.plug_kWh_over_service.reset();
      row.plug_cost_over_service.reset();
    }
    if (findings_.trade)
      for (ExchangeRow& row : findings_.trade->exchange) {
        take_out_of(row);
        row.life_in_words.clear();  // names the hours of the service
      }
  }

  /// Stated capacitances and thresholds stand in the table of paths as they are.
  void ways_to_the_frame() {
    for (VariantFindings& variant : findings_.variants)
      for (VoltageRow& voltage : variant.voltage)
        for (PathRow& row : voltage.paths) {
          for (const PathToFrame& path : question_.paths_to_frame) {
            if (row.id != path.id) continue;
            if (is_sealed(path.capacitance)) row.capacitance_pF.reset();
            if (!is_sealed(path.threshold)) continue;
            row.threshold_V.reset();
            row.stress = nan;
          }
          for (const Bearing& bearing : question_.bearings)
            if (row.id == bearing.id && is_sealed(bearing.capacitance)) row.capacitance_pF.reset();
        }
  }

  void contacts(std::size_t v) {
    if (v >= question_.variants.size()) return;
    const Variant& variant = question_.variants[v];
    for (ServiceRow& row : findings_.variants[v].service) {
      const SealedContact contact = row.component == "seal" ? sealed_of_seal(variant, sealed_)
                                    : row.component == "grounding"
                                        ? sealed_of_grounding(variant, sealed_)
                                        : SealedContact{};
      if (contact.force)
        row.line_force_N_per_mm = row.line_force_middle_N_per_mm = row.line_force_end_N_per_mm =
            row.contact_width_mm = row.contact_width_end_mm = nothing;
      if (contact.resistance) {
        row.resistance_ohm.reset();
        row.resistance_middle_ohm.reset();
        row.resistance_end_ohm.reset();
      }
    }
    if (findings_.variants[v].years && sealed_of_grounding(variant, sealed_).force)
      for (YearsAge& row : findings_.variants[v].years->ages) row.line_force_N_per_mm.reset();
  }

  const Case& question_;
  const std::vector<UncertainNumber>& sealed_;
  Findings& findings_;
};

}  // namespace

SealedContact sealed_of_seal(const Variant& variant, const std::vector<UncertainNumber>& sealed) {
  if (!variant.seal) return {};
  return {is_among(sealed, variant.seal->line_force) || any_among(sealed, variant.seal->element),
          false};
}

SealedContact sealed_of_grounding(const Variant& variant,
                                  const std::vector<UncertainNumber>& sealed) {
  if (!variant.grounding) return {};
  const Grounding& grounding = *variant.grounding;
  const bool element = any_among(sealed, grounding.element);
  return {element || is_among(sealed, grounding.line_force) ||
              is_among(sealed, grounding.total_radial_force) ||
              is_among(sealed, grounding.split_shaft_reading) ||
              is_among(sealed, grounding.interference),
          element || is_among(sealed, grounding.resistance)};
}

void take_out_echoes(const Case& question, const std::vector<UncertainNumber>& sealed,
                     Findings& findings) {
  Echoes(question, sealed, findings).take_out();
  if (findings.sensitivity) take_out_moved_inputs(sealed, *findings.sensitivity);
}

void for_each_text(Findings& findings, const std::function<void(std::string&)>& visit) {
  const auto flags_of = [&](auto& rows) {
    for (auto& row : rows)
      for (Flag& flag : row.flags) visit(flag.text);
  };
  visit(findings.title);
  visit(findings.question);
  for (VariantFindings& variant : findings.variants) {
    visit(variant.title);
    flags_of(variant.budget);
    flags_of(variant.split);
    flags_of(variant.service);
    flags_of(variant.energy);
    flags_of(variant.voltage);
    flags_of(variant.life);
    for (BudgetRow& row : variant.budget) visit(row.title);
    for (ServiceRow& row : variant.service) visit(row.title);
    for (HarmRow& row : variant.harm) visit(row.text);
    for (TripRow& row : variant.trips) visit(row.report);
    for (VoltageRow& row : variant.voltage) {
      visit(row.in_words);
      visit(row.paths_in_words);
    }
    for (LifeRow& row : variant.life)
      for (ElectricalLife& life : row.electrical) visit(life.remark);
    for (RequirementRow& row : variant.requirements) {
      visit(row.at);
      if (row.not_applicable) visit(*row.not_applicable);
    }
    if (!variant.years) continue;
    for (std::string* text :
         {&variant.years->sentence, &variant.years->survival_in_words, &variant.years->remark})
      visit(*text);
  }
  if (findings.trade) {
    visit(findings.trade->reason);
    visit(findings.trade->claim.sentence);
    visit(findings.trade->claim.missing);
    for (ExchangeRow& row : findings.trade->exchange)
      for (std::string* text : {&row.verdict, &row.life_in_words, &row.break_even.sentence})
        visit(*text);
  }
  if (findings.sensitivity) for_each_text(*findings.sensitivity, visit);
  for (FirstOrderRow& row : findings.first_order) visit(row.because);
  for (Assumption& row : findings.assumptions) visit(row.source);
  for (std::string& caution : findings.cautions) visit(caution);
}

}  // namespace ohmdrag::study
