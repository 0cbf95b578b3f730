// M. Modarres, M. Amiri, C. Jackson, Probabilistic Physics of Failure Approach to Reliability
// (2017), pp. 33-37, as quoted on an example page: cumulative damage over a cycle of three load
// levels. Mean loads of continuous courses as machine-element textbooks shorten them: (P_min + 2
// P_max)/3, 0.75 P_max of a full sine and 0.68 P_max of a lifted cosine, all three from memory.
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <vector>

#include "ohmdrag/bearing/damage_sum.hpp"
#include "ohmdrag/bearing/rating_life.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::bearing;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;

TEST_CASE("Modarres et al.: 40, 15 and 5 minutes at three levels", "[printed]") {
  struct Row {
    double minutes;
    Time life;
    double share_percent;
  };
  const std::array rows{Row{40.0, 50000.0_h, 9.867}, Row{15.0, 6500.0_h, 28.463},
                        Row{5.0, 1000.0_h, 61.670}};
  double per_cycle = 0.0;
  for (const auto& row : rows) per_cycle += damage(row.minutes / 60.0 * 1.0_h, row.life);
  CHECK_THAT(per_cycle, within(1.3513e-4, 5e-9));
  CHECK_THAT(1.0 / per_cycle, within(7400.38, 5e-3));
  for (const auto& row : rows)
    CHECK_THAT(100.0 * damage(row.minutes / 60.0 * 1.0_h, row.life) / per_cycle,
               within(row.share_percent, 5e-4));
  // A cycle lasts one hour, so the life in hours is the same number.
  const std::array duty{LifeShare{40.0, rows[0].life}, LifeShare{15.0, rows[1].life},
                        LifeShare{5.0, rows[2].life}};
  CHECK_THAT(mixed_life(duty), near(7400.3795_h, 1e-7));
}

TEST_CASE("textbook: mean loads of a sine and a lifted cosine", "[formula]") {
  // Cubic means: 0.751501 and 0.678604; textbooks print two digits. Rollers, 10/3: 0.762979.
  struct Row {
    double (*load)(double);
    double exponent, exact, printed;
  };
  const Row row =
      GENERATE(Row{[](double x) { return std::sin(std::numbers::pi * x); }, ball_life_exponent,
                   0.751501, 0.75},
               Row{[](double x) { return 0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * x); },
                   ball_life_exponent, 0.678604, 0.68},
               Row{[](double x) { return std::sin(std::numbers::pi * x); }, roller_life_exponent,
                   0.762979, 0.76});
  std::vector<LoadShare> duty;
  constexpr int steps = 4000;
  for (int i = 0; i < steps; ++i)
    duty.push_back({1.0, Force::from_value(row.load((i + 0.5) / steps)), 1.0_rad_s});
  const double mean = mean_equivalent_load(duty, row.exponent).value();
  CHECK_THAT(mean, within(row.exact, 1e-6));
  CHECK_THAT(mean, within(row.printed, 0.005));
}

TEST_CASE("textbook: the shortcut for a load ramp is 8 % high", "[formula]") {
  // 1 to 3, every load as often as any other: 10^(1/3), the shortcut (1 + 2 3)/3.
  std::vector<LoadShare> duty;
  constexpr int steps = 4000;
  for (int i = 0; i < steps; ++i)
    duty.push_back({1.0, Force::from_value(1.0 + 2.0 * (i + 0.5) / steps), 1.0_rad_s});
  const double mean = mean_equivalent_load(duty, ball_life_exponent).value();
  CHECK_THAT(mean, within(2.154435, 1e-6));
  CHECK_THAT((1.0 + 2.0 * 3.0) / 3.0 / mean, within(1.083, 5e-4));
}
