#include "study/headline_figures.hpp"

#include <algorithm>
#include <cmath>

#include "study/sections.hpp"

namespace ohmdrag::study {
namespace {

constexpr double shown_Hz = 1e6;

/// Collects the figures of one variant.
class Figures {
 public:
  Figures(const Ensemble& ensemble, const ServiceMix& mix, std::size_t v,
          std::vector<HeadlineOfDraw>& out)
      : ensemble_(ensemble),
        mix_(mix),
        v_(v),
        world_(ensemble.world(v)),
        samples_(ensemble.samples[v]),
        base_(ensemble.samples[ensemble.baseline]),
        out_(out) {}

  void add_all() {
    add_costs();
    add_impedance();
    add_voltages();
    add_dose();
  }

 private:
  template <class Figure>
  void add(std::string name, std::string unit, const Figure& figure) {
    HeadlineOfDraw row{v_, std::move(name), std::move(unit), {}};
    row.values.reserve(samples_.size());
    for (std::size_t i = 0; i < samples_.size(); ++i)
      row.values.push_back(figure(samples_[i], base_[i]));
    if (std::ranges::none_of(row.values, [](double value) { return std::isnan(value); }))
      out_.push_back(std::move(row));
  }

  void add_costs() {
    if (v_ == ensemble_.baseline) return;
    if (!world_.points.empty()) {
      const std::size_t p = headline_point(*ensemble_.question);
      add("net power at " + world_.points[p].id, "W",
          [p](const VariantSample& s, const VariantSample& b) {
            return total_W(s, p) - total_W(b, p);
          });
    }
    const auto energy = mix_.driven ? battery_Wh_per_km : mean_W;
    const bool trips =
        std::ranges::any_of(world_.duties, [](const Duty& duty) { return !duty.trips.empty(); });
    if (samples_.front().duties.empty() || trips) return;
    add(mix_.driven ? "net energy at the battery, service mix" : "net mean power, service mix",
        mix_.driven ? "Wh/km" : "W", [&](const VariantSample& s, const VariantSample& b) {
          return over_mix(mix_, s, energy) - over_mix(mix_, b, energy);
        });
  }

  void add_impedance() {
    const auto place = std::ranges::find(ensemble_.frequencies, Frequency::from_value(shown_Hz));
    const auto f = static_cast<std::size_t>(place - ensemble_.frequencies.begin());
    if (samples_.front().impedance_ohm.back().empty()) return;
    add("impedance at 1 MHz, end of service", "ohm",
        [f](const VariantSample& s, const VariantSample&) {
          double worst = s.points.empty() ? s.impedance_ohm.back()[f] : 0.0;
          for (const PointSample& point : s.points)
            worst = std::max(worst, point.impedance_ohm.back()[f]);
          return worst;
        });
  }

  void add_voltages() {
    if (!has_electrics(world_) || !ensemble_.sections.voltage || world_.points.empty()) return;
    add("edge peak, worst point", "V", [](const VariantSample& s, const VariantSample&) {
      return highest_over_points(s, &ElectricSample::verdict_edge_V);
    });
    add("voltage held", "V", [](const VariantSample& s, const VariantSample&) {
      return highest_over_points(s, &ElectricSample::held_V);
    });
  }

  void add_dose() {
    if (v_ == ensemble_.baseline || !strikes_can_be_counted(world_) || !ensemble_.sections.life)
      return;
    add("lg of the dose factor", "1", [&](const VariantSample& s, const VariantSample& b) {
      return std::log10(dose_factor(service_sum(mix_, b), service_sum(mix_, s)));
    });
  }

  const Ensemble& ensemble_;
  const ServiceMix& mix_;
  std::size_t v_;
  const Case& world_;
  const std::vector<VariantSample>& samples_;
  const std::vector<VariantSample>& base_;
  std::vector<HeadlineOfDraw>& out_;
};

}  // namespace

std::vector<HeadlineOfDraw> headlines_of_draws(const Ensemble& ensemble) {
  std::vector<HeadlineOfDraw> out;
  const bool over_duties = !ensemble.samples.front().front().duties.empty();
  const ServiceMix mix = over_duties ? service_mix(*ensemble.question) : ServiceMix{};
  for (std::size_t v = 0; v < ensemble.samples.size(); ++v)
    Figures(ensemble, mix, v, out).add_all();
  return out;
}

std::size_t headline_point(const Case& question) {
  std::size_t headline = 0;
  for (std::size_t p = 0; p < question.points.size(); ++p)
    for (const Allocation& allocation : question.allocations)
      if (allocation.point == question.points[p].id) headline = p;
  return headline;
}

}  // namespace ohmdrag::study
