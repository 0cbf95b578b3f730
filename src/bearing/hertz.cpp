#include "ohmdrag/bearing/hertz.hpp"

#include <array>
#include <boost/math/special_functions/ellint_1.hpp>
#include <boost/math/special_functions/ellint_d.hpp>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "ohmdrag/numerics/root.hpp"

namespace ohmdrag::bearing {

namespace {

// F and D = (F - E)/m of m = 1 - 1/k^2: in these the ratio of radii is k^2 (F - D)/D, which does
// not cancel where the contact becomes a circle.
struct Integrals {
  double f, d;
};

Integrals integrals(double ratio) {
  const double modulus = std::sqrt(1.0 - 1.0 / (ratio * ratio));
  return {.f = boost::math::ellint_1(modulus), .d = boost::math::ellint_d(modulus)};
}

Ellipticity solved_ellipticity(double radius_ratio) {
  const double log_target = std::log(radius_ratio);
  const auto log_excess = [log_target](double log_ratio) {
    const auto [f, d] = integrals(std::exp(log_ratio));
    return 2.0 * log_ratio + std::log((f - d) / d) - log_target;
  };
  // k lies between the square root of the ratio and the ratio itself; both ends meet at 1.
  const double log_ratio =
      log_target == 0.0 ? 0.0
                        : numerics::bracketed_root(log_excess, 0.5 * log_target, log_target, 1e-13);
  const double k = std::exp(log_ratio);
  const auto [f, d] = integrals(k);
  return {.ratio = k, .elliptic_e = f - (1.0 - 1.0 / (k * k)) * d, .elliptic_f = f};
}

}  // namespace

Ellipticity ellipticity(double radius_ratio) {
  if (!(radius_ratio >= 1.0 && std::isfinite(radius_ratio)))
    throw std::invalid_argument("elliptical contact: R_y/R_x must be finite and at least 1");
  // A bearing asks for the same two shapes at every load, an ensemble in every draw.
  struct Known {
    double radius_ratio = 0.0;
    Ellipticity shape{};
  };
  constexpr std::size_t most_known = 16;
  thread_local std::array<Known, most_known> known;
  thread_local std::size_t next = 0;
  for (const Known& one : known)
    if (one.radius_ratio == radius_ratio) return one.shape;
  const Ellipticity shape = solved_ellipticity(radius_ratio);
  known[next++ % most_known] = {radius_ratio, shape};
  return shape;
}

ContactEllipse contact_ellipse(const ContactRadii& radii, Pressure reduced_modulus, Force load) {
  return contact_ellipse(radii, ellipticity(radii.transverse / radii.rolling), reduced_modulus,
                         load);
}

ContactEllipse contact_ellipse(const ContactRadii& radii, const Ellipticity& shape,
                               Pressure reduced_modulus, Force load) {
  if (!(radii.rolling > Length{} && radii.transverse > Length{}))
    throw std::invalid_argument("elliptical contact: radii must be positive");
  if (!(reduced_modulus > Pressure{}))
    throw std::invalid_argument("elliptical contact: reduced modulus must be positive");
  if (!(load >= Force{}))
    throw std::invalid_argument("elliptical contact: load must not be negative");
  const auto [k, e, f] = shape;
  const double radius_m = (1.0 / (1.0 / radii.rolling + 1.0 / radii.transverse)).value();
  const double load_per_modulus_m2 =
      load.value() / (std::numbers::pi * reduced_modulus.value());  // Q/(pi E')

  const double major_m = std::cbrt(6.0 * k * k * e * load_per_modulus_m2 * radius_m);
  const double squared_m2 = load_per_modulus_m2 / k;
  const double approach_m = f * std::cbrt(9.0 / (2.0 * e * radius_m) * squared_m2 * squared_m2);
  const Length a = Length::from_value(major_m);
  const Length b = a / k;
  const Area area = std::numbers::pi * a * b;
  return {.shape = shape,
          .semi_major = a,
          .semi_minor = b,
          .area = area,
          .max_pressure = load > Force{} ? Pressure(1.5 * load / area) : Pressure{},
          .approach = Length::from_value(approach_m)};
}

ContactStrip contact_strip(Length rolling_radius, Length line, Pressure reduced_modulus,
                           Force load) {
  if (!(rolling_radius > Length{} && line > Length{}))
    throw std::invalid_argument("line contact: radius and length must be positive");
  if (!(reduced_modulus > Pressure{}))
    throw std::invalid_argument("line contact: reduced modulus must be positive");
  if (!(load >= Force{})) throw std::invalid_argument("line contact: load must not be negative");
  const double w = load / (reduced_modulus * rolling_radius * line);
  return {.half_width = rolling_radius * std::sqrt(8.0 * w / std::numbers::pi),
          .max_pressure = reduced_modulus * std::sqrt(w / (2.0 * std::numbers::pi))};
}

}  // namespace ohmdrag::bearing
