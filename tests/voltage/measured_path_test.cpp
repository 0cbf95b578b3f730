#include "ohmdrag/voltage/measured_path.hpp"

#include <cmath>
#include <complex>
#include <numbers>
#include <random>
#include <vector>

#include "ohmdrag/voltage/edge_response.hpp"
#include "support/near.hpp"
#include "voltage/nonnegative_fit.hpp"
#include "voltage/reference.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::voltage;
using ohmdrag::test::near;
using ohmdrag::test::node;
using ohmdrag::test::one_leg;
using ohmdrag::test::within;

namespace {

std::vector<ImpedanceRow> table_of(const GroundingPath& path, double from_Hz = 1e3,
                                   double to_Hz = 3e7, int per_decade = 20) {
  std::vector<ImpedanceRow> rows;
  const int count = static_cast<int>(per_decade * std::log10(to_Hz / from_Hz)) + 1;
  for (int i = 0; i < count; ++i) {
    const Frequency f = Frequency::from_value(from_Hz * std::pow(10.0, double(i) / per_decade));
    rows.push_back({f, impedance_magnitude(path, f), impedance_phase_deg(path, f)});
  }
  return rows;
}

}  // namespace

TEST_CASE("a measured contact with inductance comes back", "[derived]") {
  const auto fit = measured_path(table_of({1.0_ohm, 50.0_nH}));
  CHECK_THAT(direct_resistance(fit.path), near(1.0_ohm, 1e-4));
  CHECK_THAT(fit.path.inductance, near(50.0_nH, 1e-4));
  CHECK(fit.path.films.empty());
  CHECK(fit.path.across == Capacitance{});
  CHECK(fit.misfit.largest_dB < 1e-3);
  CHECK(fit.misfit.largest_deg < 1e-2);
  CHECK(fit.flags.empty());
  CHECK(fit.from == 1.0_kHz);
}

TEST_CASE("measured films come back as few states", "[derived]") {
  const auto path = GENERATE(
      GroundingPath{1.0_ohm, 0.0_nH, {{10.0_kohm, 100.0_pF}}},
      GroundingPath{2.0_ohm, 40.0_nH, {{30.0_ohm, 2.0_nF}, {300.0_ohm, 20.0_nF}}},
      GroundingPath{
          5.0_ohm, 20.0_nH, {{20.0_ohm, 300.0_pF}, {70.0_ohm, 7.0_nF}, {9.0_ohm, 90.0_nF}}});
  const auto fit = measured_path(table_of(path));
  CAPTURE(path.films.size(), fit.path.films.size());
  CHECK(fit.misfit.largest_dB < 0.02);
  CHECK(fit.misfit.largest_deg < 0.2);
  CHECK(fit.path.films.size() <= path.films.size() + 1);
  CHECK_THAT(direct_resistance(fit.path), near(direct_resistance(path), 2e-3));
  // What matters: an edge through it.
  CHECK_THAT(edge_peak(node, fit.path, one_leg, 50.0_ns),
             near(edge_peak(node, path, one_leg, 50.0_ns), 5e-3));
}

TEST_CASE("a resonance with what lies across is found", "[derived]") {
  const GroundingPath path{1.0_ohm, 50.0_nH, {}, 200.0_pF};
  const auto fit = measured_path(table_of(path, 1e4, 2e8, 40));
  CHECK_THAT(fit.path.across, near(200.0_pF, 2e-3));
  CHECK_THAT(fit.path.inductance, near(50.0_nH, 2e-3));
  CHECK(fit.misfit.largest_dB < 0.1);
  CHECK(fit.flags.empty());
}

TEST_CASE("contacts of many spots take at most eight films", "[derived]") {
  // A phase of -45 degrees over six decades: no chain of a few films has it exactly.
  std::vector<ImpedanceRow> rows;
  for (int i = 0; i <= 120; ++i) {
    const double f_Hz = 1e2 * std::pow(10.0, i / 20.0);
    rows.push_back(
        {Frequency::from_value(f_Hz), Resistance::from_value(1e5 / std::sqrt(f_Hz)), -45.0});
  }
  const auto fit = measured_path(rows);
  CHECK(fit.path.films.size() <= 8);
  CHECK(fit.misfit.largest_dB < 1.0);
}

