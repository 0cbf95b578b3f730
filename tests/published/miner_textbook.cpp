// M. Modarres, M. Amiri, C. Jackson, Probabilistic Physics of Failure Approach to Reliability
// (2017), pp. 33-37, as quoted on an example page: cumulative damage over a cycle of three load
// levels.
#include <array>
#include <catch2/catch.hpp>

#include "ohmdrag/bearing/damage_sum.hpp"
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
