#include <fmt/format.h>
#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <stdexcept>

#include "ohmdrag/bearing/weibull.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "study/electric.hpp"
#include "study/sections.hpp"
#include "study/trips.hpp"
#include "study/years.hpp"

namespace ohmdrag::study {
namespace {

constexpr double seconds_an_hour = 3600.0;
constexpr double per_mm2 = 1e-6;
constexpr double dose_of_1000h = 1000.0 * seconds_an_hour * per_mm2;
constexpr int steps_of_service = 10;

VariantModel aged(VariantModel variant, Age age) {
  variant.unit = variant.unit_at(age);
  return variant;
}

VariantModel without_path(VariantModel variant) {
  variant.path = {};
  return variant;
}

/// A variant whose contacts have reached an age, and its way through the duties. With the path and
/// without it the same oil and films: what differs is the path alone.
class Passage {
 public:
  /// \param open  the variant without its path; must outlive this
  Passage(const Nominal& nominal, Age age, const ElectricModel& open)
      : model_(nominal.model),
        unit_(aged(nominal.variant, age)),
        electric_(model_, unit_, nominal.draw, age),
        open_(open) {
    const std::size_t ways = model_.bearings.size() + model_.other_paths.size();
    for (VariantSample* sample : {&with_, &without_}) {
      sample->duties.resize(model_.world->duties.size());
      for (DutySample& duty : sample->duties) {
        duty.phases.resize(1);
        duty.bearings.resize(ways);
      }
    }
    turning_s_.resize(model_.world->duties.size());
    element_J_.resize(model_.world->duties.size());
    const auto part = std::ranges::find(unit_.parts, "grounding", &PartInfo::id);
    if (part != unit_.parts.end()) element_ = static_cast<std::size_t>(part - unit_.parts.begin());
  }

  void follow(const DutyModel& duty, std::size_t d) {
    ElectricState scratch;
    const energy::PhaseLedger whole =
        energy::march(
            unit_.unit, duty.stretches, duty.phases.size(), duty.sump, model_.dry,
            [&](const energy::Moment& moment) {
              const energy::Stretch& stretch = moment.stretch;
              if (stretch.speed[electric_.shaft()] != AngularVelocity{})
                turning_s_[d] += stretch.dt.value();
              electric_.accumulate(stretch, moment.oil, scratch, with_.duties[d].bearings);
              if (unit_.grounded)
                open_.accumulate(stretch, moment.oil, scratch, without_.duties[d].bearings);
            })
            .whole();
    for (VariantSample* sample : {&with_, &without_}) {
      sample->duties[d].phases[0].time_s += whole.time.value();
      sample->duties[d].phases[0].distance_m += whole.distance.value();
    }
    if (element_) element_J_[d] += whole.of_part(*element_).value();
  }

  const VariantSample& with() const { return with_; }
  const VariantSample& without() const { return unit_.grounded ? without_ : with_; }
  double turning_share(const ServiceMix& mix) const { return per_second(mix, turning_s_); }
  double element_W(const ServiceMix& mix) const { return per_second(mix, element_J_); }

 private:
  /// Mean of sums by duty over the running time of the mix, weighted as service_mean() does.
  double per_second(const ServiceMix& mix, const std::vector<double>& by_duty) const {
    double sum = 0.0, time_s = 0.0;
    for (std::size_t d = 0; d < by_duty.size(); ++d) {
      if (mix.share[d] == 0.0) continue;
      const DutySample& duty = with_.duties[d];
      const double weight = weight_of(mix, d, duty.distance_m(), duty.time_s());
      sum += weight * by_duty[d];
      time_s += weight * duty.time_s();
    }
    return sum / time_s;
  }

  const WorldModel& model_;
  VariantModel unit_;
  ElectricModel electric_;
  const ElectricModel& open_;
  VariantSample with_, without_;
  std::vector<double> turning_s_, element_J_;  ///< by duty
  std::optional<std::size_t> element_;         ///< as a part of the unit
};

/// A variant, everything at its middle, at every age.
class Lane {
 public:
  Lane(const Ensemble& ensemble, std::size_t v)
      : variant(v),
        nominal(ensemble, v),
        pathless_(without_path(nominal.variant)),
        open_(nominal.model, pathless_, nominal.draw) {
    const auto has_aged = [](const LivingContact& l) { return l.life.history.has_value(); };
    const bool ages_differ =
        nominal.variant.grounded || std::ranges::any_of(nominal.variant.lives, has_aged);
    for (const Age age : ages)
      if (age == Age::begin || ages_differ)
        passages_.push_back(std::make_unique<Passage>(nominal, age, open_));
  }

