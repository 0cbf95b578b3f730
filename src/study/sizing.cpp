#include "ohmdrag/study/sizing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "study/account.hpp"
#include "study/sizing_knob.hpp"
#include "study/sizing_limits.hpp"
#include "study/sizing_words.hpp"

namespace ohmdrag::study {
namespace {

constexpr int coarse_values = 9, values_in_an_edge = 4;
/// Beyond this factor on the force, resistance laws are carried further than anybody measured.
constexpr double usual_range = 3.0;

std::vector<double> by_equal_ratios(double from, double to, int count) {
  std::vector<double> values;
  for (int i = 0; i < count; ++i) values.push_back(from * std::pow(to / from, i / (count - 1.0)));
  values.back() = to;
  return values;
}

/// The figure of a measure over the draws of a variant, worst of the points and duties.
std::optional<Interval> figure_of(const Ensemble& ensemble, const Requirement& asked, std::size_t v,
                                  double unit = 1.0, double offset = 0.0) {
  std::vector<double> values;
  for (std::size_t i = 0; i < ensemble.samples[v].size(); ++i)
    if (const auto value = requirement_value(ensemble, asked, v, i))
      values.push_back((*value - offset) / unit);
  if (values.empty()) return std::nullopt;
  return interval_of(std::move(values));
}

Requirement of_measure(Measure measure) {
  Requirement asked;
  asked.measure = measure;
  asked.end_of_service = true;
  return asked;
}

/// One pass over some values of the knob.
class Scan {
 public:
  Scan(const Case& question, const Variant& sized, const SizingQuestion& what, SizedBy knob,
       const std::vector<double>& values, const Sections& sections)
      : what_(what), values_(values), case_(case_of(question, sized, knob)) {
    ensemble_.emplace(case_, sections);
    any_.emplace(*ensemble_, first_);
    tests_ = limit_tests(*ensemble_, what, *any_);
  }

  const std::vector<LimitTest>& tests() const { return tests_; }

  std::vector<SizingRow> rows() const {
    std::vector<SizingRow> rows;
    for (std::size_t i = 0; i < values_.size(); ++i) rows.push_back(row(first_ + i, values_[i]));
    return rows;
  }

  int samples() const { return ensemble_->draws->samples(); }

 private:
  Case case_of(const Case& question, const Variant& sized, SizedBy knob) {
    Case scan = question;
    std::erase_if(scan.variants,
                  [&](const Variant& variant) { return variant.id != question.baseline; });
    first_ = scan.variants.size();
    for (const double value : values_)
      scan.variants.push_back(with_knob(sized, what_.part, knob, value));
    return scan;
  }

  SizingRow row(std::size_t v, double value) const {
    SizingRow row;
    row.knob = value;
    fill_force(v, row);
    const auto of = [&](Measure measure, double unit = 1.0, double offset = 0.0) {
      return figure_of(*ensemble_, of_measure(measure), v, unit, offset);
    };
    row.impedance_ohm = impedance(v);
    row.net_W = of(Measure::net_power);
    row.Wh_per_km = of(Measure::battery_energy_per_distance, 3.6);
    row.contact_degC = of(Measure::contact_temperature, 1.0, kelvin_at_zero_celsius);
    row.edge_peak_V = of(Measure::edge_peak);
    row.striking_share = of(Measure::striking_time_share);
    row.dose_factor = of(Measure::dose_factor);
    fill_kept(v, row);
    return row;
  }

  void fill_force(std::size_t v, SizingRow& row) const {
    const auto contact = sized_contact(*any_, what_.part);
    if (!contact) return;
    const auto of = [&](auto figure) {
      return reduce(ensemble_->samples[v],
                    [&](const VariantSample& sample) { return figure(sample.contacts[*contact]); });
    };
    constexpr double in_N_per_mm = 1e-3, in_h = 1.0 / 3600.0;
    row.line_force_N_mm =
        of([](const ContactSample& c) { return c.line_force_N_m.front() * in_N_per_mm; });
    row.line_force_at_end_N_mm =
        of([](const ContactSample& c) { return c.line_force_N_m.back() * in_N_per_mm; });
    const Interval worn = of([](const ContactSample& c) { return c.worn_out_s * in_h; });
    if (!std::isnan(worn.mid)) row.worn_out_h = worn;
  }

