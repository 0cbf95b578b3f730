#include "ohmdrag/voltage/discharge_path.hpp"

#include <vector>

#include "ohmdrag/quantity/literals.hpp"
#include "ohmdrag/voltage/insulation.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::voltage;
using test::near;

namespace {

DischargePath film(Voltage threshold = 10.0_V) {
  return {.id = "film",
          .film = 100.0_pF,
          .threshold = {threshold, {0.3 * threshold, threshold, 3.0 * threshold}}};
}

DischargePath coated(Capacitance coat, Voltage threshold = 10.0_V) {
  DischargePath path = film(threshold);
  path.in_series = coat;
  return path;
}

DischargePath touching(DischargePath path) {
  path.conducting = true;
  return path;
}

}  // namespace

TEST_CASE("a bare film stands under the whole shaft voltage", "[derived]") {
  CHECK(share_on_film(film()) == 1.0);
  CHECK(capacitance(film()) == 100.0_pF);
  CHECK(threshold_at_shaft(film())->drawn == 10.0_V);
}

TEST_CASE("what stands in series takes its share", "[derived]") {
  const DischargePath path = coated(25.0_pF);
  CHECK_THAT(share_on_film(path), near(0.2, 1e-12));
  CHECK_THAT(capacitance(path), near(20.0_pF, 1e-12));
  CHECK_THAT(threshold_at_shaft(path)->drawn, near(50.0_V, 1e-12));
  CHECK_THAT(threshold_at_shaft(path)->band.at_05, near(15.0_V, 1e-12));
  CHECK_THAT(threshold_at_shaft(path)->band.at_95, near(150.0_V, 1e-12));
  DischargePath with_rings = path;
  with_rings.beside = 12.0_pF;
  CHECK_THAT(capacitance(with_rings), near(32.0_pF, 1e-12));
  CHECK_THAT(share_on_film(with_rings), near(0.2, 1e-12));
}

TEST_CASE("metal contact ties the shaft to the frame unless a coat holds", "[derived]") {
  CHECK(ties_to_frame(touching(film())));
  CHECK(capacitance(touching(film())) == 0.0_pF);
  CHECK_FALSE(threshold_at_shaft(touching(film())));
  const DischargePath path = touching(coated(3.6_nF));
  CHECK_FALSE(ties_to_frame(path));
  CHECK(capacitance(path) == 3.6_nF);
  CHECK(share_on_film(path) == 0.0);
  CHECK_FALSE(threshold_at_shaft(path));
}

TEST_CASE("the weakest path is the one with the lowest threshold at the shaft", "[derived]") {
  // The film of the second is the weaker one, yet little of the voltage stands on it.
  const std::vector<DischargePath> paths{film(12.0_V), coated(25.0_pF, 5.0_V), film(15.0_V)};
  CHECK(weakest_path(paths) == 0);
  CHECK_THAT(capacitance(paths), near(220.0_pF, 1e-12));
  // With the two bare ones insulated as well the discharge moves on.
  const std::vector<DischargePath> insulated{coated(25.0_pF, 12.0_V), coated(25.0_pF, 5.0_V)};
  CHECK(weakest_path(insulated) == 1);
  CHECK(weakest_path(std::vector{film(), touching(coated(3.6_nF))}) == 0);
  CHECK_FALSE(weakest_path(std::vector{film(), touching(film())}));
  CHECK_FALSE(weakest_path(std::vector{touching(coated(3.6_nF))}));
  CHECK_FALSE(weakest_path({}));
}

TEST_CASE("a path that is none is refused", "[derived]") {
  DischargePath path = film();
  path.film = -1.0_pF;
  CHECK_THROWS_AS(capacitance(path), std::invalid_argument);
  path = coated(0.0_pF);
  CHECK_THROWS_AS(share_on_film(path), std::invalid_argument);
  CHECK_THROWS_AS(coat_capacitance(0.0_um, 9.0, 80.0_mm, 18.0_mm), std::invalid_argument);
  CHECK_THROWS_AS(coat_capacitance(100.0_um, 0.5, 80.0_mm, 18.0_mm), std::invalid_argument);
}

TEST_CASE("every kind of path has its word", "[derived]") {
  CHECK(to_word(PathKind::bearing) == "bearing");
  CHECK(to_word(PathKind::gear_mesh) == "gear-mesh");
  CHECK(to_word(PathKind::driven_machine) == "driven-machine");
  CHECK(to_word(PathKind::stated) == "stated");
}
