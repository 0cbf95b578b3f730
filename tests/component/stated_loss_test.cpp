#include "ohmdrag/component/stated_loss.hpp"

#include <cmath>

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using component::stated_drag;
using component::StatedLoss;
using test::near;

namespace {

constexpr StatedLoss loss(double e) {
  return {.power = 6.0_W, .at = 6000.0_rpm, .torque_exponent = e};
}

}  // namespace

TEST_CASE("a stated loss returns its statement at its speed", "[derived]") {
  const double e = GENERATE(-1.0, -0.5, 0.0, 1.0, 2.0);
  CHECK_THAT(stated_drag(loss(e), 6000.0_rpm).power, near(6.0_W, 1e-14));
  CHECK_THAT(stated_drag(loss(e), from_rpm(-6000.0)).power, near(6.0_W, 1e-14));
  CHECK(stated_drag(loss(e), from_rpm(-6000.0)).torque.value() < 0.0);
}

TEST_CASE("a stated loss scales by its exponent", "[derived]") {
  CHECK_THAT(stated_drag(loss(0.0), 3000.0_rpm).power, near(3.0_W, 1e-14));
  CHECK_THAT(stated_drag(loss(-1.0), 3000.0_rpm).power, near(6.0_W, 1e-14));
  CHECK_THAT(stated_drag(loss(1.0), 3000.0_rpm).power, near(1.5_W, 1e-14));
}

TEST_CASE("a shaft at rest takes no power and a finite torque", "[derived]") {
  for (const double e : {-1.0, 0.0, 1.0}) {
    const auto drag = stated_drag(loss(e), 0.0_rpm);
    CHECK(drag.power == 0.0_W);
    CHECK(std::isfinite(drag.torque.value()));
  }
  CHECK_THAT(stated_drag(loss(0.0), 0.0_rpm).torque,
             near(stated_drag(loss(0.0), 1.0_rpm).torque, 1e-14));
}

TEST_CASE("undefined statements are refused", "[derived]") {
  CHECK_THROWS_AS(stated_drag({-1.0 * 1.0_W, 6000.0_rpm, 0.0}, 1.0_rpm), std::invalid_argument);
  CHECK_THROWS_AS(stated_drag({1.0_W, 0.0_rpm, 0.0}, 1.0_rpm), std::invalid_argument);
  CHECK_THROWS_AS(stated_drag(loss(-1.1), 1.0_rpm), std::invalid_argument);
  CHECK_THROWS_AS(stated_drag(loss(std::nan("")), 1.0_rpm), std::invalid_argument);
}
