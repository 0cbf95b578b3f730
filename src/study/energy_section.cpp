#include <algorithm>
#include <functional>
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
      const ByPart& by_part = duty.phases[i].*member;
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

/// What a slice takes, draw by draw.
struct SliceDraws {
  std::vector<double> shaft_Wh_per_km, battery_Wh_per_km;  ///< driven duties
  std::vector<double> mean_W;
};

/// Slices of one duty. Gathered draw by draw, for all numbers of one draw lie together.
std::vector<SliceDraws> drawn(const std::vector<Slice>& slices,
                              const std::vector<VariantSample>& samples, std::size_t d,
                              bool driven) {
  const std::vector<double> column(samples.size());
  std::vector<SliceDraws> result(
      slices.size(), driven ? SliceDraws{column, column, column} : SliceDraws{{}, {}, column});
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const DutySample& duty = samples[i].duties[d];
    for (std::size_t s = 0; s < slices.size(); ++s) {
      const Slice& slice = slices[s];
      const double shaft_J = slice.sum(duty, &PhaseSample::shaft_J);
      result[s].mean_W[i] = shaft_J / slice.time_s(duty);
      if (!driven) continue;
      const double metres = slice.distance_m(duty);
      result[s].shaft_Wh_per_km[i] = shaft_J / metres * J_per_m_in_Wh_per_km;
      result[s].battery_Wh_per_km[i] =
          slice.sum(duty, &PhaseSample::battery_J) / metres * J_per_m_in_Wh_per_km;
    }
  }
  return result;
}

/// Draw by draw: what both share cancels.
std::vector<double> difference(const std::vector<double>& here, const std::vector<double>& base) {
  std::vector<double> result(here.size());
  std::ranges::transform(here, base, result.begin(), std::minus{});
  return result;
}

/// One after another as they are shown: phase by phase the parts and their sum, then of the whole.
std::vector<Slice> slices_of(std::size_t phases, std::size_t parts) {
  std::vector<Slice> slices;
  const auto add = [&](std::optional<std::size_t> phase) {
    for (std::size_t part = 0; part < parts; ++part) slices.push_back({phase, part});
    slices.push_back({phase, {}});
  };
  for (std::size_t phase = 0; phases > 1 && phase < phases; ++phase) add(phase);
  add({});  // one phase is the whole
  return slices;
}

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

    const std::vector<Slice> slices = slices_of(model.phases.size(), nominal.variant.parts.size());
    const std::vector<SliceDraws> by_slice = drawn(slices, samples, d, model.driven);
    const DutySample& any = samples.front().duties[d];
    const std::string whole(duty::whole);

    for (std::size_t i = 0; i < slices.size(); ++i) {
      const Slice& slice = slices[i];
      EnergyRow row;
      row.duty = duty.id;
      row.phase = slice.phase ? model.phases[*slice.phase] : whole;
      row.component = slice.part ? nominal.variant.parts[*slice.part].id : "total";
      if (model.driven) {
        row.distance_km = slice.distance_m(any) / 1000.0;
        row.shaft_Wh_per_km = interval_of(by_slice[i].shaft_Wh_per_km);
        row.battery_Wh_per_km = interval_of(by_slice[i].battery_Wh_per_km);
        row.flags.push_back(absolute_flag());
      }
      row.mean_W = interval_of(by_slice[i].mean_W);
      if (!model.driven && duty.hours_per_year)
        fill_year(duty, slice.time_s(any) / any.time_s(), *ensemble.question, row);
      if (!slice.part)
        findings.energy_totals.push_back(
            {row.duty, row.phase, row.shaft_Wh_per_km, row.battery_Wh_per_km, row.mean_W});
      if (slice.phase && !slice.part) continue;
      if (!slice.phase && !slice.part) {
        // Steps that hold their oil have no end: the last of a list would stand for all.
        if (duty.start_temperature || duty.oil_temperature || !duty.trips.empty())
          row.end_oil_temperature_degC =
              reduce(samples, [&](const VariantSample& s) { return s.duties[d].end_oil_degC; });
        row.flags = flags;
      }
      findings.energy.push_back(std::move(row));
    }

    if (v == ensemble.baseline) continue;
    EnergyRow net;
    net.duty = duty.id;
    net.phase = whole;
    net.component = "net";
    const SliceDraws& all = by_slice.back();
    const SliceDraws present = drawn({{}}, base, d, model.driven).front();
    net.mean_W = interval_of(difference(all.mean_W, present.mean_W));
    if (model.driven) {
      net.flags.push_back(difference_flag());
      net.distance_km = any.distance_m() / 1000.0;
      net.shaft_Wh_per_km = interval_of(difference(all.shaft_Wh_per_km, present.shaft_Wh_per_km));
      const std::vector<double> more_Wh_per_km =
          difference(all.battery_Wh_per_km, present.battery_Wh_per_km);
      net.battery_Wh_per_km = interval_of(more_Wh_per_km);
      if (world.vehicle->usable_battery) {
        const Energy usable = world.vehicle->usable_battery->nominal();
        const auto per_m = [](double Wh_per_km) {
          return EnergyPerDistance::from_value(Wh_per_km * 3.6);
        };
        std::vector<double> range_km(more_Wh_per_km.size());
        for (std::size_t i = 0; i < range_km.size(); ++i)
          range_km[i] = duty::range_change(usable, per_m(base[i].duties[d].baseline_Wh_per_km),
                                           per_m(more_Wh_per_km[i]))
                            .value() /
                        1000.0;
        net.range_change_km = interval_of(std::move(range_km));
      }
    } else if (duty.hours_per_year) {
      fill_year(duty, 1.0, *ensemble.question, net);
    }
    findings.energy.push_back(std::move(net));
  }
}

}  // namespace ohmdrag::study
