#include "ohmdrag/contact/brush_heat.hpp"

#include <cmath>

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;

TEST_CASE("a current heats a contact either way, none does not", "[derived]") {
  CHECK(contact_drop_heat(1.0_V, 0.0_A) == 0.0_W);
  CHECK(contact_drop_heat(1.0_V, -2.0_A) == 2.0_W);
  CHECK(contact_drop_heat(0.0_V, 2.0_A) == 0.0_W);
}

TEST_CASE("graphite is flagged above its limit, not at it", "[derived]") {
  CHECK_FALSE(above_graphite_limit(130.0_degC, 19.9_K, 150.0_degC));
  CHECK_FALSE(above_graphite_limit(-40.0_degC, 0.0_K, 150.0_degC));
  const auto flag = above_graphite_limit(130.0_degC, 20.5_K, 150.0_degC);
  REQUIRE(flag);
  CHECK(flag->value == Approx(150.5));
  CHECK(flag->high == Approx(150.0));
}

TEST_CASE("undefined brushes are refused", "[derived]") {
  CHECK_THROWS_AS(contact_drop_heat(-1.0_V, 1.0_A), std::invalid_argument);
  CHECK_THROWS_AS(contact_drop_heat(1.0_V, Current::from_value(std::nan(""))),
                  std::invalid_argument);
  CHECK_THROWS_AS(above_graphite_limit(130.0_degC, -1.0_K, 150.0_degC), std::invalid_argument);
  CHECK_THROWS_AS(above_graphite_limit(Temperature::from_value(std::nan("")), 1.0_K, 150.0_degC),
                  std::invalid_argument);
}