  /// As the first requirement on it asks, else at the usual frequencies.
  std::optional<Interval> impedance(std::size_t v) const {
    const auto& asked = case_.requirements;
    const auto own = std::ranges::find(asked, Measure::impedance_magnitude, &Requirement::measure);
    auto figure = figure_of(
        *ensemble_, own == asked.end() ? of_measure(Measure::impedance_magnitude) : *own, v);
    const bool grounded = !ensemble_->samples[v].front().impedance_ohm.front().empty();
    return grounded ? figure : std::nullopt;
  }

  void fill_kept(std::size_t v, SizingRow& row) const {
    const std::size_t draws = ensemble_->samples[v].size();
    std::vector<std::size_t> kept(tests_.size()), asked(tests_.size());
    std::size_t inside = 0;
    for (std::size_t i = 0; i < draws; ++i) {
      bool all = true;
      for (std::size_t t = 0; t < tests_.size(); ++t) {
        const auto holds = tests_[t].kept(v, i);
        if (!holds) continue;
        ++asked[t];
        kept[t] += *holds ? 1 : 0;
        all = all && *holds;
      }
      inside += all ? 1 : 0;
    }
    const double n = static_cast<double>(draws);
    for (std::size_t t = 0; t < tests_.size(); ++t) {
      row.kept.push_back(asked[t] > 0 ? static_cast<double>(kept[t]) / static_cast<double>(asked[t])
                                      : std::numeric_limits<double>::quiet_NaN());
      if (!tests_[t].share_at_confidence) continue;
      if (const auto share = tests_[t].share_at_confidence(v)) row.kept.back() = *share;
    }
    row.inside = static_cast<double>(inside) / n;
  }

