#include "ohmdrag/rig/sweep_fit.hpp"

#include <catch2/catch.hpp>

#include "ohmdrag/quantity/literals.hpp"
#include "rig/sweep_log.hpp"
#include "rig/sweep_problem.hpp"
#include "support/effort.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using Catch::Matchers::Contains;
using rig::SweepModel;
using test::sweep_log;
using test::SweepTruth;

namespace {

const voltage::GroundingPath plain{2.0_ohm, 0.0_nH};
const voltage::GroundingPath with_lead{2.0_ohm, 50.0_nH};
const voltage::GroundingPath leaky{2.0_kohm, 0.0_nH, {}, 100.0_pF};
const voltage::GroundingPath resonant{2.0_ohm, 50.0_nH, {}, 20.0_nF};
const voltage::GroundingPath filmed{20.0_ohm, 0.0_nH, {{1.0_kohm, 1.0_nF}}};
const voltage::GroundingPath filmed_lead{20.0_ohm, 500.0_nH, {{1.0_kohm, 1.0_nF}}};

template <class Q>
bool covers(const std::optional<rig::FactorEstimate<Q>>& estimate, Q truth) {
  return estimate && estimate->low() <= truth && truth <= estimate->high();
}

struct Coverage {
  int fits = 0, same_model = 0;
  int resistance = 0, inductance = 0, capacitance = 0, film = 0, film_capacitance = 0;
};
Coverage coverage_of(const SweepTruth& truth, SweepModel model) {
  Coverage result;
  result.fits = test::effort(200);
  for (int seed = 0; seed < result.fits; ++seed) {
    const rig::SweepFit fit = rig::fit_sweep(sweep_log(truth, static_cast<unsigned>(seed) + 1));
    result.same_model += fit.model == model ? 1 : 0;
    result.resistance += covers(fit.resistance, truth.path.resistance) ? 1 : 0;
    result.inductance += covers(fit.inductance, truth.path.inductance) ? 1 : 0;
    result.capacitance += covers(fit.capacitance, truth.path.across) ? 1 : 0;
    if (truth.path.films.empty()) continue;
    result.film += covers(fit.film_resistance, truth.path.films.front().resistance) ? 1 : 0;
    result.film_capacitance +=
        covers(fit.film_capacitance, truth.path.films.front().capacitance) ? 1 : 0;
  }
  UNSCOPED_INFO("of " << result.fits << ": model " << result.same_model << ", R "
                      << result.resistance << ", L " << result.inductance << ", C "
                      << result.capacitance << ", R_f " << result.film << ", C_f "
                      << result.film_capacitance);
  CHECK(result.same_model >= 0.88 * result.fits);
  return result;
}
void check_share(int covered, const Coverage& coverage) {
  CHECK(covered >= 0.90 * coverage.fits);
  CHECK(covered <= 0.98 * coverage.fits);
}

}  // namespace

TEST_CASE("the model of the fit is the path of a case") {
  const rig::CircuitSizes sizes{2.0, 50e-9, 20e-12, 1000.0, 1e-9};
  const voltage::GroundingPath path = rig::path_of(sizes);
  for (const double f_Hz : {1e2, 1e5, 1e7, 1e9}) {
    const auto w = 2.0 * std::acos(-1.0) * f_Hz;
    const auto expected = voltage::impedance_ohm(path, Frequency::from_value(f_Hz));
    const rig::CircuitPoint point = rig::circuit_at(sizes, w);
    CHECK(std::abs(point.ohm / expected - 1.0) < 1e-12);
    for (std::size_t j = 0; j < sizes.size(); ++j) {
      constexpr double step = 1e-6;
      rig::CircuitSizes more = sizes, less = sizes;
      more[j] *= std::exp(step);
      less[j] *= std::exp(-step);
      const auto slope =
          (rig::circuit_at(more, w).ohm - rig::circuit_at(less, w).ohm) / (2.0 * step);
      CHECK(std::abs(slope - point.slope[j]) < 1e-7 * std::abs(expected));
    }
  }
}

