#include "study/years_lane.hpp"

#include <algorithm>

namespace ohmdrag::study {
namespace {

constexpr double seconds_an_hour = 3600.0;

VariantModel aged(VariantModel variant, Age age) {
  variant.unit = variant.unit_at(age);
  return variant;
}

}  // namespace

VariantModel without_path(VariantModel variant) {
  variant.path = {};
  return variant;
}

Passage::Passage(const Nominal& nominal, Age age, const VariantModel& unit,
                 const ElectricModel& open)
    : model_(nominal.model), unit_(unit), electric_(model_, unit_, nominal.draw, age), open_(open) {
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

void Passage::run(QuickDuties& duties, const QuickDuties::Marched& marched) {
  std::vector<DutySample> with = duties.samples(unit_, &electric_, marched), without;
  if (unit_.grounded) without = duties.samples(unit_, &open_, marched);
  for (std::size_t d = 0; d < with.size(); ++d) {
    if (!model_.world->duties[d].trips.empty()) continue;
    turning_s_[d] = with[d].worth[electric_.shaft()].of_watt.shaft_J;  // joules of one watt
    for (const PhaseSample& phase : with[d].phases)
      if (element_) element_J_[d] += phase.shaft_J[*element_];
    with_.duties[d] = std::move(with[d]);
    if (unit_.grounded) without_.duties[d] = std::move(without[d]);
  }
}

void Passage::follow(const DutyModel& way, std::size_t duty) {
  finish(way,
         energy::march(unit_.unit, way.stretches, way.phases.size(), way.sump, model_.dry,
                       [&](const energy::Moment& moment) { see(moment, duty); }),
         duty);
}

void Passage::see(const energy::Moment& moment, std::size_t duty) {
  std::vector<BearingSample>&with = with_.duties[duty].bearings,
  &without = without_.duties[duty].bearings;
  const energy::Stretch& stretch = moment.stretch;
  if (stretch.speed[electric_.shaft()] != AngularVelocity{}) turning_s_[duty] += stretch.dt.value();
  unit_.fatigue.accumulate(model_, stretch, moment.oil, with);
  electric_.accumulate(stretch, moment.oil, scratch_, with);
  if (!unit_.grounded) return;
  unit_.fatigue.accumulate(model_, stretch, moment.oil, without);
  open_.accumulate(stretch, moment.oil, scratch_, without);
}

void Passage::finish(const DutyModel& way, const energy::Ledger& ledger, std::size_t duty) {
  const energy::PhaseLedger whole = ledger.whole();
  for (VariantSample* sample : {&with_, &without_}) {
    DutySample& sums = sample->duties[duty];
    sums.phases[0].time_s += whole.time.value();
    sums.phases[0].distance_m += whole.distance.value();
    for (std::size_t b = 0; b < way.fatigue.size(); ++b) sums.bearings[b].damage += way.fatigue[b];
  }
  if (element_) element_J_[duty] += whole.of_part(*element_).value();
}

double Passage::per_second(const ServiceMix& mix, const std::vector<double>& by_duty) const {
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

YearsLane::YearsLane(const Walker& walker, const ServiceMix& of, const QuickDuties* duties)
    : variant(walker.variant),
      nominal(walker.nominal),
      mix(of),
      duties_(duties),
      pathless_(without_path(nominal.variant)),
      open_(nominal.model, pathless_, nominal.draw) {
  const auto has_aged = [](const LivingContact& l) { return l.life.history.has_value(); };
  const bool ages_differ =
      nominal.variant.grounded || std::ranges::any_of(nominal.variant.lives, has_aged);
  units_.reserve(ages.size());  // the passages refer to them
  for (const Age age : ages) {
    if (age != Age::begin && !ages_differ) continue;
    const VariantModel& unit = units_.emplace_back(aged(nominal.variant, age));
    passages_.push_back(std::make_unique<Passage>(nominal, age, unit, open_));
  }
}

void YearsLane::set_out() {
  QuickDuties duties(nominal.model, nominal.draw, duties_);
  const std::vector<QuickDuties::Marched> marched = duties.march(units_);
  for (std::size_t a = 0; a < passages_.size(); ++a) passages_[a]->run(duties, marched[a]);
}

void YearsLane::begin(const DutyModel& way, std::size_t duty) {
  way_ = &way;
  duty_ = duty;
}

void YearsLane::see(const energy::Moment& moment) { passages_.front()->see(moment, duty_); }

void YearsLane::end(const energy::Ledger& ledger) {
  passages_.front()->finish(*way_, ledger, duty_);
  for (std::size_t a = 1; a < passages_.size(); ++a) passages_[a]->follow(*way_, duty_);
}

const Passage& YearsLane::at(Age age) const {
  return *passages_[std::min(static_cast<std::size_t>(age), passages_.size() - 1)];
}

const LivingContact* YearsLane::element() const {
  const auto& lives = nominal.variant.lives;
  const auto found = std::ranges::find(lives, "grounding", &LivingContact::id);
  return found == lives.end() ? nullptr : &*found;
}

double YearsLane::elements(double service_h) const {
  const LivingContact* contact = element();
  if (!contact || !contact->life.history || !nominal.entry->grounding->replaced_every) return 1.0;
  // A contact at rest does not age: its history counts the time that its shaft turns.
  const double turning_s = service_h * seconds_an_hour * at(Age::begin).turning_share(mix);
  return std::max(1.0, turning_s / contact->life.history->age.value());
}

}  // namespace ohmdrag::study
