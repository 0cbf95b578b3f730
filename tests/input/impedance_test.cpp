#include <cmath>
#include <numbers>

#include "input/support.hpp"
#include "ohmdrag/quantity/literals.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using test::Folder;
using test::replaced;

namespace {

const std::string grounded = test::smallest + R"([variant.grounding]
element = "textile-ring-dense"
position = "16 mm"
line_force = "0.01 N/mm"
path = { inductance = "20 nH" }
film = { resistance = "10 kohm", capacitance = "100 pF" }
parallel_capacitance = "20 pF"
)";

const std::string with_table = test::smallest + R"([variant.grounding]
element = "textile-ring-dense"
position = "16 mm"
line_force = "0.01 N/mm"
impedance = { file = "z.csv", frequency = { name = "f", unit = "kHz" }, magnitude = { name = "Z", unit = "ohm" }, phase = { name = "phase", unit = "deg" } }
)";

/// 2 ohm with 40 nH, from 1 kHz to 10 MHz.
std::string table(double per_degree = 1.0) {
  std::string text = "invented sweep\nf;Z;phase;note\n";
  for (int i = 0; i <= 40; ++i) {
    const double f_kHz = std::pow(10.0, 0.1 * i);
    const double x_ohm = 2.0 * std::numbers::pi * f_kHz * 1e3 * 40e-9;
    text += std::to_string(f_kHz) + ";" + std::to_string(std::hypot(2.0, x_ohm)) + ";" +
            std::to_string(per_degree * std::atan2(x_ohm, 2.0) * 180.0 / std::numbers::pi) + ";x\n";
  }
  return text;
}

study::Case load(const Folder& folder, const std::string& text) {
  return input::load_case(folder.write("case.toml", text), test::options());
}

std::string complaint(const Folder& folder, const std::string& text) {
  try {
    load(folder, text);
  } catch (const input::InputError& error) {
    CHECK(error.problems.size() == 1);
    return input::in_words(error.problems.front());
  }
  return {};
}

bool has(const std::string& text, const std::string& words) {
  CAPTURE(text, words);
  return text.find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("a film and a capacitance across a contact are read", "[input]") {
  const auto grounding = test::load(grounded).variants[0].grounding.value();
  REQUIRE(grounding.film);
  CHECK(grounding.film->resistance.nominal() == 10.0_kohm);
  CHECK(grounding.film->capacitance.nominal().value() == Approx(100e-12));
  CHECK(grounding.parallel_capacitance->nominal().value() == Approx(20e-12));
  CHECK_FALSE(grounding.impedance);
  CHECK(has(test::complaint(replaced(grounded, ", capacitance = \"100 pF\"", "")), "capacitance"));
  CHECK(has(test::complaint(replaced(grounded, "\"20 pF\"", "\"20 ohm\"")), "20 ohm"));
}

TEST_CASE("a measured impedance is read from its table", "[input]") {
  const Folder folder;
  folder.write("z.csv", table());
  const study::Case c = load(folder, with_table);
  const auto grounding = c.variants[0].grounding.value();
  REQUIRE(grounding.impedance);
  CHECK(direct_resistance(grounding.impedance->fit.path).value() == Approx(2.0).epsilon(1e-3));
  CHECK(grounding.impedance->fit.path.inductance.value() == Approx(40e-9).epsilon(1e-3));
  CHECK(grounding.impedance->factor.basis == Basis::measured);
  CHECK(std::holds_alternative<study::NoPath>(grounding.path));
  CHECK(c.evidence.impedance_measured);
  REQUIRE_FALSE(c.provenance.includes.empty());
  CHECK(has(c.provenance.includes.back().file, "z.csv"));

  folder.write("z.csv", table(std::numbers::pi / 180.0));
  const study::Case by_radian = load(folder, replaced(with_table, "\"deg\"", "\"rad\""));
  CHECK(by_radian.variants[0].grounding->impedance->fit.path.inductance.value() ==
        Approx(40e-9).epsilon(1e-3));
}

TEST_CASE("what is no impedance table is refused in words", "[input]") {
  const Folder folder;
  folder.write("z.csv", table());
  CHECK(has(complaint(folder, replaced(with_table, "\"deg\"", "\"turn\"")),
            "expected \"deg\" or \"rad\""));
  CHECK(has(complaint(folder, replaced(with_table, "name = \"Z\"", "name = \"modulus\"")),
            "no line names all of"));
  CHECK(has(complaint(folder, with_table + "resistance = \"2 ohm\"\n"),
            "a measured impedance holds this already"));
  // A phase of the wrong sign fits no passive path.
  folder.write("z.csv", table(-1.0));
  CHECK(has(complaint(folder, with_table), "not a passive impedance"));
}
