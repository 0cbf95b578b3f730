#pragma once

#include "study/ensemble.hpp"
#include "study/service.hpp"

/// The sections of the findings, each read from the ensemble by one function.
namespace ohmdrag::study {

/// Everything at its middle: gives flags, verdicts and words, which have no interval.
struct Nominal {
  Nominal(const Ensemble& ensemble, std::size_t variant);

  const Case* world;
  const Variant* entry;
  Draw draw;
  WorldModel model;
  VariantModel variant;
};

void fill_budget(const Ensemble& ensemble, std::size_t variant, const Nominal& nominal,
                 VariantFindings& findings);
/// Totals, targets and splits; after the budget.
void fill_account(const Ensemble& ensemble, std::size_t variant, const Nominal& nominal,
                  VariantFindings& findings);
/// What a watt is worth at each shaft of the baseline, duty by duty.
std::vector<WorthRow> watt_worth(const Ensemble& ensemble);
void fill_service(const Ensemble& ensemble, std::size_t variant, const Nominal& nominal,
                  VariantFindings& findings);
void fill_energy(const Ensemble& ensemble, std::size_t variant, const Nominal& nominal,
                 VariantFindings& findings);
void fill_voltage(const Ensemble& ensemble, std::size_t variant, const Nominal& nominal,
                  VariantFindings& findings);
void fill_life(const Ensemble& ensemble, std::size_t variant, VariantFindings& findings);
void fill_requirements(const Ensemble& ensemble, std::size_t variant, VariantFindings& findings);

/// Requirements first, then dominance, then the least watts among what is demonstrably useful.
Trade trade(const Ensemble& ensemble, const std::vector<VariantFindings>& variants);
Claim claim(const Case& question, const Variant& chosen, const Sections& sections);

/// The numbers behind the findings, ranked by what each moves; fills assumptions, assumed_share
/// and headline.
void fill_register(const Ensemble& ensemble, Findings& findings);

std::vector<std::string> cautions(const Case& question, const Sections& sections);

// --- figures that several sections read ----------------------------------------------------------

/// All watts of one point.
double total_W(const VariantSample& sample, std::size_t point);
/// Battery energy of all parts over the mix, Wh/km.
double battery_Wh_per_km(const DutySample& duty);
double shaft_Wh_per_km(const DutySample& duty);
/// Mean watts of all parts over a duty.
double mean_W(const DutySample& duty);

/// Sum over the bearings of the service mix, per second of running.
BearingSample service_sum(const ServiceMix& mix, const VariantSample& sample, std::size_t bearings);

/// Dose of the baseline over dose of the variant; 1 where neither strikes, infinite where only the
/// baseline does.
double dose_factor(const BearingSample& baseline, const BearingSample& variant);

bool has_electrics(const Case& world);
/// Electrics, a bearing to strike and a duty to count over.
bool strikes_can_be_counted(const Case& world);

/// Whether a requirement holds in one draw; nothing if it has no value there.
std::optional<double> requirement_value(const Ensemble& ensemble, const Requirement& requirement,
                                        std::size_t variant, std::size_t draw);
bool holds(const Requirement& requirement, double value);

}  // namespace ohmdrag::study
