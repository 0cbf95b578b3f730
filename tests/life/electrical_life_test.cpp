#include "ohmdrag/life/electrical_life.hpp"

#include <cmath>
#include <vector>

#include "ohmdrag/life/discharge_dose.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::life;
using ohmdrag::test::near;
using ohmdrag::test::within;
using ohmdrag::voltage::DoseRate;
using ohmdrag::voltage::Verdict;

namespace {

CurrentDensity A_per_mm2(double value) { return CurrentDensity::from_value(1e6 * value); }
DoseRate dose_rate(double W_per_m2) { return DoseRate::from_value(W_per_m2); }
const CurrentDensityLaw law{
    .constant = 7867204.0_h, .decades_per_A_mm2 = 2.17, .floor = A_per_mm2(0.1)};

const std::vector<DoseStep> duty{
    {60.0_s, Verdict::none, Frequency{}, Power{}, DoseRate{}},
    {30.0_s, Verdict::possible, 100.0_Hz, Power::from_value(2e-6), dose_rate(1.5)},
    {10.0_s, Verdict::expected, 5.0_kHz, Power::from_value(1e-4), dose_rate(70.0)}};

}  // namespace

TEST_CASE("a duty adds up its discharges", "[derived]") {
  const DischargeDose sum = accumulate(duty);
  CHECK_THAT(sum.time, near(100.0_s, 1e-12));
  CHECK_THAT(sum.striking_share(), near(0.4, 1e-12));
  CHECK_THAT(sum.expected_share(), near(0.1, 1e-12));
  CHECK_THAT(sum.discharges, near(53000.0, 1e-12));
  CHECK_THAT(sum.energy.value(), near(1.06e-3, 1e-12));
  CHECK_THAT(sum.dose.value(), near(745.0, 1e-12));
  CHECK_THAT(sum.mean_rate(), near(530.0_Hz, 1e-12));
  CHECK_THAT(sum.mean_dose_rate(), near(dose_rate(7.45), 1e-12));
  CHECK(accumulate({}).striking_share() == 0.0);
  std::vector<DoseStep> backwards = duty;
  backwards[1].duration = -backwards[1].duration;
  CHECK_THROWS_AS(accumulate(backwards), std::invalid_argument);
}

TEST_CASE("dose factor between two duties", "[derived]") {
  const DischargeDose baseline = accumulate(duty);
  std::vector<DoseStep> half = duty;
  for (DoseStep& step : half) step.dose_rate *= 0.5;
  CHECK_THAT(*dose_factor(baseline, accumulate(half)), near(2.0, 1e-12));
  CHECK_FALSE(dose_factor(baseline, accumulate(std::vector<DoseStep>{duty[0]})));
  CHECK_THROWS_AS(dose_factor(baseline, DischargeDose{}), std::invalid_argument);
}

TEST_CASE("life by dose is inverse to it and blind to current", "[derived]") {
  const LawLife life = life_by_dose(900.0_h, dose_rate(7.0), dose_rate(3.5));
  CHECK_THAT(*life.life, near(1800.0_h, 1e-12));
  CHECK_THAT(std::string{life.blind_spot}, Catch::Matchers::Contains("blind to the peak current"));
  CHECK_FALSE(life_by_dose(900.0_h, dose_rate(7.0), dose_rate(0.0)).life);
  CHECK_THROWS_AS(life_by_dose(900.0_h, dose_rate(0.0), dose_rate(1.0)), std::invalid_argument);
}

TEST_CASE("life by current density falls with density and has a floor", "[derived]") {
  CHECK_FALSE(life_at_density(law, A_per_mm2(0.0999)));
  Time last = *life_at_density(law, A_per_mm2(0.1));
  for (double density = 0.15; density < 3.0; density += 0.05) {
    const Time now = *life_at_density(law, A_per_mm2(density));
    CHECK(now < last);
    last = now;
  }
  // 148-fold for one ampere per square millimetre.
  CHECK_THAT(double(*life_at_density(law, A_per_mm2(0.5)) / *life_at_density(law, A_per_mm2(1.5))),
             near(147.9, 1e-3));
  CHECK_THROWS_AS(life_at_density(law, A_per_mm2(-1.0)), std::invalid_argument);
}

TEST_CASE("time below the floor or without a strike dilutes", "[derived]") {
  const LawLife whole =
      life_by_current_density(law, std::vector<DensityStep>{{1.0, A_per_mm2(0.8)}});
  const LawLife tenth = life_by_current_density(
      law, std::vector<DensityStep>{{0.1, A_per_mm2(0.8)}, {0.5, A_per_mm2(0.05)}});
  CHECK_THAT(*tenth.life, near(10.0 * *whole.life, 1e-12));
  CHECK_FALSE(life_by_current_density(law, {}).life);
  CHECK_FALSE(life_by_current_density(law, std::vector<DensityStep>{{1.0, A_per_mm2(0.05)}}).life);
  CHECK_THROWS_AS(life_by_current_density(law, std::vector<DensityStep>{{1.1, A_per_mm2(0.8)}}),
                  std::invalid_argument);
  CHECK_THAT(std::string{whole.blind_spot}, Catch::Matchers::Contains("blind to how often"));
}

TEST_CASE("relative life is a power of the dose factor", "[derived]") {
  CHECK_THAT(*life_by_dose_factor(1000.0_h, 16.0, 0.5).life, near(4000.0_h, 1e-12));
  CHECK_FALSE(life_by_dose_factor(1000.0_h, std::nullopt, 0.5).life);
  CHECK_THROWS_AS(life_by_dose_factor(1000.0_h, 0.0, 0.5), std::invalid_argument);
}
