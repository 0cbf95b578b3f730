#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "study/headline_figures.hpp"
#include "study/sections.hpp"
#include "study/unit_samples.hpp"

namespace ohmdrag::study {
namespace {

/// Between standstill and the fastest operating point.
constexpr int speeds = 12;
/// Of an ensemble: enough for the ends of a band in a drawing, little beside the ensemble itself.
constexpr int most_draws = 48;

/// By which all shafts of a point turn faster or slower; 1 is among them.
std::vector<double> factors(const Nominal& nominal, std::size_t headline) {
  const auto fastest = [&](const OperatingPoint& point) {
    double highest = 0.0;
    for (const AngularVelocity& speed : nominal.model.speeds(point, nominal.draw))
      highest = std::max(highest, std::abs(speed.value()));
    return highest;
  };
  const double here = fastest(nominal.world->points[headline]);
  if (!(here > 0.0)) return {};
  double top = 1.0;
  for (const OperatingPoint& point : nominal.world->points)
    top = std::max(top, fastest(point) / here);
  std::vector<double> result;
  for (int i = 1; i <= speeds; ++i) result.push_back(top * i / speeds);
  *std::ranges::min_element(result, {}, [](double f) { return std::abs(f - 1.0); }) = 1.0;
  return result;
}

/// Own watts of every part [factor][part]; empty where a contact cannot be solved or a measured
/// table has no value.
std::vector<std::vector<double>> watts(const WorldModel& model, const energy::DriveUnit& unit,
                                       const std::vector<AngularVelocity>& at_headline,
                                       const OperatingPoint& headline, const Draw& draw,
                                       const std::vector<double>& factors) {
  const std::vector<Torque> torque = model.torques(headline, draw);
  const Temperature oil = draw(headline.oil_temperature);
  energy::LossModel losses_of(unit);
  std::vector<energy::PartLoss> losses(unit.parts.size());
  std::vector<std::vector<double>> result(factors.size());
  for (std::size_t i = 0; i < factors.size(); ++i) {
    std::vector<AngularVelocity> speed;
    for (const AngularVelocity& one : at_headline) speed.push_back(one * factors[i]);
    try {
      losses_of.at({speed, torque, model.dry, oil}, losses);
    } catch (const std::domain_error&) {  // fill_speed_watts() says that there is nothing
      losses_of = energy::LossModel(unit);
      continue;
    }
    for (const energy::PartLoss& loss : losses) result[i].push_back(loss.power.value());
  }
  return result;
}

}  // namespace

void fill_speed_watts(const Ensemble& ensemble, std::size_t v, const Nominal& nominal,
                      VariantFindings& findings) {
  if (nominal.world->points.empty()) return;
  const std::size_t p = headline_point(*nominal.world);
  const OperatingPoint& point = nominal.world->points[p];
  const std::vector<double> by = factors(nominal, p);
  if (by.empty()) return;
  const std::vector<AngularVelocity> at_headline = nominal.model.speeds(point, nominal.draw);

  SpeedWatts found{.point = point.id,
                   .oil_degC = in_celsius(nominal.draw(point.oil_temperature)),
                   .draws = std::min(most_draws, ensemble.draws->samples()),
                   .rows = {},
                   .remark = {}};
  std::vector<std::vector<std::vector<double>>> drawn(static_cast<std::size_t>(found.draws));
  oneapi::tbb::parallel_for(std::size_t{0}, drawn.size(), [&](std::size_t d) {
    const Draw draw(*ensemble.draws, static_cast<int>(d));
    const WorldModel model(*nominal.world, draw, Films::left_out);
    const VariantModel variant(model, *nominal.entry, draw, ensemble.histories[v]);
    drawn[d] =
        watts(model, unit_at(point, *nominal.world, variant, draw), at_headline, point, draw, by);
  });
  for (std::size_t part = 0; part < nominal.variant.parts.size(); ++part)
    for (std::size_t i = 0; i < by.size(); ++i) {
      const PartInfo& info = nominal.variant.parts[part];
      const double rpm = std::abs(in_rpm(at_headline[info.shaft] * by[i]));
      std::vector<double> values;
      for (const auto& one : drawn)
        if (!one[i].empty()) values.push_back(one[i][part]);
      if (values.size() < drawn.size()) {
        found.remark =
            "There is no figure at speeds at which a draw has no solution or a measured table no "
            "value.";
        continue;
      }
      found.rows.push_back(
          {info.id, nominal.world->shafts[info.shaft].id, rpm, interval_of(std::move(values))});
    }
  findings.watts_over_speed = std::move(found);
}

}  // namespace ohmdrag::study
