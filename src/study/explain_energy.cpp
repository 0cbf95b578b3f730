#include <fmt/format.h>

#include <utility>

#include "study/explain_service_chain.hpp"

namespace ohmdrag::study {
namespace {

/// Difference of a figure to the baseline.
template <class Figure>
std::pair<std::string, double> against_baseline(ServiceChain& here, ServiceChain& base,
                                                const Chain& chain, const Figure& figure) {
  const std::string a = figure(here), b = figure(base);
  return {fmt::format("{} - {}", a, b), chain.value(a) - chain.value(b)};
}

}  // namespace

void explain_energy(const Ensemble& ensemble, std::size_t v, const std::string& figure,
                    Chain& chain) {
  ServiceChain here(ensemble, v, "", chain), base(ensemble, ensemble.baseline, "_base", chain);
  const auto [expression, value] =
      against_baseline(here, base, chain, [](ServiceChain& side) { return side.energy(); });
  const Case& question = *ensemble.question;
  if (figure == "battery_Wh_per_km") {
    chain.step(figure, expression, value, "Wh/km", "against the present design", "difference");
    return;
  }
  if (figure == "kWh_per_year") {
    const double hours = hours_a_year(question, here.mix()).value();
    chain.taken("hours_a_year", hours, "h", "running hours of the duties in a year", "the duties");
    chain.step(figure, fmt::format("({})*hours_a_year/1000", expression), value * hours / 1000.0,
               "kWh", "against the present design, a year", "difference");
    return;
  }
  const double charging = question.prices ? question.prices->charging_efficiency : 1.0;
  chain.taken("charging", charging, "", "plug to battery", "prices of the case, or 1");
  if (here.driven()) {
    const double km = service_distance_km(question, here.mix()).value();
    chain.given("distance", km, "km", "way of the service", {"service.distance"});
    chain.step(figure, fmt::format("({})*distance/1000/charging", expression),
               value * km / 1000.0 / charging, "kWh",
               "what the watts take over the service, the price of one avoided event",
               "difference");
  } else {
    const double hours = service_hours(question, here.mix(), ensemble.samples[v].front()).value();
    chain.taken("hours", hours, "h", "running hours of the service", "service of the case");
    chain.step(figure, fmt::format("({})*hours/1000/charging", expression),
               value * hours / 1000.0 / charging, "kWh",
               "what the watts take over the service, the price of one avoided event",
               "difference");
  }
}

}  // namespace ohmdrag::study
