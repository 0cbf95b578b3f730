#include <array>
#include <cmath>

#include "study/account.hpp"
#include "study/sections.hpp"

namespace ohmdrag::study {
namespace {

constexpr double J_per_kWh = 3.6e6;

double per_year_h(const Duty& duty) { return duty.hours_per_year->mid() / 3600.0; }

/// Fills the figures of one kind of loss.
struct WorthOf {
  const Ensemble& ensemble;
  std::size_t duty;
  std::size_t shaft;
  ShaftWorth::Energy ShaftWorth::*loss;

  template <class Figure>
  Interval over_draws(const Figure& figure) const {
    return reduce(ensemble.samples[ensemble.baseline], [&](const VariantSample& sample) {
      const DutySample& over = sample.duties[duty];
      return figure(over, over.worth[shaft].*loss);
    });
  }

  void driven(const Case& world, WorthRow& row) const {
    using Loss = ShaftWorth::Energy;
    row.shaft_Wh_per_km = over_draws([](const DutySample& over, const Loss& of) {
      return in_Wh_per_km(EnergyPerDistance::from_value(of.shaft_J / over.distance_m()));
    });
    const auto battery_Wh_per_km = [](const DutySample& over, const Loss& of) {
      return in_Wh_per_km(EnergyPerDistance::from_value(of.battery_J / over.distance_m()));
    };
    row.battery_Wh_per_km = over_draws(battery_Wh_per_km);
    if (world.vehicle->usable_battery) {
      const double usable_kWh = world.vehicle->usable_battery->mid() / J_per_kWh;
      row.battery_kWh_at_equal_range = over_draws([&](const DutySample& over, const Loss& of) {
        return usable_kWh * battery_Wh_per_km(over, of) / over.baseline_Wh_per_km;
      });
    }
    const Case& question = *ensemble.question;
    if (!question.service.distance) return;
    const double service_km = question.service.distance->mid() / 1000.0;
    const auto battery_kWh = [&](const DutySample& over, const Loss& of) {
      return battery_Wh_per_km(over, of) * service_km / 1000.0;
    };
    row.battery_kWh_over_service = over_draws(battery_kWh);
    if (!question.prices) return;
    const Prices& prices = *question.prices;
    row.plug_kWh_over_service = over_draws([&](const DutySample& over, const Loss& of) {
      return battery_kWh(over, of) / prices.charging_efficiency;
    });
    if (prices.energy_per_kWh)
      row.plug_cost_over_service = over_draws([&](const DutySample& over, const Loss& of) {
        return battery_kWh(over, of) / prices.charging_efficiency * *prices.energy_per_kWh;
      });
  }

  void machine(const Duty& runs, WorthRow& row) const {
    if (!runs.hours_per_year) return;
    const auto shaft_kWh = [&](const DutySample& over, const ShaftWorth::Energy& of) {
      return of.shaft_J / over.time_s() * per_year_h(runs) / 1000.0;
    };
    row.shaft_kWh_per_year = over_draws(shaft_kWh);
    const auto& prices = ensemble.question->prices;
    if (!prices) return;
    row.plug_kWh_per_year = over_draws([&](const DutySample& over, const ShaftWorth::Energy& of) {
      return shaft_kWh(over, of) / prices->charging_efficiency;
    });
    if (prices->energy_per_kWh)
      row.plug_cost_per_year =
          over_draws([&](const DutySample& over, const ShaftWorth::Energy& of) {
            return shaft_kWh(over, of) / prices->charging_efficiency * *prices->energy_per_kWh;
          });
  }
};

}  // namespace

std::vector<ShaftTurning> shaft_turning(const DutyModel& duty, std::size_t shafts) {
  std::vector<ShaftTurning> result(shafts);
  for (const energy::Stretch& stretch : duty.stretches)
    for (std::size_t s = 0; s < result.size(); ++s) {
      const double speed_rad_s = std::abs(stretch.speed[s].value());
      if (speed_rad_s == 0.0) continue;
      const auto drive = static_cast<std::size_t>(stretch.drive);
      result[s].time_s[drive] += stretch.dt.value();
      result[s].angle_rad[drive] += speed_rad_s * stretch.dt.value();
    }
  return result;
}

std::vector<ShaftWorth> shaft_worth(const WorldModel& model, std::span<const ShaftTurning> turning,
                                    bool driven) {
  std::vector<ShaftWorth> result(turning.size());
  for (std::size_t s = 0; s < result.size(); ++s)
    for (const auto drive :
         {duty::Drive::standstill, duty::Drive::traction, duty::Drive::recuperation}) {
      const double watt_J = turning[s].time_s[static_cast<std::size_t>(drive)];
      const double torque_J = turning[s].angle_rad[static_cast<std::size_t>(drive)];
      result[s].of_watt.shaft_J += watt_J;
      result[s].of_Nm.shaft_J += torque_J;
      if (!driven) continue;
      const double price = duty::battery_factor(*model.path, drive, model.gearing[s].side);
      result[s].of_watt.battery_J += price * watt_J;
      result[s].of_Nm.battery_J += price * torque_J;
    }
  return result;
}

std::vector<WorthRow> watt_worth(const Ensemble& ensemble) {
  const Case& world = ensemble.world(ensemble.baseline);
  std::vector<WorthRow> rows;
  for (std::size_t d = 0; d < world.duties.size(); ++d)
    for (std::size_t s = 0; s < world.shafts.size(); ++s)
      for (const auto loss : {&ShaftWorth::of_watt, &ShaftWorth::of_Nm}) {
        WorthRow row;
        row.duty = world.duties[d].id;
        row.shaft = world.shafts[s].id;
        row.loss = loss == &ShaftWorth::of_watt ? "1 W" : "1 N*m";
        const auto& prices = ensemble.question->prices;
        if (prices && prices->energy_per_kWh) row.currency = prices->currency;
        const WorthOf worth{ensemble, d, s, loss};
        if (world.duties[d].is_driven())
          worth.driven(world, row);
        else
          worth.machine(world.duties[d], row);
        rows.push_back(std::move(row));
      }
  return rows;
}

}  // namespace ohmdrag::study
