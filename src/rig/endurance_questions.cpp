#include "rig/endurance_questions.hpp"

#include <fmt/format.h>

#include <boost/math/distributions/normal.hpp>
#include <limits>

#include "ohmdrag/numerics/sample_size.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "rig/endurance_plausible.hpp"

namespace ohmdrag::rig {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
/// Steps in which a crossing is looked for, and halvings that settle it.
constexpr int crossing_steps = 300, crossing_halvings = 50;

/// Specimens below the limit at the hours, on the straight line between two readings; none unless
/// all have readings up to there.
std::optional<int> held_at(const EnduranceRun& run, double service_s) {
  int held = 0;
  for (const EnduranceSpecimen& specimen : run.specimens) {
    const std::vector<Time>& time = specimen.time;
    if (time.back().value() < service_s || time.front().value() > service_s) return std::nullopt;
    std::size_t j = 1;
    while (time[j].value() < service_s) ++j;
    const double step = (time[j] - time[j - 1]).value();
    const double share = step > 0.0 ? (service_s - time[j - 1].value()) / step : 1.0;
    const double now = specimen.impedance[j - 1].value() +
                       share * (specimen.impedance[j] - specimen.impedance[j - 1]).value();
    held += now < run.limit->value() ? 1 : 0;
  }
  return held;
}

EnduranceShare share_below(const EnduranceRun& run, const CurveSample& parts, double service_s) {
  EnduranceShare share;
  const double room = std::log(run.limit->value()) - parts.mean;
  const double degrees = static_cast<double>(parts.value.size()) - 1.0;
  // Parts that are all alike lie on one side.
  const double factor = parts.deviation > 0.0 ? room / parts.deviation : room > 0.0 ? 1e9 : -1e9;
  share.estimated = boost::math::cdf(boost::math::normal(), factor);
  share.at_least =
      numerics::normal_share_at_least(factor, parts.mean_of(), degrees, run.confidence);
  share.held = held_at(run, service_s);
  if (share.held)
    share.counted_at_least = numerics::share_at_least(
        *share.held, static_cast<int>(run.specimens.size()), run.confidence);
  return share;
}

/// What is known of a crossing that lies beyond.
std::string not_before(const EnduranceCrossing& found, bool several) {
  std::string text;
  if (std::isfinite(found.middle_s.low))
    text += fmt::format(" With 97.5 % confidence it is not before {}.",
                        hours_in_words(found.middle_s.low));
  if (several && std::isfinite(found.new_part_s.low))
    text += fmt::format(" One further part in 40 may cross it by {}.",
                        hours_in_words(found.new_part_s.low));
  return text;
}

void answer_crossing(const EnduranceRun& run, const CurveSamples& samples, EnduranceFit& out) {
  const double level = std::log(run.limit->value());
  const double from = out.begin.value(), to = out.farthest.value();
  const auto crossing = [&](auto edge) { return first_crossing(edge, level, from, to); };
  EnduranceCrossing found;
  found.looked_until = out.farthest;
  found.middle_s = {crossing([&](double t) { return samples.at(t).middle().high; }),
                    crossing([&](double t) { return samples.at(t).mean; }),
                    crossing([&](double t) { return samples.at(t).middle().low; })};
  if (run.specimens.size() > 1)
    found.new_part_s = {crossing([&](double t) { return samples.at(t).further().high; }),
                        found.middle_s.mid,
                        crossing([&](double t) { return samples.at(t).further().low; })};
  else
    found.new_part_s = {0.0, found.middle_s.mid, infinite};
  const std::string limit = print_number(run.limit->value(), 3) + " ohm";
  if (found.middle_s.mid <= from)
    out.warnings.push_back(fmt::format(
        "The middle part lies above {} from the first hour on: the limit is never met.", limit));
  else if (!std::isfinite(found.middle_s.mid))
    out.notes.push_back(
        fmt::format("The middle part does not cross {} within {}, {} times the run: no hour is "
                    "told, and the law is not carried on any further.{}",
                    limit, hours_in_words(to), print_number(farthest_in_runs, 2),
                    not_before(found, run.specimens.size() > 1)));
  else if (found.middle_s.mid > out.end.value())
    out.warnings.push_back(fmt::format(
        "The crossing of {} lies beyond the run, which ends at {}: it rests on the law of growth "
        "alone.",
        limit, hours_in_words(out.end.value())));
  out.crossing = found;
}

}  // namespace

double first_crossing(const std::function<double(double t_s)>& curve, double level, double from_s,
                      double to_s) {
  double before = from_s;
  if (curve(from_s) >= level) return from_s;
  for (int k = 1; k <= crossing_steps; ++k) {
    double after = from_s + (to_s - from_s) * k / crossing_steps;
    if (!(curve(after) >= level)) {
      before = after;
      continue;
    }
    for (int turn = 0; turn < crossing_halvings; ++turn) {
      const double middle = 0.5 * (before + after);
      (curve(middle) >= level ? after : before) = middle;
    }
    return after;
  }
  return infinite;
}

Interval growth_factor(GrowthLaw law, const CurveSample& grown) {
  const Interval factor = exp_of(grown.middle());
  if (law != GrowthLaw::none) return factor;
  return {std::min(1.0, factor.low), 1.0, std::max(1.0, factor.high)};
}

void answer_questions(const EnduranceRun& run, const CurveSamples& samples,
                      const CurveSamples& growing, EnduranceFit& out) {
  if (run.limit) answer_crossing(run, samples, out);
  if (!run.service) {
    if (run.limit && run.specimens.size() > 1)
      out.share = share_below(run, samples.at(out.end.value()), out.end.value());
    return;
  }
  const double service = run.service->value();
  const CurveSample parts = samples.at(service);
  if (*run.service > out.farthest || !std::isfinite(parts.mean)) {
    out.notes.push_back(fmt::format(
        "Nothing is said at {}: the run ends at {}, and a law is not carried on beyond {} times "
        "that. Run for {} or more.",
        hours_in_words(service), hours_in_words(out.end.value()), print_number(farthest_in_runs, 2),
        hours_in_words(service / farthest_in_runs)));
    return;
  }
  if (*run.service > out.end)
    out.warnings.push_back(
        fmt::format("The service hours, {}, lie beyond the run, which ends at {}: what is said "
                    "there rests on the law of growth alone.",
                    hours_in_words(service), hours_in_words(out.end.value())));
  const CurveSample grown = growing.growth_between(out.begin.value(), service);
  out.at_service = exp_of(parts.middle());
  out.growth_to_service = growth_factor(out.law, grown);
  if (run.specimens.size() < 2) return;
  out.new_part_at_service = exp_of(parts.further());
  if (out.law != GrowthLaw::none) out.scatter_of_growth = grown.scatter();
  if (run.limit) out.share = share_below(run, parts, service);
}

}  // namespace ohmdrag::rig
