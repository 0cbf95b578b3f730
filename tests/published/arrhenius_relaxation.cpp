#include <catch2/catch.hpp>
#include <string>

#include "ohmdrag/contact/force_loss.hpp"
#include "ohmdrag/contact/service.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/data_file.hpp"
#include "support/near.hpp"

// Ageing of a sealing rubber: logarithmic and stretched-exponential relaxation as in reviews of
// compression stress relaxation, accelerated after S. Arrhenius (1889). Gas constant
// 8.314462618 J/(mol K) (SI, exact). All constants of the rubber are from memory.

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;
using test::near;

namespace {

constexpr TemperatureDifference activation_90_kJ_mol =
    TemperatureDifference::from_value(90e3 / 8.314462618);
constexpr Relaxation nitrile{.per_decade = 0.05,
                             .log_time = 60.0_s,
                             .chemical_time = 3000.0_h,
                             .at = 125.0_degC,
                             .activation_temperature = activation_90_kJ_mol,
                             .stretch = 0.6};

ModulusTable shipped_modulus(const std::string& material) {
  const toml::table file = test::data_file("seal_materials.toml");
  const auto* points = file["modulus_over_temperature"][material]["points"].as_array();
  REQUIRE(points);
  ModulusTable table;
  for (const auto& point : *points) {
    const toml::table& row = *point.as_table();
    table.push_back(
        {Temperature::from_value(test::data_number(row, "temperature", Dimension::temperature).mid),
         row["ratio"].value_or(-1.0)});
  }
  return table;
}

}  // namespace

TEST_CASE("ten to thirty kelvin of heat age a rubber twice to seven times as fast",
          "[published][formula]") {
  struct Row {
    Temperature from, to;
    double acceleration, digits;
  };
  const auto row =
      GENERATE(Row{80.0_degC, 100.0_degC, 5.17, 0.005}, Row{100.0_degC, 110.0_degC, 2.13, 0.005},
               Row{120.0_degC, 150.0_degC, 7.04, 0.005}, Row{90.0_degC, 125.0_degC, 13.7, 0.05});
  CHECK(ageing_acceleration(activation_90_kJ_mol, row.from, row.to) ==
        Approx(row.acceleration).margin(row.digits));
}

TEST_CASE("force of a spring-loaded lip after hot service", "[published][derived]") {
  CHECK(relaxation(nitrile, 1000.0_h, 110.0_degC).value == Approx(0.579).margin(5e-4));

  // Half spring, half rubber of 0.12 N/mm, 0.6 mm of interference; the modulus is left at that of
  // 20 degC, to show age alone.
  const LipForce lip{.spring = 60.0_N_m,
                     .rubber = 60.0_N_m,
                     .set = {.final_set = 0.05, .set_time = 100.0_h},
                     .relaxation = nitrile,
                     .modulus = {{20.0_degC, 1.0}, {150.0_degC, 1.0}},
                     .radial_interference = 0.6_mm,
                     .pressure_length = 0.0_mm};
  struct Row {
    Temperature temperature;
    Time age;
    Length wear;
    LineForce left;
  };
  const auto row = GENERATE(Row{110.0_degC, 1000.0_h, 0.1110_mm, 0.0853_N_mm},
                            Row{110.0_degC, 1000.0_h, 0.0_mm, 0.0918_N_mm},
                            Row{110.0_degC, 5000.0_h, 0.0_mm, 0.0783_N_mm},
                            Row{125.0_degC, 5000.0_h, 0.0_mm, 0.0682_N_mm});
  CAPTURE(in_celsius(row.temperature), row.age.value());
  const auto force = lip_force(lip, {row.age, row.temperature, row.wear, Pressure{}});
  CHECK_THAT(force.total, near(row.left, 1e-3));
  CHECK_THAT(force.spring, near(0.057_N_mm, 1e-5));
}

