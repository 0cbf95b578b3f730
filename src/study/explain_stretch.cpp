#include "study/explain_stretch.hpp"

#include <fmt/format.h>

#include "ohmdrag/energy/march.hpp"
#include "study/electric.hpp"
#include "study/explain_fatigue.hpp"
#include "study/fatigue.hpp"

namespace ohmdrag::study {
namespace {

double watts_of(const energy::Moment& moment) {
  double watts = 0.0;
  for (const energy::PartLoss& loss : moment.losses) watts += loss.power.value();
  return watts;
}

}  // namespace

StretchChain::StretchChain(const Ensemble& ensemble, std::size_t v, std::size_t duty,
                           bool worked_out, Chain& chain)
    : nominal_(ensemble, v), duty_(duty), worked_out_(worked_out), chain_(chain) {
  const Duty& first = nominal_.world->duties[duty];
  if (worked_out_ && first.trips.empty()) model_ = duty_model(nominal_.model, first, nominal_.draw);
}

std::size_t StretchChain::count(std::size_t duty) const {
  if (model_ && duty == duty_) return model_->stretches.size();
  return duty_model(nominal_.model, nominal_.world->duties[duty], nominal_.draw).stretches.size();
}

template <class Share>
StretchChain::Place StretchChain::most_of(const Share& share) const {
  Place place;
  if (!model_) return place;
  energy::march(nominal_.variant.unit, model_->stretches, model_->phases.size(), model_->sump,
                nominal_.model.dry, [&](const energy::Moment& moment) {
                  const double here = share(moment);
                  if (here > place.most) place = {&moment.stretch, moment.oil, here};
                });
  return place;
}

void StretchChain::dt(const Place& place) {
  chain_.taken("dt_step", place.stretch->dt.value(), "s",
               "length of one stretch of " + nominal_.world->duties[duty_].id, "the duty");
}

void StretchChain::watts() {
  const Place place = most_of([](const energy::Moment& moment) { return watts_of(moment); });
  if (!place.stretch) return;
  const energy::Running now{place.stretch->speed, place.stretch->torque,
                            place.stretch->dry.empty() ? nominal_.model.dry : place.stretch->dry,
                            place.oil};
  const std::string watts = explain_watts(
      {nominal_.model, nominal_.variant, nominal_.variant.unit, now}, "_step", chain_);
  dt(place);
  chain_.worked("E_step", fmt::format("{}*dt_step", watts), "J",
                fmt::format("all parts over the stretch that takes most, at the shafts: one of {} "
                            "whose sums follow",
                            model_->stretches.size()),
                "definition");
}

void StretchChain::damage(std::size_t b, double BearingSample::*member) {
  const BearingModel& bearing = nominal_.model.bearings[b];
  const Bearing& entry = nominal_.world->bearings[b];
  const auto axial = axial_factor_of(entry.type, nominal_.draw);
  const auto basic = [&](const energy::Stretch& stretch) {
    return basic_damage(bearing, fatigue_load(bearing, axial, stretch.torque[bearing.shaft]),
                        stretch.speed[bearing.shaft], stretch.dt);
  };
  const Place place = most_of([&](const energy::Moment& moment) { return basic(moment.stretch); });
  if (!place.stretch) return;
  const std::string tail = "_step", own = '_' + symbol_of(entry.id) + tail;
  const std::string hours = explain_rating_life({nominal_, b, place.stretch->speed[bearing.shaft],
                                                 place.stretch->torque[bearing.shaft], tail},
                                                chain_);
  const std::string dt = chain_.taken(
      "dt" + own, place.stretch->dt.value(), "s",
      fmt::format("length of the stretch that costs {} most of its life", entry.id), "the duty");
  std::string factor;
  if (member == &BearingSample::modified_damage) {
    std::vector<BearingSample> sums(nominal_.model.bearings.size());
    OilFatigue(nominal_.model, *nominal_.entry, nominal_.draw)
        .accumulate(nominal_.model, *place.stretch, place.oil, sums);
    factor = '*' + chain_.taken("a" + own, basic(*place.stretch) / sums[b].modified_damage, "",
                                "factors of reliability and of the oil, a1 a_ISO",
                                "ISO 281:2007, of the viscosity ratio there and the cleanliness");
  }
  chain_.worked(
      (factor.empty() ? "loss" : "loss_modified") + own,
      fmt::format("{}/(3600*{}{})", dt, hours, factor), "",
      fmt::format("share of its life that this stretch takes: one of {} whose sum follows",
                  model_->stretches.size()),
      "Palmgren and Miner: damage adds up");
}

void StretchChain::strikes(double BearingSample::*member) {
  if (struck_ || !model_ || !has_electrics(*nominal_.world)) return;
  struck_ = true;
  const ElectricModel electric(nominal_.model, nominal_.variant, nominal_.draw);
  ElectricState state;
  const Place place = most_of([&](const energy::Moment& moment) {
    std::vector<BearingSample> sums(nominal_.model.bearings.size() +
                                    nominal_.model.other_paths.size());
    electric.accumulate(moment.stretch, moment.oil, state, sums);
    double sum = 0.0;
    for (const BearingSample& one : sums) sum += one.*member;
    return sum;
  });
  if (!place.stretch) return;
  const std::size_t shaft = electric.shaft();
  const bool dose = member == &BearingSample::dose_J_m2;
  explain_voltage_at(nominal_, electric,
                     {place.stretch->speed[shaft], place.oil, place.stretch->torque[shaft]},
                     dose ? "dose_rate_W_per_mm2" : "discharge_rate_per_s", chain_);
  dt(place);
  const auto one_of = fmt::format("one stretch of {} whose sums follow", model_->stretches.size());
  if (dose)
    chain_.worked("dose_step", "1e6*dose_rate_W_per_mm2*dt_step", "J/m2",
                  "dose of the stretch with most of it, " + one_of, "definition");
  else
    chain_.worked("strikes_step", "discharge_rate_per_s*dt_step", "",
                  "strikes to expect in " + one_of +
                      "; the whole of it counts, as the shaft passes the threshold",
                  "definition");
}

}  // namespace ohmdrag::study
