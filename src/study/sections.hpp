#pragma once

#include "study/ensemble.hpp"
#include "study/service_means.hpp"

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
/// Own watts over the speed of the shafts, with the oil and the torque of the headline point: what
/// the parts of the budget take at the speeds between its points.
void fill_speed_watts(const Ensemble& ensemble, std::size_t variant, const Nominal& nominal,
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
/// What was published about current densities, beside which those of the discharges stand.
std::vector<DensityStatement> density_statements(const Case& question);
void fill_life(const ServiceMeans& means, std::size_t variant, VariantFindings& findings);
/// Where the current-density law gives a variant the hours of the baseline although it discharges
/// otherwise; into the rows of fill_life().
void fill_law_blindness(const ServiceMeans& means, std::size_t variant, VariantFindings& findings);
/// Modified rating life of the rows of fill_life(), and all bearings together.
void fill_rating_life(const ServiceMeans& means, std::size_t variant, VariantFindings& findings);
/// What needs a walk of all variants through the duties: where it strikes, how warm it gets
/// underway, and what comes together from the begin of the service to its end; after fill_life() of
/// all.
void fill_over_duties(const Ensemble& ensemble, std::vector<VariantFindings>& findings);
/// What a variant does besides, against the baseline.
void fill_harm(const Ensemble& ensemble, std::size_t variant, const Nominal& nominal,
               VariantFindings& findings);
void fill_requirements(const Ensemble& ensemble, std::size_t variant, VariantFindings& findings);

/// Requirements first, then dominance, then the least watts among what is demonstrably useful.
Trade trade(const ServiceMeans& means, const std::vector<VariantFindings>& variants);
Claim claim(const Case& question, const Variant& chosen, const Sections& sections);

/// The numbers behind the findings, in the order of the case.
void fill_register(const Ensemble& ensemble, Findings& findings);

std::vector<std::string> cautions(const Case& question, const Sections& sections);
/// A machine so large that circulating bearing current counts; false where its power is not stated.
bool machine_is_large(const Case& question);
/// Why circulating bearing current, which is not modelled, has to be looked at in a variant; none:
/// it is small as a rule.
std::vector<std::string> circulating_current_reasons(const Case& question, const Variant& variant);

// --- figures that several sections read ----------------------------------------------------------

/// All watts of one point.
double total_W(const VariantSample& sample, std::size_t point);
/// Battery energy of all parts over the mix, Wh/km.
double battery_Wh_per_km(const DutySample& duty);
/// Mean watts of all parts over a duty.
double mean_W(const DutySample& duty);
/// Mean watts of one part over a duty.
double part_mean_W(const DutySample& duty, std::size_t part);

/// Sum over the bearings and all other ways to the frame, per second of running of the service mix.
BearingSample service_sum(const ServiceMix& mix, const VariantSample& sample);

/// Dose of the baseline over dose of the variant; 1 where neither strikes, infinite where only the
/// baseline does.
double dose_factor(const BearingSample& baseline, const BearingSample& variant);

bool has_electrics(const Case& world);
/// Electrics, a bearing to strike and a duty to count over.
bool strikes_can_be_counted(const Case& world);

/// Whether a requirement holds in one draw; nothing if it has no value there.
std::optional<double> requirement_value(const Ensemble& ensemble, const Requirement& requirement,
                                        std::size_t variant, std::size_t draw);
/// The same of any draw of the variant and the baseline.
std::optional<double> requirement_value(const Ensemble& ensemble, const Requirement& requirement,
                                        std::size_t variant, const VariantSample& sample,
                                        const VariantSample& baseline);
bool holds(const Requirement& requirement, double value);
/// "impedance-magnitude at most 400 ohm, cruise, end of service"
std::string in_words(const Requirement& requirement);

}  // namespace ohmdrag::study
