#pragma once

#include <array>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "ohmdrag/quantity/quantities.hpp"
#include "ohmdrag/voltage/edge_response.hpp"
#include "ohmdrag/voltage/threshold.hpp"

/// Does it strike? An answer in three words, because the threshold is known to a factor of three.
namespace ohmdrag::voltage {

enum class Verdict {
  none,      ///< below the 5 % point of the threshold
  possible,  ///< between the 5 % and the 50 % point, or the bearing conducts
  expected,  ///< at or above the 50 % point
};

enum class Regime {
  conducting,  ///< metallic contact, film ratio <= 1: no capacitor
  holding,     ///< the film holds what stands on it
  striking,    ///< the headline is not `none`
};

std::string_view to_word(Verdict verdict);
std::string_view to_word(Regime regime);

/// The film of the struck bearing.
struct FilmState {
  double film_ratio;  ///< L >= 0
  bool turning;       ///< false at standstill
};

struct VerdictInput {
  Stress held;                    ///< held_after_discharge and hold_duration
  Stress edge;                    ///< of as many legs as verdict_legs says
  ThresholdBand threshold;        ///< static
  std::optional<FilmState> film;  ///< none: fixed thresholds without a film
  Time t0;                        ///< credit for short pulses
  double fallen_factor;  ///< threshold after a first discharge over threshold before, 0 < x <= 1
};

struct VerdictResult {
  Verdict held;
  Verdict edge;
  Verdict headline;              ///< the worse of the two
  Verdict headline_after_first;  ///< with the threshold fallen after a first discharge
  Regime regime;
  ThresholdBand held_threshold;  ///< with credit
  ThresholdBand edge_threshold;  ///< with credit
  PulseCredit held_credit;
  PulseCredit edge_credit;
};

/// Modulation index below which all legs switch together for the verdict (a listed step).
inline constexpr double all_legs_below = 0.02;

/// Legs of the edge that the verdict uses: 2, or 3 below a modulation of 0.02.
///
/// Source    derived: two legs meet six times a fundamental period at every modulation.
/// \throws std::invalid_argument outside 0 <= M <= 2/sqrt(3).
int verdict_legs(double modulation);

/// The verdict of held and edge voltage against the threshold.
///
/// Validity  the threshold is where discharges begin in a new bearing; a later one is lower.
/// Limits    film ratio <= 1: `possible` when turning (damage by current through metallic contact
///           is not modelled), `none` at standstill.
/// Source    assumed rule.
/// \throws std::invalid_argument for negative voltages or thresholds, durations that are not
///         positive, a fallen factor outside 0 to 1.
VerdictResult verdict(const VerdictInput& input);

/// The credits that stand side by side; none is ever shown alone.
inline constexpr std::array shown_credits_us{0.0, 0.1, 0.3, 1.0};

struct CreditRow {
  Time t0;
  VerdictResult result;
};
/// The verdict for each credit; input.t0 is not used.
std::vector<CreditRow> verdicts_by_credit(VerdictInput input, std::span<const Time> credits);
/// The same for shown_credits_us.
std::vector<CreditRow> verdicts_by_credit(const VerdictInput& input);

}  // namespace ohmdrag::voltage
