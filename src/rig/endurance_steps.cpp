#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <span>

#include "ohmdrag/quantity/print.hpp"
#include "rig/endurance_plausible.hpp"

namespace ohmdrag::rig {

namespace {

/// Readings on either side whose middle one is compared.
constexpr std::size_t side = 3;
/// Differences on either side whose middle one is what the curve does not follow, slowly.
constexpr std::ptrdiff_t around = 4;
/// A step is larger than so many of the usual differences and than this share of the impedance;
/// common practice, no source.
constexpr double step_in_scales = 6.0, least_step = 0.05;
constexpr double normal_quartile = 0.674489750196081743;

struct Step {
  std::size_t specimen = 0;
  double from_s = 0.0, to_s = 0.0;  ///< between these two readings
  double size = 0.0;                ///< of ln Z
};

double middle_of_three(double a, double b, double c) {
  return std::max(std::min(a, b), std::min(std::max(a, b), c));
}

double middle_of(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

/// Difference of the residuals after and before each gap between two readings of a specimen, less
/// what it is around.
std::vector<Step> differences(std::size_t specimen, const std::vector<Time>& time,
                              std::span<const double> residual) {
  std::vector<Step> list;
  // Measured over modelled.
  const auto r = [&](std::size_t j) { return -residual[j]; };
  for (std::size_t j = side; j + side <= time.size(); ++j)
    list.push_back({specimen, time[j - 1].value(), time[j].value(),
                    middle_of_three(r(j), r(j + 1), r(j + 2)) -
                        middle_of_three(r(j - 1), r(j - 2), r(j - 3))});
  std::vector<double> slow;
  const auto size = std::ssize(list);
  for (std::ptrdiff_t k = 0; k < size; ++k) {
    std::vector<double> near;
    for (std::ptrdiff_t l = std::max<std::ptrdiff_t>(0, k - around);
         l < std::min(size, k + around + 1); ++l)
      near.push_back(list[static_cast<std::size_t>(l)].size);
    slow.push_back(middle_of(std::move(near)));
  }
  for (std::size_t k = 0; k < list.size(); ++k) list[k].size -= slow[k];
  return list;
}

/// The largest step of each specimen that has one.
std::vector<Step> largest_steps(const EnduranceRun& run, const PooledFit& pooled) {
  std::vector<Step> all;
  std::vector<double> sizes;
  std::span<const double> residual(pooled.fit.residual);
  for (std::size_t i = 0; i < run.specimens.size(); ++i) {
    const std::vector<Time>& time = run.specimens[i].time;
    for (const Step& step : differences(i, time, residual.first(time.size()))) {
      all.push_back(step);
      sizes.push_back(std::abs(step.size));
    }
    residual = residual.subspan(time.size());
  }
  if (all.empty()) return {};
  const double least =
      std::max(least_step, step_in_scales * middle_of(std::move(sizes)) / normal_quartile);
  std::vector<Step> largest;
  for (std::size_t i = 0; i < run.specimens.size(); ++i) {
    std::optional<Step> found;
    for (const Step& step : all)
      if (step.specimen == i && std::abs(step.size) > least &&
          (!found || std::abs(step.size) > std::abs(found->size)))
        found = step;
    if (found) largest.push_back(*found);
  }
  return largest;
}

bool together(const Step& a, const Step& b) {
  return a.size * b.size > 0.0 && a.from_s < b.to_s && b.from_s < a.to_s;
}

std::string factor_in_words(double size) {
  return fmt::format("{} by a factor of {}", size > 0.0 ? "up" : "down",
                     print_number(std::exp(std::abs(size)), 3));
}

}  // namespace

std::vector<std::string> steps_in_words(const EnduranceRun& run, const PooledFit& pooled) {
  const std::vector<Step> steps = largest_steps(run, pooled);
  std::vector<std::string> words;
  std::vector<bool> said(steps.size(), false);
  for (std::size_t a = 0; a < steps.size(); ++a) {
    if (said[a]) continue;
    std::vector<std::string> names;
    for (std::size_t b = a; b < steps.size(); ++b) {
      if (!together(steps[a], steps[b])) continue;
      names.push_back(run.specimens[steps[b].specimen].name);
      said[b] = true;
    }
    const std::string when = fmt::format("between {} and {}", hours_in_words(steps[a].from_s),
                                         hours_in_words(steps[a].to_s));
    if (names.size() > 1 && 2 * names.size() > run.specimens.size())
      words.push_back(fmt::format(
          "{} of {} specimens step {} together, {} (specimen {}): that is the "
          "instrument, a lead or the rig, not the specimens. Check it against a "
          "resistor that is known, and fit the hours before alone.",
          names.size(), run.specimens.size(), when, factor_in_words(steps[a].size), names.front()));
    else
      words.push_back(
          fmt::format("Specimen {} steps {}, {}: damaged, re-seated, or a lead was moved. Its "
                      "curve runs through the step as if it were growth.",
                      fmt::join(names, " and specimen "), when, factor_in_words(steps[a].size)));
  }
  return words;
}

}  // namespace ohmdrag::rig
