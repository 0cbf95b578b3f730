#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "ohmdrag/contact/shaft_fit.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/data_file.hpp"
#include "support/near.hpp"

// Tolerances of shafts: ISO 286-2 as quoted in a public metric table (h11); tolerance factor
// i = 0.45 D^(1/3) + 0.001 D [um], D [mm] the geometric mean of the band, of ISO 286-1, from
// memory.

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;
using test::near;
using test::within;

namespace {

const toml::array& bands_of(const toml::table& file, const std::string& name) {
  const auto* bands = file["fit"][name]["bands"].as_array();
  REQUIRE(bands);
  return *bands;
}

FitClass fit(const std::string& name) {
  const toml::table file = test::data_file("fits.toml");
  FitClass bands;
  for (const auto& node : bands_of(file, name)) {
    const auto length = [&](const char* key) {
      return Length::from_value(test::data_number(*node.as_table(), key, Dimension::length).mid);
    };
    bands.push_back({.above = length("above"),
                     .up_to = length("up_to"),
                     .lower_deviation = length("lower_deviation"),
                     .upper_deviation = length("upper_deviation")});
  }
  return bands;
}

}  // namespace

TEST_CASE("deviations of a shaft h11", "[published][printed]") {
  struct Row {
    Length diameter, lower;
  };
  const auto row = GENERATE(Row{25.0_mm, -130.0_um}, Row{40.0_mm, -160.0_um},
                            Row{60.0_mm, -190.0_um}, Row{100.0_mm, -220.0_um});
  const auto limits = shaft_limits(fit("h11"), row.diameter);
  CHECK_THAT(limits.lower_deviation, near(row.lower, 1e-12));
  CHECK(limits.upper_deviation == Length{});
}

TEST_CASE("only the bands of h11 that were read are given as such", "[published][derived]") {
  const toml::table file = test::data_file("fits.toml");
  for (const auto& [name, entry] : *file["fit"].as_table())
    for (const auto& node : bands_of(file, std::string(name.str()))) {
      const toml::table& band = *node.as_table();
      const bool read = name.str() == "h11" &&
                        test::data_number(band, "above", Dimension::length).mid >= 0.018 - 1e-9;
      const auto entry_basis = (*entry.as_table())["basis"].value_or(std::string{});
      CHECK(band["basis"].value_or(entry_basis) == (read ? "handbook" : "unverified"));
    }
}

TEST_CASE("the grades of the tolerance classes follow the tolerance factor",
          "[published][formula]") {
  struct Row {
    const char* name;
    double factors;  // of i
  };
  const auto row = GENERATE(Row{"h6", 10}, Row{"h7", 16}, Row{"h8", 25}, Row{"h9", 40},
                            Row{"h10", 64}, Row{"h11", 100}, Row{"k6", 10}, Row{"m6", 10});
  CAPTURE(row.name);
  const auto bands = fit(row.name);
  REQUIRE(bands.size() == 7);
  for (const auto& band : bands) {
    const double d_mm = 1e3 * std::sqrt(band.above.value() * band.up_to.value());
    CAPTURE(d_mm);
    const double i_um = 0.45 * std::cbrt(d_mm) + 0.001 * d_mm;
    const double grade_um = 1e6 * (band.upper_deviation - band.lower_deviation).value();
    // The standard rounds: within 5 %, or by less than a micrometre.
    CHECK(grade_um == Approx(row.factors * i_um).epsilon(0.05).margin(1.0));
  }
}

TEST_CASE("the lower deviations of k6 and m6 follow their rules", "[published][formula]") {
  // k: 0.6 D^(1/3); m: grade 7 less grade 6. Both from memory.
  const auto k6 = fit("k6");
  const auto m6 = fit("m6");
  const auto h6 = fit("h6");
  const auto h7 = fit("h7");
  for (std::size_t band = 0; band < k6.size(); ++band) {
    const double d_mm = 1e3 * std::sqrt(k6[band].above.value() * k6[band].up_to.value());
    CHECK(1e6 * k6[band].lower_deviation.value() == Approx(0.6 * std::cbrt(d_mm)).margin(0.51));
    CHECK_THAT(m6[band].lower_deviation,
               within(h6[band].lower_deviation - h7[band].lower_deviation, 1e-6_um));
  }
}

TEST_CASE("every class reaches from 3 to 120 mm without a gap", "[published][derived]") {
  const auto name = GENERATE("h6", "h7", "h8", "h9", "h10", "h11", "k6", "m6");
  const auto bands = fit(name);
  CHECK_THAT(bands.front().above, near(3.0_mm, 1e-12));
  CHECK_THAT(bands.back().up_to, near(120.0_mm, 1e-12));
  for (std::size_t band = 1; band < bands.size(); ++band)
    CHECK(bands[band].above == bands[band - 1].up_to);
}

TEST_CASE("the smallest shaft h11 loses force of the lip and hardly any power",
          "[published][derived]") {
  const Length smallest = shaft_limits(fit("h11"), 40.0_mm).lower_deviation;
  CHECK(fit_effect(40.0_mm, 1.2_mm, smallest).elastic_force == Approx(0.87).margin(0.005));
  CHECK(fit_effect(40.0_mm, 0.8_mm, smallest).elastic_force == Approx(0.80).margin(0.005));
  CHECK(fit_effect(40.0_mm, 1.6_mm, smallest).elastic_force == Approx(0.90).margin(0.005));
  CHECK(fit_effect(40.0_mm, 1.2_mm, smallest).power == Approx(0.992).margin(5e-4));
}
