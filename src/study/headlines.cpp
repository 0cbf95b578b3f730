#include "ohmdrag/study/headlines.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "study/exchange.hpp"

namespace ohmdrag::study {
namespace {

/// The hottest contact of a variant over all operating points; NaN without contacts.
Interval hottest_contact_in_celsius(const std::vector<VariantSample>& samples) {
  return reduce(samples, [](const VariantSample& sample) {
    double hottest = not_a_figure;
    for (const PointSample& point : sample.points)
      for (const PartSample& part : point.parts) hottest = std::fmax(hottest, part.contact_degC);
    return hottest;
  });
}

/// Every figure of one variant, those without a value too: which figures there are follows from the
/// case, never from a variant or a draw.
class Figures {
 public:
  Figures(const Ensemble& ensemble, std::size_t v, const ExchangeRow& row,
          const VariantFindings& findings)
      : question_(*ensemble.question),
        world_(ensemble.world(v)),
        samples_(ensemble.samples[v]),
        row_(row),
        findings_(findings) {}

  std::vector<HeadlineFigure> all() {
    points();
    energy();
    lives();
    impedance();
    discharges();
    return std::move(figures_);
  }

 private:
  void add(std::string name, std::optional<Interval> value, std::string why) {
    if (value && std::isnan(value->mid)) value.reset();
    if (value) why.clear();
    figures_.push_back({std::move(name), value, std::move(why)});
  }

  void points() {
    for (std::size_t p = 0; p < question_.points.size(); ++p) {
      const std::string& id = question_.points[p].id;
      add(id + ".total_W",
          reduce(samples_, [p](const VariantSample& sample) { return total_W(sample, p); }), {});
      add(id + ".net_W", row_.net_W_by_point[p], {});
    }
    if (!question_.points.empty())
      add("contact_temperature_degC", hottest_contact_in_celsius(samples_), "no rubbing contact");
  }

  void energy() {
    if (question_.duties.empty()) return;
    if (question_.duties.front().is_driven())
      add("battery_Wh_per_km", row_.battery_Wh_per_km, "no battery path");
    else
      add("kWh_per_year", row_.kWh_per_year, "running hours a year not stated");
  }

  void lives() {
    if (question_.bearings.empty() || question_.duties.empty()) return;
    const auto& system = findings_.life_system;
    const auto of_system = [&](auto member) -> std::optional<Interval> {
      return system ? std::optional<Interval>((*system).*member) : std::nullopt;
    };
    add("basic_life_h", of_system(&LifeSystem::basic_h), "no bearings in this variant");
    if (question_.sump.cleanliness)
      add("modified_life_h", system ? system->modified_h : std::nullopt,
          "cleanliness of the oil not known");
    if (question_.laws.empty() || !strikes_can_be_counted(question_)) return;
    add("life_h", row_.life_h, "the damage law gives no hours here");
    add("life_gain_h", row_.life_gain_h, "the damage law gives no hours here");
  }

  void impedance() {
    const auto grounded = [](const Variant& variant) { return variant.grounding.has_value(); };
    if (std::ranges::any_of(question_.variants, grounded))
      add("impedance_at_1_MHz_ohm", row_.impedance_end_of_service_ohm,
          "no grounding contact of known resistance");
  }

  void discharges() {
    if (!has_electrics(question_)) return;
    const auto electric = [&](const Interval& value, bool there) {
      return there ? std::optional(value) : std::nullopt;
    };
    if (!question_.points.empty()) {
      add("edge_peak_V", electric(row_.edge_peak_V, has_electrics(world_)), no_voltage);
      add("held_V", electric(row_.held_V, has_electrics(world_)), no_voltage);
    }
    if (!strikes_can_be_counted(question_)) return;
    const bool counted = strikes_can_be_counted(world_);
    add("striking_time_share", electric(row_.striking_time_share, counted), no_voltage);
    add("striking_time_share_removed", electric(row_.striking_time_share_removed, counted),
        no_voltage);
    add("dose_factor", row_.dose_factor, "dose not compared");
  }

  static constexpr auto no_voltage = "no shaft voltage in this variant";

  const Case& question_;
  const Case& world_;
  const std::vector<VariantSample>& samples_;
  const ExchangeRow& row_;
  const VariantFindings& findings_;
  std::vector<HeadlineFigure> figures_;
};

/// In the order of their first appearance.
std::vector<std::string> codes_of_flags(const VariantFindings& findings) {
  std::vector<std::string> codes;
  const auto add = [&](const std::vector<Flag>& flags) {
    for (const Flag& flag : flags)
      if (!flag.kept_limit && std::ranges::find(codes, flag.code) == codes.end())
        codes.push_back(flag.code);
  };
  for (const BudgetRow& row : findings.budget) add(row.flags);
  for (const LifeRow& row : findings.life) add(row.flags);
  return codes;
}

/// What the trade reads of a variant, and the flags of its parts.
VariantFindings findings_of(const ServiceMeans& means, std::size_t v) {
  const Ensemble& ensemble = means.ensemble();
  VariantFindings findings;
  findings.id = ensemble.question->variants[v].id;
  const Nominal nominal(ensemble, v);
  fill_budget(ensemble, v, nominal, findings);
  fill_life(means, v, findings);
  fill_law_blindness(means, v, findings);
  fill_rating_life(means, v, findings);
  fill_harm(ensemble, v, nominal, findings);
  fill_requirements(ensemble, v, findings);
  return findings;
}

}  // namespace

Headlines headlines(const Case& question) {
  if (question.variants.empty()) throw std::invalid_argument("a case needs at least one variant");
  const Sections sections = Sections::all();
  const Ensemble ensemble(question, sections);
  const ServiceMeans means(ensemble);
  std::vector<VariantFindings> findings;
  for (std::size_t v = 0; v < question.variants.size(); ++v)
    findings.push_back(findings_of(means, v));
  const Trade weighed = trade(means, findings);

  Headlines result;
  result.any_chosen = !weighed.chosen.empty();
  result.cautions = cautions(question, sections);
  for (std::size_t v = 0; v < findings.size(); ++v) {
    const ExchangeRow& row = weighed.exchange[v];
    VariantHeadlines variant;
    variant.variant = row.variant;
    variant.figures = Figures(ensemble, v, row, findings[v]).all();
    variant.requirements_met = row.requirements_met;
    variant.requirements_asked = row.requirements_asked;
    for (const RequirementRow& requirement : findings[v].requirements)
      if (!requirement.not_applicable && !requirement.met)
        variant.requirements_missed.push_back(requirement.id);
    variant.nondominated = row.nondominated;
    variant.chosen = row.variant == weighed.chosen;
    variant.probability_best = row.probability_best;
    variant.verdict = row.verdict;
    variant.flags = codes_of_flags(findings[v]);
    result.variants.push_back(std::move(variant));
  }
  return result;
}

void keep_to_the_middle(Case& question) { question.samples = 1; }

}  // namespace ohmdrag::study
