#include "ohmdrag/contact/resistance_growth.hpp"

#include <cmath>

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;
using test::near;

namespace {

const DryResistance law{.bulk = 8.0_ohm,
                        .film = 22.0_ohm,
                        .at_line_force = 10.0_N_m,
                        .at_force = {},
                        .at_diameter = 40.0_mm,
                        .count_exponent = 0.5,
                        .film_exponent = 0.75};

// Doubles its 2 nm in 1000 h at 100 degC.
GrowingFilm oxide() {
  const double activation_K = 8000.0;
  return {.new_thickness = 0.002_um,
          .rate = FilmGrowthRate::from_value(3.0 * 4e-18 / 3.6e6 * std::exp(activation_K / 373.15)),
          .activation_temperature = activation_K * 1.0_K,
          .tunnel_length = {},
          .share = 1.0};
}

const LostSpots oil{.final_share = 0.9, .time = 100.0_h};

}  // namespace

TEST_CASE("a film grows with the root of time, faster when hot", "[derived]") {
  CHECK(film_thickness(oxide(), 100.0_degC, 0.0_h) == 0.002_um);
  CHECK_THAT(film_thickness(oxide(), 100.0_degC, 1000.0_h), near(0.004_um, 1e-12));
  CHECK_THAT(film_thickness(oxide(), 100.0_degC, 4e9_h),
             near(2.0 * film_thickness(oxide(), 100.0_degC, 1e9_h), 1e-6));
  CHECK(film_thickness(oxide(), 120.0_degC, 1000.0_h) > 0.0055_um);
  CHECK_THAT(film_thickness(oxide(), from_celsius(-200.0), 1000.0_h), near(0.002_um, 1e-12));
}

TEST_CASE("spots are lost towards a final share", "[derived]") {
  CHECK(lost_share(oil, 0.0_h) == 0.0);
  CHECK(lost_share(oil, 100.0_h) == Approx(0.9 * (1.0 - std::exp(-1.0))));
  CHECK(lost_share(oil, 1e6_h) == Approx(0.9));
}

TEST_CASE("without a term the law is as it was", "[derived]") {
  const DryResistance same = grown(law, {}, 100.0_degC, 1e4_h);
  CHECK(same.bulk == law.bulk);
  CHECK(same.film == law.film);
  const DryResistance begin = grown(law, {.film = oxide(), .lost = oil}, 100.0_degC, 0.0_h);
  CHECK_THAT(begin.bulk, near(law.bulk, 1e-14));
  CHECK_THAT(begin.film, near(law.film, 1e-14));
}

TEST_CASE("a film raises its share of the resistance", "[derived]") {
  const auto film_after = [](GrowingFilm film) {
    return grown(law, {.film = film, .lost = {}}, 100.0_degC, 1000.0_h).film;
  };
  GrowingFilm film = oxide();
  CHECK_THAT(film_after(film), near(44.0_ohm, 1e-12));
  film.share = 0.25;
  CHECK_THAT(film_after(film), near(27.5_ohm, 1e-12));
  film.tunnel_length = 0.001_um;
  CHECK_THAT(film_after(film), near(22.0_ohm * (1.0 + 0.25 * (std::exp(2.0) - 1.0)), 1e-12));
  film.share = 0.0;
  CHECK(film_after(film) == 22.0_ohm);
  CHECK(grown(law, {.film = oxide(), .lost = {}}, 100.0_degC, 1000.0_h).bulk == 8.0_ohm);
}

TEST_CASE("a film that grows beyond tunnelling opens the contact", "[derived]") {
  GrowingFilm film = oxide();
  film.tunnel_length = Length::from_value(1e-13);
  const DryResistance open = grown(law, {.film = film, .lost = {}}, 100.0_degC, 1e6_h);
  CHECK(std::isinf(ring_resistance(open, 10.0_N_m, 40.0_mm).value.value()));
  DryResistance bare = law;
  bare.film = Resistance{};
  CHECK(grown(bare, {.film = film, .lost = {}}, 100.0_degC, 1e6_h).film == Resistance{});
}

TEST_CASE("lost spots take their fibres with them", "[derived]") {
  const DryResistance late = grown(law, {.film = {}, .lost = oil}, 100.0_degC, 1e6_h);
  CHECK_THAT(late.bulk, near(80.0_ohm, 1e-12));
  CHECK_THAT(late.film, near(220.0_ohm, 1e-12));
}

TEST_CASE("the three terms of growth multiply and count the force once", "[derived]") {
  const DryResistance late = grown(law, {.film = oxide(), .lost = oil}, 100.0_degC, 1000.0_h);
  // Half the force left by wear: 8 * 2^0.5 and 44 * 2^0.875, over what is left of the spots.
  const double left = 1.0 - 0.9 * (1.0 - std::exp(-10.0));
  CHECK_THAT(ring_resistance(late, 5.0_N_m, 40.0_mm).value,
             near((8.0 * std::sqrt(2.0) + 44.0 * std::pow(2.0, 0.875)) / left * 1.0_ohm, 1e-12));
}

TEST_CASE("undefined growth is refused", "[derived]") {
  CHECK_THROWS_AS(film_thickness(oxide(), 100.0_degC, Time::from_value(-1.0)),
                  std::invalid_argument);
  CHECK_THROWS_AS(film_thickness(oxide(), Temperature::from_value(0.0), 1.0_h),
                  std::invalid_argument);
  GrowingFilm bad = oxide();
  bad.new_thickness = Length{};
  CHECK_THROWS_AS(film_thickness(bad, 100.0_degC, 1.0_h), std::invalid_argument);
  bad = oxide();
  bad.share = 1.1;
  CHECK_THROWS_AS(grown(law, {.film = bad, .lost = {}}, 100.0_degC, 1.0_h), std::invalid_argument);
  bad = oxide();
  bad.tunnel_length = Length{};
  CHECK_THROWS_AS(grown(law, {.film = bad, .lost = {}}, 100.0_degC, 1.0_h), std::invalid_argument);
  CHECK_THROWS_AS(lost_share({.final_share = 1.0, .time = 1.0_h}, 1.0_h), std::invalid_argument);
  CHECK_THROWS_AS(lost_share({.final_share = 0.5, .time = Time{}}, 1.0_h), std::invalid_argument);
  CHECK_THROWS_AS(lost_share(oil, Time::from_value(NAN)), std::invalid_argument);
}
