#include <fmt/format.h>
#include <oneapi/tbb/parallel_for.h>

#include <cmath>
#include <vector>

#include "ohmdrag/quantity/print.hpp"
#include "study/combined_lives.hpp"
#include "study/damage_law.hpp"
#include "study/exchange.hpp"

namespace ohmdrag::study {
namespace {

/// Two lives without a limit gain nothing; their difference does not exist.
double gain(double life_h, double baseline_h) {
  return life_h == baseline_h ? 0.0 : life_h - baseline_h;
}

bool nothing_is_gained(const Interval& gain_h) { return gain_h.low == 0.0 && gain_h.high == 0.0; }

/// Both readings have to show it: nobody knows how the causes act on each other.
bool demonstrable(const Interval& competing, const Interval& linear) {
  return competing.low > 0.0 && linear.low > 0.0;
}

std::string hours_in_words(const Interval& hours) {
  return std::isinf(hours.low) ? "no limit" : print_interval(hours) + " h";
}

std::string service_in_words(const ExchangeRow& row) {
  if (!row.service_hours) return {};
  std::string text = fmt::format(" beside a service of {} h", print_number(*row.service_hours, 3));
  if (row.service_distance_km)
    text += fmt::format(" or {} km", print_number(*row.service_distance_km, 3));
  return text;
}

std::string gain_in_words(const ExchangeRow& row) {
  const Interval &competing = *row.life_gain_h, &linear = *row.life_gain_linear_h;
  if (competing.high < 0.0 && linear.high < 0.0)
    return fmt::format("{} h less than the present design",
                       print_interval({-competing.high, -competing.mid, -competing.low}));
  if (!demonstrable(competing, linear)) {
    std::string text = not_demonstrable;
    text += nothing_is_gained(competing) && nothing_is_gained(linear)
                ? " (no hour is gained in any draw)"
                : fmt::format(" (the gain, {} h, includes zero)", print_interval(competing));
    return text;
  }
  const std::string seen = useful(row) ? "" : ", too little to be seen";
  if (std::isinf(competing.mid))
    return fmt::format("{} h more than the present design at least{}",
                       print_number(competing.low, 3), seen);
  return fmt::format("{} h more than the present design{}", print_interval(competing), seen);
}

}  // namespace

std::vector<UnitLives> unit_lives(const ServiceMeans& means) {
  const Ensemble& ensemble = means.ensemble();
  const Case& question = *ensemble.question;
  std::vector<UnitLives> lives(question.variants.size());
  if (question.laws.empty() || ensemble.sections.discharges_alone) return lives;
  const std::size_t draws = ensemble.samples.front().size();
  for (std::size_t v = 0; v < lives.size(); ++v)
    if (strikes_can_be_counted(ensemble.world(v)))
      for (UnitLives* counted : {&lives[v], &lives[ensemble.baseline]}) counted->resize(draws);
  oneapi::tbb::parallel_for(std::size_t{0}, draws, [&](std::size_t i) {
    for (std::size_t v = 0; v < lives.size(); ++v) {
      if (lives[v].empty()) continue;
      const LifeSlopes slopes = life_slopes(ensemble.world(v));
      if (const auto of_bearings = lives_of(means, question.laws.front(), v, i))
        lives[v][i] = {competing_life_h(*of_bearings, slopes), linear_life_h(*of_bearings, slopes)};
    }
  });
  return lives;
}

void fill_life_gain(const ServiceMeans& means, const std::vector<UnitLives>& lives, std::size_t v,
                    ExchangeRow& row) {
  const Ensemble& ensemble = means.ensemble();
  const Case& question = *ensemble.question;
  const Case& world = ensemble.world(v);
  if (question.laws.empty() || ensemble.sections.discharges_alone || !strikes_can_be_counted(world))
    return;
  const DamageLaw& law = question.laws.front();
  std::vector<double> life_h, gain_h, gain_linear_h;
  for (std::size_t i = 0; i < lives[v].size(); ++i) {
    const auto& here = lives[v][i];
    const auto& present = lives[ensemble.baseline][i];
    if (!here) continue;
    life_h.push_back(here->competing_h);
    if (!present) continue;
    gain_h.push_back(gain(here->competing_h, present->competing_h));
    gain_linear_h.push_back(gain(here->linear_h, present->linear_h));
  }
  row.law = law_word(law.kind);
  if (life_h.empty()) {
    row.life_in_words = fmt::format(
        "life: the {} law says nothing here, as nothing discharges where it was calibrated or a "
        "contact area is not known",
        row.law);
    return;
  }
  row.life_h = interval_of_lives(std::move(life_h));
  row.service_hours = service_hours(question, means.mix(), ensemble.samples[v].front());
  row.service_distance_km = service_distance_km(question, means.mix());
  row.life_in_words = fmt::format("life under the {} law: {}{}", row.law,
                                  hours_in_words(*row.life_h), service_in_words(row));
  // The dose is compared at equal bearings, loads and oil alone, and so are lives: a law that
  // rewards load must not speak for a variant that presses harder.
  if (v == ensemble.baseline || !row.dose_factor || gain_h.empty()) return;
  row.life_gain_h = interval_of(gain_h);
  row.life_gain_linear_h = interval_of(gain_linear_h);
  row.life_in_words += "; " + gain_in_words(row);
}

}  // namespace ohmdrag::study
