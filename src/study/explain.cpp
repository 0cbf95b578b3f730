#include "ohmdrag/study/explain.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>
#include <stdexcept>

#include "ohmdrag/study/edition.hpp"
#include "ohmdrag/study/headlines.hpp"
#include "study/decision.hpp"
#include "study/explain_edition.hpp"
#include "study/explain_parts.hpp"
#include "study/moved_numbers.hpp"

namespace ohmdrag::study {
namespace {

/// A figure, a variant and, of figures at a point, a point.
struct Asked {
  std::string figure, variant;
  std::optional<std::string> point;
};

std::string name_of(const Asked& asked) {
  return fmt::format("{}:{}{}", asked.figure, asked.variant,
                     asked.point ? '@' + *asked.point : std::string{});
}

struct Described {
  std::string_view figure, what;
};

constexpr Described at_points[]{
    {"total_W", "own watts of all parts"},
    {"net_W", "watts against the present design"},
    {"edge_step_V", "step on the shaft at an edge, without any path"},
    {"threshold_V", "voltage of the shaft at which a film gives way"},
    {"edge_peak_V", "highest shaft voltage after the edge of the verdict"},
    {"held_V", "shaft voltage before the next edge"},
    {"discharge_rate_per_s", "discharges a second"},
    {"dose_rate_W_per_mm2", "discharge power over contact area"},
    {"impedance_at_1_MHz_ohm", "impedance of the path at the end of service"},
};

constexpr Described over_service[]{
    {"battery_Wh_per_km", "battery energy against the present design"},
    {"kWh_per_year", "energy against the present design, a year"},
    {"break_even_kWh", "energy over the service, the price of an avoided event"},
    {"basic_life_h", "basic rating life of all bearings"},
    {"modified_life_h", "modified rating life of all bearings"},
    {"striking_time_share", "share of the running time that may be struck"},
    {"dose_factor", "dose of the present design over this one"},
    {"life_h", "life of all bearings under the first law"},
    {"life_gain_h", "hours against the present design under that law"},
};

std::string_view what_of(const std::string& figure) {
  for (const Described& one : at_points)
    if (one.figure == figure) return one.what;
  for (const Described& one : over_service)
    if (one.figure == figure) return one.what;
  return {};
}

bool is_difference(std::string_view figure) {
  return figure == "net_W" || figure == "battery_Wh_per_km" || figure == "kWh_per_year" ||
         figure == "break_even_kWh" || figure == "life_gain_h";
}

/// The nominal case with its trade; figures are read from it.
struct Answered {
  explicit Answered(const Case& question)
      : nominal(question), ensemble((keep_to_the_middle(nominal), nominal), Sections::all()) {
    std::vector<VariantFindings> filled;
    trade = weighed(ensemble, filled);
    findings = std::move(filled);
  }
  // The ensemble looks at `nominal`.
  Answered(const Answered&) = delete;
  Answered& operator=(const Answered&) = delete;

  Case nominal;
  Ensemble ensemble;
  std::vector<VariantFindings> findings;
  Trade trade;

  std::size_t variant(const std::string& id) const {
    for (std::size_t v = 0; v < nominal.variants.size(); ++v)
      if (nominal.variants[v].id == id) return v;
    throw std::invalid_argument(fmt::format("the case has no variant \"{}\"", id));
  }
  std::size_t point(const std::string& id) const {
    for (std::size_t p = 0; p < nominal.points.size(); ++p)
      if (nominal.points[p].id == id) return p;
    throw std::invalid_argument(fmt::format("the case has no operating point \"{}\"", id));
  }