  void follow(const DutyModel& duty, std::size_t d) {
    for (const auto& passage : passages_) passage->follow(duty, d);
  }
  const Passage& at(Age age) const {
    return *passages_[std::min(static_cast<std::size_t>(age), passages_.size() - 1)];
  }
  const LivingContact* element() const {
    const auto& lives = nominal.variant.lives;
    const auto found = std::ranges::find(lives, "grounding", &LivingContact::id);
    return found == lives.end() ? nullptr : &*found;
  }

  const std::size_t variant;
  const Nominal nominal;

 private:
  VariantModel pathless_;
  ElectricModel open_;
  std::vector<std::unique_ptr<Passage>> passages_;  ///< one only where all ages are alike
};

/// What throws names the variant.
template <class Function>
void naming(const Variant& variant, const Function& function) {
  try {
    function();
  } catch (const std::invalid_argument& e) {
    throw std::invalid_argument(fmt::format("variant {}: {}", variant.id, e.what()));
  } catch (const std::domain_error& e) {
    throw std::domain_error(fmt::format("variant {}: {}", variant.id, e.what()));
  }
}

std::vector<std::unique_ptr<Lane>> lanes_through_duties(const Ensemble& ensemble,
                                                        const ServiceMix& mix) {
  const Case& question = *ensemble.question;
  std::vector<std::unique_ptr<Lane>> lanes(question.variants.size());
  const auto in_parallel = [&](const auto& each) {
    oneapi::tbb::parallel_for(std::size_t{0}, lanes.size(), [&](std::size_t v) {
      if (strikes_can_be_counted(ensemble.world(v))) naming(question.variants[v], [&] { each(v); });
    });
  };
  in_parallel([&](std::size_t v) {
    lanes[v] = std::make_unique<Lane>(ensemble, v);
    const Nominal& here = lanes[v]->nominal;
    for (std::size_t d = 0; d < here.world->duties.size(); ++d) {
      const Duty& duty = here.world->duties[d];
      if (mix.share[d] > 0.0 && duty.trips.empty())
        lanes[v]->follow(duty_model(here.model, duty, here.draw), d);
    }
  });
  // A trip is long: read once for all variants.
  for (std::size_t d = 0; d < question.duties.size(); ++d)
    if (mix.share[d] > 0.0)
      for_each_trip(question.duties[d], [&](const duty::Trip& trip) {
        in_parallel([&](std::size_t v) {
          const Nominal& here = lanes[v]->nominal;
          lanes[v]->follow(trip_model(here.model, here.world->duties.at(d), trip, here.draw), d);
        });
      });
  std::erase(lanes, nullptr);
  return lanes;
}

double dose_per_1000h(const BearingSample& per_second) {
  return per_second.undosed > 0.0 ? not_a_figure : per_second.dose_J_m2 * dose_of_1000h;
}

YearsAge row_of(const Lane& lane, const ServiceMix& mix, Age age) {
  static constexpr std::array names{"begin", "middle", "end"};
  const auto a = static_cast<std::size_t>(age);
  const Passage& passage = lane.at(age);
  const BearingSample with = service_sum(mix, passage.with());
  const BearingSample open = service_sum(mix, passage.without());
  YearsAge row;
  row.age = names[a];
  row.share_of_life = share_of_service(age);
  if (const LivingContact* element = lane.element())
    row.line_force_N_per_mm = element->life.line_force(age).value() * 1e-3;
  if (lane.nominal.variant.grounded) {
    const auto& path = lane.nominal.variant.path[a];
    row.resistance_ohm =
        path ? voltage::direct_resistance(*path).value() : std::numeric_limits<double>::infinity();
  }
  row.striking_time_share = with.striking_s;
  row.discharge_rate_per_s = with.discharges;
  row.dose_J_per_mm2_per_1000h = dose_per_1000h(with);
  row.open_striking_time_share = open.striking_s;
  row.open_discharge_rate_per_s = open.discharges;
  row.open_dose_J_per_mm2_per_1000h = dose_per_1000h(open);
  row.element_W = passage.element_W(mix);
  return row;
}

/// Elements of one variant that the service uses up, the last one perhaps not wholly.
double elements_of(const Lane& lane, const ServiceMix& mix, double service_h) {
  const LivingContact* element = lane.element();
  if (!element || !element->life.history || !lane.nominal.entry->grounding->replaced_every)
    return 1.0;
  // A contact at rest does not age: its history counts the time that its shaft turns.
  const double turning_s = service_h * seconds_an_hour * lane.at(Age::begin).turning_share(mix);
  return std::max(1.0, turning_s / element->life.history->age.value());
}

/// Product over the bearings: a series system of independent lives. An event of one is one of all.
double survival_of(const VariantFindings& findings, const DischargeConstants& constants, Time age) {
  double survival = 1.0;
  for (const LifeRow& row : findings.life) {
    if (row.kind != "bearing" || std::isnan(row.mechanical_basic_h)) continue;
    const auto weibull = [](double hours, double slope) {
      return bearing::Weibull{Time::from_value(hours * seconds_an_hour), slope};
    };
    survival *=
        bearing::survival(weibull(row.mechanical_basic_h, constants.fatigue_slope.mid()), age);
    if (row.electrical.empty() || std::isnan(row.electrical.front().hours.mid)) continue;
    const double erosion_h = row.electrical.front().hours.mid;
    if (erosion_h > 0.0)
      survival *= bearing::survival(weibull(erosion_h, constants.erosion_slope.mid()), age);
    else if (age > Time{})
      survival = 0.0;
  }
  return survival;
}

void add_steps(const Lane& lane, double service_h, YearsFindings& years) {
  const std::vector<YearsAge> curve = curve_of(years.ages, worn_at(lane.element()));
  for (int i = 0; i <= steps_of_service; ++i) {
    YearsStep step;
    step.share_of_service = double(i) / steps_of_service;
    step.hours = step.share_of_service * service_h;
    const auto sum = [&](double YearsAge::*figure) {
      return service_h * sum_over_service(curve, figure, step.share_of_service, years.elements);
    };
    step.discharges = sum(&YearsAge::discharge_rate_per_s) * seconds_an_hour;
    step.dose_J_per_mm2 = sum(&YearsAge::dose_J_per_mm2_per_1000h) / 1000.0;
    step.open_dose_J_per_mm2 = sum(&YearsAge::open_dose_J_per_mm2_per_1000h) / 1000.0;
    step.element_kWh = sum(&YearsAge::element_W) / 1000.0;
    years.steps.push_back(step);
  }
}

YearsFindings years_of(const Lane& lane, const Case& question, const ServiceMix& mix) {
  YearsFindings years;
  years.has_element = lane.nominal.variant.grounded;
  for (const Age age : ages) years.ages.push_back(row_of(lane, mix, age));
  const auto service_h = service_hours(question, mix, lane.at(Age::begin).with());
  if (service_h) {
    years.elements = elements_of(lane, mix, *service_h);
    for (YearsAge& row : years.ages) row.hours = row.share_of_life * *service_h / years.elements;
    add_steps(lane, *service_h, years);
  }
  tell_protection(question, mix, worn_at(lane.element()), service_h, years);
  return years;
}

}  // namespace

void fill_years(const Ensemble& ensemble, std::vector<VariantFindings>& findings) {
  const Case& question = *ensemble.question;
  const ServiceMix mix = service_mix(question);
  const auto lanes = lanes_through_duties(ensemble, mix);
  for (const auto& lane : lanes) findings.at(lane->variant).years = years_of(*lane, question, mix);
  const VariantFindings& baseline = findings.at(ensemble.baseline);
  for (const auto& lane : lanes) {
    VariantFindings& variant = findings[lane->variant];
    for (std::size_t i = 0; i < variant.years->steps.size(); ++i) {
      YearsStep& step = variant.years->steps[i];
      const Time age = Time::from_value(step.hours * seconds_an_hour);
      step.survival = survival_of(variant, lane->nominal.world->discharge, age);
      step.baseline_survival =
          survival_of(baseline, ensemble.world(ensemble.baseline).discharge, age);
      step.baseline_dose_J_per_mm2 =
          baseline.years ? baseline.years->steps[i].dose_J_per_mm2 : not_a_figure;
    }
  }
}

}  // namespace ohmdrag::study