TEST_CASE("the shipped constants of ageing can be read", "[published][derived]") {
  const toml::table file = test::data_file("seal_materials.toml");
  for (const auto& [id, node] : *file["relaxation"].as_table()) {
    CAPTURE(std::string(id.str()));
    const toml::table& entry = *node.as_table();
    const Relaxation law{
        .per_decade = entry["per_decade"].value_or(-1.0),
        .log_time = Time::from_value(test::data_number(entry, "log_time", Dimension::time).mid),
        .chemical_time =
            Time::from_value(test::data_number(entry, "chemical_time", Dimension::time).mid),
        .at = Temperature::from_value(test::data_number(entry, "at", Dimension::temperature).mid),
        .activation_temperature = TemperatureDifference::from_value(
            test::data_number(entry, "activation_temperature", Dimension::temperature_difference)
                .mid),
        .stretch = entry["stretch"].value_or(-1.0)};
    const double left = relaxation(law, 1000.0_h, 110.0_degC).value;
    CHECK(left > 0.5);
    CHECK(left < 0.8);
    // 80 to 110 kJ/mol.
    const auto energy =
        test::data_number(entry, "activation_temperature", Dimension::temperature_difference)
            .interval();
    CHECK(8.314462618 * energy.low > 79e3);
    CHECK(8.314462618 * energy.high < 111e3);
  }
}

TEST_CASE("the shipped moduli are one at 20 degC and fall with heat", "[published][derived]") {
  const toml::table file = test::data_file("seal_materials.toml");
  for (const auto& [id, node] : *file["modulus_over_temperature"].as_table()) {
    CAPTURE(std::string(id.str()));
    const ModulusTable table = shipped_modulus(std::string(id.str()));
    CHECK(modulus_ratio(table, 20.0_degC).value == Approx(1.0).epsilon(1e-12));
    for (std::size_t i = 1; i < table.size(); ++i) CHECK(table[i].ratio < table[i - 1].ratio);
  }
}

TEST_CASE("the shipped moduli over temperature are those of the reference",
          "[published][derived]") {
  // Rubber: assumed. Filled PTFE: from memory.
  struct Row {
    const char* material;
    Temperature temperature;
    double ratio;
  };
  const auto row = GENERATE(
      Row{"elastomer", from_celsius(-20.0), 2.5}, Row{"elastomer", from_celsius(-7.0), 1.5},
      Row{"elastomer", 20.0_degC, 1.0}, Row{"elastomer", 60.0_degC, 0.75},
      Row{"elastomer", 80.0_degC, 0.675},  // linear between its points
      Row{"elastomer", 100.0_degC, 0.6}, Row{"elastomer", 150.0_degC, 0.5},
      Row{"ptfe", 50.0_degC, 0.7}, Row{"ptfe", 100.0_degC, 0.4}, Row{"ptfe", 150.0_degC, 0.25});
  CAPTURE(row.material, in_celsius(row.temperature));
  const auto modulus = modulus_ratio(shipped_modulus(row.material), row.temperature);
  CHECK(modulus.value == Approx(row.ratio).epsilon(1e-12));
  CHECK(modulus.flags.empty());
}

TEST_CASE("rubber colder than its table is flagged", "[published][derived]") {
  CHECK(modulus_ratio(shipped_modulus("elastomer"), from_celsius(-21.0)).flags.size() == 1);
}

TEST_CASE("fluid pressure on the length of a lip", "[published][derived]") {
  // derived: dp l_p with 1.5 mm assumed. 30 kPa, the remembered limit of ISO 6194-1, press 45 N/m
  // onto the shaft; a gap that a dust lip has pumped 10 kPa below the ambient takes 15 N/m off.
  const LipForce lip{.spring = 60.0_N_m,
                     .rubber = 60.0_N_m,
                     .set = {.final_set = 0.05, .set_time = 100.0_h},
                     .relaxation = nitrile,
                     .modulus = shipped_modulus("elastomer"),
                     .radial_interference = 0.6_mm,
                     .pressure_length = 1.5_mm};
  const auto at = [&](Pressure over) { return lip_force(lip, {0.0_h, 20.0_degC, 0.0_mm, over}); };
  CHECK_THAT(at(0.0_Pa).total, near(120.0_N_m, 1e-12));
  CHECK_THAT(at(30000.0_Pa).pressure, near(45.0_N_m, 1e-12));
  CHECK_THAT(at(30000.0_Pa).total, near(165.0_N_m, 1e-12));
  CHECK_THAT(at(-10000.0_Pa).total, near(105.0_N_m, 1e-12));
}

// Excess and time from memory (0.3 and 5 h); the exponential form is assumed.
TEST_CASE("friction of the first hours", "[published][derived]") {
  const RunningIn law{0.3, 5.0_h};
  CHECK(running_in_factor(law, Time{}) == Approx(1.3));
  CHECK(running_in_factor(law, 5.0_h) == Approx(1.110364));    // 1 + 0.3/e
  CHECK(running_in_factor(law, 50.0_h) == Approx(1.0000136));  // 1 + 0.3 exp(-10)
}
