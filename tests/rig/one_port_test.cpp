#include "ohmdrag/rig/one_port.hpp"

#include <fmt/format.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <stdexcept>

using namespace ohmdrag;
using rig::one_port_of;
using Complex = std::complex<double>;
using Catch::Matchers::Contains;

namespace {

Complex only(std::string_view text) {
  const auto port = one_port_of(text);
  REQUIRE(port.sweep.size() == 1);
  return port.sweep.front().ohm;
}

void check_close(Complex a, Complex b) { CHECK(std::abs(a - b) < 1e-12 * std::abs(b)); }

}  // namespace

TEST_CASE("a reflection becomes an impedance in every format") {
  const Complex ohm{20.0, 35.0}, reflection = (ohm - 50.0) / (ohm + 50.0);
  const double deg = std::arg(reflection) * 180.0 / std::numbers::pi;
  check_close(only(fmt::format("# MHz S RI R 50\n1 {:.17g} {:.17g}\n", reflection.real(),
                               reflection.imag())),
              ohm);
  check_close(only(fmt::format("# MHz S MA R 50\n1 {:.17g} {:.17g}\n", std::abs(reflection), deg)),
              ohm);
  check_close(only(fmt::format("# MHz S DB R 50\n1 {:.17g} {:.17g}\n",
                               20.0 * std::log10(std::abs(reflection)), deg)),
              ohm);
}

TEST_CASE("what an option line leaves out is GHz, S, MA and 50 ohm") {
  const auto port = one_port_of("! a file\n#\n0.002 0 0 ! matched\n\n");
  REQUIRE(port.sweep.size() == 1);
  CHECK(port.sweep.front().frequency.value() == Approx(2e6));
  check_close(port.sweep.front().ohm, 50.0);
  CHECK(port.reference->value() == 50.0);
}

TEST_CASE("options stand in any order and case, the first line of them counts") {
  const auto port = one_port_of("#r 75 ri z HZ\r\n# GHz S\r\n1000 1 0.5\r\n2000 +1e0 0\r\n");
  REQUIRE(port.sweep.size() == 2);
  check_close(port.sweep[0].ohm, {75.0, 37.5});
  CHECK(port.sweep[1].frequency.value() == 2000.0);
  CHECK_FALSE(port.reference);
  check_close(only("# Hz Y RI R 50\n1 2 0\n"), 25.0);
}

TEST_CASE("files that are no impedance of one port are refused with their line") {
  const auto [text, why] = GENERATE(table<std::string, std::string>(
      {{"1 2 3\n", "line 1: an option line"},
       {"[Version] 2.0\n# Hz S RI R 50\n", "line 1: is of version 2"},
       {"# Hz H RI R 50\n1 2 3\n", "line 1: H and G"},
       {"# Hz S RI R -5\n1 2 3\n", "line 1: expected a reference above 0"},
       {"# Hz S RI R\n1 2 3\n", "line 1: expected a reference"},
       {"# Hz S XX R 50\n1 2 3\n", "line 1: read \"xx\""},
       {"# Hz S RI R 50\n1 2 3 4 5 6 7 8 9\n", "line 2: has 9 numbers"},
       {"# Hz S RI R 50\n1 2\n", "line 2: has 2 numbers"},
       {"# Hz S RI R 50\n1 2 x\n", "line 2: read \"x\""},
       {"# Hz S MA R 50\n1 -2 0\n", "line 2: a magnitude is negative"},
       {"# Hz S RI R 50\n2 0.1 0\n1 0.1 0\n", "line 3: the frequency does not rise"},
       {"# Hz S RI R 50\n1 1 0\n", "line 2: nothing is connected"},
       {"# Hz S RI R 50\n", "holds no row"}}));
  CAPTURE(text);
  CHECK_THROWS_WITH(one_port_of(text), Contains(why));
}
