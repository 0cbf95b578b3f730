#include "ohmdrag/contact/service.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "contact/lip_course.hpp"

namespace ohmdrag::contact {

namespace {

void require(bool met, const char* what) {
  if (!met) throw std::invalid_argument(what);
}

void require_wear(const WearPair& wear, Length way) {
  require(wear.contact.value() >= 0.0 && !(wear.shaft && !(wear.shaft->value() >= 0.0)),
          "wear over service: wear rates must not be negative");
  require(way.value() >= 0.0, "wear over service: the way must not be negative");
}

}  // namespace

AgeingMean::AgeingMean(TemperatureDifference activation_temperature)
    : activation_K_(activation_temperature.value()) {
  require(activation_K_ > 0.0, "ageing: the activation temperature must be positive");
}

void AgeingMean::add(Temperature temperature, Time time) {
  require(temperature.value() > 0.0, "ageing: temperatures must be above absolute zero");
  require(time.value() >= 0.0, "ageing: the time must not be negative");
  if (reference_K_ == 0.0) reference_K_ = temperature.value();
  rate_s_ +=
      time.value() * std::exp(activation_K_ * (1.0 / reference_K_ - 1.0 / temperature.value()));
  time_s_ += time.value();
}

Temperature AgeingMean::mean() const {
  if (!(time_s_ > 0.0)) throw std::logic_error("ageing: no time was added");
  return Temperature::from_value(
      1.0 / (1.0 / reference_K_ - std::log(rate_s_ / time_s_) / activation_K_));
}

Aged aged_lip(const LipForce& lip, const LipEdge& edge, const WearPair& wear,
              const History& history, Pressure over_pressure, int steps) {
  require_wear(wear, history.way);
  require(steps > 0, "wear over service: at least one step");
  Aged aged{};
  const double per_depth = width_per_depth(edge), new_m = edge.new_width.value();
  const double step_m = history.way.value() / steps;
  // Worn off is what widens the square of the width: evenly, as long as the force stays.
  const double worn_m2_per_N_m = wear.contact.value() * step_m;
  const double wider_m2_per_N_m = 2.0 * per_depth * worn_m2_per_N_m;
  const double grooved_m2_per_N_m = wear.shaft ? wear.shaft->value() * step_m : 0.0;
  // Refuses what no step could take.
  const double pressure_N_m =
      lip_force(lip, {Time{}, history.temperature, {}, over_pressure}).pressure.value();
  const double spring_N_m = lip.spring.value(), rubber_N_m = lip.rubber.value();
  const double lost_per_m = 1.0 / (per_depth * lip.radial_interference.value());
  static const numerics::LaneWidth width_of_lanes = numerics::widest_lanes();
  const LipCourse course = lip_course(lip, history.age, history.temperature, steps, width_of_lanes);
  double square_m2 = new_m * new_m, before_m2 = square_m2, width_m = new_m;
  double worn_m2 = 0.0, groove_m = 0.0;
  for (std::size_t i = 0; i < course.spring.size(); ++i) {
    const auto pressing_N_m = [&](double at_width_m) {
      const double left = std::max(0.0, 1.0 - (at_width_m - new_m) * lost_per_m);
      return std::max(
          0.0, course.spring[i] * spring_N_m + course.rubber[i] * left * rubber_N_m + pressure_N_m);
    };
    // Half a step on, as the step before went; the first as the new force goes.
    const double widened_m2 =
        i == 0 ? wider_m2_per_N_m * pressing_N_m(new_m) : square_m2 - before_m2;
    const double force_N_m = pressing_N_m(std::sqrt(square_m2 + 0.5 * widened_m2));
    before_m2 = square_m2;
    square_m2 += wider_m2_per_N_m * force_N_m;
    const double next_m = std::sqrt(square_m2), mean_m = 0.5 * (width_m + next_m);
    if (mean_m > 0.0) groove_m += grooved_m2_per_N_m * force_N_m / mean_m;
    width_m = next_m;
    worn_m2 += worn_m2_per_N_m * force_N_m;
  }
  aged.width = Length::from_value(width_m);
  aged.wear = (aged.width - edge.new_width) / per_depth;
  aged.worn = Area::from_value(worn_m2);
  if (wear.shaft) aged.groove = Length::from_value(groove_m);

  const LipForceResult end =
      lip_force(lip, {history.age, history.temperature, aged.wear, over_pressure});
  aged.flags = end.flags;
  aged.spring = end.spring;
  // The part's own force without the softening, which acts once, where the contact is solved.
  aged.elastic = end.rubber / modulus_ratio(lip.modulus, history.temperature).value;
  return aged;
}

Aged aged_pad(const Pad& pad, const WearPair& wear, Length way) {
  require_wear(wear, way);
  require(pad.line_force.value() > 0.0 && pad.width.value() > 0.0,
          "wear over service: line force and width must be positive");
  require(pad.hot_share >= 0.0, "wear over service: the hot share must not be negative");
  require(!pad.wear_length || pad.wear_length->value() > 0.0,
          "wear over service: the wear length must be positive");
  Aged aged{};
  aged.width = pad.width;
  const LineForce hot = pad.hot_share * pad.line_force;
  if (pad.deflection) {
    const RingForce left = ring_force({hot, *pad.deflection, pad.width}, wear.contact, way);
    aged.wear = left.wear;
    aged.elastic = pad.line_force * (left.line_force / hot);
  } else {
    aged.wear = wear.contact * hot * (way / pad.width);
    aged.spring = pad.line_force;
  }
  if (pad.wear_length) {
    aged.length_used = (aged.wear / *pad.wear_length);
    if (*aged.length_used >= 1.0) {
      aged.wear = *pad.wear_length;
      aged.spring = aged.elastic = LineForce{};
    }
  }
  aged.worn = aged.wear * pad.width;
  // Shaft and pad share pressure and way: their depths are as their wear rates.
  if (wear.shaft)
    aged.groove = wear.contact.value() > 0.0 ? aged.wear * (*wear.shaft / wear.contact)
                                             : groove_depth(*wear.shaft, hot, pad.width, way);
  return aged;
}

double running_in_factor(const RunningIn& law, Time running) {
  require(law.excess >= 0.0, "running-in: the excess must not be negative");
  require(law.time.value() > 0.0 && running.value() >= 0.0, "running-in: times must be positive");
  return 1.0 + law.excess * std::exp(-(running / law.time).value());
}

}  // namespace ohmdrag::contact
