#include "study/headline_models.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "study/electric.hpp"
#include "study/unit_samples.hpp"

namespace ohmdrag::study {
namespace {

/// One discharge of a nanojoule a second on a square millimetre is as good as none.
constexpr double least_dose_rate_W_m2 = 1e-3;

/// A variant in one draw, in the world it lives in.
struct DrawnUnit {
  DrawnUnit(const Ensemble& ensemble, const WorldModel& in, std::size_t v, const Draw& draw)
      : world(&in), unit(in, ensemble.question->variants[v], draw, ensemble.histories[v]) {}

  const WorldModel* world;
  VariantModel unit;
};

/// A variant and the baseline in one draw; the world is built once where they share it.
struct DrawnPair {
  DrawnPair(const Ensemble& ensemble, std::size_t v, const Draw& draw, Films films)
      : world(ensemble.world(ensemble.baseline), draw, films),
        other_world(&ensemble.world(v) == world.world
                        ? std::nullopt
                        : std::make_optional<WorldModel>(ensemble.world(v), draw, films)),
        base(ensemble, world, ensemble.baseline, draw),
        variant(ensemble, other_world ? *other_world : world, v, draw) {}
  // Both units point into it.
  DrawnPair(const DrawnPair&) = delete;
  DrawnPair& operator=(const DrawnPair&) = delete;

  WorldModel world;
  std::optional<WorldModel> other_world;
  DrawnUnit base;
  DrawnUnit variant;
};

double watts_at(const DrawnUnit& drawn, std::size_t point, const Draw& draw) {
  return point_sample(*drawn.world, drawn.unit, drawn.world->world->points[point], draw).total_W;
}

double battery_Wh_per_km_of(const DrawnUnit& drawn, const ServiceMix& mix, const Draw& draw) {
  double sum = 0.0;
  const auto& duties = drawn.world->world->duties;
  for (std::size_t d = 0; d < duties.size(); ++d)
    if (mix.share[d] > 0.0)
      sum += mix.share[d] *
             battery_Wh_per_km(duty_sample(*drawn.world, drawn.unit,
                                           duty_model(*drawn.world, duties[d], draw), nullptr));
  return sum;
}

double as_log(double dose_rate) { return std::log10(std::max(dose_rate, least_dose_rate_W_m2)); }

/// lg of W/m2.
double log_dose_rate(const DrawnUnit& drawn, std::size_t point, const Draw& draw) {
  return as_log(ElectricModel(*drawn.world, drawn.unit, draw)
                    .at(drawn.world->world->points[point], draw)
                    .dose_rate);
}

bool battery_is_known(const Case& question) {
  const auto computed = [](const Duty& duty) { return duty.is_driven() && duty.trips.empty(); };
  return question.vehicle && !question.duties.empty() &&
         std::ranges::all_of(question.duties, computed);
}

/// A figure of variant and baseline in every draw of the ensemble.
template <class Figure>
std::vector<double> in_draws(const Ensemble& ensemble, std::size_t v, const Figure& figure) {
  std::vector<double> values;
  const auto &own = ensemble.samples[v], &base = ensemble.samples[ensemble.baseline];
  values.reserve(own.size());
  for (std::size_t i = 0; i < own.size(); ++i) values.push_back(figure(own[i], base[i]));
  return values;
}

}  // namespace

std::size_t headline_variant(const Ensemble& ensemble, const Trade& trade) {
  const auto& variants = ensemble.question->variants;
  for (std::size_t v = 0; v < variants.size(); ++v)
    if (variants[v].id == trade.chosen && v != ensemble.baseline) return v;
  for (std::size_t v = 0; v < variants.size(); ++v)
    if (v != ensemble.baseline && variants[v].grounding) return v;
  return ensemble.baseline;
}

std::vector<HeadlineModel> headline_models(const Ensemble& ensemble, const Trade& trade) {
  using enum HeadlineModel::Costs;
  const Case& question = *ensemble.question;
  const std::size_t v = headline_variant(ensemble, trade), base = ensemble.baseline;
  const std::string &id = question.variants[v].id, &base_id = question.variants[base].id;
  std::vector<HeadlineModel> models;
  if (!question.points.empty()) {
    std::size_t point = 0;
    for (std::size_t p = 0; p < question.points.size(); ++p)
      if (question.points[p].id == trade.exchange[v].net_point) point = p;
    const std::string at = " at " + question.points[point].id;
    models.push_back({"net W of " + id + at, "W", watts,
                      [=, &ensemble](const Draw& draw) {
                        const DrawnPair drawn(ensemble, v, draw, Films::left_out);
                        return watts_at(drawn.variant, point, draw) -
                               watts_at(drawn.base, point, draw);
                      },
                      in_draws(ensemble, v, [&](const auto& own, const auto& other) {
                        return total_W(own, point) - total_W(other, point);
                      })});
    if (has_electrics(ensemble.world(base)))
      models.push_back({"discharge dose of " + base_id + at, "lg W/m^2", voltage,
                        [=, &ensemble](const Draw& draw) {
                          const WorldModel world(ensemble.world(base), draw);
                          return log_dose_rate(DrawnUnit(ensemble, world, base, draw), point, draw);
                        },
                        in_draws(ensemble, base, [&](const auto& own, const auto&) {
                          return as_log(own.points[point].electric.dose_rate);
                        })});
    if (trade.exchange[v].dose_factor && question.variants[v].grounding &&
        has_electrics(ensemble.world(v)))
      models.push_back({"dose factor of " + id + at, "lg", voltage,
                        [=, &ensemble](const Draw& draw) {
                          const DrawnPair drawn(ensemble, v, draw, Films::prepared);
                          return log_dose_rate(drawn.base, point, draw) -
                                 log_dose_rate(drawn.variant, point, draw);
                        },
                        in_draws(ensemble, v, [&](const auto& own, const auto& other) {
                          return as_log(other.points[point].electric.dose_rate) -
                                 as_log(own.points[point].electric.dose_rate);
                        })});
  }
  if (v != base && battery_is_known(question)) {
    const ServiceMix mix = service_mix(question);
    models.push_back({"energy at the battery of " + id, "Wh/km", duties,
                      [=, &ensemble](const Draw& draw) {
                        const DrawnPair drawn(ensemble, v, draw, Films::left_out);
                        return battery_Wh_per_km_of(drawn.variant, mix, draw) -
                               battery_Wh_per_km_of(drawn.base, mix, draw);
                      },
                      in_draws(ensemble, v, [&](const auto& own, const auto& other) {
                        return over_mix(mix, own, battery_Wh_per_km) -
                               over_mix(mix, other, battery_Wh_per_km);
                      })});
  }
  return models;
}

}  // namespace ohmdrag::study
