#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "input/support.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using test::near;

namespace {

study::Case example() {
  return input::load_case(test::here / "example_case.toml", test::options());
}

}  // namespace

TEST_CASE("the example case is read as it says", "[derived]") {
  const study::Case c = example();
  CHECK(c.title == "Sealing and grounding of the rotor shaft, parcel-van drive unit");
  CHECK(c.baseline == "plain");
  CHECK(c.seed == 7);
  CHECK_THAT(c.service.distance->nominal(), near(Length::from_value(2.8e8), 1e-12));
  CHECK(c.service.mix.at("wltc-cold") == 0.4);

  REQUIRE(c.vehicle);
  CHECK_THAT(c.vehicle->test_mass.nominal(), near(Mass::from_value(2680.0), 1e-12));
  // 1.1 N/(km/h) and 0.047 N/(km/h)^2 times 3.6 and 3.6 squared (derived: 1 km/h = 1/3.6 m/s).
  CHECK(c.vehicle->f1.mid() == Approx(3.96));
  CHECK(c.vehicle->f2.mid() == Approx(0.60912));
  CHECK(c.vehicle->rolling_circumference.value() == Approx(2.092).margin(2e-3));
  CHECK(c.vehicle->rotating_mass_factor.mid() == 1.03);
  CHECK(c.vehicle->recuperation_efficiency.mid() == 0.78);

  CHECK(c.sump.lubricant.id == "thin-axle-oil");
  CHECK(c.sump.ambient.mid() == Approx(296.15));
  REQUIRE(c.shafts.size() == 1);
  CHECK(c.shafts[0].ratio.mid() == 10.4);
  CHECK(c.shafts[0].run_out->mid() == Approx(3e-5));
  CHECK(c.shafts[0].diameter.basis == Basis::drawing);
  CHECK(c.shafts[0].diameter.source == "shaft drawing C");

  REQUIRE(c.inverter);
  CHECK(c.inverter->rise_time.mid() == Approx(62.5e-9));
  CHECK(c.inverter->rise_time_given_10_90);
  CHECK(c.inverter->shaft == "rotor");
  CHECK(c.inverter->modulation_index == std::vector<double>{0.02, 0.95});
  CHECK_FALSE(c.inverter->modulation_assumed);
  REQUIRE(c.bearings.size() == 1);
  CHECK(c.bearings[0].type.id == "6209");
  CHECK(c.bearings[0].radial[1].mid() == 150.0);
  CHECK(c.bearings[0].load_torque[0].value() == -60.0);

  REQUIRE(c.points.size() == 1);
  CHECK(c.points[0].oil_temperature.spread.half_width == Approx(5.0));
  REQUIRE(c.duties.size() == 2);  // one of them from the included file
  const auto cold = std::ranges::find(c.duties, "wltc-cold", &study::Duty::id);
  REQUIRE(cold != c.duties.end());
  REQUIRE(cold->cycles.size() == 1);
  CHECK(cold->cycles[0].id == "wltc-3b");
  REQUIRE(c.requirements.size() == 1);
  CHECK(c.requirements[0].max->dimension == Dimension::resistance);
  CHECK(c.requirements[0].end_of_service);
  CHECK(c.requirements[0].band.size() == 2);
  CHECK(c.allocations.at(0).maturity == "computed");
  CHECK(c.laws.at(0).kind == study::LawKind::dose);
  CHECK(c.laws.at(0).in_variant == "plain");

  REQUIRE(c.variants.size() == 2);
  const study::Variant& dense = test::variant(c, "dense-ring");
  REQUIRE(dense.seal);
  REQUIRE(dense.grounding);
  CHECK(dense.grounding->line_force->mid() == Approx(15.0));
  CHECK(std::get<study::Strap>(dense.grounding->path).thickness.value() == Approx(4e-4));
  CHECK(dense.seal->position.key == "variant.plain.seal.position");
  CHECK_FALSE(test::variant(c, "plain").grounding);
}

TEST_CASE("the files of a case are on record", "[derived]") {
  const study::Case c = example();
  REQUIRE(c.provenance.includes.size() == 1);
  CHECK(c.provenance.includes[0].file.ends_with("library/elements.toml"));
  CHECK(c.provenance.sha256.size() == 64);
  CHECK(c.provenance.sha256 != c.provenance.includes[0].sha256);
}

TEST_CASE("all values come once, in SI, with basis and key", "[derived]") {
  const auto values = input::all_values(example());
  CHECK(values.size() > 60);
  std::vector<std::string> keys;
  for (const auto& value : values) {
    CAPTURE(value.key);
    CHECK_FALSE(value.key.empty());
    CHECK(std::isfinite(value.mid));
    CHECK_FALSE(value.unit.empty());
    keys.push_back(value.key);
  }
  std::ranges::sort(keys);
  CHECK(std::ranges::adjacent_find(keys) == keys.end());
  for (const char* key : {"coupling.winding_rotor", "contact.light-lip.line_force",
                          "variant.dense-ring.grounding.line_force", "vehicle.f0",
                          "bearing_type.6209.pitch_diameter", "discharge.breakdown_field"}) {
    CAPTURE(key);
    // the road load is written in a table of its own
    const std::string wanted = key == std::string{"vehicle.f0"} ? "vehicle.road_load.f0" : key;
    CHECK(std::ranges::find(keys, wanted) != keys.end());
  }
}
