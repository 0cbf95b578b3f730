#include "study/quick_duty.hpp"

#include <algorithm>
#include <array>

#include "ohmdrag/duty/battery.hpp"
#include "study/unit_samples.hpp"

namespace ohmdrag::study {
namespace {

/// Every drawn number that the stretches of a driven cycle hang on.
std::vector<double> way_inputs(const WorldModel& model, const Duty& duty, const Draw& draw) {
  std::vector<double> numbers;
  const duty::VehicleData& v = *model.vehicle;
  const duty::RoadLoad& road = v.road_load;
  numbers = {v.test_mass.value(), v.rotating_mass_factor, road.f0.value(), road.f1.value(),
             road.f2.value()};
  for (const energy::Gearing& gearing : model.gearing) {
    numbers.push_back(gearing.ratio);
    for (const energy::HigherGear& gear : gearing.higher)
      numbers.insert(numbers.end(), {gear.ratio, gear.shift_up.value(), gear.shift_down.value()});
  }
  if (model.air) numbers.insert(numbers.end(), {model.air->at.value(), model.air->exponent});
  for (const Duty::Soak& soak : duty.soaks) numbers.push_back(draw(soak.time).value());
  return numbers;
}

/// Every drawn number that consumption hangs on beside the steps of a driven duty.
std::vector<double> path_inputs(const WorldModel& model, const Draw& draw) {
  if (!model.path) return {};
  const duty::BatteryPath& path = *model.path;
  const auto& auxiliary = model.world->vehicle->auxiliary_power;
  return {path.mean_efficiency,         path.load_independent_share,
          path.recuperation_efficiency, path.recuperation_share,
          path.gear_efficiency,         auxiliary ? draw(*auxiliary).value() : 0.0};
}

std::vector<const energy::BearingPart*> bearings_of(const energy::DriveUnit& unit) {
  std::vector<const energy::BearingPart*> result;
  for (const energy::Part& part : unit.parts)
    if (const auto* bearing = std::get_if<energy::BearingPart>(&part.form))
      result.push_back(bearing);
  return result;
}

bool same_grids(const std::vector<component::SpeedGrid>& a,
                const std::vector<component::SpeedGrid>& b) {
  return std::ranges::equal(a, b, [](const auto& x, const auto& y) { return x.same_as(y); });
}

}  // namespace

QuickDuties::QuickDuties(const WorldModel& model, const Draw& draw, const QuickDuties* like,
                         DutyFigures figures)
    : model_(&model), like_(like), figures_(figures), ways_shared_(like != nullptr) {
  if (figures != DutyFigures::energies) oil_.emplace(model);
  const std::vector<Duty>& duties = model.world->duties;
  for (std::size_t d = 0; d < duties.size(); ++d) {
    const Duty& duty = duties[d];
    OneDuty one{.way = nullptr, .sump = sump_duty(model, duty, draw)};
    const OneDuty* const other = like ? &like->duties_[d] : nullptr;
    if (!duty.cycles.empty()) one.inputs = way_inputs(model, duty, draw);
    const bool same = other && !duty.cycles.empty() && one.inputs == other->inputs;
    one.way = same ? other->way : std::make_shared<const DutyModel>(duty_way(model, duty, draw));
    ways_shared_ = ways_shared_ && same;
    if (oil_) {
      // To copy the stretches of a single draw costs more than it spares.
      if (same)
        one.moving = other->moving;
      else if (!like)
        one.moving = moving_of(one.way->stretches);
      if (figures == DutyFigures::all)
        one.fatigue =
            fatigue_columns(model, one.counted(), draw, same ? other->fatigue : FatigueColumns{});
      one.turning = same ? other->turning
                         : std::make_shared<const std::vector<ShaftTurning>>(
                               shaft_turning(*one.way, model.diameter.size()));
      one.worth = shaft_worth(model, *one.turning, one.way->driven);
      one.path_inputs = path_inputs(model, draw);
      if (same && one.path_inputs == other->path_inputs)
        one.baseline_Wh_per_km = other->baseline_Wh_per_km;
      else if (duty.trips.empty())
        one.baseline_Wh_per_km = baseline_consumption(model, *one.way, draw);
    }
    duties_.push_back(std::move(one));
  }
  if (ways_shared_) {
    speeds_ = like->speeds_;
    return;
  }
  speeds_.resize(model.world->shafts.size());
  for (const OneDuty& one : duties_) energy::add_speeds(one.way->stretches, speeds_);
}

const QuickDuties::Here& QuickDuties::placed_for(const VariantModel& variant) {
  auto grids = energy::speed_grids(variant.unit, speeds_);
  const auto there = [&](const Here& here) { return same_grids(here.placed->grids, grids); };
  if (const auto found = std::ranges::find_if(placed_, there); found != placed_.end())
    return *found;
  Here here;
  if (ways_shared_)
    if (const auto found = std::ranges::find_if(like_->placed_, there);
        found != like_->placed_.end())
      here.placed = found->placed;
  if (!here.placed) {
    Placed placed{std::move(grids), {}};
    for (const OneDuty& duty : duties_)
      placed.duties.push_back(std::make_shared<const energy::PlacedStretches>(
          duty.way->stretches, placed.grids, duty.sump));
    here.placed = std::make_shared<const Placed>(std::move(placed));
  }
  const auto bearings = bearings_of(variant.unit);
  for (std::size_t d = 0; d < duties_.size(); ++d) {
    std::vector<energy::DutyColumns::Bearing> loaded;
    for (std::size_t b = 0; b < bearings.size(); ++b) {
      const auto& torques = duties_[d].load_torques[b];
      loaded.push_back({torques, torques->scale_to(*bearings[b]).value()});
    }
    here.columns.emplace_back(here.placed->duties[d], std::move(loaded));
  }
  return placed_.emplace_back(std::move(here));
}

void QuickDuties::lay_out_loads(const VariantModel& variant) {
  const auto bearings = bearings_of(variant.unit);
  for (std::size_t d = 0; d < duties_.size(); ++d) {
    OneDuty& one = duties_[d];
    if (!one.load_torques.empty()) continue;
    const OneDuty* const other = same_way(d);
    for (std::size_t b = 0; b < bearings.size(); ++b) {
      const bool taken_over =
          other && b < other->load_torques.size() && other->load_torques[b]->scale_to(*bearings[b]);
      one.load_torques.push_back(taken_over ? other->load_torques[b]
                                            : std::make_shared<const energy::LoadTorques>(
                                                  *bearings[b], one.way->stretches));
    }
  }
}

void QuickDuties::lay_out_strikes(const ElectricModel* electric) {
  if (!oil_ || !electric) return;
  for (std::size_t d = 0; d < duties_.size(); ++d) {
    OneDuty& one = duties_[d];
    if (one.strikes) continue;
    if (const OneDuty* const before = twin(d, electric->shaft())) {
      one.strikes = before->strikes;
      continue;
    }
    const OneDuty* const other = same_way(d);
    const bool alike = other && other->strikes && other->strikes->films->kinds == oil_->kinds();
    one.strikes = std::make_shared<const StrikeColumns>(strike_columns(
        *model_, *electric, one.counted(), *oil_, alike ? other->strikes->films : nullptr));
  }
}

const QuickDuties::OneDuty* QuickDuties::twin(std::size_t duty, std::size_t shaft) const {
  const auto alike = [shaft](const energy::Stretch& a, const energy::Stretch& b) {
    return a.speed[shaft] == b.speed[shaft] && a.torque[shaft] == b.torque[shaft] && a.dt == b.dt &&
           a.parked == b.parked;
  };
  const OneDuty* const other = same_way(duty);
  for (std::size_t before = 0; before < duty; ++before) {
    const OneDuty* const of_before = same_way(before);
    const bool twins =
        other && of_before && other->strikes && of_before->strikes
            ? other->strikes == of_before->strikes
            : std::ranges::equal(duties_[before].counted(), duties_[duty].counted(), alike);
    if (twins) return &duties_[before];
  }
  return nullptr;
}

const QuickDuties::OneDuty* QuickDuties::same_way(std::size_t duty) const {
  return like_ && like_->duties_[duty].way == duties_[duty].way ? &like_->duties_[duty] : nullptr;
}

std::shared_ptr<const QuickDuties::Moving> QuickDuties::moving_of(
    const std::vector<energy::Stretch>& way) {
  auto moving = std::make_shared<Moving>();
  for (std::size_t i = 0; i < way.size(); ++i) {
    const auto turns = [](AngularVelocity speed) { return speed != AngularVelocity{}; };
    if (way[i].parked || std::ranges::none_of(way[i].speed, turns)) continue;
    moving->stretches.push_back(way[i]);
    std::vector<Moving::Run>& runs = moving->runs;
    if (runs.empty() || runs.back().first + runs.back().count != i) runs.push_back({i, 0});
    ++runs.back().count;
  }
  return moving;
}

numerics::LaneRows QuickDuties::OneDuty::of_counted(std::span<const double> of_way) const {
  const std::size_t count = counted().size();
  numerics::LaneRows result(blocks_of(count));
  if (count == 0) return result;
  double* const all = result[0];
  if (moving) {
    double* next = all;
    for (const Moving::Run& run : moving->runs)
      next = std::ranges::copy(of_way.subspan(run.first, run.count), next).out;
  } else {
    std::ranges::copy(of_way, all);
  }
  std::fill(all + count, all + result.rows() * numerics::lanes, all[count - 1]);
  return result;
}

/// Oil that is held is the same for all variants, and so is what it does.
std::vector<BearingSample> QuickDuties::fatigued(OneDuty& duty, const OilFatigue& law,
                                                 const numerics::LaneRows& oil_K) const {
  if (duty.fatigued && duty.fatigued->law == law && duty.fatigued->oil_K == oil_K)
    return duty.fatigued->bearings;
  std::vector<BearingSample> bearings(model_->bearings.size() + model_->other_paths.size());
  if (figures_ == DutyFigures::without_fatigue) return bearings;
  for (std::size_t b = 0; b < model_->bearings.size(); ++b)
    bearings[b].damage = duty.fatigue[b]->basic_damage;
  law.accumulate(*model_, duty.counted(), duty.fatigue, *oil_, oil_K, bearings);
  if (duty.sump.held) duty.fatigued = Fatigued{law, oil_K, bearings};
  return bearings;
}

DutySample QuickDuties::sample(std::size_t d, const VariantModel& variant,
                               const ElectricModel* electric,
                               const energy::QuickMarch::Marched& marched) {
  if (marched.failure) std::rethrow_exception(marched.failure);
  OneDuty& one = duties_[d];
  const DutyModel& way = *one.way;
  DutySample result;
  fill_phases(*model_, variant, way, marched.ledger, result);
  result.end_oil_degC = in_celsius(marched.ledger.oil_at_end);
  if (!oil_) return result;
  const numerics::LaneRows oil_K = one.of_counted(marched.oil_K);
  result.bearings = fatigued(one, variant.fatigue, oil_K);
  if (electric)
    electric->accumulate(one.counted(), *one.strikes, *oil_, oil_K, result.bearings,
                         one.sump.held ? &one.nodes : nullptr);
  result.worth = one.worth;
  result.baseline_Wh_per_km = one.baseline_Wh_per_km;
  return result;
}

void QuickDuties::prepare(const VariantModel& variant, const ElectricModel* electric) {
  lay_out_loads(variant);
  lay_out_strikes(electric);
  placed_for(variant);
}

std::vector<QuickDuties::Marched> QuickDuties::march(std::span<const VariantModel> variants) {
  std::vector<energy::QuickMarch> marches;
  std::vector<const Here*> here;
  marches.reserve(variants.size());
  here.reserve(variants.size());
  for (const VariantModel& variant : variants) {
    lay_out_loads(variant);
    here.push_back(&placed_for(variant));
    marches.emplace_back(variant.unit, here.back()->placed->grids, model_->dry);
  }
  // Those with columns in common stand together: they are walked side by side.
  std::vector<energy::QuickMarch::Order> orders;
  std::vector<std::size_t> whose;
  orders.reserve(duties_.size() * variants.size());
  whose.reserve(orders.capacity());
  for (std::size_t d = 0; d < duties_.size(); ++d)
    for (const Here& group : placed_)
      for (std::size_t v = 0; v < variants.size(); ++v) {
        if (here[v] != &group) continue;
        orders.push_back({&marches[v], duties_[d].way->stretches, &group.columns[d],
                          duties_[d].way->phases.size(), &duties_[d].sump});
        whose.push_back(v);
      }
  auto found = energy::QuickMarch::side_by_side(orders);
  std::vector<Marched> by_variant(variants.size());
  for (Marched& marched : by_variant) marched.reserve(duties_.size());  // to grow is to copy
  for (std::size_t o = 0; o < found.size(); ++o)
    by_variant[whose[o]].push_back(std::move(found[o]));
  return by_variant;
}

std::vector<DutySample> QuickDuties::samples(const VariantModel& variant,
                                             const ElectricModel* electric,
                                             const Marched& marched) {
  lay_out_strikes(electric);
  std::vector<DutySample> result;
  for (std::size_t d = 0; d < duties_.size(); ++d)
    result.push_back(sample(d, variant, electric, marched[d]));
  return result;
}

std::vector<DutySample> QuickDuties::samples(const VariantModel& variant,
                                             const ElectricModel* electric) {
  return samples(variant, electric, march({&variant, 1}).front());
}

}  // namespace ohmdrag::study
