#include <catch2/catch.hpp>
#include <vector>

#include "ohmdrag/numerics/order_statistics.hpp"

// S. S. Wilks, Determination of sample sizes for setting tolerance limits, Ann. Math. Stat. 12
// (1941) 91-96: how many values are needed so that the largest, second or third largest of them is
// a limit. The rounded numbers are from memory, as widely printed in nuclear safety analysis.

using namespace ohmdrag::numerics;

TEST_CASE("how many values make the largest of them a limit", "[published][formula]") {
  struct Row {
    double share, confidence;
    int from_the_top, values;
  };
  const Row row =
      GENERATE(Row{0.95, 0.95, 1, 59}, Row{0.95, 0.95, 2, 93}, Row{0.95, 0.95, 3, 124},
               Row{0.90, 0.90, 1, 22}, Row{0.90, 0.95, 1, 29}, Row{0.95, 0.90, 1, 45},
               Row{0.99, 0.90, 1, 230}, Row{0.99, 0.95, 1, 299}, Row{0.99, 0.99, 1, 459});
  CAPTURE(row.share, row.confidence, row.from_the_top);
  std::vector<double> values;
  for (int i = 1; i < row.values; ++i) values.push_back(i);
  const auto one_too_few = upper_tolerance_limit(values, row.share, row.confidence);
  if (row.from_the_top == 1)
    CHECK_FALSE(one_too_few);
  else
    CHECK(one_too_few == row.values - 1.0 - (row.from_the_top - 2));
  values.push_back(row.values);
  CHECK(upper_tolerance_limit(values, row.share, row.confidence) ==
        row.values - (row.from_the_top - 1.0));
}