  SizingQuestion what_;
  std::vector<double> values_;
  std::size_t first_ = 0;
  Case case_;
  std::optional<Ensemble> ensemble_;
  std::optional<Nominal> any_;
  std::vector<LimitTest> tests_;
};

/// Does not apply, or enough parts keep it.
bool keeps(const SizingLimit& limit, double share) { return !(share < limit.share); }

bool all_kept(const SizingFindings& found, const SizingRow& row) {
  for (std::size_t l = 0; l < found.limits.size(); ++l)
    if (!keeps(found.limits[l], row.kept[l])) return false;
  return true;
}

/// New values inside the steps at whose ends the window, or one of its limits, changes.
std::vector<double> values_at_edges(const SizingFindings& found) {
  std::vector<double> values;
  for (std::size_t i = 1; i < found.rows.size(); ++i) {
    const SizingRow &low = found.rows[i - 1], &high = found.rows[i];
    bool edge = false;
    for (std::size_t l = 0; l < found.limits.size(); ++l)
      edge = edge || keeps(found.limits[l], low.kept[l]) != keeps(found.limits[l], high.kept[l]);
    if (!edge) continue;
    const auto fine = by_equal_ratios(low.knob, high.knob, values_in_an_edge + 2);
    values.insert(values.end(), fine.begin() + 1, fine.end() - 1);
  }
  return values;
}

void find_side(const std::vector<SizingRow>& rows, std::size_t l, SizingLimit& limit) {
  const auto kept = [&](std::size_t i) { return keeps(limit, rows[i].kept[l]); };
  std::size_t first = 0, last = rows.size();
  while (first < rows.size() && !kept(first)) ++first;
  while (last > first && !kept(last - 1)) --last;
  using enum SizingLimit::Side;
  if (first == rows.size()) {
    limit.side = never;
    return;
  }
  const bool low = first > 0, high = last < rows.size();
  limit.side = low && high ? between : low ? too_little : high ? too_much : always;
  const auto low_edge = [&] { return std::pair(rows[first - 1].knob, rows[first].knob); };
  const auto high_edge = [&] { return std::pair(rows[last].knob, rows[last - 1].knob); };
  if (low) limit.edge = low_edge();
  if (high) (low ? limit.upper_edge : limit.edge) = high_edge();
}

void drop_what_never_applies(SizingFindings& found) {
  for (std::size_t l = found.limits.size(); l-- > 0;) {
    if (std::ranges::any_of(found.rows,
                            [&](const SizingRow& row) { return !std::isnan(row.kept[l]); }))
      continue;
    const auto place = static_cast<std::ptrdiff_t>(l);
    found.limits.erase(found.limits.begin() + place);
    for (SizingRow& row : found.rows) row.kept.erase(row.kept.begin() + place);
  }
}

double cost_of(const SizingRow& row) {
  if (row.net_W) return row.net_W->mid;
  return row.Wh_per_km ? row.Wh_per_km->mid : row.knob;
}

/// What a value between two others needs to be computed.
Sections sections_of_edges(const Case& question) {
  constexpr std::array over_duties{Measure::striking_time_share, Measure::dose_factor,
                                   Measure::battery_energy_per_distance, Measure::mechanical_life,
                                   Measure::modified_life};
  const bool asked = std::ranges::any_of(question.requirements, [&](const Requirement& asked_of) {
    return std::ranges::find(over_duties, asked_of.measure) != over_duties.end();
  });
  if (asked || question.points.empty() || account_names_a_duty(question)) return Sections::all();
  return {.budget = true, .voltage = true};
}

const Variant& variant_named(const Case& question, const std::string& id) {
  const auto found = std::ranges::find(question.variants, id, &Variant::id);
  if (found == question.variants.end())
    throw std::invalid_argument(fmt::format("the case has no variant \"{}\"", id));
  return *found;
}

}  // namespace

SizedBy knob_sized(const Case& question, const SizingQuestion& what) {
  return knob_of(variant_named(question, what.variant), what);
}

SizingFindings size_element(const Case& question, const SizingQuestion& what) {
  const Variant& sized = variant_named(question, what.variant);
  SizingFindings found;
  found.title = question.title;
  found.variant = what.variant;
  found.baseline = question.baseline;
  found.invented = question.invented;
  found.part = what.part;
  found.knob = knob_of(sized, what);
  found.stated = stated_knob(sized, what.part, found.knob);
  found.element = sized_element(sized, what.part).title;
  found.seed = question.seed;
  const double from = what.from.value_or(found.stated / usual_range);
  const double to = what.to.value_or(found.stated * usual_range);
  if (!(from > 0.0 && to > from && std::isfinite(to)))
    throw std::invalid_argument("the range to size in must rise and be positive");

  const Scan coarse(question, sized, what, found.knob, by_equal_ratios(from, to, coarse_values),
                    Sections::all());
  found.samples = coarse.samples();
  for (const LimitTest& test : coarse.tests())
    found.limits.push_back({test.id, test.what, test.share, {}, {}, {}});
  found.rows = coarse.rows();
  if (const auto finer = values_at_edges(found); !finer.empty()) {
    for (SizingRow& row :
         Scan(question, sized, what, found.knob, finer, sections_of_edges(question)).rows()) {
      row.coarse = false;
      found.rows.push_back(std::move(row));
    }
    std::ranges::sort(found.rows, {}, &SizingRow::knob);
  }
  drop_what_never_applies(found);
  for (std::size_t l = 0; l < found.limits.size(); ++l) find_side(found.rows, l, found.limits[l]);
  for (std::size_t i = 0; i < found.rows.size(); ++i)
    if (all_kept(found, found.rows[i])) found.inside.push_back(i);
  for (const std::size_t i : found.inside)
    if (!found.cheapest || cost_of(found.rows[i]) < cost_of(found.rows[*found.cheapest]))
      found.cheapest = i;
  add_words(question, sized, found);
  return found;
}

}  // namespace ohmdrag::study
