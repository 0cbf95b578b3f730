#pragma once

#include <optional>
#include <vector>

#include "ohmdrag/contact/force_loss.hpp"
#include "ohmdrag/contact/lip_wear.hpp"

/// A contact after some of its service: less force, a wider band, a groove in the shaft.
namespace ohmdrag::contact {

/// What a contact has gone through since it was new. Rest ages nothing here: hours are running
/// hours.
struct History {
  Time age;                 ///< >= 0
  Length way;               ///< >= 0, slid
  Temperature temperature;  ///< of the contact, mean of the ageing: see ageing_mean()
};

/// The steady temperature that ages a rubber as fast as a changing one.
///
///     1/T = -lg_e <exp(-T_a/T_i)> / T_a,   T_a = E_a/R_g, mean over time
///
/// Limits    one temperature: itself. T_a -> 0: the harmonic mean.
/// Source    derived: equal rate of the Arrhenius law.
class AgeingMean {
 public:
  /// \throws std::invalid_argument unless E_a/R_g is positive.
  explicit AgeingMean(TemperatureDifference activation_temperature);
  /// \throws std::invalid_argument for a negative time or a temperature not above absolute zero.
  void add(Temperature temperature, Time time);
  /// \throws std::logic_error before any time was added.
  Temperature mean() const;

 private:
  double activation_K_;
  double reference_K_ = 0.0;  // keeps the exponentials near 1
  double rate_s_ = 0.0;
  double time_s_ = 0.0;
};

/// Wear of a contact and of the shaft below it.
struct WearPair {
  WearRate contact;               ///< k >= 0
  std::optional<WearRate> shaft;  ///< k_s >= 0; none: no groove is computed
};

/// A contact that has aged. Forces as of 20 degC and nominal diameter, as those of the new part.
struct Aged {
  LineForce spring;
  LineForce elastic;
  Length width;                  ///< of the band
  Length wear;                   ///< radial, off the contact
  std::optional<Length> groove;  ///< depth, deepest point
  Area worn;                     ///< volume worn off per length of the circumference
  /// Wear over the wear length, of a pad that has one; from 1 on nothing presses.
  std::optional<double> length_used;
  std::vector<numerics::RangeFlag> flags;
  LineForce line_force() const { return spring + elastic; }
};

/// A lip whose edge wears flat while spring and rubber lose force.
///
///     ds = way/steps:  dw = k F'(t, w) ds / b,   b = b_0 + K w,   dg = k_s F' ds / b
///     F' = hot force of lip_force() at the mean temperature and the given pressure
///
/// The lip's own k F' ds widens the band by worn_width(), exactly for the force of that step: that
/// of its middle, to which the band widens as in the step before.
///
/// Validity  as lip_force() and worn_width(). Hot force wears, force at 20 degC is returned.
/// Limits    no age, no way: the new lip. No wear: relaxation alone. No relaxation and no loss of
///           force by wear: worn_width() of the whole way.
/// Accuracy  0.1 % of the change with 24 steps; far inside that of the constants.
/// Source    derived: steps of the laws named.
/// \throws std::invalid_argument as these laws.
Aged aged_lip(const LipForce& lip, const LipEdge& edge, const WearPair& wear,
              const History& history, Pressure over_pressure, int steps = 24);

/// A ring or a brush, of a constant width.
struct Pad {
  LineForce line_force;  ///< F'_0 > 0, new
  Length width;          ///< b > 0
  /// Deflection of the new ring on the shaft, > 0: its own wear unloads it, ring_force(). None: a
  /// spring keeps the force.
  std::optional<Length> deflection;
  std::optional<Length> wear_length;  ///< > 0; beyond it nothing presses
  double hot_share = 1.0;             ///< force that wears over the force at 20 degC
};

/// Limits    no way: the new pad. Elastic: the wear tends to the deflection. Behind a spring: wear
///           grows with the way until the wear length is used; then the force is 0.
/// Source    derived: ring_force(), or Archard at constant pressure.
/// \throws std::invalid_argument for members outside the ranges they name.
Aged aged_pad(const Pad& pad, const WearPair& wear, Length way);

/// Friction of a contact in its first hours over that of a run-in one.
///
///     1 + a exp(-t/t_r)
///
/// Limits    t = 0: 1 + a. t -> infinity: 1.
/// Source    assumed form: first-order decay.
struct RunningIn {
  double excess;  ///< a >= 0
  Time time;      ///< t_r > 0
};
/// \throws std::invalid_argument for members outside the ranges they name or a negative time.
double running_in_factor(const RunningIn& law, Time running);

}  // namespace ohmdrag::contact
