// What a variant takes at a point, against the drive unit solved again.
#include <catch2/catch.hpp>

#include "ohmdrag/energy/drive_unit.hpp"
#include "study/sample_case.hpp"
#include "study/unit_samples.hpp"

using namespace ohmdrag;
using namespace ohmdrag::test;

TEST_CASE("net watts at a point are those of the unit less the unit without the part",
          "[derived]") {
  const study::Case question = sample_case();
  const study::Draw draw;
  const study::WorldModel model(question, draw);
  int contacts = 0;
  for (const study::Variant& variant : question.variants) {
    const study::VariantModel unit(model, variant, draw, {});
    for (const study::OperatingPoint& point : question.points) {
      CAPTURE(variant.id, point.id);
      const auto speeds = model.speeds(point, draw);
      const auto torques = model.torques(point, draw);
      const energy::Running now{speeds, torques, model.dry, draw(point.oil_temperature)};
      const study::PointSample sample = study::point_sample(model, unit, point, draw);
      const auto losses = energy::losses_at(unit.unit, now);
      REQUIRE(sample.parts.size() == losses.size());
      double sum_W = 0.0;
      for (std::size_t p = 0; p < losses.size(); ++p) {
        sum_W += losses[p].power.value();
        CHECK(sample.parts[p].own_W == losses[p].power.value());
        if (!std::holds_alternative<energy::ContactPart>(unit.unit.parts[p].form)) continue;
        ++contacts;
        CHECK(sample.parts[p].net_W == energy::net_power(unit.unit, now, p).value());
      }
      CHECK(sample.total_W == sum_W);
    }
  }
  CHECK(contacts >= 4);
}
