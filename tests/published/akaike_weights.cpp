// R. Calsbeek, S. R. Kuchta, BMC Evolutionary Biology 11 (2011) 353, table 1: six models with their
// AIC, weights and evidence ratios, all printed; the table was read. Criterion for few data: C. M.
// Hurvich, C.-L. Tsai, Biometrika 76 (1989) 297-307 (from memory), form of Burnham and Anderson.
#include "ohmdrag/numerics/akaike.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "ohmdrag/rig/friction_fit.hpp"
#include "rig/friction_log.hpp"

using namespace ohmdrag;

TEST_CASE("weights of six published models", "[published][printed]") {
  const std::vector<double> aic{893.91, 895.70, 897.69, 899.81, 901.23, 902.95};
  const std::vector<double> printed{0.6066, 0.2478, 0.0916, 0.0317, 0.0156, 0.0066};
  const std::vector<double> ratio{1.0, 2.4473, 6.6194, 19.106, 38.8613, 91.8356};
  const auto weights = numerics::akaike_weights(aic);
  // The criteria are printed to 0.01: half of it moves a weight by 1.5e-4 at most.
  for (std::size_t i = 0; i < aic.size(); ++i) {
    CAPTURE(i);
    CHECK(weights[i] == Approx(printed[i]).margin(1.5e-4));
    CHECK(weights[0] / weights[i] == Approx(ratio[i]).epsilon(1e-4));
  }
}

TEST_CASE("the criterion for few data of a constant friction coefficient", "[published][formula]") {
  // n ln(SS/n) + 2 K + 2 K (K + 1)/(n - K - 1), K = 2: the coefficient and the deviation.
  test::FrictionTruth truth;
  rig::FrictionRun run = test::friction_run(truth, 3);
  run.contact_width = Length::from_value(1e-3);
  run.ptfe = test::dry_ptfe();
  const auto fit = rig::fit_friction(run);
  const auto criterion = [&](const rig::ComparedLaw& law) {
    const double n = 12.0, k = static_cast<double>(law.sought) + 1.0;
    return 2.0 * n * std::log(law.rms.value()) + 2.0 * k + 2.0 * k * (k + 1.0) / (n - k - 1.0);
  };
  REQUIRE(fit.compared.size() == 2);
  CHECK(fit.compared[1].above_least ==
        Approx(criterion(fit.compared[1]) - criterion(fit.compared[0])));
}
