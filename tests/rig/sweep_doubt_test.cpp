// Sweeps that tell too little, or that no fit should be made of.
#include <algorithm>
#include <catch2/catch.hpp>
#include <functional>
#include <numbers>

#include "ohmdrag/quantity/literals.hpp"
#include "ohmdrag/rig/sweep_fit.hpp"
#include "rig/sweep_log.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using Catch::Matchers::Contains;
using rig::Sweep;
using rig::SweepModel;
using test::sweep_log;

namespace {

const voltage::GroundingPath with_lead{2.0_ohm, 50.0_nH};
const voltage::GroundingPath filmed{20.0_ohm, 0.0_nH, {{1.0_kohm, 1.0_nF}}};

std::string all(const std::vector<std::string>& notes) {
  std::string text;
  for (const std::string& note : notes) text += note + '\n';
  return text;
}

std::string refusal(const Sweep& sweep) {
  try {
    rig::fit_sweep(sweep);
  } catch (const std::invalid_argument& error) {
    return error.what();
  }
  return "not refused";
}

Sweep with(Sweep sweep, const std::function<void(rig::SweepPoint&)>& change) {
  for (rig::SweepPoint& point : sweep) change(point);
  return sweep;
}

double degrees(std::complex<double> ohm) { return std::arg(ohm) * 180.0 / std::numbers::pi; }

}  // namespace

TEST_CASE("an inductance that hardly shows is not told, and the frequency is named") {
  const auto fit = rig::fit_sweep(sweep_log({.path = with_lead, .to_Hz = 2e5, .noise = 0.002}, 1));
  CHECK(fit.resistance);
  CHECK_FALSE(fit.inductance);
  // 0.1 R/(2 pi L) = 640 kHz
  CHECK_THAT(all(fit.notes), Contains("shows from 6"));
  CHECK_THAT(all(fit.notes), Contains("00 kHz on"));
  const auto flat = rig::fit_sweep(sweep_log({.path = {2.0_ohm, 0.0_nH}, .noise = 0.01}, 1));
  CHECK(flat.model == SweepModel::resistance);
  CHECK_THAT(all(flat.notes), Contains("tells no inductance"));
  CHECK_THAT(all(flat.notes), Contains("tells no capacitance"));
}

TEST_CASE("a capacitance that resonates above the band is not told") {
  const voltage::GroundingPath path{2.0_ohm, 50.0_nH, {}, 2.0_nF};  // 15.9 MHz
  const auto fit = rig::fit_sweep(sweep_log({.path = path, .noise = 0.001}, 1));
  CHECK(fit.model == SweepModel::inductance_beside_capacitance);
  CHECK(fit.inductance);
  CHECK_FALSE(fit.capacitance);
  CHECK_THAT(all(fit.notes), Contains("would resonate at 16 MHz"));
}

TEST_CASE("a resistance behind its inductance is not told") {
  const voltage::GroundingPath path{0.01_ohm, 500.0_nH};
  const auto fit =
      rig::fit_sweep(sweep_log({.path = path, .from_Hz = 1e5, .to_Hz = 1e8, .noise = 0.02}, 1));
  CHECK_FALSE(fit.resistance);
  CHECK(fit.inductance);
  CHECK_THAT(all(fit.notes), Contains("hidden behind the inductance"));
}

TEST_CASE("a film whose corner lies below the band keeps its resistance to itself") {
  const auto fit =
      rig::fit_sweep(sweep_log({.path = filmed, .from_Hz = 4e6, .to_Hz = 4e7, .noise = 0.01}, 2));
  CHECK_FALSE(fit.film_resistance);
  const auto below =
      rig::fit_sweep(sweep_log({.path = filmed, .from_Hz = 1e2, .to_Hz = 1e5, .noise = 0.03}, 2),
                     SweepModel::with_film);
  CHECK_FALSE(below.resistance);
  CHECK(below.film_resistance);
  CHECK(below.direct_resistance);
  CHECK_THAT(all(below.notes), Contains("Sweep up until the magnitude levels off"));
}

