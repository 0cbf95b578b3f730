// O. L. Davies, P. L. Goldsmith (eds.), Statistical Methods in Research and Production, 4th ed.,
// 1972, section 6.4: yield of dyestuff, five preparations from each of six batches. Read were the
// 30 yields, as the data set Dyestuff of a statistics package reprints them. Standard deviations of
// 42.0 from batch to batch and 49.5 within a batch (restricted maximum likelihood, which for equal
// numbers is the analysis of variance) are from memory, as is the standard error 19.4 of the mean
// 1527.5.
//
// Here the yields stand in for ln Z of six specimens that do not grow. Yields over 1000 are taken,
// and far preparations count less with Huber's loss: hence the tolerances.

#include <catch2/catch.hpp>
#include <cmath>
#include <string>
#include <vector>

#include "ohmdrag/rig/endurance_fit.hpp"

using namespace ohmdrag;

namespace {

constexpr double unit = 1000.0;

rig::EnduranceRun batches() {
  const std::vector<std::vector<double>> yields{
      {1545, 1440, 1440, 1520, 1580}, {1540, 1555, 1490, 1560, 1495},
      {1595, 1550, 1605, 1510, 1560}, {1445, 1440, 1595, 1465, 1545},
      {1595, 1630, 1515, 1635, 1625}, {1520, 1455, 1450, 1480, 1445}};
  rig::EnduranceRun run;
  run.law = rig::GrowthLaw::none;
  for (std::size_t i = 0; i < yields.size(); ++i) {
    rig::EnduranceSpecimen specimen;
    specimen.name = std::string(1, static_cast<char>('A' + i));
    for (std::size_t j = 0; j < yields[i].size(); ++j) {
      specimen.time.push_back(Time::from_value(static_cast<double>(j)));
      specimen.impedance.push_back(Resistance::from_value(std::exp(yields[i][j] / unit)));
    }
    run.specimens.push_back(std::move(specimen));
  }
  return run;
}

}  // namespace

TEST_CASE("scatter from batch to batch is told apart from that within one", "[formula]") {
  const auto fit = rig::fit_endurance(batches());
  CHECK(unit * fit.scatter_at_begin->mid == Approx(42.0).epsilon(0.1));
  CHECK(unit * fit.noise == Approx(49.5).epsilon(0.03));
  CHECK(unit * std::log(fit.at_begin.mid) == Approx(1527.5).epsilon(0.003));
  const double half = 0.5 * unit * std::log(fit.at_begin.high / fit.at_begin.low);
  CHECK(half / 2.571 == Approx(19.4).epsilon(0.1));  // Student's t of five degrees, 95 %
}