  std::optional<double> at_point(const Asked& asked, std::size_t v, std::size_t p) const;
  std::optional<double> of_service(const Asked& asked, std::size_t v) const;
  /// As the trade study has it; none where it does not exist or is infinite.
  std::optional<double> value(const Asked& asked) const {
    const std::size_t v = variant(asked.variant);
    if (is_difference(asked.figure) && v == ensemble.baseline) return std::nullopt;
    const auto found = asked.point ? at_point(asked, v, point(*asked.point)) : of_service(asked, v);
    return found && std::isfinite(*found) ? found : std::nullopt;
  }
};

std::optional<double> Answered::at_point(const Asked& asked, std::size_t v, std::size_t p) const {
  const PointSample& sample = ensemble.samples[v].front().points[p];
  const std::string& figure = asked.figure;
  if (figure == "total_W") return sample.total_W;
  if (figure == "net_W") return trade.exchange[v].net_W_by_point[p].mid;
  if (figure == "impedance_at_1_MHz_ohm") {
    if (sample.impedance_ohm.back().empty()) return std::nullopt;
    const auto at = std::ranges::find(ensemble.frequencies, Frequency::from_value(1e6));
    return sample.impedance_ohm.back()[std::size_t(at - ensemble.frequencies.begin())];
  }
  if (!has_electrics(ensemble.world(v))) return std::nullopt;
  const ElectricSample& electric = sample.electric;
  const bool conducts = !std::isnan(electric.conducting_A);
  if (figure == "edge_step_V") return electric.edge_step_V;
  if (conducts) return std::nullopt;
  if (figure == "threshold_V") return electric.threshold_V;
  if (figure == "edge_peak_V") return electric.verdict_edge_V;
  if (figure == "held_V") return electric.held_V;
  if (std::isnan(electric.threshold_V)) return std::nullopt;
  if (figure == "discharge_rate_per_s") return electric.discharge_rate_per_s;
  if (std::isnan(electric.density_A_mm2)) return std::nullopt;
  return electric.dose_rate * 1e-6;
}

std::optional<double> Answered::of_service(const Asked& asked, std::size_t v) const {
  const ExchangeRow& row = trade.exchange[v];
  const auto mid = [](const std::optional<Interval>& value) {
    return value ? std::optional(value->mid) : std::nullopt;
  };
  const std::string& figure = asked.figure;
  const auto& system = findings[v].life_system;
  if (figure == "battery_Wh_per_km") return mid(row.battery_Wh_per_km);
  if (figure == "kWh_per_year") return mid(row.kWh_per_year);
  if (figure == "break_even_kWh") return mid(row.break_even.kWh_per_avoided_event);
  if (figure == "basic_life_h") return system ? std::optional(system->basic_h.mid) : std::nullopt;
  if (figure == "modified_life_h") return system ? mid(system->modified_h) : std::nullopt;
  if (figure == "life_h") return mid(row.life_h);
  if (figure == "life_gain_h") {
    const auto base = mid(trade.exchange[ensemble.baseline].life_h);
    return base && std::isfinite(*base) ? mid(row.life_gain_h) : std::nullopt;
  }
  if (!strikes_can_be_counted(ensemble.world(v))) return std::nullopt;
  if (figure == "striking_time_share") return row.striking_time_share.mid;
  const double left = service_sum(service_mix(nominal), ensemble.samples[v].front()).dose_J_m2;
  if (!(left > 0.0)) return std::nullopt;
  return mid(row.dose_factor);
}

/// Every figure that exists.
std::vector<Asked> all_of(const Answered& answered) {
  std::vector<Asked> result;
  const auto add = [&](Asked asked) {
    if (answered.value(asked)) result.push_back(std::move(asked));
  };
  for (const Variant& variant : answered.nominal.variants) {
    for (const OperatingPoint& point : answered.nominal.points)
      for (const Described& one : at_points) add({std::string(one.figure), variant.id, point.id});
    for (const Described& one : over_service) add({std::string(one.figure), variant.id, {}});
  }
  return result;
}

Asked asked_for(const std::string& figure, const std::vector<Asked>& known) {
  const auto found = std::ranges::find(known, figure, name_of);
  if (found != known.end()) return *found;
  std::string alike;
  for (const Asked& one : known)
    if (figure.starts_with(one.figure) && alike.size() < 200)
      alike += (alike.empty() ? "" : ", ") + name_of(one);
  throw std::invalid_argument(fmt::format(
      "there is no figure \"{}\" to explain; {}", figure,
      alike.empty() ? "explain without a figure lists them all" : "there are " + alike));
}

void explain_net(const Answered& answered, std::size_t v, std::size_t p, Chain& chain) {
  const Ensemble& ensemble = answered.ensemble;
  const std::string here = explain_point(ensemble, v, p, "", chain);
  const std::string base = explain_point(ensemble, ensemble.baseline, p, "_base", chain);
  chain.step("net_W", fmt::format("{} - {}", here, base), chain.value(here) - chain.value(base),
             "W", "watts against the present design", "difference");
}

void fill_chain(const Answered& answered, const Asked& asked, Chain& chain) {
  const std::size_t v = answered.variant(asked.variant);
  if (!asked.point) return explain_service(answered.ensemble, v, asked.figure, chain);
  const std::size_t p = answered.point(*asked.point);
  if (asked.figure == "net_W") return explain_net(answered, v, p, chain);
  if (asked.figure == "impedance_at_1_MHz_ohm")
    return explain_impedance(answered.ensemble, v, p, chain);
  if (asked.figure != "total_W")
    return explain_voltage(answered.ensemble, v, p, asked.figure, chain);
  const std::string all = explain_point(answered.ensemble, v, p, "", chain);
  chain.step("total_W", all, chain.value(all), "W", "own watts of all parts", "definition");
}

std::vector<std::string> notes_of(const Asked& asked) {
  std::vector<std::string> notes{
      "The nominal case: every number at its middle. The trade study shows the middle of the "
      "draws, which is another figure where the models bend."};
  if (!asked.point)
    notes.emplace_back(
        "A march of some thousand stretches is not worked out: its sums over a duty are taken as "
        "numbers. Every stretch is reckoned as total_W:VARIANT@POINT is for a point; of energies "
        "one stretch is worked out first.");
  return notes;
}

/// The case with all sealed numbers moved; none where that is no case.
std::unique_ptr<Answered> moved(const Case& question, const std::vector<UncertainNumber>& sealed) {
  for (const double direction : {1.0, -1.0}) {
    try {
      return std::make_unique<Answered>(with_moved(question, sealed, direction));
    } catch (const std::invalid_argument&) {  // a formula is not defined there
    } catch (const std::domain_error&) {      // no solution there
    }
  }
  return nullptr;
}

std::vector<ExplainLine> chain_of(const Answered& answered, const Asked& asked) {
  Chain chain(answered.nominal);
  fill_chain(answered, asked, chain);
  return std::move(chain).lines();
}

/// No lines where the figure does not exist in the case.
std::vector<ExplainLine> chain_if_any(const Answered& answered, const Asked& asked) {
  try {
    return chain_of(answered, asked);
  } catch (const std::invalid_argument&) {
    return {};
  }
}

}  // namespace

struct Explainer::Inside {
  Inside(const Case& question, Share for_reader)
      : answered(question),
        known(all_of(answered)),
        reader(for_reader),
        sealed(sealed_numbers(question, for_reader)),
        moved(sealed.empty() ? nullptr : study::moved(question, sealed)) {}