TEST_CASE("noise of a measurement is met within its size", "[derived]") {
  std::mt19937 random(7);
  std::normal_distribution<double> normal;
  auto rows = table_of({2.0_ohm, 40.0_nH, {{30.0_ohm, 2.0_nF}}});
  for (ImpedanceRow& row : rows) {
    row.magnitude *= 1.0 + 0.01 * normal(random);
    row.phase_deg += 0.5 * normal(random);
  }
  const auto fit = measured_path(rows);
  CHECK(fit.flags.empty());
  CHECK_THAT(fit.misfit.rms_dB, within(0.085, 0.03));
  CHECK_THAT(fit.misfit.rms_deg, within(0.5, 0.15));
  CHECK_THAT(fit.path.resistance, near(2.0_ohm, 0.03));
  CHECK_THAT(fit.path.inductance, near(40.0_nH, 0.02));
}

TEST_CASE("what is no passive impedance is flagged or refused", "[derived]") {
  const GroundingPath path{2.0_ohm, 40.0_nH, {{30.0_ohm, 2.0_nF}}};
  // Drift during the sweep: the magnitude doubles towards the end, the phase does not follow.
  auto drifting = table_of(path);
  for (std::size_t i = 0; i < drifting.size(); ++i)
    drifting[i].magnitude *= 1.0 + double(i) / double(drifting.size());
  const auto flagged = measured_path(drifting);
  REQUIRE_FALSE(flagged.flags.empty());
  CHECK(flagged.flags.front().formula == "impedance table (not a passive impedance)");
  // A wrong sign of the phase.
  auto mirrored = table_of(path);
  for (ImpedanceRow& row : mirrored) row.phase_deg = -row.phase_deg;
  CHECK_THROWS_AS(measured_path(mirrored), std::invalid_argument);
  // A negative resistance.
  auto active = table_of(path);
  for (ImpedanceRow& row : active) row.phase_deg = 170.0;
  CHECK_THROWS_AS(measured_path(active), std::invalid_argument);
}

TEST_CASE("a table that is none is refused", "[derived]") {
  const auto good = table_of({1.0_ohm, 50.0_nH});
  CHECK_THROWS_AS(measured_path(std::span(good).first(2)), std::invalid_argument);
  auto bad = good;
  bad[3].magnitude = 0.0_ohm;
  CHECK_THROWS_AS(measured_path(bad), std::invalid_argument);
  bad = good;
  bad[3].phase_deg = 300.0;
  CHECK_THROWS_AS(measured_path(bad), std::invalid_argument);
  bad = good;
  std::swap(bad[3], bad[4]);
  CHECK_THROWS_AS(measured_path(bad), std::invalid_argument);
  bad = good;
  bad[3].frequency = Frequency::from_value(NAN);
  CHECK_THROWS_AS(measured_path(bad), std::invalid_argument);
}

TEST_CASE("a path at another size of its impedance", "[derived]") {
  const GroundingPath path{2.0_ohm, 40.0_nH, {{30.0_ohm, 2.0_nF}}, 20.0_pF};
  for (const Frequency& f : {10.0_kHz, 1.0_MHz, 50.0_MHz})
    CHECK_THAT(std::abs(impedance_ohm(with_impedance(path, 1.5), f) / impedance_ohm(path, f) - 1.5),
               within(0.0, 1e-9));
  CHECK_THROWS_AS(with_impedance(path, 0.0), std::invalid_argument);
}

TEST_CASE("non-negative least squares", "[derived]") {
  Eigen::MatrixXd a(4, 3);
  a << 1, 0, 1, 0, 1, 1, 1, 1, 0, 2, 0, 1;
  // A combination with non-negative members comes back.
  const Eigen::Vector3d x(1.0, 0.0, 2.0);
  CHECK((nonnegative_fit(a, a * x) - x).norm() < 1e-12);
  // Else the conditions of Kuhn and Tucker: no gain left, and none where a member is in use.
  std::mt19937 random(3);
  std::normal_distribution<double> normal;
  for (int n = 0; n < 200; ++n) {
    const Eigen::MatrixXd m = Eigen::MatrixXd::NullaryExpr(12, 6, [&] { return normal(random); });
    const Eigen::VectorXd b = Eigen::VectorXd::NullaryExpr(12, [&] { return normal(random); });
    const Eigen::VectorXd found = nonnegative_fit(m, b);
    const Eigen::VectorXd gain = m.transpose() * (b - m * found);
    CHECK(found.minCoeff() >= 0.0);
    CHECK(gain.maxCoeff() < 1e-9);
    CHECK(std::abs(gain.dot(found)) < 1e-9);
  }
}
