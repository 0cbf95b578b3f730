#include <algorithm>
#include <cmath>
#include <vector>

#include "ohmdrag/voltage/edge_response.hpp"
#include "support/near.hpp"
#include "voltage/reference.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::voltage;
using ohmdrag::test::near;
using ohmdrag::test::node;
using ohmdrag::test::one_leg;
using ohmdrag::test::within;

namespace {

/// By ten thousands of points: the largest |v| and the unbroken time above half of it.
struct Scanned {
  double peak_V = 0.0;
  double duration_s = 0.0;
};
Scanned scanned(const MaybePath& path, Time rise, const Ringing& ringing, Time until, double dt_s) {
  std::vector<double> v;
  for (double t_s = 0.0; t_s < until.value(); t_s += dt_s)
    v.push_back(
        ringing_response_at(node, path, one_leg, rise, ringing, Time::from_value(t_s)).value());
  Scanned out;
  std::size_t at = 0;
  for (std::size_t i = 0; i < v.size(); ++i)
    if (std::abs(v[i]) > out.peak_V) {
      out.peak_V = std::abs(v[i]);
      at = i;
    }
  const double sign = v[at] < 0.0 ? -1.0 : 1.0;
  std::size_t low = at, high = at;
  while (low > 0 && sign * v[low - 1] > 0.5 * out.peak_V) --low;
  while (high + 1 < v.size() && sign * v[high + 1] > 0.5 * out.peak_V) ++high;
  out.duration_s = dt_s * double(high - low + 1);
  return out;
}

}  // namespace

TEST_CASE("peak and duration with ringing agree with a dense scan", "[derived]") {
  const auto path = GENERATE(
      MaybePath{}, MaybePath{GroundingPath{10.0_kohm, 50.0_nH}},
      MaybePath{GroundingPath{1.0_ohm, 50.0_nH}}, MaybePath{GroundingPath{1.0_ohm, 0.0_nH}},
      MaybePath{GroundingPath{10.0_ohm, 200.0_nH}}, MaybePath{GroundingPath{50.0_ohm, 100.0_nH}},
      MaybePath{GroundingPath{1.0_ohm, 50.0_nH, {{100.0_ohm, 300.0_pF}}}});
  const auto ringing = GENERATE(Ringing{2.0_MHz, 0.4, 10.0}, Ringing{5.0_MHz, 0.3, 20.0},
                                Ringing{21.0_MHz, 0.5, 8.0});
  const auto rise = GENERATE(20.0_ns, 100.0_ns);
  const Time until = 4.0_us;
  constexpr double dt_s = 1e-10;
  const Scanned slow = scanned(path, rise, ringing, until, dt_s);
  const Stress fast = edge_stress_with_ringing(node, path, one_leg, rise, ringing, until);
  CAPTURE(path ? path->resistance.value() : -1.0, ringing.frequency.value(), rise.value());
  CHECK_THAT(fast.voltage.value(), near(slow.peak_V, 1e-3));
  CHECK_THAT(fast.duration.value(), within(slow.duration_s, 1e-3 * slow.duration_s + 2.5 * dt_s));
  CHECK_THAT(edge_peak_with_ringing(node, path, one_leg, rise, ringing), near(fast.voltage, 1e-9));
}

TEST_CASE("a long time above half of the peak agrees with a dense scan", "[derived]") {
  // Swings that dip below half, that miss it by little, and a decay long after they have faded.
  const auto path = GENERATE(MaybePath{}, MaybePath{GroundingPath{300.0_kohm, 50.0_nH}},
                             MaybePath{GroundingPath{20.0_kohm, 0.0_nH}},
                             MaybePath{GroundingPath{100.0_ohm, 50.0_nH, {{30.0_kohm, 600.0_pF}}}});
  const double share = GENERATE(0.2, 0.33, 0.5, 1.2);
  const double quality = GENERATE(6.0, 60.0);
  const Ringing ringing{2.0_MHz, share, quality};
  const Time until = 40.0_us;
  constexpr double dt_s = 1e-9;
  const Scanned slow = scanned(path, 60.0_ns, ringing, until, dt_s);
  const Stress fast = edge_stress_with_ringing(node, path, one_leg, 60.0_ns, ringing, until);
  CAPTURE(path ? path->resistance.value() : -1.0, share, quality);
  CHECK_THAT(fast.voltage.value(), near(slow.peak_V, 1e-3));
  CHECK_THAT(fast.duration.value(), within(slow.duration_s, 1e-3 * slow.duration_s + 2.5 * dt_s));
}

TEST_CASE("stress with ringing goes with the step and has the plain one as its limit",
          "[derived]") {
  const GroundingPath path{1.0_ohm, 50.0_nH};
  const Time until = 30.0_us;
  const Ringing ringing{2.0_MHz, 0.4, 10.0};
  const Stress one = edge_stress_with_ringing(node, path, one_leg, 50.0_ns, ringing, until);
  const Stress two = edge_stress_with_ringing(node, path, -2.0 * one_leg, 50.0_ns, ringing, until);
  CHECK_THAT(two.voltage, near(2.0 * one.voltage, 1e-9));
  CHECK_THAT(two.duration, near(one.duration, 1e-6));
  const Stress plain = edge_stress(node, path, one_leg, 50.0_ns, until);
  const Stress none =
      edge_stress_with_ringing(node, path, one_leg, 50.0_ns, {2.0_MHz, 0.0, 10.0}, until);
  CHECK_THAT(none.voltage, near(plain.voltage, 1e-9));
  CHECK_THAT(none.duration, near(plain.duration, 1e-6));
  CHECK_THROWS_AS(edge_stress_with_ringing(node, path, one_leg, 50.0_ns, ringing, 50.0_ns),
                  std::invalid_argument);
  CHECK_THROWS_AS(
      edge_stress_with_ringing(node, path, one_leg, 50.0_ns, {2.0_MHz, 0.4, 0.5}, until),
      std::invalid_argument);
}

TEST_CASE("swings that hardly fade end the search", "[derived]") {
  const GroundingPath undamped{0.0_ohm, 50.0_nH};
  const Ringing endless{2.0_MHz, 0.4, 1e6};
  CHECK_THAT(edge_peak_with_ringing(node, undamped, one_leg, 20.0_ns, endless).value(),
             near(scanned(undamped, 20.0_ns, endless, 20.0_us, 2e-10).peak_V, 1e-3));
}
