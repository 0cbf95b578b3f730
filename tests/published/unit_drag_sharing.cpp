// Three sources on sharing out readings and hours, all from memory:
// - H. Hotelling, Some improvements in weighing and other experimental techniques, Ann. Math. Stat.
//   15 (1944) 297-306: objects weighed in combinations; the error of each follows from the design.
// - G. D'Agostini, On the use of the covariance matrix to fit correlated data, Nucl. Instr. Meth. A
//   346 (1994) 306-311: two results 8.0 and 8.5 with 2 % each and 10 % in common; their covariance
//   matrix pulls the mean to 7.87 +- 0.81, below both, the scale error as a parameter does not.
// - NIST/SEMATECH e-Handbook of Statistical Methods, 8.1.5.1 (Arrhenius): from 25 to 125 degC the
//   acceleration is 133 for an activation energy of 0.5 eV and 17 597 for 1.0 eV.

#include <catch2/catch.hpp>
#include <cmath>

#include "ohmdrag/rig/rig_programme.hpp"
#include "ohmdrag/rig/unit_drag_fit.hpp"

using namespace ohmdrag;

namespace {

/// Parts of constant torque, hardly known beforehand, at one speed and oil.
rig::UnitDragRun weighing(const std::vector<double>& model_Nm,
                          const std::vector<std::vector<bool>>& builds) {
  rig::UnitDragRun run;
  const std::size_t beliefs = rig::beliefs_a_part * model_Nm.size();
  run.prior.mean.assign(beliefs, 0.0);
  run.prior.covariance.assign(beliefs * beliefs, 0.0);
  for (std::size_t p = 0; p < model_Nm.size(); ++p) {
    run.parts.push_back("part-" + std::to_string(p));
    run.prior.covariance[rig::beliefs_a_part * p * (beliefs + 1)] = 100.0;
  }
  run.fitted = builds;
  for (std::size_t b = 0; b < builds.size(); ++b)
    run.builds.push_back("build-" + std::to_string(b));
  return run;
}

void add_reading(rig::UnitDragRun& run, const std::vector<double>& model_Nm, std::size_t build,
                 double measured_Nm) {
  rig::UnitDragPoint point{
      build, from_rpm(1000.0), from_celsius(60.0), Torque::from_value(measured_Nm), {}};
  for (std::size_t p = 0; p < model_Nm.size(); ++p)
    point.model.push_back(Torque::from_value(run.fitted[build][p] ? model_Nm[p] : 0.0));
  run.points.push_back(std::move(point));
}

}  // namespace

TEST_CASE("Hotelling: parts of a strip-down have the error of a difference of means", "[formula]") {
  const std::vector<double> model{2.0, 1.0};
  rig::UnitDragRun run = weighing(model, {{true, true}, {false, true}, {false, false}});
  const double noise = 0.02;
  const auto times = GENERATE(4, 9);
  for (int i = 0; i < times; ++i) {
    const double off = i % 2 == 0 ? noise : -noise;
    add_reading(run, model, 0, 3.5 + off);
    add_reading(run, model, 1, 1.5 - off);
    add_reading(run, model, 2, 0.5 + off);
  }
  run.noise = Torque::from_value(noise);
  const rig::UnitDragFit fit = fit_unit_drag(run);
  const double error = noise * std::sqrt(2.0 / times);
  CHECK(fit.parts[0].torque.standard_error.value() == Approx(error).epsilon(1e-3));
  CHECK(fit.parts[1].torque.standard_error.value() == Approx(error).epsilon(1e-3));
  CHECK(fit.rest.standard_error.value() == Approx(noise / std::sqrt(times)).epsilon(1e-3));
  // What the build between them reads too high, one part loses and the other gains.
  CHECK(fit.covariance[1] / (error * error) == Approx(-0.5).epsilon(1e-3));
}

TEST_CASE("D'Agostini: a common scale error widens a mean and does not pull it down", "[formula]") {
  const std::vector<double> model{8.25};
  rig::UnitDragRun run = weighing(model, {{true}, {false}});
  // Four readings a result give the mean its 2 %; a rest that is known leaves one unknown.
  for (int i = 0; i < 4; ++i) {
    add_reading(run, model, 0, 8.0 + 1e-3);
    add_reading(run, model, 0, 8.5 + 1e-3);
  }
  for (int i = 0; i < 4000; ++i) add_reading(run, model, 1, 1e-3);
  const double of_result = 0.02 * 8.25;
  run.noise = Torque::from_value(2.0 * of_result);
  run.calibration = 0.10;
  const rig::UnitDragFit fit = fit_unit_drag(run);
  const double value = fit.parts[0].torque.value.value();
  const double error = std::hypot(of_result / std::sqrt(2.0), 0.10 * 8.25);
  CHECK(value == Approx(8.25).epsilon(2e-3));
  CHECK(fit.parts[0].torque.standard_error.value() == Approx(error).epsilon(0.02));
  const double pulled = 8.25 / (1.0 + 0.5 * 0.5 * 0.10 * 0.10 / (2.0 * of_result * of_result));
  CHECK(pulled == Approx(7.87).epsilon(0.005));
  CHECK(value > pulled + 0.3);
}

TEST_CASE("NIST e-Handbook: Arrhenius acceleration from 25 to 125 degC", "[formula]") {
  constexpr double boltzmann_eV_K = 8.617e-5;
  const auto [energy_eV, printed] = GENERATE(table<double, double>({{0.5, 133.0}, {1.0, 17597.0}}));
  const rig::ServiceDose dose{.hours = Time::from_value(3600.0),
                              .way = Length::from_value(1000.0),
                              .ageing = from_celsius(25.0),
                              .pressure = Pressure::from_value(1e4)};
  const auto of = rig::acceleration(dose, {dose.mean_speed(), from_celsius(125.0), dose.pressure},
                                    TemperatureDifference::from_value(energy_eV / boltzmann_eV_K));
  CHECK(of.ageing == Approx(printed).epsilon(5e-3));
}