TEST_CASE("a sweep without noise gives its elements back") {
  const auto close = [](const auto& told, auto truth) {
    REQUIRE(told);
    CHECK((told->value / truth).value() == Approx(1.0).epsilon(1e-8));
  };
  const auto fit_of = [](const voltage::GroundingPath& path) {
    return rig::fit_sweep(sweep_log({.path = path, .noise = 0.0}, 1));
  };
  SECTION("resistance") {
    const auto fit = fit_of(plain);
    CHECK(fit.model == SweepModel::resistance);
    close(fit.resistance, 2.0_ohm);
    close(fit.direct_resistance, 2.0_ohm);
  }
  SECTION("inductance") {
    const auto fit = fit_of(with_lead);
    CHECK(fit.model == SweepModel::with_inductance);
    close(fit.resistance, 2.0_ohm);
    close(fit.inductance, 50.0_nH);
  }
  SECTION("beside a capacitance") {
    const auto fit = fit_of(leaky);
    CHECK(fit.model == SweepModel::beside_capacitance);
    close(fit.resistance, 2.0_kohm);
    close(fit.capacitance, 100.0_pF);
  }
  SECTION("resonance") {
    const auto fit = fit_of(resonant);
    CHECK(fit.model == SweepModel::inductance_beside_capacitance);
    close(fit.resistance, 2.0_ohm);
    close(fit.inductance, 50.0_nH);
    close(fit.capacitance, 20.0_nF);
    CHECK(fit.notes.empty());
  }
  SECTION("film") {
    const auto fit = fit_of(filmed);
    CHECK(fit.model == SweepModel::with_film);
    close(fit.resistance, 20.0_ohm);
    close(fit.film_resistance, 1.0_kohm);
    close(fit.film_capacitance, 1.0_nF);
    close(fit.direct_resistance, 1.02_kohm);
  }
  SECTION("film behind a lead") {
    const auto fit = fit_of(filmed_lead);
    CHECK(fit.model == SweepModel::inductance_with_film);
    close(fit.resistance, 20.0_ohm);
    close(fit.inductance, 500.0_nH);
    close(fit.film_resistance, 1.0_kohm);
    close(fit.film_capacitance, 1.0_nF);
  }
}

TEST_CASE("95 % intervals cover the elements of every model") {
  SECTION("resistance") {
    const auto coverage = coverage_of({.path = plain}, SweepModel::resistance);
    check_share(coverage.resistance, coverage);
  }
  SECTION("inductance") {
    const auto coverage = coverage_of({.path = with_lead}, SweepModel::with_inductance);
    check_share(coverage.resistance, coverage);
    check_share(coverage.inductance, coverage);
  }
  SECTION("beside a capacitance") {
    const auto coverage = coverage_of({.path = leaky}, SweepModel::beside_capacitance);
    check_share(coverage.resistance, coverage);
    check_share(coverage.capacitance, coverage);
  }
  SECTION("resonance") {
    const auto coverage =
        coverage_of({.path = resonant}, SweepModel::inductance_beside_capacitance);
    check_share(coverage.resistance, coverage);
    check_share(coverage.inductance, coverage);
    check_share(coverage.capacitance, coverage);
  }
  SECTION("film") {
    const auto coverage = coverage_of({.path = filmed}, SweepModel::with_film);
    check_share(coverage.resistance, coverage);
    check_share(coverage.film, coverage);
    check_share(coverage.film_capacitance, coverage);
  }
  SECTION("film behind a lead") {
    const auto coverage = coverage_of({.path = filmed_lead}, SweepModel::inductance_with_film);
    check_share(coverage.resistance, coverage);
    check_share(coverage.inductance, coverage);
    check_share(coverage.film, coverage);
    check_share(coverage.film_capacitance, coverage);
  }
}
