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

TEST_CASE("undefined brushes are refused", "[derived]") {
  CHECK_THROWS_AS(contact_drop_heat(-1.0_V, 1.0_A), std::invalid_argument);
  CHECK_THROWS_AS(contact_drop_heat(1.0_V, Current::from_value(std::nan(""))),
                  std::invalid_argument);
}
