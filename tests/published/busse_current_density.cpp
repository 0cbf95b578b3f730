// D. Busse, J. Erdman, R. Kerkman, D. Schlegel, G. Skibinski, The effects of PWM voltage source
// inverters on the mechanical performance of rolling bearings, IEEE Trans. Ind. Appl. 33(2) 1997.
// Only the abstract was read; form and both constants are from memory and not confirmed. The hours
// below are arithmetic on them: they prove typing, not the law.
#include <vector>

#include "ohmdrag/life/electrical_life.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::life;
using ohmdrag::test::near;
using ohmdrag::test::within;

namespace {

CurrentDensity A_per_mm2(double value) { return CurrentDensity::from_value(1e6 * value); }
const CurrentDensityLaw law{
    .constant = 7867204.0_h, .decades_per_A_mm2 = 2.17, .floor = A_per_mm2(0.1)};

}  // namespace

TEST_CASE("the current-density law gives its remembered hours", "[derived]") {
  struct Row {
    double density_A_mm2;
    Time life;
  };
  const auto row = GENERATE(Row{0.1, 4773318.0_h}, Row{0.2, 2896146.0_h}, Row{0.3, 1757197.0_h},
                            Row{0.4, 1066155.0_h}, Row{0.6, 392483.0_h}, Row{0.7, 238133.0_h},
                            Row{0.8, 144484.0_h}, Row{1.0, 53189.0_h}, Row{1.2, 19580.0_h},
                            Row{1.4, 7208.0_h}, Row{2.0, 359.6_h});
  CAPTURE(row.density_A_mm2);
  const auto life = life_at_density(law, A_per_mm2(row.density_A_mm2));
  REQUIRE(life);
  CHECK_THAT(*life, near(row.life, 1e-4));
}

TEST_CASE("densities of round lives under the remembered constants", "[derived]") {
  struct Row {
    double density_A_mm2;
    Time life;
  };
  // Three decimals of the density are 0.25 % of the hours; the last row is 1.423 A on 1.369 mm2.
  const auto row = GENERATE(Row{1.196, 20000.0_h}, Row{1.057, 40000.0_h}, Row{0.874, 100000.0_h},
                            Row{1.0395, 43700.0_h});
  CAPTURE(row.density_A_mm2);
  CHECK_THAT(*life_at_density(law, A_per_mm2(row.density_A_mm2)), near(row.life, 3e-3));
}

TEST_CASE("the remembered constants set no limit where nothing is struck", "[derived]") {
  // The formula would say 7 867 204 h at no density at all.
  CHECK_FALSE(life_at_density(law, A_per_mm2(0.0)));
  CHECK_FALSE(life_at_density(law, A_per_mm2(0.099)));
}

TEST_CASE("a twentieth of the time at a high density makes most of the damage", "[derived]") {
  const std::vector<DensityStep> duty{
      {0.70, A_per_mm2(0.2)}, {0.25, A_per_mm2(0.8)}, {0.05, A_per_mm2(1.4)}};
  const LawLife result = life_by_current_density(law, duty);
  REQUIRE(result.life);
  CHECK_THAT(*result.life, near(112251.0_h, 1e-4));
  const auto share = [&](const DensityStep& step) {
    return step.share * double(*result.life / *life_at_density(law, step.density));
  };
  CHECK_THAT(share(duty[0]), within(0.027, 5e-4));
  CHECK_THAT(share(duty[1]), within(0.194, 5e-4));
  CHECK_THAT(share(duty[2]), within(0.779, 5e-4));
}
