#include "ohmdrag/voltage/verdict.hpp"

#include <algorithm>
#include <stdexcept>

#include "ohmdrag/voltage/common_mode.hpp"

namespace ohmdrag::voltage {

namespace {

constexpr std::array<std::string_view, 3> verdict_words{"none", "possible", "expected"};
constexpr std::array<std::string_view, 3> regime_words{"conducting", "holding", "striking"};

ThresholdBand scaled(const ThresholdBand& band, double factor) {
  return {factor * band.at_05, factor * band.at_50, factor * band.at_95};
}

Verdict against(Voltage voltage, const ThresholdBand& threshold) {
  if (voltage < threshold.at_05) return Verdict::none;
  return voltage >= threshold.at_50 ? Verdict::expected : Verdict::possible;
}

void require_defined(const VerdictInput& in) {
  if (!(in.held.voltage >= Voltage{} && in.edge.voltage >= Voltage{}))
    throw std::invalid_argument("verdict: voltages are magnitudes, not negative");
  const ThresholdBand& band = in.threshold;
  if (!(band.at_05 >= Voltage{} && band.at_50 >= band.at_05 && band.at_95 >= band.at_50))
    throw std::invalid_argument("verdict: thresholds must rise from 5 to 95 % and not be negative");
  if (!(in.fallen_factor > 0.0 && in.fallen_factor <= 1.0))
    throw std::invalid_argument("verdict: the fallen factor must be above 0 and at most 1");
  if (in.film && !(in.film->film_ratio >= 0.0))
    throw std::invalid_argument("verdict: the film ratio must not be negative");
}

}  // namespace

std::string_view to_word(Verdict verdict) {
  return verdict_words.at(static_cast<std::size_t>(verdict));
}

std::string_view to_word(Regime regime) {
  return regime_words.at(static_cast<std::size_t>(regime));
}

int verdict_legs(double modulation) {
  if (!(modulation >= 0.0 && modulation <= linear_modulation_limit() * (1.0 + 1e-12)))
    throw std::invalid_argument("verdict: the modulation index must be within 0 and 2/sqrt(3)");
  return modulation < all_legs_below ? 3 : 2;
}

VerdictResult verdict(const VerdictInput& in) {
  require_defined(in);
  VerdictResult out;
  // Where nothing is left of the edge there is no pulse whose duration could count.
  const Time edge_duration = in.edge.voltage > Voltage{} ? in.edge.duration : in.held.duration;
  out.held_credit = pulse_credit(in.t0, in.held.duration);
  out.edge_credit = pulse_credit(in.t0, edge_duration);
  out.held_threshold = scaled(in.threshold, out.held_credit.factor);
  out.edge_threshold = scaled(in.threshold, out.edge_credit.factor);

  if (in.film && (in.film->film_ratio <= 1.0 || !in.film->turning)) {
    // Metallic contact: no film that could strike; its own damage is outside the model.
    const Verdict all = in.film->turning ? Verdict::possible : Verdict::none;
    out.held = out.edge = out.headline = out.headline_after_first = all;
    out.regime = Regime::conducting;
    return out;
  }

  out.held = against(in.held.voltage, out.held_threshold);
  out.edge = against(in.edge.voltage, out.edge_threshold);
  out.headline = std::max(out.held, out.edge);
  out.headline_after_first =
      std::max(against(in.held.voltage, scaled(out.held_threshold, in.fallen_factor)),
               against(in.edge.voltage, scaled(out.edge_threshold, in.fallen_factor)));
  out.regime = out.headline == Verdict::none ? Regime::holding : Regime::striking;
  return out;
}

std::vector<CreditRow> verdicts_by_credit(VerdictInput input, std::span<const Time> credits) {
  std::vector<CreditRow> rows;
  rows.reserve(credits.size());
  for (const Time& t0 : credits) {
    input.t0 = t0;
    rows.push_back({.t0 = t0, .result = verdict(input)});
  }
  return rows;
}

std::vector<CreditRow> verdicts_by_credit(const VerdictInput& input) {
  std::array<Time, shown_credits_us.size()> credits;
  std::transform(shown_credits_us.begin(), shown_credits_us.end(), credits.begin(),
                 [](double t0_us) { return Time::from_value(1e-6 * t0_us); });
  return verdicts_by_credit(input, credits);
}

}  // namespace ohmdrag::voltage