TEST_CASE("single wrong points are listed and hardly matter") {
  Sweep sweep = sweep_log({.path = with_lead}, 3);
  const auto clean = rig::fit_sweep(sweep);
  sweep[7].ohm *= 1.4;
  sweep[30].ohm = -sweep[30].ohm;
  const auto fit = rig::fit_sweep(sweep);
  CHECK(fit.model == SweepModel::with_inductance);
  CHECK(std::ranges::count(fit.outliers, 7u) == 1);
  CHECK(std::ranges::count(fit.outliers, 30u) == 1);
  CHECK(fit.residual.size() == sweep.size());
  CHECK((fit.resistance->value / clean.resistance->value).value() == Approx(1.0).epsilon(0.002));
  CHECK_THAT(all(fit.warnings), Contains("Points far off: 2"));
}

TEST_CASE("models that the data cannot tell apart are named") {
  // A film of a tenth in noise of a tenth.
  const voltage::GroundingPath faint{10.0_ohm, 0.0_nH, {{1.0_ohm, 100.0_nF}}};
  int named = 0;
  for (unsigned seed = 1; seed <= 40; ++seed) {
    const auto fit = rig::fit_sweep(sweep_log({.path = faint, .noise = 0.05}, seed));
    named += all(fit.warnings).find("does not tell") != std::string::npos ? 1 : 0;
  }
  CHECK(named > 0);
}

TEST_CASE("a flattened phase of many contacts widens the intervals and is said") {
  voltage::GroundingPath many{1.0_ohm, 0.0_nH};
  for (double c_F = 1e-10; c_F < 2e-6; c_F *= 4.0)
    many.films.push_back({100.0_ohm, Capacitance::from_value(c_F)});
  const auto fit = rig::fit_sweep(sweep_log({.path = many, .noise = 0.002}, 1));
  CHECK(fit.widening > 1.5);
  CHECK_THAT(all(fit.warnings), Contains("not the shape of this impedance"));
}

TEST_CASE("the check of Kramers and Kronig") {
  SECTION("is met by any contact") {
    for (const voltage::GroundingPath& path : {with_lead, filmed}) {
      const auto check =
          rig::kramers_kronig_check(sweep_log({.path = path, .noise = 0.0}, 1), Capacitance{});
      CHECK(check.rms < 2e-3);
      CHECK_FALSE(check.contradicts);
    }
    const voltage::GroundingPath resonant{2.0_ohm, 50.0_nH, {}, 20.0_nF};
    const auto check =
        rig::kramers_kronig_check(sweep_log({.path = resonant, .noise = 0.0}, 1), 20.0_nF);
    CHECK(check.rms < 1e-6);
  }
  SECTION("seldom objects to noise, and sees a drift") {
    int of_noise = 0, of_drift = 0;
    for (unsigned seed = 1; seed <= 100; ++seed) {
      of_noise += rig::kramers_kronig_check(sweep_log({.path = with_lead}, seed), Capacitance{})
                      .contradicts;
      of_drift += rig::kramers_kronig_check(sweep_log({.path = with_lead, .drift = 0.1}, seed),
                                            Capacitance{})
                      .contradicts;
    }
    CHECK(of_noise <= 2);
    CHECK(of_drift >= 90);
  }
}

TEST_CASE("points that come again tell a drift from noise") {
  const auto steady = rig::repeats_of(sweep_log({.path = with_lead, .back = true}, 1));
  REQUIRE(steady);
  CHECK(steady->frequencies == 41);
  CHECK_FALSE(steady->drifts);
  CHECK(steady->noise == Approx(0.005).epsilon(0.35));
  const auto drifting =
      rig::repeats_of(sweep_log({.path = with_lead, .drift = 0.08, .back = true}, 1));
  CHECK(drifting->drifts);
  CHECK(drifting->mean_change == Approx(0.04).epsilon(0.2));
  CHECK_FALSE(rig::repeats_of(sweep_log({.path = with_lead}, 1)));
}

