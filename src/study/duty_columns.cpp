#include "study/duty_columns.hpp"

#include <cmath>

#include "study/electric.hpp"

namespace ohmdrag::study {

using numerics::LaneRows;
using numerics::lanes;

FilmColumns film_columns(const WorldModel& model, std::size_t shaft, const SourceModel& source,
                         const std::vector<energy::Stretch>& stretches, const OilColumns& oil) {
  const std::size_t blocks = blocks_of(stretches.size());
  FilmColumns result;
  result.kinds = oil.kinds();
  result.dt_s = LaneRows(blocks);
  result.turns.resize(blocks);
  for (LaneRows* rows :
       {&result.speed_rad_s, &result.heating, &result.minimum[0], &result.minimum[1],
        &result.capacitance[0], &result.capacitance[1], &result.modulation, &result.verdict_legs})
    *rows = LaneRows(blocks, 1.0);
  for (std::size_t i = 0; i < stretches.size(); ++i) {
    const energy::Stretch& stretch = stretches[i];
    const AngularVelocity speed = stretch.speed[shaft];
    const std::size_t block = i / lanes, lane = i % lanes;
    if (speed == AngularVelocity{} || stretch.parked) continue;
    const double speed_rad_s = std::abs(speed.value());
    result.dt_s[block][lane] = stretch.dt.value();
    result.turns[block] = result.turns[block] || stretch.dt > Time{};
    result.speed_rad_s[block][lane] = speed_rad_s;
    const double log_speed = std::log(speed_rad_s);
    result.heating[block][lane] = std::exp(2.0 * bearing::inlet_heating_exponent * log_speed);
    for (std::size_t k = 0; k < most_film_kinds; ++k) {
      result.minimum[k][block][lane] = std::exp(result.kinds[k].minimum * log_speed);
      result.capacitance[k][block][lane] = std::exp(-result.kinds[k].central * log_speed);
    }
    const double modulation = source.modulation(speed);
    result.modulation[block][lane] = modulation;
    result.verdict_legs[block][lane] = double(source.verdict_legs(modulation));
  }
  for (const BearingModel& bearing : model.bearings) {
    if (bearing.shaft != shaft || bearing.films.empty()) continue;
    FilmColumns::Place place{std::vector<int>(blocks * lanes, 0), LaneRows(blocks)};
    for (std::size_t i = 0; i < stretches.size(); ++i) {
      const auto [first, share] = bearing.film_place(stretches[i].torque[shaft]);
      place.first[i] = static_cast<int>(first);
      place.share[i / lanes][i % lanes] = share;
    }
    result.places.push_back(std::move(place));
  }
  return result;
}

}  // namespace ohmdrag::study
