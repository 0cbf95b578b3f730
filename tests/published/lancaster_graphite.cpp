#include <catch2/catch.hpp>

#include "ohmdrag/material/seal_limits.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/data_file.hpp"
#include "support/near.hpp"

// Transition of graphitic carbons: J. K. Lancaster, ASLE Trans. 18 (1975) 187-201, abstract.

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::material;
using test::within;

namespace {

GraphiteTransition in_air() {
  const toml::table file = test::data_file("seal_materials.toml");
  const toml::table& entry = *file["graphite_transition"]["air"].as_table();
  return {Temperature::from_value(test::data_number(entry, "begin", Dimension::temperature).mid),
          Temperature::from_value(test::data_number(entry, "end", Dimension::temperature).mid)};
}

}  // namespace

TEST_CASE("graphite loses its water between 150 and 185 degC", "[published][printed]") {
  const auto air = in_air();
  CHECK_THAT(air.begin, within(150.0_degC, 1e-9_K));
  CHECK_THAT(air.end, within(185.0_degC, 1e-9_K));
}

TEST_CASE("a graphite brush of 130 degC with 22 K of flash is in the transition",
          "[published][derived]") {
  const auto verdict = graphite_verdict(in_air(), 130.0_degC, 22.0_K);
  CHECK(verdict.state == GraphiteState::in_transition);
  CHECK(verdict.flag);
  CHECK_THAT(verdict.margin.left, within(-2.0_K, 1e-9_K));
  CHECK_FALSE(graphite_verdict(in_air(), 127.0_degC, 22.0_K).flag);
}