TEST_CASE("sweeps that no fit should be made of are refused in words") {
  const Sweep sound = sweep_log({.path = with_lead}, 1);
  SECTION("few points") {
    CHECK_THAT(refusal({sound.begin(), sound.begin() + 5}), Contains("has 5 points"));
  }
  SECTION("one frequency") {
    CHECK_THAT(refusal(with(sound, [](auto& p) { p.frequency = 1.0_MHz; })),
               Contains("one frequency tells no element from another"));
  }
  SECTION("a narrow band") {
    CHECK_THAT(refusal(sweep_log({.path = with_lead, .from_Hz = 1e6, .to_Hz = 2e6}, 1)),
               Contains("wants a factor of 3"));
  }
  SECTION("frequency and magnitude swapped") {
    CHECK_THAT(refusal(with(sound,
                            [](auto& p) {
                              const double size = std::abs(p.ohm);
                              p.ohm *= p.frequency.value() / size;
                              p.frequency = Frequency::from_value(size);
                            })),
               Contains("swapped") || Contains("another column"));
    const Sweep flat = sweep_log({.path = {2.0_ohm, 0.0_nH}}, 1);
    CHECK_THAT(refusal(with(flat,
                            [](auto& p) {
                              const double f = p.frequency.value();
                              p.frequency = Frequency::from_value(std::abs(p.ohm));
                              p.ohm = f;
                            })),
               Contains("swapped") || Contains("another column"));
  }
  SECTION("real and imaginary part swapped") {
    const Sweep flat = sweep_log({.path = {2.0_ohm, 0.0_nH}}, 1);
    CHECK_THAT(refusal(with(flat,
                            [](auto& p) {
                              p.ohm = {p.ohm.imag(), p.ohm.real()};
                            })),
               Contains("real and imaginary part swapped"));
  }
  SECTION("the sign of the phase turned") {
    CHECK_THAT(refusal(with(sound, [](auto& p) { p.ohm = std::conj(p.ohm); })),
               Contains("wrong sign"));
    CHECK_THAT(
        refusal(with(sweep_log({.path = filmed}, 1), [](auto& p) { p.ohm = std::conj(p.ohm); })),
        Contains("wrong sign"));
  }
  SECTION("the leads of the voltage turned") {
    CHECK_THAT(refusal(with(sound, [](auto& p) { p.ohm = -p.ohm; })),
               Contains("real part is negative"));
  }
  SECTION("radians read as degrees") {
    CHECK_THAT(refusal(with(sweep_log({.path = filmed}, 1),
                            [](auto& p) {
                              p.ohm = std::polar(std::abs(p.ohm), std::arg(p.ohm) / 57.29578);
                            })),
               Contains("radians"));
  }
  SECTION("an instrument at the end of its range") {
    CHECK_THAT(refusal(with(sweep_log({.path = filmed}, 1),
                            [](auto& p) {
                              if (std::abs(p.ohm) > 500.0) p.ohm *= 500.0 / std::abs(p.ohm);
                            })),
               Contains("end of its range"));
    CHECK_THAT(refusal(with(sound,
                            [](auto& p) {
                              if (p.frequency < 1e4 * si::hertz) p.ohm = 9.9e37;
                            })),
               Contains("over range"));
  }
  SECTION("an open contact") {
    const Sweep open = sweep_log({.path = {1.0_ohm, 0.0_nH}}, 1);
    CHECK_THAT(
        refusal(with(open,
                     [](auto& p) {
                       p.ohm = p.ohm * std::complex<double>{1e-3, -1e10 / p.frequency.value()};
                     })),
        Contains("the contact is open"));
  }
  SECTION("an impedance that changes by half from pass to pass") {
    CHECK_THAT(refusal(sweep_log({.path = with_lead, .drift = 1.0, .back = true}, 1)),
               Contains("no one impedance is told"));
  }
  SECTION("another column in place of the frequency") {
    Sweep mixed = sound;
    for (std::size_t i = 0; i + 20 < mixed.size(); i += 2) std::swap(mixed[i], mixed[i + 20]);
    CHECK_THAT(refusal(mixed), Contains("no instrument sweeps so"));
  }
  SECTION("a negative magnitude") {
    CHECK_THAT(refusal(with(sound, [](auto& p) { p.frequency = -p.frequency; })),
               Contains("above zero"));
  }
  SECTION("an impedance of another kind") {
    CHECK_THAT(refusal(with(sound,
                            [](auto& p) {
                              const double x = std::log10(p.frequency.value());
                              p.ohm = std::polar(1.0 + 0.9 * std::sin(9.0 * x), 0.0);
                            })),
               Contains("it is not that of a contact") || Contains("no search finds an end"));
  }
}

TEST_CASE("a phase in degrees is one") {
  // Guards the signs of these tests: an inductance leads.
  CHECK(degrees(sweep_log({.path = with_lead}, 1).back().ohm) > 45.0);
}
