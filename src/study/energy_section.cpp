#include <numeric>

#include "study/sections.hpp"
#include "study/trips.hpp"

namespace ohmdrag::study {
namespace {

constexpr double J_per_m_in_Wh_per_km = 1.0 / 3.6;

/// One row of a phase, or of the whole duty where `phase` is none; `part` none means the sum.
struct Slice {
  std::optional<std::size_t> phase;
  std::optional<std::size_t> part;

  template <class Member>
  double sum(const DutySample& duty, Member member) const {
    double total = 0.0;
    for (std::size_t i = 0; i < duty.phases.size(); ++i) {
      if (phase && *phase != i) continue;
      const std::vector<double>& by_part = duty.phases[i].*member;
      total += part ? by_part[*part] : std::accumulate(by_part.begin(), by_part.end(), 0.0);
    }
    return total;
  }
  double distance_m(const DutySample& duty) const {
    return phase ? duty.phases[*phase].distance_m : duty.distance_m();
  }
  double time_s(const DutySample& duty) const {
    return phase ? duty.phases[*phase].time_s : duty.time_s();
  }
};

/// Energy and cost of a machine's year out of the mean watts of a row.
/// \param time_share  of the duty's time that the row stands for
void fill_year(const Duty& duty, double time_share, const Case& question, EnergyRow& row) {
  const auto times = [&](double factor) {
    return Interval{row.mean_W.low * factor, row.mean_W.mid * factor, row.mean_W.high * factor};
  };
  const double kWh = time_share * duty.hours_per_year->mid() / 3600.0 / 1000.0;
  row.kWh_per_year = times(kWh);
  const auto& prices = question.prices;
  if (!prices || !prices->energy_per_kWh) return;
  row.plug_cost_per_year = times(kWh * *prices->energy_per_kWh / prices->charging_efficiency);
  row.currency = prices->currency;
}

Flag difference_flag() {
  return {"double-counting",
          "Differences to the baseline; baseline seals are already inside the road load. Below the "
          "repeatability of a vehicle test."};
}
/// What a share of the consumption must never be taken for.
Flag absolute_flag() {
  return {"of-which",
          "Of which, never on top: the road load already holds the drag of what was fitted, so "
          "this is a share of the consumption, no addition to it."};
}

std::vector<Flag> total_flags(const Duty& duty) {
  std::vector<Flag> flags;
  if (duty.is_driven()) flags = {absolute_flag(), difference_flag()};
  if (duty.start_temperature)
    flags.push_back({"one-node-sump", "One-node sump; parameters are inputs."});
  return flags;
}

}  // namespace

double battery_Wh_per_km(const DutySample& duty) {
  return Slice{}.sum(duty, &PhaseSample::battery_J) / duty.distance_m() * J_per_m_in_Wh_per_km;
}
double shaft_Wh_per_km(const DutySample& duty) {
  return Slice{}.sum(duty, &PhaseSample::shaft_J) / duty.distance_m() * J_per_m_in_Wh_per_km;
}
double part_mean_W(const DutySample& duty, std::size_t part) {
  double sum_J = 0.0;
  for (const PhaseSample& phase : duty.phases) sum_J += phase.shaft_J[part];
  return sum_J / duty.time_s();
}

double mean_W(const DutySample& duty) {
  return Slice{}.sum(duty, &PhaseSample::shaft_J) / duty.time_s();
}

void fill_energy(const Ensemble& ensemble, std::size_t v, const Nominal& nominal,
                 VariantFindings& findings) {
  const auto& samples = ensemble.samples[v];
  const auto& base = ensemble.samples[ensemble.baseline];
  const Case& world = *nominal.world;
  for (std::size_t d = 0; d < world.duties.size(); ++d) {
    const Duty& duty = world.duties[d];
    const DutyModel model = duty_model(nominal.model, duty, nominal.draw);
    auto flags = total_flags(duty);
    if (!duty.trips.empty()) flags.push_back(trip_flag(ensemble, duty));

    const auto row_of = [&](const Slice& slice, const std::string& phase,
                            const std::string& component) {
      EnergyRow row;
      row.duty = duty.id;
      row.phase = phase;
      row.component = component;
      const DutySample& any = samples.front().duties[d];
      if (model.driven) {
        row.distance_km = slice.distance_m(any) / 1000.0;
        const auto per_km = [&](std::vector<double> PhaseSample::*member) {
          return reduce(samples, [&, member](const VariantSample& s) {
            const DutySample& sample = s.duties[d];
            return slice.sum(sample, member) / slice.distance_m(sample) * J_per_m_in_Wh_per_km;
          });
        };
        row.shaft_Wh_per_km = per_km(&PhaseSample::shaft_J);
        row.battery_Wh_per_km = per_km(&PhaseSample::battery_J);
        row.flags.push_back(absolute_flag());
      }
      row.mean_W = reduce(samples, [&](const VariantSample& s) {
        return slice.sum(s.duties[d], &PhaseSample::shaft_J) / slice.time_s(s.duties[d]);
      });
      if (!model.driven && duty.hours_per_year)
        fill_year(duty, slice.time_s(any) / any.time_s(), *ensemble.question, row);
      return row;
    };

    const auto add_total = [&](const EnergyRow& total) {
      findings.energy_totals.push_back(
          {total.duty, total.phase, total.shaft_Wh_per_km, total.battery_Wh_per_km, total.mean_W});
    };
    for (std::size_t ph = 0; ph < model.phases.size(); ++ph) {
      if (model.phases.size() == 1) break;  // the whole is the phase
      for (std::size_t i = 0; i < nominal.variant.parts.size(); ++i)
        findings.energy.push_back(row_of({ph, i}, model.phases[ph], nominal.variant.parts[i].id));
      add_total(row_of({ph, {}}, model.phases[ph], "total"));
    }
    const std::string whole(duty::whole);
    for (std::size_t i = 0; i < nominal.variant.parts.size(); ++i)
      findings.energy.push_back(row_of({{}, i}, whole, nominal.variant.parts[i].id));

    EnergyRow total = row_of({}, whole, "total");
    // Steps that hold their oil have no end: the last of a list would stand for all.
    if (duty.start_temperature || duty.oil_temperature || !duty.trips.empty())
      total.end_oil_temperature_degC =
          reduce(samples, [&](const VariantSample& s) { return s.duties[d].end_oil_degC; });
    total.flags = flags;
    add_total(total);
    findings.energy.push_back(std::move(total));

    if (v == ensemble.baseline) continue;
    EnergyRow net;
    net.duty = duty.id;
    net.phase = whole;
    net.component = "net";
    const auto difference = [&](auto figure) {
      return reduce(samples, base, [&](const VariantSample& s, const VariantSample& b) {
        return figure(s.duties[d]) - figure(b.duties[d]);
      });
    };
    net.mean_W = difference(mean_W);
    if (model.driven) {
      net.flags.push_back(difference_flag());
      net.distance_km = samples.front().duties[d].distance_m() / 1000.0;
      net.shaft_Wh_per_km = difference(shaft_Wh_per_km);
      net.battery_Wh_per_km = difference(battery_Wh_per_km);
      if (world.vehicle->usable_battery) {
        const Energy usable = world.vehicle->usable_battery->nominal();
        net.range_change_km =
            reduce(samples, base, [&](const VariantSample& s, const VariantSample& b) {
              const auto per_m = [](double Wh_per_km) {
                return EnergyPerDistance::from_value(Wh_per_km * 3.6);
              };
              return duty::range_change(
                         usable, per_m(b.duties[d].baseline_Wh_per_km),
                         per_m(battery_Wh_per_km(s.duties[d]) - battery_Wh_per_km(b.duties[d])))
                         .value() /
                     1000.0;
            });
      }
    } else if (duty.hours_per_year) {
      fill_year(duty, 1.0, *ensemble.question, net);
    }
    findings.energy.push_back(std::move(net));
  }
}

}  // namespace ohmdrag::study
