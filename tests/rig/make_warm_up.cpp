// Writes the invented log of cases/rig: the sump of the parcel van, with a heat capacity and a
// conductance that its case does not know, over the WLTC twice from cold.
//
//   build/tests/rig/make_warm_up > cases/rig/warm-up.csv
//
// Truth: 10.8 kJ/K and 14 W/K; sensor noise of 0.15 K standard deviation, read in tenths; ambient
// falling from 21 to 19 degC. A log is written every 2 s.

#include <fmt/format.h>

#include <cmath>
#include <cstdio>
#include <random>

#include "ohmdrag/input/catalogue.hpp"
#include "ohmdrag/input/load_case.hpp"
#include "study/trips.hpp"
#include "support/in_source.hpp"

using namespace ohmdrag;

namespace {

constexpr double start_degC = 20.5;

double ambient_degC(double t_s) { return 21.0 - 2.0 * t_s / 3600.0; }

double tenths(double value) { return std::round(value * 10.0) / 10.0; }

duty::TripPiece twice(const duty::Cycle& cycle) {
  duty::TripPiece drive{cycle.time, cycle.speed, {}, {}, {}, {}};
  for (std::size_t i = 1; i < cycle.time.size(); ++i) {
    drive.time.push_back(cycle.time.back() + cycle.time[i]);
    drive.speed.push_back(cycle.speed[i]);
  }
  for (const Time& t : drive.time)
    drive.ambient_temperature.push_back(from_celsius(ambient_degC(t.value())));
  return drive;
}

}  // namespace

int main() {
  const study::Case van =
      input::load_case(test::in_source("cases/parcel-van/case.toml"),
                       {{"sump.heat_capacity=10.8 kJ/K", "sump.conductance=14 W/K"}, {}});
  const study::Draw middle;
  const study::WorldModel model(van, middle);
  const study::VariantModel unit(model, van.variants.front(), middle, {});
  study::Duty duty;
  duty.id = "warm-up";
  duty.start_temperature = Uncertain<Temperature>(from_celsius(start_degC));
  duty::Trip trip;
  trip.pieces = {twice(input::load_catalogue().cycle("wltc-3b"))};
  const study::DutyModel drive = study::trip_model(model, duty, trip, middle);

  std::mt19937_64 random(41);
  std::normal_distribution<double> noise(0.0, 0.15);
  fmt::print("# Invented: no vehicle drove this. Written by tests/rig/make_warm_up.cpp.\n");
  fmt::print("t_s,v_kmh,oil_degC,air_degC\n");
  const duty::TripPiece& piece = trip.pieces.front();
  std::size_t second = 0;
  energy::march(unit.unit, drive.stretches, 1, drive.sump, model.dry,
                [&](const energy::Moment& now) {
                  if (second % 2 == 0)
                    fmt::print("{},{:.1f},{:.1f},{:.1f}\n", second, in_kmh(piece.speed[second]),
                               tenths(in_celsius(now.oil) + noise(random)),
                               ambient_degC(piece.time[second].value()));
                  ++second;
                });
}