  Answered answered;
  std::vector<Asked> known;
  Share reader;
  std::vector<UncertainNumber> sealed;
  std::unique_ptr<Answered> moved;  ///< none: nothing is sealed, or there is no such case
};

Explainer::Explainer(const Case& question, Share reader)
    : inside_(std::make_unique<Inside>(question, reader)) {}

Explainer::~Explainer() = default;

std::vector<ExplainableFigure> Explainer::figures() const {
  std::vector<ExplainableFigure> result;
  for (const Asked& asked : inside_->known)
    result.push_back({name_of(asked), std::string(what_of(asked.figure))});
  return result;
}

Explanation Explainer::explain(const std::string& figure) const {
  const Asked asked = asked_for(figure, inside_->known);
  Explanation result;
  result.figure = figure;
  result.what = what_of(asked.figure);
  result.program_value = *inside_->answered.value(asked);
  result.answer = asked.figure;
  result.lines = chain_of(inside_->answered, asked);
  result.unit = std::ranges::find(result.lines, result.answer, &ExplainLine::symbol)->unit;
  result.notes = notes_of(asked);
  if (!inside_->sealed.empty())
    seal_chain(inside_->reader, inside_->sealed,
               inside_->moved ? chain_if_any(*inside_->moved, asked) : std::vector<ExplainLine>{},
               result);
  return result;
}

std::vector<ExplainableFigure> explainable(const Case& question) {
  return Explainer(question).figures();
}

Explanation explain(const Case& question, const std::string& figure) {
  return Explainer(question).explain(figure);
}

}  // namespace ohmdrag::study
