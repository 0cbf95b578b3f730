#include <fmt/format.h>
#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <memory>
#include <numeric>
#include <optional>
#include <stdexcept>
#include <utility>

#include "study/electric.hpp"
#include "study/sections.hpp"
#include "study/trips.hpp"
#include "study/unit_samples.hpp"

namespace ohmdrag::study {
namespace {

/// A variant in one draw, kept while all trips pass by.
struct UnitInDraw {
  UnitInDraw(std::shared_ptr<const WorldModel> of, const Variant& variant, const Draw& draw,
             const ServiceHistory& history, bool with_electrics)
      : model(std::move(of)), unit(*model, variant, draw, history) {
    if (with_electrics) electric.emplace(*model, unit, draw);
  }

  std::shared_ptr<const WorldModel> model;
  VariantModel unit;
  std::optional<ElectricModel> electric;
};

std::vector<std::unique_ptr<UnitInDraw>> units_in(const Ensemble& ensemble, const Draw& draw) {
  const Case& question = *ensemble.question;
  std::vector<std::unique_ptr<UnitInDraw>> units;
  std::shared_ptr<const WorldModel> model;
  for (std::size_t v = 0; v < question.variants.size(); ++v) {
    const Case& world = ensemble.world(v);
    if (!model || model->world != &world) model = std::make_shared<WorldModel>(world, draw);
    units.push_back(std::make_unique<UnitInDraw>(model, question.variants[v], draw,
                                                 ensemble.histories[v],
                                                 ensemble.sections.life && has_electrics(world)));
  }
  return units;
}

void add(BearingSample& sum, const BearingSample& more) {
  for (const auto figure : bearing_sums) sum.*figure += more.*figure;
  for (std::size_t c = 0; c < sum.striking_by_credit_s.size(); ++c)
    sum.striking_by_credit_s[c] += more.striking_by_credit_s[c];
}

void add(ByPart& sum, const ByPart& more) {
  for (std::size_t i = 0; i < sum.size(); ++i) sum[i] += more[i];
}

/// Before the first trip: the march over nothing left the oil at its start.
void begin(DutySample& sum) { sum.end_oil_degC = sum.baseline_Wh_per_km = 0.0; }

/// Adds a trip. The two means are added weighted, consumption by the way and oil by the time:
/// `settle` divides them.
void add(DutySample& sum, const DutySample& trip) {
  PhaseSample& all = sum.phases.at(0);
  const PhaseSample& one = trip.phases.at(0);
  all.time_s += one.time_s;
  all.distance_m += one.distance_m;
  add(all.shaft_J, one.shaft_J);
  add(all.battery_J, one.battery_J);
  for (std::size_t b = 0; b < sum.bearings.size(); ++b) add(sum.bearings[b], trip.bearings[b]);
  for (std::size_t s = 0; s < sum.worth.size(); ++s)
    for (const auto loss : {&ShaftWorth::of_watt, &ShaftWorth::of_Nm}) {
      (sum.worth[s].*loss).shaft_J += (trip.worth[s].*loss).shaft_J;
      (sum.worth[s].*loss).battery_J += (trip.worth[s].*loss).battery_J;
    }
  sum.baseline_Wh_per_km += trip.baseline_Wh_per_km * one.distance_m;
  sum.end_oil_degC += trip.end_oil_degC * one.time_s;
}

void settle(DutySample& sum) {
  sum.baseline_Wh_per_km /= sum.distance_m();
  sum.end_oil_degC /= sum.time_s();
}

/// Every variant over one trip in one draw.
std::vector<DutySample> samples_of(const std::vector<std::unique_ptr<UnitInDraw>>& units,
                                   std::size_t d, const duty::Trip& trip, const Draw& draw) {
  std::vector<DutySample> result;
  const WorldModel* built_for = nullptr;
  DutyModel duty;
  for (const auto& unit : units) {
    if (unit->model.get() != built_for) {
      built_for = unit->model.get();
      duty = trip_model(*built_for, built_for->world->duties.at(d), trip, draw);
    }
    result.push_back(
        duty_sample(*built_for, unit->unit, duty, unit->electric ? &*unit->electric : nullptr));
    if (result.back().distance_m() > 0.0)
      result.back().baseline_Wh_per_km = baseline_consumption(*built_for, duty, draw);
  }
  return result;
}

using ByDraw = std::vector<std::vector<DutySample>>;  // [draw][variant]

/// All parts at their shafts.
double shaft_Wh_per_km(const DutySample& duty) {
  double sum_J = 0.0;
  for (const PhaseSample& phase : duty.phases)
    sum_J += std::accumulate(phase.shaft_J.begin(), phase.shaft_J.end(), 0.0);
  constexpr double J_per_m_in_Wh_per_km = 1.0 / 3.6;
  return sum_J / duty.distance_m() * J_per_m_in_Wh_per_km;
}

/// The row of one variant.
TripRow row_of(TripRow row, const ByDraw& samples, std::size_t v) {
  const auto figure = [&](const auto& of) {
    std::vector<double> values;
    for (const auto& draw : samples) values.push_back(of(draw[v]));
    return interval_of(std::move(values));
  };
  row.time_s = samples.front()[v].time_s();
  row.distance_km = samples.front()[v].distance_m() / 1000.0;
  row.mean_W = figure(mean_W);
  row.end_oil_temperature_degC = figure([](const DutySample& s) { return s.end_oil_degC; });
  if (row.distance_km > 0.0) {
    row.shaft_Wh_per_km = figure(shaft_Wh_per_km);
    row.battery_Wh_per_km = figure(battery_Wh_per_km);
  }
  return row;
}

void require_way(const Duty& duty, const std::vector<TripRow>& rows) {
  const auto of_duty = [&](const TripRow& row) { return row.duty == duty.id; };
  const auto first = std::ranges::find_if(rows, of_duty);
  if (std::ranges::none_of(rows,
                           [&](const TripRow& row) { return of_duty(row) && row.error.empty(); }))
    throw std::invalid_argument(fmt::format("duty {}: no trip can be used, of {} read; {}: {}",
                                            duty.id, duty.trips.size(), first->trip, first->error));
  if (std::ranges::none_of(
          rows, [&](const TripRow& row) { return of_duty(row) && row.distance_km > 0.0; }))
    throw std::invalid_argument(fmt::format("duty {}: its trips make no way", duty.id));
}

void march_trips_of(Ensemble& ensemble, std::size_t d,
                    const std::vector<std::vector<std::unique_ptr<UnitInDraw>>>& units,
                    const std::function<void()>& before_each) {
  const Case& question = *ensemble.question;
  const Duty& duty = question.duties[d];
  for (auto& samples : ensemble.samples)
    for (VariantSample& sample : samples) begin(sample.duties.at(d));
  for (const TripFile& file : duty.trips) {
    before_each();
    TripRow row;
    row.duty = duty.id;
    row.trip = file.id;
    std::optional<duty::Trip> trip;
    try {
      trip = file.read();
      row.report = duty::in_words(trip->report) + measured_in_words(question, duty, *trip);
      row.covered_share = trip->report.covered_share;
    } catch (const duty::TripError& error) {
      row.error = error.what();
      for (auto& rows : ensemble.trips) rows.push_back(row);
      continue;
    }
    ByDraw by_draw(units.size());
    oneapi::tbb::parallel_for(std::size_t{0}, by_draw.size(), [&](std::size_t i) {
      by_draw[i] = samples_of(units[i], d, *trip, Draw(*ensemble.draws, static_cast<int>(i)));
    });
    for (std::size_t v = 0; v < ensemble.trips.size(); ++v) {
      ensemble.trips[v].push_back(row_of(row, by_draw, v));
      for (std::size_t i = 0; i < by_draw.size(); ++i)
        add(ensemble.samples[v][i].duties.at(d), by_draw[i][v]);
    }
  }
  require_way(duty, ensemble.trips.front());
  for (auto& samples : ensemble.samples)
    for (VariantSample& sample : samples) settle(sample.duties.at(d));
}

}  // namespace

void march_trips(Ensemble& ensemble, const TripProgress& progress) {
  const Case& question = *ensemble.question;
  ensemble.trips.resize(question.variants.size());
  std::size_t done = 0, all = 0;
  for (const Duty& duty : question.duties) all += duty.trips.size();
  if (all == 0) return;
  const auto tell = [&] {
    if (progress) progress(done, all);
    ++done;
  };
  std::vector<std::vector<std::unique_ptr<UnitInDraw>>> units(
      static_cast<std::size_t>(ensemble.draws->samples()));
  oneapi::tbb::parallel_for(std::size_t{0}, units.size(), [&](std::size_t i) {
    units[i] = units_in(ensemble, Draw(*ensemble.draws, static_cast<int>(i)));
  });
  for (std::size_t d = 0; d < question.duties.size(); ++d)
    if (!question.duties[d].trips.empty()) march_trips_of(ensemble, d, units, tell);
  tell();
}

std::vector<std::string> trip_cautions(const Ensemble& ensemble) {
  constexpr std::size_t most_named = 10;
  std::vector<std::string> list;
  std::size_t left_out = 0;
  for (const TripRow& row : ensemble.trips.front()) {
    if (row.error.empty()) continue;
    if (++left_out <= most_named)
      list.push_back(
          fmt::format("Trip {} of duty {} was left out: {}.", row.trip, row.duty, row.error));
  }
  if (left_out > most_named)
    list.push_back(
        fmt::format("{} more trips were left out; their rows say why.", left_out - most_named));
  return list;
}

Flag trip_flag(const Ensemble& ensemble, const Duty& duty) {
  std::size_t used = 0, left_out = 0;
  for (const TripRow& row : ensemble.trips.front())
    if (row.duty == duty.id) ++(row.error.empty() ? used : left_out);
  return {"trips", fmt::format("Sum over the measured trips: {} used, {} left out. {}; the oil at "
                               "the end is the mean of all over their time.",
                               used, left_out,
                               duty.start_temperature || duty.oil_temperature
                                   ? "Each begins at the temperature of the duty"
                                   : "The oil is held to the logs")};
}

}  // namespace ohmdrag::study
