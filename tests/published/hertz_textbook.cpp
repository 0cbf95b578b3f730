// Elliptical Hertz contact. G. W. Stachowiak, A. W. Batchelor, Engineering Tribology, 2nd ed. 2001,
// chapter 7, two-sphere example (inputs, E' and R' read; pressure from memory). D. E. Brewe, B. J.
// Hamrock, Simplified solution for elliptical-contact deformation, ASME J. Lubr. Tech. 99 (1977)
// 485-487 (fit from memory). B. J. Hamrock, NASA RP-1126 (1984).
#include <catch2/catch.hpp>
#include <cmath>

#include "ohmdrag/bearing/elastic.hpp"
#include "ohmdrag/bearing/hertz.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::bearing;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;

namespace {

const Elastic ball_steel{.young_modulus = 210.0_GPa, .poisson = 0.3};
const Length sphere_radius = 1.0 / (1.0 / 10.0_mm + 1.0 / 15.0_mm);  // same in both directions

}  // namespace

TEST_CASE("two spheres: reduced modulus", "[printed]") {
  // Stachowiak and Batchelor print 2.308e11 Pa.
  CHECK_THAT(reduced_modulus(ball_steel, ball_steel),
             within(Pressure::from_value(2.308e11), Pressure::from_value(5e7)));
}

TEST_CASE("two spheres under 5 N", "[formula]") {
  const auto contact = contact_ellipse({.rolling = sphere_radius, .transverse = sphere_radius},
                                       reduced_modulus(ball_steel, ball_steel), 5.0_N);
  CHECK_THAT(contact.semi_major, near(Length::from_value(5.7989e-5), 1e-5));
  CHECK_THAT(contact.semi_minor, near(contact.semi_major, 1e-12));
  CHECK_THAT(contact.max_pressure, near(Pressure::from_value(709.94e6), 1e-5));
  // Spheres: the approach is a^2/R.
  CHECK_THAT(contact.approach,
             near(Length(contact.semi_major * contact.semi_major / sphere_radius), 1e-12));
  // a = (3 W R'/E')^(1/3) with the book's R' = 3 mm.
  CHECK_THAT(contact.semi_major.value(), near(std::cbrt(3.0 * 5.0 * 3e-3 / 2.307692e11), 1e-6));
}

TEST_CASE("exact ellipticity and the fit of Brewe and Hamrock", "[formula]") {
  // Exact values by arithmetic-geometric mean in another language; fit errors in per cent.
  struct Row {
    double radius_ratio, k, e, f, fit_error_k, fit_error_e, fit_error_f;
  };
  const Row row = GENERATE(Row{1.5, 1.31010, 1.39114, 1.78977, 2.13, 0.51, -1.00},
                           Row{2.0, 1.58580, 1.29715, 1.95211, 1.32, 0.12, -0.36},
                           Row{5.0, 2.89018, 1.12052, 2.49374, -0.44, -0.08, 0.13},
                           Row{10.0, 4.49945, 1.05988, 2.91420, -0.62, 0.01, 0.01},
                           Row{20.0, 6.92868, 1.02958, 3.33419, 0.30, 0.05, -0.06},
                           Row{50.0, 12.07115, 1.01161, 3.88207, 3.10, 0.06, 0.05},
                           Row{100.0, 18.18710, 1.00573, 4.28950, 6.34, 0.05, 0.28});
  const auto [k, e, f] = ellipticity(row.radius_ratio);
  CHECK_THAT(k, within(row.k, 6e-6));
  CHECK_THAT(e, within(row.e, 6e-6));
  CHECK_THAT(f, within(row.f, 6e-6));
  const double r = row.radius_ratio;
  CHECK_THAT(100.0 * (1.0339 * std::pow(r, 0.636) / k - 1.0), within(row.fit_error_k, 0.006));
  CHECK_THAT(100.0 * ((1.0003 + 0.5968 / r) / e - 1.0), within(row.fit_error_e, 0.006));
  CHECK_THAT(100.0 * ((1.5277 + 0.6023 * std::log(r)) / f - 1.0), within(row.fit_error_f, 0.006));
}
